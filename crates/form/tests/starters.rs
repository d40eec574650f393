//! Starter hulls measured with a rule: sections and lowest points of the mesh, nothing else.

mod dims;
mod remesh;

use std::collections::HashSet;

use boat::starter::Starter;
use dims::MM;
use form::Mesh;
use form::sections::{Along, sections};
use form::starter::{StarterError, build};
use nalgebra::Vector3;

fn all() -> Vec<(&'static str, Starter)> {
    vec![
        ("three-point", Starter::ThreePoint(dims::three_point())),
        ("outrigger", Starter::Outrigger(dims::outrigger())),
        ("vee", Starter::Vee(dims::vee())),
        ("catamaran", Starter::Catamaran(dims::catamaran())),
    ]
}

fn mesh(starter: Starter) -> Mesh {
    build(&starter).expect("the demonstration dimensions fit each other")
}

/// Lowest point of the section at x within a band of y.
fn lowest(mesh: &Mesh, x: f64, band: [f64; 2]) -> f64 {
    let mut z = f64::INFINITY;
    for line in &sections(mesh, Along::X, &[x])[0] {
        let n = line.points.len();
        for i in 0..n {
            let (a, b) = (line.points[i], line.points[(i + 1) % n]);
            for y in [a.y, b.y, band[0], band[1]] {
                let t = (y - a.y) / (b.y - a.y);
                let inside = y >= band[0] - 1e-12 && y <= band[1] + 1e-12;
                if inside && (0.0..=1.0).contains(&t) {
                    z = z.min(a.z + (b.z - a.z) * t);
                }
            }
        }
    }
    z
}

/// Height of the bottom at a point.
fn bottom(mesh: &Mesh, x: f64, y: f64) -> f64 {
    lowest(mesh, x, [y, y])
}

fn close(found: f64, wanted: f64, within: f64, what: &str) {
    assert!(
        (found - wanted).abs() <= within,
        "{what}: {found} instead of {wanted}"
    );
}

#[test]
fn every_starter_is_watertight_and_faces_outward() {
    for (name, starter) in all() {
        let mesh = mesh(starter);
        let mut directed = HashSet::new();
        for t in &mesh.triangles {
            for k in 0..3 {
                let edge = (t[k], t[(k + 1) % 3]);
                assert!(directed.insert(edge), "{name}: edge {edge:?} runs twice");
            }
        }
        for (a, b) in &directed {
            assert!(directed.contains(&(*b, *a)), "{name}: edge {a} {b} is open");
        }
        assert!(mesh.signed_volume_m3() > 1e-4, "{name} faces inward");
        let n = mesh.triangles.len();
        assert!((2_000..=40_000).contains(&n), "{name}: {n} triangles");
    }
}

#[test]
fn starters_are_one_piece() {
    for (name, starter) in all() {
        let mesh = mesh(starter);
        let mut piece: Vec<usize> = (0..mesh.vertices.len()).collect();
        fn root(piece: &mut [usize], mut i: usize) -> usize {
            while piece[i] != i {
                piece[i] = piece[piece[i]];
                i = piece[i];
            }
            i
        }
        for t in &mesh.triangles {
            let [a, b, c] = t.map(|i| root(&mut piece, i as usize));
            piece[a] = c;
            let b = root(&mut piece, b);
            piece[b] = c;
        }
        let roots: HashSet<_> = (0..piece.len()).map(|i| root(&mut piece, i)).collect();
        assert_eq!(roots.len(), 1, "{name}");
    }
}

#[test]
fn length_and_beam_are_as_declared() {
    let wanted = [
        [450.0, 225.0],
        [640.0, 332.0],
        [600.0, 165.0],
        [800.0, 300.0],
    ];
    for ((name, starter), [long, wide]) in all().into_iter().zip(wanted) {
        let (low, high) = mesh(starter).bounds().unwrap();
        close(low.x, 0.0, 1e-9, name);
        close(high.x, long * MM, 1e-9, name);
        close(high.y, wide / 2.0 * MM, 1e-9, name);
        close(low.y, -wide / 2.0 * MM, 1e-9, name);
    }
}

