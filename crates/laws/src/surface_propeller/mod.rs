//! A propeller that cuts the surface, by blade elements over the wet arc.
//!
//! - Each element at radius r meets the water at `tan phi = (V + u) / (w r - w_t)` and its flat face at
//!   `beta = atan(P / (2 pi r))`. Wetted: `C_L = 2 pi k sin(a + m t/c)` square to the flow, the thickness
//!   of a flat-faced section being camber, levelling past a stall; `k` 0.68 and `m` 0.5 are set on the B
//!   series. Ventilated: `C_N = 2 pi sin a / (4 + pi sin a)` square to the face; the back is dry, so
//!   thickness no longer counts. While the disc is cut an element passes from one to the other between 0 and
//!   7 deg, and keeps half its wetted lift, the angle so lost leaning its force back (Wagner 1925 for the half
//!   at entry; judgement for the whole turn); covered by half a diameter it is wetted, and in between forces
//!   are mixed. Friction 0.0093 when cut (ITTC 7.5-02-03-01.4 at our Reynolds numbers, from memory).
//! - Induced speed `u` from momentum in each ring, `dT = 4 pi r rho (V + u) u F dr` with Prandtl's tip
//!   loss, over the wet part only, less what the cavities of neighbouring blades close of the passage between
//!   them (as thick as a plate stands across the stream): so efficiency stays below that of the ideal wet disc,
//!   and blades in a ring give less than plates alone. Swirl follows from `w_t (w r - w_t) = u (V + u)`.
//! - Arc: a ring is wet where `cos(theta) < h / r`, `h` the hub's depth. Water crossing the shaft speeds
//!   blades up on one side; that is taken in its first power, so every arc integral is exact. Blades
//!   pressing down into fresh water carry more than those rising in their own spray, as
//!   `1 + bias sin(theta)`: 0.4 is judgement, and gives a lift of a tenth of thrust and more. Rings that
//!   never leave the water have none.
//! - Cup is effective pitch: pass the pitch measured or corrected for it.
//! - Source: Kirchhoff and Rayleigh for the plate; Glauert 1935, Prandtl 1919 for rings and tips; outline
//!   and thickness of the blades as the Wageningen B series (from memory).
//! - Units: dimensionless; `K_T = T / (rho n^2 D^4)`, `K_Q = Q / (rho n^2 D^5)`, the vertical (up) and side
//!   (to port) forces as `K_T`; radians. Immersion is the lowest tip's depth over diameter.
//! - Valid: 2 to 5 blades, pitch ratio 0.8 to 2, area ratio 0.3 to 0.8, inflow within 15 deg of the shaft,
//!   Froude number `n D / sqrt(g D)` over 4. No surface-piercing measurements were found for
//!   such propellers: **carry 25 % at least on thrust and torque, 50 % on the vertical and side force.**
//! - Checks: covered and wetted against the B series, both on the propellers that `k` and `m` were set on
//!   (a fit, no proof) and on others (`docs/accuracy.md`: 1 value of 64 outside 25 %); at standstill thrust
//!   is up to 18 % and torque 26 % low. Ventilated sections equal the plate; below the ideal disc's
//!   efficiency everywhere; mirror images. Half wet, against plates worked independently
//!   without tip loss or cavities in the passage, from standstill on (`checks/half_wet_ventilated_blade.csv`,
//!   derived): 10 to 17 % below in thrust and torque. No measurement at our size. Efficiency comes to 0.60 to
//!   0.72 at slips of 30 to 10 %; builders' boats suggest 0.5 to 0.65 (judgement).

mod element;
mod map;

use crate::input::{InputError, finite, positive, require};
use crate::notes::Notes;
use element::{Forces, Ring, rings};
pub use map::{Load, Operating, SurfacePropellerMap};
use std::f64::consts::{PI, TAU};

/// Spread to carry on thrust and torque.
pub const SPREAD: f64 = 0.25;
/// Spread to carry on the vertical and side force.
pub const CROSS_SPREAD: f64 = 0.5;
/// How much more a blade pressing down carries than one rising, as a part of the mean.
pub const ENTRY_BIAS: f64 = 0.4;

/// A propeller.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Blading {
    /// Number of blades.
    pub blades: f64,
    /// Effective pitch over diameter, cup included.
    pub pitch_ratio: f64,
    /// Expanded blade area over disc area.
    pub area_ratio: f64,
    /// Boss over propeller diameter.
    pub boss_ratio: f64,
    /// Thickness over that of the B series.
    pub thickness: f64,
    /// Part by which blades pressing down carry more; [`ENTRY_BIAS`].
    pub entry_bias: f64,
    /// Turns clockwise seen from astern.
    pub right_handed: bool,
}

