//! What is in the boat, as plain numbers.
//!
//! Whatever nobody supplied is a stated default, listed in [`Setup::assumed`] with its reason, so that a face can
//! show it and say which one measurement would help most.

use crate::PowerError;
use crate::cooling::Line;
use crate::electrics;
use crate::thermal::{Network, PARTS, Part};
use boat::Kind::{Fraction, Mass, Time};
use laws::controller_loss::Controller;
use laws::driveline::Driveline;
use laws::insulation::{CLASSES, MAGNETS};
use laws::motor_heat::{HYSTERESIS_SHARE, WarmMotor};

/// Name of an assumption: how iron loss divides.
pub const STEADY_IRON: &str = "share of iron loss that does not grow with speed";

/// Something assumed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Assumed {
    /// What.
    pub what: &'static str,
    /// What it measures.
    pub kind: boat::Kind,
    /// Value, SI.
    pub value: f64,
    /// Half of the 95 % interval over the value.
    pub spread: f64,
    /// Why, and what would replace it.
    pub why: &'static str,
}

/// Cells.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pack {
    /// In series.
    pub series: f64,
    /// In parallel.
    pub parallel: f64,
    /// Whole pack, C (A s).
    pub capacity_c: f64,
    /// One cell at 25 degC and half charge, ohm.
    pub cell_ohm: f64,
    /// At the start, 0 to 1.
    pub state_of_charge: f64,
}

/// Temperatures not to be passed, K.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// In the order of [`Part::ALL`].
    pub at_k: [f64; PARTS],
}

/// A drive ready to run.
#[derive(Debug, Clone, PartialEq)]
pub struct Setup {
    /// Cells.
    pub pack: Pack,
    /// Leads and connectors of the pack, ohm.
    pub lead_ohm: f64,
    /// Controller.
    pub controller: Controller,
    /// Its largest motor current, A; infinite when it does not limit.
    pub limit_a: f64,
    /// Motor.
    pub motor: WarmMotor,
    /// Motor turns per propeller turn.
    pub gear: f64,
    /// Between motor and propeller.
    pub driveline: Driveline,
    /// Thrust over torque of the propeller, 1/m.
    pub thrust_per_torque: f64,
    /// Lumps of heat.
    pub network: Network,
    /// Water line, if any.
    pub line: Option<Line>,
    /// K.
    pub water_k: f64,
    /// Temperatures at the start, K.
    pub start_k: [f64; PARTS],
    /// Limits.
    pub limits: Limits,
    /// Charge at which the run should end, 0 to 1.
    pub reserve: f64,
    /// What was assumed.
    pub assumed: Vec<Assumed>,
}

/// Masses and surfaces that heat is held by and passes through; all but the masses are assumed from them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bulk {
    /// kg.
    pub motor_kg: f64,
    /// kg.
    pub controller_kg: f64,
    /// kg.
    pub pack_kg: f64,
    /// Inside the hull, m3.
    pub air_m3: f64,
    /// Heat that air passing through the hull carries, W/K; 0 with the lid sealed.
    pub vent_w_k: f64,
}

/// Through the hull's walls, W/K.
pub(crate) const HULL_W_K: f64 = 0.5;

impl Bulk {
    /// Lumps and links scaled from a 0.25 kg motor by mass and by surface (mass to the power 2/3).
    ///
    /// Shares and conductances are judgement: copper 16 %, magnets 11 % of a motor's mass; winding to can 1.5,
    /// can to magnets 0.4 W/K; surfaces to air at 10 W/(m2 K).
    pub fn network(&self, outside_k: f64) -> Network {
        let motor = self.motor_kg.max(0.01);
        let skin = (motor / 0.25).powf(2.0 / 3.0);
        let capacity_j_k = [
            0.16 * motor * 385.0,
            0.73 * motor * 460.0,
            0.11 * motor * 460.0,
            self.controller_kg.max(0.005) * 700.0,
            self.pack_kg.max(0.01) * 1000.0,
            (self.air_m3.max(1e-4) * 1.2 * 1005.0).max(0.5),
        ];
        let pack_skin = 10.0 * 0.05 * (self.pack_kg.max(0.01) / 0.5).powf(2.0 / 3.0);
        let controller_skin = 10.0 * 0.01 * (self.controller_kg.max(0.005) / 0.1).powf(2.0 / 3.0);
        let links = vec![
            (Part::Winding, Part::Can, 1.5 * skin),
            (Part::Can, Part::Magnets, 0.4 * skin),
            (Part::Can, Part::Air, 0.09 * skin),
            (Part::Controller, Part::Air, controller_skin),
            (Part::Pack, Part::Air, pack_skin),
        ];
        let mut to_outside = [0.0; PARTS];
        to_outside[Part::Air as usize] = HULL_W_K + self.vent_w_k.max(0.0);
        Network {
            capacity_j_k,
            links,
            to_outside,
            outside_k,
        }
    }
}

