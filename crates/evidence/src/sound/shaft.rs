//! Which tones belong to one shaft, and what they say about its rpm.
//!
//! Tones of one shaft keep whole-number ratios while their frequencies wander. Those that do are
//! put together on the highest base frequency that explains them all. What the base *is* the ratios
//! alone cannot always tell: a propeller of two blades heard only at its blade rate and that rate's
//! overtones sounds like a shaft at twice the rpm. So every reading that fits is listed, with what
//! it assumes, and [`Rotation::settled`] is the one that what is known of the boat leaves.

use super::tone::Tone;
use crate::measured::{Measured, median, robust_sigma, weighted_mean};

/// Largest whole number in a ratio.
const LARGEST_ORDER: u32 = 12;
/// Largest denominator in a ratio: beyond, chance agreements are too many.
const LARGEST_PART: u32 = 4;
/// Frames in which two tones must be heard together.
const FEWEST_TOGETHER: usize = 4;
/// A ratio may differ from whole numbers by this much, besides its own error.
const RATIO_SLACK: f64 = 0.001;
/// And its own error is taken for no more than this part: two motors may differ by little more.
const RATIO_DOUBT: f64 = 0.004;
/// A second shaft must be heard for longer, s. Judgement: birds and gusts are heard more briefly.
const BRIEF_S: f64 = 0.7;
/// Part of the time in which a tone must keep its ratio with a shaft to be one of its own.
const MOSTLY: f64 = 0.5;
/// Ratios that scatter more than this many times their error belong to different shafts,
const MOST_SCATTER: f64 = 4.0;
/// unless they scatter by less than this part. Judgement, no source.
const STEADY: f64 = 0.002;

/// What is known of the drive.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Drive {
    /// Blades of the propeller.
    pub blades: Option<u32>,
    /// Pole pairs of the motor (half its magnets), on the propeller's shaft.
    pub pole_pairs: Option<u32>,
    /// Lowest and highest rpm that can be.
    pub rpm_range: Option<(f64, f64)>,
}

/// A frequency heard at a time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Heard {
    /// Time, s on the recording's clock.
    pub time_s: f64,
    /// Frequency at the microphone, Hz.
    pub frequency_hz: Measured,
}

/// A tone's place in a family.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Member {
    /// Index among the tones given.
    pub tone: usize,
    /// Its frequency over the base's.
    pub order: u32,
}

/// A way to read the base frequency.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// The base is this many times the shaft's frequency.
    pub times_shaft: u32,
    /// What the base then is.
    pub base_is: BaseIs,
}

/// What a base frequency may be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BaseIs {
    /// Once a turn of the shaft.
    ShaftRate,
    /// Once a blade.
    BladeRate,
    /// Once a pole pair: the motor's electrical frequency.
    ElectricalRate,
}

/// How the reading was settled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Settled {
    /// Tones both at and between multiples of the blade number: the ratios tell.
    ByRatios,
    /// Only one reading lies in the rpm range given.
    ByRange,
    /// The loudest tones of a propeller are its blade rate and overtones: an assumption.
    AssumedBladeRate,
    /// Nothing decides.
    Open,
}

/// A family of tones that turn together.
#[derive(Debug, Clone, PartialEq)]
pub struct Rotation {
    /// Tones and their orders, loudest first.
    pub members: Vec<Member>,
    /// Base frequency against time, all members together.
    pub base: Vec<Heard>,
    /// Readings that fit, likeliest first.
    pub readings: Vec<Reading>,
    /// How far the first reading is to be believed.
    pub settled: Settled,
}

impl Rotation {
    /// Shaft rpm against time under the first reading; not corrected for a pass.
    pub fn rpm(&self) -> Vec<(f64, Measured)> {
        let per_base = self.readings.first().map_or(1, |r| r.times_shaft);
        let factor = 60.0 / f64::from(per_base);
        self.base
            .iter()
            .map(|h| (h.time_s, h.frequency_hz.scaled(factor)))
            .collect()
    }
}

