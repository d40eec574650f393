//! Running surfaces found on the mesh alone: the starters' dimensions come back, whatever the
//! triangles; shapes made by hand in this file check the finder independently of the starters.

mod dims;
mod remesh;
mod shapes;

use boat::starter::Starter;
use boat::{Measure, RunningOverride};
use dims::MM;
use form::running::{apply, find};
use form::starter::build;
use form::{Mesh, RunningSurface};

fn mesh(starter: Starter) -> Mesh {
    build(&starter).expect("the demonstration dimensions fit each other")
}

fn three_point() -> Mesh {
    mesh(Starter::ThreePoint(dims::three_point()))
}

fn outrigger() -> Mesh {
    mesh(Starter::Outrigger(dims::outrigger()))
}

fn vee() -> Mesh {
    mesh(Starter::Vee(dims::vee()))
}

fn catamaran() -> Mesh {
    mesh(Starter::Catamaran(dims::catamaran()))
}

/// What a surface should be: mm and degrees.
struct Wanted {
    name: &'static str,
    angle: f64,
    beam: f64,
    deadrise: f64,
    edge: [f64; 3],
}

fn names(found: &[RunningSurface]) -> Vec<&str> {
    found.iter().map(|s| s.name.as_str()).collect()
}

fn named<'a>(found: &'a [RunningSurface], name: &str) -> &'a RunningSurface {
    let surface = found.iter().find(|s| s.name == name);
    surface.unwrap_or_else(|| panic!("no {name} among {:?}", names(found)))
}

/// Angle to 0.1 deg, beam to 0.5 mm, deadrise of the faces to 0.5 deg, trailing edge x to 1 mm,
/// height to 0.3 mm.
fn check(found: &[RunningSurface], wanted: &[Wanted], what: &str) {
    assert_eq!(found.len(), wanted.len(), "{what}: {:?}", names(found));
    for w in wanted {
        let s = named(found, w.name);
        let close = |value: f64, wanted: f64, within: f64, which: &str| {
            assert!(
                (value - wanted).abs() <= within,
                "{what}: {} {which} {value} instead of {wanted}",
                w.name
            );
        };
        close(s.angle_rad.value.to_degrees(), w.angle, 0.1, "angle");
        close(s.beam_m.value / MM, w.beam, 0.5, "beam");
        close(
            s.face_deadrise_rad.value.to_degrees(),
            w.deadrise,
            0.5,
            "deadrise",
        );
        close(s.trailing_edge_m[0] / MM, w.edge[0], 1.0, "trailing edge x");
        close(s.trailing_edge_m[1] / MM, w.edge[1], 1.0, "keel y");
        close(s.trailing_edge_m[2] / MM, w.edge[2], 0.3, "keel z");
        assert_eq!(s.edge_radius_m, 0.0, "{what}: {} edge", w.name);
        sound(s);
    }
}

/// What every surface promises whatever the mesh.
fn sound(s: &RunningSurface) {
    assert!(s.stations.len() >= 2, "{}", s.name);
    assert!(
        s.stations.windows(2).all(|p| p[0].x_m < p[1].x_m),
        "{}",
        s.name
    );
    let first = &s.stations[0];
    assert_eq!(
        [first.x_m, first.keel_y_m, first.keel_z_m],
        s.trailing_edge_m,
        "{}",
        s.name
    );
    for p in &s.stations {
        for panel in [p.port, p.starboard] {
            assert!(
                panel.width_m >= 0.0 && panel.deadrise_rad.abs() < 1.0,
                "{p:?}"
            );
        }
    }
    for m in [s.angle_rad, s.beam_m, s.deadrise_rad] {
        assert!(m.value.is_finite() && m.spread >= 0.0);
    }
}

fn three_point_wanted() -> Vec<Wanted> {
    vec![
        Wanted {
            name: "left pad",
            angle: 3.0,
            beam: 30.0,
            deadrise: 1.0,
            edge: [245.0, 64.0, -16.0],
        },
        Wanted {
            name: "afterplane",
            angle: 0.0,
            beam: 92.0,
            deadrise: 0.0,
            edge: [0.0, 0.0, 0.0],
        },
        Wanted {
            name: "right pad",
            angle: 3.0,
            beam: 30.0,
            deadrise: 0.0,
            edge: [245.0, -64.0, -16.0],
        },
    ]
}

