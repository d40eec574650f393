//! Entries: planing and the hump.

use super::Bounds::{Any, NotNegative, Positive, Within};
use super::water::{DENSITY, VISCOSITY};
use super::{Checked, Input, Kind, Law, Told, Values, input, optional, output};
use crate::planing_surface::{self, MAX_DEADRISE, PlaningSurface};
use crate::porpoising_limit::porpoising_limit;
use crate::prismatic_planing::{PrismaticHull, prismatic_planing};
use crate::residuary;
use crate::strip_planing::prism;

const BEAM: Input = input("beam", Kind::Length, Positive, "beam, chine to chine");
const DEADRISE: Input = input(
    "deadrise",
    Kind::Angle,
    Within(0.0, MAX_DEADRISE),
    "deadrise",
);
const GRAVITY: Input = optional(
    input("gravity", Kind::Acceleration, Positive, "gravity"),
    9.80665,
);
const ALLOWANCE: Input = optional(
    input(
        "friction_allowance",
        Kind::Dimensionless,
        Within(0.0, 0.01),
        "added to the friction coefficient",
    ),
    0.0,
);

const ROUGHNESS: Input = optional(
    input(
        "roughness",
        Kind::Length,
        Within(0.0, 0.002),
        "equivalent sand roughness of the bottom",
    ),
    0.0,
);

fn surface(v: &Values<'_>) -> PlaningSurface {
    PlaningSurface {
        beam_m: v.get("beam"),
        deadrise_rad: v.get("deadrise"),
        trim_rad: v.maybe("trim").unwrap_or(0.0),
        keel_wetted_m: v.maybe("keel_wetted").unwrap_or(0.0),
        speed_m_s: v.get("speed"),
        density_kg_m3: v.get("density"),
        kinematic_viscosity_m2_s: v.get("kinematic_viscosity"),
        gravity_m_s2: v.get("gravity"),
        friction_allowance: v.get("friction_allowance"),
        roughness_m: v.get("roughness"),
    }
}

pub(super) const PLANING_SURFACE: Law = Law {
    name: "planing-surface",
    summary: "lift and drag of one prismatic planing surface held at a trim and wetted keel",
    inputs: &[
        BEAM,
        DEADRISE,
        input(
            "trim",
            Kind::Angle,
            Within(-1.5, 1.5),
            "keel against the water, bow up",
        ),
        input(
            "keel_wetted",
            Kind::Length,
            NotNegative,
            "wetted keel ahead of the trailing edge",
        ),
        input("speed", Kind::Speed, NotNegative, "speed through the water"),
        DENSITY,
        VISCOSITY,
        GRAVITY,
        ALLOWANCE,
        ROUGHNESS,
    ],
    outputs: &[
        output("lift", Kind::Force, "vertical force"),
        output("lift_dynamic", Kind::Force, "its part from speed"),
        output("lift_buoyant", Kind::Force, "its part from buoyancy"),
        output(
            "drag",
            Kind::Force,
            "pressure and friction, middle of the friction band",
        ),
        output("drag_pressure", Kind::Force, "pressure drag"),
        output(
            "drag_friction_low",
            Kind::Force,
            "friction with the most laminar flow there can be",
        ),
        output(
            "drag_friction_high",
            Kind::Force,
            "friction, turbulent throughout",
        ),
        output(
            "centre_of_pressure",
            Kind::Length,
            "ahead of the trailing edge",
        ),
        output(
            "wetted_beam",
            Kind::Length,
            "wetted beam at the trailing edge",
        ),
        output(
            "mean_wetted_ratio",
            Kind::Dimensionless,
            "mean wetted length over wetted beam",
        ),
        output("chine_wetted", Kind::Length, "wetted length of each chine"),
        output("wetted_area", Kind::Area, "wetted bottom area"),
        output(
            "chines_wet",
            Kind::Count,
            "1 when water reaches the chines, else 0",
        ),
        output(
            "speed_coefficient",
            Kind::Dimensionless,
            "speed over root of gravity and wetted beam",
        ),
    ],
    validity: "Savitsky: speed coefficient 0.6 to 13, trim 2 to 15 deg, mean wetted ratio to 4; \
               beyond it strips, trim 1 to 20 deg",
    source: "Savitsky 1964; Shuford 1958 (NACA Report 1355); Wagner 1932; Zhao and Faltinsen 1993",
    checked: Checked::Theory,
    run: |v| {
        let p = planing_surface::planing_surface(&surface(v))?;
        let w = p.wetted;
        let out = [
            p.lift_n,
            p.lift_dynamic_n,
            p.lift_buoyant_n,
            p.drag_n,
            p.drag_pressure_n,
            p.drag_friction_low_n,
            p.drag_friction_high_n,
            p.centre_of_pressure_m,
            w.beam_m,
            w.mean_wetted_ratio,
            w.chine_m,
            w.area_m2,
            f64::from(u8::from(w.chines_wet)),
            p.speed_coefficient,
        ];
        Ok(Told::new(&out, p.in_range).with(p.notes))
    },
};

