//! How one running surface meets the water: wetted keel, the water's edge on both sides, angles of attack.
//!
//! Geometry only; the forces are in [`super::planing`] and [`super::buoyancy`].

use form::{Across, Panel, RunningSurface, SurfaceStation};
use laws::smooth::step;
use laws::strip_planing::rise;
use nalgebra::Vector3;

use super::found::Along;
use super::lines::{Lean, Lines, MOST_STATIONS, Shore};
use crate::motion::{Motion, Surroundings};

/// The last of a keel line, whose slope the water keeps, m (builders leave the last 30 to 50 mm dead flat: common practice).
const EDGE_M: f64 = 0.03;
/// Stations this near a straight line add nothing, m.
const STRAIGHT_M: f64 = 3e-5;

/// A running surface with its keel line as points.
#[derive(Debug, Clone)]
pub struct Surface {
    /// Its name.
    pub name: String,
    /// Which of the boat's it is.
    index: usize,
    /// Keel points from the trailing edge forward, boat axes, m.
    pub keel_m: Vec<Vector3<f64>>,
    /// From the keel to port, at each keel point.
    pub port: Vec<Panel>,
    /// From the keel to starboard.
    pub starboard: Vec<Panel>,
    /// From the keel out to the inner spray strake on both sides, m.
    pub strake_m: Option<f64>,
    /// Outer edges of the panels at the keel points, port first, boat axes, m.
    edges_m: [Vec<Vector3<f64>>; 2],
    /// x of the keel points, m.
    x_m: Vec<f64>,
    /// Lines from keel to chine, port first.
    lines: [Lines; 2],
}

/// The bottom along its wetted lower edge: angles of attack at even places from aft to fore.
#[derive(Debug, Clone, Copy)]
pub struct Flow {
    /// Its aft end and length.
    pub line: WetLine,
    /// Angle of attack, bow up, rad.
    angle_rad: [f64; PLACES],
    /// Slope of the lower edge, boat axes, rad.
    slope_rad: [f64; PLACES],
    /// Greatest speed along the bottom through the water, m/s.
    pub speed_m_s: f64,
}

/// Slopes are taken over no less than this, m.
const SHORTEST_M: f64 = 5e-4;
/// Places along the wetted edge at which angles are taken.
const PLACES: usize = 7;

impl Flow {
    /// Angle of attack at a distance ahead of the aft end, rad.
    pub fn angle_rad(&self, ahead_m: f64) -> f64 {
        self.at(&self.angle_rad, ahead_m)
    }

    /// Slope of the edge there, boat axes, rad.
    pub fn slope_rad(&self, ahead_m: f64) -> f64 {
        self.at(&self.slope_rad, ahead_m)
    }

    fn at(&self, of: &[f64; PLACES], ahead_m: f64) -> f64 {
        let place = (PLACES - 1) as f64 * (ahead_m / self.line.keel_length_m).clamp(0.0, 1.0);
        let i = (place as usize).min(PLACES - 2);
        of[i] + (of[i + 1] - of[i]) * (place - i as f64)
    }
}

/// The wetted run of a keel line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WetLine {
    /// Its aft end, boat axes, m.
    pub aft_m: Vector3<f64>,
    /// m.
    pub keel_length_m: f64,
    /// Depth of the trailing edge, 0 when that is dry, m.
    pub draught_m: f64,
}

impl Surface {
    /// From the form's stations, without those that lie on the straight line between their
    /// neighbours: forces are asked for thousands of times.
    pub fn new(found: &RunningSurface) -> Self {
        let kept = needed(found);
        let pick = |across: &Across| Across {
            over: if across.over.len() == found.stations.len() {
                kept.iter().map(|i| across.over[*i].clone()).collect()
            } else {
                Vec::new()
            },
            ..across.clone()
        };
        let thinned = RunningSurface {
            stations: kept.iter().map(|i| found.stations[*i]).collect(),
            across: [pick(&found.across[0]), pick(&found.across[1])],
            ..found.clone()
        };
        let stations = &thinned.stations;
        let keel = |s: &SurfaceStation| Vector3::new(s.x_m, s.keel_y_m, s.keel_z_m);
        Self::with_lines(
            found.name.clone(),
            stations.iter().map(keel).collect(),
            stations.iter().map(|s| s.port).collect(),
            stations.iter().map(|s| s.starboard).collect(),
            Lines::of(&thinned),
            found.strake_m,
        )
    }

