//! Straight running at one speed: the attitude and shaft speed at which nothing is left over.
//!
//! Unknown are rise, trim, heel and the propellers' common shaft speed; sway and yaw are held (a
//! driver steers, and the rudder's side force rolls the boat). Newton with a differenced Jacobian, steps held short, and the residual must
//! fall to a ten-thousandth of the boat's weight.

use nalgebra::{Matrix2, Matrix4, Vector2, Vector3, Vector4};

use crate::attitude::rotation;
use crate::craft::Craft;
use crate::element::Wrench;
use crate::motion::{Controls, Motion};
use crate::solution::Attitude;

/// Attitude and shaft speed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Running {
    /// m/s.
    pub speed_m_s: f64,
    /// Against still water.
    pub attitude: Attitude,
    /// Every propeller, rad/s.
    pub shaft_rad_s: f64,
}

const ITERATIONS: usize = 30;
/// A step that leaves more than this share of the residual asks for fresh slopes.
const SLOW: f64 = 0.3;
const DAMPED_ITERATIONS: usize = 25;
const SETTLING: usize = 14;
const TOLERANCE: f64 = 1e-4;
/// Longest step in rise (m), trim and heel (rad), and shaft speed (share of the scale).
const REACH: [f64; 4] = [0.006, 0.02, 0.05, 0.15];

/// Differences taken for slopes, in the same order.
const NUDGE: [f64; 4] = [1e-5, 2e-5, 5e-5, 1e-4];

impl Running {
    /// As a rigid-body state, running straight ahead.
    pub fn motion(&self) -> Motion {
        let a = &self.attitude;
        let attitude = rotation(0.0, a.trim_rad, a.heel_rad);
        Motion {
            position_m: Vector3::new(0.0, 0.0, a.rise_m),
            attitude,
            velocity_m_s: attitude.inverse_transform_vector(&Vector3::new(
                self.speed_m_s,
                0.0,
                0.0,
            )),
            rate_rad_s: Vector3::zeros(),
            time_s: 0.0,
        }
    }

    fn vector(&self, shaft_scale: f64) -> Vector4<f64> {
        let a = &self.attitude;
        Vector4::new(
            a.rise_m,
            a.trim_rad,
            a.heel_rad,
            self.shaft_rad_s / shaft_scale,
        )
    }

    fn with(&self, x: &Vector4<f64>, shaft_scale: f64) -> Self {
        Self {
            speed_m_s: self.speed_m_s,
            attitude: Attitude {
                rise_m: x[0],
                trim_rad: x[1],
                heel_rad: x[2],
            },
            shaft_rad_s: x[3] * shaft_scale,
        }
    }
}

impl Craft {
    /// The running state nearest to `start`, or `None` when Newton does not settle.
    pub fn balance(&self, start: &Running) -> Option<Running> {
        self.balance_with(start, &mut None)
    }

    /// Damped least squares (Levenberg and Marquardt): slower than Newton, but it does not bounce
    /// where a surface meets and leaves the water within a fraction of a millimetre.
    pub(crate) fn balance_damped(&self, start: &Running) -> Option<Running> {
        let scale = self.shaft_scale_rad_s();
        let mut controls = self.controls();
        let mut x = start.vector(scale);
        let mut residual = self.residual(&start.with(&x, scale), &mut controls);
        let mut damping = 1e-2;
        for _ in 0..DAMPED_ITERATIONS {
            if residual.amax() < TOLERANCE {
                return Some(start.with(&x, scale));
            }
            let jacobian = self.jacobian(&start.with(&x, scale), &residual, &mut controls);
            let normal = jacobian.transpose() * jacobian;
            let right = jacobian.transpose() * residual;
            let mut stuck = true;
            for _ in 0..8 {
                let damped = normal + Matrix4::from_diagonal(&(normal.diagonal() * damping));
                let step = limited(-damped.lu().solve(&right)?);
                let mut tried = x + step;
                tried[3] = tried[3].max(0.0);
                let there = self.residual(&start.with(&tried, scale), &mut controls);
                if there.norm() < residual.norm() {
                    (x, residual) = (tried, there);
                    damping = (0.2 * damping).max(1e-8);
                    stuck = false;
                    break;
                }
                damping *= 6.0;
            }
            if stuck || x[1].abs() > 1.4 || x[2].abs() > 1.4 {
                return None;
            }
        }
        None
    }

    /// As [`Craft::balance`], starting with the slopes of a neighbouring state, which often serve
    /// unchanged; leaves the last slopes used behind.
    pub(crate) fn balance_with(
        &self,
        start: &Running,
        slopes: &mut Option<Matrix4<f64>>,
    ) -> Option<Running> {
        let scale = self.shaft_scale_rad_s();
        let mut x = start.vector(scale);
        let mut controls = self.controls();
        let mut residual = self.residual(&start.with(&x, scale), &mut controls);
        let mut reused = slopes.is_some();
        for _ in 0..ITERATIONS {
            if residual.amax() < TOLERANCE {
                return Some(start.with(&x, scale));
            }
            let jacobian = *slopes.get_or_insert_with(|| {
                self.jacobian(&start.with(&x, scale), &residual, &mut controls)
            });
            let step = limited(jacobian.lu().solve(&-residual)?);
            let next = self.shortened(start, &x, &step, &residual, &mut controls)?;
            let slow = next.1.norm() > SLOW * residual.norm();
            if slow && reused {
                // Borrowed slopes did not serve: take our own from where we are.
                *slopes = None;
                reused = false;
                continue;
            }
            (x, residual) = next;
            if slow {
                *slopes = None;
            }
        }
        None
    }

