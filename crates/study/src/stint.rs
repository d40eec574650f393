//! One drive of a boat over a run in time: the boat's own drag and propeller with `power`'s heat.
//!
//! Drag is the speed curve's, and at each speed the propeller works in the water that the curve's state
//! leaves it, so that a run at full throttle comes to the very speeds the steady solver finds.

use boat::Boat;
use craft::elements::propeller::{Flow, Propeller};
use craft::{Craft, Factors, RunningState, SpeedCurve};
use power::PowerError;
use power::cooling::Cooling;
use power::load::{Curve, PropellerTable};
use power::run::{Discharge, Hull, WhatIf};
use power::script::Script;
use power::setup::Setup;
use power::thermal::Part;
use std::f64::consts::TAU;
use std::sync::Arc;

/// Water carried along with the boat, of its mass (judgement).
const CARRIED: f64 = 0.05;
/// Kinked to this share of the tube's area.
const KINKED: f64 = 0.1;
/// Oval of the small-boat course: straights and ends, m (common practice, no source).
const COURSE_M: (f64, f64) = (60.0, 15.0);
/// Once round it.
const LAP_M: f64 = 2.0 * COURSE_M.0 + std::f64::consts::PI * COURSE_M.1;
/// Throttle of a leisurely cruise (judgement).
const EASY: f64 = 0.4;
/// Throttle round the ends (common practice, no source).
const CORNER: f64 = 0.6;
/// Laps of a heat (common practice, no source).
const LAPS: u32 = 6;
/// Turns a second between which a propeller's coefficients are asked for.
const LEAST_TURNS: f64 = 20.0;
const MOST_TURNS: f64 = 1500.0;
/// Heat follows current squared: a quarter in torque is half in heat.
const HEAT_SPREAD: f64 = 0.5;
/// Watched after stopping: heat soaks outward for about a minute (common practice, no source).
const SOAK_S: f64 = 120.0;

/// A drive ready to be run in time.
#[derive(Debug, Clone)]
pub struct Stint {
    /// As the boat file names it; empty for a single drive.
    pub drive: String,
    /// Cells to shaft, heat and water.
    pub setup: Setup,
    propeller: PropellerTable,
    hull: Hull,
    flows: Vec<(f64, Flow)>,
    top_m_s: f64,
    top_a: f64,
    diameter_m: f64,
    factors: Box<Factors>,
}

/// Why a boat cannot be run in time.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum StintError {
    /// Nothing to drive it.
    #[error("the boat has no drive")]
    NoDrive,
    /// No curve to take the drag from.
    #[error("no steady run was found from rest to a top speed, so there is no drag to run against")]
    NoCurve,
    /// See [`PowerError`].
    #[error(transparent)]
    Power(#[from] PowerError),
}

/// Something to ask about, in the builder's words.
pub const WHAT_IFS: [(&str, &str); 5] = [
    ("pickup-blocked", "the pickup blocks"),
    ("kinked", "the tube kinks to a tenth of its area"),
    ("air", "half the line is air"),
    ("warm-water", "the water is at 25 °C"),
    ("sealed-lid", "the lid is sealed"),
];

/// The change behind a name of [`WHAT_IFS`].
pub fn what_if(name: &str) -> Option<WhatIf> {
    Some(match name {
        "pickup-blocked" => WhatIf::PickupBlocked,
        "kinked" => WhatIf::Kinked {
            piece: 1,
            area_left: KINKED,
        },
        "air" => WhatIf::Air(0.5),
        "warm-water" => WhatIf::Water(298.15),
        "sealed-lid" => WhatIf::LidSealed,
        _ => return None,
    })
}

/// Names of the made-up scripts.
pub const SCRIPTS: [(&str, &str); 4] = [
    ("flat-out", "full throttle until the pack is spent"),
    (
        "heat",
        "six laps of a 60 by 15 m oval, easing round the ends",
    ),
    (
        "sprint",
        "four straights at full throttle with a rest between",
    ),
    ("cruise", "two fifths of throttle until the pack is spent"),
];

