//! A low-aspect-ratio lifting plate in air, near the water, at any angle.
//!
//! - Attached: `C_L = a sin cos^2 + K sin|sin| cos`, potential part with Helmbold's slope
//!   `a = 2 pi A / (2 + sqrt(A^2 + 4))` and side-edge vortex part with `K = pi / (1 + 0.43 A^2)`
//!   (form after Polhamus 1966; the 0.43 is ours, set on one measured point, A = 1 at 10 deg).
//! - Ground: the wash is reduced by `phi = r^2 / (1 + r^2)`, `r = 16 h / b` (McCormick, from memory,
//!   span-loaded), taken as aspect ratio `A / phi` in the slope and `phi` on induced drag.
//! - Stalled: flat plate, `C_N = C_90 sin / (0.56 + 0.44 |sin|)` with `C_90 = 1.1 + 0.02 A`
//!   (Hoerner's form for a plate, from memory), reached over 10 deg past a stall angle of
//!   `15 + 20 / (1 + A^2)` deg (judgement: a square plate holds lift to 25 or 30 deg).
//! - Pressure centre: of the potential part a quarter of the chord behind the leading edge, of the side edges'
//!   vortices mid-chord (judgement: they grow all along the edge), so that it moves aft with the angle; mid-chord
//!   when stalled square to the stream; in reversed flow measured from the same edge.
//! - Source: Helmbold 1942; low-aspect-ratio measurements in `checks/low_aspect_ratio_wing_lift.csv`.
//! - Units: radians; coefficients on plan area. Height is of the mid-chord over the water.
//! - Valid: A 0.3 to 6, height at least 0.1 chord, to 20 deg; theory at other angles. Under 0.1
//!   chord the air is rammed rather than lifted, and is marked out of range.
//! - Checks: slopes and a lift of that table; limits. No data on our hulls: unvalidated.

use crate::input::{InputError, finite, not_negative, positive};
use crate::smooth::{mix, step};
use std::f64::consts::PI;

/// A flat wing, hull or tunnel roof seen from above.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wing {
    /// Span squared over plan area.
    pub aspect_ratio: f64,
    /// Drag coefficient without lift, on plan area.
    pub zero_lift_drag: f64,
    /// Height of mid-chord over chord; infinite for free air.
    pub height_over_chord: f64,
}

/// Forces on a wing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WingForces {
    /// Across the stream, on plan area.
    pub lift_coefficient: f64,
    /// Along the stream, on plan area.
    pub drag_coefficient: f64,
    /// Chords behind the leading edge.
    pub centre_of_pressure: f64,
    /// 0 attached, 1 stalled.
    pub stalled: f64,
    /// Within the range above.
    pub in_range: bool,
}

/// Lift slope per radian by Helmbold.
pub fn helmbold_slope(aspect_ratio: f64) -> f64 {
    2.0 * PI * aspect_ratio / (2.0 + (aspect_ratio * aspect_ratio + 4.0).sqrt())
}

/// Forces at an angle of attack.
///
/// # Errors
/// [`InputError`] for an aspect ratio or height not above zero, a negative drag or an angle that is
/// not finite.
pub fn wing(w: &Wing, angle_rad: f64) -> Result<WingForces, InputError> {
    positive("aspect_ratio", w.aspect_ratio)?;
    not_negative("zero_lift_drag", w.zero_lift_drag)?;
    finite("angle", angle_rad)?;
    if w.height_over_chord.is_finite() || w.height_over_chord.is_nan() {
        positive("height_over_chord", w.height_over_chord)?;
    }
    Ok(forces(w, angle_rad))
}

fn forces(w: &Wing, angle: f64) -> WingForces {
    let (sin, cos) = angle.sin_cos();
    let stalled = stall(w.aspect_ratio, sin, cos);
    let Attached { lift, drag, edges } = attached(w, sin, cos);
    let normal = plate_normal(w.aspect_ratio, sin);
    let flat_drag = w.zero_lift_drag + normal * sin;
    WingForces {
        lift_coefficient: mix(lift, normal * cos, stalled),
        drag_coefficient: mix(drag, flat_drag, stalled),
        centre_of_pressure: mix(
            0.5 - 0.25 * (1.0 - edges) * cos.signum(),
            0.5 - 0.25 * cos,
            stalled,
        ),
        stalled,
        in_range: (0.3..=6.0).contains(&w.aspect_ratio)
            && w.height_over_chord >= 0.1
            && cos > 0.0
            && sin.abs() <= 0.35,
    }
}

