//! Floating on the columns: a quick start for the running solvers. The exact answer at rest is
//! [`crate::rest`].

use form::Columns;
use laws::numerics::roots::{Bracket, root};
use nalgebra::{Matrix3, Vector3};

use crate::attitude::up;
use crate::craft::CraftError;
use crate::solution::{Attitude, MassProperties};

/// Afloat on the columns.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Floated {
    pub attitude: Attitude,
    pub volume_m3: f64,
    pub waterplane_m2: f64,
    /// Length of the waterline, m.
    pub waterline_m: f64,
}

/// Newton on rise, trim and heel with stiffness from the cut columns.
pub(crate) fn float_on_columns(
    columns: &Columns,
    mass: &MassProperties,
    density_kg_m3: f64,
) -> Result<Floated, CraftError> {
    let whole: f64 = columns
        .area_m2
        .iter()
        .zip(&columns.top_m)
        .zip(&columns.bottom_m)
        .map(|((a, t), b)| a * (t - b))
        .sum();
    let wanted = mass.mass_kg / density_kg_m3;
    if wanted >= whole {
        return Err(CraftError::Sinks {
            mass_kg: mass.mass_kg,
            hull_kg: whole * density_kg_m3,
        });
    }
    let mut attitude = Attitude {
        rise_m: level_rise(columns, wanted),
        trim_rad: 0.0,
        heel_rad: 0.0,
    };
    for _ in 0..60 {
        let cut = Cut::of(columns, &attitude);
        let residual = cut.residual(wanted, &mass.cg_m, &attitude);
        if residual[0].abs() < 1e-7 * wanted && residual[1].hypot(residual[2]) < 1e-6 * wanted {
            break;
        }
        let step = difference_step(columns, wanted, &mass.cg_m, &attitude, &residual);
        attitude.rise_m += step[0].clamp(-0.01, 0.01);
        attitude.trim_rad = (attitude.trim_rad + step[1].clamp(-0.05, 0.05)).clamp(-1.2, 1.2);
        attitude.heel_rad = (attitude.heel_rad + step[2].clamp(-0.1, 0.1)).clamp(-1.2, 1.2);
    }
    let cut = Cut::of(columns, &attitude);
    Ok(Floated {
        attitude,
        volume_m3: cut.volume,
        waterplane_m2: cut.area,
        waterline_m: (cut.fore - cut.aft).max(0.05),
    })
}

fn level_rise(columns: &Columns, wanted: f64) -> f64 {
    let low = columns
        .bottom_m
        .iter()
        .copied()
        .fold(f64::INFINITY, f64::min);
    let high = columns
        .top_m
        .iter()
        .copied()
        .fold(f64::NEG_INFINITY, f64::max);
    let excess = |rise_m: f64| {
        let level = Attitude {
            rise_m,
            trim_rad: 0.0,
            heel_rad: 0.0,
        };
        Cut::of(columns, &level).volume - wanted
    };
    let bracket = Bracket {
        a: (-high, excess(-high)),
        b: (-low, excess(-low)),
    };
    root(excess, bracket, 1e-9).unwrap_or(-0.5 * (low + high))
}

fn difference_step(
    columns: &Columns,
    wanted: f64,
    cg: &Vector3<f64>,
    at: &Attitude,
    residual: &Vector3<f64>,
) -> Vector3<f64> {
    let h = [1e-5, 1e-4, 1e-4];
    let mut jacobian = Matrix3::zeros();
    for (i, h) in h.into_iter().enumerate() {
        let mut there = *at;
        match i {
            0 => there.rise_m += h,
            1 => there.trim_rad += h,
            _ => there.heel_rad += h,
        }
        let moved = Cut::of(columns, &there).residual(wanted, cg, &there);
        jacobian.set_column(i, &((moved - residual) / h));
    }
    jacobian
        .lu()
        .solve(&-residual)
        .unwrap_or_else(Vector3::zeros)
}

struct Cut {
    volume: f64,
    moment: Vector3<f64>,
    area: f64,
    aft: f64,
    fore: f64,
}

impl Cut {
    fn of(c: &Columns, attitude: &Attitude) -> Self {
        let up = up(attitude.trim_rad, attitude.heel_rad);
        let mut cut = Self {
            volume: 0.0,
            moment: Vector3::zeros(),
            area: 0.0,
            aft: f64::INFINITY,
            fore: f64::NEG_INFINITY,
        };
        for i in 0..c.x_m.len() {
            let (x, y) = (c.x_m[i], c.y_m[i]);
            let level = (-attitude.rise_m - up.x * x - up.y * y) / up.z.max(0.1);
            let high = c.top_m[i].min(level);
            let volume = (high - c.bottom_m[i]).max(0.0) * c.area_m2[i];
            if volume <= 0.0 {
                continue;
            }
            cut.volume += volume;
            cut.moment += volume * Vector3::new(x, y, 0.5 * (high + c.bottom_m[i]));
            cut.aft = cut.aft.min(x);
            cut.fore = cut.fore.max(x);
            if level < c.top_m[i] {
                cut.area += c.area_m2[i];
            }
        }
        cut
    }

    /// Volume, and the horizontal distances of buoyancy from weight times volume.
    fn residual(&self, wanted: f64, cg: &Vector3<f64>, at: &Attitude) -> Vector3<f64> {
        let up = up(at.trim_rad, at.heel_rad);
        let arm = self.moment - cg * self.volume;
        let turn = arm.cross(&up);
        Vector3::new(self.volume - wanted, turn.y, turn.x)
    }
}