fn outrigger_wanted() -> Vec<Wanted> {
    vec![
        Wanted {
            name: "left pad",
            angle: 3.5,
            beam: 36.0,
            deadrise: 0.0,
            edge: [300.0, 120.0, -20.0],
        },
        Wanted {
            name: "left rear pad",
            angle: 0.0,
            beam: 18.0,
            deadrise: 0.0,
            edge: [0.0, 25.0, -14.0],
        },
        Wanted {
            name: "tub",
            angle: 0.0,
            beam: 50.0,
            deadrise: 0.0,
            edge: [0.0, 0.0, 0.0],
        },
        Wanted {
            name: "right rear pad",
            angle: 0.0,
            beam: 18.0,
            deadrise: 0.0,
            edge: [0.0, -25.0, -14.0],
        },
        Wanted {
            name: "right pad",
            angle: 3.5,
            beam: 36.0,
            deadrise: 0.0,
            edge: [300.0, -120.0, -20.0],
        },
    ]
}

fn vee_wanted() -> Vec<Wanted> {
    vec![Wanted {
        name: "vee bottom",
        angle: 0.0,
        beam: 165.0,
        deadrise: 21.0,
        edge: [0.0, 0.0, 0.0],
    }]
}

fn catamaran_wanted() -> Vec<Wanted> {
    vec![
        Wanted {
            name: "left hull",
            angle: 0.0,
            beam: 72.0,
            deadrise: 16.0,
            edge: [0.0, 78.0, 0.0],
        },
        Wanted {
            name: "right hull",
            angle: 0.0,
            beam: 72.0,
            deadrise: 16.0,
            edge: [0.0, -78.0, 0.0],
        },
    ]
}

fn all() -> Vec<(&'static str, Mesh, Vec<Wanted>)> {
    vec![
        ("three-point", three_point(), three_point_wanted()),
        ("outrigger", outrigger(), outrigger_wanted()),
        ("vee", vee(), vee_wanted()),
        ("catamaran", catamaran(), catamaran_wanted()),
    ]
}

#[test]
fn starters_come_back_from_their_meshes() {
    for (name, mesh, wanted) in all() {
        check(&find(&mesh), &wanted, name);
    }
}

#[test]
fn order_of_triangles_and_vertices_does_not_matter() {
    for (name, mesh, wanted) in all() {
        let plain = find(&mesh);
        for seed in 0..3 {
            let other = find(&remesh::shuffled(&mesh, seed));
            check(&other, &wanted, name);
            for (a, b) in plain.iter().zip(&other) {
                assert!(
                    (a.angle_rad.value - b.angle_rad.value).abs() < 1e-9,
                    "{name}"
                );
                assert!((a.beam_m.value - b.beam_m.value).abs() < 1e-9, "{name}");
                assert_eq!(a.stations.len(), b.stations.len());
            }
        }
    }
}

#[test]
fn other_triangles_of_the_same_shape_give_the_same_surfaces() {
    for (name, mesh, wanted) in all() {
        let fine = remesh::subdivided(&mesh, 60_000);
        check(&find(&fine), &wanted, &format!("{name}, subdivided"));
        let flipped = remesh::flipped(&fine, 7);
        check(&find(&flipped), &wanted, &format!("{name}, flipped"));
        let coarse = remesh::decimated(&fine, 0.02 * MM);
        assert!(coarse.triangles.len() < fine.triangles.len() / 4);
        check(&find(&coarse), &wanted, &format!("{name}, decimated"));
    }
}

#[test]
fn rough_meshes_give_the_same_surfaces() {
    for (name, mesh, wanted) in all() {
        let fine = remesh::subdivided(&mesh, 60_000);
        for seed in 1..=10 {
            let rough = remesh::noisy(&fine, 0.05 * MM, seed);
            check(&find(&rough), &wanted, &format!("{name}, noise {seed}"));
        }
    }
}

#[test]
fn a_prism_made_by_hand() {
    // Two panels at 20 deg, 200 mm beam, keel on z = 0, 600 mm long.
    let rise = 0.1 * 20f64.to_radians().tan();
    let section = [
        [0.0, 0.0],
        [0.1, rise],
        [0.1, rise + 0.05],
        [-0.1, rise + 0.05],
        [-0.1, rise],
    ];
    let found = find(&shapes::prism(&section, 0.0, 0.6));
    let wanted = Wanted {
        name: "vee bottom",
        angle: 0.0,
        beam: 200.0,
        deadrise: 20.0,
        edge: [0.0; 3],
    };
    check(&found, &[wanted], "prism");
    let s = &found[0];
    assert!((s.deadrise_rad.value.to_degrees() - 20.0).abs() < 1e-6);
    assert!(!s.step);
    assert!(s.keel_flat_m < 2.0 * MM);
    assert!(s.stations.last().unwrap().x_m > 0.59);
}

