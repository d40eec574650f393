//! What an accelerometer and a gyro felt: hopping, landings, pitch and heel.

use crate::measured::{Measured, median, robust_sigma};
use fourier::Complex;
use laws::constants::GRAVITY_M_S2;

/// Hopping is looked for between these, Hz. Judgement, no source.
const HOP_HZ: (f64, f64) = (0.7, 15.0);
/// A peak must rise this far above the median power to be a hop; the chance that noise does so in one
/// of 200 bins is 200 exp(-17), about 1e-5.
const HOP_RATIO: f64 = 17.0;
/// Hopping comes and goes: it is looked for in pieces this long, s.
const PIECE_S: f64 = 20.0;
/// Spectra are padded to this many times their length, so that no peak falls between two bins.
const PADDED: usize = 4;
/// In the air the accelerometer feels less than this, g.
const WEIGHTLESS_G: f64 = 0.35;
/// Shortest flight, s: 0.1 s is a drop of 12 mm from the top.
const SHORTEST_FLIGHT_S: f64 = 0.1;
/// After a flight, the landing is looked for within, s.
const LANDING_S: f64 = 0.25;

/// A motion log on one clock.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct MotionLog {
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
    /// First moment of the piece it stands out of most, s.
    pub from_s: f64,
    /// Last moment, s.
    pub to_s: f64,
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

impl MotionLog {
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

