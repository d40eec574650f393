//! What a rounded trailing edge costs a planing surface: the water follows it round and pulls.
//!
//! - The flow stays on an arc of radius r until it has turned by `theta`; that tail of length `r theta` is a
//!   planing plate at `-theta / 2`, so on `0.5 rho V^2 r` and width it pulls down by `pi theta^2 / 2` and back
//!   by `theta / 2` of that, and with less bottom wet than the tail is long by less.
//! - Source: two-dimensional planing plate, Wagner 1932, with the sign turned. `theta` 0.5 rad (30 deg) is
//!   judgement: water follows a round edge until air gets under it. Carry the whole of it.
//! - Units: SI.
//! - Valid: theory only. High speed: the edge runs dry behind. A sharp edge (radius 0) costs nothing.
//! - Checks: none outside. That soft edges cost speed is common practice.

use crate::input::{InputError, not_negative};
use std::f64::consts::PI;

/// Angle round which water follows, rad.
pub const FOLLOWED_RAD: f64 = 0.5;

/// Pull of a rounded edge, over its width.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SoftEdge {
    /// Down, N/m.
    pub down_n_m: f64,
    /// Back, N/m.
    pub drag_n_m: f64,
}

/// Pull on an edge.
///
/// # Errors
/// [`InputError`] for a number below zero or not finite.
pub fn soft_edge(
    radius_m: f64,
    wetted_m: f64,
    speed_m_s: f64,
    density_kg_m3: f64,
) -> Result<SoftEdge, InputError> {
    let radius = not_negative("radius", radius_m)?;
    let wetted = not_negative("wetted", wetted_m)?;
    let speed = not_negative("speed", speed_m_s)?;
    let density = not_negative("density", density_kg_m3)?;
    Ok(pull(radius, wetted, 0.5 * density * speed * speed))
}

/// [`soft_edge`] for checked numbers at a dynamic pressure.
pub fn pull(radius_m: f64, wetted_m: f64, pressure_pa: f64) -> SoftEdge {
    let tail_m = radius_m * FOLLOWED_RAD;
    if tail_m <= 0.0 {
        return SoftEdge {
            down_n_m: 0.0,
            drag_n_m: 0.0,
        };
    }
    let enough = 1.0 - (-wetted_m.max(0.0) / tail_m).exp();
    let down_n_m = pressure_pa * enough * PI * 0.5 * FOLLOWED_RAD * tail_m;
    SoftEdge {
        down_n_m,
        drag_n_m: 0.5 * FOLLOWED_RAD * down_n_m,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn by_hand_and_nothing_when_sharp_or_dry() {
        // 200 kPa, 1 mm: tail 0.5 mm; 200e3 pi 0.25 0.0005 = 78.54 N/m down, a quarter of it back.
        let e = soft_edge(0.001, 1.0, 20.0, 1000.0).unwrap();
        assert!((e.down_n_m - 78.54).abs() < 0.01);
        assert!((e.drag_n_m - 0.25 * e.down_n_m).abs() < 1e-12);
        assert_eq!(soft_edge(0.0, 1.0, 20.0, 1000.0).unwrap().down_n_m, 0.0);
        assert_eq!(soft_edge(0.001, 0.0, 20.0, 1000.0).unwrap().down_n_m, 0.0);
        assert!(soft_edge(-0.001, 1.0, 20.0, 1000.0).is_err());
    }
}
