//! Full throttle from rest on flat water: the hump, its current, and whether the boat gets over it.
//!
//! The throttle is opened at a stroke; a boat that goes over so is squeezed away as drivers do, more and more gently,
//! and the answer says so. One run in time, so that acceleration, the propeller's air and the shaft's own inertia are in it. The current is
//! the largest mean over a second: what fuses, connectors and packs feel, and what a logger shows. Checks:
//! `tests/ripple.rs`.

use crate::events::What;
use crate::run::{Conditions, RunError, STEP_S, Sample, Start, Stopped, run_while};
use crate::script::Script;
use crate::settled::{Settled, is_still, the_end};
use craft::Craft;

/// A boat that does not plane in this time does not get over its hump, s.
pub const LASTS_S: f64 = 8.0;
/// The throttle is opened over this, and the next where that goes wrong, s.
const OPENED_S: [f64; 3] = [0.2, 1.0, 2.0];
/// Current is meant over this, s.
const MEAN_S: f64 = 1.0;

/// How it gets away.
#[derive(Debug, Clone, PartialEq)]
pub struct Launch {
    /// Largest mean over a second, of the hardest-worked pack, A.
    pub hump_current_a: f64,
    /// Middle of that second, s.
    pub hump_at_s: f64,
    /// Mean speed in that second, m/s.
    pub hump_speed_m_s: f64,
    /// The throttle is fully open after, s.
    pub opened_s: f64,
    /// From opening the throttle until running surfaces carry more than half, s.
    pub planes_after_s: Option<f64>,
    /// Bow up at most before that, rad.
    pub most_trim_rad: f64,
    /// Still planing at the end.
    pub gets_over: bool,
    /// The last seconds of it, of a run that goes on.
    pub ends: Option<Settled>,
    /// How it went wrong, if it did.
    pub ended: Option<Spill>,
    /// How it went wrong opened more quickly, the quickest first.
    pub quicker: Vec<Spill>,
}

/// A launch that goes wrong.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spill {
    /// The throttle was fully open after, s.
    pub opened_s: f64,
    /// How.
    pub what: What,
    /// Then, m/s.
    pub speed_m_s: f64,
}

/// Opens the throttle and keeps it open for [`LASTS_S`].
///
/// # Errors
/// [`RunError::NoDrive`].
pub fn launch(craft: &Craft, throw_rad: f64) -> Result<Launch, RunError> {
    let mut quicker = Vec::new();
    loop {
        let launch = opened(craft, throw_rad, OPENED_S[quicker.len()])?;
        match launch.ended {
            Some(spill) if quicker.len() + 1 < OPENED_S.len() => quicker.push(spill),
            _ => return Ok(Launch { quicker, ..launch }),
        }
    }
}

/// The same opened as gently as a driver would at most, once.
///
/// # Errors
/// [`RunError::NoDrive`].
pub fn gently(craft: &Craft, throw_rad: f64) -> Result<Launch, RunError> {
    opened(craft, throw_rad, OPENED_S[OPENED_S.len() - 1])
}

fn opened(craft: &Craft, throw_rad: f64, over_s: f64) -> Result<Launch, RunError> {
    let conditions = Conditions::flat(craft, Script::squeeze(1.0, over_s), Start::Rest, LASTS_S);
    let done = run_while(craft, throw_rad, &conditions, &mut |run| !is_still(run))?;
    let worst = means(&done.samples).max_by(|a, b| a.current_a.total_cmp(&b.current_a));
    let last = means(&done.samples).last();
    let ended = done.events.iter().find(|e| e.what.ends());
    let goes_on = matches!(done.stopped, None | Some(Stopped::Asked));
    let planes = done.events.iter().find(|e| e.what == What::Planes);
    let planes_after_s = planes.map(|e| e.time_s);
    let before = done
        .samples
        .iter()
        .take_while(|s| planes_after_s.is_none_or(|t| s.time_s <= t));
    Ok(Launch {
        hump_current_a: worst.map_or(0.0, |m| m.current_a),
        hump_at_s: worst.map_or(0.0, |m| m.at_s),
        hump_speed_m_s: worst.map_or(0.0, |m| m.speed_m_s),
        opened_s: over_s,
        planes_after_s,
        most_trim_rad: before.map(|s| s.trim_rad).fold(0.0, f64::max),
        gets_over: ended.is_none() && last.is_some_and(|m| m.lift_share > 0.5),
        ends: Settled::of(the_end(&done)).filter(|_| goes_on),
        ended: ended.map(|e| Spill {
            opened_s: over_s,
            what: e.what,
            speed_m_s: e.speed_m_s,
        }),
        quicker: Vec::new(),
    })
}

/// Means over a second.
#[derive(Debug, Clone, Copy)]
struct Mean {
    at_s: f64,
    current_a: f64,
    speed_m_s: f64,
    lift_share: f64,
}

/// Over every second there is, sample by sample; over all there is when that is less.
fn means(samples: &[Sample]) -> impl Iterator<Item = Mean> {
    let window = ((MEAN_S / STEP_S).round() as usize).clamp(1, samples.len().max(1));
    samples.windows(window).map(|some| {
        let mean = |of: fn(&Sample) -> f64| some.iter().map(of).sum::<f64>() / some.len() as f64;
        Mean {
            at_s: mean(|s| s.time_s),
            current_a: mean(|s| s.current_a),
            speed_m_s: mean(|s| s.speed_m_s),
            lift_share: mean(|s| s.lift_share),
        }
    })
}
