//! The program killed at random instants while it writes: what was acknowledged is there, and nothing is half there.

use crate::folder::Folder;
use crate::live::{Live, drifting, program};
use crate::table::{of, tell};
use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;
use std::fs;
use std::io::Write as _;
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, Stdio};
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, Instant, SystemTime};

const NONE_LOST: &str = "none torn, nothing acknowledged lost";

/// Values are counted in the water's temperature, hundredths of a degree.
fn value(count: u64) -> String {
    format!("{}.{:02} degC", count / 100, count % 100)
}

fn counted(text: &str) -> u64 {
    let (_, rest) = text.split_once("temperature = \"").expect("a temperature");
    let (number, _) = rest.split_once(' ').expect("a unit");
    let number: f64 = number.parse().expect("a number");
    (number * 100.0).round() as u64
}

fn hidden(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let ours = entries.filter(|e| e.file_name().to_string_lossy().starts_with(".skimwright-"));
    ours.map(|e| e.path()).collect()
}

/// What kills left is removed at the next start, once it is certain that nobody writes it.
fn cleared(boat: &Path, state: &Path, left: &[PathBuf]) {
    let long_ago = SystemTime::now() - Duration::from_secs(7200);
    for path in left {
        let file = fs::File::open(path).expect("there");
        file.set_modified(long_ago).expect("set");
    }
    let _server = Live::start(boat, state);
    assert!(left.iter().all(|path| !path.exists()), "{left:?}");
}

#[test]
fn saving() {
    let boat = Folder::plain("vee");
    let state = tempfile::tempdir().expect("a folder");
    let file = boat.path().join("boat.toml");
    let mut rng = ChaCha8Rng::seed_from_u64(1);
    let trials = of(30, 300);
    let mut next = 1u64;
    for trial in 0..trials {
        let mut server = Live::start(boat.path(), state.path());
        let (tried, saved) = (AtomicU64::new(0), AtomicU64::new(0));
        let began = next;
        std::thread::scope(|threads| {
            let busy = threads.spawn(|| {
                let mut count = began;
                while server_does(&server.host, &server.token, count, &tried, &saved) {
                    count += 1;
                }
                count
            });
            std::thread::sleep(Duration::from_millis(rng.random_range(1..120)));
            // By its number: the thread holds the server.
            let killed = std::process::Command::new("kill")
                .args(["-KILL", &server.id().to_string()])
                .status();
            assert!(killed.expect("kill").success());
            next = busy.join().expect("it ended") + 1;
        });
        server.kill();
        let text = fs::read_to_string(&file).expect("a boat file");
        assert!(
            boat::load(&text, "boat.toml").is_ok(),
            "trial {trial}: torn"
        );
        let (tried, saved) = (tried.into_inner(), saved.into_inner());
        if saved > 0 {
            assert!(
                (saved..next).contains(&counted(&text)),
                "trial {trial}: {saved} is lost"
            );
        }
        let again = Live::start(boat.path(), state.path());
        let desk: serde_json::Value = serde_json::from_str(&again.get("/api/boat")).expect("JSON");
        let draft = counted(desk["text"].as_str().expect("text"));
        assert!(
            draft >= tried,
            "trial {trial}: {tried} was acknowledged, {draft} is there"
        );
    }
    let left = [
        hidden(boat.path()),
        hidden(&boat.path().join(".skimwright")),
    ]
    .concat();
    cleared(boat.path(), state.path(), &left);
    tell("killed while saving", trials, NONE_LOST);
}

/// One value tried out and saved; false when nobody answers any more.
fn server_does(host: &str, token: &str, count: u64, tried: &AtomicU64, saved: &AtomicU64) -> bool {
    let ask = |method: &str, path: &str, body: &str| {
        let head = format!(
            "{method} {path} HTTP/1.1\r\nHost: {host}\r\nX-Skimwright-Token: {token}\r\nContent-Type: application/json\r\nConnection: close\r\nContent-Length: {}\r\n\r\n",
            body.len()
        );
        let mut stream = TcpStream::connect(host).ok()?;
        stream.write_all((head + body).as_bytes()).ok()?;
        let mut said = String::new();
        std::io::Read::read_to_string(&mut stream, &mut said).ok()?;
        said.starts_with("HTTP/1.1 200").then_some(())
    };
    let edits =
        serde_json::json!({"edits": [{"path": ["water", "temperature"], "value": value(count)}]});
    if ask("PUT", "/api/whatif", &edits.to_string()).is_none() {
        return false;
    }
    tried.store(count, Ordering::Relaxed);
    if ask("POST", "/api/save", "{}").is_none() {
        return false;
    }
    saved.store(count, Ordering::Relaxed);
    true
}

fn run(arguments: &[&str], boat: &Path) -> Child {
    let mut command = program();
    command.args(
        arguments
            .iter()
            .map(|a| a.replace('@', &boat.display().to_string())),
    );
    command.stdout(Stdio::null()).stderr(Stdio::null());
    command.spawn().expect("it runs")
}

fn killed_after(mut child: Child, instant: Duration) {
    std::thread::sleep(instant);
    let _ = child.kill();
    let _ = child.wait();
}

const KEEP: [&str; 6] = ["keep", "@", "--why", "wider pads", "--variations", "2"];