    /// From its keel points and the straight panels at them.
    #[cfg(test)]
    pub(crate) fn from_panels(
        name: String,
        keel_m: Vec<Vector3<f64>>,
        port: Vec<Panel>,
        starboard: Vec<Panel>,
        strake_m: Option<f64>,
    ) -> Self {
        let plain = Across::default();
        let lines = [
            Lines::side(&port, &starboard, &plain, strake_m),
            Lines::side(&starboard, &port, &plain, strake_m),
        ];
        Self::with_lines(name, keel_m, port, starboard, lines, strake_m)
    }

    fn with_lines(
        name: String,
        keel_m: Vec<Vector3<f64>>,
        port: Vec<Panel>,
        starboard: Vec<Panel>,
        lines: [Lines; 2],
        strake_m: Option<f64>,
    ) -> Self {
        let edges_m = [
            outer_edge(&keel_m, &port, 1.0),
            outer_edge(&keel_m, &starboard, -1.0),
        ];
        Self {
            name,
            index: usize::MAX,
            edges_m,
            x_m: keel_m.iter().map(|p| p.x).collect(),
            keel_m,
            port,
            starboard,
            strake_m,
            lines,
        }
    }

    /// As one of several of a boat.
    pub fn numbered(self, index: usize) -> Self {
        Self { index, ..self }
    }

    /// Chine to chine at the trailing edge, m.
    pub fn beam_m(&self) -> f64 {
        self.port[0].width_m + self.starboard[0].width_m
    }

    /// How the water meets the keel, or `None` when it is clear of the water.
    pub fn flow(&self, motion: &Motion, around: &Surroundings) -> Option<Flow> {
        let line = self.wet_line(motion, around)?;
        Some(flow(&self.keel_m, line, motion, around))
    }

    /// The same along the outer edge of one side (+1 to port), for a boat that heels until that edge is the
    /// lower one.
    pub fn flow_at_edge(&self, side: f64, motion: &Motion, around: &Surroundings) -> Option<Flow> {
        let line = self.line(outer(side), motion, around)?;
        Some(flow(self.edge(side), line, motion, around))
    }

    /// The water's edge on one side (+1 to port), from the keel out or from the chine `inward`, on a boat whose
    /// level is tilted by `tilt` against its own (tangent of heel, starboard down).
    pub fn shore(
        &self,
        side: f64,
        inward: bool,
        tilt: f64,
        motion: &Motion,
        around: &Surroundings,
    ) -> Option<Shore> {
        let points = if inward {
            self.edge(side)
        } else {
            &self.keel_m
        };
        let mut depths = [0.0; MOST_STATIONS];
        for (depth, point) in depths.iter_mut().zip(points) {
            *depth = around.depth_m(motion, point);
        }
        let count = points.len().min(MOST_STATIONS);
        if !first_run(&mut depths[..count]) {
            return None;
        }
        let way = usize::from(side < 0.0);
        let panels = [&self.port[0], &self.starboard[0]];
        let slope = |way: usize, tilt: f64| panels[way].deadrise_rad.tan() + tilt;
        let lines = &self.lines[way];
        let (tilt, rise) = if inward {
            (-side * tilt, 1.0)
        } else if lines.alone() {
            (side * tilt, 1.0)
        } else {
            let own = slope(way, side * tilt);
            (side * tilt, rise(own, slope(1 - way, -side * tilt)))
        };
        let depths = &depths[..count];
        lines.shore(&self.x_m, depths, &Lean { tilt, rise, inward })
    }

    /// Whether one side (+1 to port) is all there is of the bottom.
    pub fn alone(&self, side: f64) -> bool {
        self.lines[usize::from(side < 0.0)].alone()
    }

