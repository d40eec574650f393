//! Water that is not flat: regular waves, ripple, a wake to cross.
//!
//! - Deep water, small slopes: `h = sum a cos(k x . d - w t + p)`, `w^2 = g k`; velocity near the surface by
//!   the same sum (`a w` along the wave and up).
//! - Ripple: wind waves of a short fetch by a spectrum of the JONSWAP form, peak enhancement 3.3, spread as the
//!   square of the cosine, significant height and peak length given; a pond's own ripple is about 20 to 25 times
//!   as long as high (common practice, no source). Components at equal steps of energy, phases by a seed.
//! - Cut: waves shorter than 20 mm are left out with their energy (a hundredth of the height of 5 mm of ripple,
//!   a fortieth at 3 mm). A pad's wetted length at speed is about 10 mm, so that it feels no more than the mean
//!   of them; and below about 17 mm surface tension rules and such waves die within a few lengths.
//! - Wake: a packet of three waves running across the course, highest in the middle.
//! - Source: Airy; Hasselmann et al. 1973 for the form.
//! - Valid: height under a seventh of the length (steeper waves break; Michell 1893); deeper than half a length.
//! - Checks: period and speed of a wave of known length; significant height of the sum.

mod near;
mod ripple;
mod sum;

pub use near::Near;

use craft::motion::WaterSurface;
use laws::constants::GRAVITY_M_S2;
use nalgebra::Vector3;
use ripple::ripple;
use std::f64::consts::{FRAC_PI_2, TAU};
use sum::Blocks;

/// Steepest wave there is, height over length.
const STEEPEST: f64 = 0.142;
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
    blocks: Blocks,
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
                let one = component(0.5 * height_m, length_m, from_rad, 0.0);
                Ok(Self::of(vec![one], Reach::Everywhere))
            }
            Water::Ripple {
                height_m,
                length_m,
                from_rad,
            } => {
                exists(height_m, length_m)?;
                let all = ripple(height_m, length_m, from_rad, seed);
                Ok(Self::of(all, Reach::Everywhere))
            }
            Water::Wake {
                height_m,
                length_m,
                after_m,
            } => {
                exists(height_m, length_m)?;
                let one = component(0.5 * height_m, length_m, 0.3, 0.0);
                let half = 1.5 * length_m;
                Ok(Self::of(vec![one], Reach::Packet(after_m + half, half)))
            }
        }
    }

    fn of(components: Vec<Component>, reach: Reach) -> Self {
        Self {
            blocks: Blocks::of(&components),
            components,
            reach,
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

    /// All of the sum from here on.
    fn is_full(&self, from_x: f64) -> bool {
        match self.reach {
            Reach::Everywhere => true,
            Reach::Packet(..) => false,
            Reach::Growing(_, to) => from_x >= to,
        }
    }

    /// Share of the sum at a place along the course, and its slope, 1/m.
    fn envelope(&self, x: f64) -> (f64, f64) {
        // The place runs from 0 (all of it) to 1 (none).
        let (place, slope) = match self.reach {
            Reach::Everywhere => return (1.0, 0.0),
            Reach::Packet(middle, half) => {
                let place = (x - middle) / half;
                (place.abs(), place.signum() / half)
            }
            Reach::Growing(from, to) => ((to - x) / (to - from), -1.0 / (to - from)),
        };
        if place <= 0.0 {
            return (1.0, 0.0);
        }
        if place >= 1.0 {
            return (0.0, 0.0);
        }
        let (sin, cos) = (FRAC_PI_2 * place).sin_cos();
        (cos * cos, -2.0 * FRAC_PI_2 * sin * cos * slope)
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
        frequency: (GRAVITY_M_S2 * number).sqrt(),
        phase,
    }
}

impl Surface {
    fn shortest(&self) -> f64 {
        let longest = self.components.iter().map(|c| c.number).fold(0.0, f64::max);
        TAU / longest
    }

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
        let (envelope, _) = self.envelope(x_m);
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

    fn shortest_m(&self) -> f64 {
        self.shortest()
    }

    fn highest_m(&self) -> f64 {
        self.components.iter().map(|c| c.amplitude).sum()
    }

    fn is_still(&self) -> bool {
        self.components.is_empty()
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

    /// What a boat near a place is told in single precision, against the sines themselves in double.
    #[test]
    fn near_a_boat_it_is_the_water_drawn() {
        let water = Water::Ripple {
            height_m: 0.005,
            length_m: 0.11,
            from_rad: 0.4,
        };
        let surface = Surface::new(&water, 5).unwrap().growing(206.9, 207.4);
        let (x0, y0, t0) = (207.0, -12.0, 11.7);
        let near = Near::new(&surface, [x0, y0], t0);
        let (mut off, mut height): (f64, f64) = (0.0, 0.0);
        let (mut rate_off, mut rates): (f64, f64) = (0.0, 0.0);
        let (mut pull_off, mut pulls): (f64, f64) = (0.0, 0.0);
        for i in 0..200 {
            let (x, y) = (x0 + 0.004 * f64::from(i), y0 + 0.1 * f64::from(i % 7));
            let t = t0 + 1e-5 * f64::from(i);
            off += (near.height_m(x, y, t) - surface.height_m(x, y, t)).powi(2);
            height += surface.height_m(x, y, t).powi(2);
            let v = near.velocity_m_s(x, y, t) - surface.velocity_m_s(x, y, t);
            assert!(v.norm() < 5e-4, "{v}");
            let going = [13.0, -4.0];
            let [h, rate] = near.met_m([x, y], going, t);
            let [plain, slow] = surface.met_m([x, y], going, t);
            assert!((h - plain).abs() < 1e-6, "{h} {plain}");
            rate_off += (rate - slow).powi(2);
            rates += slow.powi(2);
            let pull = surface.pull_m_s2([x, y], going, t);
            pull_off += (near.pull_m_s2([x, y], going, t) - pull).norm_squared();
            pulls += pull.norm_squared();
        }
        assert!((off / height).sqrt() < 1e-3, "{}", (off / height).sqrt());
        let rate = (rate_off / rates).sqrt();
        let pull = (pull_off / pulls).sqrt();
        assert!(rate < 1e-2 && pull < 1e-2, "{rate} {pull}");
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
