//! How far a mesh reaches, seen from above in strips, so that a cut can be tried without making it.

use form::Mesh;

/// Extents in y and z of strips along x, and in z of cells along x and y.
#[derive(Debug, Clone)]
pub struct Extents {
    /// m.
    pub low: [f64; 3],
    /// m.
    pub high: [f64; 3],
    cells: [usize; 2],
    /// Low and high z per cell, x first; empty cells have low above high.
    z: Vec<[f64; 2]>,
}

impl Extents {
    /// Of a closed mesh; `step_m` is the cells' size.
    #[must_use]
    pub fn of(mesh: &Mesh, step_m: f64) -> Self {
        let (low, high) = mesh.bounds().unwrap_or_default();
        let count = |k: usize| (((high[k] - low[k]) / step_m).ceil() as usize).clamp(1, 2000);
        let cells = [count(0), count(1)];
        let mut extents = Self {
            low: low.into(),
            high: high.into(),
            cells,
            z: vec![[f64::INFINITY, f64::NEG_INFINITY]; cells[0] * cells[1]],
        };
        for corners in mesh.faces() {
            extents.cover(corners.map(|c| [c.x, c.y, c.z]));
        }
        extents
    }

    /// Every cell the triangle's box touches takes the triangle's heights: never too small.
    fn cover(&mut self, corners: [[f64; 3]; 3]) {
        let span = |k: usize| {
            let low = corners.iter().map(|c| c[k]).fold(f64::INFINITY, f64::min);
            let high = corners
                .iter()
                .map(|c| c[k])
                .fold(f64::NEG_INFINITY, f64::max);
            (low, high)
        };
        let (z0, z1) = span(2);
        let (i0, i1) = self.range(0, span(0));
        let (j0, j1) = self.range(1, span(1));
        for i in i0..=i1 {
            for cell in &mut self.z[i * self.cells[1] + j0..=i * self.cells[1] + j1] {
                cell[0] = cell[0].min(z0);
                cell[1] = cell[1].max(z1);
            }
        }
    }

    fn range(&self, k: usize, (low, high): (f64, f64)) -> (usize, usize) {
        let step = (self.high[k] - self.low[k]) / self.cells[k] as f64;
        let at = |x: f64| (((x - self.low[k]) / step.max(1e-12)) as usize).min(self.cells[k] - 1);
        (at(low), at(high))
    }

    /// What lies between two planes of x, as heights over y.
    #[must_use]
    pub fn strip(&self, x: [f64; 2]) -> Strip {
        let (i0, i1) = self.range(0, (x[0], x[1] - 1e-9));
        let mut z = vec![[f64::INFINITY, f64::NEG_INFINITY]; self.cells[1]];
        for row in self.z[i0 * self.cells[1]..(i1 + 1) * self.cells[1]].chunks_exact(self.cells[1])
        {
            merge(&mut z, row);
        }
        Strip {
            x,
            low_y: self.low[1],
            step: (self.high[1] - self.low[1]) / self.cells[1] as f64,
            z,
        }
    }
}

/// A stretch of x seen as low and high z over y.
#[derive(Debug, Clone)]
pub struct Strip {
    x: [f64; 2],
    low_y: f64,
    step: f64,
    z: Vec<[f64; 2]>,
}

impl Strip {
    /// Grown aft by the strip just behind it.
    pub fn grow_aft(&mut self, behind: &Self) {
        self.x[0] = behind.x[0];
        merge(&mut self.z, &behind.z);
    }

    /// Sides of the box round what lies between two planes of y, m; `None` if nothing does.
    #[must_use]
    pub fn boxed(&self, y: [f64; 2]) -> Option<[f64; 3]> {
        let last = self.z.len() - 1;
        let at = |v: f64| (((v - self.low_y) / self.step.max(1e-12)).max(0.0) as usize).min(last);
        let (mut z0, mut z1) = (f64::INFINITY, f64::NEG_INFINITY);
        let (mut left, mut right) = (usize::MAX, 0);
        for j in at(y[0])..=at(y[1] - 1e-9) {
            let [low, high] = self.z[j];
            if low <= high {
                (z0, z1) = (z0.min(low), z1.max(high));
                (left, right) = (left.min(j), right.max(j));
            }
        }
        (left != usize::MAX).then(|| {
            let low = (self.low_y + left as f64 * self.step).max(y[0]);
            let high = (self.low_y + (right + 1) as f64 * self.step).min(y[1]);
            [self.x[1] - self.x[0], (high - low).max(0.0), z1 - z0]
        })
    }
}

fn merge(into: &mut [[f64; 2]], from: &[[f64; 2]]) {
    for (a, b) in into.iter_mut().zip(from) {
        a[0] = a[0].min(b[0]);
        a[1] = a[1].max(b[1]);
    }
}
