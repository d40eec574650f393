//! Recordings of one outing on one clock, by what more than one of them saw.
//!
//! The recording with the most events is held against all others. Which event of one is which of the other is not
//! told by their numbers: a phone may have been started late, a coasting boat may count as a throttle cut. So every
//! pair of events of a kind proposes an offset, and so do the two clocks as they stand, by the time of day where
//! both know it. An offset counts for the events it brings together, against those that should have a partner and
//! have none, and for how well speed and turns, current or throttle go up and down together under it. The clocks
//! as they stand are moved only for an offset that is clearly better: two clocks that are right stay where they are.
//! Recordings that know the time of day need no events; a logger's clock is trusted to two seconds (judgement).

use super::analysis::Analysis;
use super::measured::{Clock, RecordingKind};
use crate::clock::{ClockError, Event, EventKind};
use crate::measured::{Measured, weighted_mean};

/// How far apart two devices' clocks may be, s. Judgement.
const DEVICE_CLOCK_S: f64 = 2.0;
/// Events further apart than this many of their errors do not belong together.
const AGREE: f64 = 4.0;
/// What an event without its partner takes from an offset, where one that has its partner gives 1.
const ALONE: f64 = 0.5;
/// What two courses that go up and down together give to an offset.
const COURSES: f64 = 2.0;
/// An offset must be better by this than the clocks as they stand: where neither, where both know the time of day.
const CLEARLY: (f64, f64) = (0.75, 2.5);
/// Courses that go together so well need no event, and then tell the offset to so many seconds (judgement).
const TOGETHER: (f64, f64) = (0.6, 1.0);
/// Courses are compared every so often, s, over at least so long, s.
const EVERY_S: f64 = 0.5;
const LONG_S: f64 = 10.0;
/// Courses that follow the throttle, by the names of their traces.
const FOLLOWS: [&str; 4] = ["shaft", "throttle", "current", "speed"];

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
    let device = base
        .start_unix_s
        .zip(other.start_unix_s)
        .map(|(a, b)| b - a);
    let tried = tried(base, other, device);
    let stands = tried
        .iter()
        .filter(|t| t.stands && (t.shared() > 0 || device.is_some() || t.courses > TOGETHER.0))
        .max_by(|a, b| a.score.total_cmp(&b.score));
    // The first of equals: candidates come in the order of the events.
    let best = tried
        .iter()
        .filter(|t| t.shared() > 0)
        .reduce(|a, b| if b.score > a.score + 1e-9 { b } else { a });
    let clearly = if device.is_some() {
        CLEARLY.1
    } else {
        CLEARLY.0
    };
    let chosen = match (stands, best) {
        (Some(stands), Some(best)) if best.score > stands.score + clearly => best,
        (Some(stands), _) => stands,
        (None, Some(best)) => best,
        (None, None) => return Err(ClockError::NothingShared),
    };
    if chosen.shared() == 0 {
        let (sigma, words) = match device {
            Some(_) => (
                DEVICE_CLOCK_S,
                "by the time of day in both; the devices' clocks may differ",
            ),
            None => (
                TOGETHER.1,
                "as the two clocks stand: their courses go up and down together",
            ),
        };
        let offset_s = Measured::new(chosen.offset_s, sigma);
        return Ok(clock(offset_s, 0, Some(words.to_owned())));
    }
    let as_well = tried
        .iter()
        .filter(|t| t.shared() > 0 && (t.score - chosen.score).abs() < 0.25)
        .filter(|t| (t.offset_s - chosen.offset_s).abs() > 1.0)
        .count();
    let parts: Vec<Measured> = chosen.pairs.iter().map(|p| p.between).collect();
    let offset_s = weighted_mean(&parts).ok_or(ClockError::NoUncertainty)?;
    Ok(clock(offset_s, chosen.shared(), remark(chosen, as_well)))
}

/// Two events taken for one.
struct Pair {
    kind: EventKind,
    /// Numbers in the base and in the other.
    numbers: (u32, u32),
    /// What the one says of the offset, s.
    between: Measured,
}

/// An offset tried, s to add to the other recording's times.
struct Tried {
    offset_s: f64,
    pairs: Vec<Pair>,
    /// Events of either that the other should have seen and has not.
    alone: Vec<(EventKind, f64)>,
    /// The clocks as they stand.
    stands: bool,
    /// Correlation of courses that follow the throttle, 0 where there are none.
    courses: f64,
    score: f64,
}

impl Tried {
    fn shared(&self) -> usize {
        self.pairs.len()
    }
}

fn tried(base: &Analysis, other: &Analysis, device: Option<f64>) -> Vec<Tried> {
    let (first, second) = (base.clock_events(), other.clock_events());
    let mut all = vec![try_at(base, other, device.unwrap_or(0.0), device.is_some())];
    all[0].stands = true;
    for a in &first {
        for b in second.iter().filter(|b| may_be(a, b)) {
            let offset_s = a.time_s.value - b.time_s.value;
            let mut one = try_at(base, other, offset_s, false);
            // Clocks of devices that know the time of day are right to within a few seconds.
            one.stands = device.is_some_and(|d| (d - offset_s).abs() <= 2.0 * DEVICE_CLOCK_S);
            all.push(one);
        }
    }
    all
}