impl Stint {
    /// One drive of a boat on its speed curve.
    ///
    /// # Errors
    /// [`StintError`].
    pub fn of(
        boat: &Boat,
        craft: &Craft,
        curve: &SpeedCurve,
        index: usize,
    ) -> Result<Self, StintError> {
        let (drive, propeller) = boat
            .drives
            .get(index)
            .zip(craft.propellers().get(index))
            .ok_or(StintError::NoDrive)?;
        let top = curve.top.as_ref().ok_or(StintError::NoCurve)?;
        let at_top = top.drives.get(index).ok_or(StintError::NoCurve)?;
        let flows = flows(craft, curve, propeller);
        Ok(Self {
            drive: drive.name.clone(),
            setup: full(Setup::from_drive(boat, drive)?),
            propeller: table(craft, propeller, &flows, propeller.diameter_m()),
            hull: hull(craft, curve, boat.drives.len())?,
            flows,
            top_m_s: top.speed_m_s,
            top_a: at_top.current_a,
            diameter_m: propeller.diameter_m(),
            factors: Box::new(*propeller.factors()),
        })
    }

    /// The same with one thing changed.
    pub fn with(&self, change: WhatIf) -> Self {
        Self {
            setup: self.setup.with(change),
            ..self.clone()
        }
    }

    /// A script by its name in [`SCRIPTS`].
    pub fn script(&self, name: &str) -> Option<Script> {
        let usable_c = self.setup.pack.capacity_c * self.setup.pack.state_of_charge;
        let straight_s = COURSE_M.0 / self.top_m_s.max(1.0);
        let corner_s = 0.5 * TAU * 0.5 * COURSE_M.1 / (0.6 * self.top_m_s).max(1.0);
        Some(match name {
            "flat-out" => Script::cruise(1.0, 1.2 * usable_c / self.top_a.max(0.1)),
            "heat" => Script::heat(LAPS, straight_s, corner_s, CORNER).with_lap(LAP_M),
            "sprint" => Script::sprint(4, 2.0 * straight_s, 20.0),
            "cruise" => Script::cruise(EASY, (4.0 * usable_c / self.top_a.max(0.1)).min(3600.0)),
            _ => return None,
        })
        .map(|script| Script {
            name: name.to_owned(),
            ..script
        })
    }

    /// Runs a script by its name in [`SCRIPTS`] and watches for a while after stopping; `flat-out` and `cruise` are
    /// stopped where the charge is down to the reserve: nobody should run a pack further. Nothing for another name.
    ///
    /// # Errors
    /// [`PowerError`].
    pub fn run_named(
        &self,
        name: &str,
        soak_s: f64,
    ) -> Result<Option<(Script, Discharge)>, PowerError> {
        let Some(whole) = self.script(name) else {
            return Ok(None);
        };
        let first = self.run(&whole)?;
        let script = self.until_reserve(name, &first).unwrap_or(whole);
        let script = script.with_soak(soak_s);
        let run = Discharge {
            // Shut at that very moment, the run comes down to the reserve or stops a hair short of it.
            reserve_s: first.reserve_s,
            ..self.run(&script)?
        };
        Ok(Some((script, run)))
    }

    fn until_reserve(&self, name: &str, run: &Discharge) -> Option<Script> {
        let end = run.reserve_s?;
        let throttle = match name {
            "flat-out" => 1.0,
            "cruise" => EASY,
            _ => return None,
        };
        Some(Script {
            name: name.to_owned(),
            ..Script::cruise(throttle, end - 2.0)
        })
    }

    /// Runs a script.
    ///
    /// # Errors
    /// [`PowerError`].
    pub fn run(&self, script: &Script) -> Result<Discharge, PowerError> {
        power::run::run(&self.setup, &self.propeller, &self.hull, script)
    }

    /// What the water line does up to top speed; absent without one.
    ///
    /// # Errors
    /// [`PowerError`].
    pub fn cooling(&self) -> Result<Option<Cooling>, PowerError> {
        let line = self.setup.line.as_ref();
        line.map(|line| Cooling::new(line, self.setup.water_k, self.hull.drag.last()))
            .transpose()
    }

    /// The boat as the drive sees it.
    pub fn hull(&self) -> &Hull {
        &self.hull
    }

