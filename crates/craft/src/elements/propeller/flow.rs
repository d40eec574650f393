//! The water that arrives at a disc: how deep, how fast, and how far across the shaft.

use nalgebra::Vector3;

use super::Propeller;
use crate::elements::buoyancy::broken_away;
use crate::motion::{Motion, Surroundings};

/// Water crosses the shaft by no more than this, rad: the law is linear in the angle and its range
/// ends at 15 deg.
const MOST_ACROSS_RAD: f64 = 0.26;

/// Water arriving at the disc.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flow {
    /// Depth of the lowest point over the diameter.
    pub immersion: f64,
    /// Speed along the shaft, m/s.
    pub advance_m_s: f64,
    /// Upward across the shaft (a shaft with its propeller end down), rad.
    pub upward_rad: f64,
    /// To port across the shaft, rad.
    pub to_port_rad: f64,
}

impl Propeller {
    /// Depth of the disc's lowest point over its diameter; above 1 the disc is covered.
    pub fn immersion(&self, motion: &Motion, around: &Surroundings) -> f64 {
        let depth = around.depth_m(motion, &self.at_m) - self.trough_m(motion, around);
        0.5 + depth / self.diameter_m
    }

    /// The flow at the disc, which does not depend on shaft speed.
    pub fn flow(&self, motion: &Motion, around: &Surroundings) -> Flow {
        let through = around.through_water(motion, &self.at_m);
        let advance = through.dot(&self.axis).max(0.0);
        let across = |along: &Vector3<f64>| {
            let angle = (-through.dot(along)).atan2(advance.max(0.1));
            angle.clamp(-MOST_ACROSS_RAD, MOST_ACROSS_RAD)
        };
        Flow {
            immersion: self.immersion(motion, around),
            advance_m_s: advance,
            upward_rad: across(&self.up),
            to_port_rad: across(&self.port),
        }
    }

    /// How far the water at the disc lies below the undisturbed surface because a running surface
    /// ahead has pressed it down. The hollow closes as a body of water falls to its own depth:
    /// `exp(-t / sqrt(2 d / g))`, an estimate without a source.
    fn trough_m(&self, motion: &Motion, around: &Surroundings) -> f64 {
        let radius = 0.5 * self.diameter_m;
        let mut deepest: f64 = 0.0;
        for surface in self.surfaces.iter() {
            let keel = surface.keel_m[0];
            let behind_m = keel.x - self.at_m.x;
            let (port, starboard) = (surface.port[0], surface.starboard[0]);
            let left = keel.y + port.width_m;
            let right = keel.y - starboard.width_m;
            let covered = (left.min(self.at_m.y + radius) - right.max(self.at_m.y - radius))
                / self.diameter_m;
            if behind_m < 0.0 || covered <= 0.0 {
                continue;
            }
            let depth = around.depth_m(motion, &keel);
            let rise = 0.5 * radius * (port.deadrise_rad.max(starboard.deadrise_rad)).tan();
            let hollow = (depth - rise).max(0.0);
            if hollow <= 0.0 {
                continue;
            }
            let g = around.gravity_m_s2;
            let speed = around.through_water(motion, &keel).x.max(0.1);
            let fall_s = (2.0 * hollow / g).sqrt();
            let kept = (-behind_m / (speed * fall_s)).exp() * broken_away(speed, hollow, g);
            deepest = deepest.max(hollow * kept * covered.min(1.0));
        }
        deepest
    }
}
