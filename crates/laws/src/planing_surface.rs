//! One prismatic planing surface: lift, drag and where they act.
//!
//! Load coefficients are on `0.5 rho V^2 b^2` with `b` the *wetted* beam and `lambda` the mean
//! wetted length over it. Two laws are blended:
//!
//! - Savitsky 1964 (tau in degrees, beta in degrees):
//!   `C_L0 = tau^1.1 (0.012 sqrt(lambda) + 0.0055 lambda^2.5 / Cv^2)`,
//!   `C_Lb = C_L0 - 0.0065 beta C_L0^0.6`,
//!   centre of pressure `C_p = 0.75 - 1 / (5.21 Cv^2 / lambda^2 + 2.39)` of the mean wetted length
//!   ahead of the trailing edge: the dynamic part at 0.75, the buoyant part near 0.33.
//! - Strips ([`strip_planing`](crate::strip_planing)), for flat plates much like Shuford 1958 (from memory), whose
//!   long-surface limit they keep: `pi tau / 2` per beam squared besides crossflow; for dry chines the slender
//!   triangle; for `lambda -> 0` the two-dimensional planing plate, `pi tau` per unit wetted length.
//!
//! Dry chines: with `dL = b tan(beta) / (pi tan(tau))` and a keel wetted for less than `dL`, the
//! wetted shape is a triangle of beam `b Lk / dL` and `lambda = dL / (2 b)`, and Savitsky's law is
//! used on that beam. Else chines are wet for `Lk - dL`.
//!
//! Drag is `lift tan(tau)` plus friction `0.5 rho V1^2 C_F lambda b^2 / cos(beta)` along the keel,
//! divided by `cos(tau)`, where `V1` is the mean speed under the bottom (Savitsky 1964) and C_F the
//! middle of [`friction_line`]'s band; its ends are given too. Spray drag is not in it.
//!
//! - Source: Savitsky D., Marine Technology 1(1), 1964, 71-95; Shuford C. L., NACA Report 1355,
//!   1958; two-dimensional limit Wagner 1932.
//! - Units: SI and radians. Trim is keel to water.
//! - Valid: Savitsky 0.6 <= Cv <= 13, 2 <= tau <= 15 deg, lambda <= 4. Beyond, the strips take
//!   over smoothly: Cv 13 to 20, tau 2 to 1 and 15 to 20 deg, lambda 4 to 6 and 0.3 to 0.1, and where
//!   Savitsky's deadrise term would take more than 60 % of the lift (lightly loaded, where his fit
//!   turns negative). They are marked in range for 1 <= tau <= 20 deg, deadrise to 50 deg.
//!   At zero or negative trim there is no lift and no suction.
//! - Checks: Savitsky's own coefficients (`checks/savitsky1964_example_results.csv`,
//!   `checks/savitsky1964_table1_printed.csv`), both limits
//!   above, continuity over the whole domain. Against Savitsky in the common range strips
//!   give 5 % less with a deviation of 5 %. No measured data at our size: theory there.

use crate::friction_line;
use crate::input::{InputError, not_negative, positive, require};
use crate::notes::Notes;
use crate::smooth::{mix, step};
use crate::strip_planing::prism;
use std::f64::consts::{FRAC_PI_2, PI};

/// Largest deadrise accepted, rad (60 deg).
pub const MAX_DEADRISE: f64 = PI / 3.0;

/// What a planing surface is and how it runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlaningSurface {
    /// Beam, chine to chine, m.
    pub beam_m: f64,
    /// Deadrise, rad.
    pub deadrise_rad: f64,
    /// Trim of the keel against the water, bow up, rad.
    pub trim_rad: f64,
    /// Wetted length of the keel, ahead from the trailing edge, m.
    pub keel_wetted_m: f64,
    /// Speed through the water, m/s.
    pub speed_m_s: f64,
    /// Water density, kg/m3.
    pub density_kg_m3: f64,
    /// Water kinematic viscosity, m2/s.
    pub kinematic_viscosity_m2_s: f64,
    /// Gravity, m/s2.
    pub gravity_m_s2: f64,
    /// Added to the friction coefficient, as ships' correlation allowances are.
    pub friction_allowance: f64,
    /// Equivalent sand roughness of the bottom, m; 0 is smooth.
    pub roughness_m: f64,
}

