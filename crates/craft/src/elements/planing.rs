//! Pressure and friction of a running surface on moving water.
//!
//! Both sides of the keel that are wet are one plate (`laws::strip_planing`) on the water's edges that
//! [`super::lines`] finds, so that pads, bottoms with one side, several deadrises, strakes, chine flats, hooks and
//! heel need nothing special. Only the part from speed is taken here: what buoyancy remains belongs to
//! [`super::buoyancy`].
//!
//! Sliding sideways or rolling, a panel meets the water at another angle than its keel, while what it wets is left
//! alone. A vee so resists being slid and rolled.
//!
//! Heel tips one side flatter and the other steeper; past flat, the chine is the lower edge and the panel is a
//! wedge the other way up, wet along its chine and with no other side, whether or not the keel is still wet.
//! Within half a degree of flat both are taken by shares.

use std::sync::Arc;

use laws::friction_line::rough_band;
use laws::smooth::step;
use laws::strip_planing::{Strips, Wetted, own, strips};
use laws::whisker_spray::Root;
use nalgebra::Vector3;

use super::lines::Shore;
use super::surface::{Flow, Surface};
use crate::element::{Element, Wrench};
use crate::factors::Factors;
use crate::motion::{Controls, Motion, Surroundings};
use crate::solution::WettedSurface;

/// One running surface's dynamic force.
#[derive(Debug, Clone)]
pub struct Planing {
    /// All of the boat's surfaces.
    pub surfaces: Arc<Vec<Surface>>,
    /// Which one this is.
    pub index: usize,
    /// Equivalent sand roughness of the bottom, m.
    pub roughness_m: f64,
    /// Corrections.
    pub factors: Factors,
}

/// Panels this near to level are wet from both edges by shares, rad (half a degree).
const LEVEL_RAD: f64 = 0.009;
/// Steeper against the water than this is no planing, rad.
const STEEPEST_RAD: f64 = 1.0;
/// The law's range, rad.
const VALID_RAD: std::ops::RangeInclusive<f64> = 0.0..=0.35;

/// Both sides, port first, from the keel and from the chine: each dry or under load.
pub(super) type Halves = [Option<Half>; 4];

/// One side of the keel under load, from one of its edges.
#[derive(Debug)]
pub(super) struct Half {
    /// Along its lower edge.
    flow: Flow,
    /// Of this half in the whole, 0 to 1.
    share: f64,
    angle_rad: f64,
    lift_n: f64,
    friction_n: f64,
    centre_ahead_m: f64,
    rubs_ahead_m: f64,
    /// From the lower edge, positive to port.
    y_m: f64,
    /// Rise across the panel, positive outward, with its side's sign: leans the pressure inward.
    lean: f64,
    beam_m: f64,
    chine_m: f64,
}

impl Planing {
    fn surface(&self) -> &Surface {
        &self.surfaces[self.index]
    }

    /// What `of` makes of both sides, which are found once in an evaluation.
    fn of_halves<T>(
        &self,
        motion: &Motion,
        around: &Surroundings,
        of: impl FnOnce(&Halves) -> T,
    ) -> T {
        let halves = || self.halves(motion, around);
        match around.found.and_then(|found| found.halves(self.index)) {
            Some(kept) => of(kept.get_or_init(halves)),
            None => of(&halves()),
        }
    }

