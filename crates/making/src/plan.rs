//! Where to cut: as few pieces as fit, away from what a cut would harm.
//!
//! Planes across x first; a stretch that is still too wide is parted across y. The fewest pieces are found
//! by trying every set of planes on a grid (dynamic programming), the least harm breaking ties.

use boat::making::{CutAcross, CutPlace, JointKind, Making};

use crate::bed::Bed;
use crate::error::MakingError;
use crate::extents::{Extents, Strip};
use crate::keep_off::KeepOff;

/// Planes are tried this far apart, m.
const STEP_M: f64 = 0.005;
/// Cost of a piece; see [`KeepOff::cost`].
const PIECE: f64 = 100.0;
/// Cost of a cut where the hull bends most.
const BENDING: f64 = 50.0;
/// Shortest piece, m.
const SHORTEST_M: f64 = 0.02;

/// A stretch between two planes of x, parted across y.
#[derive(Debug, Clone, PartialEq)]
pub struct Stretch {
    /// m.
    pub x_m: [f64; 2],
    /// Planes across y inside it, port last.
    pub y_m: Vec<f64>,
}

/// Where one body is cut.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Plan {
    /// Stern first.
    pub stretches: Vec<Stretch>,
}

/// A cut as it came out.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize, schemars::JsonSchema)]
pub struct CutMade {
    /// `x` or `y`.
    pub across: String,
    /// m.
    pub at_m: f64,
    /// Stretch of x it spans when across y, m.
    pub x_m: Option<[f64; 2]>,
    /// The boat file asked for it.
    pub asked: bool,
    /// `lap`, `flange` or `butt`.
    pub joint: String,
    /// What it could not keep off.
    pub through: Vec<String>,
    /// Share of the hull's greatest bending there, 0 to 1.
    pub bending: f64,
}

/// What a plan is made from.
pub struct Wanted<'a> {
    /// Of the body, for errors.
    pub name: &'a str,
    /// Of the body.
    pub extents: &'a Extents,
    /// What prints it.
    pub bed: Bed,
    /// How far a joint's spigot reaches ahead of its plane, m.
    pub spigot_m: f64,
    /// Along x.
    pub keep_off: &'a [KeepOff],
    /// Share of the hull's greatest bending at x, 0 to 1.
    pub bending: &'a dyn Fn(f64) -> f64,
    /// What the boat file says.
    pub making: &'a Making,
}

impl Wanted<'_> {
    /// Cuts asked for along an axis that meet this body, in order.
    fn asked(&self, across: CutAcross) -> Vec<f64> {
        let k = usize::from(across == CutAcross::Y);
        let mut all: Vec<f64> = self
            .making
            .cuts
            .iter()
            .filter(|c| c.across == across)
            .filter_map(|c| match c.place {
                CutPlace::At(at) => Some(at),
                CutPlace::KeepOff(..) => None,
            })
            .filter(|at| *at > self.extents.low[k] + 1e-4 && *at < self.extents.high[k] - 1e-4)
            .collect();
        all.sort_by(f64::total_cmp);
        all.dedup();
        all
    }

    fn harm(&self, x: f64) -> f64 {
        let off: f64 = self
            .keep_off
            .iter()
            .filter(|k| k.from_m < x && x < k.to_m)
            .map(|k| k.cost)
            .sum();
        off + BENDING * (self.bending)(x)
    }
}

/// The planes of one body.
///
/// # Errors
/// [`MakingError::BedTooSmall`].
pub fn plan(w: &Wanted<'_>) -> Result<Plan, MakingError> {
    let (low, high) = (w.extents.low[0], w.extents.high[0]);
    let asked = w.asked(CutAcross::X);
    let free = grid(low, high, &asked);
    let forced = |x: f64| asked.iter().any(|a| (a - x).abs() < 1e-9);
    let last = free.len() - 1;
    let step = |i: usize, j: usize, strip: &Strip| -> Option<(f64, Vec<f64>)> {
        if free[i + 1..j].iter().any(|x| forced(*x)) {
            return None;
        }
        let x = [free[i], free[j]];
        let spigot = if j == last { 0.0 } else { w.spigot_m };
        let (y, cost) = across(w, strip, spigot)?;
        let cut = if j == last || forced(free[j]) {
            0.0
        } else {
            w.harm(free[j])
        };
        let short = !forced(x[0]) && !forced(x[1]) && x[1] - x[0] < SHORTEST_M && last > 1;
        let even = ((x[1] - x[0]) / (high - low)).powi(2);
        (cut.is_finite() && !short).then_some((cost + cut + even, y))
    };
    let reach = w.bed.room_m.iter().map(|r| r * r).sum::<f64>().sqrt();
    let mut best: Vec<Option<(f64, usize, Vec<f64>)>> = vec![None; free.len()];
    best[0] = Some((0.0, 0, Vec::new()));
    let between: Vec<Strip> = free
        .windows(2)
        .map(|x| w.extents.strip([x[0], x[1]]))
        .collect();
    for j in 1..=last {
        let mut strip = between[j - 1].clone();
        for i in (0..j).rev() {
            if free[j] - free[i] > reach {
                break;
            }
            if i + 1 < j {
                strip.grow_aft(&between[i]);
            }
            let Some((before, ..)) = best[i] else {
                continue;
            };
            let Some((cost, y)) = step(i, j, &strip) else {
                continue;
            };
            if best[j].as_ref().is_none_or(|b| before + cost < b.0 - 1e-9) {
                best[j] = Some((before + cost, i, y));
            }
        }
    }
    if best[last].is_none() {
        return Err(too_small(w, &free, &best));
    }
    let mut stretches = Vec::new();
    let mut j = last;
    while j > 0 {
        let Some((_, i, y)) = best[j].take() else {
            break;
        };
        stretches.push(Stretch {
            x_m: [free[i], free[j]],
            y_m: y,
        });
        j = i;
    }
    stretches.reverse();
    Ok(Plan { stretches })
}

