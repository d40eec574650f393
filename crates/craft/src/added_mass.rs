//! Water that must move with the hull, by sections, and the blow of sections that dive into it.
//!
//! - A section whose wet breadth is `b` carries `f(beta) rho pi b^2 / 8` a metre when it moves down, half of a
//!   circle's; sideways `rho pi T^2 / 2`, `T` its draught; turned about its middle `rho pi b^4 / 256`. Water piles
//!   up at a diving wedge to `pi / 2` of its depth (Wagner), which is taken everywhere, as far as the hull reaches.
//! - `f(beta) = 1 - 0.821 beta + 0.1436 beta^2` (rad): a wedge's entry by the similarity solution over Wagner's
//!   flat plate, our fit, within 0.7 %.
//! - A section that goes deeper at `w` carries more each moment: `F = (dm/dt) w` beside `m dw/dt`. Rising, it
//!   gives back no more than running ahead brings it (`-U dm/dx`): where it comes out, water falls away and
//!   pulls nothing. Water that is itself accelerated by waves pushes with `m` too.
//! - Source: Wagner 1932; Zarnick 1978 (DTNSRDC-78/032) for sections in a run in time; Dobrovolskaya's solution
//!   as in Zhao and Faltinsen 1993, J. Fluid Mech. 246, table 1 (values from memory); Newman, Marine
//!   Hydrodynamics, for a plate's and a circle's sections.
//! - Valid: slender hulls, deadrise to 40 deg; frequency high, as all motions of boats this small are.
//! - Checks: below, a wedge's entry; `crates/motion/tests`: prisms in waves and at the porpoising limit, periods
//!   at rest.

use std::collections::BTreeMap;
use std::f64::consts::{FRAC_PI_2, PI};

use form::Columns;
use nalgebra::{Matrix6, Vector3, Vector6};

use crate::element::Wrench;
use crate::motion::{Motion, Surroundings};

/// Sections along the hull, and cells across one, at most.
const MOST: usize = 24;
/// Bodies that a section may be in the water as.
const BODIES: usize = 4;
/// Looked ahead for what the water does, s.
const AHEAD_S: f64 = 2e-4;
/// Of a section: its cells, two edges a body and as many keels.
const NODES: usize = MOST + 3 * BODIES;
/// A flat is entered over no less than this, m: water is never smoother, and air must get away (judgement).
const SKIN_M: f64 = 2e-4;

/// The bottom of a section at one place across, boat axes, m.
#[derive(Debug, Clone, Copy)]
struct Node {
    y: f64,
    z: f64,
}

/// A straight piece of a section's bottom between two nodes.
#[derive(Debug, Clone, Copy)]
struct Piece {
    /// From starboard to port.
    ends: [usize; 2],
    /// Nothing joins it on its starboard side.
    first: bool,
}

#[derive(Debug, Clone)]
struct Section {
    x: f64,
    length: f64,
    nodes: Vec<Node>,
    pieces: Vec<Piece>,
    lowest: f64,
    furthest: f64,
    /// Rise of the lowest point over its distance ahead.
    slope: f64,
}

/// A part of a section that is wet without a gap.
#[derive(Debug, Clone, Copy, Default)]
struct Body {
    y: f64,
    z: f64,
    breadth: f64,
    /// 1/s times m.
    growing: f64,
    draught: f64,
    /// Of its nodes below the piled-up water.
    shallowest: f64,
}

/// Several, without an allocation.
#[derive(Debug, Clone, Copy, Default)]
struct Bodies {
    all: [Body; BODIES],
    count: usize,
}

impl Bodies {
    fn iter(&self) -> impl Iterator<Item = &Body> {
        self.all[..self.count].iter()
    }

    /// Mass a metre that moves down with it, over density.
    fn carried(&self) -> f64 {
        self.iter().map(Body::carried).sum()
    }
}

impl Body {
    /// `f(beta)`, beta being the rise of what is wet over half its breadth.
    fn softness(&self) -> f64 {
        let rise = (self.draught - self.shallowest).max(0.0);
        softness((2.0 * rise / self.breadth.max(1e-9)).atan())
    }

    fn carried(&self) -> f64 {
        PI / 8.0 * self.softness() * self.breadth * self.breadth
    }

    fn carried_rate(&self) -> f64 {
        PI / 4.0 * self.softness() * self.breadth * self.growing
    }
}

