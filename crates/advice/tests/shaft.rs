//! Whirl, wind-up, blades and tips: findings of a boat changed in one way each.

mod starter;

use advice::Finding;
use advice::Standing::{Good, Stop, Watch};
use boat::{Boat, ShaftEnds, ShaftKind};
use starter::{boat, found, studied};

fn asked(boat: Boat, id: &str) -> Finding {
    found(&studied(boat), id)
}

fn number(finding: &Finding) -> f64 {
    finding.number.as_ref().expect("a number").value
}

fn wire(length_m: f64) -> Boat {
    let mut b = boat("vee");
    let shaft = &mut b.drives[0].shaft;
    shaft.kind = ShaftKind::Wire;
    shaft.ends = ShaftEnds::Pinned;
    shaft.diameter_m = Some(0.002);
    shaft.length_m = Some(length_m);
    b
}

#[test]
fn a_long_wire_whirls_and_half_the_span_is_four_times_as_fast() {
    let (long, short) = (asked(wire(0.2), "whirl"), asked(wire(0.05), "whirl"));
    assert_eq!(long.standing, Stop);
    assert_eq!(short.standing, Good);
    assert!((number(&short) / number(&long) - 16.0).abs() < 1e-6);
}

#[test]
fn a_long_free_end_whirls_with_its_propeller() {
    let with = |stub_m: f64| {
        let mut b = boat("vee");
        b.drives[0].shaft.stub_m = Some(stub_m);
        asked(b, "whirl")
    };
    assert!(number(&with(0.01)) > 4.0 * number(&with(0.04)));
    assert_ne!(with(0.15).standing, Good);
}

#[test]
fn a_longer_cable_winds_up_further() {
    let with = |length_m: f64| {
        let mut b = boat("vee");
        b.drives[0].shaft.length_m = Some(length_m);
        asked(b, "wind-up")
    };
    assert!((number(&with(0.4)) / number(&with(0.2)) - 2.0).abs() < 1e-9);
}

#[test]
fn a_printed_propeller_is_weaker_than_a_bronze_one_and_its_tips_are_named() {
    let with = |material: &str| {
        let mut b = boat("vee");
        b.drives[0].propeller.material = Some(material.to_owned());
        studied(b)
    };
    let (printed, bronze) = (with("printed-pla"), with("bronze"));
    let strength = |study| number(&found(study, "blade"));
    assert!(strength(&printed) < strength(&bronze));
    assert_ne!(found(&printed, "blade").standing, Good);
    assert!(matches!(
        found(&printed, "tip-speed").standing,
        Watch | Good
    ));
}
