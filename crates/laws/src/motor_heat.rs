//! A motor's three constants at its own temperature and speed, and where its heat goes.
//!
//! - Copper: `R = R20 (235 + T) / (235 + 20)`, T in degC. Magnets: `B = B20 (1 + k (T - 20))`, so
//!   the speed constant rises as they weaken. Iron: `P = P_h w + P_e w^2`, put as a no-load current
//!   `I0 (h + (1 - h) w / w0)` with `h` the share that is hysteresis (and rubbing) at `w0`.
//! - Source: IEC 60034-1 for copper's 235; magnet makers' coefficient, -0.12 %/K for plain
//!   neodymium (`checks/insulation_magnets.csv`); Steinmetz for iron. `h` a half is judgement.
//! - Units: K, ohm, A, rad/s, V, W.
//! - Valid: winding -40 to 220 degC; magnets below their own limit, past which they do not come back.
//! - Checks: textbook motor in `checks/worked_examples.csv` (`pm_dc_motor`); copper at 100 degC.

use crate::input::{InputError, positive, require};
use crate::motor_point::Motor;

/// A motor as measured cold, and how its constants move.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WarmMotor {
    /// Constants at 20 degC.
    pub cold: Motor,
    /// Speed at which the no-load current was measured, rad/s.
    pub no_load_rad_s: f64,
    /// Share of the no-load current that does not grow with speed.
    pub hysteresis_share: f64,
    /// Magnet strength lost a kelvin, as a negative fraction.
    pub magnet_per_k: f64,
}

/// Plain neodymium.
pub const NEODYMIUM_PER_K: f64 = -0.0012;
/// Share of no-load current taken as independent of speed when nothing is known.
pub const HYSTERESIS_SHARE: f64 = 0.5;
const COLD_K: f64 = 293.15;
const COPPER_K: f64 = 235.0;

impl WarmMotor {
    /// Plain magnets and an even split of iron loss.
    ///
    /// # Errors
    /// [`InputError`] for a speed not above zero or a share outside 0 to 1.
    pub fn new(cold: Motor, no_load_rad_s: f64, share: f64) -> Result<Self, InputError> {
        positive("no_load_speed", no_load_rad_s)?;
        require("hysteresis_share", share, "from 0 to 1", |s| {
            (0.0..=1.0).contains(&s)
        })?;
        Ok(Self {
            cold,
            no_load_rad_s,
            hysteresis_share: share,
            magnet_per_k: NEODYMIUM_PER_K,
        })
    }

    /// Constants at the temperatures of winding and magnets and a shaft speed.
    pub fn at(&self, winding_k: f64, magnet_k: f64, shaft_rad_s: f64) -> Motor {
        let field = magnet_strength(self.magnet_per_k, magnet_k);
        let share = self.hysteresis_share;
        let speed = shaft_rad_s.max(0.0) / self.no_load_rad_s;
        Motor {
            speed_per_volt_rad_s_v: self.cold.speed_per_volt_rad_s_v / field,
            resistance_ohm: self.cold.resistance_ohm * copper_ratio(winding_k),
            // The torque of iron loss goes with the square of the field, the constant with the field.
            no_load_current_a: self.cold.no_load_current_a
                * field
                * (share + (1.0 - share) * speed),
        }
    }
}

/// Copper's resistance over that at 20 degC.
pub fn copper_ratio(temperature_k: f64) -> f64 {
    ((COPPER_K + temperature_k - 273.15) / (COPPER_K + 20.0)).max(0.05)
}

/// Magnet strength over that at 20 degC; held above a tenth.
pub fn magnet_strength(per_k: f64, temperature_k: f64) -> f64 {
    (1.0 + per_k * (temperature_k - COLD_K)).max(0.1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::motor_point::{Known, motor_point, speed_per_volt};
    use crate::testing::{Table, relative};

    #[test]
    fn cold_and_still_it_is_the_textbook_motor() {
        let t = Table::read(include_str!("../../../checks/worked_examples.csv"));
        let value = |quantity: &str| {
            (0..t.len())
                .find(|r| t.text(*r, "case") == "pm_dc_motor" && t.text(*r, "quantity") == quantity)
                .map(|r| t.number(r, "value"))
                .unwrap()
        };
        let cold = Motor {
            speed_per_volt_rad_s_v: 1.0 / value("ke"),
            resistance_ohm: value("Ra"),
            no_load_current_a: 0.0,
        };
        let warm = WarmMotor::new(cold, 600.0, 0.5).unwrap();
        let motor = warm.at(COLD_K, COLD_K, 300.0);
        let p = motor_point(&motor, value("V"), Known::Torque(value("T_load"))).unwrap();
        assert!(relative(p.current_a, value("Ia")) < 1e-5);
        let rpm = p.shaft_speed_rad_s * 60.0 / std::f64::consts::TAU;
        assert!(relative(rpm, value("n")) < 1e-5);
    }

    #[test]
    fn hot_copper_resists_more_and_hot_magnets_turn_faster() {
        // (235 + 100) / 255 = 1.3137.
        assert!((copper_ratio(373.15) - 1.313_725).abs() < 1e-6);
        let cold = Motor {
            speed_per_volt_rad_s_v: speed_per_volt(2000.0),
            resistance_ohm: 0.01,
            no_load_current_a: 3.0,
        };
        let warm = WarmMotor::new(cold, 2000.0, 0.5).unwrap();
        let hot = warm.at(373.15, 353.15, 4000.0);
        // 60 K at -0.12 %/K: field 0.928.
        assert!(
            relative(
                hot.speed_per_volt_rad_s_v * 0.928,
                cold.speed_per_volt_rad_s_v
            ) < 1e-9
        );
        // Twice the speed: half of it doubled, times the field.
        assert!(relative(hot.no_load_current_a, 3.0 * 1.5 * 0.928) < 1e-9);
    }
}
