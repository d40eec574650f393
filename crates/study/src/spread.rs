//! How far the answers may be off: the boat again and again, each time within its tolerances and
//! with the laws within theirs.
//!
//! Draws fill the space of all uncertain numbers evenly (`deviates`) instead of by chance, so that few of them
//! tell the spread, and another seed tells nearly the same. Each draw stands alone: more draws keep the first ones, and
//! the answers do not depend on the number of threads. Tolerances are 95 % half-widths of normal distributions, cut at
//! 2.5 standard deviations; sizes stay above a twentieth of their value and fractions between 0 and 1.
//!
//! Half-widths come from quantiles: half the way from the 5th to the 95th hundredth, from the 10th to the 90th and from
//! the 20th to the 80th, each over that of a normal distribution, their mean times 1.96. The outermost draws of a few
//! dozen say little, and one boat that never planes says nothing of the others.

use boat::{Boat, Kind};
use craft::factors::FACTORS;
use craft::{Factors, RunningState, SpeedCurve};
use form::Form;
use laws::constants::HALF_WIDTH_95 as HALF_WIDTH;
use motion::flight::spare_in_gust_rad;
use motion::turning::{Turner, Turns};
use rayon::prelude::*;

use crate::deviates::Deviates;
use crate::lever::Learned;
use crate::quantity::{Detail, Quantities, Quantity, Solved, solve};

/// Lower ones of the pairs of quantiles that half-widths are taken from, and how far out a normal distribution has them,
/// in standard deviations.
const PAIRS: [(f64, f64); 3] = [(0.05, 1.644_854), (0.1, 1.281_552), (0.2, 0.841_621)];

/// What else is asked of each draw.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Deep<'a> {
    /// Pitch to spare in a gust, at this share of the way from planing to top speed.
    pub flight_at: Option<f64>,
    /// The like of the tightest of these turns, from this share of top speed.
    pub turns_at: Option<(f64, &'a Turns)>,
}

/// One draw.
#[derive(Debug, Clone)]
pub struct Draw {
    /// Which of the draws it is.
    pub index: u32,
    /// Its answers.
    pub quantities: Quantities,
    /// Its speed curve.
    pub curve: SpeedCurve,
    /// Pitch to spare in a gust, rad; where asked.
    pub flight_rad: Option<f64>,
    /// Radius of its tightest steady turn, m; where asked.
    pub turn_m: Option<f64>,
}

/// All draws that could be solved, in order.
#[derive(Debug, Clone, Default)]
pub struct Spread {
    /// In order of their streams: what numbers and their spreads come from.
    pub draws: Vec<Draw>,
    /// Draws beyond those, for the bands along the speeds alone.
    pub further: Vec<Draw>,
    /// Of the former, those that sank.
    pub failed: usize,
}

impl Spread {
    /// `count` draws.
    pub fn sample(boat: &Boat, form: &Form, count: usize, seed: u64, detail: Detail) -> Self {
        let learned = Learned::default();
        Self::sample_with(boat, form, count, seed, detail, &learned, Deep::default())
    }

    /// `count` draws of a boat corrected by what was learned of it.
    #[allow(clippy::too_many_arguments)]
    pub fn sample_with(
        boat: &Boat,
        form: &Form,
        count: usize,
        seed: u64,
        detail: Detail<'_>,
        learned: &Learned,
        deep: Deep<'_>,
    ) -> Self {
        let drawn: Vec<Option<Draw>> = (0..count as u32)
            .into_par_iter()
            .map(|index| {
                draw(
                    boat,
                    form,
                    (index, Deviates::new(seed, index)),
                    detail,
                    learned,
                    deep,
                )
            })
            .collect();
        let failed = drawn.iter().filter(|d| d.is_none()).count();
        Self {
            draws: drawn.into_iter().flatten().collect(),
            further: Vec::new(),
            failed,
        }
    }

    /// Numbers from the first `count` alone, so that whoever draws more tells the same.
    pub(crate) fn told_by(mut self, count: usize) -> Self {
        let after = self.draws.partition_point(|d| (d.index as usize) < count);
        self.further = self.draws.split_off(after);
        self.failed = count - self.draws.len();
        self
    }

    /// 95 % half-width of an answer over the draws that have one; 0 with fewer than three.
    pub fn half_width(&self, quantity: Quantity) -> f64 {
        self.half_width_of(|d| d.quantities.get(quantity))
    }

    /// The same of anything a draw has.
    pub fn half_width_of(&self, of: impl Fn(&Draw) -> Option<f64>) -> f64 {
        let values = self.draws.iter().filter_map(of).collect();
        middle_and_half_width(values).map_or(0.0, |(_, half)| half)
    }

    /// Share of draws for which `holds`; `None` without draws.
    pub fn share(&self, holds: impl Fn(&Draw) -> bool) -> Option<f64> {
        if self.draws.is_empty() {
            return None;
        }
        let held = self.draws.iter().filter(|d| holds(d)).count();
        Some(held as f64 / self.draws.len() as f64)
    }

