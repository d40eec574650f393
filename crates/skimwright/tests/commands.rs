//! What each command prints when all is well.

mod folder;

use folder::{Folder, PROGRAM, example, run, said};
use serde_json::Value;
use std::fs;
use std::process::{Command, Stdio};

fn json(text: &str) -> Value {
    serde_json::from_str(text).expect("JSON")
}

#[test]
fn every_starter_goes_from_nothing_to_findings() {
    for hull in ["three-point", "outrigger", "vee", "catamaran"] {
        let folder = Folder::new();
        let made = folder.run(&["new", "@/tern", "--hull", hull]);
        assert_eq!(made.code, 0, "{}", made.err);
        let checked = folder.run(&["check", "@/tern", "--variations", "3"]);
        assert!(checked.code < 2, "{hull}: {}", checked.err);
        let title = format!("tern ({hull}):");
        assert!(checked.out.starts_with(&title), "{}", checked.out);
        assert!(checked.out.contains("floats"), "{}", checked.out);
    }
}

#[test]
fn the_status_follows_the_findings() {
    // Heavy enough to swim under its own freeboard wish's water line, light enough to float.
    let folder = Folder::starter("vee", "mass = \"372 g\"", "mass = \"2.2 kg\"");
    let heavy = folder.run(&["check", "@", "--json"]);
    let standings = |text: &str| -> Vec<String> {
        let all = json(text)["findings"].clone();
        let all = all.as_array().expect("a list").clone();
        all.iter()
            .map(|f| f["standing"].as_str().expect("a word").to_owned())
            .collect()
    };
    assert_eq!(heavy.code, 1);
    assert_eq!(standings(&heavy.out)[0], "stop");
    let order = ["stop", "watch", "unsure", "good"];
    let rank = |word: &String| order.iter().position(|w| w == word).expect("a known word");
    let ranks: Vec<usize> = standings(&heavy.out).iter().map(rank).collect();
    assert!(ranks.is_sorted(), "worst first: {ranks:?}");
}

#[test]
fn every_key_the_documentation_names_is_there() {
    let folder = Folder::plain("three-point");
    let answer = json(
        &folder
            .run(&["check", "@", "--json", "--variations", "2"])
            .out,
    );
    let page = fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/json.md"))
        .expect("docs/json.md");
    let section = |name: &str| {
        let start = page.find(&format!("## {name}")).expect("the section");
        let rest = &page[start + 3..];
        rest[..rest.find("\n## ").unwrap_or(rest.len())].to_owned()
    };
    let keys = |text: &str| -> Vec<String> {
        let rows = text.lines().filter_map(|l| l.strip_prefix("| `"));
        rows.filter_map(|l| l.split_once('`').map(|(key, _)| key.to_owned()))
            .collect()
    };
    let has_exactly = |value: &Value, documented: Vec<String>| {
        let mut present: Vec<String> = value
            .as_object()
            .expect("an object")
            .keys()
            .cloned()
            .collect();
        let mut documented = documented;
        present.sort();
        documented.sort();
        assert_eq!(present, documented);
    };
    has_exactly(&answer, keys(&section("check")));
    has_exactly(&answer["findings"][0], keys(&section("A finding")));
    has_exactly(&answer["speed_curve"][0], keys(&section("A running state")));
}

#[test]
fn the_answer_does_not_depend_on_the_number_of_threads() {
    let folder = Folder::plain("three-point");
    let answer = |threads: &str| {
        let output = Command::new(PROGRAM)
            .env("RAYON_NUM_THREADS", threads)
            .args(["check", "--json", "--variations", "6"])
            .arg(folder.path())
            .output()
            .expect("it runs");
        said(&output).out
    };
    let one = answer("1");
    assert_eq!(one, answer("4"));
    assert_eq!(one, answer("1"));
}

#[test]
fn another_seed_gives_other_spreads() {
    let folder = Folder::plain("three-point");
    let spread = |seed: &str| {
        let said = folder.run(&["check", "@", "--json", "--variations", "5", "--seed", seed]);
        let all = json(&said.out)["findings"].clone();
        let top = all.as_array().expect("a list").clone();
        let top = top.into_iter().find(|f| f["id"] == "hump").expect("a hump");
        top["number"]["spread"].as_f64().expect("a number")
    };
    assert!(spread("1") > 0.0);
    assert_ne!(spread("1"), spread("2"));
}

