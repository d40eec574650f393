//! Frequency heard at a microphone as a tone passes on a straight line.
//!
//! - Sound heard at `t` left the source at `t_e`, where `t = t_e + r/c`, `r^2 = x^2 + d^2`,
//!   `x = v t_e`; so `f = f0 / (1 + (v/c) x/r)`. The quadratic for `t_e` is solved exactly:
//!   `t_e = (c^2 t - sqrt(c^2 v^2 t^2 + d^2 (c^2 - v^2))) / (c^2 - v^2)`.
//! - Source: kinematics of a moving source and a still observer in still air (Doppler 1842).
//! - Units: m/s, Hz, m, s; `t = 0` is when the source *is* closest, heard `d/c` later.
//! - Valid: below the speed of sound, straight path, steady speed, air at rest, direct path only:
//!   a reflection from water or a bank arrives by another path.
//! - Checks: `checks/doppler_pass_curve.csv` (derived from the same kinematics: catches slips).

use crate::input::{InputError, finite, not_negative, positive, require};

/// Sound heard from a passing source.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DopplerPass {
    /// Frequency at the microphone, Hz.
    pub frequency_hz: f64,
    /// When the sound left the source, s.
    pub emission_time_s: f64,
    /// Where the source was then: along its path past the closest point, m.
    pub source_position_m: f64,
    /// Distance the sound travelled, m.
    pub distance_m: f64,
}

/// What a microphone hears at `time_s` after the source was closest.
///
/// # Errors
/// [`InputError`] for a speed not below that of sound, a tone not above zero, or a negative distance.
pub fn doppler_pass(
    speed_m_s: f64,
    sound_speed_m_s: f64,
    tone_hz: f64,
    closest_m: f64,
    time_s: f64,
) -> Result<DopplerPass, InputError> {
    let c = positive("sound_speed", sound_speed_m_s)?;
    let v = require("speed", speed_m_s, "0 or more and below sound_speed", |v| {
        (0.0..c).contains(&v)
    })?;
    let tone = positive("tone", tone_hz)?;
    let d = not_negative("closest", closest_m)?;
    let t = finite("time", time_s)?;
    let slack = (c - v) * (c + v);
    let emission = (c * c * t - (v * v * t * t * c * c + d * d * slack).sqrt()) / slack;
    let x = v * emission;
    let r = x.hypot(d);
    let cosine = if r > 0.0 { x / r } else { 0.0 };
    Ok(DopplerPass {
        frequency_hz: tone / (1.0 + v / c * cosine),
        emission_time_s: emission,
        source_position_m: x,
        distance_m: r,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{Table, relative};

    #[test]
    fn agrees_with_the_retarded_curve() {
        let t = Table::read(include_str!("../../../checks/doppler_pass_curve.csv"));
        for r in 0..t.len() {
            let heard = t.number(r, "t_heard_s");
            let p = doppler_pass(20.0, 343.0, 1000.0, 5.0, heard).unwrap();
            // The table rounds time to 1e-6 s, at most 3e-4 Hz here, and frequency to 5e-5 Hz.
            assert!((p.frequency_hz - t.number(r, "f_heard_Hz")).abs() < 4e-4);
            assert!((p.source_position_m - t.number(r, "x_source_m")).abs() < 3e-5);
        }
    }

    #[test]
    fn sound_takes_its_time() {
        let p = doppler_pass(30.0, 340.0, 500.0, 8.0, 1.3).unwrap();
        assert!((p.emission_time_s + p.distance_m / 340.0 - 1.3).abs() < 1e-12);
    }

    #[test]
    fn far_away_gives_the_straight_limits() {
        let at = |t| {
            doppler_pass(20.0, 343.0, 1000.0, 5.0, t)
                .unwrap()
                .frequency_hz
        };
        assert!(relative(at(-1e5), 1000.0 * 343.0 / 323.0) < 1e-9);
        assert!(relative(at(1e5), 1000.0 * 343.0 / 363.0) < 1e-9);
    }

    #[test]
    fn a_still_source_is_heard_as_it_is() {
        let p = doppler_pass(0.0, 343.0, 1000.0, 5.0, 2.0).unwrap();
        assert_eq!(p.frequency_hz, 1000.0);
    }

    #[test]
    fn refuses_what_cannot_be() {
        assert!(doppler_pass(343.0, 343.0, 1e3, 5.0, 0.0).is_err());
        assert!(doppler_pass(-1.0, 343.0, 1e3, 5.0, 0.0).is_err());
        assert!(doppler_pass(20.0, 343.0, 1e3, -5.0, 0.0).is_err());
        assert!(doppler_pass(20.0, 343.0, 0.0, 5.0, 0.0).is_err());
        assert!(doppler_pass(20.0, 343.0, 1e3, 5.0, f64::NAN).is_err());
    }
}
