//! `skimwright pond`: what it says, and what it refuses.

mod folder;

use folder::{Folder, example, run};
use serde_json::Value;

fn json(text: &str) -> Value {
    serde_json::from_str(text).expect("JSON")
}

#[test]
fn the_same_seed_gives_the_same_bytes_and_another_does_not() {
    let ask = |seed: &str| {
        let boat = example("tadpole");
        run(&[
            "pond",
            &boat,
            "--condition",
            "ripple",
            "--seconds",
            "0.4",
            "--seed",
            seed,
            "--json",
        ])
        .out
    };
    let one = ask("3");
    assert_eq!(one, ask("3"));
    assert_ne!(one, ask("4"));
    let answer = json(&one);
    let steps = answer["trace"]["trim_deg"]
        .as_array()
        .expect("a list")
        .len();
    let step_s = answer["trace"]["step_s"].as_f64().expect("a number");
    assert!(answer["stopped"].is_null() || steps > 1);
    assert!((steps as f64 - 1.0) * step_s <= 0.4 + 1e-9);
    assert_eq!(answer["rests_on"], "theory only, unvalidated");
}

#[test]
fn on_flat_water_it_keeps_the_speed_it_starts_with() {
    let boat = example("tadpole");
    let said = run(&[
        "pond",
        &boat,
        "--condition",
        "straight",
        "--start",
        "40km/h",
        "--seconds",
        "2",
        "--json",
    ]);
    assert_eq!(said.code, 0, "{}", said.err);
    let answer = json(&said.out);
    let speeds = answer["trace"]["speed_km_h"].as_array().expect("a list");
    let last = speeds.last().and_then(|v| v.as_f64()).expect("a speed");
    // The throttle is the one that holds 40 km/h; the driver's rudder costs a little.
    assert!((last - 40.0).abs() < 3.0, "{last}");
    assert!(answer["peaks"]["up_g"].as_f64().expect("a peak") < 0.5);
}

#[test]
fn a_script_is_followed_and_the_recording_written() {
    let folder = Folder::new();
    folder.write(
        "hands.csv",
        b"time [s], throttle [%], rudder [deg]\n0, 0, 0\n0.5, 60, 0\n1, 60, 5\n",
    );
    let file = |name: &str| folder.path().join(name).display().to_string();
    let boat = example("tadpole");
    let (script, recording) = (file("hands.csv"), file("run.json"));
    let said = run(&[
        "pond",
        &boat,
        "--script",
        &script,
        "--seconds",
        "1",
        "-o",
        &recording,
    ]);
    assert_eq!(said.code, 0, "{}", said.err);
    assert!(said.out.contains("Theory only, unvalidated"));
    let written = std::fs::read_to_string(file("run.json")).expect("a recording");
    let trace = &json(&written)["trace"];
    let last = |name: &str| {
        let list = trace[name].as_array().expect("a list");
        list.last().and_then(|v| v.as_f64()).expect("a number")
    };
    assert!((last("throttle") - 0.6).abs() < 1e-9);
    assert!((last("rudder_deg") - 5.0).abs() < 1e-9);
}

/// `--throttle 0.6` is six tenths: a column without a unit that never passes 1 is no different.
#[test]
fn a_throttle_without_a_unit_up_to_one_is_a_share() {
    let folder = Folder::new();
    folder.write("hands.csv", b"time, throttle\n0, 0\n0.5, 0.6\n1, 0.6\n");
    let file = |name: &str| folder.path().join(name).display().to_string();
    let (boat, script) = (example("tadpole"), file("hands.csv"));
    let said = run(&[
        "pond",
        &boat,
        "--script",
        &script,
        "--seconds",
        "1",
        "--json",
    ]);
    let throttle = &json(&said.out)["trace"]["throttle"];
    let last = throttle.as_array().and_then(|t| t.last()?.as_f64());
    assert!(last.is_some_and(|t| (t - 0.6).abs() < 1e-9), "{last:?}");
}

#[test]
fn what_cannot_be_run_is_refused_with_what_would_be_right() {
    let folder = Folder::new();
    folder.write("back.csv", b"time [s], throttle [%]\n0, 10\n2, 20\n1, 30\n");
    folder.write("gap.csv", b"time [s], throttle [%]\n0, 10\n1, \n2, 30\n");
    folder.write(
        "far.csv",
        b"time [s], throttle [%], rudder [deg]\n0, 10, 0\n1, 20, 80\n",
    );
    folder.write("long.csv", b"time [s], throttle [%]\n0, 10\n100, 20\n");
    let boat = example("tadpole");
    let at = |name: &str| folder.path().join(name).display().to_string();
    let cases: [(&[&str], &str); 13] = [
        (&["--condition", "sunny"], "conditions: launch"),
        (&["--water", "waves=40mm,0.1m"], "a seventh of their length"),
        (&["--water", "lumpy"], "is not a kind of water"),
        (&["--wind", "30m/s"], "storm"),
        (&["--wind", "5"], "--wind"),
        (&["--rudder", "right=40deg"], "25"),
        (&["--throttle", "130%"], "between 0 and 1"),
        (&["--start", "200km/h"], "runs between rest and"),
        (&["--seconds", "0"], "0.1 to 600"),
        (
            &["--script", &at("back.csv")],
            "line 4: time runs backwards",
        ),
        (&["--script", &at("gap.csv")], "line 3"),
        (&["--script", &at("far.csv")], "within the throw"),
        (&["--script", &at("long.csv")], "gap of 100 s"),
    ];
    for (more, wanted) in cases {
        let mut all = vec!["pond", boat.as_str()];
        all.extend(more);
        let said = run(&all);
        assert_eq!(said.code, 2, "{more:?}: {}", said.err);
        let flat = said
            .err
            .replace("\n  |", " ")
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ");
        assert!(flat.contains(wanted), "{more:?}: {flat}");
        assert!(said.out.is_empty());
    }
}

#[test]
fn a_boat_without_a_drive_cannot_start() {
    let text = boat::template("vee", "Test").expect("a starter");
    let cut = text.find("[[drive]]").expect("a drive");
    let rest = &text[cut..];
    let end = rest.find("[[rudder]]").expect("a rudder follows");
    let folder = Folder::with_boat(&format!("{}{}", &text[..cut], &rest[end..]));
    let said = folder.run(&["pond", "@"]);
    assert_eq!(said.code, 2);
    assert!(said.err.contains("no drive"), "{}", said.err);
}
