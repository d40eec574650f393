//! A declared drive as the laws want it: motor, controller, driveline, and all of it as one circuit.

use boat::{Drive, Lubricant, Shaft, ShaftKind};
use laws::InputError;
use laws::controller_loss::Controller;
use laws::drive_circuit::Circuit;
use laws::driveline::{Driveline, Layout, Turner};
use laws::motor_heat::{HYSTERESIS_SHARE, WarmMotor};
use laws::motor_point::Motor;
use std::f64::consts::TAU;

const ZERO_K: f64 = 273.15;
const COLD_C: f64 = 20.0;
/// Rise and fall of the bridge's edges together, s (judgement).
pub(crate) const EDGE_S: f64 = 2e-7;
/// Rise of the magnets over that of the copper at running temperature: they sit in the rotor, which only its own
/// iron loss and the air gap warm (judgement).
const MAGNETS_SHARE: f64 = 0.35;
/// Useful part of a propeller's work over what is left by slip, for the thrust on its collar: a third either way
/// moves the torque asked by less than one hundredth (judgement).
const PUSH: f64 = 0.65;
/// Mean radius of the thrust collar and radius of the last bush, m: of 3.2 to 4.8 mm stubs (judgement).
const COLLAR_M: f64 = 0.003;
const BUSH_M: f64 = 0.002;

/// The motor with constants that move with temperature and speed; `steady_iron` is the share of iron loss that does
/// not grow with speed.
///
/// # Errors
/// A constant with no meaning.
pub fn warm_motor(drive: &Drive, steady_iron: f64) -> Result<WarmMotor, InputError> {
    let motor = &drive.motor;
    let cold = Motor {
        speed_per_volt_rad_s_v: motor.kv_rad_s_v.value,
        resistance_ohm: motor.resistance_ohm.value,
        no_load_current_a: motor.no_load_current_a.value,
    };
    // The boat file gives the no-load current at about the working speed.
    let working = 0.8 * motor.kv_rad_s_v.value * 3.8 * f64::from(drive.battery.series);
    WarmMotor::new(cold, working, steady_iron)
}

/// The bridge, and leads and connectors, ohm: the boat file gives them as one.
pub fn controller(drive: &Drive) -> (Controller, f64) {
    let path_ohm = drive.controller.resistance_ohm.value;
    let controller = Controller {
        resistance_ohm: 0.5 * path_ohm,
        diode_v: 0.0,
        edge_s: EDGE_S,
        frequency_hz: 16e3,
        idle_w: 0.5,
    };
    (controller, 0.5 * path_ohm)
}

/// Losses between motor and propeller: an efficiency the builder gave, else from how the shaft is built.
///
/// # Errors
/// A size with no meaning.
pub fn driveline(shaft: &Shaft) -> Result<Driveline, InputError> {
    if let Some(efficiency) = shaft.efficiency {
        return Driveline::passing(efficiency.value.clamp(0.05, 1.0));
    }
    let (turner, usual_m) = match shaft.kind {
        ShaftKind::Flex => (Turner::Cable, 0.0032),
        ShaftKind::Wire => (Turner::Wire, 0.002),
        ShaftKind::Solid => (Turner::Shaft, 0.004),
    };
    Driveline::new(&Layout {
        turner,
        diameter_m: shaft.diameter_m.unwrap_or(usual_m),
        length_m: shaft.tube_m.value.max(0.005),
        gap_m: shaft.gap_m.value.max(0.00002),
        bend_rad: shaft.bend_rad.value.max(0.0),
        // Light oil; grease thinned by shear, 0.02 to 0.1 (`checks/driveline_and_small_boats.csv`).
        viscosity_pa_s: match shaft.lubricant {
            Lubricant::Grease => 0.045,
            Lubricant::Oil => 0.0104,
            Lubricant::Water => 0.001,
        },
        collar_m: COLLAR_M,
        bush_m: BUSH_M,
    })
}

/// Thrust over torque of a drive's propeller, 1/m.
pub fn thrust_per_torque(drive: &Drive) -> f64 {
    let pitch_m = drive.propeller.pitch_ratio.value * drive.propeller.diameter_m.value;
    PUSH * TAU / pitch_m.max(1e-4)
}

/// In the middle of a run: the pack settled at its declared charge and temperature, copper and magnets as hot as
/// they run, every loss of the driveline multiplied by `losses`.
///
/// # Errors
/// A constant with no meaning.
pub fn running_circuit(drive: &Drive, losses: f64) -> Result<Circuit, InputError> {
    let battery = &drive.battery;
    let charge = battery.state_of_charge.value.clamp(0.0, 1.0);
    let series = f64::from(battery.series);
    let cell_ohm = battery.cell_resistance_ohm.value
        * laws::cell::resistance_factor(charge, battery.temperature_c.value + ZERO_K);
    let (controller, lead_ohm) = controller(drive);
    let winding_c = drive.motor.winding_temperature_c.value;
    Ok(Circuit {
        source_v: series * laws::cell::open_circuit_v(charge),
        pack_ohm: series * cell_ohm / f64::from(battery.parallel.max(1)) + lead_ohm,
        lead_ohm,
        controller,
        limit_a: drive.controller.current_limit_a.unwrap_or(f64::INFINITY),
        motor: warm_motor(drive, HYSTERESIS_SHARE)?,
        winding_k: winding_c + ZERO_K,
        magnets_k: COLD_C + MAGNETS_SHARE * (winding_c - COLD_C) + ZERO_K,
        gear: drive.gear_ratio.value,
        driveline: driveline(&drive.shaft)?.scaled(losses),
        thrust_per_torque: thrust_per_torque(drive),
    })
}
