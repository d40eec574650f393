//! Water that is not flat: regular waves, ripple, a wake to cross.
//!
//! - Deep water, small slopes: `h = sum a cos(k x . d - w t + p)`, `w^2 = g k`; velocity near the surface by
//!   the same sum (`a w` along the wave and up).
//! - Ripple: wind waves of a short fetch by a spectrum of the JONSWAP form, peak enhancement 3.3, spread as the
//!   square of the cosine, significant height and peak length given; a pond's own ripple is about 20 to 25 times
//!   as long as high (common practice, no source). Components at equal steps of energy, phases by a seed.
//! - Wake: a packet of three waves running across the course, highest in the middle.
//! - Source: Airy; Hasselmann et al. 1973 for the form.
//! - Valid: height under a seventh of the length (steeper waves break; Michell 1893); deeper than half a length.
//! - Checks: period and speed of a wave of known length; significant height of the sum.

use craft::motion::{Motion, WaterSurface};
use nalgebra::{Complex, Vector3};
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use std::f64::consts::{FRAC_PI_2, TAU};

/// m/s2.
const GRAVITY: f64 = 9.806_65;
/// Steepest wave there is, height over length.
const STEEPEST: f64 = 0.142;
/// Components of a ripple.
const COMPONENTS: usize = 32;
/// Length of ripple over significant height when only the height is known.
pub const RIPPLE_LENGTH: f64 = 22.0;

/// What lies ahead.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Water {
    /// Flat.
    #[default]
    Flat,
    /// One train of waves.
    Waves {
        /// Trough to crest, m.
        height_m: f64,
        /// Crest to crest, m.
        length_m: f64,
        /// They come from this side of ahead, to port positive, rad.
        from_rad: f64,
    },
    /// Short-crested wind waves.
    Ripple {
        /// Mean of the highest third, trough to crest, m.
        height_m: f64,
        /// At the spectrum's peak, m.
        length_m: f64,
        /// The wind's side, rad.
        from_rad: f64,
    },
    /// Another boat's wake across the course.
    Wake {
        /// Highest, trough to crest, m.
        height_m: f64,
        /// Crest to crest, m.
        length_m: f64,
        /// Met after so many metres, m.
        after_m: f64,
    },
}

/// Why there is no such water.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum WaterError {
    /// It would break.
    #[error(
        "waves {height_m} m high and {length_m} m long do not exist: they break when higher than a seventh of their length"
    )]
    Steep {
        /// m.
        height_m: f64,
        /// m.
        length_m: f64,
    },
    /// No size.
    #[error("a wave's height and length must be above zero, not {0}")]
    Size(f64),
}

/// One sine.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Component {
    amplitude: f64,
    /// Rad/m, and the way it runs.
    wave: (f64, f64),
    number: f64,
    frequency: f64,
    phase: f64,
}

/// Water at any place and time.
#[derive(Debug, Clone, Default)]
pub struct Surface {
    components: Vec<Component>,
    reach: Reach,
}

/// Along the course, where the waves are.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
enum Reach {
    #[default]
    Everywhere,
    /// A packet: its middle and half width, m.
    Packet(f64, f64),
    /// From flat water here to all of it there, m.
    Growing(f64, f64),
}

impl Surface {
    /// Checks and makes it.
    ///
    /// # Errors
    /// [`WaterError`].
    pub fn new(water: &Water, seed: u64) -> Result<Self, WaterError> {
        match *water {
            Water::Flat => Ok(Self::default()),
            Water::Waves {
                height_m,
                length_m,
                from_rad,
            } => {
                exists(height_m, length_m)?;
                Ok(Self {
                    components: vec![component(0.5 * height_m, length_m, from_rad, 0.0)],
                    reach: Reach::Everywhere,
                })
            }
            Water::Ripple {
                height_m,
                length_m,
                from_rad,
            } => {
                exists(height_m, length_m)?;
                Ok(Self {
                    components: ripple(height_m, length_m, from_rad, seed),
                    reach: Reach::Everywhere,
                })
            }
            Water::Wake {
                height_m,
                length_m,
                after_m,
            } => {
                exists(height_m, length_m)?;
                Ok(Self {
                    components: vec![component(0.5 * height_m, length_m, 0.3, 0.0)],
                    reach: Reach::Packet(after_m + 1.5 * length_m, 1.5 * length_m),
                })
            }
        }
    }

