//! Uncertain numbers corrected by measurements: damped least squares with priors, in which a value
//! far from all others counts for little.
//!
//! Minimised over the parameters `p` is
//!
//! `sum_i (nu + 1) ln(1 + r_i^2 / nu) + sum_j ((p_j - mean_j) / sigma_j)^2`,
//! `r_i = (measured_i - model_i(p)) / sigma_i`
//!
//! that is, normal priors and measurement errors of Student's t with `nu` = 4 degrees of freedom: what stands
//! alone may be wrong altogether. A reading that others bear out is [`Errors::Normal`] instead, `r_i^2`: against
//! several instruments that agree it is the model that must give way.
//!
//! - Source: Lange, Little & Taylor, J. Am. Statist. Assoc. 84 (1989) 881 (t errors and the weights
//!   `(nu + 1) / (nu + r^2)`); Marquardt, J. SIAM 11 (1963) 431 (damping). Both from memory.
//! - Covariance: inverse of the weighted normal matrix with the priors in it, no weight above one.
//! - Valid: one optimum, and a model nearly straight within the posterior spread. Values must be
//!   independent of each other.
//! - Checks: `checks/robust_fit.csv`, made with `scipy.optimize.least_squares`; the coverage test here.

use evidence::Measured;
use nalgebra::{DMatrix, DVector};
use rayon::prelude::*;

/// Degrees of freedom of the measurement errors.
pub const FREEDOM: f64 = 4.0;
/// Derivatives are central differences over this share of a prior sigma.
const NUDGE: f64 = 0.1;
const ROUNDS: usize = 40;
/// Slopes are taken anew once a parameter has moved by this share of its prior sigma: they cost two answers of
/// the model a parameter, a step only one. A model nearly straight within the spread does not tell the
/// difference.
const STALE: f64 = 0.03;
/// Done when a step is shorter than this share of the prior sigmas.
const SETTLED: f64 = 1e-4;

/// How a reading may be off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Errors {
    /// Others of its kind bear it out.
    Normal,
    /// It stands alone and may be wrong altogether.
    Student,
}

impl Errors {
    fn misfit(self, r: f64) -> f64 {
        match self {
            Self::Normal => r * r,
            Self::Student => (FREEDOM + 1.0) * (r * r / FREEDOM).ln_1p(),
        }
    }

    fn weight(self, r: f64) -> f64 {
        match self {
            Self::Normal => 1.0,
            Self::Student => (FREEDOM + 1.0) / (FREEDOM + r * r),
        }
    }
}

/// What the measurements make of the priors.
#[derive(Debug, Clone, PartialEq)]
pub struct Posterior {
    /// Best estimates.
    pub mean: Vec<f64>,
    /// Their covariance.
    pub covariance: DMatrix<f64>,
    /// The model at the best estimates.
    pub model: Vec<f64>,
    /// The model before any measurement, with the spread the priors give it.
    pub before: Vec<Measured>,
    /// Weight each measurement kept, 0 to 1.
    pub weights: Vec<f64>,
    /// Standard uncertainty of the model's values at the best estimates.
    pub model_sigma: Vec<f64>,
}

impl Posterior {
    /// Standard uncertainty of parameter `i`.
    pub fn sigma(&self, i: usize) -> f64 {
        self.covariance[(i, i)].sqrt()
    }

    /// Correlation of two parameters.
    pub fn correlation(&self, i: usize, j: usize) -> f64 {
        self.covariance[(i, j)] / (self.sigma(i) * self.sigma(j))
    }
}

/// Why nothing was fitted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum FitError {
    /// Priors and measurements need a spread.
    #[error("every number needs a spread above zero")]
    NoSpread,
    /// The model cannot be asked where it starts.
    #[error("the model has no answer for the boat as it is")]
    NoModel,
    /// Nothing to learn from.
    #[error("there is no measurement to learn from")]
    NoMeasurement,
}

/// Fits `model`, which gives one value for each of `measured`, or `None` where it has no answer. `errors` says how
/// each of them may be off; those beyond its end stand alone.
///
/// # Errors
/// [`FitError`].
pub fn fit(
    priors: &[Measured],
    measured: &[Measured],
    errors: &[Errors],
    model: impl Fn(&[f64]) -> Option<Vec<f64>> + Sync,
) -> Result<Posterior, FitError> {
    let unusable = |m: &Measured| !(m.sigma > 0.0 && m.sigma.is_finite() && m.value.is_finite());
    if measured.is_empty() {
        return Err(FitError::NoMeasurement);
    }
    if priors.iter().chain(measured).any(unusable) {
        return Err(FitError::NoSpread);
    }
    let problem = Problem {
        priors,
        measured,
        errors,
        model: &model,
    };
    let mut at = problem
        .at(DVector::zeros(priors.len()))
        .ok_or(FitError::NoModel)?;
    let mut slopes = problem.slopes(&at.x);
    let mut taken_at = at.x.clone();
    let before = problem.before(&at, &slopes);
    let mut damping = 1e-3;
    for _ in 0..ROUNDS {
        if (&at.x - &taken_at).amax() > STALE {
            slopes = problem.slopes(&at.x);
            taken_at = at.x.clone();
        }
        let (normal, downhill) = problem.normal(&at, &slopes);
        let Some((next, step)) = problem.better(&at, &normal, &downhill, &mut damping) else {
            break;
        };
        let gain = at.cost - next.cost;
        at = next;
        if step < SETTLED || gain < SETTLED * SETTLED {
            break;
        }
    }
    if (&at.x - &taken_at).amax() > STALE {
        slopes = problem.slopes(&at.x);
    }
    Ok(problem.posterior(&at, &slopes, before))
}

