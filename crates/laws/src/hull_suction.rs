//! Suction of a propeller on the hull bottom ahead of it.
//!
//! - A working disc draws water in as an even sheet of sinks of strength `2 u` a unit area,
//!   `u = (-V + sqrt(V^2 + 2 T / (rho A))) / 2`. Ahead of it the pressure falls by
//!   `rho (V u_x + |u|^2 / 2)`, `u_x` the speed aft that the sinks induce. A wall doubles speeds along
//!   itself and a free surface lets none arise, so a bottom of width `b` is taken to feel them
//!   `2 / (1 + (2 d / b)^2)` times at a distance `d` from the sink: a wide bottom near it, free surface far
//!   off (the shape of that blend is ours). The sum over the flat panel is the force.
//! - Source: Rankine and Froude's disc; point sinks (Lamb, Hydrodynamics); the sheet as nineteen equal
//!   points is ours.
//! - Units: m, N, N m, m/s, kg/m3. Force up, so suction is negative; moment about the panel's after edge,
//!   positive lifting the bow: suction there pulls the whole bottom down.
//! - Valid: panel wetted, ahead of the disc and level with its shaft; disc ahead of or behind the after edge. A
//!   surface-piercing disc draws air from above and pulls less: pass its wet area. Chord and swirl of blades
//!   left out; no measurement at our size, carry 50 %.
//! - Checks: speed on the axis `u (1 - x / sqrt(x^2 + R^2))`; one sink from afar.

use crate::input::{InputError, finite, positive};
use std::f64::consts::PI;

/// A disc and the flat bottom ahead of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HullSuction {
    /// Disc diameter, m.
    pub diameter_m: f64,
    /// Shaft's depth below the bottom, m.
    pub depth_m: f64,
    /// Disc behind the bottom's after edge; negative when under the bottom, m.
    pub setback_m: f64,
    /// Bottom from its after edge forward, m.
    pub length_m: f64,
    /// Across, m.
    pub width_m: f64,
}

/// Geometry of the pull, worked out once: multiply by the flow for a force.
#[derive(Debug, Clone, PartialEq)]
pub struct SuctionField {
    area_m2: f64,
    length_m: f64,
    /// From the after edge to each strip's fore edge.
    upto: Vec<Sums>,
}

/// Over part of the panel.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
struct Sums {
    /// Force over `rho V u`, m2, and over `rho u^2 / 2`.
    linear_m2: f64,
    square_m2: f64,
    /// The same, times the distance ahead of the after edge, m3.
    linear_m3: f64,
    square_m3: f64,
}

impl Sums {
    fn mix(&self, other: &Self, share: f64) -> Self {
        let mix = crate::smooth::mix;
        Self {
            linear_m2: mix(self.linear_m2, other.linear_m2, share),
            square_m2: mix(self.square_m2, other.square_m2, share),
            linear_m3: mix(self.linear_m3, other.linear_m3, share),
            square_m3: mix(self.square_m3, other.square_m3, share),
        }
    }
}

/// Strips along the panel.
const LONG: usize = 48;

/// Pull on the bottom.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Suction {
    /// Up; negative pulls down, N.
    pub force_n: f64,
    /// About the after edge, N m; positive lifts the bow.
    pub moment_n_m: f64,
    /// Where the force acts, ahead of the after edge, m.
    pub ahead_m: f64,
    /// Speed added at the disc, m/s.
    pub induced_m_s: f64,
}

/// Nineteen points of equal area: one, six and twelve.
fn points(radius: f64) -> impl Iterator<Item = (f64, f64)> {
    // Rings that hold 1, 6 and 12 of 19 parts; a ring's points at its area's middle radius.
    let rings = [
        (1, 0.0),
        (6, (4.0f64 / 19.0).sqrt()),
        (12, (13.0f64 / 19.0).sqrt()),
    ];
    rings.into_iter().flat_map(move |(n, r)| {
        (0..n).map(move |i| {
            let (sin, cos) = (2.0 * PI * (f64::from(i) + 0.5) / f64::from(n)).sin_cos();
            (radius * r * cos, radius * r * sin)
        })
    })
}

impl SuctionField {
    /// Sums the disc's sinks over the panel.
    ///
    /// # Errors
    /// [`InputError`] for a size not above zero.
    pub fn new(h: &HullSuction) -> Result<Self, InputError> {
        let radius = 0.5 * positive("diameter", h.diameter_m)?;
        positive("depth", h.depth_m)?;
        finite("setback", h.setback_m)?;
        positive("length", h.length_m)?;
        positive("width", h.width_m)?;
        Ok(Self {
            area_m2: PI * radius * radius,
            length_m: h.length_m,
            upto: sums(h, radius),
        })
    }

    /// Pull at a thrust and speed.
    ///
    /// # Errors
    /// [`InputError`] for a density not above zero or a value that is not finite.
    pub fn suction(
        &self,
        thrust_n: f64,
        speed_m_s: f64,
        density_kg_m3: f64,
    ) -> Result<Suction, InputError> {
        finite("thrust", thrust_n)?;
        finite("speed", speed_m_s)?;
        positive("density", density_kg_m3)?;
        let all = self.length_m;
        Ok(self.pull(thrust_n, speed_m_s, density_kg_m3, self.area_m2, all))
    }

