//! Steady trim of a prismatic planing hull by its full balance of moments.
//!
//! With `D_f` the friction along the keel, `c = LCG - l_p`, `a = VCG - (b/4) tan(beta)`, thrust line
//! `f` below or above the centre of gravity (positive: above the keel's friction arm, as the source draws it)
//! and inclined by `eps` to the keel:
//! `W ([1 - sin(tau) sin(tau + eps)] c / cos(tau) - f sin(tau)) + D_f (a - f) = 0`.
//! The load is carried wholly by the bottom, as in the source; `l_p`, lift and friction come from
//! [`planing_surface`](crate::planing_surface), so dry chines and high speed are covered.
//!
//! - Source: Savitsky 1964, Marine Technology 1(1), 71-95, eq. 35.
//! - Units: SI and radians; lcg ahead of the transom, vcg above the keel.
//! - Valid: as [`planing_surface`](crate::planing_surface). Trim searched from 0.3 to 30 deg; only
//!   equilibria that a change of trim does not run away from count.
//! - Checks: the paper's worked example: printed trim to 0.1 deg, drag to 4 %. Its printed wetted
//!   lengths contradict its own equations and are not used.

use crate::input::{InputError, finite, positive};
use crate::planing_surface::{Planing, PlaningSurface, planing_surface};

const LOWEST_DEG: f64 = 0.3;
const HIGHEST_DEG: f64 = 30.0;
const STEPS: u32 = 150;
/// Longest wetted keel tried, in beams.
const LONGEST_BEAMS: f64 = 30.0;

/// A hull and its running conditions. Trim and wetted keel of `surface` are ignored.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PrismaticHull {
    /// Bottom, speed and water.
    pub surface: PlaningSurface,
    /// Mass carried by the bottom, kg.
    pub mass_kg: f64,
    /// Centre of gravity ahead of the transom, m.
    pub lcg_m: f64,
    /// Centre of gravity above the keel, m.
    pub vcg_m: f64,
    /// Thrust line's inclination to the keel, rad.
    pub shaft_angle_rad: f64,
    /// Distance from centre of gravity to thrust line, m.
    pub thrust_arm_m: f64,
}

/// Steady running.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PrismaticPlaning {
    /// Trim, rad.
    pub trim_rad: f64,
    /// Wetted keel, m.
    pub keel_wetted_m: f64,
    /// Drag, N.
    pub drag_n: f64,
    /// Drag times speed, W.
    pub effective_power_w: f64,
    /// Load over `0.5 rho V^2 b^2`.
    pub lift_coefficient: f64,
    /// The bottom's forces there.
    pub planing: Planing,
}

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PrismaticError {
    /// A value with no meaning.
    #[error(transparent)]
    Input(#[from] InputError),
    /// The bottom cannot carry the load at any trim searched.
    #[error(
        "the bottom cannot carry {mass_kg} kg at {speed_m_s} m/s at any trim from 0.3 to 30 deg"
    )]
    TooHeavy {
        /// Mass given, kg.
        mass_kg: f64,
        /// Speed given, m/s.
        speed_m_s: f64,
    },
    /// Moments balance nowhere.
    #[error("no steady trim from 0.3 to 30 deg: the hull is bow {} throughout", if *.bow_heavy { "heavy" } else { "light" })]
    NoEquilibrium {
        /// Weight and thrust push the bow down at every trim.
        bow_heavy: bool,
    },
    /// More than one steady trim.
    #[error("several steady trims, in rad: {trims_rad:?}")]
    SeveralEquilibria {
        /// The trims, rad.
        trims_rad: Vec<f64>,
    },
}

/// The one steady trim.
///
/// # Errors
/// [`PrismaticError`].
pub fn prismatic_planing(hull: &PrismaticHull) -> Result<PrismaticPlaning, PrismaticError> {
    check(hull)?;
    let scan = scan(hull)?;
    let trims: Vec<f64> = scan
        .windows(2)
        .filter(|w| w[0].1 < 0.0 && w[1].1 >= 0.0)
        .map(|w| refine(hull, w[0].0, w[1].0))
        .collect();
    match trims[..] {
        [] => Err(PrismaticError::NoEquilibrium {
            bow_heavy: scan[0].1 >= 0.0,
        }),
        [trim] => Ok(report(hull, trim)),
        _ => Err(PrismaticError::SeveralEquilibria { trims_rad: trims }),
    }
}

fn check(h: &PrismaticHull) -> Result<(), InputError> {
    planing_surface(&PlaningSurface {
        trim_rad: 0.1,
        keel_wetted_m: 0.0,
        ..h.surface
    })?;
    positive("mass", h.mass_kg)?;
    positive("lcg", h.lcg_m)?;
    positive("speed", h.surface.speed_m_s)?;
    finite("vcg", h.vcg_m)?;
    finite("shaft_angle", h.shaft_angle_rad)?;
    finite("thrust_arm", h.thrust_arm_m)?;
    Ok(())
}

/// Trims at which the bottom can carry the load, with the bow-down moment at each.
fn scan(h: &PrismaticHull) -> Result<Vec<(f64, f64)>, PrismaticError> {
    let trim = |i: u32| {
        (LOWEST_DEG * (HIGHEST_DEG / LOWEST_DEG).powf(f64::from(i) / f64::from(STEPS))).to_radians()
    };
    let found: Vec<_> = (0..=STEPS)
        .map(trim)
        .filter_map(|t| Some((t, moment(h, t, &carry(h, t)?))))
        .collect();
    if found.is_empty() {
        return Err(PrismaticError::TooHeavy {
            mass_kg: h.mass_kg,
            speed_m_s: h.surface.speed_m_s,
        });
    }
    Ok(found)
}

