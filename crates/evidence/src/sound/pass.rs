//! A boat going by a microphone: speed, closest distance and true frequency from one tone.
//!
//! The course of the tone is fitted with [`laws::doppler_pass`], retarded time and all, by damped
//! least squares. Speed follows from how far the tone falls, distance from how fast, and the true
//! frequency from where. What the fit cannot know goes into the stated errors: the speed of sound
//! (speed is proportional to it), and a floor for a path that is not quite straight and a motor
//! that is not quite steady.
//!
//! The turns may drift evenly: a drift is fitted along, held near zero by a prior of 0.1 % a second. So a
//! far, slow pass, which a drift could fake in part, is stated as the less sure that it is.
//!
//! Valid for a straight pass at steady speed and throttle, the microphone at rest, wind well below
//! the speed of sound. A pass that is heard on one side only is refused, since a falling rpm sounds
//! the same.

use super::shaft::Heard;
use crate::fit::{Fit, FitError, least_squares};
use crate::measured::{Measured, median, robust_sigma};
use laws::doppler_pass::doppler_pass;

/// Fewest points in a fit.
const FEWEST: usize = 10;
/// Time each side of the pass that is fitted, s. Longer, and boats turn.
const REACH_S: f64 = 3.5;
/// Where the boat turned or gathered way within that, less of its course may still be straight, s.
const SHORTER_S: [f64; 2] = [2.2, 1.4];
/// Speeds over two reaches further apart than this many of their errors disagree.
const DISAGREE: f64 = 2.5;
/// A course must follow the curve this well, else the path was not straight. Judgement.
const SHORTER_MISFIT: f64 = 2.5;
/// Falls closer together than this are one, s: a throttle eased in the turn after a pass is another.
const APART_S: f64 = 1.5;
/// A shorter course must reach out this many times the time of closest distance over speed.
const SHORTER_REACH: f64 = 2.5;
/// Smallest fall in frequency looked at, as a part: 1.5 % is 2.6 m/s.
const LEAST_FALL: f64 = 0.015;
/// A speed less certain than this is refused, as a part.
const WORST_SPEED: f64 = 0.25;
/// A distance less certain than this is left out, as a part.
const WORST_DISTANCE: f64 = 0.5;
/// Errors of the model itself: path not straight, rpm not steady. Judgement, no source.
const SPEED_FLOOR: f64 = 0.005;
const DISTANCE_FLOOR: f64 = 0.03;
const TONE_FLOOR: f64 = 0.0005;
/// Drift of the turns on a straight with the throttle held, a part a second: a pack that sags, a boat that
/// still gathers way. Judgement, no source.
const DRIFT: f64 = 0.001;
/// A drift below this many of its errors is taken for none, though its error stays in the others.
const SURE_DRIFT: f64 = 2.5;
/// A far, slow pass is fitted over this many times its closest distance over its speed, where heard.
const WIDE: f64 = 4.0;
/// But no longer than this each side, s.
const LONGEST_REACH_S: f64 = 9.0;
/// Errors of neighbouring points are looked at together up to this many apart.
const TOGETHER: usize = 12;
/// Points further off than this many errors are left out.
const OUTLIER: f64 = 4.0;

/// A pass, measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Pass {
    /// Speed, m/s.
    pub speed_m_s: Measured,
    /// Closest distance from the microphone, m; `None` where the sound does not fix it.
    pub closest_m: Option<Measured>,
    /// Frequency at the source, Hz (of the base the course was given in).
    pub frequency_hz: Measured,
    /// When the boat was closest, s on the recording's clock.
    pub time_s: Measured,
    /// Correlation of the fitted speed and distance, -1 to 1.
    pub speed_distance_correlation: f64,
    /// Points used and left out.
    pub used: usize,
    /// Points left out as wild.
    pub left_out: usize,
    /// Scatter about the curve over the stated errors; well above 1 the model does not fit.
    pub misfit: f64,
}

/// Why a course gave no pass.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum PassError {
    /// Too few points.
    #[error("{points} points near the pass, but {FEWEST} are needed; record longer or closer")]
    TooFewPoints {
        /// Points near it.
        points: usize,
    },
    /// Heard on one side only.
    #[error("the tone is held on one side of the pass only; a change of rpm would sound the same")]
    OneSided,
    /// The tone does not fall as a pass makes it.
    #[error("the tone does not fall as a passing boat's does")]
    NoFall,
    /// The fit says too little.
    #[error("the speed is uncertain by {percent:.0} %; the tone is too weak or too short")]
    TooUncertain {
        /// Relative uncertainty of speed, %.
        percent: f64,
    },
    /// The model does not describe the course.
    #[error(
        "the tone does not follow the curve of a straight, steady pass (scatter {misfit:.1} times its error)"
    )]
    NotAPass {
        /// Scatter over stated error.
        misfit: f64,
    },
    /// The numbers do not fix the curve.
    #[error(transparent)]
    Fit(FitError),
}

