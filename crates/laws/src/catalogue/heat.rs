//! Entries: water in tubes, heat of controller and motor, limits.

use super::Bounds::{NotNegative, Positive, Within};
use super::{Checked, Kind, Law, Told, choice, input, one_of, optional, output};
use crate::Notes;
use crate::controller_loss::{self, Controller};
use crate::heat_run::{self, HeatRun};
use crate::insulation;
use crate::motor_heat::{HYSTERESIS_SHARE, WarmMotor, magnet_strength};
use crate::motor_point::{Motor, speed_per_volt};
use crate::pipe_flow::{self, Known, Pipe};
use crate::tube_heat::{self, Tube, Wall};

pub(super) const HEAT_RUN: Law = Law {
    name: "heat-run",
    summary: "a motor's temperature over a run at a steady current, and seconds to its limit",
    inputs: &[
        input("current", Kind::Current, NotNegative, "in the motor"),
        input("resistance", Kind::Resistance, NotNegative, "at 20 degC"),
        optional(
            input("iron_loss", Kind::Power, NotNegative, "into the can"),
            0.0,
        ),
        input("motor_mass", Kind::Mass, Positive, "whole motor"),
        optional(
            input(
                "winding_to_can",
                Kind::Conductance,
                Positive,
                "1.5 W/K for a motor of 250 g, growing with its surface (judgement)",
            ),
            1.5,
        ),
        optional(
            input(
                "can_to_coolant",
                Kind::Conductance,
                Positive,
                "about 3 W/K in a jacket, 0.1 W/K in still air (judgement)",
            ),
            3.0,
        ),
        optional(
            input(
                "coolant_temperature",
                Kind::Temperature,
                Within(263.15, 373.15),
                "of water or air, and of the motor at the start",
            ),
            288.15,
        ),
        input("time", Kind::Time, NotNegative, "from the start"),
        optional(
            input(
                "limit",
                Kind::Temperature,
                Within(263.15, 573.15),
                "of the winding",
            ),
            403.15,
        ),
    ],
    outputs: &[
        output("winding_temperature", Kind::Temperature, "after the time"),
        output("can_temperature", Kind::Temperature, "after the time"),
        output("copper_heat", Kind::Power, "at that moment"),
        output(
            "time_to_limit",
            Kind::Time,
            "of the winding; held at ten hours when it is not reached",
        ),
    ],
    validity: "steady current, winding to 220 degC; a winding's hot spot runs 10 to 20 K above its mean",
    source: "lumped heat capacities; IEC 60034-1 (copper); shares of a motor's mass are judgement",
    checked: Checked::Theory,
    run: |v| {
        let run = HeatRun {
            current_a: v.get("current"),
            resistance_ohm: v.get("resistance"),
            iron_w: v.get("iron_loss"),
            motor_kg: v.get("motor_mass"),
            inner_w_k: v.get("winding_to_can"),
            outer_w_k: v.get("can_to_coolant"),
            coolant_k: v.get("coolant_temperature"),
        };
        let w = heat_run::heat_run(&run, v.get("time"), v.get("limit"))?;
        let out = [
            w.winding_k,
            w.can_k,
            w.copper_w,
            w.limit_s.unwrap_or(heat_run::LONGEST_S),
        ];
        Ok(Told::new(&out, w.in_range).with(w.notes))
    },
};

pub(super) const PIPE_FLOW: Law = Law {
    name: "pipe-flow",
    summary: "flow or pressure drop of a tube with fittings",
    inputs: &[
        one_of(input("flow", Kind::Flow, NotNegative, "through the tube")),
        one_of(input(
            "pressure_drop",
            Kind::Pressure,
            NotNegative,
            "along the tube",
        )),
        input("diameter", Kind::Length, Positive, "bore"),
        input("length", Kind::Length, NotNegative, "of the tube"),
        optional(
            input(
                "roughness",
                Kind::Length,
                NotNegative,
                "height of the wall's roughness",
            ),
            1.5e-6,
        ),
        optional(
            input(
                "fittings_k",
                Kind::Dimensionless,
                NotNegative,
                "sum of the fittings' loss coefficients",
            ),
            0.0,
        ),
        optional(
            input("density", Kind::Density, Positive, "of the liquid"),
            998.2,
        ),
        optional(
            input(
                "viscosity",
                Kind::DynamicViscosity,
                Positive,
                "of the liquid",
            ),
            1.0016e-3,
        ),
    ],
    outputs: &[
        output("reynolds", Kind::Dimensionless, "on the bore"),
        output("friction_factor", Kind::Dimensionless, "Darcy's"),
        output("velocity", Kind::Speed, "mean"),
        output("pressure_drop", Kind::Pressure, "along the tube"),
        output("flow", Kind::Flow, "through the tube"),
    ],
    validity: "full tube, fully developed; between Re 2300 and 4000 friction is uncertain by itself",
    source: "Hagen 1839, Poiseuille 1840; Colebrook 1939",
    checked: Checked::Theory,
    run: |v| {
        let pipe = Pipe {
            diameter_m: v.get("diameter"),
            length_m: v.get("length"),
            roughness_m: v.get("roughness"),
            fittings_k: v.get("fittings_k"),
            density_kg_m3: v.get("density"),
            viscosity_pa_s: v.get("viscosity"),
        };
        let known = v
            .maybe("flow")
            .map_or_else(|| Known::PressureDrop(v.get("pressure_drop")), Known::Flow);
        let p = pipe_flow::pipe_flow(&pipe, known)?;
        let out = [
            p.reynolds,
            p.friction_factor,
            p.velocity_m_s,
            p.pressure_drop_pa,
            p.flow_m3_s,
        ];
        Ok(Told::new(&out, p.in_range).with(p.notes))
    },
};

