//! Which cells, motor and propeller: the boat's own drive varied, or what the builder has.
//!
//! Drag is the boat's as it stands: a heavier pack's own weight is not carried into it. Steady, at the charge in the
//! boat file, as top speed is; [`crate::stint`] runs the few that are chosen.

use boat::{Boat, Drive, Measure};
use craft::Craft;
use laws::motor_point::Motor;
use power::PowerError;
use power::fit::{Circumstances, MotorChoice, Outcome, PackChoice, PropellerChoice, Wish, compare};
use power::load::Curve;

use crate::stint::Stint;

/// Capacities an hour that packs last at (common practice, no source).
const RATE_PER_H: f64 = 30.0;
/// Share of the charge that is used (common practice, no source).
const USABLE: f64 = 0.8;
/// Full throttle to be survived when the boat file has no wish, s.
const RUN_S: f64 = 180.0;
/// Copper and iron at 75 degC against 20: resistance rises by 0.39 % a kelvin.
const WARM: f64 = 1.2;
/// From winding to cooling water, and to air without it, of a 0.25 kg motor, W/K (judgement).
const TO_WATER_W_K: f64 = 3.0;
const TO_AIR_W_K: f64 = 0.12;
/// Of a whole motor, J/(kg K).
const MOTOR_J_KG_K: f64 = 450.0;
/// Small bearings and magnets hold to about this, rad/s (common practice, no source).
const MOTOR_RAD_S: f64 = 6300.0;
/// Tip speed that metal propellers stand, m/s (common practice, no source).
const TIP_M_S: f64 = 90.0;

/// What to compare.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Lists {
    /// Packs.
    pub packs: Vec<PackChoice>,
    /// Motors.
    pub motors: Vec<MotorChoice>,
    /// Propellers by diameter and pitch ratio.
    pub propellers: Vec<Blade>,
}

/// A propeller to try.
#[derive(Debug, Clone, PartialEq)]
pub struct Blade {
    /// For a reader.
    pub name: String,
    /// m.
    pub diameter_m: f64,
    /// Over diameter.
    pub pitch_ratio: f64,
}

/// A comparison made.
pub struct Compared {
    /// Beyond this speed the boat's drag is extrapolated, m/s.
    pub known_to_m_s: f64,
    /// What was compared.
    pub lists: Lists,
    /// Sound ones first, then by the wish.
    pub outcomes: Vec<Outcome>,
}

/// Compares everything in `lists` on the boat of a stint, in whose launch the hump takes the share `launched` of the
/// current of a propeller wide open there.
///
/// # Errors
/// [`PowerError`] when a law refuses a propeller.
pub fn outfit(
    boat: &Boat,
    craft: &Craft,
    stint: &Stint,
    drive: &Drive,
    lists: Lists,
    wish: Wish,
    launched: f64,
) -> Result<Compared, PowerError> {
    let mut propellers = Vec::with_capacity(lists.propellers.len());
    for blade in &lists.propellers {
        let mut other = drive.clone();
        other.propeller.diameter_m = Measure::given(blade.diameter_m);
        other.propeller.pitch_ratio = Measure::given(blade.pitch_ratio);
        other.propeller.measured.clear();
        propellers.push(PropellerChoice {
            name: blade.name.clone(),
            table: stint.table_of(craft, &other)?,
            speed_limit_rad_s: 2.0 * TIP_M_S / blade.diameter_m,
        });
    }
    let hull = stint.hull();
    let around = Circumstances {
        drag: further(&hull.drag)?,
        drives: hull.drives,
        gear: drive.gear_ratio.value,
        driveline: power::electrics::driveline(&drive.shaft)?
            .with_thrust(power::electrics::thrust_per_torque(drive)),
        full_throttle_s: boat.wishes.run_time_s.unwrap_or(RUN_S),
        launched,
        usable: USABLE,
        water_k: boat.water.temperature_c.value + 273.15,
        charge: drive.battery.state_of_charge.value,
        wished_m_s: boat.wishes.speed_m_s.unwrap_or(0.0),
    };
    let outcomes = compare(&lists.packs, &lists.motors, &propellers, &around, wish);
    Ok(Compared {
        known_to_m_s: hull.drag.last(),
        lists,
        outcomes,
    })
}