    /// Every sine as amplitude (m), wave number ahead and to port (rad/m), frequency (rad/s) and phase (rad):
    /// `h = sum a cos(k x + l y - w t + p)`.
    pub fn sines(&self) -> Vec<[f64; 5]> {
        let each = self.components.iter();
        each.map(|c| [c.amplitude, c.wave.0, c.wave.1, c.frequency, c.phase])
            .collect()
    }

    /// Of a packet: its middle along the course and half its width, m; inside it the sum is multiplied by
    /// `cos^2` of the share of a quarter turn, outside by nothing.
    pub fn packet_m(&self) -> Option<(f64, f64)> {
        match self.reach {
            Reach::Packet(middle, half) => Some((middle, half)),
            _ => None,
        }
    }

    /// Where the waves grow from nothing to full along the course, m: the sum is multiplied by `cos^2` of what is
    /// left of a quarter turn.
    pub fn growing_m(&self) -> Option<(f64, f64)> {
        match self.reach {
            Reach::Growing(from, to) => Some((from, to)),
            _ => None,
        }
    }

    /// A boat that runs on flat water comes into these waves little by little, from here to there along its
    /// course, m: set down on a crest it would be thrown. A packet is met so anyway.
    #[must_use]
    pub fn growing(self, from_m: f64, to_m: f64) -> Self {
        match self.reach {
            Reach::Packet(..) => self,
            _ => Self {
                reach: Reach::Growing(from_m, to_m),
                ..self
            },
        }
    }

    fn envelope(&self, x: f64) -> f64 {
        match self.reach {
            Reach::Everywhere => 1.0,
            Reach::Packet(middle, half) => {
                let place = ((x - middle) / half).abs().min(1.0);
                (FRAC_PI_2 * place).cos().powi(2)
            }
            Reach::Growing(from, to) => {
                let place = ((to - x) / (to - from)).clamp(0.0, 1.0);
                (FRAC_PI_2 * place).cos().powi(2)
            }
        }
    }

    /// The whole of it between two places along the course.
    fn is_full(&self, from: f64, to: f64) -> bool {
        match self.reach {
            Reach::Everywhere => true,
            Reach::Packet(..) => false,
            Reach::Growing(_, full) => from.min(to) >= full,
        }
    }
}

fn exists(height_m: f64, length_m: f64) -> Result<(), WaterError> {
    for size in [height_m, length_m] {
        if !(size.is_finite() && size > 0.0) {
            return Err(WaterError::Size(size));
        }
    }
    if height_m > STEEPEST * length_m {
        return Err(WaterError::Steep { height_m, length_m });
    }
    Ok(())
}

fn component(amplitude: f64, length_m: f64, from_rad: f64, phase: f64) -> Component {
    let number = TAU / length_m;
    // They run towards where the boat comes from: from ahead means against x.
    let (sin, cos) = from_rad.sin_cos();
    Component {
        amplitude,
        wave: (-number * cos, -number * sin),
        number,
        frequency: (GRAVITY * number).sqrt(),
        phase,
    }
}

/// Components of equal energy: frequencies at the middles of equal parts of the spectrum.
fn ripple(height_m: f64, length_m: f64, from_rad: f64, seed: u64) -> Vec<Component> {
    let peak = (GRAVITY * TAU / length_m).sqrt();
    let steps = 400;
    let range = (0.6 * peak, 3.0 * peak);
    let frequency = |i: f64| range.0 + (range.1 - range.0) * i / f64::from(steps);
    let mut sum = vec![0.0];
    for i in 0..steps {
        let w = frequency(f64::from(i) + 0.5);
        sum.push(sum[sum.len() - 1] + jonswap(w / peak));
    }
    let whole = sum[sum.len() - 1];
    let mut random = ChaCha8Rng::seed_from_u64(seed);
    // Variance is (Hs / 4)^2, shared evenly: a^2 / 2 each.
    let amplitude = 0.25 * height_m * (2.0 / COMPONENTS as f64).sqrt();
    (0..COMPONENTS)
        .map(|i| {
            let wanted = whole * (i as f64 + 0.5) / COMPONENTS as f64;
            let after = sum.partition_point(|s| *s < wanted).max(1);
            let share = (wanted - sum[after - 1]) / (sum[after] - sum[after - 1]).max(1e-300);
            let w = frequency((after - 1) as f64 + share);
            let length = TAU * GRAVITY / (w * w);
            let side = from_rad + spread(random.random::<f64>());
            component(amplitude, length, side, TAU * random.random::<f64>())
        })
        .collect()
}

