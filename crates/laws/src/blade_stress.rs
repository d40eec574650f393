//! Stress at the root of a propeller blade: bending by thrust and torque, and pull by rotation.
//!
//! - Thrust acts at 0.7 radius, torque's force at 0.66 radius; both bend the root section at pitch angle
//!   `atan(P / (2 pi r))` about its chord: `M = T/(Z w) (0.7R - r) cos + Q/(Z w 0.66R) (0.66R - r) sin`,
//!   `w` the part of a turn for which a blade works. Root section flat faced with a parabolic back: area
//!   `2/3 c t`, `I = 8/175 c t^3`, face at 0.4 t, back at 0.6 t from its middle.
//! - Pull: `rho w^2 (s r / 2 + s^2 / 6)` with `s = R - r`, for a blade whose section shrinks evenly to
//!   nothing at the tip; a blade raked by `e` at its centre of mass adds that pull times `e`.
//! - Source: beam theory as in D. W. Taylor's blade strength rule; the segment's moments are exact.
//! - Units: N, N m, m, rad/s, kg/m3, Pa.
//! - Valid: root thinner than its chord; steady load. A blade that leaves the water is loaded once a
//!   turn: keep a factor of 3 in metal and 4 in plastic (judgement), and less where it may hit weed.
//! - Checks: closed forms. Strengths of prints: `checks/plastics_printed.csv`; metals from memory.

use crate::input::{InputError, finite, not_negative, positive, require};
use crate::notes::Notes;
use std::f64::consts::TAU;

/// Strength to hold the stress against.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BladeMaterial {
    /// Name at a face.
    pub name: &'static str,
    /// Breaking (plastics) or yielding (metals) stress in the blade's direction, Pa.
    pub strength_pa: f64,
    /// kg/m3.
    pub density_kg_m3: f64,
    /// Factor to keep.
    pub factor: f64,
}

const fn material(name: &'static str, mpa: f64, density: f64, factor: f64) -> BladeMaterial {
    BladeMaterial {
        name,
        strength_pa: 1e6 * mpa,
        density_kg_m3: density,
        factor,
    }
}

/// Blade materials. Printed ones twice: blades lying in the layers, and layers across the root.
pub const MATERIALS: [BladeMaterial; 11] = [
    material("printed-pla-along", 33.0, 1250.0, 4.0),
    material("printed-pla-across", 16.0, 1250.0, 4.0),
    material("printed-petg-along", 35.0, 1270.0, 4.0),
    material("printed-petg-across", 17.0, 1270.0, 4.0),
    material("printed-nylon-carbon-along", 27.0, 1100.0, 4.0),
    material("printed-nylon-carbon-across", 8.8, 1100.0, 4.0),
    material("moulded-nylon-carbon", 105.0, 1300.0, 4.0),
    material("aluminium", 240.0, 2700.0, 3.0),
    material("bronze", 200.0, 7600.0, 3.0),
    material("beryllium-copper", 480.0, 8250.0, 3.0),
    material("stainless", 205.0, 8000.0, 3.0),
];

/// Names of [`MATERIALS`].
pub const MATERIAL_WORDS: &[&str] = &[
    "printed-pla-along",
    "printed-pla-across",
    "printed-petg-along",
    "printed-petg-across",
    "printed-nylon-carbon-along",
    "printed-nylon-carbon-across",
    "moulded-nylon-carbon",
    "aluminium",
    "bronze",
    "beryllium-copper",
    "stainless",
];

/// A blade root and its load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BladeRoot {
    /// Of the whole propeller, N.
    pub thrust_n: f64,
    /// Of the whole propeller, N m.
    pub torque_n_m: f64,
    /// Number of blades.
    pub blades: f64,
    /// m.
    pub diameter_m: f64,
    /// rad/s.
    pub shaft_rad_s: f64,
    /// Where the blade meets the boss, m.
    pub root_radius_m: f64,
    /// m.
    pub chord_m: f64,
    /// Greatest thickness, m.
    pub thickness_m: f64,
    /// Pitch over diameter.
    pub pitch_ratio: f64,
    /// How far the blade's centre of mass lies aft of the root section, m.
    pub rake_m: f64,
    /// Part of a turn for which a blade works; 1 when submerged.
    pub wet_turn: f64,
    /// What it is made of.
    pub material: BladeMaterial,
}

