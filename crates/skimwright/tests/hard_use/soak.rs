//! Memory of a server that is asked one boat after the other.

use crate::folder::Folder;
use crate::live::Live;
use crate::table::{long, of, tell};

/// Resident memory of the server, whatever it was asked before: its caches, one study at work, and the program.
const MOST_MB: u64 = 512;

/// A line of what the system tells of a process, bytes.
pub fn status(process: u32, what: &str) -> Option<u64> {
    let about = std::fs::read_to_string(format!("/proc/{process}/status")).ok()?;
    let line = about.lines().find(|line| line.starts_with(what))?;
    let number = line.split_whitespace().nth(1)?.parse::<u64>().ok()?;
    Some(number << 10)
}

#[cfg(target_os = "linux")]
#[test]
fn memory_stays_within_its_bounds() {
    let boat = Folder::plain("vee");
    let state = tempfile::tempdir().expect("a folder");
    let server = Live::start(boat.path(), state.path());
    let rounds = of(10, 500);
    let resident = || status(server.id(), "VmRSS:").expect("it runs") >> 20;
    let mut at = Vec::new();
    for round in 0..rounds {
        assert!(server.set(&["name"], &format!("Tern {round}")));
        // As a page does it: the quick answer, then, mostly, the boat is changed again.
        server.get("/api/study?depth=quick");
        if long() && round % 5 == 0 {
            server.get("/api/study?depth=full");
        }
        at.push(resident());
    }
    let most = at.iter().max().copied().unwrap_or(0);
    println!("resident, MB: {at:?}");
    assert!(most < MOST_MB, "{most} MB after {rounds} boats: {at:?}");
    tell(
        "cold studies of one server",
        rounds,
        &format!("{most} MB resident at most"),
    );
}
