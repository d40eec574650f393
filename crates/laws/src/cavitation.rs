//! Whether a submerged propeller's thrust is more than its blades can carry without cavitating.
//!
//! - `sigma = (p + rho g h - p_v) / (rho V^2 / 2)`, `tau = T / (A_P rho V^2 / 2)`, both on the speed at
//!   0.7 radius, `V^2 = V_a^2 + (0.7 pi n D)^2`; `A_P = A_E (1.067 - 0.229 P/D)`. Back cavitation of
//!   5 % at `tau = 0.30 sigma^0.57`; heavily loaded sections 10 % at `0.494 sigma^0.88`, breakdown at
//!   `1.2 sigma`.
//! - Source: Burrill and Emerson 1963 as fitted by Molland, Turnock, Hudson 2011; Blount and Fox 1978
//!   (coefficients from memory but the first).
//! - Units: Pa, N, m, m/s, rad/s; dimensionless out.
//! - Valid: wholly submerged, sigma 0.1 to 1.5, pitch ratio 0.6 to 2. A surface propeller ventilates
//!   instead. Larger propellers were tested: at our size cavitation starts later.
//! - Checks: `checks/cavitation_limits.csv`.

use crate::input::{InputError, finite, not_negative, positive};
use crate::notes::Notes;
use std::f64::consts::PI;

/// A submerged propeller at work.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Working {
    /// N.
    pub thrust_n: f64,
    /// m.
    pub diameter_m: f64,
    /// Expanded blade area over disc area.
    pub area_ratio: f64,
    /// Pitch over diameter.
    pub pitch_ratio: f64,
    /// m/s.
    pub speed_m_s: f64,
    /// rad/s.
    pub shaft_rad_s: f64,
    /// Of the hub below the surface, m.
    pub depth_m: f64,
    /// Of the air above, Pa.
    pub pressure_pa: f64,
    /// Of the water, Pa.
    pub vapour_pressure_pa: f64,
    /// kg/m3.
    pub density_kg_m3: f64,
}

/// How near cavitation is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cavitation {
    /// At 0.7 radius.
    pub cavitation_number: f64,
    /// Thrust loading.
    pub thrust_loading: f64,
    /// Loading at 5 % back cavitation.
    pub limit_5_percent: f64,
    /// Loading at 10 % with blunt, heavily loaded sections.
    pub limit_10_percent: f64,
    /// Loading at thrust breakdown.
    pub breakdown: f64,
    /// Loading over the 5 % limit: above 1 it cavitates.
    pub used: f64,
    /// Within the range above.
    pub in_range: bool,
    /// Why not.
    pub notes: Notes,
}

/// Loadings at which cavitation covers 5 % and 10 % of the back, and breaks thrust down.
pub fn limits(cavitation_number: f64) -> [f64; 3] {
    let s = cavitation_number.max(0.0);
    [0.30 * s.powf(0.57), 0.494 * s.powf(0.88), 1.2 * s]
}

/// Loading against its limits.
///
/// # Errors
/// [`InputError`] for a size, density or rotation not above zero, or a number that is not finite.
pub fn cavitation(w: &Working) -> Result<Cavitation, InputError> {
    finite("thrust", w.thrust_n)?;
    let d = positive("diameter", w.diameter_m)?;
    let area_ratio = positive("area_ratio", w.area_ratio)?;
    let pitch = positive("pitch_ratio", w.pitch_ratio)?;
    not_negative("speed", w.speed_m_s)?;
    let shaft = positive("shaft_speed", w.shaft_rad_s)?;
    finite("depth", w.depth_m)?;
    not_negative("pressure", w.pressure_pa)?;
    not_negative("vapour_pressure", w.vapour_pressure_pa)?;
    let density = positive("density", w.density_kg_m3)?;
    let square = w.speed_m_s.powi(2) + (0.35 * shaft * d).powi(2);
    let dynamic = 0.5 * density * square;
    let head = w.pressure_pa - w.vapour_pressure_pa + density * 9.81 * w.depth_m;
    let sigma = head / dynamic;
    let share = (1.067 - 0.229 * pitch).max(0.1);
    let area = 0.25 * PI * d * d * area_ratio * share;
    let tau = w.thrust_n / (area * dynamic);
    let [five, ten, breakdown] = limits(sigma);
    let mut notes = Notes::default();
    let out = notes.add_if(
        !(0.1..=1.5).contains(&sigma),
        "cavitation number outside 0.1 to 1.5",
    ) | notes.add_if(
        !(0.6..=2.0).contains(&pitch),
        "pitch ratio outside 0.6 to 2",
    );
    Ok(Cavitation {
        cavitation_number: sigma,
        thrust_loading: tau,
        limit_5_percent: five,
        limit_10_percent: ten,
        breakdown,
        used: tau / five.max(1e-12),
        in_range: !out,
        notes,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::Table;

    #[test]
    fn limits_agree_with_the_chart_fits() {
        let t = Table::read(include_str!("../../../checks/cavitation_limits.csv"));
        for r in 0..t.len() {
            let got = limits(t.number(r, "sigma_0_7R"));
            let columns = [
                "tau_5pct_back_0_30",
                "tau_10pct_segmental_0_494",
                "tau_full_breakdown_segmental_1_2",
            ];
            for (g, c) in got.iter().zip(columns) {
                assert!((g - t.number(r, c)).abs() < 6e-5, "{c}");
            }
        }
    }

    #[test]
    fn hand_worked_loading() {
        // 40 mm, 300 turns/s, 12 m/s: 0.7 pi n D = 26.39 m/s, V^2 = 840.4, q = 420.2 kPa;
        // sigma = (101.325 - 2.339 + 0.392) / 420.2 = 0.2365.
        let c = cavitation(&Working {
            thrust_n: 30.0,
            diameter_m: 0.04,
            area_ratio: 0.5,
            pitch_ratio: 1.4,
            speed_m_s: 12.0,
            shaft_rad_s: 600.0 * PI,
            depth_m: 0.04,
            pressure_pa: 101_325.0,
            vapour_pressure_pa: 2339.0,
            density_kg_m3: 1000.0,
        })
        .unwrap();
        assert!((c.cavitation_number - 0.2365).abs() < 1e-4, "{c:?}");
        // A_P = 0.25 pi 0.0016 0.5 (1.067 - 0.3206) = 4.690e-4 m2; tau = 30 / 197.1 = 0.1522.
        assert!((c.thrust_loading - 0.1522).abs() < 2e-4, "{c:?}");
    }
}