/// Shape over frequency by the peak's; the scale does not matter.
fn jonswap(ratio: f64) -> f64 {
    let width = if ratio <= 1.0 { 0.07 } else { 0.09 };
    let peak = (-((ratio - 1.0) / width).powi(2) / 2.0).exp();
    ratio.powi(-5) * (-1.25 * ratio.powi(-4)).exp() * 3.3f64.powf(peak)
}

/// Angle at which a share of the cosine squared lies below.
fn spread(share: f64) -> f64 {
    let (mut low, mut high) = (-FRAC_PI_2, FRAC_PI_2);
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        let below = 0.5 + (middle + middle.sin() * middle.cos()) / std::f64::consts::PI;
        if below < share {
            low = middle
        } else {
            high = middle
        }
    }
    0.5 * (low + high)
}

impl Surface {
    /// Height and velocity.
    fn at(&self, x_m: f64, y_m: f64, time_s: f64) -> [f64; 4] {
        let mut sum = [0.0; 4];
        for c in &self.components {
            let phase = c.wave.0 * x_m + c.wave.1 * y_m - c.frequency * time_s + c.phase;
            let (sin, cos) = phase.sin_cos();
            let along = c.amplitude * c.frequency * cos / c.number;
            sum[0] += c.amplitude * cos;
            sum[1] += along * c.wave.0;
            sum[2] += along * c.wave.1;
            sum[3] += c.amplitude * c.frequency * sin;
        }
        let envelope = self.envelope(x_m);
        sum.map(|s| s * envelope)
    }
}

impl WaterSurface for Surface {
    fn height_m(&self, x_m: f64, y_m: f64, time_s: f64) -> f64 {
        self.at(x_m, y_m, time_s)[0]
    }

    fn velocity_m_s(&self, x_m: f64, y_m: f64, time_s: f64) -> Vector3<f64> {
        let [_, x, y, z] = self.at(x_m, y_m, time_s);
        Vector3::new(x, y, z)
    }

    fn is_still(&self) -> bool {
        self.components.is_empty()
    }
}

/// Water round the boat for a moment, on a few points and straight between them and in time: elements ask it
/// thousands of times.
pub struct Patch {
    middle: (f64, f64),
    /// Of the patch's length, over the distance between points.
    along: (f64, f64),
    across: (f64, f64),
    size: (f64, f64),
    from_s: f64,
    highest_m: f64,
    /// At the moment's start, and how fast it changes until its end.
    height: [[[f64; 2]; ALONG]; ACROSS],
    velocity: [[[[f64; 2]; 3]; ALONG]; ACROSS],
}

const ALONG: usize = 13;
const ACROSS: usize = 4;

/// Where among the points, and shares of the next ones.
struct Place {
    i: usize,
    s: f64,
    j: usize,
    t: f64,
    later_s: f64,
}

