//! How one running surface meets the water: wetted keel, angle of attack, draught.
//!
//! Geometry only; the forces are in [`super::planing`] and [`super::buoyancy`].

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
}

/// A surface in the water at one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wetting {
    /// Wetted keel from the trailing edge forward, m; 0 is dry.
    pub keel_length_m: f64,
    /// Depth of the keel's trailing edge, m.
    pub draught_m: f64,
    /// Angle of attack of the bottom on the water, bow up, rad.
    pub trim_rad: f64,
    /// Slope of the bottom in boat axes where the angle was taken, rad.
    pub slope_rad: f64,
    /// Speed along the bottom through the water, m/s.
    pub speed_m_s: f64,
    /// The aft end of the wetted keel, boat axes, m.
    pub aft_m: Vector3<f64>,
    /// Panels where the load is, port and starboard.
    pub panels: [Panel; 2],
}

impl Surface {
    /// From the form's stations, without those that lie on the straight line between their
    /// neighbours: forces are asked for thousands of times.
    pub fn new(found: &RunningSurface) -> Self {
        let stations = needed(&found.stations);
        Self {
            name: found.name.clone(),
            keel_m: stations
                .iter()
                .map(|s| Vector3::new(s.x_m, s.keel_y_m, s.keel_z_m))
                .collect(),
            port: stations.iter().map(|s| s.port).collect(),
            starboard: stations.iter().map(|s| s.starboard).collect(),
        }
    }

    /// Chine to chine at the trailing edge, m.
    pub fn beam_m(&self) -> f64 {
        self.port[0].width_m + self.starboard[0].width_m
    }

    /// Where and how the surface is wet, or `None` when it is clear of the water.
    ///
    /// The wetted run is followed forward from the aft-most wet point to the first dry one.
    pub fn wetting(&self, motion: &Motion, around: &Surroundings) -> Option<Wetting> {
        let depth = |i: usize| around.depth_m(motion, &self.keel_m[i]);
        let last = self.keel_m.len() - 1;
        let first_wet = (0..=last).find(|&i| depth(i) > 0.0)?;
        let aft = if first_wet == 0 {
            self.keel_m[0]
        } else {
            self.crossing(
                first_wet - 1,
                first_wet,
                depth(first_wet - 1),
                depth(first_wet),
            )
        };
        let mut fore = self.keel_m[last];
        for i in first_wet..last {
            let (a, b) = (depth(i), depth(i + 1));
            if b <= 0.0 {
                fore = self.crossing(i, i + 1, a, b);
                break;
            }
        }
        let keel_length_m = (fore - aft).norm();
        if keel_length_m <= 0.0 {
            return None;
        }
        Some(self.loaded(motion, around, aft, keel_length_m))
    }

    /// Angle, speed and panels a quarter of the wetted keel ahead of its aft end: the point whose
    /// slope sets the circulation of a thin curved plate (three-quarter-chord rule).
    fn loaded(
        &self,
        motion: &Motion,
        around: &Surroundings,
        aft: Vector3<f64>,
        keel_length_m: f64,
    ) -> Wetting {
        let x = aft.x + 0.25 * keel_length_m;
        let (i, f) = self.segment(x);
        let (a, b) = (self.keel_m[i], self.keel_m[i + 1]);
        let point = a + (b - a) * f;
        let slope_rad = self.slope_at(x, keel_length_m);
        let (sin, cos) = slope_rad.sin_cos();
        let v = around.through_water(motion, &point);
        let along = v.x * cos + v.z * sin;
        let normal = -v.x * sin + v.z * cos;
        Wetting {
            keel_length_m,
            draught_m: around.depth_m(motion, &aft),
            trim_rad: (-normal).atan2(along.max(1e-9)),
            slope_rad,
            speed_m_s: along.max(0.0),
            aft_m: aft,
            panels: [mix(&self.port, i, f), mix(&self.starboard, i, f)],
        }
    }

    /// Slope of the keel line at `x`, taken over a tenth of the wetted keel so that the corners
    /// between stations do not make the force jump.
    fn slope_at(&self, x: f64, keel_length_m: f64) -> f64 {
        let half = (0.05 * keel_length_m).max(5e-4);
        let ahead = self.height_at(x + half);
        let behind = self.height_at(x - half);
        ((ahead - behind) / (2.0 * half)).atan()
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
