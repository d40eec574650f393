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
        &["log.csv", "line 4", "backwards"],
    );
    refused(
        "time [s];throttle [%]\n0;0\n2;\n3;50\n",
        &["log.csv", "line 3", "missing"],
    );
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
