//! The way a boat went: places smoothed no more than their noise asks for.
//!
//! Adding up the steps between noisy fixes makes a way too long (every step zigzags). So at each fix
//! a parabola is fitted to the fixes around it, over a window just long enough that the noise left
//! in a step is small against the step; the way is then the integral of that speed, of which the
//! remaining bias, `sigma_v^2 / (2 v)` a second, is taken off. Noise is estimated from the fixes.

use super::clean::Spot;
use crate::measured::{median, quantile, robust_sigma};

/// Widest window each side, s: a boat turns round in that.
const WIDEST_S: f64 = 1.5;
/// Noise of speed that is small enough, as a part of the usual speed.
const QUIET: f64 = 0.03;
/// Noise of turn rate that is small enough, rad/s.
const QUIET_TURN_RAD_S: f64 = 0.05;
/// A gap longer than this many usual intervals breaks the way.
const GAP_INTERVALS: f64 = 5.0;

/// State at one time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Waypoint {
    /// s after the track's start.
    pub time_s: f64,
    /// Smoothed place, m.
    pub east_m: f64,
    /// Smoothed place, m.
    pub north_m: f64,
    /// Velocity, m/s.
    pub velocity_east_m_s: f64,
    /// Velocity, m/s.
    pub velocity_north_m_s: f64,
    /// Turning left (from above) positive, rad/s.
    pub turn_rate_rad_s: f64,
    /// Counts up at breaks and gaps.
    pub run: usize,
}

impl Waypoint {
    /// Speed over ground, m/s.
    pub fn speed_m_s(&self) -> f64 {
        self.velocity_east_m_s.hypot(self.velocity_north_m_s)
    }

    /// Course from north through east, rad.
    pub fn course_rad(&self) -> f64 {
        self.velocity_east_m_s.atan2(self.velocity_north_m_s)
    }
}

/// A smoothed way.
#[derive(Debug, Clone, PartialEq)]
pub struct Path {
    /// One for every fix.
    pub points: Vec<Waypoint>,
    /// Noise of a fix, each axis, m.
    pub place_sigma_m: f64,
    /// Noise left in the smoothed speed, m/s.
    pub speed_sigma_m_s: f64,
    /// Usual time between fixes, s.
    pub interval_s: f64,
}

impl Path {
    /// Smooths fixes; at least three are needed, which [`super::clean::clean`] promises.
    pub fn of(spots: &[Spot]) -> Self {
        let runs = runs(spots);
        let steps: Vec<f64> = spots
            .windows(2)
            .map(|w| w[1].time_s - w[0].time_s)
            .collect();
        let interval_s = median(&steps).unwrap_or(1.0).max(1e-3);
        let place_sigma_m = noise(spots, &runs);
        let usual = usual_speed(spots);
        let half = half_window(interval_s, |n| {
            place_sigma_m * slope_noise(n) / interval_s <= QUIET * usual
        });
        // Turning is a second derivative, which needs a wider window.
        let half_turn = half_window(interval_s, |n| {
            place_sigma_m * bend_noise(n) / interval_s.powi(2) <= QUIET_TURN_RAD_S * usual
        });
        let n = (2 * half + 1) as f64;
        let speed_sigma = place_sigma_m * slope_noise(n) / interval_s;
        let points = (0..spots.len())
            .map(|i| smooth(spots, &runs, i, half, half_turn.max(half)))
            .collect();
        Self {
            points,
            place_sigma_m,
            speed_sigma_m_s: speed_sigma,
            interval_s,
        }
    }

    /// Length of the way between two times, m, without the bias of noise.
    pub fn distance_m(&self, from_s: f64, to_s: f64) -> f64 {
        let straightened = |p: &Waypoint| {
            let v = p.speed_m_s();
            // E|v| of a noisy vector exceeds |v| by sigma^2 / 2v; a boat at rest makes no way.
            (v - 0.5 * self.speed_sigma_m_s.powi(2) / v.max(1e-9)).max(0.0)
        };
        let inside =
            |p: &&[Waypoint]| p[0].run == p[1].run && p[0].time_s >= from_s && p[1].time_s <= to_s;
        self.points
            .windows(2)
            .filter(inside)
            .map(|w| {
                0.5 * (w[1].time_s - w[0].time_s) * (straightened(&w[0]) + straightened(&w[1]))
            })
            .sum()
    }
}

/// Number of the unbroken run each fix is in.
fn runs(spots: &[Spot]) -> Vec<usize> {
    let steps: Vec<f64> = spots
        .windows(2)
        .map(|w| w[1].time_s - w[0].time_s)
        .collect();
    let longest = GAP_INTERVALS * median(&steps).unwrap_or(1.0);
    let mut run = 0;
    let mut all = vec![0];
    for (w, step) in spots.windows(2).zip(&steps) {
        run += usize::from(w[0].segment != w[1].segment || *step > longest);
        all.push(run);
    }
    all
}

/// Standard deviation of a fix, each axis, from third differences: smooth motion leaves little there.
fn noise(spots: &[Spot], runs: &[usize]) -> f64 {
    let third = |get: fn(&Spot) -> f64| {
        let all = spots.windows(4).zip(runs.windows(4));
        all.filter(|(_, r)| r[0] == r[3])
            .map(|(w, _)| get(&w[3]) - 3.0 * get(&w[2]) + 3.0 * get(&w[1]) - get(&w[0]))
            .collect::<Vec<_>>()
    };
    let mut both = third(|s| s.east_m);
    both.extend(third(|s| s.north_m));
    // 1 + 9 + 9 + 1 = 20.
    robust_sigma(&both).unwrap_or(0.0) / 20f64.sqrt()
}