#[test]
fn a_prism_pitched_by_hand_has_its_angle() {
    let section = [
        [0.0, 0.0],
        [0.1, 0.03],
        [0.1, 0.1],
        [-0.1, 0.1],
        [-0.1, 0.03],
    ];
    let pitch = 2.2f64.to_radians();
    // Sheared, so that the transom stays upright.
    let sheared =
        shapes::prism(&section, 0.0, 0.6).map(|v| shapes::v(v.x, v.y, v.z + v.x * pitch.tan()));
    let found = find(&sheared);
    assert_eq!(names(&found), ["vee bottom"]);
    assert!((found[0].angle_rad.value - pitch).abs() < 1e-9);
}

#[test]
fn a_box_has_a_flat_bottom() {
    let found = find(&shapes::block(
        shapes::v(0.0, -0.1, 0.0),
        shapes::v(0.5, 0.1, 0.08),
    ));
    let wanted = Wanted {
        name: "flat bottom",
        angle: 0.0,
        beam: 200.0,
        deadrise: 0.0,
        edge: [0.0; 3],
    };
    check(&found, &[wanted], "box");
    assert!((found[0].keel_flat_m - 0.2).abs() < 1e-6);
    let first = &found[0].stations[0];
    assert!(
        (first.port.width_m - 0.1).abs() < 1e-9,
        "keel in the middle of a flat"
    );
}

/// Vee with the after part raised by `step`, made of two prisms with a common end.
fn stepped(step: f64, at: f64) -> Mesh {
    let section = |z: f64| {
        [
            [0.0, z],
            [0.08, z + 0.03],
            [0.08, 0.1],
            [-0.08, 0.1],
            [-0.08, z + 0.03],
        ]
    };
    let (aft, fore) = (section(step), section(0.0));
    let mut mesh = shapes::prism(&aft, 0.0, at);
    let ahead = shapes::prism(&fore, at, 0.6);
    // The last eight triangles of a prism of five sides are its ends, aft and forward by turns.
    let sides = 10;
    let ends = |m: &Mesh, forward: bool| {
        let keep = move |t: &usize| *t < sides || (*t - sides) % 2 == usize::from(forward);
        m.subset((0..m.triangles.len()).filter(keep))
    };
    mesh = ends(&mesh, false);
    mesh.append(&ends(&ahead, true));
    // The face of the step between the two sections.
    let n = mesh.vertices.len() as u32;
    for k in [4usize, 0, 1] {
        mesh.vertices.push(shapes::v(at, aft[k][0], aft[k][1]));
        mesh.vertices.push(shapes::v(at, fore[k][0], fore[k][1]));
    }
    for i in [0, 2] {
        let [a, b, c, d] = [n + i, n + i + 1, n + i + 3, n + i + 2];
        mesh.triangles.extend([[a, c, b], [a, d, c]]);
    }
    mesh
}

#[test]
fn a_step_ends_a_surface() {
    for step in [2.0 * MM, 4.0 * MM, 12.0 * MM] {
        let mesh = stepped(step, 0.2503);
        assert!(mesh.signed_volume_m3() > 0.0);
        let found = find(&mesh);
        assert_eq!(names(&found).len(), 2, "{step}: {:?}", names(&found));
        let (fore, aft) = (
            named(&found, "vee bottom forward"),
            named(&found, "vee bottom aft"),
        );
        assert!((fore.trailing_edge_m[0] - 0.2503).abs() < 1e-6);
        assert!(fore.trailing_edge_m[2].abs() < 1e-6);
        assert!(fore.step && !aft.step);
        assert!(aft.trailing_edge_m[0].abs() < 1e-9);
        assert!((aft.trailing_edge_m[2] - step).abs() < 1e-6);
        assert!(aft.stations.iter().all(|s| s.x_m < 0.2503));
    }
}

