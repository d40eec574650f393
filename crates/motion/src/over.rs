//! Speed kept over ripple at full throttle: the mean of runs in time, from the same elements and sines.
//!
//! A running boat comes into the ripple little by little and is then given time to settle; what follows is the
//! mean. Seeds are fixed, so that the same boat gives the same number. The spread is that of the runs' means. Checks:
//! `tests/ripple.rs`.

use craft::Craft;
use craft::steady::Running;
use rayon::prelude::*;
use std::ops::ControlFlow;

use crate::driver::Driver;
use crate::events::What;
use crate::run::{Conditions, Run, RunError, Start, run_by};
use crate::script::Script;
use crate::water::{RIPPLE_LENGTH, Water};

/// Runs, and of each the time left out and the time meant, s.
const RUNS: u64 = 2;
const SETTLES_S: f64 = 2.0;
const MEANT_S: f64 = 4.0;

/// How it keeps its speed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Over {
    /// Significant height, m.
    pub ripple_m: f64,
    /// Mean over what was run, m/s.
    pub speed_m_s: f64,
    /// Half the difference between the runs' means, m/s.
    pub spread_m_s: f64,
    /// Mean of the hardest-worked pack, A.
    pub current_a: f64,
    /// Share of the time clear of the water, 0 to 1.
    pub in_air: f64,
    /// Runs that ended upside down or on a side, of how many.
    pub lost: (usize, usize),
}

/// Full throttle over a ripple from a running state on flat water, into the boat's own wind.
///
/// # Errors
/// [`RunError`].
pub fn over(
    craft: &Craft,
    throw_rad: f64,
    start: &Running,
    ripple_m: f64,
    driver: Driver,
) -> Result<Over, RunError> {
    let runs: Vec<Run> = (1..=RUNS)
        .into_par_iter()
        .map(|seed| {
            let conditions = conditions(craft, start, ripple_m, seed);
            run_by(craft, throw_rad, &conditions, driver, &mut |_| {
                ControlFlow::Continue(())
            })
        })
        .collect::<Result<_, _>>()?;
    let means: Vec<[f64; 3]> = runs.iter().filter_map(mean).collect();
    let count = means.len().max(1) as f64;
    let all = |i: usize| means.iter().map(|m| m[i]).sum::<f64>() / count;
    let speeds = || means.iter().map(|m| m[0]);
    let apart = speeds().fold(f64::MIN, f64::max) - speeds().fold(f64::MAX, f64::min);
    let ends = |r: &&Run| r.events.iter().any(|e| What::ends(e.what));
    Ok(Over {
        ripple_m,
        speed_m_s: all(0),
        spread_m_s: 0.5 * apart.max(0.0),
        current_a: all(1),
        in_air: all(2),
        lost: (runs.iter().filter(ends).count(), runs.len()),
    })
}

/// The run that [`over`] means: for whoever plays it back.
pub fn conditions(craft: &Craft, start: &Running, ripple_m: f64, seed: u64) -> Conditions {
    Conditions {
        water: if ripple_m > 0.0 {
            Water::Ripple {
                height_m: ripple_m,
                length_m: RIPPLE_LENGTH * ripple_m,
                from_rad: 0.0,
            }
        } else {
            Water::Flat
        },
        wind_m_s: craft.surroundings().wind_m_s,
        script: Script::steady(1.0),
        start: Start::Running(*start),
        seconds: SETTLES_S + MEANT_S,
        seed,
    }
}

/// Speed, current and share in the air; of a run that ended early, of what there was.
fn mean(run: &Run) -> Option<[f64; 3]> {
    let settled = |s: &&crate::run::Sample| s.time_s >= SETTLES_S;
    let mut some: Vec<_> = run.samples.iter().filter(settled).collect();
    if some.is_empty() {
        some = run.samples.iter().collect();
    }
    let count = some.len() as f64;
    let sum = |of: fn(&crate::run::Sample) -> f64| some.iter().map(|s| of(s)).sum::<f64>() / count;
    (count > 0.0).then(|| {
        [
            sum(|s| s.speed_m_s),
            sum(|s| s.current_a),
            sum(|s| f64::from(u8::from(!s.touching))),
        ]
    })
}