impl Patch {
    /// About a boat of a length, from its motion's time on.
    pub fn new(surface: &Surface, motion: &Motion, length_m: f64, lasts_s: f64) -> Self {
        let ahead = motion.attitude * Vector3::x();
        let flat = ahead.x.hypot(ahead.y).max(1e-6);
        let heading = (ahead.x / flat, ahead.y / flat);
        let way = motion.velocity_m_s.norm() * lasts_s;
        let centre = motion.place(&Vector3::new(0.45 * length_m + 0.5 * way, 0.0, 0.0));
        let size = (1.3 * length_m + way, 0.8 * length_m);
        let apart = (size.0 / (ALONG - 1) as f64, size.1 / (ACROSS - 1) as f64);
        let lasts_s = lasts_s.max(1e-9);
        let mut patch = Self {
            middle: (centre.x, centre.y),
            along: (heading.0 / apart.0, heading.1 / apart.0),
            across: (-heading.1 / apart.1, heading.0 / apart.1),
            size,
            from_s: motion.time_s,
            highest_m: f64::NEG_INFINITY,
            height: [[[0.0; 2]; ALONG]; ACROSS],
            velocity: [[[[0.0; 2]; 3]; ALONG]; ACROSS],
        };
        for c in &surface.components {
            patch.add(c, heading, apart, motion.time_s, lasts_s);
        }
        let reach = 0.5 * (size.0 + size.1);
        if !surface.is_full(centre.x - reach, centre.x + reach) {
            patch.envelop(surface, heading);
        }
        for [height, rate] in patch.height.iter().flatten() {
            patch.highest_m = patch.highest_m.max(height + (rate * lasts_s).max(0.0));
        }
        patch
    }

    /// One sine at every point: from point to point its phase turns by the same, so that it takes four
    /// sines and cosines, not hundreds.
    fn add(
        &mut self,
        c: &Component,
        (hx, hy): (f64, f64),
        apart: (f64, f64),
        time_s: f64,
        lasts_s: f64,
    ) {
        let (wa, wb) = (c.wave.0 * hx + c.wave.1 * hy, c.wave.1 * hx - c.wave.0 * hy);
        let corner = c.wave.0 * self.middle.0 + c.wave.1 * self.middle.1
            - 0.5 * (wa * self.size.0 + wb * self.size.1);
        let turn = |by: f64| Complex::new(by.cos(), by.sin());
        let (along, across) = (turn(wa * apart.0), turn(wb * apart.1));
        let later = turn(-c.frequency * lasts_s);
        let mut row_start = turn(corner - c.frequency * time_s + c.phase);
        let flow = c.amplitude * c.frequency;
        let level = (flow * c.wave.0 / c.number, flow * c.wave.1 / c.number);
        for j in 0..ACROSS {
            let mut here = row_start;
            for i in 0..ALONG {
                let change = (here * later - here) / lasts_s;
                let add = |to: &mut [f64; 2], size: f64, now: f64, rate: f64| {
                    to[0] += size * now;
                    to[1] += size * rate;
                };
                add(&mut self.height[j][i], c.amplitude, here.re, change.re);
                let [x, y, z] = &mut self.velocity[j][i];
                add(x, level.0, here.re, change.re);
                add(y, level.1, here.re, change.re);
                add(z, flow, here.im, change.im);
                here *= along;
            }
            row_start *= across;
        }
    }

    fn envelop(&mut self, surface: &Surface, heading: (f64, f64)) {
        for j in 0..ACROSS {
            for i in 0..ALONG {
                let a = (i as f64 / (ALONG - 1) as f64 - 0.5) * self.size.0;
                let b = (j as f64 / (ACROSS - 1) as f64 - 0.5) * self.size.1;
                let share = surface.envelope(self.middle.0 + a * heading.0 - b * heading.1);
                let velocity = self.velocity[j][i].iter_mut().flatten();
                for value in self.height[j][i].iter_mut().chain(velocity) {
                    *value *= share;
                }
            }
        }
    }

    fn place(&self, x: f64, y: f64, time_s: f64) -> Place {
        let (dx, dy) = (x - self.middle.0, y - self.middle.1);
        let index = |way: (f64, f64), count: usize| {
            let place = dx * way.0 + dy * way.1 + 0.5 * (count - 1) as f64;
            let place = place.clamp(0.0, (count - 1) as f64);
            let i = (place as usize).min(count - 2);
            (i, place - i as f64)
        };
        let (i, s) = index(self.along, ALONG);
        let (j, t) = index(self.across, ACROSS);
        let later_s = time_s - self.from_s;
        Place {
            i,
            s,
            j,
            t,
            later_s,
        }
    }
}

impl Place {
    /// Between the four points around it, at its time.
    fn of(&self, at: impl Fn(usize, usize) -> [f64; 2]) -> f64 {
        let here = |j, i| {
            let [now, rate] = at(j, i);
            now + rate * self.later_s
        };
        let row = |j| {
            let (a, b) = (here(j, self.i), here(j, self.i + 1));
            a + (b - a) * self.s
        };
        let (a, b) = (row(self.j), row(self.j + 1));
        a + (b - a) * self.t
    }
}

