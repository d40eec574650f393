//! Triangles in metres and boat axes.

use std::collections::HashMap;

use nalgebra::Vector3;

/// A triangle mesh; right-handed triangles face outward.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Mesh {
    /// m, boat axes.
    pub vertices: Vec<Vector3<f64>>,
    /// Indices into `vertices`.
    pub triangles: Vec<[u32; 3]>,
}

impl Mesh {
    /// What it takes in memory.
    #[must_use]
    pub fn bytes(&self) -> usize {
        size_of_val(self.vertices.as_slice()) + size_of_val(self.triangles.as_slice())
    }

    /// The three corners of a triangle, m.
    #[must_use]
    pub fn corners(&self, triangle: usize) -> [Vector3<f64>; 3] {
        self.triangles[triangle].map(|i| self.vertices[i as usize])
    }

    /// Corners of every triangle in order, m.
    pub fn faces(&self) -> impl Iterator<Item = [Vector3<f64>; 3]> + '_ {
        self.triangles
            .iter()
            .map(|t| t.map(|i| self.vertices[i as usize]))
    }

    /// Lowest and highest coordinates of the vertices, m; `None` for a mesh without vertices.
    #[must_use]
    pub fn bounds(&self) -> Option<(Vector3<f64>, Vector3<f64>)> {
        let first = *self.vertices.first()?;
        Some(
            self.vertices
                .iter()
                .fold((first, first), |(low, high), v| (low.inf(v), high.sup(v))),
        )
    }

    /// Diagonal of the bounding box, m; 0 for an empty mesh.
    #[must_use]
    pub fn size_m(&self) -> f64 {
        self.bounds().map_or(0.0, |(low, high)| (high - low).norm())
    }

    /// Enclosed volume, m3: positive when triangles face outward. Exact for the facets of a
    /// closed mesh; without meaning for an open one.
    #[must_use]
    pub fn signed_volume_m3(&self) -> f64 {
        self.volume_and_moment().0
    }

    /// Centre of the enclosed volume, m; the middle of the bounding box when there is no volume.
    #[must_use]
    pub fn centroid_m(&self) -> Vector3<f64> {
        let (volume, moment) = self.volume_and_moment();
        if volume == 0.0 {
            return self.middle();
        }
        self.middle() + moment / volume
    }

    /// Area of all triangles, m2.
    #[must_use]
    pub fn area_m2(&self) -> f64 {
        self.faces()
            .map(|[a, b, c]| (b - a).cross(&(c - a)).norm() / 2.0)
            .sum()
    }

    /// Whether every edge is met by as many triangles one way as the other, and there are any.
    #[must_use]
    pub fn is_closed(&self) -> bool {
        !self.triangles.is_empty() && self.directed_balance().values().all(|n| *n == 0)
    }

    /// The same shape with each vertex moved by `place`. A `place` that mirrors needs
    /// [`Mesh::flip`] afterwards.
    #[must_use]
    pub fn map(&self, place: impl Fn(Vector3<f64>) -> Vector3<f64>) -> Mesh {
        Mesh {
            vertices: self.vertices.iter().map(|v| place(*v)).collect(),
            triangles: self.triangles.clone(),
        }
    }

    /// Turns every triangle around.
    pub fn flip(&mut self) {
        for triangle in &mut self.triangles {
            triangle.swap(1, 2);
        }
    }

    /// Adds another mesh's triangles without joining anything.
    pub fn append(&mut self, other: &Mesh) {
        let shift = self.vertices.len() as u32;
        self.vertices.extend_from_slice(&other.vertices);
        self.triangles
            .extend(other.triangles.iter().map(|t| t.map(|i| i + shift)));
    }

    /// A mesh of the chosen triangles with only the vertices they use.
    #[must_use]
    pub fn subset(&self, triangles: impl IntoIterator<Item = usize>) -> Mesh {
        let mut kept = Mesh::default();
        let mut renamed: Vec<u32> = vec![u32::MAX; self.vertices.len()];
        for t in triangles {
            let named = self.triangles[t].map(|i| {
                let slot = &mut renamed[i as usize];
                if *slot == u32::MAX {
                    *slot = kept.vertices.len() as u32;
                    kept.vertices.push(self.vertices[i as usize]);
                }
                *slot
            });
            kept.triangles.push(named);
        }
        kept
    }

    fn middle(&self) -> Vector3<f64> {
        self.bounds()
            .map_or_else(Vector3::zeros, |(low, high)| (low + high) / 2.0)
    }

    /// Volume, and its first moment about the middle of the bounding box. Summing about the
    /// middle keeps rounding small for a mesh far from its origin.
    fn volume_and_moment(&self) -> (f64, Vector3<f64>) {
        let middle = self.middle();
        let mut volume = 0.0;
        let mut moment = Vector3::zeros();
        for corners in self.faces() {
            let [a, b, c] = corners.map(|p| p - middle);
            let tetrahedron = a.dot(&b.cross(&c)) / 6.0;
            volume += tetrahedron;
            moment += (a + b + c) * (tetrahedron / 4.0);
        }
        (volume, moment)
    }

    /// Per undirected edge, how many more triangles run it low-to-high than high-to-low.
    fn directed_balance(&self) -> HashMap<(u32, u32), i32> {
        let mut balance = HashMap::with_capacity(self.triangles.len() * 2);
        for t in &self.triangles {
            for (a, b) in [(t[0], t[1]), (t[1], t[2]), (t[2], t[0])] {
                let step = if a < b { 1 } else { -1 };
                *balance.entry((a.min(b), a.max(b))).or_insert(0) += step;
            }
        }
        balance
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tetrahedron() -> Mesh {
        Mesh {
            vertices: vec![
                Vector3::zeros(),
                Vector3::x(),
                Vector3::y() * 2.0,
                Vector3::z() * 3.0,
            ],
            triangles: vec![[0, 2, 1], [0, 1, 3], [1, 2, 3], [0, 3, 2]],
        }
    }

    #[test]
    fn corner_tetrahedron_has_a_sixth_of_its_box() {
        let mesh = tetrahedron();
        assert!(mesh.is_closed());
        assert!((mesh.signed_volume_m3() - 1.0).abs() < 1e-15);
        let middle = Vector3::new(0.25, 0.5, 0.75);
        assert!((mesh.centroid_m() - middle).norm() < 1e-15);
    }

    #[test]
    fn flipping_changes_the_sign_of_the_volume_only() {
        let mut mesh = tetrahedron();
        mesh.flip();
        assert!((mesh.signed_volume_m3() + 1.0).abs() < 1e-15);
        assert!(mesh.is_closed());
        assert!((mesh.area_m2() - tetrahedron().area_m2()).abs() < 1e-15);
    }

    #[test]
    fn a_missing_triangle_opens_the_mesh() {
        let mesh = tetrahedron().subset([0, 1, 2]);
        assert!(!mesh.is_closed());
        assert_eq!(mesh.vertices.len(), 4);
    }
}