#[test]
fn a_report_is_one_file_that_needs_no_other() {
    let folder = Folder::new();
    let page = folder.path().join("r.html");
    let name = page.to_str().expect("a plain path");
    let said = run(&[
        "report",
        &example("tadpole"),
        "-o",
        name,
        "--variations",
        "2",
    ]);
    assert!(said.code < 2, "{}", said.err);
    assert!(said.out.contains("report: "), "{}", said.out);
    let text = fs::read_to_string(&page).expect("the report");
    assert!(text.contains("Tadpole 450") && text.contains("<svg"));
    for outside in ["<script", "<link", "src=\"http", "@import", "url(http"] {
        assert!(!text.contains(outside), "{outside}");
    }
}

#[test]
fn a_starter_hull_goes_out_as_a_mesh_and_comes_back_the_same() {
    let folder = Folder::plain("catamaran");
    let before = json(
        &folder
            .run(&[
                "hull", "@", "--json", "--stl", "@/h.stl", "--3mf", "@/h.3mf",
            ])
            .out,
    );
    for file in ["h.stl", "h.3mf"] {
        folder.write(
            "boat.toml",
            format!("name = \"Back\"\n[hull]\nfile = \"{file}\"\n").as_bytes(),
        );
        let after = json(&folder.run(&["hull", "@", "--json"]).out);
        let volume = |v: &Value| v["volume"]["value"].as_f64().expect("a volume");
        let (was, is) = (volume(&before), volume(&after));
        assert!((is / was - 1.0).abs() < 1e-4, "{file}: {was} l, {is} l");
        let count = |v: &Value| v["running_surfaces"].as_array().expect("a list").len();
        assert_eq!(count(&before), count(&after), "{file}");
    }
}

#[test]
fn sections_add_up_to_the_volume() {
    let folder = Folder::plain("vee");
    let hull = json(
        &folder
            .run(&["hull", "@", "--json", "--stations", "400"])
            .out,
    );
    let areas = hull["sections"].as_array().expect("a list");
    let sum: f64 = areas
        .iter()
        .map(|s| s["area"]["value"].as_f64().expect("cm2"))
        .sum();
    let length = hull["length"]["value"].as_f64().expect("mm");
    // cm2 times mm is 1e-4 l.
    let volume = sum * length / areas.len() as f64 * 1e-4;
    let told = hull["volume"]["value"].as_f64().expect("l");
    assert!((volume / told - 1.0).abs() < 0.01, "{volume} l, {told} l");
}

#[test]
fn calc_lists_describes_and_answers() {
    let list = run(&["calc"]);
    assert_eq!(list.code, 0);
    for law in laws::catalogue::LAWS {
        assert!(list.out.contains(law.name), "{}", law.name);
        let told = run(&["calc", law.name]);
        assert_eq!(told.code, 0, "{}", told.err);
        assert!(told.out.contains("source: "), "{}", told.out);
        assert_eq!(
            json(&run(&["calc", law.name, "--json"]).out)["law"],
            law.name
        );
    }
}

#[test]
fn calc_answers_the_friction_line_of_1957() {
    // ITTC 1957 at Re 1e7: 0.075 / (7 - 2)^2 = 0.003.
    let said = run(&["calc", "friction-line", "reynolds=1e7", "--json"]);
    let answer = json(&said.out);
    let c_f = answer["outputs"]["cf_turbulent"]
        .as_f64()
        .expect("a number");
    assert!((c_f - 0.003).abs() < 1e-12, "{c_f}");
    let mut keys: Vec<&String> = answer.as_object().expect("an object").keys().collect();
    keys.sort();
    assert_eq!(
        keys,
        [
            "in_range", "inputs", "law", "notes", "outputs", "source", "units", "validity"
        ]
    );
}

#[test]
fn calc_takes_units_and_gives_degrees_celsius() {
    let density = |value: &str| {
        let said = run(&[
            "calc",
            "fresh-water",
            &format!("temperature={value}"),
            "--json",
        ]);
        let answer = json(&said.out);
        assert!((answer["inputs"]["temperature"].as_f64().expect("degC") - 15.0).abs() < 1e-9);
        answer["outputs"]["density"].as_f64().expect("kg/m3")
    };
    // IAPWS-95 at 15 degC and one atmosphere: 999.10 kg/m3.
    assert!((density("15 degC") - 999.10).abs() < 0.02);
    assert_eq!(density("288.15 K"), density("15degC"));
}

