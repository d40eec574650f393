//! Measures every law against what was published, and keeps `docs/accuracy.md` equal to it.
//!
//! Run with `UPDATE_DOCS=1` to write the measured table into the manual; without it a stale table fails.

#![allow(missing_docs)]

#[path = "../src/testing.rs"]
#[allow(dead_code)]
mod testing;

#[path = "accuracy_parts/structure.rs"]
mod structure;

use laws::catalogue::{LAWS, find};
use std::fmt::Write as _;
use std::path::Path;
use testing::Table;

const BEGIN: &str = "<!-- laws: begin, written by crates/laws/tests/accuracy.rs -->";
const END: &str = "<!-- laws: end -->";

/// A law's output beside a published number, many times.
struct Comparison {
    law: &'static str,
    what: &'static str,
    against: &'static str,
    pairs: Vec<(f64, f64)>,
    /// Errors are in this unit, or relative when empty.
    unit: &'static str,
}

impl Comparison {
    /// Typical (mean) and worst error.
    fn errors(&self) -> (f64, f64) {
        let one = |(got, published): &(f64, f64)| {
            let off = (got - published).abs();
            if self.unit.is_empty() {
                100.0 * off / published.abs()
            } else {
                off
            }
        };
        let all: Vec<f64> = self.pairs.iter().map(one).collect();
        let mean = all.iter().sum::<f64>() / all.len() as f64;
        (mean, all.into_iter().fold(0.0, f64::max))
    }

    fn row(&self) -> String {
        let (typical, worst) = self.errors();
        let unit = if self.unit.is_empty() { "%" } else { self.unit };
        let show = |e: f64| {
            if e < 5e-4 {
                format!("< 0.0005 {unit}")
            } else {
                format!("{} {unit}", digits(e))
            }
        };
        let (what, against, n) = (self.what, self.against, self.pairs.len());
        format!(
            "| {what} | {against} | {n} | {} | {} |",
            show(typical),
            show(worst)
        )
    }
}

/// Two significant digits.
fn digits(x: f64) -> String {
    let places = (1 - x.abs().log10().floor() as i32).clamp(0, 4) as usize;
    format!("{x:.places$}")
}

fn checks(name: &str) -> Table {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../checks")
        .join(name);
    Table::read(&std::fs::read_to_string(path).expect("a table in checks/"))
}

fn ask(law: &str, inputs: &[(&str, f64)], output: &str) -> f64 {
    let e = find(law)
        .expect("a law")
        .evaluate(inputs)
        .expect("values the law takes");
    e.outputs
        .iter()
        .find(|(k, _)| *k == output)
        .expect("an output")
        .1
}

/// Pairs over every row of a table where `ask` and the published column exist.
fn over(table: &Table, column: &str, ask: impl Fn(usize) -> f64) -> Vec<(f64, f64)> {
    (0..table.len())
        .filter_map(|r| Some((ask(r), table.maybe(r, column)?)))
        .collect()
}

fn water() -> Vec<Comparison> {
    let iapws = checks("fresh_water_properties_iapws.csv");
    let more = checks("water_properties.csv");
    let surface = checks("iapws_surface_tension.csv");
    let at = |t: f64, k: &str| ask("fresh-water", &[("temperature", t + 273.15)], k);
    let law = "fresh-water";
    let tables = "IAPWS-95, IAPWS 2008 tables";
    let tension = over(&surface, "surface_tension_mN_m", |r| {
        1e3 * at(surface.number(r, "T_C"), "surface_tension")
    });
    let row = |what, against, pairs| Comparison {
        law,
        what,
        against,
        pairs,
        unit: "",
    };
    vec![
        row(
            "density",
            tables,
            over(&iapws, "rho_kg_m3", |r| {
                at(iapws.number(r, "T_degC"), "density")
            }),
        ),
        row(
            "kinematic viscosity",
            tables,
            over(&iapws, "nu_m2_s", |r| {
                at(iapws.number(r, "T_degC"), "kinematic_viscosity")
            }),
        ),
        row(
            "vapour pressure",
            "IAPWS-95",
            over(&more, "vapour_pressure_Pa", |r| {
                at(more.number(r, "T_C"), "vapour_pressure")
            }),
        ),
        row("surface tension", "IAPWS R1-76(2014), from memory", tension),
    ]
}

fn air() -> Vec<Comparison> {
    let t = checks("air_properties.csv");
    let at = |r, k| ask("air", &[("temperature", t.number(r, "T_C") + 273.15)], k);
    let row = |what, column, key| Comparison {
        law: "air",
        what,
        against: "ISO 2533 formulae (constants from memory)",
        pairs: over(&t, column, |r| at(r, key)),
        unit: "",
    };
    vec![
        row("density", "density_kg_m3", "density"),
        row("sound speed", "sound_speed_m_s", "sound_speed"),
    ]
}

