//! Entries: what stands between motor and propeller, and the whole drive.

use super::Bounds::{NotNegative, Positive, Within};
use super::{Checked, Kind, Law, Told, choice, input, optional, output};
use crate::controller_loss::Controller;
use crate::drive_circuit::Circuit;
use crate::driveline::{Driveline, Layout, Turner};
use crate::motor_heat::WarmMotor;
use crate::motor_point::{Motor, speed_per_volt};
use std::f64::consts::PI;

pub(super) const DRIVELINE: Law = Law {
    name: "driveline",
    summary: "torque lost in a flexible cable, wire or shaft with its collar and bush",
    inputs: &[
        choice(
            "kind",
            &["cable", "wire", "shaft"],
            "what turns the propeller",
        ),
        input(
            "diameter",
            Kind::Length,
            Within(1e-4, 0.1),
            "of cable, wire or shaft",
        ),
        optional(
            input("length", Kind::Length, Within(0.001, 10.0), "of its tube"),
            0.2,
        ),
        optional(
            input(
                "gap",
                Kind::Length,
                Within(1e-6, 0.1),
                "between it and its tube",
            ),
            0.000_25,
        ),
        optional(
            input(
                "bend",
                Kind::Angle,
                Within(0.0, PI),
                "bends of the tube together",
            ),
            0.35,
        ),
        optional(
            input(
                "viscosity",
                Kind::DynamicViscosity,
                NotNegative,
                "of what fills the tube; grease thinned by turning unless given",
            ),
            0.045,
        ),
        optional(
            input(
                "collar",
                Kind::Length,
                Within(0.0, 0.1),
                "mean radius of the thrust collar",
            ),
            0.003,
        ),
        optional(
            input(
                "bush",
                Kind::Length,
                Within(0.0, 0.1),
                "radius of the last bush",
            ),
            0.002,
        ),
        input("torque", Kind::Torque, NotNegative, "at the propeller"),
        input(
            "shaft_speed",
            Kind::RotationSpeed,
            NotNegative,
            "of the propeller",
        ),
        optional(
            input("thrust", Kind::Force, NotNegative, "on the collar"),
            0.0,
        ),
    ],
    outputs: &[
        output("lost_torque", Kind::Torque, "on the way"),
        output("lost_power", Kind::Power, "on the way"),
        output("efficiency", Kind::Dimensionless, "torque passed on"),
        output("shear_power", Kind::Power, "of the lubricant"),
        output("collar_power", Kind::Power, "of collar and bush"),
    ],
    validity: "one or two gentle bends, a cable that does not whip; carry half of the loss",
    source: "Petroff 1883; friction 0.12 of lubricated steel (any handbook); trade article on flexible \
             shafts 2013, second-hand",
    checked: Checked::Theory,
    run: |v| {
        let line = Driveline::new(&Layout {
            turner: match v.get("kind") as u8 {
                0 => Turner::Cable,
                1 => Turner::Wire,
                _ => Turner::Shaft,
            },
            diameter_m: v.get("diameter"),
            length_m: v.get("length"),
            gap_m: v.get("gap"),
            bend_rad: v.get("bend"),
            viscosity_pa_s: v.get("viscosity"),
            collar_m: v.get("collar"),
            bush_m: v.get("bush"),
        })?;
        let (torque, shaft, thrust) = (v.get("torque"), v.get("shaft_speed"), v.get("thrust"));
        let lost = line.lost_n_m(torque, thrust, shaft);
        let whole = torque + lost;
        let out = [
            lost,
            lost * shaft,
            if whole > 0.0 { torque / whole } else { 0.0 },
            line.by_speed_n_m_s * shaft * shaft,
            line.by_thrust_m * thrust * shaft,
        ];
        Ok(Told::new(&out, true))
    },
};

