//! Air around a mesh on a grid of points, and which of it stays dry as water rises.
//!
//! Two neighbouring points of air are connected unless the mesh passes between them, however
//! thin it is there.

use nalgebra::Vector3;
use rayon::prelude::*;

use crate::Mesh;
use crate::rays::{Axis, Raster};

/// Grid points in all.
const POINTS: f64 = 400_000.0;

/// Boats trim; a rim with sheer holds water out along all its length only when seen from the
/// trim at which it is level. Pockets are looked for at these slopes, bow up and down.
const SLOPES: [f64; 4] = [-0.35, -0.12, 0.12, 0.35];

/// Ways through the shell no wider than twice this many grid steps (12 mm on a 0.6 m hull) are
/// shaft, rudder and screw holes, which are filled when the boat is built.
const NARROW: u8 = 2;

/// The grid.
pub(crate) struct Air {
    low: Vector3<f64>,
    step: Vector3<f64>,
    shape: [usize; 3],
    /// Whether a point is inside the mesh.
    solid: Vec<bool>,
    /// Whether the way to the next point in x, y, z is blocked: bits 1, 2, 4.
    wall: Vec<u8>,
}

impl Air {
    /// `None` for a mesh without extent.
    pub(crate) fn around(mesh: &Mesh) -> Option<Air> {
        let (low, high) = mesh.bounds()?;
        let extent = high - low;
        let cell = (extent.x * extent.y * extent.z / POINTS).cbrt();
        if cell.is_nan() || cell <= 0.0 {
            return None;
        }
        // Even counts keep rays off a plane of symmetry.
        let inside =
            [0, 1, 2].map(|k| 2 * ((extent[k] / cell / 2.0).ceil() as usize).clamp(2, 500));
        let step = Vector3::from_fn(|k, _| extent[k] / inside[k] as f64);
        // One layer of open air all around.
        let shape = inside.map(|n| n + 2);
        let mut air = Air {
            low: low - step,
            step,
            shape,
            solid: vec![false; shape.iter().product()],
            wall: vec![0; shape.iter().product()],
        };
        // Beside each other: they are most of the work.
        let cast: [(Axis, [usize; 3]); 3] = [
            (Axis::X, [1, 2, 0]),
            (Axis::Y, [0, 2, 1]),
            (Axis::Z, [0, 1, 2]),
        ];
        let rasters: Vec<Option<Raster>> = cast
            .into_par_iter()
            .map(|(axis, [i, j, _])| {
                Raster::cast_over(mesh, axis, [shape[i], shape[j]], air.corners())
            })
            .collect();
        for (raster, (_, along)) in rasters.into_iter().zip(cast) {
            air.mark(&raster?, along);
        }
        Some(air)
    }

    /// Rays along grid direction `k[2]`: what is inside, and which steps meet the mesh.
    fn mark(&mut self, raster: &Raster, k: [usize; 3]) {
        let (start, step, n) = (self.low[k[2]], self.step[k[2]], self.shape[k[2]]);
        // Position in steps from the first point.
        let steps = |at: f64| (at - start) / step - 0.5;
        for i in 0..self.shape[k[0]] {
            for j in 0..self.shape[k[1]] {
                for s in raster.solid(i, j) {
                    let (a, b) = (steps(s[0]), steps(s[1]));
                    let first = a.ceil().max(0.0) as usize;
                    let last = b.floor();
                    let mut at = [0; 3];
                    (at[k[0]], at[k[1]]) = (i, j);
                    let from = a.floor().max(0.0) as usize;
                    for m in from..n.min((last + 1.0).max(0.0) as usize) {
                        at[k[2]] = m;
                        let cell = self.flat(at);
                        self.wall[cell] |= 1 << k[2];
                        if m >= first && (m as f64) <= last && k[2] == 2 {
                            self.solid[cell] = true;
                        }
                    }
                }
            }
        }
    }

    fn corners(&self) -> [Vector3<f64>; 2] {
        let reach = Vector3::from_fn(|k, _| self.step[k] * self.shape[k] as f64);
        [self.low, self.low + reach]
    }

    fn flat(&self, at: [usize; 3]) -> usize {
        (at[0] * self.shape[1] + at[1]) * self.shape[2] + at[2]
    }

    fn unflat(&self, cell: usize) -> [usize; 3] {
        let z = cell % self.shape[2];
        let rest = cell / self.shape[2];
        [rest / self.shape[1], rest % self.shape[1], z]
    }

