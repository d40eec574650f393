//! One clock for several recordings, by events that more than one of them saw.
//!
//! Each recording's clock is taken to run at the right rate and to be off by a constant. The offset
//! is the weighted mean over the shared events; when they disagree by more than their errors allow,
//! its error grows with the disagreement and the worst event is named.

use crate::measured::{Measured, weighted_mean};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// What happened.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum EventKind {
    /// The boat is let go.
    Launch,
    /// The throttle is cut.
    ThrottleCut,
    /// The boat passes the microphone, camera or line.
    Pass,
    /// Anything the builder marked.
    Marked,
}

/// An event on a recording's own clock.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Event {
    /// What happened.
    pub kind: EventKind,
    /// Number among its kind: the second pass is 2 in every recording.
    pub number: u32,
    /// When, s.
    pub time_s: Measured,
}

/// The offset between two clocks.
#[derive(Debug, Clone, PartialEq)]
pub struct Offset {
    /// Add this to the second recording's times to get the first's, s.
    pub offset_s: Measured,
    /// Events both saw.
    pub shared: usize,
    /// The event that fits worst and by how many of its errors, with three or more.
    pub worst: Option<(EventKind, u32, f64)>,
}

/// Why two clocks cannot be joined.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum ClockError {
    /// Nothing in common.
    #[error("the two recordings share no event; mark one that both show")]
    NothingShared,
    /// An event without an error.
    #[error("every event needs an uncertainty above zero")]
    NoUncertainty,
}

/// Offset of `second` against `first`.
///
/// # Errors
/// [`ClockError`].
pub fn offset(first: &[Event], second: &[Event]) -> Result<Offset, ClockError> {
    let pairs: Vec<(Event, Measured)> = first
        .iter()
        .filter_map(|a| {
            let b = second
                .iter()
                .find(|b| b.kind == a.kind && b.number == a.number)?;
            let sigma = a.time_s.sigma.hypot(b.time_s.sigma);
            Some((*a, Measured::new(a.time_s.value - b.time_s.value, sigma)))
        })
        .collect();
    if pairs.is_empty() {
        return Err(ClockError::NothingShared);
    }
    let parts: Vec<Measured> = pairs.iter().map(|p| p.1).collect();
    let offset_s = weighted_mean(&parts).ok_or(ClockError::NoUncertainty)?;
    let off = |p: &(Event, Measured)| (p.1.value - offset_s.value).abs() / p.1.sigma;
    let worst = pairs
        .iter()
        .max_by(|a, b| off(a).total_cmp(&off(b)))
        .filter(|_| pairs.len() >= 3)
        .map(|p| (p.0.kind, p.0.number, off(p)));
    Ok(Offset {
        offset_s,
        shared: pairs.len(),
        worst,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn event(kind: EventKind, number: u32, time: f64, sigma: f64) -> Event {
        Event {
            kind,
            number,
            time_s: Measured::new(time, sigma),
        }
    }

    #[test]
    fn shared_events_give_the_offset() {
        use EventKind::{Launch, Pass, ThrottleCut};
        let sound = [
            event(Launch, 1, 10.0, 0.3),
            event(Pass, 1, 18.02, 0.03),
            event(Pass, 2, 30.98, 0.03),
        ];
        let track = [
            event(Pass, 1, 5.0, 0.04),
            event(Pass, 2, 18.0, 0.04),
            event(ThrottleCut, 1, 40.0, 0.1),
        ];
        let o = offset(&sound, &track).unwrap();
        // 13.02 and 12.98, each 0.05: mean 13.00, 0.05 / sqrt 2.
        assert_eq!(o.shared, 2);
        assert!((o.offset_s.value - 13.0).abs() < 1e-9);
        assert!((o.offset_s.sigma - 0.05 / 2f64.sqrt()).abs() < 1e-9);
    }

    #[test]
    fn disagreement_widens_and_names_the_worst() {
        use EventKind::Pass;
        let a = [1, 2, 3].map(|n| event(Pass, n, 10.0 * f64::from(n), 0.01));
        let mut b = [1, 2, 3].map(|n| event(Pass, n, 10.0 * f64::from(n) - 4.0, 0.01));
        b[2].time_s.value += 1.0;
        let o = offset(&a, &b).unwrap();
        assert_eq!(o.worst.map(|w| w.1), Some(3));
        assert!(o.offset_s.sigma > 0.2);
        assert_eq!(offset(&a, &[]), Err(ClockError::NothingShared));
    }
}
