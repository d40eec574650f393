//! Measured beside predicted, and what the difference teaches.
//!
//! Readings of one quantity at one place are first held against each other ([`Agreement`]). Instruments that agree
//! are evidence about the model: none of them is laid aside for being far from it. A reading that stands alone, or
//! is the odd one, may be wrong altogether (Student's t). And the model has an error of its own in each quantity,
//! which no value of its uncertain numbers takes away ([`discrepancy`]); readings that agree share it, so that
//! ten of them do not make the model surer than it is (after Kennedy and O'Hagan, J. R. Statist. Soc. B 63 (2001)
//! 425, from memory).

use crate::agree::{Agreement, Told};
use crate::beside::Beside;
use crate::fit::{Errors, FitError, Posterior, fit};
use crate::model::{Model, Uncertain};
use crate::observe::{Observed, Passed, Place};
use boat::Boat;
use evidence::Measured;
use evidence::measured::median;
use evidence::outing::QuantityKind;
use laws::constants::HALF_WIDTH_95;
use nalgebra::DMatrix;
use std::f64::consts::TAU;
use study::hull_type::HullType;

/// A posterior wider than this share of the prior has learned nothing to speak of.
const NOTHING: f64 = 0.9;
/// Throttles within this, and speeds within this share, are one place.
const SAME_PLACE: (f64, f64) = (0.03, 0.02);
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
    let by_wind = by_wind(model, &observed);
    let speed = Agreement::of(speeds(&observed, &by_wind, boat, hull_type));
    let turns = Agreement::of(told(&observed, &by_wind, QuantityKind::ShaftSpeed));
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
    let (measured, errors) = weighed(&observed, &by_wind);
    let ask = |p: &[f64]| model.ask(p, &observed);
    let found = fit(&model.priors, &measured, &errors, ask)?;
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

/// Standard error that the model keeps in a quantity whatever its uncertain numbers are, at a value of it: what is
/// left of steady running in ripple, driving and the laws themselves (judgement). Temperatures rest on a run of
/// which only throttle and length are known.
pub fn discrepancy(kind: QuantityKind, value: f64) -> f64 {
    let share = match kind {
        QuantityKind::Speed | QuantityKind::ShaftSpeed => 0.005,
        QuantityKind::Current => 0.02,
        QuantityKind::Voltage => 0.007,
        QuantityKind::Power => 0.025,
        QuantityKind::Trim | QuantityKind::Heel => return 0.4_f64.to_radians(),
        QuantityKind::MotorTemperature | QuantityKind::ControllerTemperature => return 5.0,
        _ => 0.05,
    };
    share * value.abs()
}

/// Readings with the model's own error in them, and how each may be off.
fn weighed(observed: &[Observed], by_wind: &[f64]) -> (Vec<Measured>, Vec<Errors>) {
    let top = flat_out_m_s(observed);
    let one = |i: usize| {
        let o = &observed[i];
        let alike: Vec<usize> = (0..observed.len())
            .filter(|j| same_quantity(o, &observed[*j], top))
            .collect();
        let told = alike.iter().map(|j| Told {
            by: observed[*j].from.clone(),
            value: widened(observed[*j].measured, by_wind[*j]),
        });
        let agreement = Agreement::of(told.collect());
        let place = alike.iter().position(|j| *j == i);
        let borne_out = place.is_some_and(|p| agreement.bears_out(p));
        let sharing = (0..alike.len()).filter(|p| agreement.bears_out(*p)).count();
        let (errors, share) = if borne_out {
            (Errors::Normal, sharing as f64)
        } else {
            (Errors::Student, 1.0)
        };
        let own = discrepancy(o.kind, o.measured.value) * share.sqrt();
        (widened(o.measured, own), errors)
    };
    (0..observed.len()).map(one).unzip()
}

/// One quantity of one drive at one place; `flat_out_m_s` is the speed measured at full throttle, so that what was
/// measured at that speed and what was measured at full throttle are one place.
fn same_quantity(a: &Observed, b: &Observed, flat_out_m_s: Option<f64>) -> bool {
    let near = |x: f64, y: f64| (x - y).abs() <= SAME_PLACE.1 * x.max(y);
    let place = match (a.place, b.place) {
        (Place::Throttle(x), Place::Throttle(y)) => (x - y).abs() <= SAME_PLACE.0,
        (Place::Speed(x), Place::Speed(y)) => near(x, y),
        (Place::Throttle(t), Place::Speed(v)) | (Place::Speed(v), Place::Throttle(t)) => {
            t >= 1.0 - SAME_PLACE.0 && flat_out_m_s.is_some_and(|top| near(v, top))
        }
    };
    let timed = matches!(
        a.kind,
        QuantityKind::MotorTemperature | QuantityKind::ControllerTemperature
    );
    place && a.kind == b.kind && a.drive == b.drive && (!timed || a.after_s == b.after_s)
}

/// Middle of the speeds measured at full throttle.
fn flat_out_m_s(observed: &[Observed]) -> Option<f64> {
    let full = |o: &&Observed| {
        let throttle = matches!(o.place, Place::Throttle(t) if t >= 1.0 - SAME_PLACE.0);
        o.kind == QuantityKind::Speed && throttle
    };
    let all: Vec<f64> = observed
        .iter()
        .filter(full)
        .map(|o| o.measured.value)
        .collect();
    median(&all)
}

fn widened(m: Measured, sigma: f64) -> Measured {
    Measured::new(m.value, m.sigma.hypot(sigma))
}

/// What the day's unknown wind may have done to each reading; nothing to a mean of both ways.
fn by_wind(model: &Model, observed: &[Observed]) -> Vec<f64> {
    let none = vec![0.0; observed.len()];
    let wind = model
        .uncertain
        .iter()
        .position(|u| *u == Uncertain::Headwind);
    let Some(wind) = wind else { return none };
    let ask = |by: f64| {
        let mut at: Vec<f64> = model.priors.iter().map(|p| p.value).collect();
        at[wind] += by * model.priors[wind].sigma;
        model.ask(&at, observed)
    };
    match (ask(1.0), ask(-1.0)) {
        (Some(a), Some(b)) => a.iter().zip(&b).map(|(a, b)| 0.5 * (a - b).abs()).collect(),
        _ => none,
    }
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

fn told(observed: &[Observed], by_wind: &[f64], kind: QuantityKind) -> Vec<Told> {
    let each = observed.iter().zip(by_wind);
    each.filter(|(o, _)| o.kind == kind && o.drive == 0)
        .map(|(o, wind)| Told {
            by: o.from.clone(),
            value: widened(o.measured, *wind),
        })
        .collect()
}

/// Speeds measured, and speed from turns, pitch and the slip of a well-set boat of its type.
fn speeds(observed: &[Observed], by_wind: &[f64], boat: &Boat, hull_type: HullType) -> Vec<Told> {
    let mut all = told(observed, by_wind, QuantityKind::Speed);
    let (Some((low, high, _)), Some(drive)) = (hull_type.slip(), boat.drives.first()) else {
        return all;
    };
    let propeller = &drive.propeller;
    let pitch_m = propeller.diameter_m.value * propeller.pitch_ratio.value;
    let pitch_error = propeller.pitch_ratio.spread / propeller.pitch_ratio.value / HALF_WIDTH_95;
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
