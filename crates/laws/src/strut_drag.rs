//! Drag of a surface-piercing strut, rudder or fin running straight.
//!
//! - Section: `C_F (1 + 2 t/c + 60 (t/c)^4)` on wetted area, both sides.
//! - Spray: `0.24 (0.5 rho V^2) t_w^2`, with t_w the greatest thickness at the waterline.
//! - Junction: `0.5 rho V^2 t^2 (0.75 t/c - 0.0003 / (t/c)^2)`, each, never below zero.
//! - Source: Hoerner 1965 as in Molland, Turnock, Hudson 2011, Ship Resistance and Propulsion,
//!   eqs 3.42, 3.43, 3.45.
//! - Units: SI.
//! - Valid: streamlined sections, t/c 0.03 to 0.25, high Froude number on chord (above 3) for the
//!   spray. A blunt base left dry adds its own drag, which is not here.
//! - Checks: the expressions, `checks/appendage_and_air_drag_coefficients.csv`, by hand.

use crate::friction_line;
use crate::input::{InputError, not_negative, positive};
use crate::smooth::step;

/// A strut in the water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strut {
    /// Chord, m.
    pub chord_m: f64,
    /// Greatest thickness, m.
    pub thickness_m: f64,
    /// Wetted span, m.
    pub span_m: f64,
    /// Crosses the water surface: 1, or less as its upper end comes under.
    pub surface_piercing: f64,
    /// Junctions with a hull below water.
    pub junctions: u32,
}

/// A stream of water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stream {
    /// Speed, m/s.
    pub speed_m_s: f64,
    /// Density, kg/m3.
    pub density_kg_m3: f64,
    /// Kinematic viscosity, m2/s.
    pub kinematic_viscosity_m2_s: f64,
}

/// Drag and its parts, N.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StrutDrag {
    /// All parts, with the middle of the friction band.
    pub drag_n: f64,
    /// With the most laminar flow there can be.
    pub drag_low_n: f64,
    /// Turbulent throughout.
    pub drag_high_n: f64,
    /// Section drag, middle of the band.
    pub section_n: f64,
    /// Spray drag.
    pub spray_n: f64,
    /// Junction drag.
    pub junction_n: f64,
    /// Thickness over chord within 0.03 to 0.25.
    pub in_range: bool,
}

/// Drag of a strut along a stream.
///
/// # Errors
/// [`InputError`] for a size or water property not above zero, or a negative speed or span.
pub fn strut_drag(strut: &Strut, stream: &Stream) -> Result<StrutDrag, InputError> {
    positive("chord", strut.chord_m)?;
    positive("thickness", strut.thickness_m)?;
    not_negative("span", strut.span_m)?;
    not_negative("speed", stream.speed_m_s)?;
    positive("density", stream.density_kg_m3)?;
    positive("kinematic_viscosity", stream.kinematic_viscosity_m2_s)?;
    Ok(drag(strut, stream))
}

fn drag(s: &Strut, w: &Stream) -> StrutDrag {
    let pressure = 0.5 * w.density_kg_m3 * w.speed_m_s.powi(2);
    let ratio = s.thickness_m / s.chord_m;
    let cf = friction_line::band(w.speed_m_s * s.chord_m / w.kinematic_viscosity_m2_s);
    let form = 1.0 + 2.0 * ratio + 60.0 * ratio.powi(4);
    let section = |c: f64| pressure * 2.0 * s.chord_m * s.span_m * c * form;
    let square = pressure * s.thickness_m.powi(2);
    // A tip less deep than the strut is thick throws no whole spray.
    let whole = step(0.0, s.thickness_m, s.span_m);
    let spray = 0.24 * square * s.surface_piercing.clamp(0.0, 1.0) * whole;
    let each = square * (0.75 * ratio - 0.0003 / (ratio * ratio)).max(0.0);
    let rest = spray + each * f64::from(s.junctions);
    StrutDrag {
        drag_n: section(cf.cf_middle()) + rest,
        drag_low_n: section(cf.cf_low) + rest,
        drag_high_n: section(cf.cf_high) + rest,
        section_n: section(cf.cf_middle()),
        spray_n: spray,
        junction_n: rest - spray,
        in_range: (0.03..=0.25).contains(&ratio),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const STREAM: Stream = Stream {
        speed_m_s: 10.0,
        density_kg_m3: 1000.0,
        kinematic_viscosity_m2_s: 1e-6,
    };

    #[test]
    fn hand_worked_strut() {
        let strut = Strut {
            chord_m: 0.03,
            thickness_m: 0.003,
            span_m: 0.05,
            surface_piercing: 1.0,
            junctions: 1,
        };
        let d = strut_drag(&strut, &STREAM).unwrap();
        // q = 50 000 Pa, t^2 = 9e-6 m2: spray 0.24 * 0.45 = 0.108 N.
        assert!((d.spray_n - 0.108).abs() < 1e-12);
        // t/c 0.1: 0.45 * (0.075 - 0.03) = 0.02025 N.
        assert!((d.junction_n - 0.02025).abs() < 1e-12);
        // Form 1 + 0.2 + 0.006; area 2 * 0.03 * 0.05; turbulent C_F at Re 3e5 is 0.00620328.
        let section = 50_000.0 * 0.003 * 0.006_203_28 * 1.206;
        assert!((d.drag_high_n - d.spray_n - d.junction_n - section).abs() < 1e-5);
        assert!(d.drag_low_n < d.drag_n && d.drag_n < d.drag_high_n);
    }

    #[test]
    fn nothing_wet_has_no_spray() {
        let dry = Strut {
            chord_m: 0.03,
            thickness_m: 0.003,
            span_m: 0.0,
            surface_piercing: 1.0,
            junctions: 0,
        };
        assert_eq!(strut_drag(&dry, &STREAM).unwrap().drag_n, 0.0);
        assert!(
            strut_drag(
                &Strut {
                    chord_m: 0.0,
                    ..dry
                },
                &STREAM
            )
            .is_err()
        );
    }
}
