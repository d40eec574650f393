//! Air on the hull and on wings: lift, drag and where they act, near the water at any pitch.
//!
//! The hull is taken as a low-aspect-ratio plate of its own plan area and beam (`laws::wing`, with
//! ground effect), inclined and cambered as its underside is ([`super::underside`]), and a bluff body of its
//! frontal area with a drag coefficient of 0.5: between
//! the 0.25 of a hull's upperworks and the 0.9 of a square box (Molland, Turnock and Hudson 2011,
//! table 3.7 and section 3.2). Across the wind, a flat plate of the side area.
//!
//! Under a tunnel the air cannot get out sideways while the walls stand in the water or near it: there
//! `laws::channel_flow` takes the place of the plate's lower side, which is half of its lift, by the share of the
//! roof's height that the walls close. The pressure is square to the roof; the suction on a round lip that could
//! win its drag back is left out.
//!
//! Theory and handbook values only; `Factors::air_drag` and `air_lift` carry the spread.

use std::f64::consts::TAU;

use form::Outline;
use laws::channel_flow::Channel;
use laws::smooth::step;
use laws::wing::{Wing, helmbold_slope, wing};
use nalgebra::Vector3;

use super::underside::{Roof, Underside};
use crate::element::{Element, Wrench};
use crate::factors::Factors;
use crate::motion::{Controls, Motion, Surroundings};

/// On frontal area.
const HULL_DRAG: f64 = 0.5;
/// On side area, across the wind.
const CROSS_DRAG: f64 = 1.1;
/// On a thin wing's plan area: skin friction of both sides, small Reynolds number.
const WING_DRAG: f64 = 0.02;
/// The law's ground effect is held at this height over chord.
const LOWEST: f64 = 0.02;

/// A plate in air with its own place.
#[derive(Debug, Clone)]
struct Plate {
    area_m2: f64,
    span_m: f64,
    chord_m: f64,
    /// Middle of the leading edge, boat axes, m.
    leading_m: Vector3<f64>,
    incidence_rad: f64,
    /// Moment coefficient about the quarter chord, bow up, in two dimensions.
    couple: f64,
    zero_lift_drag: f64,
    lift_factor: f64,
    drag_factor: f64,
}

impl Plate {
    /// `kept` is the share of its lift that no tunnel has taken over.
    fn wrench(&self, kept: f64, motion: &Motion, around: &Surroundings) -> Wrench {
        let middle = self.leading_m - Vector3::x() * (0.5 * self.chord_m);
        let v = around.through_air(motion, &middle);
        let speed = v.x.hypot(v.z);
        if speed < 1e-6 {
            return Wrench::default();
        }
        let height = -around.depth_m(motion, &middle);
        let law = Wing {
            aspect_ratio: self.span_m * self.span_m / self.area_m2,
            zero_lift_drag: self.zero_lift_drag,
            height_over_chord: (height / self.chord_m).max(LOWEST),
        };
        let angle = (-v.z).atan2(v.x) + self.incidence_rad;
        let Ok(found) = wing(&law, angle) else {
            return Wrench::default();
        };
        let pressure = 0.5 * around.air_density_kg_m3 * speed * speed * self.area_m2;
        let ahead = Vector3::new(v.x, 0.0, v.z) / speed;
        let upward = Vector3::new(-ahead.z, 0.0, ahead.x);
        let force = upward * (pressure * found.lift_coefficient * self.lift_factor * kept)
            - ahead * (pressure * found.drag_coefficient * self.drag_factor);
        let at = self.leading_m - Vector3::x() * (found.centre_of_pressure * self.chord_m);
        let mut wrench = Wrench::at(&at, force);
        // Bow up is negative about the axis to port. A camber of small span has less of it, as of its lift.
        let narrow = helmbold_slope(law.aspect_ratio) / TAU;
        let attached = (1.0 - found.stalled) * self.lift_factor * kept * narrow;
        wrench.moment_n_m.y -= pressure * self.chord_m * self.couple * attached;
        wrench
    }
}

/// Air on the hull.
#[derive(Debug, Clone)]
pub struct AirOnHull {
    plate: Plate,
    /// From aft to fore.
    roofs: Vec<Roof>,
    side_area_m2: f64,
    side_m: Vector3<f64>,
}

impl AirOnHull {
    /// From the hull's outlines and underside.
    pub fn new(outline: &Outline, underside: &Underside, factors: &Factors) -> Self {
        let area_m2 = outline.plan_area_m2.max(1e-6);
        let chord_m = area_m2 / outline.beam_m.max(1e-3);
        let leading_x = outline.plan_centre_x_m + 0.5 * chord_m;
        Self {
            plate: Plate {
                area_m2,
                span_m: outline.beam_m.max(1e-3),
                chord_m,
                leading_m: Vector3::new(leading_x, 0.0, outline.front_centre_z_m),
                incidence_rad: underside.incidence_rad,
                couple: underside.couple,
                zero_lift_drag: HULL_DRAG * outline.front_area_m2 / area_m2,
                lift_factor: factors.air_lift,
                drag_factor: factors.air_drag,
            },
            roofs: underside.roofs.clone(),
            side_area_m2: outline.side_area_m2,
            side_m: Vector3::new(outline.side_centre_m[0], 0.0, outline.side_centre_m[1]),
        }
    }
}

