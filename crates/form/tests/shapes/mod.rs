//! Closed-form solids for tests.
#![allow(dead_code)]

use form::Mesh;
use nalgebra::Vector3;

pub fn v(x: f64, y: f64, z: f64) -> Vector3<f64> {
    Vector3::new(x, y, z)
}

/// Box between two corners.
pub fn block(low: Vector3<f64>, high: Vector3<f64>) -> Mesh {
    let at = |i: usize| {
        let pick = |k: usize| if i >> k & 1 == 1 { high[k] } else { low[k] };
        v(pick(0), pick(1), pick(2))
    };
    Mesh {
        vertices: (0..8).map(at).collect(),
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
    }
}

/// Extrudes a convex (y, z) polygon, counter-clockwise seen from ahead, from x = `from` to `to`.
pub fn prism(section: &[[f64; 2]], from: f64, to: f64) -> Mesh {
    let n = section.len() as u32;
    let mut vertices: Vec<_> = section.iter().map(|s| v(from, s[0], s[1])).collect();
    vertices.extend(section.iter().map(|s| v(to, s[0], s[1])));
    let mut triangles = Vec::new();
    for i in 0..n {
        let j = (i + 1) % n;
        triangles.push([i, j, i + n]);
        triangles.push([j, j + n, i + n]);
    }
    for i in 1..n - 1 {
        triangles.push([0, i + 1, i]);
        triangles.push([n, n + i, n + i + 1]);
    }
    Mesh {
        vertices,
        triangles,
    }
}

/// Upright-section wedge of vee bottom: beam `b`, height `h`, keel at z = 0.
pub fn vee(length: f64, b: f64, h: f64) -> Mesh {
    prism(&[[0.0, 0.0], [b / 2.0, h], [-b / 2.0, h]], 0.0, length)
}

/// Regular polygon of `n` sides and radius `r` about (0, `r`), extruded.
pub fn cylinder(length: f64, r: f64, n: usize) -> Mesh {
    let section: Vec<[f64; 2]> = (0..n)
        .map(|i| {
            let a = std::f64::consts::TAU * i as f64 / n as f64;
            [r * a.cos(), r + r * a.sin()]
        })
        .collect();
    prism(&section, 0.0, length)
}

/// Wigley's parabolic hull with `nx` by `nz` facets a side, flat deck at z = 0, keel at -`t`,
/// x from 0 to `l`.
pub fn wigley(l: f64, b: f64, t: f64, nx: usize, nz: usize) -> Mesh {
    let half = |x: f64, z: f64| {
        let s = 2.0 * x / l - 1.0;
        b / 2.0 * (1.0 - s * s) * (1.0 - (z / t) * (z / t))
    };
    let at = |i: usize, j: usize| (l * i as f64 / nx as f64, -t * (1.0 - j as f64 / nz as f64));
    let mut mesh = Mesh::default();
    let quad = |p: [Vector3<f64>; 4], mesh: &mut Mesh| {
        let n = mesh.vertices.len() as u32;
        mesh.vertices.extend_from_slice(&p);
        mesh.triangles.push([n, n + 1, n + 2]);
        mesh.triangles.push([n, n + 2, n + 3]);
    };
    for i in 0..nx {
        for j in 0..nz {
            let c = [at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)];
            let port = c.map(|(x, z)| v(x, half(x, z), z));
            let starboard = c.map(|(x, z)| v(x, -half(x, z), z));
            quad([port[3], port[2], port[1], port[0]], &mut mesh);
            quad(starboard, &mut mesh);
        }
        let (a, c) = (at(i, nz).0, at(i + 1, nz).0);
        let deck = [
            v(a, -half(a, 0.0), 0.0),
            v(c, -half(c, 0.0), 0.0),
            v(c, half(c, 0.0), 0.0),
            v(a, half(a, 0.0), 0.0),
        ];
        quad(deck, &mut mesh);
    }
    mesh
}

/// Each triangle into four.
pub fn subdivide(mesh: &Mesh) -> Mesh {
    let mut fine = Mesh::default();
    for [a, b, c] in mesh.faces() {
        let (ab, bc, ca) = ((a + b) / 2.0, (b + c) / 2.0, (c + a) / 2.0);
        for t in [[a, ab, ca], [ab, b, bc], [ca, bc, c], [ab, bc, ca]] {
            let n = fine.vertices.len() as u32;
            fine.vertices.extend_from_slice(&t);
            fine.triangles.push([n, n + 1, n + 2]);
        }
    }
    fine
}