/// Half-wedge pad under a block, the trailing edge and the outer chine rounded by `r`.
fn rounded_pad(r: f64) -> Mesh {
    let arc = |n: usize| (0..=n).map(move |i| std::f64::consts::FRAC_PI_2 * i as f64 / n as f64);
    // (x, z) outline of the side view, counter-clockwise seen from starboard.
    let mut side = vec![[0.3, 0.06], [0.0, 0.06]];
    side.extend(arc(8).map(|a| [r - r * a.cos(), r - r * a.sin()]));
    side.push([0.3, 0.0]);
    let n = side.len() as u32;
    let mut mesh = Mesh::default();
    for y in [-0.05, 0.05] {
        (mesh.vertices).extend(side.iter().map(|p| shapes::v(p[0], y, p[1] + 0.05 * p[0])));
    }
    for i in 0..n {
        let j = (i + 1) % n;
        mesh.triangles.extend([[i, j, i + n], [j, j + n, i + n]]);
    }
    for i in 1..n - 1 {
        mesh.triangles.push([0, i + 1, i]);
        mesh.triangles.push([n, n + i, n + i + 1]);
    }
    if mesh.signed_volume_m3() < 0.0 {
        mesh.flip();
    }
    mesh
}

#[test]
fn a_rounded_trailing_edge_is_measured_and_does_not_bend_the_angle() {
    for r in [0.5 * MM, 1.0 * MM, 2.0 * MM] {
        let mesh = rounded_pad(r);
        assert!(mesh.is_closed());
        let found = find(&mesh);
        assert_eq!(names(&found), ["flat bottom"]);
        let s = &found[0];
        assert!(
            (s.edge_radius_m - r).abs() < 0.25 * r,
            "{} for {r}",
            s.edge_radius_m
        );
        assert!((s.angle_rad.value - 0.05f64.atan()).abs() < 1e-6);
        assert!(
            s.trailing_edge_m[0].abs() < 1e-6,
            "{}",
            s.trailing_edge_m[0]
        );
        assert!(s.trailing_edge_m[2].abs() < 1e-6);
    }
}

#[test]
fn rounded_chines_count_to_where_the_faces_meet() {
    // 20 deg panels, 70 deg topsides, 2 mm rounding between: tangent arc in ten pieces.
    let (beta, side, r) = (20f64.to_radians(), 70f64.to_radians(), 2.0 * MM);
    let (chine_y, chine_z) = (0.08, 0.08 * beta.tan());
    let cut = r * ((side - beta) / 2.0).tan();
    let start = [chine_y - cut * beta.cos(), chine_z - cut * beta.sin()];
    let mut half = vec![[0.0, 0.0]];
    for i in 0..=10 {
        let a = beta + (side - beta) * f64::from(i) / 10.0;
        half.push([
            start[0] + r * (a.sin() - beta.sin()),
            start[1] + r * (beta.cos() - a.cos()),
        ]);
    }
    let up = 0.06;
    half.push([chine_y + up / side.tan(), chine_z + up]);
    let mut section = half.clone();
    section.extend(half.iter().skip(1).rev().map(|p| [-p[0], p[1]]));
    let found = find(&shapes::prism(&section, 0.0, 0.5));
    let wanted = Wanted {
        name: "vee bottom",
        angle: 0.0,
        beam: 160.0,
        deadrise: 20.0,
        edge: [0.0; 3],
    };
    check(&found, &[wanted], "rounded chines");
}

#[test]
fn strakes_and_a_skeg_do_not_divide_a_bottom() {
    // 20 deg panel with a 2 mm deep triangular strake at half width, and a 1.5 mm keel fin.
    let t = 20f64.to_radians().tan();
    let z = |y: f64| y * t;
    let half = [
        [0.00075, -0.01],
        [0.00075, z(0.00075)],
        [0.036, z(0.036)],
        [0.0415, z(0.0415) - 0.002],
        [0.0415, z(0.0415)],
        [0.08, z(0.08)],
        [0.08, 0.09],
    ];
    let mut section = half.to_vec();
    section.extend(half.iter().rev().map(|p| [-p[0], p[1]]));
    let mesh = extruded(&section, 0.5);
    let found = find(&mesh);
    let wanted = Wanted {
        name: "vee bottom",
        angle: 0.0,
        beam: 160.0,
        deadrise: 20.0,
        edge: [0.0; 3],
    };
    check(&found, &[wanted], "strakes");
}

/// Any simple (y, z) outline, counter-clockwise seen from ahead; ends by ear clipping.
fn extruded(section: &[[f64; 2]], length: f64) -> Mesh {
    let mut mesh = shapes::prism(section, 0.0, length);
    let n = section.len();
    mesh.triangles.truncate(2 * n);
    let outline = section
        .iter()
        .map(|p| manifold_rust::linalg::Vec2::new(p[0], p[1]));
    for t in manifold_rust::polygon::triangulate(&vec![outline.collect()], -1.0, false) {
        let [a, b, c] = [t.x, t.y, t.z].map(|i| i as u32);
        mesh.triangles.push([a, c, b]);
        mesh.triangles
            .push([a + n as u32, b + n as u32, c + n as u32]);
    }
    mesh
}

