//! Skin friction of a wetted surface, smooth or rough, as a band.
//!
//! - Turbulent, smooth (ITTC 1957): `C_F = 0.075 / (log10 Re - 2)^2`.
//! - Turbulent, fully rough (Prandtl and Schlichting): `C_F = (1.89 + 1.62 log10(L / k_s))^-2.5`, with
//!   k_s the equivalent sand roughness.
//! - Between: the rough plate is as good as a smooth one at the Reynolds number `Re_r` whose ITTC friction
//!   equals its own, and `Re_eff = (Re^-2 + Re_r^-2)^(-1/2)` goes into the ITTC line. The 2 is ours: 1 is
//!   Colebrook's passage for mixed grains, none at all Nikuradse's for even sand.
//! - Laminar (Blasius): `C_F = 1.328 / sqrt(Re)`.
//! - Transitional (Kirkman and Kloetzli): `C_F = (3.461 log10 Re - 5.6)^-2 - 1700 / Re`.
//! - Source: ITTC, Proc. 8th Int. Towing Tank Conf., Madrid 1957; Blasius 1908; these three as in
//!   Molland, Turnock, Hudson 2011, Ship Resistance and Propulsion, eqs 4.15, 3.47. Prandtl and
//!   Schlichting 1934, Werft Reederei Hafen 15, 1-4 (from memory). Sand trips the laminar layer from
//!   `U k_s / nu` = 120 (Feindt 1957), wholly by 600 (Braslow 1966; both from memory).
//! - Units: dimensionless; `Re = V L / nu` with L the mean wetted length.
//! - Valid: 5e5 <= Re <= 1e9 for the turbulent line, `L / k_s` 100 to 1e6 for the rough plate (held at 30
//!   below). Below Re 5e5, the band is what a surface can have: `cf_low` follows the laminar line until
//!   transition at Re 5e5 and the transitional line after; `cf_high` is the turbulent line with its
//!   roughness, and `cf_low` rises to it as the roughness trips the flow. Below Re 1e4 the ITTC line is
//!   meaningless (it grows without bound at Re 100), so it is held there as it stood at 1e4.
//! - Checks: `checks/friction_lines.csv`, `checks/roughness.csv`. Theory and correlation only at our
//!   Reynolds numbers.

use crate::input::{InputError, not_negative, require};
use crate::smooth::{mix, step};

/// Reynolds numbers at which the turbulent line is trusted.
pub const VALID_REYNOLDS: std::ops::RangeInclusive<f64> = 5e5..=1e9;
const LINE_FLOOR: f64 = 1e4;
const TRANSITION: f64 = 5e5;
/// `U k_s / nu` from which sand disturbs a laminar layer, and from which none is left.
const TRIPS: [f64; 2] = [120.0, 600.0];
/// Rougher than this, as length over sand roughness, the fully rough plate is held.
const ROUGHEST: f64 = 30.0;

/// Friction coefficients on wetted area.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Friction {
    /// ITTC 1957 line (held at its value for Re 1e4 below that).
    pub cf_turbulent: f64,
    /// Blasius line.
    pub cf_laminar: f64,
    /// The least the surface can have.
    pub cf_low: f64,
    /// Turbulent with its roughness; [`cf_turbulent`](Self::cf_turbulent) when smooth.
    pub cf_rough: f64,
    /// The most the surface can have.
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

/// The band of a smooth surface at `reynolds`.
///
/// # Errors
/// [`InputError`] when `reynolds` is below 100 or not finite.
pub fn friction_line(reynolds: f64) -> Result<Friction, InputError> {
    rough_friction_line(reynolds, 0.0)
}

/// The band of a surface whose sand roughness is that part of its wetted length.
///
/// # Errors
/// [`InputError`] when `reynolds` is below 100, the roughness negative, or either not finite.
pub fn rough_friction_line(
    reynolds: f64,
    roughness_over_length: f64,
) -> Result<Friction, InputError> {
    require("reynolds", reynolds, "100 or more", |re| re >= 100.0)?;
    not_negative("roughness_over_length", roughness_over_length)?;
    Ok(rough_band(reynolds, roughness_over_length))
}

/// As [`friction_line`] for any number: below 100, including no flow, it is held at 100.
pub fn band(reynolds: f64) -> Friction {
    rough_band(reynolds, 0.0)
}