/// Times at which a course falls as in a pass, s.
pub fn candidates(course: &[Heard]) -> Vec<f64> {
    // A near, quick pass falls within a second; a far, slow one takes several.
    let near = steepest(course, 1.0, 0.5 * APART_S);
    let far = steepest(course, 3.0, APART_S);
    let mut all = near.clone();
    all.extend(
        far.into_iter()
            .filter(|f| near.iter().all(|n| (n - f).abs() > APART_S)),
    );
    all.sort_by(f64::total_cmp);
    all
}

/// Times at which the fall from one side to the other is the greatest within `radius_s`.
fn steepest(course: &[Heard], side_s: f64, radius_s: f64) -> Vec<f64> {
    let falls: Vec<(f64, f64)> = course
        .iter()
        .map(|h| (h.time_s, fall_at(course, h.time_s, side_s)))
        .collect();
    let mut found: Vec<f64> = Vec::new();
    for (i, (t, fall)) in falls.iter().enumerate() {
        let before = falls[..i].iter().rev().take_while(|f| t - f.0 <= radius_s);
        let after = falls[i + 1..].iter().take_while(|f| f.0 - t <= radius_s);
        let highest = before.chain(after).all(|f| f.1 <= *fall);
        if *fall >= LEAST_FALL && highest && found.last().is_none_or(|l| t - l > radius_s) {
            found.push(*t);
        }
    }
    found
}

/// Part by which the frequency falls from the median of one side of a time to that of the other;
/// 0 when not heard on both.
fn fall_at(course: &[Heard], time_s: f64, side_s: f64) -> f64 {
    let index = |t: f64| course.partition_point(|h| h.time_s < t);
    let here = index(time_s);
    let side = |sign: f64| {
        let part = if sign < 0.0 {
            &course[index(time_s - side_s)..here]
        } else {
            &course[here..index(time_s + side_s)]
        };
        let near: Vec<f64> = part.iter().map(|h| h.frequency_hz.value).collect();
        (near.len() >= 3).then(|| median(&near)).flatten()
    };
    match (side(-1.0), side(1.0)) {
        (Some(before), Some(after)) => (before - after) / (before + after) * 2.0,
        _ => 0.0,
    }
}

/// Fits the pass near `time_s` of a course. `sound_speed_m_s` carries the error of the air's temperature.
///
/// # Errors
/// [`PassError`].
pub fn fit_pass(
    course: &[Heard],
    time_s: f64,
    sound_speed_m_s: Measured,
) -> Result<Pass, PassError> {
    fit_known_pass(course, time_s, sound_speed_m_s, None)
}

/// The same with the closest distance measured on the bank: one more reading, weighed by its error.
/// It narrows the speed where a short or noisy course leaves speed and distance tied together.
///
/// # Errors
/// [`PassError`].
pub fn fit_known_pass(
    course: &[Heard],
    time_s: f64,
    sound_speed_m_s: Measured,
    closest_m: Option<Measured>,
) -> Result<Pass, PassError> {
    let known = closest_m.filter(|k| k.value > 0.0 && k.sigma > 0.0);
    let whole = fit_within(course, time_s, sound_speed_m_s, known, REACH_S).map(|p| {
        let reach = WIDE * p.closest_m.map_or(0.0, |d| d.value) / p.speed_m_s.value;
        if reach <= REACH_S {
            return p;
        }
        let wide = fit_within(
            course,
            time_s,
            sound_speed_m_s,
            known,
            reach.min(LONGEST_REACH_S),
        );
        match wide {
            Ok(w) if w.misfit < SHORTER_MISFIT && agree(&w, &p) => w,
            _ => p,
        }
    });
    let bends = |p: &Pass, reach: f64| {
        let closest = p.closest_m.map_or(f64::INFINITY, |d| d.value);
        reach > SHORTER_REACH * closest / p.speed_m_s.value
    };
    let shorter: Vec<Pass> = SHORTER_S
        .iter()
        .filter_map(|r| {
            Some((
                *r,
                fit_within(course, time_s, sound_speed_m_s, known, *r).ok()?,
            ))
        })
        .filter(|(r, p)| p.misfit < SHORTER_MISFIT && bends(p, *r))
        .map(|(_, p)| p)
        .collect();
    let wholly = whole.is_ok();
    match whole {
        // A boat that turned or gathered way near the pass still gives a curve, and a wrong speed
        // with a small error; a straight, steady one gives the same speed over every reach.
        Ok(whole) => longest_agreeing(whole, shorter, wholly),
        Err(PassError::NotAPass { .. } | PassError::NoFall) if !shorter.is_empty() => {
            let mut rest = shorter.into_iter();
            let first = rest.next().ok_or(PassError::NoFall)?;
            longest_agreeing(first, rest.collect(), wholly)
        }
        Err(e) => Err(e),
    }
}

