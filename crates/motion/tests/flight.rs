//! Flight margin: what shrinks it, and that it names the state the steady solver calls airborne.

mod boats;

use boats::{Example, example, of};
use craft::steady::Running;
use craft::{Craft, Factors, SpeedCurve};
use motion::Conditions;
use motion::events::What;
use motion::flight::{
    Margin, OddsGrid, USUAL_GUST_M_S, margin, margins, odds, raised, spare_in_gust_rad,
};
use motion::run::Start;
use motion::script::Script;
use motion::water::Water;
use nalgebra::Vector3;
use std::ops::ControlFlow;

fn curve(example: &Example) -> SpeedCurve {
    example.craft.rough_curve(24)
}

fn at_top(example: &Example) -> Margin {
    let top = curve(example).top.expect("a top speed");
    margin(&example.craft, &top.running())
}

#[test]
fn the_margin_shrinks_with_speed_until_the_two_states_meet() {
    let boat = example("longshank");
    let curve = curve(&boat);
    let all = margins(&boat.craft, &curve, 30);
    let fast: Vec<f64> = all
        .points
        .iter()
        .filter(|p| p.speed_m_s > 16.0)
        .map(|p| p.unstable_trim_rad.expect("an unstable state"))
        .collect();
    assert!(fast.len() >= 3);
    assert!(fast.windows(2).all(|w| w[1] < w[0]), "{fast:?}");
    let meet = all.meet_m_s.expect("they meet");
    assert!(meet > curve.top.expect("a top speed").speed_m_s);
}

/// The steady solver's own search finds the airborne state with thrust against drag as well; here speed
/// and throttle are held. They agree to a few degrees.
#[test]
fn names_the_state_that_the_steady_solver_calls_airborne() {
    let boat = example("twin-thistle");
    let curve = boat.craft.speed_curve(60);
    let airborne = curve
        .others
        .iter()
        .find(|s| !s.statically_stable && s.wetted.iter().all(|w| w.keel_length_m <= 0.0))
        .expect("an airborne state");
    let away = |s: &&craft::RunningState| (s.speed_m_s - airborne.speed_m_s).abs();
    let running = curve
        .running
        .iter()
        .min_by(|a, b| away(a).total_cmp(&away(b)));
    let here = margin(&boat.craft, &running.expect("one").running());
    let unstable = here.unstable_trim_rad.expect("one").to_degrees();
    let theirs = airborne.attitude.trim_rad.to_degrees();
    assert!((unstable - theirs).abs() < 5.0, "{unstable} and {theirs}");
    assert!(here.lift_off_trim_rad.expect("one") < here.unstable_trim_rad.expect("one"));
}

#[test]
fn weight_aft_and_a_headwind_bring_it_nearer() {
    let boat = example("longshank");
    let usual = at_top(&boat).pitch_rad().expect("one");
    let mut aft = boat.boat.clone();
    let battery = aft.parts.iter_mut().find(|p| p.movable).expect("a pack");
    battery.at[0].value -= 0.06;
    let aft = of(aft, boat.form.clone());
    // At the same speed: with its weight aft it may not get as fast.
    let same = curve(&boat).top.expect("a top speed").speed_m_s;
    let state = aft.craft.on_curve(&curve(&aft), same).expect("a state");
    let aft = margin(&aft.craft, &state.running());
    let aft = aft.pitch_rad().expect("one");
    assert!(aft < usual, "{aft} and {usual}");
    let here = at_top(&boat);
    assert!(here.unstable_in_gust_rad < here.unstable_trim_rad);
    // Declared wind counts like a gust.
    let mut windy = boat.boat.clone();
    windy.air.headwind_m_s.value = 5.0;
    let windy = of(windy, boat.form.clone());
    let top = curve(&boat).top.expect("a top speed");
    let blown = margin(&windy.craft, &top.running());
    let difference =
        blown.unstable_trim_rad.expect("one") - here.unstable_in_gust_rad.expect("one");
    assert!(difference.abs() < 1e-9);
}

#[test]
fn without_lift_from_the_air_nothing_flies() {
    let boat = example("longshank");
    let top = curve(&boat).top.expect("a top speed");
    let factors = Factors {
        air_lift: 0.0,
        ..Factors::default()
    };
    let heavy = Craft::new(&boat.boat, &boat.form, &boat.mass, &factors).expect("a craft");
    let here = margin(&heavy, &top.running());
    assert_eq!(here.gust_m_s, None);
    let with = at_top(&boat).unstable_trim_rad.expect("one");
    assert!(here.unstable_trim_rad.is_none_or(|t| t > 2.0 * with));
}

#[test]
fn the_odds_are_the_same_for_the_same_seeds() {
    let boat = example("tadpole");
    let top = curve(&boat).top.expect("a top speed");
    let asked = OddsGrid {
        speeds: &[top.running()],
        ripples_m: &[0.01],
        headwind_m_s: 0.0,
        seconds: 1.0,
        runs: 3,
        seed: 7,
    };
    let throw = boat.boat.rudders[0].throw_rad.value;
    let go = |_| ControlFlow::Continue(());
    let (one, two) = (
        odds(&boat.craft, throw, &asked, &go).expect("runs"),
        odds(&boat.craft, throw, &asked, &go).expect("runs"),
    );
    assert_eq!(one, two);
    assert_eq!(one[0].count.runs, 3);
    // Stopped at once, it keeps what it has.
    let stop = |_| ControlFlow::Break(());
    let stopped = odds(&boat.craft, throw, &asked, &stop).expect("runs");
    assert!(stopped[0].count.runs <= 3);
}

/// With its bow put up in a gust, at the height that holds it there, the boat run in time comes back from three quarters
/// of what is told to be to spare and goes over from half as much again: the margin takes steady forces, the run does not.
#[test]
fn past_the_margin_a_run_in_time_goes_over_and_before_it_comes_back() {
    for name in ["practice", "longshank"] {
        let boat = example(name);
        let top = curve(&boat).top.expect("a top speed");
        let running = top.running();
        let spare_rad = spare_in_gust_rad(&boat.craft, &running);
        assert!(!goes_over(&boat, &running, 0.75 * spare_rad), "{name}");
        assert!(goes_over(&boat, &running, 1.5 * spare_rad), "{name}");
    }
}

fn goes_over(boat: &Example, running: &Running, by_rad: f64) -> bool {
    let trim_rad = running.attitude.trim_rad + by_rad;
    let raised = raised(&boat.craft, running, trim_rad, USUAL_GUST_M_S).expect("a height");
    let conditions = Conditions {
        water: Water::Flat,
        wind_m_s: boat.craft.surroundings().wind_m_s - Vector3::x() * USUAL_GUST_M_S,
        script: Script::steady(boat.craft.holding(running).min(1.0)),
        start: Start::Running(raised),
        seconds: 1.2,
        seed: 0,
    };
    let throw_rad = boat.boat.rudders[0].throw_rad.value;
    let done = motion::run(&boat.craft, throw_rad, &conditions, &mut |_| {
        ControlFlow::Continue(())
    });
    let events = done.expect("runs").events;
    events.iter().any(|e| e.what == What::Flips)
}
