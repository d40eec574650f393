//! Cooling water: from the pickup's ram pressure through tube, fittings and jackets to the outlet.
//!
//! - `eta rho V^2 / 2 - rho g h` drives it, `h` the line's highest point above the water and `eta` what the pickup
//!   keeps of the ram pressure; the pieces in a row lose `sum rho v^2 / 2 (f L / D + K)` (`laws::pipe_flow`).
//!   Each jacket gives `U A = 1 / (1 / (h A) + 1 / G)`, `h` by `laws::tube_heat`, `G` through its wall.
//! - Source: Bernoulli; `eta` 0.6 with a spread of 0.3 is judgement, as pickups differ.
//! - Valid: line full of water once the boat is faster than `sqrt(2 g h / eta)`; below, nothing flows. Air in the
//!   line takes its share of flow and of wetted wall. Water that stands still takes nothing here, so a blocked
//!   pickup is a little pessimistic until the jacket has boiled dry.
//! - Checks: closed form for a line of one laminar tube.

use crate::PowerError;
use crate::thermal::Part;
use laws::constants::GRAVITY_M_S2;
use laws::pipe_flow::{Known, Pipe, pipe_flow};
use laws::tube_heat::{Tube, Wall, tube_heat};

/// J/(kg K) of water.
pub const WATER_J_KG_K: f64 = 4184.0;
const SPEEDS: usize = 49;

/// A piece of the line, in the order water meets it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Piece {
    /// Bore, m.
    pub bore_m: f64,
    /// m.
    pub length_m: f64,
    /// Loss coefficients of its fittings, on its bore.
    pub fittings_k: f64,
    /// What it cools and the conductance of the wall between, W/K.
    pub cools: Option<(Part, f64)>,
}

/// A water line.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Part of the ram pressure that the pickup keeps.
    pub recovery: f64,
    /// Highest point above the water, m.
    pub rise_m: f64,
    /// Air by volume, 0 to 1.
    pub air: f64,
    /// Nothing comes in.
    pub blocked: bool,
    /// In order; the pickup's hole first, the outlet last.
    pub pieces: Vec<Piece>,
}

/// Part of the ram pressure kept when nothing is known.
pub const RECOVERY: f64 = 0.6;

/// Conductance of a jacket's or coil's wall, W/K (judgement: a brass coil pressed on).
const WALL_W_K: [(boat::Cooled, Part, f64); 2] = [
    (boat::Cooled::Controller, Part::Controller, 4.0),
    (boat::Cooled::Motor, Part::Can, 6.0),
];

impl Line {
    /// From the boat file.
    pub fn of(given: &boat::CoolingLoop) -> Self {
        let cooled: Vec<(Part, f64)> = given
            .order
            .iter()
            .flat_map(|what| WALL_W_K.iter().filter(move |wall| wall.0 == *what))
            .map(|&(_, part, wall)| (part, wall))
            .collect();
        Self {
            recovery: given.recovery.value,
            rise_m: given.rise_m.value,
            ..Self::usual(
                given.pickup_m.value,
                given.bore_m.value,
                given.length_m.value,
                &cooled,
            )
        }
    }

    /// Pickup hole, tube, then one coil or jacket for each part in order, then the outlet.
    pub fn usual(hole_m: f64, bore_m: f64, tube_m: f64, cooled: &[(Part, f64)]) -> Self {
        let plain = |bore_m, length_m, fittings_k| Piece {
            bore_m,
            length_m,
            fittings_k,
            cools: None,
        };
        let mut pieces = vec![plain(hole_m, 0.01, 0.5), plain(bore_m, tube_m, 2.0)];
        pieces.extend(cooled.iter().map(|&(part, wall)| Piece {
            bore_m,
            length_m: 0.25,
            fittings_k: 2.0,
            cools: Some((part, wall)),
        }));
        pieces.push(plain(bore_m, 0.1, 1.0));
        Self {
            recovery: RECOVERY,
            rise_m: 0.05,
            air: 0.0,
            blocked: false,
            pieces,
        }
    }

