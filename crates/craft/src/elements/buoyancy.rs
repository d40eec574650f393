//! Water pressure at rest, and what is left of it at speed.
//!
//! At rest this is Archimedes on the hull's columns. Under way the water breaks away from the
//! trailing edges: pressure near them is lost, and what remains no longer has the transom to push
//! against, which is the wave drag of a partly planing boat.
//!
//! - Share that remains, fully broken away: `0.0055 lambda^2.5 tau^1.1 / (lambda^2 tan tau)`, the
//!   buoyant term of Savitsky 1964 over the weight of the wedge of water it stands for, which is
//!   about `0.315 sqrt(lambda) tau^0.1` (tau in degrees, lambda the mean wetted length over the wetted beam).
//! - Breaking away: from none at a Froude number on the transom's draught of 1 to complete at 3
//!   (common practice puts a dry transom near 2.5; the blend's ends are our judgement).
//! - Checked: craft tests hold a prismatic hull against the whole 1964 method.

use std::f64::consts::FRAC_2_PI;
use std::sync::Arc;

use form::Columns;
use laws::smooth::step;
use nalgebra::Vector3;

use super::surface::{Surface, WetLine};
use crate::element::{Element, Wrench};
use crate::motion::{Controls, Motion, Surroundings};

/// Hydrostatic force on the envelope.
#[derive(Debug, Clone)]
pub struct Buoyancy {
    /// The hull as upright prisms.
    columns: Arc<Columns>,
    /// Runs of columns, so that those clear of the water are passed over together.
    runs: Vec<Stretch>,
    /// Its running surfaces: they tell how much of the pressure survives.
    surfaces: Arc<Vec<Surface>>,
    /// Depth of the deepest trailing edge at rest, m.
    rest_draught_m: f64,
    /// Multiplier on the share that survives at speed.
    share: f64,
}

/// The box around a run of neighbouring columns, down to its lowest bottom.
#[derive(Debug, Clone, Copy)]
struct Stretch {
    x: (f64, f64),
    y: (f64, f64),
    bottom: f64,
}

/// Columns in a run; a multiple of [`LANES`].
const RUN: usize = 16;

impl Stretch {
    fn of(columns: &Columns, start: usize) -> Self {
        let end = (start + RUN).min(columns.x_m.len());
        let range = |values: &[f64]| {
            let values = &values[start..end];
            let low = values.iter().copied().fold(f64::INFINITY, f64::min);
            let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            (low, high)
        };
        Self {
            x: range(&columns.x_m),
            y: range(&columns.y_m),
            bottom: range(&columns.bottom_m).0,
        }
    }

    /// Whether water no higher than this cannot reach any of it; never said of a boat on its back.
    fn is_dry(&self, plane: &Plane, highest_m: f64) -> bool {
        let most = |(low, high): (f64, f64), slope: f64| (-slope * low).max(-slope * high);
        let reach = most(self.x, plane.along) + most(self.y, plane.across) - plane.rise + highest_m;
        plane.slope > 0.0 && reach < self.bottom * plane.slope
    }
}

impl Buoyancy {
    /// From the hull's columns and running surfaces, with the depth of its deepest trailing edge
    /// at rest (m) and a multiplier on what survives at speed.
    pub fn new(
        columns: Arc<Columns>,
        surfaces: Arc<Vec<Surface>>,
        rest_draught_m: f64,
        share: f64,
    ) -> Self {
        let starts = (0..columns.x_m.len()).step_by(RUN);
        let runs = starts.map(|start| Stretch::of(&columns, start)).collect();
        Self {
            columns,
            runs,
            surfaces,
            rest_draught_m,
            share,
        }
    }
}

impl Element for Buoyancy {
    fn name(&self) -> &str {
        "buoyancy"
    }

    fn wrench(&self, motion: &Motion, around: &Surroundings, _: &Controls) -> Wrench {
        let up = motion.up();
        let immersed = self.immersed(motion, around, &up);
        if immersed.volume <= 0.0 {
            return Wrench::default();
        }
        let gamma = around.water_density_kg_m3 * around.gravity_m_s2;
        let speed = around.through_water(motion, &Vector3::zeros()).x.max(0.0);
        let away = broken_away(speed, self.rest_draught_m.max(1e-3), around.gravity_m_s2);
        let still = Wrench {
            force_n: up * (gamma * immersed.volume),
            moment_n_m: immersed.moment.cross(&up) * gamma,
        };
        if away <= 0.0 {
            return still;
        }
        let (share, drag) = self.under_way(motion, around, gamma);
        let kept = 1.0 - away * (1.0 - share);
        let mut wrench = Wrench {
            force_n: still.force_n * kept,
            moment_n_m: still.moment_n_m * kept,
        };
        wrench += scaled(drag, away * share);
        wrench
    }
}