impl WaterSurface for Patch {
    fn height_m(&self, x_m: f64, y_m: f64, time_s: f64) -> f64 {
        let place = self.place(x_m, y_m, time_s);
        place.of(|j, i| self.height[j][i])
    }

    fn velocity_m_s(&self, x_m: f64, y_m: f64, time_s: f64) -> Vector3<f64> {
        let place = self.place(x_m, y_m, time_s);
        Vector3::from_fn(|k, _| place.of(|j, i| self.velocity[j][i][k]))
    }

    fn highest_m(&self) -> f64 {
        self.highest_m
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_metre_of_wave_has_its_period_and_speed() {
        // Deep water: T = sqrt(2 pi L / g) = 0.8005 s, c = 1.249 m/s for 1 m.
        let c = component(0.01, 1.0, 0.0, 0.0);
        assert!((TAU / c.frequency - 0.8005).abs() < 1e-3);
        assert!((c.frequency / c.number - 1.249).abs() < 1e-3);
    }

    #[test]
    fn ripple_has_the_height_asked_for_and_the_same_seed_the_same_water() {
        let water = Water::Ripple {
            height_m: 0.02,
            length_m: 0.44,
            from_rad: 0.0,
        };
        let make = |seed| Surface::new(&water, seed).unwrap();
        let surface = make(3);
        let mut square = 0.0;
        let count = 20_000;
        for i in 0..count {
            square += surface
                .height_m(0.37 * f64::from(i), 0.0, 0.11 * f64::from(i))
                .powi(2);
        }
        let significant = 4.0 * (square / f64::from(count)).sqrt();
        assert!((significant / 0.02 - 1.0).abs() < 0.03, "{significant}");
        let at = |s: &Surface| s.height_m(1.0, 2.0, 3.0);
        assert_eq!(at(&surface), at(&make(3)));
        assert!(at(&surface) != at(&make(4)));
    }

    #[test]
    fn a_patch_is_the_water_at_its_points() {
        let water = Water::Ripple {
            height_m: 0.02,
            length_m: 0.44,
            from_rad: 0.4,
        };
        let surface = Surface::new(&water, 5).unwrap();
        let motion = Motion {
            position_m: Vector3::new(7.0, -2.0, 0.05),
            attitude: craft::attitude::rotation(0.3, 0.05, 0.0),
            velocity_m_s: Vector3::new(15.0, 0.0, 0.0),
            rate_rad_s: Vector3::zeros(),
            time_s: 1.7,
        };
        let patch = Patch::new(&surface, &motion, 0.5, 0.01);
        let (hx, hy) = (0.3f64.cos(), 0.3f64.sin());
        for (i, j) in [(0, 0), (5, 2), (ALONG - 1, ACROSS - 1)] {
            let a = (i as f64 / (ALONG - 1) as f64 - 0.5) * patch.size.0;
            let b = (j as f64 / (ACROSS - 1) as f64 - 0.5) * patch.size.1;
            let x = patch.middle.0 + a * hx - b * hy;
            let y = patch.middle.1 + a * hy + b * hx;
            for t in [1.7, 1.71] {
                assert!((patch.height_m(x, y, t) - surface.height_m(x, y, t)).abs() < 1e-12);
                let v = patch.velocity_m_s(x, y, t) - surface.velocity_m_s(x, y, t);
                assert!(v.norm() < 1e-10, "{v}");
            }
        }
    }

    #[test]
    fn waves_that_would_break_are_refused() {
        let steep = Water::Waves {
            height_m: 0.2,
            length_m: 1.0,
            from_rad: 0.0,
        };
        assert!(matches!(
            Surface::new(&steep, 1),
            Err(WaterError::Steep { .. })
        ));
        let none = Water::Waves {
            height_m: 0.0,
            length_m: 1.0,
            from_rad: 0.0,
        };
        assert!(matches!(Surface::new(&none, 1), Err(WaterError::Size(_))));
    }
}