    /// Whether small changes of heave and pitch are pushed back.
    pub fn pushes_back(&self, running: &Running) -> bool {
        let mut controls = self.controls();
        let residual = self.residual(running, &mut controls);
        heave_pitch_stable(&self.jacobian(running, &residual, &mut controls))
    }

    /// Heave and shaft speed settled with trim and heel held: the state and the pitch moment left
    /// over it (bow up positive, over weight times length). `slopes` carries the last slopes used
    /// from one call to the next.
    pub(crate) fn settle_at_trim(
        &self,
        start: &Running,
        slopes: &mut Option<Matrix2<f64>>,
    ) -> Option<(Running, f64)> {
        let scale = self.shaft_scale_rad_s();
        let mut controls = self.controls();
        let mut x = start.vector(scale);
        let mut before = f64::INFINITY;
        for _ in 0..SETTLING {
            let here = start.with(&x, scale);
            let residual = self.residual(&here, &mut controls);
            let left = residual[0].hypot(residual[3]);
            if left < 10.0 * TOLERANCE {
                return Some((here, residual[1]));
            }
            if left > SLOW * before {
                *slopes = None;
            }
            before = left;
            let jacobian = *slopes.get_or_insert_with(|| {
                self.heave_and_shaft_slopes(start, &x, &residual, &mut controls)
            });
            let step = jacobian
                .lu()
                .solve(&-Vector2::new(residual[0], residual[3]))?;
            x[0] += step[0].clamp(-REACH[0], REACH[0]);
            x[3] = (x[3] + step[1].clamp(-REACH[3], REACH[3])).max(0.0);
        }
        *slopes = None;
        None
    }

    fn heave_and_shaft_slopes(
        &self,
        start: &Running,
        x: &Vector4<f64>,
        residual: &Vector4<f64>,
        controls: &mut Controls,
    ) -> Matrix2<f64> {
        let scale = self.shaft_scale_rad_s();
        let mut column = |index: usize| {
            let mut moved = *x;
            moved[index] += NUDGE[index];
            let there = self.residual(&start.with(&moved, scale), controls);
            Vector2::new(there[0] - residual[0], there[3] - residual[3]) / NUDGE[index]
        };
        Matrix2::from_columns(&[column(0), column(3)])
    }

    /// Takes the step, halved while it makes the residual much worse.
    fn shortened(
        &self,
        start: &Running,
        x: &Vector4<f64>,
        step: &Vector4<f64>,
        before: &Vector4<f64>,
        controls: &mut Controls,
    ) -> Option<(Vector4<f64>, Vector4<f64>)> {
        let scale = self.shaft_scale_rad_s();
        let mut share = 1.0;
        loop {
            let mut tried = x + step * share;
            tried[3] = tried[3].max(0.0);
            let residual = self.residual(&start.with(&tried, scale), controls);
            if residual.norm() < 1.2 * before.norm() + TOLERANCE || share < 0.1 {
                let sane = tried[1].abs() < 1.4 && tried[2].abs() < 1.4;
                return (sane && residual.iter().all(|r| r.is_finite()))
                    .then_some((tried, residual));
            }
            share *= 0.5;
        }
    }

    /// Left-over vertical force, pitch and roll moment and forward force over weight (and length).
    fn residual(&self, running: &Running, controls: &mut Controls) -> Vector4<f64> {
        controls.shaft_rad_s.fill(running.shaft_rad_s);
        let motion = running.motion();
        let total = self.total(&motion, controls);
        self.scaled(&motion, &total)
    }

    /// In world directions about the centre of gravity, as shares of weight.
    fn scaled(&self, motion: &Motion, total: &Wrench) -> Vector4<f64> {
        let weight = self.weight_n();
        let force = motion.attitude * total.force_n / weight;
        let mut moment = total.moment_n_m - self.cg_m().cross(&total.force_n);
        moment.x += self.steering_roll_n_m(&moment);
        let size = weight * self.length_m();
        // Bow-up moment is negative about the axis to port.
        Vector4::new(force.z, -moment.y / size, moment.x / size, force.x)
    }

    /// Roll from the rudder's side force that holds the course against the boat's yaw: what a
    /// propeller that walks the stern sideways does to the roll, the rudder beside it undoes.
    fn steering_roll_n_m(&self, moment: &Vector3<f64>) -> f64 {
        let Some(at) = self.steered_at_m() else {
            return 0.0;
        };
        let arm = at - self.cg_m();
        let side_n = -moment.z / arm.x;
        -arm.z * side_n
    }

    fn jacobian(
        &self,
        at: &Running,
        residual: &Vector4<f64>,
        controls: &mut Controls,
    ) -> Matrix4<f64> {
        let scale = self.shaft_scale_rad_s();
        let x = at.vector(scale);
        let mut jacobian = Matrix4::zeros();
        for (column, h) in NUDGE.into_iter().enumerate() {
            let mut moved = x;
            moved[column] += h;
            let there = self.residual(&at.with(&moved, scale), controls);
            jacobian.set_column(column, &((there - residual) / h));
        }
        jacobian
    }
}

/// Sinking pushes up, and trimming with heave free to settle pushes back.
fn heave_pitch_stable(jacobian: &Matrix4<f64>) -> bool {
    let (heave, pitch) = (jacobian[(0, 0)], jacobian[(1, 1)]);
    let det = heave * pitch - jacobian[(0, 1)] * jacobian[(1, 0)];
    heave < 0.0 && det > 0.0
}

fn limited(step: Vector4<f64>) -> Vector4<f64> {
    let over = step
        .iter()
        .zip(REACH)
        .map(|(s, r)| s.abs() / r)
        .fold(1.0, f64::max);
    step / over
}
