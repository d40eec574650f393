//! Recordings of one outing on one clock, by what more than one of them saw.
//!
//! The recording with the most events is held against all others. A phone that was started late
//! counts its first pass as number one when it was the second: where that makes the times agree
//! better, the numbers are shifted, and the answer says so. Recordings that know the time of day need
//! no events; a logger's clock is trusted to two seconds (judgement).

use super::analysis::Analysis;
use super::measured::Clock;
use crate::clock::{ClockError, Event, EventKind, Offset, offset};
use crate::measured::Measured;

/// How far apart two devices' clocks may be, s. Judgement.
const DEVICE_CLOCK_S: f64 = 2.0;
/// Passes a recording may have missed at its start.
const MOST_MISSED: i64 = 4;
/// Events that disagree by more than this many errors do not belong together.
const AGREE: f64 = 4.0;

/// A recording that could not be joined, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct Apart {
    /// File name.
    pub recording: String,
    /// Why.
    pub why: String,
}

/// Every recording's clock against the one with the most events.
pub fn together(all: &[Analysis]) -> (Vec<Clock>, Vec<Apart>) {
    let mut clocks = Vec::new();
    let mut apart = Vec::new();
    let most = all
        .iter()
        .max_by_key(|a| (a.events.len(), a.start_unix_s.is_some()));
    let Some(base) = most else {
        return (clocks, apart);
    };
    for other in all.iter().filter(|a| a.file != base.file) {
        match join(base, other) {
            Ok(clock) => clocks.push(clock),
            Err(e) => apart.push(Apart {
                recording: other.file.clone(),
                why: e.to_string(),
            }),
        }
    }
    (clocks, apart)
}

fn join(base: &Analysis, other: &Analysis) -> Result<Clock, ClockError> {
    let clock = |offset_s, shared, remark| Clock {
        recording: other.file.clone(),
        against: base.file.clone(),
        offset_s,
        shared,
        remark,
    };
    let (first, second) = (base.clock_events(), other.clock_events());
    match shifted(&first, &second) {
        Ok((o, shift)) => {
            let remark = remark(&o, shift);
            Ok(clock(o.offset_s, o.shared, remark))
        }
        Err(e) => {
            let (Some(a), Some(b)) = (base.start_unix_s, other.start_unix_s) else {
                return Err(e);
            };
            let words = "by the time of day in both; the devices' clocks may differ".to_owned();
            Ok(clock(Measured::new(b - a, DEVICE_CLOCK_S), 0, Some(words)))
        }
    }
}

/// The best offset over shifts of the numbering; no shift is preferred where it fits.
fn shifted(first: &[Event], second: &[Event]) -> Result<(Offset, i64), ClockError> {
    let plain = offset(first, second);
    if let Ok(o) = &plain
        && (fits(o, first, second, 0) || first.len().min(second.len()) < 2)
    {
        return plain.map(|o| (o, 0));
    }
    let mut best: Option<(Offset, i64)> = None;
    for shift in (-MOST_MISSED..=MOST_MISSED).filter(|s| *s != 0) {
        let Ok(o) = offset(first, &renumbered(second, shift)) else {
            continue;
        };
        if o.shared >= 2
            && fits(&o, first, second, shift)
            && best.as_ref().is_none_or(|b| b.0.shared < o.shared)
        {
            best = Some((o, shift));
        }
    }
    match best {
        Some(b) => Ok(b),
        None => plain.map(|o| (o, 0)),
    }
}

/// Passes of the second recording counted from another.
fn renumbered(events: &[Event], shift: i64) -> Vec<Event> {
    let one = |e: &Event| {
        let number = i64::from(e.number) + if e.kind == EventKind::Pass { shift } else { 0 };
        let number = u32::try_from(number).ok().filter(|n| *n > 0)?;
        Some(Event { number, ..*e })
    };
    events.iter().filter_map(one).collect()
}

/// Every shared event agrees with the offset.
fn fits(o: &Offset, first: &[Event], second: &[Event], shift: i64) -> bool {
    renumbered(second, shift).iter().all(|b| {
        let same = first
            .iter()
            .find(|a| a.kind == b.kind && a.number == b.number);
        same.is_none_or(|a| {
            let off = a.time_s.value - b.time_s.value - o.offset_s.value;
            off.abs() <= AGREE * a.time_s.sigma.hypot(b.time_s.sigma)
        })
    })
}

fn remark(o: &Offset, shift: i64) -> Option<String> {
    let mut words = Vec::new();
    if shift != 0 {
        words.push(format!(
            "its first pass was taken for number {} of the other",
            1 + shift
        ));
    }
    if let Some((kind, number, errors)) = o.worst.filter(|w| w.2 > AGREE) {
        let kind = match kind {
            EventKind::Launch => "launch",
            EventKind::ThrottleCut => "throttle cut",
            EventKind::Pass => "pass",
            EventKind::Marked => "mark",
        };
        words.push(format!(
            "{kind} {number} is off by {errors:.0} times its error"
        ));
    }
    if o.shared == 1 {
        words.push("one event only: nothing checks it".to_owned());
    }
    (!words.is_empty()).then(|| words.join("; "))
}

#[cfg(test)]
mod tests {
    use super::super::measured::RecordingKind;
    use super::*;

    fn recording(file: &str, passes: &[f64], start_unix_s: Option<f64>) -> Analysis {
        let mut a = Analysis::of(file, RecordingKind::Sound);
        a.start_unix_s = start_unix_s;
        for t in passes {
            a.happened(EventKind::Pass, Measured::new(*t, 0.05));
        }
        a
    }

    #[test]
    fn a_recording_started_late_is_joined_by_its_intervals() {
        let track = recording("track.gpx", &[10.0, 17.5, 26.1, 33.0], None);
        let sound = recording("late.wav", &[5.5, 14.1, 21.0], None);
        let (clocks, apart) = together(&[sound, track]);
        assert!(apart.is_empty());
        let c = &clocks[0];
        assert_eq!((c.against.as_str(), c.shared), ("track.gpx", 3));
        assert!((c.offset_s.value - 12.0).abs() < 1e-9, "{c:?}");
        assert!(c.remark.as_deref().unwrap().contains("number 2"));
    }

    #[test]
    fn the_time_of_day_joins_what_shares_no_event() {
        let track = recording("track.gpx", &[10.0], Some(1e9));
        let log = recording("log.csv", &[], Some(1e9 + 3.0));
        let note = recording("note.wav", &[], None);
        let (clocks, apart) = together(&[track, log, note]);
        assert_eq!((clocks[0].offset_s.value, clocks[0].shared), (3.0, 0));
        assert_eq!(apart[0].recording, "note.wav");
    }
}