/// A mark is the one with the same number; other events are counted by each recording on its own.
fn may_be(a: &Event, b: &Event) -> bool {
    a.kind == b.kind && (a.kind != EventKind::Marked || a.number == b.number)
}

fn try_at(base: &Analysis, other: &Analysis, offset_s: f64, loose: bool) -> Tried {
    let (first, second) = (base.clock_events(), other.clock_events());
    let slack = if loose { DEVICE_CLOCK_S } else { 0.0 };
    let mut pairs: Vec<Pair> = Vec::new();
    let mut taken = vec![false; second.len()];
    let mut alone = Vec::new();
    for a in &first {
        let off = |b: &Event| (a.time_s.value - b.time_s.value - offset_s).abs();
        let fits = |b: &Event| {
            let sigma = a.time_s.sigma.hypot(b.time_s.sigma);
            may_be(a, b) && off(b) <= AGREE * sigma + slack
        };
        let each = second
            .iter()
            .enumerate()
            .filter(|(i, b)| !taken[*i] && fits(b));
        match each.min_by(|x, y| off(x.1).total_cmp(&off(y.1))) {
            Some((i, b)) => {
                taken[i] = true;
                pairs.push(Pair {
                    kind: a.kind,
                    numbers: (a.number, b.number),
                    between: Measured::new(
                        a.time_s.value - b.time_s.value,
                        a.time_s.sigma.hypot(b.time_s.sigma),
                    ),
                });
            }
            None if sees(other, &second, a.kind, a.time_s.value - offset_s) => {
                alone.push((a.kind, a.time_s.value));
            }
            None => {}
        }
    }
    for (b, _) in second.iter().zip(&taken).filter(|(_, taken)| !**taken) {
        let at = b.time_s.value + offset_s;
        if sees(base, &first, b.kind, at) {
            alone.push((b.kind, at));
        }
    }
    let courses = courses(base, other, offset_s).unwrap_or(0.0);
    Tried {
        score: pairs.len() as f64 - ALONE * alone.len() as f64 + COURSES * courses,
        offset_s,
        pairs,
        alone,
        stands: false,
        courses,
    }
}

/// Whether a recording was running then and notes events of this kind at all.
fn sees(recording: &Analysis, events: &[Event], kind: EventKind, at_s: f64) -> bool {
    let running = recording
        .span_s
        .is_some_and(|(from, to)| (from..=to).contains(&at_s));
    running && events.iter().any(|e| e.kind == kind)
}

/// Correlation of two courses that follow the throttle, one of each recording, over the time both ran.
fn courses(base: &Analysis, other: &Analysis, offset_s: f64) -> Option<f64> {
    let course = |a: &Analysis| {
        // What is heard rises and falls with the boat's course too.
        if !matches!(a.kind, RecordingKind::Track | RecordingKind::Log) {
            return None;
        }
        let named = FOLLOWS
            .iter()
            .find_map(|n| a.traces.iter().find(|t| t.name == *n));
        named.map(|t| t.points.iter().map(|p| (p.0, p.1)).collect::<Vec<_>>())
    };
    let (a, b) = (course(base)?, course(other)?);
    let from = a.first()?.0.max(b.first()?.0 + offset_s);
    let to = a.last()?.0.min(b.last()?.0 + offset_s);
    if to - from < LONG_S {
        return None;
    }
    let steps = ((to - from) / EVERY_S) as usize;
    let pairs: Vec<(f64, f64)> = (0..=steps)
        .map(|i| from + EVERY_S * i as f64)
        .filter_map(|t| Some((at(&a, t)?, at(&b, t - offset_s)?)))
        .collect();
    let n = pairs.len() as f64;
    let mean = |of: fn(&(f64, f64)) -> f64| pairs.iter().map(of).sum::<f64>() / n;
    let (x, y) = (mean(|p| p.0), mean(|p| p.1));
    let sum = |of: &dyn Fn(&(f64, f64)) -> f64| pairs.iter().map(of).sum::<f64>();
    let both = sum(&|p| (p.0 - x) * (p.1 - y));
    let (own, its) = (sum(&|p| (p.0 - x).powi(2)), sum(&|p| (p.1 - y).powi(2)));
    let whole = (own * its).sqrt();
    (whole > 0.0).then(|| both / whole)
}

/// A course at a time: the last point before it.
fn at(course: &[(f64, f64)], t: f64) -> Option<f64> {
    let after = course.partition_point(|p| p.0 <= t);
    after
        .checked_sub(1)
        .map(|i| course[i].1)
        .filter(|v| v.is_finite())
}

