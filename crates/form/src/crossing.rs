//! Where a surface passes through itself.
//!
//! Triangles are sorted into cells of a grid; pairs that share a cell and whose boxes overlap
//! are tested edge against face. Touching does not count: an edge must pass through a face's
//! inside with both ends clear of it. So surfaces that cross exactly along edges of both are
//! not seen.

use nalgebra::Vector3;

use crate::Mesh;

/// Pairs of boxes compared before giving up: half a second or so.
const MOST_PAIRS: usize = 100_000_000;
/// Crossings counted; more are only "at least".
pub(crate) const MOST_FOUND: usize = 100;
/// Ends of an edge are clear of a face beyond this fraction of the mesh's size.
const CLEAR: f64 = 1e-7;
/// A triangle over more cells than this is compared with all others instead.
const MOST_CELLS: usize = 256;
/// Cells along the longest side, at most.
const FINEST: f64 = 400.0;

/// What the search found.
#[derive(Debug, Clone, Default)]
pub(crate) struct Crossings {
    /// A point of each crossing.
    pub places: Vec<Vector3<f64>>,
    /// Whether all pairs were looked at.
    pub complete: bool,
}

/// Bounding boxes of all triangles on a grid.
struct Grid {
    boxes: Vec<[Vector3<f64>; 2]>,
    low: Vector3<f64>,
    cell: f64,
}

impl Grid {
    fn of(mesh: &Mesh) -> Option<Grid> {
        let (low, high) = mesh.bounds()?;
        let boxes: Vec<[Vector3<f64>; 2]> = mesh
            .faces()
            .map(|[a, b, c]| [a.inf(&b).inf(&c), a.sup(&b).sup(&c)])
            .collect();
        let sides: f64 = boxes.iter().map(|b| (b[1] - b[0]).max()).sum();
        let mean = sides / boxes.len().max(1) as f64;
        let cell = (1.5 * mean).max((high - low).max() / FINEST);
        (cell > 0.0).then_some(Grid { boxes, low, cell })
    }

    fn cell_of(&self, p: Vector3<f64>) -> [u16; 3] {
        let at = (p - self.low) / self.cell;
        [at.x as u16, at.y as u16, at.z as u16]
    }

    /// Cells of each triangle in order of cell, and the triangles that cover too many.
    fn sort(&self) -> (Vec<([u16; 3], u32)>, Vec<u32>) {
        let (mut entries, mut large) = (Vec::with_capacity(4 * self.boxes.len()), Vec::new());
        for (n, [low, high]) in self.boxes.iter().enumerate() {
            let (a, b) = (self.cell_of(*low), self.cell_of(*high));
            let count: usize = (0..3).map(|k| usize::from(b[k] - a[k]) + 1).product();
            if count > MOST_CELLS {
                large.push(n as u32);
                continue;
            }
            for i in a[0]..=b[0] {
                for j in a[1]..=b[1] {
                    entries.extend((a[2]..=b[2]).map(|k| ([i, j, k], n as u32)));
                }
            }
        }
        entries.sort_unstable();
        (entries, large)
    }

    fn meet(&self, a: u32, b: u32) -> bool {
        let ([la, ha], [lb, hb]) = (self.boxes[a as usize], self.boxes[b as usize]);
        (0..3).all(|k| la[k] <= hb[k] && lb[k] <= ha[k])
    }

    /// Whether this cell is the first that both boxes share, so that a pair is taken once.
    fn first_shared(&self, cell: [u16; 3], a: u32, b: u32) -> bool {
        let low = self.boxes[a as usize][0].sup(&self.boxes[b as usize][0]);
        self.cell_of(low) == cell
    }
}

/// Places where triangles of the mesh cross each other.
pub(crate) fn find(mesh: &Mesh) -> Crossings {
    let mut found = Crossings::default();
    let Some(grid) = Grid::of(mesh) else {
        found.complete = true;
        return found;
    };
    let clear = mesh.size_m() * CLEAR;
    let (entries, large) = grid.sort();
    let mut pairs = 0;
    let look = |a: u32, b: u32, found: &mut Crossings| {
        found
            .places
            .extend(crossing(mesh, a as usize, b as usize, clear));
    };
    for cell in entries.chunk_by(|a, b| a.0 == b.0) {
        pairs += cell.len() * cell.len() / 2;
        for (n, a) in cell.iter().enumerate() {
            for b in &cell[n + 1..] {
                if grid.meet(a.1, b.1) && grid.first_shared(a.0, a.1, b.1) {
                    look(a.1, b.1, &mut found);
                }
            }
        }
        if pairs > MOST_PAIRS || found.places.len() >= MOST_FOUND {
            return found;
        }
    }
    let mut done = vec![false; grid.boxes.len()];
    for a in &large {
        pairs += grid.boxes.len();
        done[*a as usize] = true;
        for b in (0..grid.boxes.len() as u32).filter(|b| !done[*b as usize]) {
            if grid.meet(*a, b) {
                look(*a, b, &mut found);
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
