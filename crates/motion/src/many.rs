//! Many seeded runs, of which only counts are kept: memory does not grow with their number.

use craft::Craft;
use rayon::prelude::*;
use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

use crate::driver::Driver;
use crate::events::What;
use crate::run::{Conditions, RunError, Stopped, run_by};

/// How runs ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Count {
    /// Runs made.
    pub runs: usize,
    /// Went over backwards.
    pub flipped: usize,
    /// Bow under and over.
    pub dived: usize,
    /// On their side.
    pub rolled: usize,
    /// Left the water at least once.
    pub left: usize,
    /// Could not be carried on.
    pub stuck: usize,
}

impl Count {
    fn plus(self, o: Self) -> Self {
        Self {
            runs: self.runs + o.runs,
            flipped: self.flipped + o.flipped,
            dived: self.dived + o.dived,
            rolled: self.rolled + o.rolled,
            left: self.left + o.left,
            stuck: self.stuck + o.stuck,
        }
    }

    /// Ended upside down, whichever way.
    pub fn lost(&self) -> usize {
        self.flipped + self.dived + self.rolled
    }

    /// Share lost and its 95 % interval (Wilson 1927).
    pub fn lost_share(&self) -> (f64, f64, f64) {
        wilson(self.lost(), self.runs)
    }
}

/// Share of `hits` in `all` and its 95 % interval after Wilson 1927, J. Am. Stat. Assoc. 22, 209-212.
pub fn wilson(hits: usize, all: usize) -> (f64, f64, f64) {
    if all == 0 {
        return (0.0, 0.0, 1.0);
    }
    let (n, z) = (all as f64, 1.959_964);
    let p = hits as f64 / n;
    let middle = (p + z * z / (2.0 * n)) / (1.0 + z * z / n);
    let half = z / (1.0 + z * z / n) * (p * (1.0 - p) / n + z * z / (4.0 * n * n)).sqrt();
    (p, (middle - half).max(0.0), (middle + half).min(1.0))
}

/// Runs `conditions` with the seeds `conditions.seed` and on. `progress` is told how many are done and may
/// stop; those made so far are counted. The same on any number of threads unless stopped.
///
/// # Errors
/// [`RunError`].
pub fn many(
    craft: &Craft,
    throw_rad: f64,
    conditions: &Conditions,
    runs: usize,
    progress: &(dyn Fn(usize) -> ControlFlow<()> + Sync),
) -> Result<Count, RunError> {
    many_by(
        craft,
        throw_rad,
        conditions,
        Driver::FlatOut,
        runs,
        progress,
    )
}

/// The same by a driver who may lift off.
///
/// # Errors
/// [`RunError`].
pub fn many_by(
    craft: &Craft,
    throw_rad: f64,
    conditions: &Conditions,
    driver: Driver,
    runs: usize,
    progress: &(dyn Fn(usize) -> ControlFlow<()> + Sync),
) -> Result<Count, RunError> {
    let (done, halt) = (AtomicUsize::new(0), AtomicBool::new(false));
    (0..runs)
        .into_par_iter()
        .map(|i| {
            if halt.load(Ordering::Relaxed) {
                return Ok(Count::default());
            }
            let one = Conditions {
                seed: conditions.seed + i as u64,
                ..conditions.clone()
            };
            let mut ask = |_| {
                if halt.load(Ordering::Relaxed) {
                    ControlFlow::Break(())
                } else {
                    ControlFlow::Continue(())
                }
            };
            let found = run_by(craft, throw_rad, &one, driver, &mut ask)?;
            let now = done.fetch_add(1, Ordering::Relaxed) + 1;
            if progress(now).is_break() {
                halt.store(true, Ordering::Relaxed);
            }
            let any = |what| usize::from(found.events.iter().any(|e| e.what == what));
            if found.stopped == Some(Stopped::Asked) {
                return Ok(Count::default());
            }
            Ok(Count {
                runs: 1,
                flipped: any(What::Flips),
                dived: any(What::Dives),
                rolled: any(What::Rolls) + any(What::Trips),
                left: any(What::Leaves),
                stuck: usize::from(matches!(found.stopped, Some(Stopped::Stuck(_)))),
            })
        })
        .try_reduce(Count::default, |a, b| Ok(a.plus(b)))
}
