//! What holds a hull together: the structural laws beside handbooks and general-purpose solvers.

use super::{Comparison, ask, checks, over};
use crate::testing::Table;

fn row(
    law: &'static str,
    what: &'static str,
    against: &'static str,
    pairs: Vec<(f64, f64)>,
) -> Comparison {
    Comparison {
        law,
        what,
        against,
        pairs,
        unit: "",
    }
}

fn word(table: &Table, r: usize, column: &str, words: &[&str]) -> f64 {
    let given = table.text(r, column);
    words
        .iter()
        .position(|w| *w == given)
        .expect("a known word") as f64
}

fn beams() -> Vec<Comparison> {
    let t = checks("beam_cases.csv");
    let of = |r: usize, key: &str| {
        let inputs = [
            (
                "held",
                word(&t, r, "held", &["pinned", "cantilever", "clamped"]),
            ),
            ("length", 0.5),
            ("load", 10.0),
            ("at", t.number(r, "at_m")),
            ("modulus", 2e9),
            ("second_moment", 1e-9),
            ("fibre", 0.01),
        ];
        ask("beam", &inputs, key)
    };
    let against = "beam equation by a boundary-value solver";
    vec![
        row(
            "beam",
            "moment",
            against,
            over(&t, "moment_N_m", |r| of(r, "moment")),
        ),
        row(
            "beam",
            "deflection",
            against,
            over(&t, "deflection_m", |r| of(r, "deflection")),
        ),
    ]
}

fn plates() -> Vec<Comparison> {
    let tables = [
        ("plate_solutions.csv", "finite differences"),
        ("roark_plates.csv", "Roark table 11.4, from memory"),
    ];
    let mut rows = Vec::new();
    for (file, against) in tables {
        let t = checks(file);
        let of = |r: usize, key: &str, unit: f64| {
            let inputs = [
                ("edges", word(&t, r, "edges", &["pinned", "clamped"])),
                ("length", 0.1 * t.number(r, "ratio")),
                ("width", 0.1),
                ("thickness", 0.001),
                ("pressure", 1.0),
                ("modulus", 2e9),
            ];
            ask("plate", &inputs, key) / unit
        };
        let (stress, bend) = (0.1f64.powi(2) / 1e-6, 0.1f64.powi(4) / (2e9 * 1e-9));
        rows.push(row(
            "plate",
            "stress",
            against,
            over(&t, "beta", |r| of(r, "stress", stress)),
        ));
        rows.push(row(
            "plate",
            "deflection",
            against,
            over(&t, "alpha", |r| of(r, "deflection", bend)),
        ));
    }
    rows.push(row(
        "plate",
        "deflection of a square stretched like a membrane",
        "Timoshenko and Woinowsky-Krieger art. 102, from memory",
        vec![(membrane(), 0.802)],
    ));
    rows
}

/// Deflection over `a (p a / (E t))^(1/3)`, `a` half the side, bent hundreds of thicknesses.
fn membrane() -> f64 {
    let (a, t, p, e) = (0.05f64, 1e-5, 1e3, 2e9);
    let inputs = [
        ("edges", 0.0),
        ("length", 2.0 * a),
        ("width", 2.0 * a),
        ("thickness", t),
        ("pressure", p),
        ("modulus", e),
    ];
    ask("plate", &inputs, "stretched_deflection") / (a * (p * a / (e * t)).cbrt())
}

fn torsion() -> Vec<Comparison> {
    let strip = checks("narrow_rectangle_torsion.csv");
    let outlines = checks("section_properties.csv");
    let open = |width: f64, wall: f64| {
        let inputs = [
            ("width", width),
            ("wall", wall),
            ("length", 1.0),
            ("torque", 1.0),
            ("shear_modulus", 1e9),
        ];
        ask("open-strip", &inputs, "torsion_constant")
    };
    let closed = |area: f64, perimeter: f64, wall: f64| {
        let inputs = [
            ("area", area),
            ("perimeter", perimeter),
            ("wall", wall),
            ("length", 1.0),
            ("torque", 1.0),
            ("shear_modulus", 1e9),
        ];
        ask("closed-tube", &inputs, "torsion_constant")
    };
    let find = |name: &'static str, kind: &'static str| {
        let t = &outlines;
        (0..t.len())
            .filter(move |r| t.text(*r, "outline") == name && t.text(*r, "kind") == kind)
            .map(|r| (t.number(r, "wall"), t.number(r, "area"), t.number(r, "j")))
    };
    let round = find("round", "closed").map(|(wall, area, j)| {
        // The wall's section over its thickness is the middle line's length.
        let perimeter = area / wall;
        let inside = perimeter * perimeter / (4.0 * std::f64::consts::PI);
        (
            closed(1e-6 * inside, 1e-3 * perimeter, 1e-3 * wall),
            1e-12 * j,
        )
    });
    let boxes = find("box", "closed").map(|(wall, _, j)| {
        let (w, h) = (120.0 - wall, 50.0 - wall);
        (closed(1e-6 * w * h, 2e-3 * (w + h), 1e-3 * wall), 1e-12 * j)
    });
    let slit = find("round", "slit")
        .chain(find("box", "slit"))
        .map(|(wall, area, j)| (open(1e-3 * area / wall, 1e-3 * wall), 1e-12 * j));
    let fem = "sectionproperties, finite elements";
    vec![
        row(
            "closed-tube",
            "torsion constant, round and box",
            fem,
            round.chain(boxes).collect(),
        ),
        row(
            "open-strip",
            "torsion constant, slit tube and open box",
            fem,
            slit.collect(),
        ),
        row(
            "open-strip",
            "torsion constant, 20 and more walls wide",
            "exact series of the rectangle",
            over(&strip, "constant", |r| {
                let w = strip.number(r, "ratio");
                open(w, 1.0) / w
            })
            .into_iter()
            .skip(1)
            .collect(),
        ),
    ]
}