fn friction() -> Vec<Comparison> {
    let t = checks("friction_lines.csv");
    let row = |what, column, key, against| Comparison {
        law: "friction-line",
        what,
        against,
        pairs: over(&t, column, |r| {
            ask("friction-line", &[("reynolds", t.number(r, "Re"))], key)
        }),
        unit: "",
    };
    vec![
        row(
            "turbulent",
            "Cf_ITTC57",
            "cf_turbulent",
            "ITTC 1957 formula",
        ),
        row(
            "turbulent",
            "Cf_Schoenherr",
            "cf_turbulent",
            "Schoenherr 1932, another line through the data",
        ),
        row("laminar", "Cf_laminar_Blasius", "cf_laminar", "Blasius"),
        Comparison {
            law: "friction-line",
            what: "rise by sand of 20 to 50 um, joined to the smooth line",
            against: "fully rough plate of Prandtl and Schlichting over ITTC 1957",
            pairs: roughness_rises(),
            unit: "",
        },
    ]
}

/// Friction over smooth friction, from rows that read "... at 15 m/s and L 0.3 m for ks 20 um".
fn roughness_rises() -> Vec<(f64, f64)> {
    let t = checks("roughness.csv");
    let rows = (0..t.len()).filter(|r| t.text(*r, "what").starts_with("friction rise"));
    rows.map(|r| {
        let words: Vec<&str> = t.text(r, "what").split_whitespace().collect();
        let after = |word: &str| -> f64 {
            let i = words.iter().rposition(|w| *w == word).expect(word);
            words[i + 1].parse().expect("a number")
        };
        let (speed, length, sand) = (after("at"), after("L"), after("ks") * 1e-6);
        let given = [
            ("reynolds", speed * length / 1e-6),
            ("roughness_over_length", sand / length),
        ];
        let rise =
            ask("friction-line", &given, "cf_rough") / ask("friction-line", &given, "cf_turbulent");
        (rise, 1.0 + t.number(r, "value") / 100.0)
    })
    .collect()
}

const FOOT: f64 = 0.3048;
const POUND: f64 = 4.448_222;
const GRAVITY: f64 = 32.2 * FOOT;

/// Savitsky's 1964 example: what both planing laws share.
fn example_water() -> Vec<(&'static str, f64)> {
    vec![
        ("beam", 14.0 * FOOT),
        ("deadrise", 10f64.to_radians()),
        ("speed", 67.5 * FOOT),
        ("density", 1.94 * 515.379),
        ("kinematic_viscosity", 1e-5 * FOOT * FOOT),
        ("gravity", GRAVITY),
        ("friction_allowance", 4e-4),
    ]
}

fn example(t: &Table, quantity: &str, column: &str) -> f64 {
    let r = (0..t.len())
        .find(|r| t.text(*r, "quantity") == quantity)
        .expect("a row");
    t.number(r, column)
}

fn planing() -> Vec<Comparison> {
    let t = checks("savitsky1964_example_results.csv");
    let exact = |q: &str| example(&t, q, "exact_general_rho1.94_nu1e-5");
    let printed = |q: &str| example(&t, q, "printed_general_case");
    let mut held = example_water();
    held.extend([
        ("trim", exact("trim_equilibrium").to_radians()),
        ("keel_wetted", exact("L_keel") * FOOT),
    ]);
    let mut hull = example_water();
    hull.extend([
        ("mass", 60_000.0 * POUND / GRAVITY),
        ("lcg", 29.0 * FOOT),
        ("vcg", 2.0 * FOOT),
    ]);
    hull.extend([
        ("shaft_angle", 4f64.to_radians()),
        ("thrust_arm", 0.5 * FOOT),
    ]);
    let surface = |k| ask("planing-surface", &held, k);
    let prismatic = |k| ask("prismatic-planing", &hull, k);
    let row = |law, what, against, pairs, unit| Comparison {
        law,
        what,
        against,
        pairs,
        unit,
    };
    let own = "Savitsky 1964 worked example, exact solution";
    let print = "Savitsky 1964 worked example, as printed";
    let trim = prismatic("trim").to_degrees();
    vec![
        row(
            "planing-surface",
            "lift",
            own,
            vec![(surface("lift"), 60_000.0 * POUND)],
            "",
        ),
        row(
            "planing-surface",
            "drag",
            own,
            vec![(surface("drag"), exact("D_total") * POUND)],
            "",
        ),
        row(
            "planing-surface",
            "strips' lift beyond his range, flat, against his own term",
            "Savitsky 1964",
            plate(),
            "",
        ),
        row(
            "strip-planing",
            "dynamic lift, deadrise 0 to 30 deg, trim 2 to 12 deg",
            "Savitsky 1964 where it holds",
            strips("lift_coefficient"),
            "",
        ),
        row(
            "strip-planing",
            "centre of pressure over mean wetted length, the same",
            "Savitsky 1964, 0.75",
            strips("centre_of_pressure"),
            "",
        ),
        row(
            "prismatic-planing",
            "trim",
            print,
            vec![(trim, printed("trim_equilibrium"))],
            "deg",
        ),
        row(
            "prismatic-planing",
            "trim",
            own,
            vec![(trim, exact("trim_equilibrium"))],
            "deg",
        ),
        row(
            "prismatic-planing",
            "drag",
            print,
            vec![(prismatic("drag"), printed("D_total") * POUND)],
            "",
        ),
        row(
            "prismatic-planing",
            "drag",
            own,
            vec![(prismatic("drag"), exact("D_total") * POUND)],
            "",
        ),
    ]
}

