//! Speed from marked frames: the boat's own length, posts, or four known points as the scale.
//!
//! A mark is a pixel set by hand; its error ([`MarkError`]) and that of the scale are carried to the
//! speed. With a panning camera, a mark on something fixed behind is taken off each place.

use crate::fit::{FitError, least_squares};
use crate::measured::Measured;
use nalgebra::{Matrix3, SMatrix, SVD, SVector, Vector3};

/// Eight unknowns take a few dozen; without a bound, numbers that overflow would go round for ever.
const SVD_ROUNDS: usize = 1000;

/// A point in a picture, pixels right and down.
pub type Pixel = (f64, f64);

/// The boat in one frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mark {
    /// When the frame was shown, s, from the file's own table.
    pub time_s: f64,
    /// Bow.
    pub bow: Pixel,
    /// Stern.
    pub stern: Pixel,
    /// Something fixed, when the camera pans; in every mark or in none.
    pub fixed: Option<Pixel>,
}

/// How well marks are set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MarkError {
    /// One point, each axis, pixels.
    pub pixels: f64,
    /// Frame times, s (exposure, blur).
    pub time_s: f64,
}

impl Default for MarkError {
    /// Two pixels by hand, a hundredth of a second at most of blur spread evenly. Judgement.
    fn default() -> Self {
        Self {
            pixels: 2.0,
            time_s: 0.003,
        }
    }
}

/// Speed from marks.
#[derive(Debug, Clone, PartialEq)]
pub struct MarkedSpeed {
    /// Speed, m/s.
    pub speed_m_s: Measured,
    /// Scatter of the marks about a steady run over their stated error.
    pub misfit: f64,
    /// Part of sigma squared that the scale causes.
    pub scale_part: f64,
}

/// Why marks give no speed.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum MarkProblem {
    /// Too few.
    #[error("{marks} marked frames; at least 2 are needed, and 3 to see their scatter")]
    TooFew {
        /// Given.
        marks: usize,
    },
    /// Times do not rise.
    #[error("the times of the marked frames must rise")]
    Times,
    /// Some have a fixed point and some have none.
    #[error("mark the fixed point in every frame or in none")]
    FixedInSome,
    /// The boat is no longer than its marks' error.
    #[error("the boat is {pixels:.0} pixels long in the picture: too small to be a scale")]
    TooSmall {
        /// Length.
        pixels: f64,
    },
    /// The boat turns or comes nearer between the marks.
    #[error(
        "the boat's length in the picture changes from {first:.0} to {last:.0} pixels: it does not run across the view; use posts or four known points"
    )]
    NotAcross {
        /// First.
        first: f64,
        /// Last.
        last: f64,
    },
    /// Infinite, not a number, or too large to reckon with.
    #[error("every pixel and place of the four known points must be a finite number")]
    NotFinite,
    /// The known points do not fix the plane.
    #[error("the four known points do not fix the water's plane: three lie on a line")]
    PlaneUnfixed,
    /// A length that cannot be.
    #[error("a known length or distance must be above zero")]
    Length,
    /// The fit failed.
    #[error(transparent)]
    Fit(FitError),
}

fn check(marks: &[Mark]) -> Result<(), MarkProblem> {
    if marks.len() < 2 {
        return Err(MarkProblem::TooFew { marks: marks.len() });
    }
    if !marks.windows(2).all(|w| w[1].time_s > w[0].time_s) {
        return Err(MarkProblem::Times);
    }
    let fixed = marks.iter().filter(|m| m.fixed.is_some()).count();
    if fixed != 0 && fixed != marks.len() {
        return Err(MarkProblem::FixedInSome);
    }
    Ok(())
}

fn minus(a: Pixel, b: Pixel) -> Pixel {
    (a.0 - b.0, a.1 - b.1)
}

fn length(a: Pixel) -> f64 {
    a.0.hypot(a.1)
}