/// Stresses at a blade's root.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BladeStress {
    /// Tension on the driving face by bending, Pa.
    pub bending_tension_pa: f64,
    /// Compression on the back by bending, Pa.
    pub bending_compression_pa: f64,
    /// Pull of rotation, Pa.
    pub centrifugal_pa: f64,
    /// Greatest tension, Pa.
    pub tension_pa: f64,
    /// Strength over the greatest stress either way.
    pub safety_factor: f64,
    /// Factor to keep for this material.
    pub factor_to_keep: f64,
    /// m/s.
    pub tip_speed_m_s: f64,
    /// Within the range above.
    pub in_range: bool,
    /// Why not.
    pub notes: Notes,
}

/// Stresses at the root.
///
/// # Errors
/// [`InputError`] for a size not above zero, a root outside the blade, or a part turn outside 0 to 1.
pub fn blade_stress(b: &BladeRoot) -> Result<BladeStress, InputError> {
    finite("thrust", b.thrust_n)?;
    finite("torque", b.torque_n_m)?;
    positive("blades", b.blades)?;
    let radius = 0.5 * positive("diameter", b.diameter_m)?;
    not_negative("shaft_speed", b.shaft_rad_s)?;
    require(
        "root_radius",
        b.root_radius_m,
        "between 0 and 0.6 of the blade's radius",
        |r| r > 0.0 && r < 0.6 * radius,
    )?;
    positive("chord", b.chord_m)?;
    positive("thickness", b.thickness_m)?;
    positive("pitch_ratio", b.pitch_ratio)?;
    finite("rake", b.rake_m)?;
    require("wet_turn", b.wet_turn, "above 0, at most 1", |w| {
        w > 0.0 && w <= 1.0
    })?;
    positive("strength", b.material.strength_pa)?;
    positive("density", b.material.density_kg_m3)?;
    Ok(stress(b, radius))
}

fn stress(b: &BladeRoot, radius: f64) -> BladeStress {
    let area = 2.0 / 3.0 * b.chord_m * b.thickness_m;
    let span = radius - b.root_radius_m;
    let reach = span * b.root_radius_m / 2.0 + span * span / 6.0;
    let pull = b.material.density_kg_m3 * b.shaft_rad_s.powi(2) * reach;
    let moment = moment_n_m(b, radius) + pull * area * b.rake_m;
    let modulus = 8.0 / 175.0 * b.chord_m * b.thickness_m.powi(2);
    let (face, back) = (0.4 * moment / modulus, 0.6 * moment / modulus);
    let tension = (face + pull).max(pull - back);
    let worst = tension.max(back - pull).max(1e-9);
    let factor = b.material.strength_pa / worst;
    let mut notes = Notes::default();
    let out = notes.add_if(
        b.thickness_m > 0.5 * b.chord_m,
        "root thicker than half its chord",
    );
    notes.add_if(
        factor < b.material.factor,
        "below the factor to keep: load comes and goes every turn",
    );
    BladeStress {
        bending_tension_pa: face,
        bending_compression_pa: back,
        centrifugal_pa: pull,
        tension_pa: tension,
        safety_factor: factor,
        factor_to_keep: b.material.factor,
        tip_speed_m_s: b.shaft_rad_s * radius,
        in_range: !out,
        notes,
    }
}

