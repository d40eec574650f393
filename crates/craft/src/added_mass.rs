//! Water that must move with the hull, by sections, and the blow of sections that dive into it.
//!
//! - A section whose wet breadth is `b` carries `f(beta) rho pi b^2 / 8` a metre when it moves down, half of a
//!   circle's; sideways `rho pi T^2 / 2`, `T` its draught; turned about its middle `rho pi b^4 / 256`. Down is square
//!   to the section's own slope fore and aft: a bow that meets a crest is pushed back as well as up. Water piles
//!   up at a diving wedge to `pi / 2` of its depth (Wagner), as far as the hull reaches without a gap or a wall.
//! - `f(beta) = 1 - 0.821 beta + 0.1436 beta^2` (rad): a wedge's entry by the similarity solution over Wagner's
//!   flat plate, our fit, within 0.7 %.
//! - A section that goes deeper at `w` carries more each moment: `F = (dm/dt) w` beside `m dw/dt`, of each of its edges
//!   by itself, so that a bottom which rolls is held back as one that heaves is. One that comes
//!   out gives it back, but all that hang together no more than running ahead brings them (`U m w`): beyond that
//!   water falls away and pulls nothing. Water that is itself accelerated by waves pushes with `m` too.
//! - Source: Wagner 1932; Zarnick 1978 (DTNSRDC-78/032) for sections in a run in time; Dobrovolskaya's solution
//!   as in Zhao and Faltinsen 1993, J. Fluid Mech. 246, table 1 (values from memory); Newman, Marine
//!   Hydrodynamics, for a plate's and a circle's sections.
//! - Valid: slender hulls, deadrise to 40 deg; frequency high, as all motions of boats this small are.
//! - Checks: below, a wedge's entry; `crates/motion/tests`: prisms in waves and at the porpoising limit, periods
//!   at rest.

use std::collections::BTreeMap;
use std::f64::consts::{FRAC_PI_2, PI};

use form::Columns;
use laws::smooth::step;
use laws::strip_planing::softness;
use nalgebra::{Matrix6, Vector3, Vector6};

use crate::element::Wrench;
use crate::motion::{Motion, Surroundings};

/// Sections along the hull, and cells across one, at most.
const MOST: usize = 24;
/// Bodies that a section may be in the water as.
const BODIES: usize = 4;
/// Places across a section at which waving water is asked for, at most, and how many to a wave's length.
const ACROSS: usize = 5;
const TO_A_WAVE: f64 = 2.0;
/// Of a section: its cells, two edges a body and as many keels.
pub(crate) const NODES: usize = MOST + 3 * BODIES;
/// What piles up over how deep it goes: `pi / 2` less one (Wagner).
const PILE: f64 = FRAC_PI_2 - 1.0;
/// Between these rises across water no longer climbs to what lies beyond, rad (judgement): beside a dive past what is as
/// steep as no bottom; running ahead, where a running surface beyond has its own water's edge, past a sponson's side.
const WALL_RAD: [[f64; 2]; 2] = [[0.75, 1.05], [0.5, 0.75]];
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
    /// Share of the piled-up water that passes it, diving and running ahead.
    passes: [f64; 2],
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
    /// Of its breadth, m/s.
    growing: f64,
    /// First moment of that across, m2/s.
    growing_at: f64,
    draught: f64,
    /// Of its nodes below the piled-up water.
    shallowest: f64,
}

/// Several, without an allocation.
#[derive(Debug, Clone, Copy)]
struct Bodies {
    all: [Body; BODIES],
    count: usize,
    /// How much of each piece is wet as the boat runs ahead, 0 to 1.
    shares: [f64; NODES],
}

impl Default for Bodies {
    fn default() -> Self {
        Self {
            all: Default::default(),
            count: 0,
            shares: [0.0; NODES],
        }
    }
}

impl Bodies {
    fn iter(&self) -> impl Iterator<Item = &Body> {
        self.all[..self.count].iter()
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

    /// Of what is carried, by each edge of it and where across that pushes, m2/s and m: a plate that grows at one edge is
    /// pushed three quarters of the way to it (the change of its potential with that edge).
    fn carried_rates(&self) -> [(f64, f64); 2] {
        let outward = (self.growing_at - self.y * self.growing) / self.breadth.max(1e-9);
        [1.0, -1.0].map(|side| {
            let edge = 0.5 * self.growing + side * outward;
            let rate = PI / 4.0 * self.softness() * self.breadth * edge;
            (rate, self.y + side * 0.25 * self.breadth)
        })
    }
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
        self.moved(&self.wet(motion, around), motion, around)
    }