/// The plate law, met by going fast, against Savitsky's dynamic term for a flat plate.
fn plate() -> Vec<(f64, f64)> {
    let mut pairs = Vec::new();
    for tau in [2.0f64, 4.0, 6.0, 8.0, 10.0, 12.0, 15.0] {
        for lambda in [0.3f64, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0] {
            let fast = [
                ("beam", 0.1),
                ("deadrise", 0.0),
                ("trim", tau.to_radians()),
                ("keel_wetted", 0.1 * lambda),
                ("speed", 40.0),
            ];
            let load = 0.5 * 998.2 * 40f64.powi(2) * 0.01;
            let savitsky = 0.012 * lambda.sqrt() * tau.powf(1.1);
            pairs.push((
                ask("planing-surface", &fast, "lift_dynamic") / load,
                savitsky,
            ));
        }
    }
    pairs
}

/// Strips against Savitsky's dynamic part where his fit holds: mean wetted length 0.5 to 4 beams and a deadrise
/// term that leaves 0.4 of the load or more.
fn strips(output: &str) -> Vec<(f64, f64)> {
    let mut pairs = Vec::new();
    for beta in [0.0f64, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0] {
        for tau in [2.0f64, 3.0, 4.0, 6.0, 8.0, 10.0, 12.0] {
            let reach = beta.to_radians().tan() / (std::f64::consts::PI * tau.to_radians().tan());
            for lambda in [0.5 * reach, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0] {
                let flat = 0.012 * lambda.sqrt() * tau.powf(1.1);
                let kept = 1.0 - 0.0065 * beta * flat.powf(-0.4);
                if !(0.5..=4.0).contains(&lambda) || kept < 0.4 || lambda < 0.5 * reach {
                    continue;
                }
                let given = [
                    ("beam", 1.0),
                    ("deadrise", beta.to_radians()),
                    ("trim", tau.to_radians()),
                    ("keel_wetted", lambda + 0.5 * reach),
                ];
                let found = ask("strip-planing", &given, output);
                pairs.push(match output {
                    "lift_coefficient" => (found, flat * kept),
                    _ => (found / lambda, 0.75),
                });
            }
        }
    }
    pairs
}

/// A closed tunnel with a straight roof, against the closed form.
fn tunnels() -> Vec<Comparison> {
    let pairs = [(0.03, 0.045), (0.02, 0.06), (0.04, 0.042)].map(|(exit, inlet)| {
        let given = [
            ("length", 0.6),
            ("width", 0.15),
            ("exit_height", exit),
            ("inlet_height", inlet),
        ];
        let found = ask("channel-flow", &given, "lift_coefficient");
        (found, 1.0 - exit / inlet)
    });
    vec![Comparison {
        law: "channel-flow",
        what: "lift of a closed tunnel",
        against: "closed form, Widnall and Barrows 1970",
        pairs: pairs.to_vec(),
        unit: "",
    }]
}

fn porpoising() -> Vec<Comparison> {
    let cl = 2.0 * 0.186f64.powi(2);
    let limit = ask(
        "porpoising-limit",
        &[("lift_coefficient", cl), ("deadrise", 10f64.to_radians())],
        "trim_limit",
    );
    let against = "Savitsky 1964 worked example (figure read to 0.2 deg)";
    vec![Comparison {
        law: "porpoising-limit",
        what: "trim",
        against,
        pairs: vec![(limit.to_degrees(), 4.5)],
        unit: "deg",
    }]
}

fn hump() -> Vec<Comparison> {
    let t = checks("npl_monohull_residuary_fit.csv");
    let pairs = over(&t, "n", |r| {
        ask(
            "residuary",
            &[("froude", t.number(r, "Fr")), ("slenderness", 6.0)],
            "residuary_coefficient",
        )
    })
    .into_iter()
    .enumerate()
    .map(|(r, (ours, n))| (ours, t.number(r, "a") * 6f64.powf(n) / 1e3));
    let against = "NPL series fit at slenderness 6 (transcription only)";
    vec![Comparison {
        law: "residuary",
        what: "coefficient",
        against,
        pairs: pairs.collect(),
        unit: "",
    }]
}

