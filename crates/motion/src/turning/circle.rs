//! One steady circle: unknowns, residual and the Newton that finds it.
//!
//! Held are a rudder angle and either the speed or the throttle; unknown are rise, trim, heel, drift,
//! yaw rate, shaft speed and speed. In the circle the water and air must give the force towards its
//! centre and the moment that keeps the boat's inertia turning about a leaning axis
//! (`omega x I omega`). Straight running is the circle without yaw rate, and there the rudder angle is
//! unknown instead: what it takes to hold the course.

use craft::attitude::{at_height, rotation};
use craft::element::Wrench;
use craft::motion::{Controls, Motion};
use craft::{Attitude, Craft};
use laws::numerics::newton::Newton;
use laws::numerics::roots::{outward, root};
use nalgebra::{SMatrix, SVector, Vector3};

use crate::run::Sample;

type Unknowns = SVector<f64, 7>;
type Slopes = SMatrix<f64, 7, 7>;

const ITERATIONS: usize = 14;
const SKIMMING_ITERATIONS: usize = 14;
/// Shares of weight, and of weight times length.
const TOLERANCE: f64 = 2e-4;
/// Differences taken for slopes, in the order of the unknowns.
const NUDGE: [f64; 7] = [1e-5, 2e-5, 5e-5, 2e-5, 1e-4, 1e-4, 1e-4];
/// Longest steps in rise (m), trim, heel and drift (rad), yaw rate (over g/V) or rudder (rad), shaft
/// speed and speed (shares).
const REACH: [f64; 7] = [0.006, 0.02, 0.05, 0.04, 0.15, 0.1, 0.1];
const SETTLE: Newton<7> = Newton {
    nudge: NUDGE,
    reach: REACH,
    tolerance: TOLERANCE,
    iterations: ITERATIONS,
    slow: 0.3,
};
/// Beyond these angles it is no longer a turn but a spill, rad.
const MOST_HEEL: f64 = 1.0;
const MOST_DRIFT: f64 = 0.9;

/// A boat going round steadily.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Circle {
    /// Of the centre of gravity, m/s.
    pub speed_m_s: f64,
    /// Against still water.
    pub attitude: Attitude,
    /// Course to port of the bow, rad: positive slides to port.
    pub drift_rad: f64,
    /// Positive turns to port, rad/s.
    pub yaw_rate_rad_s: f64,
    /// The first propeller, the others at its throttle, rad/s.
    pub shaft_rad_s: f64,
    /// Trailing edge to port positive (turns to port), rad.
    pub rudder_rad: f64,
}

/// A boat that can be asked to go round.
#[derive(Clone, Copy)]
pub struct Turner<'a> {
    /// Its elements.
    pub craft: &'a Craft,
}

/// What is held while the rest settles.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Held {
    /// No yaw rate at this speed; the rudder settles.
    Course {
        /// m/s.
        speed_m_s: f64,
    },
    /// A rudder angle and the speed; the throttle is whatever it takes.
    Speed {
        /// rad.
        rudder_rad: f64,
        /// m/s.
        speed_m_s: f64,
    },
    /// A rudder angle and the throttle; the boat loses what speed it loses.
    Throttle {
        /// rad.
        rudder_rad: f64,
        /// 0 to 1.
        throttle: f64,
    },
}

impl Circle {
    /// A moment of a run in time.
    pub(super) fn of(s: &Sample, cg_m: &Vector3<f64>) -> Self {
        Self {
            speed_m_s: s.speed_m_s,
            attitude: at_height(cg_m, s.place_m[2], s.trim_rad, s.heel_rad),
            drift_rad: -s.slip_rad,
            yaw_rate_rad_s: s.yaw_rate_rad_s,
            shaft_rad_s: s.shaft_rad_s,
            rudder_rad: s.rudder_rad,
        }
    }

