//! The mesh as bytes for the graphics card.
//!
//! Little-endian: the letters `SKM1`, the number of vertices and of triangles as u32, then three
//! f32 for each vertex (boat axes, m), three f32 for each normal, three u32 for each triangle.
//! Vertices are shared only where the surface is smooth.

use form::Mesh;
use nalgebra::Vector3;
use sha2::{Digest as _, Sha256};
use std::collections::HashMap;

/// Faces that meet at less than this share a normal, rad (30 deg).
const SMOOTH_RAD: f64 = std::f64::consts::FRAC_PI_6;

/// A short name of the shape.
pub fn name(mesh: &Mesh) -> String {
    let mut hash = Sha256::new();
    for v in &mesh.vertices {
        for x in v.iter() {
            hash.update(x.to_le_bytes());
        }
    }
    for i in mesh.triangles.iter().flatten() {
        hash.update(i.to_le_bytes());
    }
    let hash = hash.finalize();
    hash.iter().take(8).map(|b| format!("{b:02x}")).collect()
}

/// See the module.
pub fn bytes(mesh: &Mesh) -> Vec<u8> {
    let (positions, normals, corners) = split(mesh);
    let mut out = Vec::with_capacity(12 + 24 * positions.len() + 4 * corners.len());
    out.extend(b"SKM1");
    out.extend((positions.len() as u32).to_le_bytes());
    out.extend((mesh.triangles.len() as u32).to_le_bytes());
    for v in positions.iter().chain(&normals) {
        for x in v.iter() {
            out.extend((*x as f32).to_le_bytes());
        }
    }
    for i in corners {
        out.extend(i.to_le_bytes());
    }
    out
}

type Split = (Vec<Vector3<f64>>, Vec<Vector3<f64>>, Vec<u32>);

/// Vertices doubled along creases, each with its normal.
fn split(mesh: &Mesh) -> Split {
    let faces: Vec<Vector3<f64>> = mesh
        .faces()
        .map(|[a, b, c]| (b - a).cross(&(c - a)))
        .collect();
    let mut around: Vec<Vec<u32>> = vec![Vec::new(); mesh.vertices.len()];
    for (t, triangle) in mesh.triangles.iter().enumerate() {
        for v in triangle {
            around[*v as usize].push(t as u32);
        }
    }
    let (mut positions, mut normals, mut corners) = (Vec::new(), Vec::new(), Vec::new());
    let mut known: HashMap<(u32, [i16; 3]), u32> = HashMap::new();
    for (t, triangle) in mesh.triangles.iter().enumerate() {
        for v in triangle {
            let normal = smooth(&faces, &around[*v as usize], t);
            let coarse = [normal.x, normal.y, normal.z].map(|x| (x * 1000.0).round() as i16);
            let index = *known.entry((*v, coarse)).or_insert_with(|| {
                positions.push(mesh.vertices[*v as usize]);
                normals.push(normal);
                positions.len() as u32 - 1
            });
            corners.push(index);
        }
    }
    (positions, normals, corners)
}

fn smooth(faces: &[Vector3<f64>], around: &[u32], own: usize) -> Vector3<f64> {
    let face = faces[own];
    let near = around.iter().map(|t| faces[*t as usize]);
    let sum: Vector3<f64> = near
        .filter(|n| n.dot(&face) > SMOOTH_RAD.cos() * n.norm() * face.norm())
        .sum();
    let one = sum.try_normalize(0.0).or_else(|| face.try_normalize(0.0));
    one.unwrap_or_else(Vector3::z)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cube_keeps_its_edges() {
        let corner = |i: u32| {
            Vector3::new(
                f64::from(i & 1),
                f64::from(i >> 1 & 1),
                f64::from(i >> 2 & 1),
            )
        };
        let quads = [
            [0, 2, 3, 1],
            [4, 5, 7, 6],
            [0, 1, 5, 4],
            [2, 6, 7, 3],
            [0, 4, 6, 2],
            [1, 3, 7, 5],
        ];
        let mesh = Mesh {
            vertices: (0..8).map(corner).collect(),
            triangles: quads
                .iter()
                .flat_map(|[a, b, c, d]| [[*a, *b, *c], [*a, *c, *d]])
                .collect(),
        };
        assert!((mesh.signed_volume_m3() - 1.0).abs() < 1e-12);
        let (positions, normals, corners) = split(&mesh);
        assert_eq!((positions.len(), corners.len()), (24, 36));
        for n in normals {
            assert!((n.abs().max() - 1.0).abs() < 1e-12, "along an axis: {n}");
        }
        assert_eq!(bytes(&mesh).len(), 12 + 24 * 24 + 36 * 4);
    }
}