    /// The wetted run, followed forward from the aft-most wet point as far as no gap is higher than spray bridges.
    pub fn wet_line(&self, motion: &Motion, around: &Surroundings) -> Option<WetLine> {
        self.line(Along::Keel, motion, around)
    }

    fn line(&self, along: Along, motion: &Motion, around: &Surroundings) -> Option<WetLine> {
        let points = match along {
            Along::Keel => &self.keel_m,
            Along::Port => &self.edges_m[0],
            Along::Starboard => &self.edges_m[1],
        };
        let walk = || wet_line(points, motion, around);
        match around.found {
            Some(found) => found.line(self.index, along, walk),
            None => walk(),
        }
    }

    /// The wetted run of whichever edge of one side lies lower, keel or chine.
    pub(crate) fn lower_line(
        &self,
        side: f64,
        motion: &Motion,
        around: &Surroundings,
    ) -> Option<WetLine> {
        let up = motion.up();
        let chine = self.edge(side);
        let lower = up.dot(&(chine[0] - self.keel_m[0])) < 0.0;
        self.line(
            if lower { outer(side) } else { Along::Keel },
            motion,
            around,
        )
    }

    /// Ahead of where the keel is wet again beyond a dry gap, and how much of what lies there still belongs to the run
    /// behind the gap: boat axes, m, and 0 to 1.
    pub(crate) fn wet_again(&self, motion: &Motion, around: &Surroundings) -> Option<(f64, f64)> {
        let mut walk = Walked::along(&self.keel_m, motion, around);
        walk.find(|next| next.1 > 0.0)?;
        loop {
            let (from, depth) = walk.find(|next| next.1 <= 0.0)?;
            let mut height_m = -depth;
            let to = walk.find(|next| {
                height_m = height_m.max(-next.1);
                next.1 > 0.0
            })?;
            let share = bridged(height_m);
            if share < 1.0 {
                return Some((0.5 * (from.x + to.0.x), share));
            }
        }
    }

    /// No water reaches the outer edge of one side anywhere.
    pub(crate) fn chine_is_clear(&self, side: f64, motion: &Motion, around: &Surroundings) -> bool {
        let highest = around.water.highest_m();
        self.edge(side).iter().all(|p| motion.height_m(p) > highest)
    }

    /// Both ends of the keel line, boat axes, m.
    pub(crate) fn ends_m(&self) -> [Vector3<f64>; 2] {
        [self.keel_m[0], self.keel_m[self.keel_m.len() - 1]]
    }

    fn edge(&self, side: f64) -> &[Vector3<f64>] {
        &self.edges_m[usize::from(side < 0.0)]
    }

    /// Slope of the keel line a quarter of the wetted keel ahead of its aft end, boat axes, rad.
    pub fn quarter_slope_rad(&self, line: &WetLine) -> f64 {
        let x = line.aft_m.x + 0.25 * line.keel_length_m;
        slope_at(&self.keel_m, x, line.keel_length_m)
    }

    /// Rise of the keel line over the last of it, m/m: water leaves the trailing edge along it.
    pub(crate) fn edge_slope(&self) -> f64 {
        let x = self.keel_m[0].x;
        (height_at(&self.keel_m, x + EDGE_M) - height_at(&self.keel_m, x)) / EDGE_M
    }

    /// Angle of attack there, bow up, rad.
    pub(crate) fn quarter_angle_rad(
        &self,
        line: &WetLine,
        motion: &Motion,
        around: &Surroundings,
    ) -> f64 {
        let point = line.aft_m + Vector3::x() * (0.25 * line.keel_length_m);
        attack(motion, around, &point, self.quarter_slope_rad(line)).0
    }

    /// The outer edge of a panel at `x`, boat axes, m; `side` is +1 to port.
    pub(crate) fn chine_at(&self, x: f64, side: f64) -> Vector3<f64> {
        let edge = self.edge(side);
        let (i, f) = segment(edge, x);
        edge[i] + (edge[i + 1] - edge[i]) * f
    }
}

