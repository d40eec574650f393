//! Running in time.

mod folder;

use folder::{Folder, example, run};
use serde_json::Value;

fn json(text: &str) -> Value {
    serde_json::from_str(text).expect("JSON")
}

#[test]
fn a_run_balances_its_energy_and_names_what_goes_first() {
    for script in ["flat-out", "heat", "sprint", "cruise"] {
        let said = run(&["stint", &example("tadpole"), "--script", script, "--json"]);
        assert_eq!(said.code, 0, "{}", said.err);
        let answer = json(&said.out);
        assert_eq!(answer["script"], script);
        let soak = &answer["soak"];
        assert!(
            soak.is_null() || soak["rise_k"].as_f64() > Some(0.0),
            "{soak}"
        );
        let next = answer["measure_next"].as_array().expect("a list");
        assert!(
            next.len() > 4,
            "tolerances are there to be narrowed: {next:?}"
        );
        let all = answer["what_if"].as_array().expect("a list");
        let summaries = all.iter().map(|w| &w["summary"]);
        for summary in summaries.chain([&answer["summary"]]) {
            let missing = summary["imbalance"].as_f64().expect("a number");
            assert!(
                missing < 1e-6,
                "{script}: {missing} of the energy is not accounted for"
            );
        }
        assert_eq!(all[0]["what"], "pickup-blocked");
    }
    let answer = json(&run(&["stint", &example("tadpole"), "--json"]).out);
    let first = &answer["what_if"][0]["summary"]["reached"][0];
    assert!(
        first["after"]["value"].as_f64().is_some(),
        "a blocked pickup heats it: {answer}"
    );
}

#[test]
fn a_recorded_throttle_is_run() {
    let folder = Folder::plain("vee");
    std::fs::write(
        folder.path().join("log.csv"),
        "time [s];throttle [%]\n0;0\n2;100\n30;100\n31;0\n",
    )
    .expect("a file");
    let said = folder.run(&[
        "stint",
        "@",
        "--script",
        "@/log.csv",
        "--soak",
        "0",
        "--json",
    ]);
    assert_eq!(said.code, 0, "{}", said.err);
    let answer = json(&said.out);
    assert_eq!(answer["script"], "log");
    let samples = answer["samples"].as_array().expect("samples");
    let last = samples.last().expect("one")["time_s"].as_f64();
    assert_eq!(last, Some(31.0));
}

fn refused(script: &str, wants: &[&str]) {
    let folder = Folder::plain("vee");
    std::fs::write(folder.path().join("log.csv"), script).expect("a file");
    let said = folder.run(&["stint", "@", "--script", "@/log.csv"]);
    assert_eq!(said.code, 2, "{}", said.out);
    assert!(said.out.is_empty());
    for want in wants {
        assert!(said.err.contains(want), "{want}: {}", said.err);
    }
}

#[test]
fn scripts_at_fault_are_refused_with_their_line() {
    refused(
        "time [s];throttle [%]\n0;0\n2;100\n1;50\n",
        &["log.csv:4:1", "backwards", "in order of time"],
    );
    refused(
        "time [s];throttle [%]\n0;0\n2;\n3;50\n",
        &["log.csv:3:1", "missing", "fill the gap"],
    );
    refused(
        "time [s];throttle [%]\n0;0\n2;full\n3;50\n",
        &["log.csv:3:3", "no number"],
    );
    refused(
        "time [s];throttle [%]\n0;0\n2;100\n3;250\n",
        &["log.csv:4:3", "between 0 and 1"],
    );
    refused(
        "time [s];throttle [%];speed [m/s]\n0;0;0\n2;100;900\n3;50;9\n",
        &["log.csv:3:7", "3240 km/h"],
    );
    let mut gap = String::from("time [s];throttle [%]\n");
    for i in 0..40 {
        let time = if i < 30 { i } else { i + 25 };
        gap += &format!("{time};{}\n", if i < 30 { 100 } else { 20 });
    }
    refused(
        &gap,
        &["log.csv:32:1", "26 s are missing", "run the pieces apart"],
    );
    refused("\u{0}\u{1}\u{2}\u{3}", &["log.csv"]);
    refused("", &["log.csv", "empty"]);
    refused("time [s];volts\n0;0\n2;3\n", &["log.csv", "throttle"]);
    let folder = Folder::plain("vee");
    let said = folder.run(&["stint", "@", "--script", "nothing"]);
    assert_eq!(said.code, 2);
    assert!(
        said.err.contains("flat-out, heat, sprint, cruise"),
        "{}",
        said.err
    );
}

#[test]
fn drives_at_fault_are_refused_with_their_place() {
    let cases = [
        (
            "no_load_current = \"4 A",
            "max_current = \"3 A\"\nno_load_current = \"4 A",
            "no-load current",
        ),
        ("cells = \"3S", "cells = \"0S", "cells"),
        (
            "resistance = \"13 mohm",
            "resistance = \"4 ohm",
            "standing still",
        ),
        (
            "diameter = \"36 mm\"\npitch",
            "diameter = \"400 mm\"\npitch",
            "propeller",
        ),
    ];
    for (from, to, want) in cases {
        let folder = Folder::starter("vee", from, to);
        let said = folder.run(&["check", "@"]);
        assert_eq!(said.code, 2, "{to}: {}", said.out);
        assert!(said.err.contains("boat.toml:"), "{}", said.err);
        assert!(said.err.contains(want), "{want}: {}", said.err);
    }
    let folder = Folder::starter(
        "vee",
        "[drive.motor]",
        "[drive.cooling]\nbore = \"3 mm\"\n\n[drive.motor]",
    );
    let said = folder.run(&["check", "@"]);
    assert_eq!(said.code, 2);
    assert!(said.err.contains("outlet"), "{}", said.err);
}
