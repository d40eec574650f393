//! `[[drive]]`: from cells to propeller.

use super::section;
use crate::checked::{Checker, Table};
use crate::measure::Measure;
use crate::model::{
    Barrel, Battery, Blade, Controller, Cooled, CoolingLoop, Drive, Lubricant, Motor, Place,
    Propeller, PropellerPoint, Shaft, ShaftEnds, ShaftKind,
};

/// How far a marked or given pitch is trusted without a tolerance: small propellers' marks are
/// nominal, 5 to 8 % off by casting, cup and hand work (common practice, no source).
const PITCH_SPREAD: f64 = 0.06;

/// Resistance of a warm cell times its capacity, ohm Ah: 1.5 to 3 mohm at 5 Ah and 4 to 7 mohm at
/// 2.2 Ah are seen (common practice, no source).
const CELL_OHM_AH: f64 = 0.012;

/// Torque squared per heat, `K_t² / R`, over `D⁴ L` of the can, (N m)²/W/m⁵. Copper and field both
/// grow with the can's section, so the ratio is about constant for motors of one kind; 36 x 60 mm
/// motors of 2000 rpm/V have about 12 mohm (common practice, no source).
const MOTOR_STIFFNESS: f64 = 1.8e4;

/// No-load torque over `D² L` of the can, N m/m³: iron loss grows with the iron; 36 x 60 mm motors
/// of 2000 rpm/V draw about 4 A (common practice, no source).
const NO_LOAD_TORQUE: f64 = 240.0;

pub(super) fn drives(checker: &mut Checker<'_>, tables: &[Table]) -> Vec<Drive> {
    let several = tables.len() > 1;
    let numbered = tables.iter().enumerate();
    numbered
        .map(|(index, table)| drive(checker, table, several.then_some(index + 1)))
        .collect()
}

fn drive(checker: &mut Checker<'_>, table: &Table, number: Option<usize>) -> Drive {
    let propeller = propeller(checker, &section(table, "propeller"));
    let battery = battery(checker, &section(table, "battery"));
    let motor = motor(checker, &section(table, "motor"));
    turns_at_all(checker, table, &battery, &motor);
    let name = table.text("name").map(str::to_owned);
    Drive {
        name: name.unwrap_or_else(|| number.map_or_else(String::new, |n| side(&propeller, n))),
        battery,
        controller: controller(&section(table, "controller")),
        motor,
        gear_ratio: table.filled("gear_ratio"),
        cooling: table.table("cooling").map(cooling),
        shaft: shaft(checker, &section(table, "shaft")),
        strut: table.table("strut").map(|table| strut(table, &propeller)),
        barrel: table.table("strut").map(|table| Barrel {
            diameter_m: table.filled("barrel_diameter"),
            length_m: table.filled("barrel_length"),
        }),
        propeller,
    }
}

/// Full voltage of a lithium cell, V.
const FULL_CELL_V: f64 = 4.2;

/// A motor that needs more current to turn unloaded than the pack drives through it standing still would be better
/// than its losses: such constants contradict each other.
fn turns_at_all(checker: &mut Checker<'_>, table: &Table, battery: &Battery, motor: &Motor) {
    let volts = FULL_CELL_V * f64::from(battery.series);
    let standing_a = volts / motor.resistance_ohm.value;
    let idle_a = motor.no_load_current_a.value;
    if idle_a.is_finite() && standing_a.is_finite() && idle_a >= standing_a {
        let message = format!(
            "this motor would take {standing_a:.1} A standing still at {volts:.1} V, no more than its {idle_a:.1} A without load"
        );
        let help = "one of `no_load_current` and `resistance` is wrong: usual are 1 to 6 A and 5 to 50 mohm";
        let motor_table = section(table, "motor");
        checker.error(motor_table.place_of("no_load_current"), message, help);
    }
}

/// A name for one of several drives.
fn side(propeller: &Propeller, number: usize) -> String {
    match propeller.at[1].value {
        y if y > 1e-3 => "left".into(),
        y if y < -1e-3 => "right".into(),
        _ => format!("drive {number}"),
    }
}