/// Speed of a boat that runs across the view, with its own length as the scale.
///
/// # Errors
/// [`MarkProblem`].
pub fn by_boat_length(
    marks: &[Mark],
    boat_length_m: Measured,
    error: &MarkError,
) -> Result<MarkedSpeed, MarkProblem> {
    check(marks)?;
    if boat_length_m.value <= 0.0 {
        return Err(MarkProblem::Length);
    }
    let lengths: Vec<f64> = marks
        .iter()
        .map(|m| length(minus(m.bow, m.stern)))
        .collect();
    let n = lengths.len() as f64;
    let pixels = lengths.iter().sum::<f64>() / n;
    let shortest = lengths.iter().copied().fold(f64::INFINITY, f64::min);
    if shortest < 10.0 * error.pixels {
        return Err(MarkProblem::TooSmall { pixels: shortest });
    }
    let (first, last) = (lengths[0], lengths[lengths.len() - 1]);
    if (last / first - 1.0).abs() > 0.1 + 4.0 * error.pixels / pixels {
        return Err(MarkProblem::NotAcross { first, last });
    }
    let middles: Vec<Pixel> = marks
        .iter()
        .map(|m| {
            let middle = (0.5 * (m.bow.0 + m.stern.0), 0.5 * (m.bow.1 + m.stern.1));
            m.fixed.map_or(middle, |f| minus(middle, f))
        })
        .collect();
    // A middle is the mean of two marks; the fixed point adds a whole one.
    let middle_error = error.pixels
        * if marks[0].fixed.is_some() {
            1.5f64.sqrt()
        } else {
            0.5f64.sqrt()
        };
    let times: Vec<f64> = marks.iter().map(|m| m.time_s).collect();
    let steady = steady_run(&times, &middles, middle_error, error.time_s)?;
    let scale = boat_length_m.value / pixels;
    let length_error =
        (2f64.sqrt() * error.pixels / pixels / n.sqrt()).hypot(boat_length_m.relative());
    Ok(scaled(&steady, scale, length_error))
}

/// Speed between posts (or other marks) a known distance apart along the course, from when the bow
/// passes each: a trap laid in the picture. The line of sight to each post must cross the course squarely.
///
/// # Errors
/// [`MarkProblem`].
pub fn by_trap(
    times_s: &[f64],
    spacing_m: Measured,
    time_error_s: f64,
) -> Result<MarkedSpeed, MarkProblem> {
    if times_s.len() < 2 {
        return Err(MarkProblem::TooFew {
            marks: times_s.len(),
        });
    }
    if !times_s.windows(2).all(|w| w[1] > w[0]) {
        return Err(MarkProblem::Times);
    }
    if spacing_m.value <= 0.0 {
        return Err(MarkProblem::Length);
    }
    let places: Vec<Pixel> = (0..times_s.len()).map(|i| (i as f64, 0.0)).collect();
    // All of the error is in time here.
    let steady = steady_run(times_s, &places, 1e-9, time_error_s)?;
    Ok(scaled(&steady, spacing_m.value, spacing_m.relative()))
}

fn scaled(steady: &Steady, scale: f64, scale_error: f64) -> MarkedSpeed {
    let (own, from_scale) = (steady.speed.relative(), scale_error);
    let all = own.hypot(from_scale);
    let value = steady.speed.value * scale;
    MarkedSpeed {
        speed_m_s: Measured::new(value, value * all),
        misfit: steady.misfit,
        scale_part: if all > 0.0 {
            (from_scale / all).powi(2)
        } else {
            0.0
        },
    }
}

/// A steady run in the picture.
struct Steady {
    speed: Measured,
    misfit: f64,
}