fn scaled(wrench: Wrench, by: f64) -> Wrench {
    Wrench {
        force_n: wrench.force_n * by,
        moment_n_m: wrench.moment_n_m * by,
    }
}

const LANES: usize = 4;

/// Volume and its three first moments, of each lane.
type Sums = [[f64; LANES]; 4];

/// The still surface seen from the boat's columns.
struct Plane {
    rise: f64,
    along: f64,
    across: f64,
    slope: f64,
}

impl Plane {
    fn new(motion: &Motion, up: &Vector3<f64>) -> Self {
        // Columns that lie flat have no top or bottom; 6 degrees from the beam ends is as near
        // as they are asked to go.
        let slope = if up.z.abs() < 0.1 {
            0.1_f64.copysign(up.z)
        } else {
            up.z
        };
        Self {
            rise: motion.position_m.z,
            along: up.x,
            across: up.y,
            slope,
        }
    }
}

impl Plane {
    /// Adds the wet stretches of some columns (x, y, bottom, top, area), given the local surface's height above still
    /// water. Comparisons by hand: the library's minds what is not a number.
    fn add(&self, surface_m: f64, [x, y, bottom, top, area]: [&[f64; LANES]; 5], sum: &mut Sums) {
        let per = 1.0 / self.slope;
        let (rise, along, across) = (
            (surface_m - self.rise) * per,
            -self.along * per,
            -self.across * per,
        );
        for i in 0..LANES {
            let level = rise + along * x[i] + across * y[i];
            let (mut low, mut high) = (bottom[i], top[i]);
            if self.slope > 0.0 {
                high = if level < high { level } else { high };
            } else {
                low = if level > low { level } else { low };
            }
            let deep = high - low;
            let volume = if deep > 0.0 { deep } else { 0.0 } * area[i];
            sum[0][i] += volume;
            sum[1][i] += volume * x[i];
            sum[2][i] += volume * y[i];
            sum[3][i] += volume * 0.5 * (low + high);
        }
    }
}

/// Volume and its first moments, boat axes.
struct Immersed {
    volume: f64,
    moment: Vector3<f64>,
}

impl Buoyancy {
    fn immersed(&self, motion: &Motion, around: &Surroundings, up: &Vector3<f64>) -> Immersed {
        let plane = Plane::new(motion, up);
        let mut sum = Sums::default();
        let still = around.water.is_still();
        let highest = around.water.highest_m();
        for (run, start) in self.runs.iter().zip((0..).step_by(RUN)) {
            if run.is_dry(&plane, highest) {
                continue;
            }
            if still {
                self.cut(&plane, (start, start + RUN), 0.0, &mut sum);
                continue;
            }
            for half in [start, start + RUN / 2] {
                let height = self.height_over(half, motion, around);
                if run.is_dry(&plane, height) {
                    continue;
                }
                self.cut(&plane, (half, half + RUN / 2), height, &mut sum);
            }
        }
        let total = |k: usize| sum[k].iter().sum();
        Immersed {
            volume: total(0),
            moment: Vector3::new(total(1), total(2), total(3)),
        }
    }

    /// One height for the half of a run from here on: its columns lie closer than waves are short.
    fn height_over(&self, first: usize, motion: &Motion, around: &Surroundings) -> f64 {
        let c = &*self.columns;
        let last = c.x_m.len() - 1;
        let (a, b) = (first.min(last), (first + RUN / 2 - 1).min(last));
        let middle = |v: &[f64]| 0.5 * (v[a] + v[b]);
        let foot = Vector3::new(middle(&c.x_m), middle(&c.y_m), middle(&c.bottom_m));
        let foot = motion.place(&foot);
        around.water.height_m(foot.x, foot.y, motion.time_s)
    }