fn blades_and_wings() -> Vec<Comparison> {
    let ten = 10f64.to_radians();
    let struts = checks("harwood2016_wetted_strut_lift_slope.csv");
    let fast = (0..struts.len())
        .filter(|r| struts.number(*r, "Fn_depth") >= 2.5)
        .map(|r| {
            let a = struts.number(r, "immersed_aspect_ratio");
            let side = ask(
                "surface-blade",
                &[("immersed_aspect_ratio", a), ("angle", ten)],
                "wetted_coefficient",
            );
            (side / ten, struts.number(r, "dCL_dalpha_per_rad"))
        });
    let wings = checks("low_aspect_ratio_wing_lift.csv");
    let lift = over(&wings, "experiment", |r| {
        let lift = ask(
            "wing",
            &[
                ("aspect_ratio", wings.number(r, "aspect_ratio")),
                ("angle", ten),
            ],
            "lift_coefficient",
        );
        if wings.text(r, "quantity") == "CL" {
            lift
        } else {
            lift / ten
        }
    });
    let row = |law, what, against, pairs| Comparison {
        law,
        what,
        against,
        pairs,
        unit: "",
    };
    vec![
        row(
            "wing",
            "lift to 10 deg, free air",
            "rectangular wings measured, A 1 and 3 (one constant set on A 1)",
            lift,
        ),
        row(
            "surface-blade",
            "wetted slope, depth Froude number 2.5 and up",
            "Harwood et al. 2016 (one constant set on it)",
            fast.collect(),
        ),
    ]
}

fn propeller() -> Vec<Comparison> {
    let t = checks("wageningen_b_check_values.csv");
    let at = |r, key| {
        let inputs = [
            ("blades", "Z"),
            ("area_ratio", "AE_over_A0"),
            ("pitch_ratio", "P_over_D"),
            ("advance", "J"),
        ];
        ask(
            "open-water",
            &inputs.map(|(k, column)| (k, t.number(r, column))),
            key,
        )
    };
    let row = |what, column, key| Comparison {
        law: "open-water",
        what,
        against: "B-series polynomials evaluated apart (transcription only)",
        pairs: over(&t, column, |r| at(r, key)),
        unit: "",
    };
    vec![
        row("thrust", "KT_Rn2e6", "kt"),
        row("torque", "KQ_Rn2e6", "kq"),
    ]
}

fn disc_and_plate() -> Vec<Comparison> {
    let plates = checks("flat_plate_cavity.csv");
    let discs = checks("spp_immersed_disc.csv");
    let normal = over(&plates, "CN", |r| {
        ask(
            "ventilated-plate",
            &[("angle", plates.number(r, "alpha_deg").to_radians())],
            "normal_coefficient",
        )
    });
    let area = over(&discs, "A0prime_over_A0", |r| {
        ask(
            "immersed-disc",
            &[("immersion_ratio", discs.number(r, "immersion_I_over_D"))],
            "area_ratio",
        )
    });
    vec![
        Comparison {
            law: "ventilated-plate",
            what: "normal force",
            against: "free-streamline integral",
            pairs: normal,
            unit: "",
        },
        Comparison {
            law: "immersed-disc",
            what: "area ratio",
            against: "geometry",
            pairs: area,
            unit: "of disc",
        },
    ]
}

fn textbook_drive() -> Vec<(f64, f64)> {
    let t = checks("worked_examples.csv");
    let value = |quantity: &str| {
        let row = (0..t.len())
            .find(|r| t.text(*r, "case") == "pm_dc_motor" && t.text(*r, "quantity") == quantity);
        t.number(row.expect("a row"), "value")
    };
    let rpm = std::f64::consts::PI / 30.0;
    let inputs = [
        ("voltage", value("V")),
        ("kv_rpm_per_volt", 1.0 / value("ke") / rpm),
        ("resistance", value("Ra")),
        ("torque", value("T_load")),
        ("shaft_speed", value("n") * rpm),
    ];
    vec![
        (ask("drive-circuit", &inputs, "throttle"), 1.0),
        (ask("drive-circuit", &inputs, "motor_current"), value("Ia")),
    ]
}

/// A 4.7 mm cable, 150 mm long, 0.25 mm of gap, 30 000 rpm; the collar's row is a band, its middle taken.
fn driveline_powers() -> Vec<(f64, f64)> {
    let t = checks("driveline_and_small_boats.csv");
    let band = |what: &str| -> Vec<f64> {
        let row = (0..t.len()).find(|r| t.text(*r, "what").starts_with(what));
        let text = t.text(row.expect("a row"), "value");
        text.split(" to ")
            .map(|w| w.parse().expect("a number"))
            .collect()
    };
    let power = |viscosity: f64, thrust: f64, key: &str| {
        let inputs = [
            ("diameter", 0.0047),
            ("length", 0.15),
            ("gap", 0.000_25),
            ("viscosity", viscosity),
            ("bush", 0.0),
            ("torque", 0.1),
            ("thrust", thrust),
            ("shaft_speed", 1000.0 * std::f64::consts::PI),
        ];
        ask("driveline", &inputs, key)
    };
    let grease = band("the same in thinned grease");
    let collar = band("thrust collar");
    vec![
        (power(0.0104, 0.0, "shear_power"), band("viscous loss")[0]),
        (power(0.02, 0.0, "shear_power"), grease[0]),
        (power(0.1, 0.0, "shear_power"), grease[1]),
        (
            power(0.045, 10.0, "collar_power"),
            0.5 * (collar[0] + collar[1]),
        ),
    ]
}