pub(super) const STRIP_PLANING: Law = Law {
    name: "strip-planing",
    summary: "lift of a planing bottom from speed alone, by strips, on a prism",
    inputs: &[
        BEAM,
        DEADRISE,
        input(
            "trim",
            Kind::Angle,
            Within(-0.5, 0.5),
            "keel against the water, bow up",
        ),
        input(
            "keel_wetted",
            Kind::Length,
            Positive,
            "wetted keel ahead of the trailing edge",
        ),
    ],
    outputs: &[
        output("lift_area", Kind::Area, "lift over 0.5 rho V^2"),
        output(
            "lift_coefficient",
            Kind::Dimensionless,
            "lift over 0.5 rho V^2 b^2, b the beam",
        ),
        output(
            "centre_of_pressure",
            Kind::Length,
            "ahead of the trailing edge",
        ),
        output("wetted_area", Kind::Area, "wetted bottom"),
    ],
    validity: "trim 0 to 20 deg, deadrise to 40 deg, speed so high that gravity does not matter",
    source: "Wagner 1932; Zarnick 1978; Zhao and Faltinsen 1993; Shuford 1958",
    checked: Checked::Theory,
    run: |v| {
        let (beam, deadrise, trim) = (v.get("beam"), v.get("deadrise"), v.get("trim"));
        let reach = planing_surface::chine_wetting_length_m(beam, deadrise, trim);
        let half = prism(0.5 * beam, deadrise, trim, v.get("keel_wetted"), reach);
        let out = [
            2.0 * half.lift_m2,
            2.0 * half.lift_m2 / (beam * beam),
            half.moment_m3 / half.lift_m2.max(1e-15),
            2.0 * half.area_m2,
        ];
        let within = (0.0..=0.35).contains(&trim) && deadrise <= 0.7;
        Ok(Told::new(&out, within))
    },
};

