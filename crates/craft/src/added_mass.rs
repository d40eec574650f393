//! Water that must move with the hull, by sections, and the blow of sections that dive into it.
//!
//! - A section whose wet breadth is `b` carries `k rho pi b^2 / 8` a metre when it moves down, half of a
//!   circle's; sideways `rho pi T^2 / 2`, `T` its draught; turned about its middle `rho pi b^4 / 256`. Water piles
//!   up at a diving wedge to `pi / 2` of its depth (Wagner), which is taken everywhere, as far as the hull reaches.
//! - A section that goes deeper at `w` carries more each moment: `F = (dm/dt) w` beside `m dw/dt`. Where it
//!   comes out, water falls away and pulls nothing.
//! - Source: Wagner 1932; Zarnick 1978 (DTNSRDC-78/032) for sections in a run in time; Lewis's and a plate's
//!   sections for the coefficients (Newman, Marine Hydrodynamics).
//! - Valid: slender hulls; frequency high, as all motions of boats this small are; no forward-speed correction.
//! - Checks: `crates/motion/tests`: a wedge's entry against Wagner and Dobrovolskaya, periods at rest.

use std::f64::consts::{FRAC_PI_2, PI};

use form::Columns;
use nalgebra::{Matrix6, Vector3};

use crate::element::Wrench;
use crate::motion::{Motion, Surroundings};

/// Sections along the hull.
const SECTIONS: usize = 24;
/// Cells across a section.
const CELLS: usize = 24;
/// Looked ahead for what a section gains, s.
const AHEAD_S: f64 = 2e-4;

/// One cell of a section: its place across and its bottom, boat axes, m.
#[derive(Debug, Clone, Copy)]
struct Cell {
    y: f64,
    bottom: f64,
    width: f64,
}

#[derive(Debug, Clone)]
struct Section {
    x: f64,
    length: f64,
    /// From starboard to port.
    cells: Vec<Cell>,
    /// Lowest bottom and furthest side, m.
    lowest: f64,
    furthest: f64,
}

/// Hulls side by side in one section, at most.
const BODIES: usize = 4;

/// The wet parts of a section.
#[derive(Debug, Clone, Copy, Default)]
struct Bodies {
    all: [Body; BODIES],
    count: usize,
}

impl Bodies {
    fn iter(&self) -> std::slice::Iter<'_, Body> {
        self.all[..self.count].iter()
    }

    fn squares(&self) -> f64 {
        self.iter().map(|b| b.breadth * b.breadth).sum()
    }
}

/// A part of a section that is wet without a gap.
#[derive(Debug, Clone, Copy, Default)]
struct Body {
    y: f64,
    z: f64,
    breadth: f64,
    draught: f64,
}

/// The hull as sections.
#[derive(Debug, Clone)]
pub struct Sections {
    all: Vec<Section>,
}

/// What the water adds at a state.
#[derive(Debug, Clone, Copy)]
pub struct Added {
    /// About the boat's origin, boat axes: forces and moments for accelerations, kg, kg m, kg m2.
    pub mass: Matrix6<f64>,
    /// Of sections that go deeper.
    pub slam: Wrench,
}

impl Sections {
    /// From the hull's columns, gathered into equal steps.
    pub fn of(columns: &Columns) -> Self {
        let range = |values: &[f64]| {
            let low = values.iter().copied().fold(f64::INFINITY, f64::min);
            let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            (low, high)
        };
        if columns.x_m.is_empty() {
            return Self { all: Vec::new() };
        }
        let ((x0, x1), (y0, y1)) = (range(&columns.x_m), range(&columns.y_m));
        let place = |v: f64, low: f64, high: f64, count: usize| {
            let share = (v - low) / (high - low).max(1e-9);
            ((share * count as f64) as usize).min(count - 1)
        };
        let mut grid = vec![(0.0, f64::INFINITY, 0.0); SECTIONS * CELLS];
        for i in 0..columns.x_m.len() {
            let s = place(columns.x_m[i], x0, x1, SECTIONS);
            let c = place(columns.y_m[i], y0, y1, CELLS);
            let cell = &mut grid[s * CELLS + c];
            cell.0 += columns.area_m2[i] * columns.y_m[i];
            cell.1 = columns.bottom_m[i].min(cell.1);
            cell.2 += columns.area_m2[i];
        }
        let length = (x1 - x0) / SECTIONS as f64;
        let section = |s: usize| {
            let cells: Vec<Cell> = grid[s * CELLS..(s + 1) * CELLS]
                .iter()
                .filter(|(_, _, area)| *area > 0.0)
                .map(|&(moment, bottom, area)| Cell {
                    y: moment / area,
                    bottom,
                    width: area / length,
                })
                .collect();
            Section {
                x: x0 + (s as f64 + 0.5) * length,
                length,
                lowest: cells.iter().map(|c| c.bottom).fold(f64::INFINITY, f64::min),
                furthest: cells.iter().map(|c| c.y.abs()).fold(0.0, f64::max),
                cells,
            }
        };
        Self {
            all: (0..SECTIONS).map(section).collect(),
        }
    }

