use super::*;
use evidence::outing::{Condition, Outing, Source};

fn boat() -> Boat {
    let text = boat::template("three-point", "Test").expect("a starter hull");
    boat::load(&text, "boat.toml").expect("a sound template").0
}

fn value(
    kind: QuantityKind,
    value: f64,
    sigma: f64,
    statistic: Statistic,
    recording: &str,
) -> Value {
    let from = Source {
        recording: recording.to_owned(),
        method: "made up".to_owned(),
        which: None,
    };
    Value::new(
        kind,
        Measured::new(value, sigma),
        statistic,
        from,
        Condition::of(Doing::Straight),
    )
}

fn outing(quantities: Vec<Value>) -> Outing {
    Outing {
        format: 1,
        date: "2026-05-17".to_owned(),
        build: None,
        invented: true,
        recordings: Vec::new(),
        quantities,
        events: Vec::new(),
        clocks: Vec::new(),
    }
}

#[test]
fn one_speed_a_recording_is_taken_and_it_is_the_two_way_mean() {
    let speed = |v, s, w| value(QuantityKind::Speed, v, 0.2, s, "track.gpx").during(0.0, w);
    let all = outing(vec![
        speed(19.0, Statistic::BestHeld, 1.0),
        speed(18.5, Statistic::BestHeld, 3.0),
        speed(18.0, Statistic::TwoWay, 60.0),
        value(
            QuantityKind::Speed,
            18.3,
            0.9,
            Statistic::Steady,
            "pass.wav",
        ),
    ]);
    let (taken, passed) = observe(&all, &boat()).unwrap();
    let values: Vec<f64> = taken.iter().map(|o| o.measured.value).collect();
    assert_eq!(values, [18.0, 18.3]);
    assert_eq!(passed.len(), 2);
    assert!(
        taken[0].assumed.is_some(),
        "flat out is taken for granted, and said"
    );
}

#[test]
fn without_two_ways_the_speed_held_three_seconds_stands() {
    let speed = |v, w| {
        value(
            QuantityKind::Speed,
            v,
            0.2,
            Statistic::BestHeld,
            "track.gpx",
        )
        .during(0.0, w)
    };
    let all = outing(vec![speed(19.0, 1.0), speed(18.5, 3.0), speed(17.0, 10.0)]);
    assert_eq!(observe(&all, &boat()).unwrap().0[0].measured.value, 18.5);
}

#[test]
fn extremes_turns_and_numbers_without_uncertainty_are_passed_over_with_a_reason() {
    let mut turning = value(QuantityKind::Speed, 12.0, 0.3, Statistic::Steady, "a");
    turning.condition.motion = Doing::TurnToPort;
    let all = outing(vec![
        turning,
        value(QuantityKind::Current, 80.0, 1.0, Statistic::Peak, "b"),
        value(QuantityKind::Voltage, 10.0, 0.0, Statistic::Steady, "b"),
    ]);
    let (taken, passed) = observe(&all, &boat()).unwrap();
    assert!(taken.is_empty());
    assert_eq!(
        passed.iter().map(|p| p.why).collect::<Vec<_>>(),
        [
            "in a turn",
            "an extreme, not a steady value",
            "no uncertainty is given"
        ]
    );
}

#[test]
fn impossible_numbers_are_refused_with_what_to_doubt() {
    let rpm = |r: f64| r * TAU / 60.0;
    let cases = [
        (QuantityKind::Speed, -3.0, "below zero"),
        (QuantityKind::ShaftSpeed, rpm(400_000.0), "pole count"),
        (QuantityKind::Voltage, 120.0, "cells"),
        (QuantityKind::MotorTemperature, 900.0, "sensor"),
        (QuantityKind::Speed, f64::NAN, "no measurement"),
        (QuantityKind::Trim, 4.0, "degrees"),
    ];
    for (kind, number, says) in cases {
        let all = outing(vec![value(kind, number, 0.1, Statistic::Steady, "log.csv")]);
        let error = observe(&all, &boat()).unwrap_err().to_string();
        assert!(error.contains(says) && error.contains("log.csv"), "{error}");
    }
    let mut wrong = value(
        QuantityKind::Current,
        40.0,
        1.0,
        Statistic::Steady,
        "log.csv",
    );
    wrong.unit = evidence::outing::Unit::Volt;
    let error = observe(&outing(vec![wrong]), &boat())
        .unwrap_err()
        .to_string();
    assert!(error.contains("the unit is V"), "{error}");
}

#[test]
fn a_pass_gives_turns_at_its_own_speed_and_inherits_its_error() {
    let mut turns = value(
        QuantityKind::ShaftSpeed,
        2000.0,
        1.0,
        Statistic::Steady,
        "pass.wav",
    );
    turns.condition.speed_m_s = Some(15.0);
    let all = outing(vec![
        turns,
        value(
            QuantityKind::Speed,
            15.0,
            0.3,
            Statistic::Steady,
            "pass.wav",
        ),
    ]);
    let (taken, _) = observe(&all, &boat()).unwrap();
    let turns = taken
        .iter()
        .find(|o| o.kind == QuantityKind::ShaftSpeed)
        .unwrap();
    assert_eq!(turns.place, Place::Speed(15.0));
    assert!((turns.measured.sigma - (1f64 + 1600.0).sqrt()).abs() < 1e-9);
}