/// Straight line through places at times; errors of time count as places at that speed.
fn steady_run(
    times: &[f64],
    places: &[Pixel],
    sigma: f64,
    time_s: f64,
) -> Result<Steady, MarkProblem> {
    let span = times[times.len() - 1] - times[0];
    let step = minus(places[places.len() - 1], places[0]);
    let start = [places[0].0, places[0].1, step.0 / span, step.1 / span];
    let along = length(step) / span * time_s;
    let each = sigma.hypot(along);
    let residuals = |p: &[f64]| {
        let both = times.iter().zip(places).flat_map(|(t, q)| {
            let t = t - times[0];
            [
                (p[0] + p[2] * t - q.0) / each,
                (p[1] + p[3] * t - q.1) / each,
            ]
        });
        both.collect()
    };
    let size = length(step).max(each);
    let fit = least_squares(&start, &[size, size, size / span, size / span], residuals)
        .map_err(MarkProblem::Fit)?;
    let (vx, vy) = (fit.parameters[2], fit.parameters[3]);
    let speed = vx.hypot(vy);
    let c = &fit.covariance;
    let along = if speed > 0.0 {
        (vx / speed, vy / speed)
    } else {
        (1.0, 0.0)
    };
    let variance = along.0.powi(2) * c[(2, 2)]
        + 2.0 * along.0 * along.1 * c[(2, 3)]
        + along.1.powi(2) * c[(3, 3)];
    Ok(Steady {
        speed: Measured::new(speed, (variance * fit.variance_factor()).sqrt()),
        misfit: (fit.squares / fit.freedom.max(1) as f64).sqrt(),
    })
}

/// The water's plane seen in the picture, from four known points on it.
///
/// Projective map: direct linear solution with eight unknowns (Hartley and Zisserman, Multiple View
/// Geometry, from memory).
#[derive(Debug, Clone, PartialEq)]
pub struct WaterPlane(Matrix3<f64>);

impl WaterPlane {
    /// From four pixels and where they are on the water, m.
    ///
    /// # Errors
    /// [`MarkProblem::PlaneUnfixed`] when three lie on a line, [`MarkProblem::NotFinite`] for no numbers.
    pub fn from_points(
        pixels: &[Pixel; 4],
        places_m: &[(f64, f64); 4],
    ) -> Result<Self, MarkProblem> {
        // Pixels scaled to about one keep the numbers tame.
        let centre = pixels
            .iter()
            .fold((0.0, 0.0), |s, p| (s.0 + 0.25 * p.0, s.1 + 0.25 * p.1));
        let size = pixels
            .iter()
            .map(|p| length(minus(*p, centre)))
            .fold(0.0, |most, one| {
                if one > most || one.is_nan() {
                    one
                } else {
                    most
                }
            });
        let placed = places_m.iter().all(|q| length(*q).is_finite());
        if !(size.is_finite() && placed) {
            return Err(MarkProblem::NotFinite);
        }
        if size <= 0.0 {
            return Err(MarkProblem::PlaneUnfixed);
        }
        let mut a = SMatrix::<f64, 8, 8>::zeros();
        let mut b = SVector::<f64, 8>::zeros();
        for (i, (p, q)) in pixels.iter().zip(places_m).enumerate() {
            let (u, v) = ((p.0 - centre.0) / size, (p.1 - centre.1) / size);
            for (row, value, shift) in [(2 * i, q.0, 0), (2 * i + 1, q.1, 3)] {
                a[(row, shift)] = u;
                a[(row, shift + 1)] = v;
                a[(row, shift + 2)] = 1.0;
                a[(row, 6)] = -u * value;
                a[(row, 7)] = -v * value;
                b[row] = value;
            }
        }
        let sizes = SVD::try_new(a, false, false, f64::EPSILON, SVD_ROUNDS)
            .ok_or(MarkProblem::PlaneUnfixed)?
            .singular_values;
        if sizes.min().is_nan() || sizes.min() < 1e-9 * sizes.max() {
            return Err(MarkProblem::PlaneUnfixed);
        }
        let h = a.lu().solve(&b).ok_or(MarkProblem::PlaneUnfixed)?;
        let map = Matrix3::new(h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7], 1.0);
        let norm = Matrix3::new(
            1.0 / size,
            0.0,
            -centre.0 / size,
            0.0,
            1.0 / size,
            -centre.1 / size,
            0.0,
            0.0,
            1.0,
        );
        Ok(Self(map * norm))
    }

    /// Place on the water of a pixel, m; `None` above the horizon.
    pub fn place_m(&self, pixel: Pixel) -> Option<(f64, f64)> {
        let p = self.0 * Vector3::new(pixel.0, pixel.1, 1.0);
        (p[2] > 1e-12).then(|| (p[0] / p[2], p[1] / p[2]))
    }
}

