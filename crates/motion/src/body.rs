//! The boat as a rigid body with the water it carries, its shafts and its packs.
//!
//! - `M a = F + F_slam - w x (M v)`, about the centre of gravity, boat axes; the added mass of
//!   `craft::added_mass` joins the boat's own on the left. Attitude is a unit quaternion.
//! - Shafts: motor torque less what the propeller asks turns rotor and propeller. Motor, controller and pack
//!   are `craft::drive::Circuit`'s; no current flows back into the pack.
//! - Source: Newton, Euler; Fossen for added mass in boat axes (its Coriolis terms are left out: small against
//!   the forces at these speeds, and momentum of the water is counted in the elements).
//! - Checks: free fall, a free symmetric top, energy and momentum without forces; scipy on the same equations.

use craft::Craft;
use craft::added_mass::Added;
use craft::element::Wrench;
use craft::motion::{Controls, Motion, Surroundings};
use nalgebra::{Matrix3, Matrix6, Quaternion, Rotation3, UnitQuaternion, Vector3, Vector6};
use std::f64::consts::TAU;

/// Most drives that are turned in time; further ones turn with the last.
pub const DRIVES: usize = 4;
/// Numbers in a state.
pub const STATES: usize = 14 + DRIVES;

/// Position of the centre of gravity 0-2, quaternion 3-6 (scalar first), velocity of the centre of gravity
/// 7-9 and turning rate 10-12, boat axes; charge used 13, C; shaft speeds from 14, rad/s.
pub type State = [f64; STATES];

/// What each number is measured in for the integrator's error, so that one tolerance serves all: m, -, m/s,
/// rad/s, C, rad/s.
pub const SCALE: State = {
    let mut scale = [1.0; STATES];
    let mut i = 7;
    while i < STATES {
        scale[i] = match i {
            7..=9 => 20.0,
            10..=12 => 50.0,
            13 => 100.0,
            _ => 500.0,
        };
        i += 1;
    }
    scale
};

/// What the hands and the weather do at a moment.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Held {
    /// 0 to 1.
    pub throttle: f64,
    /// Trailing edge to port positive, rad.
    pub rudder_rad: f64,
}

/// A boat ready to be moved.
pub struct Body<'a> {
    /// The elements.
    pub craft: &'a Craft,
    mass: Matrix6<f64>,
    inertia: Matrix3<f64>,
    /// Rotor and propeller of each drive at the propeller's shaft, kg m2.
    spin: Vec<f64>,
    /// Without water, air or propellers: for checks.
    pub bare: bool,
}

/// Rotor inertia over motor torque constant squared and so on is unknown: a 0.2 kg motor's rotor, and the
/// propeller as a disc of 40 kg/m2 at its radius of gyration (both judgement).
fn spin_kg_m2(diameter_m: f64, gear: f64) -> f64 {
    let rotor = 6e-6;
    let blades = 40.0 * TAU / 8.0 * diameter_m.powi(2) * (0.25 * diameter_m).powi(2);
    rotor * gear * gear + blades
}

impl<'a> Body<'a> {
    /// A boat as its elements have it.
    pub fn new(craft: &'a Craft) -> Self {
        let mut mass = Matrix6::zeros();
        for i in 0..3 {
            mass[(i, i)] = craft.mass_kg();
        }
        let inertia = *craft.inertia_kg_m2();
        mass.fixed_view_mut::<3, 3>(3, 3).copy_from(&inertia);
        let drives = craft.propellers().iter().zip(craft.circuits());
        Self {
            craft,
            mass,
            inertia,
            spin: drives
                .map(|(p, c)| spin_kg_m2(p.diameter_m(), c.gear))
                .collect(),
            bare: false,
        }
    }

    /// A state from a motion of the boat's origin.
    pub fn state(&self, motion: &Motion, shafts_rad_s: &[f64]) -> State {
        let cg = self.craft.cg_m();
        let place = motion.place(&cg);
        let velocity = motion.velocity_at(&cg);
        let turn = UnitQuaternion::from_rotation_matrix(&motion.attitude);
        let mut y = [0.0; STATES];
        y[..3].copy_from_slice(place.as_slice());
        y[3] = turn.w;
        y[4..7].copy_from_slice(turn.imag().as_slice());
        y[7..10].copy_from_slice(velocity.as_slice());
        y[10..13].copy_from_slice(motion.rate_rad_s.as_slice());
        for (slot, w) in y[14..].iter_mut().zip(shafts_rad_s) {
            *slot = *w;
        }
        y
    }

    /// The motion of the boat's origin in a state.
    pub fn motion(&self, time_s: f64, y: &State) -> Motion {
        let turn = UnitQuaternion::from_quaternion(Quaternion::new(y[3], y[4], y[5], y[6]));
        let attitude: Rotation3<f64> = turn.to_rotation_matrix();
        let rate = Vector3::new(y[10], y[11], y[12]);
        let cg = self.craft.cg_m();
        Motion {
            position_m: Vector3::new(y[0], y[1], y[2]) - attitude * cg,
            attitude,
            velocity_m_s: Vector3::new(y[7], y[8], y[9]) - rate.cross(&cg),
            rate_rad_s: rate,
            time_s,
        }
    }

