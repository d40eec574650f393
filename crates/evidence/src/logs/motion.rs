//! What an accelerometer and a gyro felt: hopping, landings, pitch and heel.

use crate::measured::{Measured, median, robust_sigma};

const GRAVITY_M_S2: f64 = 9.80665;
/// Hopping is looked for between these, Hz. Judgement, no source.
const HOP_HZ: (f64, f64) = (0.7, 15.0);
/// A peak must rise this far above the median power to be a hop; the chance that noise does so in one
/// of 200 bins is 200 exp(-17), about 1e-5.
const HOP_RATIO: f64 = 17.0;
/// In the air the accelerometer feels less than this, g.
const WEIGHTLESS_G: f64 = 0.35;
/// Shortest flight, s: 0.1 s is a drop of 12 mm from the top.
const SHORTEST_FLIGHT_S: f64 = 0.1;
/// After a flight, the landing is looked for within, s.
const LANDING_S: f64 = 0.25;

/// A motion log on one clock.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Motion {
    /// s, rising.
    pub time_s: Vec<f64>,
    /// Felt upward acceleration (1 g at rest), m/s2.
    pub up_m_s2: Vec<f64>,
    /// Felt forward acceleration, m/s2; empty when not logged.
    pub forward_m_s2: Vec<f64>,
    /// Felt acceleration to port, m/s2; empty when not logged.
    pub port_m_s2: Vec<f64>,
    /// Pitch rate, bow up positive, rad/s; empty when not logged.
    pub pitch_rate_rad_s: Vec<f64>,
    /// Roll rate, starboard down positive, rad/s; empty when not logged.
    pub roll_rate_rad_s: Vec<f64>,
}

/// Why motion cannot be read.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum MotionError {
    /// Not enough.
    #[error("{samples} samples are too few; record at least some seconds")]
    TooShort {
        /// Given.
        samples: usize,
    },
    /// Lengths differ or times do not rise.
    #[error("times must rise and every column must be as long")]
    Uneven,
    /// Too slow for what is asked.
    #[error(
        "{rate_hz:.0} samples a second are too few for this; at least {needed_hz:.0} are needed"
    )]
    TooSlow {
        /// Given.
        rate_hz: f64,
        /// Needed.
        needed_hz: f64,
    },
}

/// Regular up-and-down motion.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hop {
    /// Frequency, Hz.
    pub frequency_hz: Measured,
    /// Amplitude of acceleration, m/s2.
    pub amplitude_m_s2: f64,
    /// Power of the peak over the median around.
    pub over_noise: f64,
}

/// A flight and its landing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Landing {
    /// Leaving the water, s.
    pub from_s: f64,
    /// Touching it, s.
    pub to_s: f64,
    /// Highest felt acceleration after, g.
    pub peak_g: f64,
    /// The peak is at the sensor's limit, so the true one was higher.
    pub clipped: bool,
}

impl Motion {
    fn rate_hz(&self) -> Result<f64, MotionError> {
        let n = self.time_s.len();
        if n < 32 {
            return Err(MotionError::TooShort { samples: n });
        }
        let rises = self.time_s.windows(2).all(|w| w[1] > w[0]);
        if !rises || self.up_m_s2.len() != n {
            return Err(MotionError::Uneven);
        }
        let steps: Vec<f64> = self.time_s.windows(2).map(|w| w[1] - w[0]).collect();
        Ok(1.0 / median(&steps).unwrap_or(1.0))
    }

    /// The strongest regular hop between two times, if there is one.
    ///
    /// # Errors
    /// [`MotionError`].
    pub fn hop(&self, from_s: f64, to_s: f64) -> Result<Option<Hop>, MotionError> {
        let rate_hz = self.rate_hz()?;
        let needed_hz = 2.5 * HOP_HZ.0;
        if rate_hz < needed_hz {
            return Err(MotionError::TooSlow { rate_hz, needed_hz });
        }
        let inside: Vec<usize> = (0..self.time_s.len())
            .filter(|i| (from_s..=to_s).contains(&self.time_s[*i]))
            .collect();
        if inside.len() < 32 {
            return Err(MotionError::TooShort {
                samples: inside.len(),
            });
        }
        let up: Vec<f64> = inside.iter().map(|i| self.up_m_s2[*i]).collect();
        let mean = up.iter().sum::<f64>() / up.len() as f64;
        let centred: Vec<f64> = up.iter().map(|u| u - mean).collect();
        let times: Vec<f64> = inside.iter().map(|i| self.time_s[*i]).collect();
        Ok(strongest(&times, &centred, HOP_HZ.1.min(0.45 * rate_hz)))
    }

