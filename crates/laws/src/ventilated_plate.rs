//! A flat plate with an open cavity behind it.
//!
//! - `C_N = 2 pi sin a / (4 + pi sin a)`; pressure centre `(3/4) cos a / (4 + pi sin a)` chords
//!   ahead of mid-chord.
//! - Source: Kirchhoff 1869, Rayleigh 1876; Lamb, Hydrodynamics, art. 77-78 (from memory).
//! - Units: radians in; coefficients on one side's area.
//! - Valid: two-dimensional, cavity at ambient pressure, 0 to 90 deg. Negative angles mirror;
//!   past 90 deg the other edge leads.
//! - Checks: `checks/flat_plate_cavity.csv` (derived there independently). Theory only.

use crate::input::{InputError, finite};
use std::f64::consts::PI;

/// Forces on a ventilated plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct VentilatedPlate {
    /// Force square to the plate; its sign is that of the angle.
    pub normal_coefficient: f64,
    /// Force across the stream.
    pub lift_coefficient: f64,
    /// Force along the stream.
    pub drag_coefficient: f64,
    /// Chords ahead of mid-chord.
    pub centre_of_pressure: f64,
    /// Angle from 0 to 90 deg.
    pub in_range: bool,
}

/// Forces at an angle to the stream.
///
/// # Errors
/// [`InputError`] when the angle is not finite.
pub fn ventilated_plate(angle_rad: f64) -> Result<VentilatedPlate, InputError> {
    finite("angle", angle_rad)?;
    let (sin, cos) = angle_rad.sin_cos();
    let divisor = 4.0 + PI * sin.abs();
    let normal = 2.0 * PI * sin / divisor;
    Ok(VentilatedPlate {
        normal_coefficient: normal,
        lift_coefficient: normal * cos,
        drag_coefficient: normal * sin,
        centre_of_pressure: 0.75 * cos / divisor,
        in_range: (0.0..=PI / 2.0).contains(&angle_rad),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::Table;

    #[test]
    fn agrees_with_free_streamline_solution() {
        let t = Table::read(include_str!("../../../checks/flat_plate_cavity.csv"));
        for r in 0..t.len() {
            let p = ventilated_plate(t.number(r, "alpha_deg").to_radians()).unwrap();
            let near = |got: f64, column: &str| (got - t.number(r, column)).abs() < 6e-7;
            assert!(near(p.normal_coefficient, "CN"));
            assert!(near(p.lift_coefficient, "CL"));
            assert!(near(p.drag_coefficient, "CD"));
            assert!(near(
                0.5 - p.centre_of_pressure,
                "xcp_over_chord_from_leading_edge"
            ));
        }
    }

    #[test]
    fn mirrors_and_stays_finite() {
        for deg in -180..=180 {
            let a = f64::from(deg).to_radians();
            let (p, q) = (ventilated_plate(a).unwrap(), ventilated_plate(-a).unwrap());
            assert_eq!(p.lift_coefficient, -q.lift_coefficient);
            assert!(p.drag_coefficient >= 0.0);
        }
    }
}
