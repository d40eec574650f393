//! Gravity on the whole boat.

use nalgebra::Vector3;

use crate::element::{Element, Wrench};
use crate::motion::{Controls, Motion, Surroundings};

/// Weight at the centre of gravity.
#[derive(Debug, Clone)]
pub struct Weight {
    /// kg.
    pub mass_kg: f64,
    /// Boat axes, m.
    pub cg_m: Vector3<f64>,
}

impl Element for Weight {
    fn name(&self) -> &str {
        "weight"
    }

    fn wrench(&self, motion: &Motion, around: &Surroundings, _: &Controls) -> Wrench {
        Wrench::at(
            &self.cg_m,
            -self.mass_kg * around.gravity_m_s2 * motion.up(),
        )
    }
}