    /// The strongest regular hop between two times, if there is one: of all pieces of 20 s, each half over the
    /// next, the one it stands out of most.
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
        let highest_hz = HOP_HZ.1.min(0.45 * rate_hz);
        let (first, last) = (inside[0], inside[inside.len() - 1] + 1);
        let pieces = self.pieces(first, last);
        // As many pieces are as many chances for noise to look like a hop.
        let ratio = HOP_RATIO + (pieces.len() as f64).ln();
        let hops = pieces.into_iter().filter_map(|(a, b)| {
            strongest(&self.time_s[a..b], &self.up_m_s2[a..b], highest_hz, ratio)
        });
        Ok(hops.max_by(|a, b| a.over_noise.total_cmp(&b.over_noise)))
    }

    /// First and last index of pieces that overlap by half; what is left over belongs to the last.
    fn pieces(&self, first: usize, last: usize) -> Vec<(usize, usize)> {
        let index = |t: f64| first + self.time_s[first..last].partition_point(|x| *x < t);
        let (begin, end) = (self.time_s[first], self.time_s[last - 1]);
        let steps = ((end - begin) / (0.5 * PIECE_S)).floor().max(2.0) as usize - 1;
        (0..steps)
            .map(|k| {
                let from = begin + 0.5 * PIECE_S * k as f64;
                let to = if k + 1 == steps {
                    last
                } else {
                    index(from + PIECE_S)
                };
                (index(from), to)
            })
            .filter(|(a, b)| b - a >= 32)
            .collect()
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

/// The strongest sine. Looked for in the spectrum of the samples brought to even times, placed by the
/// least-squares power at their own times.
fn strongest(times: &[f64], values: &[f64], highest_hz: f64, ratio: f64) -> Option<Hop> {
    let span = times[times.len() - 1] - times[0];
    let mean = values.iter().sum::<f64>() / values.len() as f64;
    let values: Vec<f64> = values.iter().map(|v| v - mean).collect();
    let (powers, first, step) = spectrum(times, &values, highest_hz)?;
    let (at, top) = powers
        .iter()
        .enumerate()
        .max_by(|a, b| a.1.total_cmp(b.1))
        .map(|(k, p)| (k, *p))?;
    let noise = median(&powers)? / std::f64::consts::LN_2;
    if top.is_nan() || top < ratio * noise || at == 0 || at + 1 == powers.len() {
        return None;
    }
    let near = (first + at) as f64 * step;
    let [a, top, c] = [near - step, near, near + step].map(|f| power(times, &values, f));
    let bend = a - 2.0 * top + c;
    let offset = if bend < 0.0 {
        (0.5 * (a - c) / bend).clamp(-1.0, 1.0)
    } else {
        0.0
    };
    // Frequency of a sine in noise: sqrt(6) / (pi T) / sqrt(2 * power over noise).
    let sigma = 6f64.sqrt() / (std::f64::consts::PI * span) / (2.0 * top / noise).sqrt();
    Some(Hop {
        frequency_hz: Measured::new(near + offset * step, sigma.hypot(0.02 / span)),
        amplitude_m_s2: 2.0 * (top / times.len() as f64).sqrt(),
        over_noise: top / noise,
        from_s: times[0],
        to_s: times[times.len() - 1],
    })
}

/// Powers, of noise alone its variance on average, the first one's number and the step between them, Hz.
fn spectrum(times: &[f64], values: &[f64], highest_hz: f64) -> Option<(Vec<f64>, usize, f64)> {
    let steps: Vec<f64> = times.windows(2).map(|w| w[1] - w[0]).collect();
    let dt = median(&steps)?;
    let n = ((times[times.len() - 1] - times[0]) / dt) as usize + 1;
    // A gap is bridged by a straight line; one far longer than the log would be no log.
    if n > 8 * times.len() {
        return None;
    }
    let transform = fourier::forward((PADDED * n).next_power_of_two());
    let (mut even, mut bins) = (transform.make_input_vec(), transform.make_output_vec());
    let mut i = 0;
    for (k, x) in even.iter_mut().take(n).enumerate() {
        let t = times[0] + k as f64 * dt;
        while i + 2 < times.len() && times[i + 1] < t {
            i += 1;
        }
        let part = ((t - times[i]) / (times[i + 1] - times[i])).clamp(0.0, 1.0);
        *x = values[i] + part * (values[i + 1] - values[i]);
    }
    transform.process(&mut even, &mut bins).ok()?;
    let step = 1.0 / (dt * even.len() as f64);
    let first = (HOP_HZ.0 / step).ceil() as usize;
    let last = ((highest_hz / step) as usize).min(bins.len() - 1);
    let kept = bins.get(first..=last)?.iter().map(Complex::norm_sqr);
    Some((kept.map(|p| p / n as f64).collect(), first, step))
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
pub fn roughness_m_s2(motion: &MotionLog) -> Option<f64> {
    robust_sigma(&motion.up_m_s2)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{Noise, Table};

    fn motion(seconds: f64, rate: f64, up: impl Fn(f64) -> f64) -> MotionLog {
        let n = (seconds * rate) as usize;
        let time_s: Vec<f64> = (0..n).map(|i| i as f64 / rate).collect();
        MotionLog {
            up_m_s2: time_s.iter().map(|t| up(*t)).collect(),
            time_s,
            ..MotionLog::default()
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
    fn a_hop_of_half_a_minute_is_found_in_a_log_of_an_hour() {
        let mut noise = Noise::new(9);
        let mut m = motion(3600.0, 50.0, |t| {
            let hops = if (1800.0..1830.0).contains(&t) {
                4.0
            } else {
                0.0
            };
            9.8 + hops * (std::f64::consts::TAU * 6.4 * t).sin()
        });
        m.up_m_s2
            .iter_mut()
            .for_each(|u| *u += 2.0 * noise.normal());
        let hop = m.hop(0.0, 3600.0).unwrap().unwrap();
        assert!((hop.frequency_hz.value - 6.4).abs() < 0.01, "{hop:?}");
        assert!(hop.from_s > 1785.0 && hop.to_s < 1845.0, "{hop:?}");
    }

    #[test]
    fn hop_and_pitch_are_those_of_scipy() {
        let table = Table::read(include_str!("../../../../checks/evidence_spectra.csv"));
        let value = |what: &str| {
            let row = (0..table.len()).find(|r| table.text(*r, "what") == what);
            table.number(row.unwrap(), "value")
        };
        let tau = std::f64::consts::TAU;
        let time_s: Vec<f64> = (0..1500)
            .map(|i| 0.01 * f64::from(i) + 0.003 * (7.0 * f64::from(i)).sin())
            .collect();
        let up = |t: &f64| 2.2 * (tau * 3.3 * t).sin() + 0.4 * (tau * 7.9 * t + 1.0).sin();
        let m = MotionLog {
            up_m_s2: time_s.iter().map(up).collect(),
            time_s,
            ..MotionLog::default()
        };
        let hop = m.hop(0.0, 20.0).unwrap().unwrap();
        // A parabola through three powers a quarter of a bin apart is not quite the peak: that is the floor of
        // the stated error.
        assert!(
            (hop.frequency_hz.value - value("hop frequency")).abs() < hop.frequency_hz.sigma,
            "{hop:?}"
        );
        assert!(
            (hop.amplitude_m_s2 / value("hop amplitude") - 1.0).abs() < 0.02,
            "{hop:?}"
        );
        let i = |t: f64| (t * 100.0).round();
        let mut m = motion(8.0, 100.0, |_| 0.0);
        let tilt = |t: f64| 0.2 * (0.01 * i(t)).sin();
        m.pitch_rate_rad_s = m
            .time_s
            .iter()
            .map(|t| 0.3 * (0.02 * i(*t)).cos())
            .collect();
        m.forward_m_s2 = m.time_s.iter().map(|t| 9.80665 * tilt(*t).sin()).collect();
        m.up_m_s2 = m.time_s.iter().map(|t| 9.80665 * tilt(*t).cos()).collect();
        let pitch = m.pitch_rad(2.0).unwrap();
        for r in (0..table.len()).filter(|r| table.text(*r, "what") == "pitch") {
            let k = table.number(r, "index") as usize;
            assert!((pitch[k] - table.number(r, "value")).abs() < 1e-8, "{k}");
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
