//! Every question answered, sent and read back.

use std::path::Path;
use workshop::builds::{BuildsAsk, KeepAsk};
use workshop::calc::CalcAsk;
use workshop::check::{CheckAsk, Effort};
use workshop::hull::HullAsk;
use workshop::learn::LearnAsk;
use workshop::next::NextAsk;
use workshop::outfit::OutfitAsk;
use workshop::outing::OutingsAsk;
use workshop::pond::PondAsk;
use workshop::recordings::log::LogAsk;
use workshop::stint::StintAsk;
use workshop::why::WhyAsk;
use workshop::{Answer, Ask, Bench, BoatAt, FaultKind, Quiet, TextAt, Watch};

const QUICK: Effort = Effort {
    variations: 2,
    seed: 1,
};

fn boat(folder: &Path) -> BoatAt {
    let text = boat::template("three-point", "Tern").expect("a starter hull");
    std::fs::write(folder.join("boat.toml"), text).expect("written");
    BoatAt::saved(folder)
}

/// Asks that need neither outings nor recordings.
fn asks() -> Vec<Ask> {
    vec![
        CheckAsk { effort: QUICK }.into(),
        StintAsk::default().into(),
        OutfitAsk::default().into(),
        PondAsk {
            seconds: 1.0,
            ..PondAsk::default()
        }
        .into(),
        WhyAsk {
            words: "it hops".to_owned(),
            effort: QUICK,
            ..WhyAsk::default()
        }
        .into(),
        HullAsk { stations: 3 }.into(),
        BuildsAsk::default().into(),
        OutingsAsk::default().into(),
        CalcAsk::default().into(),
        CalcAsk {
            law: Some("friction-line".to_owned()),
            inputs: Vec::new(),
        }
        .into(),
        CalcAsk {
            law: Some("friction-line".to_owned()),
            inputs: vec!["reynolds=2e5".to_owned()],
        }
        .into(),
    ]
}

#[test]
fn every_ask_and_answer_comes_back_as_it_was_sent() {
    let folder = tempfile::tempdir().expect("a folder");
    let boat = boat(folder.path());
    for ask in asks() {
        let sent = serde_json::to_string(&ask).expect("plain data");
        let ask: Ask = serde_json::from_str(&sent).expect("its own words");
        assert_eq!(serde_json::to_string(&ask).expect("plain data"), sent);
        let answer = ask.answer(&Bench::new(Some(&boat), &Quiet));
        let answer = answer.unwrap_or_else(|fault| panic!("{sent}: {fault}"));
        let told = serde_json::to_string(&answer).expect("plain data");
        let back: Answer = serde_json::from_str(&told).unwrap_or_else(|e| panic!("{sent}: {e}"));
        let again = serde_json::to_string(&back).expect("plain data");
        let same = again.bytes().zip(told.bytes()).take_while(|(a, b)| a == b);
        let at = same.count();
        let near = |text: &str| text[at.saturating_sub(60)..text.len().min(at + 40)].to_owned();
        assert!(
            again == told,
            "{sent}: {} for {}",
            near(&again),
            near(&told)
        );
    }
}

/// Gives up at the first chance.
struct Impatient;

impl Watch for Impatient {
    fn wanted(&self) -> bool {
        false
    }
}

#[test]
fn what_nobody_wants_is_not_worked_out() {
    let folder = tempfile::tempdir().expect("a folder");
    let boat = boat(folder.path());
    for ask in [
        CheckAsk { effort: QUICK }.into(),
        StintAsk::default().into(),
        OutfitAsk::default().into(),
        Ask::from(PondAsk::default()),
    ] {
        let fault = ask
            .answer(&Bench::new(Some(&boat), &Impatient))
            .expect_err("nobody wants it");
        assert_eq!(fault.kind(), FaultKind::Stopped, "{ask:?}");
    }
}

#[test]
fn a_draft_is_asked_with_the_folder_it_belongs_to() {
    let folder = tempfile::tempdir().expect("a folder");
    let saved = boat(folder.path());
    let text = std::fs::read_to_string(folder.path().join("boat.toml")).expect("there");
    let draft = BoatAt {
        draft: Some(text.replace("\"Tern\"", "\"Plover\"")),
        ..saved.clone()
    };
    let name = |boat: &BoatAt| {
        let answer = workshop::ask(&CheckAsk { effort: QUICK }, Some(boat), &Quiet);
        answer.expect("a boat").boat
    };
    assert_eq!(name(&draft), "Plover");
    assert_eq!(name(&saved), "Tern");
}

#[test]
fn files_and_writing_are_told() {
    let named: Ask = StintAsk::default().into();
    assert!(named.files().is_empty() && !named.writes());
    let hands = TextAt::File("../secret.csv".into());
    let pond: Ask = PondAsk {
        script: Some(hands),
        ..PondAsk::default()
    }
    .into();
    assert_eq!(pond.files(), [Path::new("../secret.csv")]);
    let keep: Ask = workshop::builds::KeepAsk::default().into();
    assert!(keep.writes());
}

