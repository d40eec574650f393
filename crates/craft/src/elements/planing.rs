//! Pressure and friction of a running surface on moving water.
//!
//! Each side of the keel is half of a symmetric planing surface (`laws::planing_surface`), so that
//! heel, unequal deadrise and half-wedges (a catamaran's hulls) need nothing special. Only the
//! part from speed is taken here: what buoyancy remains belongs to [`super::buoyancy`].
//!
//! Sliding sideways or rolling, a panel meets the water at another angle than its keel: its lift is
//! scaled by the angle of its own face over the keel's, while what it wets is left alone. A vee so
//! resists being slid and rolled.
//!
//! A spray strake throws the water off as a chine does while the keel's trailing edge lies no deeper than
//! the strake's edge stands above the keel; at twice that depth the strake is run over and the whole panel
//! works (judgement: the hollow outside it is as deep as the strake is high).
//!
//! Heel tips one side flatter and the other steeper; past flat, the chine is the lower edge and
//! the panel is a wedge the other way up, wet along its chine, whether or not the keel is still wet.

use std::sync::Arc;

use form::Panel;
use laws::planing_surface::{PlaningSurface, Wetted, planing_surface};
use laws::smooth::{mix, step};
use laws::whisker_spray::added_length_ratio;
use nalgebra::Vector3;

use super::surface::{Surface, Wetting};
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

/// One side of the keel under load.
struct Half {
    /// Along its lower edge.
    wet: Wetting,
    lift_n: f64,
    friction_n: f64,
    centre_ahead_m: f64,
    y_m: f64,
    /// Rise across the panel, positive outward, with its side's sign: leans the pressure inward.
    lean: f64,
    wetted: Wetted,
    in_range: bool,
}

impl Planing {
    fn surface(&self) -> &Surface {
        &self.surfaces[self.index]
    }

    /// Both sides, port first: each dry or under load.
    fn halves(&self, motion: &Motion, around: &Surroundings) -> [Option<Half>; 2] {
        let keel = self.surface().wetting(motion, around);
        [1.0, -1.0].map(|side| self.half(keel.as_ref(), side, motion, around))
    }

    /// `side` is +1 to port. Heel (starboard down) steepens the port panel against the water.
    fn half(
        &self,
        keel: Option<&Wetting>,
        side: f64,
        motion: &Motion,
        around: &Surroundings,
    ) -> Option<Half> {
        let surface = self.surface();
        let index = usize::from(side < 0.0);
        let after = [&surface.port, &surface.starboard][index][0];
        if after.width_m <= 1e-6 {
            return None;
        }
        let up = motion.up();
        let heel_rad = up.y.atan2(up.z);
        if after.deadrise_rad + side * heel_rad >= 0.0 {
            let wet = *keel?;
            let panel = wet.panels[index];
            let rise_rad = (panel.deadrise_rad + side * heel_rad).max(0.0);
            let panel = self.thrown_off(&wet, &panel, rise_rad);
            self.loaded(wet, &panel, side, rise_rad, motion, around)
        } else {
            let wet = surface.wetting_at_edge(side, heel_rad, motion, around)?;
            let panel = wet.panels[index];
            let rise_rad = (panel.deadrise_rad + side * heel_rad).min(0.0);
            self.loaded(wet, &panel, side, rise_rad, motion, around)
        }
    }