pub(super) const DRIVE_CIRCUIT: Law = Law {
    name: "drive-circuit",
    summary: "throttle and currents that a propeller's torque and turning speed ask of pack, controller and motor",
    inputs: &[
        input("voltage", Kind::Voltage, Positive, "of the pack at rest"),
        optional(
            input(
                "pack_resistance",
                Kind::Resistance,
                Within(0.0, 10.0),
                "of pack and leads",
            ),
            0.0,
        ),
        optional(
            input(
                "controller_resistance",
                Kind::Resistance,
                Within(0.0, 10.0),
                "of the bridge",
            ),
            0.0,
        ),
        input(
            "kv_rpm_per_volt",
            Kind::MotorConstant,
            Within(1.0, 1e5),
            "no-load speed per volt, cold",
        ),
        input(
            "resistance",
            Kind::Resistance,
            Within(0.0, 100.0),
            "winding at 20 degC",
        ),
        optional(
            input(
                "no_load_current",
                Kind::Current,
                Within(0.0, 1000.0),
                "current with no load, taken as steady",
            ),
            0.0,
        ),
        optional(
            input(
                "winding",
                Kind::Temperature,
                Within(233.15, 493.15),
                "of the copper",
            ),
            293.15,
        ),
        optional(
            input(
                "magnets",
                Kind::Temperature,
                Within(233.15, 423.15),
                "of the magnets",
            ),
            293.15,
        ),
        optional(
            input(
                "gear",
                Kind::Dimensionless,
                Within(0.1, 100.0),
                "motor turns per propeller turn",
            ),
            1.0,
        ),
        optional(
            input(
                "driveline_efficiency",
                Kind::Dimensionless,
                Within(0.05, 1.0),
                "torque passed on",
            ),
            1.0,
        ),
        input(
            "torque",
            Kind::Torque,
            Within(0.0, 1000.0),
            "at the propeller",
        ),
        input(
            "shaft_speed",
            Kind::RotationSpeed,
            Within(0.0, 1e5),
            "of the propeller",
        ),
    ],
    outputs: &[
        output(
            "throttle",
            Kind::Dimensionless,
            "1 is all there is; more cannot be given",
        ),
        output("motor_current", Kind::Current, "in the motor"),
        output("pack_current", Kind::Current, "from the pack"),
        output("pack_voltage", Kind::Voltage, "under that load"),
        output("motor_heat", Kind::Power, "in copper and iron"),
        output("shaft_power", Kind::Power, "at the motor's shaft"),
    ],
    validity: "steady running; an ideal chopper, sinks of switching and logic left out here",
    source: "steady permanent-magnet motor and chopper, any textbook; IEC 60034-1 for hot copper",
    checked: Checked::Theory,
    run: |v| {
        let cold = Motor {
            speed_per_volt_rad_s_v: speed_per_volt(v.get("kv_rpm_per_volt")),
            resistance_ohm: v.get("resistance"),
            no_load_current_a: v.get("no_load_current"),
        };
        let circuit = Circuit {
            source_v: v.get("voltage"),
            pack_ohm: v.get("pack_resistance"),
            lead_ohm: 0.0,
            controller: Controller {
                resistance_ohm: v.get("controller_resistance"),
                diode_v: 0.0,
                edge_s: 0.0,
                frequency_hz: 0.0,
                idle_w: 0.0,
            },
            limit_a: f64::INFINITY,
            motor: WarmMotor::new(cold, 1.0, 1.0)?,
            winding_k: v.get("winding"),
            magnets_k: v.get("magnets"),
            gear: v.get("gear"),
            driveline: Driveline::passing(v.get("driveline_efficiency"))?,
            thrust_per_torque: 0.0,
        };
        let d = circuit.demand(v.get("shaft_speed"), v.get("torque"));
        let out = [
            d.throttle,
            d.motor_a,
            d.pack_a,
            d.pack_v,
            d.motor_heat_w,
            d.shaft_power_w,
        ];
        Ok(Told::new(&out, d.throttle <= 1.0 + 1e-9))
    },
};
