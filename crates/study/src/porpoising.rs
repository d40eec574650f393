//! Trim to spare before a single vee bottom porpoises.
//!
//! Day and Haag 1952 for prismatic hulls, asked at every speed of the curve where nearly all lift
//! is dynamic: below that the boat is still climbing its wave and the limit does not apply.

use craft::{RunningState, SpeedCurve};
use form::{Form, RunningSurface};
use laws::smooth::mix;

/// Lift from speed at which a hull counts as planing for this limit.
const PLANING_SHARE: f64 = 0.8;

/// Where the margin is least.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Porpoising {
    /// Limit less trim, rad; negative porpoises.
    pub margin_rad: f64,
    /// m/s.
    pub speed_m_s: f64,
    /// Of the bottom against the water, rad.
    pub trim_rad: f64,
    /// Mean of both sides, rad.
    pub deadrise_rad: f64,
    /// Whether the limit was measured at such a lift coefficient and deadrise.
    pub in_range: bool,
}

/// The least margin up to top speed; `None` when it never planes. Where lift from speed begins to carry enough lies
/// between two states of the curve, and is looked for there: often it is the worst place.
pub fn nearest(form: &Form, water_density_kg_m3: f64, curve: &SpeedCurve) -> Option<Porpoising> {
    let bottom = widest(form)?;
    let top_m_s = curve.top.as_ref().map_or(f64::INFINITY, |t| t.speed_m_s);
    let below = curve.running.iter().filter(|s| s.speed_m_s < top_m_s);
    let asked: Vec<(f64, Porpoising)> = below
        .chain(&curve.top)
        .filter_map(|s| Some((s.dynamic_share(), at(bottom, water_density_kg_m3, s)?)))
        .collect();
    let planing = asked.iter().filter(|a| a.0 >= PLANING_SHARE).map(|a| a.1);
    let begins = asked
        .windows(2)
        .filter_map(|pair| begins(&pair[0], &pair[1]));
    planing
        .chain(begins)
        .min_by(|a, b| a.margin_rad.total_cmp(&b.margin_rad))
}

/// Where between two states lift from speed carries just enough.
fn begins(before: &(f64, Porpoising), after: &(f64, Porpoising)) -> Option<Porpoising> {
    let along = (PLANING_SHARE - before.0) / (after.0 - before.0);
    let between = |of: fn(&Porpoising) -> f64| mix(of(&before.1), of(&after.1), along);
    (0.0..1.0).contains(&along).then(|| Porpoising {
        margin_rad: between(|p| p.margin_rad),
        speed_m_s: between(|p| p.speed_m_s),
        trim_rad: between(|p| p.trim_rad),
        ..after.1
    })
}

fn widest(form: &Form) -> Option<&RunningSurface> {
    let beam = |s: &RunningSurface| s.beam_m.value;
    form.surfaces
        .iter()
        .max_by(|a, b| beam(a).total_cmp(&beam(b)))
}

fn at(
    bottom: &RunningSurface,
    water_density_kg_m3: f64,
    state: &RunningState,
) -> Option<Porpoising> {
    let lift_n: f64 = state.wetted.iter().map(|w| w.lift_n).sum();
    let pressure_pa = 0.5 * water_density_kg_m3 * state.speed_m_s.powi(2);
    let coefficient = lift_n / (pressure_pa * bottom.beam_m.value.powi(2));
    let deadrise_rad = bottom.deadrise_rad.value;
    let limit = laws::porpoising_limit::porpoising_limit(coefficient, deadrise_rad).ok()?;
    let trim_rad = state.attitude.trim_rad + bottom.angle_rad.value;
    Some(Porpoising {
        margin_rad: limit.trim_limit_rad - trim_rad,
        speed_m_s: state.speed_m_s,
        trim_rad,
        deadrise_rad,
        in_range: limit.in_range,
    })
}
