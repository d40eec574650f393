//! What a piece takes: plastic, filament, time and money.
//!
//! Walls, top and bottom layers by the facets' slope against the bed, as `craft` weighs a shell; time by the
//! plastic at 0.6 of the nozzle's flow (corners, travel and short lines; judgement) and 3 s a layer. Good to
//! 8 % in mass and 30 % in time (judgement: a simple estimator is off by 3 to 8 % and 15 to 30 %).

use boat::Print;
use boat::making::Printer;
use form::Mesh;
use nalgebra::Vector3;

/// Share of the greatest flow kept on average (judgement).
const KEPT_FLOW: f64 = 0.6;
/// For each layer: lift, travel, seam, s (judgement).
const LAYER_S: f64 = 3.0;
/// Of the usual filament, m.
pub const FILAMENT_M: f64 = 0.00175;
/// Spread of a predicted mass.
pub const MASS_SPREAD: f64 = 0.08;
/// Spread of a predicted time.
pub const TIME_SPREAD: f64 = 0.30;

/// Plastic of a piece, m3.
#[must_use]
pub fn plastic_m3(piece: &Mesh, print: &Print, walls: bool, up: Vector3<f64>) -> f64 {
    let inside = piece.signed_volume_m3();
    if walls {
        return inside;
    }
    let skin: f64 = piece
        .faces()
        .map(|[a, b, c]| {
            let cross = (b - a).cross(&(c - a));
            let area = 0.5 * cross.norm();
            let level = cross.try_normalize(0.0).map_or(0.0, |n| n.dot(&up).powi(2));
            area * (print.wall_m.value * (1.0 - level) + print.top_bottom_m.value * level)
        })
        .sum();
    if skin >= inside {
        return inside;
    }
    if print.hollow {
        return skin;
    }
    skin + (inside - skin) * print.infill.value
}

/// How long a piece prints, s.
#[must_use]
pub fn time_s(plastic_m3: f64, height_m: f64, printer: &Printer) -> f64 {
    plastic_m3 / (KEPT_FLOW * printer.flow_m3_s.value) + height_m / printer.layer_m.value * LAYER_S
}

/// Length of filament, m.
#[must_use]
pub fn filament_m(plastic_m3: f64) -> f64 {
    plastic_m3 / (std::f64::consts::PI / 4.0 * FILAMENT_M * FILAMENT_M)
}
