//! A starter hull's shell under landing load beside shell finite elements: `checks/shell_bending.csv`.
//!
//! Stress only. The deflections do not agree yet: the table's first row, a mean over the whole frame, is 0.34 mm and
//! holds the flat panels' own bending, where the beam alone bends 0.07 mm.

#![allow(missing_docs)]

mod common;

use form::sections::{Along, sections};
use form::solid::Region;
use making::section::{Section, Wall};
use making::strength::girder::{Girder, Push};

const WALL: f64 = 0.0014;

fn girder(from: f64, to: f64) -> Girder {
    let (_, form) = common::demo("millrace");
    let n = 60;
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

#[test]
fn stress_agrees_within_a_fifth() {
    let table = include_str!("../../../checks/shell_bending.csv");
    let rows: Vec<[f64; 3]> = table
        .lines()
        .filter(|l| !l.starts_with('#'))
        .skip(1)
        .map(|l| {
            let mut each = l.split(',').map(|v| v.parse().unwrap());
            std::array::from_fn(|_| each.next().unwrap())
        })
        .collect();
    let g = girder(0.004, 0.57);
    let at = rows[0][0];
    let pushes: Vec<Push> = (-2..=2)
        .map(|k| Push {
            x_m: at + 0.006 * f64::from(k),
            up_n: 20.0,
        })
        .collect();
    let moment = g.in_the_air(&pushes);
    for [x, low, high] in &rows[1..] {
        let i = g.nearest(*x);
        let s = &g.sections[i];
        // A moment is negative where it hogs, pushed up in the middle: the bottom is pressed, the deck pulled.
        let ours = [
            moment[i] * s.reach_m[1][0] / s.up_m4,
            -moment[i] * s.reach_m[1][1] / s.up_m4,
        ];
        println!("{x}: {:.0} {low:.0}, {:.0} {high:.0}", ours[0], ours[1]);
        // Near the bow the stress is a tenth of the greatest and the frame is no longer thin against its taper.
        if low.abs() > 5e4 {
            assert!((ours[0] / low - 1.0).abs() < 0.2, "{x}: {} {low}", ours[0]);
            assert!(
                (ours[1] / high - 1.0).abs() < 0.2,
                "{x}: {} {high}",
                ours[1]
            );
        }
    }
}