#[test]
fn what_does_not_face_down_carries_nothing() {
    assert!(find(&Mesh::default()).is_empty());
    // A wedge standing on its edge: both sides steeper than 60 deg.
    let knife = shapes::prism(&[[0.0, 0.0], [0.04, 0.1], [-0.04, 0.1]], 0.0, 0.5);
    assert!(find(&knife).is_empty());
}

#[test]
fn size_does_not_matter() {
    for factor in [0.6, 2.5] {
        let found = find(&three_point().map(|v| v * factor));
        assert_eq!(names(&found), ["left pad", "afterplane", "right pad"]);
        let pad = named(&found, "left pad");
        assert!((pad.beam_m.value / factor - 0.03).abs() < 1e-5);
        assert!((pad.angle_rad.value.to_degrees() - 3.0).abs() < 0.01);
    }
}

#[test]
fn measured_values_replace_found_ones_consistently() {
    let mut found = find(&three_point());
    let before = named(&found, "left pad").clone();
    let none = RunningOverride {
        surface: "left pad".into(),
        angle_rad: None,
        beam_m: None,
        deadrise_rad: None,
        strake_m: None,
        trailing_edge_x_m: None,
        trailing_edge_z_m: None,
    };
    let all = RunningOverride {
        angle_rad: Some(Measure::given(dims::deg(2.4)).with_spread(0.002)),
        beam_m: Some(Measure::given(28.0 * MM)),
        deadrise_rad: Some(Measure::given(dims::deg(2.0))),
        trailing_edge_x_m: Some(Measure::given(250.0 * MM)),
        trailing_edge_z_m: Some(Measure::given(-15.5 * MM)),
        ..none.clone()
    };
    apply(&mut found, &[all]).unwrap();
    let after = named(&found, "left pad");
    sound(after);
    assert_eq!(after.trailing_edge_m[0], 250.0 * MM);
    assert_eq!(after.trailing_edge_m[2], -15.5 * MM);
    assert_eq!(after.angle_rad.spread, 0.002);
    // 60 mm ahead of the edge the keel has risen by 60 mm x tan 2.4 deg.
    let rise = rise(after, 60.0 * MM);
    assert!(
        (rise - 60.0 * MM * dims::deg(2.4).tan()).abs() < 1e-6,
        "{rise}"
    );
    let first = &after.stations[0];
    assert!((first.port.width_m + first.starboard.width_m - 28.0 * MM).abs() < 1e-12);
    let change = first.port.deadrise_rad - before.stations[0].port.deadrise_rad;
    assert!((change - dims::deg(1.0)).abs() < dims::deg(0.02));
    // The entry panel keeps its own slope.
    let slope = |s: &RunningSurface, x: f64| rise_at(s, x + 0.01) - rise_at(s, x);
    assert!((slope(after, 0.345) - slope(&before, 0.34)).abs() < 1e-5);
    assert_eq!(
        named(&found, "right pad"),
        named(&find(&three_point()), "right pad")
    );

    let unknown = RunningOverride {
        surface: "lefft pad".into(),
        ..none
    };
    let error = apply(&mut found, &[unknown]).unwrap_err();
    assert_eq!(
        error.to_string(),
        "there is no running surface called `lefft pad`; this hull has `left pad`, `afterplane`, \
         `right pad`"
    );
}

fn rise(s: &RunningSurface, ahead: f64) -> f64 {
    rise_at(s, s.trailing_edge_m[0] + ahead) - s.trailing_edge_m[2]
}

fn rise_at(s: &RunningSurface, x: f64) -> f64 {
    let i = s.stations.partition_point(|p| p.x_m < x);
    let (a, b) = (&s.stations[i - 1], &s.stations[i]);
    a.keel_z_m + (b.keel_z_m - a.keel_z_m) * (x - a.x_m) / (b.x_m - a.x_m)
}

#[test]
fn three_surfaces_are_found_among_a_hundred_thousand_triangles() {
    let mesh = remesh::subdivided(&three_point(), 100_000);
    let found = find(&mesh);
    assert_eq!(found.len(), 3);
}
