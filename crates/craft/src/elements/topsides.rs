//! Lift of whatever else touches: bevels, topsides, the bottom of a hull between its sponsons, a bow in a crest.
//!
//! A running surface lifts over its own wetted run (`super::planing`). Any other part of a section that is in the
//! water carries `m = f(beta) rho pi b^2 / 8` a metre down with it, and running ahead gains it from fore to aft:
//! `F = U (m w)` for each growth, square to the section's own slope, as `super::surface` does for keels. Where it
//! would shrink the water leaves: no suction. What is wet rubs by the friction line.
//!
//! `b^2` is summed over pairs of the section's pieces, `sum w_i w_j c_ij`, `c_ij` the wet shares of what lies between
//! them: one body's whole breadth squared, each of several bodies' alone, and nothing jumps as they join. What a running
//! surface stands for is left out by the same sum.
//!
//! - Source: slender planing theory (Wagner 1932, Zarnick 1978), as in `crate::added_mass`.
//! - Valid: where trailing edges run dry; below that it fades out, as buoyancy and waves then stand for it.
//! - Check: below: a flat bottom that no running surface stands for lifts as the slender plate does; forces change
//!   little by little.

use std::borrow::Borrow;
use std::f64::consts::PI;
use std::sync::Arc;

use laws::smooth::step;
use laws::strip_planing::softness;
use nalgebra::Vector3;

use super::buoyancy::broken_away;
use super::surface::Surface;
use crate::added_mass::{NODES, Outline, Sections};
use crate::craft::SharedSurfaces;
use crate::element::{Element, Wrench};
use crate::motion::{Controls, Motion, Surroundings};

/// Between these shares of the hull's half-breadth the middle gives over to a side: each gathers its own momentum.
const MIDDLE: [f64; 2] = [0.1, 0.3];
/// A running surface stands for as much beside its chines, m: cells of a section do not end at them.
const EDGE_M: f64 = 1e-3;
/// Momentum from further forward is kept where as much is wet, m (judgement); over a dry place it is lost.
const HANGS_M: f64 = 4e-3;
/// Port, starboard, middle.
const SIDES: usize = 3;

/// Everything below that is no running surface.
#[derive(Debug, Clone)]
pub struct Topsides {
    sections: Arc<Sections>,
    slices: Slices,
    surfaces: SharedSurfaces,
    /// Deepest trailing edge at rest, m.
    rest_draught_m: f64,
}

/// From the aft end.
pub(crate) type Slices = Arc<Vec<Slice>>;

/// A section.
#[derive(Debug, Clone)]
pub(crate) struct Slice {
    x_m: f64,
    length_m: f64,
    slope: f64,
    strips: Vec<Strip>,
}

/// A straight piece of it.
#[derive(Debug, Clone)]
struct Strip {
    y_m: f64,
    z_m: f64,
    width_m: f64,
    rise_rad: f64,
    first: bool,
    /// Belongs to each side by so much.
    sides: [f64; SIDES],
    /// How much of its width each running surface stands for, but beyond a dry gap of that surface.
    own: Vec<f64>,
}

impl Strip {
    /// Share of it that running surfaces stand for, each of which `stands` here or does not.
    fn stood_for(&self, stands: &[f64]) -> f64 {
        let own = self.own.iter().zip(stands);
        own.map(|(own, stands)| own * stands).sum::<f64>().min(1.0)
    }
}

impl Slice {
    fn of(outline: Outline, surfaces: &[Surface], half_breadth_m: f64) -> Self {
        let strips = outline.pieces.iter().map(|piece| {
            let [from, to] = piece.y_m;
            let y_m = 0.5 * (from + to);
            let out = y_m / half_breadth_m;
            let [port, starboard] = [out, -out].map(|o| step(MIDDLE[0], MIDDLE[1], o));
            let own = |surface: &Surface| {
                let left = surface.chine_at(outline.x_m, 1.0).y + EDGE_M;
                let right = surface.chine_at(outline.x_m, -1.0).y - EDGE_M;
                let wide =
                    ((to.min(left) - from.max(right)) / (to - from).max(1e-9)).clamp(0.0, 1.0);
                let [aft, fore] = surface.ends_m().map(|end| end.x);
                let low = aft.max(outline.x_m - 0.5 * outline.length_m);
                let high = fore.min(outline.x_m + 0.5 * outline.length_m);
                wide * ((high - low) / outline.length_m).clamp(0.0, 1.0)
            };
            Strip {
                y_m,
                z_m: piece.z_m,
                width_m: to - from,
                rise_rad: piece.rise_rad,
                first: piece.first,
                sides: [port, starboard, 1.0 - port - starboard],
                own: surfaces.iter().map(own).collect(),
            }
        });
        Self {
            x_m: outline.x_m,
            length_m: outline.length_m,
            slope: outline.slope,
            strips: strips.collect(),
        }
    }
}

