use super::table::CAUSES;
use super::*;
use advice::findings;
use boat::Boat;
use form::Form;
use std::sync::LazyLock;
use study::{Effort, Study};

static STUDY: LazyLock<Study> = LazyLock::new(|| studied("three-point", |_| ()));

fn studied(hull: &str, change: impl FnOnce(&mut Boat)) -> Study {
    let text = boat::template(hull, "Test").expect("a starter hull");
    let mut boat = boat::load(&text, "boat.toml").expect("a sound template").0;
    change(&mut boat);
    let boat::HullSource::Starter(starter) = &boat.hull.source else {
        panic!("not a starter hull");
    };
    let mut form = Form::from_mesh(form::starter::build(starter).expect("sound dimensions"));
    form.surfaces = form::running::find(&form.envelope);
    let effort = Effort {
        draws: 0,
        trials: false,
        ..Effort::default()
    };
    study::study(boat, form, effort, &|_| ()).expect("a boat that can be studied")
}

fn why(text: &str, study: &Study) -> Result<Vec<Explained>, WhyError> {
    let all = findings(study);
    let case = Case {
        study,
        findings: &all,
        outing: None,
        found: None,
    };
    explain(text, &case)
}

/// Every row of the diagnosis table: its words find its symptom, and the symptom has its causes in
/// the table's order.
#[test]
fn every_row_of_the_table_is_found_from_a_builders_words() {
    let table = include_str!("../../../../checks/diagnosis.csv");
    let rows: Vec<Vec<&str>> = table
        .lines()
        .filter(|l| !l.starts_with('#'))
        .map(|l| l.split(',').collect())
        .collect();
    assert_eq!(rows.len(), SYMPTOMS.len());
    let mut missed = Vec::new();
    for row in rows {
        let seen = recognise(row[0]);
        match seen.iter().find(|s| s.symptom.id == row[1]) {
            Some(s) => assert_eq!(s.symptom.causes.join(" "), row[2], "{}", row[1]),
            None => missed.push((
                row[0].to_owned(),
                seen.iter().map(|s| s.symptom.id).collect::<Vec<_>>(),
            )),
        }
    }
    assert!(missed.is_empty(), "{missed:#?}");
}

#[test]
fn every_cause_exists_and_is_used_and_says_what_to_do() {
    for symptom in SYMPTOMS {
        for id in symptom.causes {
            assert!(cause(id).is_some(), "{}: no cause {id}", symptom.id);
        }
    }
    for c in CAUSES {
        assert!(
            SYMPTOMS.iter().any(|s| s.causes.contains(&c.id)),
            "{} explains nothing",
            c.id
        );
        assert!(!c.try_next.is_empty() && !c.measure.is_empty());
        assert_eq!(
            CAUSES.iter().filter(|other| other.id == c.id).count(),
            1,
            "{}",
            c.id
        );
    }
}

#[test]
fn words_are_found_misspelt_denied_and_together() {
    let ids = |text: &str| {
        recognise(text)
            .iter()
            .map(|s| s.symptom.id)
            .collect::<Vec<_>>()
    };
    assert_eq!(
        ids("porpoises and won't turn left"),
        ["porpoising", "turns-one-way"]
    );
    assert_eq!(ids("Porpoisses!"), ["porpoising"]);
    assert_eq!(ids("hops in turns"), ["hop-turns"]);
    assert_eq!(ids("it planes nicely and turns both ways"), [] as [&str; 0]);
    assert_eq!(ids("one sponson flies"), ["sponson-flies"]);
    assert!(ids("it won’t plane").contains(&"no-plane-revs"));
    assert!(ids("it won’t plane").contains(&"no-plane-bogged"));
}

#[test]
fn what_is_not_known_is_answered_with_what_is() {
    assert_eq!(why("", &STUDY).unwrap_err(), WhyError::Nothing);
    assert_eq!(why("  \n", &STUDY).unwrap_err(), WhyError::Nothing);
    assert!(matches!(
        why("zażółć gęślą jaźń 🚤🚤", &STUDY).unwrap_err(),
        WhyError::Unknown { .. }
    ));
    assert!(matches!(
        why("das Boot ist zu langsam", &STUDY).unwrap_err(),
        WhyError::Unknown { .. }
    ));
    assert!(matches!(
        why(&"hop ".repeat(2000), &STUDY).unwrap_err(),
        WhyError::TooLong(_)
    ));
    assert_eq!(known().count(), SYMPTOMS.len());
}

/// The same words, two boats: the model must move the cause that was put in.
#[test]
fn a_boat_spoilt_in_one_way_has_that_cause_first() {
    let share = |study: &Study, id: &str| {
        let all = why("it blows over", study).unwrap();
        let found = all[0]
            .causes
            .iter()
            .find(|c| c.cause.id == id)
            .unwrap()
            .clone();
        (all[0].causes[0].cause.id, found)
    };
    let length = STUDY.form.outline.length_m;
    let aft = studied("three-point", |b| {
        for part in b.parts.iter_mut().filter(|p| p.movable) {
            part.at[0].value -= 0.12 * length;
        }
    });
    let (first, spoilt) = share(&aft, "balance-aft");
    let (_, sound) = share(&STUDY, "balance-aft");
    assert_eq!(first, "balance-aft");
    assert_eq!(spoilt.chance, Chance::Likely);
    assert!(!spoilt.for_it.is_empty());
    assert!(
        spoilt.share > sound.share,
        "{} against {}",
        spoilt.share,
        sound.share
    );
    let up = studied("three-point", |b| {
        b.drives[0].shaft.angle_rad.value = -3f64.to_radians()
    });
    assert!(share(&up, "strut-up").1.share > share(&STUDY, "strut-up").1.share);
}

#[test]
fn shares_add_up_and_are_sorted() {
    let all = why("porpoises, motor hot, spins out, water in the hull", &STUDY).unwrap();
    assert_eq!(all.len(), 4);
    for e in &all {
        let total: f64 = e.causes.iter().map(|c| c.share).sum();
        assert!((total - 1.0).abs() < 1e-9);
        assert!(e.causes.windows(2).all(|w| w[0].share >= w[1].share));
    }
}

#[test]
fn recordings_name_symptoms_of_their_own_and_speak_for_causes() {
    use evidence::Measured;
    use evidence::outing::{Condition, Source, Statistic, Value};
    let from = Source {
        recording: "servo.csv".to_owned(),
        method: "pulses".to_owned(),
        which: None,
    };
    let slow = Value::new(
        QuantityKind::EdgeTimeConstant,
        Measured::new(40e-6, 2e-6),
        Statistic::Steady,
        from,
        Condition::default(),
    );
    let outing = Outing {
        format: 1,
        date: "2026-05-17".to_owned(),
        build: None,
        invented: true,
        recordings: Vec::new(),
        quantities: vec![slow],
        events: Vec::new(),
        clocks: Vec::new(),
    };
    let all = findings(&STUDY);
    let case = Case {
        study: &STUDY,
        findings: &all,
        outing: Some(&outing),
        found: None,
    };
    let told = explain("", &case).unwrap();
    assert_eq!(told[0].symptom.id, "servo-jitter");
    assert!(
        told[0]
            .causes
            .iter()
            .all(|c| c.for_it.iter().any(|w| w.measured))
    );
}