/// A wedge's entry over that of Wagner's flat plate.
fn softness(deadrise_rad: f64) -> f64 {
    let b = deadrise_rad.clamp(0.0, 1.2);
    1.0 - 0.821 * b + 0.1436 * b * b
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
    /// Of sections that go deeper, and of water that waves accelerate.
    pub slam: Wrench,
}

/// A column's place in the grid it came from, its bottom the lowest of those one above the other.
type Grid = BTreeMap<(usize, usize), (f64, f64)>;

impl Sections {
    /// From the hull's columns, whole rows of them gathered into a section.
    pub fn of(columns: &Columns) -> Self {
        let (Some(x), Some(y)) = (Steps::of(&columns.x_m), Steps::of(&columns.y_m)) else {
            return Self { all: Vec::new() };
        };
        let mut grid = Grid::new();
        for i in 0..columns.x_m.len() {
            let place = (x.index(columns.x_m[i]), y.index(columns.y_m[i]));
            let entry = grid.entry(place).or_insert((columns.y_m[i], f64::INFINITY));
            entry.1 = entry.1.min(columns.bottom_m[i]);
        }
        let (rows, files) = (x.count.div_ceil(MOST), y.count.div_ceil(MOST));
        let mut all: Vec<Section> = (0..x.count.div_ceil(rows))
            .filter_map(|s| section(&grid, &x, &y, s * rows, rows, files))
            .collect();
        let keel: Vec<(f64, f64)> = all.iter().map(|s| (s.x, s.lowest)).collect();
        for (i, section) in all.iter_mut().enumerate() {
            let (aft, fore) = (keel[i.saturating_sub(1)], keel[(i + 1).min(keel.len() - 1)]);
            section.slope = (fore.1 - aft.1) / (fore.0 - aft.0).max(1e-9);
        }
        Self { all }
    }

    /// Added mass and the slam at a state.
    pub fn at(&self, motion: &Motion, around: &Surroundings) -> Added {
        let mut added = Added {
            mass: Matrix6::zeros(),
            slam: Wrench::default(),
        };
        let later = moved(motion, AHEAD_S);
        // Of the section behind: none behind the last.
        let mut aft: Option<(f64, f64)> = None;
        for section in &self.all {
            let bodies = if section.is_dry(motion, around) {
                Bodies::default()
            } else {
                section.bodies(motion, &later, around)
            };
            let carried = bodies.carried();
            if bodies.count > 0 {
                let running = aft.map_or(f64::INFINITY, |(x, m)| (m - carried) / (section.x - x));
                section.add(&mut added, &bodies, running, motion, &later, around);
            }
            aft = Some((section.x, carried));
        }
        added
    }
}

/// Even steps that hold a column's coordinates.
struct Steps {
    from: f64,
    step: f64,
    count: usize,
}

impl Steps {
    fn of(values: &[f64]) -> Option<Self> {
        let mut sorted = values.to_vec();
        sorted.sort_by(f64::total_cmp);
        let (low, high) = (*sorted.first()?, *sorted.last()?);
        let near = 1e-3 * (high - low);
        sorted.dedup_by(|a, b| *a - *b < near);
        let count = sorted.len();
        let step = (high - low) / (count - 1).max(1) as f64;
        (step > 0.0).then_some(Self {
            from: low - 0.5 * step,
            step,
            count,
        })
    }

    fn index(&self, value: f64) -> usize {
        (((value - self.from) / self.step) as usize).min(self.count - 1)
    }
}

