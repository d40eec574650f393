//! Pressure drag of a thin wedge whose square base is left dry.
//!
//! - `C_D = (2 / pi) (t / c)^2 A / (A + 1)` on one side's immersed area: sharp edge ahead, straight
//!   faces, cavity at the pressure of the surface behind the base; the factor for span is that of
//!   [`surface_blade`](crate::surface_blade) (judgement).
//! - Source: Tulin 1953, linearised theory at cavitation number 0 (from memory), `8 g^2 / pi` with
//!   half-angle `g = t / 2c`.
//! - Units: dimensionless.
//! - Valid: thin wedges, t/c to 0.2; friction apart.
//! - Checks: the two forms of the linear result against each other. Theory only.

use crate::input::{InputError, not_negative, positive};
use std::f64::consts::PI;

/// Drag of a base-ventilated wedge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WedgeDrag {
    /// On one side's area.
    pub coefficient: f64,
    /// Thickness over chord at most 0.2.
    pub in_range: bool,
}

/// Drag at a ratio of base thickness to chord and of immersed depth to chord.
///
/// # Errors
/// [`InputError`] for a negative thickness or an aspect ratio not above zero.
pub fn wedge_drag(
    thickness_over_chord: f64,
    immersed_aspect_ratio: f64,
) -> Result<WedgeDrag, InputError> {
    let ratio = not_negative("thickness_over_chord", thickness_over_chord)?;
    let a = positive("immersed_aspect_ratio", immersed_aspect_ratio)?;
    Ok(WedgeDrag {
        coefficient: 2.0 / PI * ratio * ratio * a / (a + 1.0),
        in_range: ratio <= 0.2,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn is_the_linear_wedge_in_either_form() {
        for half_angle in [0.02_f64, 0.05, 0.1] {
            let on_chord = wedge_drag(2.0 * half_angle, 1e12).unwrap().coefficient;
            let on_base = on_chord / (2.0 * half_angle);
            assert!((on_chord - 8.0 * half_angle.powi(2) / PI).abs() < 1e-12);
            assert!((on_base - 4.0 * half_angle / PI).abs() < 1e-12);
        }
    }

    #[test]
    fn refuses_what_no_wedge_can_be() {
        assert!(wedge_drag(-0.1, 1.0).is_err());
        assert!(wedge_drag(0.1, 0.0).is_err());
        assert!(!wedge_drag(0.3, 1.0).unwrap().in_range);
    }
}
