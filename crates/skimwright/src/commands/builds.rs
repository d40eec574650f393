//! Builds side by side: what changed, what was predicted, what was measured.

use std::fmt::Write as _;
use workshop::builds::{Build, BuildsAsk};

use super::{Outcome, ask};
use crate::cli_recordings::Builds;
use crate::failure::Failure;
use crate::output;

pub fn run(given: &Builds) -> Result<Outcome, Failure> {
    let answer = ask(&BuildsAsk {}, &given.boat)?;
    if given.json {
        output::print_json(&answer)?;
    } else {
        output::print(&answer.builds.iter().map(as_text).collect::<String>())?;
    }
    Ok(Outcome::Good)
}

fn as_text(build: &Build) -> String {
    let mut text = String::new();
    let name = build.name.as_deref().unwrap_or("the boat as it is now");
    let _ = write!(text, "{name}");
    if let Some(date) = &build.date {
        let _ = write!(text, " ({date})");
    }
    if let Some(why) = &build.why {
        let _ = write!(text, ": {why}");
    }
    text.push('\n');
    for c in &build.changed {
        let side = |side: &Option<String>| side.clone().unwrap_or_else(|| "nothing".to_owned());
        let (before, after) = (side(&c.before), side(&c.after));
        let _ = writeln!(text, "  changed    {}: {before} -> {after}", c.key);
    }
    for p in &build.predicted {
        let _ = writeln!(text, "  predicted  {}: {}", p.id, p.number);
    }
    for m in &build.measured {
        let _ = writeln!(text, "  measured   {} ({})", m.says, m.outing);
    }
    text
}
