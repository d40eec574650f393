//! A propeller: covered, cut by the surface, or out of the water.
//!
//! - Covered by half a diameter and more: the Wageningen B series (`laws::open_water`).
//! - Cut by the surface: blade elements over the wet arc with ventilated sections
//!   (`laws::surface_propeller`), with the vertical and side force and what crossing water does.
//! - Between (tips covered by less than half a diameter): mixed, so that nothing jumps.
//!
//! Both laws carry the spread of `Factors::thrust` and `Factors::torque`. The blade elements explain a lift of
//! a tenth to a seventh of thrust; practice is 0.15 to 0.5. So the lift is scaled to `lift_fraction` of
//! thrust, half immersed at a slip of a fifth, and keeps the law's shape in advance and immersion; it
//! carries the spread of `Factors::propeller_lift`. Torque turns the boat the other way.
//!
//! At the hump the tips of a fast small propeller run at 40 m/s and more: covered blades cavitate all over
//! their backs, and thrust and torque stay below the breakdown of `laws::cavitation`. Air on their backs gives
//! less than vapour, so a disc nearly covered that draws air stays below it as well. Heavily loaded near the
//! surface, a covered propeller loses by `laws::surface_loss`; rolling lightly, by half its pitch and more, it
//! loses nothing.
//!
//! A covered propeller that draws air works as if it were cut (`drawing_air`): what is left of its thrust at
//! launch until it has cleared. Torque at low advance is known within a factor of two
//! (`Factors::launch_torque`), which fades until half the pitch is run.

mod flow;
mod measured;
mod series;
#[cfg(test)]
mod tests;

use std::sync::Arc;

use boat::Propeller as Given;
use laws::cavitation::{Breakdown, held_below};
use laws::smooth::{mix, step};
use laws::surface_loss;
use laws::surface_propeller::{Arriving, Blading, Load, Operating, SurfacePropellerMap};
use nalgebra::Vector3;

use super::surface::Surface;
use crate::drive::PropellerLoad;
use crate::element::{Element, Wrench};
use crate::factors::Factors;
use crate::motion::{Controls, Motion, Surroundings};
pub use flow::Flow;
use measured::{Correction, cupped};
use series::Curves;

/// Slip at which `lift_fraction` is meant.
const USUAL_SLIP: f64 = 0.2;

/// Pressure of the air above that of vapour, at sea level and 15 deg C, Pa; the few centimetres of
/// water above the disc are left out.
const HEAD_PA: f64 = 101_325.0 - 1_705.0;

/// Advance over pitch at which a propeller counts as lightly loaded: the near surface takes nothing.
const LIGHT: f64 = 0.5;

/// One propeller.
#[derive(Debug, Clone)]
pub struct Propeller {
    pub(super) name: String,
    /// Which drive turns it.
    pub drive: usize,
    at_m: Vector3<f64>,
    diameter_m: f64,
    pitch_ratio: f64,
    /// Direction of thrust, boat axes.
    axis: Vector3<f64>,
    /// Square to the shaft, boat axes: up and to port.
    up: Vector3<f64>,
    port: Vector3<f64>,
    right_handed: bool,
    /// Lift over the law's.
    lift_scale: f64,
    series: Curves,
    breakdown: Breakdown,
    surfaced: Arc<SurfacePropellerMap>,
    correction: Correction,
    surfaces: Arc<Vec<Surface>>,
    factors: Factors,
}

