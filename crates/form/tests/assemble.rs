//! From files to an envelope: formats, units, axes, bodies, cavities, open hulls.

mod shapes;

use boat::{Axis, MeshFile};
use form::{EnvelopeKind, Form, Mesh, assemble, write};
use nalgebra::{Matrix3, Vector3};
use shapes::{block, boat as hull, obj, text_stl, tub, v, without_deck};

fn from(files: &[(&str, Vec<u8>)]) -> Form {
    let files: Vec<(&str, &[u8])> = files.iter().map(|(n, b)| (*n, b.as_slice())).collect();
    assemble(&files, &[]).unwrap()
}

fn stl(mesh: &Mesh) -> Vec<u8> {
    write::stl(mesh).unwrap()
}

#[track_caller]
fn near(found: f64, expected: f64, relative: f64) {
    assert!(
        (found / expected - 1.0).abs() < relative,
        "{found} against {expected}"
    );
}

fn said(form: &Form, what: &str) -> bool {
    form.notices.iter().any(|n| n.text.contains(what))
}

fn quiet(form: &Form) -> bool {
    form.notices.iter().all(|n| !n.serious)
}

#[test]
fn every_format_gives_the_same_hull() {
    let mesh = hull(0.6, 0.2, 0.09, 24);
    let files = [
        ("a.stl", stl(&mesh)),
        ("b.stl", text_stl(&mesh, 1e3)),
        ("c.3mf", write::threemf(&mesh, "hull").unwrap()),
        ("d.obj", obj(&mesh, 1e3)),
    ];
    for file in files {
        let name = file.0;
        let form = from(&[file]);
        assert_eq!(form.kind, EnvelopeKind::Solid, "{name}");
        assert!(quiet(&form), "{name}: {:?}", form.notices);
        near(
            form.envelope.signed_volume_m3(),
            mesh.signed_volume_m3(),
            1e-6,
        );
        assert!(
            (form.envelope.centroid_m() - mesh.centroid_m()).norm() < 1e-6,
            "{name}"
        );
        assert_eq!(form.envelope.vertices.len(), mesh.vertices.len(), "{name}");
    }
}

/// A mesh in boat axes comes back where it was.
#[test]
fn boat_axes_are_kept() {
    let mesh = hull(0.6, 0.2, 0.09, 24);
    let form = from(&[("a.stl", stl(&mesh))]);
    let (low, high) = form.envelope.bounds().unwrap();
    let (low0, high0) = mesh.bounds().unwrap();
    assert!((low - low0).norm() < 1e-6 && (high - high0).norm() < 1e-6);
    assert!(said(&form, "boat axes already"));
}

/// All 24 ways a hull can lie in its file, and a shifted origin, come back to boat axes.
#[test]
fn any_quarter_turn_is_found() {
    let mesh = hull(0.6, 0.2, 0.09, 24);
    let shift = v(0.11, -0.37, 0.05);
    let mut count = 0;
    for a in 0..6 {
        for b in 0..6 {
            let pick = |k: usize| {
                let mut e = Vector3::zeros();
                e[k / 2] = if k.is_multiple_of(2) { 1.0 } else { -1.0 };
                e
            };
            let (x, z) = (pick(a), pick(b));
            if x.dot(&z) != 0.0 {
                continue;
            }
            let turn = Matrix3::from_columns(&[x, z.cross(&x), z]);
            let form = from(&[("t.stl", stl(&mesh.map(|p| turn * p + shift)))]);
            let miss = (form.envelope.centroid_m() - mesh.centroid_m()).norm();
            assert!(miss < 1e-6, "turn {a} {b}: {miss} {:?}", form.notices);
            count += 1;
        }
    }
    assert_eq!(count, 24);
}

#[test]
fn declared_axes_are_obeyed() {
    let mesh = hull(0.6, 0.2, 0.09, 24);
    let backward = MeshFile {
        path: "a.stl".into(),
        unit_m: Some(1e-3),
        forward: Some(Axis::MinusX),
        up: Some(Axis::PlusZ),
    };
    let bytes = stl(&mesh);
    let form = assemble(&[("a.stl", &bytes)], &[backward]).unwrap();
    let length = 0.6;
    assert!((form.envelope.centroid_m().x - (length - mesh.centroid_m().x)).abs() < 1e-3);
}