pub(super) const PRISMATIC_PLANING: Law = Law {
    name: "prismatic-planing",
    summary: "steady trim and drag of a prismatic planing hull",
    inputs: &[
        input("mass", Kind::Mass, Positive, "mass carried by the bottom"),
        input(
            "lcg",
            Kind::Length,
            Positive,
            "centre of gravity ahead of the transom",
        ),
        input("vcg", Kind::Length, Any, "centre of gravity above the keel"),
        BEAM,
        DEADRISE,
        input("speed", Kind::Speed, Positive, "speed through the water"),
        optional(
            input(
                "shaft_angle",
                Kind::Angle,
                Within(-0.8, 0.8),
                "thrust line against the keel",
            ),
            0.0,
        ),
        optional(
            input(
                "thrust_arm",
                Kind::Length,
                Any,
                "centre of gravity to thrust line",
            ),
            0.0,
        ),
        DENSITY,
        VISCOSITY,
        ALLOWANCE,
        ROUGHNESS,
        GRAVITY,
    ],
    outputs: &[
        output("trim", Kind::Angle, "steady trim"),
        output(
            "mean_wetted_ratio",
            Kind::Dimensionless,
            "mean wetted length over wetted beam",
        ),
        output("keel_wetted", Kind::Length, "wetted keel"),
        output("chine_wetted", Kind::Length, "wetted length of each chine"),
        output("drag", Kind::Force, "drag"),
        output("effective_power", Kind::Power, "drag times speed"),
        output(
            "speed_coefficient",
            Kind::Dimensionless,
            "speed over root of gravity and beam",
        ),
        output(
            "lift_coefficient",
            Kind::Dimensionless,
            "load over 0.5 rho V^2 b^2",
        ),
        output(
            "porpoising_trim",
            Kind::Angle,
            "trim above which it porpoises",
        ),
    ],
    validity: "as planing-surface; trim from 0.3 to 30 deg",
    source: "Savitsky 1964, Marine Technology 1(1), 71-95",
    checked: Checked::Theory,
    run: |v| {
        let hull = PrismaticHull {
            surface: surface(v),
            mass_kg: v.get("mass"),
            lcg_m: v.get("lcg"),
            vcg_m: v.get("vcg"),
            shaft_angle_rad: v.get("shaft_angle"),
            thrust_arm_m: v.get("thrust_arm"),
        };
        let r = prismatic_planing(&hull)?;
        let limit = porpoising_limit(r.lift_coefficient, v.get("deadrise"))?;
        let mut notes = r.planing.notes;
        notes.add_if(
            r.trim_rad > limit.trim_limit_rad,
            "trim is above the porpoising limit",
        );
        notes.add_if(
            !limit.in_range,
            "porpoising limit is outside its figure: held at its end",
        );
        let out = [
            r.trim_rad,
            r.planing.wetted.mean_wetted_ratio,
            r.keel_wetted_m,
            r.planing.wetted.chine_m,
            r.drag_n,
            r.effective_power_w,
            v.get("speed") / (v.get("gravity") * v.get("beam")).sqrt(),
            r.lift_coefficient,
            limit.trim_limit_rad,
        ];
        Ok(Told::new(&out, r.planing.in_range).with(notes))
    },
};

pub(super) const PORPOISING_LIMIT: Law = Law {
    name: "porpoising-limit",
    summary: "trim above which a prismatic planing hull porpoises",
    inputs: &[
        input(
            "lift_coefficient",
            Kind::Dimensionless,
            Positive,
            "load over 0.5 rho V^2 b^2",
        ),
        DEADRISE,
    ],
    outputs: &[output(
        "trim_limit",
        Kind::Angle,
        "highest trim without porpoising",
    )],
    validity: "root of half the lift coefficient 0.13 to 0.30, deadrise 0 to 20 deg; held at the ends",
    source: "Day and Haag 1952 as in Savitsky 1964, fig. 18",
    checked: Checked::Measurement,
    run: |v| {
        let l = porpoising_limit(v.get("lift_coefficient"), v.get("deadrise"))?;
        Ok(Told::new(&[l.trim_limit_rad], l.in_range))
    },
};

pub(super) const RESIDUARY: Law = Law {
    name: "residuary",
    summary: "wave and form drag through the hump, before planing",
    inputs: &[
        input(
            "froude",
            Kind::Dimensionless,
            NotNegative,
            "speed over root of gravity and waterline length",
        ),
        input(
            "slenderness",
            Kind::Dimensionless,
            Positive,
            "waterline length over cube root of displaced volume",
        ),
    ],
    outputs: &[output(
        "residuary_coefficient",
        Kind::Dimensionless,
        "on 0.5 rho V^2 and wetted area",
    )],
    validity: "Froude number 0.4 to 1, slenderness 4.5 to 12; round-bilge and semi-displacement hulls",
    source: "NPL and Series 64 fits, Molland, Turnock, Hudson 2011, tables 10.3 to 10.5, 10.10",
    checked: Checked::Theory,
    run: |v| {
        let r = residuary::residuary(v.get("froude"), v.get("slenderness"))?;
        Ok(Told::new(&[r.residuary_coefficient], r.in_range))
    },
};
