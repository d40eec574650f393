//! Boat folders from somebody who means no good: every command ends, none is led out of the folder.

use crate::live::{drifting, program};
use crate::table::tell;
use std::fs;
use std::os::unix::fs::symlink;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// Every command ends by then, whatever lies in the folder.
const LONGEST: Duration = Duration::from_secs(30);

type Prepare = fn(boat: &Path, outside: &Path);

fn pipe(at: &Path) {
    let made = Command::new("mkfifo").arg(at).status();
    assert!(made.expect("mkfifo").success());
}

fn link(to: &Path, at: &Path) {
    let _ = fs::remove_file(at);
    symlink(to, at).expect("a link");
}

fn day(boat: &Path) -> std::path::PathBuf {
    let day = boat.join("outings/2026-05-17");
    fs::create_dir_all(&day).expect("made");
    day
}

fn append(boat: &Path, text: &str) {
    let file = boat.join("boat.toml");
    let before = fs::read_to_string(&file).expect("a boat file");
    fs::write(file, before + text).expect("written");
}

fn mesh(boat: &Path, name: &str) {
    let text = format!("name = \"Tern\"\n[hull]\nfile = {name:?}\n");
    fs::write(boat.join("boat.toml"), text).expect("written");
}

const FOLDERS: [(&str, Prepare); 25] = [
    ("a boat file that is a pipe", |boat, _| {
        fs::remove_file(boat.join("boat.toml")).expect("removed");
        pipe(&boat.join("boat.toml"));
    }),
    ("a boat file without end", |boat, _| {
        link(Path::new("/dev/zero"), &boat.join("boat.toml"))
    }),
    ("a boat file elsewhere", |boat, out| {
        link(&out.join("secret.toml"), &boat.join("boat.toml"))
    }),
    ("a boat file that links to itself", |boat, _| {
        link(&boat.join("boat.toml"), &boat.join("boat.toml"))
    }),
    ("a boat file of 3 000 commas", |boat, _| {
        append(
            boat,
            &format!("\n[water]\ntemperature = \"{}\"\n", "1,".repeat(3000)),
        )
    }),
    ("a boat file with CR alone", |boat, _| {
        let text = fs::read_to_string(boat.join("boat.toml")).expect("a boat file");
        fs::write(boat.join("boat.toml"), text.replace('\n', "\r")).expect("written");
    }),
    ("a boat file a hundred thousand deep", |boat, _| {
        append(boat, &format!("\nx = {}\n", "[".repeat(100_000)))
    }),
    ("two hundred thousand keys", |boat, _| {
        let keys: String = (0..200_000).map(|i| format!("k{i} = 1\n")).collect();
        append(boat, &format!("\n[odd]\n{keys}"));
    }),
    ("a thousand fins", |boat, _| {
        let fins: String = (0..1000)
            .map(|i| format!("[[fin]]\nname = \"{i}\"\n"))
            .collect();
        append(boat, &fins);
    }),
    ("a mesh that is a pipe", |boat, _| {
        mesh(boat, "hull.stl");
        pipe(&boat.join("hull.stl"));
    }),
    ("a mesh without end", |boat, _| {
        mesh(boat, "hull.stl");
        link(Path::new("/dev/zero"), &boat.join("hull.stl"));
    }),
    ("a mesh elsewhere", |boat, out| {
        fs::write(out.join("hull.stl"), "solid x\nendsolid x\n").expect("written");
        mesh(boat, "hull.stl");
        link(&out.join("hull.stl"), &boat.join("hull.stl"));
    }),
    ("a mesh that climbs", |boat, _| {
        mesh(boat, "../../../../etc/passwd")
    }),
    ("a mesh of another root", |boat, _| {
        mesh(boat, "/etc/passwd")
    }),
    ("what was learned, a pipe", |boat, _| {
        pipe(&boat.join("learned.toml"))
    }),
    ("what was agreed, without end", |boat, _| {
        link(Path::new("/dev/zero"), &boat.join("loggers.json"))
    }),
    ("outings elsewhere", |boat, out| {
        link(out, &boat.join("outings"))
    }),
    ("builds elsewhere", |boat, out| {
        link(out, &boat.join("builds"))
    }),
    ("the what-if elsewhere", |boat, out| {
        link(out, &boat.join(".skimwright"))
    }),
    ("an outing that is a pipe", |boat, _| {
        pipe(&day(boat).join("outing.toml"))
    }),
    ("what was measured, a pipe", |boat, _| {
        pipe(&day(boat).join("measured.json"))
    }),
    ("why it is so large, a pipe", |boat, _| {
        pipe(&boat.join("sized.json"))
    }),
    ("a recording elsewhere", |boat, out| {
        link(&out.join("secret.toml"), &day(boat).join("log.csv"))
    }),
    ("a log with CR alone", |boat, _| {
        fs::write(
            day(boat).join("log.csv"),
            "time [s],current [A]\r0,1\r1,2\r".repeat(3000),
        )
        .expect("written");
    }),
    ("names that command the terminal", |boat, _| {
        fs::write(day(boat).join("\u{1b}]0;x\u{7}\u{9b}31m.csv"), "a\n1\n").expect("written");
        append(boat, "\n\"\u{9b}31m\" = 1\n");
    }),
];

