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
        Self {
            name,
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

    /// Where and how the surface is wet, or `None` when it is clear of the water.
    pub fn wetting(&self, motion: &Motion, around: &Surroundings) -> Option<Wetting> {
        let line = self.wet_line(motion, around)?;
        Some(self.loaded(motion, around, &line))
    }

    /// The wetted run, followed forward from the aft-most wet point to the first dry one.
    pub fn wet_line(&self, motion: &Motion, around: &Surroundings) -> Option<WetLine> {
        let depth = |i: usize| around.depth_m(motion, &self.keel_m[i]);
        let last = self.keel_m.len() - 1;
        let (mut first_wet, mut before, mut here) = (0, 0.0, depth(0));
        while here <= 0.0 {
            first_wet += 1;
            if first_wet > last {
                return None;
            }
            (before, here) = (here, depth(first_wet));
        }
        let aft_m = if first_wet == 0 {
            self.keel_m[0]
        } else {
            self.crossing(first_wet - 1, first_wet, before, here)
        };
        let draught_m = if first_wet == 0 { here } else { 0.0 };
        let mut fore_m = self.keel_m[last];
        for i in first_wet..last {
            let next = depth(i + 1);
            if next <= 0.0 {
                fore_m = self.crossing(i, i + 1, here, next);
                break;
            }
            here = next;
        }
        let keel_length_m = (fore_m - aft_m).norm();
        (keel_length_m > 0.0).then_some(WetLine {
            aft_m,
            keel_length_m,
            draught_m,
        })
    }

    /// Slope of the keel line a quarter of the wetted keel ahead of its aft end, boat axes, rad.
    pub fn quarter_slope_rad(&self, line: &WetLine) -> f64 {
        let x = line.aft_m.x + 0.25 * line.keel_length_m;
        self.slope_at(x, line.keel_length_m)
    }

    /// The outer edge of a panel at `x`, boat axes, m; `side` is +1 to port.
    pub(crate) fn chine_at(&self, x: f64, side: f64) -> Vector3<f64> {
        let (i, f) = self.segment(x);
        let keel = self.keel_m[i] + (self.keel_m[i + 1] - self.keel_m[i]) * f;
        let panel = mix(
            if side > 0.0 {
                &self.port
            } else {
                &self.starboard
            },
            i,
            f,
        );
        let rise = panel.width_m * panel.deadrise_rad.tan();
        keel + Vector3::new(0.0, side * panel.width_m, rise)
    }

    /// Angle, speed and panels: those of the straight plate that would gather as much momentum.
    fn loaded(&self, motion: &Motion, around: &Surroundings, line: &WetLine) -> Wetting {
        let WetLine {
            aft_m: aft,
            keel_length_m,
            draught_m,
        } = *line;
        let quarter_x = aft.x + 0.25 * keel_length_m;
        let (i, f) = self.segment(quarter_x);
        let panels = [mix(&self.port, i, f), mix(&self.starboard, i, f)];
        let even_section = panels.map(|p| Reach::of(&p));
        let (mut curved, mut straight) = (Momentum::default(), Momentum::default());
        let mut speed_m_s: f64 = 0.0;
        for strip in 0..STRIPS {
            let ahead = 1.0 - (strip as f64 + 0.5) / STRIPS as f64;
            let x = aft.x + ahead * keel_length_m;
            let (point, slope_rad, section) = self.strip(x, keel_length_m);
            let (angle_rad, speed) = attack(motion, around, &point, slope_rad);
            let half = half_beam(&section, around.depth_m(motion, &point));
            curved.meet(half, angle_rad, ahead * keel_length_m, slope_rad);
            let even = half_beam(&even_section, draught_m * (1.0 - ahead));
            straight.meet(even, 1.0, ahead * keel_length_m, 0.0);
            speed_m_s = speed_m_s.max(speed);
        }
        let square = curved.widest * curved.widest;
        let here = self.slope_at(quarter_x, keel_length_m);
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
    fn strip(&self, x: f64, keel_length_m: f64) -> (Vector3<f64>, f64, [Reach; 2]) {
        let (i, f) = self.segment(x);
        let (a, b) = (self.keel_m[i], self.keel_m[i + 1]);
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
            self.slope_at(x, keel_length_m)
        };
        (point, slope_rad, [between(0), between(1)])
    }

    fn slope_at(&self, x: f64, keel_length_m: f64) -> f64 {
        let half = averaged_over(keel_length_m);
        let rise = self.height_at(x + half) - self.height_at(x - half);
        (rise / (2.0 * half)).atan()
    }

    fn height_at(&self, x: f64) -> f64 {
        let (i, _) = self.segment(x);
        let (a, b) = (self.keel_m[i], self.keel_m[i + 1]);
        // Beyond the ends the first and last runs go on straight.
        a.z + (b.z - a.z) * (x - a.x) / (b.x - a.x)
    }

    /// The keel segment that holds `x`, and how far along it, 0 to 1.
    fn segment(&self, x: f64) -> (usize, f64) {
        let i = self
            .keel_m
            .partition_point(|p| p.x <= x)
            .clamp(1, self.keel_m.len() - 1)
            - 1;
        let (a, b) = (self.keel_m[i].x, self.keel_m[i + 1].x);
        (i, ((x - a) / (b - a)).clamp(0.0, 1.0))
    }

    fn crossing(&self, i: usize, j: usize, depth_i: f64, depth_j: f64) -> Vector3<f64> {
        let f = depth_i / (depth_i - depth_j);
        self.keel_m[i] + (self.keel_m[j] - self.keel_m[i]) * f
    }
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
