//! Torsion of a thin open section: a shell with a slot, a hull without its deck.
//!
//! - `J = s t^3 / 3`, greatest shear `tau = T t / J`, twist `T L / (G J)`; `s` the length of the wall's
//!   middle line, `t` the wall.
//! - Source: de Saint-Venant; Timoshenko and Goodier, Theory of Elasticity, art. 108; Roark 7th ed., table
//!   10.1 (from memory).
//! - Units: m, N m, Pa, rad.
//! - Valid: `s` over ten walls, ends free to warp. Bulkheads and decks that hold the ends stiffen it.
//! - Checks: `checks/narrow_rectangle_torsion.csv` (exact series of the rectangle) and
//!   `checks/section_properties.csv`.

use crate::closed_tube::Twisted;
use crate::input::{InputError, finite, positive};
use crate::notes::Notes;

/// An open section and the torque on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OpenStrip {
    /// Of the wall's middle line, m.
    pub width_m: f64,
    /// m.
    pub wall_m: f64,
    /// m.
    pub length_m: f64,
    /// N m.
    pub torque_n_m: f64,
    /// Shear modulus, Pa.
    pub shear_modulus_pa: f64,
}

/// Torsion constant alone, m4.
#[must_use]
pub fn torsion_constant_m4(width_m: f64, wall_m: f64) -> f64 {
    width_m * wall_m.powi(3) / 3.0
}

/// Shear stress and twist.
///
/// # Errors
/// [`InputError`] for a size not above zero.
pub fn open_strip(o: &OpenStrip) -> Result<Twisted, InputError> {
    let width = positive("width", o.width_m)?;
    let wall = positive("wall", o.wall_m)?;
    let length = positive("length", o.length_m)?;
    let modulus = positive("shear_modulus", o.shear_modulus_pa)?;
    finite("torque", o.torque_n_m)?;
    let constant = torsion_constant_m4(width, wall);
    let mut notes = Notes::default();
    let short = notes.add_if(
        width < 10.0 * wall,
        "less than ten walls wide: the true section is softer",
    );
    Ok(Twisted {
        shear_pa: t_over(o.torque_n_m, wall, constant),
        torsion_constant_m4: constant,
        twist_rad: o.torque_n_m.abs() * length / (modulus * constant),
        in_range: !short,
        notes,
    })
}

fn t_over(torque: f64, wall: f64, constant: f64) -> f64 {
    torque.abs() * wall / constant
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slot_costs_most_of_the_stiffness() {
        // A tube of 40 mm and 1 mm wall, slit along: 3 (r/t)^2 = 1200 times softer.
        let closed = crate::closed_tube::torsion_constant_m4(
            std::f64::consts::PI * 4e-4,
            std::f64::consts::PI * 0.04,
            0.001,
        );
        let open = torsion_constant_m4(std::f64::consts::PI * 0.04, 0.001);
        assert!((closed / open - 1200.0).abs() < 1e-6);
    }
}
