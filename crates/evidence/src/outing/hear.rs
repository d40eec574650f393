//! A sound measured: rpm against time, passes, what the recording cannot tell.

use super::analysis::Analysis;
use super::events::{Follows, throttle_events};
use super::measured::{
    Condition, Doing, QuantityKind, RecordingKind, Source, Statistic, Unit, Value,
};
use crate::clock::EventKind;
use crate::measured::{Measured, quantile, weighted_mean};
use crate::sound::decode::{Sound, SoundError};
use crate::sound::listen::{Heard, HeardPass, Listen, listen};
use crate::sound::shaft::{BaseIs, Rotation, Settled};

const RAD_S_PER_HZ: f64 = std::f64::consts::TAU;
/// A boat that moves towards or away at an unknown speed sounds higher or lower; 12 m/s either way
/// is this part. Judgement for a boat of unknown speed.
const UNKNOWN_MOTION: f64 = 0.035;
/// Rpm that stays within this part is steady.
const STEADY: f64 = 0.02;
/// Shortest steady stretch, s.
const SHORTEST_S: f64 = 0.8;
/// More clipping than this is told.
const CLIPPED: f64 = 1e-4;

/// How to hear.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Options {
    /// How to listen.
    pub listen: Listen,
    /// The boat does not move (a bench, a hand): rpm needs no allowance for its motion.
    pub still: bool,
}

/// A sound measured, with all that was heard.
///
/// # Errors
/// [`SoundError`]. A recording without a tone is no error: the analysis says so.
pub fn hear(
    file: &str,
    sound: &mut Sound,
    options: &Options,
) -> Result<(Analysis, Heard), SoundError> {
    let heard = listen(sound, &options.listen)?;
    let mut a = Analysis::of(file, RecordingKind::Sound);
    a.span_s = Some((heard.info.start_s, sound.position_s()));
    remarks(&mut a, &heard);
    for (i, r) in heard.rotations.iter().enumerate() {
        let passes: Vec<&HeardPass> = heard.passes.iter().filter(|p| p.rotation == i).collect();
        rotation(&mut a, i, r, &passes, heard.rotations.len(), options.still);
    }
    if let Some(first) = heard.rotations.first() {
        let course: Vec<(f64, f64)> = first.rpm().iter().map(|(t, r)| (*t, r.value)).collect();
        let course = with_silence(&course, a.span_s);
        throttle_events(&mut a, &course, Follows::AT_ONCE);
    }
    passes(&mut a, &heard);
    if heard.tones.is_empty() {
        a.says.push(if heard.quality.is_silent() {
            "the recording is silent: one level that never changes was recorded".to_owned()
        } else {
            "no tone: nothing in this recording holds a pitch any better than noise does".to_owned()
        });
    }
    Ok((a, heard))
}

/// Nothing is heard before the first and after the last tone: no rpm, for the throttle's events.
/// Only where the sound goes on long enough that a distant boat is no likelier reason.
fn with_silence(course: &[(f64, f64)], span_s: Option<(f64, f64)>) -> Vec<(f64, f64)> {
    let (Some(first), Some(last), Some(span)) = (course.first(), course.last(), span_s) else {
        return course.to_vec();
    };
    let mut all = Vec::new();
    if first.0 - span.0 > 0.5 {
        all.extend([(first.0 - 0.4, 0.0), (first.0 - 0.05, 0.0)]);
    }
    all.extend(course);
    if span.1 - last.0 > 0.5 {
        all.extend([(last.0 + 0.05, 0.0), (last.0 + 0.4, 0.0)]);
    }
    all
}

