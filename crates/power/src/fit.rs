//! Which set-up: every pack with every motor and propeller, ranked, with whatever would break shown as broken.
//!
//! A propeller alone fixes the shaft speed and torque that each boat speed asks ([`Demand`]); pack and motor
//! only decide whether they can give it. So the tables are made once a propeller and a combination costs a
//! microsecond. Steady: the run in time ([`crate::run`]) is the judge of the few that are chosen.

use crate::load::{Curve, PropellerTable};
use crate::thermal::warmed_k;
use laws::driveline::Driveline;
use laws::motor_point::Motor;
use laws::numerics::roots::{outward, root};
use rayon::prelude::*;

/// A pack to try.
#[derive(Debug, Clone, PartialEq)]
pub struct PackChoice {
    /// For a reader.
    pub name: String,
    /// Cells in series.
    pub series: f64,
    /// Whole pack, C (A s).
    pub capacity_c: f64,
    /// Whole pack and leads, warm, at half charge, ohm.
    pub ohm: f64,
    /// kg.
    pub mass_kg: f64,
    /// Largest lasting current over capacity, 1/h: not the label's (25 to 35 is common practice, no source).
    pub rate_per_h: f64,
}

/// A motor to try, with the controller it runs on.
#[derive(Debug, Clone, PartialEq)]
pub struct MotorChoice {
    /// For a reader.
    pub name: String,
    /// Warm constants.
    pub motor: Motor,
    /// Controller's bridge, ohm.
    pub bridge_ohm: f64,
    /// The maker's limit, A.
    pub motor_limit_a: f64,
    /// The maker's limit, A.
    pub controller_limit_a: f64,
    /// Highest motor speed, rad/s.
    pub speed_limit_rad_s: f64,
    /// Heat held by winding and can, J/K.
    pub capacity_j_k: f64,
    /// To the water, W/K.
    pub to_water_w_k: f64,
    /// K.
    pub limit_k: f64,
}

/// A propeller to try.
#[derive(Debug, Clone, PartialEq)]
pub struct PropellerChoice {
    /// For a reader.
    pub name: String,
    /// Its load.
    pub table: PropellerTable,
    /// Shaft speed its blades bear, rad/s.
    pub speed_limit_rad_s: f64,
}

/// What does not change.
#[derive(Debug, Clone, PartialEq)]
pub struct Circumstances {
    /// Thrust needed, m/s and N; hump included.
    pub drag: Curve,
    /// Propellers pushing together.
    pub drives: f64,
    /// Motor turns per propeller turn.
    pub gear: f64,
    /// Between motor and propeller, thrust put as torque.
    pub driveline: Driveline,
    /// Full-throttle time to be survived, s.
    pub full_throttle_s: f64,
    /// Current over the hump in a launch over that of the propeller wide open there.
    pub launched: f64,
    /// Share of the charge that is used.
    pub usable: f64,
    /// K.
    pub water_k: f64,
    /// Charge at which currents and speeds are told, 0 to 1.
    pub charge: f64,
    /// A set-up slower than this is not what was wished for, m/s.
    pub wished_m_s: f64,
}

/// What a propeller asks of its shaft at even steps of boat speed.
#[derive(Debug, Clone, PartialEq)]
pub struct Demand {
    speed_m_s: Vec<f64>,
    shaft_rad_s: Vec<f64>,
    torque_n_m: Vec<f64>,
    hump: usize,
}

const STEPS: usize = 64;

impl Demand {
    /// Finds the shaft speed that gives the thrust needed, at each speed.
    pub fn new(table: &PropellerTable, c: &Circumstances) -> Self {
        let last = c.drag.last();
        let speed_m_s: Vec<f64> = (1..=STEPS)
            .map(|i| last * i as f64 / STEPS as f64)
            .collect();
        let (shaft_rad_s, torque_n_m) = speed_m_s
            .iter()
            .map(|&v| {
                let w = shaft_for(table, v, c.drag.at(v) / c.drives);
                (w, table.load(v, w).1)
            })
            .unzip();
        let hump = hump(&c.drag, &speed_m_s);
        Self {
            speed_m_s,
            shaft_rad_s,
            torque_n_m,
            hump,
        }
    }
}

/// Thrust rises with shaft speed: the one that gives it, or as fast as anyone asks.
fn shaft_for(table: &PropellerTable, speed: f64, thrust: f64) -> f64 {
    let lacking = |shaft: f64| table.load(speed, shaft).0 - thrust;
    if lacking(0.0) >= 0.0 {
        return 0.0;
    }
    outward(lacking, 0.0, 100.0, 2.0, 1e5)
        .and_then(|bracket| root(lacking, bracket, 1e-6))
        .unwrap_or(1e5)
}

