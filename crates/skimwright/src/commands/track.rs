//! Speeds, turns and laps from a track.

use evidence::outing::recording::{Settings, measure_track};
use evidence::outing::track::GroundLine;
use evidence::track::speeds::Source;
use serde_json::json;

use super::Outcome;
use super::recording::{fault, file_name, give, open};
use crate::cli_recordings::TrackArgs;
use crate::failure::Failure;

/// A line from the two places given.
pub fn line_of(places: Option<&Vec<(f64, f64)>>) -> Option<GroundLine> {
    let [from_deg, to_deg] = places?.as_slice() else {
        return None;
    };
    Some(GroundLine {
        from_deg: *from_deg,
        to_deg: *to_deg,
    })
}

pub fn run(given: &TrackArgs) -> Result<Outcome, Failure> {
    let mut settings = Settings::default();
    settings.track.line = line_of(given.line.as_ref());
    settings.track.shortest_lap_s = given.shortest_lap.map(|t| t.value);
    let (analysis, followed) =
        measure_track(&file_name(&given.file), open(&given.file)?, &settings)
            .map_err(|e| fault(&given.file, &e))?;
    let left_out = followed.cleaned.left_out.iter().map(
        |(i, time_s, reason)| json!({"fix": i, "time_s": time_s, "reason": reason.to_string()}),
    );
    let more = json!({
        "fixes": followed.cleaned.spots.len(),
        "left_out": left_out.collect::<Vec<_>>(),
        "speed_from": match followed.speeds.source {
            Source::Receiver => "receiver",
            Source::Places => "places",
        },
        "interval_s": followed.path.interval_s,
        "place_sigma_m": followed.path.place_sigma_m,
    });
    give(&[analysis], &given.shown, ("", ""), more)?;
    Ok(Outcome::Good)
}