impl Blading {
    /// A two-bladed right-handed propeller of ordinary thickness.
    pub fn new(blades: f64, pitch_ratio: f64, area_ratio: f64) -> Self {
        Self {
            blades,
            pitch_ratio,
            area_ratio,
            boss_ratio: 0.2,
            thickness: 1.0,
            entry_bias: ENTRY_BIAS,
            right_handed: true,
        }
    }
}

/// Water arriving at the disc.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arriving {
    /// Speed along the shaft over turns per second times diameter.
    pub advance: f64,
    /// Depth of the lowest tip over diameter.
    pub immersion: f64,
    /// Upward across the shaft (a shaft with its propeller end down), rad.
    pub upward_rad: f64,
    /// To port across the shaft, rad.
    pub to_port_rad: f64,
}

/// Forces over `rho n^2 D^4`, torque over `rho n^2 D^5`.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Coefficients {
    /// Along the shaft.
    pub kt: f64,
    /// About the shaft, as the shaft feels it.
    pub kq: f64,
    /// Up, square to the shaft.
    pub vertical: f64,
    /// To port, square to the shaft.
    pub side: f64,
}

impl Coefficients {
    fn map2(self, other: Self, f: impl Fn(f64, f64) -> f64) -> Self {
        Self {
            kt: f(self.kt, other.kt),
            kq: f(self.kq, other.kq),
            vertical: f(self.vertical, other.vertical),
            side: f(self.side, other.side),
        }
    }

    /// Each plus `weight` times another's.
    pub(crate) fn plus(self, weight: f64, other: Self) -> Self {
        self.map2(other, |a, b| a + weight * b)
    }
}

/// What a surface propeller gives and takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SurfacePropeller {
    /// Coefficients.
    pub coefficients: Coefficients,
    /// Useful power over shaft power; 0 where it does not drive.
    pub efficiency: f64,
    /// Of the working elements, from 0 wetted to 1 ventilated.
    pub ventilated: f64,
    /// Within the range above.
    pub in_range: bool,
    /// Why not.
    pub notes: Notes,
}

/// Coefficients at a state; the map is for many evaluations.
///
/// # Errors
/// [`InputError`] for a number of blades outside 1 to 12, a ratio not above zero, a boss over half the
/// diameter or a value that is not finite.
pub fn surface_propeller(b: &Blading, a: &Arriving) -> Result<SurfacePropeller, InputError> {
    check(b)?;
    require("advance", a.advance, "from 0 to 1000", |j| {
        (0.0..=1000.0).contains(&j)
    })?;
    finite("immersion_ratio", a.immersion)?;
    let cross = "within 45 deg of the shaft";
    require("shaft_angle", a.upward_rad, cross, |x| x.abs() <= PI / 4.0)?;
    require("yaw", a.to_port_rad, cross, |x| x.abs() <= PI / 4.0)?;
    let n = 1.0 / (1.0 + a.advance * a.advance).sqrt();
    let wheel = Wheel::new(b);
    let parts = wheel.parts(a.advance * n, n, a.immersion);
    let both = parts.crossed(a.upward_rad, a.to_port_rad, b.right_handed);
    let scale = 1.0 / (n * n);
    let k = Coefficients::default().plus(scale, both);
    let drives = k.kt > 0.0 && k.kq > 0.0;
    let (notes, out) = remarks(b, a);
    Ok(SurfacePropeller {
        coefficients: k,
        efficiency: if drives {
            a.advance * k.kt / (TAU * k.kq)
        } else {
            0.0
        },
        ventilated: parts.ventilated,
        in_range: !out,
        notes,
    })
}

fn check(b: &Blading) -> Result<(), InputError> {
    require("blades", b.blades, "from 1 to 12", |z| {
        (1.0..=12.0).contains(&z)
    })?;
    require("pitch_ratio", b.pitch_ratio, "from 0.1 to 5", |p| {
        (0.1..=5.0).contains(&p)
    })?;
    require("area_ratio", b.area_ratio, "from 0.02 to 1.5", |p| {
        (0.02..=1.5).contains(&p)
    })?;
    require("boss_ratio", b.boss_ratio, "from 0.05 to 0.5", |p| {
        (0.05..=0.5).contains(&p)
    })?;
    positive("thickness", b.thickness)?;
    require("entry_bias", b.entry_bias, "from 0 to 1", |x| {
        (0.0..=1.0).contains(&x)
    })?;
    Ok(())
}