/// Place of the drag's first peak; the first speed when there is none.
fn hump(drag: &Curve, speeds: &[f64]) -> usize {
    (1..speeds.len() - 1)
        .find(|&i| {
            drag.at(speeds[i]) >= drag.at(speeds[i - 1])
                && drag.at(speeds[i]) > drag.at(speeds[i + 1])
        })
        .unwrap_or(0)
}

/// Something that would break, or does not work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Broken {
    /// Does not push the boat over its hump.
    StaysOffThePlane,
    /// Motor over the maker's current.
    MotorCurrent,
    /// Controller over its rating.
    ControllerCurrent,
    /// Pack drawn faster than it lasts.
    PackRate,
    /// Motor over its speed.
    MotorSpeed,
    /// Propeller over its speed.
    PropellerSpeed,
    /// Motor over its temperature within the time asked.
    MotorHeat,
    /// Slower than wished for.
    TooSlow,
}

impl Broken {
    const ALL: [Self; 8] = [
        Self::StaysOffThePlane,
        Self::MotorCurrent,
        Self::ControllerCurrent,
        Self::PackRate,
        Self::MotorSpeed,
        Self::PropellerSpeed,
        Self::MotorHeat,
        Self::TooSlow,
    ];

    /// For a reader.
    pub fn words(self) -> &'static str {
        match self {
            Self::StaysOffThePlane => "cannot push the boat over its hump",
            Self::MotorCurrent => "over the motor's current",
            Self::ControllerCurrent => "over the controller's rating",
            Self::PackRate => "draws the pack faster than it lasts",
            Self::MotorSpeed => "motor turns too fast",
            Self::PropellerSpeed => "propeller turns too fast",
            Self::MotorHeat => "motor overheats within the time asked",
            Self::TooSlow => "slower than the speed wished for",
        }
    }
}

/// One combination, steady at full throttle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outcome {
    /// Places in the three lists.
    pub pack: usize,
    /// Motor.
    pub motor: usize,
    /// Propeller.
    pub propeller: usize,
    /// m/s.
    pub top_speed_m_s: f64,
    /// The drag table ends first: speed is a lower bound, and the rest is at full throttle there.
    pub faster: bool,
    /// From the pack at full throttle while passing the hump, A.
    pub hump_a: f64,
    /// From the pack at top speed, A.
    pub straight_a: f64,
    /// Propeller at top speed, rad/s.
    pub shaft_rad_s: f64,
    /// Full-throttle time on the usable charge, s.
    pub run_time_s: f64,
    /// Motor after the time asked, K.
    pub motor_k: f64,
    broken: u8,
}

impl Outcome {
    /// What would break.
    pub fn broken(&self) -> impl Iterator<Item = Broken> + '_ {
        let set = self.broken;
        Broken::ALL
            .into_iter()
            .enumerate()
            .filter_map(move |(i, b)| (set & (1 << i) != 0).then_some(b))
    }

    /// Nothing breaks.
    pub fn sound(&self) -> bool {
        self.broken == 0
    }
}

/// What the builder asks for most.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wish {
    /// Top speed.
    Speed,
    /// Run time.
    RunTime,
    /// A cool motor.
    Cool,
}

/// Every combination, the sound ones first, each group in the order of the wish; the same on any number of threads.
pub fn compare(
    packs: &[PackChoice],
    motors: &[MotorChoice],
    propellers: &[PropellerChoice],
    c: &Circumstances,
    wish: Wish,
) -> Vec<Outcome> {
    let demands: Vec<Demand> = propellers
        .par_iter()
        .map(|p| Demand::new(&p.table, c))
        .collect();
    let (m, p) = (motors.len(), propellers.len());
    let mut all: Vec<Outcome> = (0..packs.len() * m * p)
        .into_par_iter()
        .map(|i| {
            let (pack, motor, propeller) = (i / (m * p), i / p % m, i % p);
            let choice = Combination {
                pack: &packs[pack],
                motor: &motors[motor],
                propeller: &propellers[propeller],
                demand: &demands[propeller],
                around: c,
            };
            Outcome {
                pack,
                motor,
                propeller,
                ..choice.outcome()
            }
        })
        .collect();
    let key = |o: &Outcome| match wish {
        Wish::Speed => -o.top_speed_m_s,
        Wish::RunTime => -o.run_time_s,
        Wish::Cool => o.motor_k,
    };
    // Stable, and the list was made in order: ties keep the order of the lists.
    all.sort_by(|a, b| b.sound().cmp(&a.sound()).then(key(a).total_cmp(&key(b))));
    all
}

struct Combination<'a> {
    pack: &'a PackChoice,
    motor: &'a MotorChoice,
    propeller: &'a PropellerChoice,
    demand: &'a Demand,
    around: &'a Circumstances,
}

