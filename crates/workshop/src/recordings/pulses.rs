//! Servo pulses.

use evidence::outing::recording::measure_pulses;
use evidence::outing::{Analysis, RecordingKind};
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};
use utoipa::ToSchema;

use super::{fault, file_name, settings_at};
use crate::bench::Bench;
use crate::beneath::open;
use crate::fault::Fault;
use crate::question::Question;

/// What does a capture of servo pulses tell? What is not given comes from the notes of the outing it lies in.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct PulsesAsk {
    /// The capture.
    #[schema(value_type = String)]
    pub file: PathBuf,
    /// Column of the level, from 0.
    pub level_column: Option<usize>,
    /// Samples a second, for a table without times.
    pub sample_rate_hz: Option<f64>,
    /// What one unit of the time column is, s.
    pub time_unit_s: Option<f64>,
}

/// What servo pulses told.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PulsesAnswer {
    /// As every recording is told.
    #[serde(flatten)]
    pub analysis: Analysis,
    /// How many.
    pub pulses: usize,
    /// Of a width no servo has.
    pub odd_widths: usize,
    /// Too short for a pulse.
    pub runts: usize,
    /// Shortest and longest.
    pub width_range_s: (f64, f64),
    /// Of a width that is held.
    pub width_jitter_s: f64,
    /// Of the time between pulses.
    pub frame_jitter_s: f64,
    /// Where pulses are missing.
    pub losses: Vec<PulseLoss>,
    /// What the receiver gives without the transmitter.
    pub failsafe_width_s: Option<f64>,
    /// How far the slow edges shift a width.
    pub read_shift_s: Option<f64>,
}

/// Pulses that are missing.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PulseLoss {
    /// From.
    pub from_s: f64,
    /// To.
    pub to_s: f64,
    /// How many.
    pub frames: usize,
    /// Last width before.
    pub width_before_s: f64,
    /// First width after.
    pub width_after_s: f64,
}

impl Question for PulsesAsk {
    type Answer = PulsesAnswer;

    fn answer(&self, bench: &Bench) -> Result<PulsesAnswer, Fault> {
        let mut settings = settings_at(bench, &self.file)?;
        let hints = &mut settings.pulses;
        hints.level_column = self.level_column.or(hints.level_column);
        let rate_hz = self.sample_rate_hz.filter(|r| *r > 0.0);
        hints.rate_hz = rate_hz.or(hints.rate_hz);
        hints.time_unit_s = self.time_unit_s.or(hints.time_unit_s);
        let (analysis, report) =
            measure_pulses(&file_name(&self.file), open(&self.file)?, &settings)
                .map_err(|e| fault(&self.file, RecordingKind::Pulses, &e))?;
        let Some(r) = report else {
            let why = analysis.says.first();
            let why = why.map_or("too few pulses", String::as_str);
            return Err(fault(&self.file, RecordingKind::Pulses, &why));
        };
        let losses = r.losses.iter().map(|l| PulseLoss {
            from_s: l.from_s,
            to_s: l.to_s,
            frames: l.frames,
            width_before_s: l.width_before_s,
            width_after_s: l.width_after_s,
        });
        Ok(PulsesAnswer {
            analysis,
            pulses: r.pulses,
            odd_widths: r.odd_widths,
            runts: r.runts,
            width_range_s: r.width_range_s,
            width_jitter_s: r.width_jitter_s,
            frame_jitter_s: r.frame_jitter_s,
            losses: losses.collect(),
            failsafe_width_s: r.failsafe_width_s,
            read_shift_s: r.read_shift_s,
        })
    }

    fn files(&self) -> Vec<&Path> {
        vec![&self.file]
    }
}
