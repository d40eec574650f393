//! A propeller, wholly or partly in the water.
//!
//! Thrust and torque follow the Wageningen B series (`laws::open_water`), put as
//! `T = rho D^4 (a n^2 + b n V/D + c V^2/D^2)` so that it stays finite at any shaft speed; the same
//! for torque with `D^5`. The quadratics are fitted once from standstill to just past zero thrust,
//! which the thrust curve passes exactly.
//!
//! Partial immersion: both are taken in proportion to the immersed part of the disc
//! (`laws::immersed_disc`), times the share a ventilated blade keeps: half with the disc cut by the
//! surface (Tulin's ventilated section has a quarter of the wetted lift slope, blades working in
//! each other's wake lose less; our judgement), the whole once the surface is half a diameter above
//! the tips. Carries the spread of `Factors::thrust` and `Factors::torque` for it.
//!
//! The vertical force is `lift_fraction` of thrust at half immersion and falls to nothing with the
//! disc out or covered. Torque turns the boat the other way.

use std::sync::Arc;

use boat::Propeller as Given;
use laws::immersed_disc::immersed_disc;
use laws::open_water;
use laws::smooth::step;
use nalgebra::{Matrix3, Vector3};

use super::buoyancy::broken_away;
use super::surface::Surface;
use crate::drive::PropellerLoad;
use crate::element::{Element, Wrench};
use crate::factors::Factors;
use crate::motion::{Controls, Motion, Surroundings};

/// One propeller.
#[derive(Debug, Clone)]
pub struct Propeller {
    name: String,
    /// Which drive turns it.
    pub drive: usize,
    at_m: Vector3<f64>,
    diameter_m: f64,
    pitch_ratio: f64,
    /// Direction of thrust, boat axes.
    axis: Vector3<f64>,
    right_handed: bool,
    lift_fraction: f64,
    thrust: [f64; 3],
    torque: [f64; 3],
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
        let given = &drive.propeller;
        let curves = Curves::of(given)?;
        let (sin, cos) = drive.shaft.angle_rad.value.sin_cos();
        let toe = drive.shaft.toe_rad.value;
        Ok(Self {
            name: if drive.name.is_empty() {
                "propeller".to_owned()
            } else {
                format!("{} propeller", drive.name)
            },
            drive: index,
            at_m: Vector3::new(given.at[0].value, given.at[1].value, given.at[2].value),
            diameter_m: given.diameter_m.value,
            pitch_ratio: given.pitch_ratio.value,
            axis: Vector3::new(cos * toe.cos(), -cos * toe.sin(), sin),
            right_handed: given.right_handed,
            lift_fraction: given.lift_fraction.value * factors.propeller_lift,
            thrust: curves.thrust.map(|c| c * factors.thrust),
            torque: curves.torque.map(|c| c * factors.torque),
            surfaces,
            factors,
        })
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

    /// Depth of the disc's lowest point over its diameter; above 1 the disc is covered.
    pub fn immersion(&self, motion: &Motion, around: &Surroundings) -> f64 {
        let depth = around.depth_m(motion, &self.at_m) - self.trough_m(motion, around);
        0.5 + depth / self.diameter_m
    }

    /// Thrust and torque at a shaft speed.
    pub fn load(&self, motion: &Motion, around: &Surroundings, shaft_rad_s: f64) -> PropellerLoad {
        self.load_in(&self.flow(motion, around), around, shaft_rad_s)
    }

    /// The flow at the disc, which does not depend on shaft speed.
    pub fn flow(&self, motion: &Motion, around: &Surroundings) -> Flow {
        let immersion = self.immersion(motion, around);
        let advance = around
            .through_water(motion, &self.at_m)
            .dot(&self.axis)
            .max(0.0);
        Flow {
            immersion,
            advance_m_s: advance,
            share: working_share(immersion),
        }
    }

    /// Thrust and torque in a known flow.
    pub fn load_in(&self, flow: &Flow, around: &Surroundings, shaft_rad_s: f64) -> PropellerLoad {
        let turns = shaft_rad_s / std::f64::consts::TAU;
        let relative = flow.advance_m_s / self.diameter_m;
        let scale = around.water_density_kg_m3 * self.diameter_m.powi(4) * flow.share;
        let square = |c: &[f64; 3]| {
            c[0] * turns * turns + c[1] * turns * relative + c[2] * relative * relative
        };
        let pitch_speed = self.pitch_ratio * self.diameter_m * turns;
        PropellerLoad {
            shaft_rad_s,
            thrust_n: scale * square(&self.thrust),
            torque_n_m: (scale * self.diameter_m * square(&self.torque)).max(0.0),
            immersion: flow.immersion,
            slip: if pitch_speed > 0.0 {
                1.0 - flow.advance_m_s / pitch_speed
            } else {
                0.0
            },
        }
    }

