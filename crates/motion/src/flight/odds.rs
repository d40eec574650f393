//! The odds of ending upside down, by speed and ripple, from many seeded runs.

use craft::Craft;
use craft::steady::Running;
use nalgebra::Vector3;
use std::ops::ControlFlow;

use crate::many::{Count, many};
use crate::run::{Conditions, RunError, Start};
use crate::script::Script;
use crate::water::{RIPPLE_LENGTH, Water};

/// How runs at one speed over one ripple ended.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Odds {
    /// At the start, m/s.
    pub speed_m_s: f64,
    /// Significant, trough to crest, m.
    pub ripple_m: f64,
    /// What happened.
    pub count: Count,
}

/// Speeds and ripples to count over, and how.
#[derive(Debug, Clone, PartialEq)]
pub struct OddsGrid<'a> {
    /// States to start from.
    pub speeds: &'a [Running],
    /// Significant heights, m.
    pub ripples_m: &'a [f64],
    /// Headwind beside the boat's own, m/s.
    pub headwind_m_s: f64,
    /// Each run, s.
    pub seconds: f64,
    /// At each speed and ripple.
    pub runs: usize,
    /// Of the first run.
    pub seed: u64,
}

/// Runs every speed over every ripple with the throttle that holds the speed on flat water and a driver
/// who holds the course. Theory, unvalidated: the interval of [`Count::lost_share`] is that of the counting
/// alone. `progress` is told how many runs are done.
///
/// # Errors
/// [`RunError`].
pub fn odds(
    craft: &Craft,
    throw_rad: f64,
    asked: &OddsGrid<'_>,
    progress: &(dyn Fn(usize) -> ControlFlow<()> + Sync),
) -> Result<Vec<Odds>, RunError> {
    let mut all = Vec::new();
    for running in asked.speeds {
        for &ripple_m in asked.ripples_m {
            let before = all.len() * asked.runs;
            let conditions = Conditions {
                water: Water::Ripple {
                    height_m: ripple_m,
                    length_m: RIPPLE_LENGTH * ripple_m,
                    from_rad: 0.0,
                },
                wind_m_s: craft.surroundings().wind_m_s - Vector3::x() * asked.headwind_m_s,
                script: Script::steady(holding_throttle(craft, running)),
                start: Start::Running(*running),
                seconds: asked.seconds,
                seed: asked.seed,
            };
            let count = many(craft, throw_rad, &conditions, asked.runs, &|done| {
                progress(before + done)
            })?;
            all.push(Odds {
                speed_m_s: running.speed_m_s,
                ripple_m,
                count,
            });
            if count.runs < asked.runs {
                return Ok(all);
            }
        }
    }
    Ok(all)
}

/// Throttle that holds a running state; at most wide open.
pub fn holding_throttle(craft: &Craft, running: &Running) -> f64 {
    let (motion, around) = (running.motion(), craft.surroundings());
    let each = craft.propellers().iter().zip(craft.circuits());
    each.map(|(propeller, circuit)| {
        let load = propeller.load(&motion, &around, running.shaft_rad_s);
        circuit.demand(load.shaft_rad_s, load.torque_n_m).throttle
    })
    .fold(0.0, f64::max)
    .clamp(0.0, 1.0)
}