fn battery(checker: &mut Checker<'_>, table: &Table) -> Battery {
    let (series, parallel) = cells(checker, table);
    let capacity_c = table.filled("capacity");
    let cell_ah = capacity_c.value / f64::from(parallel) / 3600.0;
    let usual = CELL_OHM_AH / cell_ah;
    let why = "from capacity: 12 mohm x Ah of one warm cell (common practice, no source)";
    Battery {
        series,
        parallel,
        capacity_c,
        cell_resistance_ohm: table.given("cell_resistance").unwrap_or(Measure::assumed(
            usual,
            0.4 * usual,
            why,
        )),
        state_of_charge: table.filled("state_of_charge"),
        temperature_c: table.filled("temperature"),
        max_temperature_c: table.filled("max_temperature"),
        mass_kg: table.number("mass"),
        fuse_a: table.number("fuse"),
        connector_a: table.number("connector"),
    }
}

fn cells(checker: &mut Checker<'_>, table: &Table) -> (u32, u32) {
    let twice = ["series", "parallel"]
        .into_iter()
        .filter(|key| table.has(key));
    if table.has("cells") {
        for key in twice {
            let message = format!("the battery has both `cells` and `{key}`");
            checker.error(table.place_of(key), message, "keep one of the two");
        }
        return table.cells("cells").unwrap_or((1, 1));
    }
    if !table.has("series") && !table.span.is_empty() {
        let help = "add `cells = \"3S\"` as on the label, or `series = 3`";
        checker.error(
            table.span.clone(),
            "the battery has no number of cells",
            help,
        );
    }
    (
        table.count("series").unwrap_or(1),
        table.count("parallel").unwrap_or(1),
    )
}

fn controller(table: &Table) -> Controller {
    Controller {
        resistance_ohm: table.filled("resistance"),
        rated_current_a: table.number("rated_current"),
        lead_m: table.filled("lead"),
        current_limit_a: table.number("current_limit"),
        capacitor_f: table.number("capacitor"),
        max_temperature_c: table.filled("max_temperature"),
        mass_kg: table.number("mass"),
    }
}

/// Lowest highest point of a line whose outlet is near the waterline, m.
const LEAST_RISE_M: f64 = 0.03;

fn cooling(table: &Table) -> CoolingLoop {
    let outlet = table.required_place("outlet");
    let rise = outlet[2].value.max(LEAST_RISE_M);
    let order = table.text("order").unwrap_or("controller, motor");
    CoolingLoop {
        outlet,
        pickup_m: table.filled("pickup"),
        bore_m: table.filled("bore"),
        length_m: table.filled("length"),
        order: order
            .split(", ")
            .map(|word| match word {
                "motor" => Cooled::Motor,
                _ => Cooled::Controller,
            })
            .collect(),
        rise_m: table.given("rise").unwrap_or(Measure::assumed(
            rise,
            0.5 * rise,
            "from the outlet's height, with the boat at speed on its bottom",
        )),
        recovery: table.filled("recovery"),
        sealed_lid: table.text("lid") == Some("sealed"),
    }
}

fn motor(checker: &mut Checker<'_>, table: &Table) -> Motor {
    let poles = table.count("poles");
    if poles.is_some_and(|poles| poles % 2 == 1) {
        let help = "count the magnets; there are as many north as south poles";
        checker.error(table.place_of("poles"), "the number of poles is odd", help);
    }
    if let (Some(idle), Some(most)) = (table.number("no_load_current"), table.number("max_current"))
        && idle >= most
    {
        let message =
            format!("a no-load current of {idle} A is not below the motor's limit of {most} A");
        let help = "no-load current is what it takes with nothing on the shaft: usually 1 to 6 A";
        checker.error(table.place_of("no_load_current"), message, help);
    }
    Motor {
        kv_rad_s_v: table.filled("kv"),
        resistance_ohm: motor_constant(checker, table, "resistance", resistance_from_size),
        no_load_current_a: motor_constant(checker, table, "no_load_current", no_load_from_size),
        winding_temperature_c: table.filled("winding_temperature"),
        max_current_a: table.number("max_current"),
        max_temperature_c: table.filled("max_temperature"),
        poles,
        diameter_m: table.number("diameter"),
        length_m: table.number("length"),
        mass_kg: table.number("mass"),
    }
}