    /// Flights and landings.
    ///
    /// # Errors
    /// [`MotionError`].
    pub fn landings(&self) -> Result<Vec<Landing>, MotionError> {
        let rate_hz = self.rate_hz()?;
        let needed_hz = 40.0;
        if rate_hz < needed_hz {
            return Err(MotionError::TooSlow { rate_hz, needed_hz });
        }
        let g: Vec<f64> = (0..self.time_s.len())
            .map(|i| self.felt(i) / GRAVITY_M_S2)
            .collect();
        let limit = g.iter().copied().fold(0.0, f64::max);
        let at_limit = g.iter().filter(|x| **x > 0.999 * limit).count();
        let mut found = Vec::new();
        let mut start = None;
        for i in 0..g.len() {
            match (g[i] < WEIGHTLESS_G, start) {
                (true, None) => start = Some(i),
                (false, Some(s)) => {
                    start = None;
                    let (from_s, to_s) = (self.time_s[s], self.time_s[i]);
                    if to_s - from_s < SHORTEST_FLIGHT_S {
                        continue;
                    }
                    let after = (i..g.len()).take_while(|j| self.time_s[*j] - to_s <= LANDING_S);
                    let peak_g = after.map(|j| g[j]).fold(0.0, f64::max);
                    found.push(Landing {
                        from_s,
                        to_s,
                        peak_g,
                        clipped: peak_g > 0.999 * limit && at_limit >= 3,
                    });
                }
                _ => {}
            }
        }
        Ok(found)
    }

    /// Size of the felt acceleration, m/s2.
    fn felt(&self, i: usize) -> f64 {
        let of = |v: &[f64]| v.get(i).copied().unwrap_or(0.0);
        let plane = of(&self.forward_m_s2).hypot(of(&self.port_m_s2));
        plane.hypot(self.up_m_s2[i])
    }

    /// Pitch (bow up positive) against time, rad, by following the gyro and trusting the
    /// accelerometer over `settle_s`, while it feels about 1 g. `None` without a pitch rate and a
    /// forward acceleration. Speeding up feels like pitch: within `settle_s` of it, do not trust this.
    pub fn pitch_rad(&self, settle_s: f64) -> Option<Vec<f64>> {
        self.attitude(&self.pitch_rate_rad_s, &self.forward_m_s2, settle_s)
    }

    /// Heel (starboard down positive) against time, rad, in the same way.
    pub fn heel_rad(&self, settle_s: f64) -> Option<Vec<f64>> {
        self.attitude(&self.roll_rate_rad_s, &self.port_m_s2, settle_s)
    }

    /// At rest with the bow up (or starboard down), gravity's reaction points forward (to port).
    fn attitude(&self, rate: &[f64], level: &[f64], settle_s: f64) -> Option<Vec<f64>> {
        let n = self.time_s.len();
        if rate.len() != n || level.len() != n || n == 0 || settle_s <= 0.0 {
            return None;
        }
        let tilt = |i: usize| level[i].atan2(self.up_m_s2[i]);
        let mut angle = tilt(0);
        let mut all = vec![angle];
        for i in 1..n {
            let dt = self.time_s[i] - self.time_s[i - 1];
            angle += 0.5 * dt * (rate[i] + rate[i - 1]);
            if (self.felt(i) / GRAVITY_M_S2 - 1.0).abs() < 0.25 {
                angle += (dt / settle_s).min(1.0) * (tilt(i) - angle);
            }
            all.push(angle);
        }
        Some(all)
    }
}

/// The strongest sine among trial frequencies: a least-squares periodogram, which needs no even times.
fn strongest(times: &[f64], values: &[f64], highest_hz: f64) -> Option<Hop> {
    let span = times[times.len() - 1] - times[0];
    let step = 0.25 / span;
    let trials = ((highest_hz - HOP_HZ.0) / step).max(0.0) as usize;
    let frequency = |k: usize| HOP_HZ.0 + k as f64 * step;
    let powers: Vec<f64> = (0..trials.min(20_000))
        .map(|k| power(times, values, frequency(k)))
        .collect();
    let (at, top) = powers
        .iter()
        .enumerate()
        .max_by(|a, b| a.1.total_cmp(b.1))
        .map(|(k, p)| (k, *p))?;
    let noise = median(&powers)? / std::f64::consts::LN_2;
    if top < HOP_RATIO * noise || at == 0 || at + 1 == powers.len() {
        return None;
    }
    let (a, b, c) = (powers[at - 1], top, powers[at + 1]);
    let offset = 0.5 * (a - c) / (a - 2.0 * b + c);
    // Frequency of a sine in noise: sqrt(6) / (pi T) / sqrt(2 * power over noise).
    let sigma = 6f64.sqrt() / (std::f64::consts::PI * span) / (2.0 * top / noise).sqrt();
    Some(Hop {
        frequency_hz: Measured::new(frequency(at) + offset * step, sigma.hypot(0.02 / span)),
        amplitude_m_s2: 2.0 * (top / times.len() as f64).sqrt(),
        over_noise: top / noise,
    })
}