/// The first of them are of the boat itself.
const OF_BOATS: usize = 15;
/// These work the boat out.
const OF_THE_BOAT: [&[&str]; 3] = [
    &["check", "@", "--variations", "2"],
    &["hull", "@"],
    &["outing", "@", "new", "--date", "2026-05-18"],
];
/// These look at what lies beside it.
const OF_THE_DAY: [&[&str]; 5] = [
    &["outing", "@", "list"],
    &["outing", "@", "measure", "2026-05-17"],
    &["builds", "@"],
    &["log", "@/outings/2026-05-17/log.csv"],
    &["outing", "@", "new", "--date", "2026-05-18"],
];

/// Everything outside of the boat, with its content.
fn content(outside: &Path) -> Vec<(std::path::PathBuf, Vec<u8>)> {
    let entries = fs::read_dir(outside).expect("a folder").flatten();
    let mut all: Vec<_> = entries
        .map(|e| (e.path(), fs::read(e.path()).unwrap_or_default()))
        .collect();
    all.sort();
    all
}

#[test]
fn every_command_ends_and_stays_inside() {
    let mut tried = 0;
    for (place, (what, prepare)) in FOLDERS.into_iter().enumerate() {
        let boat = drifting();
        let outside = tempfile::tempdir().expect("a folder");
        fs::write(
            outside.path().join("secret.toml"),
            "secret-of-somebody = 1\n",
        )
        .expect("written");
        prepare(boat.path(), outside.path());
        let before = content(outside.path());
        let commands = match place < OF_BOATS {
            true => &OF_THE_BOAT[..],
            false => &OF_THE_DAY[..],
        };
        for command in commands {
            let said = ends(boat.path(), command, what);
            assert!(!said.contains("panicked"), "{what}, {command:?}: {said}");
            assert!(!said.contains("root:"), "{what}, {command:?}: {said}");
            // A line of a mistake may be drawn, of the boat's own files alone.
            assert!(
                !said.contains("secret-of-somebody"),
                "{what}, {command:?}: {said}"
            );
            let clean = |c: char| !c.is_control() || c == '\n' || c == '\t';
            assert!(said.chars().all(clean), "{what}, {command:?}: {said:?}");
            tried += 1;
        }
        assert_eq!(
            content(outside.path()),
            before,
            "{what}: something outside was changed"
        );
    }
    tell("commands on hostile folders", tried, "all ended inside");
}

/// What a command said, within the time.
fn ends(boat: &Path, command: &[&str], what: &str) -> String {
    let here = boat.display().to_string();
    let mut child = program()
        .args(command.iter().map(|a| a.replace('@', &here)))
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("it runs");
    let id = child.id();
    let (out, err) = (child.stdout.take(), child.stderr.take());
    let read = |from: Option<Box<dyn std::io::Read + Send>>| {
        std::thread::spawn(move || {
            let mut bytes = Vec::new();
            from.map(|mut from| from.read_to_end(&mut bytes));
            String::from_utf8_lossy(&bytes).into_owned()
        })
    };
    let out = read(out.map(|o| Box::new(o) as _));
    let err = read(err.map(|e| Box::new(e) as _));
    let until = Instant::now() + LONGEST;
    let status = loop {
        if let Some(status) = child.try_wait().expect("it is ours") {
            break status;
        }
        if Instant::now() > until {
            let _ = child.kill();
            panic!("{what}, {command:?} ({id}) goes on after {LONGEST:?}");
        }
        std::thread::sleep(Duration::from_millis(2));
    };
    let said = out.join().expect("read") + &err.join().expect("read");
    let code = status.code().unwrap_or(-1);
    assert!(
        (0..=2).contains(&code),
        "{what}, {command:?}: {status} {said}"
    );
    said
}
