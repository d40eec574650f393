//! Which way up a piece prints.
//!
//! Scored in square centimetres (judgement): area that overhangs more than 45 degrees and so needs support,
//! four times over where water runs; layer steps that lie across the flow on running surfaces; height, for
//! time and for standing firm. The bending of the hull pulls across the layers of a piece that prints
//! standing on its end, which costs as much as a tenth of its section.

use boat::Axis;
use form::{Form, Mesh};
use nalgebra::{Matrix3, Vector3};

use crate::bed::Bed;

/// Steeper than this against the vertical needs support.
const OVERHANG_COS: f64 = std::f64::consts::FRAC_1_SQRT_2;

/// The six ways up.
pub const UPS: [Axis; 6] = [
    Axis::PlusZ,
    Axis::MinusZ,
    Axis::PlusX,
    Axis::MinusX,
    Axis::PlusY,
    Axis::MinusY,
];

/// A way up and what it costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Way {
    /// The boat's axis that points up.
    pub up: Axis,
    /// Needs support, m2.
    pub overhang_m2: f64,
    /// Of that, where water runs, m2.
    pub running_overhang_m2: f64,
    /// Layer steps across the flow where water runs, m2 weighted.
    pub steps_m2: f64,
    /// m.
    pub height_m: f64,
    /// On the bed, m2.
    pub foot_m2: f64,
    /// Least is best.
    pub score: f64,
}

/// The boat's axis as a unit vector.
#[must_use]
pub fn vector(axis: Axis) -> Vector3<f64> {
    match axis {
        Axis::PlusX => Vector3::x(),
        Axis::MinusX => -Vector3::x(),
        Axis::PlusY => Vector3::y(),
        Axis::MinusY => -Vector3::y(),
        Axis::PlusZ => Vector3::z(),
        Axis::MinusZ => -Vector3::z(),
    }
}

/// In the builder's words.
#[must_use]
pub fn words(axis: Axis) -> &'static str {
    match axis {
        Axis::PlusX => "standing, bow end up",
        Axis::MinusX => "standing, stern end up",
        Axis::PlusY => "on its starboard side",
        Axis::MinusY => "on its port side",
        Axis::PlusZ => "as it floats",
        Axis::MinusZ => "upside down",
    }
}

/// Where water runs: facets that face down near a running surface's trailing half.
pub struct Bottoms {
    boxes: Vec<([f64; 2], [f64; 2], f64)>,
}

impl Bottoms {
    /// Of the hull.
    #[must_use]
    pub fn of(form: &Form) -> Self {
        let boxes = form.surfaces.iter().map(|s| {
            let [x, y, z] = s.trailing_edge_m;
            let half = 0.5 * s.beam_m.value + 0.004;
            ([x - 0.003, x + 0.12], [y - half, y + half], z + 0.03)
        });
        Self {
            boxes: boxes.collect(),
        }
    }

    fn has(&self, p: Vector3<f64>, normal: Vector3<f64>) -> bool {
        normal.z < -0.5
            && self.boxes.iter().any(|(x, y, z)| {
                (x[0]..=x[1]).contains(&p.x) && (y[0]..=y[1]).contains(&p.y) && p.z < *z
            })
    }
}

/// All ways up that fit, best first.
#[must_use]
pub fn ways(piece: &Mesh, running: &Bottoms, bed: &Bed) -> Vec<Way> {
    let Some((low, high)) = piece.bounds() else {
        return Vec::new();
    };
    let size: [f64; 3] = (high - low).into();
    let mut all: Vec<Way> = UPS
        .into_iter()
        .filter(|up| bed.takes_up(size, vector(*up).iamax()))
        .map(|up| score(piece, running, up))
        .collect();
    all.sort_by(|a, b| a.score.total_cmp(&b.score));
    all
}

fn score(piece: &Mesh, running: &Bottoms, up: Axis) -> Way {
    let u = vector(up);
    let heights = piece.vertices.iter().map(|v| v.dot(&u));
    let (low, high) = heights.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), z| {
        (l.min(z), h.max(z))
    });
    let mut way = Way {
        up,
        overhang_m2: 0.0,
        running_overhang_m2: 0.0,
        steps_m2: 0.0,
        height_m: high - low,
        foot_m2: 0.0,
        score: 0.0,
    };
    for [a, b, c] in piece.faces() {
        let cross = (b - a).cross(&(c - a));
        let area = 0.5 * cross.norm();
        let Some(normal) = cross.try_normalize(0.0) else {
            continue;
        };
        let middle = (a + b + c) / 3.0;
        let down = -normal.dot(&u);
        let wet = running.has(middle, normal);
        if down > OVERHANG_COS {
            if middle.dot(&u) - low < 3e-4 {
                way.foot_m2 += area;
            } else {
                way.overhang_m2 += area;
                if wet {
                    way.running_overhang_m2 += area;
                }
            }
        }
        if wet {
            let line = normal.cross(&u);
            let across = line.try_normalize(1e-9).map_or(0.0, |l| 1.0 - l.x.abs());
            way.steps_m2 += area * across * normal.dot(&u).abs();
        }
    }
    let stands = if matches!(up, Axis::PlusX | Axis::MinusX) {
        8.0
    } else {
        0.0
    };
    let firm = if way.foot_m2 < 2e-4 { 60.0 } else { 0.0 };
    way.score = 1e4 * (way.overhang_m2 + 4.0 * way.running_overhang_m2 + way.steps_m2)
        + 100.0 * way.height_m
        + stands
        + firm;
    way
}

/// Turns the boat's axes so that `up` points up, then turns by `spin_rad` on the bed.
#[must_use]
pub fn turn(up: Axis, spin_rad: f64) -> Matrix3<f64> {
    let u = vector(up);
    let k = u.iamax();
    let mut a = Vector3::zeros();
    a[(k + 1) % 3] = 1.0;
    let b = u.cross(&a);
    let (s, c) = spin_rad.sin_cos();
    let first = a * c - b * s;
    let second = a * s + b * c;
    Matrix3::from_rows(&[first.transpose(), second.transpose(), u.transpose()])
}

/// The piece as it lies on the bed: centred on its origin, lowest point at zero.
#[must_use]
pub fn placed(piece: &Mesh, up: Axis, bed: &Bed) -> Mesh {
    let Some((low, high)) = piece.bounds() else {
        return Mesh::default();
    };
    let size = high - low;
    let k = vector(up).iamax();
    let base = [size[(k + 1) % 3], size[(k + 2) % 3]];
    let spin = bed.turn_rad(base).unwrap_or(0.0);
    let turn = turn(up, spin);
    let turned = piece.map(|p| turn * p);
    let (low, high) = turned.bounds().unwrap_or_default();
    let shift = Vector3::new(0.5 * (low.x + high.x), 0.5 * (low.y + high.y), low.z);
    turned.map(|p| p - shift)
}
