//! Recordings, outings and builds on the command line.

mod folder;

use folder::Folder;
use serde_json::Value;
use std::fs;
use std::path::Path;

const OUTING: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/../../examples/practice/outings/2026-05-17"
);

fn json(text: &str) -> Value {
    serde_json::from_str(text).expect("JSON")
}

/// A boat with the demonstration's recordings of a day.
fn with_outing() -> Folder {
    let folder = Folder::plain("three-point");
    let day = folder.path().join("outings/2026-05-17");
    fs::create_dir_all(&day).expect("a folder");
    for file in [
        "bank.wav",
        "track.gpx",
        "controller.csv",
        "rudder.csv",
        "marks.toml",
        "outing.toml",
    ] {
        fs::copy(Path::new(OUTING).join(file), day.join(file)).expect("a recording");
    }
    folder
}

fn values<'a>(answer: &'a Value, kind: &str, statistic: &str) -> Vec<&'a Value> {
    let all = answer["quantities"].as_array().expect("quantities");
    all.iter()
        .filter(|q| q["kind"] == kind && q["statistic"] == statistic)
        .collect()
}

/// Within three standard uncertainties, and those no wider than `widest` of the value.
fn tells(value: &Value, truth: f64, widest: f64) {
    let (v, s) = (
        value["value"].as_f64().unwrap(),
        value["sigma"].as_f64().unwrap(),
    );
    assert!(
        (v - truth).abs() <= 3.0 * s && s < widest * v.abs(),
        "{value} for {truth}"
    );
}

#[test]
fn the_demonstration_outing_gives_back_its_invented_truth() {
    let folder = with_outing();
    let said = folder.run(&[
        "log",
        "@/outings/2026-05-17/controller.csv",
        "--confirm",
        "--json",
    ]);
    assert_eq!(said.code, 0, "{}", said.err);
    let said = folder.run(&["outing", "@", "measure", "2026-05-17", "--json"]);
    assert_eq!(said.code, 0, "{}", said.err);
    let answer = json(&said.out);
    // Truths printed by the program that made the recordings (examples of the evidence crate).
    let held = values(&answer, "speed", "best_held");
    tells(held[0], 23.80, 0.01);
    tells(values(&answer, "speed", "two_way")[0], 23.80, 0.01);
    for lap in values(&answer, "lap_time", "total") {
        tells(lap, 18.23, 0.02);
    }
    let fly_by: Vec<&Value> = values(&answer, "speed", "steady")
        .into_iter()
        .filter(|q| q["from"]["method"] == "sound, fly-by")
        .collect();
    assert_eq!(fly_by.len(), 1, "{answer:#}");
    tells(fly_by[0], 23.80, 0.03);
    let tau = values(&answer, "edge_time_constant", "steady");
    tells(tau[0], 38e-6, 0.1);
    let clocks = answer["clocks"].as_array().unwrap();
    let bank = clocks.iter().find(|c| c["recording"] == "bank.wav");
    assert!(bank.is_some(), "{clocks:?}");
    assert_eq!(answer["invented"], true);
}

#[test]
fn measuring_alters_no_recording_and_says_the_same_again() {
    let folder = with_outing();
    let day = folder.path().join("outings/2026-05-17");
    let before: Vec<Vec<u8>> = ["bank.wav", "track.gpx", "outing.toml"]
        .iter()
        .map(|f| fs::read(day.join(f)).unwrap())
        .collect();
    let first = folder.run(&["outing", "@", "measure", "2026-05-17"]);
    assert_eq!(first.code, 0, "{}", first.err);
    // A log nobody agreed to is left out and told, the rest is measured.
    assert!(
        first
            .out
            .contains("controller.csv: its columns are proposed"),
        "{}",
        first.out
    );
    let once = fs::read(day.join("measured.json")).unwrap();
    let again = folder.run(&["outing", "@", "measure", "2026-05-17"]);
    assert_eq!(
        fs::read(day.join("measured.json")).unwrap(),
        once,
        "{}",
        again.err
    );
    let after: Vec<Vec<u8>> = ["bank.wav", "track.gpx", "outing.toml"]
        .iter()
        .map(|f| fs::read(day.join(f)).unwrap())
        .collect();
    assert_eq!(before, after);
}

