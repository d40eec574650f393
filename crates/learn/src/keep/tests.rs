use super::*;

fn boat() -> (Boat, Form) {
    let text = boat::template("three-point", "Test").expect("a starter hull");
    let boat = boat::load(&text, "boat.toml").expect("a sound template").0;
    let boat::HullSource::Starter(starter) = &boat.hull.source else {
        panic!("not a starter hull");
    };
    let form = Form::from_mesh(form::starter::build(starter).expect("sound dimensions"));
    (boat, form)
}

fn kept(boat: &Boat, form: &Form) -> Kept {
    let one = |name: &str, of: &str, after: f64| KeptFactor {
        name: name.to_owned(),
        of: of.to_owned(),
        before: 1.0,
        before_spread: 0.25,
        after,
        after_spread: 0.1,
    };
    Kept {
        format: 1,
        outings: vec!["2026-05-17".to_owned()],
        build: None,
        parts: parts(boat, form),
        factor: vec![
            one("propeller thrust", "propeller", 1.1),
            one("motor resistance", "motor", 0.9),
        ],
        correlation: vec![vec![1.0], vec![-0.4, 1.0]],
        turn: vec![KeptTurn {
            to: Side::Right,
            radius_m: 13.8,
            speed_m_s: Some(18.5),
            outing: "2026-05-17".to_owned(),
        }],
    }
}

#[test]
fn a_file_reads_back_as_it_was_written() {
    let (boat, form) = boat();
    let written = kept(&boat, &form);
    let text = written.text();
    assert!(text.starts_with('#'), "{text}");
    assert_eq!(Kept::read(&text, "learned.toml").unwrap(), written);
    let learned = written.carry(&boat, &form);
    assert_eq!((learned.knobs().len(), learned.left_out.len()), (2, 0));
    assert_eq!(learned.turns.len(), 1);
    assert!(!learned.turns[0].to_port && learned.turns[0].radius_m == 13.8);
    assert!((learned.factors().thrust - 1.1).abs() < 1e-12);
}

#[test]
fn an_exchanged_motor_leaves_its_numbers_behind_and_the_propeller_keeps_its() {
    let (mut boat, form) = boat();
    let written = kept(&boat, &form);
    boat.drives[0].motor.kv_rad_s_v.value *= 1.2;
    let learned = written.carry(&boat, &form);
    let names: Vec<&str> = learned.knobs().iter().map(|k| k.lever.name()).collect();
    assert_eq!(names, ["propeller thrust"]);
    assert_eq!(learned.left_out.len(), 1);
    assert!(
        learned.left_out[0].contains("motor resistance"),
        "{:?}",
        learned.left_out
    );
}

#[test]
fn a_hull_of_nearly_the_same_length_carries_and_another_type_does_not() {
    assert!(like("hull", "three-point, 560 mm", "three-point, 590 mm"));
    assert!(!like("hull", "three-point, 560 mm", "three-point, 700 mm"));
    assert!(!like("hull", "three-point, 560 mm", "vee, 560 mm"));
    assert!(!like("motor", "2000 rpm/V", "2001 rpm/V"));
}

#[test]
fn a_propeller_a_little_larger_and_a_cell_more_keep_what_was_learned() {
    let (mut boat, form) = boat();
    let written = kept(&boat, &form);
    let carried = |boat: &Boat| written.carry(boat, &form).knobs().len();
    boat.drives[0].battery.series += 1;
    boat.drives[0].propeller.diameter_m.value += 2e-3;
    assert_eq!(carried(&boat), 2);
    boat.drives[0].propeller.blades += 1;
    assert_eq!(carried(&boat), 1);
    assert!(!like(
        "pack",
        "3S1P, 5000 mAh, 2.00 mohm a cell",
        "3S1P, 4000 mAh, 2.00 mohm a cell"
    ));
    assert!(!like(
        "propeller",
        "40.0 mm, pitch 1.400 of diameter, 2 blades, cup 0.00 mm",
        "46.0 mm, pitch 1.400 of diameter, 2 blades, cup 0.00 mm",
    ));
}

#[test]
fn a_spoilt_file_is_shown_at_its_place() {
    let (boat, form) = boat();
    let text = kept(&boat, &form).text();
    let faults = [
        ("propeller thrust", "propeller trust", "no factor is called"),
        (
            "after_spread = 0.1",
            "after_spread = 0.0",
            "spreads above zero",
        ),
        ("-0.4", "-1.4", "correlation"),
        ("format = 1", "format = 9", "format 9"),
        ("after = 1.1", "after = \"1.1\"", ""),
    ];
    for (from, to, says) in faults {
        let bad = text.replacen(from, to, 1);
        assert_ne!(bad, text, "{from}");
        let error = Kept::read(&bad, "learned.toml").unwrap_err();
        assert!(
            error.problems[0].message.contains(says),
            "{:?}",
            error.problems
        );
    }
}
