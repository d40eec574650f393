//! A part of the acceptance sweep (the whole of it is the example `sweeps`): no value of a parameter is without an
//! answer, what was once missing or on a grid point is not, and senseless input ends in an answer or a reason.

mod boats;
mod sweep;

use boats::{Example, example};
use craft::{CannotRun, NoTop, SpeedCurve};
use motion::run::{Conditions, Start, run};
use motion::script::Script;
use motion::water::Water;
use motion::{InTime, LetGo, TopSpeed, let_go, settled_speed, top_speed};
use std::ops::ControlFlow;
use sweep::{BOATS, PARAMETERS, Parameter, Row, craft_of, heavier, jumps};

fn parameter(name: &str) -> &'static Parameter {
    let found = PARAMETERS.iter().find(|p| p.name.starts_with(name));
    found.expect("a parameter")
}

/// A boat at one value.
fn at(boat: &Example, name: &str, x: f64) -> SpeedCurve {
    parameter(name)
        .craft(boat, x)
        .expect("a craft")
        .rough_curve(2)
}

/// Two boats along three parameters each: answers everywhere, and no jump without a name.
#[test]
fn a_part_of_the_sweeps_has_answers_and_no_unnamed_jumps() {
    for (name, parameters) in [
        ("practice", ["headwind", "pitch ratio", "mass"]),
        (
            "tadpole",
            ["pitch ratio", "propeller higher", "motor constant"],
        ),
    ] {
        let boat = example(name);
        for of in parameters {
            let rows = sweep::sweep(&boat, parameter(of), 11, false);
            let lost: Vec<f64> = rows.iter().filter(|r| !r.answers()).map(|r| r.x).collect();
            assert!(lost.is_empty(), "{name}, {of}: no answer at {lost:?}");
            let unnamed: Vec<_> = jumps(&rows).into_iter().filter(|j| !j.3).collect();
            assert!(unnamed.is_empty(), "{name}, {of}: {unnamed:?}");
        }
    }
}

/// Where the steady answer was missing or on a grid point and a run in time had one, and two that settle without
/// hopping: within 1.5 %.
#[test]
fn a_run_in_time_settles_where_the_steady_answer_says() {
    let cases = [
        ("practice", "headwind", 7.5),
        ("practice", "pitch ratio", 0.8),
        ("tadpole", "pitch ratio", 1.0),
        ("tadpole", "pitch ratio", 0.8),
        ("tadpole", "pitch ratio", 0.86),
    ];
    let mut compared = 0;
    for (name, of, x) in cases {
        let boat = example(name);
        let craft = parameter(of).craft(&boat, x).expect("a craft");
        let top = craft.rough_curve(2).top.map(|t| t.speed_m_s);
        let Ok(InTime::Runs(run)) = settled_speed(&craft, 0.5) else {
            continue;
        };
        if run.is_steady() {
            compared += 1;
            let top = top.unwrap_or_else(|| panic!("{name}, {of} {x}: {run:?} and no top speed"));
            let off = top / run.mean_m_s - 1.0;
            assert!(off.abs() < 0.015, "{name}, {of} {x}: off by {off}");
        }
    }
    assert!(compared >= 2, "{compared}");
}

/// Let go at their steady top speed: the boat as it is stays there, with a larger propeller it hops, and the mean that
/// is told is that of twice as long a run.
#[test]
fn a_boat_that_hops_at_full_throttle_tops_out_at_what_it_hops_at() {
    let practice = example("practice");
    for (times, hops) in [(1.0, false), (37.0 / 34.0, true), (40.0 / 34.0, true)] {
        let craft = parameter("propeller diameter").craft(&practice, times);
        let craft = craft.expect("a craft");
        let top = craft.rough_curve(2).top.expect("its forces balance");
        let left = let_go(&craft, &top, 0.38);
        let told = match left {
            LetGo::Leaves(top) => top.speed_m_s().expect("it goes on"),
            LetGo::Stays => {
                assert!(!hops, "{times}");
                continue;
            }
            LetGo::GoesOver => panic!("{times}"),
        };
        assert!(hops, "{times}: {told}");
        let conditions = Conditions {
            water: Water::Flat,
            wind_m_s: craft.surroundings().wind_m_s,
            script: Script::steady(1.0),
            start: Start::Running(top.running()),
            seconds: 12.0,
            seed: 7,
        };
        let longer = run(
            &craft,
            0.38,
            &conditions,
            &mut |_| ControlFlow::Continue(()),
        );
        let longer = longer.expect("a run").samples;
        let last = &longer[longer.len() - 100..];
        let mean = last.iter().map(|s| s.speed_m_s).sum::<f64>() / last.len() as f64;
        assert!((told / mean - 1.0).abs() < 0.015, "{times}: {told}, {mean}");
        assert!(told < 0.95 * top.speed_m_s, "{times}: {told}");
    }
}