/// Sorts tones into rotations, loudest evidence first. Two motors give two.
pub fn rotations(tones: &[Tone], drive: &Drive) -> Vec<Rotation> {
    let mut free: Vec<usize> = (0..tones.len()).collect();
    let mut found = Vec::new();
    // The leading tone is the one that gathers most, so that ratios to it are simple.
    while let Some(family) = free
        .iter()
        .map(|lead| family(tones, &free, *lead, drive))
        .max_by_key(|f| (f.len(), std::cmp::Reverse(f[0].tone)))
    {
        free.retain(|i| family.iter().all(|m| m.tone != *i));
        found.push(rotation(tones, family, drive));
    }
    sorted_out(found)
}

/// Without what is no shaft of its own: what lasts too briefly to be one, and tones that keep a whole ratio with
/// a shaft already found most of the time, but were led astray where they crossed others.
fn sorted_out(found: Vec<Rotation>) -> Vec<Rotation> {
    let mut kept: Vec<Rotation> = Vec::new();
    for r in found {
        let span_s = match (r.base.first(), r.base.last()) {
            (Some(a), Some(b)) => b.time_s - a.time_s,
            _ => 0.0,
        };
        let first = kept.is_empty();
        if first || span_s >= BRIEF_S && !kept.iter().any(|k| follows(&r, k)) {
            kept.push(r);
        }
    }
    kept
}

/// Whether a rotation keeps a whole ratio with another most of the time.
fn follows(one: &Rotation, other: &Rotation) -> bool {
    let ratios: Vec<f64> = one
        .base
        .iter()
        .filter_map(|h| {
            let at = |x: &Heard| x.time_s.total_cmp(&h.time_s);
            let i = other.base.binary_search_by(at).ok()?;
            Some(h.frequency_hz.value / other.base[i].frequency_hz.value)
        })
        .collect();
    (1..=2).any(|part| {
        let whole = |r: &&f64| {
            let times = **r * f64::from(part);
            let near = times.round();
            near >= 1.0
                && near <= f64::from(LARGEST_ORDER)
                && (times - near).abs() < RATIO_DOUBT * times
        };
        // Chance agreement of a random ratio is a few in a hundred.
        let agreeing = ratios.iter().filter(whole).count() as f64;
        agreeing > MOSTLY * ratios.len() as f64
    })
}

/// Tones in whole-number ratio with the leading one, with their orders.
fn family(tones: &[Tone], free: &[usize], lead: usize, drive: &Drive) -> Vec<Member> {
    let mut parts = 1;
    let mut ratios = vec![(lead, 1, 1)];
    for &i in free.iter().filter(|i| **i != lead) {
        let Some((a, b)) = whole_ratio(&tones[i], &tones[lead], drive) else {
            continue;
        };
        let shared = lowest_common_multiple(parts, b);
        if shared <= LARGEST_PART {
            parts = shared;
            ratios.push((i, a, b));
        }
    }
    ratios
        .into_iter()
        .map(|(tone, a, b)| Member {
            tone,
            order: a * parts / b,
        })
        .collect()
}

fn lowest_common_multiple(a: u32, b: u32) -> u32 {
    a / greatest_common_divisor(a, b) * b
}

fn greatest_common_divisor(a: u32, b: u32) -> u32 {
    if b == 0 {
        a
    } else {
        greatest_common_divisor(b, a % b)
    }
}

/// Small whole numbers in the ratio of two tones, if they keep to one.
fn whole_ratio(tone: &Tone, lead: &Tone, drive: &Drive) -> Option<(u32, u32)> {
    let ratio = steady_ratio(tone, lead)?;
    (1..=LARGEST_PART).find_map(|b| {
        let a = (ratio.value * f64::from(b)).round();
        let electrical = drive
            .pole_pairs
            .is_some_and(|p| b == 1 && (a as u32).is_multiple_of(p.max(1)));
        let allowed = a >= 1.0 && (a <= f64::from(LARGEST_ORDER) || electrical && a < 200.0);
        let off = (ratio.value - a / f64::from(b)).abs();
        // A ratio that scatters widely would be whole whatever it is.
        let error = (3.0 * ratio.sigma).min(RATIO_DOUBT * ratio.value);
        let close = off <= error + RATIO_SLACK * ratio.value;
        (allowed && close).then_some((a as u32, b))
    })
}

