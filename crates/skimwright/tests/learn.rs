//! Measured beside predicted, what is kept of it, and what went wrong.

mod folder;

use folder::Folder;
use serde_json::{Value, json};
use std::fs;

fn parsed(text: &str) -> Value {
    serde_json::from_str(text).expect("JSON")
}

fn value(kind: &str, unit: &str, value: f64, sigma: f64) -> Value {
    json!({"kind": kind, "value": value, "sigma": sigma, "unit": unit, "statistic": "steady",
        "from": {"recording": "log.csv", "method": "log, full power"},
        "condition": {"motion": "straight", "throttle": 1.0}})
}

fn put(folder: &Folder, date: &str, measured: &str) {
    let home = folder.path().join("outings").join(date);
    fs::create_dir_all(&home).expect("a folder");
    fs::write(home.join("measured.json"), measured).expect("a file");
}

fn outing(date: &str, quantities: &[Value]) -> String {
    json!({"format": 1, "date": date, "invented": true, "recordings": [], "events": [],
        "clocks": [], "quantities": quantities})
    .to_string()
}

fn top_speed_m_s(folder: &Folder) -> (f64, Value) {
    let said = folder.run(&["check", "@", "--json", "--variations", "0"]);
    let answer = parsed(&said.out);
    let all = answer["findings"].as_array().expect("findings").clone();
    let top = all
        .iter()
        .find(|f| f["id"] == "top-speed")
        .expect("a top speed");
    (
        top["number"]["value"].as_f64().expect("a number") / 3.6,
        answer["learned"].clone(),
    )
}

#[test]
fn a_slower_boat_is_learned_only_when_asked_and_then_carried_and_said() {
    let folder = Folder::plain("vee");
    let (before, none) = top_speed_m_s(&folder);
    assert_eq!(none, Value::Null);
    let aim = 0.95 * before;
    put(
        &folder,
        "2026-05-17",
        &outing("2026-05-17", &[value("speed", "m/s", aim, 0.01 * aim)]),
    );
    let said = folder.run(&["learn", "@"]);
    assert_eq!(said.code, 0, "{}", said.err);
    for want in ["predicted", "Nothing was changed", "cannot tell", "Student"] {
        assert!(said.out.contains(want), "{want}: {}", said.out);
    }
    assert!(!folder.path().join("learned.toml").exists());

    let said = folder.run(&["learn", "@", "--keep", "--json"]);
    assert_eq!(said.code, 0, "{}", said.err);
    let answer = parsed(&said.out);
    let row = &answer["rows"][0];
    let number = |key: &str| row[key]["value"].as_f64().expect("a number");
    assert!(
        (number("after") - number("measured")).abs()
            < (number("predicted") - number("measured")).abs()
    );
    assert!(
        row["apart"].as_f64().expect("a number") < 0.0,
        "less was measured"
    );
    assert!(folder.path().join("learned.toml").exists());

    let (after, learned) = top_speed_m_s(&folder);
    assert!(
        (after - aim).abs() < 0.5 * (before - aim).abs(),
        "{before} became {after}, measured {aim}"
    );
    assert_eq!(learned["from"][0], "2026-05-17");
    let said = folder.run(&["check", "@", "--variations", "0"]);
    assert!(
        said.out
            .contains("carries what was learned from 2026-05-17"),
        "{}",
        said.out
    );

    let said = folder.run(&["report", "@", "--variations", "0"]);
    assert_eq!(said.code & 2, 0, "{}", said.err);
    let page = fs::read_to_string(folder.path().join("report.html")).expect("a page");
    for want in [
        "id=\"measured-bars-title\"",
        "id=\"learned-bars-title\"",
        "kept in learned.toml",
    ] {
        assert!(page.contains(want), "{want}");
    }

    // Another outing replaces it, and what was there before is beside it.
    put(
        &folder,
        "2026-05-24",
        &outing("2026-05-24", &[value("speed", "m/s", before, 0.01 * aim)]),
    );
    let said = folder.run(&["learn", "@", "--keep"]);
    assert!(said.out.contains("learned-before-1.toml"), "{}", said.out);
    assert!(folder.path().join("learned-before-1.toml").exists());
}

