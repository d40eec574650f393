//! Launch and throttle cut from a course that follows the throttle: rpm, current, throttle, speed.
//!
//! The running level is the 90th percentile of the course. A launch is where a rise from below a
//! quarter of it to above half of it begins; a throttle cut is where a fall from above half of it to
//! below a quarter begins, when the fall takes no longer than `longest_s`. Judgement, no source: the
//! limits only have to tell driving from not driving.

use super::analysis::Analysis;
use crate::clock::EventKind;
use crate::measured::{Measured, quantile};

/// Parts of the running level.
const OFF: f64 = 0.25;
const ON: f64 = 0.5;
const NEARLY: f64 = 0.9;
/// Without a reading for this long the course is broken, s.
const GAP_S: f64 = 1.0;

/// How a course follows the throttle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Follows {
    /// A fall that takes longer is no cut, s.
    pub longest_s: f64,
    /// How far the beginning of a rise or fall may be from the throttle's, s.
    pub lag_s: f64,
}

impl Follows {
    /// Throttle, current and rpm: at once.
    pub const AT_ONCE: Self = Self {
        longest_s: 1.0,
        lag_s: 0.05,
    };
    /// Speed: a boat gathers and loses way slowly.
    pub const SLOWLY: Self = Self {
        longest_s: 4.0,
        lag_s: 0.3,
    };
}

/// Notes launches and throttle cuts of a course of (time, value) in an analysis.
pub fn throttle_events(into: &mut Analysis, course: &[(f64, f64)], how: Follows) {
    let values: Vec<f64> = course
        .iter()
        .map(|p| p.1)
        .filter(|v| v.is_finite())
        .collect();
    let Some(running) = quantile(&values, 0.9).filter(|r| *r > 0.0) else {
        return;
    };
    let course: Vec<(f64, f64)> = course
        .iter()
        .filter(|p| p.1.is_finite())
        .map(|p| (p.0, p.1 / running))
        .collect();
    for (kind, time_s) in changes(&course, how) {
        into.happened(kind, time_s);
    }
}

fn changes(course: &[(f64, f64)], how: Follows) -> Vec<(EventKind, Measured)> {
    let mut found = Vec::new();
    // Index of the last point clearly off, and of the last nearly at the level before a fall.
    let (mut off, mut high): (Option<usize>, Option<usize>) = (None, None);
    let mut driving = course.first().is_some_and(|p| p.1 >= ON);
    for i in 0..course.len() {
        let (t, v) = course[i];
        if i > 0 && t - course[i - 1].0 > GAP_S {
            (off, high) = (None, None);
            driving = v >= ON;
        }
        if v < OFF {
            if let (true, Some(h)) = (driving, high)
                && t - course[h].0 <= how.longest_s
            {
                found.push((EventKind::ThrottleCut, when(course, h, how)));
            }
            driving = false;
            off = Some(i);
        } else if v >= ON {
            if let (false, Some(o)) = (driving, off) {
                found.push((EventKind::Launch, when(course, o, how)));
            }
            driving = true;
            if v >= NEARLY || high.is_none() {
                high = Some(i);
            }
        }
    }
    found
}

/// Just after a point: the change begins between it and the next.
fn when(course: &[(f64, f64)], at: usize, how: Follows) -> Measured {
    let next = course.get(at + 1).unwrap_or(&course[at]).0;
    let half = 0.5 * (next - course[at].0);
    Measured::new(course[at].0 + half, how.lag_s.hypot(half))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_launch_and_a_cut_are_found_and_a_slow_fall_is_none() {
        let drive = |t: f64| match t {
            t if t < 2.0 => 0.0,
            t if t < 2.3 => (t - 2.0) / 0.3,
            t if t < 12.0 => 1.0,
            t if t < 12.2 => 1.0 - (t - 12.0) / 0.2,
            t if t < 20.0 => 0.0,
            t if t < 21.0 => t - 20.0,
            t => 1.0 - 0.1 * (t - 21.0),
        };
        let course: Vec<_> = (0..1500)
            .map(|i| f64::from(i) * 0.02)
            .map(|t| (t, 30.0 * drive(t)))
            .collect();
        let found = changes(
            &course.iter().map(|p| (p.0, p.1 / 30.0)).collect::<Vec<_>>(),
            Follows::AT_ONCE,
        );
        let kinds: Vec<_> = found.iter().map(|f| f.0).collect();
        use EventKind::{Launch, ThrottleCut};
        assert_eq!(kinds, [Launch, ThrottleCut, Launch]);
        for (f, truth) in found.iter().zip([2.0, 12.0, 20.0]) {
            assert!(
                (f.1.value - truth).abs() < 3.0 * f.1.sigma + 0.1,
                "{f:?} {truth}"
            );
        }
    }

    #[test]
    fn a_recording_that_begins_under_way_has_no_launch() {
        let course: Vec<_> = (0..100).map(|i| (f64::from(i) * 0.1, 1.0)).collect();
        assert!(changes(&course, Follows::AT_ONCE).is_empty());
    }
}
