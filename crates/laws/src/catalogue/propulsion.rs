//! Entries: propeller and disc.

use super::Bounds::{Any, NotNegative, Positive, Within};
use super::{Checked, Kind, Law, Told, choice, input, optional, output};
use crate::{
    cavitation, hull_suction, immersed_disc, open_water, surface_propeller, ventilated_plate,
};

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
        Ok(Told::new(&[kt, kq, efficiency], w.in_range && !low).with(notes))
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
        Ok(Told::new(&out, p.in_range))
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
        Ok(Told::new(&[d.area_ratio, d.wet_turn], d.in_range))
    },
};

pub(super) const SURFACE_LOSS: Law = Law {
    name: "surface-loss",
    summary: "what a heavily loaded propeller near the surface keeps of its thrust and torque",
    inputs: &[input(
        "depth_over_radius",
        Kind::Dimensionless,
        Any,
        "of the shaft below the surface, over the propeller's radius",
    )],
    outputs: &[
        output(
            "thrust_ratio",
            Kind::Dimensionless,
            "thrust over that deep down",
        ),
        output(
            "torque_ratio",
            Kind::Dimensionless,
            "torque over that deep down",
        ),
    ],
    validity: "standstill to the hump; depth over radius 0 to 1.3, nothing lost beyond",
    source: "Minsaas, Faltinsen, Persson 1983; Smogeli 2006 (from memory)",
    checked: Checked::Theory,
    run: |v| {
        let left = crate::surface_loss::surface_loss(v.get("depth_over_radius"))?;
        Ok(Told::new(
            &[left.thrust_ratio, left.torque_ratio],
            left.in_range,
        ))
    },
};

pub(super) const SURFACE_PROPELLER: Law = Law {
    name: "surface-propeller",
    summary: "thrust, torque, lift and side force of a propeller that cuts the surface",
    inputs: &[
        input("blades", Kind::Count, Within(1.0, 12.0), "number of blades"),
        input(
            "area_ratio",
            Kind::Dimensionless,
            Within(0.02, 1.5),
            "expanded blade area over disc area",
        ),
        input(
            "pitch_ratio",
            Kind::Dimensionless,
            Within(0.1, 5.0),
            "effective pitch over diameter, cup included",
        ),
        input(
            "advance",
            Kind::Dimensionless,
            Within(0.0, 1000.0),
            "speed over turns per second times diameter",
        ),
        input(
            "immersion_ratio",
            Kind::Dimensionless,
            Any,
            "depth of the lowest tip over diameter",
        ),
        optional(
            input(
                "shaft_angle",
                Kind::Angle,
                Within(-0.78, 0.78),
                "of the flow, propeller end down positive",
            ),
            0.0,
        ),
        optional(
            input(
                "yaw",
                Kind::Angle,
                Within(-0.78, 0.78),
                "of the flow across the shaft, to port positive",
            ),
            0.0,
        ),
        optional(
            input(
                "boss_ratio",
                Kind::Dimensionless,
                Within(0.05, 0.5),
                "boss over propeller diameter",
            ),
            0.2,
        ),
        optional(
            input(
                "thickness",
                Kind::Dimensionless,
                Within(0.1, 5.0),
                "of the blades over the B series'",
            ),
            1.0,
        ),
        optional(
            input(
                "entry_bias",
                Kind::Dimensionless,
                Within(0.0, 1.0),
                "by which blades pressing down carry more (judgement)",
            ),
            surface_propeller::ENTRY_BIAS,
        ),
        choice("hand", &["right", "left"], "of rotation, seen from astern"),
    ],
    outputs: &[
        output("kt", Kind::Dimensionless, "thrust over rho n^2 D^4"),
        output("kq", Kind::Dimensionless, "torque over rho n^2 D^5"),
        output("kv", Kind::Dimensionless, "upward force over rho n^2 D^4"),
        output("ks", Kind::Dimensionless, "force to port over rho n^2 D^4"),
        output("efficiency", Kind::Dimensionless, "useful over shaft power"),
        output(
            "ventilated",
            Kind::Dimensionless,
            "from 0 wetted to 1 ventilated",
        ),
    ],
    validity: "2 to 5 blades, pitch ratio 0.8 to 2, area ratio 0.3 to 0.8, water within 15 deg of the shaft; \
               carry 25 % on thrust and torque, 50 % on lift and side force; theory, unvalidated when cut by the surface",
    source: "ventilated plate (Kirchhoff, Rayleigh) on blade elements (Glauert 1935, Prandtl 1919); slope set on the B series",
    checked: Checked::Theory,
    run: |v| {
        let right_handed = v.get("hand") == 0.0;
        let blading = surface_propeller::Blading {
            blades: v.get("blades"),
            pitch_ratio: v.get("pitch_ratio"),
            area_ratio: v.get("area_ratio"),
            boss_ratio: v.get("boss_ratio"),
            thickness: v.get("thickness"),
            entry_bias: v.get("entry_bias"),
            right_handed,
        };
        let p = surface_propeller::surface_propeller(
            &blading,
            &surface_propeller::Arriving {
                advance: v.get("advance"),
                immersion: v.get("immersion_ratio"),
                upward_rad: v.get("shaft_angle"),
                to_port_rad: v.get("yaw"),
            },
        )?;
        let k = p.coefficients;
        let out = [k.kt, k.kq, k.vertical, k.side, p.efficiency, p.ventilated];
        Ok(Told::new(&out, p.in_range).with(p.notes))
    },
};

