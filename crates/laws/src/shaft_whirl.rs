//! First critical (whirling) speed of a straight shaft between bearings.
//!
//! - `w = (beta L)^2 sqrt(E I / (rho A L^4))`, with `I / A = d^2 / 16` for a round wire; `beta L` is
//!   pi between two bearings that let it tilt, 3.9266 with one end clamped, 4.7300 with both, 1.8751
//!   with one end clamped and the other free. A mass at mid-span (at the tip when one end is free)
//!   lowers it: `1 / w^2 = 1 / w_shaft^2 + m / k`, `k` 48, 768/7, 192 or 3 times `E I / L^3`.
//! - Source: Euler and Bernoulli's beam (roots of its frequency equation); Dunkerley 1894 for the sum,
//!   which lies a little low.
//! - Units: m, Pa, kg/m3, kg, rad/s.
//! - Valid: solid round shaft, length over ten diameters, bearings stiff. A bush shorter than two
//!   diameters lets the shaft tilt. A flexible cable in a liner is held all along and has none.
//! - Checks: `checks/worked_examples.csv` (uniform shafts; one disc between two bearings).

use crate::input::{InputError, not_negative, positive};
use crate::notes::Notes;

/// How the ends are held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ends {
    /// Both may tilt: short bushes or ball bearings.
    Pinned,
    /// One clamped (long bush, collet), one may tilt.
    ClampedPinned,
    /// Both clamped.
    Clamped,
    /// One clamped, one free: a stub with a propeller.
    ClampedFree,
}

impl Ends {
    /// All, in the order of [`Ends::WORDS`].
    pub const ALL: [Self; 4] = [
        Self::Pinned,
        Self::ClampedPinned,
        Self::Clamped,
        Self::ClampedFree,
    ];
    /// Names at a face.
    pub const WORDS: &'static [&'static str] =
        &["pinned", "clamped-pinned", "clamped", "clamped-free"];

    /// First root of the beam's frequency equation.
    fn root(self) -> f64 {
        match self {
            Self::Pinned => std::f64::consts::PI,
            Self::ClampedPinned => 3.926_602_312,
            Self::Clamped => 4.730_040_745,
            Self::ClampedFree => 1.875_104_069,
        }
    }

    /// Stiffness at the mass over `E I / L^3`.
    fn stiffness(self) -> f64 {
        match self {
            Self::Pinned => 48.0,
            Self::ClampedPinned => 768.0 / 7.0,
            Self::Clamped => 192.0,
            Self::ClampedFree => 3.0,
        }
    }
}

/// Young's modulus and density of shaft stock; handbook values, from memory.
pub const MATERIALS: [(&str, f64, f64); 5] = [
    ("steel", 205e9, 7850.0),
    ("stainless", 193e9, 8000.0),
    ("brass", 100e9, 8500.0),
    ("titanium", 114e9, 4430.0),
    ("carbon", 120e9, 1600.0),
];

/// A shaft.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shaft {
    /// m.
    pub diameter_m: f64,
    /// Between bearings, m.
    pub length_m: f64,
    /// Young's modulus, Pa.
    pub modulus_pa: f64,
    /// kg/m3.
    pub density_kg_m3: f64,
    /// How it is held.
    pub ends: Ends,
    /// At mid-span, or at the free end, kg.
    pub mass_kg: f64,
}

/// Where a shaft whirls.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShaftWhirl {
    /// First critical speed, rad/s.
    pub critical_rad_s: f64,
    /// Keep below this: 70 % of the critical speed (common practice, no source), rad/s.
    pub advised_rad_s: f64,
    /// Longest span with this critical speed's 70 % equal to the speed asked is found by the caller:
    /// the critical speed goes with one over length squared. Slenderness, length over diameter.
    pub slenderness: f64,
    /// Within the range above.
    pub in_range: bool,
    /// Why not.
    pub notes: Notes,
}