    fn halves(&self, motion: &Motion, around: &Surroundings) -> Halves {
        let surface = self.surface();
        let keel = surface.flow(motion, around);
        let up = motion.up();
        let heel_rad = up.y.atan2(up.z);
        // Heel (starboard down) steepens the port panel against the water.
        let rises = [
            surface.port[0].deadrise_rad + heel_rad,
            surface.starboard[0].deadrise_rad - heel_rad,
        ];
        let tilt = heel_rad.clamp(-1.2, 1.2).tan();
        let touched = SIDES.map(|(side, inward)| {
            let way = usize::from(side < 0.0);
            let panel = &[&surface.port, &surface.starboard][way][0];
            if panel.width_m <= 1e-6 {
                return None;
            }
            let outward = step(-LEVEL_RAD, LEVEL_RAD, rises[way]);
            let share = if inward { 1.0 - outward } else { outward };
            if share <= 0.0 {
                return None;
            }
            let flow = if inward {
                surface.flow_at_edge(side, motion, around)
            } else {
                keel
            };
            Touched::of(surface, flow?, (side, inward), share, tilt, motion, around)
        });
        std::array::from_fn(|i| {
            let here = touched[i].as_ref()?;
            let across = if i < 2 { 2 } else { 0 };
            let beside = if here.inward || surface.alone(here.side) {
                Beside([None, None])
            } else {
                Beside::of(
                    here.share,
                    touched[across].as_ref(),
                    touched[across + 1].as_ref(),
                )
            };
            Some(self.loaded(here, &beside, around))
        })
    }

    /// The load of a panel that is wet from its lower edge.
    fn loaded(&self, here: &Touched, beside: &Beside, around: &Surroundings) -> Half {
        let (flow, shore) = (&here.flow, &here.shore);
        let found = strips(shore.edges(), beside.half_beam_m());
        let pressure = 0.5 * around.water_density_kg_m3 * flow.speed_m_s.powi(2);
        let (other_m, other_lean) = beside.at_the_edge();
        // Where one end pulls as the other pushes, the middle of what is left may lie anywhere: within what is wet.
        let (centre_ahead_m, y) = if found.lift_m2 > 1e-12 {
            let middle =
                |moment: f64, least: f64, most: f64| (moment / found.lift_m2).clamp(least, most);
            (
                middle(found.moment_m3, 0.0, shore.edges()[0].ahead_m),
                middle(found.across_m3, -other_m, shore.beam_m),
            )
        } else {
            (0.375 * flow.line.keel_length_m, 0.5 * shore.beam_m)
        };
        let slender = (found.slender_m2 / found.lift_m2.max(1e-12)).clamp(0.0, 1.0);
        let across = slender * (1.0 - own(shore.beam_m, other_m));
        Half {
            share: here.share,
            angle_rad: found.angle_rad,
            lift_n: pressure * found.lift_m2 * self.factors.planing_lift,
            friction_n: pressure * self.friction_m2(flow, shore, &found, around),
            centre_ahead_m,
            rubs_ahead_m: found.area_moment_m3 / found.area_m2.max(1e-12),
            y_m: here.away * y,
            lean: here.lean + across * (other_lean - here.lean),
            beam_m: shore.beam_m,
            chine_m: shore.chine_m,
            flow: *flow,
        }
    }

    /// Friction on the wetted bottom and on what the whisker spray wets, over dynamic pressure.
    fn friction_m2(
        &self,
        flow: &Flow,
        shore: &Shore,
        found: &Strips,
        around: &Surroundings,
    ) -> f64 {
        let length = found.plan_m2 / shore.beam_m.max(1e-9);
        // Mean speed under the bottom (Savitsky 1964).
        let carried = found.lift_m2 / (found.plan_m2.max(1e-12) * found.angle_rad.cos());
        let slowed = (1.0 - carried).clamp(0.25, 1.0);
        let reynolds = flow.speed_m_s * slowed.sqrt() * length / around.water_viscosity_m2_s;
        let band = rough_band(reynolds, self.roughness_m / length.max(1e-9));
        let place = self.factors.friction;
        let cf = between([band.cf_low, band.cf_middle(), band.cf_high], place);
        let edges = shore.edges();
        let mut spray = 0.0;
        for (i, pair) in edges.windows(2).enumerate() {
            let (fore, aft) = (&pair[0], &pair[1]);
            let root = Root {
                half_beam_m: 0.5 * (fore.half_beam_m + aft.half_beam_m),
                out_m: aft.half_beam_m - fore.half_beam_m,
                along_m: fore.ahead_m - aft.ahead_m,
                ahead_m: 0.5 * (fore.ahead_m + aft.ahead_m),
                limit_m: shore.limit_m(i),
                deadrise_rad: 0.5 * (fore.deadrise_rad + aft.deadrise_rad),
            };
            if !fore.held {
                spray += root.drag_area_m2(cf);
            }
        }
        cf * (slowed * found.area_m2 + spray)
    }

