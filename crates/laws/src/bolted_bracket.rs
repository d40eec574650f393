//! A bracket bolted to a thin wall: pull on its screws, bearing in the wall, washers pulling through.
//!
//! - A force `F` at `e` from the wall, its moment taken by two rows of screws `s` apart: pull on a screw
//!   `F e / (s n / 2)`, across it `F / n`. Bearing `F / (n d t)`. Pull-through: shear round the washer,
//!   `P / (pi D t)`.
//! - Source: rigid-bracket statics (any textbook of machine elements; bearing and punching shear as mean
//!   stresses).
//! - Units: N, m, Pa.
//! - Valid: bracket stiff, `n` even, no help from glue or a pivot at the bracket's edge (safe side).
//! - Checks: the statics by hand.

use crate::input::{InputError, finite, not_negative, positive};
use crate::notes::Notes;

/// A bracket and its load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bracket {
    /// Along the wall, N.
    pub force_n: f64,
    /// From the wall to where it acts, m.
    pub arm_m: f64,
    /// How many, in two rows.
    pub screws: f64,
    /// Between the rows, m.
    pub spacing_m: f64,
    /// Of the screws, m.
    pub screw_m: f64,
    /// Of the washers or the plate's edge round a screw, m.
    pub washer_m: f64,
    /// m.
    pub wall_m: f64,
}

/// Stresses in the wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bolted {
    /// On the most loaded screw, N.
    pub pull_n: f64,
    /// Pa.
    pub bearing_pa: f64,
    /// Shear round the washer, Pa.
    pub pull_through_pa: f64,
    /// Within the range above.
    pub in_range: bool,
    /// Why not.
    pub notes: Notes,
}

/// Stresses in the wall.
///
/// # Errors
/// [`InputError`] for a size not above zero.
pub fn bolted_bracket(b: &Bracket) -> Result<Bolted, InputError> {
    let force = finite("force", b.force_n)?.abs();
    let arm = not_negative("arm", b.arm_m)?;
    let n = positive("screws", b.screws)?;
    let spacing = positive("spacing", b.spacing_m)?;
    let wall = positive("wall", b.wall_m)?;
    let pull = force * arm / (spacing * n / 2.0);
    let mut notes = Notes::default();
    let small = notes.add_if(
        b.washer_m <= b.screw_m,
        "washer no wider than its screw: it pulls through at once",
    );
    Ok(Bolted {
        pull_n: pull,
        bearing_pa: force / (n * positive("screw", b.screw_m)? * wall),
        pull_through_pa: pull / (std::f64::consts::PI * positive("washer", b.washer_m)? * wall),
        in_range: !small,
        notes,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::relative;

    #[test]
    fn statics_by_hand() {
        // 40 N at 30 mm, four M3 screws 20 mm apart, 8 mm washers, wall of 2 mm: 1.2 N m over 20 mm is
        // 60 N on a row of two.
        let b = bolted_bracket(&Bracket {
            force_n: -40.0,
            arm_m: 0.03,
            screws: 4.0,
            spacing_m: 0.02,
            screw_m: 0.003,
            washer_m: 0.008,
            wall_m: 0.002,
        })
        .unwrap();
        assert!(relative(b.pull_n, 30.0) < 1e-12);
        assert!(relative(b.bearing_pa, 40.0 / (4.0 * 0.003 * 0.002)) < 1e-12);
        assert!(relative(b.pull_through_pa, 30.0 / (std::f64::consts::PI * 1.6e-5)) < 1e-12);
    }
}