fn at(h: &PrismaticHull, trim_rad: f64, keel_wetted_m: f64) -> Planing {
    planing_surface(&PlaningSurface {
        trim_rad,
        keel_wetted_m,
        ..h.surface
    })
    .expect("inputs were checked")
}

/// The wetted keel that carries the load at a trim, with the forces there.
fn carry(h: &PrismaticHull, trim: f64) -> Option<(f64, Planing)> {
    let load = h.mass_kg * h.surface.gravity_m_s2;
    let (mut short, mut long) = (0.0, LONGEST_BEAMS * h.surface.beam_m);
    if at(h, trim, long).lift_n < load {
        return None;
    }
    for _ in 0..60 {
        let keel = 0.5 * (short + long);
        if at(h, trim, keel).lift_n < load {
            short = keel
        } else {
            long = keel
        }
    }
    Some((long, at(h, trim, long)))
}

/// Bow-down moment, N m.
fn moment(h: &PrismaticHull, trim: f64, carried: &(f64, Planing)) -> f64 {
    let p = &carried.1;
    let friction = p.drag_friction_n * trim.cos();
    let c = h.lcg_m - p.centre_of_pressure_m;
    let a = h.vcg_m - 0.25 * h.surface.beam_m * h.surface.deadrise_rad.tan();
    let weight = h.mass_kg * h.surface.gravity_m_s2;
    let normal = (1.0 - trim.sin() * (trim + h.shaft_angle_rad).sin()) * c / trim.cos();
    weight * (normal - h.thrust_arm_m * trim.sin()) + friction * (a - h.thrust_arm_m)
}

fn refine(h: &PrismaticHull, mut low: f64, mut high: f64) -> f64 {
    for _ in 0..40 {
        let trim = 0.5 * (low + high);
        let bow_up = carry(h, trim).is_none_or(|c| moment(h, trim, &c) < 0.0);
        if bow_up { low = trim } else { high = trim }
    }
    0.5 * (low + high)
}

fn report(h: &PrismaticHull, trim: f64) -> PrismaticPlaning {
    let (keel, planing) = carry(h, trim).unwrap_or_else(|| (0.0, at(h, trim, 0.0)));
    let s = &h.surface;
    let pressure = 0.5 * s.density_kg_m3 * s.speed_m_s.powi(2);
    PrismaticPlaning {
        trim_rad: trim,
        keel_wetted_m: keel,
        drag_n: planing.drag_n,
        effective_power_w: planing.drag_n * s.speed_m_s,
        lift_coefficient: h.mass_kg * s.gravity_m_s2 / (pressure * s.beam_m.powi(2)),
        planing,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::relative;

    const FOOT: f64 = 0.3048;
    const POUND_FORCE: f64 = 4.448_222;

    fn example(arm_ft: f64) -> PrismaticHull {
        let gravity = 32.2 * FOOT;
        PrismaticHull {
            surface: PlaningSurface {
                beam_m: 14.0 * FOOT,
                deadrise_rad: 10f64.to_radians(),
                trim_rad: 0.0,
                keel_wetted_m: 0.0,
                speed_m_s: 67.5 * FOOT,
                density_kg_m3: 1.94 * 515.379,
                kinematic_viscosity_m2_s: 1e-5 * FOOT * FOOT,
                gravity_m_s2: gravity,
                friction_allowance: 4e-4,
                roughness_m: 0.0,
            },
            mass_kg: 60_000.0 * POUND_FORCE / gravity,
            lcg_m: 29.0 * FOOT,
            vcg_m: 2.0 * FOOT,
            shaft_angle_rad: 4f64.to_radians(),
            thrust_arm_m: arm_ft * FOOT,
        }
    }

    #[test]
    fn agrees_with_savitskys_worked_example() {
        let p = prismatic_planing(&example(0.5)).unwrap();
        let trim = p.trim_rad.to_degrees();
        assert!((trim - 2.3).abs() < 0.1, "printed: {trim}");
        assert!(
            relative(p.drag_n, 9095.0 * POUND_FORCE) < 0.04,
            "printed: {}",
            p.drag_n / POUND_FORCE
        );
        assert!(relative(p.effective_power_w, 1115.0 * 745.7) < 0.04);
        // Exact solution of the printed equations.
        assert!((trim - 2.26304).abs() < 0.02, "exact: {trim}");
        assert!(relative(p.planing.wetted.mean_wetted_ratio, 3.43948) < 0.01);
        assert!(relative(p.drag_n, 8855.42 * POUND_FORCE) < 0.02);
        assert!(relative(p.planing.speed_coefficient, 3.18) < 1e-3);
    }

    #[test]
    fn moving_weight_aft_raises_the_bow() {
        let aft = PrismaticHull {
            lcg_m: 26.0 * FOOT,
            ..example(0.5)
        };
        assert!(
            prismatic_planing(&aft).unwrap().trim_rad
                > prismatic_planing(&example(0.5)).unwrap().trim_rad
        );
    }

    #[test]
    fn says_why_there_is_no_answer() {
        let bow_heavy = PrismaticHull {
            lcg_m: 500.0 * FOOT,
            ..example(0.5)
        };
        assert!(matches!(
            prismatic_planing(&bow_heavy),
            Err(PrismaticError::NoEquilibrium { bow_heavy: true })
        ));
        let heavy = PrismaticHull {
            mass_kg: 1e9,
            ..example(0.5)
        };
        assert!(matches!(
            prismatic_planing(&heavy),
            Err(PrismaticError::TooHeavy { .. })
        ));
        let still = PrismaticHull {
            mass_kg: f64::NAN,
            ..example(0.5)
        };
        assert!(matches!(
            prismatic_planing(&still),
            Err(PrismaticError::Input(_))
        ));
    }
}
