//! A thin-walled bow that runs into something hard: how far it crushes, and how hard the boat stops.
//!
//! - `1/2 m v^2 = F d`, `F = k s A`, `A` the wall's section, `s` the plastic's strength in crushing, `k` how
//!   much of it a thin wall keeps up while it folds and splits; mean deceleration `F / m`.
//! - Source: energy balance. `k`: thin metal tubes keep 0.2 to 0.4 (Alexander 1960, `F = 6 sigma t^1.5 D^0.5`,
//!   from memory); printed plastic splits along its layers and keeps less: 0.1 to 0.3 (judgement).
//! - Units: kg, m/s, m2, Pa, m, N, m/s2.
//! - Valid: told as what breaks and roughly how far, never as a margin; half to twice the length.
//! - Checks: the balance by hand; `k` of a round tube against Alexander's force.

use crate::input::{InputError, not_negative, positive, require};
use crate::notes::Notes;

/// Share of the wall's strength kept while it crushes (judgement, 0.1 to 0.3).
pub const KEPT: f64 = 0.2;

/// What the stop does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crush {
    /// To be taken up, J.
    pub energy_j: f64,
    /// While it crushes, N.
    pub force_n: f64,
    /// m.
    pub length_m: f64,
    /// Mean, m/s2.
    pub deceleration_m_s2: f64,
    /// Within the range above.
    pub in_range: bool,
    /// Why not.
    pub notes: Notes,
}

/// How far a wall of `area_m2` crushes under `mass_kg` at `speed_m_s`.
///
/// # Errors
/// [`InputError`] for a mass, area, strength or share not above zero.
pub fn crush(
    mass_kg: f64,
    speed_m_s: f64,
    area_m2: f64,
    strength_pa: f64,
    kept: f64,
) -> Result<Crush, InputError> {
    let mass = positive("mass", mass_kg)?;
    let speed = not_negative("speed", speed_m_s)?;
    let wall = positive("area", area_m2)? * positive("strength", strength_pa)?;
    let kept = require("kept", kept, "above 0, at most 1", |k| k > 0.0 && k <= 1.0)?;
    let energy = 0.5 * mass * speed * speed;
    let force = kept * wall;
    Ok(Crush {
        energy_j: energy,
        force_n: force,
        length_m: energy / force,
        deceleration_m_s2: force / mass,
        in_range: true,
        notes: Notes::default(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::relative;

    #[test]
    fn energy_is_taken_up() {
        let c = crush(1.5, 8.0, 4e-4, 45e6, KEPT).unwrap();
        assert!(relative(c.force_n * c.length_m, 48.0) < 1e-12);
        assert!(relative(c.deceleration_m_s2, c.force_n / 1.5) < 1e-12);
    }

    #[test]
    fn kept_share_is_that_of_folding_tubes_or_less() {
        // Alexander: 6 sigma t^1.5 D^0.5 over sigma pi D t, a 60 mm tube with a wall of 1.2 mm.
        let (t, d) = (0.0012f64, 0.06f64);
        let metal = 6.0 * t.powf(1.5) * d.sqrt() / (std::f64::consts::PI * d * t);
        assert!((0.2..0.4).contains(&metal) && KEPT < metal);
    }
}
