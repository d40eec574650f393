//! Node and what it runs.

use std::process::{Command, Stdio};

/// The oldest that builds the page.
pub const WANTED: &str = "20.19";

/// Whether Node is new enough.
pub fn is_there() -> Result<(), String> {
    let said = Command::new("node").arg("--version").output();
    let said = said.map_err(|_| "Node was not found".to_owned())?;
    let said = String::from_utf8_lossy(&said.stdout);
    let said = said.trim();
    if version(said) < version(WANTED) {
        let said: String = said.chars().filter(|c| !c.is_control()).collect();
        return Err(format!("Node {said} is too old"));
    }
    Ok(())
}

/// Major and minor of `v20.19.0`; nothing where it is no version.
pub fn version(said: &str) -> Option<(u32, u32)> {
    let mut parts = said.trim_start_matches('v').split('.');
    Some((parts.next()?.parse().ok()?, parts.next()?.parse().ok()?))
}

/// Runs it with nothing printed, for cargo takes a build script's lines for orders. What it said is kept with
/// cargo's own records of errors, and the line that tells most is in the error.
pub fn run(command: &mut Command, name: &str) -> Result<(), String> {
    let ended = command
        .stdin(Stdio::null())
        .env("NO_COLOR", "1")
        // Cargo's, and another thing to Node's programs.
        .env_remove("DEBUG")
        .output()
        .map_err(|e| format!("{name} did not start ({e})"))?;
    if ended.status.success() {
        return Ok(());
    }
    let said = String::from_utf8_lossy(&ended.stderr) + String::from_utf8_lossy(&ended.stdout);
    eprintln!("{said}");
    Err(format!("{name} failed ({})", telling(&said)))
}

/// The first line that speaks of an error, else the last.
pub fn telling(said: &str) -> String {
    let lines = || said.lines().map(str::trim).filter(|line| !line.is_empty());
    let line = lines().find(|line| line.to_lowercase().contains("error"));
    let line = line
        .or_else(|| lines().next_back())
        .unwrap_or("it said nothing");
    line.chars().filter(|c| !c.is_control()).take(200).collect()
}
