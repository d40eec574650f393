//! Parallel rays through a mesh on a regular grid: where each is inside the solid.
//!
//! Scan lines instead of one ray at a time: a triangle is visited only by the lines that cross
//! it. Edges are half-open and reckoned from the same end by both their triangles, so a ray
//! through an edge or a vertex is counted once, exactly.

use nalgebra::Vector3;

use crate::Mesh;

/// Direction of the rays; the grid lies across the other two, in cyclic order for `Z` (x, y),
/// and as (x, z) for `Y` and (y, z) for `X`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Axis {
    X,
    Y,
    Z,
}

impl Axis {
    /// Across, across, along. Mirrored for `Y`; only which crossing enters depends on it.
    fn pick(self, p: Vector3<f64>) -> [f64; 3] {
        match self {
            Axis::X => [p.y, p.z, p.x],
            Axis::Y => [p.x, p.z, p.y],
            Axis::Z => [p.x, p.y, p.z],
        }
    }

    fn mirrored(self) -> bool {
        self == Axis::Y
    }
}

/// One meeting of a ray and a triangle.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Crossing {
    ray: u32,
    /// Position along the ray.
    pub(crate) at: f64,
    /// Going in (+1) or out (-1) in the ray's positive direction.
    pub(crate) step: i32,
}

/// Rays with the stretches in which they are inside.
pub(crate) struct Raster {
    low: [f64; 2],
    step: [f64; 2],
    shape: [usize; 2],
    /// `stretches[starts[ray]..starts[ray + 1]]` belong to a ray.
    starts: Vec<usize>,
    stretches: Vec<[f64; 2]>,
}

impl Raster {
    /// Casts `shape` rays through the middles of the grid cells over the mesh's bounding box.
    /// `None` for a mesh without extent across the rays.
    pub(crate) fn cast(mesh: &Mesh, axis: Axis, shape: [usize; 2]) -> Option<Raster> {
        let (low, high) = mesh.bounds()?;
        Raster::cast_over(mesh, axis, shape, [low, high])
    }

    /// The same over a given box.
    pub(crate) fn cast_over(
        mesh: &Mesh,
        axis: Axis,
        shape: [usize; 2],
        [low, high]: [Vector3<f64>; 2],
    ) -> Option<Raster> {
        let (low, high) = (axis.pick(low), axis.pick(high));
        let step = [0, 1].map(|k| (high[k] - low[k]) / shape[k] as f64);
        if !(step[0] > 0.0 && step[1] > 0.0) {
            return None;
        }
        let mut raster = Raster {
            low: [low[0], low[1]],
            step,
            shape,
            starts: Vec::new(),
            stretches: Vec::new(),
        };
        let mut crossings = Vec::new();
        for corners in mesh.faces() {
            raster.scan(corners.map(|p| axis.pick(p)), axis, &mut crossings);
        }
        raster.fill(&crossings);
        Some(raster)
    }

    /// Stretches inside the solid along a ray, lowest first.
    pub(crate) fn solid(&self, i: usize, j: usize) -> &[[f64; 2]] {
        let ray = i * self.shape[1] + j;
        &self.stretches[self.starts[ray]..self.starts[ray + 1]]
    }

    /// Where a ray passes, across the axis, m.
    pub(crate) fn position(&self, i: usize, j: usize) -> [f64; 2] {
        [self.across(0, i), self.across(1, j)]
    }

    /// Area that one ray stands for, m2.
    pub(crate) fn cell_area_m2(&self) -> f64 {
        self.step[0] * self.step[1]
    }

    fn across(&self, k: usize, index: usize) -> f64 {
        // Reckoned from the middle, so that a symmetric mesh gets a symmetric grid.
        let middle = self.low[k] + self.step[k] * self.shape[k] as f64 / 2.0;
        middle + (index as f64 + 0.5 - self.shape[k] as f64 / 2.0) * self.step[k]
    }