fn electrics() -> Vec<Comparison> {
    let t = checks("battery_chen_rinconmora_2006.csv");
    let k = |c| t.number(0, c);
    let chen = |s: f64| {
        k("a") * (-k("b") * s).exp() + k("c") + k("d") * s + k("e") * s * s + k("f") * s.powi(3)
    };
    let volts = |s| {
        let inputs = [
            ("state_of_charge", s),
            ("current", 0.0),
            ("capacity", 18_000.0),
            ("resistance", 0.002),
        ];
        ask("cell", &inputs, "open_circuit")
    };
    let pairs = (1..=10)
        .map(|i| f64::from(i) / 10.0)
        .map(|s| (volts(s), chen(s)))
        .collect();
    let against = "another cell, Chen and Rincon-Mora 2006, from a tenth of charge up";
    // Worked in motor_point.rs: 2000 rpm/V, 14.8 V, 10 mohm, 3 A, 60 A.
    let motor = [
        ("kv_rpm_per_volt", 2000.0),
        ("resistance", 0.01),
        ("no_load_current", 3.0),
        ("voltage", 14.8),
        ("current", 60.0),
    ];
    let power = vec![(ask("motor-point", &motor, "shaft_power"), 809.4)];
    vec![
        Comparison {
            law: "motor-point",
            what: "shaft power",
            against: "worked by hand",
            pairs: power,
            unit: "",
        },
        Comparison {
            law: "drive-circuit",
            what: "throttle and current of a textbook motor at its worked speed and load",
            against: "electric-drives textbook, example 4.5 (second-hand)",
            pairs: textbook_drive(),
            unit: "",
        },
        Comparison {
            law: "surface-loss",
            what: "thrust kept at a shaft depth of 0 to 1 radius",
            against: "Minsaas, Faltinsen, Persson 1983 (from memory)",
            pairs: {
                let t = checks("ventilated_propeller_loss.csv");
                over(&t, "thrust_ratio", |r| {
                    let depth = [("depth_over_radius", t.number(r, "h_over_R"))];
                    ask("surface-loss", &depth, "thrust_ratio")
                })
            },
            unit: "",
        },
        Comparison {
            law: "surface-propeller",
            what: "thrust half wet, from standstill on",
            against: "lone ventilated plates without tip loss (derived)",
            pairs: {
                let t = checks("half_wet_ventilated_blade.csv");
                over(&t, "KT", |r| {
                    let given = [
                        ("blades", 2.0),
                        ("area_ratio", 0.4),
                        ("pitch_ratio", t.number(r, "pitch_ratio")),
                        ("advance", t.number(r, "J")),
                        ("immersion_ratio", 0.5),
                    ];
                    ask("surface-propeller", &given, "kt")
                })
            },
            unit: "",
        },
        Comparison {
            law: "driveline",
            what: "power sheared in light oil and in thinned grease, and on a collar",
            against: "formulae worked independently (derived)",
            pairs: driveline_powers(),
            unit: "",
        },
        Comparison {
            law: "cell",
            what: "open circuit",
            against,
            pairs,
            unit: "V",
        },
    ]
}

fn strut() -> Vec<Comparison> {
    let inputs = [
        ("chord", 0.03),
        ("thickness", 0.003),
        ("span", 0.05),
        ("speed", 10.0),
        ("density", 1000.0),
    ];
    // 0.24 * 0.5 * 1000 * 10^2 * 0.003^2 N.
    let pairs = vec![(ask("strut-drag", &inputs, "spray"), 0.108)];
    // 0.5 1000 10^2 (0.1 0.006 (1.1 sin^3 90) + 0.9 pi/4 0.006^2), friction apart: 0.00066 + 0.0000254 m2.
    let shaft = [
        ("diameter", 0.006),
        ("length", 0.1),
        ("speed", 10.0),
        ("angle", std::f64::consts::FRAC_PI_2),
        ("nose", 0.9),
        ("density", 1000.0),
        ("kinematic_viscosity", 1e-6),
    ];
    let cf = 0.5 * (0.004_687_5 + 0.002_647_68);
    let across = 5e4 * (6e-4 * (1.1 + std::f64::consts::PI * cf) + 0.9 * 2.827_433e-5);
    let barrel = Comparison {
        law: "shaft-drag",
        what: "a bare shaft across the stream",
        against: "worked by hand",
        pairs: vec![(ask("shaft-drag", &shaft, "drag"), across)],
        unit: "",
    };
    vec![
        barrel,
        Comparison {
            law: "strut-drag",
            what: "spray",
            against: "worked by hand",
            pairs,
            unit: "",
        },
    ]
}

