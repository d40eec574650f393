//! Several recordings on one clock.

use evidence::outing::Clock;
use report::measured::{HALF_WIDTH, with_spread};
use std::fmt::Write as _;
use workshop::recordings::together::TogetherAsk;

use super::Outcome;
use super::recording::{asked, give};
use super::track::line_of;
use crate::cli_recordings::Together;
use crate::failure::Failure;

pub fn run(given: &Together) -> Result<Outcome, Failure> {
    let question = TogetherAsk {
        files: given.files.clone(),
        line: line_of(given.line.as_ref()),
    };
    let (answer, page) = asked(&question, given.boat.as_deref(), &given.shown)?;
    let mut head = String::from("one clock:\n");
    for c in &answer.clocks {
        let _ = writeln!(head, "  {}", clock_text(c));
    }
    for a in &answer.apart {
        let _ = writeln!(head, "  {}: {}", a.recording, a.why);
    }
    give(
        &answer,
        &answer.recordings,
        (&given.shown, page),
        ("", &head),
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
