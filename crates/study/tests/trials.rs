//! What is calculated for an adjustment is what its edits make of the boat file.

mod starter;

use boat::{Edit, NewValue};
use making::strength::{Margin, Of};
use nalgebra::DMatrix;
use starter::File;
use study::lever::{Knob, Lever};
use study::trial::{quantities, try_all};
use study::{Adjustment, Detail, Effort, Learned, Quantity, Source as _, Trial, study_with};

const ROUGH: Detail<'static> = Detail::Rough(20);

fn trials(file: &File) -> Vec<Trial> {
    let all = try_all(&file.subject(), file, ROUGH, None);
    assert!(all.len() > 10, "{}", all.len());
    all
}

fn of(all: &[Trial], adjustment: Adjustment) -> &Trial {
    let found = all.iter().find(|t| t.adjustment == adjustment);
    found.unwrap_or_else(|| panic!("{adjustment:?}"))
}

/// Whether it is set in the boat file rather than built.
fn is_set(adjustment: Adjustment) -> bool {
    use Adjustment as A;
    !matches!(
        adjustment,
        A::Lighter | A::PadAngleMore | A::PadAngleLess | A::PadsWider
    )
}

/// A boat whose outings taught that its propeller bites deeper and its motor turns slower than declared.
fn learned(hull: &str) -> File {
    let knob = |name: &str, mean: f64| Knob {
        lever: Lever::named(name).expect("a lever"),
        mean,
        sigma: 0.02,
        before: (1.0, 0.1),
    };
    let knobs = vec![
        knob("propeller pitch", 1.08),
        knob("motor speed constant", 0.95),
        knob("propeller thrust", 0.93),
    ];
    let learned = Learned::new(knobs, &DMatrix::identity(3, 3), vec!["2026-05-17".into()]);
    File {
        learned: learned.expect("a sound correlation"),
        ..File::new(hull)
    }
}

#[test]
fn whoever_makes_the_edits_gets_the_numbers() {
    for hull in ["three-point", "vee"] {
        let file = learned(hull);
        for trial in trials(&file) {
            assert_eq!(
                !trial.edits.is_empty(),
                is_set(trial.adjustment),
                "{}",
                trial.what
            );
            if trial.edits.is_empty() {
                continue;
            }
            let text = Edit::apply_all(&trial.edits, &file.text).expect("edits of this file");
            let tried = File {
                learned: file.learned.clone(),
                ..File::of(text)
            };
            let found = quantities(&tried.subject(), ROUGH, None);
            assert_eq!(
                found.as_ref(),
                Some(&trial.quantities),
                "{hull}: {}",
                trial.what
            );
        }
    }
}

/// After learning, the boat that is asked has a corrected pitch; the file keeps the declared one.
#[test]
fn edits_are_of_what_the_file_says_not_of_what_was_learned() {
    let file = learned("three-point");
    let declared = file.declared.drives[0].propeller.pitch_ratio.value;
    let asked = file.subject().boat.drives[0].propeller.pitch_ratio.value;
    assert!((asked / declared - 1.08).abs() < 1e-9);
    let all = trials(&file);
    let trial = of(&all, Adjustment::PitchMore);
    let tried = file.edited(&trial.edits).expect("a boat").boat;
    let ratio = tried.drives[0].propeller.pitch_ratio.value;
    assert!((ratio / 1.08 - (declared + 0.1)).abs() < 1e-4, "{ratio}");
}

