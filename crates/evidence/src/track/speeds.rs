//! Speeds that count: the best held for a time, and the mean of two ways.

use super::clean::Cleaned;
use super::path::{Path, Waypoint};
use crate::measured::{Measured, robust_sigma};

/// Receivers' own speeds are stated to 0.05 to 0.1 m/s (data sheets, from memory).
const RECEIVER_SIGMA_M_S: f64 = 0.08;
/// Part of the fixes that must carry the receiver's speed for it to be used.
const MOSTLY: f64 = 0.8;
/// Straight runs turn no faster than this, rad/s.
const STRAIGHT_RAD_S: f64 = 0.35;
/// Shortest straight run, s.
const SHORTEST_RUN_S: f64 = 2.0;
/// Opposite runs differ from half a turn by no more than this.
const OPPOSITE_RAD: f64 = 0.45;

/// Where speeds come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// The receiver's own (from the signals' Doppler shift): best.
    Receiver,
    /// From places and times.
    Places,
}

/// Speed against time.
#[derive(Debug, Clone, PartialEq)]
pub struct Speeds {
    /// Where it comes from.
    pub source: Source,
    /// Time (s), speed (m/s), run.
    pub points: Vec<(f64, f64, usize)>,
    /// Noise of one, m/s.
    pub noise_m_s: f64,
}

/// The best mean speed over a time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Held {
    /// How long, s.
    pub for_s: f64,
    /// From when, s.
    pub from_s: f64,
    /// Mean speed, m/s.
    pub speed_m_s: Measured,
}

/// A straight run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StraightRun {
    /// First time, s.
    pub from_s: f64,
    /// Last time, s.
    pub to_s: f64,
    /// Mean course, rad.
    pub course_rad: f64,
    /// Best speed held for the time asked, m/s.
    pub best: Held,
}

/// The mean of a run and the best one back.
#[derive(Debug, Clone, PartialEq)]
pub struct TwoWay {
    /// One way.
    pub out: StraightRun,
    /// The other.
    pub back: StraightRun,
    /// Mean of both: wind and current along the course cancel.
    pub speed_m_s: Measured,
}

impl Speeds {
    /// The receiver's speeds if most fixes have them, otherwise from places.
    pub fn of(cleaned: &Cleaned, path: &Path) -> Self {
        let own = cleaned
            .spots
            .iter()
            .filter(|s| s.speed_m_s.is_some())
            .count();
        let receiver = own as f64 >= MOSTLY * cleaned.spots.len() as f64;
        let both = || cleaned.spots.iter().zip(&path.points);
        let points: Vec<(f64, f64, usize)> = if receiver {
            both()
                .filter_map(|(s, p)| Some((s.time_s, s.speed_m_s?, p.run)))
                .collect()
        } else {
            both()
                .map(|(_, p)| (p.time_s, p.speed_m_s(), p.run))
                .collect()
        };
        let second: Vec<f64> = points
            .windows(3)
            .map(|w| w[2].1 - 2.0 * w[1].1 + w[0].1)
            .collect();
        // 1 + 4 + 1 = 6. Smoothed places hide their noise, so it is known from the smoothing there.
        let seen = robust_sigma(&second).unwrap_or(0.0) / 6f64.sqrt();
        let (source, noise_m_s) = if receiver {
            (Source::Receiver, seen.max(RECEIVER_SIGMA_M_S))
        } else {
            (Source::Places, path.speed_sigma_m_s.max(0.02))
        };
        Self {
            source,
            points,
            noise_m_s,
        }
    }

    /// The best mean speed held for `for_s`; `None` when no unbroken part is that long.
    pub fn best_held(&self, for_s: f64) -> Option<Held> {
        self.best_between(for_s, f64::NEG_INFINITY, f64::INFINITY)
    }

    fn best_between(&self, for_s: f64, from_s: f64, to_s: f64) -> Option<Held> {
        let inside: Vec<_> = self
            .points
            .iter()
            .filter(|p| (from_s..=to_s).contains(&p.0))
            .copied()
            .collect();
        let runs = inside.chunk_by(|a, b| a.2 == b.2);
        let best = runs.filter_map(|r| best_of_run(r, for_s));
        let (from_s, mean, values) = best.max_by(|a, b| a.1.total_cmp(&b.1))?;
        let sigma = (self.noise_m_s / (values as f64).sqrt()).hypot(0.5 * RECEIVER_SIGMA_M_S);
        Some(Held {
            for_s,
            from_s,
            speed_m_s: Measured::new(mean, sigma),
        })
    }

    /// The best pair of opposite straight runs by their mean best speed over `for_s`.
    pub fn two_way(&self, path: &Path, for_s: f64) -> Option<TwoWay> {
        let runs = self.straight_runs(path, for_s);
        let mut best: Option<TwoWay> = None;
        for (i, out) in runs.iter().enumerate() {
            for back in &runs[i + 1..] {
                let turn = wrapped(back.course_rad - out.course_rad).abs();
                if (turn - std::f64::consts::PI).abs() > OPPOSITE_RAD {
                    continue;
                }
                let (a, b) = (out.best.speed_m_s, back.best.speed_m_s);
                let mean = Measured::new(0.5 * (a.value + b.value), 0.5 * a.sigma.hypot(b.sigma));
                if best.as_ref().is_none_or(|t| t.speed_m_s.value < mean.value) {
                    best = Some(TwoWay {
                        out: *out,
                        back: *back,
                        speed_m_s: mean,
                    });
                }
            }
        }
        best
    }