/// Of the panels' outer edges; `side` is +1 to port.
fn outer_edge(keel_m: &[Vector3<f64>], panels: &[Panel], side: f64) -> Vec<Vector3<f64>> {
    let out = |(keel, panel): (&Vector3<f64>, &Panel)| {
        let rise = panel.width_m * panel.deadrise_rad.tan();
        keel + Vector3::new(0.0, side * panel.width_m, rise)
    };
    keel_m.iter().zip(panels).map(out).collect()
}

/// Points along a line from its aft end forward with their depths; between them waving water is looked at four times to
/// its shortest wave.
struct Walked<'a> {
    points: &'a [Vector3<f64>],
    motion: &'a Motion,
    around: &'a Surroundings<'a>,
    step_m: f64,
    /// The segment, and how many of its pieces are behind.
    segment: usize,
    piece: usize,
}

impl<'a> Walked<'a> {
    /// Stretches at the aft end that lie above the highest water are passed over.
    fn along(points: &'a [Vector3<f64>], motion: &'a Motion, around: &'a Surroundings<'a>) -> Self {
        let highest = around.water.highest_m();
        let high = |p: &Vector3<f64>| motion.height_m(p) > highest;
        let dry = points.windows(2).take_while(|ends| ends.iter().all(high));
        Self {
            points,
            motion,
            around,
            step_m: 0.25 * around.water.shortest_m(),
            segment: dry.count(),
            piece: 0,
        }
    }

    fn at(&self, point: Vector3<f64>) -> (Vector3<f64>, f64) {
        (point, self.around.depth_m(self.motion, &point))
    }
}

impl Iterator for Walked<'_> {
    type Item = (Vector3<f64>, f64);

    fn next(&mut self) -> Option<Self::Item> {
        let begin = self.points[self.segment.min(self.points.len() - 1)];
        let Some(end) = self.points.get(self.segment + 1) else {
            let last = self.piece == 0 && self.segment + 1 == self.points.len();
            self.segment += 1;
            return last.then(|| self.at(begin));
        };
        if self.step_m.is_infinite() {
            self.segment += 1;
            return Some(self.at(begin));
        }
        let along = end - begin;
        let pieces = (along.norm() / self.step_m).ceil().clamp(1.0, MOST_PIECES);
        let point = begin + along * (self.piece as f64 / pieces);
        self.piece += 1;
        if self.piece >= pieces as usize {
            (self.segment, self.piece) = (self.segment + 1, 0);
        }
        Some(self.at(point))
    }
}

/// Gaps are bridged by [`bridged`].
fn wet_line(points: &[Vector3<f64>], motion: &Motion, around: &Surroundings) -> Option<WetLine> {
    let mut walk = Walked::along(points, motion, around);
    let whole = walk.segment == 0;
    let mut here = walk.next()?;
    let draught_m = if whole { here.1.max(0.0) } else { 0.0 };
    let mut aft = (here.1 > 0.0).then_some(here.0);
    // Where this wet run began, the length before it, and the share that counts of what follows.
    let (mut began, mut length_m, mut share) = (here.0, 0.0, 1.0);
    // Since when it is dry, and how high above the water.
    let mut gap: Option<(Vector3<f64>, f64)> = None;
    for next in walk {
        match (aft, &mut gap) {
            (None, _) if next.1 > 0.0 => {
                began = crossing(here, next);
                aft = Some(began);
            }
            (Some(_), None) if next.1 <= 0.0 => {
                let end = crossing(here, next);
                length_m += share * (end - began).norm();
                gap = Some((end, -next.1));
            }
            (Some(_), Some((from, height_m))) => {
                *height_m = height_m.max(-next.1);
                if bridged(*height_m) <= 0.0 {
                    break;
                }
                if next.1 > 0.0 {
                    share *= bridged(*height_m);
                    began = *from;
                    gap = None;
                }
            }
            _ => {}
        }
        here = next;
    }
    if gap.is_none() {
        length_m += share * (here.0 - began).norm();
    }
    WetLine::of(aft?, length_m, draught_m)
}

