//! A drive run in time: current, charge and heat, and what reaches its limit first.
//!
//! State: six temperatures, charge used, the pack's slow voltage, speed, distance, and energies in and out, all
//! integrated together so that what went in equals what came out and what is held ([`Discharge::imbalance`]).

use crate::PowerError;
use crate::cooling::Cooling;
use crate::load::{Curve, PropellerTable};
use crate::script::Script;
use crate::setup::Setup;
use crate::thermal::{PARTS, Part};
use laws::drive_circuit::{Circuit, Instant};
use laws::numerics::ode::{Accuracy, integrate};

const CHARGE: usize = PARTS;
const SLOW: usize = PARTS + 1;
const SPEED: usize = PARTS + 2;
const WAY: usize = PARTS + 3;
const DRAWN: usize = PARTS + 4;
const PUSHED: usize = PARTS + 5;
const SHED: usize = PARTS + 6;
const HELD: usize = PARTS + 7;
const STATES: usize = PARTS + 8;

/// The boat as the drive sees it.
#[derive(Debug, Clone, PartialEq)]
pub struct Hull {
    /// With the water it carries along, kg.
    pub mass_kg: f64,
    /// Thrust needed for a steady speed: m/s, N.
    pub drag: Curve,
    /// Propellers that push together, each with its own drive like this one.
    pub drives: f64,
}

/// One moment of a run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sample {
    /// s.
    pub time_s: f64,
    /// 0 to 1.
    pub throttle: f64,
    /// m/s.
    pub speed_m_s: f64,
    /// Electrical state.
    pub instant: Instant,
    /// 0 to 1.
    pub charge: f64,
    /// In the order of [`Part::ALL`], K.
    pub temperature_k: [f64; PARTS],
    /// Cooling water, kg/s.
    pub water_kg_s: f64,
    /// At the outlet, K.
    pub outlet_k: f64,
}

/// When a part first reaches its limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reached {
    /// Which.
    pub part: Part,
    /// s.
    pub time_s: f64,
    /// K.
    pub limit_k: f64,
}

/// A finished run.
#[derive(Debug, Clone, PartialEq)]
pub struct Discharge {
    /// Every step taken.
    pub samples: Vec<Sample>,
    /// Limits reached, earliest first.
    pub reached: Vec<Reached>,
    /// When the charge fell to the reserve, s.
    pub reserve_s: Option<f64>,
    /// Hottest of each part, K.
    pub hottest_k: [f64; PARTS],
    /// Largest from the pack, A.
    pub peak_pack_a: f64,
    /// Drawn from the cells' chemistry, J.
    pub energy_j: f64,
    /// m.
    pub distance_m: f64,
    /// For each lap, J, when a lap's length was given.
    pub energy_per_lap_j: Option<f64>,
    /// Energy not accounted for, over energy drawn.
    pub imbalance: f64,
}

impl Discharge {
    /// What goes first.
    pub fn first(&self) -> Option<&Reached> {
        self.reached.first()
    }
}

impl Discharge {
    /// The part that warms most after the throttle is shut at a time, by how much, K, and how long after, s; absent
    /// when none warms by half a kelvin.
    pub fn soak(&self, stopped_s: f64) -> Option<(Part, f64, f64)> {
        let after = |s: &&Sample| s.time_s >= stopped_s - 1e-9;
        let start = self.samples.iter().find(after)?;
        let rise = |part: Part| {
            let k = part as usize;
            let later = self.samples.iter().filter(after);
            let top = later.max_by(|a, b| a.temperature_k[k].total_cmp(&b.temperature_k[k]))?;
            let warmer = top.temperature_k[k] - start.temperature_k[k];
            Some((part, warmer, top.time_s - start.time_s))
        };
        let parts = Part::ALL.into_iter().filter(|p| *p != Part::Air);
        let most = parts.filter_map(rise).max_by(|a, b| a.1.total_cmp(&b.1))?;
        (most.1 > 0.5).then_some(most)
    }
}

struct Model<'a> {
    setup: &'a Setup,
    propeller: &'a PropellerTable,
    hull: &'a Hull,
    script: &'a Script,
    cooling: &'a Cooling,
}

/// Runs a script.
///
/// # Errors
/// [`PowerError`] for a constant with no meaning, or a run that cannot go on.
pub fn run(
    setup: &Setup,
    propeller: &PropellerTable,
    hull: &Hull,
    script: &Script,
) -> Result<Discharge, PowerError> {
    let fastest = script.speed.as_ref().map_or(hull.drag.last(), |s| {
        s.points().iter().map(|p| p.1).fold(0.0, f64::max)
    });
    let cooling = match &setup.line {
        Some(line) => Cooling::new(line, setup.water_k, fastest)?,
        None => Cooling::none(setup.water_k),
    };
    let model = Model {
        setup,
        propeller,
        hull,
        script,
        cooling: &cooling,
    };
    model.run()
}

