//! Entries: what recordings are read by.

use super::Bounds::{Any, NotNegative, Positive};
use super::{Checked, Kind, Law, Told, input, optional, output};
use crate::doppler_pass;
use crate::pulse_edge;

/// Air at 20 degC.
const SOUND_SPEED_M_S: f64 = 343.2;

pub(super) const DOPPLER_PASS: Law = Law {
    name: "doppler-pass",
    summary: "frequency heard as a tone passes on a straight line",
    inputs: &[
        input("speed", Kind::Speed, NotNegative, "speed of the source"),
        optional(
            input(
                "sound_speed",
                Kind::Speed,
                Positive,
                "speed of sound; air at 20 degC unless given",
            ),
            SOUND_SPEED_M_S,
        ),
        input("tone", Kind::Frequency, Positive, "frequency at the source"),
        input("closest", Kind::Length, NotNegative, "closest distance"),
        input(
            "time",
            Kind::Time,
            Any,
            "when it is heard, from when the source is closest",
        ),
    ],
    outputs: &[
        output("frequency", Kind::Frequency, "frequency heard"),
        output(
            "emission_time",
            Kind::Time,
            "when the sound left the source",
        ),
        output(
            "source_position",
            Kind::Length,
            "where the source was then, past the closest point",
        ),
        output("distance", Kind::Length, "way the sound travelled"),
    ],
    validity: "below the speed of sound; straight path, steady speed, still air, no echo",
    source: "kinematics of a moving source with exact retarded time",
    checked: Checked::Theory,
    run: |v| {
        let p = doppler_pass::doppler_pass(
            v.get("speed"),
            v.get("sound_speed"),
            v.get("tone"),
            v.get("closest"),
            v.get("time"),
        )?;
        Ok(Told::new(
            &[
                p.frequency_hz,
                p.emission_time_s,
                p.source_position_m,
                p.distance_m,
            ],
            true,
        ))
    },
};

pub(super) const PULSE_EDGE: Law = Law {
    name: "pulse-edge",
    summary: "width error of a servo pulse with slow edges",
    inputs: &[
        input(
            "resistance",
            Kind::Resistance,
            NotNegative,
            "resistance of the driver and lead",
        ),
        input(
            "capacitance",
            Kind::Capacitance,
            NotNegative,
            "capacitance of lead and input",
        ),
        input("drive", Kind::Voltage, Positive, "level the driver reaches"),
        input(
            "threshold_rise",
            Kind::Voltage,
            Positive,
            "level at which a rise is read, below drive",
        ),
        input(
            "threshold_fall",
            Kind::Voltage,
            Positive,
            "level at which a fall is read, below drive",
        ),
    ],
    outputs: &[
        output("width_error", Kind::Time, "width read less width sent"),
        output("time_constant", Kind::Time, "resistance times capacitance"),
        output("rise_delay", Kind::Time, "delay of the rise"),
        output("fall_delay", Kind::Time, "delay of the fall"),
    ],
    validity: "pulse and gap several time constants long; thresholds below the drive",
    source: "first-order RC circuit",
    checked: Checked::Theory,
    run: |v| {
        let e = pulse_edge::pulse_edge(
            v.get("resistance"),
            v.get("capacitance"),
            v.get("drive"),
            v.get("threshold_rise"),
            v.get("threshold_fall"),
        )?;
        Ok(Told::new(
            &[
                e.width_error_s,
                e.time_constant_s,
                e.rise_delay_s,
                e.fall_delay_s,
            ],
            true,
        ))
    },
};
