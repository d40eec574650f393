//! A flat rectangular panel under even pressure: greatest stress and deflection.
//!
//! - Edges that may turn: Navier's double series of the thin plate, moments at the middle. Edges held: the
//!   clamped plate's coefficients, stress at the middle of the long edge. `stress = beta p b^2 / t^2`,
//!   `deflection = alpha p b^4 / (E t^3)`, `b` the short side, Poisson's ratio 0.3 (printed plastics have
//!   0.33 to 0.4: 4 % on the deflection).
//! - Past half a thickness the middle surface stretches and carries part: both are then overestimates.
//!   `stretched` solves `p b^4 / (E t^4) = w/(alpha t) + c (w/t)^3` for the deflection, the bending stress
//!   falling with it and the pull of the middle added; `c` from the energy of a sine (edges that may turn)
//!   or cosine (held) dome with its edges kept from drawing in.
//! - Source: Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed., art. 30, table 35 and
//!   art. 101; Roark 7th ed., table 11.4 cases 1a and 8a (all from memory).
//! - Units: m, Pa.
//! - Valid: `t` under a tenth of `b`, flat, even pressure, stress below yield.
//! - Checks: `checks/roark_plates.csv` (from memory); `checks/plate_solutions.csv`, the same plates by finite
//!   differences.

use crate::input::{InputError, not_negative, positive};
use crate::notes::Notes;
use std::f64::consts::PI;

const POISSON: f64 = 0.3;

/// How a panel's edges are held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edges {
    /// They may turn: a hard corner printed with a wall's thickness.
    Pinned,
    /// Held against turning: frames, or the same pressure next door.
    Clamped,
}

impl Edges {
    /// All, in the order of [`Edges::WORDS`].
    pub const ALL: [Self; 2] = [Self::Pinned, Self::Clamped];
    /// Names at a face.
    pub const WORDS: &'static [&'static str] = &["pinned", "clamped"];
}

/// A panel and the pressure on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Panel {
    /// One side, m.
    pub length_m: f64,
    /// The other, m.
    pub width_m: f64,
    /// m.
    pub thickness_m: f64,
    /// Pa.
    pub pressure_pa: f64,
    /// Young's modulus, Pa.
    pub modulus_pa: f64,
    /// How its edges are held.
    pub edges: Edges,
}

/// What the pressure does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pressed {
    /// Greatest by bending alone, Pa.
    pub stress_pa: f64,
    /// Greatest by bending alone, m.
    pub deflection_m: f64,
    /// Greatest with the middle surface stretching, Pa.
    pub stretched_stress_pa: f64,
    /// Greatest with the middle surface stretching, m.
    pub stretched_deflection_m: f64,
    /// Within the range above.
    pub in_range: bool,
    /// Why not.
    pub notes: Notes,
}

/// Greatest stress and deflection.
///
/// # Errors
/// [`InputError`] for a size not above zero or a negative pressure.
pub fn plate(p: &Panel) -> Result<Pressed, InputError> {
    let (a, b) = (
        positive("length", p.length_m)?,
        positive("width", p.width_m)?,
    );
    let (long, short) = (a.max(b), a.min(b));
    let t = positive("thickness", p.thickness_m)?;
    let pressure = not_negative("pressure", p.pressure_pa)?;
    let modulus = positive("modulus", p.modulus_pa)?;
    let ratio = long / short;
    let (beta, alpha) = match p.edges {
        Edges::Pinned => pinned(ratio),
        Edges::Clamped => clamped(ratio),
    };
    let stress = beta * pressure * (short / t).powi(2);
    let deflection = alpha * pressure * short.powi(4) / (modulus * t.powi(3));
    let (depth, pull) = stretched(deflection / t, ratio, alpha, p.edges);
    let share = if deflection > 0.0 {
        depth * t / deflection
    } else {
        1.0
    };
    let middle = pull * modulus * (depth * t / short).powi(2);
    let mut notes = Notes::default();
    let thick = notes.add_if(
        t > 0.1 * short,
        "thicker than a tenth of its short side: shear adds to the deflection",
    );
    notes.add_if(
        deflection > 0.5 * t,
        "bends more than half its thickness: by bending alone is an overestimate, see the stretched values",
    );
    Ok(Pressed {
        stress_pa: stress,
        deflection_m: deflection,
        stretched_stress_pa: stress * share + middle,
        stretched_deflection_m: depth * t,
        in_range: !thick,
        notes,
    })
}

