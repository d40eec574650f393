//! A running surface's rounded trailing edge (`laws::soft_edge`): water follows it round and holds on.
//!
//! Only where the keel's end is wet and, at speed, dry behind. It holds on by what the bottom ahead pushes down: pull `D`
//! comes to `D L / (D + L)`, `L = pi tau l q` the push of a plate as long as is wet, so that a bottom that just touches
//! is not pulled under by its edge (judgement). Carries the appendages' spread.

use laws::soft_edge::pull;
use nalgebra::Vector3;
use std::f64::consts::FRAC_PI_2;

use super::buoyancy::broken_away;
use super::surface::Surface;
use crate::craft::SharedSurfaces;
use crate::element::{Element, Wrench};
use crate::factors::Factors;
use crate::motion::{Controls, Motion, Surroundings};

/// One surface's trailing edge.
#[derive(Debug, Clone)]
pub struct Edge {
    name: String,
    surfaces: SharedSurfaces,
    index: usize,
    radius_m: f64,
    factor: f64,
}

impl Edge {
    /// Of one of the surfaces.
    pub fn new(surfaces: SharedSurfaces, index: usize, radius_m: f64, factors: &Factors) -> Self {
        Self {
            name: format!("{}'s trailing edge", surfaces[index].name),
            surfaces,
            index,
            radius_m: radius_m.max(0.0),
            factor: factors.appendage_drag,
        }
    }
}

/// Wet widths of the trailing edge to port and starboard: water rises by half of pi against its depth (Wagner).
pub(super) fn wet_widths(surface: &Surface, draught_m: f64) -> [f64; 2] {
    [surface.port[0], surface.starboard[0]].map(|panel| {
        let reach = FRAC_PI_2 * draught_m / panel.deadrise_rad.tan().max(1e-3);
        panel.width_m * (reach / panel.width_m.max(1e-6)).tanh()
    })
}

impl Element for Edge {
    fn name(&self) -> &str {
        &self.name
    }

    fn wrench(&self, motion: &Motion, around: &Surroundings, _: &Controls) -> Wrench {
        let surface = &self.surfaces[self.index];
        let Some(line) = surface.wet_line(motion, around) else {
            return Wrench::default();
        };
        let edge = surface.keel_m[0];
        let speed = around.through_water(motion, &edge).x;
        if speed <= 0.0 || line.draught_m <= 0.0 {
            return Wrench::default();
        }
        let dry = broken_away(speed, line.draught_m, around.gravity_m_s2);
        let pressure = 0.5 * around.water_density_kg_m3 * speed * speed * dry * self.factor;
        let found = pull(self.radius_m, line.keel_length_m, pressure);
        let angle_rad = surface.quarter_angle_rad(&line, motion, around).max(0.0);
        let pushed = std::f64::consts::PI * angle_rad * line.keel_length_m * pressure;
        let held = pushed / (pushed + found.down_n_m).max(1e-9);
        let [port, starboard] = wet_widths(surface, line.draught_m);
        let width = port + starboard;
        let at = edge + Vector3::new(0.0, 0.5 * (port - starboard), 0.0);
        Wrench::at(
            &at,
            Vector3::new(-found.drag_n_m, 0.0, -found.down_n_m) * (width * held),
        )
    }
}
