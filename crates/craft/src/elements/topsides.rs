//! Lift of whatever else touches: bevels, topsides, the bottom of a hull between its sponsons, a bow in a crest.
//!
//! A running surface lifts over its own wetted run (`super::planing`). Any other part of a section that is in the
//! water carries `m = f(beta) rho pi b^2 / 8` a metre down with it, and running ahead gains it from fore to aft:
//! `F = U (m w)` for each growth, square to the section's own slope, as `super::surface` does for keels. Where it
//! would shrink the water leaves: no suction. What is wet rubs by the friction line.
//!
//! - Source: slender planing theory (Wagner 1932, Zarnick 1978), as in `crate::added_mass`.
//! - Valid: where trailing edges run dry; below that it fades out, as buoyancy and waves then stand for it.
//! - Check: below: a flat bottom that no running surface stands for lifts as the slender plate does.

use std::f64::consts::PI;
use std::sync::Arc;

use nalgebra::Vector3;

use super::buoyancy::broken_away;
use super::surface::{Surface, WetLine};
use crate::added_mass::{Sections, Wet, WetPart};
use crate::craft::SharedSurfaces;
use crate::element::{Element, Wrench};
use crate::motion::{Controls, Motion, Surroundings};

/// Parts further out than this share of the hull's half-breadth are a side of their own.
const MIDDLE: f64 = 0.2;
/// Less breadth than this outside a running surface is its own edge, m.
const LEAST_M: f64 = 1e-3;

/// Everything below that is no running surface.
#[derive(Debug, Clone)]
pub struct Topsides {
    sections: Arc<Sections>,
    surfaces: SharedSurfaces,
    half_breadth_m: f64,
    /// Deepest trailing edge at rest, m.
    rest_draught_m: f64,
}

impl Topsides {
    /// Of a hull's sections, beside its running surfaces.
    pub(crate) fn new(
        sections: Arc<Sections>,
        surfaces: SharedSurfaces,
        rest_draught_m: f64,
    ) -> Self {
        Self {
            half_breadth_m: sections.half_breadth_m(),
            sections,
            surfaces,
            rest_draught_m,
        }
    }

    /// Breadth of a part that a running surface in the water stands for, m.
    fn stood_for(&self, part: &WetPart, lines: &[Option<WetLine>]) -> f64 {
        let x = part.middle_m.x;
        let (low, high) = (
            part.middle_m.y - 0.5 * part.breadth_m,
            part.middle_m.y + 0.5 * part.breadth_m,
        );
        let over = |(surface, line): (&Surface, &Option<WetLine>)| {
            let line = line.as_ref()?;
            let near = 0.5 * part.length_m;
            let within = x > line.aft_m.x - near && x < line.aft_m.x + line.keel_length_m + near;
            let (left, right) = (surface.chine_at(x, 1.0).y, surface.chine_at(x, -1.0).y);
            within.then(|| (high.min(left) - low.max(right)).max(0.0))
        };
        let all = self.surfaces.iter().zip(lines).filter_map(over);
        all.sum::<f64>().min(part.breadth_m)
    }

    fn side(&self, part: &WetPart) -> usize {
        let out = part.middle_m.y / self.half_breadth_m;
        match out {
            o if o > MIDDLE => 0,
            o if o < -MIDDLE => 1,
            _ => 2,
        }
    }

