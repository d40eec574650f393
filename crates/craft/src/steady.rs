//! Straight running: the attitude, shaft speed and speed at which nothing is left over.
//!
//! Unknown are rise, trim, heel, the propellers' common shaft speed, speed, and drift; yaw is held: a driver
//! steers, and the rudder's side force rolls the boat and drags (`course`). Left over must be nothing in heave, pitch,
//! roll, surge and sway: five equations for six unknowns, so what balances is a line through them, followed by `branch`.
//! One more `Condition` picks a place on it: a speed, a throttle, or a plane across it.
//!
//! Sway that rudder, fins and hull leave over makes the boat drift, its bow off its course. Where little holds it
//! sideways, slowly or without a fin, it would drift far; no driver holds it there for long, and the drift is held back
//! (judgement).
//!
//! Unknowns are counted in units in which a boat's way from rest to top speed is some twenty long: see `Place`.

use laws::numerics::newton::Newton;
use nalgebra::{SMatrix, SVector, Vector2, Vector3};

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
    /// The first propeller, the others at its throttle ([`Craft::shafts_rad_s`]), rad/s.
    pub shaft_rad_s: f64,
    /// Course to port of the bow, rad: positive slides to port.
    pub drift_rad: f64,
}

/// Rise, trim, heel, shaft speed, speed and drift, each in its unit.
pub(crate) type Place = SVector<f64, UNKNOWNS>;
const UNKNOWNS: usize = 6;
/// The same without speed.
type AtSpeed = SVector<f64, LEFT>;
/// What is left over: heave, pitch, roll, surge, sway.
type LeftOver = SVector<f64, LEFT>;
const LEFT: usize = 5;
/// Of what is left over, by unknown.
pub(crate) type Slopes = SMatrix<f64, LEFT, UNKNOWNS>;
/// The same at a held speed.
pub(crate) type AtSpeedSlopes = SMatrix<f64, LEFT, LEFT>;
/// With the row of a condition.
pub(crate) type Bordered = SMatrix<f64, UNKNOWNS, UNKNOWNS>;

/// Units of rise (m), trim and heel (rad).
const UNIT: [f64; 3] = [0.008, 0.026, 0.05];
/// Of drift, rad.
const DRIFT_UNIT_RAD: f64 = 0.2;
/// Holds back drift, of the weight a radian: at any speed...
const HELD_SWAY: f64 = 0.3;
/// ...rising with the square of drift to twice that at so much, rad (3 deg, more than a boat with a fin drifts)...
const HELD_FAR_RAD: f64 = 0.05;
/// ...and so much more at rest, which falls off above so many m/s.
const HELD_SLOW: (f64, f64) = (4.0, 6.0);
/// Units of shaft speed and speed, as shares of the unloaded shaft speed and of the speed that goes with it.
const UNIT_SHARE: f64 = 1.0 / 16.0;
/// What may be left over, as a share of weight (and length).
pub(crate) const TOLERANCE: f64 = 1e-5;
/// Differences taken for slopes.
const NUDGE: [f64; UNKNOWNS] = [1.25e-3, 7.7e-4, 1e-3, 1.6e-3, 1.6e-3, 1e-3];
/// Longest steps.
const REACH: [f64; UNKNOWNS] = [0.75, 0.77, 1.0, 2.4, 1.6, 0.5];
const ITERATIONS: usize = 24;
/// Along a line the tangent leads close: what does not settle soon is tried again from nearer by.
const FEW: usize = 9;
/// Past these it no longer runs, rad.
const SPILLED_RAD: f64 = 1.4;

/// At a speed.
const AT_SPEED: Newton<LEFT> = Newton {
    nudge: [NUDGE[0], NUDGE[1], NUDGE[2], NUDGE[3], NUDGE[5]],
    reach: [REACH[0], REACH[1], REACH[2], REACH[3], REACH[5]],
    tolerance: TOLERANCE,
    iterations: ITERATIONS,
    slow: 0.7,
};
/// The same on the way of a boat that is nearly a known one, of which nothing is told to the fourth digit.
const NEARLY: Newton<LEFT> = Newton {
    tolerance: 1e-4,
    ..AT_SPEED
};
/// At a throttle, or on a plane.
const FREE: Newton<UNKNOWNS> = Newton {
    nudge: NUDGE,
    reach: REACH,
    tolerance: TOLERANCE,
    iterations: FEW,
    slow: 0.3,
};
/// Heave and shaft speed alone.
const HELD: Newton<2> = Newton {
    nudge: [NUDGE[0], NUDGE[3]],
    reach: [REACH[0], REACH[3]],
    tolerance: 1e-3,
    iterations: 14,
    slow: 0.3,
};

