//! What a heavily loaded propeller near the surface keeps of its thrust and torque.
//!
//! - `T / T_deep = 1 - 0.675 (1 - 0.769 h/R)^1.258` for a shaft `h` deep, one above `h/R` 1.3; torque keeps
//!   the power 0.82 of that.
//! - Source: Minsaas, Faltinsen, Persson 1983, as used by Smogeli 2006 (both from memory); torque 0.80 to 0.85
//!   there. Models that are fully ventilated keep 0.2 to 0.4 of their thrust (Koushan 2006, from memory).
//! - Units: dimensionless.
//! - Valid: standstill to the hump; a lightly loaded propeller draws no air. Held at `h/R` 0 above the surface.
//! - Checks: `checks/ventilated_propeller_loss.csv`.

use crate::input::{InputError, finite};

/// Depth of the shaft over radius beyond which nothing is lost.
const DEEP: f64 = 1.3;
/// Torque's power of the thrust ratio.
const TORQUE: f64 = 0.82;

/// What is left.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SurfaceLoss {
    /// Of thrust.
    pub thrust_ratio: f64,
    /// Of torque.
    pub torque_ratio: f64,
    /// Depth over radius from 0 on.
    pub in_range: bool,
}

/// What is left at a depth of the shaft over the propeller's radius.
///
/// # Errors
/// [`InputError`] for a depth that is not finite.
pub fn surface_loss(depth_over_radius: f64) -> Result<SurfaceLoss, InputError> {
    Ok(left(finite("depth_over_radius", depth_over_radius)?))
}

/// [`surface_loss`] for a finite number.
pub fn left(depth_over_radius: f64) -> SurfaceLoss {
    let inside = (1.0 - depth_over_radius.max(0.0) / DEEP).max(0.0);
    let thrust_ratio = 1.0 - 0.675 * inside.powf(1.258);
    SurfaceLoss {
        thrust_ratio,
        torque_ratio: thrust_ratio.powf(TORQUE),
        in_range: depth_over_radius >= 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::Table;

    #[test]
    fn keeps_what_the_table_says() {
        let t = Table::read(include_str!(
            "../../../checks/ventilated_propeller_loss.csv"
        ));
        for r in 0..t.len() {
            let got = surface_loss(t.number(r, "h_over_R")).unwrap();
            // The table has two digits.
            assert!((got.thrust_ratio - t.number(r, "thrust_ratio")).abs() < 0.006);
            assert!(got.torque_ratio >= got.thrust_ratio);
        }
        assert_eq!(surface_loss(1.3).unwrap().thrust_ratio, 1.0);
        assert_eq!(surface_loss(9.0).unwrap().torque_ratio, 1.0);
    }
}