#[test]
fn units_follow_the_file_or_the_size() {
    let mesh = hull(0.6, 0.2, 0.09, 24);
    let metres = from(&[("m.obj", obj(&mesh, 1.0))]);
    near(
        metres.envelope.signed_volume_m3(),
        mesh.signed_volume_m3(),
        1e-9,
    );
    let inches = from(&[("i.obj", obj(&mesh, 1.0 / 0.0254))]);
    near(
        inches.envelope.signed_volume_m3(),
        mesh.signed_volume_m3(),
        1e-9,
    );
    assert!(said(&inches, "could be inch"));
    let huge = from(&[("h.obj", obj(&mesh, 1e6))]);
    near(
        huge.envelope.signed_volume_m3(),
        mesh.signed_volume_m3(),
        1e-9,
    );
    assert!(said(&huge, "1000 times too large"));
}

#[test]
fn flipped_faces_are_turned() {
    let mut mesh = hull(0.6, 0.2, 0.09, 24);
    let volume = mesh.signed_volume_m3();
    for t in mesh.triangles.iter_mut().step_by(7) {
        t.swap(0, 1);
    }
    let form = from(&[("f.stl", stl(&mesh))]);
    near(form.envelope.signed_volume_m3(), volume, 1e-6);
    assert!(form.envelope.is_closed());
    assert!(said(&form, "faced the wrong way"));
}

#[test]
fn an_inside_out_mesh_is_turned() {
    let mut mesh = hull(0.6, 0.2, 0.09, 24);
    let volume = mesh.signed_volume_m3();
    mesh.flip();
    let form = from(&[("f.stl", stl(&mesh))]);
    near(form.envelope.signed_volume_m3(), volume, 1e-6);
}

#[test]
fn a_missing_triangle_is_filled() {
    let mesh = hull(0.6, 0.2, 0.09, 24);
    let holed = mesh.subset((0..mesh.triangles.len()).filter(|t| *t != 33));
    let form = from(&[("h.stl", stl(&holed))]);
    assert!(form.envelope.is_closed());
    near(
        form.envelope.signed_volume_m3(),
        mesh.signed_volume_m3(),
        1e-6,
    );
    assert!(said(&form, "was filled"), "{:?}", form.notices);
}

#[test]
fn torn_seams_within_the_tolerance_are_joined() {
    let mut mesh = Mesh::default();
    for (n, t) in hull(0.6, 0.2, 0.09, 24).faces().enumerate() {
        let off = v(1e-6, -1e-6, 1e-6) * (n % 3) as f64;
        let first = mesh.vertices.len() as u32;
        mesh.vertices.extend(t.map(|p| p + off));
        mesh.triangles.push([first, first + 1, first + 2]);
    }
    let form = from(&[("t.stl", stl(&mesh))]);
    assert!(form.envelope.is_closed());
    near(
        form.envelope.signed_volume_m3(),
        hull(0.6, 0.2, 0.09, 24).signed_volume_m3(),
        1e-4,
    );
    assert!(said(&form, "nearly equal vertices"), "{:?}", form.notices);
}

#[test]
fn overlapping_bodies_count_once() {
    let a = block(v(0.0, -0.1, 0.0), v(0.4, 0.1, 0.1));
    let b = block(v(0.3, -0.05, 0.02), v(0.6, 0.05, 0.08));
    let mut both = a.clone();
    both.append(&b);
    for files in [
        vec![("ab.stl", stl(&both))],
        vec![("a.stl", stl(&a)), ("b.stl", stl(&b))],
    ] {
        let form = from(&files);
        near(
            form.envelope.signed_volume_m3(),
            0.008 + 0.2 * 0.1 * 0.06,
            1e-6,
        );
        assert!(said(&form, "joined into one"), "{:?}", form.notices);
        assert!(form.envelope.is_closed());
    }
}

#[test]
fn sections_in_files_join_across_faces_and_gaps() {
    for gap in [0.0, 0.0002] {
        let mesh = |from: f64, to: f64| block(v(from, -0.1, 0.0), v(to, 0.1, 0.1));
        let files = [
            ("a.stl", stl(&mesh(0.0, 0.2))),
            ("b.stl", stl(&mesh(0.2 + gap, 0.4))),
            ("c.stl", stl(&mesh(0.4 + gap, 0.6))),
        ];
        let form = from(&files);
        near(form.envelope.signed_volume_m3(), 0.6 * 0.2 * 0.1, 1e-5);
        near(form.envelope.area_m2(), 2.0 * (0.12 + 0.06 + 0.02), 1e-5);
        assert!(form.envelope.is_closed());
    }
}

#[test]
fn closed_shell_with_cavity() {
    let mut mesh = block(v(0.0, -0.1, 0.0), v(0.6, 0.1, 0.1));
    let mut cavity = block(v(0.002, -0.098, 0.002), v(0.598, 0.098, 0.098));
    cavity.flip();
    mesh.append(&cavity);
    let form = from(&[("s.stl", stl(&mesh))]);
    assert_eq!(form.kind, EnvelopeKind::ClosedShell);
    near(form.envelope.signed_volume_m3(), 0.012, 1e-6);
    near(
        form.wall_volume_m3.unwrap(),
        0.012 - 0.596 * 0.196 * 0.096,
        1e-5,
    );
    assert!(said(&form, "closed shell"));
}

