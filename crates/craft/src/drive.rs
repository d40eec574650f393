//! Pack, controller and motor as one circuit, so that a shaft speed and a torque become amperes.
//!
//! Motor: three constants (speed constant, resistance, no-load current). Controller and leads: one
//! resistance. Pack: open-circuit voltage behind a resistance. Part throttle is an ideal chopper:
//! the pack gives duty times the motor's current.

use boat::Drive;

use crate::solution::DriveState;

/// One drive's circuit at a given charge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Circuit {
    /// Pack at rest, V.
    pub open_circuit_v: f64,
    /// Whole pack, ohm.
    pub pack_ohm: f64,
    /// Controller, leads and connectors, ohm.
    pub path_ohm: f64,
    /// rad/s per V.
    pub kv_rad_s_v: f64,
    /// Motor, ohm.
    pub motor_ohm: f64,
    /// A.
    pub no_load_a: f64,
    /// Motor turns per propeller turn.
    pub gear: f64,
    /// Share of motor torque that reaches the propeller.
    pub shaft_efficiency: f64,
}

/// What a shaft speed and torque ask of the circuit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Demand {
    /// Duty, 0 to 1; above 1 the pack cannot give it.
    pub throttle: f64,
    /// In the motor, A.
    pub motor_a: f64,
    /// From the pack, A.
    pub pack_a: f64,
    /// At the pack's terminals, V.
    pub pack_v: f64,
    /// W.
    pub motor_heat_w: f64,
    /// At the motor shaft, W.
    pub shaft_power_w: f64,
}

impl Circuit {
    /// From the boat's drive at its declared charge and temperature.
    pub fn new(drive: &Drive) -> Self {
        let battery = &drive.battery;
        let charge = battery.state_of_charge.value;
        let series = f64::from(battery.series);
        let cell_ohm = battery.cell_resistance_ohm.value
            * laws::cell::resistance_factor(charge, battery.temperature_c.value + 273.15);
        Self {
            open_circuit_v: series * laws::cell::open_circuit_v(charge),
            pack_ohm: series * cell_ohm / f64::from(battery.parallel.max(1)),
            path_ohm: drive.controller.resistance_ohm.value,
            kv_rad_s_v: drive.motor.kv_rad_s_v.value,
            motor_ohm: drive.motor.resistance_ohm.value,
            no_load_a: drive.motor.no_load_current_a.value,
            gear: drive.gear_ratio.value,
            shaft_efficiency: drive.shaft.efficiency.value,
        }
    }

    /// Propeller speed with nothing to turn, rad/s.
    pub fn unloaded_rad_s(&self) -> f64 {
        self.kv_rad_s_v * self.open_circuit_v / self.gear
    }

    /// Current and throttle for a propeller turning at `shaft_rad_s` against `torque_n_m`.
    pub fn demand(&self, shaft_rad_s: f64, torque_n_m: f64) -> Demand {
        let motor_rad_s = shaft_rad_s * self.gear;
        let motor_torque = torque_n_m / (self.gear * self.shaft_efficiency);
        let motor_a = motor_torque * self.kv_rad_s_v + self.no_load_a;
        let motor_v = motor_rad_s / self.kv_rad_s_v + motor_a * (self.motor_ohm + self.path_ohm);
        let throttle = self.duty(motor_a, motor_v);
        // Past full throttle the pack is shown at full throttle with that motor current.
        let pack_a = throttle.min(1.0) * motor_a;
        Demand {
            throttle,
            motor_a,
            pack_a,
            pack_v: self.open_circuit_v - pack_a * self.pack_ohm,
            motor_heat_w: motor_a * motor_a * self.motor_ohm
                + self.no_load_a * motor_rad_s / self.kv_rad_s_v,
            shaft_power_w: motor_torque * motor_rad_s,
        }
    }

    /// Duty at which the sagging pack gives `motor_v`: `d Voc - d^2 I R = V`.
    fn duty(&self, motor_a: f64, motor_v: f64) -> f64 {
        let sag_v = motor_a * self.pack_ohm;
        let at_full_v = self.open_circuit_v - sag_v;
        if motor_v >= at_full_v {
            // One at the boundary and growing beyond it, so that solvers see a slope.
            return 1.0 + (motor_v - at_full_v) / self.open_circuit_v;
        }
        if sag_v.abs() < 1e-9 {
            return motor_v / self.open_circuit_v;
        }
        let root = self.open_circuit_v.powi(2) - 4.0 * sag_v * motor_v;
        (self.open_circuit_v - root.max(0.0).sqrt()) / (2.0 * sag_v)
    }

    /// Shaft speed at full throttle against a torque that depends on shaft speed.
    ///
    /// The excess voltage falls steadily with speed for any propeller that loads up as it turns,
    /// so bisection between standstill and the unloaded speed finds the one answer.
    pub fn full_throttle_rad_s(&self, torque_n_m: impl Fn(f64) -> f64) -> f64 {
        let (mut low, mut high) = (0.0, 1.5 * self.unloaded_rad_s());
        for _ in 0..40 {
            let mid = 0.5 * (low + high);
            let demand = self.demand(mid, torque_n_m(mid));
            if demand.throttle < 1.0 {
                low = mid;
            } else {
                high = mid;
            }
        }
        0.5 * (low + high)
    }

    /// Everything a reader wants to know about the drive at a state.
    pub fn state(&self, name: &str, load: &PropellerLoad) -> DriveState {
        let demand = self.demand(load.shaft_rad_s, load.torque_n_m);
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