#[test]
fn symmetric_dimensions_give_symmetric_hulls() {
    let mut even = dims::three_point();
    even.pad_deadrise_left_rad = 0.0;
    let others = all().into_iter().skip(1).map(|(_, s)| s);
    for starter in others.chain([Starter::ThreePoint(even)]) {
        let mesh = mesh(starter);
        let middle = mesh.centroid_m();
        assert!(middle.y.abs() < 1e-7, "{middle}");
        for x in [0.05, 0.13, 0.26, 0.35, 0.41] {
            let lines = &sections(&mesh, Along::X, &[x])[0];
            let area: f64 = lines.iter().map(|l| l.area_m2(Along::X)).sum();
            let (mut port, mut starboard) = (0.0f64, 0.0f64);
            for p in lines.iter().flat_map(|l| &l.points) {
                port = port.max(p.y);
                starboard = starboard.max(-p.y);
            }
            assert!(area > 0.0);
            close(port, starboard, 1e-9, "widest point");
        }
    }
}

#[test]
fn three_point_meets_its_dimensions() {
    let mesh = mesh(Starter::ThreePoint(dims::three_point()));
    let te = 245.0 * MM;
    // Trailing edge: sponson bottom just ahead of it, nothing at that place just behind.
    close(
        bottom(&mesh, te + 1e-7, 64.001 * MM),
        -16.0 * MM,
        1e-6,
        "left",
    );
    close(
        bottom(&mesh, te + 1e-7, -64.001 * MM),
        -16.0 * MM,
        1e-6,
        "right",
    );
    assert!(bottom(&mesh, te - 1e-7, 64.001 * MM) > -1e-9);
    // Pad angle, then the entry panel.
    let at = |x: f64| bottom(&mesh, x * MM, 70.0 * MM);
    let angle = ((at(324.0) - at(246.0)) / (78.0 * MM)).atan();
    close(angle.to_degrees(), 3.0, 1e-6, "pad angle");
    let entry = ((at(350.0) - at(326.0)) / (24.0 * MM)).atan();
    close(entry.to_degrees(), 12.0, 1e-6, "entry angle");
    // Deadrise and pad width, left and right, then the bevel.
    let across = |y: [f64; 2]| {
        let z = y.map(|y| bottom(&mesh, 0.28, y * MM));
        ((z[1] - z[0]) / ((y[1] - y[0]).abs() * MM))
            .atan()
            .to_degrees()
    };
    close(across([64.1, 93.9]), 1.0, 1e-6, "left deadrise");
    close(across([-64.1, -93.9]), 0.0, 1e-6, "right deadrise");
    close(across([94.1, 112.0]), 40.0, 1e-6, "left bevel");
    close(across([-94.1, -112.0]), 40.0, 1e-6, "right bevel");
    // Gap: the tunnel roof is the hull's bottom.
    close(bottom(&mesh, 0.28, 63.9 * MM), 0.0, 1e-9, "tunnel");
    // Width at the transom, and depth.
    assert!(bottom(&mesh, 1e-9, 45.9 * MM).abs() < 1e-9);
    assert!(bottom(&mesh, 1e-9, 46.1 * MM).is_infinite());
    close(mesh.bounds().unwrap().1.z, 62.0 * MM, 0.3 * MM, "depth");
}

#[test]
fn outrigger_meets_its_dimensions() {
    let mesh = mesh(Starter::Outrigger(dims::outrigger()));
    let te = 300.0 * MM;
    for side in [1.0, -1.0] {
        let at = |x: f64, y: f64| bottom(&mesh, x * MM, side * y * MM);
        close(at(300.0001, 130.0), -20.0 * MM, 1e-6, "sponson bottom");
        assert!(at(299.9999, 130.0).is_infinite());
        let angle = ((at(359.0, 130.0) - at(301.0, 130.0)) / (58.0 * MM)).atan();
        close(angle.to_degrees(), 3.5, 1e-6, "pad angle");
        close(at(310.0, 120.1), at(310.0, 155.9), 1e-9, "flat pad");
        let bevel = ((at(310.0, 165.0) - at(310.0, 157.0)) / (8.0 * MM)).atan();
        close(bevel.to_degrees(), 35.0, 1e-6, "bevel");
        assert!(at(310.0, 119.9).is_infinite(), "inner edge");
        // Rear pads.
        close(at(0.001, 25.1), -14.0 * MM, 1e-9, "rear pad");
        close(at(39.9, 42.9), -14.0 * MM, 1e-9, "rear pad");
        close(at(20.0, 24.9), 0.0, 1e-9, "tub bottom");
        close(at(20.0, 43.1), 0.0, 1e-9, "tub bottom");
        // Booms: a gap is bridged at their stations only, 12 mm thick.
        close(at(330.0, 80.0), 40.0 * MM, 0.1 * MM, "boom");
        close(at(440.0, 80.0), 40.0 * MM, 0.1 * MM, "boom");
        assert!(at(380.0, 80.0).is_infinite());
    }
    let tub = sections(&mesh, Along::X, &[te - 1e-4])[0].clone();
    let widest = tub
        .iter()
        .flat_map(|l| &l.points)
        .map(|p| p.y)
        .fold(0.0, f64::max);
    close(widest, 46.0 * MM, 1e-9, "tub width");
}