    /// The same of what is known to be wet.
    pub(crate) fn moved(&self, wet: &Wet, motion: &Motion, around: &Surroundings) -> Added {
        let mut added = Added {
            mass: Matrix6::zeros(),
            slam: Wrench::default(),
        };
        let mut run = Struck::default();
        for (section, bodies) in self.all.iter().zip(&wet.0) {
            if bodies.count == 0 {
                added.slam += run.taken();
                continue;
            }
            section.add(&mut added, &mut run, bodies, motion, around);
        }
        added.slam += run.taken();
        added
    }

    /// What of the hull is wet.
    pub(crate) fn wet(&self, motion: &Motion, around: &Surroundings) -> Wet {
        Wet(self.all.iter().map(|s| s.wet(motion, around)).collect())
    }

    /// As [`Wet::shares`], where nothing else of what is wet is asked.
    pub(crate) fn shares(
        &self,
        motion: &Motion,
        around: &Surroundings,
    ) -> impl DoubleEndedIterator<Item = Option<[f64; NODES]>> + ExactSizeIterator {
        let each = self.all.iter();
        each.map(move |s| s.shares(motion, around))
    }

    /// From the aft end, the straight pieces of each section.
    pub(crate) fn outlines(&self) -> impl Iterator<Item = Outline> + '_ {
        self.all.iter().map(|section| Outline {
            x_m: section.x,
            length_m: section.length,
            slope: section.slope,
            pieces: section.pieces.iter().map(|p| section.piece(p)).collect(),
        })
    }

    /// Of the widest section, m.
    pub(crate) fn half_breadth_m(&self) -> f64 {
        self.all.iter().map(|s| s.furthest).fold(1e-6, f64::max)
    }
}

/// What of every section is wet, from the aft end.
pub(crate) struct Wet(Vec<Bodies>);

impl Wet {
    /// Of every section from the aft end how much of each piece is wet, 0 to 1; `None` of one that is dry.
    pub fn shares(
        &self,
    ) -> impl DoubleEndedIterator<Item = Option<&[f64; NODES]>> + ExactSizeIterator {
        let each = self.0.iter();
        each.map(|bodies| (bodies.count > 0).then_some(&bodies.shares))
    }
}

/// A section as straight pieces.
#[derive(Debug, Clone)]
pub(crate) struct Outline {
    /// Its middle, m.
    pub x_m: f64,
    /// Along the hull, m.
    pub length_m: f64,
    /// Rise of its lowest point over the distance ahead.
    pub slope: f64,
    /// From starboard to port.
    pub pieces: Vec<OutlinePiece>,
}

/// One of them.
#[derive(Debug, Clone, Copy)]
pub(crate) struct OutlinePiece {
    /// Ends across, m.
    pub y_m: [f64; 2],
    /// Its middle's height, m.
    pub z_m: f64,
    /// Rise to port, rad.
    pub rise_rad: f64,
    /// Nothing joins it on its starboard side.
    pub first: bool,
}

/// Sections that hang together in the water: what each is given for going deeper or takes for coming out.
///
/// Short waves run along the hull as islands: what one section gains the one it left loses. Only their sum cannot
/// pull by more than what the hull's running ahead makes it gain there anyway: beyond that the water falls away.
#[derive(Debug, Default)]
struct Struck {
    given: Wrench,
    taken: Wrench,
    given_n: f64,
    taken_n: f64,
    running_n: f64,
}

impl Struck {
    fn meet(&mut self, at: &Vector3<f64>, square: &Vector3<f64>, force_n: f64) {
        let wrench = Wrench::at(at, square * force_n);
        if force_n >= 0.0 {
            self.given += wrench;
            self.given_n += force_n;
        } else {
            self.taken += wrench;
            self.taken_n -= force_n;
        }
    }

