//! A whole recording listened to: tones, rotations, passes, and what is wrong with it.

use super::decode::{Sound, SoundError, SoundInfo};
use super::pass::{Pass, PassError, candidates, fit_known_pass};
use super::quality::Quality;
use super::shaft::{Drive, Rotation, rotations};
use super::spectrum::{Shape, Spectrograph};
use super::tone::{Search, Tone, tones};
use crate::measured::Measured;
use rayon::prelude::*;

/// Samples given to the spectra at once: enough that the windows' threads are worth starting.
const CHUNK: usize = 1 << 16;
/// Windows tried, s: long ones hear faint steady tones, short ones follow quick ones.
const WINDOWS_S: [f64; 4] = [0.34, 0.17, 0.085, 0.043];
/// Longest part listened to in one go, s; memory grows by 12 MB a minute.
pub const LONGEST_S: f64 = 900.0;
/// Passes closer together are one, s.
const SAME_PASS_S: f64 = 1.5;
/// A recording that breaks off after this much is worth what it holds, s.
const LEAST_HEARD_S: f64 = 1.0;

/// How to listen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Listen {
    /// First moment, s on the recording's clock.
    pub from_s: f64,
    /// Last moment, s; at most [`LONGEST_S`] after the first.
    pub to_s: f64,
    /// What to look for.
    pub search: Search,
    /// What is known of the drive.
    pub drive: Drive,
    /// Speed of sound in the air of the day.
    pub sound_speed_m_s: Measured,
    /// Closest distance of every pass from the microphone, where it was measured on the bank.
    pub closest_m: Option<Measured>,
}

impl Default for Listen {
    fn default() -> Self {
        Self {
            from_s: f64::NEG_INFINITY,
            to_s: f64::INFINITY,
            search: Search::default(),
            drive: Drive::default(),
            // Air at 15 degC give or take 6: 0.6 m/s a degree.
            sound_speed_m_s: Measured::new(340.3, 3.6),
            closest_m: None,
        }
    }
}

/// A pass and the rotation it was heard in.
#[derive(Debug, Clone, PartialEq)]
pub struct HeardPass {
    /// Index among the rotations.
    pub rotation: usize,
    /// Where the tone falls, s.
    pub near_s: f64,
    /// The pass, or why it is none.
    pub pass: Result<Pass, PassError>,
    /// Shaft rpm at the source under the rotation's first reading.
    pub rpm: Option<Measured>,
}

/// What was heard.
#[derive(Debug, Clone, PartialEq)]
pub struct Heard {
    /// The recording.
    pub info: SoundInfo,
    /// Its faults.
    pub quality: Quality,
    /// Length of the windows used, s.
    pub window_s: f64,
    /// Tones, most certain first; empty when there is none.
    pub tones: Vec<Tone>,
    /// Tones put together by shaft.
    pub rotations: Vec<Rotation>,
    /// Passes.
    pub passes: Vec<HeardPass>,
    /// The recording went on after the part listened to.
    pub stopped_early: bool,
    /// Why nothing after the last moment could be heard; what came before stands.
    pub ended: Option<String>,
}

/// Listens to a recording.
///
/// # Errors
/// [`SoundError`]. A recording without a tone is no error: it has no tones.
pub fn listen(sound: &mut Sound, how: &Listen) -> Result<Heard, SoundError> {
    let rate = f64::from(sound.info().rate_hz);
    let from_s = how.from_s.max(sound.position_s());
    let shapes = WINDOWS_S.map(|w| Shape::new(rate, w, how.search.low_hz, how.search.high_hz));
    let mut graphs = shapes.map(|s| Spectrograph::new(s, from_s));
    let to_s = how.to_s.min(from_s + LONGEST_S);
    let (stopped_early, ended) = match hear_all(sound, from_s, to_s, &mut graphs) {
        Ok(stopped_early) => (stopped_early, None),
        // What was heard before the damage is sound.
        Err(e) if sound.position_s() - from_s >= LEAST_HEARD_S => (false, Some(e.to_string())),
        Err(e) => return Err(e),
    };
    let heard = graphs.into_par_iter().map(|g| {
        let spectra = g.finish();
        let window_s = spectra.shape.window as f64 / rate;
        (window_s, tones(spectra, &how.search))
    });
    let heard: Vec<(f64, Vec<Tone>)> = heard.collect();
    let better = |a: (f64, Vec<Tone>), b: (f64, Vec<Tone>)| {
        if weight(&b.1) > weight(&a.1) { b } else { a }
    };
    let (window_s, mut tones) = heard.into_iter().reduce(better).unwrap_or_default();
    if sound.quality().is_silent() {
        // Rounding of one level that never changes has tones too.
        tones.clear();
    }
    let rotations = rotations(&tones, &how.drive);
    Ok(Heard {
        info: sound.info().clone(),
        quality: sound.quality().clone(),
        window_s,
        passes: passes(&rotations, how),
        tones,
        rotations,
        stopped_early,
        ended,
    })
}