    /// First ray whose position is not below `at`.
    fn first_at(&self, k: usize, at: f64) -> usize {
        let guess = ((at - self.low[k]) / self.step[k] - 0.5).floor().max(0.0) as usize;
        let mut index = guess.min(self.shape[k]);
        while index > 0 && self.across(k, index - 1) >= at {
            index -= 1;
        }
        while index < self.shape[k] && self.across(k, index) < at {
            index += 1;
        }
        index
    }

    fn scan(&self, p: [[f64; 3]; 3], axis: Axis, crossings: &mut Vec<Crossing>) {
        let low = p[0][0].min(p[1][0]).min(p[2][0]);
        let high = p[0][0].max(p[1][0]).max(p[2][0]);
        let mut i = self.first_at(0, low);
        while i < self.shape[0] && self.across(0, i) <= high {
            self.scan_line(p, axis, i, crossings);
            i += 1;
        }
    }

    fn scan_line(&self, p: [[f64; 3]; 3], axis: Axis, i: usize, crossings: &mut Vec<Crossing>) {
        let at = self.across(0, i);
        let mut ends = [(0.0, 0.0, false); 2];
        let mut found = 0;
        for (a, b) in [(p[0], p[1]), (p[1], p[2]), (p[2], p[0])] {
            if (a[0] <= at) == (b[0] <= at) || found == 2 {
                continue;
            }
            let forward = a[0] < b[0];
            let (l, r) = if forward { (a, b) } else { (b, a) };
            let t = (at - l[0]) / (r[0] - l[0]);
            ends[found] = (l[1] + t * (r[1] - l[1]), l[2] + t * (r[2] - l[2]), forward);
            found += 1;
        }
        if found < 2 {
            return;
        }
        ends.sort_by(|a, b| a.0.total_cmp(&b.0));
        let [lower, upper] = ends;
        // The lower edge of a triangle seen from its front runs forward: it faces along the ray,
        // so the ray leaves there.
        let leaves = lower.2 != axis.mirrored();
        let mut j = self.first_at(1, lower.0);
        while j < self.shape[1] && self.across(1, j) < upper.0 {
            let t = (self.across(1, j) - lower.0) / (upper.0 - lower.0);
            crossings.push(Crossing {
                ray: (i * self.shape[1] + j) as u32,
                at: lower.1 + t * (upper.1 - lower.1),
                step: if leaves { -1 } else { 1 },
            });
            j += 1;
        }
    }

    /// Ray by ray by counting: comparing all of them with each other takes several times as long.
    fn fill(&mut self, crossings: &[Crossing]) {
        let rays = self.shape[0] * self.shape[1];
        let mut from = vec![0; rays + 1];
        for crossing in crossings {
            from[crossing.ray as usize + 1] += 1;
        }
        for ray in 0..rays {
            from[ray + 1] += from[ray];
        }
        let mut next = from.clone();
        let mut sorted = crossings.to_vec();
        for crossing in crossings {
            let place = &mut next[crossing.ray as usize];
            sorted[*place] = *crossing;
            *place += 1;
        }
        self.starts = Vec::with_capacity(rays + 1);
        for ends in from.windows(2) {
            let own = &mut sorted[ends[0]..ends[1]];
            // Entering before leaving at equal heights, so that touching bodies join.
            own.sort_by(|a, b| a.at.total_cmp(&b.at).then(b.step.cmp(&a.step)));
            self.starts.push(self.stretches.len());
            add_stretches(own, &mut self.stretches);
        }
        self.starts.push(self.stretches.len());
    }
}

/// Stretches of positive winding number.
fn add_stretches(crossings: &[Crossing], stretches: &mut Vec<[f64; 2]>) {
    let mut depth = 0;
    let mut from = 0.0;
    for crossing in crossings {
        let before = depth;
        depth += crossing.step;
        if before <= 0 && depth > 0 {
            from = crossing.at;
        } else if before > 0 && depth <= 0 && crossing.at > from {
            stretches.push([from, crossing.at]);
        }
    }
}