impl Propeller {
    /// From what the builder gave, ahead of the water left by `surfaces`.
    ///
    /// # Errors
    /// The law's refusal of an impossible propeller.
    pub fn new(
        drive: &boat::Drive,
        index: usize,
        surfaces: Arc<Vec<Surface>>,
        factors: Factors,
    ) -> Result<Self, laws::input::InputError> {
        let given = &Given {
            pitch_ratio: cupped(&drive.propeller),
            ..drive.propeller.clone()
        };
        let series = Curves::of(given)?;
        let blading = Blading {
            right_handed: given.right_handed,
            ..Blading::new(
                f64::from(given.blades),
                given.pitch_ratio.value,
                given.area_ratio.value,
            )
        };
        let surfaced = SurfacePropellerMap::new(&blading)?;
        let usual = surfaced.at(&Arriving {
            advance: (1.0 - USUAL_SLIP) * given.pitch_ratio.value,
            immersion: 0.5,
            upward_rad: 0.0,
            to_port_rad: 0.0,
        });
        let (sin, cos) = drive.shaft.angle_rad.value.sin_cos();
        let toe = drive.shaft.toe_rad.value;
        let axis = Vector3::new(cos * toe.cos(), -cos * toe.sin(), sin);
        let up = Vector3::new(-sin, 0.0, cos);
        let mut propeller = Self {
            name: if drive.name.is_empty() {
                "propeller".to_owned()
            } else {
                format!("{} propeller", drive.name)
            },
            drive: index,
            at_m: Vector3::new(given.at[0].value, given.at[1].value, given.at[2].value),
            diameter_m: given.diameter_m.value,
            pitch_ratio: given.pitch_ratio.value,
            axis,
            up,
            port: up.cross(&axis),
            right_handed: given.right_handed,
            lift_scale: given.lift_fraction.value * usual.kt / usual.vertical.max(1e-9),
            series,
            breakdown: Breakdown::new(
                given.diameter_m.value,
                given.area_ratio.value,
                given.pitch_ratio.value,
            ),
            surfaced: Arc::new(surfaced),
            correction: Correction::default(),
            surfaces,
            factors,
        };
        propeller.correction = Correction::of(&propeller, &given.measured);
        Ok(propeller)
    }

    /// Middle of the disc, boat axes, m.
    pub fn at_m(&self) -> Vector3<f64> {
        self.at_m
    }

    /// m.
    pub fn diameter_m(&self) -> f64 {
        self.diameter_m
    }

    /// Effective pitch, m.
    pub fn pitch_m(&self) -> f64 {
        self.pitch_ratio * self.diameter_m
    }

    /// The corrections it was built with.
    pub fn factors(&self) -> &Factors {
        &self.factors
    }

    /// Direction of thrust, boat axes.
    pub fn axis(&self) -> &Vector3<f64> {
        &self.axis
    }

    /// The running surfaces it works behind.
    pub fn surfaces(&self) -> &[Surface] {
        &self.surfaces
    }

    /// Thrust and torque at a shaft speed.
    pub fn load(&self, motion: &Motion, around: &Surroundings, shaft_rad_s: f64) -> PropellerLoad {
        self.load_in(&self.flow(motion, around), around, shaft_rad_s)
    }

    /// Torque half immersed at an advance, N m.
    pub(crate) fn half_under_n_m(&self, advance_m_s: f64, density: f64, shaft_rad_s: f64) -> f64 {
        let flow = Flow {
            immersion: 0.5,
            advance_m_s,
            upward_rad: 0.0,
            to_port_rad: 0.0,
        };
        let cut = self.cut(&flow, density, shaft_rad_s, flow.immersion);
        self.factors.torque * cut.torque_n_m.max(0.0)
    }

    /// Thrust and torque in a known flow.
    pub fn load_in(&self, flow: &Flow, around: &Surroundings, shaft_rad_s: f64) -> PropellerLoad {
        self.working(flow, around, shaft_rad_s, flow.immersion)
    }

    /// In a known flow but drawing air down from the surface, so that a covered disc works with
    /// ventilated blades as one does whose tips just reach the surface.
    pub fn drawing_air(
        &self,
        flow: &Flow,
        around: &Surroundings,
        shaft_rad_s: f64,
    ) -> PropellerLoad {
        self.working(flow, around, shaft_rad_s, flow.immersion.min(1.0))
    }

    fn working(
        &self,
        flow: &Flow,
        around: &Surroundings,
        shaft_rad_s: f64,
        immersion: f64,
    ) -> PropellerLoad {
        let covered = step(1.0, 1.5, immersion);
        let density = around.water_density_kg_m3;
        let turns = shaft_rad_s / std::f64::consts::TAU;
        let cut = self.cut(flow, density, shaft_rad_s, immersion);
        let most = self.most(flow, density, turns);
        // Half a disc is fed with air from above at any load.
        let fed = step(0.5, 1.0, immersion);
        let airy = [
            mix(cut.thrust_n, held_below(cut.thrust_n, most[0]), fed),
            mix(cut.torque_n_m, held_below(cut.torque_n_m, most[1]), fed),
        ];
        let [thrust_n, torque_n_m] = if covered > 0.0 {
            let gripping = self.gripping(flow, density, turns, immersion, most);
            [0, 1].map(|i| mix(airy[i], gripping[i], covered))
        } else {
            airy
        };
        let pitch_speed = self.pitch_ratio * self.diameter_m * turns;
        let measured = self
            .correction
            .at(flow.advance_m_s, turns * self.diameter_m);
        PropellerLoad {
            shaft_rad_s,
            thrust_n: measured[0] * self.factors.thrust * thrust_n,
            torque_n_m: measured[1]
                * self.factors.torque
                * self.at_launch(flow, turns)
                * torque_n_m.max(0.0),
            vertical_n: self.vertical_n(&cut),
            side_n: self.factors.propeller_lift * cut.side_n,
            immersion: flow.immersion,
            slip: if pitch_speed > 0.0 {
                1.0 - flow.advance_m_s / pitch_speed
            } else {
                0.0
            },
        }
    }