#[test]
fn open_tub_is_dry_to_its_rim() {
    let mesh = tub(v(0.0, -0.1, 0.0), v(0.6, 0.1, 0.1), 0.002);
    assert!(mesh.signed_volume_m3() > 0.0);
    let form = from(&[("t.stl", stl(&mesh))]);
    assert_eq!(form.kind, EnvelopeKind::OpenShell, "{:?}", form.notices);
    assert!(form.envelope.is_closed());
    near(form.envelope.signed_volume_m3(), 0.012, 1e-6);
    near(
        form.wall_volume_m3.unwrap(),
        0.012 - 0.596 * 0.196 * 0.098,
        1e-5,
    );
    assert!((form.rim_m.unwrap()[2] - 0.1).abs() < 1e-6);
    assert!(
        form.notices
            .iter()
            .filter(|n| n.text.contains("traced poorly"))
            .count()
            == 0
    );
}

#[test]
fn open_surface_is_capped_at_its_rim() {
    let whole = hull(0.6, 0.2, 0.09, 24);
    let skin = without_deck(&whole, 0.09);
    assert!(!skin.is_closed());
    let form = from(&[("o.stl", stl(&skin))]);
    assert_eq!(form.kind, EnvelopeKind::OpenShell, "{:?}", form.notices);
    assert!(form.envelope.is_closed());
    near(
        form.envelope.signed_volume_m3(),
        whole.signed_volume_m3(),
        1e-5,
    );
    assert!((form.rim_m.unwrap()[2] - 0.09).abs() < 1e-6);
}

/// Two hulls and a deck: the tunnel below the deck stays open to the water.
#[test]
fn a_catamaran_tunnel_is_not_a_pocket() {
    let mut mesh = block(v(0.0, -0.1, 0.0), v(0.6, -0.06, 0.1));
    mesh.append(&block(v(0.0, 0.06, 0.0), v(0.6, 0.1, 0.1)));
    mesh.append(&block(v(0.0, -0.09, 0.06), v(0.6, 0.09, 0.1)));
    let form = from(&[("c.stl", stl(&mesh))]);
    assert_eq!(form.kind, EnvelopeKind::Solid, "{:?}", form.notices);
    near(
        form.envelope.signed_volume_m3(),
        0.6 * (0.2 * 0.04 + 0.08 * 0.06),
        1e-5,
    );
}

#[test]
fn writing_and_reading_again_keeps_the_shape() {
    let mesh = hull(0.6, 0.2, 0.09, 24);
    let form = from(&[("a.3mf", write::threemf(&mesh, "hull").unwrap())]);
    assert_eq!(form.envelope.triangles.len(), mesh.triangles.len());
    for (p, q) in form.envelope.faces().zip(mesh.faces()) {
        assert!((0..3).all(|k| (p[k] - q[k]).norm() < 1e-12), "{p:?} {q:?}");
    }
}

#[test]
fn starter_meshes_pass_through_untouched() {
    let mesh = hull(0.6, 0.2, 0.09, 24);
    let form = Form::from_mesh(mesh.clone());
    assert_eq!(form.envelope, mesh);
    assert!(form.notices.is_empty());
    near(form.columns.volume_m3(), mesh.signed_volume_m3(), 1e-9);
}

/// Walls of a tub or of a decked hull pierced for a shaft: still dry inside, and said.
#[test]
fn holes_for_shafts_do_not_sink_the_boat() {
    let (low, high) = (v(0.0, -0.1, 0.0), v(0.6, 0.1, 0.1));
    let open = drilled(&tub(low, high, 0.002), 0.002);
    let form = from(&[("t.stl", stl(&open))]);
    assert_eq!(form.kind, EnvelopeKind::OpenShell, "{:?}", form.notices);
    near(form.envelope.signed_volume_m3(), 0.012, 1e-3);
    assert!((form.rim_m.unwrap()[2] - 0.1).abs() < 1e-6);
    assert!(said(&form, "counts as sealed"), "{:?}", form.notices);

    let mut shell = block(low, high);
    let wall = v(0.002, 0.002, 0.002);
    let mut cavity = block(low + wall, high - wall);
    cavity.flip();
    shell.append(&cavity);
    let form = from(&[("s.stl", stl(&drilled(&shell, 0.002)))]);
    assert_eq!(form.kind, EnvelopeKind::ClosedShell, "{:?}", form.notices);
    near(form.envelope.signed_volume_m3(), 0.012, 1e-3);
}