    /// Straight runs long enough to hold a speed for `for_s`.
    pub fn straight_runs(&self, path: &Path, for_s: f64) -> Vec<StraightRun> {
        let straight =
            |p: &Waypoint| p.turn_rate_rad_s.abs() < STRAIGHT_RAD_S && p.speed_m_s() > 1.0;
        let together = |a: &Waypoint, b: &Waypoint| straight(a) == straight(b) && a.run == b.run;
        let parts = path.points.chunk_by(together).filter(|p| straight(&p[0]));
        parts
            .filter_map(|part| {
                let (from_s, to_s) = (part[0].time_s, part[part.len() - 1].time_s);
                if to_s - from_s < SHORTEST_RUN_S.max(for_s) {
                    return None;
                }
                let sum = part.iter().fold((0.0, 0.0), |s, p| {
                    (s.0 + p.velocity_east_m_s, s.1 + p.velocity_north_m_s)
                });
                Some(StraightRun {
                    from_s,
                    to_s,
                    course_rad: sum.0.atan2(sum.1),
                    best: self.best_between(for_s, from_s, to_s)?,
                })
            })
            .collect()
    }
}

pub(crate) fn wrapped(angle: f64) -> f64 {
    let turn = std::f64::consts::TAU;
    angle - turn * (angle / turn).round()
}

/// Start, mean and number of values of the best window in an unbroken run. Speed is taken as
/// straight between fixes, so the best window starts or ends at one.
fn best_of_run(run: &[(f64, f64, usize)], for_s: f64) -> Option<(f64, f64, usize)> {
    let (first, last) = (run.first()?.0, run.last()?.0);
    let mut way = vec![0.0];
    for w in run.windows(2) {
        way.push(way[way.len() - 1] + 0.5 * (w[1].0 - w[0].0) * (w[0].1 + w[1].1));
    }
    let at = |t: f64| {
        let i = run.partition_point(|p| p.0 <= t).clamp(1, run.len() - 1);
        let (a, b) = (&run[i - 1], &run[i]);
        let part = (t - a.0) / (b.0 - a.0);
        let v = a.1 + part * (b.1 - a.1);
        way[i - 1] + 0.5 * (t - a.0) * (a.1 + v)
    };
    let slack = 1e-6;
    let starts = run.iter().flat_map(|p| [p.0, p.0 - for_s]);
    starts
        .filter(|s| run.len() > 1 && *s >= first - slack && s + for_s <= last + slack)
        .map(|s| {
            // In order of time: counted by their places, as a day's track has too many to go through each time.
            let upto = run.partition_point(|p| p.0 <= s + for_s + slack);
            let values = upto - run.partition_point(|p| p.0 < s - slack);
            (s, (at(s + for_s) - at(s)) / for_s, values)
        })
        .max_by(|a, b| a.1.total_cmp(&b.1))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::Noise;
    use crate::track::clean::tests::track_of;
    use crate::track::clean::{Limits, clean};

    /// There and back along east at 1 m/s of current, turning at the end; the receiver's speed is true.
    fn out_and_back(speed_known: bool) -> (Cleaned, Path) {
        let mut noise = Noise::new(6);
        let mut points = Vec::new();
        let (mut east, mut north, mut course) = (0.0, 0.0, 0.0f64);
        for i in 0..400 {
            let t = f64::from(i) * 0.1;
            if (15.0..15.0 + std::f64::consts::PI).contains(&t) {
                course += 0.1;
            }
            let through = if (5.0..8.0).contains(&t) { 20.0 } else { 15.0 };
            let (ve, vn) = (through * course.cos() + 1.0, through * course.sin());
            east += 0.1 * ve;
            north += 0.1 * vn;
            let shake = if speed_known { 0.0 } else { 0.05 };
            let own = speed_known.then_some(ve.hypot(vn));
            points.push((
                t,
                east + shake * noise.normal(),
                north + shake * noise.normal(),
                own,
            ));
        }
        let cleaned = clean(&track_of(&points), &Limits::default()).unwrap();
        let path = Path::of(&cleaned.spots);
        (cleaned, path)
    }

    #[test]
    fn held_speeds_fall_with_time_held() {
        for known in [true, false] {
            let (cleaned, path) = out_and_back(known);
            let speeds = Speeds::of(&cleaned, &path);
            let held = |s| speeds.best_held(s).unwrap().speed_m_s;
            // 21 m/s for just under 3 s, 16 before and after: over 10 s, (3*21 + 7*16)/10 = 17.5.
            for (s, want) in [(1.0, 21.0), (2.0, 21.0), (10.0, 17.5)] {
                let got = held(s);
                assert!(
                    (got.value - want).abs() < (3.0 * got.sigma).max(0.25),
                    "{known} {s} {got:?}"
                );
            }
            assert!(held(1.0).value >= held(3.0).value);
            assert!(speeds.best_held(100.0).is_none());
        }
    }

    #[test]
    fn two_ways_cancel_the_current() {
        let (cleaned, path) = out_and_back(true);
        let two = Speeds::of(&cleaned, &path).two_way(&path, 3.0).unwrap();
        // 21 out (20 through the water) and 14 back (15 through it): mean of 20 and 15.
        assert!((two.speed_m_s.value - 17.5).abs() < 0.3, "{two:?}");
    }

    #[test]
    fn one_fix_a_second_still_gives_a_second_held() {
        let points: Vec<_> = (0..6)
            .map(|i| {
                (
                    f64::from(i),
                    10.0 * f64::from(i),
                    0.0,
                    Some([8.0, 10.0, 12.0, 11.0, 9.0, 9.0][i as usize]),
                )
            })
            .collect();
        let cleaned = clean(&track_of(&points), &Limits::default()).unwrap();
        let path = Path::of(&cleaned.spots);
        let held = Speeds::of(&cleaned, &path).best_held(1.0).unwrap();
        // Between 12 and 11.
        assert!((held.speed_m_s.value - 11.5).abs() < 1e-9);
        assert!((held.from_s - 2.0).abs() < 1e-9);
    }
}
