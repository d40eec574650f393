//! Keel line, angle, beam and deadrise of one stretch of bottom.

use boat::Measure;

use super::across::across;
use super::ends::{Stretch, height};
use super::runs::Run;
use super::tracks::Frame;
use super::{Panel, RunningSurface, Scale, Side, SurfaceStation};

/// A bottom steeper than this along the hull does not carry it, rad.
const STEEPEST: f64 = 25.0 * std::f64::consts::PI / 180.0;
/// Frames over which a section's shape is compared.
const STEADY: usize = 24;
/// Of a section's width: a keel that moves further from one section to the next is another one.
const LEAP: f64 = 0.1;
/// 95 % half-widths of what a mesh in whole facets leaves open even where the fit is perfect.
const ANGLE_SPREAD: f64 = 3e-4;
const LENGTH_SPREAD_M: f64 = 5e-5;

/// The running surface on a stretch, named later; `None` when it carries nothing.
pub(super) fn surface(
    stretch: &Stretch,
    frames: &[Frame],
    scale: &Scale,
) -> Option<RunningSurface> {
    let side = side(stretch);
    let mut found = along(stretch, side, scale);
    let edge = stretch.edge_x;
    let long = found[found.len() - 1].x_m - edge;
    // A run that appears ahead of the edge goes on from another surface.
    if found[0].x_m - edge > 4.0 * scale.spacing_m() {
        return None;
    }
    // Clear of the edge, but not of a short surface.
    let clear = (0.1 * long).min(0.012 * scale.beam_m);
    steady_keel(stretch, &mut found, scale);
    let mut straight = straight_run(&found, edge + clear, scale)?;
    let mut keel = Line::through(straight, |s| s.keel_z_m);
    let edge_radius_m = edge_radius(stretch, &keel, straight, scale);
    if edge_radius_m > 0.5 * clear {
        straight = straight_run(&found, edge + 1.5 * edge_radius_m, scale)?;
        keel = Line::through(straight, |s| s.keel_z_m);
    }
    let beam = Line::steady(aft(straight), |s| s.port.width_m + s.starboard.width_m);
    let angle = keel.slope.atan();
    let shelter = keel.at(edge) - floor(frames, edge);
    let narrow = beam.at(edge) < scale.narrowest_m;
    if long < scale.shortest_m || narrow || angle.abs() > STEEPEST || shelter > scale.sheltered_m {
        return None;
    }
    let end = straight[straight.len() - 1].x_m;
    let stations = stations(one_keel(&found, end), straight, edge);
    let first = stations[0];
    let near = near(stretch, straight);
    let face = mean(near.iter().map(|run| face_deadrise(run)));
    let ahead = stretch.track.at.iter().filter(|(x, _)| *x > edge + 1e-6);
    let runs: Vec<&Run> = (ahead.map(|(_, run)| run))
        .take(stations.len() - 1)
        .collect();
    let shape = |side: f64| across(side, &stations, &runs, scale);
    let across = [shape(1.0), shape(-1.0)];
    Some(RunningSurface {
        name: String::new(),
        side,
        angle_rad: Measure::given(angle).with_spread(keel.slope_spread + ANGLE_SPREAD),
        beam_m: Measure::given(first.port.width_m + first.starboard.width_m)
            .with_spread(beam.mean_spread + LENGTH_SPREAD_M),
        deadrise_rad: Measure::given(mean_deadrise(&first)).with_spread(deadrise_spread(straight)),
        face_deadrise_rad: Measure::given(face).with_spread(deadrise_spread(straight)),
        keel_flat_m: mean(near.iter().map(|run| keel_flat(run, scale))),
        across,
        strake_m: None,
        trailing_edge_m: [edge, first.keel_y_m, first.keel_z_m],
        step: edge > frames[0].x + 0.02 * scale.length_m,
        edge_radius_m,
        stations,
    })
}

fn side(stretch: &Stretch) -> Side {
    let n = stretch.track.at.len();
    let (_, run) = &stretch.track.at[n.min(8) / 2];
    let middle = (run.low()[0] + run.high()[0]) / 2.0;
    if middle.abs() < 0.25 * run.width() {
        Side::Centre
    } else if middle > 0.0 {
        Side::Port
    } else {
        Side::Starboard
    }
}