/// The wetted shape: a triangle or a triangle with a rectangle behind it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wetted {
    /// Beam at the trailing edge that is wet, m.
    pub beam_m: f64,
    /// Wetted length of each chine, m.
    pub chine_m: f64,
    /// Mean of keel and chine wetted lengths, m.
    pub mean_length_m: f64,
    /// Mean wetted length over wetted beam.
    pub mean_wetted_ratio: f64,
    /// Wetted bottom area, m2.
    pub area_m2: f64,
    /// Water reaches the chines.
    pub chines_wet: bool,
}

/// Forces on a planing surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Planing {
    /// Vertical force, N.
    pub lift_n: f64,
    /// Its part from speed, N.
    pub lift_dynamic_n: f64,
    /// Its part from buoyancy, N.
    pub lift_buoyant_n: f64,
    /// Horizontal force: pressure and friction (middle of its band), N.
    pub drag_n: f64,
    /// `lift tan(trim)`, N.
    pub drag_pressure_n: f64,
    /// Friction drag, middle of the band, N.
    pub drag_friction_n: f64,
    /// Friction drag with the most laminar flow there can be, N.
    pub drag_friction_low_n: f64,
    /// Friction drag, turbulent throughout, N.
    pub drag_friction_high_n: f64,
    /// Where the lift acts, ahead of the trailing edge, m.
    pub centre_of_pressure_m: f64,
    /// Where the dynamic part acts, ahead of the trailing edge, m.
    pub dynamic_centre_m: f64,
    /// Shape of the wetted bottom.
    pub wetted: Wetted,
    /// Speed over the root of gravity and wetted beam.
    pub speed_coefficient: f64,
    /// Reynolds number on mean wetted length.
    pub reynolds: f64,
    /// 1 where Savitsky's law is used alone, 0 where strips are.
    pub savitsky_weight: f64,
    /// Within the range of one of the two laws.
    pub in_range: bool,
    /// Why not, or what to mind.
    pub notes: Notes,
}

/// The dynamic part alone, for a caller with its own hydrostatics.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dynamic {
    /// Vertical force, N.
    pub lift_n: f64,
    /// `lift tan(trim)`, N.
    pub drag_pressure_n: f64,
    /// Where it acts, ahead of the trailing edge, m.
    pub centre_m: f64,
    /// Shape of the wetted bottom.
    pub wetted: Wetted,
    /// Within the range of one of the two laws.
    pub in_range: bool,
}

/// Forces on a checked surface.
///
/// # Errors
/// [`InputError`] for a value with no meaning: beam, density, viscosity or gravity not above zero,
/// speed or wetted length negative, deadrise outside 0 to 60 deg, trim beyond a right angle.
pub fn planing_surface(s: &PlaningSurface) -> Result<Planing, InputError> {
    positive("beam", s.beam_m)?;
    positive("density", s.density_kg_m3)?;
    positive("kinematic_viscosity", s.kinematic_viscosity_m2_s)?;
    positive("gravity", s.gravity_m_s2)?;
    not_negative("speed", s.speed_m_s)?;
    not_negative("keel_wetted", s.keel_wetted_m)?;
    not_negative("friction_allowance", s.friction_allowance)?;
    not_negative("roughness", s.roughness_m)?;
    require("deadrise", s.deadrise_rad, "from 0 to 60 deg", |b| {
        (0.0..=MAX_DEADRISE).contains(&b)
    })?;
    require("trim", s.trim_rad, "between -1.57 and 1.57 rad", |t| {
        t.abs() < FRAC_PI_2
    })?;
    Ok(s.forces())
}

