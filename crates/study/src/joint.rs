//! What costs only minutes, searched together: every movable part along and across, strut height and shaft angle.
//!
//! Powell's COBYLA (1994) by the `cobyla` crate, from the boat as it is, in steps a builder can set (1 mm, half a
//! degree); the worth of a boat is the caller's. Then each move is varied alone, to tell how flat the best is.

use boat::Edit;
use cobyla::{RhoBeg, StopTols, minimize};

use crate::Study;
use crate::edits::Writer;
use crate::quantity::Quantities;
use crate::trial::{Source, quantities};

/// Parts are moved no further than this along and across, m.
const ALONG_M: f64 = 0.03;
const ACROSS_M: f64 = 0.015;
/// Struts no further than this, m, and shafts, rad.
const STRUT_M: f64 = 0.003;
const SHAFT_RAD: f64 = 0.026;
/// What a builder can set.
const STEP_M: f64 = 0.001;
const STEP_RAD: f64 = 0.008_727;
/// Boats tried in the search.
const MOST_TRIED: usize = 120;
/// A loss of worth that nobody would see.
const FLAT: f64 = 0.05;

/// One thing moved.
#[derive(Debug, Clone, PartialEq)]
pub struct Move {
    /// Which.
    pub of: Moved,
    /// m, or rad for a shaft; forward, to port, up or propeller-down positive.
    pub by: f64,
    /// From and to where it does as well.
    pub as_good: (f64, f64),
}

/// What is moved, and how.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Moved {
    /// A part along the boat.
    Along(String),
    /// A part across it.
    Across(String),
    /// Struts with their propellers, up.
    Strut,
    /// Shafts, propeller-down.
    Shaft,
}

impl Moved {
    const fn step(&self) -> f64 {
        match self {
            Self::Shaft => STEP_RAD,
            _ => STEP_M,
        }
    }

    const fn reach(&self) -> f64 {
        match self {
            Self::Along(_) => ALONG_M,
            Self::Across(_) => ACROSS_M,
            Self::Strut => STRUT_M,
            Self::Shaft => SHAFT_RAD,
        }
    }
}

/// The best set of moves found.
#[derive(Debug, Clone)]
pub struct Joint {
    /// Those that matter.
    pub moves: Vec<Move>,
    /// Changes of the boat file that make them.
    pub edits: Vec<Edit>,
    /// What comes of them together.
    pub quantities: Quantities,
    /// Boats that were tried.
    pub tried: usize,
}

/// Searches from the boat of `source`, which `study` is of. `worth` is to be made large; `wanted` says whether to go on, and what was
/// found until then is kept. Nothing where the boat cannot be solved or nothing is better than leaving it.
pub fn search(
    source: &dyn Source,
    study: &Study,
    worth: &dyn Fn(&Quantities) -> f64,
    wanted: &dyn Fn() -> bool,
) -> Option<Joint> {
    let declared = source.declared();
    let parts = declared.parts.iter().filter(|p| p.movable);
    let mut knobs: Vec<Moved> = parts
        .flat_map(|p| [Moved::Along(p.name.clone()), Moved::Across(p.name.clone())])
        .collect();
    if !declared.drives.is_empty() {
        knobs.extend([Moved::Strut, Moved::Shaft]);
    }
    let search = Search {
        source,
        writer: Writer::new(source.text(), declared),
        knobs,
        worth,
        study,
    };
    search.run(wanted)
}

struct Search<'s> {
    source: &'s dyn Source,
    writer: Writer<'s>,
    knobs: Vec<Moved>,
    worth: &'s dyn Fn(&Quantities) -> f64,
    study: &'s Study,
}