fn section(
    grid: &Grid,
    x: &Steps,
    y: &Steps,
    first: usize,
    rows: usize,
    files: usize,
) -> Option<Section> {
    let last = (first + rows).min(x.count);
    let mut nodes: Vec<Node> = Vec::new();
    let mut pieces: Vec<Piece> = Vec::new();
    let cell = files as f64 * y.step;
    let mut group: Option<usize> = None;
    for start in (0..y.count).step_by(files) {
        let places = (first..last).flat_map(|i| (start..start + files).map(move |j| (i, j)));
        let (mut at, mut bottom, mut count) = (0.0, 0.0, 0.0);
        for (y, z) in places.filter_map(|p| grid.get(&p)) {
            (at, bottom, count) = (at + y, bottom + z, count + 1.0);
        }
        if count == 0.0 {
            group = None;
            continue;
        }
        let node = Node {
            y: at / count,
            z: bottom / count,
        };
        // Half a cell of flat at the edge stands for what lies beyond the middle of the first.
        if group.is_none() {
            nodes.push(Node {
                y: node.y - 0.5 * cell,
                ..node
            });
        }
        if let Some(keel) = keel_before(&nodes, &node) {
            pieces.push(Piece {
                ends: [nodes.len() - 1, nodes.len()],
                first: false,
            });
            nodes.push(keel);
        }
        pieces.push(Piece {
            ends: [nodes.len() - 1, nodes.len()],
            first: group.is_none(),
        });
        nodes.push(node);
        let next = (start + files..(start + 2 * files).min(y.count))
            .any(|j| (first..last).any(|i| grid.contains_key(&(i, j))));
        if !next {
            pieces.push(Piece {
                ends: [nodes.len() - 1, nodes.len()],
                first: false,
            });
            nodes.push(Node {
                y: node.y + 0.5 * cell,
                ..node
            });
        }
        group = Some(start);
    }
    let lowest = nodes.iter().map(|n| n.z).fold(f64::INFINITY, f64::min);
    lowest.is_finite().then(|| Section {
        x: x.from + 0.5 * (first + last) as f64 * x.step,
        length: (last - first) as f64 * x.step,
        furthest: nodes.iter().map(|n| n.y.abs()).fold(1e-6, f64::max),
        lowest,
        nodes,
        pieces,
        slope: 0.0,
    })
}

/// A sharp keel on the centreline lies between two cells as high as each other: as low as the slope beside it.
fn keel_before(nodes: &[Node], node: &Node) -> Option<Node> {
    let [.., outer, inner] = nodes else {
        return None;
    };
    let across = inner.y < 0.0 && node.y > 0.0 && (inner.y + node.y).abs() < 0.1 * node.y;
    let level = (inner.z - node.z).abs() < 0.1 * (outer.z - inner.z);
    (across && level).then(|| {
        let slope = (outer.z - inner.z) / (inner.y - outer.y);
        Node {
            y: 0.0,
            z: 0.5 * (inner.z + node.z) - slope * node.y,
        }
    })
}

/// Still or waving water across a section, taken straight, over the boat's own height there.
struct Level {
    middle: f64,
    across: f64,
    up: Vector3<f64>,
}

impl Level {
    fn depth(&self, node: &Node) -> f64 {
        self.middle + self.across * node.y - self.up.y * node.y - self.up.z * node.z
    }
}

impl Section {
    /// Clear of the highest water whatever its heel within reason.
    fn is_dry(&self, motion: &Motion, around: &Surroundings) -> bool {
        let up = motion.up();
        let lowest =
            motion.position_m.z + up.x * self.x + up.z * self.lowest - up.y.abs() * self.furthest;
        let entry = self.entry(&up);
        up.z > 0.1 && lowest - entry > around.water.highest_m()
    }

    /// Depth over which the section is entered, as its fore end is later than its aft end.
    fn entry(&self, up: &Vector3<f64>) -> f64 {
        SKIN_M + self.length * (up.x + self.slope * up.z).abs()
    }

    fn level(&self, motion: &Motion, around: &Surroundings) -> Level {
        let up = motion.up();
        let (mut middle, mut across) = (0.0, 0.0);
        if !around.water.is_still() {
            let at = |y: f64| {
                let foot = motion.place(&Vector3::new(self.x, y, self.lowest));
                around.water.height_m(foot.x, foot.y, motion.time_s)
            };
            let (port, starboard) = (at(self.furthest), at(-self.furthest));
            middle = 0.5 * (port + starboard);
            across = 0.5 * (port - starboard) / self.furthest;
        }
        middle -= motion.position_m.z + up.x * self.x;
        Level { middle, across, up }
    }