/// What picks a place on the line of balance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Condition {
    /// The hardest-working drive's.
    Throttle(f64),
    /// Share of what carries the boat that comes from speed.
    Carried(f64),
    /// The plane `normal . x = at`.
    Plane { normal: Place, at: f64 },
}

impl Running {
    /// As a rigid-body state, going straight ahead with its bow off its course by the drift.
    pub fn motion(&self) -> Motion {
        let a = &self.attitude;
        let attitude = rotation(0.0, a.trim_rad, a.heel_rad);
        Motion {
            position_m: Vector3::new(0.0, 0.0, a.rise_m),
            attitude,
            velocity_m_s: attitude.inverse_transform_vector(&Vector3::new(
                self.speed_m_s * self.drift_rad.cos(),
                self.speed_m_s * self.drift_rad.sin(),
                0.0,
            )),
            rate_rad_s: Vector3::zeros(),
            time_s: 0.0,
        }
    }
}

impl Craft {
    /// Afloat with its propellers still.
    pub fn at_rest(&self) -> Running {
        Running {
            speed_m_s: 0.0,
            attitude: self.rest_attitude(),
            shaft_rad_s: 0.0,
            drift_rad: 0.0,
        }
    }

    /// The running state nearest to `start` at its speed, or `None` when none is found.
    pub fn balance(&self, start: &Running) -> Option<Running> {
        self.balance_with(start, &mut None)
            .or_else(|| self.balance_damped(start))
    }

    /// By Newton, starting with the slopes of a neighbouring state, which often serve; leaves the last ones behind.
    pub(crate) fn balance_with(
        &self,
        start: &Running,
        slopes: &mut Option<AtSpeedSlopes>,
    ) -> Option<Running> {
        self.balance_by(&AT_SPEED, start, slopes)
    }

    /// The same less closely, from slopes of the known boat.
    pub(crate) fn nearly_balance(
        &self,
        start: &Running,
        slopes: &mut Option<AtSpeedSlopes>,
    ) -> Option<Running> {
        self.balance_by(&NEARLY, start, slopes)
    }

    fn balance_by(
        &self,
        newton: &Newton<LEFT>,
        start: &Running,
        slopes: &mut Option<AtSpeedSlopes>,
    ) -> Option<Running> {
        let mut controls = self.controls();
        let x = self.place(start);
        let mut left = |free: &AtSpeed| self.left_over(&with_speed(free, x[4]), &mut controls);
        let found = newton.solve(&mut left, without_speed(&x), slopes)?;
        Some(self.running(&with_speed(&found.x, x[4])))
    }

    /// Slower, and does not bounce where a surface meets and leaves the water within a fraction of a millimetre.
    pub(crate) fn balance_damped(&self, start: &Running) -> Option<Running> {
        let mut controls = self.controls();
        let x = self.place(start);
        let mut left = |free: &AtSpeed| self.left_over(&with_speed(free, x[4]), &mut controls);
        let found = AT_SPEED.solve_damped(&mut left, without_speed(&x))?;
        Some(self.running(&with_speed(&found.x, x[4])))
    }

    /// The state near `start` that comes closest to balance at its speed, where no more than `share` of the weight is
    /// left over: where a force of the model steps, nothing balances quite.
    pub(crate) fn balance_closest(&self, start: &Running, share: f64) -> Option<Running> {
        let mut controls = self.controls();
        let x = self.place(start);
        let mut left = |free: &AtSpeed| self.left_over(&with_speed(free, x[4]), &mut controls);
        let found = AT_SPEED.closest_damped(&mut left, without_speed(&x))?;
        let close = found.residual.amax() < share;
        close.then(|| self.running(&with_speed(&found.x, x[4])))
    }

