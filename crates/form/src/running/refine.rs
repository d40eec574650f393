//! A section's outline as straight stretches with their corners, whatever the facets.

use super::underside::{Chain, simplify};

/// This part of a stretch, at each end, may belong to a rounding and is not fitted.
const TRIM: f64 = 0.1;
/// Stretches shorter than this many tolerances keep their ends as found.
const SHORT: f64 = 12.0;
/// Below this turn, rad, two lines meet too flatly for their crossing to be a corner.
const FLAT_TURN: f64 = 0.08;

/// Corners of the chain: lines fitted to its stretches by least squares, weighted by length,
/// and where neighbours cross. Within about `tolerance` m of the chain; noise averages out.
pub(super) fn corners(chain: &Chain, tolerance: f64) -> Chain {
    let rough = simplify(chain, tolerance);
    let lines: Vec<Option<Line>> = (rough.windows(2))
        .map(|p| Line::along(chain, p[0], p[1], tolerance))
        .collect();
    let last = rough.len() - 1;
    let mut fine: Chain = (0..rough.len())
        .map(|i| {
            let before = if i == 0 { None } else { lines[i - 1] };
            let after = if i == last { None } else { lines[i] };
            corner(rough[i], before, after, tolerance)
        })
        .collect();
    // Crossings must not change the order along the chain.
    for i in 1..fine.len() {
        fine[i][0] = fine[i][0].max(fine[i - 1][0]);
    }
    fine
}

fn corner(rough: [f64; 2], before: Option<Line>, after: Option<Line>, tolerance: f64) -> [f64; 2] {
    match (before, after) {
        (Some(a), Some(b)) if a.turn(&b).abs() > FLAT_TURN => {
            let crossing = a.cross(&b);
            let off = (crossing[0] - rough[0]).hypot(crossing[1] - rough[1]);
            if off < 6.0 * tolerance {
                crossing
            } else {
                rough
            }
        }
        (Some(a), Some(b)) => {
            let z = (a.raise(rough)[1] + b.raise(rough)[1]) / 2.0;
            [rough[0], z]
        }
        (Some(line), None) | (None, Some(line)) => line.raise(rough),
        (None, None) => rough,
    }
}

/// A line through `at` along the unit vector `way`.
#[derive(Debug, Clone, Copy)]
struct Line {
    at: [f64; 2],
    way: [f64; 2],
}

impl Line {
    /// Total least squares of the chain's pieces between `from` and `to`.
    fn along(chain: &Chain, from: [f64; 2], to: [f64; 2], tolerance: f64) -> Option<Line> {
        let chord = [to[0] - from[0], to[1] - from[1]];
        let length = chord[0].hypot(chord[1]);
        if length < SHORT * tolerance {
            return None;
        }
        let way = chord.map(|c| c / length);
        let along = |p: [f64; 2]| ((p[0] - from[0]) * way[0] + (p[1] - from[1]) * way[1]) / length;
        let first = chain.partition_point(|p| p[0] < from[0]).saturating_sub(1);
        let pieces = chain[first..].windows(2).map(|p| (p[0], p[1]));
        let pieces = pieces.take_while(|(a, _)| a[0] <= to[0]);
        let mut sums = Sums::default();
        for (a, b) in pieces {
            let (s, t) = (along(a), along(b));
            // A piece is cut to the part that is fitted.
            let low = ((TRIM - s) / (t - s)).clamp(0.0, 1.0);
            let high = ((1.0 - TRIM - s) / (t - s)).clamp(0.0, 1.0);
            if t > s && high > low {
                let at = |k: f64| [0, 1].map(|i| a[i] + (b[i] - a[i]) * k - from[i]);
                sums.add(at(low), at(high));
            }
        }
        let (middle, fitted) = sums.line()?;
        let ahead = if fitted[0] * way[0] + fitted[1] * way[1] < 0.0 {
            -1.0
        } else {
            1.0
        };
        Some(Line {
            at: [middle[0] + from[0], middle[1] + from[1]],
            way: fitted.map(|c| c * ahead),
        })
    }

    fn turn(&self, next: &Line) -> f64 {
        self.way[0] * next.way[1] - self.way[1] * next.way[0]
    }

    fn cross(&self, next: &Line) -> [f64; 2] {
        let gap = [next.at[0] - self.at[0], next.at[1] - self.at[1]];
        let t = (gap[0] * next.way[1] - gap[1] * next.way[0]) / self.turn(next);
        [0, 1].map(|i| self.at[i] + self.way[i] * t)
    }

    /// The point of the line above or below `p`; beside it for a steep line.
    fn raise(&self, p: [f64; 2]) -> [f64; 2] {
        let [y, z] = self.way;
        if z.abs() > y.abs() {
            return [self.at[0] + (p[1] - self.at[1]) * y / z, p[1]];
        }
        [p[0], self.at[1] + (p[0] - self.at[0]) * z / y]
    }
}

/// Moments of line pieces, each point weighted by length.
#[derive(Debug, Default)]
struct Sums {
    length: f64,
    first: [f64; 2],
    second: [f64; 3],
}

impl Sums {
    fn add(&mut self, a: [f64; 2], b: [f64; 2]) {
        let d = [b[0] - a[0], b[1] - a[1]];
        let m = [(a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0];
        let length = d[0].hypot(d[1]);
        self.length += length;
        self.first[0] += length * m[0];
        self.first[1] += length * m[1];
        for (k, (i, j)) in [(0, 0), (0, 1), (1, 1)].into_iter().enumerate() {
            self.second[k] += length * (m[i] * m[j] + d[i] * d[j] / 12.0);
        }
    }

    /// Middle and direction.
    fn line(&self) -> Option<([f64; 2], [f64; 2])> {
        if self.length <= 0.0 {
            return None;
        }
        let m = self.first.map(|f| f / self.length);
        let [yy, yz, zz] = self.second.map(|s| s / self.length);
        let (yy, yz, zz) = (yy - m[0] * m[0], yz - m[0] * m[1], zz - m[1] * m[1]);
        let angle = 0.5 * (2.0 * yz).atan2(yy - zz);
        Some((m, [angle.cos(), angle.sin()]))
    }
}
