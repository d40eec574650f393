//! The bottom between keel and chine: pads, several deadrises, strakes, chine flats, hollows.

use super::runs::Run;
use super::{Scale, SurfaceStation};

/// How a bottom between its keel and a chine departs from one straight panel, in lines along the hull.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Across {
    /// Lines from the keel (0) to the chine (1) as shares of the panel's width, rising; none on a straight panel.
    pub share: Vec<f64>,
    /// Whether a line is the edge of a strake: the next line lies beside it, above its outer face.
    pub leaves: Vec<bool>,
    /// For each station, from the trailing edge forward, the height of each line over the straight panel from
    /// keel to chine, in widths of that panel.
    pub over: Vec<Vec<f64>>,
}

impl Across {
    /// Height over the straight panel at a station and a share of the panel's width, in widths of that panel.
    pub fn over_at(&self, station: usize, share: f64) -> f64 {
        let Some(over) = self.over.get(station) else {
            return 0.0;
        };
        let after = self.share.partition_point(|s| *s < share);
        let (Some(b), Some(a)) = (self.share.get(after), after.checked_sub(1)) else {
            return 0.0;
        };
        let width = (b - self.share[a]).max(1e-9);
        over[a] + (over[after] - over[a]) * (share - self.share[a]) / width
    }
}

/// Lines are no further apart than this, in widths of the panel.
const FURTHEST: f64 = 0.17;
/// Corners nearer to each other are one.
const NEAREST: f64 = 0.03;
/// Lines on both sides of a strake's outer face stand this far from it.
const BESIDE: f64 = 0.005;
/// Outer faces of strakes are at least this steep, rad.
const FACE: f64 = std::f64::consts::FRAC_PI_4;
/// And this many tolerances high.
const HIGH: f64 = 3.0;
/// Sections that are looked at for corners, over the forward reach of the surface.
const LOOKS: [f64; 4] = [0.04, 0.15, 0.3, 0.45];
/// Panels narrower than this share of the other side have no shape of their own.
const NARROW: f64 = 0.02;

/// A corner of a section that water notices.
#[derive(Debug, Clone, Copy)]
struct Corner {
    share: f64,
    strake: bool,
}

/// Of one side (+1 to port), at `stations` that belong to `runs`; the first station has none of its own.
pub(super) fn across(
    side: f64,
    stations: &[SurfaceStation],
    runs: &[&Run],
    scale: &Scale,
) -> Across {
    let panels = |s: &SurfaceStation| {
        if side > 0.0 {
            (s.port, s.starboard)
        } else {
            (s.starboard, s.port)
        }
    };
    let (own, other) = panels(&stations[0]);
    if own.width_m <= NARROW * other.width_m || own.width_m <= 0.0 || runs.is_empty() {
        return Across::default();
    }
    let profile = |s: &SurfaceStation, run: &Run, share: f64| {
        let (panel, _) = panels(s);
        let out = share * panel.width_m;
        let straight = out * panel.deadrise_rad.tan();
        let z = run.z(s.keel_y_m + side * out) - s.keel_z_m;
        (z - straight) / panel.width_m.max(1e-9)
    };
    let mut corners: Vec<Corner> = Vec::new();
    for look in LOOKS {
        let i = (look * runs.len() as f64) as usize;
        let (station, run) = (&stations[(i + 1).min(stations.len() - 1)], runs[i]);
        let (panel, _) = panels(station);
        for corner in found(side, station.keel_y_m, panel.width_m, run, scale) {
            let near = |c: &&mut Corner| (c.share - corner.share).abs() < NEAREST;
            match corners.iter_mut().find(near) {
                Some(known) => known.strake |= corner.strake,
                None => corners.push(corner),
            }
        }
    }
    let (share, leaves) = lines(corners);
    let of = |s: &SurfaceStation, run: &Run| -> Vec<f64> {
        let inner = |share: f64| share > 0.0 && share < 1.0;
        let over = |u: &f64| if inner(*u) { profile(s, run, *u) } else { 0.0 };
        share.iter().map(over).collect()
    };
    let ahead = stations[1..].iter().zip(runs);
    let mut over: Vec<Vec<f64>> = ahead.map(|(s, run)| of(s, run)).collect();
    over.insert(0, over[0].clone());
    Across {
        share,
        leaves,
        over,
    }
}

/// Corners of one side of a section.
fn found(side: f64, keel_y: f64, width: f64, run: &Run, scale: &Scale) -> Vec<Corner> {
    let mut points: Vec<[f64; 2]> = (run.points.iter())
        .map(|p| [side * (p[0] - keel_y), p[1]])
        .filter(|p| p[0] > -1e-9)
        .collect();
    if side < 0.0 {
        points.reverse();
    }
    let slope = |a: [f64; 2], b: [f64; 2]| (b[1] - a[1]).atan2(b[0] - a[0]);
    let each = points.windows(3).filter_map(|p| {
        let (before, after) = (slope(p[0], p[1]), slope(p[1], p[2]));
        let share = p[1][0] / width.max(1e-9);
        let high = p[2][1] - p[1][1] > HIGH * scale.tolerance_m;
        let strake = after >= FACE && before < FACE && high;
        let turns = (after - before).abs() > 0.08;
        let inside = share > NEAREST && share < 1.0 - NEAREST;
        (inside && turns).then_some(Corner { share, strake })
    });
    each.collect()
}

/// Shares and which of them leave: every corner, both sides of every strake's face, and lines between.
fn lines(mut corners: Vec<Corner>) -> (Vec<f64>, Vec<bool>) {
    corners.sort_by(|a, b| a.share.total_cmp(&b.share));
    let mut all: Vec<(f64, bool)> = vec![(0.0, false)];
    for c in corners {
        if c.strake {
            all.push((c.share - BESIDE, true));
            all.push((c.share + BESIDE, false));
        } else if c.share - all[all.len() - 1].0 > NEAREST {
            all.push((c.share, false));
        }
    }
    all.push((1.0, false));
    let mut filled = vec![all[0]];
    for pair in all.windows(2) {
        let gap = pair[1].0 - pair[0].0;
        let parts = (gap / FURTHEST).ceil().max(1.0) as usize;
        for k in 1..parts {
            filled.push((pair[0].0 + gap * k as f64 / parts as f64, false));
        }
        filled.push(pair[1]);
    }
    filled.into_iter().unzip()
}
