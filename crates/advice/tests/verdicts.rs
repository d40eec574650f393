//! A boat spoilt in one way gets the finding for it.

mod starter;

use advice::Standing::{Good, Stop, Unsure, Watch};
use advice::findings;
use starter::{File, boat, found, standing, studied};
use study::{Effort, study_with};

#[test]
fn a_boat_heavier_than_its_hull_sinks() {
    let mut heavy = boat("vee");
    heavy.parts[0].mass_kg.value = 9.0;
    let study = studied(heavy);
    assert!(study.running.is_none());
    let floats = found(&study, "floats");
    assert_eq!(floats.standing, Stop);
    assert!(floats.sentence.starts_with("It sinks"));
    assert_eq!(findings(&study)[0].standing, Stop);
}

#[test]
fn without_foam_it_goes_to_the_bottom() {
    // Metal and lithium outweigh what the plastic holds up.
    let mut bare = boat("vee");
    bare.floats.clear();
    assert_eq!(standing(bare.clone(), "swamped"), Stop);
    assert_eq!(standing(bare, "flotation"), Watch);
    assert_ne!(standing(boat("vee"), "swamped"), Stop);
}

#[test]
fn an_opening_under_water_stops_it() {
    let mut low = boat("three-point");
    low.openings[0].at[2].value = -0.010;
    let study = studied(low);
    let freeboard = found(&study, "freeboard");
    assert_eq!(freeboard.standing, Stop);
    assert!(freeboard.sentence.contains("Water comes in"));
}

#[test]
fn a_hull_that_hangs_on_its_stern_is_not_said_to_float() {
    let study = [1.5, 2.0, 2.5, 3.0, 3.5].into_iter().find_map(|times| {
        let mut heavy = boat("vee");
        for part in &mut heavy.parts {
            part.mass_kg.value *= times;
        }
        let study = studied(heavy);
        let afloat = study.rest.afloat.as_ref()?;
        (afloat.attitude.trim_rad > 0.5).then_some(study)
    });
    let study = study.expect("some weight that pulls its stern under");
    let all = advice::findings(&study);
    assert_eq!(found(&study, "floats").standing, Stop);
    assert_eq!(found(&study, "freeboard").standing, Stop);
    assert!(all.iter().all(|f| f.id != "level"));
    let first = &advice::verdict(&study, &all).items[0];
    assert_eq!(first.text, "on its stern");
    assert_eq!(first.standing, Stop);
}

#[test]
fn weight_to_one_side_leans_it() {
    let mut lopsided = boat("vee");
    let battery = lopsided.parts.iter_mut().find(|p| p.movable).expect("one");
    battery.at[1].value -= 0.04;
    let study = studied(lopsided);
    let heel = found(&study, "heel");
    assert_eq!(heel.standing, Watch);
    // To starboard, which is positive.
    assert!(heel.sentence.contains("to the right"), "{}", heel.sentence);
    assert!(heel.number.expect("a number").value > 0.0);
}

#[test]
fn a_pack_slid_aft_is_tail_heavy() {
    let mut aft = boat("three-point");
    let battery = aft.parts.iter_mut().find(|p| p.movable).expect("one");
    battery.at[0].value -= 0.06;
    let study = studied(aft);
    let balance = found(&study, "balance");
    assert_eq!(balance.standing, Watch);
    assert!(balance.sentence.contains("tail heavy"));
    // By hand: 175 g moved 60 mm in a boat of about 0.9 kg moves its balance by some 12 mm.
    let before = studied(boat("three-point"));
    let moved = before.mass.cg_m.x - study.mass.cg_m.x;
    let by_hand = 0.175 * 0.06 / study.mass.mass_kg;
    assert!((moved - by_hand).abs() < 1e-9, "{moved} {by_hand}");
}

#[test]
fn a_controller_is_held_to_its_rating() {
    let with = |rating: Option<f64>| {
        let mut boat = boat("vee");
        boat.drives[0].controller.rated_current_a = rating;
        standing(boat, "controller")
    };
    assert_eq!(with(Some(10.0)), Stop);
    assert_eq!(with(Some(300.0)), Good);
    assert_eq!(with(None), Unsure);
}

#[test]
fn a_boat_without_a_drive_still_floats() {
    let mut towed = boat("catamaran");
    towed.drives.clear();
    let study = studied(towed);
    assert_eq!(found(&study, "drive").standing, Unsure);
    assert_eq!(found(&study, "floats").standing, Good);
}

#[test]
fn a_wish_that_is_not_met_is_said() {
    let mut keen = boat("vee");
    keen.wishes.speed_m_s = Some(60.0);
    let study = studied(keen);
    let top = found(&study, "top-speed");
    assert_eq!(top.standing, Watch);
    assert!(top.sentence.contains("short of"), "{}", top.sentence);
}

#[test]
fn every_finding_is_complete() {
    for hull in boat::STARTER_TYPES {
        let study = studied(boat(hull));
        for finding in findings(&study) {
            let id = finding.id;
            assert!(finding.sentence.ends_with(['.', '?']), "{id}");
            assert!(
                !finding.why.is_empty() || finding.standing == Unsure,
                "{id}"
            );
            let sound = |n: &advice::Number| n.value.is_finite() && n.spread >= 0.0;
            assert!(finding.number.iter().all(sound), "{id}");
            if finding.limit.is_some() {
                assert!(finding.number.is_some(), "{id} has a limit for nothing");
            }
        }
    }
}

#[test]
fn adjustments_are_listed_best_first_and_go_the_right_way() {
    let file = File::new("three-point");
    let effort = Effort {
        draws: 0,
        ..Effort::default()
    };
    let study = study_with(file.subject(), Some(&file), effort, &|_| ()).expect("a study");
    assert!(study.trials.len() > 10, "{}", study.trials.len());
    let top = found(&study, "top-speed");
    let speed = |t: &study::Trial| t.quantities.get(study::Quantity::TopSpeed);
    let now = study
        .number(study::Quantity::TopSpeed)
        .expect("a top speed")
        .0;
    let offered: Vec<f64> = top
        .changes
        .iter()
        .map(|c| {
            study
                .trials
                .iter()
                .find(|t| t.what == c.what)
                .expect("one that was tried")
        })
        .map(|t| speed(t).expect("a top speed"))
        .collect();
    assert!(!offered.is_empty());
    assert!(offered.iter().all(|v| *v > now), "{offered:?} {now}");
    assert!(offered.windows(2).all(|p| p[0] >= p[1]), "{offered:?}");
}