#[test]
fn keeping_a_build() {
    let boat = drifting();
    let builds = boat.path().join("builds");
    let mut rng = ChaCha8Rng::seed_from_u64(2);
    let file = boat.path().join("boat.toml");
    let text = fs::read_to_string(&file).expect("a boat file");
    // One that changed nothing is not kept.
    let change = |trial: u64| {
        let changed = format!("{text}# {trial}\n");
        fs::write(&file, changed).expect("written");
    };
    let at = Instant::now();
    assert!(run(&KEEP, boat.path()).wait().expect("it ends").success());
    let whole = at.elapsed().as_secs_f64();
    let trials = of(20, 200);
    for trial in 0..trials {
        change(trial);
        // Half of them at any instant, half of them while it writes.
        let child = run(&KEEP, boat.path());
        let until = Instant::now() + Duration::from_secs_f64(whole * rng.random_range(0.0..1.2));
        let writes = |before: usize| hidden(&builds).len() > before;
        let left = hidden(&builds).len();
        let limit = Instant::now() + Duration::from_secs_f64(4.0 * whole);
        match trial % 2 {
            0 => std::thread::sleep(until.saturating_duration_since(Instant::now())),
            _ => {
                while !writes(left) && Instant::now() < limit {
                    std::thread::sleep(Duration::from_micros(200));
                }
                std::thread::sleep(Duration::from_micros(rng.random_range(0..4000)));
            }
        }
        killed_after(child, Duration::ZERO);
        for build in fs::read_dir(&builds).expect("builds").flatten() {
            if build.file_name().to_string_lossy().starts_with('.') {
                continue;
            }
            let frozen = fs::read_to_string(build.path().join("boat.toml")).expect("whole");
            assert!(
                frozen.starts_with(&text) && frozen.ends_with('\n'),
                "trial {trial}: {:?} is torn",
                build.path()
            );
            for name in ["build.json", "predicted.json"] {
                let text = fs::read_to_string(build.path().join(name)).expect("whole");
                let whole = serde_json::from_str::<serde_json::Value>(&text).is_ok();
                assert!(whole, "trial {trial}: {name} of {:?} is torn", build.path());
            }
        }
    }
    assert!(boat.run(&["builds", "@"]).code == 0);
    let state = tempfile::tempdir().expect("a folder");
    cleared(boat.path(), state.path(), &hidden(&builds));
    tell("killed while keeping a build", trials, NONE_LOST);
}

#[test]
fn beginning_an_outing() {
    let boat = Folder::plain("vee");
    let mut rng = ChaCha8Rng::seed_from_u64(3);
    let new = |date: &str| {
        run(
            &["outing", "@", "new", "--place", "pond", "--date", date],
            boat.path(),
        )
    };
    let at = Instant::now();
    assert!(new("2026-01-01").wait().expect("it ends").success());
    let whole = at.elapsed().as_secs_f64();
    let file = |date: &str| boat.path().join("outings").join(date).join("outing.toml");
    let wanted = fs::read(file("2026-01-01")).expect("written");
    let trials = of(30, 300);
    for trial in 0..trials {
        let date = format!("2026-02-{:02}-{}", 1 + trial % 28, 2 + trial / 28);
        killed_after(
            new(&date),
            Duration::from_secs_f64(whole * rng.random_range(0.0..1.3)),
        );
        // What was begun can be begun again, unless it is whole.
        let there = fs::read(file(&date)).ok();
        assert!(
            there.as_ref().is_none_or(|text| *text == wanted),
            "{date} is torn"
        );
        let again = new(&date).wait().expect("it ends").success();
        assert_eq!(again, there.is_none(), "{date}");
        assert_eq!(fs::read(file(&date)).expect("written"), wanted);
    }
    tell("killed while beginning an outing", trials, NONE_LOST);
}

#[test]
fn taking_in_a_recording() {
    let boat = Folder::plain("vee");
    let state = tempfile::tempdir().expect("a folder");
    let day = boat.path().join("outings/2026-05-17");
    let mut rng = ChaCha8Rng::seed_from_u64(4);
    let sound: Vec<u8> = (0..2_000_000u64).map(|i| (i * i % 251) as u8).collect();
    let trials = of(20, 200);
    for trial in 0..trials {
        let mut server = Live::start(boat.path(), state.path());
        let name = format!("run-{trial}.wav");
        let path = format!("/api/outings/2026-05-17/recordings/{name}");
        let head = server.head("PUT", &path, sound.len());
        let instant = Duration::from_micros(rng.random_range(0..30_000));
        let mut stream = TcpStream::connect(&server.host).expect("it listens");
        let acknowledged = std::thread::scope(|threads| {
            let sound = &sound;
            let sends = threads.spawn(move || {
                stream.write_all(head.as_bytes()).ok()?;
                for part in sound.chunks(1 << 17) {
                    stream.write_all(part).ok()?;
                    std::thread::sleep(Duration::from_micros(500));
                }
                let mut said = String::new();
                std::io::Read::read_to_string(&mut stream, &mut said).ok()?;
                said.starts_with("HTTP/1.1 200").then_some(())
            });
            std::thread::sleep(instant);
            server.kill();
            sends.join().expect("it ended").is_some()
        });
        match fs::read(day.join(&name)) {
            Ok(there) => assert!(there == sound, "{name} is torn"),
            Err(_) => assert!(!acknowledged, "{name} is lost"),
        }
    }
    cleared(boat.path(), state.path(), &hidden(&day));
    tell("killed while taking in a recording", trials, NONE_LOST);
}