    /// How far the water at the disc lies below the undisturbed surface because a running surface
    /// ahead has pressed it down. The hollow closes as a body of water falls to its own depth:
    /// `exp(-t / sqrt(2 d / g))`, an estimate without a source.
    fn trough_m(&self, motion: &Motion, around: &Surroundings) -> f64 {
        let radius = 0.5 * self.diameter_m;
        let mut deepest: f64 = 0.0;
        for surface in self.surfaces.iter() {
            let keel = surface.keel_m[0];
            let behind_m = keel.x - self.at_m.x;
            let (port, starboard) = (surface.port[0], surface.starboard[0]);
            let left = keel.y + port.width_m;
            let right = keel.y - starboard.width_m;
            let covered = (left.min(self.at_m.y + radius) - right.max(self.at_m.y - radius))
                / self.diameter_m;
            if behind_m < 0.0 || covered <= 0.0 {
                continue;
            }
            let depth = around.depth_m(motion, &keel);
            let rise = 0.5 * radius * (port.deadrise_rad.max(starboard.deadrise_rad)).tan();
            let hollow = (depth - rise).max(0.0);
            if hollow <= 0.0 {
                continue;
            }
            let g = around.gravity_m_s2;
            let speed = around.through_water(motion, &keel).x.max(0.1);
            let fall_s = (2.0 * hollow / g).sqrt();
            let kept = (-behind_m / (speed * fall_s)).exp() * broken_away(speed, hollow, g);
            deepest = deepest.max(hollow * kept * covered.min(1.0));
        }
        deepest
    }
}

/// Water arriving at the disc.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flow {
    /// Depth of the lowest point over the diameter.
    pub immersion: f64,
    /// Speed along the shaft, m/s.
    pub advance_m_s: f64,
    /// Part of the wetted propeller's thrust and torque that is left.
    pub share: f64,
}

/// Immersed part of the disc times what a ventilated blade keeps.
fn working_share(immersion: f64) -> f64 {
    let area = immersed_disc(immersion.clamp(0.0, 1.0)).map_or(0.0, |d| d.area_ratio);
    area * (0.5 + 0.5 * step(1.0, 1.5, immersion))
}

/// 1 with half the disc in, 0 with it out or covered.
fn lopsided(immersion: f64) -> f64 {
    let i = immersion.clamp(0.0, 1.0);
    4.0 * i * (1.0 - i)
}

impl Element for Propeller {
    fn name(&self) -> &str {
        &self.name
    }

    fn wrench(&self, motion: &Motion, around: &Surroundings, controls: &Controls) -> Wrench {
        let shaft = controls.shaft_rad_s.get(self.drive).copied().unwrap_or(0.0);
        let load = self.load(motion, around, shaft);
        // Square to the shaft, in the boat's upright plane.
        let lift_axis = Vector3::new(-self.axis.z, 0.0, self.axis.x);
        let lift = self.lift_fraction * lopsided(load.immersion) * load.thrust_n.max(0.0);
        let mut wrench = Wrench::at(&self.at_m, self.axis * load.thrust_n + lift_axis * lift);
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
                "{}: partly out of the water, thrust within 25 %",
                self.name
            ));
        }
        notes
    }
}

/// Quadratics in advance ratio for thrust and torque coefficients.
struct Curves {
    thrust: [f64; 3],
    torque: [f64; 3],
}

impl Curves {
    fn of(given: &Given) -> Result<Self, laws::input::InputError> {
        let series = open_water::Propeller {
            blades: f64::from(given.blades),
            area_ratio: given.area_ratio.value,
            pitch_ratio: given.pitch_ratio.value,
        };
        open_water::open_water(&series, 0.0)?;
        let curves = open_water::Curves::new(&series);
        let end = curves.zero_thrust_advance();
        let points: Vec<(f64, f64, f64)> = (0..=40)
            .map(|i| {
                let advance = end * f64::from(i) / 40.0;
                let found = curves.at(advance);
                (advance, found.kt, found.kq)
            })
            .collect();
        Ok(Self {
            thrust: thrust_fit(&points, end),
            torque: quadratic(points.iter().map(|p| (p.0, p.2))),
        })
    }
}

/// Least squares through zero at `end`: `K_T = (end - J)(p + q J)`.
fn thrust_fit(points: &[(f64, f64, f64)], end: f64) -> [f64; 3] {
    let (mut a, mut b, mut c, mut d, mut e) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for &(j, kt, _) in points {
        let (u, v) = (end - j, (end - j) * j);
        a += u * u;
        b += u * v;
        c += v * v;
        d += u * kt;
        e += v * kt;
    }
    let det = a * c - b * b;
    let (p, q) = ((d * c - e * b) / det, (a * e - b * d) / det);
    [p * end, q * end - p, -q]
}

fn quadratic(points: impl Iterator<Item = (f64, f64)>) -> [f64; 3] {
    let (mut normal, mut right) = (Matrix3::zeros(), Vector3::zeros());
    for (j, k) in points {
        let row = Vector3::new(1.0, j, j * j);
        normal += row * row.transpose();
        right += row * k;
    }
    let solved = normal
        .try_inverse()
        .map_or(Vector3::zeros(), |inverse| inverse * right);
    [solved.x, solved.y, solved.z]
}
