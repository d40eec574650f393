//! The same shape cut into other triangles.
#![allow(dead_code)]

use std::collections::{HashMap, HashSet};

use form::Mesh;
use nalgebra::Vector3;
use rand::rngs::StdRng;
use rand::seq::SliceRandom;
use rand::{RngExt, SeedableRng};

/// Triangles and vertices in another order, corners of each triangle rotated.
pub fn shuffled(mesh: &Mesh, seed: u64) -> Mesh {
    let mut rng = StdRng::seed_from_u64(seed);
    let mut order: Vec<usize> = (0..mesh.vertices.len()).collect();
    order.shuffle(&mut rng);
    let mut vertices = vec![Vector3::zeros(); order.len()];
    for (i, to) in order.iter().enumerate() {
        vertices[*to] = mesh.vertices[i];
    }
    let mut triangles: Vec<[u32; 3]> = mesh
        .triangles
        .iter()
        .map(|t| {
            let mut t = t.map(|i| order[i as usize] as u32);
            t.rotate_left(rng.random_range(0..3));
            t
        })
        .collect();
    triangles.shuffle(&mut rng);
    Mesh {
        vertices,
        triangles,
    }
}

/// Longest edges halved until there are at least `count` triangles. Stays closed: both triangles
/// at an edge are split at its middle.
pub fn subdivided(mesh: &Mesh, count: usize) -> Mesh {
    let mut mesh = mesh.clone();
    while mesh.triangles.len() < count {
        let length =
            |a: u32, b: u32| (mesh.vertices[a as usize] - mesh.vertices[b as usize]).norm();
        let mut lengths: Vec<f64> = (mesh.triangles.iter())
            .map(|t| {
                length(t[0], t[1])
                    .max(length(t[1], t[2]))
                    .max(length(t[2], t[0]))
            })
            .collect();
        lengths.sort_by(f64::total_cmp);
        let limit = lengths[lengths.len() / 2];
        mesh = split_long(&mesh, limit);
    }
    mesh
}

fn split_long(mesh: &Mesh, limit: f64) -> Mesh {
    let mut vertices = mesh.vertices.clone();
    let mut middles: HashMap<(u32, u32), u32> = HashMap::new();
    let mut triangles = Vec::new();
    for t in &mesh.triangles {
        let mut outline = Vec::new();
        for k in 0..3 {
            let (a, b) = (t[k], t[(k + 1) % 3]);
            outline.push(a);
            let (p, q) = (mesh.vertices[a as usize], mesh.vertices[b as usize]);
            if (p - q).norm() >= limit {
                let key = (a.min(b), a.max(b));
                let middle = *middles.entry(key).or_insert_with(|| {
                    vertices.push((p + q) / 2.0);
                    vertices.len() as u32 - 1
                });
                outline.push(middle);
            }
        }
        // A fan from a middle avoids triangles without area.
        let start = (0..outline.len())
            .find(|i| !t.contains(&outline[*i]))
            .unwrap_or(0);
        outline.rotate_left(start);
        for i in 1..outline.len() - 1 {
            triangles.push([outline[0], outline[i], outline[i + 1]]);
        }
    }
    Mesh {
        vertices,
        triangles,
    }
}

/// The other diagonal wherever two triangles lie in one plane and form a convex quadrilateral.
pub fn flipped(mesh: &Mesh, seed: u64) -> Mesh {
    let mut rng = StdRng::seed_from_u64(seed);
    let mut mesh = mesh.clone();
    let mut owner: HashMap<(u32, u32), usize> = HashMap::new();
    let mut edges: HashSet<(u32, u32)> = HashSet::new();
    for (i, t) in mesh.triangles.iter().enumerate() {
        for k in 0..3 {
            owner.insert((t[k], t[(k + 1) % 3]), i);
            edges.insert((t[k].min(t[(k + 1) % 3]), t[k].max(t[(k + 1) % 3])));
        }
    }
    let mut touched = vec![false; mesh.triangles.len()];
    let mut inner: Vec<(u32, u32)> = owner.keys().copied().filter(|e| e.0 < e.1).collect();
    inner.sort_unstable();
    inner.shuffle(&mut rng);
    for (a, b) in inner {
        let (Some(&s), Some(&t)) = (owner.get(&(a, b)), owner.get(&(b, a))) else {
            continue;
        };
        if touched[s] || touched[t] {
            continue;
        }
        let other = |t: usize| mesh.triangles[t].into_iter().find(|i| *i != a && *i != b);
        let (Some(c), Some(d)) = (other(s), other(t)) else {
            continue;
        };
        let p = |i: u32| mesh.vertices[i as usize];
        let area = |i: u32, j: u32, k: u32| (p(j) - p(i)).cross(&(p(k) - p(i)));
        let (n, m) = (area(a, b, c), area(b, a, d));
        let (u, v) = (area(c, d, b), area(d, c, a));
        let flat = n.normalize().dot(&m.normalize()) > 1.0 - 1e-12;
        let convex = u.dot(&n) > 1e-3 * n.norm_squared() && v.dot(&n) > 1e-3 * n.norm_squared();
        let taken = edges.contains(&(c.min(d), c.max(d)));
        if c == d || !flat || !convex || taken {
            continue;
        }
        mesh.triangles[s] = [c, d, b];
        mesh.triangles[t] = [d, c, a];
        edges.insert((c.min(d), c.max(d)));
        (touched[s], touched[t]) = (true, true);
    }
    mesh
}

/// Every vertex moved by up to `amount` m in each direction.
pub fn noisy(mesh: &Mesh, amount: f64, seed: u64) -> Mesh {
    let mut rng = StdRng::seed_from_u64(seed);
    let mut shift = || rng.random_range(-amount..=amount);
    let mut mesh = mesh.clone();
    for v in &mut mesh.vertices {
        *v += Vector3::new(shift(), shift(), shift());
    }
    mesh
}

/// Fewer triangles, none moved by more than `tolerance` m.
pub fn decimated(mesh: &Mesh, tolerance: f64) -> Mesh {
    use manifold_rust::manifold::Manifold;
    use manifold_rust::types::MeshGL64;
    let solid = Manifold::from_mesh_gl64(&MeshGL64 {
        num_prop: 3,
        vert_properties: mesh.vertices.iter().flat_map(|v| [v.x, v.y, v.z]).collect(),
        tri_verts: mesh
            .triangles
            .iter()
            .flatten()
            .map(|i| u64::from(*i))
            .collect(),
        ..MeshGL64::default()
    });
    let out = solid.simplify(tolerance).get_mesh_gl64(-1);
    Mesh {
        vertices: (out.vert_properties.chunks_exact(out.num_prop as usize))
            .map(|p| Vector3::new(p[0], p[1], p[2]))
            .collect(),
        triangles: (out.tri_verts.chunks_exact(3))
            .map(|t| [t[0] as u32, t[1] as u32, t[2] as u32])
            .collect(),
    }
}