    fn wetted(&self, keel: Option<Flow>, halves: &Halves) -> WettedSurface {
        let each = || halves.iter().flatten();
        let deepest = keel.or_else(|| each().map(|h| h.flow).next());
        let lift: f64 = each().map(|h| h.share * h.lift_n).sum();
        let angle: f64 = each().map(|h| h.share * h.lift_n * h.angle_rad).sum();
        WettedSurface {
            name: self.surface().name.clone(),
            keel_length_m: deepest.map_or(0.0, |f| f.line.keel_length_m),
            chine_length_m: each().map(|h| h.chine_m).fold(0.0, f64::max),
            beam_m: each().map(|h| h.share * h.beam_m).sum(),
            lift_n: lift,
            trim_rad: if lift > 1e-9 {
                angle / lift
            } else {
                deepest.map_or(0.0, |f| f.angle_rad(0.0))
            },
        }
    }
}

/// Port first, from the keel and from the chine inward.
const SIDES: [(f64, bool); 4] = [(1.0, false), (1.0, true), (-1.0, false), (-1.0, true)];

/// A panel that is wet from its lower edge: outward from the keel, or inward from the chine.
#[derive(Debug)]
struct Touched {
    flow: Flow,
    shore: Shore,
    side: f64,
    inward: bool,
    /// The way from its lower edge, +1 to port.
    away: f64,
    /// Of this half in the whole, 0 to 1.
    share: f64,
    /// As [`Half::lean`], of this panel alone.
    lean: f64,
}

impl Touched {
    fn of(
        surface: &Surface,
        flow: Flow,
        (side, inward): (f64, bool),
        share: f64,
        tilt: f64,
        motion: &Motion,
        around: &Surroundings,
    ) -> Option<Self> {
        let mut shore = surface.shore(side, inward, tilt, motion, around)?;
        let away = if inward { -side } else { side };
        let more_rad = across_rad(&flow, &shore, away, motion, around);
        for edge in shore.edges_mut() {
            edge.angle_rad =
                (flow.angle_rad(edge.ahead_m) + more_rad).clamp(-STEEPEST_RAD, STEEPEST_RAD);
        }
        let outer = shore.edges()[shore.edges().len() - 1];
        // Against the boat, not against the water: heel leans the boat with it.
        let rise = outer.deadrise_rad.tan() - away * tilt;
        Some(Self {
            flow,
            shore,
            side,
            inward,
            away,
            share,
            lean: away * rise,
        })
    }
}

/// What is wet on the other side of the keel, from the keel and from the chine, and how much each of them counts.
struct Beside<'a>([Option<(f64, &'a Touched)>; 2]);

impl<'a> Beside<'a> {
    /// For a panel wet from the keel by a share. Near level heel takes a flat bottom over from one chine to the other:
    /// what is wet from the keel goes with what the other side is wet from its chine, as far as there is of that.
    fn of(share: f64, outward: Option<&'a Touched>, inward: Option<&'a Touched>) -> Self {
        let crossed = inward.map_or(0.0, |t| (t.share / share).min(1.0));
        Self([
            outward.map(|t| (1.0 - crossed, t)),
            inward.map(|t| (crossed, t)),
        ])
    }