/// What flows under the tunnel roof.
#[derive(Default)]
struct Tunnel {
    wrench: Wrench,
    /// Roof that its walls close, m2.
    closed_m2: f64,
}

/// Gaps under walls fade to nothing over this, m, instead of ending in a corner.
const FADE_M: f64 = 1e-3;

impl AirOnHull {
    fn tunnel(&self, motion: &Motion, around: &Surroundings) -> Tunnel {
        let mut tunnel = Tunnel::default();
        let Some(exit) = self.roofs.first() else {
            return tunnel;
        };
        let middle = &self.roofs[self.roofs.len() / 2];
        let middle = Vector3::new(middle.x_m, middle.y_m, middle.z_m);
        let v = around.through_air(motion, &middle);
        if v.x < 1e-3 {
            return tunnel;
        }
        let pressure = 0.5 * around.air_density_kg_m3 * v.x * v.x * self.plate.lift_factor;
        // One water level for the whole tunnel: ripple is low against a roof.
        let up = motion.up();
        let level = -around.depth_m(motion, &middle) - up.dot(&middle);
        let over = |x: f64, (y, z): (f64, f64)| level + up.x * x + up.y * y + up.z * z;
        let height = |roof: &Roof| over(roof.x_m, (roof.y_m, roof.z_m));
        // The last half row runs on to the exit.
        let exit_m = height(exit) - 0.5 * exit.length_m * (exit.slope + up.x);
        let mut flow = Channel::leaving(exit.width_m, exit_m);
        for roof in &self.roofs {
            let roof_m = height(roof);
            let gap = |wall: (f64, f64)| {
                let gap = over(roof.x_m, wall);
                0.5 * (gap + (gap * gap + FADE_M * FADE_M).sqrt())
            };
            let gaps_m = gap(roof.walls_m[0]) + gap(roof.walls_m[1]);
            let at = Vector3::new(roof.x_m, roof.y_m, roof.z_m);
            let rising = up.dot(&motion.velocity_at(&at)) / v.x;
            let coefficient = flow.next(roof.length_m, roof.width_m, roof_m, gaps_m, rising);
            let shut = 1.0 - step(0.0, 1.0, 0.5 * gaps_m / roof_m.max(1e-3));
            let area = roof.width_m * roof.length_m;
            tunnel.closed_m2 += shut * area;
            let push = pressure * coefficient * shut * area;
            tunnel.wrench += Wrench::at(&at, Vector3::new(-roof.slope, 0.0, 1.0) * push);
        }
        tunnel
    }
}

impl Element for AirOnHull {
    fn name(&self) -> &str {
        "air on hull"
    }

    fn wrench(&self, motion: &Motion, around: &Surroundings, _: &Controls) -> Wrench {
        let across = around.through_air(motion, &self.side_m).y;
        let push = 0.5 * around.air_density_kg_m3 * CROSS_DRAG * self.side_area_m2;
        let side = Vector3::new(0.0, -push * across * across.abs(), 0.0);
        let tunnel = self.tunnel(motion, around);
        let kept = 1.0 - 0.5 * (tunnel.closed_m2 / self.plate.area_m2).min(1.0);
        self.plate.wrench(kept, motion, around) + tunnel.wrench + Wrench::at(&self.side_m, side)
    }
}

/// A wing the builder fitted.
#[derive(Debug, Clone)]
pub struct AirOnWing {
    name: String,
    plate: Plate,
}

impl AirOnWing {
    /// From what the builder gave.
    pub fn new(given: &boat::Wing, factors: &Factors) -> Self {
        let (span_m, chord_m) = (given.span_m.value, given.chord_m.value);
        Self {
            name: given.name.clone(),
            plate: Plate {
                area_m2: span_m * chord_m,
                span_m,
                chord_m,
                leading_m: Vector3::new(given.at[0].value, given.at[1].value, given.at[2].value),
                incidence_rad: given.incidence_rad.value,
                couple: 0.0,
                zero_lift_drag: WING_DRAG,
                lift_factor: factors.air_lift,
                drag_factor: factors.air_drag,
            },
        }
    }
}

impl Element for AirOnWing {
    fn name(&self) -> &str {
        &self.name
    }

    fn wrench(&self, motion: &Motion, around: &Surroundings, _: &Controls) -> Wrench {
        self.plate.wrench(1.0, motion, around)
    }
}
