//! Whatever the load, the boat comes to rest: buoyancy equals weight, stands under or over it,
//! and the curve is whole. Light to nearly sunk, weight in any corner, on six hulls.

mod hulls;

use craft::attitude::{self, height_above_water};
use form::{Form, assemble, clip::immersed};
use hulls::{WATER, bare, close, lump};
use nalgebra::Vector3;

const HULLS: [&str; 6] = [
    "vee",
    "catamaran",
    "hollow_shell",
    "open_skin",
    "overlapping_bodies",
    "ellipsoid",
];

fn hull(name: &str) -> Form {
    let path = format!(
        "{}/../form/tests/meshes/{name}.stl",
        env!("CARGO_MANIFEST_DIR")
    );
    let bytes = std::fs::read(path).expect("a mesh of form's tests");
    assemble(&[(name, &bytes)], &[]).expect("a sound mesh")
}

/// Centres of gravity spread through the hull's bounding box.
fn corners(form: &Form) -> Vec<Vector3<f64>> {
    let (low, high) = form.envelope.bounds().expect("vertices");
    let within = |share: [f64; 3]| low + (high - low).component_mul(&Vector3::from(share));
    let shares = [0.25, 0.75].into_iter().flat_map(|x| {
        [0.3, 0.52]
            .into_iter()
            .flat_map(move |y| [0.15, 0.9].map(|z| [x, y, z]))
    });
    shares.map(within).collect()
}

#[test]
fn every_load_comes_to_rest() {
    for name in HULLS {
        let form = hull(name);
        let volume = form.envelope.signed_volume_m3();
        for (share, cg) in [0.02, 0.3, 0.6, 0.98]
            .into_iter()
            .flat_map(|share| corners(&form).into_iter().map(move |cg| (share, cg)))
        {
            at_rest(&form, share * volume * WATER, cg);
        }
    }
}

/// Weight and buoyancy balance, in line, and every resting heel is stable by the curve.
fn at_rest(form: &Form, mass_kg: f64, cg: Vector3<f64>) {
    let found = craft::rest::solve(&bare(), form, &lump(mass_kg, cg), WATER).expect("a body");
    let afloat = found.afloat.expect("reserve of buoyancy");
    let water = attitude::water_plane(&afloat.attitude);
    let cut = immersed(&form.envelope, &water);
    close(cut.volume_m3 * WATER, mass_kg, 1e-8 * mass_kg);
    let lever = cut.centroid_m - cg;
    let aside = lever - water.up * water.up.dot(&lever);
    assert!(aside.norm() < 1e-9, "levers {aside:?} m");
    let deepest = form
        .envelope
        .vertices
        .iter()
        .map(|p| height_above_water(&water, p));
    close(
        deepest.fold(f64::INFINITY, f64::min),
        -afloat.draught_m,
        1e-12,
    );
    assert_eq!(found.righting.len(), 37);
    assert!(!found.resting_heels_rad.is_empty());
}
