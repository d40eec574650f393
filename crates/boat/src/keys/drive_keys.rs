//! `[[drive]]` and the tables inside it.

use super::craft_keys::ASSUMED;
use super::{Form, Need, Section, angle, assumed, assumed_deg, key, length, place, quantity};
use crate::kind::Kind;
use std::f64::consts::PI;

const RPM: f64 = PI / 30.0;

pub(super) static DRIVE: Section = Section {
    name: "drive",
    doc: "One propeller and what turns it; repeat for each propeller. Masses are not given here: list battery, motor, controller, strut and propeller as parts.",
    keys: &[
        key(
            "name",
            Form::Text,
            Need::Derived("left or right by the propeller's side; none for a single drive"),
            "To tell several drives apart.",
        ),
        quantity(
            "gear_ratio",
            Kind::Number,
            [0.2, 10.0],
            assumed(1.0, 0.0, "direct drive"),
            "Motor turns per propeller turn.",
        ),
        key(
            "battery",
            Form::Table(&BATTERY),
            Need::Required,
            "The pack that feeds this motor.",
        ),
        key(
            "controller",
            Form::Table(&CONTROLLER),
            Need::Optional,
            "Speed controller and leads.",
        ),
        key("motor", Form::Table(&MOTOR), Need::Required, "The motor."),
        key(
            "cooling",
            Form::Table(&COOLING),
            Need::Optional,
            "Cooling water, from pickup to outlet. Without it nothing is water-cooled.",
        ),
        key(
            "shaft",
            Form::Table(&SHAFT),
            Need::Optional,
            "The propeller shaft.",
        ),
        key(
            "strut",
            Form::Table(&STRUT),
            Need::Optional,
            "The bracket that holds the shaft's end.",
        ),
        key(
            "propeller",
            Form::Table(&PROPELLER),
            Need::Required,
            "The propeller.",
        ),
        ASSUMED,
    ],
};

static BATTERY: Section = Section {
    name: "drive.battery",
    doc: "Lithium pack. Two drives on one pack: give each drive half the parallel cells and half the capacity.",
    keys: &[
        key(
            "cells",
            Form::Cells,
            Need::Optional,
            "Cells in series and parallel as on the label: `3S`, `4S2P`.",
        ),
        key(
            "series",
            Form::Count { min: 1, max: 16 },
            Need::Optional,
            "Cells in series, instead of `cells`.",
        ),
        key(
            "parallel",
            Form::Count { min: 1, max: 16 },
            Need::Derived("1"),
            "Cells in parallel, beside `series`.",
        ),
        quantity(
            "capacity",
            Kind::Charge,
            [180.0, 360_000.0],
            Need::Required,
            "Of the whole pack.",
        ),
        quantity(
            "cell_resistance",
            Kind::Resistance,
            [1e-4, 0.5],
            Need::Derived("12 mohm × Ah of one cell, ± 40 % (common practice, no source)"),
            "One cell, warm.",
        ),
        quantity(
            "state_of_charge",
            Kind::Fraction,
            [0.02, 1.0],
            assumed(0.95, 0.04, "the first half minute from full"),
            "Charge left at the moment asked about: top speed and current are told for it.",
        ),
        quantity(
            "temperature",
            Kind::Temperature,
            [-10.0, 70.0],
            assumed(
                25.0,
                10.0,
                "a pack warmed by running (common practice, no source)",
            ),
            "Of the cells.",
        ),
        quantity(
            "max_temperature",
            Kind::Temperature,
            [30.0, 90.0],
            assumed(
                55.0,
                3.0,
                "where builders stop (common practice, no source)",
            ),
            "The maker's limit.",
        ),
        quantity(
            "mass",
            Kind::Mass,
            [0.005, 20.0],
            Need::Derived("22 g a cell and ampere hour (common practice, no source)"),
            "For heat only; the mass carried is the part's.",
        ),
        quantity(
            "fuse",
            Kind::Current,
            [1.0, 2000.0],
            Need::Optional,
            "What the fuse is marked with, if there is one.",
        ),
        quantity(
            "connector",
            Kind::Current,
            [1.0, 2000.0],
            Need::Optional,
            "The connector maker's continuous rating.",
        ),
    ],
};