    /// Their sum, and begins anew.
    fn taken(&mut self) -> Wrench {
        let run = std::mem::take(self);
        let most = run.given_n + run.running_n;
        let share = if run.taken_n > most {
            most / run.taken_n
        } else {
            1.0
        };
        Wrench {
            force_n: run.given.force_n + run.taken.force_n * share,
            moment_n_m: run.given.moment_n_m + run.taken.moment_n_m * share,
        }
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
                passes: [1.0; 2],
            });
            nodes.push(keel);
        }
        pieces.push(Piece {
            ends: [nodes.len() - 1, nodes.len()],
            first: group.is_none(),
            passes: [1.0; 2],
        });
        nodes.push(node);
        let next = (start + files..(start + 2 * files).min(y.count))
            .any(|j| (first..last).any(|i| grid.contains_key(&(i, j))));
        if !next {
            pieces.push(Piece {
                ends: [nodes.len() - 1, nodes.len()],
                first: false,
                passes: [1.0; 2],
            });
            nodes.push(Node {
                y: node.y + 0.5 * cell,
                ..node
            });
        }
        group = Some(start);
    }
    for piece in &mut pieces {
        let [a, b] = piece.ends.map(|i| nodes[i]);
        let rise = (b.z - a.z).abs().atan2(b.y - a.y);
        piece.passes = WALL_RAD.map(|[from, to]| 1.0 - step(from, to, rise));
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

/// Still or waving water across a section and how fast it comes to meet the boat's points there.
struct Level<'a> {
    section: &'a Section,
    motion: &'a Motion,
    around: &'a Surroundings<'a>,
    up: Vector3<f64>,
    /// Rate of a point's height: the boat's own, m/s, and for each metre along its axes, 1/s.
    climb: (f64, Vector3<f64>),
    /// Of the middle of the section, world axes, m/s.
    going: [f64; 2],
    /// Heights and their rates at even places across, asked for when wanted.
    met: [Option<[f64; 2]>; ACROSS],
    /// Between those places, m.
    apart: f64,
    still: bool,
}

impl<'a> Level<'a> {
    fn new(section: &'a Section, motion: &'a Motion, around: &'a Surroundings<'a>) -> Self {
        let up = motion.up();
        let middle = Vector3::new(section.x, 0.0, section.lowest);
        let going = motion.attitude * motion.velocity_at(&middle);
        let width = 2.0 * section.furthest;
        let wanted = TO_A_WAVE * width / around.water.shortest_m().max(1e-6);
        let places = (wanted.ceil() + 1.0).clamp(2.0, ACROSS as f64);
        Self {
            section,
            motion,
            around,
            up,
            climb: (up.dot(&motion.velocity_m_s), up.cross(&motion.rate_rad_s)),
            going: [going.x, going.y],
            met: [None; ACROSS],
            apart: width / (places - 1.0),
            still: around.water.is_still(),
        }
    }

    /// Of a point, m, and its rate, m/s.
    fn depth(&mut self, node: &Node) -> (f64, f64) {
        let point = Vector3::new(self.section.x, node.y, node.z);
        let height = self.motion.position_m.z + self.up.dot(&point);
        let climb = self.climb.0 + self.climb.1.dot(&point);
        if self.still {
            return (-height, -climb);
        }
        if height > self.around.water.highest_m() + self.section.entry(&self.up) {
            return (self.around.water.highest_m() - height, 0.0);
        }
        let place = (node.y + self.section.furthest) / self.apart;
        let index = (place.max(0.0) as usize).min(ACROSS - 2);
        let share = place - index as f64;
        let (a, b) = (self.at(index), self.at(index + 1));
        let mix = |k: usize| a[k] + (b[k] - a[k]) * share;
        (mix(0) - height, mix(1) - climb)
    }