pub(super) const TUBE_HEAT: Law = Law {
    name: "tube-heat",
    summary: "heat from a tube's wall to the liquid in it",
    inputs: &[
        input("reynolds", Kind::Dimensionless, Positive, "on the bore"),
        input("prandtl", Kind::Dimensionless, Positive, "of the liquid"),
        input("diameter", Kind::Length, Positive, "bore"),
        input("length", Kind::Length, Positive, "heated length"),
        optional(
            input(
                "conductivity",
                Kind::Conductivity,
                Positive,
                "of the liquid",
            ),
            0.598,
        ),
        choice("regime", Wall::WORDS, "what holds along the wall"),
    ],
    outputs: &[
        output("nusselt", Kind::Dimensionless, "mean over the length"),
        output("coefficient", Kind::HeatTransfer, "mean over the length"),
        output(
            "dittus_boelter",
            Kind::Dimensionless,
            "Nusselt number by the simple rule; 0 below Re 10 000",
        ),
        output(
            "entry_length",
            Kind::Length,
            "over which the profile still grows",
        ),
    ],
    validity: "smooth round tube, Pr 0.5 to 2000, Re to 5e6; a quarter between Re 2300 and 4000",
    source: "Gnielinski 1976 and 1989, Petukhov 1970 (from memory); Dittus and Boelter 1930",
    checked: Checked::Theory,
    run: |v| {
        let h = tube_heat::tube_heat(&Tube {
            reynolds: v.get("reynolds"),
            prandtl: v.get("prandtl"),
            diameter_m: v.get("diameter"),
            length_m: v.get("length"),
            conductivity_w_m_k: v.get("conductivity"),
            wall: Wall::ALL[v.get("regime") as usize],
        })?;
        let out = [
            h.nusselt,
            h.coefficient_w_m2_k,
            h.dittus_boelter,
            h.entry_length_m,
        ];
        Ok(Told::new(&out, h.in_range).with(h.notes))
    },
};

pub(super) const CONTROLLER_LOSS: Law = Law {
    name: "controller-loss",
    summary: "heat of a speed controller at full and part throttle",
    inputs: &[
        input("current", Kind::Current, NotNegative, "in the motor"),
        input("voltage", Kind::Voltage, NotNegative, "of the pack"),
        optional(
            input(
                "throttle",
                Kind::Dimensionless,
                Within(0.0, 1.0),
                "share of full",
            ),
            1.0,
        ),
        input("resistance", Kind::Resistance, NotNegative, "bridge path"),
        optional(
            input(
                "diode_voltage",
                Kind::Voltage,
                NotNegative,
                "0 with driven switches",
            ),
            0.0,
        ),
        optional(
            input(
                "edge_time",
                Kind::Time,
                NotNegative,
                "rise and fall together",
            ),
            2e-7,
        ),
        optional(
            input("frequency", Kind::Frequency, NotNegative, "of chopping"),
            16e3,
        ),
        optional(
            input("idle_power", Kind::Power, NotNegative, "logic and gates"),
            0.5,
        ),
    ],
    outputs: &[
        output("conduction", Kind::Power, "in the bridge path"),
        output("switching", Kind::Power, "at the edges"),
        output("total", Kind::Power, "all heat"),
    ],
    validity: "one-sided chopping at a fixed frequency, current that does not stop",
    source: "chopper with steady load current, any power-electronics text",
    checked: Checked::Theory,
    run: |v| {
        let c = Controller {
            resistance_ohm: v.get("resistance"),
            diode_v: v.get("diode_voltage"),
            edge_s: v.get("edge_time"),
            frequency_hz: v.get("frequency"),
            idle_w: v.get("idle_power"),
        };
        let l = controller_loss::controller_loss(
            &c,
            v.get("current"),
            v.get("voltage"),
            v.get("throttle"),
        )?;
        Ok(Told::new(&[l.conduction_w, l.switching_w, l.total_w], true))
    },
};