    /// A panel that rises from its lower edge: outward from the keel, or inward (below zero) from the chine.
    fn loaded(
        &self,
        wet: Wetting,
        panel: &Panel,
        side: f64,
        rise_rad: f64,
        motion: &Motion,
        around: &Surroundings,
    ) -> Option<Half> {
        if panel.width_m <= 1e-6 {
            return None;
        }
        // No planing lift without an angle, but the bottom still rubs.
        let trim_rad = wet.trim_rad.clamp(0.0, 1.5);
        let steep = rise_rad.abs().min(1.0);
        let flat = as_deep(steep, trim_rad, wet.keel_length_m, wet.draught_m);
        let found = planing_surface(&PlaningSurface {
            beam_m: 2.0 * panel.width_m,
            deadrise_rad: flat,
            trim_rad,
            keel_wetted_m: wet.keel_length_m,
            speed_m_s: wet.speed_m_s,
            density_kg_m3: around.water_density_kg_m3,
            kinematic_viscosity_m2_s: around.water_viscosity_m2_s,
            gravity_m_s2: around.gravity_m_s2,
            friction_allowance: 0.0,
            roughness_m: self.roughness_m,
        })
        .ok()?;
        let across = across(&wet, panel, side, rise_rad, motion, around);
        let kept = across * (1.0 - steep.sin()) / (1.0 - flat.sin());
        // From the lower edge: outward from the keel, inward from the chine.
        let way = if rise_rad >= 0.0 { side } else { -side };
        Some(Half {
            wet,
            lift_n: 0.5 * found.lift_dynamic_n * kept * self.factors.planing_lift,
            friction_n: self.friction(&wet, panel, rise_rad.abs(), &found, around),
            centre_ahead_m: found.dynamic_centre_m + wet.centre_shift_m,
            y_m: way * 0.25 * found.wetted.beam_m,
            lean: side * panel.deadrise_rad.tan(),
            wetted: found.wetted,
            in_range: found.in_range || wet.trim_rad <= 0.0,
        })
    }

    /// The part of a panel inside its strake, or all of it.
    fn thrown_off(&self, wet: &Wetting, panel: &Panel, rise_rad: f64) -> Panel {
        let Some(strake_m) = self.surface().strake_m.filter(|s| *s < panel.width_m) else {
            return *panel;
        };
        let edge_m = (strake_m * rise_rad.max(0.0).tan()).max(1e-6);
        let run_over = step(1.0, 2.0, wet.draught_m / edge_m);
        Panel {
            width_m: mix(strake_m, panel.width_m, run_over),
            ..*panel
        }
    }

    /// The law's friction on its wetted area, and plain friction on what still water would wet
    /// beyond that (afloat, or running level) and on what the whisker spray wets.
    fn friction(
        &self,
        wet: &Wetting,
        panel: &Panel,
        rise_rad: f64,
        found: &laws::planing_surface::Planing,
        around: &Surroundings,
    ) -> f64 {
        let place = self.factors.friction;
        let law = [
            found.drag_friction_low_n,
            found.drag_friction_n,
            found.drag_friction_high_n,
        ];
        let beyond = (still_area(wet, panel, rise_rad) - 0.5 * found.wetted.area_m2).max(0.0);
        let reynolds = wet.speed_m_s * wet.keel_length_m / around.water_viscosity_m2_s;
        let band = laws::friction_line::rough_band(
            reynolds,
            self.roughness_m / wet.keel_length_m.max(1e-9),
        );
        let cf = between([band.cf_low, band.cf_middle(), band.cf_high], place);
        let pressure = 0.5 * around.water_density_kg_m3 * wet.speed_m_s.powi(2);
        let spray = added_length_ratio(wet.trim_rad, rise_rad) * 0.5 * found.wetted.beam_m.powi(2);
        0.5 * between(law, place) + pressure * (beyond + spray) * cf
    }
}

/// Least trim that a panel's own angle is set against, rad (half a degree).
const LEAST_TRIM_RAD: f64 = 0.009;
/// Angles of attack past this are no longer planing, rad.
const STEEPEST_RAD: f64 = 1.0;
/// A panel's lift is never scaled by more.
const MOST_ACROSS: f64 = 4.0;

/// Angle of a panel's face to the water over its keel's: 1 in straight and level running.
fn across(
    wet: &Wetting,
    panel: &Panel,
    side: f64,
    rise_rad: f64,
    motion: &Motion,
    around: &Surroundings,
) -> f64 {
    if wet.speed_m_s < 1e-3 {
        return 1.0;
    }
    let middle = Vector3::new(0.0, side * 0.5 * panel.width_m, 0.0);
    let sway = around
        .through_water(motion, &wet.aft_m)
        .dot(&motion.level_port());
    let rising = motion.rate_rad_s.cross(&middle).z;
    let more_rad = (side * rise_rad.tan() * sway - rising) / wet.speed_m_s;
    (1.0 + more_rad / wet.trim_rad.max(LEAST_TRIM_RAD)).clamp(0.0, MOST_ACROSS)
}

