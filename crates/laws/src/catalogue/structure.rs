//! Entries: what holds a hull together.

use super::Bounds::{Any, NotNegative, Positive, Within};
use super::{Checked, Kind, Law, Told, choice, input, optional, output};
use crate::beam::{self, Beam, Held};
use crate::bolted_bracket::{self, Bracket};
use crate::closed_tube::{self, ClosedTube};
use crate::crush;
use crate::entry_pressure;
use crate::lap_joint::{self, LapJoint};
use crate::open_strip::{self, OpenStrip};
use crate::plate::{self, Edges, Panel};
use crate::printed_strength::{self, PLASTICS, Use};
use std::f64::consts::FRAC_PI_2;

pub(super) const BEAM: Law = Law {
    name: "beam",
    summary: "moment, deflection and stress of a beam under one load",
    inputs: &[
        choice("held", Held::WORDS, "how its ends are held"),
        input(
            "length",
            Kind::Length,
            Positive,
            "between supports, or free length",
        ),
        input("load", Kind::Force, Any, "the whole load"),
        optional(
            input(
                "at",
                Kind::Length,
                NotNegative,
                "from the first end; 0 spreads it evenly",
            ),
            0.0,
        ),
        input("modulus", Kind::Pressure, Positive, "Young's modulus"),
        input(
            "second_moment",
            Kind::SecondMoment,
            Positive,
            "of the section",
        ),
        input(
            "fibre",
            Kind::Length,
            Positive,
            "from the neutral axis to the outermost fibre",
        ),
    ],
    outputs: &[
        output("moment", Kind::Torque, "greatest"),
        output("deflection", Kind::Length, "greatest"),
        output("stress", Kind::Pressure, "greatest, in the outermost fibre"),
    ],
    validity: "straight beam longer than ten depths, small deflection, elastic",
    source: "Euler and Bernoulli's beam; Roark 7th ed., table 8.1 (from memory)",
    checked: Checked::Theory,
    run: |v| {
        let at = v.get("at");
        let b = beam::beam(&Beam {
            held: Held::ALL[v.get("held") as usize],
            length_m: v.get("length"),
            load_n: v.get("load"),
            at_m: (at > 0.0).then_some(at),
            modulus_pa: v.get("modulus"),
            second_moment_m4: v.get("second_moment"),
            fibre_m: v.get("fibre"),
        })?;
        let out = [b.moment_n_m, b.deflection_m, b.stress_pa];
        Ok(Told::new(&out, b.in_range).with(b.notes))
    },
};

pub(super) const CLOSED_TUBE: Law = Law {
    name: "closed-tube",
    summary: "torsion of a thin closed tube of any outline",
    inputs: &[
        input(
            "area",
            Kind::Area,
            Positive,
            "inside the wall's middle line",
        ),
        input(
            "perimeter",
            Kind::Length,
            Positive,
            "of the wall's middle line",
        ),
        input("wall", Kind::Length, Positive, "thickness"),
        input("length", Kind::Length, Positive, "of the tube"),
        input("torque", Kind::Torque, Any, "on it"),
        input("shear_modulus", Kind::Pressure, Positive, "of the wall"),
    ],
    outputs: &[
        output("shear", Kind::Pressure, "stress in the wall"),
        output("torsion_constant", Kind::SecondMoment, "of the section"),
        output("twist", Kind::Angle, "over the whole length"),
    ],
    validity: "one cell, wall thin against the section, ends free to warp, no buckling",
    source: "Bredt 1896",
    checked: Checked::Theory,
    run: |v| {
        let t = closed_tube::closed_tube(&ClosedTube {
            area_m2: v.get("area"),
            perimeter_m: v.get("perimeter"),
            wall_m: v.get("wall"),
            length_m: v.get("length"),
            torque_n_m: v.get("torque"),
            shear_modulus_pa: v.get("shear_modulus"),
        })?;
        let out = [t.shear_pa, t.torsion_constant_m4, t.twist_rad];
        Ok(Told::new(&out, t.in_range).with(t.notes))
    },
};

pub(super) const OPEN_STRIP: Law = Law {
    name: "open-strip",
    summary: "torsion of a thin open section",
    inputs: &[
        input("width", Kind::Length, Positive, "of the wall's middle line"),
        input("wall", Kind::Length, Positive, "thickness"),
        input("length", Kind::Length, Positive, "of the beam"),
        input("torque", Kind::Torque, Any, "on it"),
        input("shear_modulus", Kind::Pressure, Positive, "of the wall"),
    ],
    outputs: CLOSED_TUBE.outputs,
    validity: "over ten walls wide, ends free to warp",
    source: "de Saint-Venant; Timoshenko and Goodier, art. 108 (from memory)",
    checked: Checked::Theory,
    run: |v| {
        let t = open_strip::open_strip(&OpenStrip {
            width_m: v.get("width"),
            wall_m: v.get("wall"),
            length_m: v.get("length"),
            torque_n_m: v.get("torque"),
            shear_modulus_pa: v.get("shear_modulus"),
        })?;
        let out = [t.shear_pa, t.torsion_constant_m4, t.twist_rad];
        Ok(Told::new(&out, t.in_range).with(t.notes))
    },
};