impl Model<'_> {
    fn run(&self) -> Result<Discharge, PowerError> {
        let knots = self.script.knots();
        let mut y = self.start(knots[0]);
        let mut samples = vec![self.sample(knots[0], &y)];
        let accuracy = Accuracy {
            relative: 1e-6,
            absolute: 1e-5,
            longest: 1.0,
            most_steps: 200_000,
        };
        for pair in knots.windows(2) {
            y = integrate(
                |t, y| self.rates(t, y),
                pair[0],
                pair[1],
                y,
                &accuracy,
                |t, y, _| samples.push(self.sample(t, y)),
            )
            .map_err(|e| PowerError::Stuck {
                time_s: e.at,
                why: "a rate is not finite, or changes faster than any step can follow",
            })?;
        }
        Ok(self.finish(samples, &y))
    }

    fn start(&self, t: f64) -> [f64; STATES] {
        let mut y = [0.0; STATES];
        y[..PARTS].copy_from_slice(&self.setup.start_k);
        y[SPEED] = self.script.speed.as_ref().map_or(0.0, |s| s.at(t));
        y
    }

    fn charge(&self, y: &[f64; STATES]) -> f64 {
        (self.setup.pack.state_of_charge - y[CHARGE] / self.setup.pack.capacity_c).clamp(0.0, 1.0)
    }

    fn speed(&self, t: f64, y: &[f64; STATES]) -> f64 {
        match &self.script.speed {
            Some(log) if t <= self.script.end_s() => log.at(t),
            Some(_) => 0.0,
            None => y[SPEED].max(0.0),
        }
    }

    fn instant(&self, t: f64, y: &[f64; STATES]) -> Instant {
        let s = self.setup;
        let charge = self.charge(y);
        let pair = s.pack_pair(charge, y[Part::Pack as usize]);
        // An empty pack gives nothing: its voltage goes over the last hundredth of charge.
        let left = (charge / 0.01).min(1.0);
        let circuit = Circuit {
            source_v: left
                * (s.pack.series * laws::cell::open_circuit_v(charge) - y[SLOW]).max(0.0),
            pack_ohm: pair.series_ohm + s.lead_ohm,
            lead_ohm: s.lead_ohm,
            controller: s.controller,
            limit_a: s.limit_a,
            motor: s.motor,
            winding_k: y[Part::Winding as usize],
            magnets_k: y[Part::Magnets as usize],
            gear: s.gear,
            driveline: s.driveline,
            thrust_per_torque: s.thrust_per_torque,
        };
        let speed = self.speed(t, y);
        let throttle = if circuit.source_v > 0.1 {
            self.script.throttle_at(t)
        } else {
            0.0
        };
        circuit.run(throttle, |w| self.propeller.load(speed, w).1)
    }

    fn rates(&self, t: f64, y: &[f64; STATES]) -> [f64; STATES] {
        let i = self.instant(t, y);
        let speed = self.speed(t, y);
        let s = self.setup;
        let pair = s.pack_pair(self.charge(y), y[Part::Pack as usize]);
        let slow_w = y[SLOW] * y[SLOW] / pair.slow_ohm.max(1e-12);
        let temperature: [f64; PARTS] = std::array::from_fn(|k| y[k]);
        let (taken, _) = self.cooling.taken(speed, &temperature);
        let mut heat = [0.0; PARTS];
        heat[Part::Winding as usize] = i.copper_w;
        heat[Part::Can as usize] = 0.8 * i.iron_w;
        heat[Part::Magnets as usize] = 0.2 * i.iron_w;
        heat[Part::Controller as usize] = i.controller_w;
        heat[Part::Pack as usize] = i.pack_w + slow_w;
        heat[Part::Air as usize] = i.leads_w;
        for (h, t) in heat.iter_mut().zip(taken) {
            *h -= t;
        }
        let (warming, lost) = s.network.rates(&temperature, &heat);
        let mut d = [0.0; STATES];
        d[..PARTS].copy_from_slice(&warming);
        d[CHARGE] = i.pack_a;
        d[SLOW] = (i.pack_a * pair.slow_ohm - y[SLOW]) / pair.time_constant_s;
        d[SPEED] = self.acceleration(t, speed, &i);
        d[WAY] = speed;
        // What passes the source, with the slow pair's share: its capacitor holds some for a while.
        let (source_v, slow_a) = (i.pack_v + i.pack_a * self.inner_ohm(&pair), i.pack_a);
        d[DRAWN] = slow_a * (source_v + y[SLOW]);
        d[HELD] = slow_a * y[SLOW] - slow_w;
        d[PUSHED] = i.propeller_w + i.shaft_w;
        d[SHED] = lost + taken.iter().sum::<f64>();
        d
    }

    fn inner_ohm(&self, pair: &laws::cell_transient::Pair) -> f64 {
        pair.series_ohm
    }

    fn acceleration(&self, t: f64, speed: f64, i: &Instant) -> f64 {
        if self.script.speed.is_some() {
            return 0.0;
        }
        if t >= self.script.end_s() {
            // Stopped by hand and left to soak.
            return -2.0 * speed;
        }
        let thrust = self.propeller.load(speed, i.shaft_rad_s).0 * self.hull.drives;
        (thrust - self.hull.drag.at(speed)) / self.hull.mass_kg
    }

    fn sample(&self, t: f64, y: &[f64; STATES]) -> Sample {
        let temperature_k: [f64; PARTS] = std::array::from_fn(|k| y[k]);
        let speed_m_s = self.speed(t, y);
        Sample {
            time_s: t,
            throttle: self.script.throttle_at(t),
            speed_m_s,
            instant: self.instant(t, y),
            charge: self.charge(y),
            temperature_k,
            water_kg_s: self.cooling.flow_kg_s(speed_m_s),
            outlet_k: self.cooling.taken(speed_m_s, &temperature_k).1,
        }
    }

    fn finish(&self, samples: Vec<Sample>, y: &[f64; STATES]) -> Discharge {
        let temperature: [f64; PARTS] = std::array::from_fn(|k| y[k]);
        let network = &self.setup.network;
        let held = network.stored_j(&temperature) - network.stored_j(&self.setup.start_k) + y[HELD];
        let missing = y[DRAWN] - y[PUSHED] - y[SHED] - held;
        let hottest = |k: usize| {
            samples
                .iter()
                .map(|s| s.temperature_k[k])
                .fold(0.0, f64::max)
        };
        let lap = self.script.lap_m.filter(|l| *l > 0.0 && y[WAY] > 0.0);
        Discharge {
            reached: self.reached(&samples),
            reserve_s: crossing(&samples, |s| self.setup.reserve - s.charge),
            hottest_k: std::array::from_fn(hottest),
            peak_pack_a: samples.iter().map(|s| s.instant.pack_a).fold(0.0, f64::max),
            energy_j: y[DRAWN],
            distance_m: y[WAY],
            energy_per_lap_j: lap.map(|l| y[DRAWN] * l / y[WAY]),
            imbalance: missing.abs() / y[DRAWN].abs().max(1.0),
            samples,
        }
    }

    fn reached(&self, samples: &[Sample]) -> Vec<Reached> {
        let mut all: Vec<Reached> = Part::ALL
            .into_iter()
            .filter_map(|part| {
                let limit_k = self.setup.limits.at_k[part as usize];
                let time_s = crossing(samples, |s| s.temperature_k[part as usize] - limit_k)?;
                Some(Reached {
                    part,
                    time_s,
                    limit_k,
                })
            })
            .collect();
        all.sort_by(|a, b| a.time_s.total_cmp(&b.time_s).then(a.part.cmp(&b.part)));
        all
    }
}