/// Drag with the square of speed beyond the boat's own curve, to twice its end: a guess, and no word on
/// whether the boat stays on the water there.
fn further(drag: &Curve) -> Result<Curve, PowerError> {
    let (last, most) = (drag.last(), drag.at(drag.last()));
    let mut points = drag.points().to_vec();
    points.extend((1..=8).map(|i| {
        let ratio = 1.0 + f64::from(i) / 8.0;
        (ratio * last, ratio * ratio * most)
    }));
    Curve::new("drag", points)
}

impl Lists {
    /// Round the drive in the boat: one cell less to two more, motors of the same can wound from 0.6 to
    /// 1.5 of its constant, propellers of whole millimetres from 0.8 to 1.25 of its diameter in the pitches sold.
    pub fn around(drive: &Drive) -> Self {
        let now = drive.battery.series;
        let propeller = &drive.propeller;
        let steps = [0.6, 0.7, 0.8, 0.9, 1.0, 1.1, 1.2, 1.35, 1.5];
        let now_mm = 1e3 * propeller.diameter_m.value;
        let (least, most) = ((0.8 * now_mm).ceil() as u32, (1.25 * now_mm).floor() as u32);
        let step = ((most - least) / 8).max(1) as usize;
        let sizes: Vec<u32> = (least..=most).step_by(step).collect();
        let pitches = [1.2, 1.4, 1.6, 1.8];
        Self {
            packs: (now.saturating_sub(1).max(1)..=now + 2)
                .map(|series| pack(drive, series))
                .collect(),
            motors: steps.map(|share| motor(drive, share)).to_vec(),
            propellers: sizes
                .into_iter()
                .flat_map(|mm| pitches.map(|ratio| (1e-3 * f64::from(mm), ratio)))
                .map(|(diameter_m, pitch_ratio)| Blade {
                    name: format!("{:.0} x {pitch_ratio:.1}", 1e3 * diameter_m),
                    diameter_m,
                    pitch_ratio,
                })
                .collect(),
        }
    }
}

/// The same cells, another number of them in series.
pub fn pack(drive: &Drive, series: u32) -> PackChoice {
    let battery = &drive.battery;
    let cells = f64::from(series);
    let parallel = f64::from(battery.parallel.max(1));
    let capacity_c = battery.capacity_c.value;
    PackChoice {
        name: format!("{series}S {:.0} mAh", capacity_c / 3.6),
        series: cells,
        capacity_c,
        ohm: cells * battery.cell_resistance_ohm.value / parallel
            + 0.5 * drive.controller.resistance_ohm.value,
        mass_kg: 0.022 * cells * capacity_c / 3600.0,
        rate_per_h: RATE_PER_H,
    }
}

/// The same can wound for a share of its speed constant: resistance goes with one over the square,
/// no-load current with the constant.
pub fn motor(drive: &Drive, share: f64) -> MotorChoice {
    let given = &drive.motor;
    let kv = share * given.kv_rad_s_v.value;
    MotorChoice {
        name: format!("{:.0} rpm/V", kv * 30.0 / std::f64::consts::PI),
        ..choice(
            drive,
            Motor {
                speed_per_volt_rad_s_v: kv,
                resistance_ohm: given.resistance_ohm.value / (share * share),
                no_load_current_a: given.no_load_current_a.value * share,
            },
            given.max_current_a.map(|a| a * share),
            given.mass_kg,
        )
    }
}

/// A motor by its cold constants, on the boat's controller and cooling.
pub fn choice(
    drive: &Drive,
    cold: Motor,
    max_current_a: Option<f64>,
    mass_kg: Option<f64>,
) -> MotorChoice {
    let mass_kg = mass_kg.unwrap_or(0.25);
    let skin = (mass_kg / 0.25).powf(2.0 / 3.0);
    let to_water = match drive.cooling {
        Some(_) => TO_WATER_W_K,
        None => TO_AIR_W_K,
    };
    MotorChoice {
        name: String::new(),
        motor: Motor {
            resistance_ohm: WARM * cold.resistance_ohm,
            ..cold
        },
        bridge_ohm: 0.5 * drive.controller.resistance_ohm.value,
        motor_limit_a: max_current_a.unwrap_or(f64::INFINITY),
        controller_limit_a: drive.controller.rated_current_a.unwrap_or(f64::INFINITY),
        speed_limit_rad_s: MOTOR_RAD_S,
        capacity_j_k: MOTOR_J_KG_K * mass_kg,
        to_water_w_k: to_water * skin,
        limit_k: drive.motor.max_temperature_c.value + 273.15 + 15.0,
    }
}