/// The fit over the longest reach with which every shorter one agrees. The shortest has nothing to
/// agree with: alone it is believed only when it is the `whole` reach.
fn longest_agreeing(longest: Pass, shorter: Vec<Pass>, whole: bool) -> Result<Pass, PassError> {
    let mut all = vec![longest];
    all.extend(shorter);
    let alone = whole && all.len() == 1;
    let checked = if alone { 1 } else { all.len() - 1 };
    let found = (0..checked).find(|i| {
        all[*i].misfit < SHORTER_MISFIT && all[i + 1..].iter().all(|b| agree(&all[*i], b))
    });
    let misfit = all[0].misfit;
    found.map_or(Err(PassError::NotAPass { misfit }), |i| {
        Ok(all.swap_remove(i))
    })
}

fn agree(a: &Pass, b: &Pass) -> bool {
    let sigma = a.speed_m_s.sigma.hypot(b.speed_m_s.sigma);
    (a.speed_m_s.value - b.speed_m_s.value).abs() < DISAGREE * sigma
}

fn fit_within(
    course: &[Heard],
    time_s: f64,
    sound_speed_m_s: Measured,
    known: Option<Measured>,
    reach_s: f64,
) -> Result<Pass, PassError> {
    let near: Vec<Heard> = course
        .iter()
        .filter(|h| (h.time_s - time_s).abs() <= reach_s)
        .copied()
        .collect();
    if near.len() < FEWEST {
        return Err(PassError::TooFewPoints { points: near.len() });
    }
    let c = sound_speed_m_s.value;
    let first = best_start(&near, time_s, c)?;
    let rough = solve(&near, &first, c, known, true)?;
    let off: Vec<f64> = residuals(&near, &rough.parameters, c);
    let scale = robust_sigma(&off).unwrap_or(1.0).max(1.0);
    let kept: Vec<Heard> = near
        .iter()
        .zip(&off)
        .filter(|(_, r)| r.abs() < OUTLIER * scale)
        .map(|(h, _)| *h)
        .collect();
    let fit = solve(&kept, &rough.parameters, c, known, false)?;
    judge(&kept, near.len() - kept.len(), &fit, sound_speed_m_s)
}

/// Parameters: log speed, log distance, frequency, time, drift. Logarithms keep the first two above zero.
fn model(p: &[f64], c: f64, time_s: f64) -> f64 {
    let (speed, closest) = (p[0].exp(), p[1].exp());
    let since = time_s - p[3];
    doppler_pass(speed, c, p[2], closest, since).map_or(f64::NAN, |d| {
        d.frequency_hz * (1.0 + p[4] * d.emission_time_s)
    })
}

fn residuals(course: &[Heard], p: &[f64], c: f64) -> Vec<f64> {
    course
        .iter()
        .map(|h| (model(p, c, h.time_s) - h.frequency_hz.value) / h.frequency_hz.sigma)
        .collect()
}

/// Cauchy's loss, so that wild points pull little.
fn tame(r: f64) -> f64 {
    const WIDTH: f64 = 2.4;
    r.signum() * WIDTH * (r / WIDTH).powi(2).ln_1p().sqrt()
}

fn solve(
    course: &[Heard],
    start: &[f64],
    c: f64,
    known: Option<Measured>,
    robust: bool,
) -> Result<Fit, PassError> {
    let step = [0.05, 0.1, 1e-3 * start[2], 0.02, DRIFT];
    least_squares(start, &step, |p| {
        let mut r = residuals(course, p, c);
        if robust {
            r.iter_mut().for_each(|r| *r = tame(*r));
        }
        r.extend(known.map(|k| (p[1].exp() - k.value) / k.sigma));
        r.push(p[4] / DRIFT);
        // Beyond the speed of sound the law has no value; such a step is turned back.
        r.iter_mut().filter(|r| r.is_nan()).for_each(|r| *r = 1e6);
        r
    })
    .map_err(PassError::Fit)
}

