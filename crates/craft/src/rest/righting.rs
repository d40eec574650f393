//! The righting curve and every way up the boat rests.
//!
//! At each heel, held, sinkage and trim settle freely; the arm is the distance across the boat
//! from weight to buoyancy. Starting from upright both ways round, each attitude is predicted
//! from the last by the implicit function theorem, so that one or two cuts settle it.

use form::WaterPlane;

use super::balance::{Body, Cut, Free};
use super::lowest_opening;
use crate::{RightingPoint, attitude};

/// Steps of the curve from 0 to 180 degrees.
const STEPS: i32 = 18;
/// Points of a whole curve.
pub const POINTS: usize = 2 * STEPS as usize + 1;
/// Moment arm over length to which trim settles on the curve.
const CURVE_TOLERANCE: f64 = 1e-8;
/// Moment arm over length to which a resting heel settles.
const REST_TOLERANCE: f64 = 1e-10;
/// Arms below this over length count as none.
const NO_ARM: f64 = 1e-9;
/// Two resting attitudes nearer than this are one, rad.
const SAME_RAD: f64 = 2e-3;

/// A settled attitude on the curve.
#[derive(Clone, Copy)]
pub struct Heeled {
    /// As asked, so that both ends of the curve keep their sign.
    pub heel_rad: f64,
    /// Surface and moments there.
    pub cut: Cut,
}

/// Attitudes from -180 to 180 degrees; those that did not settle are left out.
pub fn curve(body: &Body, upright: &Cut) -> Vec<Heeled> {
    let trim = attitude::from_water_plane(&upright.water).trim_rad;
    let start = body.sink(attitude::up(trim, 0.0), 1e-4);
    let Some(level) = body.settle(start, Free::SinkAndTrim, CURVE_TOLERANCE) else {
        return Vec::new();
    };
    let (mut port, mut starboard) = rayon::join(|| walk(body, level, -1), || walk(body, level, 1));
    agree_upside_down(&mut port, &mut starboard);
    port.reverse();
    port.push(Heeled {
        heel_rad: 0.0,
        cut: level,
    });
    port.append(&mut starboard);
    port
}

/// One side of the curve, from the first step to upside down.
fn walk(body: &Body, level: Cut, side: i32) -> Vec<Heeled> {
    let mut heeled = Vec::new();
    let mut last = level;
    let step = f64::from(side) * std::f64::consts::PI / f64::from(STEPS);
    for count in 1..=STEPS {
        let heel_rad = f64::from(count) * step;
        let start = body.cut(predict(&last, heel_rad, step));
        let settled = body
            .settle(start, Free::SinkAndTrim, CURVE_TOLERANCE)
            .or_else(|| {
                let start = body.sink(attitude::up(0.0, heel_rad), 1e-3);
                body.settle(start, Free::SinkAndTrim, CURVE_TOLERANCE)
            });
        if let Some(cut) = settled {
            last = cut;
            heeled.push(Heeled { heel_rad, cut });
        }
    }
    heeled
}

/// The surface a heel step further on, to first order with sinkage and trim following.
fn predict(last: &Cut, heel_rad: f64, step: f64) -> WaterPlane {
    let trim = attitude::from_water_plane(&last.water).trim_rad;
    let turn = step * trim.cos();
    let free = last.curvature.fixed_view::<2, 2>(0, 0).into_owned();
    let pull = last.curvature.fixed_view::<2, 1>(0, 2) * -turn;
    let follow = free
        .try_inverse()
        .map_or_else(Default::default, |inverse| inverse * pull);
    let bounded = (0.2 / follow[1].abs()).min(1.0);
    WaterPlane {
        up: attitude::up((trim + follow[1] * bounded).clamp(-1.5, 1.5), heel_rad),
        height_m: last.water.height_m + follow[0] * bounded,
    }
}

/// 180 degrees both ways is one attitude: where the sides disagree the lower energy is kept.
fn agree_upside_down(port: &mut [Heeled], starboard: &mut [Heeled]) {
    let (Some(left), Some(right)) = (port.last_mut(), starboard.last_mut()) else {
        return;
    };
    if left.heel_rad != -right.heel_rad {
        return;
    }
    if left.cut.energy < right.cut.energy {
        right.cut = left.cut;
    } else {
        left.cut = right.cut;
    }
}

/// The curve as reported.
pub fn points(body: &Body, curve: &[Heeled], openings: &[super::Mouth]) -> Vec<RightingPoint> {
    curve
        .iter()
        .map(|at| RightingPoint {
            heel_rad: at.heel_rad,
            gz_m: arm(body, at),
            trim_rad: attitude::from_water_plane(&at.cut.water).trim_rad,
            opening_m: lowest_opening(openings, &at.cut.water).map(|(_, height)| height),
        })
        .collect()
}

/// Turns the boat to port when positive: the energy's slope in heel over the volume.
fn arm(body: &Body, at: &Heeled) -> f64 {
    at.cut.slope[2] / body.volume_m3
}

/// Every stable equilibrium seen from the curve, with `upright` itself, lowest energy first.
pub fn resting(body: &Body, curve: &[Heeled], upright: &Cut) -> Vec<Cut> {
    let mut found = vec![*upright];
    for start in wells(body, curve) {
        let Some(cut) = body.settle(start, Free::All, REST_TOLERANCE) else {
            continue;
        };
        if found
            .iter()
            .all(|known| known.water.up.angle(&cut.water.up) > SAME_RAD)
        {
            found.push(cut);
        }
    }
    let unit = 1e-9 * body.volume_m3 * body.length_m;
    found.sort_by_key(|cut| {
        let heel = attitude::from_water_plane(&cut.water).heel_rad;
        let heel = (heel * 1e6).round() as i64;
        ((cut.energy / unit).round() as i64, heel.abs(), -heel)
    });
    found
}

/// Where the arm turns from pushing one way to pushing back: the curve's point nearest to it.
fn wells(body: &Body, curve: &[Heeled]) -> Vec<Cut> {
    let small = NO_ARM * body.length_m;
    // The first point is the last one again.
    let around: Vec<&Heeled> = curve
        .iter()
        .skip(1)
        .filter(|at| arm(body, at).abs() > small)
        .collect();
    let pairs = around.iter().zip(around.iter().cycle().skip(1));
    pairs
        .filter(|(here, next)| arm(body, here) < 0.0 && arm(body, next) > 0.0)
        .map(|(here, next)| {
            let nearer = arm(body, here).abs() < arm(body, next).abs();
            if nearer { here.cut } else { next.cut }
        })
        .collect()
}
