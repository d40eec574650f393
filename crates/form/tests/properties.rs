//! What must hold for any hull and any attitude.

mod shapes;

use form::clip::immersed;
use form::{Columns, Immersed, Mesh, WaterPlane};
use nalgebra::{Rotation3, Vector3};
use proptest::prelude::*;
use shapes::{boat, subdivide, v};

fn hulls() -> impl Strategy<Value = Mesh> {
    (0.2..2.0f64, 0.05..0.5f64, 0.03..0.3f64, 3..20usize).prop_map(|(l, b, h, n)| boat(l, b, h, n))
}

/// Plane through a point inside the bounding box, at any attitude.
fn planes() -> impl Strategy<Value = (Vector3<f64>, [f64; 3])> {
    let at = [0.01..0.99f64, 0.01..0.99, 0.01..0.99];
    ((-3.2..3.2f64, -1.5..1.5f64), at).prop_map(|((heel, trim), at)| {
        let up = v(trim.sin(), trim.cos() * heel.sin(), trim.cos() * heel.cos());
        (up, at)
    })
}

fn through(mesh: &Mesh, up: Vector3<f64>, at: [f64; 3]) -> WaterPlane {
    let (low, high) = mesh.bounds().unwrap();
    let p = Vector3::from_fn(|k, _| low[k] + at[k] * (high[k] - low[k]));
    WaterPlane {
        up,
        height_m: up.dot(&p),
    }
}

/// Equal to rounding on the scale of the whole hull.
fn alike(a: &Immersed, b: &Immersed, mesh: &Mesh) -> bool {
    let (volume, size) = (mesh.signed_volume_m3(), mesh.size_m());
    (a.volume_m3 - b.volume_m3).abs() < 1e-10 * volume
        && (a.centroid_m * a.volume_m3 - b.centroid_m * b.volume_m3).norm() < 1e-10 * volume * size
        && (a.waterplane_area_m2 - b.waterplane_area_m2).abs() < 1e-10 * size * size
        && (a.wetted_area_m2 - b.wetted_area_m2).abs() < 1e-10 * size * size
        && (a.second_moment_roll_m4 - b.second_moment_roll_m4).abs() < 1e-9 * size.powi(4)
        && (a.second_moment_pitch_m4 - b.second_moment_pitch_m4).abs() < 1e-9 * size.powi(4)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn order_and_subdivision((mesh, (up, at)) in (hulls(), planes())) {
        let water = through(&mesh, up, at);
        let mut other = subdivide(&mesh);
        other.triangles.reverse();
        prop_assert!(alike(&immersed(&mesh, &water), &immersed(&other, &water), &mesh));
    }

    #[test]
    fn mirroring_swaps_sides((mesh, (up, at)) in (hulls(), planes())) {
        let across = |p: Vector3<f64>| v(p.x, -p.y, p.z);
        let mut mirrored = mesh.map(across);
        mirrored.flip();
        let water = through(&mesh, up, at);
        let cut = immersed(&mesh, &water);
        let mut other = immersed(&mirrored, &WaterPlane { up: across(up), ..water });
        other.centroid_m = across(other.centroid_m);
        prop_assert!(alike(&cut, &other, &mesh));
    }

    /// Both sides of the plane together are the whole hull.
    #[test]
    fn the_parts_make_the_whole((mesh, (up, at)) in (hulls(), planes())) {
        let water = through(&mesh, up, at);
        let below = immersed(&mesh, &water);
        let above = immersed(&mesh, &WaterPlane { up: -up, height_m: -water.height_m });
        let volume = mesh.signed_volume_m3();
        prop_assert!((below.volume_m3 + above.volume_m3 - volume).abs() < 1e-11 * volume);
        let moment = below.centroid_m * below.volume_m3 + above.centroid_m * above.volume_m3;
        prop_assert!((moment / volume - mesh.centroid_m()).norm() < 1e-9 * mesh.size_m());
        prop_assert!((below.waterplane_area_m2 - above.waterplane_area_m2).abs() < 1e-10);
        prop_assert!((below.wetted_area_m2 + above.wetted_area_m2 - mesh.area_m2()).abs() < 1e-10);
    }

    #[test]
    fn scaling((mesh, (up, at), k) in (hulls(), planes(), 0.1..20.0f64)) {
        let water = through(&mesh, up, at);
        let cut = immersed(&mesh, &water);
        let large = mesh.map(|p| p * k);
        let scaled = immersed(&large, &WaterPlane { up, height_m: water.height_m * k });
        prop_assert!((scaled.volume_m3 / k.powi(3) - cut.volume_m3).abs() < 1e-11);
        prop_assert!((scaled.waterplane_area_m2 / k.powi(2) - cut.waterplane_area_m2).abs() < 1e-11);
        prop_assert!((scaled.centroid_m / k - cut.centroid_m).norm() * cut.volume_m3 < 1e-11);
    }

    /// More water, more volume; and its rate of growth is the waterplane.
    #[test]
    fn volume_grows_with_the_waterplane((mesh, (up, at)) in (hulls(), planes())) {
        let water = through(&mesh, up, at);
        let step = 1e-6;
        let raised = WaterPlane { height_m: water.height_m + step, ..water };
        let (a, b) = (immersed(&mesh, &water), immersed(&mesh, &raised));
        let mean = (a.waterplane_area_m2 + b.waterplane_area_m2) / 2.0;
        prop_assert!(b.volume_m3 >= a.volume_m3 * (1.0 - 1e-12), "{a:?} {b:?}");
        // A facet nearly in the plane makes the area jump within the step.
        let jump = (b.waterplane_area_m2 - a.waterplane_area_m2).abs();
        prop_assert!((b.volume_m3 - a.volume_m3 - mean * step).abs() <= (jump + 1e-6) * step);
    }

    #[test]
    fn turning_hull_and_water_together((mesh, (up, at)) in (hulls(), planes()), a in -3.0..3.0f64) {
        let water = through(&mesh, up, at);
        let turn = Rotation3::from_euler_angles(a, a / 2.0, -a);
        let turned = mesh.map(|p| turn * p);
        let cut = immersed(&mesh, &water);
        let other = immersed(&turned, &WaterPlane { up: turn * up, ..water });
        prop_assert!((cut.volume_m3 - other.volume_m3).abs() < 1e-12);
        prop_assert!((turn * cut.centroid_m - other.centroid_m).norm() * cut.volume_m3 < 1e-12);
        let both = |c: &Immersed| c.second_moment_roll_m4 + c.second_moment_pitch_m4;
        prop_assert!((both(&cut) - both(&other)).abs() < 1e-10);
    }

    /// A symmetric hull must not heel by itself.
    #[test]
    fn columns_are_even_sided((b, h) in (0.05..0.5f64, 0.02..0.3f64), height in 0.01..0.3f64) {
        let columns = Columns::of(&shapes::vee(0.6, b, h), 60, 24);
        let (_, middle) = columns.immersed(Vector3::z(), height);
        prop_assert!(middle.y.abs() < 1e-12);
    }

    #[test]
    fn columns_keep_volume_and_balance(mesh in hulls()) {
        let columns = Columns::of(&mesh, 60, 24);
        let volume = mesh.signed_volume_m3();
        prop_assert!((columns.volume_m3() / volume - 1.0).abs() < 1e-12);
        let (all, middle) = columns.immersed(Vector3::z(), 10.0);
        prop_assert!((all / volume - 1.0).abs() < 1e-12);
        prop_assert!((middle - mesh.centroid_m()).norm() < 0.005 * mesh.size_m());
    }
}
