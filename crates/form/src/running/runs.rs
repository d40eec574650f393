//! Runs of the bottom on one frame: from chine to chine.

use super::Scale;
use super::refine;
use super::underside::Chain;

/// Steeper than this is a side, not a bottom.
const SIDE: f64 = std::f64::consts::FRAC_PI_4;
/// An outer face at least this steep, rad, and this much steeper than the bottom beside it is a
/// non-trip bevel, if the bottom beside it is no mere keel pad.
const BEVEL: f64 = 25.0 * std::f64::consts::PI / 180.0;
const BEVEL_KINK: f64 = 20.0 * std::f64::consts::PI / 180.0;
/// Least width of that bottom over the bevel's, for one that has its own panel on the other side
/// and for one that ends there.
const BEVEL_SHARE: [f64; 2] = [0.4, 0.2];
/// Straight pieces at least this fraction of the run's width are faces, shorter ones belong to a
/// rounding.
const FACE: f64 = 0.12;

/// The bottom on one frame between two chines, (y, z) from starboard to port.
#[derive(Debug, Clone)]
pub(super) struct Run {
    /// Corners of the simplified bottom.
    pub points: Chain,
}

impl Run {
    pub(super) fn low(&self) -> [f64; 2] {
        self.points[0]
    }

    pub(super) fn high(&self) -> [f64; 2] {
        self.points[self.points.len() - 1]
    }

    pub(super) fn width(&self) -> f64 {
        self.high()[0] - self.low()[0]
    }

    /// Height of the bottom at `y`.
    pub(super) fn z(&self, y: f64) -> f64 {
        let pair = (self.points.windows(2)).find(|p| y <= p[1][0] && p[1][0] > p[0][0]);
        pair.map_or(self.high()[1], |p| on_line(p[0], p[1], y.max(p[0][0])))
    }

    /// Mean height over the width.
    pub(super) fn mean_z(&self) -> f64 {
        let strip = |p: &[[f64; 2]]| (p[0][1] + p[1][1]) / 2.0 * (p[1][0] - p[0][0]);
        self.points.windows(2).map(strip).sum::<f64>() / self.width()
    }

    /// Lowest point.
    pub(super) fn lowest(&self) -> f64 {
        self.points
            .iter()
            .map(|p| p[1])
            .fold(f64::INFINITY, f64::min)
    }

    /// Straight stretches; short pieces of roundings and chine flats are left out.
    pub(super) fn faces(&self) -> Vec<Face> {
        faces(self)
    }

    /// Stretch of the run that lies within `tolerance` of its lowest point, around that point.
    pub(super) fn plateau(&self, tolerance: f64) -> [f64; 2] {
        let floor = self.lowest();
        let bottom = self.points.iter().position(|p| p[1] == floor).unwrap_or(0);
        let mut ends = [self.points[bottom][0]; 2];
        let ahead = self.points[bottom..].windows(2).map(|p| [p[0], p[1]]);
        for [a, b] in ahead {
            let (y, whole) = reach(a, b, floor + tolerance);
            ends[1] = y;
            if !whole {
                break;
            }
        }
        for p in self.points[..=bottom].windows(2).rev() {
            let (y, whole) = reach(p[1], p[0], floor + tolerance);
            ends[0] = y;
            if !whole {
                break;
            }
        }
        ends
    }
}

/// How far from `a` to `b` the line stays below `ceiling`, and whether that is all the way.
fn reach(a: [f64; 2], b: [f64; 2], ceiling: f64) -> (f64, bool) {
    if b[1] <= ceiling {
        return (b[0], true);
    }
    let t = ((ceiling - a[1]) / (b[1] - a[1])).clamp(0.0, 1.0);
    (a[0] + (b[0] - a[0]) * t, false)
}

/// Runs of the bottom on one frame from starboard to port.
pub(super) fn runs(chains: &[Chain], scale: &Scale) -> Vec<Run> {
    let mut runs = Vec::new();
    for chain in chains {
        let corners = refine::corners(chain, scale.tolerance_m);
        bottoms(&corners, scale, &mut runs);
    }
    let mut runs: Vec<Run> = runs.into_iter().map(without_bevels).collect();
    runs.retain(|r| r.width() >= scale.narrowest_m);
    bridge_skegs(runs, scale)
}

/// Stretches between sides. A rise of less than a strake does not end the bottom.
fn bottoms(corners: &[[f64; 2]], scale: &Scale, runs: &mut Vec<Run>) {
    let steep = |i: usize| slope(corners[i], corners[i + 1]).abs() >= SIDE;
    let (mut first, mut before, mut i) = (0, None, 0);
    while i + 1 < corners.len() {
        let mut end = i + 1;
        let (mut least, mut most) = (corners[i][1], corners[i][1]);
        while steep(i) && end + 1 < corners.len() && steep(end) {
            end += 1;
        }
        for corner in &corners[i..=end] {
            (least, most) = (least.min(corner[1]), most.max(corner[1]));
        }
        if steep(i) && most - least > scale.strake_m {
            let side = longest(&corners[i..=end]);
            runs.extend(run(&corners[first..=i], before, Some(side)));
            (first, before) = (end, Some(side));
        }
        i = end;
    }
    runs.extend(run(&corners[first..], before, None));
}

/// The longest straight piece.
fn longest(corners: &[[f64; 2]]) -> Face {
    let pieces = corners.windows(2).map(|p| Face {
        from: p[0],
        to: p[1],
    });
    let length = |f: &Face| (f.to[0] - f.from[0]).hypot(f.to[1] - f.from[1]);
    let longest = pieces.max_by(|a, b| length(a).total_cmp(&length(b)));
    longest.unwrap_or(Face {
        from: corners[0],
        to: corners[0],
    })
}

