//! Section properties beside a general-purpose library on the same outlines: `checks/section_properties.csv`.

#![allow(missing_docs)]

mod common;

use form::sections::{Along, sections as cuts};
use form::solid::Region;
use making::section::{Section, Wall};

fn rows(text: &str) -> Vec<Vec<String>> {
    text.lines()
        .filter(|l| !l.starts_with('#'))
        .skip(1)
        .map(|l| l.split(',').map(str::to_owned).collect())
        .collect()
}

/// Where `checks/section_properties.csv` cuts the demonstration hulls, of their length.
const FRAME: f64 = 0.4;

/// A made-up outline, or a demonstration hull as it is cut here.
fn outline(name: &str) -> Region {
    if common::DEMOS.contains(&name) {
        let (_, form) = common::demo(name);
        let (low, high) = form.envelope.bounds().unwrap();
        let at = low.x + FRAME * (high.x - low.x);
        return Region::of(&cuts(&form.envelope, Along::X, &[at])[0], Along::X);
    }
    let ring = rows(include_str!("../../../checks/section_outlines.csv"))
        .iter()
        .filter(|r| r[0] == name)
        .map(|r| [1, 2].map(|k| 1e-3 * r[k].parse::<f64>().unwrap()))
        .collect();
    Region::from_rings(&[ring])
}

#[test]
fn thin_walled_outlines_agree_within_a_percent() {
    for r in rows(include_str!("../../../checks/section_properties.csv")) {
        let number = |k: usize| r[k].parse::<f64>().unwrap();
        if r[1] != "closed" {
            continue;
        }
        let wall = 1e-3 * number(2);
        let s = Section::of(&outline(&r[0]), Wall::Sliced(wall));
        let pairs = [
            ("area", s.area_m2, 1e-6 * number(3)),
            (
                "height of the middle",
                0.05 + s.middle_m[1],
                0.05 + 1e-3 * number(5),
            ),
            ("ixx", s.up_m4, 1e-12 * number(6)),
            ("iyy", s.across_m4, 1e-12 * number(7)),
            ("j", s.torsion_m4, 1e-12 * number(9)),
            ("shear", s.shear_m2, 1e-6 * number(10)),
        ];
        for (what, ours, theirs) in pairs {
            let off = (ours / theirs - 1.0).abs();
            // Bredt's wall is thin: 2 mm in a 50 mm box is no longer quite. A wall that shears is a line, too.
            let hull = common::DEMOS.contains(&r[0].as_str());
            let limit = match what {
                "j" if wall > 0.0015 => 0.02,
                "shear" if !hull => 0.025,
                _ => 0.01,
            };
            println!("{} {wall} {what}: {:.3} %", r[0], 100.0 * off);
            assert!(
                off < limit,
                "{} {wall} {what}: {ours} against {theirs}",
                r[0]
            );
        }
    }
}

#[test]
fn a_wall_given_as_a_mesh_is_the_same_section() {
    let outer = outline("box");
    let region = outer.without(&outer.grown(-0.0012, true));
    let (a, b) = (
        Section::of(&outer, Wall::Sliced(0.0012)),
        Section::of(&region, Wall::Modelled),
    );
    assert!(b.closed && (a.up_m4 / b.up_m4 - 1.0).abs() < 1e-6);
    assert!((a.torsion_m4 / b.torsion_m4 - 1.0).abs() < 0.02);
}

#[test]
fn a_rod_stiffens_as_the_parallel_axis_theorem_says() {
    // A box of 120 by 50 mm with 1.2 mm walls; a rod worth 100 mm2 of wall at its bottom edge.
    let s = Section::of(&outline("box"), Wall::Sliced(0.0012));
    let with = s.with_rods(&[([0.0, 0.0], 100e-6)]);
    let (a, d) = (s.area_m2, s.middle_m[1]);
    let by_hand = s.up_m4 + a * 100e-6 / (a + 100e-6) * d * d;
    assert!((with.up_m4 / by_hand - 1.0).abs() < 1e-9);
    let none = s.with_rods(&[]);
    assert!((none.up_m4 - s.up_m4).abs() < 1e-18);
}