/// How well tones fix their frequencies: the sum of their weights.
fn weight(tones: &[Tone]) -> f64 {
    let points = tones.iter().flat_map(|t| &t.points);
    points.map(|p| p.frequency_hz.relative().powi(-2)).sum()
}

/// Feeds the part asked for; true when more followed.
fn hear_all(
    sound: &mut Sound,
    from_s: f64,
    to_s: f64,
    graphs: &mut [Spectrograph],
) -> Result<bool, SoundError> {
    let mut chunk = Vec::with_capacity(2 * CHUNK);
    let more = loop {
        match hear_block(sound, from_s, to_s, &mut chunk) {
            Ok(None) => {}
            Ok(Some(more)) => break Ok(more),
            Err(e) => break Err(e),
        }
        if chunk.len() >= CHUNK {
            graphs.par_iter_mut().for_each(|g| g.hear(&chunk));
            chunk.clear();
        }
    };
    graphs.par_iter_mut().for_each(|g| g.hear(&chunk));
    more
}

/// Adds the next block's part; at the end, whether more followed.
fn hear_block(
    sound: &mut Sound,
    from_s: f64,
    to_s: f64,
    chunk: &mut Vec<f32>,
) -> Result<Option<bool>, SoundError> {
    let rate = f64::from(sound.info().rate_hz);
    let at = sound.position_s();
    let block = sound.next_block()?;
    if block.is_empty() {
        return Ok(Some(false));
    }
    let index = |t: f64| ((t - at) * rate).round().clamp(0.0, block.len() as f64) as usize;
    let (skip, end) = (index(from_s), index(to_s));
    if skip < end {
        chunk.extend_from_slice(&block[skip..end]);
    }
    Ok((end < block.len()).then_some(true))
}

/// Every pass heard in every rotation.
fn passes(rotations: &[Rotation], how: &Listen) -> Vec<HeardPass> {
    let one = |(i, r): (usize, &Rotation)| {
        let turns = r.readings.first().map_or(1, |r| r.times_shaft);
        candidates(&r.base)
            .into_iter()
            .map(|near_s| {
                let pass = fit_known_pass(&r.base, near_s, how.sound_speed_m_s, how.closest_m);
                let rpm = pass.as_ref().ok().map(|p| p.frequency_hz);
                HeardPass {
                    rotation: i,
                    near_s,
                    pass,
                    rpm: rpm.map(|f| f.scaled(60.0 / f64::from(turns))),
                }
            })
            .collect::<Vec<_>>()
    };
    rotations
        .iter()
        .enumerate()
        .flat_map(|r| settled(one(r)))
        .collect()
}

/// Falls looked at more than once: the best of the passes found at one time, and no failed attempt
/// beside one that explains it.
fn settled(all: Vec<HeardPass>) -> Vec<HeardPass> {
    let mut good: Vec<&Pass> = all.iter().filter_map(|p| p.pass.as_ref().ok()).collect();
    good.sort_by(|a, b| a.misfit.total_cmp(&b.misfit));
    let mut kept: Vec<f64> = Vec::new();
    for p in good {
        if kept
            .iter()
            .all(|t| (t - p.time_s.value).abs() > SAME_PASS_S)
        {
            kept.push(p.time_s.value);
        }
    }
    let explained = |near: f64| kept.iter().any(|t| (t - near).abs() < SAME_PASS_S);
    let stays = |p: &HeardPass| match &p.pass {
        Ok(pass) => kept.contains(&pass.time_s.value),
        Err(_) => !explained(p.near_s),
    };
    all.iter().filter(|p| stays(p)).cloned().collect()
}