/// A run between the sides that bound it, if it has any width; rounded chines are sharpened.
fn run(points: &[[f64; 2]], before: Option<Face>, after: Option<Face>) -> Option<Run> {
    let (first, last) = (points.first()?, points.last()?);
    if last[0] <= first[0] {
        return None;
    }
    let mut run = squared(Run {
        points: points.to_vec(),
    });
    run = mirrored(squared(mirrored(run)));
    if let Some(side) = after {
        run = sharpened(run, side);
    }
    if let Some(side) = before {
        run = mirrored(sharpened(mirrored(run), side.mirrored()));
    }
    Some(run)
}

/// A low steep piece at the end is the foot of a wall: the bottom goes on to it.
fn squared(run: Run) -> Run {
    let mut points = run.points;
    let outermost = points[points.len() - 1][0];
    let steep = |p: &[[f64; 2]]| slope(p[p.len() - 2], p[p.len() - 1]).abs() >= SIDE;
    while points.len() > 2 && steep(&points) {
        points.pop();
    }
    let [.., a, b] = points.as_mut_slice() else {
        return Run { points };
    };
    if outermost > b[0] && b[0] > a[0] {
        *b = [outermost, on_line(*a, *b, outermost)];
    }
    Run { points }
}

/// Where a rounding leads from the last face up to the side, the chine is where their lines meet.
fn sharpened(run: Run, side: Face) -> Run {
    let Some(face) = faces(&run).last().copied() else {
        return run;
    };
    let rounding: Vec<f64> = (run.points.windows(2))
        .filter(|p| p[0][0] >= face.to[0])
        .map(|p| slope(p[0], p[1]))
        .collect();
    let bends_up = rounding.iter().all(|s| *s > face.slope()) && rounding.is_sorted();
    let sharp = face.to == side.from;
    if sharp || !bends_up || side.slope() < SIDE {
        return run;
    }
    let mut points = run.points;
    points.retain(|p| p[0] <= face.to[0]);
    points.push(face.meet(&side));
    Run { points }
}

/// Cuts off non-trip bevels at both sides.
fn without_bevels(run: Run) -> Run {
    let port = without_port_bevel(run);
    mirrored(without_port_bevel(mirrored(port)))
}

fn mirrored(run: Run) -> Run {
    let points = run.points.iter().rev().map(|p| [-p[0], p[1]]).collect();
    Run { points }
}

fn without_port_bevel(run: Run) -> Run {
    let faces = faces(&run);
    let [.., bottom, bevel] = faces.as_slice() else {
        return run;
    };
    let (gentle, steep) = (bottom.slope(), bevel.slope());
    let kink = steep - gentle.abs();
    let share = bottom.width() / bevel.width();
    let least = BEVEL_SHARE[usize::from(faces.len() == 2)];
    if steep < BEVEL || kink < BEVEL_KINK || share < least {
        return run;
    }
    let corner = bottom.meet(bevel);
    let mut points: Chain = run.points;
    points.retain(|p| p[0] <= bottom.to[0] && p[0] < corner[0]);
    points.push(corner);
    if points.len() < 2 {
        points.insert(0, bottom.from);
    }
    Run { points }
}

/// A straight stretch of a section.
#[derive(Debug, Clone, Copy)]
pub(super) struct Face {
    from: [f64; 2],
    to: [f64; 2],
}

impl Face {
    /// Rise to port, rad.
    pub(super) fn slope(&self) -> f64 {
        slope(self.from, self.to)
    }

    pub(super) fn width(&self) -> f64 {
        self.to[0] - self.from[0]
    }

    fn mirrored(&self) -> Face {
        Face {
            from: [-self.to[0], self.to[1]],
            to: [-self.from[0], self.from[1]],
        }
    }

    /// Where this face's line meets the next one's: the chine, also when it is rounded.
    fn meet(&self, next: &Face) -> [f64; 2] {
        let (a, b) = (self.slope().tan(), next.slope().tan());
        let y = (next.from[1] - self.from[1] + a * self.from[0] - b * next.from[0]) / (a - b);
        let y = y.clamp(self.to[0], next.from[0].max(self.to[0]));
        [y, self.from[1] + a * (y - self.from[0])]
    }
}

fn faces(run: &Run) -> Vec<Face> {
    let least = FACE * run.width();
    let mut faces: Vec<Face> = Vec::new();
    for pair in run.points.windows(2) {
        let face = Face {
            from: pair[0],
            to: pair[1],
        };
        match faces.last_mut() {
            Some(last) if last.to == face.from && (last.slope() - face.slope()).abs() < 0.07 => {
                last.to = face.to;
            }
            _ => faces.push(face),
        }
    }
    faces.retain(|f| f.width() >= least);
    faces
}

/// A keel fin or skeg splits a bottom in two; it is one bottom.
fn bridge_skegs(runs: Vec<Run>, scale: &Scale) -> Vec<Run> {
    let mut bridged: Vec<Run> = Vec::new();
    for run in runs {
        match bridged.last_mut() {
            Some(last)
                if run.low()[0] - last.high()[0] <= scale.skeg_m
                    && (run.low()[1] - last.high()[1]).abs() <= scale.strake_m =>
            {
                last.points.extend(run.points);
            }
            _ => bridged.push(run),
        }
    }
    bridged
}

fn slope(a: [f64; 2], b: [f64; 2]) -> f64 {
    (b[1] - a[1]).atan2(b[0] - a[0])
}

fn on_line(a: [f64; 2], b: [f64; 2], at: f64) -> f64 {
    a[1] + (b[1] - a[1]) * (at - a[0]) / (b[0] - a[0])
}