#[test]
fn what_is_written_keeps_its_tolerance_and_a_pitch_in_mm_its_ratio() {
    let text = boat::template("three-point", "Test").expect("known");
    let word = |w: &str| boat::PathStep::Word(w.into());
    let at = |keys: [&str; 2]| {
        vec![
            word("drive"),
            boat::PathStep::Nth(0),
            word(keys[0]),
            word(keys[1]),
        ]
    };
    let ratio = at(["propeller", "pitch_ratio"]);
    let text = Edit::Remove {
        path: ratio.clone(),
    }
    .apply(&text)
    .unwrap_or(text);
    let edits = [
        Edit::set(at(["propeller", "diameter"]), "40 mm ± 0.5 mm"),
        Edit::set(at(["propeller", "pitch"]), "56 mm ± 1 mm"),
    ];
    let file = File::of(Edit::apply_all(&edits, &text).expect("a boat file"));
    let all = trials(&file);
    let larger = &of(&all, Adjustment::PropellerLarger).edits;
    let value = |edit: &Edit| match edit {
        Edit::Set {
            value: NewValue::Text(text),
            ..
        } => text.clone(),
        other => panic!("{other:?}"),
    };
    let values: Vec<String> = larger.iter().map(value).collect();
    assert_eq!(values, ["41 mm ± 0.5 mm", "57.4 mm ± 1 mm"]);
    let more = &of(&all, Adjustment::PitchMore).edits;
    assert_eq!(more.len(), 1);
    assert_eq!(value(&more[0]), "60 mm ± 1 mm");
}

/// Tabs are turned where there are any, by names and by number, and put the bow down.
#[test]
fn tabs_are_tried_where_there_are_any_and_put_the_bow_down() {
    let plain = boat::template("vee", "Test").expect("known");
    // Half a millimetre above the bottom: flat for 6 mm at the keel, then 21 deg of deadrise.
    let tab = |name: &str, y: &str, z: &str| {
        format!(
            "\n[[tab]]\n{name}at = [\"0 mm\", \"{y}\", \"{z}\"]\nspan = \"30 mm\"\nchord = \"25 mm\"\n"
        )
    };
    for text in [
        plain.clone()
            + &tab("name = \"left tab\"\n", "40 mm", "13.6 mm")
            + &tab("name = \"right tab\"\n", "-40 mm", "13.6 mm"),
        plain.clone() + &tab("", "0 mm", "0.5 mm"),
    ] {
        let file = File::of(text);
        let all = trials(&file);
        let down = of(&all, Adjustment::TabsDown);
        assert_eq!(down.edits.len(), file.declared.tabs.len());
        let trim = |t: &Trial| t.quantities.get(Quantity::TopTrim).expect("runs");
        let up = of(&all, Adjustment::TabsUp);
        assert!(trim(down) < trim(up) - 1e-3, "{} {}", trim(down), trim(up));
        let tried = file.edited(&down.edits).expect("a boat").boat;
        assert!((tried.tabs[0].angle_rad.value.to_degrees() - 2.0).abs() < 1e-6);
    }
}

/// What makes a hull stronger is tried by edits of the boat file: the boat they make holds as was told. What is glued in
/// weighs something and loads are of the boat as it then runs, so it holds nearly as much.
#[test]
fn what_makes_a_hull_stronger_can_be_made_by_edits() {
    let effort = Effort {
        draws: 0,
        trials: false,
        ..Effort::default()
    };
    let mut tried = 0;
    for hull in ["three-point", "outrigger", "catamaran"] {
        let asked = |file: &File| {
            let study = study_with(file.subject(), Some(file), effort, &|_| {}).expect("a study");
            let running = study.running.as_ref().expect("it runs");
            let strength = running.strength.clone().expect("a plastic that is known");
            (strength, study.stronger)
        };
        let file = File::new(hull);
        let (strength, edits) = asked(&file);
        assert_eq!(strength.levers.len(), edits.len());
        for (lever, edits) in strength.levers.iter().zip(&edits) {
            assert_eq!(
                lever.declares.is_some(),
                !edits.is_empty(),
                "{}",
                lever.what
            );
            if edits.is_empty() {
                continue;
            }
            let text = Edit::apply_all(edits, &file.text).expect("edits of this file");
            let (then, _) = asked(&File::of(text));
            let worst = |of| then.worst(of).map(Margin::value);
            let near = |now: f64, told: f64| (now / told - 1.0).abs() < 0.15;
            let held = worst(Of::Hull).expect("a hull");
            assert!(near(held, lever.hull), "{}: {held} {lever:?}", lever.what);
            if let (Some(held), Some(told)) = (worst(Of::Joint), lever.joints) {
                assert!(near(held, told), "{}: {held} {lever:?}", lever.what);
            }
            tried += 1;
        }
    }
    assert!(tried > 4, "{tried}");
}