#[test]
fn vee_meets_its_dimensions() {
    let mesh = mesh(Starter::Vee(dims::vee()));
    let across = |x: f64, y: [f64; 2]| {
        let z = y.map(|y| bottom(&mesh, x * MM, y * MM));
        ((z[1] - z[0]) / ((y[1] - y[0]) * MM)).atan().to_degrees()
    };
    for x in [0.001, 150.0, 299.0] {
        close(across(x, [6.1, 77.0]), 21.0, 1e-6, "deadrise");
        close(across(x, [0.0, 5.9]), 0.0, 1e-6, "keel pad");
        close(across(x, [77.6, 82.4]), 0.0, 1e-6, "chine flat");
        close(bottom(&mesh, x * MM, 0.0), 0.0, 1e-9, "keel");
    }
    close(across(480.0, [20.0, 30.0]), 38.0, 1e-6, "bow deadrise");
    close(mesh.bounds().unwrap().1.z, 88.0 * MM, 1e-9, "depth");
}

#[test]
fn catamaran_meets_its_dimensions() {
    let mesh = mesh(Starter::Catamaran(dims::catamaran()));
    let at = |x: f64, y: f64| bottom(&mesh, x * MM, y * MM);
    for x in [0.001, 200.0, 399.0] {
        close(at(x, 78.1), 0.0, 1e-9, "strip");
        close(at(x, 99.9), 0.0, 1e-9, "strip");
        let outer = ((at(x, 149.0) - at(x, 101.0)) / (48.0 * MM)).atan();
        close(outer.to_degrees(), 16.0, 1e-6, "deadrise");
    }
    close(at(0.001, 0.0), 42.0 * MM, 1e-6, "roof aft");
    close(at(560.0, 0.0), 60.0 * MM, 1e-9, "roof forward");
    assert!(at(719.0, 0.0).is_finite());
    assert!(at(721.0, 0.0).is_infinite(), "mouth");
    assert!(at(422.0, 80.0) < at(480.0, 80.0));
    close(mesh.bounds().unwrap().1.z, 98.0 * MM, 0.3 * MM, "depth");
}

#[test]
fn impossible_dimensions_are_named() {
    let named = |starter: Starter| match build(&starter) {
        Err(StarterError::Dimension { dimension, .. }) => dimension,
        other => panic!("{other:?}"),
    };
    let mut t = dims::three_point();
    t.gap_m = 0.2;
    assert_eq!(named(Starter::ThreePoint(t)), "gap");
    let mut t = dims::three_point();
    t.pad_width_m = 0.06;
    assert_eq!(named(Starter::ThreePoint(t)), "pad width");
    let mut t = dims::three_point();
    t.nontrip_angle_rad = dims::deg(80.0);
    assert_eq!(named(Starter::ThreePoint(t)), "non-trip angle");
    let mut o = dims::outrigger();
    o.boom_x_m[1] = 0.6;
    assert_eq!(named(Starter::Outrigger(o)), "boom x");
    let mut v = dims::vee();
    v.bow_deadrise_rad = dims::deg(10.0);
    assert_eq!(named(Starter::Vee(v)), "bow deadrise");
    let mut v = dims::vee();
    v.length_m = f64::NAN;
    assert_eq!(named(Starter::Vee(v)), "length");
    let mut c = dims::catamaran();
    c.roof_aft_z_m = 0.12;
    assert_eq!(named(Starter::Catamaran(c.clone())), "roof aft z");
    let text = build(&Starter::Catamaran(c)).unwrap_err().to_string();
    assert!(text.starts_with("roof aft z is 120 mm"), "{text}");
}

#[test]
fn starters_stay_watertight_over_their_range() {
    for k in [0.93, 1.0, 1.08] {
        let mut t = dims::three_point();
        t.gap_m *= k;
        t.pad_angle_rad *= k;
        t.depth_m *= k * k;
        t.transom_width_m = t.gap_m * 0.72;
        t.sponson_length_m *= 2.0 - k.max(1.0);
        assert!(mesh(Starter::ThreePoint(t)).is_closed());
        let mut o = dims::outrigger();
        o.sponson_trailing_edge_x_m *= k;
        o.boom_x_m = o.boom_x_m.map(|x| x * k);
        o.tub_width_m *= k;
        o.rear_pad_y_m *= k;
        o.rear_pad_m[0] = if k > 1.0 { 0.0 } else { o.rear_pad_m[0] };
        assert!(mesh(Starter::Outrigger(o)).is_closed());
        let mut v = dims::vee();
        v.keel_pad_m = if k < 1.0 { 0.0 } else { v.keel_pad_m };
        v.chine_flat_m = if k > 1.0 { 0.0 } else { v.chine_flat_m };
        v.deadrise_rad *= k;
        assert!(mesh(Starter::Vee(v)).is_closed());
        let mut c = dims::catamaran();
        c.sponson_width_m *= k;
        c.strip_width_m = if k < 1.0 { 0.0 } else { c.strip_width_m };
        assert!(mesh(Starter::Catamaran(c)).is_closed());
    }
}

