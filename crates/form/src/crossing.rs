//! Where a surface passes through itself.
//!
//! Triangles are swept along the length; pairs whose boxes overlap are tested edge against
//! face. Touching does not count: an edge must pass through a face's inside with both ends
//! clear of it. So surfaces that cross exactly along edges of both are not seen.

use nalgebra::Vector3;

use crate::Mesh;

/// Pairs of boxes compared before giving up: half a second or so.
const MOST_PAIRS: usize = 200_000_000;
/// Crossings counted; more are only "at least".
pub(crate) const MOST_FOUND: usize = 100;
/// Ends of an edge are clear of a face beyond this fraction of the mesh's size.
const CLEAR: f64 = 1e-7;

/// What the sweep found.
#[derive(Debug, Clone, Default)]
pub(crate) struct Crossings {
    /// A point of each crossing.
    pub places: Vec<Vector3<f64>>,
    /// Whether all pairs were looked at.
    pub complete: bool,
}

struct Swept {
    low: Vector3<f64>,
    high: Vector3<f64>,
    triangle: usize,
}

/// Places where triangles of the mesh cross each other.
pub(crate) fn find(mesh: &Mesh) -> Crossings {
    let clear = mesh.size_m() * CLEAR;
    let mut boxes: Vec<Swept> = mesh
        .faces()
        .enumerate()
        .map(|(triangle, [a, b, c])| Swept {
            low: a.inf(&b).inf(&c),
            high: a.sup(&b).sup(&c),
            triangle,
        })
        .collect();
    boxes.sort_by(|a, b| {
        a.low
            .x
            .total_cmp(&b.low.x)
            .then(a.triangle.cmp(&b.triangle))
    });
    let mut found = Crossings::default();
    let mut pairs = 0;
    for (i, a) in boxes.iter().enumerate() {
        for b in boxes[i + 1..].iter().take_while(|b| b.low.x <= a.high.x) {
            pairs += 1;
            let apart = a.low.y > b.high.y
                || b.low.y > a.high.y
                || a.low.z > b.high.z
                || b.low.z > a.high.z;
            if apart {
                continue;
            }
            if let Some(place) = crossing(mesh, a.triangle, b.triangle, clear) {
                found.places.push(place);
            }
        }
        if pairs > MOST_PAIRS || found.places.len() >= MOST_FOUND {
            return found;
        }
    }
    found.complete = true;
    found
}

fn crossing(mesh: &Mesh, a: usize, b: usize, clear: f64) -> Option<Vector3<f64>> {
    let (ta, tb) = (mesh.triangles[a], mesh.triangles[b]);
    if ta.iter().any(|i| tb.contains(i)) {
        return None;
    }
    let (pa, pb) = (mesh.corners(a), mesh.corners(b));
    pierced(pa, pb, clear).or_else(|| pierced(pb, pa, clear))
}

/// Where an edge of the second triangle passes through the first.
fn pierced(face: [Vector3<f64>; 3], by: [Vector3<f64>; 3], clear: f64) -> Option<Vector3<f64>> {
    let normal = (face[1] - face[0])
        .cross(&(face[2] - face[0]))
        .try_normalize(0.0)?;
    let height = by.map(|p| normal.dot(&(p - face[0])));
    [(0, 1), (1, 2), (2, 0)].into_iter().find_map(|(i, j)| {
        let (from, to) = (height[i], height[j]);
        if from.abs() < clear || to.abs() < clear || (from > 0.0) == (to > 0.0) {
            return None;
        }
        let at = by[i] + (by[j] - by[i]) * (from / (from - to));
        inside(face, normal, at, clear).then_some(at)
    })
}

/// Whether a point of the face's plane is inside it by at least `clear`.
fn inside(face: [Vector3<f64>; 3], normal: Vector3<f64>, at: Vector3<f64>, clear: f64) -> bool {
    (0..3).all(|k| {
        let edge = face[(k + 1) % 3] - face[k];
        let inward = normal.cross(&edge);
        inward.dot(&(at - face[k])) > clear * edge.norm()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_triangle_through_another_is_found_and_a_touching_one_is_not() {
        let flat = [Vector3::zeros(), Vector3::x() * 4.0, Vector3::y() * 4.0];
        let standing = |lift: f64| {
            [
                Vector3::new(1.0, 1.0, lift - 1.0),
                Vector3::new(1.5, 1.0, lift + 1.0),
                Vector3::new(0.5, 1.0, lift + 1.0),
            ]
        };
        let pair = |lift: f64| Mesh {
            vertices: [flat, standing(lift)].concat(),
            triangles: vec![[0, 1, 2], [3, 4, 5]],
        };
        let through = find(&pair(0.0));
        assert_eq!(through.places.len(), 1);
        assert!(through.places[0].z.abs() < 1e-12 && through.complete);
        assert!(find(&pair(1.0)).places.is_empty());
    }
}
