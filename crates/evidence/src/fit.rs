//! Damped least squares with few parameters, and the covariance of what it found.
//!
//! Levenberg (1944) and Marquardt (1963), with the diagonal scaling of the latter. Derivatives are
//! central differences, so models stay plain functions of plain numbers.

use nalgebra::{DMatrix, DVector};

/// A converged fit.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// Parameters found.
    pub parameters: Vec<f64>,
    /// Covariance of the parameters for unit residual variance; multiply by
    /// [`Fit::variance_factor`] to own up to a misfit.
    pub covariance: DMatrix<f64>,
    /// Sum of squared (weighted) residuals.
    pub squares: f64,
    /// Residuals less parameters.
    pub freedom: usize,
}

impl Fit {
    /// Residual variance, and never below what the stated errors imply (one).
    pub fn variance_factor(&self) -> f64 {
        (self.squares / self.freedom.max(1) as f64).max(1.0)
    }

    /// Standard uncertainty of parameter `i`.
    pub fn sigma(&self, i: usize) -> f64 {
        (self.covariance[(i, i)] * self.variance_factor()).sqrt()
    }
}

/// Why nothing was fitted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum FitError {
    /// Fewer values than parameters.
    #[error("{values} values cannot fix {parameters} parameters")]
    TooFew {
        /// Residuals given.
        values: usize,
        /// Parameters asked for.
        parameters: usize,
    },
    /// The values do not fix every parameter.
    #[error("the values do not fix every parameter")]
    Undetermined,
    /// The model gave no finite residual at the start.
    #[error("the model has no value at the starting point")]
    BadStart,
}

const ROUNDS: usize = 60;

/// Minimises the sum of squares of `residuals` (each divided by its own error) from `start`.
/// `step` is the size of change of each parameter at which the model changes noticeably.
///
/// # Errors
/// [`FitError`].
pub fn least_squares(
    start: &[f64],
    step: &[f64],
    residuals: impl Fn(&[f64]) -> Vec<f64>,
) -> Result<Fit, FitError> {
    let mut p = start.to_vec();
    let mut r = DVector::from_vec(residuals(&p));
    let (values, parameters) = (r.len(), p.len());
    if values < parameters {
        return Err(FitError::TooFew { values, parameters });
    }
    if !r.norm_squared().is_finite() {
        return Err(FitError::BadStart);
    }
    let mut damping = 1e-3;
    for _ in 0..ROUNDS {
        let jacobian = jacobian(&p, step, &residuals, values);
        let normal = jacobian.tr_mul(&jacobian);
        let slope = jacobian.tr_mul(&r);
        let Some((next, r_next)) = better(&p, &r, &normal, &slope, &mut damping, &residuals) else {
            break;
        };
        let gain = r.norm_squared() - r_next.norm_squared();
        let done = gain <= 1e-10 * r.norm_squared();
        (p, r) = (next, r_next);
        if done {
            break;
        }
    }
    let last = jacobian(&p, step, &residuals, values);
    let covariance = inverse(&last.tr_mul(&last)).ok_or(FitError::Undetermined)?;
    Ok(Fit {
        parameters: p,
        covariance,
        squares: r.norm_squared(),
        freedom: values - parameters,
    })
}

/// A downhill step, tried with more damping until one is found.
fn better(
    p: &[f64],
    r: &DVector<f64>,
    normal: &DMatrix<f64>,
    slope: &DVector<f64>,
    damping: &mut f64,
    residuals: &impl Fn(&[f64]) -> Vec<f64>,
) -> Option<(Vec<f64>, DVector<f64>)> {
    while *damping < 1e12 {
        let mut damped = normal.clone();
        for i in 0..p.len() {
            damped[(i, i)] += *damping * normal[(i, i)].max(1e-30);
        }
        if let Some(cholesky) = damped.cholesky() {
            let move_by = cholesky.solve(slope);
            let next: Vec<f64> = p.iter().zip(&move_by).map(|(a, b)| a - b).collect();
            let r_next = DVector::from_vec(residuals(&next));
            if r_next.norm_squared() < r.norm_squared() {
                *damping = (*damping / 5.0).max(1e-12);
                return Some((next, r_next));
            }
        }
        *damping *= 4.0;
    }
    None
}