    /// Lift and friction, boat axes; `gathered` by side: momentum from further forward, and how far back it began.
    fn met(
        &self,
        part: &WetPart,
        lines: &[Option<WetLine>],
        gathered: &mut (f64, f64),
        motion: &Motion,
        around: &Surroundings,
    ) -> Wrench {
        let own = self.stood_for(part, lines);
        let beside = part.breadth_m - own;
        if beside < LEAST_M {
            *gathered = (0.0, 0.0);
            return Wrench::default();
        }
        let flow = around.through_water(motion, &part.middle_m);
        let ahead = flow.x.max(0.0);
        let down = (part.slope * flow.x - flow.z).max(0.0);
        let square = part.breadth_m * part.breadth_m - own * own;
        let carried = PI / 8.0 * around.water_density_kg_m3 * part.softness * square;
        let here = carried * down;
        let gain = (here - gathered.0).max(0.0);
        gathered.0 += gain;
        gathered.1 += part.length_m;
        let reynolds = ahead * gathered.1 / around.water_viscosity_m2_s;
        let friction = 0.5
            * around.water_density_kg_m3
            * ahead
            * ahead
            * laws::friction_line::band(reynolds.max(1.0)).cf_middle()
            * beside
            * part.length_m;
        let lift = Vector3::new(-part.slope, 0.0, 1.0) * (ahead * gain);
        Wrench::at(&part.middle_m, lift - Vector3::x() * friction)
    }
}

impl Element for Topsides {
    fn name(&self) -> &str {
        "topsides"
    }

    fn wrench(&self, motion: &Motion, around: &Surroundings, _: &Controls) -> Wrench {
        self.of(&self.sections.wet(motion, around), motion, around)
    }
}

impl Topsides {
    /// The same of what is known to be wet.
    pub(crate) fn of(&self, wet: &Wet, motion: &Motion, around: &Surroundings) -> Wrench {
        let speed = motion.velocity_m_s.x.max(0.0);
        let away = broken_away(speed, self.rest_draught_m.max(1e-3), around.gravity_m_s2);
        if away <= 0.0 {
            return Wrench::default();
        }
        let mut lines: Option<Vec<Option<WetLine>>> = None;
        let mut gathered = [(0.0, 0.0); 3];
        let mut sum = Wrench::default();
        for parts in self.sections.parts(wet) {
            let mut met = [false; 3];
            for part in parts {
                let lines = lines.get_or_insert_with(|| {
                    let each = self.surfaces.iter();
                    each.map(|s| s.any_line(motion, around)).collect()
                });
                let side = self.side(&part);
                met[side] = true;
                sum += self.met(&part, lines, &mut gathered[side], motion, around);
            }
            for side in (0..3).filter(|s| !met[*s]) {
                gathered[side] = (0.0, 0.0);
            }
        }
        Wrench {
            force_n: sum.force_n * away,
            moment_n_m: sum.moment_n_m * away,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::craft::GRAVITY_M_S2;
    use crate::motion::Still;
    use crate::testing::{Prism, WATER};

    /// Munk's slender plate: `pi / 8 rho b^2 U^2 tau` however long it is, friction aside.
    #[test]
    fn a_bottom_that_is_no_running_surface_lifts_as_a_slender_plate() {
        let prism = Prism {
            beam_m: 0.1,
            deadrise_rad: 0.0,
            length_m: 1.0,
            mass_kg: 1.0,
            lcg_m: 0.5,
            vcg_m: 0.1,
        };
        let sections = Arc::new(Sections::of(&prism.columns()));
        let topsides = Topsides::new(sections, Arc::new(Vec::new()), 0.01);
        let (speed, trim) = (6.0, 0.05f64);
        let attitude = crate::attitude::rotation(0.0, trim, 0.0);
        let motion = Motion {
            position_m: Vector3::new(0.0, 0.0, -0.02),
            attitude,
            velocity_m_s: attitude.inverse_transform_vector(&Vector3::new(speed, 0.0, 0.0)),
            rate_rad_s: Vector3::zeros(),
            time_s: 0.0,
        };
        let around = Surroundings {
            water: &Still,
            water_density_kg_m3: WATER.water_density_kg_m3,
            water_viscosity_m2_s: WATER.water_viscosity_m2_s,
            air_density_kg_m3: WATER.air_density_kg_m3,
            wind_m_s: Vector3::zeros(),
            gravity_m_s2: GRAVITY_M_S2,
        };
        let controls = Controls::default();
        let lift = topsides.wrench(&motion, &around, &controls).force_n.z;
        let slender = PI / 8.0 * WATER.water_density_kg_m3 * 0.01 * speed * speed * trim;
        assert!((lift / slender - 1.0).abs() < 0.05, "{lift} {slender}");
    }
}