fn remarks(b: &Blading, a: &Arriving) -> (Notes, bool) {
    let mut notes = Notes::default();
    notes.add_if(
        a.immersion < 1.0,
        "cut by the surface: carry 25 % on thrust and torque, 50 % on the cross forces",
    );
    let out = notes.add_if(
        !(2.0..=5.0).contains(&b.blades)
            || !(0.8..=2.0).contains(&b.pitch_ratio)
            || !(0.3..=0.8).contains(&b.area_ratio),
        "outside 2 to 5 blades, pitch ratio 0.8 to 2 or area ratio 0.3 to 0.8",
    ) | notes.add_if(
        a.upward_rad.hypot(a.to_port_rad) > 15f64.to_radians(),
        "water crosses the shaft by more than 15 deg",
    ) | notes.add_if(a.immersion <= 0.0, "out of the water");
    (notes, out)
}

/// Straight flow and the change by a radian of crossing flow, over `rho D^4 (V^2/D^2 + n^2)` and `D^5`.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Parts {
    pub straight: Coefficients,
    pub by_upward: Coefficients,
    pub by_port: Coefficients,
    pub ventilated: f64,
}

impl Parts {
    /// For a right-handed propeller and its mirror image.
    pub fn crossed(&self, upward: f64, to_port: f64, right_handed: bool) -> Coefficients {
        let hand = if right_handed { 1.0 } else { -1.0 };
        let mut k = self
            .straight
            .plus(upward, self.by_upward)
            .plus(hand * to_port, self.by_port);
        k.side *= hand;
        k
    }
}

/// A propeller cut into rings.
#[derive(Debug, Clone)]
pub(crate) struct Wheel {
    rings: Vec<Ring>,
    bias: f64,
}

impl Wheel {
    pub fn new(b: &Blading) -> Self {
        Self {
            rings: rings(b),
            bias: b.entry_bias,
        }
    }

    /// At speed `v` (diameters a second) and `n` turns a second, diameter and density 1.
    pub fn parts(&self, v: f64, n: f64, immersion: f64) -> Parts {
        self.over_the_arc(&self.forces(v, n), v, immersion)
    }

    /// Each ring covered and cut by the surface: the solving is done here, once for all immersions.
    fn forces(&self, v: f64, n: f64) -> Vec<[Forces; 2]> {
        let both = |ring: &Ring| [ring.forces(v, n, 0.0), ring.forces(v, n, 1.0)];
        self.rings.iter().map(both).collect()
    }

    /// Sums known ring forces over the arcs that an immersion leaves wet.
    fn over_the_arc(&self, forces: &[[Forces; 2]], v: f64, immersion: f64) -> Parts {
        let hub_depth = immersion - 0.5;
        let cut = 1.0 - crate::smooth::step(1.0, 1.5, immersion);
        let mut sum = Parts::default();
        let mut load = 0.0;
        for (ring, [covered, surfaced]) in self.rings.iter().zip(forces) {
            let arc = Arc::of(hub_depth / ring.radius);
            if arc.length <= 0.0 {
                continue;
            }
            let f = covered.mix(surfaced, cut);
            let share = f.thrust.abs() * arc.length;
            sum.ventilated += f.ventilated * share;
            load += share;
            ring.gather(&f, &arc, v, self.bias, &mut sum);
        }
        if load > 0.0 {
            sum.ventilated /= load;
        }
        sum
    }
}

/// Exact integrals over a ring's wet arc, `theta` from the top.
pub(crate) struct Arc {
    pub length: f64,
    pub cos: f64,
    pub cos2: f64,
    pub sin2: f64,
    pub sin2_cos: f64,
}

impl Arc {
    /// Wet where `cos theta < depth`, hub depth over radius.
    fn of(depth: f64) -> Self {
        let start = depth.clamp(-1.0, 1.0).acos();
        let (sin, cos) = start.sin_cos();
        let length = TAU - 2.0 * start;
        let half_double = sin * cos;
        Self {
            length,
            cos: -2.0 * sin,
            cos2: 0.5 * length - half_double,
            sin2: 0.5 * length + half_double,
            sin2_cos: -2.0 / 3.0 * sin.powi(3),
        }
    }
}

#[cfg(test)]
mod tests;