fn recordings() -> Vec<Comparison> {
    let pass = checks("doppler_pass_curve.csv");
    let heard = over(&pass, "f_heard_Hz", |r| {
        let mut inputs = vec![("speed", 20.0), ("sound_speed", 343.0), ("tone", 1000.0)];
        inputs.extend([("closest", 5.0), ("time", pass.number(r, "t_heard_s"))]);
        ask("doppler-pass", &inputs, "frequency")
    });
    let edges = checks("rc_edge_shift.csv");
    let edge = |r, key| {
        let inputs = [
            ("resistance", edges.number(r, "R_ohm")),
            ("capacitance", 1e-12 * edges.number(r, "C_pF")),
            ("drive", edges.number(r, "V_drive_V")),
            ("threshold_rise", edges.number(r, "VIH_V")),
            ("threshold_fall", edges.number(r, "VIL_V")),
        ];
        1e6 * ask("pulse-edge", &inputs, key)
    };
    let row = |law, what, against, pairs, unit| Comparison {
        law,
        what,
        against,
        pairs,
        unit,
    };
    let width = over(&edges, "pulse_width_error_us", |r| edge(r, "width_error"));
    vec![
        row(
            "doppler-pass",
            "frequency",
            "same kinematics, solved from the source's side",
            heard,
            "Hz",
        ),
        row(
            "pulse-edge",
            "width error",
            "first-order RC circuit",
            width,
            "us",
        ),
    ]
}

fn surface_propellers() -> Vec<Comparison> {
    // Blades, pitch ratio, area ratio.
    let set_on = [
        (2.0, 1.0, 0.38),
        (3.0, 0.8, 0.5),
        (3.0, 1.0, 0.5),
        (3.0, 1.2, 0.5),
        (3.0, 1.4, 0.5),
        (3.0, 1.4, 0.65),
        (4.0, 1.0, 0.4),
        (4.0, 1.0, 0.7),
        (4.0, 1.4, 0.55),
    ];
    let others = [
        (2.0, 0.9, 0.5),
        (2.0, 1.3, 0.45),
        (3.0, 0.9, 0.35),
        (3.0, 1.1, 0.6),
        (4.0, 0.8, 0.55),
        (4.0, 1.2, 0.5),
        (5.0, 1.0, 0.6),
        (5.0, 1.3, 0.75),
    ];
    let one = |(z, p, a): (f64, f64, f64), share: f64, key| {
        let series = laws::open_water::Propeller {
            blades: z,
            area_ratio: a,
            pitch_ratio: p,
        };
        let zero = laws::open_water::Curves::new(&series).zero_thrust_advance();
        let mut inputs = vec![("blades", z), ("area_ratio", a), ("pitch_ratio", p)];
        inputs.push(("advance", zero * share));
        let published = ask("open-water", &inputs, key);
        inputs.push(("immersion_ratio", 2.0));
        (ask("surface-propeller", &inputs, key), published)
    };
    let row = |what, against, propellers: &[(f64, f64, f64)], key| Comparison {
        law: "surface-propeller",
        what,
        against,
        pairs: propellers
            .iter()
            .flat_map(|b| [0.2, 0.4, 0.6, 0.8].map(|s| one(*b, s, key)))
            .collect(),
        unit: "",
    };
    let fit = "B series, covered: the propellers its slope was set on (a fit)";
    let held = "B series, covered: other propellers";
    vec![
        row("thrust", fit, &set_on, "kt"),
        row("torque", fit, &set_on, "kq"),
        row("thrust", held, &others, "kt"),
        row("torque", held, &others, "kq"),
    ]
}

fn suction_and_cavitation() -> Vec<Comparison> {
    let t = checks("cavitation_limits.csv");
    let limit = |r: usize, key| {
        // Standing still, 0.7 pi n D = 1 m/s, density 2: the pressures are their coefficients.
        let mut inputs = vec![("thrust", 1.0), ("diameter", 1.0), ("area_ratio", 1.0)];
        inputs.extend([
            ("pitch_ratio", 1.0),
            ("speed", 0.0),
            ("shaft_speed", 1.0 / 0.35),
        ]);
        inputs.extend([("density", 2.0), ("vapour_pressure", 0.0)]);
        inputs.push(("pressure", t.number(r, "sigma_0_7R")));
        ask("cavitation", &inputs, key)
    };
    let row = |what, column, key| Comparison {
        law: "cavitation",
        what,
        against: "the same chart fits (coefficients mostly from memory): a slip check",
        pairs: over(&t, column, |r| limit(r, key)),
        unit: "",
    };
    let disc = |thrust: f64| {
        let mut inputs = vec![("thrust", thrust), ("speed", 8.0), ("diameter", 0.04)];
        inputs.extend([
            ("depth", 0.03),
            ("setback", 0.0),
            ("length", 0.3),
            ("width", 0.1),
        ]);
        let area = std::f64::consts::PI * 0.02f64.powi(2);
        let exact = 4.0 * ((1.0 + thrust / (0.5 * 998.2 * 64.0 * area)).sqrt() - 1.0);
        (ask("hull-suction", &inputs, "induced"), exact)
    };
    vec![
        row(
            "5 % back cavitation",
            "tau_5pct_back_0_30",
            "limit_5_percent",
        ),
        row("10 %", "tau_10pct_segmental_0_494", "limit_10_percent"),
        Comparison {
            law: "hull-suction",
            what: "speed added at the disc",
            against: "momentum theory (the pull itself has no check)",
            pairs: [2.0, 20.0, 80.0].map(disc).to_vec(),
            unit: "",
        },
    ]
}

