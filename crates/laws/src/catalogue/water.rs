//! Entries: water, friction, and blades in it.

use super::Bounds::{Any, NotNegative, Positive, Within};
use super::{Checked, Input, Kind, Law, Told, input, optional, output};
use crate::{fresh_water, friction_line, strut_drag, surface_blade, wedge_drag};

pub(super) const DENSITY: Input = optional(
    input(
        "density",
        Kind::Density,
        Positive,
        "water density; fresh water at 20 degC unless given",
    ),
    998.2,
);
pub(super) const VISCOSITY: Input = optional(
    input(
        "kinematic_viscosity",
        Kind::KinematicViscosity,
        Positive,
        "water; fresh at 20 degC unless given",
    ),
    1.0034e-6,
);

pub(super) const FRESH_WATER: Law = Law {
    name: "fresh-water",
    summary: "density, viscosity, vapour pressure and surface tension of fresh water",
    inputs: &[input(
        "temperature",
        Kind::Temperature,
        Within(253.15, 383.15),
        "water temperature",
    )],
    outputs: &[
        output("density", Kind::Density, "density"),
        output(
            "kinematic_viscosity",
            Kind::KinematicViscosity,
            "kinematic viscosity",
        ),
        output("vapour_pressure", Kind::Pressure, "vapour pressure"),
        output(
            "surface_tension",
            Kind::SurfaceTension,
            "surface tension against air",
        ),
    ],
    validity: "0 to 100 degC at atmospheric pressure",
    source: "Kell 1975; IAPWS SR6-08; Wagner and Pruss 2002; IAPWS R1-76(2014)",
    checked: Checked::Measurement,
    run: |v| {
        let w = fresh_water::fresh_water(v.get("temperature"))?;
        let out = [
            w.density_kg_m3,
            w.kinematic_viscosity_m2_s,
            w.vapour_pressure_pa,
            w.surface_tension_n_m,
        ];
        Ok(Told::new(&out, w.in_range))
    },
};

pub(super) const FRICTION_LINE: Law = Law {
    name: "friction-line",
    summary: "skin friction of a smooth or rough surface as a band",
    inputs: &[
        input(
            "reynolds",
            Kind::Dimensionless,
            Within(100.0, 1e12),
            "speed times wetted length over viscosity",
        ),
        optional(
            input(
                "roughness_over_length",
                Kind::Dimensionless,
                Within(0.0, 1.0),
                "equivalent sand roughness over wetted length",
            ),
            0.0,
        ),
    ],
    outputs: &[
        output("cf_turbulent", Kind::Dimensionless, "ITTC 1957 line"),
        output("cf_laminar", Kind::Dimensionless, "Blasius"),
        output(
            "cf_low",
            Kind::Dimensionless,
            "the least a surface can have",
        ),
        output(
            "cf_high",
            Kind::Dimensionless,
            "the most a surface can have",
        ),
        output(
            "cf_rough",
            Kind::Dimensionless,
            "turbulent with its roughness",
        ),
    ],
    validity: "Reynolds number 5e5 to 1e9; below it laminar and turbulent flow differ two- to threefold; length over roughness 100 to 1e6",
    source: "ITTC 1957; Blasius 1908; Kirkman and Kloetzli, as in Molland, Turnock, Hudson 2011; Prandtl and Schlichting 1934 (from memory)",
    checked: Checked::Theory,
    run: |v| {
        let f =
            friction_line::rough_friction_line(v.get("reynolds"), v.get("roughness_over_length"))?;
        let out = [
            f.cf_turbulent,
            f.cf_laminar,
            f.cf_low,
            f.cf_high,
            f.cf_rough,
        ];
        Ok(Told::new(&out, f.in_range))
    },
};

