//! What waits on motion: a boat-second in time, and small motions along the speed curve.

use boat::{Boat, HullSource, STARTER_TYPES};
use craft::{Craft, Factors, mass};
use divan::{Bencher, black_box};
use form::Form;
use motion::run::Start;
use motion::script::Script;
use motion::water::Water;
use motion::{Conditions, run, stability};
use nalgebra::Vector3;
use std::ops::ControlFlow;

fn main() {
    divan::main();
}

fn craft(starter: &str) -> Craft {
    let text = boat::template(starter, "Demo").unwrap();
    let boat: Boat = boat::load(&text, "boat.toml").unwrap().0;
    let HullSource::Starter(hull) = &boat.hull.source else {
        panic!("a template has a starter hull");
    };
    let form = Form::from_mesh(form::starter::build(hull).unwrap());
    let mass = mass::mass_properties(&boat, &form).unwrap();
    Craft::new(&boat, &form, &mass, &Factors::default()).unwrap()
}

/// One second at a steady half throttle over short-crested ripple, from a running start, on one thread.
#[divan::bench(args = STARTER_TYPES, sample_count = 20)]
fn boat_second(bencher: Bencher, starter: &str) {
    let craft = craft(starter);
    let curve = craft.speed_curve(40);
    let state = curve
        .running
        .iter()
        .find(|s| s.throttle > 0.5)
        .unwrap_or(&curve.running[curve.running.len() - 1]);
    let conditions = Conditions {
        water: Water::Ripple {
            height_m: 0.01,
            length_m: 0.22,
            from_rad: 0.3,
        },
        wind_m_s: Vector3::new(-2.0, 0.0, 0.0),
        script: Script::steady(state.throttle.min(1.0)),
        start: Start::Running(state.running()),
        seconds: 1.0,
        seed: 1,
    };
    let go = || {
        run(black_box(&craft), 0.5, &conditions, &mut |_| {
            ControlFlow::Continue(())
        })
    };
    let done = go().unwrap();
    assert!(done.stopped.is_none(), "{starter}: {:?}", done.stopped);
    bencher.bench(go);
}

/// Growth, period and shape of every small motion about 60 running states.
#[divan::bench(args = STARTER_TYPES, sample_count = 20)]
fn small_motions_60(bencher: Bencher, starter: &str) {
    let craft = craft(starter);
    let curve = craft.speed_curve(60);
    let states: Vec<_> = curve.running.iter().map(|s| s.running()).collect();
    bencher.bench(|| stability::along(black_box(&craft), &states));
}