/// Stress and deflection coefficients of edges that may turn, by Navier's series.
fn pinned(ratio: f64) -> (f64, f64) {
    // Past five times as long as wide the middle no longer knows the ends.
    let r = ratio.min(8.0);
    let (mut deflection, mut across, mut along) = (0.0, 0.0, 0.0);
    for i in (1..60).step_by(2) {
        for j in (1..60).step_by(2) {
            let (m, n) = (f64::from(i), f64::from(j));
            let sign = if (i + j) / 2 % 2 == 1 { 1.0 } else { -1.0 };
            let (x, y) = ((m / r).powi(2), n * n);
            let w = sign * 16.0 / (PI.powi(6) * m * n * (x + y).powi(2));
            deflection += w;
            across += w * PI * PI * (y + POISSON * x);
            along += w * PI * PI * (x + POISSON * y);
        }
    }
    let flexural = 12.0 * (1.0 - POISSON * POISSON);
    (6.0 * f64::max(across, along), flexural * deflection)
}

/// Long over short side, deflection over `p b^4 / D`, edge moment over `p b^2`.
const CLAMPED: [(f64, f64, f64); 12] = [
    (1.0, 0.00126, 0.0513),
    (1.1, 0.00150, 0.0581),
    (1.2, 0.00172, 0.0639),
    (1.3, 0.00191, 0.0687),
    (1.4, 0.00207, 0.0726),
    (1.5, 0.00220, 0.0757),
    (1.6, 0.00230, 0.0780),
    (1.7, 0.00238, 0.0799),
    (1.8, 0.00245, 0.0812),
    (1.9, 0.00249, 0.0822),
    (2.0, 0.00254, 0.0829),
    (3.0, 0.00260, 0.0833),
];

fn clamped(ratio: f64) -> (f64, f64) {
    let last = CLAMPED.len() - 1;
    let i = (0..last)
        .rev()
        .find(|i| CLAMPED[*i].0 <= ratio)
        .unwrap_or(0);
    let (low, high) = (CLAMPED[i], CLAMPED[i + 1]);
    let s = ((ratio - low.0) / (high.0 - low.0)).clamp(0.0, 1.0);
    let mix = |a: f64, b: f64| a + s * (b - a);
    let flexural = 12.0 * (1.0 - POISSON * POISSON);
    (6.0 * mix(low.2, high.2), flexural * mix(low.1, high.1))
}

/// Deflection over thickness with the middle stretching, and the pull's factor on `E (w/b)^2`.
///
/// A dome `w0 f(x) g(y)` with edges that stay put has mean strains of half its mean squared slope:
/// `pi^2 / 8 (w0 / side)^2` for a sine, `3 pi^2 / 32 (w0 / side)^2` for `(1 + cos) / 2`. Taking the strain as
/// even is a lower bound of the stiffness: the membrane of a square deflects 13 % too far.
fn stretched(bent: f64, ratio: f64, alpha: f64, edges: Edges) -> (f64, f64) {
    let slope = match edges {
        Edges::Pinned => PI * PI / 8.0,
        Edges::Clamped => 3.0 * PI * PI / 32.0,
    };
    let (x, y) = (slope / (ratio * ratio), slope);
    let stiff = 1.0 / (1.0 - POISSON * POISSON);
    let pull = [stiff * (y + POISSON * x), stiff * (x + POISSON * y)];
    // Energy: p . mean(w) = bending + 1/2 (pull . strain) derivative; mean of a sine dome 4/pi^2, of a
    // cosine dome 1/4.
    let mean = match edges {
        Edges::Pinned => 4.0 / (PI * PI),
        Edges::Clamped => 0.25,
    };
    let cubic = 2.0 * (pull[0] * y + pull[1] * x) / mean;
    // bent = w + alpha cubic w^3, with bent = alpha p b^4 / (E t^4).
    let k = alpha * cubic;
    let mut w = bent.min((bent / k.max(1e-12)).cbrt());
    for _ in 0..30 {
        let f = w + k * w.powi(3) - bent;
        w -= f / (1.0 + 3.0 * k * w * w);
    }
    (w.max(0.0), pull[0])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(pressure_pa: f64, edges: Edges) -> Pressed {
        plate(&Panel {
            length_m: 0.1,
            width_m: 0.06,
            thickness_m: 0.0012,
            pressure_pa,
            modulus_pa: 2e9,
            edges,
        })
        .unwrap()
    }

    #[test]
    fn stretching_helps_and_never_hurts() {
        for edges in Edges::ALL {
            let mut last = 0.0;
            for k in 1..40 {
                let p = at(f64::from(k) * 4e3, edges);
                assert!(p.stretched_deflection_m <= p.deflection_m);
                assert!(p.stretched_stress_pa <= p.stress_pa * 1.05);
                assert!(p.stretched_stress_pa > last);
                last = p.stretched_stress_pa;
            }
            let soft = at(10.0, edges);
            assert!(soft.stretched_deflection_m / soft.deflection_m > 0.999);
        }
    }

    #[test]
    fn sides_may_be_given_either_way() {
        let turned = plate(&Panel {
            length_m: 0.06,
            width_m: 0.1,
            thickness_m: 0.0012,
            pressure_pa: 4e3,
            modulus_pa: 2e9,
            edges: Edges::Pinned,
        });
        assert_eq!(turned.unwrap(), at(4e3, Edges::Pinned));
    }
}