    /// What another propeller at the same place asks, its hub as deep.
    ///
    /// # Errors
    /// The law's refusal of an impossible propeller.
    pub fn table_of(
        &self,
        craft: &Craft,
        drive: &boat::Drive,
    ) -> Result<PropellerTable, PowerError> {
        let other = Propeller::new(drive, 0, Arc::default(), *self.factors)?;
        Ok(table(craft, &other, &self.flows, self.diameter_m))
    }

    /// What one measurement would settle: each number that is not exact moved by its spread, and what
    /// that does to the hottest part and to the time on the pack; most telling first.
    ///
    /// # Errors
    /// [`PowerError`].
    pub fn worth_measuring(&self, drive: &boat::Drive) -> Result<Vec<Worth>, PowerError> {
        let Some(script) = self.script("flat-out") else {
            return Ok(Vec::new());
        };
        let plain = self.run(&script)?;
        let mut all = Vec::new();
        for (how, share, change) in guesses(drive, &self.setup) {
            let mut other = self.clone();
            change(&mut other.setup, 1.0 + share);
            let moved = other.run(&script)?;
            all.push(Worth {
                how,
                hottest_k: hottest(&moved).1 - hottest(&plain).1,
                time_s: time_s(&moved) - time_s(&plain),
                share_of_time: (time_s(&moved) / time_s(&plain).max(1.0) - 1.0).abs(),
            });
        }
        let weight = |w: &Worth| w.hottest_k.abs() / 10.0 + w.share_of_time / 0.1;
        all.sort_by(|a, b| weight(b).total_cmp(&weight(a)));
        Ok(all)
    }
}

/// One drive flat out from cold until a fifth of the charge is left, then stopped and watched.
#[derive(Debug, Clone)]
pub struct FlatOut {
    /// Place among the boat's drives.
    pub index: usize,
    /// The drive.
    pub stint: Stint,
    /// Its run.
    pub run: Discharge,
    /// The same with nothing coming in at the pickup; absent without a water line.
    pub blocked: Option<Discharge>,
    /// Its water line at each speed, if it has one.
    pub cooling: Option<Cooling>,
    /// When it was stopped, s.
    pub stopped_s: f64,
}

impl FlatOut {
    /// Every drive of a boat that can be run so.
    pub fn all(boat: &Boat, craft: &Craft, curve: &SpeedCurve) -> Vec<Self> {
        (0..boat.drives.len())
            .filter_map(|index| Self::of(Stint::of(boat, craft, curve, index).ok()?, index))
            .collect()
    }

    pub(crate) fn bytes(&self) -> usize {
        let runs = std::iter::once(&self.run).chain(&self.blocked);
        size_of::<Self>()
            + runs
                .map(|r| size_of_val(r.samples.as_slice()))
                .sum::<usize>()
    }

    /// The same among several drives.
    pub fn warmest(runs: &[Self]) -> Option<Warmest> {
        let each = runs.iter().map(Self::nearest_limit);
        each.max_by(|a, b| a.over_k.total_cmp(&b.over_k))
    }

    /// The part that comes nearest to its limit, or furthest over it.
    pub fn nearest_limit(&self) -> Warmest {
        let setup = &self.stint.setup;
        let (part, at_k) = tightest(&self.run, setup);
        let warmed_k = (at_k - setup.start_k[part as usize]).max(0.0);
        Warmest {
            part,
            at_k,
            half_width_k: HEAT_SPREAD * warmed_k,
            over_k: at_k - setup.limits.at_k[part as usize],
        }
    }

    /// From full until a fifth of the charge is left, s; absent where the run ends before.
    pub fn run_time_s(&self) -> Option<f64> {
        self.run.reserve_s
    }

    /// Speed when a fifth of the charge is left, m/s.
    pub fn late_m_s(&self) -> Option<f64> {
        let end = self.run.reserve_s?;
        let driving = |s: &&power::run::Sample| s.time_s <= end;
        let last = self.run.samples.iter().rfind(driving)?;
        Some(last.speed_m_s)
    }