/// A bottom this near above the water is wet by its spray, m (judgement).
const BRIDGED_M: f64 = 3e-4;

/// How much of what lies beyond a dry gap belongs to the wet run behind it, by how high the gap is.
fn bridged(height_m: f64) -> f64 {
    1.0 - step(0.0, BRIDGED_M, height_m)
}

/// Takes away what does not belong to the aft-most wet run of depths; false when all is dry.
fn first_run(depths: &mut [f64]) -> bool {
    let Some(mut from) = depths.iter().position(|d| *d > 0.0) else {
        return false;
    };
    while let Some(dry) = depths[from..].iter().position(|d| *d <= 0.0) {
        let gap = from + dry;
        let wet = depths[gap..].iter().position(|d| *d > 0.0);
        let Some(end) = wet.map(|wet| gap + wet) else {
            break;
        };
        let height = depths[gap..end].iter().fold(0.0f64, |h, d| h.max(-d));
        let deepest = depths[end..].iter().copied().fold(0.0, f64::max);
        let less = (1.0 - bridged(height)) * deepest;
        for depth in &mut depths[end..] {
            *depth -= less;
        }
        from = end;
        if depths[from] <= 0.0 {
            match depths[from..].iter().position(|d| *d > 0.0) {
                Some(next) => from += next,
                None => break,
            }
        }
    }
    true
}

/// Pieces of a straight run of keel that waving water is looked at by, at most.
const MOST_PIECES: f64 = 100.0;

impl WetLine {
    fn of(aft_m: Vector3<f64>, keel_length_m: f64, draught_m: f64) -> Option<Self> {
        (keel_length_m > 0.0).then_some(Self {
            aft_m,
            keel_length_m,
            draught_m,
        })
    }
}

/// Where the water's surface crosses between two points of known depth.
fn crossing(a: (Vector3<f64>, f64), b: (Vector3<f64>, f64)) -> Vector3<f64> {
    a.0 + (b.0 - a.0) * (a.1 / (a.1 - b.1))
}

fn slope_at(points: &[Vector3<f64>], x: f64, wet_length_m: f64) -> f64 {
    let half = averaged_over(wet_length_m);
    let rise = height_at(points, x + half) - height_at(points, x - half);
    (rise / (2.0 * half)).atan()
}

fn height_at(points: &[Vector3<f64>], x: f64) -> f64 {
    let (i, _) = segment(points, x);
    let (a, b) = (points[i], points[i + 1]);
    // Beyond the ends the first and last runs go on straight.
    a.z + (b.z - a.z) * (x - a.x) / (b.x - a.x)
}

/// The segment that holds `x`, and how far along it, 0 to 1.
fn segment(points: &[Vector3<f64>], x: f64) -> (usize, f64) {
    let i = points
        .partition_point(|p| p.x <= x)
        .clamp(1, points.len() - 1)
        - 1;
    let (a, b) = (points[i].x, points[i + 1].x);
    (i, ((x - a) / (b - a)).clamp(0.0, 1.0))
}

/// Slopes are taken over twice this length, m.
fn averaged_over(keel_length_m: f64) -> f64 {
    (0.05 * keel_length_m).max(5e-4)
}

/// Angle of the bottom to the water at a point, bow up, and speed along it.
fn attack(
    motion: &Motion,
    around: &Surroundings,
    point: &Vector3<f64>,
    slope_rad: f64,
) -> (f64, f64) {
    let (sin, cos) = slope_rad.sin_cos();
    let v = around.through_water(motion, point);
    let along = v.x * cos + v.z * sin;
    let normal = -v.x * sin + v.z * cos;
    ((-normal).atan2(along.max(1e-9)), along.max(0.0))
}

/// Of one side (+1 to port).
fn outer(side: f64) -> Along {
    if side > 0.0 {
        Along::Port
    } else {
        Along::Starboard
    }
}