    /// The longest side of a cell, m.
    pub(crate) fn cell_m(&self) -> f64 {
        self.step.max()
    }

    /// The grid point nearest to a place, if the place is within the grid.
    pub(crate) fn index(&self, p: Vector3<f64>) -> Option<usize> {
        let mut at = [0; 3];
        for k in 0..3 {
            let steps = ((p[k] - self.low[k]) / self.step[k]).floor();
            if !(steps >= 0.0 && steps < self.shape[k] as f64) {
                return None;
            }
            at[k] = steps as usize;
        }
        Some(self.flat(at))
    }

    /// Volume of the marked points, m3.
    pub(crate) fn volume_m3(&self, marked: &[bool]) -> f64 {
        marked.iter().filter(|m| **m).count() as f64 * self.step.product()
    }

    /// Whether marked air lies within three cells of a triangle's middle.
    pub(crate) fn near(&self, corners: &[Vector3<f64>; 3], marked: &[bool]) -> bool {
        let middle = (corners[0] + corners[1] + corners[2]) / 3.0;
        let reach = -3..=3;
        reach.clone().any(|i| {
            reach.clone().any(|j| {
                reach.clone().any(|k| {
                    let off = Vector3::new(f64::from(i), f64::from(j), f64::from(k));
                    let at = middle + off.component_mul(&self.step);
                    self.index(at).is_some_and(|c| marked[c])
                })
            })
        })
    }

    /// Air that water rising along `up` reaches only by first climbing above it.
    pub(crate) fn pockets(&self, up: Vector3<f64>) -> Vec<bool> {
        let (spill, levels) = (self.spill(up), self.levels(up));
        (0..self.solid.len())
            .map(|c| !self.solid[c] && spill[c] > levels[c])
            .collect()
    }

    /// The pocket and the air connected to it that stays dry at some trim.
    pub(crate) fn dry_inside(&self, level: &[bool]) -> Vec<bool> {
        let mut dry = level.to_vec();
        let views = SLOPES.map(|s| self.pockets(Vector3::new(s, 0.0, 1.0).normalize()));
        let mut queue: Vec<usize> = (0..dry.len()).filter(|c| dry[*c]).collect();
        while let Some(cell) = queue.pop() {
            self.each_next(cell, |n| {
                if !dry[n] && views.iter().any(|v| v[n]) {
                    dry[n] = true;
                    queue.push(n);
                }
            });
        }
        dry
    }

    /// A way this large is not plugged, m2.
    pub(crate) fn hole_area_m2(&self) -> f64 {
        let side = f64::from(2 * NARROW) * self.cell_m();
        side * side
    }

    /// Blocks narrow ways into what would be dry without them.
    ///
    /// A flood kept clear of walls cannot pass a small hole. Where it finds a pocket and the
    /// way in lies well below that pocket's rim, the way is a hole.
    pub(crate) fn plug_holes(&mut self) {
        let up = Vector3::z();
        let (clear, reach) = (self.clearance(), u32::from(NARROW) + 2);
        let mut spill = self.flood(up, |c| clear[c] > NARROW);
        self.spread(&mut spill, &clear);
        let levels = self.levels(up);
        let deep = |c: usize| spill[c].saturating_sub(levels[c]) > reach;
        let mut blocked = Vec::new();
        for cell in (0..self.solid.len()).filter(|c| !self.solid[*c]) {
            self.each_next(cell, |n| {
                if deep(cell) && !deep(n) && spill[n] + reach < spill[cell] {
                    blocked.push((cell.min(n), cell.abs_diff(n)));
                }
            });
        }
        let strides = self.strides();
        for (cell, stride) in &blocked {
            let k = strides.iter().position(|s| s == stride).unwrap_or(2);
            self.wall[*cell] |= 1 << k;
        }
    }

    /// Steps from each point of air to the nearest wall, at most one more than `NARROW`.
    fn clearance(&self) -> Vec<u8> {
        let mut clear = vec![NARROW + 1; self.solid.len()];
        let mut ring: Vec<usize> = Vec::new();
        for (cell, own) in clear.iter_mut().enumerate() {
            if self.solid[cell] {
                *own = 0;
            } else if self.open_ways(cell) < 6 && !self.on_outside(cell) {
                *own = 1;
                ring.push(cell);
            }
        }
        for steps in 2..=NARROW {
            let mut next = Vec::new();
            for cell in ring {
                self.each_next(cell, |n| {
                    if clear[n] > steps {
                        clear[n] = steps;
                        next.push(n);
                    }
                });
            }
            ring = next;
        }
        clear
    }

