//! What propeller and hull ask, as plain tables.

use crate::PowerError;

/// Straight lines through points rising in the first column; held at the ends.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    points: Vec<(f64, f64)>,
}

impl Curve {
    /// Checks and keeps the points.
    ///
    /// # Errors
    /// [`PowerError::Table`] for fewer than two, one that is not finite, or a first column that does not rise.
    pub fn new(table: &'static str, points: Vec<(f64, f64)>) -> Result<Self, PowerError> {
        let bad = |i: &usize| {
            let (x, y) = points[*i];
            !x.is_finite() || !y.is_finite() || (*i > 0 && x <= points[i - 1].0)
        };
        let first = (0..points.len()).find(bad);
        match first {
            Some(i) => Err(PowerError::Table { table, row: i + 1 }),
            None if points.len() < 2 => Err(PowerError::Table {
                table,
                row: points.len() + 1,
            }),
            None => Ok(Self { points }),
        }
    }

    /// The same everywhere.
    pub fn level(value: f64) -> Self {
        Self {
            points: vec![(0.0, value), (1.0, value)],
        }
    }

    /// Value at `x`.
    pub fn at(&self, x: f64) -> f64 {
        let after = self.points.partition_point(|p| p.0 <= x);
        if after == 0 {
            return self.points[0].1;
        }
        let Some(&(x1, y1)) = self.points.get(after) else {
            return self.points[after - 1].1;
        };
        let (x0, y0) = self.points[after - 1];
        y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    }

    /// The points.
    pub fn points(&self) -> &[(f64, f64)] {
        &self.points
    }

    /// Largest first column.
    pub fn last(&self) -> f64 {
        self.points[self.points.len() - 1].0
    }
}

/// A propeller by its coefficients over advance `atan2(V, n D)`, at the immersion it runs at; that may change
/// with speed, a row of coefficients a speed.
///
/// `thrust = rho D^4 (n^2 + V^2/D^2) c_t`, `torque = rho D^5 (n^2 + V^2/D^2) c_q`: finite at any speed and
/// rotation. `c_t = K_T / (1 + J^2)` at `J = tan` of the angle.
#[derive(Debug, Clone, PartialEq)]
pub struct PropellerTable {
    /// m.
    pub diameter_m: f64,
    /// kg/m3.
    pub density_kg_m3: f64,
    rows: Vec<Row>,
}

/// Coefficients at one speed.
#[derive(Debug, Clone, PartialEq)]
struct Row {
    speed_m_s: f64,
    thrust: Vec<f64>,
    torque: Vec<f64>,
}

const ANGLES: usize = 97;

impl PropellerTable {
    /// From thrust and torque coefficients per `rho n^2 D^4` and `D^5` at an advance ratio. Advance from 0 to
    /// 40 is asked for; beyond, the last values hold.
    pub fn new(
        diameter_m: f64,
        density_kg_m3: f64,
        mut coefficients: impl FnMut(f64) -> (f64, f64),
    ) -> Self {
        let at_any_speed = |_: f64, advance: f64| coefficients(advance);
        Self::along(diameter_m, density_kg_m3, &[0.0], at_any_speed)
    }

    /// The same at each of some rising speeds (m/s): the coefficients are asked for at a speed and an advance
    /// ratio. Straight between speeds, held beyond the first and last.
    pub fn along(
        diameter_m: f64,
        density_kg_m3: f64,
        speeds_m_s: &[f64],
        mut coefficients: impl FnMut(f64, f64) -> (f64, f64),
    ) -> Self {
        let row = |&speed_m_s: &f64| {
            let (thrust, torque) = (0..ANGLES)
                .map(|i| {
                    let angle = std::f64::consts::FRAC_PI_2 * i as f64 / (ANGLES - 1) as f64;
                    let advance = angle.tan().clamp(0.0, 40.0);
                    let (kt, kq) = coefficients(speed_m_s, advance);
                    let whole = 1.0 + advance * advance;
                    (kt / whole, kq / whole)
                })
                .unzip();
            Row {
                speed_m_s,
                thrust,
                torque,
            }
        };
        Self {
            diameter_m,
            density_kg_m3,
            rows: speeds_m_s.iter().map(row).collect(),
        }
    }