/// Speed over the water's plane from the middle of bow and stern at the waterline. `plane_error` is
/// the relative error of the four known points' distances; the camera must stand still.
///
/// # Errors
/// [`MarkProblem`].
pub fn by_plane(
    marks: &[Mark],
    plane: &WaterPlane,
    plane_error: f64,
    error: &MarkError,
) -> Result<MarkedSpeed, MarkProblem> {
    check(marks)?;
    let middle = |m: &Mark| (0.5 * (m.bow.0 + m.stern.0), 0.5 * (m.bow.1 + m.stern.1));
    let place = |p| plane.place_m(p).ok_or(MarkProblem::PlaneUnfixed);
    let mut places = Vec::new();
    let mut worst = 0.0f64;
    for m in marks {
        let here = place(middle(m))?;
        // What one pixel's error is on the water here.
        let right = place((middle(m).0 + 1.0, middle(m).1))?;
        let down = place((middle(m).0, middle(m).1 + 1.0))?;
        worst =
            worst.max(length(minus(right, here)).hypot(length(minus(down, here))) / 2f64.sqrt());
        places.push(here);
    }
    let sigma = worst * error.pixels * 0.5f64.sqrt();
    let times: Vec<f64> = marks.iter().map(|m| m.time_s).collect();
    let steady = steady_run(&times, &places, sigma, error.time_s)?;
    Ok(scaled(&steady, 1.0, plane_error))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::Noise;

    const EXACT: MarkError = MarkError {
        pixels: 2.0,
        time_s: 0.0,
    };

    fn run(speed: f64, scale: f64, pan: bool, noise: &mut Noise) -> Vec<Mark> {
        (0..6)
            .map(|i| {
                let time_s = f64::from(i) * 0.1;
                let fixed_at = if pan { 300.0 - 900.0 * time_s } else { 0.0 };
                let x = speed * time_s * scale + fixed_at;
                let mut shake = |p: Pixel| (p.0 + 2.0 * noise.normal(), p.1 + 2.0 * noise.normal());
                Mark {
                    time_s,
                    bow: shake((x + 0.6 * scale, 400.0)),
                    stern: shake((x, 400.0)),
                    fixed: pan.then(|| shake((fixed_at, 200.0))),
                }
            })
            .collect()
    }

    #[test]
    fn boat_length_as_scale_covers_the_truth() {
        let mut noise = Noise::new(7);
        for pan in [false, true] {
            let (mut one, mut two) = (0, 0);
            for _ in 0..400 {
                let marks = run(14.0, 200.0, pan, &mut noise);
                let s = by_boat_length(&marks, Measured::new(0.6, 0.0), &EXACT).unwrap();
                let off = (s.speed_m_s.value - 14.0).abs() / s.speed_m_s.sigma;
                one += u32::from(off < 1.0);
                two += u32::from(off < 2.0);
            }
            // 273 and 382 of 400 are due, give or take 9 and 4.
            assert!((255..=320).contains(&one), "{one}");
            assert!(two >= 370, "{two}");
        }
    }

    #[test]
    fn a_trap_is_distance_over_time() {
        // 5 m apart, 0.25 s each: 20 m/s; times to 5 ms: slope error sigma/sqrt(2) of 0.25 s.
        let s = by_trap(&[1.0, 1.25, 1.5], Measured::new(5.0, 0.05), 0.005).unwrap();
        assert!((s.speed_m_s.value - 20.0).abs() < 1e-6);
        let expect = 20.0 * (0.01f64.powi(2) + (0.005 / 2f64.sqrt() / 0.25f64).powi(2)).sqrt();
        assert!(
            (s.speed_m_s.sigma / expect - 1.0).abs() < 1e-3,
            "{s:?} {expect}"
        );
    }

    #[test]
    fn four_points_undo_the_perspective() {
        // A camera 3 m up looking level at a plane: u = f x / z, v = f h / z.
        let see = |x: f64, z: f64| (1000.0 * x / z + 640.0, 1000.0 * 3.0 / z + 360.0);
        let places = [(-10.0, 15.0), (12.0, 15.0), (15.0, 40.0), (-14.0, 45.0)];
        let plane = WaterPlane::from_points(&places.map(|(x, z)| see(x, z)), &places).unwrap();
        let (x, z) = plane.place_m(see(3.0, 22.0)).unwrap();
        assert!((x - 3.0).abs() < 1e-9 && (z - 22.0).abs() < 1e-9);
        let marks: Vec<Mark> = (0..5)
            .map(|i| {
                let t = f64::from(i) * 0.2;
                let p = see(-5.0 + 9.0 * t, 20.0 + 3.0 * t);
                Mark {
                    time_s: t,
                    bow: p,
                    stern: p,
                    fixed: None,
                }
            })
            .collect();
        let s = by_plane(&marks, &plane, 0.01, &EXACT).unwrap();
        assert!((s.speed_m_s.value - 90f64.sqrt()).abs() < 1e-6);
        let line = [(0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (0.0, 1.0)];
        assert_eq!(
            WaterPlane::from_points(&line, &line),
            Err(MarkProblem::PlaneUnfixed)
        );
    }

    #[test]
    fn points_that_are_no_numbers_come_to_an_end() {
        let square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
        for odd in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e308, -1e308] {
            for at in 0..4 {
                let mut bent = square;
                bent[at] = (odd, 0.0);
                assert!(
                    WaterPlane::from_points(&bent, &square).is_err(),
                    "{odd} {at}"
                );
                if !odd.is_finite() {
                    let got = WaterPlane::from_points(&square, &bent);
                    assert_eq!(got, Err(MarkProblem::NotFinite));
                }
            }
        }
        let plane = WaterPlane::from_points(&square, &square).unwrap();
        let marks = [0.0, f64::NAN, f64::INFINITY].map(|x| Mark {
            time_s: if x == 0.0 { 0.0 } else { 1.0 },
            bow: (x, 0.5),
            stern: (0.5, 0.5),
            fixed: None,
        });
        for odd in &marks[1..] {
            assert!(by_plane(&[marks[0], *odd], &plane, 0.01, &EXACT).is_err());
        }
    }

    #[test]
    fn what_cannot_be_used_is_refused() {
        let mut noise = Noise::new(1);
        let good = run(14.0, 200.0, true, &mut noise);
        let long = Measured::new(0.6, 0.0);
        assert!(matches!(
            by_boat_length(&good[..1], long, &EXACT),
            Err(MarkProblem::TooFew { .. })
        ));
        let mut some = good.clone();
        some[2].fixed = None;
        assert_eq!(
            by_boat_length(&some, long, &EXACT),
            Err(MarkProblem::FixedInSome)
        );
        let small = run(14.0, 20.0, false, &mut noise);
        assert!(matches!(
            by_boat_length(&small, long, &EXACT),
            Err(MarkProblem::TooSmall { .. })
        ));
        let mut away = good;
        away[5].bow = (away[5].stern.0 + 80.0, 400.0);
        assert!(matches!(
            by_boat_length(&away, long, &EXACT),
            Err(MarkProblem::NotAcross { .. })
        ));
    }
}