fn remarks(a: &mut Analysis, heard: &Heard) {
    let q = &heard.quality;
    let mut say = |words: String| a.remarks.push(words);
    if let Some(why) = &heard.ended {
        say(format!("{why}; what came before was used"));
    }
    if q.cut_short {
        say("the file ends in the middle of its data; what is there was used".to_owned());
    }
    if q.clipped_part() > CLIPPED {
        say(format!(
            "{:.2} % of the samples are clipped: rpm stands, overtones may be the recorder's; record further away or with less gain",
            100.0 * q.clipped_part()
        ));
    }
    if q.dropouts > 0 {
        say(format!(
            "{} dropouts of exact silence within the sound",
            q.dropouts
        ));
    }
    if q.damaged_packets > 0 {
        say(format!(
            "{} damaged packets were passed over: times after them may be early",
            q.damaged_packets
        ));
    }
    if q.not_numbers > 0 {
        say(format!(
            "{} samples are no numbers and were heard as silence",
            q.not_numbers
        ));
    }
    if heard.info.delay_assumed {
        say("the encoder's delay is not written in the file; 1024 samples were assumed".to_owned());
    }
    if heard.stopped_early {
        say("the recording goes on after the part listened to; give a start and an end".to_owned());
    }
}

fn rotation(
    a: &mut Analysis,
    i: usize,
    r: &Rotation,
    passes: &[&HeardPass],
    of: usize,
    still: bool,
) {
    let which = (of > 1).then_some(i as u32 + 1);
    let name = which.map_or("shaft".to_owned(), |w| format!("shaft {w}"));
    let times = r.readings.first().map_or(1, |x| x.times_shaft);
    let factor = RAD_S_PER_HZ / f64::from(times);
    let course: Vec<(f64, Measured)> = r
        .base
        .iter()
        .map(|h| (h.time_s, h.frequency_hz.scaled(factor)))
        .collect();
    let points = course.iter().map(|(t, m)| (*t, m.value, m.sigma)).collect();
    a.trace(&name, Unit::RadianPerSecond, points);
    a.says.push(format!("{name}: {}", how_settled(r)));
    let passed = passes.iter().any(|p| p.pass.is_ok());
    let remark = reading_remark(r);
    if !passed && let Some((from, to, mean)) = steadiest(&course) {
        let mean = if still {
            mean
        } else {
            mean.with_relative_error(UNKNOWN_MOTION)
        };
        let condition = Condition::of(if still { Doing::AtRest } else { Doing::Unknown });
        let mut value = value(
            a,
            QuantityKind::ShaftSpeed,
            mean,
            Statistic::Steady,
            "sound, tone",
            which,
            condition,
        );
        value = value.during(from, to);
        let moving = "the boat's own motion towards or away shifts the pitch; allowed for in the uncertainty";
        value.remark = match (still, remark) {
            (true, r) => r,
            (false, None) => Some(moving.to_owned()),
            (false, Some(r)) => Some(format!("{moving}; {r}")),
        };
        a.quantities.push(value);
    }
}

fn value(
    a: &Analysis,
    kind: QuantityKind,
    m: Measured,
    statistic: Statistic,
    method: &str,
    which: Option<u32>,
    condition: Condition,
) -> Value {
    let from = Source {
        which,
        ..a.source(method)
    };
    Value::new(kind, m, statistic, from, condition)
}

/// The longest stretch in which the course stays within [`STEADY`], with its mean; readings next to
/// each other share their windows' samples, so the mean is no surer than half as many.
fn steadiest(course: &[(f64, Measured)]) -> Option<(f64, f64, Measured)> {
    // A quarter of an hour has 40 000 readings; a few thousand find the stretch as well.
    let course: Vec<(f64, Measured)> = course
        .iter()
        .step_by(course.len() / 3000 + 1)
        .copied()
        .collect();
    let mut best: Option<(usize, usize)> = None;
    let mut start = 0;
    for end in 0..course.len() {
        let within = |s: usize| {
            let part = &course[s..=end];
            let (low, high) = part.iter().fold((f64::MAX, 0.0f64), |(l, h), p| {
                (l.min(p.1.value), h.max(p.1.value))
            });
            high <= low * (1.0 + STEADY) && part.windows(2).all(|w| w[1].0 - w[0].0 < 0.5)
        };
        while start < end && !within(start) {
            start += 1;
        }
        if best.is_none_or(|(s, e)| course[end].0 - course[start].0 > course[e].0 - course[s].0) {
            best = Some((start, end));
        }
    }
    let (s, e) = best?;
    let part = &course[s..=e];
    if part[part.len() - 1].0 - part[0].0 < SHORTEST_S {
        return None;
    }
    let all: Vec<Measured> = part.iter().map(|p| p.1).collect();
    let mean = weighted_mean(&all)?;
    Some((
        part[0].0,
        part[part.len() - 1].0,
        Measured::new(mean.value, mean.sigma * 2f64.sqrt()),
    ))
}

