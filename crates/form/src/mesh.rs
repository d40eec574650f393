//! Triangles in metres and boat axes.

use nalgebra::Vector3;

/// A triangle mesh; right-handed triangles face outward.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Mesh {
    /// m, boat axes.
    pub vertices: Vec<Vector3<f64>>,
    /// Indices into `vertices`.
    pub triangles: Vec<[u32; 3]>,
}