#[test]
fn another_motor_leaves_its_numbers_behind() {
    let folder = Folder::plain("vee");
    let text = r#"format = 1
outings = ["2026-05-17"]
correlation = [[1.0], [0.1, 1.0]]
[parts]
motor = "9000 rpm/V, 1.00 mohm, 1.00 A unloaded"
hull = "vee, 100 mm"
[[factor]]
name = "motor resistance"
of = "motor"
before = 1.0
before_spread = 0.2
after = 1.1
after_spread = 0.1
[[factor]]
name = "air drag"
of = "hull"
before = 1.0
before_spread = 0.4
after = 1.1
after_spread = 0.2
"#;
    folder.write("learned.toml", text.as_bytes());
    let (_, learned) = top_speed_m_s(&folder);
    assert_eq!(learned["factors"].as_array().map(Vec::len), Some(0));
    assert_eq!(learned["left_out"].as_array().map(Vec::len), Some(2));
    folder.write("learned.toml", text.replace("air drag", "luck").as_bytes());
    let said = folder.run(&["check", "@"]);
    assert_eq!(said.code, 2, "{}", said.out);
    assert!(
        said.err.contains("learned.toml") && said.err.contains("luck"),
        "{}",
        said.err
    );
}

fn refused(folder: &Folder, command: &[&str], wants: &[&str]) {
    let said = folder.run(command);
    assert_eq!(said.code, 2, "{command:?}: {}{}", said.out, said.err);
    assert!(said.out.is_empty(), "{}", said.out);
    for want in wants {
        assert!(said.err.contains(want), "{want}: {}", said.err);
    }
    assert!(!folder.path().join("learned.toml").exists());
}

#[test]
fn what_cannot_be_learned_from_is_refused_and_nothing_is_written() {
    let folder = Folder::plain("vee");
    refused(
        &folder,
        &["learn", "@", "--keep"],
        &["no outings", "measured.json"],
    );
    fs::create_dir_all(folder.path().join("outings/2026-05-17")).expect("a folder");
    refused(
        &folder,
        &["learn", "@", "--keep"],
        &["no outing", "measured.json"],
    );
    refused(
        &folder,
        &["learn", "@", "--outing", "../elsewhere"],
        &["not the name of an outing"],
    );
    let learn = ["learn", "@", "--keep"];
    let with = |quantities: &[Value]| put(&folder, "2026-05-17", &outing("2026-05-17", quantities));
    with(&[value("speed", "m/s", -5.0, 0.1)]);
    refused(&folder, &learn, &["log.csv", "below zero"]);
    with(&[value("shaft_speed", "rad/s", 3e5, 10.0)]);
    refused(&folder, &learn, &["pole count"]);
    with(&[value("current", "V", 40.0, 1.0)]);
    refused(&folder, &learn, &["the unit is V"]);
    with(&[]);
    refused(&folder, &learn, &["teach nothing"]);
    let mut bare = value("speed", "m/s", 10.0, 0.1);
    bare.as_object_mut().expect("an object").remove("unit");
    with(&[bare]);
    refused(&folder, &learn, &["measured.json", "unit"]);
    put(&folder, "2026-05-17", "{\"format\": 1");
    refused(&folder, &learn, &["measured.json"]);
    with(&[value("speed", "m/s", 10.0, 0.1)]);
    refused(
        &folder,
        &["learn", "@", "--outing", "2026-01-01"],
        &["2026-01-01", "2026-05-17"],
    );
    refused(
        &folder,
        &[
            "learn",
            "@",
            "--outing",
            "2026-05-17",
            "--outing",
            "2026-05-17",
        ],
        &["twice"],
    );
}

#[test]
fn causes_are_ranked_for_this_boat_with_one_thing_to_try() {
    let folder = Folder::plain("three-point");
    let quick = ["--variations", "0"];
    let said = folder.run(&[&["why", "@", "porpoises and won't turn left"][..], &quick].concat());
    assert_eq!(said.code, 0, "{}", said.err);
    for want in [
        "Porpoising",
        "Turns one way",
        "Next:",
        "To decide, measure",
        "common practice",
    ] {
        assert!(said.out.contains(want), "{want}: {}", said.out);
    }
    let said = folder.run(&[&["why", "@", "blows", "over", "--json"][..], &quick].concat());
    let answer = parsed(&said.out);
    assert_eq!(answer["symptoms"][0]["id"], "blow-over");
    assert!(answer["next"]["try"].is_string() && answer["next"]["measure"].is_string());
    let chances = answer["symptoms"][0]["causes"]
        .as_array()
        .expect("causes")
        .iter();
    assert!(
        chances
            .map(|c| c["chance"].as_str().expect("a word"))
            .all(|c| ["likely", "possible", "unlikely"].contains(&c))
    );
}

#[test]
fn words_without_a_known_symptom_are_answered_with_the_known_ones() {
    let folder = Folder::plain("vee");
    refused(&folder, &["why", "@"], &["nothing was said", "chine walk"]);
    refused(&folder, &["why", "@", "   "], &["nothing was said"]);
    refused(
        &folder,
        &["why", "@", "das Boot fährt komisch"],
        &["no known symptom", "motor hot", "plain English"],
    );
    refused(&folder, &["why", "@", "💥💥 ∂∂"], &["no known symptom"]);
}
