//! What a builder waits for: an outing held against the boat.

#![allow(missing_docs)]

use craft::Factors;
use divan::Bencher;
use evidence::Measured;
use evidence::outing::QuantityKind;
use form::Form;
use learn::model::Model;
use learn::observe::{Observed, Place};
use learn::reconcile::reconcile;
use study::hull_type::HullType;
use study::{Detail, quantity::solve};

fn main() {
    divan::main();
}

fn observed(kind: QuantityKind, value: f64, sigma: f64, place: Place) -> Observed {
    Observed {
        kind,
        measured: Measured::new(value, sigma),
        place,
        from: "made up".to_owned(),
        drive: 0,
        assumed: None,
        after_s: None,
        both_ways: false,
    }
}

/// Speed, turns, current and voltage flat out, and turns and current at a lower speed.
#[divan::bench(sample_count = 3)]
fn learn_from_an_outing(bencher: Bencher) {
    let text = boat::template("vee", "Test").expect("a starter hull");
    let boat = boat::load(&text, "boat.toml").expect("a sound template").0;
    let boat::HullSource::Starter(starter) = &boat.hull.source else {
        panic!("not a starter hull");
    };
    let mut form = Form::from_mesh(form::starter::build(starter).expect("sound dimensions"));
    form.surfaces = form::running::find(&form.envelope);
    let mass = craft::mass::mass_properties(&boat, &form).expect("a mass");
    let asked = solve(&boat, &form, &mass, &Factors::default(), Detail::Full(48)).expect("a curve");
    let model = Model::new(&boat, &form, &mass, &asked.curve);
    let top = asked.curve.top.as_ref().expect("a top speed");
    let (flat_out, slower) = (Place::Throttle(1.0), Place::Speed(0.8 * top.speed_m_s));
    let drive = &top.drives[0];
    let seen = vec![
        observed(QuantityKind::Speed, 0.95 * top.speed_m_s, 0.15, flat_out),
        observed(
            QuantityKind::ShaftSpeed,
            0.98 * drive.shaft_rad_s,
            10.0,
            flat_out,
        ),
        observed(QuantityKind::Current, 1.1 * drive.current_a, 2.0, flat_out),
        observed(
            QuantityKind::Voltage,
            0.99 * drive.voltage_v,
            0.05,
            flat_out,
        ),
        observed(
            QuantityKind::ShaftSpeed,
            0.8 * drive.shaft_rad_s,
            20.0,
            slower,
        ),
        observed(QuantityKind::Current, 0.7 * drive.current_a, 2.0, slower),
    ];
    let hull_type = HullType::of(&boat, &form);
    bencher.bench(|| {
        reconcile(&model, &boat, hull_type, seen.clone(), Vec::new())
            .expect("a fit")
            .rows
            .len()
    });
}