pub(super) const PLATE: Law = Law {
    name: "plate",
    summary: "stress and deflection of a flat panel under even pressure",
    inputs: &[
        choice("edges", Edges::WORDS, "how they are held"),
        input("length", Kind::Length, Positive, "one side"),
        input("width", Kind::Length, Positive, "the other"),
        input("thickness", Kind::Length, Positive, "of the panel"),
        input("pressure", Kind::Pressure, NotNegative, "on it"),
        input("modulus", Kind::Pressure, Positive, "Young's modulus"),
    ],
    outputs: &[
        output("stress", Kind::Pressure, "greatest, by bending alone"),
        output("deflection", Kind::Length, "greatest, by bending alone"),
        output(
            "stretched_stress",
            Kind::Pressure,
            "with the middle surface stretching",
        ),
        output(
            "stretched_deflection",
            Kind::Length,
            "with the middle surface stretching",
        ),
    ],
    validity: "flat, thinner than a tenth of its short side, Poisson's ratio 0.3, elastic",
    source: "Navier's series; Timoshenko and Woinowsky-Krieger, table 35 and art. 101; Roark 7th ed., table 11.4 (from memory)",
    checked: Checked::Theory,
    run: |v| {
        let p = plate::plate(&Panel {
            length_m: v.get("length"),
            width_m: v.get("width"),
            thickness_m: v.get("thickness"),
            pressure_pa: v.get("pressure"),
            modulus_pa: v.get("modulus"),
            edges: Edges::ALL[v.get("edges") as usize],
        })?;
        let out = [
            p.stress_pa,
            p.deflection_m,
            p.stretched_stress_pa,
            p.stretched_deflection_m,
        ];
        Ok(Told::new(&out, p.in_range).with(p.notes))
    },
};

pub(super) const LAP_JOINT: Law = Law {
    name: "lap-joint",
    summary: "shear in a glued overlap",
    inputs: &[
        input("force", Kind::Force, Any, "along the walls"),
        input("width", Kind::Length, Positive, "across the force"),
        input("overlap", Kind::Length, Positive, "along the force"),
        input("wall", Kind::Length, Positive, "of each part"),
        input(
            "modulus",
            Kind::Pressure,
            Positive,
            "Young's modulus of the walls",
        ),
        optional(
            input("glue", Kind::Length, Positive, "thickness of the glue"),
            2e-4,
        ),
        optional(
            input(
                "glue_shear_modulus",
                Kind::Pressure,
                Positive,
                "of the glue; epoxy about 1 GPa",
            ),
            1e9,
        ),
    ],
    outputs: &[
        output("mean", Kind::Pressure, "shear over the overlap"),
        output("peak", Kind::Pressure, "shear at its ends"),
        output(
            "useful_overlap",
            Kind::Length,
            "past which the peak hardly falls",
        ),
    ],
    validity: "elastic, even glue line, two equal walls that cannot turn",
    source: "Volkersen 1938 (from memory)",
    checked: Checked::Theory,
    run: |v| {
        let j = lap_joint::lap_joint(&LapJoint {
            force_n: v.get("force"),
            width_m: v.get("width"),
            overlap_m: v.get("overlap"),
            wall_m: v.get("wall"),
            modulus_pa: v.get("modulus"),
            glue_m: v.get("glue"),
            glue_shear_modulus_pa: v.get("glue_shear_modulus"),
        })?;
        let out = [j.mean_pa, j.peak_pa, j.useful_overlap_m];
        Ok(Told::new(&out, j.in_range).with(j.notes))
    },
};

pub(super) const ENTRY_PRESSURE: Law = Law {
    name: "entry-pressure",
    summary: "pressure of a bottom that enters the water",
    inputs: &[
        input("speed", Kind::Speed, NotNegative, "square to the water"),
        input(
            "deadrise",
            Kind::Angle,
            Within(0.0, FRAC_PI_2 - 0.01),
            "of the bottom",
        ),
        optional(
            input("density", Kind::Density, Positive, "of the water"),
            999.1,
        ),
    ],
    outputs: &[
        output("peak", Kind::Pressure, "at the spray's root (Wagner)"),
        output("mean", Kind::Pressure, "over the wetted width (von Karman)"),
        output("stagnation", Kind::Pressure, "of a face square to the flow"),
    ],
    validity: "two-dimensional wedge of 4 to 45 deg, constant speed, rigid",
    source: "Wagner 1932; von Karman 1929, NACA TN 321",
    checked: Checked::Theory,
    run: |v| {
        let p =
            entry_pressure::entry_pressure(v.get("speed"), v.get("deadrise"), v.get("density"))?;
        let out = [p.peak_pa, p.mean_pa, p.stagnation_pa];
        Ok(Told::new(&out, p.in_range).with(p.notes))
    },
};