    /// Speed at which the ram pressure lifts the water over the highest point, m/s.
    pub fn starts_m_s(&self) -> f64 {
        (2.0 * GRAVITY_M_S2 * self.rise_m.max(0.0) / self.recovery.max(1e-6)).sqrt()
    }

    /// The same with one piece squeezed to a part of its bore's area over a short length.
    pub fn kinked(mut self, piece: usize, area_left: f64) -> Self {
        if let Some(p) = self.pieces.get_mut(piece) {
            // Sudden narrowing and widening, on the whole bore: (1/s - 1)^2 + (1/s^2)(1 - s)/2.
            let s = area_left.clamp(0.01, 1.0);
            p.fittings_k += (1.0 / s - 1.0).powi(2) + 0.5 * (1.0 - s) / (s * s);
        }
        self
    }
}

/// What a line does at every speed, worked out once.
#[derive(Debug, Clone, PartialEq)]
pub struct Cooling {
    fastest_m_s: f64,
    /// Mass flow, kg/s, at even steps of speed.
    flow: Vec<f64>,
    /// In order: part, and `U A`, W/K, at even steps of speed.
    jackets: Vec<(Part, Vec<f64>)>,
    /// K.
    pub water_k: f64,
}

impl Cooling {
    /// Up to `fastest_m_s` with water at a temperature.
    ///
    /// # Errors
    /// A size that is not above zero, or water that is not liquid.
    pub fn new(line: &Line, water_k: f64, fastest_m_s: f64) -> Result<Self, PowerError> {
        let water = laws::fresh_water::fresh_water(water_k)?;
        let density = water.density_kg_m3;
        let viscosity = water.kinematic_viscosity_m2_s * density;
        let fluid = Fluid {
            density,
            viscosity,
            conductivity: conductivity(water_k),
        };
        let fastest_m_s = fastest_m_s.max(0.1);
        let mut cooling = Self {
            fastest_m_s,
            flow: Vec::with_capacity(SPEEDS),
            jackets: line
                .pieces
                .iter()
                .filter_map(|p| p.cools.map(|(part, _)| (part, Vec::new())))
                .collect(),
            water_k,
        };
        for i in 0..SPEEDS {
            let speed = fastest_m_s * i as f64 / (SPEEDS - 1) as f64;
            cooling.add(line, &fluid, speed)?;
        }
        Ok(cooling)
    }

    /// No water anywhere.
    pub fn none(water_k: f64) -> Self {
        Self {
            fastest_m_s: 1.0,
            flow: vec![0.0; SPEEDS],
            jackets: Vec::new(),
            water_k,
        }
    }

    fn add(&mut self, line: &Line, fluid: &Fluid, speed: f64) -> Result<(), PowerError> {
        let flow = line_flow(line, fluid, speed)? * (1.0 - line.air.clamp(0.0, 1.0));
        self.flow.push(flow * fluid.density);
        let cooled = line.pieces.iter().filter_map(|p| Some((p, p.cools?.1)));
        for ((_, list), (piece, wall)) in self.jackets.iter_mut().zip(cooled) {
            list.push(conductance(piece, wall, line.air, fluid, flow)?);
        }
        Ok(())
    }

    /// Mass flow, kg/s.
    pub fn flow_kg_s(&self, speed_m_s: f64) -> f64 {
        between(&self.flow, speed_m_s / self.fastest_m_s)
    }

    /// Heat taken from each part, W, and the water's temperature at the outlet, K.
    pub fn taken(
        &self,
        speed_m_s: f64,
        temperature_k: &[f64; crate::thermal::PARTS],
    ) -> ([f64; crate::thermal::PARTS], f64) {
        let mut taken = [0.0; crate::thermal::PARTS];
        let mut water = self.water_k;
        for leg in self.legs(speed_m_s, temperature_k) {
            taken[leg.part as usize] += leg.heat_w;
            water = leg.leaves_k;
        }
        (taken, water)
    }

