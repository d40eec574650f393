//! Shear in a glued overlap.
//!
//! - Mean `tau = F / (w l)`. The ends carry more: for two equal walls `peak / mean = x coth x` with
//!   `x = (l / 2) sqrt(2 G / (E t h))`, `G`, `h` the glue's shear modulus and thickness, `E`, `t` the wall's
//!   modulus and thickness. Past `x = 3` more overlap hardly lowers the peak.
//! - Source: Volkersen 1938 (from memory). Bending of the overlap (Goland and Reissner 1944) peels at the
//!   ends and is not in it: a lap that follows a closed hull cannot turn, a single flat lap can.
//! - Units: m, N, Pa.
//! - Valid: glue and walls elastic, glue line even. Adhesives are held against a value to design with that
//!   already carries peak and scatter (1 to 1.5 MPa for hobby epoxy on sanded print, judgement).
//! - Checks: `checks/lap_joints.csv`, Volkersen's differential equation by a general-purpose solver.

use crate::input::{InputError, finite, positive};
use crate::notes::Notes;

/// A glued overlap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LapJoint {
    /// Along the walls, N.
    pub force_n: f64,
    /// Across the force, m.
    pub width_m: f64,
    /// Along the force, m.
    pub overlap_m: f64,
    /// Of each wall, m.
    pub wall_m: f64,
    /// Young's modulus of the walls, Pa.
    pub modulus_pa: f64,
    /// Thickness of the glue, m.
    pub glue_m: f64,
    /// Shear modulus of the glue, Pa.
    pub glue_shear_modulus_pa: f64,
}

/// Shear in the glue.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LapShear {
    /// Pa.
    pub mean_pa: f64,
    /// At the ends, Pa.
    pub peak_pa: f64,
    /// Overlap past which the peak falls by less than 1 % more, m.
    pub useful_overlap_m: f64,
    /// Within the range above.
    pub in_range: bool,
    /// Why not.
    pub notes: Notes,
}

/// Mean and peak shear.
///
/// # Errors
/// [`InputError`] for a size not above zero.
pub fn lap_joint(j: &LapJoint) -> Result<LapShear, InputError> {
    finite("force", j.force_n)?;
    let area = positive("width", j.width_m)? * positive("overlap", j.overlap_m)?;
    let stretch = positive("modulus", j.modulus_pa)? * positive("wall", j.wall_m)?;
    let slip =
        positive("glue_shear_modulus", j.glue_shear_modulus_pa)? / positive("glue", j.glue_m)?;
    let mean = j.force_n.abs() / area;
    let rate = (2.0 * slip / stretch).sqrt();
    let x = 0.5 * j.overlap_m * rate;
    let mut notes = Notes::default();
    notes.add_if(
        x > 3.0,
        "the ends carry it: a longer overlap hardly lowers the peak, a thicker or softer glue does",
    );
    let thick = notes.add_if(
        j.overlap_m < 2.0 * j.wall_m,
        "overlap shorter than two walls: it peels more than it shears",
    );
    Ok(LapShear {
        mean_pa: mean,
        peak_pa: mean * x / x.tanh(),
        useful_overlap_m: 2.65 * 2.0 / rate,
        in_range: !thick,
        notes,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::relative;

    fn at(overlap_m: f64) -> LapShear {
        lap_joint(&LapJoint {
            force_n: 100.0,
            width_m: 0.05,
            overlap_m,
            wall_m: 0.0012,
            modulus_pa: 2.0e9,
            glue_m: 2e-4,
            glue_shear_modulus_pa: 1e9,
        })
        .unwrap()
    }

    #[test]
    fn short_laps_share_evenly_and_long_ones_do_not() {
        let short = at(1e-4);
        assert!(relative(short.peak_pa, short.mean_pa) < 0.02);
        let useful = at(0.02).useful_overlap_m;
        assert!(relative(at(useful).peak_pa, at(4.0 * useful).peak_pa) < 0.011);
    }
}