    fn bodies(&self, motion: &Motion, later: &Motion, around: &Surroundings) -> Bodies {
        let (now, then) = (self.level(motion, around), self.level(later, around));
        let mut depths = [(0.0, 0.0); NODES];
        let (mut deepest, mut deepening): (f64, f64) = (f64::NEG_INFINITY, 0.0);
        for (depth, node) in depths.iter_mut().zip(&self.nodes) {
            let here = now.depth(node);
            *depth = (here, (then.depth(node) - here) / AHEAD_S);
            if here > deepest {
                (deepest, deepening) = *depth;
            }
        }
        let mut bodies = Bodies::default();
        let entry = self.entry(&now.up);
        if deepest <= -0.5 * entry {
            return bodies;
        }
        // Piled up: the water stands higher by this beside a diving section.
        let pile = if deepest > 0.0 { FRAC_PI_2 - 1.0 } else { 0.0 };
        let (piled, piling) = (pile * deepest, pile * deepening);
        let mut open = false;
        for piece in &self.pieces {
            let [a, b] = piece.ends.map(|i| depths[i.min(NODES - 1)]);
            let (share, rate) = wet_share(
                (a.0 + piled, a.1 + piling),
                (b.0 + piled, b.1 + piling),
                entry,
            );
            if share <= 0.0 {
                open = false;
                continue;
            }
            if !open || piece.first {
                bodies.count = (bodies.count + 1).min(BODIES);
                bodies.all[bodies.count - 1].shallowest = f64::INFINITY;
                open = true;
            }
            let [from, to] = piece.ends.map(|i| &self.nodes[i]);
            let body = &mut bodies.all[bodies.count - 1];
            let width = to.y - from.y;
            body.y += share * width * 0.5 * (from.y + to.y);
            body.z += share * width * 0.5 * (from.z + to.z);
            body.breadth += share * width;
            body.growing += rate * width;
            body.draught = body.draught.max(a.0.max(b.0));
            body.shallowest = body.shallowest.min(a.0.min(b.0).max(-piled));
        }
        let count = bodies.count;
        for body in &mut bodies.all[..count] {
            body.y /= body.breadth;
            body.z /= body.breadth;
        }
        bodies
    }

    /// `running` is what one metre a second ahead brings, over density, kg/m3 m2/m.
    fn add(
        &self,
        added: &mut Added,
        bodies: &Bodies,
        running: f64,
        motion: &Motion,
        later: &Motion,
        around: &Surroundings,
    ) {
        let scale = around.water_density_kg_m3 * self.length;
        for body in bodies.iter() {
            let heave = scale * body.carried();
            let sway = 0.5 * PI * scale * body.draught.max(0.0).powi(2);
            let roll = PI / 256.0 * scale * body.breadth.powi(4);
            let (x, y, z) = (self.x, body.y, body.z);
            // Unit accelerations of the section for each of the boat's: r cross omega.
            let down = Vector6::new(0.0, 0.0, 1.0, y, -x, 0.0);
            let side = Vector6::new(0.0, 1.0, 0.0, -z, 0.0, x);
            added.mass += heave * down * down.transpose() + sway * side * side.transpose();
            added.mass[(3, 3)] += roll;

            let at = Vector3::new(x, y, z);
            let flow = around.through_water(motion, &at);
            let w = (self.slope * flow.x - flow.z).max(0.0);
            let least = -flow.x.max(0.0) * running.max(0.0) / bodies.count as f64;
            let gained = body.carried_rate().max(least);
            let mut force = Vector3::new(0.0, 0.0, scale * gained * w);
            if !around.water.is_still() {
                let a = water_acceleration(motion, later, around, &at);
                force += Vector3::new(0.0, sway * a.y, heave * a.z);
            }
            added.slam += Wrench::at(&at, force);
        }
    }
}

/// Of the water that a point of the boat meets, boat axes, m/s2.
fn water_acceleration(
    motion: &Motion,
    later: &Motion,
    around: &Surroundings,
    at: &Vector3<f64>,
) -> Vector3<f64> {
    let velocity = |m: &Motion| {
        let place = m.place(at);
        around.water.velocity_m_s(place.x, place.y, m.time_s)
    };
    let change = (velocity(later) - velocity(motion)) / AHEAD_S;
    motion.attitude.inverse_transform_vector(&change)
}