/// First critical speed.
///
/// # Errors
/// [`InputError`] for a length, modulus or density not above zero or a negative mass.
pub fn shaft_whirl(s: &Shaft) -> Result<ShaftWhirl, InputError> {
    let d = positive("diameter", s.diameter_m)?;
    let length = positive("length", s.length_m)?;
    let modulus = positive("modulus", s.modulus_pa)?;
    let density = positive("density", s.density_kg_m3)?;
    let mass = not_negative("mass", s.mass_kg)?;
    let wave = (modulus / density).sqrt();
    let own = (s.ends.root() / length).powi(2) * wave * d / 4.0;
    let second_moment = std::f64::consts::PI * d.powi(4) / 64.0;
    let spring = s.ends.stiffness() * modulus * second_moment / length.powi(3);
    let critical = 1.0 / (own.powi(-2) + mass / spring).sqrt();
    let slenderness = length / d;
    let mut notes = Notes::default();
    let out = notes.add_if(
        slenderness < 10.0,
        "shorter than ten diameters: shear lowers it further",
    );
    Ok(ShaftWhirl {
        critical_rad_s: critical,
        advised_rad_s: 0.7 * critical,
        slenderness,
        in_range: !out,
        notes,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{Table, relative};

    fn steel(diameter_m: f64, length_m: f64) -> Shaft {
        Shaft {
            diameter_m,
            length_m,
            modulus_pa: 205e9,
            density_kg_m3: 7850.0,
            ends: Ends::Pinned,
            mass_kg: 0.0,
        }
    }

    #[test]
    fn agrees_with_the_worked_uniform_shafts() {
        let t = Table::read(include_str!("../../../checks/worked_examples.csv"));
        let mut seen = 0;
        for r in 0..t.len() {
            let Some(size) = t.text(r, "case").strip_prefix("whirl_uniform_d") else {
                continue;
            };
            let (d, l) = size.split_once("mm_L").unwrap();
            let l = l.trim_end_matches("mm").parse::<f64>().unwrap();
            let s = steel(1e-3 * d.parse::<f64>().unwrap(), 1e-3 * l);
            let rpm = shaft_whirl(&s).unwrap().critical_rad_s * 60.0 / std::f64::consts::TAU;
            // Printed to the nearest rpm with the rounded constant 94.25.
            assert!(relative(rpm, t.number(r, "value")) < 2e-4, "{size} {rpm}");
            seen += 1;
        }
        assert_eq!(seen, 8);
    }

    #[test]
    fn a_disc_between_bearings_alone_whirls_at_its_natural_frequency() {
        // 10 kg on 30 mm by 0.5 m, E 210 GPa: 90.12 Hz. A weightless shaft leaves the disc alone.
        let s = Shaft {
            density_kg_m3: 1e-9,
            modulus_pa: 210e9,
            mass_kg: 10.0,
            ..steel(0.03, 0.5)
        };
        let hz = shaft_whirl(&s).unwrap().critical_rad_s / std::f64::consts::TAU;
        assert!((hz - 90.12).abs() < 0.01, "{hz}");
    }

    #[test]
    fn ends_roots_solve_the_frequency_equations() {
        type Equation = fn(f64) -> f64;
        let pairs: [(Ends, Equation); 3] = [
            (Ends::ClampedPinned, |b| b.tan() - b.tanh()),
            (Ends::Clamped, |b| b.cos() - 1.0 / b.cosh()),
            (Ends::ClampedFree, |b| b.cos() + 1.0 / b.cosh()),
        ];
        for (ends, equation) in pairs {
            assert!(equation(ends.root()).abs() < 1e-8, "{ends:?}");
        }
    }

    #[test]
    fn refuses_nothing_and_marks_stubs() {
        assert!(shaft_whirl(&steel(0.0, 0.1)).is_err());
        assert!(!shaft_whirl(&steel(0.02, 0.1)).unwrap().in_range);
    }
}