static CONTROLLER: Section = Section {
    name: "drive.controller",
    doc: "Speed controller, leads and connectors.",
    keys: &[
        quantity(
            "resistance",
            Kind::Resistance,
            [1e-5, 0.2],
            assumed(
                0.004,
                0.002,
                "controller, leads and connectors together (common practice, no source)",
            ),
            "Conduction path plus leads and connectors.",
        ),
        quantity(
            "rated_current",
            Kind::Current,
            [1.0, 2000.0],
            Need::Optional,
            "The maker's continuous rating.",
        ),
        length(
            "lead",
            [0.0, 3.0],
            assumed(0.1, 0.1, "short added leads (common practice, no source)"),
            "Wire added between battery and controller.",
        ),
        quantity(
            "current_limit",
            Kind::Current,
            [1.0, 2000.0],
            Need::Optional,
            "Motor current at which the controller holds back, if it does.",
        ),
        quantity(
            "capacitor",
            Kind::Capacitance,
            [1e-6, 0.1],
            Need::Optional,
            "Capacitors at its input together.",
        ),
        quantity(
            "max_temperature",
            Kind::Temperature,
            [40.0, 150.0],
            assumed(
                75.0,
                5.0,
                "where builders stop (common practice, no source)",
            ),
            "The maker's limit.",
        ),
        quantity(
            "mass",
            Kind::Mass,
            [0.003, 5.0],
            Need::Derived("90 g, ± 40 %"),
            "For heat only; the mass carried is the part's.",
        ),
    ],
};

static COOLING: Section = Section {
    name: "drive.cooling",
    doc: "Water line: pickup, tube, coils or jackets in order, outlet.",
    keys: &[
        place(
            "outlet",
            Need::Required,
            "Where the water leaves the hull: a line without an outlet carries nothing.",
        ),
        length(
            "pickup",
            [0.0005, 0.02],
            assumed(0.0025, 0.0005, "usual hole (common practice, no source)"),
            "Diameter of the pickup's hole.",
        ),
        length(
            "bore",
            [0.0005, 0.02],
            assumed(0.003, 0.0005, "usual tube (common practice, no source)"),
            "Inside diameter of the tube.",
        ),
        length(
            "length",
            [0.01, 5.0],
            assumed(0.4, 0.15, "usual run (common practice, no source)"),
            "Of tube, without coils and jackets.",
        ),
        key(
            "order",
            Form::Choice(&[
                "controller, motor",
                "motor, controller",
                "motor",
                "controller",
            ]),
            Need::Derived("controller, motor"),
            "What the water cools, in the order it meets it.",
        ),
        length(
            "rise",
            [0.0, 0.5],
            Need::Derived("from the outlet's height above the boat's bottom, at least 30 mm"),
            "Highest point of the line above the water at speed.",
        ),
        quantity(
            "recovery",
            Kind::Fraction,
            [0.05, 1.0],
            assumed(0.6, 0.3, "pickups differ (judgement)"),
            "Share of the ram pressure that the pickup keeps.",
        ),
        key(
            "lid",
            Form::Choice(&["vented", "sealed"]),
            Need::Derived("vented"),
            "Whether air passes through the hull.",
        ),
    ],
};

static MOTOR: Section = Section {
    name: "drive.motor",
    doc: "Motor by its three constants. Resistance and no-load current are estimated from diameter and length when they are not known.",
    keys: &[
        quantity(
            "kv",
            Kind::MotorConstant,
            [50.0 * RPM, 30_000.0 * RPM],
            Need::Required,
            "No-load speed per volt.",
        ),
        quantity(
            "resistance",
            Kind::Resistance,
            [5e-4, 5.0],
            Need::Derived("from can size and kv, ± 50 %"),
            "Between two leads at 20 °C.",
        ),
        quantity(
            "no_load_current",
            Kind::Current,
            [0.02, 50.0],
            Need::Derived("from can size and kv, ± 60 %"),
            "At about the working speed.",
        ),
        quantity(
            "winding_temperature",
            Kind::Temperature,
            [-20.0, 220.0],
            assumed(
                80.0,
                25.0,
                "copper runs hotter than the can, which builders read at 50 to 65 degC (judgement)",
            ),
            "Of the copper while running hard: it resists more when hot. Runs in time work theirs out.",
        ),
        quantity(
            "max_current",
            Kind::Current,
            [0.5, 2000.0],
            Need::Optional,
            "The maker's limit.",
        ),
        quantity(
            "max_temperature",
            Kind::Temperature,
            [40.0, 220.0],
            assumed(
                75.0,
                5.0,
                "where builders stop (common practice, no source)",
            ),
            "The maker's limit at can or winding.",
        ),
        key(
            "poles",
            Form::Count { min: 2, max: 40 },
            Need::Optional,
            "Magnet poles, an even number.",
        ),
        length("diameter", [0.005, 0.3], Need::Optional, "Of the can."),
        length("length", [0.005, 0.5], Need::Optional, "Of the can."),
        quantity(
            "mass",
            Kind::Mass,
            [0.002, 20.0],
            Need::Optional,
            "For heat only; the mass carried is the part's.",
        ),
    ],
};