/// The dynamic part alone.
///
/// # Errors
/// As [`planing_surface`].
pub fn dynamic(s: &PlaningSurface) -> Result<Dynamic, InputError> {
    let all = planing_surface(s)?;
    Ok(Dynamic {
        lift_n: all.lift_dynamic_n,
        drag_pressure_n: all.lift_dynamic_n * s.trim_rad.max(0.0).tan(),
        centre_m: all.dynamic_centre_m,
        wetted: all.wetted,
        in_range: all.in_range,
    })
}

/// Keel wetted ahead of where the spray root meets the chine, m: infinite with deadrise and no trim.
pub fn chine_wetting_length_m(beam_m: f64, deadrise_rad: f64, trim_rad: f64) -> f64 {
    let rise = beam_m * deadrise_rad.tan();
    if rise <= 0.0 {
        0.0
    } else {
        rise / (PI * trim_rad.max(0.0).tan())
    }
}

/// Wetted shape of a surface whose keel is wet for `keel_wetted_m`.
pub fn wetted(beam_m: f64, deadrise_rad: f64, trim_rad: f64, keel_wetted_m: f64) -> Wetted {
    let reach = chine_wetting_length_m(beam_m, deadrise_rad, trim_rad);
    let chines_wet = keel_wetted_m > reach;
    let beam = if chines_wet || reach <= 0.0 {
        beam_m
    } else {
        beam_m * keel_wetted_m / reach
    };
    let chine = (keel_wetted_m - reach).max(0.0);
    let mean = 0.5 * (keel_wetted_m + chine);
    let full = if chines_wet {
        chine * beam_m + 0.5 * reach * beam_m
    } else {
        0.5 * keel_wetted_m * beam
    };
    Wetted {
        beam_m: beam,
        chine_m: chine,
        mean_length_m: if reach <= 0.0 { keel_wetted_m } else { mean },
        mean_wetted_ratio: wetted_ratio(chines_wet, mean, beam_m, reach),
        area_m2: full / deadrise_rad.cos(),
        chines_wet,
    }
}

fn wetted_ratio(chines_wet: bool, mean: f64, beam: f64, reach: f64) -> f64 {
    if chines_wet {
        mean / beam
    } else {
        (reach / (2.0 * beam)).min(1e6)
    }
}

impl PlaningSurface {
    fn forces(&self) -> Planing {
        let w = wetted(
            self.beam_m,
            self.deadrise_rad,
            self.trim_rad,
            self.keel_wetted_m,
        );
        let load = Load::new(self, &w);
        let area = w.beam_m * w.beam_m;
        let pressure = 0.5 * self.density_kg_m3 * self.speed_m_s.powi(2);
        let lift_dynamic = load.dynamic * pressure * area;
        let lift_buoyant =
            load.buoyant_per_weight * self.density_kg_m3 * self.gravity_m_s2 * area * w.beam_m;
        let lift = lift_dynamic + lift_buoyant;
        let centre = if lift > 0.0 {
            load.centre_m
        } else {
            load.dynamic_centre_m
        };
        let (reynolds, friction) = self.friction(&w, &load);
        let drag_pressure = lift * self.trim_rad.max(0.0).tan();
        let (in_range, notes) = self.judge(&w, &load);
        Planing {
            lift_n: lift,
            lift_dynamic_n: lift_dynamic,
            lift_buoyant_n: lift_buoyant,
            drag_n: drag_pressure + friction[1],
            drag_pressure_n: drag_pressure,
            drag_friction_n: friction[1],
            drag_friction_low_n: friction[0],
            drag_friction_high_n: friction[2],
            centre_of_pressure_m: centre,
            dynamic_centre_m: load.dynamic_centre_m,
            wetted: w,
            speed_coefficient: load.speed_coefficient,
            reynolds,
            savitsky_weight: load.savitsky_weight,
            in_range,
            notes,
        }
    }