/// A vee-bottomed boat in boat axes: blunt transom at x = 0, keel rising and sections narrowing
/// to a stem at `l`, flat deck. Port and starboard alike.
pub fn boat(l: f64, b: f64, h: f64, n: usize) -> Mesh {
    let mut mesh = Mesh::default();
    for i in 0..n {
        let s = i as f64 / n as f64;
        let fine = 1.0 - s.powi(4);
        let (x, half, keel) = (l * s, b / 2.0 * fine, 0.7 * h * s.powi(4));
        let chine = keel + (h - keel) * 0.3;
        mesh.vertices.extend([
            v(x, 0.0, keel),
            v(x, half * 0.9, chine),
            v(x, half, h),
            v(x, -half, h),
            v(x, -half * 0.9, chine),
        ]);
    }
    let stem = mesh.vertices.len() as u32;
    mesh.vertices.push(v(l, 0.0, h));
    for i in 0..n as u32 - 1 {
        for k in 0..5 {
            let (a, b) = (5 * i + k, 5 * i + (k + 1) % 5);
            mesh.triangles.push([a, a + 5, b]);
            mesh.triangles.push([b, a + 5, b + 5]);
        }
    }
    let last = stem - 5;
    for k in 0..5 {
        mesh.triangles.push([last + k, stem, last + (k + 1) % 5]);
    }
    mesh.triangles.extend([[0, 1, 4], [1, 2, 4], [2, 3, 4]]);
    if mesh.signed_volume_m3() < 0.0 {
        mesh.flip();
    }
    mesh
}

/// The boat without its deck: an open surface.
pub fn without_deck(mesh: &Mesh, deck: f64) -> Mesh {
    let kept =
        (0..mesh.triangles.len()).filter(|t| mesh.corners(*t).iter().any(|p| p.z < deck - 1e-9));
    mesh.subset(kept)
}

/// A box-shaped tub: outside between `low` and `high`, walls and floor `wall` thick, open above.
pub fn tub(low: Vector3<f64>, high: Vector3<f64>, wall: f64) -> Mesh {
    let (w, zero) = (v(wall, wall, wall), v(wall, wall, 0.0));
    let outer = block(low, high);
    let mut inner = block(low + w, high - zero);
    inner.flip();
    let side = |m: &Mesh| {
        let kept = (0..12).filter(|t| m.corners(*t).iter().any(|p| p.z < high.z - 1e-12));
        m.subset(kept)
    };
    let mut mesh = side(&outer);
    mesh.append(&side(&inner));
    let (a, b, c, d) = (low, high, low + w, high - zero);
    let ring = |p: Vector3<f64>, q: Vector3<f64>| {
        [
            v(p.x, p.y, high.z),
            v(q.x, p.y, high.z),
            v(q.x, q.y, high.z),
            v(p.x, q.y, high.z),
        ]
    };
    let (o, i) = (ring(a, b), ring(c, d));
    for k in 0..4 {
        let n = mesh.vertices.len() as u32;
        mesh.vertices
            .extend([o[k], o[(k + 1) % 4], i[(k + 1) % 4], i[k]]);
        mesh.triangles
            .extend([[n, n + 1, n + 2], [n, n + 2, n + 3]]);
    }
    mesh
}

/// Text STL of a mesh, coordinates times `scale`.
pub fn text_stl(mesh: &Mesh, scale: f64) -> Vec<u8> {
    let mut text = String::from("solid test\n");
    for corners in mesh.faces() {
        text.push_str("facet normal 0 0 0\n outer loop\n");
        for c in corners.map(|c| c * scale) {
            text.push_str(&format!("  vertex {} {} {}\n", c.x, c.y, c.z));
        }
        text.push_str(" endloop\nendfacet\n");
    }
    text.push_str("endsolid test\n");
    text.into_bytes()
}

/// OBJ of a mesh with `scale`.
pub fn obj(mesh: &Mesh, scale: f64) -> Vec<u8> {
    let mut text = String::new();
    for p in &mesh.vertices {
        text.push_str(&format!(
            "v {} {} {}\n",
            p.x * scale,
            p.y * scale,
            p.z * scale
        ));
    }
    for t in &mesh.triangles {
        text.push_str(&format!("f {} {} {}\n", t[0] + 1, t[1] + 1, t[2] + 1));
    }
    text.into_bytes()
}