/// Every frame's section. Where across the run the keel lies is the median over a few frames:
/// on a rough flat any point may be the lowest.
fn along(stretch: &Stretch, side: Side, scale: &Scale) -> Vec<SurfaceStation> {
    let at = &stretch.track.at;
    let share = |run: &Run| (keel_y(run, side, scale) - run.low()[0]) / run.width();
    let shares: Vec<f64> = at.iter().map(|(_, run)| share(run)).collect();
    let place = |i: usize| {
        let mut near = shares[i.saturating_sub(4)..(i + 5).min(shares.len())].to_vec();
        let usual = median(&mut near);
        // What differs little follows the hull, what differs much is roughness.
        if (shares[i] - usual).abs() < 0.02 {
            shares[i]
        } else {
            usual
        }
    };
    (at.iter().enumerate())
        .map(|(i, (x, run))| station(*x, run, run.low()[0] + place(i) * run.width()))
        .collect()
}

/// Where the keel stays, but for roughness, equally far below the middle of the section, the middle
/// tells its height better than the keel itself.
fn steady_keel(stretch: &Stretch, found: &mut [SurfaceStation], scale: &Scale) {
    let middles: Vec<f64> = stretch
        .track
        .at
        .iter()
        .map(|(_, run)| run.mean_z())
        .collect();
    for from in (0..found.len()).step_by(STEADY) {
        let part = from..(from + STEADY).min(found.len());
        let mut depths: Vec<f64> = part
            .clone()
            .map(|i| middles[i] - found[i].keel_z_m)
            .collect();
        let limit = (8.0 * roughness(&depths)).min(scale.tolerance_m);
        let depth = median(&mut depths);
        for i in part {
            let steady = middles[i] - depth;
            if (steady - found[i].keel_z_m).abs() <= limit {
                found[i].keel_z_m = steady;
            }
        }
    }
}

fn station(x: f64, run: &Run, keel_y_m: f64) -> SurfaceStation {
    let keel_z_m = run.z(keel_y_m);
    let panel = |end: [f64; 2]| {
        let width = (end[0] - keel_y_m).abs();
        if width < 1e-9 {
            return Panel {
                width_m: 0.0,
                deadrise_rad: 0.0,
            };
        }
        Panel {
            width_m: width,
            deadrise_rad: ((end[1] - keel_z_m) / width).atan(),
        }
    };
    SurfaceStation {
        x_m: x,
        keel_y_m,
        keel_z_m,
        port: panel(run.high()),
        starboard: panel(run.low()),
    }
}

/// Lowest point; on a flat the middle of a centre bottom, the inner edge of a side one.
fn keel_y(run: &Run, side: Side, scale: &Scale) -> f64 {
    let [low, high] = run.plateau(scale.tolerance_m.max(4e-3 * run.width()));
    let near = 0.02 * run.width();
    let to_low = low - run.low()[0] <= near;
    let to_high = run.high()[0] - high <= near;
    match side {
        Side::Port if to_low => run.low()[0],
        Side::Port if to_high => run.high()[0],
        Side::Starboard if to_high => run.high()[0],
        Side::Starboard if to_low => run.low()[0],
        _ => (low + high) / 2.0,
    }
}

/// As far as the keel goes on: ahead of `end`, where it leaps across the section another keel has become the lower one.
fn one_keel(found: &[SurfaceStation], end: f64) -> &[SurfaceStation] {
    let leaps = |pair: &[SurfaceStation]| {
        let across = (pair[1].keel_y_m - pair[0].keel_y_m).abs();
        let wide = pair[0].port.width_m + pair[0].starboard.width_m;
        pair[1].x_m > end && across > LEAP * wide
    };
    let kept = found.windows(2).position(leaps);
    &found[..kept.map_or(found.len(), |i| i + 1)]
}

/// Stations from just ahead of the trailing edge as far as the keel runs straight.
fn straight_run<'a>(
    found: &'a [SurfaceStation],
    edge: f64,
    scale: &Scale,
) -> Option<&'a [SurfaceStation]> {
    let long = found[found.len() - 1].x_m - edge;
    // Clear of a rounded edge, but not of a short surface.
    let clear = edge + (0.1 * long).min(0.012 * scale.beam_m);
    let first = found
        .partition_point(|s| s.x_m < clear)
        .min(found.len().saturating_sub(3));
    let run = &found[first..];
    let heights: Vec<f64> = run.iter().map(|s| s.keel_z_m).collect();
    let limit = (0.7 * scale.tolerance_m).max(4.0 * roughness(&heights));
    let straight = |n: usize| {
        let line = Line::through(&run[..n], |s| s.keel_z_m);
        let off = |s: &SurfaceStation| (line.at(s.x_m) - s.keel_z_m).abs();
        // One station in twenty may stray on a rough mesh, but not the last.
        let stray = run[..n].iter().filter(|s| off(s) > limit).count();
        let wild = run[..n].iter().any(|s| off(s) > 4.0 * limit);
        20 * stray <= n && !wild && off(&run[n - 1]) <= limit
    };
    let long = (3..=run.len()).rev().find(|n| straight(*n));
    long.map(|n| &run[..n])
}

