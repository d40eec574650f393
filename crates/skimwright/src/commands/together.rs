//! Several recordings on one clock.

use evidence::outing::{Clock, together};
use report::measured::{HALF_WIDTH, with_spread};
use serde_json::json;
use std::fmt::Write as _;

use super::Outcome;
use super::recording::{any, boat_alone, boat_folder_of, give, mappings, settings_of};
use super::track::line_of;
use crate::cli_recordings::Together;
use crate::failure::Failure;

pub fn run(given: &Together) -> Result<Outcome, Failure> {
    let folder = boat_folder_of(given.boat.as_deref(), &given.files[0]);
    let boat = folder.as_deref().map(boat_alone).transpose()?;
    let mut settings = settings_of(boat.as_ref(), mappings(folder.as_deref())?);
    settings.track.line = line_of(given.line.as_ref());
    let mut all = Vec::new();
    for file in &given.files {
        all.push(any(file, None, &settings)?);
    }
    let (clocks, apart) = together::together(&all);
    let mut head = String::from("one clock:\n");
    for c in &clocks {
        let _ = writeln!(head, "  {}", clock_text(c));
    }
    for a in &apart {
        let _ = writeln!(head, "  {}: {}", a.recording, a.why);
    }
    let apart: Vec<_> = apart
        .iter()
        .map(|a| json!({"recording": a.recording, "why": a.why}))
        .collect();
    give(
        &all,
        &given.shown,
        ("", &head),
        json!({"clocks": clocks, "apart": apart}),
    )?;
    Ok(Outcome::Good)
}

/// `pass.wav + 12.03 ± 0.08 s = sunday.gpx (2 events)`.
pub fn clock_text(c: &Clock) -> String {
    let offset = with_spread(c.offset_s.value, HALF_WIDTH * c.offset_s.sigma, "s");
    let shared = match c.shared {
        0 => String::new(),
        1 => " (1 event in both)".to_owned(),
        n => format!(" ({n} events in both)"),
    };
    let remark = c
        .remark
        .as_ref()
        .map_or(String::new(), |r| format!("; {r}"));
    format!(
        "{} + ({offset}) = {}{shared}{remark}",
        c.recording, c.against
    )
}