/// The best of a coarse grid over distance and time.
fn best_start(course: &[Heard], time_s: f64, c: f64) -> Result<Vec<f64>, PassError> {
    let part = |from: f64, to: f64| {
        let n = course.len() as f64;
        let slice = &course[(from * n) as usize..(to * n) as usize];
        median(
            &slice
                .iter()
                .map(|h| h.frequency_hz.value)
                .collect::<Vec<_>>(),
        )
        .unwrap_or(0.0)
    };
    let (high, low) = (part(0.0, 0.25), part(0.75, 1.0));
    if high <= low * (1.0 + 0.5 * LEAST_FALL) {
        return Err(PassError::NoFall);
    }
    let mut best = (f64::INFINITY, Vec::new());
    for gain in [1.0, 1.2] {
        let beta = (gain * (high - low) / (high + low)).min(0.5);
        for closest in [1.0, 2.0, 4.0, 8.0, 16.0, 32.0f64] {
            for shift in -6..=6 {
                // Doppler factors 1/(1-b) and 1/(1+b): their harmonic mean is 1.
                let tone = 2.0 * high * low / (high + low);
                let p = vec![
                    (beta * c).ln(),
                    closest.ln(),
                    tone,
                    time_s + 0.15 * f64::from(shift) - closest / c,
                    0.0,
                ];
                let cost: f64 = residuals(course, &p, c)
                    .iter()
                    .map(|r| tame(*r).powi(2))
                    .sum();
                if cost < best.0 {
                    best = (cost, p);
                }
            }
        }
    }
    Ok(best.1)
}

fn judge(
    course: &[Heard],
    left_out: usize,
    fit: &Fit,
    sound_speed: Measured,
) -> Result<Pass, PassError> {
    let p = &settled_drift(fit);
    let (speed, closest) = (p[0].exp(), p[1].exp());
    let sides = [-1.0, 1.0].map(|s| {
        // A side is heard when it reaches out to where most of the fall has happened.
        let reach = course
            .iter()
            .map(|h| s * (h.time_s - p[3]))
            .fold(0.0, f64::max);
        reach > closest / speed
    });
    if sides != [true, true] {
        return Err(PassError::OneSided);
    }
    let misfit = fit.variance_factor().sqrt();
    if misfit > 6.0 {
        return Err(PassError::NotAPass { misfit });
    }
    let widened = drawn_out(&residuals(course, p, sound_speed.value)).sqrt();
    // What leaving the drift out changed may have been right.
    let sigma = |i: usize| (widened * fit.sigma(i)).hypot(p[i] - fit.parameters[i]);
    if sigma(0) > WORST_SPEED {
        return Err(PassError::TooUncertain {
            percent: 100.0 * sigma(0),
        });
    }
    let distance = Measured::new(closest, closest * sigma(1)).with_relative_error(DISTANCE_FLOOR);
    Ok(Pass {
        speed_m_s: Measured::new(speed, speed * sigma(0))
            .with_relative_error(SPEED_FLOOR)
            .with_relative_error(sound_speed.relative()),
        closest_m: (distance.relative() < WORST_DISTANCE).then_some(distance),
        frequency_hz: Measured::new(p[2], sigma(2)).with_relative_error(TONE_FLOOR),
        time_s: Measured::new(p[3], sigma(3)),
        speed_distance_correlation: fit.covariance[(0, 1)]
            / (fit.covariance[(0, 0)] * fit.covariance[(1, 1)]).sqrt(),
        used: course.len(),
        left_out,
        misfit,
    })
}

/// The parameters given no drift, unless one is certain: the mean of a normal distribution under that condition.
fn settled_drift(fit: &Fit) -> Vec<f64> {
    let drift = fit.parameters[4];
    let share = if drift.abs() > SURE_DRIFT * fit.sigma(4) {
        0.0
    } else {
        drift / fit.covariance[(4, 4)]
    };
    let each = fit.parameters.iter().enumerate();
    each.map(|(i, p)| p - share * fit.covariance[(i, 4)])
        .collect()
}