/// Of one side of a section, what is beside its running surfaces.
#[derive(Debug, Clone, Copy, Default)]
struct Beside {
    /// Of `f(beta) b^2`, m2.
    square_m2: f64,
    /// First moments of it, m3.
    y_m3: f64,
    z_m3: f64,
    breadth_m: f64,
}

/// Momentum from further forward, over `rho U`, and how far back it began.
#[derive(Debug, Clone, Copy, Default)]
struct Gathered {
    carried_kg_s: f64,
    run_m: f64,
}

/// What of a piece counts.
#[derive(Debug, Clone, Copy, Default)]
struct Counted {
    wet_m: f64,
    /// That a running surface stands for.
    own_m: f64,
    softness: f64,
    /// Sums over the pieces to starboard that hang together with it: widths, and those by softness; then what is own.
    sums: [f64; 4],
}

impl Counted {
    fn sum(&self) -> [f64; 4] {
        let (w, o, f) = (self.wet_m, self.own_m, self.softness);
        [w, f * w, o, f * o]
    }

    /// Of the square of the breadth of what hangs together its part, less that of what is own.
    fn square(&self, other: &[f64; 4]) -> f64 {
        let f = self.softness;
        let part = |w: f64, sum: f64, soft: f64| w * (f * w + 0.5 * (f * sum + soft));
        let all = |k: usize| self.sums[k] + other[k];
        part(self.wet_m, all(0), all(1)) - part(self.own_m, all(2), all(3))
    }
}

/// Of a hull's sections, beside its running surfaces.
pub(crate) fn slices(sections: &Sections, surfaces: &[Surface]) -> Slices {
    let half_breadth_m = sections.half_breadth_m();
    let each = sections.outlines();
    Arc::new(
        each.map(|outline| Slice::of(outline, surfaces, half_breadth_m))
            .collect(),
    )
}

impl Topsides {
    /// Of the slices of a hull's sections.
    pub(crate) fn new(
        sections: Arc<Sections>,
        slices: Slices,
        surfaces: SharedSurfaces,
        rest_draught_m: f64,
    ) -> Self {
        Self {
            slices,
            sections,
            surfaces,
            rest_draught_m,
        }
    }

    /// What is beside running surfaces on each side of a section, of whose pieces `shares` are wet and for which
    /// each surface `stands`. `heel_rad` with the starboard side down.
    fn beside(slice: &Slice, shares: &[f64], stands: &[f64], heel_rad: f64) -> [Beside; SIDES] {
        let wet = || slice.strips.iter().zip(shares);
        // Of most sections all that is wet belongs to running surfaces.
        if wet().all(|(strip, share)| *share <= 0.0 || strip.stood_for(stands) >= 1.0) {
            return [Beside::default(); SIDES];
        }
        let mut counted = [Counted::default(); NODES];
        let mut sums = [0.0; 4];
        for ((strip, share), here) in wet().zip(&mut counted) {
            if strip.first {
                sums = [0.0; 4];
            }
            if *share > 0.0 {
                *here = Counted {
                    wet_m: strip.width_m * share,
                    own_m: strip.width_m * share * strip.stood_for(stands),
                    softness: softness((strip.rise_rad + heel_rad).abs()),
                    sums,
                };
            }
            let more = here.sum();
            sums = std::array::from_fn(|k| share * (sums[k] + more[k]));
        }
        let mut found = [Beside::default(); SIDES];
        let mut sums = [0.0; 4];
        for ((strip, share), here) in wet().zip(&counted).rev() {
            if *share > 0.0 {
                let square = here.square(&sums).max(0.0);
                for (side, belongs) in found.iter_mut().zip(strip.sides) {
                    side.square_m2 += belongs * square;
                    side.y_m3 += belongs * square * strip.y_m;
                    side.z_m3 += belongs * square * strip.z_m;
                    side.breadth_m += belongs * (here.wet_m - here.own_m);
                }
            }
            let more = here.sum();
            sums = std::array::from_fn(|k| share * (sums[k] + more[k]));
            if strip.first {
                sums = [0.0; 4];
            }
        }
        found
    }