/// Noise of the slope of a line or parabola through n places a step apart, over that of a place:
/// `sqrt(12 / (n (n^2 - 1)))`.
fn slope_noise(n: f64) -> f64 {
    (12.0 / (n * (n * n - 1.0))).sqrt()
}

/// The same for the second derivative of a parabola: `sqrt(720 / (n (n^2 - 1) (n^2 - 4)))`.
fn bend_noise(n: f64) -> f64 {
    (720.0 / (n * (n * n - 1.0) * (n * n - 4.0))).sqrt()
}

/// Speed of the quicker parts, m/s.
fn usual_speed(spots: &[Spot]) -> f64 {
    let spread = spots.windows(8).map(|w| {
        (w[7].east_m - w[0].east_m).hypot(w[7].north_m - w[0].north_m) / (w[7].time_s - w[0].time_s)
    });
    quantile(&spread.collect::<Vec<_>>(), 0.75).unwrap_or(1.0)
}

/// Fewest fixes each side for which a window of n is quiet enough.
fn half_window(interval_s: f64, quiet: impl Fn(f64) -> bool) -> usize {
    let widest = ((WIDEST_S / interval_s) as usize).max(1);
    (1..=widest)
        .find(|h| quiet((2 * h + 1) as f64))
        .unwrap_or(widest)
}

/// The fixes of one run within so many of one.
fn around<'a>(spots: &'a [Spot], runs: &[usize], i: usize, half: usize) -> &'a [Spot] {
    let low = (i.saturating_sub(half)..=i).find(|j| runs[*j] == runs[i]);
    let mut far = (i..(i + half + 1).min(spots.len())).rev();
    let high = far.find(|j| runs[*j] == runs[i]);
    &spots[low.unwrap_or(i)..=high.unwrap_or(i)]
}

/// Parabolas through the fixes around one.
fn smooth(spots: &[Spot], runs: &[usize], i: usize, half: usize, half_turn: usize) -> Waypoint {
    let here = &spots[i];
    let fit =
        |half, get: fn(&Spot) -> f64| parabola(around(spots, runs, i, half), here.time_s, get);
    let (east, north) = (fit(half, |s| s.east_m), fit(half, |s| s.north_m));
    let (wide_e, wide_n) = (fit(half_turn, |s| s.east_m), fit(half_turn, |s| s.north_m));
    let square = wide_e[1].powi(2) + wide_n[1].powi(2);
    let cross = 2.0 * (wide_e[1] * wide_n[2] - wide_n[1] * wide_e[2]);
    Waypoint {
        time_s: here.time_s,
        east_m: east[0],
        north_m: north[0],
        velocity_east_m_s: east[1],
        velocity_north_m_s: north[1],
        turn_rate_rad_s: if square > 1e-6 { cross / square } else { 0.0 },
        run: runs[i],
    }
}

/// Value, slope and half the bend at a time; a line of two places, a point of one.
fn parabola(near: &[Spot], at_s: f64, get: fn(&Spot) -> f64) -> [f64; 3] {
    let order = near.len().min(3);
    let mut normal = nalgebra::DMatrix::<f64>::zeros(order, order);
    let mut right = nalgebra::DVector::<f64>::zeros(order);
    for s in near {
        let t = s.time_s - at_s;
        let powers = [1.0, t, t * t];
        for a in 0..order {
            right[a] += powers[a] * get(s);
            for b in 0..order {
                normal[(a, b)] += powers[a] * powers[b];
            }
        }
    }
    let mut found = [near.first().map_or(0.0, get), 0.0, 0.0];
    if let Some(solved) = normal.lu().solve(&right) {
        found[..order].copy_from_slice(solved.as_slice());
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::Noise;

    pub(crate) fn circle(radius: f64, speed: f64, rate: f64, sigma: f64, seed: u64) -> Vec<Spot> {
        let mut noise = Noise::new(seed);
        (0..(60.0 * rate) as usize)
            .map(|i| {
                let t = i as f64 / rate;
                let angle = speed / radius * t;
                Spot {
                    time_s: t,
                    east_m: radius * angle.cos() + sigma * noise.normal(),
                    north_m: radius * angle.sin() + sigma * noise.normal(),
                    speed_m_s: None,
                    segment: 0,
                }
            })
            .collect()
    }

    #[test]
    fn the_way_is_not_lengthened_by_zigzag() {
        for (seed, sigma) in [(1, 0.1), (2, 0.3), (3, 0.6)] {
            let spots = circle(30.0, 12.0, 10.0, sigma, seed);
            let steps: f64 = spots
                .windows(2)
                .map(|w| (w[1].east_m - w[0].east_m).hypot(w[1].north_m - w[0].north_m))
                .sum();
            let path = Path::of(&spots);
            let truth = 12.0 * 59.9;
            let got = path.distance_m(0.0, 60.0);
            assert!((got / truth - 1.0).abs() < 0.02, "{sigma}: {got}");
            assert!((path.place_sigma_m / sigma - 1.0).abs() < 0.15);
            if sigma > 0.2 {
                assert!(steps / truth > 1.04, "{steps}");
            }
        }
    }

    #[test]
    fn a_boat_at_rest_makes_little_way() {
        let spots: Vec<Spot> = circle(1e-9, 0.0, 5.0, 0.5, 4);
        let path = Path::of(&spots);
        assert!(path.distance_m(0.0, 60.0) < 20.0);
    }

    #[test]
    fn turn_rate_is_speed_over_radius_and_left_is_positive() {
        let path = Path::of(&circle(20.0, 10.0, 10.0, 0.02, 9));
        let rates: Vec<f64> = path.points[20..500]
            .iter()
            .map(|p| p.turn_rate_rad_s)
            .collect();
        assert!((median(&rates).unwrap() - 0.5).abs() < 0.01);
    }
}