    /// Added mass and the slam at a state.
    pub fn at(&self, motion: &Motion, around: &Surroundings) -> Added {
        let density = around.water_density_kg_m3;
        let mut mass = Matrix6::zeros();
        let mut slam = Wrench::default();
        let later = moved(motion, AHEAD_S);
        for section in &self.all {
            if section.is_dry(motion, around) {
                continue;
            }
            let bodies = section.bodies(motion, around);
            if bodies.count == 0 {
                continue;
            }
            for body in bodies.iter() {
                add(&mut mass, section, body, density);
            }
            let gained = section.bodies(&later, around).squares() - bodies.squares();
            if gained > 0.0 {
                let rate = PI / 8.0 * density * section.length * gained / AHEAD_S;
                let breadth: f64 = bodies.iter().map(|b| b.breadth).sum();
                let middle =
                    bodies.iter().map(|b| b.y * b.breadth).sum::<f64>() / breadth.max(1e-9);
                let at = Vector3::new(section.x, middle, bodies.all[0].z);
                let down = -around.through_water(motion, &at).z;
                slam += Wrench::at(&at, Vector3::z() * (rate * down.max(0.0)));
            }
        }
        Added { mass, slam }
    }
}

impl Section {
    /// Clear of the highest water whatever its heel within reason.
    fn is_dry(&self, motion: &Motion, around: &Surroundings) -> bool {
        let up = motion.up();
        let lowest =
            motion.position_m.z + up.x * self.x + up.z * self.lowest - up.y.abs() * self.furthest;
        up.z > 0.1 && lowest > around.water.highest_m()
    }

    fn bodies(&self, motion: &Motion, around: &Surroundings) -> Bodies {
        let mut depths = [0.0; CELLS];
        let mut deepest: f64 = 0.0;
        // The water across a section is taken straight.
        let up = motion.up();
        let level = |y: f64| {
            let foot = motion.place(&Vector3::new(self.x, y, self.lowest));
            around.water.height_m(foot.x, foot.y, motion.time_s)
        };
        let (port, starboard) = (level(self.furthest), level(-self.furthest));
        let (middle, slope) = (
            0.5 * (port + starboard),
            0.5 * (port - starboard) / self.furthest.max(1e-6),
        );
        let base = motion.position_m.z + up.x * self.x;
        for (depth, c) in depths.iter_mut().zip(&self.cells) {
            *depth = middle + slope * c.y - (base + up.y * c.y + up.z * c.bottom);
            deepest = deepest.max(*depth);
        }
        let mut bodies = Bodies::default();
        if deepest <= 0.0 {
            return bodies;
        }
        // Piled up: the water stands higher by this beside a diving section.
        let piled = (FRAC_PI_2 - 1.0) * deepest;
        let mut open = false;
        for (cell, depth) in self.cells.iter().zip(&depths) {
            let depth = depth + piled;
            // A cell is entered over its own height, so that nothing jumps.
            let share = (depth / (0.25 * cell.width).max(1e-4)).clamp(0.0, 1.0);
            if share <= 0.0 {
                open = false;
                continue;
            }
            if !open {
                bodies.count = (bodies.count + 1).min(BODIES);
                open = true;
            }
            let body = &mut bodies.all[bodies.count - 1];
            let width = share * cell.width;
            body.y += width * cell.y;
            body.z += width * cell.bottom;
            body.breadth += width;
            body.draught = body.draught.max(depth - piled);
        }
        let count = bodies.count;
        for body in &mut bodies.all[..count] {
            body.y /= body.breadth;
            body.z /= body.breadth;
        }
        bodies
    }
}

fn add(mass: &mut Matrix6<f64>, section: &Section, body: &Body, density: f64) {
    let l = section.length;
    let b = body.breadth;
    let heave = PI / 8.0 * density * b * b * l;
    let sway = 0.5 * PI * density * body.draught * body.draught * l;
    let roll = PI / 256.0 * density * b.powi(4) * l;
    let (x, y, z) = (section.x, body.y, body.z);
    // Unit accelerations of the section for each of the boat's: r cross omega.
    let down = [0.0, 0.0, 1.0, y, -x, 0.0];
    let side = [0.0, 1.0, 0.0, -z, 0.0, x];
    for i in 0..6 {
        for j in 0..6 {
            mass[(i, j)] += heave * down[i] * down[j] + sway * side[i] * side[j];
        }
    }
    mass[(3, 3)] += roll;
}

/// A moment later, going on as now.
fn moved(motion: &Motion, seconds: f64) -> Motion {
    let turn = nalgebra::Rotation3::from_scaled_axis(motion.rate_rad_s * seconds);
    Motion {
        position_m: motion.position_m + motion.attitude * motion.velocity_m_s * seconds,
        attitude: motion.attitude * turn,
        time_s: motion.time_s + seconds,
        ..*motion
    }
}