    fn at(&mut self, index: usize) -> [f64; 2] {
        if let Some(met) = self.met[index] {
            return met;
        }
        let y = index as f64 * self.apart - self.section.furthest;
        let foot = Vector3::new(self.section.x, y, self.section.lowest);
        let foot = self.motion.place(&foot);
        let met = self
            .around
            .water
            .met_m([foot.x, foot.y], self.going, self.motion.time_s);
        self.met[index] = Some(met);
        met
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

    /// Of each node, and the depth over which the section is entered; `None` of one that is dry.
    fn depths(&self, motion: &Motion, around: &Surroundings) -> Option<([(f64, f64); NODES], f64)> {
        if self.is_dry(motion, around) {
            return None;
        }
        let mut level = Level::new(self, motion, around);
        let mut depths = [(0.0, 0.0); NODES];
        let mut deepest = f64::NEG_INFINITY;
        for (depth, node) in depths.iter_mut().zip(&self.nodes) {
            *depth = level.depth(node);
            deepest = depth.0.max(deepest);
        }
        let entry = self.entry(&level.up);
        (deepest > -0.5 * entry).then_some((depths, entry))
    }

    /// How much of each piece is wet as the boat runs ahead; `None` of a section that is dry.
    fn shares(&self, motion: &Motion, around: &Surroundings) -> Option<[f64; NODES]> {
        let (depths, entry) = self.depths(motion, around)?;
        let piles = self.piles(&depths, 1);
        let mut shares = [0.0; NODES];
        for (share, piece) in shares.iter_mut().zip(&self.pieces) {
            let ends = piece.ends.map(|i| i.min(NODES - 1));
            let [a, b] = ends.map(|i| (depths[i].0 + piles[i].0, 0.0));
            *share = wet_share(a, b, entry).0;
        }
        Some(shares)
    }

    fn wet(&self, motion: &Motion, around: &Surroundings) -> Bodies {
        let mut bodies = Bodies::default();
        let Some((depths, entry)) = self.depths(motion, around) else {
            return bodies;
        };
        let piles = self.piles(&depths, 0);
        let ahead = self.piles(&depths, 1);
        let mut open = false;
        for (index, piece) in self.pieces.iter().enumerate() {
            let ends = piece.ends.map(|i| i.min(NODES - 1));
            let wet = |piles: &[(f64, f64); NODES]| {
                let [a, b] = ends.map(|i| (depths[i].0 + piles[i].0, depths[i].1 + piles[i].1));
                wet_share(a, b, entry)
            };
            let (share, rate) = wet(&piles);
            if share <= 0.0 {
                open = false;
                continue;
            }
            bodies.shares[index.min(NODES - 1)] = wet(&ahead).0;
            if !open || piece.first {
                bodies.count = (bodies.count + 1).min(BODIES);
                bodies.all[bodies.count - 1].shallowest = f64::INFINITY;
                open = true;
            }
            let [a, b] = ends.map(|i| depths[i].0);
            let piled = piles[ends[0]].0.max(piles[ends[1]].0);
            let [from, to] = piece.ends.map(|i| &self.nodes[i]);
            let body = &mut bodies.all[bodies.count - 1];
            let width = to.y - from.y;
            body.y += share * width * 0.5 * (from.y + to.y);
            body.z += share * width * 0.5 * (from.z + to.z);
            body.breadth += share * width;
            body.growing += rate * width;
            body.growing_at += rate * width * 0.5 * (from.y + to.y);
            body.draught = body.draught.max(a.max(b));
            body.shallowest = body.shallowest.min(a.min(b).max(-piled));
        }
        let count = bodies.count;
        for body in &mut bodies.all[..count] {
            body.y /= body.breadth;
            body.z /= body.breadth;
        }
        bodies
    }

    fn piece(&self, piece: &Piece) -> OutlinePiece {
        let [from, to] = piece.ends.map(|i| self.nodes[i]);
        OutlinePiece {
            y_m: [from.y, to.y],
            z_m: 0.5 * (from.z + to.z),
            rise_rad: (to.z - from.z).atan2(to.y - from.y),
            first: piece.first,
        }
    }

    /// How much higher the water stands at each node beside what dives there, and its rate: by what is deepest of all
    /// that hangs together without a wall between.
    fn piles(&self, depths: &[(f64, f64); NODES], which: usize) -> [(f64, f64); NODES] {
        let mut piles = [(0.0, 0.0); NODES];
        let mut pass = |piece: &Piece, from: usize, to: usize| {
            let (from, to) = (from.min(NODES - 1), to.min(NODES - 1));
            let passes = piece.passes[which];
            let handed = (piles[from].0 * passes, piles[from].1 * passes);
            let own = (PILE * depths[to].0, PILE * depths[to].1);
            for met in [handed, own] {
                if met.0 > piles[to].0 {
                    piles[to] = met;
                }
            }
        };
        for piece in &self.pieces {
            if piece.first {
                pass(piece, piece.ends[0], piece.ends[0]);
            }
            pass(piece, piece.ends[0], piece.ends[1]);
        }
        for piece in self.pieces.iter().rev() {
            pass(piece, piece.ends[1], piece.ends[0]);
        }
        piles
    }

    fn add(
        &self,
        added: &mut Added,
        run: &mut Struck,
        bodies: &Bodies,
        motion: &Motion,
        around: &Surroundings,
    ) {
        let scale = around.water_density_kg_m3 * self.length;
        let mut running_n = 0.0;
        for body in bodies.iter() {
            let heave = scale * body.carried();
            let sway = 0.5 * PI * scale * body.draught.max(0.0).powi(2);
            let roll = PI / 256.0 * scale * body.breadth.powi(4);
            let (x, y, z) = (self.x, body.y, body.z);
            // Unit accelerations of the section for each of the boat's: r cross omega.
            let lean = self.slope;
            let down = Vector6::new(-lean, 0.0, 1.0, y, -x - lean * z, lean * y);
            let side = Vector6::new(0.0, 1.0, 0.0, -z, 0.0, x);
            added.mass += heave * down * down.transpose() + sway * side * side.transpose();
            added.mass[(3, 3)] += roll;

            let at = Vector3::new(x, y, z);
            let flow = around.through_water(motion, &at);
            let sinks = |flow: &Vector3<f64>| (self.slope * flow.x - flow.z).max(0.0);
            let w = sinks(&flow);
            let square = Vector3::new(-lean, 0.0, 1.0);
            for (rate, y) in body.carried_rates() {
                // Rolling, one side goes down faster than the other.
                let across = motion.rate_rad_s.x * (y - at.y);
                let w = sinks(&(flow + Vector3::new(0.0, 0.0, across)));
                run.meet(&Vector3::new(x, y, z), &square, scale * rate * w);
            }
            running_n += around.water_density_kg_m3 * body.carried() * flow.x.max(0.0) * w;
            if !around.water.is_still() {
                let a = water_acceleration(motion, around, &at);
                let force = square * (heave * square.dot(&a)) + Vector3::y() * (sway * a.y);
                added.slam += Wrench::at(&at, force);
            }
        }
        run.running_n = run.running_n.max(running_n);
    }
}

/// Of the water that a point of the boat meets, boat axes, m/s2.
fn water_acceleration(motion: &Motion, around: &Surroundings, at: &Vector3<f64>) -> Vector3<f64> {
    let place = motion.place(at);
    let going = motion.attitude * motion.velocity_at(at);
    let pull = around
        .water
        .pull_m_s2([place.x, place.y], [going.x, going.y], motion.time_s);
    motion.attitude.inverse_transform_vector(&pull)
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::craft::GRAVITY_M_S2;
    use crate::motion::Still;
    use crate::testing::{Prism, WATER};
    use nalgebra::Rotation3;

    const SPEED_M_S: f64 = 2.0;

    /// Force and moment on a metre of wedge that falls at a speed and rolls, half-way up its sides, and how deep.
    fn falling(deadrise_deg: f64, roll_rad_s: f64) -> (Wrench, f64) {
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
            rate_rad_s: roll_rad_s * Vector3::x(),
            time_s: 0.0,
        };
        let around = Surroundings {
            water: &Still,
            water_density_kg_m3: WATER.water_density_kg_m3,
            water_viscosity_m2_s: WATER.water_viscosity_m2_s,
            air_density_kg_m3: WATER.air_density_kg_m3,
            wind_m_s: Vector3::zeros(),
            gravity_m_s2: GRAVITY_M_S2,
            found: None,
        };
        let added = Sections::of(&prism.columns()).at(&motion, &around);
        (added.slam, depth_m)
    }