/// The part of the straight run next to the trailing edge: widths and deadrise may change along
/// a bottom whose keel is straight.
fn aft(straight: &[SurfaceStation]) -> &[SurfaceStation] {
    &straight[..straight.len().div_ceil(3).clamp(6, 12).min(straight.len())]
}

/// Standard deviation from one value to the next, robust against corners.
fn roughness(values: &[f64]) -> f64 {
    let bend = |p: &[f64]| (p[0] - 2.0 * p[1] + p[2]).abs();
    let mut bends: Vec<f64> = values.windows(3).map(bend).collect();
    // Of a normal distribution, the median is 0.674 deviations; three points add their variances.
    median(&mut bends) / (0.674 * 6f64.sqrt())
}

/// Least squares line with 95 % half-widths.
struct Line {
    middle: f64,
    mean: f64,
    slope: f64,
    slope_spread: f64,
    mean_spread: f64,
}

impl Line {
    fn through(stations: &[SurfaceStation], value: impl Fn(&SurfaceStation) -> f64) -> Line {
        let n = stations.len() as f64;
        let middle = stations.iter().map(|s| s.x_m).sum::<f64>() / n;
        let mean = stations.iter().map(&value).sum::<f64>() / n;
        let (mut xx, mut xv) = (0.0, 0.0);
        for s in stations {
            xx += (s.x_m - middle).powi(2);
            xv += (s.x_m - middle) * (value(s) - mean);
        }
        let slope = xv / xx;
        let off = |s: &SurfaceStation| value(s) - mean - slope * (s.x_m - middle);
        let squares: f64 = stations.iter().map(|s| off(s).powi(2)).sum();
        let sigma = (squares / (n - 2.0).max(1.0)).sqrt();
        Line {
            middle,
            mean,
            slope,
            slope_spread: 2.0 * sigma / xx.sqrt(),
            mean_spread: 2.0 * sigma / n.sqrt(),
        }
    }

    /// The same without stations that stray: more than four robust deviations off the line of
    /// median slope.
    fn steady(stations: &[SurfaceStation], value: impl Fn(&SurfaceStation) -> f64) -> Line {
        let mut slopes = Vec::new();
        for (i, a) in stations.iter().enumerate() {
            for b in &stations[i + 1..] {
                slopes.push((value(b) - value(a)) / (b.x_m - a.x_m));
            }
        }
        let slope = median(&mut slopes);
        let level = |s: &SurfaceStation| value(s) - slope * s.x_m;
        let mut levels: Vec<f64> = stations.iter().map(level).collect();
        let middle = median(&mut levels);
        let off = |s: &SurfaceStation| (level(s) - middle).abs();
        let mut offs: Vec<f64> = stations.iter().map(off).collect();
        let limit = 4.0 * median(&mut offs) / 0.674 + 1e-9;
        let kept: Vec<SurfaceStation> = (stations.iter())
            .filter(|s| off(s) <= limit)
            .copied()
            .collect();
        Line::through(if kept.len() < 3 { stations } else { &kept }, value)
    }

    fn at(&self, x: f64) -> f64 {
        self.mean + self.slope * (x - self.middle)
    }
}

fn median(values: &mut [f64]) -> f64 {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied().unwrap_or(0.0)
}