    /// Adds the wet part of some columns, in four lanes, so that the compiler may work on several of
    /// them at once.
    fn cut(&self, plane: &Plane, (first, end): (usize, usize), surface_m: f64, sum: &mut Sums) {
        let c = &*self.columns;
        let end = end.min(c.x_m.len());
        let first = first.min(end);
        let (x, x_rest) = c.x_m[first..end].as_chunks::<LANES>();
        let (y, y_rest) = c.y_m[first..end].as_chunks();
        let (bottom, bottom_rest) = c.bottom_m[first..end].as_chunks();
        let (top, top_rest) = c.top_m[first..end].as_chunks();
        let (area, area_rest) = c.area_m2[first..end].as_chunks();
        for i in 0..x.len() {
            plane.add(
                surface_m,
                [&x[i], &y[i], &bottom[i], &top[i], &area[i]],
                sum,
            );
        }
        if !x_rest.is_empty() {
            // Columns of no area.
            let filled = [x_rest, y_rest, bottom_rest, top_rest, area_rest].map(|rest| {
                let mut lanes = [0.0; LANES];
                lanes[..rest.len()].copy_from_slice(rest);
                lanes
            });
            plane.add(surface_m, filled.each_ref(), sum);
        }
    }

    /// Share of the pressure that survives, and the drag of the dry trailing edges (at share 1).
    fn under_way(&self, motion: &Motion, around: &Surroundings, gamma: f64) -> (f64, Wrench) {
        let mut drag = Wrench::default();
        let (mut weighted, mut weights) = (0.0, 0.0);
        let trim_rad = motion.up().x.asin();
        for surface in self.surfaces.iter() {
            let Some(line) = surface.wet_line(motion, around) else {
                continue;
            };
            let beam_m = surface.beam_m();
            let angle_rad = trim_rad + surface.quarter_slope_rad(&line);
            let weight = beam_m * line.keel_length_m * line.draught_m;
            weighted += weight * surviving_share(mean_wetted_ratio(surface, &line), angle_rad);
            weights += weight;
            drag += dry_edge(surface, &line, gamma);
        }
        let share = if weights > 0.0 {
            weighted / weights
        } else {
            0.5
        };
        ((share * self.share).min(1.0), drag)
    }
}

/// Mean wetted length over wetted beam of a bottom whose keel is straight: water reaches the chines when the
/// keel is `2 / pi` of their height deep; before that the wetted triangle keeps its shape.
fn mean_wetted_ratio(surface: &Surface, line: &WetLine) -> f64 {
    let rise = |p: &form::Panel| p.width_m * p.deadrise_rad.tan();
    let beam_m = surface.beam_m();
    let chines_m = (rise(&surface.port[0]) * surface.port[0].width_m
        + rise(&surface.starboard[0]) * surface.starboard[0].width_m)
        / beam_m;
    let dry = FRAC_2_PI * chines_m.max(0.0) / line.draught_m.max(1e-9);
    // `1 - dry / 2` while chines are wet, `dry / 2` while they are not, without a corner between.
    let mean = 0.5 * (1.0 + (1.0 - dry).hypot(0.2 * dry.min(1.0).sqrt()));
    line.keel_length_m * mean / beam_m
}

fn surviving_share(lambda: f64, trim_rad: f64) -> f64 {
    let lambda = lambda.clamp(0.25, 8.0);
    let trim_deg = trim_rad.to_degrees().clamp(0.5, 15.0);
    (0.315 * lambda.sqrt() * trim_deg.powf(0.1)).min(1.0)
}

/// The push a flooded trailing edge would have given forward, missing when it is dry.
fn dry_edge(surface: &Surface, line: &WetLine, gamma: f64) -> Wrench {
    let panels = [&surface.port[0], &surface.starboard[0]];
    let push: f64 = panels
        .iter()
        .map(|p| pressure_on_edge(line.draught_m, p))
        .sum();
    Wrench::at(&line.aft_m, Vector3::new(-gamma * push, 0.0, 0.0))
}

/// Integral of depth over the immersed edge of one panel: half the square of the depth, across.
fn pressure_on_edge(draught_m: f64, panel: &form::Panel) -> f64 {
    let rise = panel.width_m * panel.deadrise_rad.tan();
    let outer = (draught_m - rise).max(0.0);
    let width = if rise > draught_m {
        panel.width_m * draught_m / rise
    } else {
        panel.width_m
    };
    // Depth runs straight from `draught` to `outer`: mean of its square.
    width * 0.5 * (draught_m * draught_m + draught_m * outer + outer * outer) / 3.0
}

/// How far the water has broken away from a trailing edge: 0 at rest to 1 where it runs dry.
pub fn broken_away(speed_m_s: f64, draught_m: f64, gravity_m_s2: f64) -> f64 {
    step(1.0, 3.0, speed_m_s / (gravity_m_s2 * draught_m).sqrt())
}
