//! A brushless or brushed motor by three constants.
//!
//! - `shaft_speed = k (V - I R)`, `torque = (I - I0) / k`, with `k` the motor constant in rad/s per
//!   volt: the torque constant in N m/A is its reciprocal.
//! - Source: the steady permanent-magnet motor of any textbook on electrical machines.
//! - Units: V, A, ohm, rad/s, N m, W. Voltage is at the motor (after the controller).
//! - Valid: constants at the motor's running temperature; no-load current taken as constant, though
//!   it rises with speed. In range when the motor drives (torque and speed not negative) on less
//!   than 80 % of its stall current.
//! - Checks: energy closes exactly; efficiency peaks at `I = sqrt(I0 V / R)` (closed form).

use crate::input::{InputError, finite, not_negative, positive};

/// A motor's three constants.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Motor {
    /// No-load speed per volt, rad/s/V.
    pub speed_per_volt_rad_s_v: f64,
    /// Winding resistance, ohm.
    pub resistance_ohm: f64,
    /// Current with no load, A.
    pub no_load_current_a: f64,
}

/// What is known of the running point beside the voltage.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Known {
    /// Motor current, A.
    Current(f64),
    /// Shaft speed, rad/s.
    ShaftSpeed(f64),
    /// Shaft torque, N m.
    Torque(f64),
}

/// A running point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MotorPoint {
    /// Current, A.
    pub current_a: f64,
    /// Shaft speed, rad/s.
    pub shaft_speed_rad_s: f64,
    /// Shaft torque, N m.
    pub torque_n_m: f64,
    /// Power at the shaft, W.
    pub shaft_power_w: f64,
    /// Shaft power over electrical power; 0 where the motor does not drive.
    pub efficiency: f64,
    /// Electrical power not at the shaft, W.
    pub heat_w: f64,
    /// Driving, and on less than 80 % of stall current.
    pub in_range: bool,
}

/// kv in rpm/V as rad/s/V.
pub fn speed_per_volt(kv_rpm_per_volt: f64) -> f64 {
    kv_rpm_per_volt * std::f64::consts::TAU / 60.0
}

/// The running point at `voltage_v` (at the motor).
///
/// # Errors
/// [`InputError`] for a constant, a voltage or a known value with no meaning, and for a shaft
/// speed given with zero resistance (any current would fit).
pub fn motor_point(motor: &Motor, voltage_v: f64, known: Known) -> Result<MotorPoint, InputError> {
    let k = positive("kv_rpm_per_volt", motor.speed_per_volt_rad_s_v)?;
    let resistance = not_negative("resistance", motor.resistance_ohm)?;
    let no_load = not_negative("no_load_current", motor.no_load_current_a)?;
    let voltage = not_negative("voltage", voltage_v)?;
    let current = match known {
        Known::Current(i) => finite("current", i)?,
        Known::Torque(q) => finite("torque", q)? * k + no_load,
        Known::ShaftSpeed(w) => {
            (voltage - finite("shaft_speed", w)? / k) / positive("resistance", resistance)?
        }
    };
    Ok(point(k, resistance, no_load, voltage, current))
}

fn point(k: f64, resistance: f64, no_load: f64, voltage: f64, current: f64) -> MotorPoint {
    let shaft_speed = k * (voltage - current * resistance);
    let torque = (current - no_load) / k;
    let (shaft_power, electric) = (torque * shaft_speed, voltage * current);
    let drives = torque >= 0.0 && shaft_speed >= 0.0;
    MotorPoint {
        current_a: current,
        shaft_speed_rad_s: shaft_speed,
        torque_n_m: torque,
        shaft_power_w: shaft_power,
        efficiency: if drives && electric > 0.0 {
            shaft_power / electric
        } else {
            0.0
        },
        heat_w: electric - shaft_power,
        in_range: drives && current * resistance <= 0.8 * voltage,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn motor() -> Motor {
        Motor {
            speed_per_volt_rad_s_v: speed_per_volt(2000.0),
            resistance_ohm: 0.01,
            no_load_current_a: 3.0,
        }
    }

    #[test]
    fn hand_worked_point() {
        // 2000 rpm/V, 14.8 V, 60 A through 10 mohm: (14.8 - 0.6) 2000 = 28 400 rpm.
        let p = motor_point(&motor(), 14.8, Known::Current(60.0)).unwrap();
        assert!((p.shaft_speed_rad_s * 60.0 / std::f64::consts::TAU - 28_400.0).abs() < 1e-6);
        // Shaft power (60 - 3) (14.8 - 0.6) = 809.4 W of 888 W.
        assert!((p.shaft_power_w - 809.4).abs() < 1e-9);
        assert!((p.efficiency - 809.4 / 888.0).abs() < 1e-12);
        assert!((p.heat_w - 78.6).abs() < 1e-9);
    }

    #[test]
    fn each_known_value_gives_the_same_point() {
        let p = motor_point(&motor(), 14.8, Known::Current(60.0)).unwrap();
        for known in [
            Known::ShaftSpeed(p.shaft_speed_rad_s),
            Known::Torque(p.torque_n_m),
        ] {
            let q = motor_point(&motor(), 14.8, known).unwrap();
            assert!((q.current_a - 60.0).abs() < 1e-9);
        }
    }

    #[test]
    fn efficiency_peaks_where_the_closed_form_says() {
        let m = motor();
        let best = (m.no_load_current_a * 14.8 / m.resistance_ohm).sqrt();
        let at = |i: f64| motor_point(&m, 14.8, Known::Current(i)).unwrap().efficiency;
        assert!(at(best) > at(best * 1.01) && at(best) > at(best * 0.99));
    }

    #[test]
    fn refuses_what_has_no_meaning_and_marks_a_braking_motor() {
        assert!(motor_point(&motor(), -1.0, Known::Current(1.0)).is_err());
        assert!(
            motor_point(
                &Motor {
                    resistance_ohm: 0.0,
                    ..motor()
                },
                10.0,
                Known::ShaftSpeed(1.0)
            )
            .is_err()
        );
        let p = motor_point(&motor(), 10.0, Known::Current(1.0)).unwrap();
        assert!(!p.in_range && p.efficiency == 0.0);
    }
}