fn passes(a: &mut Analysis, heard: &Heard) {
    let mut order: Vec<&HeardPass> = heard.passes.iter().collect();
    order.sort_by(|x, y| x.near_s.total_cmp(&y.near_s));
    let mut noted: Vec<f64> = Vec::new();
    for p in order {
        let which = (heard.rotations.len() > 1).then_some(p.rotation as u32 + 1);
        let pass = match &p.pass {
            Ok(pass) => pass,
            Err(why) => {
                a.remarks.push(format!("near {:.1} s: {why}", p.near_s));
                continue;
            }
        };
        let (from, to) = (pass.time_s.value - 3.5, pass.time_s.value + 3.5);
        let mut condition = Condition::of(Doing::Straight);
        condition.speed_m_s = Some(pass.speed_m_s.value);
        let mut push = |kind, m, remark: Option<String>| {
            let mut v = value(
                a,
                kind,
                m,
                Statistic::Steady,
                "sound, fly-by",
                which,
                condition,
            );
            v = v.during(from, to);
            v.remark = remark;
            a.quantities.push(v);
        };
        push(QuantityKind::Speed, pass.speed_m_s, None);
        if let Some(rpm) = p.rpm {
            let remark = heard.rotations.get(p.rotation).and_then(reading_remark);
            push(
                QuantityKind::ShaftSpeed,
                rpm.scaled(RAD_S_PER_HZ / 60.0),
                remark,
            );
        }
        if let Some(d) = pass.closest_m {
            push(QuantityKind::PassDistance, d, None);
        }
        // Two motors of one boat pass at once: one event.
        if noted.iter().all(|t| (t - pass.time_s.value).abs() > 1.0) {
            noted.push(pass.time_s.value);
            let sigma = pass.time_s.sigma.max(0.01);
            a.happened(EventKind::Pass, Measured::new(pass.time_s.value, sigma));
        }
    }
}

/// What the base frequency was taken for, and how far to believe it.
fn how_settled(r: &Rotation) -> String {
    let Some(first) = r.readings.first() else {
        return "a tone, but nothing tells which of the shaft's rates it is".to_owned();
    };
    let is = match first.base_is {
        BaseIs::ShaftRate => "the shaft's own rate".to_owned(),
        BaseIs::BladeRate => format!("the blade rate, {} times the shaft's", first.times_shaft),
        BaseIs::ElectricalRate => format!(
            "the motor's electrical rate, {} times the shaft's",
            first.times_shaft
        ),
    };
    let loud: Vec<f64> = r.base.iter().map(|h| h.frequency_hz.value).collect();
    let usual = quantile(&loud, 0.5).unwrap_or(0.0);
    let how = match r.settled {
        Settled::ByRatios => "settled by the ratios of its tones",
        Settled::ByRange => "settled by the rpm range given",
        Settled::AssumedBladeRate => "assumed, since a propeller's loudest tone is its blade rate",
        Settled::Open => "nothing decides; give the number of blades or an rpm range",
    };
    format!(
        "{} tones in whole-number ratio on {usual:.1} Hz, taken as {is} ({how})",
        r.members.len()
    )
}

fn reading_remark(r: &Rotation) -> Option<String> {
    match r.settled {
        Settled::AssumedBladeRate => {
            Some("the loudest tone is assumed to be the blade rate".to_owned())
        }
        Settled::Open => Some("which of the shaft's rates was heard is not settled".to_owned()),
        _ => None,
    }
}
