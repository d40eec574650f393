//! Whether a submerged propeller's thrust is more than its blades can carry without cavitating.
//!
//! - `sigma = (p + rho g h - p_v) / (rho V^2 / 2)`, `tau = T / (A_P rho V^2 / 2)`, both on the speed at
//!   0.7 radius, `V^2 = V_a^2 + (0.7 pi n D)^2`; `A_P = A_E (1.067 - 0.229 P/D)`. Back cavitation of
//!   5 % at `tau = 0.30 sigma^0.57`; heavily loaded sections 10 % at `0.494 sigma^0.88`, breakdown at
//!   `1.2 sigma`, where torque has fallen to `Q / (A_P D rho V^2 / 2) = 0.2 P/D sigma^(0.7 + 0.31 A^0.9)`,
//!   `A` the area ratio. Both are approached from below without a corner; the corner's width, and the
//!   twentieth that is let through beyond it, are ours.
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

/// Thrust and torque left to blades whose backs cavitate all over.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Breakdown {
    area_m2: f64,
    diameter_m: f64,
    torque: f64,
    exponent: f64,
}

/// Of what a blade would give beyond breakdown, this much it still does: the face is not cavitating.
const LEFT: f64 = 0.05;

impl Breakdown {
    /// For checked values above zero.
    pub fn new(diameter_m: f64, area_ratio: f64, pitch_ratio: f64) -> Self {
        Self {
            area_m2: blade_area_m2(diameter_m, area_ratio, pitch_ratio),
            diameter_m,
            torque: 0.2 * pitch_ratio,
            exponent: 0.7 + 0.31 * area_ratio.powf(0.9),
        }
    }

    /// Most thrust, N, and torque, N m, at a speed squared at 0.7 radius and a pressure above vapour.
    pub fn most(&self, square_m2_s2: f64, head_pa: f64, density_kg_m3: f64) -> [f64; 2] {
        let dynamic = (0.5 * density_kg_m3 * square_m2_s2).max(1e-6);
        let sigma = head_pa.max(0.0) / dynamic;
        let force = dynamic * self.area_m2;
        [
            limits(sigma)[2] * force,
            self.torque * sigma.powf(self.exponent) * force * self.diameter_m,
        ]
    }
}

/// What is left of a load when `most` is the limit; a braking blade keeps its load.
pub fn held_below(load: f64, most: f64) -> f64 {
    if load <= 0.0 || most <= 0.0 {
        return load;
    }
    let eased = load * (1.0 + (load / most).powi(6)).powf(-1.0 / 6.0);
    eased + LEFT * (load - eased)
}

fn blade_area_m2(diameter_m: f64, area_ratio: f64, pitch_ratio: f64) -> f64 {
    let share = (1.067 - 0.229 * pitch_ratio).max(0.1);
    0.25 * PI * diameter_m * diameter_m * area_ratio * share
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
    let area = blade_area_m2(d, area_ratio, pitch);
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

    #[test]
    fn breakdown_is_the_charts_and_is_approached_without_a_corner() {
        let b = Breakdown::new(0.04, 0.5, 1.4);
        let t = Table::read(include_str!("../../../checks/cavitation_limits.csv"));
        let area = blade_area_m2(0.04, 0.5, 1.4);
        for r in 0..t.len() {
            let sigma = t.number(r, "sigma_0_7R");
            let square = 1e5 / sigma / 500.0;
            let [thrust, torque] = b.most(square, 1e5, 1000.0);
            let tau = thrust / (area * 500.0 * square);
            assert!((tau - t.number(r, "tau_full_breakdown_segmental_1_2")).abs() < 6e-5);
            assert!(torque > 0.0);
        }
        // By hand at sigma 0.2: 0.28 * 0.2^(0.7 + 0.31 * 0.5359) = 0.28 * 0.24810 = 0.06947.
        let [_, torque] = b.most(1000.0, 1e5, 1000.0);
        let q = torque / (area * 500e3 * 0.04);
        assert!((q - 0.06947).abs() < 5e-5, "{q}");
        let mut last = 0.0;
        for i in 1..100 {
            let load = 0.05 * f64::from(i);
            let held = held_below(load, 1.0);
            assert!(held > last && held <= load);
            last = held;
        }
        assert!((held_below(0.5, 1.0) - 0.5).abs() < 2e-3);
        assert_eq!(held_below(-2.0, 1.0), -2.0);
    }
}
