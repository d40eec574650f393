//! What a drive does at a state: the circuit of `laws` seen with its propeller.

pub use laws::drive_circuit::{Circuit, Demand};

use std::f64::consts::TAU;

use laws::smooth::mix;

use crate::craft::Parts;
use crate::elements::propeller::Propeller;
use crate::solution::DriveState;

/// Speeds at which drives are compared, up to the fastest one's pitch speed.
const COMPARED: usize = 12;
/// Drives that turn as fast to within this are alike.
const ALIKE: f64 = 1e-9;

/// Shaft speed of each drive over that of the first with one throttle for all, by speed: wide open and half immersed.
/// Drives that are alike turn alike.
#[derive(Debug, Clone, Default)]
pub(crate) struct Turning {
    drives: usize,
    /// Between speeds that are compared, m/s.
    step_m_s: f64,
    /// At each speed from rest on; nothing where all are alike.
    shares: Vec<Vec<f64>>,
}

impl Turning {
    pub fn of(parts: &Parts) -> Self {
        let drives = || parts.propellers.iter().zip(&parts.circuits);
        let pitch_speeds = drives().map(|(p, c)| p.pitch_m() * c.unloaded_rad_s() / TAU);
        let step_m_s = pitch_speeds.fold(0.0, f64::max) / COMPARED as f64;
        let density = parts.fluids.water_density_kg_m3;
        let shares = |i: usize| -> Vec<f64> {
            let speed_m_s = i as f64 * step_m_s;
            let shaft = |(p, c): (&Propeller, &Circuit)| {
                c.full_throttle_rad_s(|shaft| p.half_under_n_m(speed_m_s, density, shaft))
            };
            let each: Vec<f64> = drives().map(shaft).collect();
            let share = |shaft: &f64| match shaft / each[0] {
                share if share.is_finite() && share > 0.0 => share,
                _ => 1.0,
            };
            each.iter().map(share).collect()
        };
        let mut turning = Self {
            drives: parts.propellers.len(),
            step_m_s,
            shares: Vec::new(),
        };
        if turning.drives > 1 {
            turning.shares = (0..=COMPARED).map(shares).collect();
        }
        let each = turning.shares.iter().flatten();
        if each.into_iter().all(|share| (share - 1.0).abs() < ALIKE) {
            turning.shares.clear();
        }
        turning
    }

    /// Shaft speeds at a speed of the boat, that of the first given, rad/s.
    pub fn at(&self, first_rad_s: f64, speed_m_s: f64) -> impl Iterator<Item = f64> + '_ {
        let place = (speed_m_s / self.step_m_s.max(1e-9)).clamp(0.0, COMPARED as f64);
        let i = (place as usize).min(COMPARED - 1);
        let share = move |drive: usize| match &self.shares[..] {
            [] => 1.0,
            all => mix(all[i][drive], all[i + 1][drive], place - i as f64),
        };
        (0..self.drives).map(move |drive| first_rad_s * share(drive))
    }
}

/// Everything a reader wants to know about the drive at a state.
pub fn drive_state(circuit: &Circuit, name: &str, load: &PropellerLoad) -> DriveState {
    let demand = circuit.demand(load.shaft_rad_s, load.torque_n_m);
    DriveState {
        name: name.to_owned(),
        shaft_rad_s: load.shaft_rad_s,
        current_a: demand.pack_a,
        voltage_v: demand.pack_v,
        shaft_power_w: demand.shaft_power_w,
        motor_heat_w: demand.motor_heat_w,
        thrust_n: load.thrust_n,
        torque_n_m: load.torque_n_m,
        immersion: load.immersion,
        slip: load.slip,
    }
}

/// What a propeller gives and takes at a state.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PropellerLoad {
    /// rad/s.
    pub shaft_rad_s: f64,
    /// Along the shaft, N.
    pub thrust_n: f64,
    /// N m.
    pub torque_n_m: f64,
    /// Up, square to the shaft, N.
    pub vertical_n: f64,
    /// To port, square to the shaft, N.
    pub side_n: f64,
    /// Depth of the disc's lowest point over its diameter.
    pub immersion: f64,
    /// Against pitch speed.
    pub slip: f64,
}