pub(super) const MOTOR_HEAT: Law = Law {
    name: "motor-heat",
    summary: "a motor's constants when warm and at speed",
    inputs: &[
        input(
            "kv_rpm_per_volt",
            Kind::MotorConstant,
            Positive,
            "no-load speed per volt at 20 degC",
        ),
        input("resistance", Kind::Resistance, NotNegative, "at 20 degC"),
        input(
            "no_load_current",
            Kind::Current,
            NotNegative,
            "at the no-load speed",
        ),
        input(
            "no_load_speed",
            Kind::RotationSpeed,
            Positive,
            "at which it was measured",
        ),
        input("shaft_speed", Kind::RotationSpeed, NotNegative, "now"),
        input(
            "winding_temperature",
            Kind::Temperature,
            Within(233.15, 573.15),
            "now",
        ),
        input(
            "magnet_temperature",
            Kind::Temperature,
            Within(233.15, 573.15),
            "now",
        ),
        optional(
            input(
                "hysteresis_share",
                Kind::Dimensionless,
                Within(0.0, 1.0),
                "of no-load current that does not grow with speed",
            ),
            HYSTERESIS_SHARE,
        ),
    ],
    outputs: &[
        output("kv_warm", Kind::MotorConstant, "speed per volt now"),
        output("resistance_warm", Kind::Resistance, "now"),
        output("no_load_current_now", Kind::Current, "now"),
        output("iron_loss", Kind::Power, "now"),
    ],
    validity: "winding -40 to 220 degC, plain neodymium below 80 degC",
    source: "IEC 60034-1 (copper); magnet suppliers' tables; Steinmetz",
    checked: Checked::Theory,
    run: |v| {
        let cold = Motor {
            speed_per_volt_rad_s_v: speed_per_volt(v.get("kv_rpm_per_volt")),
            resistance_ohm: v.get("resistance"),
            no_load_current_a: v.get("no_load_current"),
        };
        let warm = WarmMotor::new(cold, v.get("no_load_speed"), v.get("hysteresis_share"))?;
        let (winding, magnet) = (v.get("winding_temperature"), v.get("magnet_temperature"));
        let shaft = v.get("shaft_speed");
        let now = warm.at(winding, magnet, shaft);
        let k = now.speed_per_volt_rad_s_v;
        let out = [
            k / speed_per_volt(1.0),
            now.resistance_ohm,
            now.no_load_current_a,
            now.no_load_current_a * shaft / k,
        ];
        let mut notes = Notes::default();
        let hot = notes.add_if(winding > 493.15, "winding over 220 degC: past every class")
            | notes.add_if(
                magnet > 353.15,
                "plain magnets over 80 degC do not come back",
            );
        Ok(Told::new(&out, !hot).with(notes))
    },
};

pub(super) const INSULATION_LIMIT: Law = Law {
    name: "insulation-limit",
    summary: "temperature a winding class may reach",
    inputs: &[choice("class", insulation::CLASS_WORDS, "of the winding")],
    outputs: &[output("limit", Kind::Temperature, "for long life")],
    validity: "continuous use; seconds above it cost life, not the winding",
    source: "IEC 60085, second-hand",
    checked: Checked::Theory,
    run: |v| {
        let l = insulation::CLASSES[v.get("class") as usize];
        Ok(Told::new(&[l.limit_k], true))
    },
};

pub(super) const MAGNET_LIMIT: Law = Law {
    name: "magnet-limit",
    summary: "temperature a neodymium grade may reach, and what is left of it",
    inputs: &[
        choice("grade", insulation::MAGNET_WORDS, "of the magnets"),
        optional(
            input(
                "temperature",
                Kind::Temperature,
                Within(233.15, 573.15),
                "of the magnets",
            ),
            293.15,
        ),
    ],
    outputs: &[
        output(
            "limit",
            Kind::Temperature,
            "past which strength is lost for good",
        ),
        output("strength", Kind::Dimensionless, "over that at 20 degC"),
    ],
    validity: "below the limit; the motor's own field may lower it",
    source: "magnet suppliers' tables, second-hand",
    checked: Checked::Theory,
    run: |v| {
        let l = insulation::MAGNETS[v.get("grade") as usize];
        let t = v.get("temperature");
        let mut notes = Notes::default();
        let hot = notes.add_if(t > l.limit_k, "over the limit: part of it is gone for good");
        Ok(Told::new(&[l.limit_k, magnet_strength(l.per_k, t)], !hot).with(notes))
    },
};