static SHAFT: Section = Section {
    name: "drive.shaft",
    doc: "Propeller shaft: wire, flex cable or solid.",
    keys: &[
        angle(
            "angle",
            [-20.0, 20.0],
            assumed_deg(
                0.0,
                1.0,
                "parallel to the bottom (common practice, no source)",
            ),
            "To the boat's x axis; positive is propeller end down.",
        ),
        angle(
            "toe",
            [-20.0, 20.0],
            assumed_deg(
                0.0,
                0.5,
                "parallel to the centreline (common practice, no source)",
            ),
            "To the centreline seen from above; positive pushes the bow to port.",
        ),
        quantity(
            "efficiency",
            Kind::Fraction,
            [0.3, 1.0],
            Need::Derived("losses worked out from tube, bend, gap and lubricant"),
            "Share of the torque that reaches the propeller. Give it only when you measured it: it replaces everything below.",
        ),
        length(
            "tube",
            [0.01, 3.0],
            assumed(0.2, 0.06, "usual run (common practice, no source)"),
            "Length of the tube that cable, wire or shaft runs in.",
        ),
        angle(
            "bend",
            [0.0, 180.0],
            Need::Derived(
                "20 ± 10 deg for a cable, 15 ± 8 deg for a wire, none for a solid shaft (common practice, no source)",
            ),
            "All bends of the tube added up.",
        ),
        length(
            "gap",
            [0.00002, 0.01],
            Need::Derived(
                "0.25 ± 0.1 mm for a cable in its liner, 1 ± 0.5 mm for a wire or shaft that runs in bushes (common practice, no source)",
            ),
            "Clearance between cable, wire or shaft and its tube.",
        ),
        key(
            "lubricant",
            Form::Choice(&["grease", "oil", "water"]),
            Need::Derived("grease"),
            "What fills the tube.",
        ),
        length(
            "diameter",
            [0.0005, 0.05],
            Need::Optional,
            "Of the shaft or cable.",
        ),
        length("length", [0.005, 3.0], Need::Optional, "Between bearings."),
        key(
            "kind",
            Form::Choice(&["flex", "wire", "solid"]),
            Need::Derived("flex"),
            "`flex` is a cable in a liner, `wire` a spring-steel wire, `solid` a straight shaft.",
        ),
        key(
            "ends",
            Form::Choice(&["pinned", "clamped-pinned", "clamped"]),
            Need::Derived("clamped-pinned: a collet and a bush"),
            "How the bearings hold it; a bush shorter than two diameters lets it tilt.",
        ),
        length(
            "stub",
            [0.0, 0.2],
            Need::Optional,
            "Free end from the last bearing to the propeller.",
        ),
    ],
};