    /// Lift and friction of one side of a section, boat axes.
    fn met(
        slice: &Slice,
        beside: &Beside,
        gathered: &mut Gathered,
        motion: &Motion,
        around: &Surroundings,
    ) -> Wrench {
        let hangs = step(0.0, HANGS_M, beside.breadth_m);
        gathered.carried_kg_s *= hangs;
        gathered.run_m = gathered.run_m * hangs + slice.length_m;
        if beside.square_m2 <= 1e-12 {
            return Wrench::default();
        }
        let middle = |moment: f64| moment / beside.square_m2;
        let at = Vector3::new(slice.x_m, middle(beside.y_m3), middle(beside.z_m3));
        let flow = around.through_water(motion, &at);
        let ahead = flow.x.max(0.0);
        let down = (slice.slope * flow.x - flow.z).max(0.0);
        let here = PI / 8.0 * around.water_density_kg_m3 * beside.square_m2 * down;
        let gain = (here - gathered.carried_kg_s).max(0.0);
        gathered.carried_kg_s += gain;
        let reynolds = ahead * gathered.run_m / around.water_viscosity_m2_s;
        let friction = 0.5
            * around.water_density_kg_m3
            * ahead
            * ahead
            * laws::friction_line::band(reynolds.max(1.0)).cf_middle()
            * beside.breadth_m
            * slice.length_m;
        let lift = Vector3::new(-slice.slope, 0.0, 1.0) * (ahead * gain);
        Wrench::at(&at, lift - Vector3::x() * friction)
    }

    /// The same, where of each section from the aft end it is known how much of its pieces is wet.
    pub(crate) fn of<S: Borrow<[f64; NODES]>>(
        &self,
        wet: impl DoubleEndedIterator<Item = Option<S>> + ExactSizeIterator,
        motion: &Motion,
        around: &Surroundings,
    ) -> Wrench {
        let speed = motion.velocity_m_s.x.max(0.0);
        let away = broken_away(speed, self.rest_draught_m.max(1e-3), around.gravity_m_s2);
        if away <= 0.0 {
            return Wrench::default();
        }
        let up = motion.up();
        let heel_rad = up.y.atan2(up.z);
        let mut again: Option<Vec<Option<(f64, f64)>>> = None;
        let mut stands = Vec::with_capacity(self.surfaces.len());
        let mut gathered = [Gathered::default(); SIDES];
        let mut sum = Wrench::default();
        for (slice, shares) in self.slices.iter().zip(wet).rev() {
            let Some(shares) = shares else {
                gathered = Default::default();
                continue;
            };
            let again = again.get_or_insert_with(|| {
                let each = self.surfaces.iter();
                each.map(|s| s.wet_again(motion, around)).collect()
            });
            stands.clear();
            stands.extend(again.iter().map(|again| match again {
                Some((x, share)) if slice.x_m > *x => *share,
                _ => 1.0,
            }));
            let beside = Self::beside(slice, shares.borrow(), &stands, heel_rad);
            for (beside, gathered) in beside.iter().zip(&mut gathered) {
                sum += Self::met(slice, beside, gathered, motion, around);
            }
        }
        Wrench {
            force_n: sum.force_n * away,
            moment_n_m: sum.moment_n_m * away,
        }
    }
}

impl Element for Topsides {
    fn name(&self) -> &str {
        "topsides"
    }

    fn wrench(&self, motion: &Motion, around: &Surroundings, _: &Controls) -> Wrench {
        self.of(self.sections.shares(motion, around), motion, around)
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
        let slices = slices(&sections, &[]);
        let topsides = Topsides::new(sections, slices, Arc::new(Vec::new()), 0.01);
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
            found: None,
        };
        let controls = Controls::default();
        let lift = topsides.wrench(&motion, &around, &controls).force_n.z;
        let slender = PI / 8.0 * WATER.water_density_kg_m3 * 0.01 * speed * speed * trim;
        assert!((lift / slender - 1.0).abs() < 0.05, "{lift} {slender}");
    }
}