    /// A surface propeller at a steady immersion, by [`laws::surface_propeller`].
    pub fn of_map(
        map: &laws::surface_propeller::SurfacePropellerMap,
        diameter_m: f64,
        density_kg_m3: f64,
        immersion: f64,
    ) -> Self {
        Self::new(diameter_m, density_kg_m3, |advance| {
            let k = map.at(&laws::surface_propeller::Arriving {
                advance,
                immersion,
                upward_rad: 0.0,
                to_port_rad: 0.0,
            });
            (k.kt, k.kq)
        })
    }

    /// Thrust, N, and torque, N m, at a speed and shaft speed (rad/s), neither negative.
    pub fn load(&self, speed_m_s: f64, shaft_rad_s: f64) -> (f64, f64) {
        let d = self.diameter_m;
        let v = speed_m_s.max(0.0) / d;
        let n = shaft_rad_s.max(0.0) / std::f64::consts::TAU;
        let place = v.atan2(n) / std::f64::consts::FRAC_PI_2 * (ANGLES - 1) as f64;
        let (a, b, part) = self.around(speed_m_s);
        let between = |of: fn(&Row) -> &[f64]| {
            let low = at_place(of(a), place);
            low + part * (at_place(of(b), place) - low)
        };
        let scale = self.density_kg_m3 * d.powi(4) * (v * v + n * n);
        (
            scale * between(|r| &r.thrust),
            scale * d * between(|r| &r.torque),
        )
    }

    /// The rows around a speed, and how far between them.
    fn around(&self, speed_m_s: f64) -> (&Row, &Row, f64) {
        let after = self.rows.partition_point(|r| r.speed_m_s <= speed_m_s);
        let b = &self.rows[after.min(self.rows.len() - 1)];
        let a = &self.rows[after.saturating_sub(1)];
        let width = b.speed_m_s - a.speed_m_s;
        let part = if width > 0.0 {
            (speed_m_s - a.speed_m_s) / width
        } else {
            0.0
        };
        (a, b, part)
    }
}

fn at_place(values: &[f64], place: f64) -> f64 {
    let i = (place as usize).min(ANGLES - 2);
    let t = place - i as f64;
    values[i] + t * (values[i + 1] - values[i])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn curves_hold_their_ends_and_refuse_bad_rows() {
        let c = Curve::new("drag", vec![(0.0, 1.0), (2.0, 5.0)]).unwrap();
        assert_eq!((c.at(-1.0), c.at(1.0), c.at(9.0)), (1.0, 3.0, 5.0));
        let bad = Curve::new("drag", vec![(0.0, 1.0), (0.0, 5.0)]).unwrap_err();
        assert!(bad.to_string().contains("row 2"));
        assert!(Curve::new("drag", vec![(0.0, 1.0)]).is_err());
        assert!(Curve::new("drag", vec![(0.0, f64::NAN), (1.0, 0.0)]).is_err());
    }

    #[test]
    fn table_gives_back_its_coefficients() {
        let p = PropellerTable::new(0.04, 1000.0, |j| (0.4 - 0.3 * j, 0.06 - 0.04 * j));
        let (n, j) = (300.0, 0.8);
        let (thrust, torque) = p.load(j * n * 0.04, n * std::f64::consts::TAU);
        let scale = 1000.0 * n * n * 0.04f64.powi(4);
        assert!((thrust / scale - 0.16).abs() < 2e-4, "{}", thrust / scale);
        assert!((torque / scale / 0.04 - 0.028).abs() < 2e-4);
        assert_eq!(p.load(0.0, 0.0), (0.0, 0.0));
        assert!(p.load(10.0, 0.0).0 < 0.0);
    }

    #[test]
    fn coefficients_follow_the_speed_straight_between_rows() {
        let p = PropellerTable::along(0.04, 1000.0, &[2.0, 4.0], |v, _| (0.1 * v, 0.01 * v));
        let per = |v: f64| {
            let scale = 1000.0 * 0.04f64.powi(4) * (1e4 + (v / 0.04).powi(2));
            let j = v / (100.0 * 0.04);
            p.load(v, 100.0 * std::f64::consts::TAU).0 / scale * (1.0 + j * j)
        };
        for (v, kt) in [(1.0, 0.2), (2.0, 0.2), (3.0, 0.3), (4.0, 0.4), (9.0, 0.4)] {
            assert!((per(v) - kt).abs() < 2e-3 * kt, "{v}: {}", per(v));
        }
    }
}