/// Mean ratio of two tones over the frames both are heard in; `None` if it wanders.
fn steady_ratio(tone: &Tone, lead: &Tone) -> Option<Measured> {
    let ratios: Vec<Measured> = tone
        .points
        .iter()
        .filter_map(|p| Some((p.frequency_hz, lead.at_frame(p.frame)?.frequency_hz)))
        .map(|(a, b)| {
            let r = a.value / b.value;
            Measured::new(r, r * a.relative().hypot(b.relative()))
        })
        .collect();
    let mean = weighted_mean(&ratios).filter(|_| ratios.len() >= FEWEST_TOGETHER)?;
    let stated: f64 = ratios
        .iter()
        .map(|r| r.sigma.powi(-2))
        .sum::<f64>()
        .powf(-0.5);
    let values: Vec<f64> = ratios.iter().map(|r| r.value).collect();
    // A quick sweep disturbs strong tones by more than their stated error, but not by much.
    let steady = robust_sigma(&values)? < STEADY * mean.value;
    (steady || mean.sigma < MOST_SCATTER * stated).then_some(mean)
}

fn rotation(tones: &[Tone], mut members: Vec<Member>, drive: &Drive) -> Rotation {
    sort_by_loudness(tones, &mut members);
    let base = base_course(tones, &members);
    let typical = median(
        &base
            .iter()
            .map(|h| h.frequency_hz.value)
            .collect::<Vec<_>>(),
    );
    let orders: Vec<u32> = members.iter().map(|m| m.order).collect();
    let (readings, settled) = readings(&orders, typical.unwrap_or(0.0), drive);
    Rotation {
        members,
        base,
        readings,
        settled,
    }
}

/// Loudest first. A tone that is heard only while the boat is near is loud whenever it is heard, so tones
/// are compared over the frames in which both are: each with the one that is heard longest.
fn sort_by_loudness(tones: &[Tone], members: &mut [Member]) {
    let longest = members.iter().max_by_key(|m| tones[m.tone].points.len());
    let Some(longest) = longest.map(|m| &tones[m.tone]) else {
        return;
    };
    let loudness = |m: &Member| {
        let shared = tones[m.tone].points.iter();
        let ratios: Vec<f64> = shared
            .filter_map(|p| Some(p.power / longest.at_frame(p.frame)?.power))
            .collect();
        // Members were put together by the frames they share; without one there is no telling.
        median(&ratios).unwrap_or(0.0)
    };
    members.sort_by(|a, b| loudness(b).total_cmp(&loudness(a)));
}

/// Weighted mean of the members' frequencies over their orders, frame by frame.
fn base_course(tones: &[Tone], members: &[Member]) -> Vec<Heard> {
    let mut all: Vec<(usize, f64, Measured)> = members
        .iter()
        .flat_map(|m| {
            tones[m.tone].points.iter().map(|p| {
                (
                    p.frame,
                    p.time_s,
                    p.frequency_hz.scaled(1.0 / f64::from(m.order)),
                )
            })
        })
        .collect();
    all.sort_by_key(|(frame, ..)| *frame);
    all.chunk_by(|a, b| a.0 == b.0)
        .filter_map(|same| {
            let parts: Vec<Measured> = same.iter().map(|(.., f)| *f).collect();
            Some(Heard {
                time_s: same[0].1,
                frequency_hz: weighted_mean(&parts)?,
            })
        })
        .collect()
}

