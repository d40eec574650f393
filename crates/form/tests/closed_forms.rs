//! Clipping against solids whose immersed part has a closed form. Geometry alone, so the only
//! tolerance is rounding: 1e-9 relative.

mod shapes;

use form::clip::immersed;
use form::{Columns, Outline, WaterPlane};
use nalgebra::{Rotation3, Vector3};
use shapes::{block, cylinder, subdivide, v, vee, wigley};

fn level(height_m: f64) -> WaterPlane {
    WaterPlane {
        up: Vector3::z(),
        height_m,
    }
}

#[track_caller]
fn close(found: f64, expected: f64) {
    let error = (found - expected).abs();
    assert!(
        error <= 1e-9 * expected.abs().max(1e-6),
        "{found} against {expected}"
    );
}

#[track_caller]
fn same_place(found: Vector3<f64>, expected: Vector3<f64>) {
    assert!(
        (found - expected).norm() < 1e-9,
        "{found} against {expected}"
    );
}

#[test]
fn box_upright() {
    let cut = immersed(&block(v(0.0, -0.1, 0.0), v(0.6, 0.1, 0.12)), &level(0.05));
    close(cut.volume_m3, 0.6 * 0.2 * 0.05);
    same_place(cut.centroid_m, v(0.3, 0.0, 0.025));
    close(cut.waterplane_area_m2, 0.12);
    same_place(cut.waterplane_centroid_m, v(0.3, 0.0, 0.05));
    close(cut.second_moment_roll_m4, 0.6 * 0.2f64.powi(3) / 12.0);
    close(cut.second_moment_pitch_m4, 0.2 * 0.6f64.powi(3) / 12.0);
    assert!(cut.product_moment_m4.abs() < 1e-15);
    close(cut.wetted_area_m2, 0.12 + 2.0 * 0.05 * (0.6 + 0.2));
}

/// A box heeled by `a` about the middle of its waterline keeps its volume; its section is a
/// rectangle plus a wedge pair, so the centroid moves across by `b^2 tan(a) / (12 t)` and up by
/// `b^2 tan^2(a) / (24 t)` (Scribanti's formula, exact for a wall-sided body).
#[test]
fn heeled_wall_sided_box_follows_scribanti() {
    let (b, t) = (0.2, 0.06);
    let mesh = block(v(0.0, -b / 2.0, 0.0), v(0.6, b / 2.0, 0.14));
    for heel in [0.05f64, 0.2, -0.35] {
        let up = v(0.0, heel.sin(), heel.cos());
        let cut = immersed(
            &mesh,
            &WaterPlane {
                up,
                height_m: t * heel.cos(),
            },
        );
        close(cut.volume_m3, 0.6 * b * t);
        let (across, rise) = (heel.tan(), heel.tan().powi(2));
        let shift = v(
            0.3,
            -b * b * across / 12.0 / t,
            t / 2.0 + b * b * rise / 24.0 / t,
        );
        same_place(cut.centroid_m, shift);
        let width = b / heel.cos();
        close(cut.second_moment_roll_m4, 0.6 * width.powi(3) / 12.0);
        close(cut.second_moment_pitch_m4, width * 0.6f64.powi(3) / 12.0);
    }
}

#[test]
fn vee_upright() {
    let (l, b, h, t) = (0.7, 0.24, 0.1, 0.03);
    let cut = immersed(&vee(l, b, h), &level(t));
    let w = b * t / h;
    close(cut.volume_m3, l * w * t / 2.0);
    same_place(cut.centroid_m, v(l / 2.0, 0.0, 2.0 * t / 3.0));
    close(cut.second_moment_roll_m4, l * w.powi(3) / 12.0);
    close(cut.wetted_area_m2, l * w.hypot(2.0 * t) + w * t);
}

/// Half a regular polygon: area `n r^2 sin(2 pi / n) / 4`.
#[test]
fn half_sunk_polygonal_cylinder() {
    for n in [8usize, 64, 4096] {
        let (l, r) = (0.5, 0.04);
        let cut = immersed(&cylinder(l, r, n), &level(r));
        let step = std::f64::consts::TAU / n as f64;
        let area = n as f64 * r * r * step.sin() / 4.0;
        close(cut.volume_m3, l * area);
        close(cut.waterplane_area_m2, l * 2.0 * r);
        // First moment of the half polygon about its diameter, triangle by triangle.
        let moment: f64 = (0..n / 2)
            .map(|i| {
                let (a, b) = (step * i as f64, step * (i + 1) as f64);
                r.powi(3) * step.sin() / 6.0 * (a.sin() + b.sin())
            })
            .sum();
        close(cut.centroid_m.z, r - moment / area);
    }
}