/// Power at a frequency: of noise alone, its variance on average.
fn power(times: &[f64], values: &[f64], hz: f64) -> f64 {
    let (mut re, mut im) = (0.0, 0.0);
    for (t, v) in times.iter().zip(values) {
        let (s, c) = (std::f64::consts::TAU * hz * t).sin_cos();
        re += v * c;
        im += v * s;
    }
    (re * re + im * im) / times.len() as f64
}

/// Scatter of the felt acceleration, m/s2: how rough the water was.
pub fn roughness_m_s2(motion: &Motion) -> Option<f64> {
    robust_sigma(&motion.up_m_s2)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::Noise;

    fn motion(seconds: f64, rate: f64, up: impl Fn(f64) -> f64) -> Motion {
        let n = (seconds * rate) as usize;
        let time_s: Vec<f64> = (0..n).map(|i| i as f64 / rate).collect();
        Motion {
            up_m_s2: time_s.iter().map(|t| up(*t)).collect(),
            time_s,
            ..Motion::default()
        }
    }

    #[test]
    fn a_hop_is_found_with_its_frequency_and_size_and_noise_is_none() {
        let mut noise = Noise::new(1);
        let mut m = motion(10.0, 100.0, |t| {
            9.8 + 3.0 * (std::f64::consts::TAU * 3.37 * t).sin()
        });
        m.up_m_s2
            .iter_mut()
            .for_each(|u| *u += 4.0 * noise.normal());
        let hop = m.hop(0.0, 10.0).unwrap().unwrap();
        let f = hop.frequency_hz;
        assert!(
            (f.value - 3.37).abs() < 3.0 * f.sigma && f.sigma < 0.02,
            "{hop:?}"
        );
        assert!((hop.amplitude_m_s2 - 3.0).abs() < 0.5);
        for seed in 0..20 {
            let mut noise = Noise::new(100 + seed);
            let mut m = motion(10.0, 100.0, |_| 9.8);
            m.up_m_s2
                .iter_mut()
                .for_each(|u| *u += 4.0 * noise.normal());
            assert_eq!(m.hop(0.0, 10.0).unwrap(), None, "{seed}");
        }
    }

    #[test]
    fn a_flight_has_its_time_and_its_landing() {
        let up = |t: f64| match t {
            t if (2.0..2.4).contains(&t) => 0.5,
            t if (2.4..2.45).contains(&t) => 85.0,
            _ => 9.8,
        };
        let l = motion(5.0, 200.0, up).landings().unwrap();
        assert_eq!(l.len(), 1);
        assert!((l[0].to_s - l[0].from_s - 0.4).abs() < 0.011);
        assert!((l[0].peak_g - 85.0 / 9.80665).abs() < 1e-9);
        assert!(l[0].clipped);
    }

    #[test]
    fn pitch_follows_the_gyro_and_settles_on_gravity() {
        let mut m = motion(20.0, 100.0, |_| 9.8);
        let angle = |t: f64| 0.1 + 0.05 * (2.0 * t).sin();
        m.pitch_rate_rad_s = m
            .time_s
            .iter()
            .map(|t| 0.1 * (2.0 * t).cos() + 0.01)
            .collect();
        m.forward_m_s2 = m.time_s.iter().map(|t| 9.8 * angle(*t).sin()).collect();
        m.up_m_s2 = m.time_s.iter().map(|t| 9.8 * angle(*t).cos()).collect();
        let pitch = m.pitch_rad(2.0).unwrap();
        // A gyro off by 0.01 rad/s leaves 0.01 times the settling time.
        for (p, t) in pitch.iter().zip(&m.time_s).skip(1000) {
            assert!((p - angle(*t) - 0.02).abs() < 0.005);
        }
        assert_eq!(m.heel_rad(2.0), None);
    }

    #[test]
    fn too_slow_or_short_says_so() {
        assert!(matches!(
            motion(60.0, 1.0, |_| 9.8).hop(0.0, 60.0),
            Err(MotionError::TooSlow { .. })
        ));
        assert!(matches!(
            motion(0.1, 100.0, |_| 9.8).landings(),
            Err(MotionError::TooShort { .. })
        ));
    }
}