/// Readings of a base with members of these orders (the loudest first).
fn readings(orders: &[u32], base_hz: f64, drive: &Drive) -> (Vec<Reading>, Settled) {
    let reading = |times_shaft, base_is| Reading {
        times_shaft,
        base_is,
    };
    let shaft = reading(1, BaseIs::ShaftRate);
    let blades: Vec<u32> = drive.blades.map_or(vec![2, 3, 4], |b| vec![b.max(1)]);
    let mut all: Vec<Reading> = blades
        .iter()
        .map(|b| reading(*b, BaseIs::BladeRate))
        .collect();
    // Loud at multiples of the blades, and heard between them: the base is the shaft itself.
    let told = drive.blades.is_some_and(|b| {
        b > 1 && orders[0].is_multiple_of(b) && orders.iter().any(|o| !o.is_multiple_of(b))
    });
    if told {
        all.insert(0, shaft);
    } else {
        all.push(shaft);
    }
    if let Some(p) = drive.pole_pairs.filter(|p| *p > 1) {
        all.push(reading(p, BaseIs::ElectricalRate));
    }
    let rpm = |r: &Reading| 60.0 * base_hz / f64::from(r.times_shaft);
    if let Some((low, high)) = drive.rpm_range {
        let inside: Vec<Reading> = all
            .iter()
            .filter(|r| (low..=high).contains(&rpm(r)))
            .cloned()
            .collect();
        if inside.len() == 1 {
            return (inside, Settled::ByRange);
        }
        if !inside.is_empty() {
            all = inside;
        }
    }
    let settled = match (told, drive.blades) {
        (true, _) => Settled::ByRatios,
        (false, Some(_)) => Settled::AssumedBladeRate,
        _ => Settled::Open,
    };
    (all, settled)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sound::tone::TonePoint;

    /// A tone at a multiple of a wandering frequency.
    fn tone(times: f64, wander: f64) -> Tone {
        let point = |frame: usize| TonePoint {
            frame,
            time_s: frame as f64 * 0.1,
            frequency_hz: Measured::new(
                times * (200.0 + 20.0 * (wander * frame as f64).sin()),
                0.1,
            ),
            over_noise: 20.0,
            // Even orders are loud, odd ones faint, as of two blades.
            power: if times % 2.0 == 0.0 { 40.0 } else { 4.0 } / times,
        };
        Tone {
            points: (0..40).map(point).collect(),
            ln_chance: -100.0,
        }
    }

    #[test]
    fn ratios_tell_shaft_from_blades() {
        // Loudest at twice and four times the shaft, faint at once and three times.
        let tones = [2.0, 4.0, 1.0, 3.0].map(|k| tone(k, 0.2));
        let drive = Drive {
            blades: Some(2),
            ..Drive::default()
        };
        let r = &rotations(&tones, &drive)[0];
        assert_eq!(
            r.members.iter().map(|m| m.order).collect::<Vec<_>>(),
            [2, 4, 1, 3]
        );
        assert_eq!(r.settled, Settled::ByRatios);
        assert!((r.rpm()[0].1.value - 12_000.0).abs() < 1.0);
    }

    #[test]
    fn blade_rate_alone_is_an_assumption_and_says_so() {
        let tones = [2.0, 4.0].map(|k| tone(k, 0.2));
        let drive = Drive {
            blades: Some(2),
            ..Drive::default()
        };
        let r = &rotations(&tones, &drive)[0];
        assert_eq!(r.settled, Settled::AssumedBladeRate);
        assert!((r.rpm()[0].1.value - 12_000.0).abs() < 1.0);
        assert_eq!(
            rotations(&tones, &Drive::default())[0].settled,
            Settled::Open
        );
        let known = Drive {
            rpm_range: Some((20_000.0, 30_000.0)),
            ..Drive::default()
        };
        let r = &rotations(&tones, &known)[0];
        assert_eq!(r.settled, Settled::ByRange);
        assert!((r.rpm()[0].1.value - 24_000.0).abs() < 1.0);
    }

    #[test]
    fn two_motors_are_two_rotations() {
        let tones = [
            tone(2.0, 0.2),
            tone(2.06, 0.23),
            tone(4.0, 0.2),
            tone(4.12, 0.23),
        ];
        let found = rotations(&tones, &Drive::default());
        assert_eq!(found.len(), 2);
        assert!(found.iter().all(|r| r.members.len() == 2));
    }

    #[test]
    fn a_motor_tone_is_known_by_its_pole_pairs() {
        let tones = [tone(2.0, 0.2), tone(1.0, 0.2), tone(14.0, 0.2)];
        let drive = Drive {
            blades: Some(2),
            pole_pairs: Some(7),
            ..Drive::default()
        };
        let r = &rotations(&tones, &drive)[0];
        assert_eq!(
            r.members.iter().map(|m| m.order).collect::<Vec<_>>(),
            [2, 1, 14]
        );
    }
}
