//! What a drive does at a state: the circuit of `laws` seen with its propeller.

pub use laws::drive_circuit::{Circuit, Demand};

use crate::solution::DriveState;

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