    /// Thrust, N, and torque, N m, that cavitating blades keep at most.
    fn most(&self, flow: &Flow, density: f64, turns: f64) -> [f64; 2] {
        let turning = 0.7 * std::f64::consts::PI * turns * self.diameter_m;
        let square = flow.advance_m_s.powi(2) + turning * turning;
        self.breakdown.most(square, HEAD_PA, density)
    }

    /// Thrust, N, and torque, N m, of the series, less what the near surface takes and no more than `most`.
    fn gripping(
        &self,
        flow: &Flow,
        density: f64,
        turns: f64,
        immersion: f64,
        most: [f64; 2],
    ) -> [f64; 2] {
        let (kt, kq) = self.series.at(turns, flow.advance_m_s / self.diameter_m);
        let scale = density * self.diameter_m.powi(4);
        let loss = surface_loss::left(2.0 * immersion - 1.0);
        let loaded = self.loaded(flow, turns);
        let kept = |ratio: f64| mix(1.0, ratio, loaded);
        [
            held_below(kept(loss.thrust_ratio) * scale * kt, most[0]),
            held_below(
                kept(loss.torque_ratio) * scale * self.diameter_m * kq,
                most[1],
            ),
        ]
    }

    /// One at standstill, falling to nothing where half the pitch is run.
    fn loaded(&self, flow: &Flow, turns: f64) -> f64 {
        let pitch_speed = self.pitch_ratio * self.diameter_m * turns;
        1.0 - step(0.0, LIGHT, flow.advance_m_s / pitch_speed.max(1e-6))
    }

    /// On torque at low advance: twice or half of it at a factor of one either way.
    fn at_launch(&self, flow: &Flow, turns: f64) -> f64 {
        2f64.powf(self.factors.launch_torque * self.loaded(flow, turns))
    }

    /// Blade elements over the wet arc.
    fn cut(&self, flow: &Flow, density: f64, shaft_rad_s: f64, immersion: f64) -> Load {
        self.surfaced.load(&Operating {
            density_kg_m3: density,
            diameter_m: self.diameter_m,
            speed_m_s: flow.advance_m_s,
            shaft_rad_s,
            immersion,
            upward_rad: flow.upward_rad,
            to_port_rad: flow.to_port_rad,
        })
    }

    fn vertical_n(&self, cut: &Load) -> f64 {
        // A braking propeller presses nothing up.
        let lift_n = self.lift_scale * cut.lift_n.max(0.0);
        self.factors.propeller_lift * (lift_n + cut.vertical_n - cut.lift_n)
    }
}

impl Element for Propeller {
    fn name(&self) -> &str {
        &self.name
    }

    fn wrench(&self, motion: &Motion, around: &Surroundings, controls: &Controls) -> Wrench {
        let shaft = controls.shaft_rad_s.get(self.drive).copied().unwrap_or(0.0);
        let load = self.load(motion, around, shaft);
        let across = self.up * load.vertical_n + self.port * load.side_n;
        let mut wrench = Wrench::at(&self.at_m, self.axis * load.thrust_n + across);
        // Clockwise from astern is positive about the forward axis; the boat gets the opposite.
        let turned = if self.right_handed { -1.0 } else { 1.0 };
        wrench.moment_n_m += self.axis * (turned * load.torque_n_m);
        wrench
    }

    fn notes(&self, motion: &Motion, around: &Surroundings, _: &Controls) -> Vec<String> {
        let mut notes = Vec::new();
        if !(0.5..=1.4).contains(&self.pitch_ratio) {
            notes.push(format!(
                "{}: pitch ratio {:.2} is outside the series' 0.5 to 1.4",
                self.name, self.pitch_ratio
            ));
        }
        if self.immersion(motion, around) < 1.0 {
            notes.push(format!(
                "{}: partly out of the water, thrust within 25 %, lift within 50 %",
                self.name
            ));
        }
        notes
    }
}