pub(super) const STRUT_DRAG: Law = Law {
    name: "strut-drag",
    summary: "drag of a strut, rudder or fin running straight",
    inputs: &[
        input("chord", Kind::Length, Positive, "chord"),
        input("thickness", Kind::Length, Positive, "greatest thickness"),
        input("span", Kind::Length, NotNegative, "wetted span"),
        input("speed", Kind::Speed, NotNegative, "speed through the water"),
        optional(
            input(
                "surface_piercing",
                Kind::Count,
                Within(0.0, 1.0),
                "1 when it crosses the surface, else 0",
            ),
            1.0,
        ),
        optional(
            input(
                "junctions",
                Kind::Count,
                Within(0.0, 10.0),
                "junctions with a hull below water",
            ),
            0.0,
        ),
        DENSITY,
        VISCOSITY,
    ],
    outputs: &[
        output(
            "drag",
            Kind::Force,
            "all parts, middle of the friction band",
        ),
        output(
            "drag_low",
            Kind::Force,
            "with the most laminar flow there can be",
        ),
        output("drag_high", Kind::Force, "turbulent throughout"),
        output("section", Kind::Force, "section drag"),
        output("spray", Kind::Force, "spray drag"),
        output("junction", Kind::Force, "junction drag"),
    ],
    validity: "streamlined sections, thickness 0.03 to 0.25 of chord, Froude number on chord above 3",
    source: "Hoerner 1965 as in Molland, Turnock, Hudson 2011, eqs 3.42, 3.43, 3.45",
    checked: Checked::Theory,
    run: |v| {
        let strut = strut_drag::Strut {
            chord_m: v.get("chord"),
            thickness_m: v.get("thickness"),
            span_m: v.get("span"),
            surface_piercing: v.get("surface_piercing"),
            junctions: v.get("junctions") as u32,
        };
        let stream = strut_drag::Stream {
            speed_m_s: v.get("speed"),
            density_kg_m3: v.get("density"),
            kinematic_viscosity_m2_s: v.get("kinematic_viscosity"),
        };
        let d = strut_drag::strut_drag(&strut, &stream)?;
        let out = [
            d.drag_n,
            d.drag_low_n,
            d.drag_high_n,
            d.section_n,
            d.spray_n,
            d.junction_n,
        ];
        Ok(Told::new(&out, d.in_range))
    },
};

pub(super) const SURFACE_BLADE: Law = Law {
    name: "surface-blade",
    summary: "side force of a surface-piercing rudder or fin, wetted and ventilated",
    inputs: &[
        input(
            "immersed_aspect_ratio",
            Kind::Dimensionless,
            Positive,
            "depth over chord",
        ),
        input("angle", Kind::Angle, Any, "angle to the stream"),
    ],
    outputs: &[
        output(
            "side_coefficient",
            Kind::Dimensionless,
            "side force on immersed area",
        ),
        output(
            "induced_drag_coefficient",
            Kind::Dimensionless,
            "drag from side force, on immersed area",
        ),
        output(
            "wetted_coefficient",
            Kind::Dimensionless,
            "side force if wetted",
        ),
        output(
            "ventilated_coefficient",
            Kind::Dimensionless,
            "side force if ventilated",
        ),
        output("ventilated", Kind::Dimensionless, "0 wetted, 1 ventilated"),
    ],
    validity: "immersed aspect ratio 0.3 to 2, depth Froude number above 2, to 30 deg",
    source: "Helmbold 1942; Harwood, Young, Ceccio 2016; free-streamline plate",
    checked: Checked::Measurement,
    run: |v| {
        let b = surface_blade::surface_blade(v.get("immersed_aspect_ratio"), v.get("angle"))?;
        let mut notes = crate::Notes::default();
        notes.add_if(
            b.either_state,
            "wetted here unless already ventilated: between 6 and 14.5 deg either can hold",
        );
        let out = [
            b.side_coefficient,
            b.induced_drag_coefficient,
            b.wetted_coefficient,
            b.ventilated_coefficient,
            b.ventilated,
        ];
        Ok(Told::new(&out, b.in_range).with(notes))
    },
};

pub(super) const WEDGE_DRAG: Law = Law {
    name: "wedge-drag",
    summary: "pressure drag of a thin wedge rudder or fin with a dry base",
    inputs: &[
        input(
            "thickness_over_chord",
            Kind::Dimensionless,
            NotNegative,
            "base thickness over chord",
        ),
        input(
            "immersed_aspect_ratio",
            Kind::Dimensionless,
            Positive,
            "depth over chord",
        ),
    ],
    outputs: &[output(
        "coefficient",
        Kind::Dimensionless,
        "drag on one side's area, friction apart",
    )],
    validity: "thin wedges, thickness to 0.2 of the chord; base open to the air",
    source: "Tulin 1953, linearised, cavitation number 0 (from memory)",
    checked: Checked::NotAtAll,
    run: |v| {
        let d = wedge_drag::wedge_drag(
            v.get("thickness_over_chord"),
            v.get("immersed_aspect_ratio"),
        )?;
        Ok(Told::new(&[d.coefficient], d.in_range))
    },
};