    /// [`suction`](Self::suction) on checked values, for a disc of which `wet_area_m2` works and a panel
    /// of which `wet_m` from the after edge is wet. A braking propeller is taken to press nothing.
    pub fn pull(
        &self,
        thrust_n: f64,
        speed_m_s: f64,
        density: f64,
        wet_area_m2: f64,
        wet_m: f64,
    ) -> Suction {
        let wet = self.upto(wet_m);
        let v = speed_m_s.max(0.0);
        let area = wet_area_m2.clamp(1e-9 * self.area_m2, self.area_m2);
        let load = 2.0 * thrust_n.max(0.0) / (density * area);
        let induced = 0.5 * ((v * v + load).sqrt() - v);
        // Fewer sinks of the same strength when part of the disc is out.
        let share = area / self.area_m2;
        let linear = density * v * induced * share;
        let square = 0.5 * density * (induced * share).powi(2);
        let force = -(linear * wet.linear_m2 + square * wet.square_m2);
        let moment = -(linear * wet.linear_m3 + square * wet.square_m3);
        Suction {
            force_n: force,
            moment_n_m: moment,
            ahead_m: if force == 0.0 { 0.0 } else { moment / force },
            induced_m_s: induced,
        }
    }

    fn upto(&self, wet_m: f64) -> Sums {
        let place = (wet_m / self.length_m).clamp(0.0, 1.0) * LONG as f64;
        let i = (place as usize).min(LONG - 1);
        self.upto[i].mix(&self.upto[i + 1], place - i as f64)
    }
}

/// The disc's sinks summed over the panel, strip by strip from the after edge.
fn sums(h: &HullSuction, radius: f64) -> Vec<Sums> {
    const WIDE: usize = 16;
    let cell = h.length_m * h.width_m / (LONG * WIDE) as f64;
    let mut upto = vec![Sums::default()];
    let mut sum = Sums::default();
    for i in 0..LONG {
        let ahead = h.length_m * (i as f64 + 0.5) / LONG as f64;
        for j in 0..WIDE {
            let y = h.width_m * ((j as f64 + 0.5) / WIDE as f64 - 0.5);
            let (aft, square) = speed(h, radius, ahead + h.setback_m, y);
            sum.linear_m2 += aft * cell;
            sum.square_m2 += square * cell;
            sum.linear_m3 += aft * cell * ahead;
            sum.square_m3 += square * cell * ahead;
        }
        upto.push(sum);
    }
    upto
}

/// Speed aft and the square of the speed along the bottom, for unit speed at the disc.
fn speed(h: &HullSuction, radius: f64, x: f64, y: f64) -> (f64, f64) {
    let wall = |d2: f64| 2.0 / (1.0 + 4.0 * d2 / h.width_m.powi(2));
    let (aft, side) = sinks(radius, h.depth_m, x, y, wall);
    (aft, aft * aft + side * side)
}

/// Speeds aft and outward at a point ahead of the disc, each sink weighed by its distance along the
/// bottom squared.
fn sinks(radius: f64, depth: f64, x: f64, y: f64, wall: impl Fn(f64) -> f64) -> (f64, f64) {
    let strength = 2.0 * PI * radius * radius / 19.0 / (4.0 * PI);
    let (mut aft, mut side) = (0.0, 0.0);
    for (py, pz) in points(radius) {
        let (dy, z) = (y - py, depth + pz);
        // No nearer than a point's own patch.
        let r2 = (x * x + dy * dy + z * z).max((0.23 * radius).powi(2));
        let pull = strength * wall(x * x + dy * dy) / (r2 * r2.sqrt());
        aft += pull * x;
        side += pull * dy;
    }
    (aft, side)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::relative;

    fn under() -> HullSuction {
        HullSuction {
            diameter_m: 0.04,
            depth_m: 0.025,
            setback_m: -0.02,
            length_m: 0.3,
            width_m: 0.1,
        }
    }

    #[test]
    fn speed_on_the_axis_is_the_sheets() {
        for x in [0.02, 0.03, 0.06, 0.2] {
            let (aft, side) = sinks(0.02, 0.0, x, 0.0, |_| 1.0);
            let exact = 1.0 - x / x.hypot(0.02);
            assert!(relative(aft, exact) < 0.02, "{x}: {aft} {exact}");
            assert!(side.abs() < 1e-12);
        }
    }

    #[test]
    fn from_afar_the_disc_is_one_sink() {
        let (aft, _) = sinks(0.02, 0.3, 0.4, 0.1, |_| 1.0);
        let r2 = 0.4f64.powi(2) + 0.1f64.powi(2) + 0.3f64.powi(2);
        let exact = 2.0 * PI * 0.02f64.powi(2) / (4.0 * PI) * 0.4 / r2.powf(1.5);
        assert!(relative(aft, exact) < 0.005, "{aft} {exact}");
    }

    #[test]
    fn under_the_hull_it_pulls_and_set_back_it_hardly_does() {
        let at = |setback_m| {
            let f = SuctionField::new(&HullSuction {
                setback_m,
                ..under()
            })
            .unwrap();
            f.suction(20.0, 8.0, 1000.0).unwrap()
        };
        let (near, far) = (at(-0.02), at(0.08));
        assert!(near.force_n < 0.0 && far.force_n < 0.0);
        assert!(
            far.force_n.abs() < 0.35 * near.force_n.abs(),
            "{near:?} {far:?}"
        );
        assert!(near.moment_n_m < 0.0 && near.ahead_m < 0.1);
        let mut last = at(0.0).force_n;
        for i in 1..20 {
            let f = at(0.01 * f64::from(i)).force_n;
            assert!(f > last);
            last = f;
        }
    }

    #[test]
    fn standing_still_it_still_pulls_and_braking_it_does_not() {
        let f = SuctionField::new(&under()).unwrap();
        assert!(f.suction(20.0, 0.0, 1000.0).unwrap().force_n < 0.0);
        assert_eq!(f.suction(-5.0, 8.0, 1000.0).unwrap().force_n, 0.0);
        assert!(f.suction(f64::NAN, 8.0, 1000.0).is_err());
    }
}