pub(super) const HULL_SUCTION: Law = Law {
    name: "hull-suction",
    summary: "pull of a propeller on the hull bottom ahead of it",
    inputs: &[
        input("thrust", Kind::Force, Any, "of the propeller"),
        input("speed", Kind::Speed, NotNegative, "of the boat"),
        input("diameter", Kind::Length, Positive, "of the propeller"),
        input(
            "depth",
            Kind::Length,
            Positive,
            "of the shaft below the bottom",
        ),
        input(
            "setback",
            Kind::Length,
            Any,
            "of the disc behind the bottom; negative under it",
        ),
        input("length", Kind::Length, Positive, "of bottom ahead"),
        input("width", Kind::Length, Positive, "of bottom"),
        optional(input("density", Kind::Density, Positive, "of water"), 998.2),
    ],
    outputs: &[
        output("force", Kind::Force, "up; negative pulls the stern down"),
        output(
            "moment",
            Kind::Torque,
            "about the bottom's after edge, bow up",
        ),
        output("ahead", Kind::Length, "of the after edge, where it acts"),
        output("induced", Kind::Speed, "added at the disc"),
    ],
    validity: "flat wetted bottom level with the shaft; no measurement at our size, carry 50 %",
    source: "Rankine and Froude's disc as a sheet of sinks; Lamb, Hydrodynamics",
    checked: Checked::Theory,
    run: |v| {
        let field = hull_suction::SuctionField::new(&hull_suction::HullSuction {
            diameter_m: v.get("diameter"),
            depth_m: v.get("depth"),
            setback_m: v.get("setback"),
            length_m: v.get("length"),
            width_m: v.get("width"),
        })?;
        let s = field.suction(v.get("thrust"), v.get("speed"), v.get("density"))?;
        let out = [s.force_n, s.moment_n_m, s.ahead_m, s.induced_m_s];
        Ok(Told::new(&out, true))
    },
};

pub(super) const CAVITATION: Law = Law {
    name: "cavitation",
    summary: "whether a submerged propeller's blades are loaded past cavitation",
    inputs: &[
        input("thrust", Kind::Force, Any, "of the propeller"),
        input("diameter", Kind::Length, Positive, "of the propeller"),
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
        input("speed", Kind::Speed, NotNegative, "of the water"),
        input("shaft_speed", Kind::RotationSpeed, Positive, "shaft speed"),
        optional(
            input("depth", Kind::Length, Any, "of the hub below the surface"),
            0.0,
        ),
        optional(
            input("pressure", Kind::Pressure, NotNegative, "of the air"),
            101_325.0,
        ),
        optional(
            input(
                "vapour_pressure",
                Kind::Pressure,
                NotNegative,
                "of the water",
            ),
            2339.0,
        ),
        optional(input("density", Kind::Density, Positive, "of water"), 998.2),
    ],
    outputs: &[
        output(
            "cavitation_number",
            Kind::Dimensionless,
            "on the speed at 0.7 radius",
        ),
        output(
            "thrust_loading",
            Kind::Dimensionless,
            "thrust over projected area and the same pressure",
        ),
        output(
            "limit_5_percent",
            Kind::Dimensionless,
            "loading at 5 % back cavitation",
        ),
        output(
            "limit_10_percent",
            Kind::Dimensionless,
            "at 10 %, heavily loaded sections",
        ),
        output("breakdown", Kind::Dimensionless, "at thrust breakdown"),
        output("used", Kind::Dimensionless, "loading over the 5 % limit"),
    ],
    validity: "wholly submerged, cavitation number 0.1 to 1.5; small propellers cavitate later",
    source: "Burrill and Emerson 1963 as fitted by Molland, Turnock, Hudson 2011; Blount and Fox 1978 (mostly from memory)",
    checked: Checked::Theory,
    run: |v| {
        let c = cavitation::cavitation(&cavitation::Working {
            thrust_n: v.get("thrust"),
            diameter_m: v.get("diameter"),
            area_ratio: v.get("area_ratio"),
            pitch_ratio: v.get("pitch_ratio"),
            speed_m_s: v.get("speed"),
            shaft_rad_s: v.get("shaft_speed"),
            depth_m: v.get("depth"),
            pressure_pa: v.get("pressure"),
            vapour_pressure_pa: v.get("vapour_pressure"),
            density_kg_m3: v.get("density"),
        })?;
        let out = [
            c.cavitation_number,
            c.thrust_loading,
            c.limit_5_percent,
            c.limit_10_percent,
            c.breakdown,
            c.used,
        ];
        Ok(Told::new(&out, c.in_range).with(c.notes))
    },
};