/// When something first rises to zero, straight between samples.
fn crossing(samples: &[Sample], excess: impl Fn(&Sample) -> f64) -> Option<f64> {
    let i = samples.iter().position(|s| excess(s) >= 0.0)?;
    if i == 0 {
        return Some(samples[0].time_s);
    }
    let (a, b) = (&samples[i - 1], &samples[i]);
    let (low, high) = (excess(a), excess(b));
    Some(a.time_s + (b.time_s - a.time_s) * low / (low - high))
}

/// A change to ask about.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum WhatIf {
    /// Nothing comes in at the pickup.
    PickupBlocked,
    /// A piece of the line squeezed to a part of its area.
    Kinked {
        /// Which piece, from 0.
        piece: usize,
        /// Area left, 0 to 1.
        area_left: f64,
    },
    /// Air in the line, by volume.
    Air(f64),
    /// Water at a temperature, K.
    Water(f64),
    /// No air passes through the hull.
    LidSealed,
}

impl Setup {
    /// The same with one thing changed.
    pub fn with(&self, change: WhatIf) -> Self {
        let mut s = self.clone();
        match change {
            WhatIf::PickupBlocked => {
                if let Some(line) = &mut s.line {
                    line.blocked = true;
                }
            }
            WhatIf::Kinked { piece, area_left } => {
                s.line = s.line.map(|line| line.kinked(piece, area_left));
            }
            WhatIf::Air(share) => {
                if let Some(line) = &mut s.line {
                    line.air = share;
                }
            }
            WhatIf::Water(k) => s.water_k = k,
            WhatIf::LidSealed => {
                s.network.to_outside[Part::Air as usize] = crate::setup::HULL_W_K;
            }
        }
        s
    }
}
