//! A trim tab (`laws::trim_tab`) behind the running surface whose trailing edge is nearest.
//!
//! It works as far as its trailing edge reaches below the bottom's own line, over what of its span the bottom ahead is
//! wet, and once the edge runs dry behind: water that leaves a trailing edge at speed goes straight on. Heeled, one of a
//! pair is wetter than the other. Carries the appendages' spread on its drag.

use boat::Tab as Given;
use form::RunningSurface;
use laws::smooth::step;
use laws::trim_tab::{self, force};
use nalgebra::Vector3;

use super::buoyancy::broken_away;
use super::edge::wet_widths;
use super::surface::Surface;
use crate::craft::SharedSurfaces;
use crate::element::{Element, Wrench};
use crate::factors::Factors;
use crate::motion::{Controls, Motion, Surroundings};

/// Angle over which a tab that reaches below the bottom's line comes to its full hold, rad (half a degree).
const MEETS_RAD: f64 = 0.009;

/// One tab.
#[derive(Debug, Clone)]
pub struct Tab {
    name: String,
    surfaces: SharedSurfaces,
    index: usize,
    y_m: f64,
    span_m: f64,
    chord_m: f64,
    deflection_rad: f64,
    factor: f64,
}

impl Tab {
    /// From what the builder gave; `None` without a running surface to stand behind.
    pub fn new(
        given: &Given,
        found: &[RunningSurface],
        surfaces: &SharedSurfaces,
        factors: &Factors,
    ) -> Option<Self> {
        let at = Vector3::from_fn(|axis, _| given.at[axis].value);
        let away = |s: &Surface| (s.keel_m[0] - at).norm();
        let near = surfaces.iter().enumerate();
        let (index, surface) = near.min_by(|a, b| away(a.1).total_cmp(&away(b.1)))?;
        let bottom = surface.keel_m[0];
        let y_m = at.y - bottom.y;
        let side = usize::from(y_m < 0.0);
        let panel = &[&surface.port, &surface.starboard][side][0];
        let out_m = y_m.abs().min(panel.width_m);
        let over = found[index].across[side].over_at(0, out_m / panel.width_m.max(1e-9));
        let bottom_z = bottom.z + out_m * panel.deadrise_rad.tan() + over * panel.width_m;
        let chord_m = given.chord_m.value;
        // From the bottom's trailing edge to the tab's, against the bottom's own line.
        let turned = given.angle_rad.value.tan() - surface.edge_slope();
        let below_m = bottom_z - at.z + chord_m * turned;
        Some(Self {
            name: given.name.clone(),
            surfaces: std::sync::Arc::clone(surfaces),
            index,
            y_m,
            span_m: given.span_m.value,
            chord_m,
            deflection_rad: (below_m / chord_m).atan(),
            factor: factors.appendage_drag,
        })
    }

    /// Share of the span that the bottom ahead wets.
    fn wet_share(&self, surface: &Surface, draught_m: f64) -> f64 {
        let wet_m = wet_widths(surface, draught_m)[usize::from(self.y_m < 0.0)];
        let inner = self.y_m.abs() - 0.5 * self.span_m;
        step(inner, inner + self.span_m, wet_m)
    }
}

impl Element for Tab {
    fn name(&self) -> &str {
        &self.name
    }

    fn wrench(&self, motion: &Motion, around: &Surroundings, _: &Controls) -> Wrench {
        if self.deflection_rad <= 0.0 {
            return Wrench::default();
        }
        let surface = &self.surfaces[self.index];
        let Some(line) = surface.wet_line(motion, around) else {
            return Wrench::default();
        };
        let edge = surface.keel_m[0];
        let speed = around.through_water(motion, &edge).x;
        // Heel lowers one side.
        let aside = Vector3::new(0.0, self.y_m, 0.0);
        let lower_m = around.depth_m(motion, &(edge + aside)) - around.depth_m(motion, &edge);
        let draught_m = line.draught_m + lower_m;
        if speed <= 0.0 || draught_m <= 0.0 {
            return Wrench::default();
        }
        let holds = step(0.0, MEETS_RAD, self.deflection_rad)
            * self.wet_share(surface, draught_m)
            * broken_away(speed, line.draught_m, around.gravity_m_s2);
        let found = force(&trim_tab::Tab {
            deflection_rad: self.deflection_rad,
            chord_m: self.chord_m,
            span_m: self.span_m,
            beam_m: surface.beam_m(),
            trim_rad: surface.quarter_angle_rad(&line, motion, around),
            pressure_pa: 0.5 * around.water_density_kg_m3 * speed * speed * holds,
        });
        let at = edge + aside + Vector3::new(found.ahead_m, 0.0, 0.0);
        Wrench::at(
            &at,
            Vector3::new(-found.drag_n * self.factor, 0.0, found.lift_n),
        )
    }
}
