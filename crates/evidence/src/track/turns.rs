//! Turns: radius and sideways acceleration.

use super::path::{Path, Waypoint};
use crate::measured::{Measured, median};
use laws::constants::GRAVITY_M_S2;

/// Turning slower than this is going straight, rad/s.
const LEAST_RAD_S: f64 = 0.25;
/// Shortest turn, rad: a sixth of a full one.
const LEAST_ANGLE_RAD: f64 = 1.0;

/// A turn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Turn {
    /// First time, s.
    pub from_s: f64,
    /// Last time, s.
    pub to_s: f64,
    /// Turned by; left positive, rad.
    pub angle_rad: f64,
    /// Usual radius, m.
    pub radius_m: Measured,
    /// Usual speed, m/s.
    pub speed_m_s: f64,
    /// Sideways acceleration, in g.
    pub sideways_g: Measured,
}

/// Turns of at least a sixth of a circle.
pub fn turns(path: &Path) -> Vec<Turn> {
    let side = |p: &Waypoint| {
        let turning = p.turn_rate_rad_s.abs() > LEAST_RAD_S && p.speed_m_s() > 1.0;
        if turning {
            p.turn_rate_rad_s.signum()
        } else {
            0.0
        }
    };
    path.points
        .chunk_by(|a, b| side(a) == side(b) && a.run == b.run)
        .filter(|part| part.len() >= 3 && side(&part[0]) != 0.0)
        .filter_map(turn)
        .collect()
}

fn turn(part: &[Waypoint]) -> Option<Turn> {
    let angle_rad: f64 = part
        .windows(2)
        .map(|w| 0.5 * (w[1].time_s - w[0].time_s) * (w[0].turn_rate_rad_s + w[1].turn_rate_rad_s))
        .sum();
    if angle_rad.abs() < LEAST_ANGLE_RAD {
        return None;
    }
    let usual = |get: &dyn Fn(&Waypoint) -> f64| {
        let all: Vec<f64> = part.iter().map(get).collect();
        let sigma = crate::measured::robust_sigma(&all).unwrap_or(0.0) / (all.len() as f64).sqrt();
        Measured::new(median(&all).unwrap_or(0.0), sigma)
    };
    // The scatter within a turn holds both noise and a changing rudder; smoothing dulls both ends.
    Some(Turn {
        from_s: part[0].time_s,
        to_s: part[part.len() - 1].time_s,
        angle_rad,
        radius_m: usual(&|p| p.speed_m_s() / p.turn_rate_rad_s.abs()).with_relative_error(0.02),
        speed_m_s: usual(&Waypoint::speed_m_s).value,
        sideways_g: usual(&|p| p.speed_m_s() * p.turn_rate_rad_s.abs() / GRAVITY_M_S2)
            .with_relative_error(0.02),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::Noise;
    use crate::track::clean::Spot;

    #[test]
    fn a_half_circle_to_starboard_is_found() {
        // Straight north at 15 m/s, half a turn right of 10 m radius at the same speed, straight south.
        let mut noise = Noise::new(3);
        let (mut e, mut n, mut course) = (0.0, 0.0, 0.0f64);
        let spots: Vec<Spot> = (0..1200)
            .map(|i| {
                let t = f64::from(i) * 0.01;
                if (4.0..4.0 + std::f64::consts::PI / 1.5).contains(&t) {
                    course += 0.015;
                }
                e += 0.15 * course.sin();
                n += 0.15 * course.cos();
                (t, e, n)
            })
            .step_by(5)
            .map(|(time_s, e, n)| Spot {
                time_s,
                east_m: e + 0.05 * noise.normal(),
                north_m: n + 0.05 * noise.normal(),
                speed_m_s: None,
                segment: 0,
            })
            .collect();
        let found = turns(&Path::of(&spots));
        assert_eq!(found.len(), 1, "{found:?}");
        let t = found[0];
        assert!((t.angle_rad + std::f64::consts::PI).abs() < 0.25, "{t:?}");
        assert!((t.radius_m.value / 10.0 - 1.0).abs() < 0.08, "{t:?}");
        // 15^2 / 10 / 9.80665 = 2.294 g.
        assert!((t.sideways_g.value / 2.294 - 1.0).abs() < 0.08, "{t:?}");
    }
}