    fn open_ways(&self, cell: usize) -> usize {
        let mut ways = 0;
        self.each_next(cell, |_| ways += 1);
        ways
    }

    /// Gives points near walls the water level of the clear point nearest to them.
    fn spread(&self, spill: &mut [u32], clear: &[u8]) {
        let mut ring: Vec<usize> = (0..spill.len()).filter(|c| clear[*c] > NARROW).collect();
        let levels = self.levels(Vector3::z());
        let mut settled: Vec<bool> = clear.iter().map(|c| *c > NARROW).collect();
        for _ in 0..NARROW {
            let mut next = Vec::new();
            for cell in ring {
                self.each_next(cell, |n| {
                    if !settled[n] {
                        settled[n] = true;
                        spill[n] = spill[cell].max(levels[n]);
                        next.push(n);
                    }
                });
            }
            ring = next;
        }
        // Crannies out of reach take part in nothing.
        for (cell, level) in spill.iter_mut().enumerate() {
            if !settled[cell] {
                *level = levels[cell];
            }
        }
    }

    /// Layer along `up` of every point. Worked out for all at once: taking a point's number apart
    /// costs more than the layer itself.
    fn levels(&self, up: Vector3<f64>) -> Vec<u32> {
        let unit = self.step.z;
        let rise = [0, 1, 2].map(|k| up[k] * self.step[k] / unit);
        // Slopes reach below the first corner: start well above zero.
        let below = (up.x.abs() * self.shape[0] as f64 * self.step.x) / unit;
        let mut levels = vec![0; self.solid.len()];
        for x in 0..self.shape[0] {
            for y in 0..self.shape[1] {
                let middle = 0.5 * (rise[0] + rise[1] + rise[2]);
                let foot = rise[0] * x as f64 + rise[1] * y as f64 + middle + below + 1.0;
                for z in 0..self.shape[2] {
                    levels[self.flat([x, y, z])] = (foot + rise[2] * z as f64) as u32;
                }
            }
        }
        levels
    }

    /// Lowest water level, in layers along `up`, at which each point is reached.
    fn spill(&self, up: Vector3<f64>) -> Vec<u32> {
        self.flood(up, |_| true)
    }

    /// The same through the points that `passable` allows.
    fn flood(&self, up: Vector3<f64>, passable: impl Fn(usize) -> bool) -> Vec<u32> {
        let levels = self.levels(up);
        let mut spill = vec![u32::MAX; self.solid.len()];
        let mut layers: Vec<Vec<u32>> = Vec::new();
        let push = |layers: &mut Vec<Vec<u32>>, level: u32, cell: usize| {
            while layers.len() <= level as usize {
                layers.push(Vec::new());
            }
            layers[level as usize].push(cell as u32);
        };
        for (cell, reached) in spill.iter_mut().enumerate() {
            if !self.solid[cell] && self.on_outside(cell) {
                *reached = levels[cell];
                push(&mut layers, *reached, cell);
            }
        }
        let mut water = 0;
        while water < layers.len() {
            while let Some(cell) = layers[water].pop() {
                self.each_next(cell as usize, |n| {
                    let reached = (water as u32).max(levels[n]);
                    if reached < spill[n] && passable(n) {
                        spill[n] = reached;
                        push(&mut layers, reached, n);
                    }
                });
            }
            water += 1;
        }
        spill
    }

    /// Points of the layer around the mesh.
    fn on_outside(&self, cell: usize) -> bool {
        let at = self.unflat(cell);
        (0..3).any(|k| at[k] == 0 || at[k] + 1 == self.shape[k])
    }

    fn strides(&self) -> [usize; 3] {
        [self.shape[1] * self.shape[2], self.shape[2], 1]
    }

    fn each_next(&self, cell: usize, mut visit: impl FnMut(usize)) {
        let at = self.unflat(cell);
        let strides = self.strides();
        for k in 0..3 {
            let open = |c: usize| self.wall[c] & 1 << k == 0;
            if at[k] + 1 < self.shape[k] && open(cell) && !self.solid[cell + strides[k]] {
                visit(cell + strides[k]);
            }
            if at[k] > 0 && open(cell - strides[k]) && !self.solid[cell - strides[k]] {
                visit(cell - strides[k]);
            }
        }
    }
}