#[test]
fn sections_of_a_closed_mesh_are_closed_and_carry_its_volume() {
    for (name, starter) in all() {
        let mesh = mesh(starter);
        for along in [Along::X, Along::Y, Along::Z] {
            let k = along as usize;
            let (low, high) = mesh.bounds().unwrap();
            let n = 400;
            let step = (high[k] - low[k]) / f64::from(n);
            let at: Vec<f64> = (0..n)
                .map(|i| low[k] + (f64::from(i) + 0.5) * step)
                .collect();
            let mut volume = 0.0;
            for line in sections(&mesh, along, &at).iter().flatten() {
                assert!(line.closed, "{name} {along:?}");
                volume += line.area_m2(along) * step;
            }
            let exact = mesh.signed_volume_m3();
            close(volume / exact, 1.0, 5e-3, name);
        }
    }
}

#[test]
fn a_plane_through_vertices_and_faces_is_cut_cleanly() {
    let cube = Mesh {
        vertices: (0..8)
            .map(|i| Vector3::new(f64::from(i & 1), f64::from(i >> 1 & 1), f64::from(i >> 2)))
            .collect(),
        triangles: vec![
            [0, 2, 1],
            [1, 2, 3],
            [4, 5, 6],
            [5, 7, 6],
            [0, 1, 4],
            [1, 5, 4],
            [2, 6, 3],
            [3, 6, 7],
            [0, 4, 2],
            [2, 4, 6],
            [1, 3, 5],
            [3, 7, 5],
        ],
    };
    let found = sections(&cube, Along::Z, &[1.0, 0.0, 0.5, -0.1]);
    assert_eq!(found[0].len(), 1);
    assert!((found[0][0].area_m2(Along::Z) - 1.0).abs() < 1e-15);
    assert!(found[1].is_empty(), "nothing lies behind the lowest face");
    assert!((found[2][0].area_m2(Along::Z) - 1.0).abs() < 1e-15);
    assert!(found[3].is_empty());
}

#[test]
fn the_boat_rooms_templates_make_hulls() {
    for kind in ["three-point", "outrigger", "vee", "catamaran"] {
        let text = boat::template(kind, "Demo").expect("a known hull type");
        let (boat, _) = boat::load(&text, "boat.toml").expect("templates load");
        let boat::HullSource::Starter(starter) = boat.hull.source else {
            panic!("{kind} has no starter");
        };
        let mesh = mesh(starter);
        assert!(mesh.is_closed(), "{kind}");
        assert!(!form::running::find(&mesh).is_empty(), "{kind}");
    }
}

#[test]
fn first_sketch_proportions_fit_at_every_size() {
    for kind in ["three-point", "outrigger", "vee", "catamaran"] {
        for length in [250, 450, 800, 1500] {
            let text = format!(
                "name = \"Sketch\"\n[hull.starter]\ntype = \"{kind}\"\nlength = \"{length} mm\"\n"
            );
            let (boat, _) = boat::load(&text, "boat.toml").expect("a length is enough");
            let boat::HullSource::Starter(starter) = boat.hull.source else {
                panic!("{kind} has no starter");
            };
            let mesh = build(&starter).unwrap_or_else(|e| panic!("{kind} {length} mm: {e}"));
            let (low, high) = mesh.bounds().unwrap();
            close(high.x - low.x, f64::from(length) * MM, 1e-9, kind);
        }
    }
}

#[test]
fn each_of_two_hundred_sections_of_a_hundred_thousand_triangles_is_one_line() {
    let mesh = remesh::subdivided(&mesh(Starter::Vee(dims::vee())), 100_000);
    let at: Vec<f64> = (0..200).map(|i| (f64::from(i) + 0.5) * 3.0 * MM).collect();
    let lines = sections(&mesh, Along::X, &at);
    assert!(lines.iter().all(|l| l.len() == 1));
}
