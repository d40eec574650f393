//! How far the answers may be off: the boat again and again, each time within its tolerances and
//! with the laws within theirs.
//!
//! Each draw has a stream of its own from one seed, so the answers do not depend on the number of
//! threads. Tolerances are 95 % half-widths of normal distributions, cut at 2.5 standard
//! deviations; sizes stay above a twentieth of their value and fractions between 0 and 1.

use boat::{Boat, Kind};
use craft::factors::FACTORS;
use craft::{Factors, RunningState, SpeedCurve};
use form::Form;
use rand::RngExt as _;
use rand::SeedableRng as _;
use rand_chacha::ChaCha8Rng;
use rayon::prelude::*;

use crate::lever::Learned;
use crate::quantity::{Detail, Quantities, Quantity, solve};

/// 95 % half-width of a normal distribution over its standard deviation.
const HALF_WIDTH: f64 = 1.96;
/// Draws are cut here, in standard deviations.
const CUT: f64 = 2.5;

/// One draw.
#[derive(Debug, Clone)]
pub struct Draw {
    /// Its answers.
    pub quantities: Quantities,
    /// Its speed curve.
    pub curve: SpeedCurve,
}

/// All draws that could be solved, in order.
#[derive(Debug, Clone, Default)]
pub struct Spread {
    /// In order of their streams.
    pub draws: Vec<Draw>,
    /// Draws that sank.
    pub failed: usize,
}

impl Spread {
    /// `count` draws.
    pub fn sample(boat: &Boat, form: &Form, count: usize, seed: u64, detail: Detail) -> Self {
        Self::sample_with(boat, form, count, seed, detail, &Learned::default())
    }

    /// `count` draws of a boat corrected by what was learned of it.
    pub fn sample_with(
        boat: &Boat,
        form: &Form,
        count: usize,
        seed: u64,
        detail: Detail,
        learned: &Learned,
    ) -> Self {
        let drawn: Vec<Option<Draw>> = (0..count as u64)
            .into_par_iter()
            .map(|stream| draw(boat, form, (seed, stream), detail, learned))
            .collect();
        let failed = drawn.iter().filter(|d| d.is_none()).count();
        Self {
            draws: drawn.into_iter().flatten().collect(),
            failed,
        }
    }

    /// 95 % half-width of an answer over the draws that have one; 0 with fewer than three.
    pub fn half_width(&self, quantity: Quantity) -> f64 {
        let values: Vec<f64> = self
            .draws
            .iter()
            .filter_map(|d| d.quantities.get(quantity))
            .collect();
        mean_and_half_width(&values).map_or(0.0, |(_, half)| half)
    }

    /// Share of draws for which `holds`; `None` without draws.
    pub fn share(&self, holds: impl Fn(&Draw) -> bool) -> Option<f64> {
        if self.draws.is_empty() {
            return None;
        }
        let held = self.draws.iter().filter(|d| holds(d)).count();
        Some(held as f64 / self.draws.len() as f64)
    }

    /// Mean less and plus half-width of `of` at a speed, over the draws that run there; `None`
    /// where fewer than half of them do.
    pub fn band(&self, speed_m_s: f64, of: impl Fn(&RunningState) -> f64) -> Option<(f64, f64)> {
        let values: Vec<f64> = self
            .draws
            .iter()
            .filter_map(|d| at_speed(&d.curve.running, speed_m_s, &of))
            .collect();
        if 2 * values.len() < self.draws.len() {
            return None;
        }
        mean_and_half_width(&values).map(|(mean, half)| (mean - half, mean + half))
    }
}

/// Straight between the two states around a speed.
pub fn at_speed(
    states: &[RunningState],
    speed_m_s: f64,
    of: &impl Fn(&RunningState) -> f64,
) -> Option<f64> {
    let above = states.iter().position(|s| s.speed_m_s >= speed_m_s)?;
    let (a, b) = (&states[above.saturating_sub(1)], &states[above]);
    let width = b.speed_m_s - a.speed_m_s;
    if width <= 0.0 {
        return (b.speed_m_s - speed_m_s < 1e-9).then(|| of(b));
    }
    let part = (speed_m_s - a.speed_m_s) / width;
    Some(of(a) + (of(b) - of(a)) * part)
}

