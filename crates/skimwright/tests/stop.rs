//! The page's server ends when it is asked to, and takes what it works out with it.

#![cfg(target_os = "linux")]

mod folder;

use folder::Folder;
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::TcpStream;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// The server with a long job going on.
struct Busy {
    server: Child,
    /// Process that works it out.
    worker: u32,
    _folder: Folder,
}

impl Drop for Busy {
    fn drop(&mut self) {
        let _ = self.server.kill();
        let _ = self.server.wait();
    }
}

fn busy() -> Busy {
    let folder = Folder::plain("vee");
    let mut server = Command::new(env!("CARGO_BIN_EXE_skimwright"))
        .args(["open", "--no-browser", "--json"])
        .arg(folder.path())
        .env("XDG_STATE_HOME", folder.path())
        .stdout(Stdio::piped())
        .spawn()
        .expect("it runs");
    let out = BufReader::new(server.stdout.take().expect("piped"));
    let line = out.lines().map_while(Result::ok);
    let line = line.into_iter().find(|line| line.contains("address"));
    let line = line.expect("an address");
    let (_, rest) = line.split_once("http://").expect("an address");
    let (host, rest) = rest.split_once('/').expect("a path");
    let (_, token) = rest.split_once("token=").expect("a token");
    let token = token.trim_end_matches(['"', ',']);
    let job = r#"{"question":{"ask":"check","with":{"effort":{"variations":10000,"seed":1}}}}"#;
    let request = format!(
        "POST /api/jobs HTTP/1.1\r\nHost: {host}\r\nX-Skimwright-Token: {token}\r\nContent-Type: application/json\r\nConnection: close\r\nContent-Length: {}\r\n\r\n{job}",
        job.len()
    );
    let mut stream = TcpStream::connect(host).expect("it listens");
    stream.write_all(request.as_bytes()).expect("sent");
    let mut said = String::new();
    stream.read_to_string(&mut said).expect("answered");
    assert!(said.starts_with("HTTP/1.1 200"), "{said}");
    let until = Instant::now() + Duration::from_secs(10);
    let worker = loop {
        if let Some(worker) = child_of(server.id()) {
            break worker;
        }
        assert!(Instant::now() < until, "no job was started");
        std::thread::sleep(Duration::from_millis(20));
    };
    std::thread::sleep(Duration::from_millis(300));
    assert!(parent_of(worker).is_some(), "the job is a long one");
    Busy {
        server,
        worker,
        _folder: folder,
    }
}

fn child_of(parent: u32) -> Option<u32> {
    let entries = std::fs::read_dir("/proc").expect("/proc").flatten();
    let numbers = entries.filter_map(|e| e.file_name().to_str()?.parse().ok());
    numbers.into_iter().find(|n| parent_of(*n) == Some(parent))
}

/// The parent of a process that runs.
fn parent_of(process: u32) -> Option<u32> {
    let about = std::fs::read_to_string(format!("/proc/{process}/stat")).ok()?;
    let mut words = about.rsplit_once(") ")?.1.split(' ');
    let runs = words.next()? != "Z";
    words.next()?.parse().ok().filter(|_| runs)
}

fn signal(name: &str, process: u32) {
    let status = Command::new("kill")
        .args([name, &process.to_string()])
        .status();
    assert!(status.expect("kill").success());
}

fn gone_within(seconds: f64, what: &str, gone: impl Fn() -> bool) {
    let until = Instant::now() + Duration::from_secs_f64(seconds);
    while !gone() {
        assert!(Instant::now() < until, "{what} goes on after {seconds} s");
        std::thread::sleep(Duration::from_millis(20));
    }
}

#[test]
fn it_ends_within_two_seconds_of_being_asked() {
    for name in ["-INT", "-TERM"] {
        let mut busy = busy();
        signal(name, busy.server.id());
        let asked = Instant::now();
        let status = loop {
            if let Some(status) = busy.server.try_wait().expect("it is ours") {
                break status;
            }
            assert!(
                asked.elapsed() < Duration::from_secs(2),
                "{name}: it goes on"
            );
            std::thread::sleep(Duration::from_millis(20));
        };
        assert!(status.success(), "{name}: {status}");
        let worker = busy.worker;
        gone_within(1.0, "the job", || parent_of(worker).is_none());
    }
}

#[test]
fn a_job_does_not_outlive_a_server_that_was_killed() {
    let busy = busy();
    signal("-KILL", busy.server.id());
    gone_within(2.0, "the job", || parent_of(busy.worker).is_none());
}