pub(super) const SHAFT_DRAG: Law = Law {
    name: "shaft-drag",
    summary: "drag of a round barrel or bare shaft in the water",
    inputs: &[
        input("diameter", Kind::Length, Positive, "of the barrel"),
        input("length", Kind::Length, NotNegative, "in the water"),
        input("speed", Kind::Speed, NotNegative, "speed through the water"),
        optional(input("angle", Kind::Angle, Any, "to the stream"), 0.0),
        optional(
            input(
                "nose",
                Kind::Dimensionless,
                NotNegative,
                "drag coefficient of its fore end; 0.9 blunt, 0.2 rounded",
            ),
            crate::shaft_drag::ROUNDED_NOSE,
        ),
        DENSITY,
        VISCOSITY,
    ],
    outputs: &[output("drag", Kind::Force, "friction, crossflow and nose")],
    validity: "Reynolds number on diameter below 5e5, wholly in the water",
    source: "Hoerner 1965 as in Molland, Turnock, Hudson 2011, eq. 3.46; a rounded nose is judgement",
    checked: Checked::Theory,
    run: |v| {
        let barrel = crate::shaft_drag::Barrel {
            diameter_m: v.get("diameter"),
            length_m: v.get("length"),
            nose: v.get("nose"),
        };
        let drag = crate::shaft_drag::shaft_drag(
            &barrel,
            v.get("angle"),
            v.get("speed"),
            v.get("density"),
            v.get("kinematic_viscosity"),
        )?;
        let across = v.get("speed") * v.get("diameter") / v.get("kinematic_viscosity");
        Ok(Told::new(&[drag], across < 5e5))
    },
};

pub(super) const SOFT_EDGE: Law = Law {
    name: "soft-edge",
    summary: "pull of the water on a rounded trailing edge that it follows round",
    inputs: &[
        input("radius", Kind::Length, NotNegative, "of the edge"),
        input(
            "wetted",
            Kind::Length,
            NotNegative,
            "bottom wet ahead of it",
        ),
        input("width", Kind::Length, NotNegative, "of the wet edge"),
        input("speed", Kind::Speed, NotNegative, "speed through the water"),
        DENSITY,
    ],
    outputs: &[
        output("down", Kind::Force, "lift lost"),
        output("drag", Kind::Force, "back"),
    ],
    validity: "theory only; the edge dry behind; water follows it for 30 deg (judgement)",
    source: "two-dimensional planing plate, Wagner 1932, with the sign turned",
    checked: Checked::NotAtAll,
    run: |v| {
        let e = crate::soft_edge::soft_edge(
            v.get("radius"),
            v.get("wetted"),
            v.get("speed"),
            v.get("density"),
        )?;
        let width = v.get("width");
        Ok(Told::new(&[e.down_n_m * width, e.drag_n_m * width], true))
    },
};

pub(super) const TRIM_TAB: Law = Law {
    name: "trim-tab",
    summary: "lift and drag of a trim tab behind a planing bottom",
    inputs: &[
        input(
            "deflection",
            Kind::Angle,
            Within(0.0, std::f64::consts::FRAC_PI_4),
            "trailing edge down from the bottom's line",
        ),
        input("chord", Kind::Length, Positive, "along the stream"),
        input("span", Kind::Length, Positive, "across the stream"),
        input("beam", Kind::Length, Positive, "of the bottom ahead"),
        input("trim", Kind::Angle, Any, "of the bottom to the water"),
        input("speed", Kind::Speed, NotNegative, "speed through the water"),
        DENSITY,
    ],
    outputs: &[
        output("lift", Kind::Force, "up"),
        output("drag", Kind::Force, "back"),
        output(
            "ahead",
            Kind::Length,
            "where it acts, ahead of the trailing edge",
        ),
    ],
    validity: "deflected 0 to 15 deg, trim 0 to 10 deg, the bottom ahead wet over the tab's span",
    source: "Savitsky and Brown, Marine Technology 13 (1976) 381, from memory",
    checked: Checked::NotAtAll,
    run: |v| {
        let speed = v.get("speed");
        let found = crate::trim_tab::trim_tab(&crate::trim_tab::Tab {
            deflection_rad: v.get("deflection"),
            chord_m: v.get("chord"),
            span_m: v.get("span"),
            beam_m: v.get("beam"),
            trim_rad: v.get("trim"),
            pressure_pa: 0.5 * v.get("density") * speed * speed,
        })?;
        let outputs = [found.lift_n, found.drag_n, found.ahead_m];
        Ok(Told::new(&outputs, found.in_range))
    },
};