/// Angles and speed along the wet part of a lower edge.
fn flow(points: &[Vector3<f64>], line: WetLine, motion: &Motion, around: &Surroundings) -> Flow {
    let mut flow = Flow {
        line,
        angle_rad: [0.0; PLACES],
        slope_rad: [0.0; PLACES],
        speed_m_s: 0.0,
    };
    let spacing = line.keel_length_m / (PLACES - 1) as f64;
    let (aft_x, fore_x) = (line.aft_m.x, line.aft_m.x + line.keel_length_m);
    // On still water a boat that does not turn meets the same everywhere, and most keels are straight.
    let even = around.water.is_still() && motion.rate_rad_s == Vector3::zeros();
    let mut before: Option<(f64, f64, f64)> = None;
    for place in 0..PLACES {
        let x = aft_x + spacing * place as f64;
        let (i, f) = segment(points, x);
        let (a, b) = (points[i], points[i + 1]);
        // Each place stands for the wet bottom around it, so that a corner counts as it is passed.
        let (mut low, mut high) = (
            (x - 0.5 * spacing).max(aft_x),
            (x + 0.5 * spacing).min(fore_x),
        );
        if high - low < SHORTEST_M {
            let middle = 0.5 * (low + high);
            (low, high) = (middle - 0.5 * SHORTEST_M, middle + 0.5 * SHORTEST_M);
        }
        let slope = if low >= a.x && high <= b.x {
            (b.z - a.z) / (b.x - a.x)
        } else {
            (height_at(points, high) - height_at(points, low)) / (high - low)
        };
        let (slope_rad, angle_rad) = match before {
            Some((same, slope_rad, angle_rad)) if even && same == slope => (slope_rad, angle_rad),
            _ => {
                let slope_rad = slope.atan();
                let point = a + (b - a) * f;
                let (angle_rad, speed) = attack(motion, around, &point, slope_rad);
                flow.speed_m_s = flow.speed_m_s.max(speed);
                (slope_rad, angle_rad)
            }
        };
        before = Some((slope, slope_rad, angle_rad));
        flow.angle_rad[place] = angle_rad;
        flow.slope_rad[place] = slope_rad;
    }
    flow
}

/// Stations that a straight line between kept ones misses by more than [`STRAIGHT_M`], or by as little more as
/// leaves [`MOST_STATIONS`].
fn needed(found: &RunningSurface) -> Vec<usize> {
    let mut within = STRAIGHT_M;
    loop {
        let kept = bends(found, within);
        if kept.len() <= MOST_STATIONS {
            return kept;
        }
        within *= 1.5;
    }
}

fn bends(found: &RunningSurface, within_m: f64) -> Vec<usize> {
    let count = found.stations.len();
    let mut kept = Vec::new();
    let mut from = 0;
    while from + 1 < count {
        kept.push(from);
        let mut to = from + 1;
        while to + 1 < count && (from + 1..=to).all(|i| on_line(found, from, to + 1, i, within_m)) {
            to += 1;
        }
        from = to;
    }
    kept.push(count - 1);
    kept
}

fn on_line(found: &RunningSurface, a: usize, b: usize, i: usize, within_m: f64) -> bool {
    let stations = &found.stations;
    let (p, q, s) = (&stations[a], &stations[b], &stations[i]);
    let f = (s.x_m - p.x_m) / (q.x_m - p.x_m);
    let near = |from: f64, to: f64, is: f64| (from + (to - from) * f - is).abs() < within_m;
    let heights: [fn(&SurfaceStation) -> f64; 6] = [
        |s| s.keel_y_m,
        |s| s.keel_z_m,
        |s| s.port.width_m,
        |s| s.starboard.width_m,
        |s| s.port.width_m * s.port.deadrise_rad,
        |s| s.starboard.width_m * s.starboard.deadrise_rad,
    ];
    let sections = found.across.iter().all(|across| {
        let over = &across.over;
        over.len() != stations.len()
            || (0..across.share.len()).all(|j| {
                // Shares of a width: half the beam stands for it.
                let wide = 0.5 * found.beam_m.value;
                near(wide * over[a][j], wide * over[b][j], wide * over[i][j])
            })
    });
    heights.into_iter().all(|of| near(of(p), of(q), of(s))) && sections
}
