//! Strength and stiffness of printed plastic: along and across its layers, warm, wet and under steady load.
//!
//! - At an angle `a` between the pull and the layers: `1 / s = cos^2 a / s_along + sin^2 a / s_across`.
//! - Warm: falls in a line from 23 degC to a third at the temperature where the plastic softens under load
//!   (judgement; data sheets give only that temperature), and nothing is promised above it.
//! - Steady load (hours and more): 0.22 of the short strength, 0.20 to 0.25. Wet nylons: 0.7 (judgement).
//! - Source: tables of printed PETG and PLA in `checks/printed_parts.csv`; other plastics by the ratios and
//!   values in `checks/plastics_printed.csv` and makers' sheets (from memory). The angle's law is Hankinson's
//!   for timber (1921, with square of the sine), as used for printed parts.
//! - Units: rad, K, Pa.
//! - Valid: prints with three or more walls, sound layers, 0 degC to the softening temperature. Two printers
//!   differ by the whole spread given: it is low to high, not a standard deviation.
//! - Checks: `checks/printed_parts.csv`; ratio across to along against `checks/plastics_printed.csv`.

use crate::input::{InputError, require};
use crate::notes::Notes;
use std::f64::consts::FRAC_PI_2;

/// A printed plastic; strengths and moduli low and high, Pa; temperatures in degC.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plastic {
    /// As the boat file names it.
    pub name: &'static str,
    /// Along the layers.
    pub along_pa: [f64; 2],
    /// Across the layers.
    pub across_pa: [f64; 2],
    /// Young's modulus.
    pub modulus_pa: [f64; 2],
    /// Where it softens under load (heat deflection at 0.45 MPa).
    pub softens_c: [f64; 2],
    /// Takes up water and loses strength.
    pub drinks: bool,
    /// Read in a table, or from memory.
    pub from_memory: bool,
}

const fn plastic(
    name: &'static str,
    along: [f64; 2],
    across: [f64; 2],
    modulus: [f64; 2],
    softens_c: [f64; 2],
) -> Plastic {
    const fn times(x: [f64; 2], by: f64) -> [f64; 2] {
        [x[0] * by, x[1] * by]
    }
    Plastic {
        name,
        along_pa: times(along, 1e6),
        across_pa: times(across, 1e6),
        modulus_pa: times(modulus, 1e9),
        softens_c,
        drinks: false,
        from_memory: true,
    }
}

const fn nylon(mut p: Plastic) -> Plastic {
    p.drinks = true;
    p
}

const fn read(mut p: Plastic) -> Plastic {
    p.from_memory = false;
    p
}

/// Plastics the boat file knows.
pub const PLASTICS: [Plastic; 8] = [
    plastic("PLA", [45.0, 60.0], [22.0, 40.0], [2.3, 3.3], [52.0, 56.0]),
    read(plastic(
        "PETG",
        [44.0, 56.0],
        [25.0, 38.0],
        [2.0, 3.0],
        [66.0, 70.0],
    )),
    plastic("ABS", [32.0, 42.0], [15.0, 26.0], [1.7, 2.2], [85.0, 98.0]),
    plastic("ASA", [40.0, 50.0], [18.0, 30.0], [1.8, 2.2], [88.0, 100.0]),
    plastic("PC", [55.0, 68.0], [25.0, 42.0], [2.0, 2.5], [110.0, 130.0]),
    nylon(plastic(
        "PA12",
        [40.0, 50.0],
        [20.0, 35.0],
        [1.2, 1.7],
        [90.0, 130.0],
    )),
    nylon(plastic(
        "PA6",
        [45.0, 70.0],
        [22.0, 42.0],
        [1.5, 2.5],
        [90.0, 150.0],
    )),
    nylon(plastic(
        "PA12-CF",
        [28.0, 60.0],
        [9.0, 25.0],
        [2.5, 5.0],
        [110.0, 150.0],
    )),
];

/// Names of [`PLASTICS`], for a face.
pub const WORDS: &[&str] = &["PLA", "PETG", "ABS", "ASA", "PC", "PA12", "PA6", "PA12-CF"];

/// The plastic of that name, any case.
#[must_use]
pub fn find(name: &str) -> Option<&'static Plastic> {
    PLASTICS.iter().find(|p| p.name.eq_ignore_ascii_case(name))
}

