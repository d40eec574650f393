//! Speeds, turns and laps from a receiver's track.

use evidence::outing::recording::measure_track;
use evidence::outing::track::GroundLine;
use evidence::outing::{Analysis, RecordingKind};
use evidence::track::speeds::Source;
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};
use utoipa::ToSchema;

use super::{fault, file_name, settings_at};
use crate::bench::Bench;
use crate::beneath::open;
use crate::fault::Fault;
use crate::question::Question;

/// What does a track tell? What is not given comes from the notes of the outing it lies in.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct TrackAsk {
    /// The track.
    #[schema(value_type = String)]
    pub file: PathBuf,
    /// Ends of a lap line: degrees north and east of each.
    pub line: Option<[(f64, f64); 2]>,
    /// Crossings closer together are one, s.
    pub shortest_lap_s: Option<f64>,
}

/// What a track told.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct TrackAnswer {
    /// As every recording is told.
    #[serde(flatten)]
    pub analysis: Analysis,
    /// Fixes used.
    pub fixes: usize,
    /// Fixes that cannot be.
    pub left_out: Vec<FixLeftOut>,
    /// `receiver` or `places`.
    pub speed_from: String,
    /// Usual time between fixes.
    pub interval_s: f64,
    /// Scatter of a place.
    pub place_sigma_m: f64,
}

/// A fix that was left out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct FixLeftOut {
    /// Its place in the file.
    pub fix: usize,
    /// When.
    pub time_s: f64,
    /// Why.
    pub reason: String,
}

/// A line between two places, degrees north and east.
pub(crate) fn line_of([from_deg, to_deg]: [(f64, f64); 2]) -> GroundLine {
    GroundLine { from_deg, to_deg }
}

impl Question for TrackAsk {
    type Answer = TrackAnswer;

    fn answer(&self, bench: &Bench) -> Result<TrackAnswer, Fault> {
        let mut settings = settings_at(bench, &self.file)?;
        settings.track.line = self.line.map(line_of).or(settings.track.line);
        let shortest = self.shortest_lap_s.or(settings.track.shortest_lap_s);
        settings.track.shortest_lap_s = shortest;
        let (analysis, followed) =
            measure_track(&file_name(&self.file), open(&self.file)?, &settings)
                .map_err(|e| fault(&self.file, RecordingKind::Track, &e))?;
        let left_out = followed.cleaned.left_out.iter();
        let left_out = left_out.map(|(fix, time_s, reason)| FixLeftOut {
            fix: *fix,
            time_s: *time_s,
            reason: reason.to_string(),
        });
        let speed_from = match followed.speeds.source {
            Source::Receiver => "receiver",
            Source::Places => "places",
        };
        Ok(TrackAnswer {
            analysis,
            fixes: followed.cleaned.spots.len(),
            left_out: left_out.collect(),
            speed_from: speed_from.to_owned(),
            interval_s: followed.path.interval_s,
            place_sigma_m: followed.path.place_sigma_m,
        })
    }

    fn files(&self) -> Vec<&Path> {
        vec![&self.file]
    }
}
