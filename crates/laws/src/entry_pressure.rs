//! Pressure of a bottom that enters the water, and of a bow that is driven under.
//!
//! - A wedge of deadrise `b` at entry speed `v`: greatest `1/2 rho v^2 (pi / (2 tan b))^2` in a narrow band at
//!   the spray's root (Wagner), mean over the wetted width `1/2 rho v^2 pi cot b` (von Karman). Flat or nearly
//!   flat bottoms trap air: taken as `b` = 4 deg at least.
//! - A panel feels the mean, and the greatest only on the share of its width the band covers.
//! - Driven under: stagnation `1/2 rho v^2`, the most a face held square to the flow feels once covered.
//! - Source: Wagner 1932; von Karman 1929, NACA TN 321; both read through `checks/slamming.csv`.
//! - Units: kg/m3, m/s, rad, Pa.
//! - Valid: deadrise 4 to 45 deg, two-dimensional, rigid bottom, constant speed. The exact similarity
//!   solution lies 0 to 7 % below Wagner's peak from 4 to 40 deg.
//! - Checks: `checks/wedge_entry_similarity.csv` (Zhao and Faltinsen 1993), `checks/slamming.csv`.

use crate::input::{InputError, not_negative, positive, require};
use crate::notes::Notes;
use std::f64::consts::{FRAC_PI_2, PI};

/// Flatter than this counts as this, rad: air is trapped underneath.
const FLATTEST_RAD: f64 = 4.0 * PI / 180.0;

/// What the water presses with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EntryPressure {
    /// At the spray's root, Pa.
    pub peak_pa: f64,
    /// Over the wetted width, Pa.
    pub mean_pa: f64,
    /// Of a face square to the flow, Pa.
    pub stagnation_pa: f64,
    /// Within the range above.
    pub in_range: bool,
    /// Why not.
    pub notes: Notes,
}

/// Pressures of a wedge entering at `speed_m_s`.
///
/// # Errors
/// [`InputError`] for a negative speed or deadrise, or a density not above zero.
pub fn entry_pressure(
    speed_m_s: f64,
    deadrise_rad: f64,
    density_kg_m3: f64,
) -> Result<EntryPressure, InputError> {
    let speed = not_negative("speed", speed_m_s)?;
    let deadrise = require("deadrise", deadrise_rad, "from 0 to under 90 deg", |b| {
        (0.0..FRAC_PI_2).contains(&b)
    })?;
    let stagnation = 0.5 * positive("density", density_kg_m3)? * speed * speed;
    let slope = deadrise.max(FLATTEST_RAD).tan();
    let mut notes = Notes::default();
    let flat = notes.add_if(
        deadrise < FLATTEST_RAD,
        "flatter than 4 deg: air is trapped, so 4 deg is used",
    );
    let steep = notes.add_if(
        deadrise.to_degrees() > 45.0,
        "steeper than 45 deg: the spray's root is no longer narrow",
    );
    Ok(EntryPressure {
        peak_pa: stagnation * (FRAC_PI_2 / slope).powi(2),
        mean_pa: stagnation * PI / slope,
        stagnation_pa: stagnation,
        in_range: !(flat || steep),
        notes,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_flat_bottom_is_not_infinitely_hard() {
        let flat = entry_pressure(2.0, 0.0, 1000.0).unwrap();
        assert!(flat.peak_pa.is_finite() && !flat.in_range);
        assert!(entry_pressure(2.0, 1.6, 1000.0).is_err());
    }
}