/// About the root's chord.
fn moment_n_m(b: &BladeRoot, radius: f64) -> f64 {
    let share = 1.0 / (b.blades * b.wet_turn);
    let pitch = (b.pitch_ratio * b.diameter_m / (TAU * b.root_radius_m)).atan();
    let by_thrust = b.thrust_n * share * (0.7 * radius - b.root_radius_m);
    let arm = 0.66 * radius;
    let by_torque = b.torque_n_m * share / arm * (arm - b.root_radius_m);
    by_thrust * pitch.cos() + by_torque * pitch.sin()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::relative;

    fn blade() -> BladeRoot {
        BladeRoot {
            thrust_n: 30.0,
            torque_n_m: 0.25,
            blades: 2.0,
            diameter_m: 0.04,
            shaft_rad_s: 2600.0,
            root_radius_m: 0.005,
            chord_m: 0.012,
            thickness_m: 0.0025,
            pitch_ratio: 1.4,
            rake_m: 0.0,
            wet_turn: 0.5,
            material: MATERIALS[9],
        }
    }

    #[test]
    fn segment_has_its_exact_moments() {
        // Parabolic back y = t (1 - (2x/c)^2): integrate strips for area, middle and second moment.
        let (c, t, n) = (1.0, 1.0, 4000);
        let (mut area, mut first, mut second) = (0.0, 0.0, 0.0);
        for i in 0..n {
            let x = (f64::from(i) + 0.5) / f64::from(n) - 0.5;
            let y: f64 = t * (1.0 - (2.0 * x / c).powi(2));
            let w = c / f64::from(n);
            area += y * w;
            first += 0.5 * y * y * w;
            second += y.powi(3) / 3.0 * w;
        }
        let middle = first / area;
        assert!(relative(area, 2.0 / 3.0) < 1e-6 && relative(middle, 0.4) < 1e-6);
        assert!(relative(second - area * middle * middle, 8.0 / 175.0) < 1e-5);
    }

    #[test]
    fn pull_is_that_of_the_tapering_blade() {
        // Sum of rho w^2 r A(r) dr over the span, over the root's area.
        let b = blade();
        let (r0, r1, n) = (b.root_radius_m, 0.02, 20_000);
        let dr = (r1 - r0) / f64::from(n);
        let sum: f64 = (0..n)
            .map(|i| {
                let r = r0 + (f64::from(i) + 0.5) * dr;
                b.material.density_kg_m3 * b.shaft_rad_s.powi(2) * r * (r1 - r) / (r1 - r0) * dr
            })
            .sum();
        assert!(relative(blade_stress(&b).unwrap().centrifugal_pa, sum) < 1e-6);
    }

    #[test]
    fn bending_by_hand() {
        // Thrust alone, pitch so flat that its cosine is 1: 30 N a blade at 0.014 - 0.005 m.
        let b = BladeRoot {
            torque_n_m: 0.0,
            shaft_rad_s: 0.0,
            pitch_ratio: 1e-9,
            ..blade()
        };
        let s = blade_stress(&b).unwrap();
        let modulus = 8.0 / 175.0 * 0.012 * 0.0025f64.powi(2);
        assert!(relative(s.bending_tension_pa, 0.4 * 0.27 / modulus) < 1e-9);
        assert!(relative(s.bending_compression_pa / s.bending_tension_pa, 1.5) < 1e-12);
    }

    #[test]
    fn print_across_its_layers_is_the_weakest() {
        let text = include_str!("../../../checks/plastics_printed.csv");
        // The same study: 33 MPa flat, 16 MPa across; another, carbon nylon 27.71 and 8.78.
        for row in [",33,2.4", "(load across layers),16,"] {
            assert!(text.contains(row), "{row}");
        }
        assert!(text.contains(",27.71,") && text.contains(",8.78,"));
        let with = |i: usize| {
            blade_stress(&BladeRoot {
                material: MATERIALS[i],
                ..blade()
            })
            .unwrap()
            .safety_factor
        };
        assert!(with(1) < with(0) && with(5) < with(4) && with(0) < with(9));
        assert!(
            MATERIALS
                .iter()
                .map(|m| m.name)
                .eq(MATERIAL_WORDS.iter().copied())
        );
        let wide = BladeRoot {
            root_radius_m: 0.018,
            ..blade()
        };
        assert!(blade_stress(&wide).is_err());
    }
}