pub(super) const CRUSH: Law = Law {
    name: "crush",
    summary: "how far a thin-walled bow crushes against something hard",
    inputs: &[
        input("mass", Kind::Mass, Positive, "of the boat"),
        input("speed", Kind::Speed, NotNegative, "at which it hits"),
        input("area", Kind::Area, Positive, "of the wall's section"),
        input("strength", Kind::Pressure, Positive, "of the plastic"),
        optional(
            input(
                "kept",
                Kind::Dimensionless,
                Within(0.01, 1.0),
                "share a thin wall keeps while it folds and splits",
            ),
            crush::KEPT,
        ),
    ],
    outputs: &[
        output("length", Kind::Length, "that it crushes"),
        output("force", Kind::Force, "while it crushes"),
        output("deceleration", Kind::Acceleration, "mean"),
    ],
    validity: "tells what breaks and roughly how far (half to twice), never a margin",
    source: "energy balance; share kept after Alexander 1960 (metal tubes, from memory) and judgement",
    checked: Checked::Theory,
    run: |v| {
        let c = crush::crush(
            v.get("mass"),
            v.get("speed"),
            v.get("area"),
            v.get("strength"),
            v.get("kept"),
        )?;
        let out = [c.length_m, c.force_n, c.deceleration_m_s2];
        Ok(Told::new(&out, c.in_range).with(c.notes))
    },
};

pub(super) const PRINTED_STRENGTH: Law = Law {
    name: "printed-strength",
    summary: "strength of a print along and across its layers, warm and under steady load",
    inputs: &[
        choice("material", printed_strength::WORDS, "the plastic"),
        optional(
            input(
                "angle",
                Kind::Angle,
                Within(0.0, FRAC_PI_2),
                "between the pull and the layers",
            ),
            0.0,
        ),
        optional(
            input(
                "temperature",
                Kind::Temperature,
                Within(253.15, 473.15),
                "of the plastic",
            ),
            296.15,
        ),
        choice("load", &["short", "steady"], "for seconds, or for hours"),
        choice("state", &["dry", "soaked"], "of the plastic"),
    ],
    outputs: &[
        output("strength", Kind::Pressure, "middle of low and high"),
        output("low", Kind::Pressure, "a poor print"),
        output("high", Kind::Pressure, "a good print"),
        output("modulus", Kind::Pressure, "Young's modulus"),
        output(
            "softens",
            Kind::Temperature,
            "where it gives way under load",
        ),
    ],
    validity: "three or more walls, sound layers, below the softening temperature",
    source: "tables of printed PETG (2025) and makers' sheets (from memory); angle after Hankinson 1921; heat and steady load by judgement",
    checked: Checked::Measurement,
    run: |v| {
        let s = printed_strength::printed_strength(
            &PLASTICS[v.get("material") as usize],
            &Use {
                angle_rad: v.get("angle"),
                temperature_c: v.get("temperature") - 273.15,
                steady: v.get("load") > 0.5,
                wet: v.get("state") > 0.5,
            },
        )?;
        let out = [
            s.strength_pa,
            s.low_pa,
            s.high_pa,
            s.modulus_pa,
            s.softens_c + 273.15,
        ];
        Ok(Told::new(&out, s.in_range).with(s.notes))
    },
};

pub(super) const BOLTED_BRACKET: Law = Law {
    name: "bolted-bracket",
    summary: "a bracket's screws in a thin wall",
    inputs: &[
        input("force", Kind::Force, Any, "along the wall"),
        input(
            "arm",
            Kind::Length,
            NotNegative,
            "from the wall to the force",
        ),
        optional(
            input("screws", Kind::Count, Within(2.0, 12.0), "in two rows"),
            4.0,
        ),
        optional(
            input("spacing", Kind::Length, Positive, "between the rows"),
            0.02,
        ),
        optional(input("screw", Kind::Length, Positive, "diameter"), 0.003),
        optional(
            input(
                "washer",
                Kind::Length,
                Positive,
                "diameter, or the plate's edge round a screw",
            ),
            0.007,
        ),
        input("wall", Kind::Length, Positive, "thickness"),
    ],
    outputs: &[
        output("pull", Kind::Force, "on the most loaded screw"),
        output("bearing", Kind::Pressure, "of a screw in the wall"),
        output("pull_through", Kind::Pressure, "shear round the washer"),
    ],
    validity: "stiff bracket, even number of screws, no help from glue",
    source: "statics; mean bearing and punching shear",
    checked: Checked::Theory,
    run: |v| {
        let b = bolted_bracket::bolted_bracket(&Bracket {
            force_n: v.get("force"),
            arm_m: v.get("arm"),
            screws: v.get("screws"),
            spacing_m: v.get("spacing"),
            screw_m: v.get("screw"),
            washer_m: v.get("washer"),
            wall_m: v.get("wall"),
        })?;
        let out = [b.pull_n, b.bearing_pa, b.pull_through_pa];
        Ok(Told::new(&out, b.in_range).with(b.notes))
    },
};
