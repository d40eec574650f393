//! Entries: motor and cell.

use super::Bounds::{Any, NotNegative, Positive, Within};
use super::{Checked, Kind, Law, Told, input, one_of, optional, output};
use crate::motor_point::{Known, Motor, motor_point, speed_per_volt};
use crate::{Notes, cell, cell_transient};

const SECONDS_PER_HOUR: f64 = 3600.0;

pub(super) const MOTOR_POINT: Law = Law {
    name: "motor-point",
    summary: "a motor's running point from its three constants",
    inputs: &[
        input(
            "kv_rpm_per_volt",
            Kind::MotorConstant,
            Positive,
            "no-load speed per volt",
        ),
        input(
            "resistance",
            Kind::Resistance,
            NotNegative,
            "winding resistance",
        ),
        input(
            "no_load_current",
            Kind::Current,
            NotNegative,
            "current with no load",
        ),
        input(
            "voltage",
            Kind::Voltage,
            NotNegative,
            "voltage at the motor",
        ),
        one_of(input("current", Kind::Current, Any, "motor current")),
        one_of(input(
            "shaft_speed",
            Kind::RotationSpeed,
            Any,
            "shaft speed",
        )),
        one_of(input("torque", Kind::Torque, Any, "shaft torque")),
    ],
    outputs: &[
        output("current", Kind::Current, "motor current"),
        output("shaft_speed", Kind::RotationSpeed, "shaft speed"),
        output("torque", Kind::Torque, "shaft torque"),
        output("shaft_power", Kind::Power, "power at the shaft"),
        output(
            "efficiency",
            Kind::Dimensionless,
            "shaft power over electrical power",
        ),
        output("heat", Kind::Power, "electrical power not at the shaft"),
    ],
    validity: "constants at running temperature; driving, under 80 % of stall current",
    source: "steady permanent-magnet motor, any textbook on electrical machines",
    checked: Checked::Theory,
    run: |v| {
        let motor = Motor {
            speed_per_volt_rad_s_v: speed_per_volt(v.get("kv_rpm_per_volt")),
            resistance_ohm: v.get("resistance"),
            no_load_current_a: v.get("no_load_current"),
        };
        let known = match (v.maybe("current"), v.maybe("shaft_speed")) {
            (Some(i), _) => Known::Current(i),
            (None, Some(w)) => Known::ShaftSpeed(w),
            (None, None) => Known::Torque(v.get("torque")),
        };
        let p = motor_point(&motor, v.get("voltage"), known)?;
        let mut notes = Notes::default();
        notes.add_if(!p.in_range, "not driving, or over 80 % of stall current");
        let out = [
            p.current_a,
            p.shaft_speed_rad_s,
            p.torque_n_m,
            p.shaft_power_w,
            p.efficiency,
            p.heat_w,
        ];
        Ok(Told::new(&out, p.in_range).with(notes))
    },
};

pub(super) const CELL: Law = Law {
    name: "cell",
    summary: "one lithium-ion polymer cell at rest and under load",
    inputs: &[
        input(
            "state_of_charge",
            Kind::Dimensionless,
            Within(0.0, 1.0),
            "charge left over full charge",
        ),
        input(
            "current",
            Kind::Current,
            Any,
            "current, positive discharging",
        ),
        optional(
            input(
                "temperature",
                Kind::Temperature,
                Within(223.15, 373.15),
                "cell temperature",
            ),
            298.15,
        ),
        optional(
            input(
                "capacity",
                Kind::Charge,
                Positive,
                "full charge; 5 A h unless given",
            ),
            5.0 * SECONDS_PER_HOUR,
        ),
        optional(
            input(
                "resistance",
                Kind::Resistance,
                Positive,
                "at 25 degC and half charge; a warm 5 A h cell's unless given (common practice, no source)",
            ),
            2.5e-3,
        ),
    ],
    outputs: &[
        output("open_circuit", Kind::Voltage, "voltage at rest"),
        output("terminal", Kind::Voltage, "voltage under load"),
        output(
            "resistance_now",
            Kind::Resistance,
            "at this charge and temperature",
        ),
        output(
            "discharge_rate",
            Kind::Dimensionless,
            "current over capacity, per hour",
        ),
        output("heat", Kind::Power, "heat in the cell"),
    ],
    validity: "charge 0.1 to 1, 5 to 40 degC, 3.0 to 4.25 V at the terminals; other cells lie within 0.12 V at rest",
    source: "27 Ah cell table after Huria, Ceraolo, Gazzarri, Jackey 2012; beside Chen and Rincon-Mora 2006",
    checked: Checked::Measurement,
    run: |v| {
        let c = cell::cell(&cell::Cell {
            state_of_charge: v.get("state_of_charge"),
            current_a: v.get("current"),
            temperature_k: v.get("temperature"),
            capacity_ah: v.get("capacity") / SECONDS_PER_HOUR,
            resistance_ohm: v.get("resistance"),
        })?;
        let out = [
            c.open_circuit_v,
            c.terminal_v,
            c.resistance_ohm,
            c.discharge_rate_per_h,
            c.heat_w,
        ];
        Ok(Told::new(&out, c.in_range).with(c.notes))
    },
};

pub(super) const CELL_SETTLING: Law = Law {
    name: "cell-settling",
    summary: "a cell's voltage some time after a current is switched on",
    inputs: &[
        input(
            "state_of_charge",
            Kind::Dimensionless,
            Within(0.0, 1.0),
            "charge left over full charge",
        ),
        input(
            "current",
            Kind::Current,
            Any,
            "current, positive discharging",
        ),
        input("time", Kind::Time, NotNegative, "since it was switched on"),
        optional(
            input(
                "temperature",
                Kind::Temperature,
                Within(223.15, 373.15),
                "cell temperature",
            ),
            298.15,
        ),
        input(
            "resistance",
            Kind::Resistance,
            Positive,
            "at 25 degC and half charge",
        ),
    ],
    outputs: &[
        output("at_once", Kind::Voltage, "just after switching on"),
        output("terminal", Kind::Voltage, "at the time asked"),
        output("settled", Kind::Voltage, "in the end, charge left out"),
        output("series_resistance", Kind::Resistance, "felt at once"),
        output("slow_resistance", Kind::Resistance, "felt later"),
        output("time_constant", Kind::Time, "of the slow part"),
    ],
    validity: "charge 0.1 to 1, 5 to 40 degC; published cells' slow parts differ twofold",
    source: "27 Ah cell table after Huria, Ceraolo, Gazzarri, Jackey 2012",
    checked: Checked::Measurement,
    run: |v| {
        let s = cell_transient::settling(
            v.get("state_of_charge"),
            v.get("temperature"),
            v.get("resistance"),
            v.get("current"),
            v.get("time"),
        )?;
        let out = [
            s.at_once_v,
            s.terminal_v,
            s.settled_v,
            s.pair.series_ohm,
            s.pair.slow_ohm,
            s.pair.time_constant_s,
        ];
        Ok(Told::new(&out, s.in_range))
    },
};
