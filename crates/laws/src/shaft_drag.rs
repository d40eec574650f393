//! Drag of a round barrel or bare shaft in the water.
//!
//! - `0.5 rho V^2 L D (1.1 sin^3 a + pi C_F)`, with `a` its angle to the stream and C_F the middle of the
//!   friction band on its length; its fore end `c 0.5 rho V^2 pi D^2 / 4`.
//! - Source: Hoerner 1965 as in Molland, Turnock, Hudson 2011, eq. 3.46. Blunt ends have `c` 0.90 (Kirkman and
//!   Kloetzli, same book); for a rounded nose with a dry end behind, 0.2 is judgement.
//! - Units: SI.
//! - Valid: Reynolds number on diameter below 5e5, deep enough not to make spray.
//! - Checks: the expression by hand.

use crate::friction_line;
use crate::input::{InputError, finite, not_negative, positive};
use std::f64::consts::{FRAC_PI_4, PI};

/// Rounded nose with a dry end behind (judgement).
pub const ROUNDED_NOSE: f64 = 0.2;

/// A barrel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Barrel {
    /// m.
    pub diameter_m: f64,
    /// In the water, m.
    pub length_m: f64,
    /// Drag coefficient of its fore end, on the end's area; 0 when something covers it.
    pub nose: f64,
}

/// Drag in a stream at an angle, N.
///
/// # Errors
/// [`InputError`] for a diameter, density or viscosity not above zero, or another number below zero.
pub fn shaft_drag(
    barrel: &Barrel,
    angle_rad: f64,
    speed_m_s: f64,
    density_kg_m3: f64,
    viscosity_m2_s: f64,
) -> Result<f64, InputError> {
    let d = positive("diameter", barrel.diameter_m)?;
    let length = not_negative("length", barrel.length_m)?;
    let nose = not_negative("nose", barrel.nose)?;
    let angle = finite("angle", angle_rad)?;
    let speed = not_negative("speed", speed_m_s)?;
    let density = positive("density", density_kg_m3)?;
    let viscosity = positive("kinematic_viscosity", viscosity_m2_s)?;
    let cf = friction_line::band(speed * length / viscosity).cf_middle();
    let along = length * d * (1.1 * angle.sin().abs().powi(3) + PI * cf);
    Ok(0.5 * density * speed * speed * (along + nose * FRAC_PI_4 * d * d))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn by_hand() {
        // 6 mm, 100 mm, 10 m/s across at 30 deg: 50 kPa * 6e-4 * (0.1375 + pi C_F).
        let b = Barrel {
            diameter_m: 0.006,
            length_m: 0.1,
            nose: 0.9,
        };
        let got = shaft_drag(&b, 30f64.to_radians(), 10.0, 1000.0, 1e-6).unwrap();
        let cf = friction_line::band(1e6).cf_middle();
        let expected = 50e3 * (6e-4 * (0.1375 + PI * cf) + 0.9 * 2.827_433e-5);
        assert!((got - expected).abs() < 1e-4, "{got} {expected}");
        assert_eq!(shaft_drag(&b, 0.0, 0.0, 1000.0, 1e-6).unwrap(), 0.0);
        assert!(
            shaft_drag(
                &Barrel {
                    diameter_m: 0.0,
                    ..b
                },
                0.0,
                1.0,
                1e3,
                1e-6
            )
            .is_err()
        );
    }
}