#[test]
fn what_was_measured_on_a_recording_that_is_gone_is_kept() {
    let folder = with_outing();
    let day = folder.path().join("outings/2026-05-17");
    assert_eq!(
        folder.run(&["outing", "@", "measure", "2026-05-17"]).code,
        0
    );
    fs::remove_file(day.join("track.gpx")).unwrap();
    let said = folder.run(&["outing", "@", "measure", "2026-05-17", "--json"]);
    let answer = json(&said.out);
    assert!(!values(&answer, "speed", "two_way").is_empty());
    let gone = answer["recordings"]
        .as_array()
        .unwrap()
        .iter()
        .find(|r| r["file"] == "track.gpx");
    assert!(
        gone.unwrap()["trouble"]
            .as_str()
            .unwrap()
            .contains("no longer in the folder")
    );
}

#[test]
fn an_outing_that_is_there_is_not_touched() {
    let folder = Folder::plain("three-point");
    let made = folder.run(&[
        "outing",
        "@",
        "new",
        "--date",
        "2026-06-01",
        "--place",
        "the pond",
    ]);
    assert_eq!(made.code, 0, "{}", made.err);
    let notes = folder.path().join("outings/2026-06-01/outing.toml");
    fs::write(&notes, "place = \"mine\"\n").unwrap();
    let again = folder.run(&["outing", "@", "new", "--date", "2026-06-01"]);
    assert_eq!(again.code, 2);
    assert!(again.err.contains("nothing was changed"), "{}", again.err);
    assert_eq!(fs::read_to_string(&notes).unwrap(), "place = \"mine\"\n");
    let odd = folder.run(&["outing", "@", "new", "--date", "../../elsewhere"]);
    assert_eq!(odd.code, 2, "{}", odd.out);
    fs::write(&notes, "place = \"mine\"\nwind = 3\n").unwrap();
    let bad = folder.run(&["outing", "@", "measure", "2026-06-01"]);
    assert_eq!(bad.code, 2);
    assert!(bad.err.contains("outing.toml:2:8"), "{}", bad.err);
}

#[test]
fn builds_are_frozen_with_why_and_compared() {
    let folder = Folder::plain("three-point");
    let keep = |why: &str| folder.run(&["keep", "@", "--why", why, "--json", "--variations", "2"]);
    let first = keep("first try");
    assert_eq!(first.code, 0, "{}", first.err);
    let kept = folder.path().join("builds/1-first-try");
    let frozen = fs::read(kept.join("boat.toml")).unwrap();
    assert!(kept.join("predicted.json").is_file());
    let same = keep("again");
    assert_eq!(same.code, 2);
    assert!(
        same.err.contains("nothing changed since 1-first-try"),
        "{}",
        same.err
    );
    let boat = fs::read_to_string(folder.path().join("boat.toml")).unwrap();
    fs::write(
        folder.path().join("boat.toml"),
        boat.replacen("\"Test\"", "\"Test two\"", 1),
    )
    .unwrap();
    assert_eq!(keep("another name").code, 0);
    assert_eq!(fs::read(kept.join("boat.toml")).unwrap(), frozen);
    let told = json(&folder.run(&["builds", "@", "--json"]).out);
    let builds = told["builds"].as_array().unwrap();
    assert_eq!(builds.len(), 2);
    assert_eq!(builds[1]["changed"][0]["key"], "name");
    assert_eq!(builds[1]["changed"][0]["after"], "Test two");
    assert!(!builds[0]["predicted"].as_array().unwrap().is_empty());
}