    /// As a rigid-body state.
    pub fn motion(&self, cg_m: &Vector3<f64>) -> Motion {
        let a = &self.attitude;
        let attitude = rotation(0.0, a.trim_rad, a.heel_rad);
        let (sin, cos) = self.drift_rad.sin_cos();
        let course = Vector3::new(cos, sin, 0.0) * self.speed_m_s;
        let rate = attitude.inverse_transform_vector(&(Vector3::z() * self.yaw_rate_rad_s));
        Motion {
            position_m: Vector3::new(0.0, 0.0, a.rise_m),
            attitude,
            velocity_m_s: attitude.inverse_transform_vector(&course) - rate.cross(cg_m),
            rate_rad_s: rate,
            time_s: 0.0,
        }
    }

    /// Metres to the centre; infinite when straight.
    pub fn radius_m(&self) -> f64 {
        self.speed_m_s / self.yaw_rate_rad_s.abs()
    }

    /// Towards the centre, in g.
    pub fn lateral_g(&self) -> f64 {
        self.speed_m_s * self.yaw_rate_rad_s.abs() / craft::craft::GRAVITY_M_S2
    }
}

impl Turner<'_> {
    /// Controls in a circle.
    pub fn controls(&self, circle: &Circle) -> Controls {
        let mut controls = self.craft.controls();
        self.craft
            .turn(&mut controls, circle.shaft_rad_s, circle.speed_m_s);
        controls.rudder_rad = circle.rudder_rad;
        controls
    }

    /// The hardest-working drive's throttle.
    pub fn throttle(&self, circle: &Circle) -> f64 {
        let motion = circle.motion(&self.craft.cg_m());
        self.craft.throttle(&motion, circle.shaft_rad_s)
    }

    /// Everything that acts on the boat.
    pub fn wrench(&self, circle: &Circle) -> Wrench {
        let motion = circle.motion(&self.craft.cg_m());
        self.craft.total(&motion, &self.controls(circle))
    }

    /// The steady circle nearest to `start`.
    pub fn settle(&self, start: &Circle, held: Held) -> Option<Circle> {
        let mut left = |x: &Unknowns| {
            let circle = self.circle(x, held);
            let spilled = circle.attitude.heel_rad.abs() > MOST_HEEL
                || circle.attitude.trim_rad.abs() > MOST_HEEL
                || circle.drift_rad.abs() > MOST_DRIFT
                || circle.speed_m_s <= 0.1;
            match spilled {
                true => Unknowns::repeat(f64::NAN),
                false => self.residual(&circle, held),
            }
        };
        let found = SETTLE.solve(&mut left, self.vector(start, held), &mut None)?;
        Some(self.circle(&found.x, held))
    }

    /// Newton with the height found afresh for every try, by bracketing: slower, but it does not bounce
    /// where a flat surface skims the water, whose lift grows like the root of its depth.
    pub fn settle_skimming(&self, start: &Circle, held: Held) -> Option<Circle> {
        let mut here = self.at_height(self.vector(start, held), held)?;
        for _ in 0..SKIMMING_ITERATIONS {
            if here.1.amax() < TOLERANCE {
                return Some(self.circle(&here.0, held));
            }
            let mut slopes = Slopes::identity();
            for (column, h) in NUDGE.into_iter().enumerate().skip(1) {
                let mut moved = here.0;
                moved[column] += h;
                let there = self.at_height(moved, held)?;
                slopes.set_column(column, &((there.1 - here.1) / h));
            }
            let step = limited(-slopes.lu().solve(&here.1)?);
            let mut share = 1.0;
            here = loop {
                let tried = self.at_height(here.0 + step * share, held);
                match tried {
                    Some(there) if there.1.norm() < here.1.norm() => break there,
                    _ if share < 0.02 => return None,
                    _ => share *= 0.5,
                }
            };
        }
        None
    }

    /// The unknowns with the height at which nothing is left over in heave, and what else is left.
    fn at_height(&self, x: Unknowns, held: Held) -> Option<(Unknowns, Unknowns)> {
        let at = |rise_m: f64| {
            let mut moved = x;
            moved[0] = rise_m;
            (moved, self.residual(&self.circle(&moved, held), held))
        };
        let mut lift = |rise_m: f64| at(rise_m).1[0];
        let first = 2e-4_f64.copysign(lift(x[0]));
        let bracket = outward(&mut lift, x[0], first, 1.7, 0.1)?;
        let height = root(lift, bracket, 1e-12)?;
        let (found, mut left) = at(height);
        left[0] = 0.0;
        Some((found, left))
    }

    /// Yaw rate is counted in g over speed, so that it is the lateral acceleration.
    fn vector(&self, c: &Circle, held: Held) -> Unknowns {
        let turned = match held {
            Held::Course { .. } => c.rudder_rad,
            _ => c.yaw_rate_rad_s * c.speed_m_s / craft::craft::GRAVITY_M_S2,
        };
        let speed = match held {
            Held::Course { speed_m_s } | Held::Speed { speed_m_s, .. } => speed_m_s,
            Held::Throttle { .. } => c.speed_m_s,
        };
        let a = &c.attitude;
        let shaft = c.shaft_rad_s / self.craft.shaft_scale_rad_s();
        Unknowns::from([
            a.rise_m,
            a.trim_rad,
            a.heel_rad,
            c.drift_rad,
            turned,
            shaft,
            speed / self.speed_scale(),
        ])
    }

    fn speed_scale(&self) -> f64 {
        self.craft.pitch_speed_m_s()
    }

    fn circle(&self, x: &Unknowns, held: Held) -> Circle {
        let speed_m_s = (x[6] * self.speed_scale()).max(0.05);
        let (yaw_rate_rad_s, rudder_rad) = match held {
            Held::Course { .. } => (0.0, x[4]),
            Held::Speed { rudder_rad, .. } | Held::Throttle { rudder_rad, .. } => {
                (x[4] * craft::craft::GRAVITY_M_S2 / speed_m_s, rudder_rad)
            }
        };
        Circle {
            speed_m_s,
            attitude: Attitude {
                rise_m: x[0],
                trim_rad: x[1],
                heel_rad: x[2],
            },
            drift_rad: x[3],
            yaw_rate_rad_s,
            shaft_rad_s: x[5].max(0.0) * self.craft.shaft_scale_rad_s(),
            rudder_rad,
        }
    }

    /// Left-over forces over weight, moments over weight times length, and what is held.
    fn residual(&self, circle: &Circle, held: Held) -> Unknowns {
        let motion = circle.motion(&self.craft.cg_m());
        let total = self.craft.total(&motion, &self.controls(circle));
        let (force, moment) = self.left_over(&motion, &total, circle);
        let kept = match held {
            Held::Course { speed_m_s } | Held::Speed { speed_m_s, .. } => {
                (circle.speed_m_s - speed_m_s) / self.speed_scale()
            }
            Held::Throttle { throttle, .. } => self.throttle(circle) - throttle,
        };
        Unknowns::from([
            force.z, moment.y, moment.x, force.y, moment.z, force.x, kept,
        ])
    }

    fn left_over(
        &self,
        motion: &Motion,
        total: &Wrench,
        circle: &Circle,
    ) -> (Vector3<f64>, Vector3<f64>) {
        let weight = self.craft.weight_n();
        let (sin, cos) = circle.drift_rad.sin_cos();
        let inward = Vector3::new(-sin, cos, 0.0)
            * (circle.yaw_rate_rad_s * circle.speed_m_s / craft::craft::GRAVITY_M_S2);
        let force = motion.attitude * total.force_n / weight - inward;
        let rate = &motion.rate_rad_s;
        let spin = rate.cross(&(self.craft.inertia_kg_m2() * rate));
        let moment = total.moment_n_m - self.craft.cg_m().cross(&total.force_n) - spin;
        (force, moment / (weight * self.craft.length_m()))
    }
}

fn limited(step: Unknowns) -> Unknowns {
    let over = step
        .iter()
        .zip(REACH)
        .map(|(s, r)| s.abs() / r)
        .fold(1.0, f64::max);
    step / over
}
