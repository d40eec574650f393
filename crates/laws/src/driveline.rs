//! What a flexible cable, wire or shaft takes on its way from motor to propeller, as a torque.
//!
//! - Lubricant sheared in the gap between cable and tube (Petroff): `Q = mu pi D^3 L w / (4 gap)`.
//! - Cable strands that rub on each other as the bent, twisted cable turns, and rub on their tube: a share of
//!   the torque carried, `c_0 + c_1 theta` with theta the bends of the tube together.
//! - A bent wire is elastic and rubs only where it is held: `Q = f N d / 2`, `N = 4 E I theta / L^2`, three
//!   points of contact together for a bend spread over its length.
//! - Thrust on its collar, `f T r_c`, and the side load of a propeller that cuts the surface on its bush,
//!   `f (0.3 T) r_b` (0.3 judgement).
//! - Source: Petroff 1883; friction f 0.12 of a greased or wet collar and bush (0.1 to 0.15, any handbook);
//!   cables waste 5 to 15 % (trade article on flexible shafts 2013, second-hand), so `c_0` 0.03 and `c_1`
//!   0.1 a radian are judgement that puts a gently bent one at the middle of that; carry half of the loss.
//! - Units: SI.
//! - Valid: lubricant thinned by shear to that viscosity; one gentle bend, a cable that does not whip.
//! - Checks: `checks/driveline_and_small_boats.csv`: shear in oil and grease, the collar, the band of cables.

use crate::input::{InputError, not_negative, positive};
use std::f64::consts::PI;

/// Friction of a lubricated collar or bush.
pub const FRICTION: f64 = 0.12;
/// Side load on the last bush over thrust.
const SIDE: f64 = 0.3;
/// Share of torque that a cable's strands take, straight, and more for each radian of bend.
const STRANDS: [f64; 2] = [0.03, 0.1];
/// Share of torque that couplings and bushes of a wire or shaft take.
const PLAIN: f64 = 0.005;
/// Spring steel, Pa.
const STEEL_PA: f64 = 2.0e11;
/// Below this turning speed friction fades, so that nothing turns by itself, rad/s.
pub(crate) const CREEP_RAD_S: f64 = 20.0;

/// What turns the propeller.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Turner {
    /// Wound cable in a greased tube.
    Cable,
    /// Spring-steel wire.
    Wire,
    /// Straight shaft.
    Shaft,
}

/// How a driveline is built.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layout {
    /// Cable, wire or shaft.
    pub turner: Turner,
    /// Its diameter, m.
    pub diameter_m: f64,
    /// Of the tube it runs in, m.
    pub length_m: f64,
    /// Between it and its tube, m.
    pub gap_m: f64,
    /// Bends of the tube together, rad.
    pub bend_rad: f64,
    /// Of what fills the tube, Pa s.
    pub viscosity_pa_s: f64,
    /// Mean radius of the thrust collar, m.
    pub collar_m: f64,
    /// Radius of the last bush, m.
    pub bush_m: f64,
}

/// A driveline's losses as a law of torque, thrust and speed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Driveline {
    /// Of the propeller's torque.
    pub share: f64,
    /// Torque for each newton of thrust, m.
    pub by_thrust_m: f64,
    /// Torque for each radian a second, N m s.
    pub by_speed_n_m_s: f64,
    /// Torque that is always there, N m.
    pub still_n_m: f64,
}

impl Driveline {
    /// Nothing is lost.
    pub const IDEAL: Self = Self {
        share: 0.0,
        by_thrust_m: 0.0,
        by_speed_n_m_s: 0.0,
        still_n_m: 0.0,
    };

    /// From how it is built.
    ///
    /// # Errors
    /// [`InputError`] for a diameter, length or gap not above zero or another number below zero.
    pub fn new(layout: &Layout) -> Result<Self, InputError> {
        let d = positive("diameter", layout.diameter_m)?;
        let length = positive("length", layout.length_m)?;
        let gap = positive("gap", layout.gap_m)?;
        let bend = not_negative("bend", layout.bend_rad)?;
        let viscosity = not_negative("viscosity", layout.viscosity_pa_s)?;
        let collar = not_negative("collar", layout.collar_m)?;
        let bush = not_negative("bush", layout.bush_m)?;
        let section_m4 = PI * d.powi(4) / 64.0;
        let (share, still_n_m) = match layout.turner {
            Turner::Cable => (STRANDS[0] + STRANDS[1] * bend, 0.0),
            Turner::Wire => {
                let pressed_n = 4.0 * STEEL_PA * section_m4 * bend / (length * length);
                (PLAIN, FRICTION * pressed_n * 0.5 * d)
            }
            Turner::Shaft => (PLAIN, 0.0),
        };
        Ok(Self {
            share,
            by_thrust_m: FRICTION * (collar + SIDE * bush),
            by_speed_n_m_s: viscosity * PI * d.powi(3) * length / (4.0 * gap),
            still_n_m,
        })
    }

    /// One that passes this share of its torque and loses nothing else.
    ///
    /// # Errors
    /// [`InputError`] for a share not above zero.
    pub fn passing(efficiency: f64) -> Result<Self, InputError> {
        Ok(Self {
            share: 1.0 / positive("efficiency", efficiency)? - 1.0,
            ..Self::IDEAL
        })
    }

    /// The same for a propeller whose thrust over torque is known, 1/m, so that only torque need be asked.
    pub fn with_thrust(self, thrust_per_torque: f64) -> Self {
        Self {
            share: self.share + self.by_thrust_m * thrust_per_torque,
            by_thrust_m: 0.0,
            ..self
        }
    }

