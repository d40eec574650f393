//! Friction of the whisker spray: the thin sheet thrown across a veed bottom ahead of the spray root.
//!
//! - Spray root's angle to the keel, in plan: `alpha`; on a prism `tan(alpha) = (pi / 2) tan(tau) / tan(beta)`. The
//!   sheet leaves it reflected, at `theta = 2 alpha / cos(beta)` to the keel, so its friction pulls aft by
//!   `cos(theta)`. A prism with wet chines: wetted length added, in beams,
//!   `d_lambda = cos(theta) / (4 sin(2 alpha) cos(beta))`, and drag `0.5 rho V^2 d_lambda b^2 C_F`.
//! - Any bottom: a root that goes out by `dc` over `dx` of keel wets `dx (1 - tan(alpha) / tan(2 alpha))` times the
//!   distance out to the strake or chine that stops the sheet, or to the trailing edge if that comes first.
//! - The sheet is `c tan(beta)^2 / (2 pi)` thick (Wagner's jet): it cannot lose more than its own momentum, so
//!   friction is divided by `1 + C_F s / (2 delta)`, `s` its way over the bottom. That matters at this size:
//!   sheets are tenths of a millimetre (the division is ours).
//! - Source: Savitsky, DeLorme and Datla, Marine Technology 44(1), 2007, 35-56 (from memory); Wagner 1932.
//! - Units: SI and radians; b the wetted beam.
//! - Valid: deadrise above zero, trim above 1 deg. Where theta passes a right angle (flat bottoms,
//!   high trim) the sheet flies ahead of the boat and is counted as nothing. The prism's added length is held
//!   at 2 beams, where the thin-sheet picture ends (judgement).
//! - Checks: a case worked by hand from these equations, summed by strips as well; limits. No measured data:
//!   theory only.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, PI};

use crate::smooth::step;

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

/// A piece of spray root and what it throws its sheet over.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Root {
    /// Its middle's distance out from the keel, m.
    pub half_beam_m: f64,
    /// How far it goes out, m.
    pub out_m: f64,
    /// Over how much of the keel, m.
    pub along_m: f64,
    /// Its middle's distance ahead of the trailing edge, m.
    pub ahead_m: f64,
    /// Distance out at which a strake or chine stops the sheet, m.
    pub limit_m: f64,
    /// Rise of the bottom, rad.
    pub deadrise_rad: f64,
}

impl Root {
    /// Area times the share of its friction that pulls aft, m2, for a friction coefficient.
    pub fn drag_area_m2(&self, friction: f64) -> f64 {
        if self.out_m <= 0.0 || self.along_m <= 0.0 || self.deadrise_rad <= 1e-4 {
            return 0.0;
        }
        let tan = self.out_m / self.along_m;
        let (steep, level) = self.deadrise_rad.sin_cos();
        let theta = 2.0 * tan.atan() / level;
        let aft = theta.cos();
        if aft <= 0.0 || tan >= 1.0 {
            return 0.0;
        }
        // Level where it ends, so that nothing jumps as trim rises past it.
        let aft = aft * step(0.0, 0.3, aft);
        let tan_twice = 2.0 * tan / (1.0 - tan * tan);
        let to_limit = (self.limit_m - self.half_beam_m).max(0.0);
        let to_edge = self.ahead_m * tan_twice;
        if to_limit <= 0.0 || to_edge <= 0.0 {
            return 0.0;
        }
        let across = to_limit * to_edge / (to_limit * to_limit + to_edge * to_edge).sqrt();
        let way = across * (tan_twice * tan_twice + 1.0).sqrt() / tan_twice;
        let thick = self.half_beam_m * (steep / level).powi(2) / (2.0 * PI);
        let spent = 1.0 + friction * way / (2.0 * thick).max(1e-9);
        self.along_m * 0.5 * (1.0 + tan * tan) * across * aft / level / spent
    }
}

/// Drag area of both sides' sheets on a prism with wet chines, whose trailing edge stops none, m2.
pub fn prism_drag_area_m2(beam_m: f64, trim_rad: f64, deadrise_rad: f64, friction: f64) -> f64 {
    if trim_rad <= 0.0 || deadrise_rad <= 0.0 {
        return 0.0;
    }
    let pieces = 40;
    let out_m = 0.5 * beam_m / f64::from(pieces);
    let root = |i: i32| Root {
        half_beam_m: (f64::from(i) + 0.5) * out_m,
        out_m,
        along_m: out_m / (FRAC_PI_2 * trim_rad.tan() / deadrise_rad.tan()),
        ahead_m: 1e6,
        limit_m: 0.5 * beam_m,
        deadrise_rad,
    };
    2.0 * (0..pieces)
        .map(|i| root(i).drag_area_m2(friction))
        .sum::<f64>()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pieces_add_up_to_the_published_length() {
        for (tau, beta) in [(2.0f64, 20.0f64), (1.0, 15.0), (3.0, 25.0), (4.0, 30.0)] {
            let (tau, beta) = (tau.to_radians(), beta.to_radians());
            let sum = prism_drag_area_m2(0.1, tau, beta, 0.0) / 0.01;
            let whole = added_length_ratio(tau, beta);
            assert!((sum / whole - 1.0).abs() < 0.02, "{sum} {whole}");
        }
    }

    #[test]
    fn a_thin_sheet_loses_no_more_than_it_has() {
        let free = prism_drag_area_m2(0.05, 0.005, 0.3, 0.0);
        let tired = prism_drag_area_m2(0.05, 0.005, 0.3, 0.01);
        assert!(tired < 0.6 * free && tired > 0.0);
    }

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
