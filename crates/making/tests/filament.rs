//! Plastic of a piece beside a count of its walls layer by layer, as any slicer lays them.

#![allow(missing_docs)]

mod common;
#[path = "../../craft/tests/docs/mod.rs"]
mod docs;

use form::Mesh;
use form::sections::{Along, sections};
use form::solid::Region;
use making::filament::{MASS_SPREAD, plastic_m3};
use nalgebra::Vector3;
use std::ops::ControlFlow;

/// Every so many metres a layer is counted.
const APART_M: f64 = 0.001;

/// Lines along each layer's outline, and solid where less than the top and bottom layers lie over or under it.
fn counted_m3(placed: &Mesh, print: &boat::Print) -> f64 {
    let (low, high) = placed.bounds().unwrap();
    let count = ((high.z - low.z) / APART_M) as usize;
    let step = (high.z - low.z) / count as f64;
    let at: Vec<f64> = (0..count)
        .map(|i| low.z + (i as f64 + 0.5) * step)
        .collect();
    let regions = |by: f64| -> Vec<Region> {
        let moved: Vec<f64> = at.iter().map(|z| z + by).collect();
        let cuts = sections(placed, Along::Z, &moved);
        cuts.iter().map(|c| Region::of(c, Along::Z)).collect()
    };
    let solid = print.top_bottom_m.value;
    let (here, above, below) = (regions(0.0), regions(solid), regions(-solid));
    let area = |i: usize| {
        let inside = here[i].grown(-print.wall_m.value, true);
        let hollow = inside.shared(&above[i]).shared(&below[i]);
        here[i].area_m2() - hollow.area_m2()
    };
    (0..count).map(|i| area(i) * step).sum()
}

/// A box by hand: three lines of 0.4 mm round it, five layers of 0.2 mm below and above.
#[test]
fn a_box_is_counted_as_by_hand() {
    let (boat, _) = common::demo("tadpole");
    let mut print = boat.hull.print.clone();
    print.wall_m.value = 0.0012;
    print.top_bottom_m.value = 0.001;
    let ring = vec![[0.0, 0.0], [0.1, 0.0], [0.1, 0.06], [0.0, 0.06]];
    let solid = form::solid::Solid::prism(&Region::from_rings(&[ring]), Along::Z, 0.0, 0.04);
    let mesh = solid.unwrap().mesh();
    let by_hand = 0.1 * 0.06 * 0.04 - 0.0976 * 0.0576 * 0.038;
    let counted = counted_m3(&mesh, &print);
    assert!(
        (counted / by_hand - 1.0).abs() < 1e-3,
        "{counted} {by_hand}"
    );
    let ours = plastic_m3(&mesh, &print, false, Vector3::z());
    assert!(
        (ours / by_hand - 1.0).abs() < MASS_SPREAD,
        "{ours} {by_hand}"
    );
}

#[test]
fn pieces_weigh_what_their_walls_count() {
    let mut page = String::from("| hull | plastic beside the count, % |\n|---|---|\n");
    for name in common::DEMOS {
        let (boat, form) = common::demo(name);
        let mut print = boat.hull.print.clone();
        print.hollow = true;
        let go = &mut |_: f64, _: &str| ControlFlow::Continue(());
        let made = making::pieces(&boat, &form, &|_| 0.0, go).unwrap();
        let (mut ours, mut counted) = (0.0, 0.0);
        for p in &made.pieces {
            let both = [
                plastic_m3(&p.placed, &print, false, Vector3::z()),
                counted_m3(&p.placed, &print),
            ];
            println!(
                "{name} {}: {:+.1} %",
                p.name,
                100.0 * (both[0] / both[1] - 1.0)
            );
            ours += both[0];
            counted += both[1];
        }
        let off = ours / counted - 1.0;
        page += &format!("| {name} | {:+.1} |\n", 100.0 * off);
        assert!(off.abs() < MASS_SPREAD, "{name}: {off}");
    }
    docs::keep_current("print", &page);
}
