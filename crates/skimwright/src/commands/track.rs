//! Speeds, turns and laps from a track.

use workshop::recordings::track::TrackAsk;

use super::Outcome;
use super::recording::{asked, give};
use crate::cli_recordings::TrackArgs;
use crate::failure::Failure;

/// A line from the two places given.
pub fn line_of(places: Option<&Vec<(f64, f64)>>) -> Option<[(f64, f64); 2]> {
    places?.as_slice().try_into().ok()
}

pub fn run(given: &TrackArgs) -> Result<Outcome, Failure> {
    let question = TrackAsk {
        file: given.file.clone(),
        line: line_of(given.line.as_ref()),
        shortest_lap_s: given.shortest_lap.map(|t| t.value),
    };
    let (answer, page) = asked(&question, None, &given.shown)?;
    give(
        &answer,
        std::slice::from_ref(&answer.analysis),
        (&given.shown, page),
        ("", ""),
    )?;
    Ok(Outcome::Good)
}
