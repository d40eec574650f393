//! The demonstration boats: their files load without a complaint, their masses add up to the
//! tables they were invented with, and their meshes are what `make_examples` makes.

mod dims;

use std::path::PathBuf;

use boat::{Boat, HullSource};
use form::Form;
use nalgebra::Vector3;

fn examples() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../examples")
}

fn load(folder: &str) -> Boat {
    let path = examples().join(folder).join("boat.toml");
    let text = std::fs::read_to_string(&path).expect("every example has a boat file");
    let (boat, problems) = boat::load(&text, folder).unwrap_or_else(|e| panic!("{folder}: {e:?}"));
    assert!(problems.is_empty(), "{folder}: {problems:?}");
    boat
}

/// The hull's mesh file, read as any builder's.
fn form(folder: &str, boat: &Boat) -> Form {
    let HullSource::Mesh(files) = &boat.hull.source else {
        panic!("{folder} has no mesh");
    };
    let read = |f: &boat::MeshFile| std::fs::read(examples().join(folder).join(&f.path));
    let bytes: Vec<Vec<u8>> = files
        .iter()
        .map(|f| read(f).expect("the mesh is there"))
        .collect();
    let named: Vec<(&str, &[u8])> = (files.iter().zip(&bytes))
        .map(|(f, b)| (f.path.as_str(), b.as_slice()))
        .collect();
    form::assemble(&named, files).unwrap_or_else(|e| panic!("{folder}: {e}"))
}

/// g and mm: mass, then centre of gravity.
fn balance(boat: &Boat) -> [f64; 4] {
    let shell = boat
        .hull
        .weighed
        .as_ref()
        .expect("every example's shell was weighed");
    let at = shell.at.expect("and balanced");
    let mut rows = vec![(shell.mass_kg.value, at)];
    rows.extend(boat.parts.iter().map(|p| (p.mass_kg.value, p.at)));
    let mass: f64 = rows.iter().map(|r| r.0).sum();
    let moment = |k: usize| rows.iter().map(|r| r.0 * r.1[k].value).sum::<f64>();
    [
        mass * 1e3,
        moment(0) / mass * 1e3,
        moment(1) / mass * 1e3,
        moment(2) / mass * 1e3,
    ]
}

fn folders() -> Vec<&'static str> {
    dims::demonstration()
        .into_iter()
        .map(|(folder, _)| folder)
        .collect()
}

#[test]
fn every_example_loads_without_a_complaint() {
    for folder in folders() {
        let boat = load(folder);
        assert!(
            !boat.drives.is_empty() && !boat.openings.is_empty(),
            "{folder}"
        );
    }
}

#[test]
fn masses_and_balance_are_those_of_the_tables() {
    // Total g and CG mm as the tables print them, y turned to port; rounded to whole numbers.
    let tables = [
        ("tadpole", [966.0, 215.0, 0.0, 26.0]),
        ("longshank", [1837.0, 262.0, 0.0, 23.0]),
        ("millrace", [1611.0, 174.0, 0.0, 35.0]),
        ("twin-thistle", [3724.0, 248.0, 0.0, 40.0]),
    ];
    for (folder, wanted) in tables {
        let found = balance(&load(folder));
        assert!((found[0] - wanted[0]).abs() < 0.01, "{folder}: {found:?}");
        for k in 1..4 {
            assert!((found[k] - wanted[k]).abs() <= 0.52, "{folder}: {found:?}");
        }
    }
}

#[test]
fn the_faults_are_in_the_files() {
    // Trailing edge of the sponsons at 245 mm.
    let aft = balance(&load("faults/tadpole-pack-aft"));
    assert!(245.0 - aft[1] >= 37.0, "{aft:?}");
    let narrow = form(
        "faults/tadpole-narrow-pads",
        &load("faults/tadpole-narrow-pads"),
    );
    for name in ["left pad", "right pad"] {
        let pad = narrow.surfaces.iter().find(|s| s.name == name).expect(name);
        assert!(
            (pad.beam_m.value - 0.010).abs() < 0.5e-3,
            "{name} {:?}",
            pad.beam_m
        );
    }
    let sinking = load("faults/millrace-no-foam");
    let foam: f64 = sinking.floats.iter().map(|f| f.volume_m3.value).sum();
    // Even if all of it but the shell (lighter than 1.27 times water) weighed nothing in water.
    assert!(foam < 0.2e-3);
}

#[test]
fn every_hull_is_read_as_it_was_drawn() {
    let wanted: [(&str, &[&str]); 4] = [
        ("tadpole", &["left pad", "afterplane", "right pad"]),
        (
            "longshank",
            &[
                "left rear pad",
                "left pad",
                "tub",
                "right rear pad",
                "right pad",
            ],
        ),
        ("millrace", &["vee bottom"]),
        ("twin-thistle", &["left hull", "right hull"]),
    ];
    for (folder, surfaces) in wanted {
        let form = form(folder, &load(folder));
        let names: Vec<&str> = form.surfaces.iter().map(|s| s.name.as_str()).collect();
        assert_eq!(names, surfaces, "{folder}");
        assert!(!form.has_serious_notice(), "{folder}: {:?}", form.notices);
    }
}

#[test]
fn openings_lie_on_the_hull() {
    for folder in folders() {
        let boat = load(folder);
        let form = form(folder, &boat);
        for opening in &boat.openings {
            let p = Vector3::from(opening.at.map(|m| m.value));
            let gap = distance(&form.envelope, p);
            assert!(
                gap < 1e-3,
                "{folder}: {} is {:.1} mm off",
                opening.name,
                gap * 1e3
            );
        }
    }
}

fn distance(mesh: &form::Mesh, p: Vector3<f64>) -> f64 {
    (mesh.faces())
        .map(|corners| to_triangle(p, corners))
        .fold(f64::INFINITY, f64::min)
}

fn to_triangle(p: Vector3<f64>, [a, b, c]: [Vector3<f64>; 3]) -> f64 {
    let normal = (b - a).cross(&(c - a));
    let inside = |a: Vector3<f64>, b: Vector3<f64>| (b - a).cross(&(p - a)).dot(&normal) >= 0.0;
    if inside(a, b) && inside(b, c) && inside(c, a) {
        return (p - a).dot(&normal).abs() / normal.norm();
    }
    to_edge(p, a, b).min(to_edge(p, b, c)).min(to_edge(p, c, a))
}

fn to_edge(p: Vector3<f64>, a: Vector3<f64>, b: Vector3<f64>) -> f64 {
    let t = (p - a).dot(&(b - a)) / (b - a).norm_squared();
    (a + (b - a) * t.clamp(0.0, 1.0) - p).norm()
}

#[test]
fn meshes_are_current_and_small() {
    for (folder, starter) in dims::demonstration() {
        let name = folder.rsplit('/').next().unwrap_or(folder);
        let path = examples().join(folder).join(format!("{name}.stl"));
        let bytes = std::fs::read(&path).expect("the mesh is there");
        assert!(bytes.len() < 1 << 20, "{name}: {} bytes", bytes.len());
        let made = form::write::stl(&form::starter::build(&starter).unwrap()).unwrap();
        assert!(
            bytes == made,
            "{name}.stl is out of date: run `cargo run -p form --example make_examples`"
        );
    }
}