fn strength() -> Vec<Comparison> {
    let t = checks("worked_examples.csv");
    let whirl = |r: usize| {
        let size = t.text(r, "case").strip_prefix("whirl_uniform_d")?;
        let (d, l) = size.split_once("mm_L")?;
        let d: f64 = d.parse().ok()?;
        let l: f64 = l.trim_end_matches("mm").parse().ok()?;
        let inputs = [("diameter", 1e-3 * d), ("length", 1e-3 * l)];
        let rpm = ask("shaft-whirl", &inputs, "first_critical_rpm");
        Some((rpm, t.number(r, "value")))
    };
    let mut blade = vec![("thrust", 60.0), ("torque", 0.0), ("blades", 2.0)];
    blade.extend([("diameter", 0.04), ("shaft_speed", 0.0), ("chord", 0.012)]);
    blade.extend([("thickness", 0.0025), ("pitch_ratio", 1e-9)]);
    // 30 N a blade 9 mm from the root over 8/175 c t^2, face at 0.4 t.
    let by_hand = 0.4 * 0.27 / (8.0 / 175.0 * 0.012 * 0.0025f64.powi(2));
    vec![
        Comparison {
            law: "shaft-whirl",
            what: "first critical speed",
            against: "uniform shafts between two bearings",
            pairs: (0..t.len()).filter_map(whirl).collect(),
            unit: "",
        },
        Comparison {
            law: "blade-stress",
            what: "bending tension",
            against: "worked by hand",
            pairs: vec![(ask("blade-stress", &blade, "bending_tension"), by_hand)],
            unit: "",
        },
    ]
}

fn worked_example(case: &'static str) -> impl Fn(&str) -> f64 {
    let t = checks("worked_examples.csv");
    move |quantity| {
        (0..t.len())
            .find(|r| t.text(*r, "case") == case && t.text(*r, "quantity") == quantity)
            .map(|r| t.number(r, "value"))
            .expect("a quantity of the example")
    }
}

fn heat() -> Vec<Comparison> {
    let row = |law, what, against, pairs| Comparison {
        law,
        what,
        against,
        pairs,
        unit: "",
    };
    let p = worked_example("pipe_colebrook_si");
    let mut pipe = vec![("flow", p("Q")), ("diameter", p("D")), ("length", p("L"))];
    pipe.extend([("roughness", p("roughness")), ("density", p("rho"))]);
    pipe.push(("viscosity", p("mu")));
    let h = worked_example("laminar_constant_flux_water");
    let mut tube = vec![("reynolds", h("Re")), ("prandtl", 4.34), ("length", 1e4)];
    tube.extend([("diameter", h("tube_diameter")), ("conductivity", h("k"))]);
    let s = worked_example("switch_loss");
    let mut bridge = vec![
        ("current", s("Ics")),
        ("voltage", 0.0),
        ("resistance", 0.02),
    ];
    bridge.push(("idle_power", 0.0));
    let on = s("Vce_sat") * s("Ics");
    // 235 + 100 over 235 + 20.
    let mut motor = vec![("kv_rpm_per_volt", 2000.0), ("resistance", 0.01)];
    motor.extend([
        ("no_load_current", 2.0),
        ("no_load_speed", 2000.0),
        ("shaft_speed", 2000.0),
    ]);
    motor.extend([
        ("winding_temperature", 373.15),
        ("magnet_temperature", 293.15),
    ]);
    let warm = ask("motor-heat", &motor, "resistance_warm");
    let run = checks("heat_run.csv");
    let rise = |r: usize| {
        let given = [
            ("current", run.number(r, "current_A")),
            ("time", run.number(r, "time_s")),
            ("resistance", 0.012),
            ("iron_loss", 20.0),
            ("motor_mass", 0.2),
        ];
        ask("heat-run", &given, "winding_temperature")
    };
    vec![
        Comparison {
            law: "heat-run",
            what: "winding",
            against: "scipy's integrator on the same equations",
            pairs: over(&run, "winding_K", rise),
            unit: "K",
        },
        row(
            "pipe-flow",
            "pressure drop",
            "Cengel and Cimbala, example 8-3",
            vec![(ask("pipe-flow", &pipe, "pressure_drop"), p("dp"))],
        ),
        row(
            "tube-heat",
            "coefficient, laminar",
            "Sukhatme, example 5.1",
            vec![(ask("tube-heat", &tube, "coefficient"), h("h"))],
        ),
        row(
            "controller-loss",
            "conduction",
            "Rashid, example 4.2, steady part",
            vec![(ask("controller-loss", &bridge, "conduction"), on)],
        ),
        row(
            "motor-heat",
            "resistance of hot copper",
            "IEC 60034-1, by hand",
            vec![(warm, 0.01 * 335.0 / 255.0)],
        ),
    ]
}