    /// How far that side is wet, as `strips` asks. A panel that is wet from its chine is wet before the keel is.
    fn half_beam_m(&self) -> impl FnMut(f64) -> f64 {
        let [outward, inward] = self.0;
        let mut keel = outward.map(|(share, t)| (share, Wetted::of(t.shore.edges())));
        let chine_m = inward.map_or(0.0, |(share, t)| share * t.shore.beam_m);
        move |place| {
            let keel = keel.as_mut();
            chine_m + keel.map_or(0.0, |(share, wet)| *share * wet.half_beam_m(place))
        }
    }

    /// The same at the trailing edge, m, and how that side leans.
    fn at_the_edge(&self) -> (f64, f64) {
        let mean = |of: fn(&Touched) -> f64| -> f64 {
            let each = self.0.iter().flatten();
            each.map(|(share, t)| share * of(t)).sum()
        };
        (mean(|t| t.shore.beam_m), mean(|t| t.lean))
    }
}

/// How much steeper a panel's face meets the water than its lower edge does, as the boat slides and rolls: none
/// in straight and level running. `away` is the way from that edge, +1 to port.
fn across_rad(
    flow: &Flow,
    shore: &Shore,
    away: f64,
    motion: &Motion,
    around: &Surroundings,
) -> f64 {
    let sway = around
        .through_water(motion, &flow.line.aft_m)
        .dot(&motion.level_port());
    let middle = Vector3::new(0.0, away * 0.5 * shore.beam_m, 0.0);
    let rising = motion.rate_rad_s.cross(&middle).z;
    let outer = shore.edges()[shore.edges().len() - 1].deadrise_rad;
    let more = (away * outer.tan() * sway - rising).atan2(flow.speed_m_s.max(1e-3));
    // Sideways the panel is a side, not a bottom.
    more.clamp(-0.5 * STEEPEST_RAD, 0.5 * STEEPEST_RAD)
}

/// Low, middle or high, or between: `place` runs from -1 to 1.
fn between([low, middle, high]: [f64; 3], place: f64) -> f64 {
    if place < 0.0 {
        middle + place * (middle - low)
    } else {
        middle + place * (high - middle)
    }
}

impl Half {
    /// Pressure square to the panel and friction along it, boat axes.
    fn wrench(&self) -> Wrench {
        // As the water at the centre of pressure sees the edge: its slope there, less what the angle differs.
        let flow = &self.flow;
        let here = flow.slope_rad(self.centre_ahead_m) + self.angle_rad
            - flow.angle_rad(self.centre_ahead_m);
        let (sin, cos) = here.sin_cos();
        let along = Vector3::new(cos, 0.0, sin);
        let outward = Vector3::new(-sin, -self.lean, cos);
        // The law's lift is square to the water's flow; the plate's pressure is that over cos.
        let pressure =
            outward * (self.share * self.lift_n / self.angle_rad.clamp(0.0, STEEPEST_RAD).cos());
        let aft = flow.line.aft_m;
        let aside = Vector3::new(0.0, self.y_m, 0.0);
        let (sin, cos) = flow.slope_rad(0.5 * self.centre_ahead_m).sin_cos();
        let edge = Vector3::new(cos, 0.0, sin);
        let point = aft + edge * self.centre_ahead_m + aside;
        let rubs = aft + edge * self.rubs_ahead_m + aside;
        Wrench::at(&point, pressure) + Wrench::at(&rubs, -along * (self.share * self.friction_n))
    }
}

impl Element for Planing {
    fn name(&self) -> &str {
        &self.surface().name
    }

    fn wrench(&self, motion: &Motion, around: &Surroundings, _: &Controls) -> Wrench {
        self.of_halves(motion, around, |halves| {
            halves.iter().flatten().map(Half::wrench).sum()
        })
    }

    fn contact(&self, motion: &Motion, around: &Surroundings) -> Option<WettedSurface> {
        let keel = self.surface().flow(motion, around);
        Some(self.of_halves(motion, around, |halves| self.wetted(keel, halves)))
    }