fn glue() -> Vec<Comparison> {
    let t = checks("lap_joints.csv");
    let of = |r: usize, key: &str| {
        let inputs = [
            ("force", 100.0),
            ("width", 0.05),
            ("overlap", t.number(r, "overlap_m")),
            ("wall", t.number(r, "wall_m")),
            ("modulus", t.number(r, "modulus_Pa")),
            ("glue", t.number(r, "glue_m")),
            ("glue_shear_modulus", t.number(r, "glue_shear_Pa")),
        ];
        ask("lap-joint", &inputs, key)
    };
    vec![row(
        "lap-joint",
        "peak shear",
        "Volkersen's equation by a boundary-value solver",
        over(&t, "peak_Pa", |r| of(r, "peak")),
    )]
}

fn water() -> Vec<Comparison> {
    let (exact, printed) = (checks("wedge_entry_similarity.csv"), checks("slamming.csv"));
    let of = |t: &Table, r: usize, key: &str| {
        let deadrise = t.number(r, "deadrise_deg").to_radians();
        ask(
            "entry-pressure",
            &[("speed", 1.0), ("deadrise", deadrise), ("density", 1000.0)],
            key,
        )
    };
    let peak = over(&exact, "Cpmax_similarity", |r| {
        of(&exact, r, "peak") / 500.0
    });
    let mean = over(&printed, "von_karman_mean_kPa_at_1_m_s", |r| {
        1e-3 * of(&printed, r, "mean")
    });
    vec![
        row(
            "entry-pressure",
            "peak",
            "Zhao and Faltinsen 1993, similarity solution, from memory",
            peak,
        ),
        row(
            "entry-pressure",
            "mean",
            "von Karman 1929, by the formula, two digits",
            mean,
        ),
    ]
}

fn strength() -> Vec<Comparison> {
    let t = checks("printed_parts.csv");
    let listed = |what: &str| {
        let r = (0..t.len())
            .find(|r| t.text(*r, "what") == what)
            .expect("a row");
        [t.number(r, "low"), t.number(r, "high")]
    };
    let of = |material: f64, angle_deg: f64, key: &str| {
        let inputs = [("material", material), ("angle", angle_deg.to_radians())];
        1e-6 * ask("printed-strength", &inputs, key)
    };
    let both = |what: &str, material: f64, angle: f64| {
        let [low, high] = listed(what);
        [
            (of(material, angle, "low"), low),
            (of(material, angle, "high"), high),
        ]
    };
    let petg = both("PETG printed tensile strength along the layers", 1.0, 0.0)
        .into_iter()
        .chain(both(
            "PETG printed tensile strength across the layers",
            1.0,
            90.0,
        ));
    let ratios = checks("plastics_printed.csv");
    let share = |row: &str, column: &str| {
        let r = (0..ratios.len())
            .find(|r| ratios.text(*r, "process_and_orientation") == row)
            .expect("a row");
        let text = ratios.text(r, column).trim_start_matches("ratio ");
        text.parse::<f64>().expect("a number")
    };
    // Upright over flat: one study 0.64; another 16 over 33 MPa (its table quotes the name).
    let upright = share("FFF vertical (load across layers)", "UTS_MPa") / 33.0;
    let better = share("FFF upright against flat", "UTS_MPa");
    let ours = |key| of(0.0, 90.0, key) / of(0.0, 0.0, key);
    vec![
        row(
            "printed-strength",
            "PETG, low and high",
            "tables of printed PETG 2025",
            petg.collect(),
        ),
        row(
            "printed-strength",
            "PLA across over along, low and high",
            "two build-orientation studies",
            vec![(ours("low"), upright), (ours("high"), better)],
        ),
    ]
}

fn by_hand() -> Vec<Comparison> {
    let crush = |key| {
        let inputs = [
            ("mass", 1.5),
            ("speed", 8.0),
            ("area", 4e-4),
            ("strength", 45e6),
            ("kept", 0.2),
        ];
        ask("crush", &inputs, key)
    };
    let bracket = |key| {
        let inputs = [("force", 40.0), ("arm", 0.03), ("wall", 0.002)];
        ask("bolted-bracket", &inputs, key)
    };
    vec![
        // 48 J over 3600 N.
        row(
            "crush",
            "length",
            "energy balance, by hand",
            vec![(crush("length"), 48.0 / 3600.0)],
        ),
        // 1.2 N m over 20 mm on two screws; 40 N on four screws of 3 mm in 2 mm.
        row(
            "bolted-bracket",
            "pull and bearing",
            "statics, by hand",
            vec![(bracket("pull"), 30.0), (bracket("bearing"), 40.0 / 24e-6)],
        ),
    ]
}

pub(super) fn all() -> Vec<Comparison> {
    [
        beams(),
        plates(),
        torsion(),
        glue(),
        water(),
        strength(),
        by_hand(),
    ]
    .into_iter()
    .flatten()
    .collect()
}