/// Share of a straight piece that is wet between two depths, and its rate, from depths and their rates: a point
/// is entered from half of `over` above the water to half below.
fn wet_share(a: (f64, f64), b: (f64, f64), over: f64) -> (f64, f64) {
    let place = |d: f64| d / over + 0.5;
    let (p, q) = (place(a.0), place(b.0));
    if p >= 1.0 && q >= 1.0 {
        return (1.0, 0.0);
    }
    if p <= 0.0 && q <= 0.0 {
        return (0.0, 0.0);
    }
    let (dp, dq) = (a.1 / over, b.1 / over);
    let wet = |p: f64| p.clamp(0.0, 1.0);
    if (q - p).abs() < 1e-6 {
        let middle = 0.5 * (p + q);
        let inside = (0.0..1.0).contains(&middle);
        return (wet(middle), if inside { 0.5 * (dp + dq) } else { 0.0 });
    }
    // Integral of the clamped line.
    let sum = |p: f64| 0.5 * wet(p).powi(2) + (p - 1.0).max(0.0);
    let share = (sum(q) - sum(p)) / (q - p);
    let rate = (wet(q) * dq - wet(p) * dp - share * (dq - dp)) / (q - p);
    (share, rate)
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::craft::GRAVITY_M_S2;
    use crate::motion::Still;
    use crate::testing::{Prism, WATER};
    use nalgebra::Rotation3;

    const SPEED_M_S: f64 = 2.0;

    /// Upward force over `rho V^3 t` a metre of a wedge that falls at a speed, half-way up its sides.
    fn entry(deadrise_deg: f64) -> f64 {
        let prism = Prism {
            beam_m: 0.2,
            deadrise_rad: deadrise_deg.to_radians(),
            length_m: 1.0,
            mass_kg: 1.0,
            lcg_m: 0.5,
            vcg_m: 0.1,
        };
        let depth_m = 0.05 * prism.deadrise_rad.tan() / FRAC_PI_2;
        let motion = Motion {
            position_m: -depth_m * Vector3::z(),
            attitude: Rotation3::identity(),
            velocity_m_s: -SPEED_M_S * Vector3::z(),
            rate_rad_s: Vector3::zeros(),
            time_s: 0.0,
        };
        let around = Surroundings {
            water: &Still,
            water_density_kg_m3: WATER.water_density_kg_m3,
            water_viscosity_m2_s: WATER.water_viscosity_m2_s,
            air_density_kg_m3: WATER.air_density_kg_m3,
            wind_m_s: Vector3::zeros(),
            gravity_m_s2: GRAVITY_M_S2,
        };
        let added = Sections::of(&prism.columns()).at(&motion, &around);
        let scale = WATER.water_density_kg_m3 * SPEED_M_S.powi(2) * depth_m;
        added.slam.force_n.z / scale
    }

    /// Zhao and Faltinsen 1993, table 1 (from memory): the similarity solution within 4 %, which is our fit's
    /// and the cells' share, and Wagner's flat plate as the angle goes to nothing.
    #[test]
    fn a_wedge_enters_as_the_similarity_solution_has_it() {
        let text = include_str!("../../../checks/wedge_entry_similarity.csv");
        let mut compared = 0;
        for line in text.lines().filter(|l| !l.starts_with('#')).skip(1) {
            let row: Vec<f64> = line.split(',').map(|c| c.parse().unwrap()).collect();
            let ours = entry(row[0]);
            let off = ours / row[3] - 1.0;
            assert!(
                off.abs() < 0.04,
                "{} deg: {ours} against {}",
                row[0],
                row[3]
            );
            compared += 1;
        }
        assert_eq!(compared, 8);
        let wagner = PI.powi(3) / (4.0 * 1.0_f64.to_radians().tan().powi(2));
        assert!((entry(1.0) / wagner - 1.0).abs() < 0.05);
    }

    #[test]
    fn a_barge_carries_half_a_circle_and_nothing_when_it_rises() {
        let prism = Prism {
            beam_m: 0.2,
            deadrise_rad: 0.0,
            length_m: 1.0,
            mass_kg: 1.0,
            lcg_m: 0.5,
            vcg_m: 0.1,
        };
        let sections = Sections::of(&prism.columns());
        let moving = |up_m_s: f64| Motion {
            position_m: -0.05 * Vector3::z(),
            attitude: Rotation3::identity(),
            velocity_m_s: up_m_s * Vector3::z(),
            rate_rad_s: Vector3::zeros(),
            time_s: 0.0,
        };
        let around = Surroundings {
            water: &Still,
            water_density_kg_m3: 1000.0,
            water_viscosity_m2_s: 1e-6,
            air_density_kg_m3: 1.2,
            wind_m_s: Vector3::zeros(),
            gravity_m_s2: GRAVITY_M_S2,
        };
        let added = sections.at(&moving(1.0), &around);
        let half_circle = PI / 8.0 * 1000.0 * 0.2 * 0.2;
        assert!((added.mass[(2, 2)] / half_circle - 1.0).abs() < 1e-6);
        assert!((added.mass[(2, 4)] / (-0.5 * half_circle) - 1.0).abs() < 1e-6);
        assert_eq!(added.slam.force_n.z, 0.0);
        let symmetric = (added.mass - added.mass.transpose()).norm();
        assert!(symmetric < 1e-9);
    }
}