    /// Reynolds number, and friction drag low, middle and high.
    fn friction(&self, w: &Wetted, load: &Load) -> (f64, [f64; 3]) {
        let slowed = 1.0 - load.dynamic / (w.mean_wetted_ratio.max(1e-9) * self.trim_rad.cos());
        let square = self.speed_m_s.powi(2) * slowed.clamp(0.25, 1.0);
        let reynolds = square.sqrt() * w.mean_length_m / self.kinematic_viscosity_m2_s;
        let cf = friction_line::rough_band(reynolds, self.roughness_m / w.mean_length_m.max(1e-9));
        let scale = 0.5 * self.density_kg_m3 * square * w.area_m2 / self.trim_rad.cos();
        let drag = |c: f64| scale * (c + self.friction_allowance);
        (
            reynolds,
            [drag(cf.cf_low), drag(cf.cf_middle()), drag(cf.cf_high)],
        )
    }

    fn judge(&self, w: &Wetted, load: &Load) -> (bool, Notes) {
        let mut notes = Notes::default();
        let tau = self.trim_rad.to_degrees();
        let out = notes.add_if(
            tau <= 0.0,
            "trim is zero or negative: no planing lift, suction not modelled",
        ) | notes.add_if(tau > 0.0 && tau < 1.0, "trim under 1 deg")
            | notes.add_if(tau > 20.0, "trim over 20 deg")
            | notes.add_if(
                self.deadrise_rad.to_degrees() > 50.0,
                "deadrise over 50 deg",
            )
            | notes.add_if(
                load.speed_coefficient < 0.6,
                "speed coefficient under 0.6: mostly afloat, not planing",
            )
            | notes.add_if(
                w.mean_wetted_ratio > 6.0 && load.speed_coefficient < 13.0,
                "mean wetted ratio over 6",
            );
        notes.add_if(
            load.savitsky_weight < 1.0,
            "outside Savitsky 1964: strips used or blended in",
        );
        notes.add_if(!w.chines_wet, "chines dry: wetted triangle");
        (!out, notes)
    }
}

/// Load coefficients of the wetted shape.
struct Load {
    /// Dynamic part on `0.5 rho V^2 b^2`.
    dynamic: f64,
    /// Buoyant part on `rho g b^3`.
    buoyant_per_weight: f64,
    /// Centre of pressure ahead of the trailing edge, m.
    centre_m: f64,
    /// Of the dynamic part, m.
    dynamic_centre_m: f64,
    speed_coefficient: f64,
    savitsky_weight: f64,
}

impl Load {
    fn new(s: &PlaningSurface, w: &Wetted) -> Self {
        let tau = s.trim_rad.max(0.0);
        let tau_deg = tau.to_degrees();
        let lambda = w.mean_wetted_ratio;
        let speed_coefficient = s.speed_m_s / (s.gravity_m_s2 * w.beam_m.max(1e-9)).sqrt();
        let flat = tau_deg.powf(1.1) * 0.012 * lambda.sqrt();
        let buoyant = tau_deg.powf(1.1) * buoyant_shape(lambda);
        let froude_half = 0.5 * speed_coefficient.powi(2);
        let kept = deadrise_kept(s.deadrise_rad, flat, buoyant, froude_half);
        let savitsky_weight = savitsky_weight(speed_coefficient, tau_deg, lambda, kept);
        let kept_plate = 1.0 - s.deadrise_rad.sin();
        let reach = chine_wetting_length_m(s.beam_m, s.deadrise_rad, s.trim_rad);
        let half = prism(0.5 * s.beam_m, s.deadrise_rad, tau, s.keel_wetted_m, reach);
        let strips = 2.0 * half.lift_m2 / (w.beam_m * w.beam_m).max(1e-12);
        let his = flat * kept;
        let strips_centre = half.moment_m3 / half.lift_m2.max(1e-15) / w.mean_length_m.max(1e-9);
        let centre_moved = mix(strips_centre, 0.75, savitsky_weight) - 0.75;
        Self {
            dynamic: if tau > 0.0 {
                mix(strips, his, savitsky_weight)
            } else {
                0.0
            },
            buoyant_per_weight: buoyant * mix(kept_plate, kept, savitsky_weight),
            centre_m: (centre(speed_coefficient, lambda) + centre_moved) * w.mean_length_m,
            dynamic_centre_m: (0.75 + centre_moved) * w.mean_length_m,
            speed_coefficient,
            savitsky_weight,
        }
    }
}

