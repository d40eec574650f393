//! Rudder, fin or strut: a blade standing in the water.
//!
//! Straight-running drag from `laws::strut_drag` on the wetted span; side force and the drag that
//! comes with it from `laws::surface_blade` at the angle between blade and water.

use boat::Blade as Given;
use laws::strut_drag::{Stream, Strut, strut_drag};
use laws::surface_blade::surface_blade;
use nalgebra::Vector3;

use crate::element::{Element, Wrench};
use crate::factors::Factors;
use crate::motion::{Controls, Motion, Surroundings};

/// One blade.
#[derive(Debug, Clone)]
pub struct Blade {
    name: String,
    root_m: Vector3<f64>,
    /// Root to tip, boat axes, unit.
    down: Vector3<f64>,
    span_m: f64,
    chord_m: f64,
    thickness_m: f64,
    toe_rad: f64,
    /// Follows the rudder control.
    steered: bool,
    throw_rad: f64,
    factor: f64,
}

impl Blade {
    /// From what the builder gave.
    pub fn new(given: &Given, steered: bool, factors: &Factors) -> Self {
        let lean = given.lean_rad.value;
        Self {
            name: given.name.clone(),
            root_m: Vector3::new(given.at[0].value, given.at[1].value, given.at[2].value),
            down: Vector3::new(0.0, lean.sin(), -lean.cos()),
            span_m: given.span_m.value,
            chord_m: given.chord_m.value,
            thickness_m: given.thickness_m.value,
            toe_rad: given.toe_rad.value,
            steered,
            throw_rad: given.throw_rad.value,
            factor: factors.appendage_drag,
        }
    }

    /// Wetted span from the tip up, m.
    fn wetted_m(&self, motion: &Motion, around: &Surroundings) -> f64 {
        let root = around.depth_m(motion, &self.root_m);
        let tip = around.depth_m(motion, &(self.root_m + self.down * self.span_m));
        if tip <= 0.0 {
            0.0
        } else if root >= 0.0 {
            self.span_m
        } else {
            self.span_m * tip / (tip - root)
        }
    }

    /// Blade's angle to the water; positive pushes it to port.
    fn angle(&self, flow: &Vector3<f64>, controls: &Controls) -> f64 {
        let turned = if self.steered {
            controls.rudder_rad.clamp(-self.throw_rad, self.throw_rad)
        } else {
            0.0
        };
        self.toe_rad - turned - flow.y.atan2(flow.x)
    }
}

impl Element for Blade {
    fn name(&self) -> &str {
        &self.name
    }

    fn wrench(&self, motion: &Motion, around: &Surroundings, controls: &Controls) -> Wrench {
        let span_m = self.wetted_m(motion, around);
        if span_m <= 1e-6 {
            return Wrench::default();
        }
        // A quarter chord behind the leading edge, at half the wetted span.
        let at = self.root_m + self.down * (self.span_m - 0.5 * span_m)
            - Vector3::x() * (0.25 * self.chord_m);
        let flow = around.through_water(motion, &at);
        let speed_m_s = flow.norm();
        if speed_m_s < 1e-6 {
            return Wrench::default();
        }
        let strut = Strut {
            chord_m: self.chord_m,
            thickness_m: self.thickness_m,
            span_m,
            surface_piercing: span_m < self.span_m,
            junctions: 0,
        };
        let stream = Stream {
            speed_m_s,
            density_kg_m3: around.water_density_kg_m3,
            kinematic_viscosity_m2_s: around.water_viscosity_m2_s,
        };
        let angle = self.angle(&flow, controls);
        let (Ok(straight), Ok(turned)) = (
            strut_drag(&strut, &stream),
            surface_blade(span_m / self.chord_m, angle),
        ) else {
            return Wrench::default();
        };
        let pressure =
            0.5 * around.water_density_kg_m3 * speed_m_s * speed_m_s * span_m * self.chord_m;
        let drag = straight.drag_n * self.factor + pressure * turned.induced_drag_coefficient;
        let across = Vector3::x().cross(&self.down).normalize();
        // `down` leads from root to tip, so x cross down points to port.
        let side = across * (pressure * turned.side_coefficient);
        Wrench::at(&at, side - flow / speed_m_s * drag)
    }
}