#[test]
fn recordings_at_fault_are_told_with_their_place() {
    let folder = Folder::new();
    let says = |file: &str, bytes: &[u8], command: &str, words: &str| {
        folder.write(file, bytes);
        let said = folder.run(&[command, &format!("@/{file}")]);
        assert_eq!(said.code, 2, "{command} {file}: {}", said.out);
        let plain = said.err.replace("\n  | ", " ");
        assert!(
            plain.contains(words) && plain.contains(file),
            "{}",
            said.err
        );
    };
    says("empty.wav", b"", "hear", "empty");
    says("noise.wav", &[7; 5000], "hear", "not");
    says(
        "cut.mp4",
        b"\0\0\0\x18ftypmp42\0\0\0\0mp42isom\0\0\xff\xffmdat",
        "hear",
        "no index",
    );
    says("none.gpx", b"<gpx></gpx>", "track", "no fix");
    says(
        "flat.csv",
        b"0,1\n1e-3,1\n2e-3,1\n",
        "pulses",
        "never changes",
    );
    says("no-times.csv", b"0\n1\n0\n", "pulses", "sample rate");
    says(
        "marks.toml",
        b"boat_length = \"500 mm\"\n\nmark = [{ frame = 1, bow = [1, 2], stern = [3, 4] }]\n",
        "marks",
        "frame number",
    );
    says(
        "bad.toml",
        b"boat_length = \"500 kg\"\n",
        "marks",
        "bad.toml:1:15",
    );
    says("words.csv", b"a,b\nc,d\n", "log", "no rows of numbers");
}

#[test]
fn partial_results_are_kept_where_they_are_sound() {
    let folder = Folder::new();
    // Clocks backwards, an empty column, decimal commas and a cell that is no number.
    let mut log = String::from("Zeit [s];Drehzahl [1/min];Strom [A];leer\n");
    for i in 0..200 {
        let t = if i == 100 { 2.0 } else { 0.1 * f64::from(i) };
        let amps = if i == 50 {
            "??".to_owned()
        } else {
            "12,5".to_owned()
        };
        log += &format!("{};20000,5;{amps};\n", format!("{t:.1}").replace('.', ","));
    }
    folder.write("log.csv", log.as_bytes());
    let said = folder.run(&["log", "@/log.csv", "--json"]);
    assert_eq!(said.code, 0, "{}", said.err);
    let answer = json(&said.out);
    let doubts = answer["doubts"].to_string();
    assert!(
        doubts.contains("time goes back 1 times; the first at line 102"),
        "{doubts}"
    );
    let remarks = answer["remarks"].to_string();
    assert!(
        remarks.contains("the first at line 52: ??") && remarks.contains("column leer is empty"),
        "{remarks}"
    );
    assert_eq!(values(&answer, "current", "peak")[0]["value"], 12.5);
    // A sound cut in the middle of its data.
    let whole = fs::read(Path::new(OUTING).join("bank.wav")).unwrap();
    folder.write("cut.wav", &whole[..80_000]);
    let said = folder.run(&["hear", "@/cut.wav", "--blades", "2", "--json"]);
    assert_eq!(said.code, 0, "{}", said.err);
    assert!(!json(&said.out)["tones"].as_array().unwrap().is_empty());
    // Silence is told, not measured.
    let mut silent = whole[..44].to_vec();
    silent.extend(vec![128u8; whole.len() - 44]);
    folder.write("silent.wav", &silent);
    let said = folder.run(&["hear", "@/silent.wav", "--json"]);
    assert!(
        json(&said.out)["says"].to_string().contains("silent"),
        "{}",
        said.out
    );
}

#[test]
fn a_page_of_plots_needs_no_other_file() {
    let folder = with_outing();
    let page = folder.path().join("page.html");
    let said = folder.run(&[
        "track",
        "@/outings/2026-05-17/track.gpx",
        "-o",
        page.to_str().unwrap(),
    ]);
    assert_eq!(said.code, 0, "{}", said.err);
    let text = fs::read_to_string(&page).unwrap();
    assert!(text.contains("courses-1") && text.contains("way-1") && !text.contains("<script"));
    assert!(
        !text.contains("http://")
            || text
                .matches("http://")
                .all(|_| text.contains("http://www.w3.org"))
    );
}
