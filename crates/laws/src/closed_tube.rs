//! Torsion of a thin closed tube of any outline.
//!
//! - `tau = T / (2 A t)`, torsion constant `J = 4 A^2 t / s`, twist `T L / (G J)`; `A` the area inside the
//!   wall's middle line, `s` its length, `t` the wall.
//! - Source: Bredt 1896; Timoshenko, Strength of Materials II, and Roark 7th ed., table 10.1 (from memory).
//! - Units: m, m2, N m, Pa, rad.
//! - Valid: wall thin against the section (`t s / A < 0.35`, where it is within about 1 %), one cell, ends
//!   free to warp, wall not buckling.
//! - Checks: `checks/section_properties.csv`, torsion constants by a general-purpose finite-element library.

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
}