#[test]
fn calc_says_what_it_would_have_taken() {
    let law = "friction-line";
    run(&["calc", "drag"]).is_refusal(&["no law called drag", law]);
    run(&["calc", law, "speed=3"]).is_refusal(&["no input speed", "reynolds"]);
    run(&["calc", law, "reynolds"]).is_refusal(&["is not KEY=VALUE", "reynolds"]);
    run(&["calc", law, "reynolds=-5"]).is_refusal(&["-5", "reynolds"]);
    run(&["calc", "fresh-water", "temperature=15 mm"]).is_refusal(&["mm", "degC"]);
    run(&["calc", "planing-surface", "beam=60"]).is_refusal(&["mm"]);
    run(&["calc", "planing-surface", "beam=60mm"]).is_refusal(&["also needs", "deadrise"]);
    run(&["calc", law, "reynolds=1e6", "reynolds=2e6"]).is_refusal(&["twice"]);
}

#[test]
fn the_schema_is_the_committed_one() {
    let committed = include_str!("../../../docs/boat.schema.json");
    assert_eq!(json(&run(&["schema"]).out), json(committed));
}

#[test]
fn help_teaches_by_example() {
    for command in ["check", "report", "new", "hull", "calc"] {
        let said = run(&[command, "--help"]);
        assert_eq!(said.code, 0);
        assert!(said.out.contains("Examples:"), "{command}");
    }
    assert_eq!(run(&["--version"]).code, 0);
}

#[cfg(unix)]
#[test]
fn a_reader_that_goes_away_is_no_reason_to_panic() {
    let program = PROGRAM;
    for arguments in [vec!["schema"], vec!["calc"], vec!["--help"]] {
        let mut child = Command::new(program)
            .args(&arguments)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("it starts");
        drop(child.stdout.take());
        let output = child.wait_with_output().expect("it ends");
        let err = String::from_utf8_lossy(&output.stderr);
        assert_eq!(err, "", "{arguments:?}");
    }
}

#[test]
fn colour_is_never_the_only_sign_and_never_in_a_file() {
    let folder = Folder::plain("three-point");
    let said = folder.run(&["check", "@", "--variations", "2"]);
    assert!(!said.out.contains('\u{1b}') && !said.err.contains('\u{1b}'));
    let marks = ["■ stop", "▲ watch", "◇ unsure", "● good"];
    assert!(
        marks.iter().any(|mark| said.out.contains(mark)),
        "{}",
        said.out
    );
}

#[test]
fn every_finding_is_documented() {
    let page = fs::read_to_string(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../docs/findings.md"
    ))
    .expect("docs/findings.md");
    for boat in ["tadpole", "longshank", "millrace", "twin-thistle"] {
        let said = run(&["check", &example(boat), "--json", "--variations", "0"]);
        assert!(said.code < 2, "{boat}: {}", said.err);
        let answer = json(&said.out);
        for finding in answer["findings"].as_array().expect("a list") {
            let id = finding["id"].as_str().expect("a name");
            assert!(page.contains(&format!("`{id}`")), "{id} of {boat}");
        }
    }
}

#[test]
fn the_faulty_demonstration_boats_are_caught() {
    let verdict = |boat: &str, id: &str| {
        let said = run(&["check", &example(boat), "--json", "--variations", "0"]);
        assert!(said.code < 2, "{boat}: {}", said.err);
        let all = json(&said.out)["findings"].clone();
        let all = all.as_array().expect("a list").clone();
        let found = all.into_iter().find(|f| f["id"] == id);
        let found = found.unwrap_or_else(|| panic!("{boat} has no {id}"));
        found["standing"].as_str().expect("a word").to_owned()
    };
    assert_eq!(verdict("faults/tadpole-pack-aft", "balance"), "watch");
    assert_eq!(verdict("tadpole", "balance"), "good");
    assert_eq!(verdict("faults/tadpole-narrow-pads", "pad-width"), "stop");
    assert_eq!(verdict("tadpole", "pad-width"), "good");
    assert_eq!(verdict("faults/millrace-no-foam", "swamped"), "stop");
    assert_eq!(verdict("faults/millrace-no-foam", "freeboard"), "watch");
    assert_eq!(verdict("millrace", "swamped"), "good");
    assert_eq!(
        verdict("faults/millrace-butt-joint", "holds-joints"),
        "stop"
    );
    // A bow driven under opens these too, but that is a crash and no fault of the boat.
    for boat in ["millrace", "practice", "longshank", "twin-thistle"] {
        assert_ne!(verdict(boat, "holds-joints"), "stop", "{boat}");
    }
}
