//! Fresh water at atmospheric pressure.
//!
//! - Density: Kell 1975, J. Chem. Eng. Data 20, 97-105 (coefficients from memory):
//!   `rho = (999.83952 + 16.945176 t - 7.9870401e-3 t^2 - 46.170461e-6 t^3 + 105.56302e-9 t^4
//!   - 280.54253e-12 t^5) / (1 + 16.879850e-3 t)`, t in degC.
//! - Viscosity: IAPWS SR6-08 (2008, liquid water at 0.1 MPa; from memory), with `T' = T / 300 K`:
//!   `mu = 1e-6 (280.68 T'^-1.9 + 511.45 T'^-7.7 + 61.131 T'^-19.6 + 0.45903 T'^-40)`.
//! - Vapour pressure: Wagner and Pruss 2002, J. Phys. Chem. Ref. Data 31, eq. 2.5 (from memory).
//! - Surface tension: IAPWS R1-76 (2014): `0.2358 d^1.256 (1 - 0.625 d)`, `d = 1 - T / 647.096 K`.
//! - Units: K in; kg/m3, m2/s, Pa, N/m out.
//! - Valid: 0 to 100 degC for all four. Refused outside -20 to 110 degC, where there is no water.
//! - Checks: `checks/fresh_water_properties_iapws.csv`, `checks/water_properties.csv`,
//!   `checks/iapws_surface_tension.csv` (from memory).

use crate::input::{InputError, require};

/// Water's properties.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FreshWater {
    /// Density, kg/m3.
    pub density_kg_m3: f64,
    /// Kinematic viscosity, m2/s.
    pub kinematic_viscosity_m2_s: f64,
    /// Vapour pressure, Pa.
    pub vapour_pressure_pa: f64,
    /// Surface tension against air, N/m.
    pub surface_tension_n_m: f64,
    /// Temperature from 0 to 100 degC.
    pub in_range: bool,
}

const ZERO_CELSIUS: f64 = 273.15;
const CRITICAL_K: f64 = 647.096;
const CRITICAL_PA: f64 = 22.064e6;

/// Properties at `temperature_k`.
///
/// # Errors
/// [`InputError`] outside 253.15 to 383.15 K.
pub fn fresh_water(temperature_k: f64) -> Result<FreshWater, InputError> {
    let k = require(
        "temperature",
        temperature_k,
        "from 253.15 to 383.15 K",
        |k| (253.15..=383.15).contains(&k),
    )?;
    let density = density(k - ZERO_CELSIUS);
    Ok(FreshWater {
        density_kg_m3: density,
        kinematic_viscosity_m2_s: viscosity(k) / density,
        vapour_pressure_pa: vapour_pressure(k),
        surface_tension_n_m: surface_tension(k),
        in_range: (273.15..=373.15).contains(&k),
    })
}

fn density(t: f64) -> f64 {
    const C: [f64; 6] = [
        999.83952,
        16.945176,
        -7.9870401e-3,
        -46.170461e-6,
        105.56302e-9,
        -280.54253e-12,
    ];
    C.iter().rev().fold(0.0, |sum, c| sum * t + c) / (1.0 + 16.879850e-3 * t)
}

fn viscosity(k: f64) -> f64 {
    let t = k / 300.0;
    1e-6 * (280.68 * t.powf(-1.9)
        + 511.45 * t.powf(-7.7)
        + 61.131 * t.powf(-19.6)
        + 0.45903 * t.powf(-40.0))
}

fn vapour_pressure(k: f64) -> f64 {
    const A: [(f64, f64); 6] = [
        (-7.85951783, 1.0),
        (1.84408259, 1.5),
        (-11.7866497, 3.0),
        (22.6807411, 3.5),
        (-15.9618719, 4.0),
        (1.80122502, 7.5),
    ];
    let d = 1.0 - k / CRITICAL_K;
    let sum: f64 = A.iter().map(|(a, n)| a * d.powf(*n)).sum();
    CRITICAL_PA * (CRITICAL_K / k * sum).exp()
}

fn surface_tension(k: f64) -> f64 {
    let d = 1.0 - k / CRITICAL_K;
    0.2358 * d.powf(1.256) * (1.0 - 0.625 * d)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{Table, relative};

    #[test]
    fn agrees_with_iapws_density_and_viscosity() {
        let t = Table::read(include_str!(
            "../../../checks/fresh_water_properties_iapws.csv"
        ));
        for r in 0..t.len() {
            let w = fresh_water(t.number(r, "T_degC") + 273.15).unwrap();
            // Kell's kilogram and temperature scale differ from IAPWS-95 by a few 1e-6.
            assert!(relative(w.density_kg_m3, t.number(r, "rho_kg_m3")) < 8e-6);
            // SR6-08 states 1 % of IAPWS 2008; in this range it is far better.
            assert!(relative(w.kinematic_viscosity_m2_s, t.number(r, "nu_m2_s")) < 5e-4);
        }
    }

    #[test]
    fn agrees_with_iapws_vapour_pressure_and_surface_tension() {
        let t = Table::read(include_str!("../../../checks/water_properties.csv"));
        for r in 0..t.len() {
            let w = fresh_water(t.number(r, "T_C") + 273.15).unwrap();
            assert!(relative(w.vapour_pressure_pa, t.number(r, "vapour_pressure_Pa")) < 2e-4);
            // That table's surface tension is another fit, within 0.2 % of the IAPWS one.
            assert!(relative(w.surface_tension_n_m, t.number(r, "surface_tension_N_m")) < 2e-3);
        }
        let t = Table::read(include_str!("../../../checks/iapws_surface_tension.csv"));
        for r in 0..t.len() {
            let w = fresh_water(t.number(r, "T_C") + 273.15).unwrap();
            // The release prints mN/m to two decimals.
            let printed = t.number(r, "surface_tension_mN_m") / 1e3;
            assert!((w.surface_tension_n_m - printed).abs() < 6e-6);
        }
    }

    #[test]
    fn refuses_ice_and_steam() {
        assert!(fresh_water(200.0).is_err());
        assert!(fresh_water(400.0).is_err());
    }
}
