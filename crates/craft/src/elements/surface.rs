//! How one running surface meets the water: wetted keel, angle of attack, draught.
//!
//! Geometry only; the forces are in [`super::planing`] and [`super::buoyancy`].

use std::f64::consts::FRAC_PI_2;

use form::{Panel, RunningSurface, SurfaceStation};
use nalgebra::Vector3;

use crate::motion::{Motion, Surroundings};

/// Stations this near a straight line add nothing, m.
const STRAIGHT_M: f64 = 3e-5;

/// A running surface with its keel line as points.
#[derive(Debug, Clone)]
pub struct Surface {
    /// Its name.
    pub name: String,
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
    /// Both panels again, port first.
    reach: Vec<[Reach; 2]>,
}

/// A panel as the rise of water up it sees it: its tangents are wanted thousands of times.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Reach {
    width_m: f64,
    slope: f64,
}

impl Reach {
    fn of(panel: &Panel) -> Self {
        Self {
            width_m: panel.width_m,
            slope: panel.deadrise_rad.tan(),
        }
    }
}

/// A surface in the water at one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wetting {
    /// Wetted keel from the trailing edge forward, m; 0 is dry.
    pub keel_length_m: f64,
    /// Depth of the keel's trailing edge, m.
    pub draught_m: f64,
    /// Angle of attack of the straight plate that lifts as much, bow up, rad.
    pub trim_rad: f64,
    /// Mean slope of the bottom where the lift arises, boat axes, rad.
    pub slope_rad: f64,
    /// How much further forward a curved bottom carries its lift than a straight one, m.
    pub centre_shift_m: f64,
    /// Speed along the bottom through the water, m/s.
    pub speed_m_s: f64,
    /// The aft end of the wetted keel, boat axes, m.
    pub aft_m: Vector3<f64>,
    /// Panels where the load is, port and starboard.
    pub panels: [Panel; 2],
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

/// Places along the wetted keel at which its slope and width are taken.
const STRIPS: usize = 6;

/// Momentum that a strip gives the water downward, and where it was gathered.
///
/// Slender planing theory: a strip of half-beam `c` moving down at `V tau` carries `c^2 tau`; lift
/// is its growth from the bow aft. Where it would shrink the water leaves: no suction.
#[derive(Default)]
struct Momentum {
    gathered: f64,
    moment: f64,
    slope: f64,
    widest: f64,
}

impl Momentum {
    fn meet(&mut self, half_beam_m: f64, angle_rad: f64, ahead_m: f64, slope_rad: f64) {
        let here = half_beam_m * half_beam_m * angle_rad.max(0.0);
        let gain = (here - self.gathered).max(0.0);
        self.gathered += gain;
        self.moment += gain * ahead_m;
        self.slope += gain * slope_rad;
        self.widest = self.widest.max(half_beam_m);
    }

    fn mean(&self, sum: f64, otherwise: f64) -> f64 {
        if self.gathered > 1e-15 {
            sum / self.gathered
        } else {
            otherwise
        }
    }
}

impl Surface {
    /// From the form's stations, without those that lie on the straight line between their
    /// neighbours: forces are asked for thousands of times.
    pub fn new(found: &RunningSurface) -> Self {
        let stations = needed(&found.stations);
        let keel = |s: &SurfaceStation| Vector3::new(s.x_m, s.keel_y_m, s.keel_z_m);
        Self {
            strake_m: found.strake_m,
            ..Self::from_panels(
                found.name.clone(),
                stations.iter().map(keel).collect(),
                stations.iter().map(|s| s.port).collect(),
                stations.iter().map(|s| s.starboard).collect(),
            )
        }
    }

    /// From its keel points and the panels at them.
    pub(crate) fn from_panels(
        name: String,
        keel_m: Vec<Vector3<f64>>,
        port: Vec<Panel>,
        starboard: Vec<Panel>,
    ) -> Self {
        let pairs = port.iter().zip(&starboard);
        let reach = pairs.map(|(p, s)| [Reach::of(p), Reach::of(s)]).collect();
        let edges_m = [
            outer_edge(&keel_m, &port, 1.0),
            outer_edge(&keel_m, &starboard, -1.0),
        ];
        Self {
            name,
            edges_m,
            keel_m,
            port,
            starboard,
            strake_m: None,
            reach,
        }
    }

    /// Chine to chine at the trailing edge, m.
    pub fn beam_m(&self) -> f64 {
        self.port[0].width_m + self.starboard[0].width_m
    }

    /// Where and how the surface is wet along its keel, or `None` when the keel is clear of the water.
    pub fn wetting(&self, motion: &Motion, around: &Surroundings) -> Option<Wetting> {
        let line = self.wet_line(motion, around)?;
        Some(self.loaded(motion, around, &self.keel_m, &line, |reach| *reach))
    }