/// Ends, asked planes, and a grid between.
fn grid(low: f64, high: f64, asked: &[f64]) -> Vec<f64> {
    let first = (low / STEP_M).floor() as i64 + 1;
    let last = (high / STEP_M).ceil() as i64 - 1;
    let mut all: Vec<f64> = (first..=last)
        .map(|k| k as f64 * STEP_M)
        .filter(|x| asked.iter().all(|a| (a - x).abs() > 0.4 * STEP_M))
        .collect();
    all.extend([low, high]);
    all.extend(asked);
    all.sort_by(f64::total_cmp);
    all.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    all
}

/// Planes across y that make the stretch fit, and its cost.
fn across(w: &Wanted<'_>, strip: &Strip, spigot: f64) -> Option<(Vec<f64>, f64)> {
    let wide = [w.extents.low[1], w.extents.high[1]];
    let size = |y: [f64; 2], reach: f64| {
        let mut size = strip.boxed(y)?;
        size[0] += spigot;
        size[1] += reach;
        Some(size)
    };
    let fits = |y: [f64; 2], reach: f64| size(y, reach).is_none_or(|s| w.bed.takes(s));
    let asked = w.asked(CutAcross::Y);
    if asked.is_empty() && fits(wide, 0.0) {
        return Some((Vec::new(), PIECE));
    }
    let cost = |y: &[f64]| PIECE * (y.len() + 1) as f64;
    let mut bounds = vec![wide[0]];
    bounds.extend(&asked);
    bounds.push(wide[1]);
    let mut planes = asked.clone();
    for pair in bounds.windows(2) {
        planes.extend(parts(w, [pair[0], pair[1]], &fits)?);
    }
    planes.sort_by(f64::total_cmp);
    let total = cost(&planes);
    Some((planes, total))
}

/// The fewest even parts of a stretch of y that fit; the middle of the boat is a good place to part it.
fn parts(w: &Wanted<'_>, y: [f64; 2], fits: &dyn Fn([f64; 2], f64) -> bool) -> Option<Vec<f64>> {
    if fits(y, 0.0) {
        return Some(Vec::new());
    }
    (2..=12).find_map(|n| {
        let step = (y[1] - y[0]) / f64::from(n);
        let planes: Vec<f64> = (1..n).map(|k| y[0] + step * f64::from(k)).collect();
        let all = |planes: &[f64]| {
            let mut bounds = vec![y[0]];
            bounds.extend(planes);
            bounds.push(y[1]);
            let last = bounds.len() - 2;
            bounds
                .windows(2)
                .enumerate()
                .all(|(k, b)| fits([b[0], b[1]], if k == last { 0.0 } else { w.spigot_m }))
        };
        all(&planes).then_some(planes)
    })
}

fn too_small(w: &Wanted<'_>, free: &[f64], best: &[Option<(f64, usize, Vec<f64>)>]) -> MakingError {
    let stuck = best.iter().rposition(Option::is_some).unwrap_or(0);
    let next = free[(stuck + 1).min(free.len() - 1)];
    let height = w
        .extents
        .strip([free[stuck], next])
        .boxed([w.extents.low[1], w.extents.high[1]])
        .map_or(0.0, |s| s[2]);
    MakingError::BedTooSmall {
        name: w.name.to_owned(),
        x_mm: 1e3 * free[stuck],
        height_mm: 1e3 * height,
        bed_mm: w.bed.room_m.map(|r| 1e3 * r),
    }
}

/// The joint the boat file wants at a plane.
#[must_use]
pub fn asked_joint(making: &Making, across: CutAcross, at: f64) -> Option<JointKind> {
    making
        .cuts
        .iter()
        .find(|c| c.across == across && matches!(c.place, CutPlace::At(a) if (a - at).abs() < 1e-6))
        .and_then(|c| c.joint)
}
