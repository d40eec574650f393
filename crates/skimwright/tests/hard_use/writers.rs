//! Several writers in one boat folder at once: nothing that was acknowledged is lost.

use crate::folder::Folder;
use crate::live::{Live, drifting, program};
use crate::table::{of, tell};
use serde_json::json;
use std::fs;
use std::process::Stdio;

const KEYS: [&str; 2] = ["place", "what_happened"];

/// Each of two servers keeps changing keys of its own, in the notes and in the boat.
#[test]
fn two_servers() {
    let boat = Folder::plain("vee");
    let states = [(); 2].map(|()| tempfile::tempdir().expect("a folder"));
    let servers = [0, 1].map(|i| Live::start(boat.path(), states[i].path()));
    let begun = servers[0].ask("POST", "/api/outings", r#"{"id": "2026-05-17"}"#);
    assert!(begun.is_some_and(|(status, _)| status == 200));
    let rounds = of(20, 500);
    std::thread::scope(|threads| {
        for (server, key) in servers.iter().zip(KEYS) {
            threads.spawn(move || (1..=rounds).for_each(|round| turn(server, key, round)));
        }
    });
    let notes =
        fs::read_to_string(boat.path().join("outings/2026-05-17/outing.toml")).expect("notes");
    let text = fs::read_to_string(boat.path().join("boat.toml")).expect("a boat file");
    for key in KEYS {
        assert!(notes.contains(&format!("{key} {rounds}")), "{key}: {notes}");
    }
    assert!(
        text.contains(&format!("name = \"Tern {rounds}\"")),
        "{text}"
    );
    assert!(
        text.contains(&format!("temperature = \"{} degC\"", temperature(rounds))),
        "{text}"
    );
    let what = "each of 2 servers noting and saving at once";
    tell(what, 2 * 2 * rounds, "every acknowledged change is there");
}

fn temperature(round: u64) -> f64 {
    5.0 + (round % 250) as f64 / 10.0
}

fn turn(server: &Live, key: &str, round: u64) {
    let note = json!({"notes": [{"key": key, "value": format!("{key} {round}")}]});
    let path = "/api/outings/2026-05-17/notes";
    let noted = server
        .ask("POST", path, &note.to_string())
        .expect("an answer");
    assert_eq!(noted.0, 200, "{}", noted.1);
    let (path, value) = match key {
        "place" => (&["name"][..], format!("Tern {round}")),
        _ => (
            &["water", "temperature"][..],
            format!("{} degC", temperature(round)),
        ),
    };
    assert!(server.set(path, &value));
    let saved = server.ask("POST", "/api/save", "{}").expect("an answer");
    assert_eq!(saved.0, 200, "{}", saved.1);
}

/// The command line four times at once.
#[test]
fn four_commands() {
    let boat = drifting();
    let text = fs::read_to_string(boat.path().join("boat.toml")).expect("a boat file");
    let log =
        |i: usize| format!("time [s],current {i} [A],throttle {i} [%]\n0,1,0\n1,2,50\n2,3,100\n");
    (0..4).for_each(|i| boat.write(&format!("log-{i}.csv"), log(i).as_bytes()));
    let rounds = of(2, 25);
    for round in 0..rounds {
        let _ = fs::remove_file(boat.path().join("loggers.json"));
        all_well(&boat, |i| {
            vec!["log".into(), format!("@/log-{i}.csv"), "--confirm".into()]
        });
        let agreed = fs::read_to_string(boat.path().join("loggers.json")).expect("agreed");
        (0..4).for_each(|i| {
            assert!(
                agreed.contains(&format!("current {i}")),
                "round {round}: {agreed}"
            )
        });
        // Of four that freeze the same boat one does, and the others say that nothing changed.
        boat.write("boat.toml", format!("{text}# {round}\n").as_bytes());
        let refused = refusals(&boat, |i| {
            let why = format!("try {i}");
            ["keep", "@", "--why", &why, "--variations", "2"]
                .map(str::to_owned)
                .to_vec()
        });
        let same = |why: &String| why.contains("nothing changed since");
        assert!(refused.len() < 4 && refused.iter().all(same), "{refused:?}");
        let kept = fs::read_dir(boat.path().join("builds"))
            .expect("builds")
            .flatten();
        let names =
            kept.filter_map(|e| Some(e.file_name().to_str()?.split('-').next()?.to_owned()));
        let mut numbers: Vec<String> = names.collect();
        numbers.sort();
        let all = numbers.len();
        numbers.dedup();
        assert_eq!(all, numbers.len(), "{numbers:?}");
        assert!(all as u64 > round, "{numbers:?}");
    }
    tell(
        "4 commands agreeing to logs and keeping builds at once",
        8 * rounds,
        "none lost, no number twice",
    );
}

fn all_well(boat: &Folder, arguments: impl Fn(usize) -> Vec<String>) {
    let refused = refusals(boat, arguments);
    assert!(refused.is_empty(), "{refused:?}");
}

/// What those said, of four at once, that were refused.
fn refusals(boat: &Folder, arguments: impl Fn(usize) -> Vec<String>) -> Vec<String> {
    let here = boat.path().display().to_string();
    let started: Vec<_> = (0..4)
        .map(|i| {
            let mut command = program();
            command.args(arguments(i).iter().map(|a| a.replace('@', &here)));
            command.stdout(Stdio::null()).stderr(Stdio::piped());
            command.spawn().expect("it runs")
        })
        .collect();
    let done = started
        .into_iter()
        .map(|child| child.wait_with_output().expect("it ends"));
    let refused = done.filter(|done| !done.status.success());
    refused
        .map(|done| String::from_utf8_lossy(&done.stderr).into_owned())
        .collect()
}