    /// Shaft speeds as the elements want them.
    pub fn controls(&self, y: &State, held: &Held) -> Controls {
        let drives = self.craft.propellers().len();
        Controls {
            shaft_rad_s: (0..drives)
                .map(|i| y[14 + i.min(DRIVES - 1)].max(0.0))
                .collect(),
            rudder_rad: held.rudder_rad,
        }
    }

    /// Rates of a state.
    pub fn rates(&self, time_s: f64, y: &State, around: &Surroundings, held: &Held) -> State {
        let motion = self.motion(time_s, y);
        let controls = self.controls(y, held);
        let accelerations = self.accelerations(&motion, around, &controls);
        let mut d = [0.0; STATES];
        let going = motion.attitude * Vector3::new(y[7], y[8], y[9]);
        d[..3].copy_from_slice(going.as_slice());
        let q = Quaternion::new(y[3], y[4], y[5], y[6]);
        let turned = q * Quaternion::from_imag(motion.rate_rad_s) * 0.5;
        // Held at unit length against the integrator's drift.
        let back = 1.0 - q.norm_squared();
        d[3] = turned.w + back * q.w;
        for i in 0..3 {
            d[4 + i] = turned.imag()[i] + back * q.imag()[i];
        }
        d[7..13].copy_from_slice(accelerations.as_slice());
        self.turn_shafts(&motion, around, y, held, &mut d);
        d
    }

    /// Of the centre of gravity and about it, boat axes.
    pub fn accelerations(
        &self,
        motion: &Motion,
        around: &Surroundings,
        controls: &Controls,
    ) -> Vector6<f64> {
        let (mass, forces) = self.system(motion, around, controls);
        solved(mass, &forces)
    }

    /// The same where all elements have been asked already: `total` is their sum.
    pub fn accelerations_of(
        &self,
        total: Wrench,
        motion: &Motion,
        around: &Surroundings,
    ) -> Vector6<f64> {
        let added = self.craft.added(motion, around);
        let (mass, forces) = self.under(total, &added, motion);
        solved(mass, &forces)
    }

    /// The two sides of `M a = f`: mass with the water's, and all forces and moments about the centre of
    /// gravity, boat axes. For whoever holds some of the motion fast, as a towing carriage does.
    pub fn system(
        &self,
        motion: &Motion,
        around: &Surroundings,
        controls: &Controls,
    ) -> (Matrix6<f64>, Vector6<f64>) {
        if self.bare {
            let weight = Wrench::at(
                &self.craft.cg_m(),
                motion.up() * (-self.craft.mass_kg() * around.gravity_m_s2),
            );
            let nothing = Added {
                mass: Matrix6::zeros(),
                slam: Wrench::default(),
            };
            return self.under(weight, &nothing, motion);
        }
        let (total, added) = self.craft.in_time(motion, around, controls);
        self.under(total, &added, motion)
    }

    fn under(&self, total: Wrench, added: &Added, motion: &Motion) -> (Matrix6<f64>, Vector6<f64>) {
        let cg = self.craft.cg_m();
        let rate = motion.rate_rad_s;
        let velocity = motion.velocity_at(&cg);
        let total = total + added.slam;
        let moment = total.moment_n_m - cg.cross(&total.force_n);
        let turning = rate.cross(&(self.inertia * rate));
        let across = rate.cross(&velocity) * self.craft.mass_kg();
        let left = total.force_n - across;
        let turn = moment - turning;
        let right = Vector6::new(left.x, left.y, left.z, turn.x, turn.y, turn.z);
        (self.mass + about(&added.mass, &cg), right)
    }

    fn turn_shafts(
        &self,
        motion: &Motion,
        around: &Surroundings,
        y: &State,
        held: &Held,
        d: &mut State,
    ) {
        if self.bare {
            return;
        }
        let drives = self.craft.propellers().iter().zip(self.craft.circuits());
        for (i, (propeller, circuit)) in drives.enumerate().take(DRIVES) {
            let shaft = y[14 + i].max(0.0);
            let asked = propeller.load(motion, around, shaft).torque_n_m;
            let motor_a = motor_a(circuit, shaft * circuit.gear, held.throttle);
            let given = circuit.propeller_torque_n_m(motor_a, shaft);
            d[14 + i] = (given - asked) / self.spin[i];
            d[13] += held.throttle * motor_a;
        }
    }
}

fn solved(mass: Matrix6<f64>, forces: &Vector6<f64>) -> Vector6<f64> {
    mass.cholesky().map_or_else(
        || Vector6::from_element(f64::NAN),
        |factored| factored.solve(forces),
    )
}

/// Current in a motor at a duty, A: none flows back.
pub fn motor_a(circuit: &craft::drive::Circuit, motor_rad_s: f64, throttle: f64) -> f64 {
    circuit.motor_a(motor_rad_s, throttle)
}

/// A mass about the origin, asked about another point.
fn about(mass: &Matrix6<f64>, point: &Vector3<f64>) -> Matrix6<f64> {
    // v_origin = v_point - w x p, so T = [1, [p]x; 0, 1] takes point motion to origin motion.
    let mut t = Matrix6::identity();
    t.fixed_view_mut::<3, 3>(0, 3)
        .copy_from(&point.cross_matrix());
    t.transpose() * mass * t
}
