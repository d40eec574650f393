//! Entries: propeller and disc.

use super::Bounds::{Any, Positive, Within};
use super::{Checked, Kind, Law, Run, input, optional, output};
use crate::{immersed_disc, open_water, ventilated_plate};

pub(super) const OPEN_WATER: Law = Law {
    name: "open-water",
    summary: "thrust, torque and efficiency of a submerged propeller",
    inputs: &[
        input("blades", Kind::Count, Within(1.0, 12.0), "number of blades"),
        input(
            "area_ratio",
            Kind::Dimensionless,
            Positive,
            "expanded blade area over disc area",
        ),
        input(
            "pitch_ratio",
            Kind::Dimensionless,
            Positive,
            "pitch over diameter",
        ),
        input(
            "advance",
            Kind::Dimensionless,
            Any,
            "speed over turns per second times diameter",
        ),
        optional(
            input(
                "reynolds",
                Kind::Dimensionless,
                Positive,
                "at 0.75 radius; corrects above 2e6",
            ),
            2e6,
        ),
    ],
    outputs: &[
        output("kt", Kind::Dimensionless, "thrust over rho n^2 D^4"),
        output("kq", Kind::Dimensionless, "torque over rho n^2 D^5"),
        output("efficiency", Kind::Dimensionless, "open-water efficiency"),
    ],
    validity: "2 to 7 blades, area ratio 0.30 to 1.05, pitch ratio 0.5 to 1.4, Reynolds number 2e6 and up; \
               small propellers run below it: carry 5 %",
    source: "Oosterveld and van Oossanen 1975; Bernitsas, Ray, Kinley 1981",
    checked: Checked::Theory,
    run: |v| {
        let p = open_water::Propeller {
            blades: v.get("blades"),
            area_ratio: v.get("area_ratio"),
            pitch_ratio: v.get("pitch_ratio"),
        };
        let advance = v.get("advance");
        let w = open_water::open_water(&p, advance)?;
        let reynolds = v.get("reynolds");
        let (dkt, dkq) = open_water::reynolds_correction(&p, advance, reynolds);
        let (kt, kq) = (w.kt + dkt, w.kq + dkq);
        let drives = w.efficiency > 0.0 && kt > 0.0 && kq > 0.0;
        let efficiency = if drives {
            advance * kt / (std::f64::consts::TAU * kq)
        } else {
            0.0
        };
        let mut notes = w.notes;
        let low = notes.add_if(
            reynolds < 2e6,
            "Reynolds number under 2e6: no correction, carry 5 % or more",
        );
        Ok(Run::new(&[kt, kq, efficiency], w.in_range && !low).with(notes))
    },
};

pub(super) const VENTILATED_PLATE: Law = Law {
    name: "ventilated-plate",
    summary: "a flat plate with an open cavity behind it",
    inputs: &[input("angle", Kind::Angle, Any, "angle to the stream")],
    outputs: &[
        output(
            "normal_coefficient",
            Kind::Dimensionless,
            "square to the plate",
        ),
        output("lift_coefficient", Kind::Dimensionless, "across the stream"),
        output("drag_coefficient", Kind::Dimensionless, "along the stream"),
        output(
            "centre_of_pressure",
            Kind::Dimensionless,
            "chords ahead of mid-chord",
        ),
    ],
    validity: "two-dimensional, cavity at ambient pressure, 0 to 90 deg",
    source: "Kirchhoff 1869, Rayleigh 1876; Lamb, Hydrodynamics, art. 77-78",
    checked: Checked::Theory,
    run: |v| {
        let p = ventilated_plate::ventilated_plate(v.get("angle"))?;
        let out = [
            p.normal_coefficient,
            p.lift_coefficient,
            p.drag_coefficient,
            p.centre_of_pressure,
        ];
        Ok(Run::new(&out, p.in_range))
    },
};

pub(super) const IMMERSED_DISC: Law = Law {
    name: "immersed-disc",
    summary: "part of a propeller disc below the surface",
    inputs: &[input(
        "immersion_ratio",
        Kind::Dimensionless,
        Any,
        "depth of the lowest tip over diameter",
    )],
    outputs: &[
        output("area_ratio", Kind::Dimensionless, "wet area over disc area"),
        output(
            "wet_turn",
            Kind::Dimensionless,
            "part of a turn for which a tip is wet",
        ),
    ],
    validity: "0 to 1; held at the ends beyond",
    source: "geometry of a circle's segment",
    checked: Checked::Theory,
    run: |v| {
        let d = immersed_disc::immersed_disc(v.get("immersion_ratio"))?;
        Ok(Run::new(&[d.area_ratio, d.wet_turn], d.in_range))
    },
};
