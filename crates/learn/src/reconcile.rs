//! Measured beside predicted, and what the difference teaches.

use crate::agree::{Agreement, Told};
use crate::beside::Beside;
use crate::fit::{FitError, Posterior, fit};
use crate::model::{Model, Uncertain};
use crate::observe::{Observed, Passed, Place};
use boat::Boat;
use evidence::Measured;
use evidence::outing::QuantityKind;
use nalgebra::DMatrix;
use std::f64::consts::TAU;
use study::hull_type::HullType;

/// A posterior wider than this share of the prior has learned nothing to speak of.
const NOTHING: f64 = 0.9;
/// Two factors bound more tightly than this cannot be told apart.
const BOUND: f64 = 0.8;

/// One quantity, measured and predicted.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// What was measured, and where.
    pub observed: Observed,
    /// Predicted before learning.
    pub predicted: Measured,
    /// Predicted after.
    pub after: Measured,
    /// Weight it kept in the fit, 0 to 1.
    pub weight: f64,
}

impl Row {
    /// How many standard uncertainties of both measured and predicted are apart; positive when more
    /// was measured than predicted.
    pub fn apart(&self) -> f64 {
        let m = self.observed.measured;
        (m.value - self.predicted.value) / m.sigma.hypot(self.predicted.sigma)
    }
}

/// One uncertain number, before and after.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shift {
    /// Which.
    pub what: Uncertain,
    /// Before measuring.
    pub before: Measured,
    /// After.
    pub after: Measured,
}

impl Shift {
    /// Whether the measurements tell anything about it.
    pub fn is_told(&self) -> bool {
        self.after.sigma <= NOTHING * self.before.sigma
    }

    /// How far it moved, in prior standard uncertainties.
    pub fn moved(&self) -> f64 {
        (self.after.value - self.before.value) / self.before.sigma
    }
}

/// Two numbers that the measurements do not tell apart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pair {
    /// One.
    pub a: Uncertain,
    /// The other.
    pub b: Uncertain,
    /// Positive: only their difference is known; negative: only their sum or product.
    pub correlation: f64,
}

/// Everything an outing teaches.
#[derive(Debug, Clone, PartialEq)]
pub struct Reconciled {
    /// Quantity by quantity.
    pub rows: Vec<Row>,
    /// What could not be held against the model.
    pub passed: Vec<Passed>,
    /// Hops, turns and landings beside the boat in motion; nothing is fitted to them.
    pub beside: Vec<Beside>,
    /// Speed by every instrument.
    pub speed: Agreement,
    /// Turns of the propeller by every instrument.
    pub turns: Agreement,
    /// Numbers before and after.
    pub shifts: Vec<Shift>,
    /// Pairs that are not told apart.
    pub pairs: Vec<Pair>,
    /// Correlation of the shifts, in their order.
    pub correlation: DMatrix<f64>,
}

/// Holds what was observed against the model and fits its uncertain numbers. An empty set of rows is
/// an answer: nothing in the recordings can be held against the model.
///
/// # Errors
/// [`FitError`] when the model cannot be asked at all.
pub fn reconcile(
    model: &Model,
    boat: &Boat,
    hull_type: HullType,
    observed: Vec<Observed>,
    mut passed: Vec<Passed>,
) -> Result<Reconciled, FitError> {
    let start: Vec<f64> = model.priors.iter().map(|p| p.value).collect();
    let (observed, without): (Vec<Observed>, Vec<Observed>) = observed
        .into_iter()
        .partition(|o| model.ask(&start, std::slice::from_ref(o)).is_some());
    passed.extend(without.into_iter().map(|o| Passed {
        kind: o.kind,
        measured: o.measured,
        from: o.from,
        why: "the model finds no steady running there",
    }));
    let speed = Agreement::of(speeds(&observed, boat, hull_type));
    let turns = Agreement::of(told(&observed, QuantityKind::ShaftSpeed));
    if observed.is_empty() {
        return Ok(Reconciled {
            rows: Vec::new(),
            passed,
            beside: Vec::new(),
            speed,
            turns,
            shifts: Vec::new(),
            pairs: Vec::new(),
            correlation: DMatrix::zeros(0, 0),
        });
    }
    let measured: Vec<Measured> = observed.iter().map(|o| o.measured).collect();
    let ask = |p: &[f64]| model.ask(p, &observed);
    let found = fit(&model.priors, &measured, ask)?;
    let shifts = shifts(model, &found);
    let rows = observed.iter().enumerate().map(|(i, one)| Row {
        observed: one.clone(),
        predicted: found.before[i],
        after: Measured::new(found.model[i], found.model_sigma[i]),
        weight: found.weights[i],
    });
    let n = shifts.len();
    let correlation = DMatrix::from_fn(n, n, |i, j| found.correlation(i, j));
    Ok(Reconciled {
        rows: rows.collect(),
        passed,
        beside: Vec::new(),
        speed,
        turns,
        pairs: pairs(&shifts, &correlation),
        shifts,
        correlation,
    })
}

fn shifts(model: &Model, found: &Posterior) -> Vec<Shift> {
    let each = model.uncertain.iter().zip(&model.priors).enumerate();
    each.map(|(i, (what, before))| Shift {
        what: *what,
        before: *before,
        after: Measured::new(found.mean[i], found.sigma(i)),
    })
    .collect()
}

fn pairs(shifts: &[Shift], correlation: &DMatrix<f64>) -> Vec<Pair> {
    let mut all = Vec::new();
    for i in 0..shifts.len() {
        for j in 0..i {
            if correlation[(i, j)].abs() > BOUND {
                all.push(Pair {
                    a: shifts[j].what,
                    b: shifts[i].what,
                    correlation: correlation[(i, j)],
                });
            }
        }
    }
    all
}

fn told(observed: &[Observed], kind: QuantityKind) -> Vec<Told> {
    let flat_out = |o: &&Observed| o.kind == kind && o.drive == 0;
    let each = observed.iter().filter(flat_out);
    each.map(|o| Told {
        by: o.from.clone(),
        value: o.measured,
    })
    .collect()
}

/// Speeds measured, and speed from turns, pitch and the slip of a well-set boat of its type.
fn speeds(observed: &[Observed], boat: &Boat, hull_type: HullType) -> Vec<Told> {
    let mut all = told(observed, QuantityKind::Speed);
    let (Some((low, high, _)), Some(drive)) = (hull_type.slip(), boat.drives.first()) else {
        return all;
    };
    let propeller = &drive.propeller;
    let pitch_m = propeller.diameter_m.value * propeller.pitch_ratio.value;
    let pitch_error = propeller.pitch_ratio.spread / propeller.pitch_ratio.value / 1.96;
    let (middle, half) = (1.0 - 0.5 * (low + high), 0.5 * (high - low));
    let fast = |o: &&Observed| {
        o.kind == QuantityKind::ShaftSpeed && !matches!(o.place, Place::Throttle(t) if t < 0.97)
    };
    for turns in observed.iter().filter(fast) {
        // The band's half-width stands for one sigma: boats well set up lie in it, not all boats.
        let speed = turns.measured.scaled(pitch_m * middle / TAU);
        all.push(Told {
            by: format!(
                "pitch × turns of {}, slip {:.0} to {:.0} %",
                turns.from,
                100.0 * low,
                100.0 * high
            ),
            value: speed.with_relative_error((half / middle).hypot(pitch_error)),
        });
    }
    all
}
