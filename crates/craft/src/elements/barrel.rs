//! The barrel that holds the propeller shaft at the foot of its strut (`laws::shaft_drag`).
//!
//! As much of it as the water at the disc covers; its nose is rounded and its end behind is dry.

use laws::shaft_drag::{self, ROUNDED_NOSE, shaft_drag};
use laws::smooth::step;
use nalgebra::Vector3;

use super::propeller::Propeller;
use crate::element::{Element, Wrench};
use crate::factors::Factors;
use crate::motion::{Controls, Motion, Surroundings};

/// From the disc forward to the barrel's aft end, m (judgement).
const BEHIND_M: f64 = 0.008;
/// Slower than this nothing is felt, m/s.
const STILL_M_S: f64 = 1e-6;

/// One drive's barrel.
#[derive(Debug, Clone)]
pub struct Barrel {
    name: String,
    propeller: Propeller,
    middle_m: Vector3<f64>,
    size: shaft_drag::Barrel,
    factor: f64,
}

impl Barrel {
    /// Ahead of its propeller.
    pub fn new(given: &boat::Barrel, propeller: &Propeller, factors: &Factors) -> Self {
        let length_m = given.length_m.value.max(0.0);
        Self {
            name: format!("{}'s barrel", propeller.name()),
            middle_m: propeller.at_m() + propeller.axis() * (BEHIND_M + 0.5 * length_m),
            size: shaft_drag::Barrel {
                diameter_m: given.diameter_m.value.max(1e-4),
                length_m,
                nose: ROUNDED_NOSE,
            },
            propeller: propeller.clone(),
            factor: factors.appendage_drag,
        }
    }
}

impl Element for Barrel {
    fn name(&self) -> &str {
        &self.name
    }

    fn wrench(&self, motion: &Motion, around: &Surroundings, _: &Controls) -> Wrench {
        let radius = 0.5 * self.size.diameter_m;
        let depth = (self.propeller.immersion(motion, around) - 0.5) * self.propeller.diameter_m();
        let wet = step(-radius, radius, depth);
        let flow = around.through_water(motion, &self.middle_m);
        let speed = flow.norm();
        if wet <= 0.0 || speed < STILL_M_S {
            return Wrench::default();
        }
        let along = (flow.dot(self.propeller.axis()) / speed).clamp(-1.0, 1.0);
        let drag = shaft_drag(
            &self.size,
            along.abs().acos(),
            speed,
            around.water_density_kg_m3,
            around.water_viscosity_m2_s,
        )
        .unwrap_or(0.0);
        Wrench::at(&self.middle_m, -flow / speed * (wet * drag * self.factor))
    }
}