/// As [`rough_friction_line`] for any number; a roughness below zero is none.
pub fn rough_band(reynolds: f64, roughness_over_length: f64) -> Friction {
    let re = if reynolds >= 100.0 { reynolds } else { 100.0 };
    let cf_turbulent = turbulent(re.max(LINE_FLOOR));
    let cf_laminar = 1.328 / re.sqrt();
    let rough = roughness_over_length > 0.0;
    let cf_rough = if rough {
        let as_smooth = smooth_reynolds(fully_rough(roughness_over_length));
        turbulent(1.0 / (re.max(LINE_FLOOR).powi(-2) + as_smooth.powi(-2)).sqrt())
    } else {
        cf_turbulent
    };
    let cf_high = cf_rough.max(cf_laminar);
    let smooth_low = lowest(re, cf_laminar, cf_turbulent);
    let tripped = if rough {
        step(
            TRIPS[0].ln(),
            TRIPS[1].ln(),
            (re * roughness_over_length).max(1e-9).ln(),
        )
    } else {
        0.0
    };
    Friction {
        cf_turbulent,
        cf_laminar,
        cf_low: mix(smooth_low, cf_high, tripped).min(cf_high),
        cf_rough,
        cf_high,
        in_range: VALID_REYNOLDS.contains(&reynolds)
            && !(roughness_over_length > 0.01 || rough && roughness_over_length < 1e-6),
    }
}

fn turbulent(re: f64) -> f64 {
    0.075 / (re.log10() - 2.0).powi(2)
}

/// Plate on which sand of this part of its length stands clear of the viscous layer.
pub fn fully_rough(roughness_over_length: f64) -> f64 {
    let slender = (1.0 / roughness_over_length).max(ROUGHEST);
    (1.89 + 1.62 * slender.log10()).powf(-2.5)
}

/// Reynolds number at which a smooth plate has this friction.
fn smooth_reynolds(cf: f64) -> f64 {
    10f64.powf(2.0 + (0.075 / cf).sqrt())
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
    fn rough_plates_rise_as_published() {
        // `checks/roughness.csv`: fully rough plate against ITTC 1957, derived there independently.
        let t = Table::read(include_str!("../../../checks/roughness.csv"));
        let viscosity = 1e-6;
        let mut seen = 0;
        for r in 0..t.len() {
            let words: Vec<&str> = t.text(r, "what").split_whitespace().collect();
            if words[0] != "friction" {
                continue;
            }
            let after = |word: &str| -> f64 {
                let i = words.iter().rposition(|w| *w == word).expect(word);
                words[i + 1].parse().expect("a number")
            };
            let (speed, length, sand) = (after("at"), after("L"), after("ks") * 1e-6);
            let f = rough_friction_line(speed * length / viscosity, sand / length).unwrap();
            let rough = fully_rough(sand / length) / f.cf_turbulent - 1.0;
            let published = t.number(r, "value") / 100.0;
            assert!((rough - published).abs() < 0.01, "{words:?}: {rough}");
            // Joined to the smooth line it stands a little above both.
            let joined = f.cf_rough / f.cf_turbulent - 1.0;
            assert!(
                joined > rough && joined < rough + 0.03,
                "{words:?}: {joined}"
            );
            seen += 1;
        }
        assert_eq!(seen, 3);
    }

    #[test]
    fn sprayed_paint_costs_what_was_measured() {
        // `checks/roughness.csv`: Schultz 2002, as sprayed, lies between careful and mass-produced paint.
        let t = Table::read(include_str!("../../../checks/roughness.csv"));
        let row = (0..t.len()).find(|r| t.text(*r, "what").starts_with("paint as sprayed"));
        let measured = t.number(row.unwrap(), "value") / 100.0;
        let rise = |sand: f64| {
            let f = rough_band(5.5e6, sand / 1.52);
            f.cf_rough / f.cf_turbulent - 1.0
        };
        assert!(rise(6e-6) < measured && measured < rise(30e-6));
    }

    #[test]
    fn admissible_roughness_costs_little_and_less_costs_nothing() {
        // Molland, Turnock, Hudson 2011, p. 53: k_s = 100 nu / U still counts as smooth.
        let (re, sand) = (4.5e6, 100.0 / 4.5e6);
        let at = |share: f64| {
            let f = rough_band(re, share * sand);
            f.cf_rough / f.cf_turbulent - 1.0
        };
        assert!(at(1.0) < 0.13 && at(0.2) < 0.02 && at(0.05) < 2e-3);
        assert_eq!(at(0.0), 0.0);
    }

    #[test]
    fn roughness_only_adds_and_without_steps() {
        for i in 0..60 {
            let re = 10f64.powf(2.5 + 0.1 * f64::from(i));
            let mut last = band(re);
            assert_eq!(rough_band(re, 0.0), last);
            for k in 0..120 {
                let f = rough_band(re, 10f64.powf(-8.0 + 0.05 * f64::from(k)));
                assert!(f.cf_high >= last.cf_high - 1e-12 && f.cf_low >= last.cf_low - 1e-12);
                assert!(f.cf_low <= f.cf_high && f.cf_high < 1.06 * last.cf_high);
                last = f;
            }
        }
    }

    #[test]
    fn refuses_no_flow() {
        assert!(rough_friction_line(1e6, -1e-6).is_err());
        assert!(friction_line(0.0).is_err());
        assert!(friction_line(f64::NAN).is_err());
    }
}