/// Limits taken when the makers' are not known.
pub fn usual_limits() -> Limits {
    let mut at_k = [0.0; PARTS];
    at_k[Part::Winding as usize] = CLASSES[2].limit_k;
    // Common practice, no source: 75 degC on the can and the controller, 55 degC on the pack.
    at_k[Part::Can as usize] = 348.15;
    at_k[Part::Magnets as usize] = MAGNETS[0].limit_k;
    at_k[Part::Controller as usize] = 348.15;
    at_k[Part::Pack as usize] = 328.15;
    at_k[Part::Air as usize] = 343.15;
    Limits { at_k }
}

impl Setup {
    /// From a checked boat's drive. Masses missing there are assumed from size and rating.
    ///
    /// # Errors
    /// A constant with no meaning.
    pub fn from_drive(boat: &boat::Boat, drive: &boat::Drive) -> Result<Self, PowerError> {
        let mut assumed = Vec::new();
        let battery = &drive.battery;
        let outside_k = boat.air.temperature_c.value + 273.15;
        let sealed = drive.cooling.as_ref().is_some_and(|c| c.sealed_lid);
        let bulk = Bulk {
            motor_kg: motor_kg(&drive.motor, &mut assumed),
            controller_kg: drive.controller.mass_kg.unwrap_or_else(|| {
                let why = "weigh the controller";
                note(&mut assumed, "controller mass", Mass, 0.09, 0.4, why)
            }),
            pack_kg: battery.mass_kg.unwrap_or_else(|| {
                // 22 g a cell and ampere hour (common practice, no source).
                let kg = 0.022 * f64::from(battery.series) * battery.capacity_c.value / 3600.0;
                let why = "from cells and capacity; weigh the pack";
                note(&mut assumed, "pack mass", Mass, kg, 0.2, why)
            }),
            air_m3: 0.002,
            vent_w_k: if sealed { 0.0 } else { 0.5 },
        };
        let share = note(
            &mut assumed,
            STEADY_IRON,
            Fraction,
            HYSTERESIS_SHARE,
            0.5,
            "measure the no-load current at two voltages",
        );
        let mut limits = usual_limits();
        for (part, limit_c) in [
            (Part::Can, drive.motor.max_temperature_c),
            (Part::Controller, drive.controller.max_temperature_c),
            (Part::Pack, battery.max_temperature_c),
        ] {
            limits.at_k[part as usize] = limit_c.value + 273.15;
        }
        let edge_s = note(
            &mut assumed,
            "switching edges",
            Time,
            electrics::EDGE_S,
            1.0,
            "no easy measurement",
        );
        let (controller, lead_ohm) = electrics::controller(drive);
        let mut start_k = [outside_k; PARTS];
        start_k[Part::Pack as usize] = battery.temperature_c.value + 273.15;
        Ok(Self {
            pack: Pack {
                series: f64::from(battery.series),
                parallel: f64::from(battery.parallel.max(1)),
                capacity_c: battery.capacity_c.value,
                cell_ohm: battery.cell_resistance_ohm.value,
                state_of_charge: battery.state_of_charge.value,
            },
            lead_ohm,
            controller: Controller {
                edge_s,
                ..controller
            },
            limit_a: drive.controller.current_limit_a.unwrap_or(f64::INFINITY),
            motor: electrics::warm_motor(drive, share)?,
            gear: drive.gear_ratio.value,
            driveline: electrics::driveline(&drive.shaft)?,
            thrust_per_torque: electrics::thrust_per_torque(drive),
            network: bulk.network(outside_k),
            line: drive.cooling.as_ref().map(Line::of),
            water_k: boat.water.temperature_c.value + 273.15,
            start_k,
            limits,
            reserve: 0.2,
            assumed,
        })
    }

