//! Coefficients on a grid, for solvers that ask many times.

use super::{Arriving, Blading, Coefficients, Parts, Wheel, check};
use crate::input::InputError;
use std::f64::consts::FRAC_PI_2;
use std::sync::OnceLock;

const ACROSS: usize = 49;
const DOWN: usize = 33;
const DEEPEST: f64 = 1.6;

/// One propeller's forces over advance (from standing still to a stopped shaft) and immersion.
///
/// Between grid points the surface is a cubic with continuous slope. Immersion is held at the ends
/// (nothing at 0, covered at 1.6); advance runs over `atan2(V, n D)`, so that every forward speed with
/// every forward rotation, even none, has a finite force. What an advance gives is computed when it is first asked.
#[derive(Debug, Clone)]
pub struct SurfacePropellerMap {
    wheel: Wheel,
    across: Vec<OnceLock<[Parts; DOWN]>>,
    right_handed: bool,
}

/// Forces in newtons and newton metres.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Load {
    /// Along the shaft, N.
    pub thrust_n: f64,
    /// N m.
    pub torque_n_m: f64,
    /// Up, square to the shaft, N.
    pub vertical_n: f64,
    /// The part of it that is there in straight flow: blades press down harder than they rise, N.
    pub lift_n: f64,
    /// To port, square to the shaft, N.
    pub side_n: f64,
}

/// A running state in plain units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Operating {
    /// kg/m3.
    pub density_kg_m3: f64,
    /// m.
    pub diameter_m: f64,
    /// Along the shaft; negative is taken as zero, m/s.
    pub speed_m_s: f64,
    /// Negative is taken as zero, rad/s.
    pub shaft_rad_s: f64,
    /// Depth of the lowest tip over diameter.
    pub immersion: f64,
    /// rad.
    pub upward_rad: f64,
    /// rad.
    pub to_port_rad: f64,
}

impl SurfacePropellerMap {
    /// For one propeller.
    ///
    /// # Errors
    /// As [`super::surface_propeller`].
    pub fn new(b: &Blading) -> Result<Self, InputError> {
        check(b)?;
        Ok(Self {
            wheel: Wheel::new(b),
            across: vec![OnceLock::new(); ACROSS],
            right_handed: b.right_handed,
        })
    }

    /// At one advance of the grid, over immersion.
    fn down(&self, across: usize) -> &[Parts; DOWN] {
        self.across[across].get_or_init(|| {
            let (v, n) = (FRAC_PI_2 * across as f64 / (ACROSS - 1) as f64).sin_cos();
            let forces = self.wheel.forces(v, n);
            std::array::from_fn(|down| {
                let immersion = DEEPEST * down as f64 / (DOWN - 1) as f64;
                self.wheel.over_the_arc(&forces, v, immersion)
            })
        })
    }

    /// Coefficients; advance below 1000.
    pub fn at(&self, a: &Arriving) -> Coefficients {
        let advance = a.advance.clamp(0.0, 1000.0);
        let per = self.parts(advance.atan(), a.immersion).crossed(
            a.upward_rad,
            a.to_port_rad,
            self.right_handed,
        );
        Coefficients::default().plus(1.0 + advance * advance, per)
    }

    /// Forces at a running state.
    pub fn load(&self, r: &Operating) -> Load {
        let v = r.speed_m_s.max(0.0) / r.diameter_m;
        let n = r.shaft_rad_s.max(0.0) / std::f64::consts::TAU;
        let scale = r.density_kg_m3 * r.diameter_m.powi(4) * (v * v + n * n);
        let parts = self.parts(v.atan2(n), r.immersion);
        let k = parts.crossed(r.upward_rad, r.to_port_rad, self.right_handed);
        Load {
            lift_n: scale * parts.straight.vertical,
            thrust_n: scale * k.kt,
            torque_n_m: scale * r.diameter_m * k.kq,
            vertical_n: scale * k.vertical,
            side_n: scale * k.side,
        }
    }

    fn parts(&self, angle: f64, immersion: f64) -> Parts {
        let (i, wi) = weights(angle / FRAC_PI_2, ACROSS);
        let (j, wj) = weights(immersion / DEEPEST, DOWN);
        let mut sum = Parts::default();
        for (across, weight_a) in i.into_iter().zip(wi) {
            let down = self.down(across);
            for (j, weight_b) in j.into_iter().zip(wj) {
                let weight = weight_a * weight_b;
                let p = &down[j];
                sum.straight = sum.straight.plus(weight, p.straight);
                sum.by_upward = sum.by_upward.plus(weight, p.by_upward);
                sum.by_port = sum.by_port.plus(weight, p.by_port);
            }
        }
        sum
    }
}

/// Four neighbours along a side and their weights (Catmull and Rom), held at the ends.
fn weights(place: f64, count: usize) -> ([usize; 4], [f64; 4]) {
    let last = count - 1;
    let x = place.clamp(0.0, 1.0) * last as f64;
    let i = (x as usize).min(last - 1);
    let t = x - i as f64;
    let (t2, t3) = (t * t, t * t * t);
    let near = [i.saturating_sub(1), i, i + 1, (i + 2).min(last)];
    let w = [
        0.5 * (-t + 2.0 * t2 - t3),
        0.5 * (2.0 - 5.0 * t2 + 3.0 * t3),
        0.5 * (t + 4.0 * t2 - 3.0 * t3),
        0.5 * (-t2 + t3),
    ];
    (near, w)
}
