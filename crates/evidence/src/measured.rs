//! A measured number and how sure it is.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A value with its standard uncertainty (one sigma), both in the unit of the field that holds it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Measured {
    /// Best estimate.
    pub value: f64,
    /// Standard uncertainty: the truth lies within one of these about two times in three.
    pub sigma: f64,
}

impl Measured {
    /// A value and its standard uncertainty.
    pub fn new(value: f64, sigma: f64) -> Self {
        Self { value, sigma }
    }

    /// Sigma over the value's size.
    pub fn relative(&self) -> f64 {
        self.sigma / self.value.abs()
    }

    /// The same with a further independent error, relative to the value, added in quadrature.
    #[must_use]
    pub fn with_relative_error(self, relative: f64) -> Self {
        Self::new(self.value, self.sigma.hypot(self.value * relative))
    }

    /// Value and sigma times a constant.
    #[must_use]
    pub fn scaled(self, factor: f64) -> Self {
        Self::new(self.value * factor, self.sigma * factor.abs())
    }
}

/// Mean of independent measurements weighted by their sigmas; widened when they disagree by more
/// than those allow. `None` when there are none, or a sigma is not above zero.
pub fn weighted_mean(parts: &[Measured]) -> Option<Measured> {
    if parts.is_empty() || parts.iter().any(|p| p.sigma.is_nan() || p.sigma <= 0.0) {
        return None;
    }
    let weight = |p: &Measured| p.sigma.powi(-2);
    let total: f64 = parts.iter().map(weight).sum();
    let mean = parts.iter().map(|p| weight(p) * p.value).sum::<f64>() / total;
    let misfit: f64 = parts
        .iter()
        .map(|p| weight(p) * (p.value - mean).powi(2))
        .sum();
    let spread = (misfit / (parts.len().max(2) - 1) as f64).max(1.0);
    Some(Measured::new(mean, (spread / total).sqrt()))
}

/// Median; `None` of nothing. Not-a-numbers sort last.
pub fn median(values: &[f64]) -> Option<f64> {
    quantile(values, 0.5)
}

/// Value below which a `part` (0 to 1) of the values lies, between neighbours in proportion.
pub fn quantile(values: &[f64], part: f64) -> Option<f64> {
    if values.is_empty() {
        return None;
    }
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let at = part.clamp(0.0, 1.0) * (sorted.len() - 1) as f64;
    let low = sorted[at.floor() as usize];
    let high = sorted[at.ceil() as usize];
    Some(low + (high - low) * at.fract())
}

/// Standard deviation estimated from the median distance to the median, which a few wild values
/// do not move. For normal errors the two agree.
pub fn robust_sigma(values: &[f64]) -> Option<f64> {
    let centre = median(values)?;
    let off: Vec<f64> = values.iter().map(|v| (v - centre).abs()).collect();
    // 1.4826 = 1 / (the upper quartile of the standard normal).
    Some(1.4826 * median(&off)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn agreeing_values_narrow_and_disagreeing_ones_do_not() {
        let m = |v| Measured::new(v, 1.0);
        let close = weighted_mean(&[m(10.0), m(10.0), m(10.0), m(10.0)]).unwrap();
        assert_eq!((close.value, close.sigma), (10.0, 0.5));
        // Two values 10 sigma apart: misfit 50 over one freedom, sigma sqrt(50/2) = 5.
        let far = weighted_mean(&[m(0.0), m(10.0)]).unwrap();
        assert!((far.sigma - 5.0).abs() < 1e-12);
    }

    #[test]
    fn a_wild_value_moves_the_median_little() {
        assert_eq!(median(&[1.0, 2.0, 1e9]), Some(2.0));
        assert_eq!(median(&[1.0, 2.0]), Some(1.5));
        assert_eq!(median(&[]), None);
        assert!((robust_sigma(&[1.0, 2.0, 3.0, 4.0, 1e9]).unwrap() - 1.4826).abs() < 1e-9);
    }
}