#[test]
fn how_many_speeds_are_shown_moves_nothing() {
    for name in BOATS {
        let boat = example(name);
        let (few, many) = (boat.craft.speed_curve(24), boat.craft.speed_curve(48));
        let top = |c: &SpeedCurve| c.top.as_ref().map(|t| t.speed_m_s);
        assert_eq!(top(&few), top(&many), "{name}");
        assert_eq!(few.planing_m_s, many.planing_m_s, "{name}");
        assert_eq!(few.hump, many.hump, "{name}");
        assert_eq!(few.no_top, many.no_top, "{name}");
    }
}

/// Senseless boats: an answer or a reason, never silence; and a reason that names what is wrong.
#[test]
fn what_makes_no_sense_ends_in_an_answer_or_a_reason() {
    for name in BOATS {
        let boat = example(name);
        for (what, of, x) in [
            ("a fine pitch", "pitch ratio", 0.3),
            ("a storm ahead", "headwind", 30.0),
            ("hardly a surface", "running surfaces' beam", 0.03),
            ("a tiny propeller", "propeller diameter", 0.05),
            ("a propeller in the air", "propeller higher", 200.0),
            ("hardly a volt", "motor constant", 0.01),
        ] {
            let craft = match parameter(of).craft(&boat, x) {
                Ok(craft) => craft,
                Err(why) => {
                    assert!(!why.is_empty(), "{name}, {what}");
                    continue;
                }
            };
            let curve = craft.rough_curve(2);
            let answers =
                curve.top.is_some() || curve.no_top.is_some_and(|n| !n.to_string().is_empty());
            assert!(answers, "{name}, {what}");
            if what == "a propeller in the air" {
                let dry = matches!(
                    curve.no_top,
                    Some(NoTop::CannotRun(CannotRun::PropellerDry { .. }))
                );
                assert!(dry, "{name}: {:?}", curve.no_top);
            }
            match top_speed(&craft, &curve, 0.5) {
                TopSpeed::Steady(state) => assert!(state.speed_m_s.is_finite()),
                TopSpeed::Unsteady {
                    why,
                    in_time,
                    average,
                } => {
                    assert!(why.speed_m_s().is_finite());
                    // What goes on has a mean that other questions can be asked at.
                    let goes_on = match &in_time {
                        InTime::Runs(run) => Some(run.mean_m_s),
                        InTime::Over(_) | InTime::Stuck(_) => None,
                    };
                    assert_eq!(average.map(|a| a.speed_m_s), goes_on, "{name}, {what}");
                }
                TopSpeed::CannotRun(why) => assert!(!why.to_string().is_empty()),
            }
        }
        let mut heavy = boat.boat.clone();
        heavier(&mut heavy, 5.0);
        match craft_of(&heavy, &boat.form) {
            Ok(craft) => {
                let curve = craft.rough_curve(2);
                assert!(curve.top.is_some() || curve.no_top.is_some(), "{name}");
            }
            Err(why) => assert!(why.contains("float"), "{name}: {why}"),
        }
    }
}

/// Rows that a boat has no answer for are told from those it has.
#[test]
fn a_silent_row_is_missing() {
    let silent = Row {
        x: 0.0,
        refused: None,
        curve: SpeedCurve::default(),
        answer: None,
        in_time: None,
    };
    assert!(silent.missing());
    let boat = example("tadpole");
    assert!(at(&boat, "mass", 1.0).top.is_some());
}