impl Search<'_> {
    fn run(&self, wanted: &dyn Fn() -> bool) -> Option<Joint> {
        let n = self.knobs.len();
        let still = vec![0.0; n];
        let start = self.value(&self.rounded(&still))?;
        let best = std::cell::RefCell::new((start, self.rounded(&still)));
        let tried = std::cell::Cell::new(1);
        let cost = |x: &[f64], (): &mut ()| {
            let set = self.rounded(x);
            tried.set(tried.get() + 1);
            let Some(value) = wanted().then(|| self.value(&set)).flatten() else {
                return 1e3;
            };
            if value > best.borrow().0 {
                *best.borrow_mut() = (value, set);
            }
            // A little for each move, so that what does nothing stays where it is.
            LAZY * x.iter().map(|v| v.abs()).sum::<f64>() - value
        };
        let stop = StopTols {
            xtol_abs: vec![0.02; n],
            ..StopTols::default()
        };
        // Every outcome leaves the best boat it came across behind.
        let _ = minimize(
            cost,
            &still,
            &vec![(-1.0, 1.0); n],
            &[] as &[&dyn cobyla::Func<()>],
            (),
            MOST_TRIED,
            RhoBeg::All(0.35),
            Some(stop),
        );
        let (value, set) = best.into_inner();
        let set = self.without_idle(set, value);
        (value > start + FLAT && set.iter().any(|v| *v != 0.0))
            .then(|| self.told(&set, tried.get()))
            .flatten()
    }

    /// Shares of each reach as what a builder can set.
    fn rounded(&self, x: &[f64]) -> Vec<f64> {
        let each = self.knobs.iter().zip(x);
        each.map(|(knob, share)| {
            let by = share.clamp(-1.0, 1.0) * knob.reach();
            (by / knob.step()).round() * knob.step()
        })
        .collect()
    }

    fn edits(&self, set: &[f64]) -> Vec<Edit> {
        let parts = self.source.declared().parts.iter().filter(|p| p.movable);
        let mut edits = Vec::new();
        for (index, part) in parts.enumerate() {
            let by = [set[2 * index], set[2 * index + 1], 0.0];
            if by != [0.0; 3] {
                edits.extend(self.writer.part_moved(part, by));
            }
        }
        for (knob, by) in self.knobs.iter().zip(set).filter(|(_, by)| **by != 0.0) {
            match knob {
                Moved::Strut => edits.extend(self.writer.propellers_raised(*by)),
                Moved::Shaft => edits.extend(self.writer.shafts_tilted(*by)),
                Moved::Along(_) | Moved::Across(_) => (),
            }
        }
        edits
    }

    fn quantities(&self, set: &[f64]) -> Option<Quantities> {
        let subject = self.source.edited(&self.edits(set))?;
        let mut quantities = quantities(&subject, self.study.like(), self.study.flight_at())?;
        quantities.moved_to(&self.study.rest_offsets());
        Some(quantities)
    }

    fn value(&self, set: &[f64]) -> Option<f64> {
        self.quantities(set).map(|q| (self.worth)(&q))
    }

    /// Without the moves that can be left out.
    fn without_idle(&self, mut set: Vec<f64>, value: f64) -> Vec<f64> {
        for i in 0..set.len() {
            let kept = set[i];
            if kept == 0.0 {
                continue;
            }
            set[i] = 0.0;
            if self.value(&set).is_none_or(|v| v < value - FLAT) {
                set[i] = kept;
            }
        }
        set
    }

    fn told(&self, set: &[f64], tried: usize) -> Option<Joint> {
        let quantities = self.quantities(set)?;
        let value = (self.worth)(&quantities);
        let moves = self.knobs.iter().enumerate();
        let moves = moves.filter(|(i, _)| set[*i] != 0.0).map(|(i, knob)| Move {
            of: knob.clone(),
            by: set[i],
            as_good: self.as_good(set, i, value),
        });
        Some(Joint {
            moves: moves.collect(),
            edits: self.edits(set),
            quantities,
            tried,
        })
    }

    /// How far one move may be off, in steps of a fifth of its reach.
    fn as_good(&self, set: &[f64], i: usize, value: f64) -> (f64, f64) {
        let step = ((self.knobs[i].reach() / 5.0) / self.knobs[i].step())
            .round()
            .max(1.0)
            * self.knobs[i].step();
        let holds = |by: f64| {
            let mut other = set.to_vec();
            other[i] = by;
            self.value(&other).is_some_and(|v| v > value - 2.0 * FLAT)
        };
        let mut ends = (set[i], set[i]);
        while ends.0 - step >= -self.knobs[i].reach() && holds(ends.0 - step) {
            ends.0 -= step;
        }
        while ends.1 + step <= self.knobs[i].reach() && holds(ends.1 + step) {
            ends.1 += step;
        }
        ends
    }
}

/// Worth of moving everything as far as it goes.
const LAZY: f64 = 0.01;
