//! Skin friction of a smooth wetted surface, as a band.
//!
//! - Turbulent (ITTC 1957): `C_F = 0.075 / (log10 Re - 2)^2`.
//! - Laminar (Blasius): `C_F = 1.328 / sqrt(Re)`.
//! - Transitional (Kirkman and Kloetzli): `C_F = (3.461 log10 Re - 5.6)^-2 - 1700 / Re`.
//! - Source: ITTC, Proc. 8th Int. Towing Tank Conf., Madrid 1957; Blasius 1908; all three as in
//!   Molland, Turnock, Hudson 2011, Ship Resistance and Propulsion, eqs 4.15, 3.47.
//! - Units: dimensionless; `Re = V L / nu` with L the mean wetted length.
//! - Valid: 5e5 <= Re <= 1e9 for the turbulent line. Below, the band is what a surface can have:
//!   `cf_low` follows the laminar line until transition at Re 5e5 and the transitional line after;
//!   `cf_high` is the turbulent line. Below Re 1e4 the ITTC line is meaningless (it grows without
//!   bound at Re 100), so `cf_high` there is the larger of laminar and the line as it stood at 1e4.
//! - Checks: `checks/friction_lines.csv`. Theory and correlation only at our Reynolds numbers.

use crate::input::{InputError, require};

/// Reynolds numbers at which the turbulent line is trusted.
pub const VALID_REYNOLDS: std::ops::RangeInclusive<f64> = 5e5..=1e9;
const LINE_FLOOR: f64 = 1e4;
const TRANSITION: f64 = 5e5;

/// Friction coefficients on wetted area.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Friction {
    /// ITTC 1957 line (held at its value for Re 1e4 below that).
    pub cf_turbulent: f64,
    /// Blasius line.
    pub cf_laminar: f64,
    /// The least the surface can have.
    pub cf_low: f64,
    /// The most a smooth surface can have.
    pub cf_high: f64,
    /// Reynolds number within [`VALID_REYNOLDS`].
    pub in_range: bool,
}

impl Friction {
    /// Middle of the band.
    pub fn cf_middle(&self) -> f64 {
        0.5 * (self.cf_low + self.cf_high)
    }
}

/// The band at `reynolds`.
///
/// # Errors
/// [`InputError`] when `reynolds` is below 100 or not finite.
pub fn friction_line(reynolds: f64) -> Result<Friction, InputError> {
    require("reynolds", reynolds, "100 or more", |re| re >= 100.0).map(band)
}

/// As [`friction_line`] for any number: below 100, including no flow, it is held at 100.
pub fn band(reynolds: f64) -> Friction {
    let re = if reynolds >= 100.0 { reynolds } else { 100.0 };
    let cf_turbulent = 0.075 / (re.max(LINE_FLOOR).log10() - 2.0).powi(2);
    let cf_laminar = 1.328 / re.sqrt();
    Friction {
        cf_turbulent,
        cf_laminar,
        cf_low: lowest(re, cf_laminar, cf_turbulent),
        cf_high: cf_turbulent.max(cf_laminar),
        in_range: VALID_REYNOLDS.contains(&reynolds),
    }
}

/// Transitional friction; rises out of the laminar line near Re 5e5 and joins the turbulent one.
fn lowest(re: f64, laminar: f64, turbulent: f64) -> f64 {
    if re < TRANSITION {
        return laminar;
    }
    transitional(re).clamp(laminar, turbulent.max(laminar))
}

/// Line of Kirkman and Kloetzli, meant for Re above 5e5.
pub fn transitional(re: f64) -> f64 {
    (3.461 * re.log10() - 5.6).powi(-2) - 1700.0 / re
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{Table, relative};

    #[test]
    fn agrees_with_published_lines() {
        let t = Table::read(include_str!("../../../checks/friction_lines.csv"));
        for r in 0..t.len() {
            let re = t.number(r, "Re");
            let f = friction_line(re).unwrap();
            // The table carries six digits; Molland prints 1.327 for the laminar constant.
            assert!(relative(f.cf_turbulent, t.number(r, "Cf_ITTC57")) < 1e-5);
            assert!(relative(f.cf_laminar, t.number(r, "Cf_laminar_Blasius")) < 1e-5);
            if let Some(cf) = t.maybe(r, "Cf_transitional_1700") {
                assert!(relative(transitional(re), cf) < 1e-5, "{re}");
            }
        }
    }

    #[test]
    fn band_is_ordered_and_without_steps_in_its_upper_edge() {
        let mut last = f64::INFINITY;
        for i in 0..800 {
            let f = band(10f64.powf(2.0 + f64::from(i) / 100.0));
            assert!(f.cf_low > 0.0 && f.cf_low <= f.cf_high);
            assert!(f.cf_high <= last);
            last = f.cf_high;
        }
    }

    #[test]
    fn refuses_no_flow() {
        assert!(friction_line(0.0).is_err());
        assert!(friction_line(f64::NAN).is_err());
    }
}
