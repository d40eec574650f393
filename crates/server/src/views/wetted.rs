//! Outlines of running surfaces and of their wetted parts, in space.

use form::{RunningSurface, SurfaceStation};
use nalgebra::Vector3;

/// Points along each edge.
const STEPS: usize = 16;

/// The bottom from the trailing edge forward: up to `chine_m` along both edges and `keel_m` along
/// the keel; `share` of the width at the trailing edge is covered. Boat axes, m.
pub fn patch(surface: &RunningSurface, keel_m: f64, chine_m: f64, share: f64) -> Vec<Vector3<f64>> {
    let aft = surface.trailing_edge_m[0];
    let side = |sign: f64| {
        (0..=STEPS).map(move |i| {
            let ahead = chine_m.max(0.0) * i as f64 / STEPS as f64;
            let share = if i == 0 { share } else { 1.0 };
            edge(surface, aft + ahead, sign, share)
        })
    };
    let mut points: Vec<_> = side(1.0).collect();
    points.push(edge(surface, aft + keel_m, 0.0, 0.0));
    let mut back: Vec<_> = side(-1.0).collect();
    back.reverse();
    points.extend(back);
    points
}

/// How far forward the surface goes, m.
pub fn reach_m(surface: &RunningSurface) -> f64 {
    let last = surface.stations.last();
    last.map_or(0.0, |s| s.x_m - surface.trailing_edge_m[0])
}

/// A point of the bottom at `x`: on the keel for a `sign` of 0, at `share` of the way to the port
/// chine for 1 and to the starboard chine for -1.
fn edge(surface: &RunningSurface, x_m: f64, sign: f64, share: f64) -> Vector3<f64> {
    let at = |s: &SurfaceStation| {
        let panel = if sign >= 0.0 { s.port } else { s.starboard };
        let out = share * panel.width_m * sign.abs();
        Vector3::new(
            s.x_m,
            s.keel_y_m + sign * out,
            s.keel_z_m + out * panel.deadrise_rad.tan(),
        )
    };
    let stations = &surface.stations;
    let after = stations.partition_point(|s| s.x_m < x_m);
    let before = after.checked_sub(1).and_then(|i| stations.get(i));
    match (before, stations.get(after)) {
        (Some(a), Some(b)) => {
            let t = (x_m - a.x_m) / (b.x_m - a.x_m).max(1e-12);
            at(a).lerp(&at(b), t)
        }
        (Some(a), None) => at(a),
        (None, Some(b)) => at(b),
        (None, None) => Vector3::from(surface.trailing_edge_m),
    }
}