static STRUT: Section = Section {
    name: "drive.strut",
    doc: "The bracket that holds the shaft's end: its blade, and the barrel at its foot. Its mass is a part's.",
    keys: &[
        length(
            "barrel_diameter",
            [0.001, 0.1],
            assumed(0.007, 0.002, "usual barrel (common practice, no source)"),
            "Outside diameter of the barrel that holds the shaft.",
        ),
        length(
            "barrel_length",
            [0.0, 0.3],
            assumed(0.03, 0.01, "usual barrel (common practice, no source)"),
            "Length of that barrel.",
        ),
        place(
            "at",
            Need::Derived("just ahead of the propeller, root one span above the shaft"),
            "Leading edge at the root (upper end).",
        ),
        length(
            "chord",
            [0.001, 0.5],
            assumed(
                0.012,
                0.004,
                "usual strut blade (common practice, no source)",
            ),
            "Leading to trailing edge.",
        ),
        length(
            "span",
            [0.001, 0.5],
            Need::Required,
            "From root to shaft barrel.",
        ),
        length(
            "thickness",
            [0.0002, 0.1],
            assumed(
                0.003,
                0.001,
                "usual strut blade (common practice, no source)",
            ),
            "Greatest thickness.",
        ),
        angle(
            "lean",
            [-90.0, 90.0],
            assumed_deg(0.0, 0.0, "upright"),
            "From vertical; positive moves the lower end to port.",
        ),
        angle(
            "toe",
            [-20.0, 20.0],
            assumed_deg(
                0.0,
                0.5,
                "parallel to the centreline (common practice, no source)",
            ),
            "Fixed angle to the flow; positive pushes to port.",
        ),
        key(
            "section",
            Form::Choice(&["plate", "wedge"]),
            Need::Derived("plate"),
            "`wedge` is sharp ahead and square behind.",
        ),
    ],
};

static PROPELLER: Section = Section {
    name: "drive.propeller",
    doc: "Propeller as marked, or better as measured. Give `pitch` or `pitch_ratio`.",
    keys: &[
        length("diameter", [0.008, 0.5], Need::Required, "Tip circle."),
        length(
            "pitch",
            [0.004, 1.5],
            Need::Optional,
            "Effective pitch. Without a tolerance it carries ± 6 %, since marked pitch is nominal (common practice, no source).",
        ),
        quantity(
            "pitch_ratio",
            Kind::Number,
            [0.3, 3.0],
            assumed(1.4, 0.15, "usual ratio (common practice, no source)"),
            "Effective pitch over diameter. Without a tolerance it carries ± 6 %.",
        ),
        key(
            "blades",
            Form::Count { min: 1, max: 8 },
            Need::Derived("2"),
            "Number of blades.",
        ),
        quantity(
            "area_ratio",
            Kind::Number,
            [0.05, 1.5],
            Need::Derived("0.2 per blade, ± 35 % (from memory)"),
            "Expanded blade area over disc area.",
        ),
        length(
            "cup",
            [0.0, 0.01],
            Need::Optional,
            "How far the trailing edge is bent down, when the pitch is that of the flat face. Leave it out when the pitch was measured with the cup.",
        ),
        key(
            "material",
            Form::Choice(&[
                "printed-pla",
                "printed-petg",
                "printed-nylon-carbon",
                "moulded-nylon-carbon",
                "aluminium",
                "bronze",
                "beryllium-copper",
                "stainless",
            ]),
            Need::Optional,
            "For the stress at the blade's root.",
        ),
        key(
            "measured",
            Form::Tables(&MEASURED),
            Need::Optional,
            "What you measured of this propeller: corrects the law at these advances.",
        ),
        place("at", Need::Required, "Centre of the disc."),
        key(
            "rotation",
            Form::Choice(&["left", "right"]),
            Need::Derived("left, with a warning"),
            "Seen from astern: `left` turns anticlockwise, `right` clockwise.",
        ),
        quantity(
            "lift_fraction",
            Kind::Fraction,
            [-0.5, 1.0],
            assumed(
                0.2,
                0.15,
                "between blade elements, 0.12, and practice, 0.15 to 0.5",
            ),
            "Upward force as a share of thrust when half immersed.",
        ),
    ],
};

static MEASURED: Section = Section {
    name: "drive.propeller.measured",
    doc: "One measurement of the propeller on the boat or on a rig.",
    keys: &[
        quantity(
            "speed",
            Kind::Speed,
            [0.0, 60.0],
            Need::Required,
            "Through the water.",
        ),
        quantity(
            "shaft_speed",
            Kind::ShaftSpeed,
            [100.0 * RPM, 120_000.0 * RPM],
            Need::Required,
            "Of the propeller.",
        ),
        quantity(
            "thrust",
            Kind::Force,
            [0.01, 5000.0],
            Need::Required,
            "Along the shaft.",
        ),
        quantity(
            "torque",
            Kind::Torque,
            [1e-5, 500.0],
            Need::Optional,
            "At the propeller.",
        ),
        quantity(
            "immersion",
            Kind::Fraction,
            [0.1, 2.0],
            assumed(0.5, 0.15, "half the disc (common practice, no source)"),
            "Depth of the lowest tip over the diameter.",
        ),
    ],
};