/// How much the variance of a fit grows because neighbouring errors are alike: a course lost in noise wanders
/// for some frames before it is found again. `1 + 2 (rho_1 + rho_2 + ...)`, the correlations summed until they
/// are within chance of zero (the usual effective sample size), and never below one.
fn drawn_out(off: &[f64]) -> f64 {
    let n = off.len() as f64;
    let square: f64 = off.iter().map(|r| r * r).sum();
    if square <= 0.0 {
        return 1.0;
    }
    let chance = 1.0 / n.sqrt();
    let alike = |k: usize| {
        let pairs = off.iter().zip(&off[k.min(off.len())..]);
        pairs.map(|(a, b)| a * b).sum::<f64>() / square
    };
    let sum: f64 = (1..=TOGETHER).map(alike).take_while(|r| *r > chance).sum();
    1.0 + 2.0 * sum
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::Noise;

    const AIR: Measured = Measured {
        value: 343.0,
        sigma: 0.0,
    };

    fn course(
        speed: f64,
        closest: f64,
        from: f64,
        to: f64,
        sigma: f64,
        noise: &mut Noise,
    ) -> Vec<Heard> {
        let n = ((to - from) / 0.08) as usize;
        (0..n)
            .map(|i| {
                let time_s = from + 0.08 * i as f64;
                let f = doppler_pass(speed, 343.0, 800.0, closest, time_s)
                    .unwrap()
                    .frequency_hz;
                Heard {
                    time_s,
                    frequency_hz: Measured::new(f + sigma * noise.normal(), sigma),
                }
            })
            .collect()
    }

    #[test]
    fn stated_errors_cover_the_truth() {
        let mut noise = Noise::new(11);
        let (mut one, mut two, mut count) = (0, 0, 0.0);
        for speed in [6.0, 12.0, 20.0, 30.0] {
            for closest in [2.0, 5.0, 10.0] {
                for _ in 0..20 {
                    let mut heard = course(speed, closest, -3.0, 3.0, 1.5, &mut noise);
                    // What the turns may drift is drawn as it is allowed for.
                    let drift = DRIFT * noise.normal();
                    for h in &mut heard {
                        h.frequency_hz.value *= 1.0 + drift * h.time_s;
                    }
                    let at = candidates(&heard);
                    let pass = match fit_pass(&heard, at[0], AIR) {
                        // The slowest and furthest may be: 6 m/s at 10 m is heard over two of its lengths.
                        Err(PassError::TooUncertain { .. }) if speed < 7.0 => continue,
                        other => other.unwrap(),
                    };
                    // The model's floor is no part of this truth, so it is taken out again.
                    let floor = SPEED_FLOOR * pass.speed_m_s.value;
                    let sigma = (pass.speed_m_s.sigma.powi(2) - floor.powi(2)).sqrt();
                    let off = (pass.speed_m_s.value - speed).abs() / sigma;
                    one += u32::from(off < 1.0);
                    two += u32::from(off < 2.0);
                    count += 1.0;
                }
            }
        }
        let (one, two) = (f64::from(one) / count, f64::from(two) / count);
        // 68 and 95 % are due; 240 fits count these to 3 and 1.4 %. A scatter below the stated one is
        // not believed, which adds a little caution.
        assert!((0.62..0.80).contains(&one), "{one}");
        assert!((0.91..0.995).contains(&two), "{two}");
    }

    #[test]
    fn a_few_wild_points_do_no_harm() {
        let mut noise = Noise::new(2);
        let mut heard = course(18.0, 4.0, -3.0, 3.0, 0.5, &mut noise);
        for i in [3, 17, 40, 61] {
            heard[i].frequency_hz.value += 60.0;
        }
        let pass = fit_pass(&heard, candidates(&heard)[0], AIR).unwrap();
        assert_eq!(pass.left_out, 4);
        assert!((pass.speed_m_s.value / 18.0 - 1.0).abs() < 0.02);
        assert!((pass.closest_m.unwrap().value / 4.0 - 1.0).abs() < 0.05);
    }

    #[test]
    fn refuses_half_a_pass_a_steady_tone_and_a_falling_throttle() {
        let mut noise = Noise::new(4);
        let half = course(18.0, 4.0, 0.15, 3.0, 0.5, &mut noise);
        assert!(fit_pass(&half, 0.3, AIR).is_err());
        let mut steady = course(0.0, 4.0, -3.0, 3.0, 0.5, &mut noise);
        assert!(candidates(&steady).is_empty());
        assert_eq!(fit_pass(&steady, 0.0, AIR), Err(PassError::NoFall));
        for h in &mut steady {
            h.frequency_hz.value -= 25.0 * h.time_s;
        }
        assert!(fit_pass(&steady, 0.0, AIR).is_err());
    }

    #[test]
    fn the_air_temperature_is_in_the_speed() {
        let mut noise = Noise::new(4);
        let heard = course(18.0, 4.0, -3.0, 3.0, 0.05, &mut noise);
        let air = Measured::new(343.0, 6.86);
        let pass = fit_pass(&heard, 0.0, air).unwrap();
        assert!((0.02..0.022).contains(&pass.speed_m_s.relative()));
    }
}