    fn of(stint: Stint, index: usize) -> Option<Self> {
        let (script, run) = stint.run_named("flat-out", SOAK_S).ok()??;
        let lined = stint.setup.line.is_some();
        let blocked = lined.then(|| stint.with(WhatIf::PickupBlocked).run(&script).ok());
        Some(Self {
            index,
            run,
            blocked: blocked.flatten(),
            cooling: stint.cooling().ok()?,
            stopped_s: script.end_s(),
            stint,
        })
    }
}

/// How warm a part gets.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Warmest {
    /// Which.
    pub part: Part,
    /// Highest, K.
    pub at_k: f64,
    /// 95 % half-width, K.
    pub half_width_k: f64,
    /// Over its limit; negative below.
    pub over_k: f64,
}

/// What a measurement is worth.
#[derive(Debug, Clone, PartialEq)]
pub struct Worth {
    /// What to measure, and how.
    pub how: &'static str,
    /// Change of the hottest part with the estimate off by its spread, K.
    pub hottest_k: f64,
    /// Change of the time on the pack, s.
    pub time_s: f64,
    share_of_time: f64,
}

type Change = fn(&mut Setup, f64);

/// Numbers that are not exact, with their spread as a share and how to move them.
fn guesses(drive: &boat::Drive, setup: &Setup) -> Vec<(&'static str, f64, Change)> {
    let motor = &drive.motor;
    let known: [(&boat::Measure, &'static str, Change); 4] = [
        (
            &motor.resistance_ohm,
            "motor resistance: a known current through two leads, shaft held, and the voltage across them",
            |s, f| s.motor.cold.resistance_ohm *= f,
        ),
        (
            &motor.no_load_current_a,
            "no-load current: the motor running free on a known voltage, its current and speed",
            |s, f| s.motor.cold.no_load_current_a *= f,
        ),
        (
            &drive.battery.cell_resistance_ohm,
            "cell resistance: the charger's reading, or the sag at a known current, pack warm",
            |s, f| s.pack.cell_ohm *= f,
        ),
        (
            &drive.controller.resistance_ohm,
            "controller and leads: the voltage lost between pack and motor at a known current",
            |s, f| {
                s.controller.resistance_ohm *= f;
                s.lead_ohm *= f;
            },
        ),
    ];
    let share = |m: &boat::Measure| m.spread / m.value.abs().max(1e-12);
    let mut all: Vec<_> = known
        .into_iter()
        .filter(|(m, _, _)| m.spread > 0.0)
        .map(|(m, how, change)| (how, share(m), change))
        .collect();
    if let Some(line) = &drive.cooling {
        all.push((
            "water flow: a minute of running at one speed and what the outlet fills",
            share(&line.recovery),
            |s, f| {
                if let Some(line) = &mut s.line {
                    line.recovery *= f;
                }
            },
        ));
    }
    let assumed = setup.assumed.iter();
    all.extend(assumed.filter_map(|a| Some((a.what, a.spread, scaling(a.what)?))));
    all
}

/// How to move what [`Setup::from_drive`] assumed.
fn scaling(what: &str) -> Option<Change> {
    Some(match what {
        "motor mass" => |s, f| {
            for part in [Part::Winding, Part::Can, Part::Magnets] {
                s.network.capacity_j_k[part as usize] *= f;
            }
        },
        "controller mass" => |s, f| s.network.capacity_j_k[Part::Controller as usize] *= f,
        "pack mass" => |s, f| s.network.capacity_j_k[Part::Pack as usize] *= f,
        power::setup::STEADY_IRON => |s, f| {
            s.motor.hysteresis_share = (s.motor.hysteresis_share * f).min(1.0);
        },
        _ => return None,
    })
}

/// The part nearest to or furthest over its limit, and its highest temperature, K.
pub fn tightest(run: &Discharge, setup: &Setup) -> (Part, f64) {
    let over = |p: Part| run.hottest_k[p as usize] - setup.limits.at_k[p as usize];
    let part = Part::ALL
        .into_iter()
        .filter(|p| *p != Part::Air)
        .max_by(|a, b| over(*a).total_cmp(&over(*b)))
        .unwrap_or(Part::Winding);
    (part, run.hottest_k[part as usize])
}

fn hottest(run: &Discharge) -> (Part, f64) {
    let each = Part::ALL
        .into_iter()
        .map(|p| (p, run.hottest_k[p as usize]));
    each.max_by(|a, b| a.1.total_cmp(&b.1))
        .unwrap_or((Part::Winding, 0.0))
}

/// Until the reserve, or the whole run.
pub fn time_s(run: &Discharge) -> f64 {
    let end = run.samples.last().map_or(0.0, |s| s.time_s);
    run.reserve_s.unwrap_or(end)
}

/// A run starts with the pack full, whatever charge the boat file asks about.
fn full(mut setup: Setup) -> Setup {
    setup.pack.state_of_charge = 1.0;
    setup
}

/// Drag is held to grow as speed squared from the last state that was found.
const BEYOND: f64 = 1.5;

/// The steady states by speed; where none is steady at full throttle, those slower than the mean of the run in time,
/// and that mean.
fn up_to_the_mean(curve: &SpeedCurve) -> impl Iterator<Item = &RunningState> {
    let mean = curve.top.as_ref().filter(|_| curve.no_top.is_some());
    let to = mean.map_or(f64::INFINITY, |m| m.speed_m_s);
    let slower = curve.running.iter().filter(move |s| s.speed_m_s < to);
    slower.chain(mean)
}

fn hull(craft: &Craft, curve: &SpeedCurve, drives: usize) -> Result<Hull, StintError> {
    let mut drag = vec![(0.0, 0.0)];
    for state in up_to_the_mean(curve) {
        if state.speed_m_s > drag[drag.len() - 1].0 + 1e-6 {
            drag.push((state.speed_m_s, state.thrust_needed_n));
        }
    }
    if drag.len() < 3 {
        return Err(StintError::NoCurve);
    }
    let (last_m_s, last_n) = drag[drag.len() - 1];
    drag.push((BEYOND * last_m_s, BEYOND * BEYOND * last_n));
    Ok(Hull {
        mass_kg: (1.0 + CARRIED) * craft.weight_n() / craft::craft::GRAVITY_M_S2,
        drag: Curve::new("drag", drag)?,
        drives: drives as f64,
    })
}

/// The water at the disc from rest along the steady curve.
fn flows(craft: &Craft, curve: &SpeedCurve, propeller: &Propeller) -> Vec<(f64, Flow)> {
    let around = craft.surroundings();
    let rest = craft.at_rest();
    let mut all = vec![(0.0, propeller.flow(&rest.motion(), &around))];
    for state in up_to_the_mean(curve) {
        if state.speed_m_s > all[all.len() - 1].0 + 1e-6 {
            let flow = propeller.flow(&state.running().motion(), &around);
            all.push((state.speed_m_s, flow));
        }
    }
    all
}

/// What a propeller gives and takes at each speed of the curve, its hub as deep as that of the boat's own.
fn table(
    craft: &Craft,
    propeller: &Propeller,
    flows: &[(f64, Flow)],
    own_diameter_m: f64,
) -> PropellerTable {
    let around = craft.surroundings();
    let diameter = propeller.diameter_m();
    let density = around.water_density_kg_m3;
    let speeds: Vec<f64> = flows.iter().map(|f| f.0).collect();
    PropellerTable::along(diameter, density, &speeds, |speed_m_s, advance| {
        let i = speeds.partition_point(|v| *v < speed_m_s);
        let own = &flows[i].1;
        // Cavitation and friction know how fast the blades are: the turns that this advance means here.
        let turns = own.advance_m_s / (advance * diameter).max(1e-9);
        let turns = turns.clamp(LEAST_TURNS, MOST_TURNS);
        let flow = Flow {
            immersion: 0.5 + (own.immersion - 0.5) * own_diameter_m / diameter,
            advance_m_s: advance * turns * diameter,
            ..*own
        };
        let load = propeller.load_in(&flow, &around, turns * TAU);
        let scale = density * turns * turns * diameter.powi(4);
        (load.thrust_n / scale, load.torque_n_m / (scale * diameter))
    })
}
