//! Upright sides of the hull below water: what keeps it from sliding sideways.
//!
//! Each side of each running surface is followed along its chine, where that is under water; the wet
//! area between chine and surface is a plate of very low aspect ratio. The side that the boat moves
//! towards pushes back by the wetted `laws::surface_blade`; the other side is left dry. A vee bottom
//! resists through its panels, which is [`super::planing`]'s; this element begins at the chine.
//!
//! Unmeasured at aspect ratios this low: theory only.

use laws::surface_blade::surface_blade;
use nalgebra::Vector3;

use super::surface::Surface;
use crate::craft::SharedSurfaces;
use crate::element::{Element, Wrench};
use crate::motion::{Controls, Motion, Surroundings};

/// Places along the wetted keel.
const STRIPS: usize = 4;
/// Below this sway nothing pushes, m/s.
const LEAST_SWAY_M_S: f64 = 1e-9;

/// Every running surface's sides.
#[derive(Debug, Clone)]
pub struct Sides {
    surfaces: SharedSurfaces,
}

/// The wet part of one side.
struct Wet {
    area_m2: f64,
    length_m: f64,
    middle_m: Vector3<f64>,
}

impl Sides {
    /// From the running surfaces.
    pub fn new(surfaces: SharedSurfaces) -> Self {
        Self { surfaces }
    }
}

/// `side` is +1 to port.
fn wet_side(surface: &Surface, side: f64, motion: &Motion, around: &Surroundings) -> Option<Wet> {
    // Nowhere moving outward: nothing pushes. Waving water is dearer to ask for its velocity than for its height.
    let port = motion.level_port();
    let outward = |p: &Vector3<f64>| side * around.through_water(motion, p).dot(&port);
    let mut ends = surface.ends_m().into_iter();
    if around.water.is_still() && ends.all(|p| outward(&p) <= LEAST_SWAY_M_S) {
        return None;
    }
    if surface.chine_is_clear(side, motion, around) {
        return None;
    }
    let line = surface.lower_line(side, motion, around)?;
    let length_m = line.keel_length_m / STRIPS as f64;
    let mut wet = Wet {
        area_m2: 0.0,
        length_m: 0.0,
        middle_m: Vector3::zeros(),
    };
    for strip in 0..STRIPS {
        let x = line.aft_m.x + (strip as f64 + 0.5) * length_m;
        let chine = surface.chine_at(x, side);
        let depth_m = around.depth_m(motion, &chine);
        if depth_m > 0.0 {
            let area = depth_m * length_m;
            wet.area_m2 += area;
            wet.length_m += length_m;
            wet.middle_m += (chine + motion.up() * (0.5 * depth_m)) * area;
        }
    }
    (wet.area_m2 > 1e-9).then(|| {
        wet.middle_m /= wet.area_m2;
        wet
    })
}

/// Pushes back against a side that moves outward.
fn push(wet: &Wet, side: f64, motion: &Motion, around: &Surroundings) -> Wrench {
    let port = motion.level_port();
    let flow = around.through_water(motion, &wet.middle_m);
    let outward = side * flow.dot(&port);
    if outward <= LEAST_SWAY_M_S {
        return Wrench::default();
    }
    let angle_rad = outward.atan2(flow.x);
    let aspect = (wet.area_m2 / (wet.length_m * wet.length_m)).max(1e-3);
    let Ok(found) = surface_blade(aspect, angle_rad) else {
        return Wrench::default();
    };
    let speed = flow.norm();
    let force = 0.5 * around.water_density_kg_m3 * speed * speed * wet.area_m2;
    let side_n = force * found.wetted_coefficient.max(0.0);
    let drag_n = side_n * angle_rad.sin();
    Wrench::at(
        &wet.middle_m,
        -port * (side * side_n) - flow / speed * drag_n,
    )
}

impl Element for Sides {
    fn name(&self) -> &str {
        "hull sides"
    }

    fn wrench(&self, motion: &Motion, around: &Surroundings, _: &Controls) -> Wrench {
        let turning = motion.rate_rad_s.norm() > LEAST_SWAY_M_S;
        let sway = motion.velocity_m_s.dot(&motion.level_port());
        if !turning && sway.abs() < LEAST_SWAY_M_S && around.water.is_still() {
            return Wrench::default();
        }
        let each = self.surfaces.iter().flat_map(|s| [(s, 1.0), (s, -1.0)]);
        each.filter_map(|(surface, side)| {
            let wet = wet_side(surface, side, motion, around)?;
            Some(push(&wet, side, motion, around))
        })
        .sum()
    }
}