/// A 5 mm hole through the bottom, `wall` thick, of a block-shaped shell.
fn drilled(mesh: &Mesh, wall: f64) -> Mesh {
    use manifold_rust::manifold::Manifold;
    use manifold_rust::types::{MeshGL64, OpType};
    let solid = |m: &Mesh| {
        Manifold::from_mesh_gl64(&MeshGL64 {
            num_prop: 3,
            vert_properties: m.vertices.iter().flat_map(|p| [p.x, p.y, p.z]).collect(),
            tri_verts: m
                .triangles
                .iter()
                .flatten()
                .map(|i| u64::from(*i))
                .collect(),
            ..MeshGL64::default()
        })
    };
    let welded = form::repair::repair(mesh, 1e3, &mut Vec::new());
    let mut whole = Mesh::default();
    for shell in welded {
        let mut part = shell.mesh;
        if shell.was_inward {
            part.flip();
        }
        whole.append(&part);
    }
    let drill =
        shapes::cylinder(0.02, 0.0025, 16).map(|p| v(p.y + 0.2, p.z, p.x - 0.01 + wall / 2.0));
    let cut = solid(&whole).boolean(&solid(&drill), OpType::Subtract);
    assert!(!cut.is_empty(), "{:?}", cut.status());
    let out = cut.get_mesh_gl64(-1);
    Mesh {
        vertices: out
            .vert_properties
            .chunks_exact(3)
            .map(Vector3::from_column_slice)
            .collect(),
        triangles: out
            .tri_verts
            .chunks_exact(3)
            .map(|t| [t[0] as u32, t[1] as u32, t[2] as u32])
            .collect(),
    }
}

/// One connected surface through itself: two overlapping blocks joined by a thin tube outside
/// both. The tube adds under 1 %.
#[test]
fn a_surface_through_itself_is_found_and_counted_once() {
    let fine = |m: &Mesh| shapes::subdivide(&shapes::subdivide(&shapes::subdivide(m)));
    let mut both = fine(&block(v(0.0, -0.1, 0.0), v(0.6, 0.1, 0.1)));
    both.append(&fine(&block(v(0.2, -0.052, 0.05), v(0.4, 0.051, 0.153))));
    let tied = tie(&both, v(0.12, 0.0, 0.1), v(0.2, 0.0, 0.13));
    assert_eq!(form::repair::repair(&tied, 1e3, &mut Vec::new()).len(), 1);
    let form = from(&[("x.stl", stl(&tied))]);
    assert!(said(&form, "passes through itself"), "{:?}", form.notices);
    near(
        form.envelope.signed_volume_m3(),
        0.012 + 0.2 * 0.103 * 0.053,
        0.01,
    );
    assert!(said(&form, "counted once"), "{:?}", form.notices);
}

/// Replaces the facets nearest to two places by a tube between them.
fn tie(both: &Mesh, from: Vector3<f64>, to: Vector3<f64>) -> Mesh {
    let nearest = |place: Vector3<f64>| {
        let miss = |t: &usize| {
            let middle = both.corners(*t).iter().sum::<Vector3<f64>>() / 3.0;
            (middle - place).norm()
        };
        (0..both.triangles.len())
            .min_by(|a, b| miss(a).total_cmp(&miss(b)))
            .unwrap()
    };
    let (a, b) = (nearest(from), nearest(to));
    let mut tied = both.subset((0..both.triangles.len()).filter(|t| *t != a && *t != b));
    let p = both.corners(a);
    // Seen from outside the facets run opposite ways.
    let q = {
        let [x, y, z] = both.corners(b);
        [x, z, y]
    };
    for k in 0..3 {
        let n = tied.vertices.len() as u32;
        tied.vertices
            .extend([p[k], p[(k + 1) % 3], q[(k + 1) % 3], q[k]]);
        tied.triangles
            .extend([[n, n + 1, n + 2], [n, n + 2, n + 3]]);
    }
    tied
}

/// A flat-bottomed hull with a cabin is not upside down.
#[test]
fn a_cabin_is_not_a_keel() {
    let mut mesh = block(v(0.0, -0.1, 0.0), v(0.6, 0.1, 0.1));
    mesh.append(&block(v(0.2, -0.05, 0.09), v(0.4, 0.05, 0.15)));
    let form = from(&[("c.stl", stl(&mesh))]);
    assert!(!said(&form, "upside down"), "{:?}", form.notices);
    assert!((form.envelope.centroid_m().z - mesh.centroid_m().z).abs() < 0.01);
}
