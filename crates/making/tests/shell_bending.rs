//! A starter hull's shell under landing load beside shell finite elements: `checks/shell_bending.csv`.
//!
//! A beam's frames keep their shape. With bulkheads the finite elements' frames do too, and the whole line agrees. With
//! nothing inside they give way between the load and the ends: the bow at the load is still the beam's, toward the ends
//! the sides stand up to seven tenths further off, and panels bend of their own (see the table's head).

#![allow(missing_docs)]

mod common;
#[path = "../../craft/tests/docs/mod.rs"]
mod docs;

use form::sections::{Along, sections};
use form::solid::Region;
use making::section::{Section, Wall};
use making::strength::OPEN;
use making::strength::girder::{Girder, Push};

const WALL: f64 = 0.0014;
const MODULUS_PA: f64 = 2.5e9;
/// Middle of the load and ends of the chord, m.
const AT: f64 = 0.24744;
const CHORD: [f64; 2] = [0.02226, 0.55174];
/// How far the middle of the deck stands above the chord at the load with nothing inside (the table's head), m.
const DECK_M: f64 = 0.367e-3;

struct Row {
    x_m: f64,
    stress_pa: [f64; 2],
    framed_m: f64,
    bare_m: f64,
}

fn table() -> Vec<Row> {
    let lines = include_str!("../../../checks/shell_bending.csv").lines();
    lines
        .filter(|l| !l.starts_with('#'))
        .skip(1)
        .map(|l| {
            let mut each = l.split(',').map(|v| v.parse().unwrap());
            let [x_m, low, high, framed_m, bare_m] = std::array::from_fn(|_| each.next().unwrap());
            Row {
                x_m,
                stress_pa: [low, high],
                framed_m,
                bare_m,
            }
        })
        .collect()
}

fn girder(from: f64, to: f64) -> Girder {
    let (_, form) = common::demo("millrace");
    let n = 100;
    let cell = (to - from) / f64::from(n);
    let x: Vec<f64> = (0..n).map(|i| from + (f64::from(i) + 0.5) * cell).collect();
    // The shell's middle is the outline, so the outside lies half a wall further out.
    let sections: Vec<Section> = sections(&form.envelope, Along::X, &x)
        .iter()
        .map(|c| {
            Section::of(
                &Region::of(c, Along::X).grown(0.5 * WALL, true),
                Wall::Sliced(WALL),
            )
        })
        .collect();
    Girder {
        mass_kg: sections.iter().map(|s| s.area_m2).collect(),
        x_m: x,
        cell_m: cell,
        sections,
    }
}

fn bent() -> (Girder, Vec<f64>) {
    let girder = girder(0.004, 0.57);
    let pushes: Vec<Push> = (-2..=2)
        .map(|k| Push {
            x_m: AT + 0.006 * f64::from(k),
            up_n: 20.0,
        })
        .collect();
    let moment = girder.in_the_air(&pushes);
    (girder, moment)
}

/// Between stations.
fn at(g: &Girder, values: &[f64], x: f64) -> f64 {
    let place = (x - g.x_m[0]) / g.cell_m;
    let i = (place.floor().max(0.0) as usize).min(values.len() - 2);
    values[i] + (place - i as f64) * (values[i + 1] - values[i])
}

/// Along x at the lowest and the highest fibre, Pa. A moment is negative where it hogs, pushed up in the middle: the bottom
/// is pressed, the deck pulled.
fn stress(g: &Girder, moment: &[f64], x_m: f64) -> [f64; 2] {
    let s = &g.sections[g.nearest(x_m)];
    let m = at(g, moment, x_m) / s.up_m4;
    [m * s.reach_m[1][0], -m * s.reach_m[1][1]]
}

#[test]
fn stress_agrees_within_a_fifth() {
    let (g, moment) = bent();
    for row in table() {
        let ours = stress(&g, &moment, row.x_m);
        println!("{}: {ours:.0?} {:.0?}", row.x_m, row.stress_pa);
        for (ours, theirs) in ours.iter().zip(row.stress_pa) {
            assert!(
                (ours / theirs - 1.0).abs() < 0.2,
                "{}: {ours} {theirs}",
                row.x_m
            );
        }
    }
}

#[test]
fn deflection_agrees_within_a_fifth() {
    let (g, moment) = bent();
    let bow = g.bow_m(&moment, MODULUS_PA);
    let ends = CHORD.map(|x| at(&g, &bow, x));
    let above = |x: f64| {
        let share = (x - CHORD[0]) / (CHORD[1] - CHORD[0]);
        at(&g, &bow, x) - ends[0] - share * (ends[1] - ends[0])
    };
    let rows = table();
    let mut page = String::from(
        "| ahead of the transom, mm | bending stress below, % | in the deck, % | deflection with bulkheads, % | with nothing inside, % |\n|---|---|---|---|---|\n",
    );
    for row in &rows {
        let ours = above(row.x_m);
        let percent = |share: f64| (100.0 * (share - 1.0)).round() + 0.0;
        let stress = stress(&g, &moment, row.x_m);
        page += &format!(
            "| {:.0} | {:+.0} | {:+.0} | {:+.0} | {:+.0} |\n",
            1e3 * row.x_m,
            percent(stress[0] / row.stress_pa[0]),
            percent(stress[1] / row.stress_pa[1]),
            percent(ours / row.framed_m),
            percent(ours / row.bare_m)
        );
        println!(
            "{}: {:.4} mm, framed {:.4}, bare {:.4}",
            row.x_m,
            1e3 * ours,
            1e3 * row.framed_m,
            1e3 * row.bare_m
        );
        assert!(
            (ours / row.framed_m - 1.0).abs() < 0.2,
            "{}: {ours} {}",
            row.x_m,
            row.framed_m
        );
    }
    // Nothing inside: toward the ends a misfit that is told, none for the greatest bow, at the load.
    let further = |r: &Row| r.bare_m / above(r.x_m);
    let most = rows.iter().map(further).fold(0.0, f64::max);
    assert!((most - OPEN[0]).abs() < 0.05, "{most}");
    let near = rows
        .iter()
        .min_by(|a, b| (a.x_m - AT).abs().total_cmp(&(b.x_m - AT).abs()));
    let near = near.unwrap();
    let ours = above(near.x_m);
    assert!(
        (ours / near.bare_m - 1.0).abs() < 0.2,
        "{ours} {}",
        near.bare_m
    );
    assert!((DECK_M / ours / OPEN[1] - 1.0).abs() < 0.2);
    docs::keep_current("shell", &page);
}
