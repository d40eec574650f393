//! How far a movable part must slide for the boat to float without trim.
//!
//! Solved, not extrapolated: with trim held at zero the hull settles in sinkage and heel; the
//! centre of gravity must then stand over the centre of buoyancy, and the part's share of the
//! mass says how far it moves. Sliding along x at zero trim changes neither heel nor sinkage.

use boat::Boat;

use super::balance::{Body, Cut, Free, extent};
use crate::{Levelling, MassProperties, attitude};

/// Moment arm over length.
const TOLERANCE: f64 = 1e-10;

/// One entry for each movable part that has mass; empty when the boat cannot float level.
pub fn levelling(boat: &Boat, mass: &MassProperties, body: &Body, upright: &Cut) -> Vec<Levelling> {
    let movable: Vec<_> = boat
        .parts
        .iter()
        .filter(|part| part.movable && part.mass_kg.value > 0.0)
        .collect();
    if movable.is_empty() {
        return Vec::new();
    }
    let heel = attitude::from_water_plane(&upright.water).heel_rad;
    let start = body.sink(attitude::up(0.0, heel), 1e-3);
    let Some(level) = body.settle(start, Free::SinkAndHeel, TOLERANCE) else {
        return Vec::new();
    };
    let shift_of_cg = level.immersed.centroid_m.x - mass.cg_m.x;
    let (aft, fore) = extent(body.mesh, &nalgebra::Vector3::x());
    let shifted = movable.into_iter().map(|part| {
        let shift_m = shift_of_cg * mass.mass_kg / part.mass_kg.value;
        let (middle, half) = (part.at[0].value + shift_m, part.size_m[0] / 2.0);
        let fits = middle - half >= aft && middle + half <= fore;
        Levelling {
            part: part.name.clone(),
            shift_m,
            fits,
        }
    });
    shifted.collect()
}
