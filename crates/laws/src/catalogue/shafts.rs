//! Entries: shaft and blade strength.

use super::Bounds::{Any, NotNegative, Positive, Within};
use super::{Checked, Kind, Law, Told, choice, input, optional, output};
use crate::blade_stress::{self, BladeRoot};
use crate::shaft_whirl::{self, Ends, MATERIALS, Shaft};

const SHAFT_WORDS: &[&str] = &["steel", "stainless", "brass", "titanium", "carbon"];

pub(super) const SHAFT_WHIRL: Law = Law {
    name: "shaft-whirl",
    summary: "first critical speed of a shaft between bearings",
    inputs: &[
        input("diameter", Kind::Length, Positive, "of the shaft"),
        input("length", Kind::Length, Positive, "between bearings"),
        choice("material", SHAFT_WORDS, "what it is made of"),
        optional(
            input(
                "modulus",
                Kind::Pressure,
                NotNegative,
                "Young's modulus; 0 for the material's",
            ),
            0.0,
        ),
        optional(
            input(
                "density",
                Kind::Density,
                NotNegative,
                "0 for the material's",
            ),
            0.0,
        ),
        choice("ends", Ends::WORDS, "how the bearings hold it"),
        optional(
            input(
                "mass",
                Kind::Mass,
                NotNegative,
                "at mid-span, or at the free end",
            ),
            0.0,
        ),
    ],
    outputs: &[
        output("first_critical_rpm", Kind::Rpm, "first critical speed"),
        output(
            "first_critical_speed",
            Kind::RotationSpeed,
            "the same, in rad/s",
        ),
        output(
            "advised_rpm",
            Kind::Rpm,
            "70 % of it: common practice, no source",
        ),
        output("slenderness", Kind::Dimensionless, "length over diameter"),
    ],
    validity: "solid round straight shaft longer than ten diameters, stiff bearings; no flexible cable",
    source: "Euler and Bernoulli's beam; Dunkerley 1894 for the added mass",
    checked: Checked::Theory,
    run: |v| {
        let (_, modulus, density) = MATERIALS[v.get("material") as usize];
        let given = |key, own| {
            let x = v.get(key);
            if x > 0.0 { x } else { own }
        };
        let s = shaft_whirl::shaft_whirl(&Shaft {
            diameter_m: v.get("diameter"),
            length_m: v.get("length"),
            modulus_pa: given("modulus", modulus),
            density_kg_m3: given("density", density),
            ends: Ends::ALL[v.get("ends") as usize],
            mass_kg: v.get("mass"),
        })?;
        let rpm = 60.0 / std::f64::consts::TAU;
        let out = [
            s.critical_rad_s * rpm,
            s.critical_rad_s,
            s.advised_rad_s * rpm,
            s.slenderness,
        ];
        Ok(Told::new(&out, s.in_range).with(s.notes))
    },
};

pub(super) const BLADE_STRESS: Law = Law {
    name: "blade-stress",
    summary: "stress at a propeller blade's root",
    inputs: &[
        input("thrust", Kind::Force, Any, "of the whole propeller"),
        input("torque", Kind::Torque, Any, "of the whole propeller"),
        input("blades", Kind::Count, Within(1.0, 12.0), "number of blades"),
        input("diameter", Kind::Length, Positive, "of the propeller"),
        input(
            "shaft_speed",
            Kind::RotationSpeed,
            NotNegative,
            "shaft speed",
        ),
        optional(
            input(
                "root_ratio",
                Kind::Dimensionless,
                Within(0.02, 0.55),
                "where the blade meets the boss, over the propeller's radius",
            ),
            0.25,
        ),
        input("chord", Kind::Length, Positive, "of the root section"),
        input(
            "thickness",
            Kind::Length,
            Positive,
            "greatest, of the root section",
        ),
        optional(
            input(
                "pitch_ratio",
                Kind::Dimensionless,
                Positive,
                "pitch over diameter",
            ),
            1.4,
        ),
        optional(
            input(
                "rake",
                Kind::Length,
                Any,
                "blade's centre of mass aft of the root",
            ),
            0.0,
        ),
        optional(
            input(
                "wet_turn",
                Kind::Dimensionless,
                Within(0.01, 1.0),
                "part of a turn for which a blade works",
            ),
            1.0,
        ),
        choice(
            "material",
            blade_stress::MATERIAL_WORDS,
            "of the blades; along or across printed layers",
        ),
        optional(
            input(
                "strength",
                Kind::Pressure,
                NotNegative,
                "0 for the material's",
            ),
            0.0,
        ),
    ],
    outputs: &[
        output("bending_tension", Kind::Pressure, "on the driving face"),
        output("bending_compression", Kind::Pressure, "on the back"),
        output("centrifugal", Kind::Pressure, "pull of rotation"),
        output("tension", Kind::Pressure, "greatest tension"),
        output(
            "safety_factor",
            Kind::Dimensionless,
            "strength over greatest stress",
        ),
        output(
            "factor_to_keep",
            Kind::Dimensionless,
            "for load that comes and goes (judgement)",
        ),
        output("tip_speed", Kind::Speed, "of the blade tips"),
    ],
    validity: "root thinner than half its chord; steady load, no impact",
    source: "beam theory after D. W. Taylor; strengths of prints from published tests, of metals from memory",
    checked: Checked::Theory,
    run: |v| {
        let mut material = blade_stress::MATERIALS[v.get("material") as usize];
        if v.get("strength") > 0.0 {
            material.strength_pa = v.get("strength");
        }
        let s = blade_stress::blade_stress(&BladeRoot {
            thrust_n: v.get("thrust"),
            torque_n_m: v.get("torque"),
            blades: v.get("blades"),
            diameter_m: v.get("diameter"),
            shaft_rad_s: v.get("shaft_speed"),
            root_radius_m: 0.5 * v.get("diameter") * v.get("root_ratio"),
            chord_m: v.get("chord"),
            thickness_m: v.get("thickness"),
            pitch_ratio: v.get("pitch_ratio"),
            rake_m: v.get("rake"),
            wet_turn: v.get("wet_turn"),
            material,
        })?;
        let out = [
            s.bending_tension_pa,
            s.bending_compression_pa,
            s.centrifugal_pa,
            s.tension_pa,
            s.safety_factor,
            s.factor_to_keep,
            s.tip_speed_m_s,
        ];
        Ok(Told::new(&out, s.in_range).with(s.notes))
    },
};
