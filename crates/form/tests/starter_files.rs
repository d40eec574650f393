//! Starter hulls written to files and read again: unchanged in boat axes, and found again from
//! any quarter turn.

mod dims;

use boat::starter::Starter;
use form::{EnvelopeKind, Mesh, assemble, starter, write};
use nalgebra::{Matrix3, Vector3};

fn all() -> Vec<(&'static str, Mesh)> {
    [
        ("three-point", Starter::ThreePoint(dims::three_point())),
        ("outrigger", Starter::Outrigger(dims::outrigger())),
        ("vee", Starter::Vee(dims::vee())),
        ("catamaran", Starter::Catamaran(dims::catamaran())),
    ]
    .into_iter()
    .map(|(name, starter)| (name, starter::build(&starter).unwrap()))
    .collect()
}

/// Largest distance between corresponding bounds and centres.
fn miss(a: &Mesh, b: &Mesh) -> f64 {
    let ((la, ha), (lb, hb)) = (a.bounds().unwrap(), b.bounds().unwrap());
    let centre = (a.centroid_m() - b.centroid_m()).norm();
    (la - lb).norm().max((ha - hb).norm()).max(centre)
}

#[test]
fn files_come_back_unchanged() {
    for (name, mesh) in all() {
        let stl = write::stl(&mesh).unwrap();
        let threemf = write::threemf(&mesh, name).unwrap();
        for (file, bytes) in [("hull.stl", &stl), ("hull.3mf", &threemf)] {
            let form = assemble(&[(file, bytes)], &[]).unwrap();
            assert_eq!(form.kind, EnvelopeKind::Solid, "{name}");
            assert!(!form.has_serious_notice(), "{name}: {:?}", form.notices);
            let off = miss(&form.envelope, &mesh);
            assert!(off < 1e-6, "{name} {file}: {off} m {:?}", form.notices);
            let volume = form.envelope.signed_volume_m3() / mesh.signed_volume_m3();
            assert!((volume - 1.0).abs() < 1e-6, "{name} {file}: {volume}");
        }
    }
}

#[test]
fn any_quarter_turn_is_found() {
    let units = [Vector3::x(), Vector3::y(), Vector3::z()];
    for (name, mesh) in all() {
        for a in 0..6 {
            for b in (0..6).filter(|b| b / 2 != a / 2) {
                let pick = |k: usize| units[k / 2] * if k.is_multiple_of(2) { 1.0 } else { -1.0 };
                let (x, z) = (pick(a), pick(b));
                let turn = Matrix3::from_columns(&[x, z.cross(&x), z]);
                let shift = Vector3::new(0.31, -0.2, 0.17);
                let bytes = write::stl(&mesh.map(|p| turn * p + shift)).unwrap();
                let form = assemble(&[("turned.stl", &bytes)], &[]).unwrap();
                let off = miss(&form.envelope, &mesh);
                // Known limit: a hydroplane's flat tub with sponsons below looks much the same
                // turned over, so z counts as up, and the reader says it is not sure.
                if name == "three-point" && z == -Vector3::z() {
                    let doubt = |n: &form::Notice| n.text.contains("look alike");
                    assert!(off < 1e-3 || form.notices.iter().any(doubt));
                    continue;
                }
                assert!(
                    off < 1e-3,
                    "{name} turned {a} {b}: {off} m {:?}",
                    form.notices
                );
            }
        }
    }
}