    /// The place nearest to `start` where nothing is left over and the condition holds; `slopes` of a neighbour serve
    /// to begin with. `patient` tries the slower way too.
    pub(crate) fn settle(
        &self,
        start: &Place,
        condition: &Condition,
        slopes: Option<&Slopes>,
        patient: bool,
    ) -> Option<Place> {
        let mut known = match (condition, slopes) {
            (Condition::Plane { normal, .. }, Some(slopes)) => Some(bordered(slopes, normal)),
            _ => None,
        };
        self.settle_with(start, condition, &mut known, patient)
    }

    /// The same with all six rows of slopes, the last ones of which are left behind for the next time.
    pub(crate) fn settle_with(
        &self,
        start: &Place,
        condition: &Condition,
        known: &mut Option<Bordered>,
        patient: bool,
    ) -> Option<Place> {
        let mut controls = self.controls();
        let mut left = |x: &Place| {
            let r = self.left_over(x, &mut controls);
            let missed = match condition {
                Condition::Throttle(wanted) => self.holding(&self.running(x)) - wanted,
                Condition::Carried(wanted) => self.dynamic_share(&self.running(x)) - wanted,
                Condition::Plane { normal, at } => normal.dot(x) - at,
            };
            Place::new(r[0], r[1], r[2], r[3], r[4], missed)
        };
        let found = FREE.solve(&mut left, *start, known);
        found
            .or_else(|| patient.then(|| FREE.solve_damped(&mut left, *start))?)
            .map(|f| f.x)
    }

    /// Slopes of what is left over at a place of balance.
    pub(crate) fn slopes(&self, x: &Place) -> Slopes {
        let mut controls = self.controls();
        let here = self.left_over(x, &mut controls);
        let mut slopes = Slopes::zeros();
        for (column, h) in NUDGE.into_iter().enumerate() {
            let mut moved = *x;
            moved[column] += h;
            slopes.set_column(
                column,
                &((self.left_over(&moved, &mut controls) - here) / h),
            );
        }
        slopes
    }

    /// Whether small changes of heave and pitch are pushed back.
    pub fn pushes_back(&self, running: &Running) -> bool {
        let mut controls = self.controls();
        let x = self.place(running);
        let here = self.left_over(&x, &mut controls);
        let mut column = |index: usize| {
            let mut moved = x;
            moved[index] += NUDGE[index];
            (self.left_over(&moved, &mut controls) - here) / NUDGE[index]
        };
        heave_pitch_stable(&column(0), &column(1))
    }

    /// Heave and shaft speed settled with trim and heel held: the state and the pitch moment left
    /// over it (bow up positive, over weight times length). `slopes` carries the last slopes used
    /// from one call to the next.
    pub(crate) fn settle_at_trim(
        &self,
        start: &Running,
        slopes: &mut Option<SMatrix<f64, 2, 2>>,
    ) -> Option<(Running, f64)> {
        let mut controls = self.controls();
        let x = self.place(start);
        let at = |free: &Vector2<f64>| Place::new(free[0], x[1], x[2], free[1], x[4], x[5]);
        let mut left = |free: &Vector2<f64>| {
            let r = self.left_over(&at(free), &mut controls);
            Vector2::new(r[0], r[3])
        };
        let found = HELD.solve(&mut left, Vector2::new(x[0], x[3]), slopes);
        let Some(found) = found else {
            *slopes = None;
            return None;
        };
        let settled = at(&found.x);
        let moment = self.left_over(&settled, &mut self.controls())[1];
        Some((self.running(&settled), moment))
    }

    pub(crate) fn place(&self, running: &Running) -> Place {
        let a = &running.attitude;
        Place::new(
            a.rise_m / UNIT[0],
            a.trim_rad / UNIT[1],
            a.heel_rad / UNIT[2],
            running.shaft_rad_s / self.shaft_unit_rad_s(),
            running.speed_m_s / self.speed_unit_m_s(),
            running.drift_rad / DRIFT_UNIT_RAD,
        )
    }

    pub(crate) fn running(&self, x: &Place) -> Running {
        Running {
            speed_m_s: x[4] * self.speed_unit_m_s(),
            attitude: Attitude {
                rise_m: x[0] * UNIT[0],
                trim_rad: x[1] * UNIT[1],
                heel_rad: x[2] * UNIT[2],
            },
            shaft_rad_s: x[3].max(0.0) * self.shaft_unit_rad_s(),
            drift_rad: x[5] * DRIFT_UNIT_RAD,
        }
    }