/// Share of the short strength that may stand on it for hours (20 to 25 %, common practice).
pub const STEADY: f64 = 0.22;
/// Share a soaked nylon keeps (judgement).
pub const SOAKED: f64 = 0.7;
const ROOM_C: f64 = 23.0;
/// Share kept where it softens (judgement).
const SOFT: f64 = 1.0 / 3.0;

/// Strength of a print in a direction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PrintedStrength {
    /// Middle of low and high, Pa.
    pub strength_pa: f64,
    /// Pa.
    pub low_pa: f64,
    /// Pa.
    pub high_pa: f64,
    /// Young's modulus, Pa.
    pub modulus_pa: f64,
    /// Where it softens under load, degC.
    pub softens_c: f64,
    /// Within the range above.
    pub in_range: bool,
    /// Why not.
    pub notes: Notes,
}

/// What is asked of a print.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Use {
    /// Between the pull and the plane of the layers, rad.
    pub angle_rad: f64,
    /// Of the plastic, degC.
    pub temperature_c: f64,
    /// For hours.
    pub steady: bool,
    /// Soaked.
    pub wet: bool,
}

/// Strength in a direction.
///
/// # Errors
/// [`InputError`] for an angle outside 0 to 90 deg or a temperature outside -20 to 200 degC.
pub fn printed_strength(p: &Plastic, a: &Use) -> Result<PrintedStrength, InputError> {
    let angle = require("angle", a.angle_rad, "from 0 to 90 deg", |x| {
        (0.0..=FRAC_PI_2 + 1e-9).contains(&x)
    })?;
    let t = require(
        "temperature",
        a.temperature_c,
        "from -20 to 200 degC",
        |t| (-20.0..=200.0).contains(&t),
    )?;
    let softens = 0.5 * (p.softens_c[0] + p.softens_c[1]);
    let warm = (1.0 - (1.0 - SOFT) * ((t - ROOM_C) / (softens - ROOM_C)).max(0.0)).max(0.0);
    let mut notes = Notes::default();
    let soft = notes.add_if(
        t > p.softens_c[0],
        "at or above where it softens: it bends out of shape under any load",
    );
    notes.add_if(
        a.wet && p.drinks,
        "soaked nylon keeps about 0.7 of its strength (judgement)",
    );
    notes.add_if(
        a.steady,
        "for hours: 20 to 25 % of the short strength (common practice)",
    );
    let kept =
        warm * if a.steady { STEADY } else { 1.0 } * if a.wet && p.drinks { SOAKED } else { 1.0 };
    let at = |k: usize| {
        kept / (angle.cos().powi(2) / p.along_pa[k] + angle.sin().powi(2) / p.across_pa[k])
    };
    Ok(PrintedStrength {
        strength_pa: 0.5 * (at(0) + at(1)),
        low_pa: at(0),
        high_pa: at(1),
        modulus_pa: 0.5 * (p.modulus_pa[0] + p.modulus_pa[1]) * warm,
        softens_c: softens,
        in_range: !soft,
        notes,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(angle_deg: f64, temperature_c: f64) -> PrintedStrength {
        printed_strength(
            &PLASTICS[1],
            &Use {
                angle_rad: f64::to_radians(angle_deg),
                temperature_c,
                steady: false,
                wet: false,
            },
        )
        .unwrap()
    }

    #[test]
    fn across_is_never_as_strong_as_along() {
        for p in &PLASTICS {
            let ratio = (p.across_pa[0] + p.across_pa[1]) / (p.along_pa[0] + p.along_pa[1]);
            assert!((0.3..=0.65).contains(&ratio), "{} {ratio}", p.name);
        }
        assert!(PLASTICS.iter().map(|p| p.name).eq(WORDS.iter().copied()));
    }

    #[test]
    fn strength_falls_with_angle_and_heat() {
        let mut last = f64::INFINITY;
        for deg in 0..=90 {
            let s = at(f64::from(deg), 23.0).strength_pa;
            assert!(s <= last);
            last = s;
        }
        assert!(at(0.0, 50.0).strength_pa < at(0.0, 23.0).strength_pa);
        assert!((at(0.0, 5.0).strength_pa - at(0.0, 23.0).strength_pa).abs() < 1.0);
        assert!(!at(0.0, 75.0).in_range);
    }
}