const fn word(kind: EventKind) -> &'static str {
    match kind {
        EventKind::Launch => "launch",
        EventKind::ThrottleCut => "throttle cut",
        EventKind::Pass => "pass",
        EventKind::Marked => "mark",
    }
}

fn remark(chosen: &Tried, as_well: usize) -> Option<String> {
    let mut words = Vec::new();
    let passes = chosen.pairs.iter().find(|p| p.kind == EventKind::Pass);
    if let Some(p) = passes.filter(|p| p.numbers.0 != p.numbers.1) {
        words.push(format!(
            "its pass {} was taken for number {} of the other",
            p.numbers.1, p.numbers.0
        ));
    }
    for (kind, at_s) in chosen.alone.iter().take(2) {
        words.push(format!(
            "the {} at {at_s:.1} s is in one of them only",
            word(*kind)
        ));
    }
    if as_well > 0 {
        words.push(format!(
            "{as_well} other way{} of pairing the events would fit as well: mark one event in both",
            if as_well == 1 { "" } else { "s" }
        ));
    } else if chosen.shared() == 1 {
        words.push("one event only: nothing checks it".to_owned());
    }
    (!words.is_empty()).then(|| words.join("; "))
}

#[cfg(test)]
mod tests {
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
        assert!(c.remark.as_deref().unwrap().contains("for number 2"));
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

    /// A boat driven in bursts: speed as the track has it, turns as the log has them, `late` s later on its clock.
    fn bursts(kind: RecordingKind, late: f64, coasts: bool) -> Analysis {
        let name = if kind == RecordingKind::Track {
            "track.gpx"
        } else {
            "log.csv"
        };
        let mut a = Analysis::of(name, kind);
        let on = [(5.0, 20.0), (28.0, 51.0), (60.0, 71.0)];
        let driving = |t: f64| on.iter().any(|(from, to)| (*from..*to).contains(&t));
        let points: Vec<(f64, f64, f64)> = (0..850)
            .map(|i| 0.1 * f64::from(i))
            .map(|t| (t - late, if driving(t) { 20.0 } else { 0.5 }, 0.1))
            .collect();
        a.span_s = Some((-late, 85.0 - late));
        for (n, (from, to)) in on.iter().enumerate() {
            a.happened(EventKind::Launch, Measured::new(from - late, 0.2));
            // A track does not count a boat that coasts to rest as cut.
            if !(coasts && n == 0) {
                a.happened(EventKind::ThrottleCut, Measured::new(to - late, 0.2));
            }
        }
        a.trace(
            if kind == RecordingKind::Track {
                "speed"
            } else {
                "shaft"
            },
            crate::outing::Unit::MetrePerSecond,
            points,
        );
        a
    }

    /// Joined by number, the log's first cut at 20 s would be the track's at 51 s.
    #[test]
    fn clocks_that_are_right_are_not_moved_for_a_wrong_throttle_cut() {
        let offset = |late: f64| {
            let all = [
                bursts(RecordingKind::Track, 0.0, true),
                bursts(RecordingKind::Log, late, false),
            ];
            let (clocks, apart) = together(&all);
            assert!(apart.is_empty());
            let c = &clocks[0];
            // The log has the most events; its offset against the track is the other way round.
            (if c.recording == "log.csv" { 1.0 } else { -1.0 }) * c.offset_s.value
        };
        assert!(offset(0.0).abs() < 0.2, "{}", offset(0.0));
        assert!((offset(17.0) - 17.0).abs() < 0.2, "{}", offset(17.0));
    }

    /// One cut in each, 23 s apart, on clocks that both know the time of day: they stay.
    #[test]
    fn a_single_stray_event_does_not_move_the_time_of_day() {
        let one = |file: &str, cut_s: f64| {
            let mut a = Analysis::of(file, RecordingKind::Log);
            a.start_unix_s = Some(1e9);
            a.span_s = Some((0.0, 80.0));
            a.happened(EventKind::ThrottleCut, Measured::new(cut_s, 0.3));
            a
        };
        let (clocks, _) = together(&[one("track.gpx", 58.0), one("log.csv", 35.0)]);
        assert!(clocks[0].offset_s.value.abs() < 1e-9, "{:?}", clocks[0]);
        assert!((clocks[0].offset_s.sigma - DEVICE_CLOCK_S).abs() < 1e-9);
    }

    #[test]
    fn a_pass_that_may_be_any_of_three_says_so() {
        let track = recording("track.gpx", &[8.0, 26.3, 44.5], None);
        let sound = recording("bank.wav", &[5.3], None);
        let (clocks, _) = together(&[track, sound]);
        let c = &clocks[0];
        assert!((c.offset_s.value - 2.7).abs() < 1e-9, "{c:?}");
        assert!(
            c.remark.as_deref().unwrap().contains("2 other ways"),
            "{c:?}"
        );
    }
}