/// Saves another boat file as soon as the study begins.
struct Meddles(std::path::PathBuf);

impl Watch for Meddles {
    fn step(&self, what: &'static str) {
        if what.starts_with("reading") {
            return;
        }
        let other = boat::template("vee", "Heron").expect("a starter hull");
        std::fs::write(self.0.join("boat.toml"), other).expect("written");
    }
}

fn keep() -> KeepAsk {
    KeepAsk {
        why: "first".to_owned(),
        effort: QUICK,
    }
}

#[test]
fn a_build_is_what_was_studied_whatever_is_saved_meanwhile() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = boat(folder.path());
    let studied = std::fs::read(folder.path().join("boat.toml")).expect("read");
    let meddles = Meddles(folder.path().to_owned());
    let kept = workshop::ask(&keep(), Some(&at), &meddles).expect("kept");
    let frozen = Path::new(&kept.kept).join("boat.toml");
    assert_eq!(std::fs::read(frozen).expect("frozen"), studied);
    let now = std::fs::read(folder.path().join("boat.toml")).expect("read");
    assert_ne!(now, studied, "it was saved meanwhile");
}

#[test]
fn of_two_keeping_at_once_one_keeps_and_the_other_is_told() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = boat(folder.path());
    let one = || workshop::ask(&keep(), Some(&at), &Quiet);
    let (a, b) = std::thread::scope(|threads| {
        let first = threads.spawn(one);
        (one(), first.join().expect("no panic"))
    });
    let (kept, told) = if a.is_ok() { (a, b) } else { (b, a) };
    assert_eq!(kept.expect("kept").number, 1);
    let told = told.expect_err("it is kept already").to_string();
    assert!(told.starts_with("nothing changed since 1-first"), "{told}");
}

#[test]
fn a_build_that_measurements_name_is_one_of_the_boats() {
    let home = tempfile::tempdir().expect("a folder");
    let (mine, other) = (home.path().join("mine"), home.path().join("other"));
    let day = mine.join("outings/2026-05-17");
    std::fs::create_dir_all(&day).expect("made");
    std::fs::create_dir_all(&other).expect("made");
    let at = boat(&mine);
    std::fs::write(other.join("boat.toml"), "name = \"secret\"\n").expect("written");
    let measured = r#"{"format": 1, "date": "2026-05-17", "build": "../../other", "invented": false,
        "recordings": [], "quantities": [], "events": [], "clocks": []}"#;
    std::fs::write(day.join("measured.json"), measured).expect("written");
    let ask = LearnAsk {
        outing: vec!["2026-05-17".to_owned()],
        keep: false,
    };
    let refused = workshop::ask(&ask, Some(&at), &Quiet).expect_err("another boat's");
    assert!(
        refused.to_string().contains("outside the boat folder"),
        "{refused}"
    );
}

#[test]
fn of_loggers_agreed_to_at_once_none_is_lost() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = boat(folder.path());
    let agree = &|heading: &str| {
        let file = folder.path().join(format!("{heading}.csv"));
        let table = format!("time [s],{heading} [V]\n0,11\n1,11.5\n2,12\n");
        std::fs::write(&file, table).expect("written");
        let ask = LogAsk {
            file,
            confirm: true,
            ..LogAsk::default()
        };
        workshop::ask(&ask, Some(&at), &Quiet).expect("agreed");
    };
    std::thread::scope(|threads| {
        for heading in ["voltage", "pack voltage", "battery voltage", "volts"] {
            threads.spawn(move || agree(heading));
        }
    });
    let kept = workshop::recordings::mappings(Some(folder.path())).expect("read");
    assert_eq!(kept.len(), 4);
}

/// Tadpole's weakest joint is watched; what is told before is what the finding says.
#[test]
fn what_makes_a_joint_stronger_is_among_what_to_do_next() {
    let tadpole = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/tadpole");
    let at = BoatAt::saved(&tadpole);
    let ask = NextAsk {
        effort: QUICK,
        ..NextAsk::default()
    };
    let answer = workshop::ask(&ask, Some(&at), &Quiet).expect("an answer");
    let mends = |s: &&advice::next::Step| s.mends.iter().any(|m| m == "holds-joints");
    let step = answer
        .steps
        .iter()
        .find(mends)
        .expect("a step that mends it");
    let gain = step.gains.iter().find(|g| g.quantity.contains("joints"));
    let gain = gain.expect("what it gains");
    let (before, after) = (gain.before.expect("now"), gain.after.expect("then"));
    assert!(after.value > before.value, "{step:?}");
    let check = workshop::ask(&CheckAsk { effort: QUICK }, Some(&at), &Quiet).expect("a check");
    let finding = check.findings.iter().find(|f| f.id == "holds-joints");
    let now = finding.and_then(|f| f.number).expect("its number");
    assert!(
        (now.value - before.value).abs() < 1e-9,
        "{now:?} {before:?}"
    );
}