/// A constant as given, or estimated from the can.
fn motor_constant(
    checker: &mut Checker<'_>,
    table: &Table,
    key: &str,
    estimate: fn(f64, f64, f64) -> Measure,
) -> Measure {
    if let Some(given) = table.given(key) {
        return given;
    }
    match (table.number("diameter"), table.number("length")) {
        (Some(diameter), Some(length)) => estimate(table.value("kv"), diameter, length),
        _ => {
            if !table.span.is_empty() {
                let message = format!("the motor's `{key}` is not given and cannot be estimated");
                let help = format!(
                    "add `{key}`, or `diameter` and `length` of the can to have it estimated"
                );
                checker.error(table.span.clone(), message, help);
            }
            Measure::given(f64::NAN)
        }
    }
}

fn resistance_from_size(kv_rad_s_v: f64, diameter_m: f64, length_m: f64) -> Measure {
    let torque_constant = 1.0 / kv_rad_s_v;
    let ohm = torque_constant.powi(2) / (MOTOR_STIFFNESS * diameter_m.powi(4) * length_m);
    Measure::assumed(
        ohm,
        0.5 * ohm,
        "from can size and kv: measure it with a known current (common practice, no source)",
    )
}

fn no_load_from_size(kv_rad_s_v: f64, diameter_m: f64, length_m: f64) -> Measure {
    let current = NO_LOAD_TORQUE * diameter_m.powi(2) * length_m * kv_rad_s_v;
    Measure::assumed(
        current,
        0.6 * current,
        "from can size and kv: measure it with no propeller (common practice, no source)",
    )
}

fn shaft(checker: &mut Checker<'_>, table: &Table) -> Shaft {
    let kind = match table.text("kind") {
        Some("wire") => ShaftKind::Wire,
        Some("solid") => ShaftKind::Solid,
        _ => ShaftKind::Flex,
    };
    let described = ["tube", "bend", "gap", "lubricant"];
    if let Some(key) = described.into_iter().find(|key| table.has(key))
        && table.has("efficiency")
    {
        let message = format!("`{key}` does nothing beside a given `efficiency`");
        checker.warn(table.place_of(key), message, "keep one of the two");
    }
    let (bend_deg, bend_spread_deg, gap, gap_spread) = match kind {
        ShaftKind::Flex => (20.0_f64, 10.0_f64, 0.00025, 0.0001),
        ShaftKind::Wire => (15.0, 8.0, 0.001, 0.0005),
        ShaftKind::Solid => (0.0, 0.0, 0.001, 0.0005),
    };
    let usual = |value, spread| {
        let why = "usual for this kind of shaft (common practice, no source)";
        Measure::assumed(value, spread, why)
    };
    Shaft {
        angle_rad: table.filled("angle"),
        toe_rad: table.filled("toe"),
        efficiency: table.given("efficiency"),
        tube_m: table.filled("tube"),
        bend_rad: table
            .given("bend")
            .unwrap_or_else(|| usual(bend_deg.to_radians(), bend_spread_deg.to_radians())),
        gap_m: table.given("gap").unwrap_or_else(|| usual(gap, gap_spread)),
        lubricant: match table.text("lubricant") {
            Some("oil") => Lubricant::Oil,
            Some("water") => Lubricant::Water,
            _ => Lubricant::Grease,
        },
        diameter_m: table.number("diameter"),
        length_m: table.number("length"),
        kind,
        ends: match table.text("ends") {
            Some("pinned") => ShaftEnds::Pinned,
            Some("clamped") => ShaftEnds::Clamped,
            _ => ShaftEnds::ClampedPinned,
        },
        stub_m: table.number("stub"),
    }
}

