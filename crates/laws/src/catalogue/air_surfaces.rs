//! Entries: air and wings.

use super::Bounds::{Any, NotNegative, Positive, Within};
use super::{Checked, Kind, Law, Told, input, optional, output};
use crate::channel_flow::Channel;
use crate::{air, wing};

pub(super) const AIR: Law = Law {
    name: "air",
    summary: "density and sound speed of dry air",
    inputs: &[
        input(
            "temperature",
            Kind::Temperature,
            Within(173.15, 373.15),
            "air temperature",
        ),
        optional(
            input("pressure", Kind::Pressure, Positive, "air pressure"),
            air::STANDARD_PRESSURE_PA,
        ),
    ],
    outputs: &[
        output("density", Kind::Density, "density"),
        output("sound_speed", Kind::Speed, "speed of sound"),
        output(
            "kinematic_viscosity",
            Kind::KinematicViscosity,
            "kinematic viscosity",
        ),
    ],
    validity: "-40 to 60 degC, 60 to 110 kPa, dry",
    source: "ISO 2533:1975 standard atmosphere",
    checked: Checked::Theory,
    run: |v| {
        let a = air::air(v.get("temperature"), v.get("pressure"))?;
        Ok(Told::new(
            &[
                a.density_kg_m3,
                a.sound_speed_m_s,
                a.kinematic_viscosity_m2_s,
            ],
            a.in_range,
        ))
    },
};

/// Stretches that a tunnel is followed in.
const STRETCHES: u32 = 120;

pub(super) const CHANNEL_FLOW: Law = Law {
    name: "channel-flow",
    summary: "pressure of the air under a straight tunnel roof close over the water",
    inputs: &[
        input("length", Kind::Length, Positive, "of the roof"),
        input("width", Kind::Length, Positive, "between the walls"),
        input(
            "exit_height",
            Kind::Length,
            Positive,
            "roof over water at the trailing edge",
        ),
        input(
            "inlet_height",
            Kind::Length,
            Positive,
            "roof over water at the mouth",
        ),
        optional(
            input(
                "gap",
                Kind::Length,
                NotNegative,
                "open under each side wall",
            ),
            0.0,
        ),
    ],
    outputs: &[
        output(
            "lift_coefficient",
            Kind::Dimensionless,
            "on the roof's area",
        ),
        output(
            "centre_of_pressure",
            Kind::Dimensionless,
            "lengths ahead of the trailing edge",
        ),
    ],
    validity: "heights much less than length and width, walls nearly down to the water; unvalidated on boats",
    source: "Widnall and Barrows 1970; Gallington, Miller and Smith 1972 (from memory)",
    checked: Checked::Theory,
    run: |v| {
        let (width, exit, inlet) = (v.get("width"), v.get("exit_height"), v.get("inlet_height"));
        let mut flow = Channel::leaving(width, exit);
        let step = 1.0 / f64::from(STRETCHES);
        let (mut lift, mut moment) = (0.0, 0.0);
        for i in 0..STRETCHES {
            let place = (f64::from(i) + 0.5) * step;
            let height = exit + (inlet - exit) * place;
            let gaps = 2.0 * v.get("gap");
            let pressure = flow.next(v.get("length") * step, width, height, gaps, 0.0);
            lift += pressure * step;
            moment += pressure * step * place;
        }
        let centre = if lift.abs() > 1e-9 {
            moment / lift
        } else {
            0.5
        };
        let flat = exit.max(inlet) < 0.3 * v.get("length").min(2.0 * width);
        Ok(Told::new(&[lift, centre], flat))
    },
};

pub(super) const WING: Law = Law {
    name: "wing",
    summary: "lift, drag and centre of pressure of a low-aspect-ratio plate, near the water or not",
    inputs: &[
        input(
            "aspect_ratio",
            Kind::Dimensionless,
            Positive,
            "span squared over plan area",
        ),
        input("angle", Kind::Angle, Any, "angle of attack"),
        optional(
            input(
                "zero_lift_drag",
                Kind::Dimensionless,
                NotNegative,
                "drag coefficient without lift",
            ),
            0.02,
        ),
        optional(
            input(
                "height_over_chord",
                Kind::Dimensionless,
                Positive,
                "height of mid-chord over chord",
            ),
            1e6,
        ),
    ],
    outputs: &[
        output("lift_coefficient", Kind::Dimensionless, "on plan area"),
        output("drag_coefficient", Kind::Dimensionless, "on plan area"),
        output(
            "centre_of_pressure",
            Kind::Dimensionless,
            "chords behind the leading edge",
        ),
        output("stalled", Kind::Dimensionless, "0 attached, 1 stalled"),
    ],
    validity: "aspect ratio 0.3 to 6, height at least 0.1 chord, to 20 deg",
    source: "Helmbold 1942; after Polhamus 1966; McCormick (ground)",
    checked: Checked::Measurement,
    run: |v| {
        let w = wing::Wing {
            aspect_ratio: v.get("aspect_ratio"),
            zero_lift_drag: v.get("zero_lift_drag"),
            height_over_chord: v.get("height_over_chord"),
        };
        let f = wing::wing(&w, v.get("angle"))?;
        let out = [
            f.lift_coefficient,
            f.drag_coefficient,
            f.centre_of_pressure,
            f.stalled,
        ];
        Ok(Told::new(&out, f.in_range))
    },
};
