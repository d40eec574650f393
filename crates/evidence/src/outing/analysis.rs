//! What one recording came to: the same shape for every kind, so that a terminal, a page and
//! `measured.json` show the same numbers.

use super::measured::{MeasuredValue, RecordedEvent, RecordingKind, Source, Unit};
use crate::clock::{Event, EventKind};
use crate::measured::Measured;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Most points kept of a trace; more are thinned to the extremes of each stretch.
const MOST_POINTS: usize = 2400;

/// One recording, measured.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Analysis {
    /// File name of the recording.
    pub file: String,
    /// What it is.
    pub kind: RecordingKind,
    /// First and last moment on its own clock, s.
    pub span_s: Option<(f64, f64)>,
    /// Start, s since 1970 UTC, where the recording knows it.
    pub start_unix_s: Option<f64>,
    /// Sentences for the builder, most important first.
    pub says: Vec<String>,
    /// Faults, assumptions, what was passed over.
    pub remarks: Vec<String>,
    /// What was measured.
    pub quantities: Vec<MeasuredValue>,
    /// What happened.
    pub events: Vec<RecordedEvent>,
    /// Courses against time, for plots.
    pub traces: Vec<Trace>,
    /// Places on the plane, m east and north of the first fix; empty without a track.
    pub way_m: Vec<(f64, f64)>,
}

/// A course against time.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = RecordedTrace)]
pub struct Trace {
    /// What it shows.
    pub name: String,
    /// Unit of its values.
    pub unit: Unit,
    /// Time on the recording's clock (s), value, standard uncertainty (0 where not known).
    pub points: Vec<(f64, f64, f64)>,
}

impl Analysis {
    /// Nothing measured yet.
    pub fn of(file: &str, kind: RecordingKind) -> Self {
        Self {
            file: file.to_owned(),
            kind,
            span_s: None,
            start_unix_s: None,
            says: Vec::new(),
            remarks: Vec::new(),
            quantities: Vec::new(),
            events: Vec::new(),
            traces: Vec::new(),
            way_m: Vec::new(),
        }
    }

    /// A source within this recording.
    pub fn source(&self, method: &str) -> Source {
        Source {
            recording: self.file.clone(),
            method: method.to_owned(),
            which: None,
        }
    }

    /// Notes an event; events of a kind are numbered in the order they are noted.
    pub fn happened(&mut self, kind: EventKind, time_s: Measured) {
        let before = self.events.iter().filter(|e| e.kind == kind).count();
        self.events.push(RecordedEvent {
            recording: self.file.clone(),
            kind,
            number: before as u32 + 1,
            time_s,
        });
    }

    /// Adds a trace, thinned.
    pub fn trace(&mut self, name: &str, unit: Unit, points: Vec<(f64, f64, f64)>) {
        if points.len() > 1 {
            self.traces.push(Trace {
                name: name.to_owned(),
                unit,
                points: thinned(points),
            });
        }
    }

    /// Its events for [`crate::clock`].
    pub fn clock_events(&self) -> Vec<Event> {
        let one = |e: &RecordedEvent| Event {
            kind: e.kind,
            number: e.number,
            time_s: e.time_s,
        };
        self.events.iter().map(one).collect()
    }
}

/// The lowest and highest of each stretch, so that no peak is lost.
fn thinned(points: Vec<(f64, f64, f64)>) -> Vec<(f64, f64, f64)> {
    if points.len() <= MOST_POINTS {
        return points;
    }
    let stretch = points.len().div_ceil(MOST_POINTS / 2);
    let mut kept = Vec::with_capacity(MOST_POINTS);
    for part in points.chunks(stretch) {
        let by = |a: &&(f64, f64, f64), b: &&(f64, f64, f64)| a.1.total_cmp(&b.1);
        let (Some(low), Some(high)) = (part.iter().min_by(by), part.iter().max_by(by)) else {
            continue;
        };
        let (first, second) = if low.0 <= high.0 {
            (low, high)
        } else {
            (high, low)
        };
        kept.push(*first);
        if first.0 < second.0 {
            kept.push(*second);
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thinning_keeps_every_peak() {
        let mut points: Vec<_> = (0..100_000).map(|i| (f64::from(i), 1.0, 0.0)).collect();
        points[77_777].1 = 9.0;
        let thin = thinned(points);
        assert!(thin.len() <= MOST_POINTS);
        assert!(thin.contains(&(77_777.0, 9.0, 0.0)));
        assert!(thin.windows(2).all(|w| w[1].0 > w[0].0));
    }
}