    /// Resistance of the pack's cells felt at once, and slowly, and the slow part's time, at a state.
    pub fn pack_pair(&self, state_of_charge: f64, pack_k: f64) -> laws::cell_transient::Pair {
        let one = laws::cell_transient::pair(state_of_charge, pack_k, self.pack.cell_ohm);
        let whole = self.pack.series / self.pack.parallel;
        laws::cell_transient::Pair {
            series_ohm: one.series_ohm * whole,
            slow_ohm: one.slow_ohm * whole,
            ..one
        }
    }
}

fn note(
    list: &mut Vec<Assumed>,
    what: &'static str,
    kind: boat::Kind,
    value: f64,
    spread: f64,
    why: &'static str,
) -> f64 {
    list.push(Assumed {
        what,
        kind,
        value,
        spread,
        why,
    });
    value
}

/// Given, from the can's size at 5000 kg/m3, or 0.25 kg.
fn motor_kg(motor: &boat::model::Motor, assumed: &mut Vec<Assumed>) -> f64 {
    if let Some(kg) = motor.mass_kg {
        return kg;
    }
    match (motor.diameter_m, motor.length_m) {
        (Some(d), Some(l)) => {
            let kg = 5000.0 * std::f64::consts::FRAC_PI_4 * d * d * l;
            note(
                assumed,
                "motor mass",
                Mass,
                kg,
                0.25,
                "from the can's size; weigh the motor",
            )
        }
        _ => note(
            assumed,
            "motor mass",
            Mass,
            0.25,
            0.6,
            "no size given; weigh the motor",
        ),
    }
}

/// Time to charge at a rate, s: constant current to nine tenths, then tapering, about a sixth longer than the plain
/// quotient (common practice, no source). Follow the maker's limits where they are stricter.
pub fn charge_time_s(from: f64, to: f64, rate_per_h: f64) -> f64 {
    let plain = (to - from).max(0.0) / rate_per_h.max(1e-6) * 3600.0;
    let taper = (to - from.max(0.9)).max(0.0) / rate_per_h.max(1e-6) * 3600.0;
    plain + 1.6 * taper
}

/// Lithium cautions to show where charging and packs are spoken of.
pub const CARE: [&str; 5] = [
    "charge watched, on a surface that does not burn, with the right number of cells, at no more than the maker's rate",
    "keep cells between 3.2 and 4.2 V; store at about 3.8 V a cell, cool, in metal",
    "never charge a wet, swollen or crashed pack; after a dunk keep it outdoors and watched",
    "the label's discharge rate is not comparable between makers: measure resistance and temperature instead",
    "where these and the maker's limits differ, the maker's hold",
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bigger_motors_hold_more_and_shed_more() {
        let bulk = |motor_kg| Bulk {
            motor_kg,
            controller_kg: 0.1,
            pack_kg: 0.5,
            air_m3: 0.002,
            vent_w_k: 0.0,
        };
        let (small, big) = (bulk(0.15).network(290.0), bulk(0.3).network(290.0));
        assert!((big.capacity_j_k[0] / small.capacity_j_k[0] - 2.0).abs() < 1e-9);
        assert!((big.links[0].2 / small.links[0].2 - 2f64.powf(2.0 / 3.0)).abs() < 1e-9);
    }

    #[test]
    fn charging_takes_its_time() {
        // 80 % at 1 an hour is 48 min; the last tenth tapers.
        assert!((charge_time_s(0.1, 0.9, 1.0) - 2880.0).abs() < 1e-9);
        assert!(charge_time_s(0.1, 1.0, 1.0) > 3240.0);
        assert_eq!(charge_time_s(0.9, 0.5, 1.0), 0.0);
    }
}