/// The found stations ahead of the trailing edge, and one on it by the straight run's lines,
/// which also replace what a rounded edge bends.
fn stations(
    found: &[SurfaceStation],
    straight: &[SurfaceStation],
    edge: f64,
) -> Vec<SurfaceStation> {
    let keel = Line::through(straight, |s| s.keel_z_m);
    let near = |value: fn(&SurfaceStation) -> f64| Line::steady(aft(straight), value);
    let keel_y = near(|s| s.keel_y_m);
    let port = [near(|s| s.port.width_m), near(|s| s.port.deadrise_rad)];
    let starboard = [
        near(|s| s.starboard.width_m),
        near(|s| s.starboard.deadrise_rad),
    ];
    let panel = |lines: &[Line; 2], x: f64| Panel {
        width_m: lines[0].at(x).max(0.0),
        deadrise_rad: lines[1].at(x),
    };
    let fitted = |x: f64| SurfaceStation {
        x_m: x,
        keel_y_m: keel_y.at(x),
        keel_z_m: keel.at(x),
        port: panel(&port, x),
        starboard: panel(&starboard, x),
    };
    let (from, to) = (straight[0].x_m, straight[straight.len() - 1].x_m);
    let mut stations = vec![fitted(edge)];
    for s in found.iter().filter(|s| s.x_m > edge + 1e-6) {
        stations.push(match s.x_m {
            x if x < from => fitted(x),
            x if x <= to => SurfaceStation {
                keel_z_m: keel.at(x),
                ..*s
            },
            _ => *s,
        });
    }
    stations
}

/// Runs over the aft part of the straight run.
fn near<'a>(stretch: &'a Stretch, straight: &[SurfaceStation]) -> Vec<&'a Run> {
    let straight = aft(straight);
    let (from, to) = (straight[0].x_m, straight[straight.len() - 1].x_m);
    let inside = |x: f64| x >= from && x <= to;
    let at = stretch.track.at.iter().filter(|(x, _)| inside(*x));
    at.map(|(_, run)| run).collect()
}

/// Rise of the widest straight face; the mean of the widest two when they mirror each other.
fn face_deadrise(run: &Run) -> f64 {
    let mut faces: Vec<(f64, f64)> = run
        .faces()
        .iter()
        .map(|f| (f.width(), f.slope().abs()))
        .collect();
    faces.sort_by(|a, b| b.0.total_cmp(&a.0));
    match faces.as_slice() {
        [a, b, ..] if b.0 > 0.8 * a.0 => (a.0 * a.1 + b.0 * b.1) / (a.0 + b.0),
        [a, ..] => a.1,
        [] => 0.0,
    }
}

fn keel_flat(run: &Run, scale: &Scale) -> f64 {
    let [low, high] = run.plateau(scale.tolerance_m);
    let floor = run.z((low + high) / 2.0);
    // The plateau reaches a little up the panels beside a flat: count only level pieces.
    let level = |p: &&[[f64; 2]]| {
        let rise = (p[1][1] - p[0][1]).abs();
        rise < 0.03 * (p[1][0] - p[0][0]) && p[0][1] - floor < 2.0 * scale.tolerance_m
    };
    let pieces = run.points.windows(2).filter(level);
    let width = |p: &[[f64; 2]]| (p[1][0].min(high) - p[0][0].max(low)).max(0.0);
    pieces.map(width).sum()
}

fn mean_deadrise(station: &SurfaceStation) -> f64 {
    let (p, s) = (station.port, station.starboard);
    let width = p.width_m + s.width_m;
    if width == 0.0 {
        return 0.0;
    }
    (p.width_m * p.deadrise_rad + s.width_m * s.deadrise_rad) / width
}

fn deadrise_spread(straight: &[SurfaceStation]) -> f64 {
    Line::steady(aft(straight), mean_deadrise).mean_spread + ANGLE_SPREAD
}

fn mean(values: impl Iterator<Item = f64> + Clone) -> f64 {
    let n = values.clone().count();
    values.sum::<f64>() / n.max(1) as f64
}

/// Lowest point of the frame nearest to x.
fn floor(frames: &[Frame], x: f64) -> f64 {
    let i = frames.partition_point(|f| f.x < x).min(frames.len() - 1);
    frames[i].floor
}

/// A rounding leaves the keel's line by its radius where it turns upright, over a length of the
/// same order; a face that leans does so at once.
fn edge_radius(stretch: &Stretch, keel: &Line, straight: &[SurfaceStation], scale: &Scale) -> f64 {
    // The buttock lies beside the keel: compare with its own straight run.
    let from = [straight[0].x_m, height(&stretch.profile, straight[0].x_m)];
    let rise = |p: &[f64; 2]| p[1] - from[1] - keel.slope * (p[0] - from[0]);
    let radius = rise(&stretch.profile[0]);
    let bent = stretch
        .profile
        .iter()
        .take_while(|p| rise(p) > 0.2 * radius);
    let long = bent.last().map_or(0.0, |p| p[0] - stretch.edge_x);
    if radius < scale.tolerance_m || long < 0.2 * radius {
        0.0
    } else {
        radius
    }
}
