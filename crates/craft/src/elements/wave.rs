//! Wave drag before the trailing edges run dry.
//!
//! `R = 0.5 rho V^2 S C_R`, with C_R of `laws::residuary` on length Froude number and slenderness,
//! fading out as the trailing edges break away (the same blend as [`super::buoyancy`], which takes
//! over with the drag of a dry transom and an inclined bottom).

use nalgebra::Vector3;

use super::buoyancy::broken_away;
use crate::element::{Element, Wrench};
use crate::motion::{Controls, Motion, Surroundings};

/// Wave drag of the floating hull.
#[derive(Debug, Clone)]
pub struct Wave {
    /// Waterline length at rest, m.
    pub length_m: f64,
    /// Displaced volume at rest, m3.
    pub volume_m3: f64,
    /// Wetted area at rest, m2.
    pub wetted_m2: f64,
    /// Deepest trailing edge at rest, m.
    pub rest_draught_m: f64,
    /// Where it acts, boat axes, m.
    pub at_m: Vector3<f64>,
    /// Correction.
    pub factor: f64,
}

impl Element for Wave {
    fn name(&self) -> &str {
        "waves"
    }

    fn wrench(&self, motion: &Motion, around: &Surroundings, _: &Controls) -> Wrench {
        let velocity = around.through_water(motion, &self.at_m);
        let speed = velocity.x.max(0.0);
        let g = around.gravity_m_s2;
        let afloat = 1.0 - broken_away(speed, self.rest_draught_m.max(1e-3), g);
        if afloat <= 0.0 || self.volume_m3 <= 0.0 {
            return Wrench::default();
        }
        let froude = speed / (g * self.length_m).sqrt();
        let slenderness = self.length_m / self.volume_m3.cbrt();
        let Ok(found) = laws::residuary::residuary(froude, slenderness) else {
            return Wrench::default();
        };
        let coefficient = found.residuary_coefficient;
        let drag = 0.5 * around.water_density_kg_m3 * speed * speed * self.wetted_m2 * coefficient;
        let level = motion.attitude.inverse_transform_vector(&-Vector3::x());
        Wrench::at(&self.at_m, level * (drag * afloat * self.factor))
    }
}
