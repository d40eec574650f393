//! Side force of a surface-piercing rudder or fin against its angle to the stream.
//!
//! - Wetted: Helmbold's slope at the immersed aspect ratio (at speed the free surface carries no
//!   pressure, so it acts as a wing tip does) with one side-edge vortex,
//!   `C_S = a sin cos^2 + (pi / 2) / (1 + 2 A^2) sin|sin| cos`; the 2 is ours, set on the measured
//!   slopes at A 0.5 and 1.
//! - Ventilated: the open-cavity plate of [`ventilated_plate`](crate::ventilated_plate) reduced for
//!   span by `A / (A + 1)` (judgement).
//! - Between: from 2 deg under the inception angle to 2 deg above. Inception is taken at 14.5 deg.
//!   Struts have held on to 20 or 25 deg when steady, and once ventilated stay so down to about
//!   6 deg: both states are given so that a caller may choose.
//! - Source: Helmbold 1942; Harwood, Young, Ceccio 2016, J. Fluid Mech. 800, 5-56, second-hand.
//! - Units: radians; coefficients on the immersed area of one side.
//! - Valid: A 0.3 to 2, Froude number on depth above 2, to 30 deg. Thin streamlined sections.
//! - Checks: `checks/harwood2016_wetted_strut_lift_slope.csv` (A 0.5 to 1.5, high Froude number).

use crate::input::{InputError, finite, positive};
use crate::smooth::{mix, step};
use crate::ventilated_plate::ventilated_plate;
use crate::wing::helmbold_slope;
use std::f64::consts::FRAC_PI_2;

/// Angle at which air reaches the low-pressure side, rad (14.5 deg).
pub const INCEPTION_RAD: f64 = 14.5 * std::f64::consts::PI / 180.0;
/// Angle below which a ventilated blade wets again, rad (6 deg).
pub const REWETTING_RAD: f64 = 6.0 * std::f64::consts::PI / 180.0;

/// Forces on a blade.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SurfaceBlade {
    /// Across the stream, on immersed area, wetted or ventilated as the angle says.
    pub side_coefficient: f64,
    /// Along the stream from side force alone, on immersed area.
    pub induced_drag_coefficient: f64,
    /// Across the stream if it stayed wetted.
    pub wetted_coefficient: f64,
    /// Across the stream if it were ventilated.
    pub ventilated_coefficient: f64,
    /// 0 wetted, 1 ventilated.
    pub ventilated: f64,
    /// Between rewetting and inception either state may hold.
    pub either_state: bool,
    /// Within the range above.
    pub in_range: bool,
}

/// Forces at an angle.
///
/// # Errors
/// [`InputError`] for an aspect ratio not above zero or a value that is not finite.
pub fn surface_blade(
    immersed_aspect_ratio: f64,
    angle_rad: f64,
) -> Result<SurfaceBlade, InputError> {
    let a = positive("immersed_aspect_ratio", immersed_aspect_ratio)?;
    let cavity = ventilated_plate(finite("angle", angle_rad)?)?;
    let span = a / (a + 1.0);
    let (sin, cos) = angle_rad.sin_cos();
    let wetted = wetted(a, sin, cos);
    let off = sin.abs().atan2(cos.abs());
    let ventilated = step(INCEPTION_RAD - 0.035, INCEPTION_RAD + 0.035, off);
    let side = mix(wetted, span * cavity.lift_coefficient, ventilated);
    let wetted_drag = wetted * sin * cos.signum();
    Ok(SurfaceBlade {
        side_coefficient: side,
        induced_drag_coefficient: mix(wetted_drag, span * cavity.drag_coefficient, ventilated),
        wetted_coefficient: wetted,
        ventilated_coefficient: span * cavity.lift_coefficient,
        ventilated,
        either_state: (REWETTING_RAD..INCEPTION_RAD).contains(&off),
        in_range: (0.3..=2.0).contains(&a) && cos > 0.0 && sin.abs() <= 0.5,
    })
}

fn wetted(a: f64, sin: f64, cos: f64) -> f64 {
    let edge = FRAC_PI_2 / (1.0 + 2.0 * a * a);
    helmbold_slope(a) * sin * cos * cos.abs() + edge * sin * sin.abs() * cos
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{Table, relative};

    #[test]
    fn agrees_with_measured_struts_at_high_froude_number() {
        let t = Table::read(include_str!(
            "../../../checks/harwood2016_wetted_strut_lift_slope.csv"
        ));
        let ten = 10f64.to_radians();
        for r in (0..t.len()).filter(|r| t.number(*r, "Fn_depth") >= 2.5) {
            let a = t.number(r, "immersed_aspect_ratio");
            let slope = surface_blade(a, ten).unwrap().wetted_coefficient / ten;
            let measured = t.number(r, "dCL_dalpha_per_rad");
            // Digitised measurements; the source's own scatter at A = 0.5 is 14 %.
            assert!(
                relative(slope, measured) < 0.16,
                "{a}: {slope} against {measured}"
            );
        }
    }

    #[test]
    fn loses_half_its_force_or_more_when_it_ventilates() {
        let t = 20f64.to_radians();
        let b = surface_blade(1.0, t).unwrap();
        assert_eq!(b.ventilated, 1.0);
        let lost = 1.0 - b.ventilated_coefficient / b.wetted_coefficient;
        // `checks/ventilation_inception_single_values.csv`: 50 to 70 % lost.
        assert!((0.5..=0.7).contains(&lost), "{lost}");
    }

    #[test]
    fn is_odd_and_continuous_at_any_angle() {
        let at = |i: i32| surface_blade(0.8, (f64::from(i) / 20.0).to_radians()).unwrap();
        for i in -3600..3600 {
            let (p, q) = (at(i), at(i + 1));
            assert!((p.side_coefficient - q.side_coefficient).abs() < 0.02);
            assert!(p.induced_drag_coefficient >= 0.0);
            assert!((p.side_coefficient + at(-i).side_coefficient).abs() < 1e-9);
        }
    }
}