    /// What the water takes from each jacket on its way; nothing when it stands.
    pub fn legs<'a>(
        &'a self,
        speed_m_s: f64,
        temperature_k: &'a [f64; crate::thermal::PARTS],
    ) -> impl Iterator<Item = Leg> + 'a {
        let place = speed_m_s / self.fastest_m_s;
        let carried = between(&self.flow, place) * WATER_J_KG_K;
        let mut water = self.water_k;
        let flowing = if carried > 1e-9 {
            self.jackets.len()
        } else {
            0
        };
        self.jackets[..flowing].iter().map(move |(part, list)| {
            let reach = 1.0 - (-between(list, place) / carried).exp();
            let heat_w = carried * reach * (temperature_k[*part as usize] - water);
            water += heat_w / carried;
            Leg {
                part: *part,
                heat_w,
                leaves_k: water,
            }
        })
    }
}

/// Water past one jacket.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leg {
    /// What it cools.
    pub part: Part,
    /// Taken, W.
    pub heat_w: f64,
    /// Water behind it, K.
    pub leaves_k: f64,
}

struct Fluid {
    density: f64,
    viscosity: f64,
    conductivity: f64,
}

/// Of liquid water, W/(m K): straight lines through IAPWS values (`checks/water_properties.csv`).
fn conductivity(k: f64) -> f64 {
    let rows = [
        (0.01, 0.5557),
        (20.0, 0.5980),
        (40.0, 0.6285),
        (60.0, 0.6510),
        (80.0, 0.6630),
    ];
    let c = k - 273.15;
    let i = rows[1..rows.len() - 1]
        .iter()
        .take_while(|r| c >= r.0)
        .count();
    let ((x0, y0), (x1, y1)) = (rows[i], rows[i + 1]);
    y0 + (y1 - y0) * ((c - x0) / (x1 - x0)).clamp(0.0, 1.0)
}

/// Flow, m3/s, at which the pieces' losses use up the pressure there is.
fn line_flow(line: &Line, fluid: &Fluid, speed: f64) -> Result<f64, PowerError> {
    let ram = 0.5 * line.recovery * fluid.density * speed * speed;
    let driving = ram - fluid.density * GRAVITY_M_S2 * line.rise_m.max(0.0);
    if line.blocked || driving <= 0.0 || line.pieces.is_empty() {
        return Ok(0.0);
    }
    let lost = |flow: f64| -> Result<f64, PowerError> {
        line.pieces.iter().try_fold(0.0, |sum, p| {
            let pipe = Pipe {
                diameter_m: p.bore_m,
                length_m: p.length_m,
                roughness_m: 1.5e-6,
                fittings_k: p.fittings_k,
                density_kg_m3: fluid.density,
                viscosity_pa_s: fluid.viscosity,
            };
            Ok(sum + pipe_flow(&pipe, Known::Flow(flow))?.pressure_drop_pa)
        })
    };
    let narrowest = line
        .pieces
        .iter()
        .map(|p| p.bore_m)
        .fold(f64::MAX, f64::min);
    let (mut low, mut high) = (0.0, f64::INFINITY);
    let mut flow = 0.3 * narrowest * narrowest * speed;
    for _ in 0..80 {
        let ratio = driving / lost(flow)?;
        if ratio > 1.0 {
            low = flow;
        } else {
            high = flow;
        }
        // Losses go with flow to a power between 1 and 2, so this closes in at least by halves.
        let next = flow * ratio.sqrt();
        let held = if high.is_finite() && !(low..=high).contains(&next) {
            0.5 * (low + high)
        } else {
            next
        };
        if (held - flow).abs() <= 1e-12 * flow {
            break;
        }
        flow = held;
    }
    Ok(flow)
}