fn mean_and_half_width(values: &[f64]) -> Option<(f64, f64)> {
    if values.len() < 3 {
        return None;
    }
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let variance = values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / (n - 1.0);
    Some((mean, HALF_WIDTH * variance.sqrt()))
}

fn draw(
    boat: &Boat,
    form: &Form,
    (seed, stream): (u64, u64),
    detail: Detail,
    learned: &Learned,
) -> Option<Draw> {
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    rng.set_stream(stream);
    let mut varied = boat.clone();
    vary(&mut varied, &mut rng);
    let mut factors = vary_factors(&mut rng);
    learned.draw(|| normal(&mut rng), boat, &mut varied, &mut factors);
    let mass = craft::mass::mass_properties(&varied, form).ok()?;
    let asked = solve(&varied, form, &mass, &factors, detail).ok()?;
    Some(Draw {
        quantities: asked.quantities,
        curve: asked.curve,
    })
}

/// Every measure within its tolerance.
fn vary(boat: &mut Boat, rng: &mut ChaCha8Rng) {
    boat.visit_quantities(&mut |path, kind, measure| {
        // Drawn also where there is no spread, so that giving one number a tolerance leaves the
        // draws of all others as they were.
        let deviate = normal(rng) / HALF_WIDTH;
        let value = measure.value + deviate * measure.spread;
        measure.value = kept_sane(path, kind, measure.value, value);
    });
}

/// A thickness cannot be negative nor a share above one, however wide the tolerance.
fn kept_sane(path: &str, kind: Kind, was: f64, value: f64) -> f64 {
    let signed = matches!(kind, Kind::Angle | Kind::Temperature | Kind::Speed)
        || [" x", " y", " z"].iter().any(|end| path.ends_with(end));
    if kind == Kind::Fraction && (0.0..=1.0).contains(&was) {
        return value.clamp(0.05 * was, 1.0);
    }
    if signed || was <= 0.0 {
        value
    } else {
        value.max(0.05 * was)
    }
}

fn vary_factors(rng: &mut ChaCha8Rng) -> Factors {
    let mut factors = Factors::default();
    for info in &FACTORS {
        let deviate = normal(rng) / HALF_WIDTH;
        let factor = (info.of)(&mut factors);
        let nominal = *factor;
        let value = nominal + deviate * info.spread;
        // The friction band has two ends; a multiplier stays above a tenth.
        *factor = if nominal == 0.0 {
            value.clamp(-1.0, 1.0)
        } else {
            value.max(0.1 * nominal)
        };
    }
    factors
}

/// A standard normal deviate (Box and Muller 1958), cut.
fn normal(rng: &mut ChaCha8Rng) -> f64 {
    let (u, v): (f64, f64) = (rng.random(), rng.random());
    let radius = (-2.0 * (1.0 - u).ln()).sqrt();
    (radius * (std::f64::consts::TAU * v).cos()).clamp(-CUT, CUT)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn deviates_have_mean_0_and_deviation_1() {
        let mut rng = ChaCha8Rng::seed_from_u64(1);
        let values: Vec<f64> = (0..20_000).map(|_| normal(&mut rng)).collect();
        let n = values.len() as f64;
        let mean = values.iter().sum::<f64>() / n;
        let variance = values.iter().map(|v| v * v).sum::<f64>() / n;
        // Standard errors are 0.007 and 0.01; the cut takes 2.2 % off the variance.
        assert!(mean.abs() < 0.025, "{mean}");
        assert!((variance - 0.978).abs() < 0.03, "{variance}");
    }

    #[test]
    fn sizes_stay_positive_and_shares_stay_shares() {
        assert_eq!(
            kept_sane("fin thickness", Kind::Length, 0.002, -0.001),
            0.0001
        );
        assert_eq!(
            kept_sane("part \"Strut\" x", Kind::Length, 0.002, -0.001),
            -0.001
        );
        assert_eq!(
            kept_sane("drive shaft efficiency", Kind::Fraction, 0.9, 1.2),
            1.0
        );
        assert_eq!(kept_sane("air headwind", Kind::Speed, 1.0, -2.0), -2.0);
    }
}
