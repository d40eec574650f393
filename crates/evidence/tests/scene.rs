//! Speed on video against a scene rendered through a known camera: every pixel comes from a full
//! perspective projection of points in space, which the marks' code never sees.

#![allow(missing_docs)]

mod common;

use common::Noise;
use evidence::Measured;
use evidence::video::marks::{Mark, MarkError, WaterPlane, by_boat_length, by_plane};

/// A camera on the bank: 2.2 m up, looking over the water, tilted down and turned.
struct Camera {
    at: [f64; 3],
    pan_rad: f64,
    tilt_rad: f64,
    roll_rad: f64,
    focal_pixels: f64,
}

impl Camera {
    /// Pixel of a place on the water: east, north, up (m).
    fn pixel(&self, place: [f64; 3]) -> (f64, f64) {
        let d: Vec<f64> = (0..3).map(|i| place[i] - self.at[i]).collect();
        let (sp, cp) = self.pan_rad.sin_cos();
        let (st, ct) = self.tilt_rad.sin_cos();
        let ahead = sp * d[0] + cp * d[1];
        let right = cp * d[0] - sp * d[1];
        let deep = ct * ahead - st * d[2];
        let up = st * ahead + ct * d[2];
        let (x, y) = (
            self.focal_pixels * right / deep,
            -self.focal_pixels * up / deep,
        );
        let (sr, cr) = self.roll_rad.sin_cos();
        (960.0 + cr * x - sr * y, 540.0 + sr * x + cr * y)
    }
}

const CAMERA: Camera = Camera {
    at: [2.0, -9.0, 2.2],
    pan_rad: 0.12,
    tilt_rad: 0.16,
    roll_rad: 0.02,
    focal_pixels: 1500.0,
};
const BOAT_M: f64 = 0.7;

/// Marks of a boat on a straight course, each set by hand to `pixels`, on frames at an uneven rate.
fn marks(speed: f64, course_rad: f64, pixels: f64, noise: &mut Noise) -> Vec<Mark> {
    let (e, n) = (course_rad.sin(), course_rad.cos());
    let mut t = 0.0;
    (0..9)
        .map(|i| {
            t += if i % 2 == 0 { 1.0 / 30.0 } else { 1.0 / 24.0 };
            let s = speed * t - 3.0;
            let mut hand =
                |p: (f64, f64)| (p.0 + pixels * noise.normal(), p.1 + pixels * noise.normal());
            Mark {
                time_s: t,
                bow: hand(CAMERA.pixel([s * e + BOAT_M * e, 4.0 + s * n + BOAT_M * n, 0.0])),
                stern: hand(CAMERA.pixel([s * e, 4.0 + s * n, 0.0])),
                fixed: None,
            }
        })
        .collect()
}

#[test]
fn the_water_plane_gives_the_speed_of_a_rendered_boat_and_its_uncertainty_holds() {
    let places = [(-6.0, 1.0), (8.0, 1.0), (9.0, 14.0), (-7.0, 14.0)];
    let pixels = places.map(|(e, n)| CAMERA.pixel([e, n, 0.0]));
    let plane = WaterPlane::from_points(&pixels, &places).unwrap();
    let error = MarkError {
        pixels: 1.5,
        time_s: 0.0005,
    };
    let mut noise = Noise::new(11);
    let (mut one, mut two, mut count) = (0, 0, 0);
    for speed in [6.0, 14.0, 22.0] {
        for course in [1.2, 1.57, 2.0] {
            // Perfect marks leave only that the middle of two pixels is not quite the middle of the boat:
            // of second order in its length over its distance, (0.7 / 13)^2 = 0.003 at the most.
            let exact =
                by_plane(&marks(speed, course, 0.0, &mut noise), &plane, 0.0, &error).unwrap();
            assert!(
                (exact.speed_m_s.value / speed - 1.0).abs() < 1e-3,
                "{exact:?}"
            );
            for _ in 0..12 {
                let m =
                    by_plane(&marks(speed, course, 1.5, &mut noise), &plane, 0.0, &error).unwrap();
                let off = (m.speed_m_s.value - speed).abs() / m.speed_m_s.sigma;
                one += u32::from(off < 1.0);
                two += u32::from(off < 2.0);
                count += 1;
            }
        }
    }
    // The pixel error on the water is taken at its worst place: the stated error may be generous.
    assert!(
        f64::from(two) >= 0.93 * f64::from(count),
        "{one}, {two} of {count}"
    );
    assert!(
        f64::from(one) >= 0.6 * f64::from(count),
        "{one}, {two} of {count}"
    );
}

#[test]
fn the_boats_length_is_a_scale_across_the_view_and_is_refused_along_it() {
    let mut noise = Noise::new(12);
    let error = MarkError {
        pixels: 1.0,
        time_s: 0.0005,
    };
    let length = Measured::new(BOAT_M, 0.003);
    let square = std::f64::consts::FRAC_PI_2 + CAMERA.pan_rad;
    let m = by_boat_length(&marks(15.0, square, 1.0, &mut noise), length, &error).unwrap();
    assert!((m.speed_m_s.value / 15.0 - 1.0).abs() < 0.03, "{m:?}");
    let away = marks(15.0, CAMERA.pan_rad + 0.2, 0.2, &mut noise);
    assert!(by_boat_length(&away, length, &error).is_err());
}
