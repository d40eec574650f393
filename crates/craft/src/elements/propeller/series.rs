//! The Wageningen B series (`laws::open_water`) as quadratics that hold at any shaft speed.
//!
//! `T = rho D^4 (a n^2 + b n V/D + c V^2/D^2)`, the same for torque with `D^5`: finite at standstill
//! and with a stopped shaft. Fitted once from standstill to just past zero thrust, which the thrust
//! curve passes exactly. Its polynomials hold to a pitch ratio of 1.4 and are followed to 1.6; at 2 they give back more
//! than they take, and at 2.3 thrust no longer falls as the boat gets faster. Steeper blades work at a slip as those of
//! 1.6 do, as efficiently (judgement).

use boat::Propeller as Given;
use laws::open_water;
use nalgebra::{Matrix3, Vector3};

/// Quadratics in advance ratio for thrust and torque coefficients.
#[derive(Debug, Clone)]
pub(super) struct Curves {
    thrust: [f64; 3],
    torque: [f64; 3],
}

/// Steepest pitch to which the series' polynomials are followed, in diameters.
const STEEPEST: f64 = 1.6;

impl Curves {
    pub fn of(given: &Given) -> Result<Self, laws::input::InputError> {
        Self::new(open_water::Propeller {
            blades: f64::from(given.blades),
            area_ratio: given.area_ratio.value,
            pitch_ratio: given.pitch_ratio.value,
        })
    }

    fn new(given: open_water::Propeller) -> Result<Self, laws::input::InputError> {
        let series = open_water::Propeller {
            pitch_ratio: given.pitch_ratio.min(STEEPEST),
            ..given
        };
        let steeper = given.pitch_ratio / series.pitch_ratio;
        open_water::open_water(&series, 0.0)?;
        let curves = open_water::Curves::new(&series);
        let end = curves.zero_thrust_advance();
        let points: Vec<(f64, f64, f64)> = (0..=40)
            .map(|i| {
                let advance = end * f64::from(i) / 40.0;
                let found = curves.at(advance);
                (steeper * advance, found.kt, steeper * found.kq)
            })
            .collect();
        Ok(Self {
            thrust: thrust_fit(&points, steeper * end),
            torque: quadratic(points.iter().map(|p| (p.0, p.2))),
        })
    }

    /// Over `rho D^4` and `rho D^5`, at turns a second and diameters a second.
    pub fn at(&self, turns: f64, relative: f64) -> (f64, f64) {
        let square = |c: &[f64; 3]| {
            c[0] * turns * turns + c[1] * turns * relative + c[2] * relative * relative
        };
        (square(&self.thrust), square(&self.torque).max(0.0))
    }
}

/// Least squares through zero at `end`: `K_T = (end - J)(p + q J)`.
fn thrust_fit(points: &[(f64, f64, f64)], end: f64) -> [f64; 3] {
    let (mut a, mut b, mut c, mut d, mut e) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for &(j, kt, _) in points {
        let (u, v) = (end - j, (end - j) * j);
        a += u * u;
        b += u * v;
        c += v * v;
        d += u * kt;
        e += v * kt;
    }
    let det = a * c - b * b;
    let (p, q) = ((d * c - e * b) / det, (a * e - b * d) / det);
    [p * end, q * end - p, -q]
}

fn quadratic(points: impl Iterator<Item = (f64, f64)>) -> [f64; 3] {
    let (mut normal, mut right) = (Matrix3::zeros(), Vector3::zeros());
    for (j, k) in points {
        let row = Vector3::new(1.0, j, j * j);
        normal += row * row.transpose();
        right += row * k;
    }
    let solved = normal
        .try_inverse()
        .map_or(Vector3::zeros(), |inverse| inverse * right);
    [solved.x, solved.y, solved.z]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(pitch_ratio: f64) -> Curves {
        let given = open_water::Propeller {
            blades: 2.0,
            area_ratio: 0.5,
            pitch_ratio,
        };
        Curves::new(given).expect("a propeller")
    }

    /// With no source: a steeper blade pulls at every speed at which a flatter one does, and asks for more torque.
    #[test]
    fn any_pitch_pulls_and_the_steeper_asks_for_more_torque() {
        let mut last = 0.0;
        for step in 5..=50 {
            let pitch_ratio = 0.1 * f64::from(step);
            let curves = at(pitch_ratio);
            let (thrust, torque) = curves.at(1.0, 0.0);
            assert!(
                thrust > 0.0 && torque > last,
                "{pitch_ratio}: {thrust} {torque}"
            );
            // At a slip of a quarter it still pulls, and gives back less than it takes.
            let advance = 0.75 * pitch_ratio;
            let (thrust, torque) = curves.at(1.0, advance);
            let efficiency = advance * thrust / (std::f64::consts::TAU * torque);
            assert!(
                (0.4..0.85).contains(&efficiency),
                "{pitch_ratio}: {efficiency}"
            );
            last = curves.at(1.0, 0.0).1;
        }
    }

    #[test]
    fn nothing_jumps_where_the_series_is_left() {
        for advance in [0.0, 0.5, 1.0, 1.5] {
            let (a, b) = (
                at(STEEPEST - 1e-3).at(1.0, advance),
                at(STEEPEST + 1e-3).at(1.0, advance),
            );
            assert!(
                (b.0 - a.0).abs() < 5e-3 && (b.1 - a.1).abs() < 5e-3,
                "{advance}: {a:?} {b:?}"
            );
        }
    }
}