    /// The same along the outer edge of one side (+1 to port), for a boat that heels until that edge is the
    /// lower one: its panel then rises inward, by `heel_rad` less its own deadrise.
    pub fn wetting_at_edge(
        &self,
        side: f64,
        heel_rad: f64,
        motion: &Motion,
        around: &Surroundings,
    ) -> Option<Wetting> {
        let points = self.edge(side);
        let line = wet_line(points, motion, around)?;
        let tilt = side * heel_rad.clamp(-1.2, 1.2).tan();
        let index = usize::from(side < 0.0);
        let inward = |reach: &[Reach; 2]| {
            let own = reach[index];
            let slope = -(own.slope + tilt) / (1.0 - own.slope * tilt).max(0.1);
            [Reach { slope, ..own }; 2]
        };
        Some(self.loaded(motion, around, points, &line, inward))
    }

    /// The wetted run, followed forward from the aft-most wet point to the first dry one.
    pub fn wet_line(&self, motion: &Motion, around: &Surroundings) -> Option<WetLine> {
        wet_line(&self.keel_m, motion, around)
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
        wet_line(if lower { chine } else { &self.keel_m }, motion, around)
    }

    /// The wetted run of the keel, or where that is dry of either outer edge.
    pub(crate) fn any_line(&self, motion: &Motion, around: &Surroundings) -> Option<WetLine> {
        let edge = |side: f64| wet_line(self.edge(side), motion, around);
        self.wet_line(motion, around)
            .or_else(|| edge(1.0))
            .or_else(|| edge(-1.0))
    }