    fn notes(&self, motion: &Motion, around: &Surroundings, _: &Controls) -> Vec<String> {
        let surface = self.surface();
        if surface.flow(motion, around).is_none() {
            return Vec::new();
        }
        let name = &surface.name;
        let mut notes = Vec::new();
        let widest = surface.port[0].width_m.max(surface.starboard[0].width_m);
        if surface.strake_m.is_some_and(|s| s >= widest) {
            notes.push(format!(
                "{name}: its strake lies outside the chine and does nothing"
            ));
        }
        let outside = |h: &Half| !VALID_RAD.contains(&h.angle_rad);
        if self.of_halves(motion, around, |halves| {
            halves.iter().flatten().any(outside)
        }) {
            notes.push(format!("{name}: planing law outside its range here"));
        }
        notes
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solution::Attitude;
    use crate::steady::Running;
    use crate::testing::Prism;

    /// On a prism at 5 m/s and 2.3 deg, its keel 8 mm deep at the transom.
    fn heeled(deadrise_deg: f64, heel_deg: f64) -> Wrench {
        rolling(deadrise_deg, heel_deg, 0.0)
    }

    fn rolling(deadrise_deg: f64, heel_deg: f64, rate_rad_s: f64) -> Wrench {
        let prism = Prism {
            beam_m: 0.16,
            deadrise_rad: deadrise_deg.to_radians(),
            length_m: 0.5,
            mass_kg: 1.5,
            lcg_m: 0.18,
            vcg_m: 0.03,
        };
        let planing = Planing {
            surfaces: Arc::new(vec![prism.surface(None)]),
            index: 0,
            roughness_m: 0.0,
            factors: Factors::default(),
        };
        let running = Running {
            speed_m_s: 5.0,
            attitude: Attitude {
                rise_m: -0.008,
                trim_rad: 0.04,
                heel_rad: heel_deg.to_radians(),
            },
            shaft_rad_s: 0.0,
            drift_rad: 0.0,
        };
        let around = prism.craft();
        let motion = Motion {
            rate_rad_s: Vector3::x() * rate_rad_s,
            ..running.motion()
        };
        planing.wrench(&motion, &around.surroundings(), &Controls::default())
    }

    /// Rolling, one side comes out of the water as the other goes in: what pushes aside stays what panels
    /// lean by (within a twentieth: angles are interpolated, not slopes).
    #[test]
    fn rolling_pushes_aside_no_more_than_panels_lean() {
        for rate in [-40.0, -20.0, -5.0, 5.0, 20.0, 40.0] {
            for i in -90..=90 {
                let heel = 0.5 * f64::from(i);
                let force = rolling(20.0, heel, rate).force_n;
                let most = 1.05 * 20f64.to_radians().tan() * force.z.abs() + 1e-6;
                assert!(force.y.abs() <= most, "{heel} {rate}: {force:?}");
            }
        }
    }

    /// Nothing jumps as a side passes flat and its chine becomes the lower edge, and heel is always pushed back.
    #[test]
    fn heel_passes_flat_smoothly() {
        for deadrise in [0.0, 5.0, 12.0, 20.0] {
            let level = heeled(deadrise, 0.0);
            let mut before = level;
            let mut most = level.force_n.z;
            for i in 1..=300 {
                let here = heeled(deadrise, 0.1 * f64::from(i));
                let other = heeled(deadrise, -0.1 * f64::from(i));
                assert!((here.moment_n_m.x + other.moment_n_m.x).abs() < 1e-9);
                assert!(here.moment_n_m.x < 0.0, "{deadrise} {i}: {here:?}");
                most = most.max(here.force_n.z);
                let (lift, roll) = (here.force_n.z - before.force_n.z, here.moment_n_m.x);
                assert!(lift.abs() < 0.04 * most, "{deadrise} {i}: {lift} of {most}");
                let rolls = (roll - before.moment_n_m.x).abs();
                assert!(rolls < 0.002 * most, "{deadrise} {i}: {rolls}");
                before = here;
            }
        }
    }
}
