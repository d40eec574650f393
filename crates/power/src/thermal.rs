//! Lumps of heat: winding, can, magnets, controller, pack and the air inside.
//!
//! - `C dT/dt = P - sum G (T - T_other)`; water takes `m c (1 - exp(-U A / (m c))) (T - T_water)` from a jacket and
//!   leaves it that much warmer for the next.
//! - Source: lumped heat capacities; the exponential is a wall at one temperature (any heat-transfer text).
//! - Valid: each part at one temperature. A winding's hot spot runs 10 to 20 K above its mean (from memory).
//! - Checks: one lump against its exponential; three against `scipy` (`checks/thermal_network.csv`).

/// Number of lumps.
pub const PARTS: usize = 6;

/// A lump.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// Copper of the motor.
    Winding,
    /// Its iron and case.
    Can,
    /// Its magnets and rotor.
    Magnets,
    /// Speed controller.
    Controller,
    /// Cells.
    Pack,
    /// Air inside the hull.
    Air,
}

impl Part {
    /// In the order of every array here.
    pub const ALL: [Self; PARTS] = [
        Self::Winding,
        Self::Can,
        Self::Magnets,
        Self::Controller,
        Self::Pack,
        Self::Air,
    ];

    /// For a reader.
    pub fn name(self) -> &'static str {
        match self {
            Self::Winding => "winding",
            Self::Can => "motor can",
            Self::Magnets => "magnets",
            Self::Controller => "controller",
            Self::Pack => "pack",
            Self::Air => "air inside",
        }
    }
}

/// Capacities and what joins them.
#[derive(Debug, Clone, PartialEq)]
pub struct Network {
    /// J/K.
    pub capacity_j_k: [f64; PARTS],
    /// Between two lumps, W/K.
    pub links: Vec<(Part, Part, f64)>,
    /// From a lump to what is outside, W/K.
    pub to_outside: [f64; PARTS],
    /// K.
    pub outside_k: f64,
}

impl Network {
    /// Warming of each lump, K/s, and heat lost outside, W, for heat put in, W.
    pub fn rates(
        &self,
        temperature_k: &[f64; PARTS],
        heat_w: &[f64; PARTS],
    ) -> ([f64; PARTS], f64) {
        let mut net = *heat_w;
        for &(a, b, g) in &self.links {
            let flow = g * (temperature_k[a as usize] - temperature_k[b as usize]);
            net[a as usize] -= flow;
            net[b as usize] += flow;
        }
        let mut lost = 0.0;
        for i in 0..PARTS {
            let flow = self.to_outside[i] * (temperature_k[i] - self.outside_k);
            net[i] -= flow;
            lost += flow;
        }
        (std::array::from_fn(|i| net[i] / self.capacity_j_k[i]), lost)
    }

    /// Heat held above outside, J.
    pub fn stored_j(&self, temperature_k: &[f64; PARTS]) -> f64 {
        (0..PARTS)
            .map(|i| self.capacity_j_k[i] * (temperature_k[i] - self.outside_k))
            .sum()
    }
}

/// One lump heated evenly: exact.
pub fn warmed_k(
    start_k: f64,
    outside_k: f64,
    heat_w: f64,
    g_w_k: f64,
    c_j_k: f64,
    time_s: f64,
) -> f64 {
    if g_w_k <= 0.0 {
        return start_k + heat_w * time_s / c_j_k;
    }
    let end = outside_k + heat_w / g_w_k;
    end + (start_k - end) * (-g_w_k * time_s / c_j_k).exp()
}

/// Seconds until one lump heated evenly reaches a limit; absent when it never does.
pub fn seconds_to(
    limit_k: f64,
    start_k: f64,
    outside_k: f64,
    heat_w: f64,
    g_w_k: f64,
    c_j_k: f64,
) -> Option<f64> {
    if start_k >= limit_k {
        return Some(0.0);
    }
    if g_w_k <= 0.0 {
        return (heat_w > 0.0).then(|| (limit_k - start_k) * c_j_k / heat_w);
    }
    let end = outside_k + heat_w / g_w_k;
    (end > limit_k).then(|| c_j_k / g_w_k * ((end - start_k) / (end - limit_k)).ln())
}

#[cfg(test)]
mod tests {
    use super::*;
    use laws::numerics::ode::{Accuracy, integrate};

    fn tight() -> Accuracy {
        Accuracy {
            relative: 1e-10,
            absolute: 1e-10,
            longest: 5.0,
            most_steps: 100_000,
        }
    }

    #[test]
    fn one_lump_follows_its_exponential() {
        let mut to_outside = [0.0; PARTS];
        to_outside[0] = 2.0;
        let n = Network {
            capacity_j_k: [15.0; PARTS],
            links: vec![],
            to_outside,
            outside_k: 293.15,
        };
        let mut heat = [0.0; PARTS];
        heat[0] = 90.0;
        let f = |_: f64, t: &[f64; PARTS]| n.rates(t, &heat).0;
        let end = integrate(f, 0.0, 20.0, [293.15; PARTS], &tight(), |_, _, _| {}).unwrap();
        let exact = warmed_k(293.15, 293.15, 90.0, 2.0, 15.0, 20.0);
        assert!((end[0] - exact).abs() < 1e-7);
        let s = seconds_to(exact, 293.15, 293.15, 90.0, 2.0, 15.0).unwrap();
        assert!((s - 20.0).abs() < 1e-9);
        assert!(seconds_to(400.0, 293.15, 293.15, 90.0, 2.0, 15.0).is_none());
    }

    #[test]
    fn three_lumps_agree_with_scipy() {
        let text = include_str!("../../../checks/thermal_network.csv");
        let n = Network {
            capacity_j_k: [15.4, 62.0, 12.0, 42.0, 380.0, 2.4],
            links: vec![
                (Part::Winding, Part::Can, 1.5),
                (Part::Can, Part::Magnets, 0.4),
            ],
            to_outside: [0.0, 3.0, 0.0, 0.0, 0.0, 0.0],
            outside_k: 290.0,
        };
        let f = |t: f64, y: &[f64; PARTS]| {
            let copper = 60.0 * (1.0 + 0.0039 * (y[0] - 293.15)) * (1.0 + 0.5 * (0.3 * t).sin());
            n.rates(y, &[copper, 12.0, 3.0, 0.0, 0.0, 0.0]).0
        };
        let mut rows = 0;
        for line in text.lines().skip(2) {
            let cells: Vec<f64> = line.split(',').map(|c| c.parse().unwrap()).collect();
            let end = integrate(f, 0.0, cells[0], [295.0; PARTS], &tight(), |_, _, _| {}).unwrap();
            for i in 0..3 {
                assert!((end[i] - cells[1 + i]).abs() < 1e-6, "{line} {end:?}");
            }
            rows += 1;
        }
        assert_eq!(rows, 6);
    }
}
