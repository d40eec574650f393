//! Things put where they cannot be, each found and nothing else; boats as they come have nothing out of place.

#[path = "../../motion/tests/boats/mod.rs"]
mod boats;
mod starter;

use boat::{Boat, Measure};
use form::Form;
use study::hull_type::HullType;
use study::placement::{Misplaced, misplaced};

fn of(boat: &Boat, form: &Form) -> Vec<Misplaced> {
    let mass = craft::mass::mass_properties(boat, form).expect("weights");
    let rest = craft::rest::solve(boat, form, &mass, 999.1).expect("rest");
    misplaced(boat, form, &rest, HullType::of(boat, form))
}

#[test]
fn nothing_is_out_of_place_on_boats_as_they_come() {
    for name in [
        "practice",
        "tadpole",
        "longshank",
        "millrace",
        "twin-thistle",
    ] {
        let b = boats::example(name);
        assert_eq!(of(&b.boat, &b.form), [], "{name}");
    }
    for hull in ["three-point", "outrigger", "vee", "catamaran"] {
        let boat = starter::boat(hull);
        assert_eq!(of(&boat, &starter::form(&boat)), [], "{hull}");
    }
}

fn moved(change: impl Fn(&mut Boat)) -> Vec<Misplaced> {
    let mut b = boats::example("practice");
    change(&mut b.boat);
    of(&b.boat, &b.form)
}

fn put(boat: &mut Boat, name: &str, at: [f64; 3]) {
    let part = boat.parts.iter_mut().find(|p| p.name == name);
    part.expect("a part").at = at.map(Measure::given);
}

#[test]
fn a_pack_beside_the_hull_is_outside_by_its_distance() {
    let found = moved(|b| put(b, "Battery", [0.392, 0.4, 0.026]));
    // The hull is 270 mm wide there: 400 mm less half of it.
    let by = found.iter().find_map(|m| match m {
        Misplaced::Outside { part, by_m } if part == "Battery" => Some(*by_m),
        _ => None,
    });
    let half_m = 0.5 * boats::example("practice").form.outline.beam_m;
    assert!(
        (by.expect("outside") - (0.4 - half_m)).abs() < 0.01,
        "{by:?}"
    );
}

#[test]
fn two_parts_in_one_place_tell_what_both_take() {
    let found = moved(|b| put(b, "Battery", [0.262, -0.002, 0.032]));
    let both = found.iter().find_map(|m| match m {
        Misplaced::Overlap { parts, common_m } if parts == &["Motor", "Battery"] => Some(*common_m),
        _ => None,
    });
    // The motor is 50 x 36 x 36 mm, the pack 135 x 44 x 25 mm, about one middle.
    let wanted = [0.05, 0.036, 0.025];
    let close = |got: [f64; 3]| got.iter().zip(wanted).all(|(a, b)| (a - b).abs() < 1e-9);
    assert!(both.is_some_and(close), "{found:?}");
}

#[test]
fn what_works_in_water_must_reach_it_and_stay_clear_of_the_hull() {
    let up = |b: &mut Boat, mm: f64| {
        b.rudders
            .iter_mut()
            .for_each(|r| r.at[2].value += 1e-3 * mm);
    };
    let hangs = moved(|b| up(b, 120.0));
    assert!(
        matches!(hangs[..], [Misplaced::BladeInAir { .. }]),
        "{hangs:?}"
    );
    let cuts = moved(|b| {
        b.drives[0].propeller.at = [0.06, 0.0, 0.01].map(Measure::given);
    });
    assert!(
        matches!(cuts[..], [Misplaced::PropellerInHull { .. }]),
        "{cuts:?}"
    );
    let buried = moved(|b| {
        let at = [0.3, 0.0, 0.09].map(Measure::given);
        b.fins.iter_mut().for_each(|f| f.at = at);
    });
    assert!(
        matches!(buried[..], [Misplaced::BladeInHull { .. }]),
        "{buried:?}"
    );
}

#[test]
fn a_missing_fin_and_too_much_foam_are_told() {
    let none = moved(|b| b.fins.clear());
    assert_eq!(none, [Misplaced::NoFin]);
    let much = moved(|b| b.floats[0].volume_m3 = Measure::given(0.075));
    assert!(
        matches!(much[..], [Misplaced::FoamTooLarge { .. }]),
        "{much:?}"
    );
}

#[test]
fn a_pack_goes_in_by_the_hatch_end_on_or_not_at_all() {
    let with = |size: [f64; 2]| {
        moved(|b| {
            let pack = b.parts.iter_mut().find(|p| p.name == "Battery");
            let pack = pack.expect("a pack");
            (pack.size_m, pack.movable) = ([0.14, 0.045, 0.03], true);
            b.openings[0].hatch_m = Some(size);
        })
    };
    let refused = |found: &[Misplaced]| {
        let by = |m: &Misplaced| matches!(m, Misplaced::NoHatch { .. });
        found.iter().any(by)
    };
    assert!(!refused(&with([0.05, 0.035])));
    assert!(!refused(&with([0.035, 0.05])));
    assert!(refused(&with([0.3, 0.028])));
    assert!(refused(&with([0.04, 0.04])));
}

#[test]
fn two_drives_given_the_whole_of_one_pack_are_noticed() {
    let found = moved(|b| b.drives.push(b.drives[0].clone()));
    let told = found.iter().find_map(|m| match m {
        Misplaced::PacksTooLight {
            energy_j, drives, ..
        } => Some((*energy_j, *drives)),
        _ => None,
    });
    let (energy_j, drives) = told.expect("told");
    let pack = &boats::example("practice").boat.drives[0].battery;
    let one = 3.7 * f64::from(pack.series) * pack.capacity_c.value;
    assert!((energy_j / one - 2.0).abs() < 1e-9 && drives == 2);
}