    /// No water reaches the outer edge of one side anywhere.
    pub(crate) fn chine_is_clear(&self, side: f64, motion: &Motion, around: &Surroundings) -> bool {
        let highest = around.water.highest_m();
        let height = |p: &Vector3<f64>| motion.position_m.z + motion.up().dot(p);
        self.edge(side).iter().all(|p| height(p) > highest)
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

    /// The outer edge of a panel at `x`, boat axes, m; `side` is +1 to port.
    pub(crate) fn chine_at(&self, x: f64, side: f64) -> Vector3<f64> {
        let edge = self.edge(side);
        let (i, f) = segment(edge, x);
        edge[i] + (edge[i + 1] - edge[i]) * f
    }

    /// Angle, speed and panels: those of the straight plate that would gather as much momentum.
    fn loaded(
        &self,
        motion: &Motion,
        around: &Surroundings,
        points: &[Vector3<f64>],
        line: &WetLine,
        seen: impl Fn(&[Reach; 2]) -> [Reach; 2],
    ) -> Wetting {
        let WetLine {
            aft_m: aft,
            keel_length_m,
            draught_m,
        } = *line;
        let quarter_x = aft.x + 0.25 * keel_length_m;
        let (i, f) = segment(points, quarter_x);
        let panels = [mix(&self.port, i, f), mix(&self.starboard, i, f)];
        let even_section = seen(&panels.map(|p| Reach::of(&p)));
        let (mut curved, mut straight) = (Momentum::default(), Momentum::default());
        let mut speed_m_s: f64 = 0.0;
        for strip in 0..STRIPS {
            let ahead = 1.0 - (strip as f64 + 0.5) / STRIPS as f64;
            let x = aft.x + ahead * keel_length_m;
            let (point, slope_rad, section) = self.strip(points, x, keel_length_m);
            let (angle_rad, speed) = attack(motion, around, &point, slope_rad);
            let half = half_beam(&seen(&section), around.depth_m(motion, &point));
            curved.meet(half, angle_rad, ahead * keel_length_m, slope_rad);
            let even = half_beam(&even_section, draught_m * (1.0 - ahead));
            straight.meet(even, 1.0, ahead * keel_length_m, 0.0);
            speed_m_s = speed_m_s.max(speed);
        }
        let square = curved.widest * curved.widest;
        let here = slope_at(points, quarter_x, keel_length_m);
        Wetting {
            keel_length_m,
            draught_m,
            trim_rad: if square > 0.0 {
                curved.gathered / square
            } else {
                0.0
            },
            slope_rad: curved.mean(curved.slope, here),
            centre_shift_m: if curved.gathered > 1e-15 {
                curved.mean(curved.moment, 0.0) - straight.mean(straight.moment, 0.0)
            } else {
                0.0
            },
            speed_m_s,
            aft_m: aft,
            panels,
        }
    }

    /// Keel point, slope and section at `x`.
    ///
    /// The slope is taken over a tenth of the wetted keel, so that corners between stations do not
    /// make the force jump.
    fn strip(
        &self,
        points: &[Vector3<f64>],
        x: f64,
        keel_length_m: f64,
    ) -> (Vector3<f64>, f64, [Reach; 2]) {
        let (i, f) = segment(points, x);
        let (a, b) = (points[i], points[i + 1]);
        let point = a + (b - a) * f;
        let between = |side: usize| {
            let (a, b) = (self.reach[i][side], self.reach[i + 1][side]);
            Reach {
                width_m: a.width_m + (b.width_m - a.width_m) * f,
                slope: a.slope + (b.slope - a.slope) * f,
            }
        };
        let half = averaged_over(keel_length_m);
        let straight = x - half >= a.x && x + half <= b.x;
        let slope_rad = if straight {
            ((b.z - a.z) / (b.x - a.x)).atan()
        } else {
            slope_at(points, x, keel_length_m)
        };
        (point, slope_rad, [between(0), between(1)])
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

/// Of a line of points from its aft end forward. Between them waving water is looked at four times to its
/// shortest wave.
fn wet_line(points: &[Vector3<f64>], motion: &Motion, around: &Surroundings) -> Option<WetLine> {
    let step_m = 0.25 * around.water.shortest_m();
    let highest = around.water.highest_m();
    let mut here = (points[0], around.depth_m(motion, &points[0]));
    let draught_m = here.1.max(0.0);
    let mut aft = (here.1 > 0.0).then_some(here.0);
    for ends in points.windows(2) {
        let along = ends[1] - ends[0];
        if aft.is_none() && ends.iter().all(|p| motion.place(p).z > highest) {
            here = (ends[1], f64::NAN);
            continue;
        }
        if here.1.is_nan() {
            here.1 = around.depth_m(motion, &here.0);
        }
        let pieces = (along.norm() / step_m).ceil().clamp(1.0, MOST_PIECES);
        for piece in 1..=pieces as usize {
            let point = if piece < pieces as usize {
                ends[0] + along * (piece as f64 / pieces)
            } else {
                ends[1]
            };
            let next = (point, around.depth_m(motion, &point));
            match aft {
                None if next.1 > 0.0 => aft = Some(crossing(here, next)),
                Some(aft) if next.1 <= 0.0 => {
                    return WetLine::between(aft, crossing(here, next), draught_m);
                }
                _ => {}
            }
            here = next;
        }
    }
    WetLine::between(aft?, here.0, draught_m)
}

/// Pieces of a straight run of keel that waving water is looked at by, at most.
const MOST_PIECES: f64 = 100.0;

impl WetLine {
    fn between(aft_m: Vector3<f64>, fore_m: Vector3<f64>, draught_m: f64) -> Option<Self> {
        let keel_length_m = (fore_m - aft_m).norm();
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

/// Half the beam that water reaches at a depth of the keel, Wagner's rise included.
fn half_beam(section: &[Reach; 2], depth_m: f64) -> f64 {
    let risen = FRAC_PI_2 * depth_m.max(0.0);
    let reach = |r: &Reach| r.width_m.min(risen / r.slope.max(1e-3));
    0.5 * (reach(&section[0]) + reach(&section[1]))
}

/// Stations that a straight line between kept ones misses by more than [`STRAIGHT_M`].
fn needed(stations: &[SurfaceStation]) -> Vec<SurfaceStation> {
    let mut kept = Vec::new();
    let mut from = 0;
    while from + 1 < stations.len() {
        kept.push(stations[from]);
        let mut to = from + 1;
        while to + 1 < stations.len()
            && (from + 1..=to).all(|i| on_line(&stations[from], &stations[to + 1], &stations[i]))
        {
            to += 1;
        }
        from = to;
    }
    kept.extend(stations.last());
    kept
}

fn on_line(a: &SurfaceStation, b: &SurfaceStation, s: &SurfaceStation) -> bool {
    let f = (s.x_m - a.x_m) / (b.x_m - a.x_m);
    let misses = |of: fn(&SurfaceStation) -> f64| (of(a) + (of(b) - of(a)) * f - of(s)).abs();
    let heights: [fn(&SurfaceStation) -> f64; 6] = [
        |s| s.keel_y_m,
        |s| s.keel_z_m,
        |s| s.port.width_m,
        |s| s.starboard.width_m,
        |s| s.port.width_m * s.port.deadrise_rad,
        |s| s.starboard.width_m * s.starboard.deadrise_rad,
    ];
    heights.into_iter().all(|of| misses(of) < STRAIGHT_M)
}

fn mix(panels: &[Panel], i: usize, f: f64) -> Panel {
    let (a, b) = (panels[i], panels[i + 1]);
    Panel {
        width_m: a.width_m + (b.width_m - a.width_m) * f,
        deadrise_rad: a.deadrise_rad + (b.deadrise_rad - a.deadrise_rad) * f,
    }
}