impl Combination<'_> {
    fn outcome(&self) -> Outcome {
        let d = self.demand;
        let (top, place) = self.top_speed();
        let hump = d.hump;
        let planes = top > d.speed_m_s[hump];
        let hump_a = self.around.launched * self.full_throttle(d.speed_m_s[hump]).1;
        let faster = place >= (STEPS - 1) as f64;
        let (shaft, straight_a) = if faster {
            self.full_throttle(top)
        } else {
            let torque = between(&d.torque_n_m, place);
            let shaft = between(&d.shaft_rad_s, place);
            (shaft, self.motor_a(shaft, torque))
        };
        let motor_rad_s = shaft * self.around.gear;
        let m = &self.motor.motor;
        let heat = straight_a.powi(2) * m.resistance_ohm
            + m.no_load_current_a * motor_rad_s / m.speed_per_volt_rad_s_v;
        let motor = self.motor;
        let motor_k = warmed_k(
            self.around.water_k,
            self.around.water_k,
            heat,
            motor.to_water_w_k,
            motor.capacity_j_k,
            self.around.full_throttle_s,
        );
        let lasting = self.pack.rate_per_h * self.pack.capacity_c / 3600.0;
        let checks = [
            !planes,
            straight_a > motor.motor_limit_a,
            straight_a > motor.controller_limit_a || hump_a > 1.5 * motor.controller_limit_a,
            straight_a > lasting,
            motor_rad_s > motor.speed_limit_rad_s,
            shaft > self.propeller.speed_limit_rad_s,
            motor_k > motor.limit_k,
            top < self.around.wished_m_s,
        ];
        let broken = checks
            .iter()
            .enumerate()
            .fold(0u8, |set, (i, b)| set | (u8::from(*b) << i));
        Outcome {
            pack: 0,
            motor: 0,
            propeller: 0,
            top_speed_m_s: top,
            faster,
            hump_a,
            straight_a,
            shaft_rad_s: shaft,
            run_time_s: self.around.usable * self.pack.capacity_c / straight_a.max(1e-9),
            motor_k,
            broken,
        }
    }

    fn motor_a(&self, shaft_rad_s: f64, torque_n_m: f64) -> f64 {
        let m = &self.motor.motor;
        let line = &self.around.driveline;
        let torque = line.asked_n_m(torque_n_m, 0.0, shaft_rad_s) / self.around.gear;
        torque * m.speed_per_volt_rad_s_v + m.no_load_current_a
    }

    /// Voltage left at full throttle with the shaft turning so: above zero the drive can do more.
    fn excess_v(&self, shaft_rad_s: f64, torque_n_m: f64) -> f64 {
        let m = &self.motor.motor;
        let whole = m.resistance_ohm + self.motor.bridge_ohm + self.pack.ohm;
        let back = shaft_rad_s * self.around.gear / m.speed_per_volt_rad_s_v;
        self.open_v() - back - self.motor_a(shaft_rad_s, torque_n_m) * whole
    }

    fn open_v(&self) -> f64 {
        self.pack.series * laws::cell::open_circuit_v(self.around.charge)
    }

    /// Fastest speed reached without a gap below it, and its place among the steps.
    fn top_speed(&self) -> (f64, f64) {
        let d = self.demand;
        let excess = |i: usize| self.excess_v(d.shaft_rad_s[i], d.torque_n_m[i]);
        let mut last = excess(0);
        if last < 0.0 {
            return (d.speed_m_s[0], 0.0);
        }
        for i in 1..STEPS {
            let now = excess(i);
            if now < 0.0 {
                let place = (i - 1) as f64 + last / (last - now);
                return (between(&d.speed_m_s, place), place);
            }
            last = now;
        }
        (d.speed_m_s[STEPS - 1], (STEPS - 1) as f64)
    }

    /// Shaft speed and pack current at full throttle at a speed.
    fn full_throttle(&self, speed: f64) -> (f64, f64) {
        let k = self.motor.motor.speed_per_volt_rad_s_v;
        let (mut low, mut high) = (0.0, k * self.open_v() / self.around.gear);
        for _ in 0..24 {
            let w = 0.5 * (low + high);
            if self.excess_v(w, self.propeller.table.load(speed, w).1) > 0.0 {
                low = w;
            } else {
                high = w;
            }
        }
        let w = 0.5 * (low + high);
        (w, self.motor_a(w, self.propeller.table.load(speed, w).1))
    }
}

fn between(list: &[f64], place: f64) -> f64 {
    let i = (place.max(0.0) as usize).min(list.len() - 2);
    list[i] + (place - i as f64) * (list[i + 1] - list[i])
}