/// In units of prior sigmas from the prior means.
struct Problem<'a, F> {
    priors: &'a [Measured],
    measured: &'a [Measured],
    errors: &'a [Errors],
    model: &'a F,
}

/// A place tried.
struct At {
    x: DVector<f64>,
    model: Vec<f64>,
    residuals: DVector<f64>,
    cost: f64,
}

impl<F: Fn(&[f64]) -> Option<Vec<f64>> + Sync> Problem<'_, F> {
    fn parameters(&self, x: &DVector<f64>) -> Vec<f64> {
        let each = self.priors.iter().zip(x.iter());
        each.map(|(p, x)| p.value + p.sigma * x).collect()
    }

    fn at(&self, x: DVector<f64>) -> Option<At> {
        let model = (self.model)(&self.parameters(&x))?;
        if model.len() != self.measured.len() || model.iter().any(|m| !m.is_finite()) {
            return None;
        }
        let each = self.measured.iter().zip(&model);
        let residuals: Vec<f64> = each.map(|(m, y)| (m.value - y) / m.sigma).collect();
        let misfits = residuals.iter().enumerate();
        let cost = misfits.map(|(i, r)| self.errors(i).misfit(*r)).sum::<f64>() + x.norm_squared();
        Some(At {
            x,
            model,
            residuals: DVector::from_vec(residuals),
            cost,
        })
    }

    /// Of the model over measurement sigmas; a parameter without an answer on both sides has none.
    fn slopes(&self, x: &DVector<f64>) -> DMatrix<f64> {
        let columns: Vec<DVector<f64>> = (0..x.len())
            .into_par_iter()
            .map(|j| {
                let moved = |by: f64| {
                    let mut x = x.clone();
                    x[j] += by;
                    self.at(x)
                };
                match (moved(NUDGE), moved(-NUDGE)) {
                    (Some(up), Some(down)) => (down.residuals - up.residuals) / (2.0 * NUDGE),
                    _ => DVector::zeros(self.measured.len()),
                }
            })
            .collect();
        DMatrix::from_columns(&columns)
    }

    fn errors(&self, i: usize) -> Errors {
        self.errors.get(i).copied().unwrap_or(Errors::Student)
    }

    fn weights(&self, at: &At) -> DVector<f64> {
        let each = at.residuals.iter().enumerate();
        DVector::from_iterator(
            at.residuals.len(),
            each.map(|(i, r)| self.errors(i).weight(*r)),
        )
    }

    fn normal(&self, at: &At, slopes: &DMatrix<f64>) -> (DMatrix<f64>, DVector<f64>) {
        let weights = self.weights(at);
        let weighted = DMatrix::from_diagonal(&weights) * slopes;
        let normal = slopes.tr_mul(&weighted) + DMatrix::identity(at.x.len(), at.x.len());
        (normal, weighted.tr_mul(&at.residuals) - &at.x)
    }

    /// A step downhill, with more damping until one is found.
    fn better(
        &self,
        at: &At,
        normal: &DMatrix<f64>,
        downhill: &DVector<f64>,
        damping: &mut f64,
    ) -> Option<(At, f64)> {
        while *damping < 1e9 {
            let damped = normal + DMatrix::from_diagonal(&(normal.diagonal() * *damping));
            let step = damped.cholesky()?.solve(downhill);
            if let Some(next) = self.at(&at.x + &step).filter(|n| n.cost <= at.cost) {
                *damping = (*damping * 0.2).max(1e-9);
                return Some((next, step.amax()));
            }
            *damping *= 5.0;
        }
        None
    }

    fn before(&self, at: &At, slopes: &DMatrix<f64>) -> Vec<Measured> {
        let each = at.model.iter().zip(self.measured).enumerate();
        each.map(|(i, (value, m))| Measured::new(*value, slopes.row(i).norm() * m.sigma))
            .collect()
    }

    fn posterior(&self, at: &At, slopes: &DMatrix<f64>, before: Vec<Measured>) -> Posterior {
        let weights = self.weights(at).map(|w| w.min(1.0));
        let weighted = DMatrix::from_diagonal(&weights) * slopes;
        let n = at.x.len();
        let normal = slopes.tr_mul(&weighted) + DMatrix::identity(n, n);
        // The priors keep it well away from singular.
        let unit = normal
            .cholesky()
            .map_or_else(|| DMatrix::identity(n, n), |c| c.inverse());
        let sigma = |i: usize| self.priors[i].sigma;
        let spread = slopes * &unit * slopes.transpose();
        Posterior {
            before,
            mean: self.parameters(&at.x),
            covariance: DMatrix::from_fn(n, n, |i, j| unit[(i, j)] * sigma(i) * sigma(j)),
            model: at.model.clone(),
            weights: weights.iter().copied().collect(),
            model_sigma: (0..at.model.len())
                .map(|i| spread[(i, i)].max(0.0).sqrt() * self.measured[i].sigma)
                .collect(),
        }
    }
}

#[cfg(test)]
mod tests;
