//! Friction of the whisker spray: the thin sheet thrown across a veed bottom ahead of the spray root.
//!
//! - Spray-root angle to the keel, in plan: `tan(alpha) = (pi / 2) tan(tau) / tan(beta)`. The sheet
//!   leaves it reflected, at `theta = 2 alpha / cos(beta)` to the keel, so its friction pulls aft by
//!   `cos(theta)`. Wetted length added, in beams:
//!   `d_lambda = cos(theta) / (4 sin(2 alpha) cos(beta))`, and drag `0.5 rho V^2 d_lambda b^2 C_F`.
//! - Source: Savitsky, DeLorme and Datla, Marine Technology 44(1), 2007, 35-56 (from memory).
//! - Units: SI and radians; b the wetted beam.
//! - Valid: deadrise above zero, trim above 1 deg. Where theta passes a right angle (flat bottoms,
//!   high trim) the sheet flies ahead of the boat and is counted as nothing. The added length is held
//!   at 2 beams, where the thin-sheet picture ends (judgement).
//! - Checks: a case worked by hand from these equations; limits. No measured data: theory only.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};

/// Longest added wetted length taken, beams.
const MOST: f64 = 2.0;

/// Wetted length the spray adds, in wetted beams; 0 on a flat bottom or without trim.
pub fn added_length_ratio(trim_rad: f64, deadrise_rad: f64) -> f64 {
    if trim_rad <= 0.0 || deadrise_rad <= 0.0 {
        return 0.0;
    }
    let alpha = (FRAC_PI_2 * trim_rad.tan() / deadrise_rad.tan()).atan();
    let theta = 2.0 * alpha / deadrise_rad.cos();
    if theta >= FRAC_PI_2 || alpha >= FRAC_PI_4 {
        return 0.0;
    }
    (theta.cos() / (4.0 * (2.0 * alpha).sin() * deadrise_rad.cos())).min(MOST)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_case_by_hand() {
        // tau 2 deg, beta 20 deg: tan(alpha) = 1.5708 * 0.03492 / 0.36397 = 0.15071,
        // alpha 8.571 deg, theta 18.24 deg, cos 0.94975; sin(2 alpha) 0.29471; cos(beta) 0.93969.
        let added = added_length_ratio(2f64.to_radians(), 20f64.to_radians());
        assert!(
            (added - 0.94975 / (4.0 * 0.29471 * 0.93969)).abs() < 1e-4,
            "{added}"
        );
    }

    #[test]
    fn flat_bottoms_and_high_trim_throw_it_clear() {
        assert_eq!(added_length_ratio(0.05, 0.0), 0.0);
        assert_eq!(added_length_ratio(0.2, 0.1), 0.0);
        assert_eq!(added_length_ratio(0.0, 0.3), 0.0);
    }

    #[test]
    fn shrinks_as_trim_rises_and_has_no_step() {
        let mut last = f64::INFINITY;
        for i in 1..=3000 {
            let added = added_length_ratio(f64::from(i) * 1e-4, 0.35);
            assert!(added <= last && (last.is_infinite() || last - added < 0.05));
            last = added;
        }
    }
}
