use super::table::CAUSES;
use super::words::recognise;
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

/// Every row of the diagnosis table: its words find its symptom, and its causes are among the symptom's.
#[test]
fn every_row_of_the_table_is_found_from_a_builders_words() {
    let table = include_str!("../../../../checks/diagnosis.csv");
    let rows: Vec<Vec<&str>> = table
        .lines()
        .filter(|l| !l.starts_with('#'))
        .map(|l| l.split(',').collect())
        .collect();
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

/// Names that clues look for are names of findings, and meanings that symptoms use are in the vocabulary.
#[test]
fn every_name_exists() {
    use super::clue::Clue;
    let findings = include_str!("../../../../docs/findings.md");
    let known = |id: &str| findings.contains(&format!("`{id}`"));
    for c in CAUSES {
        for clue in c.clues {
            if let Clue::Finds(id) | Clue::Low(id) | Clue::High(id) = clue {
                assert!(known(id), "{}: no finding is called {id}", c.id);
            }
        }
    }
    let meanings: Vec<&str> = super::lexicon::LEXICON.iter().map(|l| l.0).collect();
    for (n, meaning) in meanings.iter().enumerate() {
        assert!(!meanings[..n].contains(meaning), "{meaning} stands twice");
    }
    for symptom in SYMPTOMS {
        for way in symptom.said {
            let elements = way.trim_start_matches(['=', '>']).split(' ');
            for said in elements.flat_map(|e| e.trim_start_matches(['!', '~']).split('|')) {
                assert!(
                    meanings.contains(&said),
                    "{}: no meaning {said} in `{way}`",
                    symptom.id
                );
            }
        }
        assert_eq!(SYMPTOMS.iter().filter(|s| s.id == symptom.id).count(), 1);
    }
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
        why("das Schiff ist zu langsam", &STUDY).unwrap_err(),
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

/// A complaint is right where every symptom it belongs to is answered, with at most one more, and none where nothing
/// is wrong.
fn is_right(wanted: &str, text: &str) -> bool {
    let seen = recognise(text);
    let ids: Vec<&str> = seen.iter().map(|s| s.symptom.id).collect();
    let wanted: Vec<Vec<&str>> = wanted
        .split(' ')
        .filter(|w| *w != "-")
        .map(|w| w.split('|').collect())
        .collect();
    let found = wanted.iter().all(|w| w.iter().any(|id| ids.contains(id)));
    let more = ids
        .iter()
        .filter(|id| !wanted.iter().any(|w| w.contains(id)));
    found && more.count() <= usize::from(!wanted.is_empty())
}

/// Nine of ten complaints that nobody tuned on come out under the right symptom; writes its part of
/// `docs/accuracy.md`.
#[test]
fn unseen_complaints_land_in_the_right_family() {
    let table = include_str!("../../../../checks/complaints.csv");
    let rows: Vec<Vec<&str>> = table
        .lines()
        .filter(|l| !l.starts_with('#'))
        .map(|l| l.splitn(3, ';').collect())
        .collect();
    for row in &rows {
        for id in row[1].split([' ', '|']).filter(|id| *id != "-") {
            assert!(SYMPTOMS.iter().any(|s| s.id == id), "no symptom {id}");
        }
    }
    let score = |rows: &[Vec<&str>]| {
        let right = rows.iter().filter(|r| is_right(r[1], r[2])).count();
        (right, rows.len())
    };
    let half =
        |name: &str| -> Vec<Vec<&str>> { rows.iter().filter(|r| r[0] == name).cloned().collect() };
    let (tuned, held) = (half("tune"), half("held"));
    // Written once the vocabulary was frozen.
    let last = held[held.len() - 80..].to_vec();
    let line = |name: &str, (right, all): (usize, usize)| {
        format!(
            "| {name} | {right} of {all} | {:.0} % |\n",
            100.0 * right as f64 / all as f64
        )
    };
    let text = format!(
        "\n| complaints | right symptom | |\n|---|---|---|\n{}{}{}\n",
        line("tuned on", score(&tuned)),
        line("kept out", score(&held)),
        line(
            "of these, written after the vocabulary was frozen",
            score(&last)
        ),
    );
    keep_current(&text);
    for part in [&held, &last] {
        let (right, all) = score(part);
        assert!(10 * right >= 9 * all, "{text}");
    }
}

fn keep_current(text: &str) {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/accuracy.md");
    let page = std::fs::read_to_string(path).expect("docs/accuracy.md");
    let begin = "<!-- complaints: begin, written by the tests of learn -->\n";
    let from = page.find(begin).expect("the first mark") + begin.len();
    let to = from
        + page[from..]
            .find("<!-- complaints: end -->")
            .expect("the last mark");
    if page[from..to] == *text {
        return;
    }
    assert!(
        std::env::var_os("UPDATE_DOCS").is_some(),
        "docs/accuracy.md is stale in `complaints`; run with UPDATE_DOCS=1 to write:\n{text}"
    );
    std::fs::write(path, format!("{}{text}{}", &page[..from], &page[to..])).expect("written");
}

#[test]
fn what_is_not_understood_is_named() {
    let heard = words::hear("it hops and the flurbs wibble");
    assert_eq!(heard.seen[0].symptom.id, "hop-straight");
    assert_eq!(heard.unknown, ["flurbs", "wibble"]);
    assert_eq!(heard.unheard.len(), 1);
}

/// Most causes of a boat carry a word of the model, and a run of the cause is what it says.
#[test]
fn most_causes_carry_a_word() {
    let all = why("motor hot, too slow, blows over, cannot steer", &STUDY).unwrap();
    let causes: Vec<&Weighed> = all.iter().flat_map(|e| &e.causes).collect();
    let mute = causes
        .iter()
        .filter(|c| c.for_it.is_empty() && c.against.is_empty())
        .count();
    assert!(
        4 * mute <= causes.len(),
        "{mute} of {} say nothing",
        causes.len()
    );
    let aft = all
        .iter()
        .flat_map(|e| &e.causes)
        .find(|c| c.cause.id == "propeller-big")
        .expect("a cause");
    assert!(
        aft.for_it
            .iter()
            .chain(&aft.against)
            .any(|w| w.says.contains("a propeller 2 mm larger"))
    );
}
