//! Bare boats around the closed-form solids that form's own tests use.
#![allow(dead_code)]

#[path = "../../../form/tests/shapes/mod.rs"]
pub mod shapes;

use boat::{
    Air, Boat, Drive, Finish, Hull, HullSource, Measure, Part, Place, Print, Water, Weighed, Wishes,
};
use craft::{MassProperties, Rest};
use form::{Form, Mesh};
use nalgebra::{Matrix3, Vector3};

pub const WATER: f64 = 1000.0;

/// Plastic of 1000 kg/m3 in walls 1 mm thick, no coating, no frames.
pub fn print() -> Print {
    Print {
        material: "test".to_owned(),
        density_kg_m3: Measure::given(1000.0),
        wall_m: Measure::given(1e-3),
        top_bottom_m: Measure::given(1e-3),
        infill: Measure::given(0.0),
        hollow: true,
        coating_kg_m2: Measure::given(0.0),
        extra_fraction: Measure::given(0.0),
    }
}

/// A boat that is nothing but its shell.
pub fn bare() -> Boat {
    Boat {
        units: boat::Units::Metric,
        name: "test".to_owned(),
        wishes: Wishes::default(),
        water: Water {
            temperature_c: Measure::given(15.0),
            ripple_m: Measure::given(0.0),
        },
        air: Air {
            temperature_c: Measure::given(15.0),
            headwind_m_s: Measure::given(0.0),
        },
        hull: Hull {
            source: HullSource::Mesh(Vec::new()),
            print: print(),
            weighed: None,
            running: Vec::new(),
            edge_radius_m: Measure::given(0.0),
            finish: Finish::Polished,
            roughness_m: Measure::given(0.0),
        },
        parts: Vec::new(),
        drives: Vec::<Drive>::new(),
        rudders: Vec::new(),
        fins: Vec::new(),
        tabs: Vec::new(),
        wings: Vec::new(),
        floats: Vec::new(),
        openings: Vec::new(),
        making: boat::making::Making::default(),
    }
}

pub fn place(x: f64, y: f64, z: f64) -> Place {
    [x, y, z].map(Measure::given)
}

pub fn part(name: &str, mass_kg: f64, at: [f64; 3], size_m: [f64; 3]) -> Part {
    Part {
        name: name.to_owned(),
        mass_kg: Measure::given(mass_kg),
        at: at.map(Measure::given),
        size_m,
        movable: false,
    }
}

pub fn weighed(mass_kg: f64, at: Option<Place>) -> Option<Weighed> {
    Some(Weighed {
        mass_kg: Measure::given(mass_kg),
        at,
    })
}

/// A lump at a place: all that floating needs to know of the masses.
pub fn lump(mass_kg: f64, cg_m: Vector3<f64>) -> MassProperties {
    MassProperties {
        mass_kg,
        mass_spread_kg: 0.0,
        cg_m,
        cg_spread_m: Vector3::zeros(),
        inertia_kg_m2: Matrix3::zeros(),
        items: Vec::new(),
    }
}

/// A mesh at rest in water of 1000 kg/m3 with a lump for its mass.
pub fn rest(mesh: Mesh, mass_kg: f64, cg_m: Vector3<f64>) -> Rest {
    craft::rest::solve(&bare(), &Form::from_mesh(mesh), &lump(mass_kg, cg_m), WATER)
        .expect("a sound body")
}

#[track_caller]
pub fn close(found: f64, expected: f64, tolerance: f64) {
    let error = (found - expected).abs();
    assert!(
        error <= tolerance,
        "{found} against {expected}: off by {error:e}, allowed {tolerance:e}"
    );
}

/// A vee-bottomed boat, transom at x = 0, narrowing to a stem at `length`; its facets mirror
/// exactly across the centreline.
pub fn vee_boat(length: f64, beam: f64, depth: f64, frames: u32) -> Mesh {
    let mut mesh = Mesh::default();
    for i in 0..frames {
        let s = f64::from(i) / f64::from(frames);
        let (half, keel) = (beam / 2.0 * (1.0 - s.powi(4)), 0.7 * depth * s.powi(4));
        let chine = keel + (depth - keel) * 0.3;
        let outline = [
            [0.0, keel],
            [0.9 * half, chine],
            [half, depth],
            [-half, depth],
            [-0.9 * half, chine],
        ];
        mesh.vertices
            .extend(outline.map(|[y, z]| Vector3::new(length * s, y, z)));
    }
    let stem = 5 * frames;
    mesh.vertices.push(Vector3::new(length, 0.0, depth));
    for (i, k) in (0..frames - 1).flat_map(|i| (0..5).map(move |k| (i, k))) {
        let (a, b) = (5 * i + k, 5 * i + (k + 1) % 5);
        let starboard = k > 2;
        mesh.triangles.push(if starboard {
            [a, a + 5, b + 5]
        } else {
            [a, a + 5, b]
        });
        mesh.triangles.push(if starboard {
            [a, b + 5, b]
        } else {
            [b, a + 5, b + 5]
        });
    }
    mesh.triangles
        .extend((0..5).map(|k| [stem - 5 + k, stem, stem - 5 + (k + 1) % 5]));
    mesh.triangles.extend([[0, 1, 4], [1, 2, 4], [2, 3, 4]]);
    if mesh.signed_volume_m3() < 0.0 {
        mesh.flip();
    }
    mesh
}