fn limits() -> Vec<Comparison> {
    let t = checks("insulation_magnets.csv");
    let of = |kind: &str, law: &'static str, key: &'static str| {
        let rows = (0..t.len()).filter(|r| t.text(*r, "kind") == kind);
        rows.enumerate()
            .map(|(i, r)| {
                let limit = ask(law, &[(key, i as f64)], "limit") - 273.15;
                (limit, t.number(r, "max_temperature_C"))
            })
            .collect()
    };
    let cell = checks("battery_27Ah_soc_temperature.csv");
    let ohm = |r: usize| {
        let whole = cell.number(r, "R0_ohm") + cell.number(r, "R1_ohm");
        let mut inputs = vec![("state_of_charge", cell.number(r, "SOC_fraction"))];
        inputs.extend([("current", 1.0), ("time", 0.0)]);
        // The cell at 25 degC and half charge, between its columns for 20 and 40 degC.
        inputs.push(("resistance", 0.0098));
        inputs.push(("temperature", cell.number(r, "T_K")));
        let share = ask("cell-settling", &inputs, "series_resistance");
        let slow = ask("cell-settling", &inputs, "slow_resistance");
        (share / (share + slow), cell.number(r, "R0_ohm") / whole)
    };
    let row = |law, what, against, pairs, unit| Comparison {
        law,
        what,
        against,
        pairs,
        unit,
    };
    vec![
        row(
            "insulation-limit",
            "limit",
            "IEC 60085, second-hand",
            of("insulation", "insulation-limit", "class"),
            "K",
        ),
        row(
            "magnet-limit",
            "limit",
            "suppliers' tables",
            of("NdFeB", "magnet-limit", "grade"),
            "K",
        ),
        row(
            "cell-settling",
            "part of the resistance felt at once",
            "27 Ah cell table",
            (0..cell.len()).map(ohm).collect(),
            "",
        ),
    ]
}

fn all() -> Vec<Comparison> {
    [
        water(),
        air(),
        friction(),
        planing(),
        tunnels(),
        porpoising(),
        hump(),
        blades_and_wings(),
        strut(),
        propeller(),
        disc_and_plate(),
        electrics(),
        recordings(),
        surface_propellers(),
        suction_and_cavitation(),
        strength(),
        heat(),
        limits(),
        structure::all(),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn table(comparisons: &[Comparison]) -> String {
    let mut out = String::new();
    for law in LAWS {
        writeln!(out, "\n### {}\n", law.name).unwrap();
        writeln!(out, "{}. Checked {}.\n", capital(law.summary), law.checked).unwrap();
        writeln!(out, "Holds for: {}. Source: {}.", law.validity, law.source).unwrap();
        let mine: Vec<_> = comparisons.iter().filter(|c| c.law == law.name).collect();
        if !mine.is_empty() {
            out.push_str("\n| what | against | values | typical error | worst error |\n|---|---|---|---|---|\n");
        }
        mine.iter()
            .for_each(|c| writeln!(out, "{}", c.row()).unwrap());
    }
    out
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map_or_else(String::new, |c| c.to_uppercase().chain(letters).collect())
}

#[test]
fn every_law_is_compared_with_something_unless_it_says_not() {
    let done = all();
    for law in LAWS {
        let compared = done
            .iter()
            .any(|c| c.law == law.name && !c.pairs.is_empty());
        let claims = law.checked != laws::catalogue::Checked::NotAtAll;
        assert_eq!(compared, claims, "{}", law.name);
    }
    assert!(done.iter().all(|c| find(c.law).is_some()));
}

#[test]
fn the_manual_shows_what_was_measured() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/accuracy.md");
    let manual = std::fs::read_to_string(&path).unwrap_or_default();
    let (before, rest) = manual
        .split_once(BEGIN)
        .expect("docs/accuracy.md has the begin mark");
    let (_, after) = rest
        .split_once(END)
        .expect("docs/accuracy.md has the end mark");
    let fresh = format!("{before}{BEGIN}\n{}\n{END}{after}", table(&all()));
    if std::env::var_os("UPDATE_DOCS").is_some() {
        std::fs::write(&path, &fresh).expect("docs/accuracy.md can be written");
        return;
    }
    assert!(
        manual == fresh,
        "docs/accuracy.md is stale: run UPDATE_DOCS=1 cargo test --release --workspace --test accuracy"
    );
}
