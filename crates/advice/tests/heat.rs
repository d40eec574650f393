//! Heat, cooling, leads and what carries the current: findings of a boat changed in one way each.

mod starter;

use advice::Finding;
use advice::Standing::{Good, Watch};
use boat::Boat;
use starter::{boat, found, studied};

fn figure(finding: &Finding, label: &str) -> f64 {
    let one = finding.figures.iter().find(|f| f.label == label);
    let text = &one.unwrap_or_else(|| panic!("no {label}")).value;
    let number = text.split(' ').next().expect("a number");
    number.parse().expect("a number")
}

fn asked(boat: Boat, id: &str) -> Finding {
    found(&studied(boat), id)
}

#[test]
fn longer_leads_want_capacitors_and_kick_harder() {
    let with = |lead_m: f64, capacitor_f: Option<f64>| {
        let mut b = boat("vee");
        b.drives[0].controller.lead_m.value = lead_m;
        b.drives[0].controller.capacitor_f = capacitor_f;
        asked(b, "lead")
    };
    let (short, long) = (with(0.25, None), with(1.0, None));
    assert_eq!(long.standing, Watch);
    // The kick goes with the root of the leads' inductance, that with their length.
    let kick = "kick above the pack, at most";
    let ratio = figure(&long, kick) / figure(&short, kick);
    assert!((ratio - 2.0).abs() < 0.02, "{ratio}");
    // 800 mm too long ask for eight times 220 uF.
    assert_eq!(with(1.0, Some(1.8e-3)).standing, Good);
    assert_eq!(with(1.0, Some(1.7e-3)).standing, Watch);
    // Half of the current flows in the capacitors at half throttle.
    let straight = asked(boat("vee"), "controller")
        .number
        .expect("amperes")
        .value;
    let ripple = figure(&long, "ripple current in the capacitors");
    assert!(
        (ripple / straight - 0.5).abs() < 0.01,
        "{ripple} {straight}"
    );
}

#[test]
fn part_throttle_heats_the_controller_more_than_the_same_current_at_full() {
    let heat = asked(boat("vee"), "heat");
    let full = figure(&heat, "controller's heat at top speed");
    assert!(figure(&heat, "the same current at half throttle") > full);
}

#[test]
fn a_small_fuse_and_a_small_connector_are_watched() {
    let with = |rating: f64| {
        let mut b = boat("vee");
        b.drives[0].battery.fuse_a = Some(rating);
        b.drives[0].battery.connector_a = Some(rating);
        studied(b)
    };
    let (small, large) = (with(5.0), with(2000.0));
    for id in ["fuse", "connector"] {
        let found_small = found(&small, id);
        assert_eq!(found_small.standing, Watch);
        assert!(
            found_small.sentence.contains("squeeze"),
            "{}",
            found_small.sentence
        );
        assert_eq!(found(&large, id).standing, Good);
    }
}

#[test]
fn water_that_cannot_be_lifted_does_not_cool() {
    let line = |rise_m: f64| {
        let mut b = boat("vee");
        let given = |value: f64| boat::Measure::given(value);
        b.drives[0].cooling = Some(boat::CoolingLoop {
            outlet: [given(0.1), given(0.02), given(0.04)],
            pickup_m: given(0.0025),
            bore_m: given(0.003),
            length_m: given(0.4),
            order: vec![boat::Cooled::Controller, boat::Cooled::Motor],
            rise_m: given(rise_m),
            recovery: given(0.6),
            sealed_lid: false,
        });
        asked(b, "cooling")
    };
    let (low, high) = (line(0.05), line(50.0));
    assert!(
        low.sentence.contains("with the pickup blocked"),
        "{}",
        low.sentence
    );
    // sqrt(2 * 9.81 * 0.05 / 0.6) = 1.279 m/s = 4.6 km/h.
    assert!((figure(&low, "lifted from") - 4.60).abs() < 0.01);
    assert!(figure(&low, "idling at 10 km/h") > 0.0);
    assert_eq!(high.standing, Watch);
    assert!(
        high.sentence.starts_with("No water gets through"),
        "{}",
        high.sentence
    );
}