    /// The middle 95 % of `of` at a speed, from quantiles of the draws that run there; `None` where fewer than half of
    /// them do.
    pub fn band(&self, speed_m_s: f64, of: impl Fn(&RunningState) -> f64) -> Option<(f64, f64)> {
        let all = || self.draws.iter().chain(&self.further);
        let values: Vec<f64> = all()
            .filter_map(|d| at_speed(&d.curve.running, speed_m_s, &of))
            .collect();
        if 2 * values.len() < all().count() {
            return None;
        }
        middle_and_half_width(values).map(|(middle, half)| (middle - half, middle + half))
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

/// Middle and 95 % half-width by [`PAIRS`]; `None` with fewer than three values.
fn middle_and_half_width(mut values: Vec<f64>) -> Option<(f64, f64)> {
    if values.len() < 3 {
        return None;
    }
    values.sort_by(f64::total_cmp);
    let pairs = PAIRS.map(|(low, deviate)| {
        let (low, high) = (quantile(&values, low), quantile(&values, 1.0 - low));
        (0.5 * (low + high), 0.5 * (high - low) / deviate)
    });
    let count = PAIRS.len() as f64;
    let middle = pairs.iter().map(|p| p.0).sum::<f64>() / count;
    let deviation = pairs.iter().map(|p| p.1).sum::<f64>() / count;
    Some((middle, HALF_WIDTH * deviation))
}

/// Straight between order statistics (Hyndman and Fan 1996, Am. Statistician 50(4), 361-365, type 7).
fn quantile(sorted: &[f64], share: f64) -> f64 {
    let place = share * (sorted.len() - 1) as f64;
    let below = place.floor() as usize;
    let above = (below + 1).min(sorted.len() - 1);
    sorted[below] + (sorted[above] - sorted[below]) * (place - below as f64)
}

fn draw(
    boat: &Boat,
    form: &Form,
    (index, mut deviates): (u32, Deviates),
    detail: Detail<'_>,
    learned: &Learned,
    deep: Deep<'_>,
) -> Option<Draw> {
    // The laws first: they matter most, and the first dimensions are the most even.
    let mut factors = vary_factors(&mut deviates);
    let mut varied = boat.clone();
    vary(&mut varied, &mut deviates);
    learned.draw(|| deviates.next(), boat, &mut varied, &mut factors);
    let mass = craft::mass::mass_properties(&varied, form).ok()?;
    let solved = solve(&varied, form, &mass, &factors, detail).ok()?;
    let flight_rad = deep.flight_at.and_then(|share| flight_rad(&solved, share));
    let mut quantities = solved.quantities.clone();
    quantities.set(Quantity::FlightMargin, flight_rad);
    Some(Draw {
        index,
        flight_rad,
        turn_m: deep.turns_at.and_then(|from| turn_m(&solved, from)),
        quantities,
        curve: solved.curve,
    })
}

/// Pitch to spare in a gust, a share of the way from planing to top speed.
pub(crate) fn flight_rad(solved: &Solved, share: f64) -> Option<f64> {
    let top = solved.curve.top.as_ref()?.speed_m_s;
    let from = solved.curve.planing_m_s?.min(top);
    let speed_m_s = from + share * (top - from);
    let state = solved.craft.on_curve(&solved.curve, speed_m_s)?;
    Some(spare_in_gust_rad(&solved.craft, &state.running()))
}

/// Radius of the like of a known boat's tightest turn, from a share of its own top speed.
fn turn_m(solved: &Solved, (share, known): (f64, &Turns)) -> Option<f64> {
    let top = solved.curve.top.as_ref()?.speed_m_s;
    let turner = Turner {
        craft: &solved.craft,
    };
    Some(turner.tightest_like(share * top, known)?.radius_m)
}

/// Every measure within its tolerance.
fn vary(boat: &mut Boat, deviates: &mut Deviates) {
    boat.visit_quantities(&mut |path, kind, measure| {
        // Drawn also where there is no spread, so that giving one number a tolerance leaves the
        // draws of all others as they were.
        let deviate = deviates.next() / HALF_WIDTH;
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

fn vary_factors(deviates: &mut Deviates) -> Factors {
    let mut factors = Factors::default();
    for info in &FACTORS {
        let deviate = deviates.next() / HALF_WIDTH;
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn half_widths_of_a_normal_distribution_are_1_96_deviations() {
        // At the middles of a thousand even shares of it.
        let even = (0..1000).map(|i| (f64::from(i) + 0.5) / 1000.0);
        let values = even.map(|u| 2f64.sqrt() * statrs::function::erf::erf_inv(2.0 * u - 1.0));
        let (middle, half) = middle_and_half_width(values.collect()).expect("a thousand");
        assert!(middle.abs() < 1e-9 && (half - 1.96).abs() < 0.005, "{half}");
    }

    #[test]
    fn quantiles_lie_straight_between_order_statistics() {
        // Type 7 of 1, 2, 3, 4, 5: the tenth hundredth lies 0.4 of the way from 1 to 2.
        let sorted = [1.0, 2.0, 3.0, 4.0, 5.0];
        assert!((quantile(&sorted, 0.1) - 1.4).abs() < 1e-12);
        assert!((quantile(&sorted, 0.9) - 4.6).abs() < 1e-12);
        assert_eq!(middle_and_half_width(vec![1.0, 2.0]), None);
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