    /// Upward force over `rho V^3 t` a metre of a wedge that falls at a speed, half-way up its sides.
    fn entry(deadrise_deg: f64) -> f64 {
        let (slam, depth_m) = falling(deadrise_deg, 0.0);
        slam.force_n.z / (WATER.water_density_kg_m3 * SPEED_M_S.powi(2) * depth_m)
    }

    /// Of a plate from `y1` to `y2` with potential `w sqrt((y - y1)(y2 - y))` below it, whose edges move out as they go
    /// deeper by `p y`: `pi/16 f rho b^3 w p / tan(beta)` against the roll; and as much again by `pi/4`, as the water that
    /// turns with it, `rho pi b^4 / 256`, grows with the fall.
    #[test]
    fn a_wedge_that_rolls_as_it_falls_is_held_back() {
        for deadrise_deg in [10.0, 20.0, 30.0f64] {
            let beta = deadrise_deg.to_radians();
            let (p, b) = (0.5, 0.1f64);
            let (slam, _) = falling(deadrise_deg, p);
            let (level, _) = falling(deadrise_deg, 0.0);
            let density = WATER.water_density_kg_m3;
            let edges =
                -PI / 16.0 * softness(beta) * density * b.powi(3) * SPEED_M_S * p / beta.tan();
            let by_hand = (1.0 + PI / 4.0) * edges;
            let ours = slam.moment_n_m.x;
            assert!(level.moment_n_m.x.abs() < 1e-9 * level.force_n.z);
            assert!((ours / by_hand - 1.0).abs() < 0.06, "{ours} {by_hand}");
        }
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
            found: None,
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
