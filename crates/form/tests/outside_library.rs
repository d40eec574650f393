//! The same hulls cut and floated by general-purpose Python libraries (trimesh, manifold3d,
//! scipy): `checks/mesh_cuts.csv`, `checks/mesh_equilibria.csv`, made by
//! `checks/python/make_mesh_checks.py`. The Python side builds each envelope itself, so these
//! also check repair, joining, cavities and rims.

use std::collections::HashMap;

use form::clip::immersed;
use form::{EnvelopeKind, Form, WaterPlane, assemble};
use nalgebra::Vector3;

const WATER_KG_M3: f64 = 998.2;

fn hull(name: &str) -> Form {
    let path = format!("{}/tests/meshes/{name}.stl", env!("CARGO_MANIFEST_DIR"));
    let bytes = std::fs::read(path).unwrap();
    assemble(&[(name, &bytes)], &[]).unwrap()
}

/// Rows of a table as name and numbers.
fn table(text: &str) -> Vec<(&str, Vec<f64>)> {
    text.lines()
        .skip_while(|l| l.starts_with('#'))
        .skip(1)
        .map(|line| {
            let mut cells = line.split(',');
            let name = cells.next().unwrap();
            (name, cells.map(|c| c.parse().unwrap()).collect())
        })
        .collect()
}

/// Single precision in the file bounds the agreement at 1e-6. The cap over a rim with sheer may
/// be triangulated in more than one way, which the steep plane through it shows: 1e-3 there.
#[test]
fn cuts_agree() {
    let mut forms: HashMap<&str, Form> = HashMap::new();
    let rows = table(include_str!("../../../checks/mesh_cuts.csv"));
    assert!(rows.len() >= 30);
    for (name, row) in rows {
        let form = forms.entry(name).or_insert_with(|| hull(name));
        let cut = immersed(
            &form.envelope,
            &WaterPlane {
                up: Vector3::new(row[0], row[1], row[2]),
                height_m: row[3],
            },
        );
        let (volume, centre) = (row[4], Vector3::new(row[5], row[6], row[7]));
        let relative = if name == "open_shell" { 1e-3 } else { 1e-6 };
        let error = cut.volume_m3 / volume - 1.0;
        let miss = (cut.centroid_m - centre).norm();
        assert!(
            error.abs() < relative && miss < relative * 0.6,
            "{name} {row:?}: volume off by {error:e}, centre by {miss:e} m; {:?}",
            form.notices
        );
    }
}

/// At the attitude the Python side finds, our own residuals must vanish: the volume error over
/// the waterplane gives the error in sinkage (0.1 mm), and the levers over the metacentric
/// heights the errors in trim and heel (0.02 degrees).
#[test]
fn equilibria_agree() {
    let rows = table(include_str!("../../../checks/mesh_equilibria.csv"));
    assert!(rows.len() >= 6);
    for (name, row) in rows {
        let form = hull(name);
        let (mass, cg) = (row[0], Vector3::new(row[1], row[2], row[3]));
        let (height_m, trim, heel) = (row[4], row[5].to_radians(), row[6].to_radians());
        let up = Vector3::new(trim.sin(), trim.cos() * heel.sin(), trim.cos() * heel.cos());
        let cut = immersed(&form.envelope, &WaterPlane { up, height_m });
        let displaced = mass / WATER_KG_M3;
        let sinkage = (cut.volume_m3 - displaced) / cut.waterplane_area_m2;
        assert!(sinkage.abs() < 1e-4, "{name}: sinkage off by {sinkage} m");
        let lever = cut.centroid_m - cg;
        let port = up.cross(&Vector3::x()).normalize();
        let ahead = port.cross(&up);
        let metacentric = |second_moment: f64| second_moment / displaced + up.dot(&lever);
        let heel_error = lever.dot(&port) / metacentric(cut.second_moment_roll_m4);
        let trim_error = lever.dot(&ahead) / metacentric(cut.second_moment_pitch_m4);
        let limit = 0.02f64.to_radians();
        assert!(
            heel_error.abs() < limit,
            "{name}: heel off by {heel_error} rad"
        );
        assert!(
            trim_error.abs() < limit,
            "{name}: trim off by {trim_error} rad"
        );
    }
}

#[test]
fn kinds_are_found() {
    let kinds = [
        ("vee", EnvelopeKind::Solid),
        ("catamaran", EnvelopeKind::Solid),
        ("hollow_shell", EnvelopeKind::ClosedShell),
        ("open_shell", EnvelopeKind::OpenShell),
        ("open_skin", EnvelopeKind::OpenShell),
        ("overlapping_bodies", EnvelopeKind::Solid),
        ("ellipsoid", EnvelopeKind::Solid),
    ];
    for (name, kind) in kinds {
        let form = hull(name);
        assert_eq!(form.kind, kind, "{name}: {:?}", form.notices);
        assert!(form.envelope.is_closed(), "{name}");
        assert!(!form.has_serious_notice(), "{name}: {:?}", form.notices);
    }
    // Sheer rises from 90 mm at the transom.
    let rim = hull("open_shell").rim_m.unwrap();
    assert!((rim[2] - 0.09).abs() < 1e-3, "{rim:?}");
}