fn jacobian(
    p: &[f64],
    step: &[f64],
    residuals: &impl Fn(&[f64]) -> Vec<f64>,
    values: usize,
) -> DMatrix<f64> {
    let mut j = DMatrix::zeros(values, p.len());
    for (column, h) in step.iter().enumerate() {
        let shifted = |by: f64| {
            let mut q = p.to_vec();
            q[column] += by;
            residuals(&q)
        };
        // A thousandth of a noticeable change: the error of a central difference is then 1e-6.
        let h = 1e-3 * h;
        let (up, down) = (shifted(h), shifted(-h));
        for row in 0..values {
            j[(row, column)] = (up[row] - down[row]) / (2.0 * h);
        }
    }
    j
}

/// Inverse after scaling to a unit diagonal; `None` when a parameter is not fixed.
fn inverse(normal: &DMatrix<f64>) -> Option<DMatrix<f64>> {
    let n = normal.nrows();
    let scale: Vec<f64> = (0..n).map(|i| normal[(i, i)].sqrt()).collect();
    if scale.iter().any(|s| !s.is_finite() || *s <= 0.0) {
        return None;
    }
    let unit = DMatrix::from_fn(n, n, |i, j| normal[(i, j)] / (scale[i] * scale[j]));
    let inverse = unit.cholesky()?.inverse();
    let sound = inverse.iter().all(|x| x.is_finite() && x.abs() < 1e12);
    sound.then(|| DMatrix::from_fn(n, n, |i, j| inverse[(i, j)] / (scale[i] * scale[j])))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_straight_line_has_the_textbook_answer() {
        // y = 1, 3, 2 at x = -1, 0, 1, unit errors: mean 2, slope 1/2;
        // variances 1/3 and 1/2; residuals -1/2, 1, -1/2: squares 3/2.
        let (x, y) = ([-1.0, 0.0, 1.0], [1.0, 3.0, 2.0]);
        let line = |p: &[f64]| (0..3).map(|i| p[0] + p[1] * x[i] - y[i]).collect();
        let fit = least_squares(&[0.0, 0.0], &[1.0, 1.0], line).unwrap();
        assert!((fit.parameters[0] - 2.0).abs() < 1e-8);
        assert!((fit.parameters[1] - 0.5).abs() < 1e-8);
        assert!((fit.covariance[(0, 0)] - 1.0 / 3.0).abs() < 1e-8);
        assert!((fit.covariance[(1, 1)] - 0.5).abs() < 1e-8);
        assert!((fit.squares - 1.5).abs() < 1e-8);
    }

    #[test]
    fn a_decay_is_found_from_afar() {
        let t: Vec<f64> = (0..40).map(|i| f64::from(i) * 0.1).collect();
        let decay = |p: &[f64]| {
            t.iter()
                .map(|t| p[0] * (-p[1] * t).exp() - 3.0 * (-1.7 * t).exp())
                .collect()
        };
        let fit = least_squares(&[1.0, 0.2], &[0.1, 0.1], decay).unwrap();
        assert!((fit.parameters[0] - 3.0).abs() < 1e-6);
        assert!((fit.parameters[1] - 1.7).abs() < 1e-6);
    }

    #[test]
    fn says_when_a_parameter_is_free() {
        let flat = |p: &[f64]| vec![p[0] - 1.0, p[0] - 2.0, p[0] + 0.0 * p[1]];
        let got = least_squares(&[0.0, 0.0], &[1.0, 1.0], flat);
        assert_eq!(got, Err(FitError::Undetermined));
        let few = least_squares(&[0.0, 0.0], &[1.0, 1.0], |p| vec![p[0]]);
        assert!(matches!(few, Err(FitError::TooFew { .. })));
    }
}