/// Wigley hull `y = b/2 (1 - s^2)(1 - (z/t)^2)`: block coefficient 4/9, waterplane 2/3,
/// centre of buoyancy 3/8 t below the surface. Facets approach these with the square of their
/// size: Richardson extrapolation of two meshes lands on them.
#[test]
fn wigley_converges_to_its_closed_form() {
    let (l, b, t) = (1.0, 0.1, 0.0625);
    let on = |n: usize| immersed(&wigley(l, b, t, 4 * n, n), &level(0.0));
    let (coarse, fine) = (on(16), on(32));
    let limit = |of: &dyn Fn(&form::Immersed) -> f64| (4.0 * of(&fine) - of(&coarse)) / 3.0;
    let volume = limit(&|c| c.volume_m3);
    assert!(
        (volume / (4.0 / 9.0 * l * b * t) - 1.0).abs() < 1e-5,
        "{volume}"
    );
    let plane = limit(&|c| c.waterplane_area_m2);
    assert!((plane / (2.0 / 3.0 * l * b) - 1.0).abs() < 1e-9, "{plane}");
    let height = limit(&|c| c.centroid_m.z);
    assert!((height / (-3.0 / 8.0 * t) - 1.0).abs() < 1e-4, "{height}");
}

#[test]
fn dry_and_drowned() {
    let mesh = block(v(0.0, -0.1, 0.0), v(0.6, 0.1, 0.1));
    let dry = immersed(&mesh, &level(-0.01));
    assert_eq!(dry.volume_m3, 0.0);
    assert_eq!(dry.wetted_area_m2, 0.0);
    let drowned = immersed(&mesh, &level(0.2));
    close(drowned.volume_m3, mesh.signed_volume_m3());
    same_place(drowned.centroid_m, mesh.centroid_m());
    assert_eq!(drowned.waterplane_area_m2, 0.0);
}

#[test]
fn order_and_subdivision_do_not_matter() {
    let mesh = wigley(1.0, 0.2, 0.08, 24, 8);
    let up = Rotation3::from_euler_angles(0.2, -0.1, 0.3) * Vector3::z();
    let water = WaterPlane {
        up,
        height_m: -0.02,
    };
    let cut = immersed(&mesh, &water);
    let mut turned = subdivide(&mesh);
    turned.triangles.reverse();
    for t in &mut turned.triangles {
        t.rotate_left(1);
    }
    let other = immersed(&turned, &water);
    close(other.volume_m3, cut.volume_m3);
    same_place(other.centroid_m, cut.centroid_m);
    close(other.waterplane_area_m2, cut.waterplane_area_m2);
    close(other.second_moment_pitch_m4, cut.second_moment_pitch_m4);
    close(other.wetted_area_m2, cut.wetted_area_m2);
}

/// Columns cut a cell flat where the exact cut is slanted, and average the section over a cell:
/// 1 % in volume and 2 mm in the centre on a 1 m hull at these attitudes.
#[test]
fn columns_follow_exact_clipping() {
    let mesh = wigley(1.0, 0.2, 0.08, 48, 12);
    let columns = Columns::of(&mesh, 60, 24);
    close(columns.volume_m3(), mesh.signed_volume_m3());
    for (heel, trim) in [(0.0, 0.0), (0.1, 0.03), (-0.4, -0.05)] {
        let up = v(f64::sin(trim), f64::sin(heel), 1.0).normalize();
        let height_m = up.dot(&v(0.5, 0.0, -0.03));
        let exact = immersed(&mesh, &WaterPlane { up, height_m });
        let (volume, middle) = columns.immersed(up, height_m);
        assert!(
            (volume / exact.volume_m3 - 1.0).abs() < 0.01,
            "{volume} {exact:?}"
        );
        assert!(
            (middle - exact.centroid_m).norm() < 2e-3,
            "{middle} {exact:?}"
        );
    }
}

#[test]
fn tunnel_gives_columns_above_each_other() {
    let mut mesh = block(v(0.0, -0.1, 0.0), v(0.6, 0.1, 0.03));
    mesh.append(&block(v(0.0, -0.1, 0.08), v(0.6, 0.1, 0.1)));
    let columns = Columns::of(&mesh, 10, 4);
    assert_eq!(columns.len(), 80);
    let (volume, _) = columns.immersed(Vector3::z(), 0.05);
    close(volume, 0.6 * 0.2 * 0.03);
}

/// A box shows its faces; a vee from ahead shows its triangle, whose middle is two thirds up.
#[test]
fn outlines_are_silhouettes() {
    let outline = Outline::of(&vee(0.7, 0.24, 0.1));
    let near = |found: f64, expected: f64| {
        assert!((found / expected - 1.0).abs() < 0.005, "{found} {expected}");
    };
    near(outline.front_area_m2, 0.012);
    near(outline.front_centre_z_m, 0.2 / 3.0);
    near(outline.side_area_m2, 0.07);
    near(outline.side_centre_m[0], 0.35);
    near(outline.plan_area_m2, 0.7 * 0.24);
    near(outline.plan_centre_x_m, 0.35);
    near(outline.beam_m, 0.24);
    near(outline.length_m, 0.7);
}
