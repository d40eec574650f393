//! A straight beam bent by one load: greatest moment, deflection and stress.
//!
//! - One point load `W` at `a` from the first end, `b = L - a`, or `W` spread evenly:
//!   pinned `M = W a b / L`, `y = W b (L^2 - b^2)^1.5 / (9 sqrt 3 E I L)` with `b` the shorter part,
//!   even `W L / 8`, `5 W L^3 / (384 E I)`; cantilever (first end held) `W a`, `W a^2 (3 L - a) / (6 E I)`,
//!   even `W L / 2`, `W L^3 / (8 E I)`; clamped `W a b^2 / L^2` at the nearer end,
//!   `2 W a^3 b^2 / (3 E I (L + 2 a)^2)` with `a` the longer part, even `W L / 12`, `W L^3 / (384 E I)`.
//!   Stress `M c / I`.
//! - Source: Euler and Bernoulli's beam; the cases stand in Roark's Formulas for Stress and Strain, 7th
//!   ed., table 8.1 (from memory).
//! - Units: m, N, Pa, m4.
//! - Valid: span over ten depths (shear adds little), deflection under a tenth of the span, stress below
//!   yield.
//! - Checks: `checks/beam_cases.csv`, each case integrated by a general-purpose boundary-value solver.

use crate::input::{InputError, finite, positive, require};
use crate::notes::Notes;

/// How a beam is held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Held {
    /// Both ends may turn.
    Pinned,
    /// First end clamped, the other free.
    Cantilever,
    /// Both ends clamped.
    Clamped,
}

impl Held {
    /// All, in the order of [`Held::WORDS`].
    pub const ALL: [Self; 3] = [Self::Pinned, Self::Cantilever, Self::Clamped];
    /// Names at a face.
    pub const WORDS: &'static [&'static str] = &["pinned", "cantilever", "clamped"];
}

/// A beam and its load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Beam {
    /// How it is held.
    pub held: Held,
    /// m.
    pub length_m: f64,
    /// The whole load, N.
    pub load_n: f64,
    /// Where it acts, from the first end, m; spread evenly when absent.
    pub at_m: Option<f64>,
    /// Young's modulus, Pa.
    pub modulus_pa: f64,
    /// Of the section, m4.
    pub second_moment_m4: f64,
    /// From the neutral axis to the outermost fibre, m.
    pub fibre_m: f64,
}

/// What the load does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bent {
    /// Greatest, N m.
    pub moment_n_m: f64,
    /// Greatest, m.
    pub deflection_m: f64,
    /// Greatest, Pa.
    pub stress_pa: f64,
    /// Within the range above.
    pub in_range: bool,
    /// Why not.
    pub notes: Notes,
}

/// Greatest moment, deflection and stress.
///
/// # Errors
/// [`InputError`] for a size not above zero or a load off the beam.
pub fn beam(b: &Beam) -> Result<Bent, InputError> {
    let length = positive("length", b.length_m)?;
    finite("load", b.load_n)?;
    let stiffness =
        positive("modulus", b.modulus_pa)? * positive("second_moment", b.second_moment_m4)?;
    positive("fibre", b.fibre_m)?;
    let (moment, bend) = match b.at_m {
        None => even(b.held, length),
        Some(at) => {
            require("at", at, "between 0 and the length", |a| {
                a > 0.0 && a <= length
            })?;
            point(b.held, length, at)
        }
    };
    let deflection = (b.load_n * bend / stiffness).abs();
    let mut notes = Notes::default();
    let deep = notes.add_if(
        length < 20.0 * b.fibre_m,
        "shorter than ten depths: shear adds to the deflection",
    );
    let far = notes.add_if(
        deflection > 0.1 * length,
        "deflection over a tenth of the span: the small-deflection beam no longer holds",
    );
    Ok(Bent {
        moment_n_m: (b.load_n * moment).abs(),
        deflection_m: deflection,
        stress_pa: (b.load_n * moment).abs() * b.fibre_m / b.second_moment_m4,
        in_range: !(deep || far),
        notes,
    })
}

/// Moment and deflection times stiffness of an even load of 1 N in all.
fn even(held: Held, l: f64) -> (f64, f64) {
    match held {
        Held::Pinned => (l / 8.0, 5.0 * l.powi(3) / 384.0),
        Held::Cantilever => (l / 2.0, l.powi(3) / 8.0),
        Held::Clamped => (l / 12.0, l.powi(3) / 384.0),
    }
}

/// The same of 1 N at `at`.
fn point(held: Held, l: f64, at: f64) -> (f64, f64) {
    let (long, short) = (at.max(l - at), at.min(l - at));
    match held {
        Held::Pinned => (
            long * short / l,
            short * (l * l - short * short).powf(1.5) / (9.0 * 3f64.sqrt() * l),
        ),
        Held::Cantilever => (at, at * at * (3.0 * l - at) / 6.0),
        Held::Clamped => (
            short * long * long / (l * l),
            2.0 * long.powi(3) * short.powi(2) / (3.0 * (l + 2.0 * long).powi(2)),
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::relative;

    fn of(held: Held, at_m: Option<f64>) -> Bent {
        beam(&Beam {
            held,
            length_m: 0.5,
            load_n: 10.0,
            at_m,
            modulus_pa: 2e9,
            second_moment_m4: 1e-9,
            fibre_m: 0.01,
        })
        .unwrap()
    }

    #[test]
    fn middle_loads_are_the_handbook_cases() {
        // Roark table 8.1: W L^3 / 48, / 3 at the tip, / 192.
        let unit = 10.0 * 0.5f64.powi(3) / 2.0;
        let middle = Some(0.25);
        assert!(relative(of(Held::Pinned, middle).deflection_m, unit / 48.0) < 1e-12);
        assert!(relative(of(Held::Clamped, middle).deflection_m, unit / 192.0) < 1e-12);
        assert!(relative(of(Held::Cantilever, Some(0.5)).deflection_m, unit / 3.0) < 1e-12);
        assert!(relative(of(Held::Pinned, middle).stress_pa, 1.25 * 0.01 / 1e-9) < 1e-12);
    }

    #[test]
    fn a_load_off_the_beam_is_refused() {
        let b = Beam {
            held: Held::Pinned,
            length_m: 0.5,
            load_n: 1.0,
            at_m: Some(0.6),
            modulus_pa: 1e9,
            second_moment_m4: 1e-9,
            fibre_m: 0.01,
        };
        assert!(beam(&b).is_err());
    }
}
