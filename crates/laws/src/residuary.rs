//! Wave and form drag of a hull through the hump, before it planes.
//!
//! - `1000 C_R = a (L / volume^(1/3))^n` on wetted area, with a and n tabulated against Froude number.
//!   Below a slenderness of 7 the NPL round-bilge hulls, above 9 the mean of Series 64 at its three
//!   block coefficients, blended between; logarithm of C_R linear in Froude number.
//! - Source: Molland, Turnock, Hudson 2011, Ship Resistance and Propulsion, tables 10.3 to 10.5, 10.10.
//! - Units: `Fr = V / sqrt(g L)`; C_R on `0.5 rho V^2 S`.
//! - Valid: 0.4 <= Fr <= 1, slenderness 4.5 to 12. Below Fr 0.4 it falls with the fourth power of Fr (a
//!   taper of ours); above 1 with the inverse square, as wave drag does once the hull outruns its waves. The
//!   slenderness is held at its ends. Round-bilge and semi-displacement hulls: ours are cruder, so
//!   expect more.
//! - Checks: reproduces both tables. Their fits have R2 0.95 to 0.99; our hulls unvalidated.

use crate::input::{InputError, not_negative, positive};
use crate::smooth::{bracket, mix, step};

/// Residuary resistance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Residuary {
    /// On wetted area.
    pub residuary_coefficient: f64,
    /// Within the tables.
    pub in_range: bool,
}

const FROUDES: [f64; 7] = [0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0];
/// a and n of the NPL hulls at each Froude number.
const NPL: [(f64, f64); 7] = [
    (152.0, -1.76),
    (2225.0, -3.0),
    (1702.0, -2.96),
    (896.0, -2.76),
    (533.0, -2.58),
    (273.0, -2.31),
    (122.0, -1.96),
];
/// a and n of Series 64 at block coefficients 0.35, 0.45 and 0.55.
const SERIES_64: [[(f64, f64); 3]; 7] = [
    [(288.0, -2.33), (36726.0, -4.41), (926.0, -2.74)],
    [(751.0, -2.76), (55159.0, -4.61), (1775.0, -3.05)],
    [(758.0, -2.81), (42184.0, -4.56), (1642.0, -3.08)],
    [(279.0, -2.42), (29257.0, -4.47), (1106.0, -2.98)],
    [(106.0, -2.06), (27130.0, -4.51), (783.0, -2.9)],
    [(47.0, -1.74), (20657.0, -4.46), (458.0, -2.73)],
    [(25.0, -1.5), (11644.0, -4.24), (199.0, -2.38)],
];

/// C_R at a Froude number and slenderness `length / volume^(1/3)`.
///
/// # Errors
/// [`InputError`] for a negative Froude number or a slenderness not above zero.
pub fn residuary(froude: f64, slenderness: f64) -> Result<Residuary, InputError> {
    not_negative("froude", froude)?;
    let m = positive("slenderness", slenderness)?.clamp(4.5, 12.0);
    let (i, t) = bracket(&FROUDES, froude);
    let tabulated = mix(at(i, m).ln(), at(i + 1, m).ln(), t).exp();
    let below = (froude / FROUDES[0]).min(1.0).powi(4);
    Ok(Residuary {
        residuary_coefficient: tabulated * below / froude.max(1.0).powi(2),
        in_range: (0.4..=1.0).contains(&froude) && (4.5..=12.0).contains(&slenderness),
    })
}

fn at(i: usize, m: f64) -> f64 {
    let fit = |(a, n): (f64, f64)| a * m.powf(n) / 1e3;
    let series_64 = SERIES_64[i].iter().map(|c| fit(*c)).sum::<f64>() / 3.0;
    mix(fit(NPL[i]), series_64, step(7.0, 9.0, m))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{Table, relative};

    #[test]
    fn reproduces_both_tables() {
        let npl = Table::read(include_str!(
            "../../../checks/npl_monohull_residuary_fit.csv"
        ));
        let s64 = Table::read(include_str!("../../../checks/series64_residuary_fit.csv"));
        for r in 0..npl.len() {
            let fr = npl.number(r, "Fr");
            let six = npl.number(r, "a") * 6f64.powf(npl.number(r, "n")) / 1e3;
            assert!(relative(residuary(fr, 6.0).unwrap().residuary_coefficient, six) < 1e-9);
            let one = |b: &str| {
                s64.number(r, &format!("a_CB{b}")) * 10f64.powf(s64.number(r, &format!("n_CB{b}")))
                    / 1e3
            };
            let ten = (one("0.35") + one("0.45") + one("0.55")) / 3.0;
            assert!(relative(residuary(fr, 10.0).unwrap().residuary_coefficient, ten) < 1e-9);
        }
    }

    #[test]
    fn shows_a_hump_and_vanishes_at_rest() {
        let c = |fr: f64| residuary(fr, 5.0).unwrap().residuary_coefficient;
        assert_eq!(c(0.0), 0.0);
        assert!(c(0.5) > c(0.3) && c(0.5) > c(1.0) && c(1.0) > c(2.0));
        for i in 0..3000 {
            let fr = f64::from(i) / 1e3;
            assert!((c(fr + 1e-3) - c(fr)).abs() < 1e-3);
        }
        assert!(residuary(0.5, 0.0).is_err() && !residuary(0.5, 3.0).unwrap().in_range);
    }
}