/// How stalled; the angle is taken from whichever edge leads.
fn stall(aspect_ratio: f64, sin: f64, cos: f64) -> f64 {
    let angle_deg = sin.abs().atan2(cos.abs()).to_degrees();
    let onset = 15.0 + 20.0 / (1.0 + aspect_ratio * aspect_ratio);
    step(onset, onset + 10.0, angle_deg)
}

/// Part of the free wash that the water below leaves.
fn wash_left(w: &Wing) -> f64 {
    if w.height_over_chord.is_infinite() {
        return 1.0;
    }
    let r = (16.0 * w.height_over_chord / w.aspect_ratio).powi(2);
    (r / (1.0 + r)).max(0.05)
}

/// Coefficients without stall.
struct Attached {
    lift: f64,
    drag: f64,
    /// The side edges' share of the lift.
    edges: f64,
}

fn attached(w: &Wing, sin: f64, cos: f64) -> Attached {
    let a = w.aspect_ratio;
    let wash = wash_left(w);
    let potential = helmbold_slope(a / wash) * sin * cos * cos.abs();
    let edges = PI / (1.0 + 0.43 * a * a) * sin * sin.abs() * cos;
    let induced = wash * potential * potential / (PI * a);
    let vortex = PI / (1.0 + 0.43 * a * a) * sin.abs().powi(3);
    Attached {
        lift: potential + edges,
        drag: w.zero_lift_drag + induced + vortex,
        edges: edges / (potential + edges + 1e-9 * cos.signum() * sin.signum()),
    }
}

fn plate_normal(aspect_ratio: f64, sin: f64) -> f64 {
    (1.1 + 0.02 * aspect_ratio.min(20.0)) * sin / (0.56 + 0.44 * sin.abs())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{Table, relative};

    fn free(aspect_ratio: f64) -> Wing {
        Wing {
            aspect_ratio,
            zero_lift_drag: 0.02,
            height_over_chord: f64::INFINITY,
        }
    }

    #[test]
    fn agrees_with_measured_low_aspect_wings() {
        let t = Table::read(include_str!(
            "../../../checks/low_aspect_ratio_wing_lift.csv"
        ));
        for r in 0..t.len() {
            let a = t.number(r, "aspect_ratio");
            let lift = wing(&free(a), 10f64.to_radians()).unwrap().lift_coefficient;
            let measured = t.number(r, "experiment");
            // Slopes there are fits up to 10 deg, so the chord to 10 deg is compared.
            let ours = if t.text(r, "quantity") == "CL" {
                lift
            } else {
                lift / 10f64.to_radians()
            };
            assert!(relative(ours, measured) < 0.08, "{a}: {ours} {measured}");
            if let Some(h) = t.maybe(r, "Helmbold_2piA/(2+sqrt(A^2+4))") {
                assert!(relative(helmbold_slope(a), h) < 1e-5);
            }
        }
    }

    #[test]
    fn has_the_two_dimensional_and_slender_limits() {
        assert!(relative(helmbold_slope(1e6), 2.0 * PI) < 1e-5);
        assert!(relative(helmbold_slope(1e-3), 0.5 * PI * 1e-3) < 1e-3);
    }

    #[test]
    fn lifts_more_near_the_water() {
        let near = Wing {
            height_over_chord: 0.15,
            ..free(1.0)
        };
        let angle = 0.05;
        assert!(
            wing(&near, angle).unwrap().lift_coefficient
                > wing(&free(1.0), angle).unwrap().lift_coefficient
        );
    }

    #[test]
    fn is_continuous_and_finite_at_any_angle() {
        for a in [0.3, 1.0, 3.0] {
            let at = |i: i32| wing(&free(a), (f64::from(i) / 20.0).to_radians()).unwrap();
            for i in -3600..3600 {
                let (p, q) = (at(i), at(i + 1));
                assert!((p.lift_coefficient - q.lift_coefficient).abs() < 0.02);
                assert!(p.drag_coefficient > 0.0 && p.drag_coefficient < 2.5);
                assert!((p.centre_of_pressure - q.centre_of_pressure).abs() < 0.02);
                assert!((p.lift_coefficient + at(-i).lift_coefficient).abs() < 1e-9);
            }
        }
    }
}
