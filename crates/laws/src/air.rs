//! Dry air as an ideal gas.
//!
//! - `rho = p / (R T)`, `a = sqrt(gamma R T)`, R = 287.05287 J/(kg K), gamma = 1.4;
//!   `mu = 1.458e-6 T^1.5 / (T + 110.4)` (Sutherland).
//! - Source: ISO 2533:1975 standard atmosphere (constants from memory).
//! - Units: K and Pa in; kg/m3, m/s, m2/s out. Moist air is lighter by up to 1.5 % at 30 degC.
//! - Valid: -40 to 60 degC, 60 to 110 kPa.
//! - Checks: `checks/air_properties.csv`.

use crate::input::{InputError, positive};

/// Standard pressure, Pa.
pub const STANDARD_PRESSURE_PA: f64 = 101_325.0;
const GAS_CONSTANT: f64 = 287.05287;
const GAMMA: f64 = 1.4;

/// Air's properties.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    /// Density, kg/m3.
    pub density_kg_m3: f64,
    /// Speed of sound, m/s.
    pub sound_speed_m_s: f64,
    /// Kinematic viscosity, m2/s.
    pub kinematic_viscosity_m2_s: f64,
    /// Temperature and pressure within the range above.
    pub in_range: bool,
}

/// Properties at a temperature and pressure.
///
/// # Errors
/// [`InputError`] when either is not above zero.
pub fn air(temperature_k: f64, pressure_pa: f64) -> Result<Air, InputError> {
    let k = positive("temperature", temperature_k)?;
    let density = positive("pressure", pressure_pa)? / (GAS_CONSTANT * k);
    Ok(Air {
        density_kg_m3: density,
        sound_speed_m_s: (GAMMA * GAS_CONSTANT * k).sqrt(),
        kinematic_viscosity_m2_s: 1.458e-6 * k.powf(1.5) / (k + 110.4) / density,
        in_range: (233.15..=333.15).contains(&k) && (60e3..=110e3).contains(&pressure_pa),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{Table, relative};

    #[test]
    fn agrees_with_standard_atmosphere() {
        let t = Table::read(include_str!("../../../checks/air_properties.csv"));
        for r in 0..t.len() {
            let a = air(t.number(r, "T_C") + 273.15, STANDARD_PRESSURE_PA).unwrap();
            assert!(relative(a.density_kg_m3, t.number(r, "density_kg_m3")) < 5e-5);
            assert!(relative(a.sound_speed_m_s, t.number(r, "sound_speed_m_s")) < 2e-5);
            assert!(
                relative(
                    a.kinematic_viscosity_m2_s,
                    t.number(r, "kin_viscosity_m2_s")
                ) < 5e-5
            );
        }
    }

    #[test]
    fn refuses_a_vacuum() {
        assert!(air(288.15, 0.0).is_err());
        assert!(air(-1.0, 1e5).is_err());
    }
}
