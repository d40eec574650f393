//! Several recordings on one clock.

use evidence::outing::{Analysis, Clock, together};
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};
use utoipa::ToSchema;

use super::track::line_of;
use super::{any, settings_near};
use crate::bench::Bench;
use crate::fault::Fault;
use crate::question::Question;

/// How do the clocks of several recordings stand to each other?
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct TogetherAsk {
    /// Two or more.
    #[schema(value_type = Vec<String>)]
    pub files: Vec<PathBuf>,
    /// Ends of a line that counts as a pass on a track: degrees north and east of each.
    pub line: Option<[(f64, f64); 2]>,
}

/// Recordings on one clock.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct TogetherAnswer {
    /// Each as it is told alone.
    pub recordings: Vec<Analysis>,
    /// How they stand to each other.
    pub clocks: Vec<Clock>,
    /// Those that could not be joined.
    pub apart: Vec<Apart>,
}

/// A recording that could not be joined.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct Apart {
    /// Which.
    pub recording: String,
    /// Why.
    pub why: String,
}

impl Question for TogetherAsk {
    type Answer = TogetherAnswer;

    fn answer(&self, bench: &Bench) -> Result<TogetherAnswer, Fault> {
        let mut recordings = Vec::new();
        for file in &self.files {
            bench.go_on()?;
            let mut settings = settings_near(bench, file)?;
            settings.track.line = self.line.map(line_of).or(settings.track.line);
            recordings.push(any(file, None, &settings)?);
        }
        let (clocks, apart) = together::together(&recordings);
        let apart = apart.into_iter().map(|a| Apart {
            recording: a.recording,
            why: a.why,
        });
        Ok(TogetherAnswer {
            recordings,
            clocks,
            apart: apart.collect(),
        })
    }

    fn files(&self) -> Vec<&Path> {
        self.files.iter().map(PathBuf::as_path).collect()
    }
}