/// `U A` of a jacket, W/K.
fn conductance(
    piece: &Piece,
    wall_w_k: f64,
    air: f64,
    fluid: &Fluid,
    flow: f64,
) -> Result<f64, PowerError> {
    if flow <= 0.0 {
        return Ok(0.0);
    }
    let area = std::f64::consts::PI * piece.bore_m * piece.length_m;
    let bore = std::f64::consts::PI * piece.bore_m.powi(2) / 4.0;
    let heat = tube_heat(&Tube {
        reynolds: flow / bore * piece.bore_m * fluid.density / fluid.viscosity,
        prandtl: WATER_J_KG_K * fluid.viscosity / fluid.conductivity,
        diameter_m: piece.bore_m,
        length_m: piece.length_m,
        conductivity_w_m_k: fluid.conductivity,
        wall: Wall::EvenTemperature,
    })?;
    let wetted = heat.coefficient_w_m2_k * area * (1.0 - air.clamp(0.0, 1.0));
    Ok(wetted * wall_w_k / (wetted + wall_w_k).max(1e-12))
}

fn between(list: &[f64], place: f64) -> f64 {
    let x = place.clamp(0.0, 1.0) * (list.len() - 1) as f64;
    let i = (x as usize).min(list.len() - 2);
    list[i] + (x - i as f64) * (list[i + 1] - list[i])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line() -> Line {
        Line::usual(
            0.0028,
            0.003,
            0.4,
            &[(Part::Controller, 4.0), (Part::Can, 6.0)],
        )
    }

    #[test]
    fn a_long_thin_tube_carries_poiseuilles_flow() {
        let tube = Piece {
            bore_m: 0.001,
            length_m: 3.0,
            fittings_k: 0.0,
            cools: None,
        };
        let one = Line {
            recovery: 0.6,
            rise_m: 0.0,
            air: 0.0,
            blocked: false,
            pieces: vec![tube],
        };
        let c = Cooling::new(&one, 293.15, 10.0).unwrap();
        let w = laws::fresh_water::fresh_water(293.15).unwrap();
        let mu = w.kinematic_viscosity_m2_s * w.density_kg_m3;
        let ram = 0.3 * w.density_kg_m3 * 100.0;
        let exact = ram * std::f64::consts::PI * 0.001f64.powi(4) / (128.0 * mu * 3.0);
        assert!((c.flow_kg_s(10.0) / (exact * w.density_kg_m3) - 1.0).abs() < 1e-6);
    }

    #[test]
    fn water_starts_at_the_speed_that_lifts_it_and_warms_on_its_way() {
        let c = Cooling::new(&line(), 293.15, 20.0).unwrap();
        // sqrt(2 * 9.81 * 0.05 / 0.6) = 1.28 m/s.
        assert!((line().starts_m_s() - 1.279).abs() < 1e-3);
        assert_eq!(c.flow_kg_s(0.8), 0.0);
        assert!(c.flow_kg_s(10.0) > 0.005 && c.flow_kg_s(20.0) > 1.5 * c.flow_kg_s(10.0));
        let hot = [340.0; crate::thermal::PARTS];
        let (taken, out) = c.taken(15.0, &hot);
        let sum: f64 = taken.iter().sum();
        assert!((sum - c.flow_kg_s(15.0) * WATER_J_KG_K * (out - 293.15)).abs() < 1e-9);
        assert!(taken[Part::Can as usize] > 0.0 && taken[Part::Pack as usize] == 0.0);
    }

    #[test]
    fn blocked_kinked_and_airy_lines_cool_less() {
        let hot = [340.0; crate::thermal::PARTS];
        let sum = |l: &Line| {
            let c = Cooling::new(l, 293.15, 20.0).unwrap();
            c.taken(12.0, &hot).0.iter().sum::<f64>()
        };
        let good = sum(&line());
        let blocked = Line {
            blocked: true,
            ..line()
        };
        let airy = Line { air: 0.5, ..line() };
        assert_eq!(sum(&blocked), 0.0);
        assert!(sum(&line().kinked(1, 0.1)) < good && sum(&airy) < good);
    }
}