/// Deadrise at which a straight keel of this length would wet as much beam at the trailing edge as
/// the real draught there does. A keel that curves up ahead is shorter than its draught over its
/// angle, and the law would else take its chines for dry.
fn as_deep(deadrise_rad: f64, trim_rad: f64, keel_m: f64, draught_m: f64) -> f64 {
    let straight_m = keel_m * trim_rad.tan();
    if draught_m <= straight_m {
        return deadrise_rad;
    }
    (deadrise_rad.tan() * straight_m / draught_m).atan()
}

/// Low, middle or high, or between: `place` runs from -1 to 1.
fn between([low, middle, high]: [f64; 3], place: f64) -> f64 {
    if place < 0.0 {
        middle + place * (middle - low)
    } else {
        middle + place * (high - middle)
    }
}

/// Area of the panel under still water, its depth running out evenly along the wetted keel, m2.
fn still_area(wet: &Wetting, panel: &Panel, rise_rad: f64) -> f64 {
    let reach = wet.draught_m.max(0.0) / rise_rad.tan().max(1e-6);
    let mean = if reach <= panel.width_m {
        0.5 * reach
    } else {
        panel.width_m - 0.5 * panel.width_m * panel.width_m / reach
    };
    wet.keel_length_m * mean / rise_rad.cos()
}

impl Half {
    /// Pressure square to the panel and friction along it, boat axes.
    fn wrench(&self) -> Wrench {
        let wet = &self.wet;
        let (sin, cos) = wet.slope_rad.sin_cos();
        let along = Vector3::new(cos, 0.0, sin);
        let outward = Vector3::new(-sin, -self.lean, cos);
        // The law's lift is square to the water's flow; the plate's pressure is that over cos. Drifting
        // backwards there is no angle to speak of.
        let pressure = outward * (self.lift_n / wet.trim_rad.min(STEEPEST_RAD).cos());
        let point = wet.aft_m + along * self.centre_ahead_m + Vector3::new(0.0, self.y_m, 0.0);
        let middle = wet.aft_m
            + along * (0.5 * self.wetted.mean_length_m)
            + Vector3::new(0.0, self.y_m, 0.0);
        Wrench::at(&point, pressure) + Wrench::at(&middle, -along * self.friction_n)
    }
}

impl Element for Planing {
    fn name(&self) -> &str {
        &self.surface().name
    }

    fn wrench(&self, motion: &Motion, around: &Surroundings, _: &Controls) -> Wrench {
        let halves = self.halves(motion, around);
        halves.iter().flatten().map(Half::wrench).sum()
    }

    fn contact(&self, motion: &Motion, around: &Surroundings) -> Option<WettedSurface> {
        let halves = self.halves(motion, around);
        let each = || halves.iter().flatten();
        let keel = self.surface().wetting(motion, around);
        let deepest = keel.or_else(|| each().map(|h| h.wet).next());
        Some(WettedSurface {
            name: self.surface().name.clone(),
            keel_length_m: deepest.map_or(0.0, |w| w.keel_length_m),
            chine_length_m: each().map(|h| h.wetted.chine_m).fold(0.0, f64::max),
            beam_m: each().map(|h| 0.5 * h.wetted.beam_m).sum(),
            lift_n: each().map(|h| h.lift_n).sum(),
            trim_rad: deepest.map_or(0.0, |w| w.trim_rad),
        })
    }

    fn notes(&self, motion: &Motion, around: &Surroundings, _: &Controls) -> Vec<String> {
        let Some(wet) = self.surface().wetting(motion, around) else {
            return Vec::new();
        };
        let name = &self.surface().name;
        let mut notes = Vec::new();
        let widest = wet.panels[0].width_m.max(wet.panels[1].width_m);
        if self.surface().strake_m.is_some_and(|s| s >= widest) {
            notes.push(format!(
                "{name}: its strake lies outside the chine and does nothing"
            ));
        }
        let outside = self
            .halves(motion, around)
            .iter()
            .flatten()
            .any(|h| !h.in_range);
        if outside {
            notes.push(format!("{name}: planing law outside its range here"));
        }
        notes
    }
}