fn strut(table: &Table, propeller: &Propeller) -> Blade {
    let (chord_m, span_m) = (table.filled("chord"), table.filled("span"));
    Blade {
        name: "strut".into(),
        at: table
            .place("at")
            .unwrap_or_else(|| ahead_of(propeller, chord_m.value, span_m.value)),
        chord_m,
        span_m,
        thickness_m: table.filled("thickness"),
        lean_rad: table.filled("lean"),
        toe_rad: table.filled("toe"),
        wedge: table.text("section") == Some("wedge"),
        throw_rad: Measure::given(0.0),
        stock_m: Measure::given(0.0),
        servo_time_s: Measure::given(0.0),
        servo_torque_n_m: None,
    }
}

/// The strut's upper leading edge when only its size is known: trailing edge 10 mm ahead of the
/// disc, lower end on the shaft.
fn ahead_of(propeller: &Propeller, chord_m: f64, span_m: f64) -> Place {
    let why = "just ahead of the propeller, lower end on the shaft";
    let [x, y, z] = propeller.at.map(|coordinate| coordinate.value);
    [
        Measure::assumed(x + 0.01 + chord_m, 0.01, why),
        Measure::assumed(y, 0.002, why),
        Measure::assumed(z + span_m, 0.003, why),
    ]
}

fn propeller(checker: &mut Checker<'_>, table: &Table) -> Propeller {
    let diameter_m = table.filled("diameter");
    let blades = table.count("blades").unwrap_or(2);
    let area = 0.2 * f64::from(blades);
    if !table.has("rotation") && !table.span.is_empty() {
        let message = "the propeller's rotation is not given: left is assumed";
        let help = "add `rotation = \"left\"` (anticlockwise seen from astern) or `\"right\"`";
        checker.warn(table.span.clone(), message, help);
    }
    Propeller {
        pitch_ratio: pitch_ratio(checker, table, diameter_m.value),
        diameter_m,
        blades,
        area_ratio: table.given("area_ratio").unwrap_or(Measure::assumed(
            area,
            0.35 * area,
            "usual blade width (from memory)",
        )),
        at: table.required_place("at"),
        right_handed: table.text("rotation") == Some("right"),
        lift_fraction: table.filled("lift_fraction"),
        cup_m: table.number("cup").unwrap_or(0.0),
        material: table.text("material").map(str::to_owned),
        measured: table
            .tables("measured")
            .iter()
            .filter_map(|row| measured(checker, row))
            .collect(),
    }
}

/// One row, refused when it would give back more power than the shaft puts in.
fn measured(checker: &mut Checker<'_>, row: &Table) -> Option<PropellerPoint> {
    let point = PropellerPoint {
        speed_m_s: row.number("speed")?,
        shaft_rad_s: row.number("shaft_speed")?,
        thrust_n: row.number("thrust")?,
        torque_n_m: row.number("torque"),
        immersion: row.filled("immersion").value,
    };
    let useful = point.thrust_n * point.speed_m_s;
    if let Some(torque) = point.torque_n_m
        && useful > torque * point.shaft_rad_s
    {
        let message = format!(
            "this propeller would give {:.0} W of push for {:.0} W at the shaft",
            useful,
            torque * point.shaft_rad_s
        );
        let help =
            "no propeller is better than its shaft power; are thrust and torque of the same run?";
        checker.error(row.place_of("thrust"), message, help);
    }
    Some(point)
}

fn pitch_ratio(checker: &mut Checker<'_>, table: &Table, diameter_m: f64) -> Measure {
    let ratio = table.given_within("pitch_ratio", PITCH_SPREAD);
    let Some(pitch) = table.given_within("pitch", PITCH_SPREAD) else {
        return ratio.unwrap_or_else(|| table.default_of("pitch_ratio"));
    };
    let from_pitch =
        Measure::given(pitch.value / diameter_m).with_spread(pitch.spread / diameter_m);
    if ratio.is_some() {
        let message = "the propeller has both `pitch` and `pitch_ratio`";
        checker.error(
            table.place_of("pitch_ratio"),
            message,
            "keep the measured one",
        );
    } else if !(from_pitch.value.is_nan() || (0.3..=3.0).contains(&from_pitch.value)) {
        let message = format!(
            "a pitch of {:.2} diameters is not plausible",
            from_pitch.value
        );
        let help = "usual are 1.2 to 1.8 diameters; is the unit right?";
        checker.error(table.place_of("pitch"), message, help);
    }
    from_pitch
}
