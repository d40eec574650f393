//! Torsion of a thin closed tube of any outline, and how its wall shears under a force across it.
//!
//! - `tau = T / (2 A t)`, torsion constant `J = 4 A^2 t / s`, twist `T L / (G J)`; `A` the area inside the
//!   wall's middle line, `s` its length, `t` the wall.
//! - A force `V` up and down in the tube's plane of symmetry flows as `q = (V / I) (S - mean S)`, `S` the wall's first
//!   moment from anywhere round to the place; it shears the tube by `V / (G A_s)` a length, `1 / A_s` the integral of
//!   `(q / V)^2 / t` round it (equal energy).
//! - Source: Bredt 1896; Timoshenko, Strength of Materials II, and Roark 7th ed., table 10.1; the shear flow as in any
//!   book on thin-walled beams (all from memory).
//! - Units: m, m2, N m, Pa, rad.
//! - Valid: wall thin against the section (`t s / A < 0.35`, where it is within about 1 %), one cell, ends
//!   free to warp, wall not buckling.
//! - Checks: `checks/section_properties.csv`, torsion constants and shear areas by a general-purpose finite-element
//!   library.

use crate::input::{InputError, finite, positive};
use crate::notes::Notes;

/// A tube and the torque on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClosedTube {
    /// Inside the wall's middle line, m2.
    pub area_m2: f64,
    /// Of the wall's middle line, m.
    pub perimeter_m: f64,
    /// m.
    pub wall_m: f64,
    /// m.
    pub length_m: f64,
    /// N m.
    pub torque_n_m: f64,
    /// Shear modulus, Pa.
    pub shear_modulus_pa: f64,
}

/// What the torque does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Twisted {
    /// Shear stress, Pa.
    pub shear_pa: f64,
    /// m4.
    pub torsion_constant_m4: f64,
    /// Over the whole length, rad.
    pub twist_rad: f64,
    /// Within the range above.
    pub in_range: bool,
    /// Why not.
    pub notes: Notes,
}

/// Torsion constant alone, m4.
#[must_use]
pub fn torsion_constant_m4(area_m2: f64, perimeter_m: f64, wall_m: f64) -> f64 {
    4.0 * area_m2 * area_m2 * wall_m / perimeter_m
}

/// Places and weights of Gauss's rule of three points on 0 to 1, exact here.
const GAUSS: [(f64, f64); 3] = [
    (0.112_701_665_379_258_3, 5.0 / 18.0),
    (0.5, 4.0 / 9.0),
    (0.887_298_334_620_741_7, 5.0 / 18.0),
];

/// The area a force along the second coordinate shears, m2; `line` is the wall's middle line, closed, m.
#[must_use]
pub fn shear_area_m2(line: &[[f64; 2]], wall_m: f64) -> f64 {
    let sides = || line.iter().zip(line.iter().cycle().skip(1));
    let long = |a: &[f64; 2], b: &[f64; 2]| (a[0] - b[0]).hypot(a[1] - b[1]);
    let round: f64 = sides().map(|(a, b)| long(a, b)).sum();
    let first: f64 = sides().map(|(a, b)| long(a, b) * 0.5 * (a[1] + b[1])).sum();
    let middle = first / round;
    // Moments of the line alone: a wall of even thickness is only a factor.
    let (mut second, mut before, mut mean, mut square) = (0.0, 0.0, 0.0, 0.0);
    for (a, b) in sides() {
        let (l, from, to) = (long(a, b), a[1] - middle, b[1] - middle);
        second += l * (from * from + from * to + to * to) / 3.0;
        for (share, weight) in GAUSS {
            let s = before + l * share * (from + 0.5 * share * (to - from));
            mean += weight * l * s / round;
            square += weight * l * s * s;
        }
        before += 0.5 * l * (from + to);
    }
    wall_m * second * second / (square - round * mean * mean)
}

/// Shear stress and twist.
///
/// # Errors
/// [`InputError`] for a size not above zero.
pub fn closed_tube(t: &ClosedTube) -> Result<Twisted, InputError> {
    let area = positive("area", t.area_m2)?;
    let perimeter = positive("perimeter", t.perimeter_m)?;
    let wall = positive("wall", t.wall_m)?;
    let length = positive("length", t.length_m)?;
    let modulus = positive("shear_modulus", t.shear_modulus_pa)?;
    finite("torque", t.torque_n_m)?;
    let constant = torsion_constant_m4(area, perimeter, wall);
    let mut notes = Notes::default();
    let thick = notes.add_if(
        wall * perimeter > 0.35 * area,
        "the wall is thick against the section: the true section is a little stiffer",
    );
    let impossible = notes.add_if(
        area > perimeter * perimeter / (4.0 * std::f64::consts::PI) * (1.0 + 1e-9),
        "no outline of this length encloses so much area",
    );
    Ok(Twisted {
        shear_pa: t.torque_n_m.abs() / (2.0 * area * wall),
        torsion_constant_m4: constant,
        twist_rad: t.torque_n_m.abs() * length / (modulus * constant),
        in_range: !(thick || impossible),
        notes,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::relative;
    use std::f64::consts::PI;

    #[test]
    fn a_round_tube_has_its_exact_stiffness() {
        // Exact: pi/2 (R^4 - r^4); 40 mm middle diameter, 1 mm wall.
        let (outer, inner) = (0.0205f64, 0.0195f64);
        let exact = PI / 2.0 * (outer.powi(4) - inner.powi(4));
        let thin = torsion_constant_m4(PI * 0.02f64.powi(2), PI * 0.04, 0.001);
        assert!(relative(thin, exact) < 7e-4);
    }

    #[test]
    fn half_of_a_round_tube_shears() {
        // q = V sin / (pi r), so A_s = pi r t: half the wall.
        let line: Vec<[f64; 2]> = (0..360)
            .map(|k| f64::from(k) * PI / 180.0)
            .map(|a| [0.02 * a.cos(), 0.3 + 0.02 * a.sin()])
            .collect();
        assert!(relative(shear_area_m2(&line, 0.001), PI * 0.02 * 0.001) < 1e-4);
    }

    #[test]
    fn a_square_tube_shears_as_by_hand() {
        // Side b: q b / V is 3/8 at a corner, 3/8 + 3/16 (1 - u^2) along an upright, and falls evenly to none in the
        // middle of a level side. Its square's mean is 9/64 + 3/32 + 3/160 on an upright, 3/64 on a level side.
        let by_hand = 2.0 * (9.0 / 64.0 + 3.0 / 32.0 + 3.0 / 160.0) + 3.0 / 32.0;
        let b = 0.05;
        let line = [[0.0, 0.0], [b, 0.0], [b, b], [0.0, b]];
        assert!(relative(shear_area_m2(&line, 0.001), b * 0.001 / by_hand) < 1e-9);
    }
}