/// Savitsky's buoyant term over `rho g b^3`; past the fit it grows as the displaced wedge does.
fn buoyant_shape(lambda: f64) -> f64 {
    0.5 * 0.0055 * lambda * lambda * lambda.min(4.0).sqrt()
}

/// Part of the flat plate's load left by Savitsky's deadrise term.
fn deadrise_kept(deadrise: f64, flat: f64, buoyant: f64, froude_half: f64) -> f64 {
    let cl0 = flat + buoyant / froude_half.max(1e-9);
    if cl0 <= 0.0 {
        return 0.0;
    }
    (1.0 - 0.0065 * deadrise.to_degrees() * cl0.powf(-0.4)).max(0.0)
}

fn savitsky_weight(cv: f64, tau_deg: f64, lambda: f64, kept: f64) -> f64 {
    let fast = 1.0 - step(13f64.ln(), 20f64.ln(), cv.max(1e-9).ln());
    let trim = step(1.0, 2.0, tau_deg) * (1.0 - step(15.0, 20.0, tau_deg));
    let long = 1.0 - step(4.0, 6.0, lambda);
    let short = step(0.1, 0.3, lambda);
    fast * trim * long * short * step(0.2, 0.4, kept)
}

/// Centre of pressure over the mean wetted length.
fn centre(cv: f64, lambda: f64) -> f64 {
    let ratio = cv / lambda.max(1e-9);
    0.75 - 1.0 / (5.21 * ratio * ratio + 2.39)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{Table, relative};

    const FOOT: f64 = 0.3048;
    const SLUG_FT3: f64 = 515.379;
    const POUND: f64 = 4.448_222;

    fn pad() -> PlaningSurface {
        PlaningSurface {
            beam_m: 0.06,
            deadrise_rad: 10f64.to_radians(),
            trim_rad: 4f64.to_radians(),
            keel_wetted_m: 0.1,
            speed_m_s: 15.0,
            density_kg_m3: 998.0,
            kinematic_viscosity_m2_s: 1e-6,
            gravity_m_s2: 9.80665,
            friction_allowance: 0.0,
            roughness_m: 0.0,
        }
    }

    fn lift(s: PlaningSurface) -> f64 {
        planing_surface(&s).unwrap().lift_n
    }

    #[test]
    fn carries_savitskys_worked_example() {
        let t = Table::read(include_str!(
            "../../../checks/savitsky1964_example_results.csv"
        ));
        let given = |quantity: &str| {
            let r = (0..t.len())
                .find(|r| t.text(*r, "quantity") == quantity)
                .unwrap();
            t.number(r, "exact_general_rho1.94_nu1e-5")
        };
        let s = PlaningSurface {
            beam_m: 14.0 * FOOT,
            deadrise_rad: 10f64.to_radians(),
            trim_rad: given("trim_equilibrium").to_radians(),
            keel_wetted_m: given("L_keel") * FOOT,
            speed_m_s: 67.5 * FOOT,
            density_kg_m3: 1.94 * SLUG_FT3,
            kinematic_viscosity_m2_s: 1e-5 * FOOT * FOOT,
            gravity_m_s2: 32.2 * FOOT,
            friction_allowance: 4e-4,
            roughness_m: 0.0,
        };
        let p = planing_surface(&s).unwrap();
        assert_eq!(p.savitsky_weight, 1.0);
        assert!(p.in_range && p.notes.is_empty());
        assert!(relative(p.lift_n, 60_000.0 * POUND) < 1e-3);
        assert!(relative(p.wetted.mean_wetted_ratio, given("lambda")) < 1e-4);
        assert!(relative(p.wetted.chine_m, given("L_chine") * FOOT) < 1e-4);
        // The example's friction line is Schoenherr's, ours ITTC: within 2 % at Re 3e8.
        assert!(relative(p.drag_n, given("D_total") * POUND) < 0.02);
    }

    #[test]
    fn follows_savitskys_printed_table() {
        let t = Table::read(include_str!(
            "../../../checks/savitsky1964_table1_printed.csv"
        ));
        let printed = |quantity: &str, column: &str| {
            let r = (0..t.len())
                .find(|r| t.text(*r, "quantity") == quantity)
                .unwrap();
            t.number(r, column)
        };
        for (tau_deg, column) in [(2.0f64, "tau_2deg"), (3.0, "tau_3deg"), (4.0, "tau_4deg")] {
            let (beam, beta, tau) = (14.0 * FOOT, 10f64.to_radians(), tau_deg.to_radians());
            let keel =
                printed("lambda", column) * beam + 0.5 * chine_wetting_length_m(beam, beta, tau);
            let p = planing_surface(&PlaningSurface {
                beam_m: beam,
                deadrise_rad: beta,
                trim_rad: tau,
                keel_wetted_m: keel,
                speed_m_s: 67.5 * FOOT,
                density_kg_m3: 1.94 * SLUG_FT3,
                kinematic_viscosity_m2_s: 1e-5 * FOOT * FOOT,
                gravity_m_s2: 32.2 * FOOT,
                friction_allowance: 4e-4,
                roughness_m: 0.0,
            })
            .unwrap();
            // Printed C_L0 is 1.2 % above its exact value, and printed lambda was read off a chart:
            // at 4 deg his own formula gives 2.4 % more there; deadrise makes that 4 % of the load.
            assert!(
                relative(p.lift_n, 60_000.0 * POUND) < 0.04,
                "{tau_deg}: {}",
                p.lift_n / POUND
            );
            // Printed to two digits.
            let centre = p.centre_of_pressure_m / p.wetted.mean_length_m;
            assert!(
                (centre - printed("Cp", column)).abs() < 0.0101,
                "{tau_deg}: {centre}"
            );
            // Printed friction is about 3 % above its own equation.
            assert!(relative(p.drag_friction_n * tau.cos(), printed("Df", column) * POUND) < 0.045);
        }
    }

    #[test]
    fn short_surfaces_tend_to_the_two_dimensional_plate() {
        // Through the whole law, a 0.2 mm strip of a flat pad.
        let s = PlaningSurface {
            deadrise_rad: 0.0,
            keel_wetted_m: 2e-4,
            trim_rad: 0.03,
            ..pad()
        };
        let per_tau = lift(s)
            / (0.5
                * s.density_kg_m3
                * s.speed_m_s.powi(2)
                * s.beam_m
                * s.keel_wetted_m
                * s.trim_rad);
        assert!(relative(per_tau, PI) < 0.05, "{per_tau}");
    }

    #[test]
    fn dry_chines_carry_as_the_square_of_the_wetted_keel() {
        let s = PlaningSurface {
            speed_m_s: 30.0,
            deadrise_rad: 15f64.to_radians(),
            trim_rad: 0.05,
            keel_wetted_m: 0.04,
            ..pad()
        };
        let p = planing_surface(&s).unwrap();
        assert!(!p.wetted.chines_wet && p.wetted.beam_m < s.beam_m);
        let half = planing_surface(&PlaningSurface {
            keel_wetted_m: 0.02,
            ..s
        })
        .unwrap();
        assert!(relative(p.lift_dynamic_n / half.lift_dynamic_n, 4.0) < 1e-9);
        assert!(relative(half.wetted.beam_m, 0.5 * p.wetted.beam_m) < 1e-12);
        // b Lk pi tan(tau) / (b tan(beta))
        let by_hand = 0.04 * PI * 0.05f64.tan() / 15f64.to_radians().tan();
        assert!(relative(p.wetted.beam_m, by_hand) < 1e-12);
    }

    /// Largest jump of lift and centre between neighbours, over the largest lift on the path.
    fn worst_step(path: impl Fn(f64) -> PlaningSurface) -> f64 {
        let n = 20_000;
        let at = |i: i32| planing_surface(&path(f64::from(i) / f64::from(n))).unwrap();
        let all: Vec<Planing> = (0..=n).map(at).collect();
        let top = all.iter().map(|p| p.lift_n).fold(1e-12, f64::max);
        all.windows(2)
            .map(|w| (w[1].lift_n - w[0].lift_n).abs() / top)
            .fold(0.0, f64::max)
    }

    #[test]
    fn no_step_anywhere() {
        for beta in [0.0f64, 3.0, 10.0, 20.0, 30.0] {
            let base = PlaningSurface {
                deadrise_rad: beta.to_radians(),
                ..pad()
            };
            for v in [0.3, 3.0, 8.0, 12.0, 30.0] {
                let base = PlaningSurface {
                    speed_m_s: v,
                    ..base
                };
                assert!(
                    worst_step(|x| PlaningSurface {
                        keel_wetted_m: 0.6 * x,
                        ..base
                    }) < 2e-3
                );
                assert!(
                    worst_step(|x| PlaningSurface {
                        trim_rad: -0.1 + 0.6 * x,
                        ..base
                    }) < 2e-3
                );
                assert!(
                    worst_step(|x| PlaningSurface {
                        deadrise_rad: 0.7 * x,
                        ..base
                    }) < 2e-3
                );
            }
            assert!(
                worst_step(|x| PlaningSurface {
                    speed_m_s: 40.0 * x,
                    ..base
                }) < 2e-3
            );
        }
    }

    #[test]
    fn lift_grows_with_wetted_keel_and_speed() {
        for beta in [0.0f64, 5.0, 10.0, 20.0] {
            for tau in [0.5f64, 1.5, 3.0, 6.0, 12.0] {
                let base = PlaningSurface {
                    deadrise_rad: beta.to_radians(),
                    trim_rad: tau.to_radians(),
                    ..pad()
                };
                let mut last = [0.0; 2];
                for i in 1..=400 {
                    let x = f64::from(i) / 400.0;
                    let longer = lift(PlaningSurface {
                        keel_wetted_m: 0.4 * x,
                        ..base
                    });
                    let faster = lift(PlaningSurface {
                        speed_m_s: 40.0 * x,
                        ..base
                    });
                    assert!(
                        longer >= last[0],
                        "keel: beta {beta} tau {tau} x {x} {longer} {}",
                        last[0]
                    );
                    // Below a speed coefficient of 0.6 neither law is meant: afloat.
                    let afloat = (40.0 * x).powi(2) < 0.36 * base.gravity_m_s2 * base.beam_m;
                    assert!(
                        afloat || faster >= last[1],
                        "speed: beta {beta} tau {tau} x {x}"
                    );
                    last = [longer, faster];
                }
            }
        }
    }

    #[test]
    fn nothing_is_lost_at_the_edges() {
        let none = [
            PlaningSurface {
                trim_rad: 0.0,
                ..pad()
            },
            PlaningSurface {
                trim_rad: -0.2,
                ..pad()
            },
            PlaningSurface {
                keel_wetted_m: 0.0,
                ..pad()
            },
            PlaningSurface {
                keel_wetted_m: 0.0,
                deadrise_rad: 0.0,
                ..pad()
            },
        ];
        for s in none {
            let p = planing_surface(&s).unwrap();
            assert_eq!(p.lift_n, 0.0);
            assert!(p.drag_n >= 0.0 && p.drag_n.is_finite() && p.centre_of_pressure_m.is_finite());
        }
        let still = planing_surface(&PlaningSurface {
            speed_m_s: 0.0,
            ..pad()
        })
        .unwrap();
        assert!(
            still.lift_dynamic_n == 0.0 && still.lift_buoyant_n > 0.0 && still.drag_n.is_finite()
        );
    }

    #[test]
    fn refuses_impossible_surfaces() {
        for s in [
            PlaningSurface {
                beam_m: 0.0,
                ..pad()
            },
            PlaningSurface {
                speed_m_s: -1.0,
                ..pad()
            },
            PlaningSurface {
                deadrise_rad: 1.5,
                ..pad()
            },
            PlaningSurface {
                trim_rad: f64::NAN,
                ..pad()
            },
        ] {
            assert!(planing_surface(&s).is_err());
        }
    }
}
