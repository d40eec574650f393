//! What a trim tab at a planing hull's trailing edge adds: lift, and drag with it.
//!
//! - `F = 0.046 delta c s q`, `delta` in degrees from the bottom's own line, `c` chord, `s` span, `q` dynamic pressure;
//!   `D = 0.0052 F (tau + delta)`, trim and deflection in degrees. Most of it is pressure on the bottom ahead of the
//!   hinge: it acts `0.6 b + c (1 - s / b)` ahead of the trailing edge, `b` the bottom's beam.
//! - Source: Savitsky and Brown, Marine Technology 13 (1976) 381 (from memory).
//! - Units: SI, radians.
//! - Valid: deflected down by 0 to 15 deg, trim 0 to 10 deg, chord up to a tenth of what is wet, the bottom ahead wet
//!   over the tab's span. A tab that is up stands clear of the water that leaves the edge and does nothing.
//! - Checks: none outside; the plate that lies behind its form is (`tests`).

use crate::input::{InputError, not_negative, positive, require};

/// Lift over dynamic pressure and plan area, per degree.
const PER_DEG: f64 = 0.046;
/// Drag over lift, per degree of trim and deflection.
const DRAG_PER_DEG: f64 = 0.0052;
/// Where it acts, of the beam.
const ARM: f64 = 0.6;
/// Most deflection, rad.
pub const MOST_RAD: f64 = 15.0 * std::f64::consts::PI / 180.0;
/// Most trim, rad.
const MOST_TRIM_RAD: f64 = 10.0 * std::f64::consts::PI / 180.0;

/// A tab in the stream.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tab {
    /// Trailing edge down from the bottom's line, rad.
    pub deflection_rad: f64,
    /// Along the stream, m.
    pub chord_m: f64,
    /// Across it, m.
    pub span_m: f64,
    /// Of the bottom ahead, m.
    pub beam_m: f64,
    /// Of the bottom to the water, rad.
    pub trim_rad: f64,
    /// Pa.
    pub pressure_pa: f64,
}

/// What it does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TabForce {
    /// N.
    pub lift_n: f64,
    /// N.
    pub drag_n: f64,
    /// Ahead of the trailing edge, m.
    pub ahead_m: f64,
    /// Within the range above.
    pub in_range: bool,
}

/// Lift, drag and where they act.
///
/// # Errors
/// [`InputError`] for a size not above zero, or a deflection outside 0 to 45 deg.
pub fn trim_tab(tab: &Tab) -> Result<TabForce, InputError> {
    require("deflection", tab.deflection_rad, "from 0 to 45 deg", |d| {
        (0.0..=45f64.to_radians()).contains(&d)
    })?;
    positive("chord", tab.chord_m)?;
    positive("span", tab.span_m)?;
    positive("beam", tab.beam_m)?;
    crate::input::finite("trim", tab.trim_rad)?;
    not_negative("pressure", tab.pressure_pa)?;
    Ok(force(tab))
}

/// [`trim_tab`] for checked numbers.
pub fn force(tab: &Tab) -> TabForce {
    let deflection = tab.deflection_rad.max(0.0);
    let area = tab.chord_m * tab.span_m;
    let lift_n = PER_DEG * deflection.to_degrees() * area * tab.pressure_pa;
    let steep = (tab.trim_rad.max(0.0) + deflection).to_degrees();
    let share = (tab.span_m / tab.beam_m.max(1e-6)).min(1.0);
    TabForce {
        lift_n,
        drag_n: DRAG_PER_DEG * lift_n * steep,
        ahead_m: ARM * tab.beam_m + tab.chord_m * (1.0 - share),
        in_range: deflection <= MOST_RAD && (0.0..=MOST_TRIM_RAD).contains(&tab.trim_rad),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    fn tab(deg: f64) -> Tab {
        Tab {
            deflection_rad: f64::to_radians(deg),
            chord_m: 0.02,
            span_m: 0.04,
            beam_m: 0.16,
            trim_rad: f64::to_radians(2.0),
            pressure_pa: 1e5,
        }
    }

    /// A flap at the end of a plate that planes in two dimensions adds up to `pi` for each radian on its chord (half the
    /// flat plate's `2 pi`: Wagner 1932), and its side edges cost some: the fit must lie below, and above half of that.
    #[test]
    fn lies_below_the_plate_in_two_dimensions() {
        let found = trim_tab(&tab(5.0)).unwrap();
        let plate = PI * 5f64.to_radians() * 0.02 * 0.04 * 1e5;
        assert!(found.lift_n < plate && found.lift_n > 0.5 * plate);
    }

    /// Pressure square to tab and bottom leans back between trim and trim with deflection: a degree is 1/57.3 = 0.0175,
    /// and most of the lift acts on the bottom ahead, which leans less; so drag per degree lies below.
    #[test]
    fn drags_less_than_all_of_it_on_the_tab_would() {
        let found = trim_tab(&tab(5.0)).unwrap();
        let leaning = found.lift_n * 7f64.to_radians().tan();
        assert!(found.drag_n > 0.0 && found.drag_n < leaning);
        assert!(found.ahead_m > 0.0 && found.ahead_m < 0.16);
    }

    #[test]
    fn does_nothing_level_and_refuses_what_is_no_tab() {
        assert_eq!(trim_tab(&tab(0.0)).unwrap().lift_n, 0.0);
        assert!(!trim_tab(&tab(20.0)).unwrap().in_range);
        assert!(trim_tab(&tab(-1.0)).is_err());
        assert!(
            trim_tab(&Tab {
                chord_m: 0.0,
                ..tab(1.0)
            })
            .is_err()
        );
        assert!(
            trim_tab(&Tab {
                trim_rad: f64::NAN,
                ..tab(1.0)
            })
            .is_err()
        );
    }
}