    /// With every loss multiplied.
    pub fn scaled(self, by: f64) -> Self {
        Self {
            share: self.share * by,
            by_thrust_m: self.by_thrust_m * by,
            by_speed_n_m_s: self.by_speed_n_m_s * by,
            still_n_m: self.still_n_m * by,
        }
    }

    /// Torque lost on the way, at the propeller's turning speed, N m.
    pub fn lost_n_m(&self, torque_n_m: f64, thrust_n: f64, shaft_rad_s: f64) -> f64 {
        let turning = (shaft_rad_s / CREEP_RAD_S).tanh();
        let rubbing = self.share * torque_n_m.abs() + self.by_thrust_m * thrust_n.abs();
        turning * (rubbing + self.still_n_m) + self.by_speed_n_m_s * shaft_rad_s
    }

    /// Torque wanted at its fore end for this much at the propeller, N m.
    pub fn asked_n_m(&self, torque_n_m: f64, thrust_n: f64, shaft_rad_s: f64) -> f64 {
        torque_n_m + self.lost_n_m(torque_n_m, thrust_n, shaft_rad_s)
    }

    /// Torque left at the propeller of this much at its fore end, N m; below zero where less than the losses
    /// comes in.
    pub fn left_n_m(&self, torque_n_m: f64, thrust_n: f64, shaft_rad_s: f64) -> f64 {
        let turning = (shaft_rad_s / CREEP_RAD_S).tanh();
        let steady = turning * (self.by_thrust_m * thrust_n.abs() + self.still_n_m)
            + self.by_speed_n_m_s * shaft_rad_s;
        let left = torque_n_m - steady;
        let share = turning * self.share;
        if left >= 0.0 {
            left / (1.0 + share)
        } else {
            left / (1.0 - share).max(0.1)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::Table;

    const FAST_RAD_S: f64 = 30_000.0 * PI / 30.0;

    fn cable(viscosity_pa_s: f64) -> Layout {
        Layout {
            turner: Turner::Cable,
            diameter_m: 0.0047,
            length_m: 0.15,
            gap_m: 0.00025,
            bend_rad: 0.35,
            viscosity_pa_s,
            collar_m: 0.003,
            bush_m: 0.0024,
        }
    }

    fn row(what: &str) -> Vec<f64> {
        let t = Table::read(include_str!(
            "../../../checks/driveline_and_small_boats.csv"
        ));
        let r = (0..t.len())
            .find(|r| t.text(*r, "what").starts_with(what))
            .expect(what);
        let words = t.text(r, "value").split(" to ");
        words.map(|w| w.parse().expect("a number")).collect()
    }

    #[test]
    fn sheared_oil_and_grease_cost_what_was_derived() {
        let shear_w = |viscosity: f64| {
            Driveline::new(&cable(viscosity)).unwrap().by_speed_n_m_s * FAST_RAD_S * FAST_RAD_S
        };
        let oil = row("viscous loss")[0];
        assert!(
            (shear_w(0.0104) - oil).abs() < 0.05 * oil,
            "{}",
            shear_w(0.0104)
        );
        let grease = row("the same in thinned grease");
        // 0.02 to 0.1 Pa s is that row's own band.
        assert!((shear_w(0.02) - grease[0]).abs() < 0.06 * grease[0]);
        assert!((shear_w(0.1) - grease[1]).abs() < 0.06 * grease[1]);
    }

    #[test]
    fn ten_newtons_on_a_collar() {
        let band = row("thrust collar");
        let collar = Layout {
            bush_m: 0.0,
            ..cable(0.0)
        };
        let watt = Driveline::new(&collar).unwrap().by_thrust_m * 10.0 * FAST_RAD_S;
        assert!((band[0]..=band[1]).contains(&watt), "{watt}");
    }

    #[test]
    fn a_cable_is_within_the_trades_band_and_a_wire_above_it() {
        // A quick boat: 0.17 N m, 12 N, 30 000 rpm; one gentle bend of 20 deg.
        let passed = |layout: &Layout| {
            let line = Driveline::new(layout).unwrap();
            0.17 / line.asked_n_m(0.17, 12.0, FAST_RAD_S)
        };
        let band = row("flexible rotary shafts");
        let flex = passed(&cable(0.045));
        assert!(
            (band[0] / 100.0..=band[1] / 100.0).contains(&flex),
            "{flex}"
        );
        let wire = passed(&Layout {
            turner: Turner::Wire,
            diameter_m: 0.002,
            gap_m: 0.0012,
            ..cable(0.045)
        });
        assert!(wire > band[1] / 100.0 && wire < 1.0, "{wire}");
    }

    #[test]
    fn what_is_asked_gives_back_what_was_wanted() {
        let line = Driveline::new(&cable(0.045)).unwrap();
        for torque in [-0.2, -0.01, 0.0, 0.01, 0.2] {
            for shaft in [0.0, 1.0, 50.0, 3000.0] {
                let asked = line.asked_n_m(torque, 5.0, shaft);
                assert!(asked >= torque);
                assert!((line.left_n_m(asked, 5.0, shaft) - torque).abs() < 1e-12);
            }
        }
        assert_eq!(line.asked_n_m(0.0, 5.0, 0.0), 0.0);
        let given = Driveline::passing(0.9).unwrap();
        assert!((given.asked_n_m(0.9, 10.0, 3000.0) - 1.0).abs() < 1e-12);
    }
}
