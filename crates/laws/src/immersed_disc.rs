//! The part of a propeller disc below a level water surface.
//!
//! - `A'/A = (theta - sin theta) / (2 pi)`, `theta = 2 acos(1 - 2 I/D)`: a circle's segment. Hub
//!   and shaft rake are left out. The tip is wet for `theta / (2 pi)` of a turn.
//! - Source: geometry.
//! - Units: immersion of the lowest tip over diameter; dimensionless out.
//! - Valid: 0 <= I/D <= 1; held at the ends beyond (out of the water, or wholly immersed).
//! - Checks: `checks/spp_immersed_disc.csv`.

use crate::input::{InputError, finite};
use std::f64::consts::TAU;

/// Wet part of a disc.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ImmersedDisc {
    /// Wet area over disc area.
    pub area_ratio: f64,
    /// Part of a turn for which a tip is wet.
    pub wet_turn: f64,
    /// Immersion ratio from 0 to 1.
    pub in_range: bool,
}

/// Wet part at `immersion_ratio`: depth of the lowest tip over diameter.
///
/// # Errors
/// [`InputError`] when it is not finite.
pub fn immersed_disc(immersion_ratio: f64) -> Result<ImmersedDisc, InputError> {
    finite("immersion_ratio", immersion_ratio)?;
    let theta = 2.0 * (1.0 - 2.0 * immersion_ratio.clamp(0.0, 1.0)).acos();
    Ok(ImmersedDisc {
        area_ratio: (theta - theta.sin()) / TAU,
        wet_turn: theta / TAU,
        in_range: (0.0..=1.0).contains(&immersion_ratio),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::Table;

    #[test]
    fn agrees_with_geometry() {
        let t = Table::read(include_str!("../../../checks/spp_immersed_disc.csv"));
        for r in 0..t.len() {
            let d = immersed_disc(t.number(r, "immersion_I_over_D")).unwrap();
            assert!((d.area_ratio - t.number(r, "A0prime_over_A0")).abs() < 6e-6);
            assert!((d.wet_turn - t.number(r, "fraction_of_revolution_tip_is_wet")).abs() < 6e-6);
        }
    }

    #[test]
    fn holds_beyond_the_ends() {
        assert_eq!(immersed_disc(-2.0).unwrap().area_ratio, 0.0);
        assert_eq!(immersed_disc(3.0).unwrap().area_ratio, 1.0);
        assert!(!immersed_disc(3.0).unwrap().in_range);
        assert!(immersed_disc(f64::NAN).is_err());
    }
}
