//! The odds of ending upside down, by speed and ripple, from many seeded runs.

use craft::Craft;
use craft::steady::Running;
use nalgebra::Vector3;
use std::ops::ControlFlow;

use crate::driver::Driver;
use crate::many::{Count, many_by};
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
    /// Flat out, whatever happens.
    pub count: Count,
    /// The same seeds with a driver who lifts off.
    pub lifting: Count,
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

impl OddsGrid<'_> {
    /// Of the first run at one speed over one ripple: for whoever plays it back.
    pub fn conditions(&self, craft: &Craft, running: &Running, ripple_m: f64) -> Conditions {
        Conditions {
            water: Water::Ripple {
                height_m: ripple_m,
                length_m: RIPPLE_LENGTH * ripple_m,
                from_rad: 0.0,
            },
            wind_m_s: craft.surroundings().wind_m_s - Vector3::x() * self.headwind_m_s,
            script: Script::steady(craft.holding(running).min(1.0)),
            start: Start::Running(*running),
            seconds: self.seconds,
            seed: self.seed,
        }
    }
}

/// What differs between counted runs and one that is shown, in a builder's words; empty when they are the same
/// but for the seed.
pub fn differences(counted: &Conditions, shown: &Conditions) -> Vec<String> {
    let mut all = Vec::new();
    if (counted.seconds - shown.seconds).abs() > 1e-9 {
        all.push(format!(
            "counted over {:.0} s, shown for {:.0} s",
            counted.seconds, shown.seconds
        ));
    }
    let wind = |c: &Conditions| -c.wind_m_s.x;
    if (counted.wind_m_s - shown.wind_m_s).norm() > 1e-9 {
        all.push(format!(
            "counted in a headwind of {:.1} m/s, shown in {:.1} m/s",
            wind(counted),
            wind(shown)
        ));
    }
    if counted.water != shown.water {
        all.push("counted over another ripple than shown".to_owned());
    }
    let rest = |c: &Conditions| c.start == Start::Rest;
    if rest(counted) != rest(shown) {
        all.push("one starts at rest, the other running".to_owned());
    } else if counted.start != shown.start {
        all.push("counted from another speed than shown".to_owned());
    }
    if counted.script != shown.script {
        all.push("the throttle or the rudder differs".to_owned());
    }
    all
}

/// Runs every speed over every ripple with the throttle that holds the speed on flat water and a driver
/// who holds the course, flat out and lifting off when it must. Theory, unvalidated: the interval of [`Count::lost_share`] is that of the counting
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
            let conditions = asked.conditions(craft, running, ripple_m);
            let counted = |driver, told: &(dyn Fn(usize) -> ControlFlow<()> + Sync)| {
                many_by(craft, throw_rad, &conditions, driver, asked.runs, told)
            };
            // Half of the work each: one who lifts off first, flat out then.
            let lifting = counted(Driver::LiftsOff, &|done| progress(before + done / 2))?;
            let count = counted(Driver::FlatOut, &|done| {
                progress(before + (asked.runs + done) / 2)
            })?;
            all.push(Odds {
                speed_m_s: running.speed_m_s,
                ripple_m,
                count,
                lifting,
            });
            if count.runs < asked.runs {
                return Ok(all);
            }
        }
    }
    Ok(all)
}