    fn shaft_unit_rad_s(&self) -> f64 {
        UNIT_SHARE * self.shaft_scale_rad_s()
    }

    pub(crate) fn speed_unit_m_s(&self) -> f64 {
        UNIT_SHARE * self.pitch_speed_m_s()
    }

    /// Left-over vertical force, pitch and roll moment, forward and side force over weight (and length); no numbers
    /// where it no longer runs.
    pub(crate) fn left_over(&self, x: &Place, controls: &mut Controls) -> LeftOver {
        let running = self.running(x);
        let a = &running.attitude;
        let runs = a.trim_rad.abs() < SPILLED_RAD
            && a.heel_rad.abs() < SPILLED_RAD
            && running.drift_rad.abs() < SPILLED_RAD
            && running.speed_m_s >= 0.0;
        if !runs {
            return LeftOver::repeat(f64::NAN);
        }
        self.turn(controls, running.shaft_rad_s, running.speed_m_s);
        let (motion, around) = (running.motion(), self.surroundings());
        controls.rudder_rad = 0.0;
        let total = self.total_in(&motion, &around, controls);
        let held = self.hold_course(&motion, &around, controls, &total);
        self.scaled(&running, &motion, &held, &total)
    }

    /// In world directions about the centre of gravity, as shares of weight: of all forces with the course held, and the
    /// roll and sway with the rudders `amidships` and what holding the course adds to them.
    fn scaled(
        &self,
        running: &Running,
        motion: &Motion,
        held: &Wrench,
        amidships: &Wrench,
    ) -> LeftOver {
        let weight = self.weight_n();
        let force = motion.attitude * held.force_n / weight;
        let about = |w: &Wrench| w.moment_n_m - self.cg_m().cross(&w.force_n);
        let still = about(amidships);
        let (side_n, roll) = self.steering_n(&still);
        let size = weight * self.length_m();
        let (slow, slow_m_s) = HELD_SLOW;
        let held_back = HELD_SWAY * (1.0 + (running.drift_rad / HELD_FAR_RAD).powi(2))
            + slow / (1.0 + (running.speed_m_s / slow_m_s).powi(4));
        let sway = match side_n {
            Some(side_n) => (motion.attitude * amidships.force_n).y + side_n,
            // Nothing to steer with: held.
            None => 0.0,
        };
        // Bow-up moment is negative about the axis to port.
        LeftOver::new(
            force.z,
            -about(held).y / size,
            (still.x + roll) / size,
            force.x,
            sway / weight - held_back * running.drift_rad,
        )
    }

    /// The rudder's side force that holds the course against the boat's yaw, to port, if there is one, and the roll
    /// from it: what a propeller that walks the stern sideways does to both, the rudder beside it undoes.
    fn steering_n(&self, moment: &Vector3<f64>) -> (Option<f64>, f64) {
        let Some(at) = self.steered_at_m() else {
            return (None, 0.0);
        };
        let arm = at - self.cg_m();
        let side_n = -moment.z / arm.x;
        (Some(side_n), -arm.z * side_n)
    }
}

fn with_speed(free: &AtSpeed, speed: f64) -> Place {
    Place::new(free[0], free[1], free[2], free[3], speed, free[4])
}

fn without_speed(x: &Place) -> AtSpeed {
    AtSpeed::new(x[0], x[1], x[2], x[3], x[5])
}

/// Slopes at a held speed.
pub(crate) fn slopes_at_speed(slopes: &Slopes) -> AtSpeedSlopes {
    let columns = [0, 1, 2, 3, 5].map(|i| slopes.column(i).into_owned());
    AtSpeedSlopes::from_columns(&columns)
}

/// Slopes with one more row.
pub(crate) fn bordered(slopes: &Slopes, row: &Place) -> Bordered {
    let mut whole = Bordered::zeros();
    whole
        .fixed_view_mut::<LEFT, UNKNOWNS>(0, 0)
        .copy_from(slopes);
    whole.set_row(LEFT, &row.transpose());
    whole
}

/// Sinking pushes up, and trimming with heave free to settle pushes back; columns of slopes by rise and trim.
pub(crate) fn heave_pitch_stable(rise: &LeftOver, trim: &LeftOver) -> bool {
    rise[0] < 0.0 && rise[0] * trim[1] - trim[0] * rise[1] > 0.0
}
