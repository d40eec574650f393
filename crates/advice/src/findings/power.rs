//! Currents against what motor, controller and pack are made for.

use boat::{Drive, Kind};
use craft::launch::Grip;
use craft::{DriveState, RunningState};

use super::improve;
use crate::change::Want;
use crate::finding::{Basis, Finding, Limit, Standing};
use crate::number::Number;
use study::Quantity;
use study::{Study, Under};

/// Controller rating over current on the straight. Common practice, no source.
const CONTROLLER_MARGIN: f64 = 1.5;
/// Discharge that packs stand, in capacities per hour, whatever the label says. Common practice.
const DISCHARGE_PER_H: f64 = 35.0;
/// Share of the capacity that is used. Common practice, no source.
const USABLE: f64 = 0.8;

const LITHIUM: &str = "Lithium packs: stay inside the maker's limits for current, charge and temperature. Charge \
     watched, outside the boat, on something that does not burn; never charge a wet, swollen or \
     crashed pack.";
const PROPELLER: &str = "Unplug the pack before touching motor, shaft or propeller: treat them as live whenever it is connected.";

pub fn findings(study: &Study, under: &Under) -> Vec<Finding> {
    let Some(top) = &under.curve.top else {
        return Vec::new();
    };
    let mut all = Vec::new();
    let drives = study.boat.drives.iter().zip(&top.drives);
    for (index, (drive, state)) in drives.enumerate() {
        all.extend(controller(study, under, index, drive, state));
        all.extend(motor(study, drive, state));
        all.push(pack(study, drive, state));
    }
    all.extend(run_time(study, top));
    all
}

/// `the left drive's controller`, or `the controller` of a single one.
fn of(drive: &Drive, what: &str) -> String {
    if drive.name.is_empty() {
        format!("the {what}")
    } else {
        format!("the {} drive's {what}", drive.name)
    }
}

fn amps(value: f64) -> Number {
    Number::exact(Kind::Current, value)
}

fn top_current(study: &Study, state: &DriveState) -> Number {
    let spread = study.spread.half_width(Quantity::TopCurrent);
    Number::new(Kind::Current, state.current_a, spread)
}

/// Current of one drive with the throttle wide open at the hump, A.
fn hump_current_a(under: &Under, index: usize, grip: Grip) -> Option<f64> {
    let hump = under.curve.hump?;
    let mut states = under.curve.running.iter();
    let there = states.find(|s| (s.speed_m_s - hump.speed_m_s).abs() < 1e-9)?;
    under
        .craft
        .full_throttle_currents_a(there, grip)
        .get(index)
        .copied()
}

fn controller(
    study: &Study,
    under: &Under,
    index: usize,
    drive: &Drive,
    state: &DriveState,
) -> Option<Finding> {
    let name = of(drive, "controller");
    let Some(rated) = drive.controller.rated_current_a else {
        let sentence = format!("The boat file does not say what {name} is rated for.");
        return Some(
            Finding::new("controller", Standing::Unsure, Basis::Statics, sentence)
                .number(top_current(study, state)),
        );
    };
    let number = top_current(study, state);
    let limit = Limit::at_most(
        amps(rated / CONTROLLER_MARGIN),
        format!(
            "rated {} over 1.5; common practice with good cooling water, no source",
            amps(rated).plain()
        ),
    );
    let standing = if number.value > rated {
        Standing::Stop
    } else {
        limit.judge(&number, Standing::Watch)
    };
    let sentence = format!(
        "At top speed {name} carries {} and is rated {}.",
        number,
        amps(rated).plain()
    );
    let mut found = Finding::new("controller", standing, Basis::TheoryOnly, sentence)
        .number(number)
        .limit(limit)
        .why("Current follows from the torque the propeller asks for. Ratings assume cooling water; long part throttle heats a controller more than full throttle.");
    let humps = [
        (
            Grip::Settled,
            "at the hump with the throttle open, for a second or three",
        ),
        (Grip::DrawingAir, "the same while the propeller draws air"),
    ];
    for (grip, label) in humps {
        if let Some(hump) = hump_current_a(under, index, grip) {
            found = found.figure(label, amps(hump));
        }
    }
    Some(found.changes(improve(study, Quantity::TopCurrent, Want::Less)))
}

fn motor(study: &Study, drive: &Drive, state: &DriveState) -> Option<Finding> {
    let rated = drive.motor.max_current_a?;
    let number = top_current(study, state);
    let limit = Limit::at_most(amps(rated), "the maker's limit, from the boat file");
    let standing = limit.judge(&number, Standing::Stop);
    let sentence = format!(
        "At top speed {} takes {number}; its maker allows {}.",
        of(drive, "motor"),
        amps(rated).plain()
    );
    Some(
        Finding::new("motor", standing, Basis::TheoryOnly, sentence)
            .number(number)
            .limit(limit)
            .why("Three-constant motor: speed constant, resistance, no-load current.")
            .figure(
                "shaft power",
                Number::exact(Kind::Power, state.shaft_power_w),
            )
            .figure(
                "heat in the motor",
                Number::exact(Kind::Power, state.motor_heat_w),
            )
            .caution(PROPELLER)
            .changes(improve(study, Quantity::TopCurrent, Want::Less)),
    )
}

fn pack(study: &Study, drive: &Drive, state: &DriveState) -> Finding {
    let current = top_current(study, state);
    let capacity_ah = drive.battery.capacity_c.value / 3600.0;
    let per_hour = |value, spread| Number::new(Kind::Number, value, spread).per("per hour");
    let number = per_hour(current.value / capacity_ah, current.spread / capacity_ah);
    let limit = Limit::at_most(
        per_hour(DISCHARGE_PER_H, 0.0),
        "capacities; common practice, whatever the label says",
    );
    let standing = limit.judge(&number, Standing::Watch);
    let sentence = format!(
        "At top speed {} gives {current} at {}, {:.0} times its capacity per hour.",
        of(drive, "pack"),
        Number::exact(Kind::Voltage, state.voltage_v).plain(),
        number.value
    );
    Finding::new("pack", standing, Basis::TheoryOnly, sentence)
        .number(number)
        .limit(limit)
        .why("Cells sag by current times resistance; resistance doubles when they are cold. The C figure on a label is not comparable between makers and is not used.")
        .figure("open circuit less terminals", sag(drive, state))
        .caution(LITHIUM)
        .changes(improve(study, Quantity::TopCurrent, Want::Less))
}

fn sag(drive: &Drive, state: &DriveState) -> Number {
    let charge = drive.battery.state_of_charge.value;
    let open_v = f64::from(drive.battery.series) * laws::cell::open_circuit_v(charge);
    Number::exact(Kind::Voltage, open_v - state.voltage_v)
}

/// Full throttle from full to a fifth left, the shortest of the packs.
fn run_time(study: &Study, top: &RunningState) -> Option<Finding> {
    let drives = study.boat.drives.iter().zip(&top.drives);
    let shortest = drives
        .map(|(drive, state)| USABLE * drive.battery.capacity_c.value / state.current_a.max(1e-3))
        .min_by(f64::total_cmp)?;
    let current = top.drives.iter().map(|d| d.current_a).fold(1e-3, f64::max);
    let spread = shortest * study.spread.half_width(Quantity::TopCurrent) / current;
    let number = Number::new(Kind::Time, shortest, spread.min(shortest));
    let limit =
        study.boat.wishes.run_time_s.map(|wish| {
            Limit::at_least(Number::exact(Kind::Time, wish), "the boat file's own wish")
        });
    let standing = match &limit {
        Some(limit) => limit.judge(&number, Standing::Watch),
        None => Standing::Good,
    };
    let sentence = format!(
        "Flat out it runs {:.1} minutes on four fifths of the charge.",
        shortest / 60.0
    );
    let mut found = Finding::new("run-time", standing, Basis::TheoryOnly, sentence)
        .number(number)
        .why("Four fifths of the capacity over the current at top speed. Voltage and speed fall by about a tenth on the way, so the end of a run is slower and a little longer.")
        .caution(LITHIUM)
        .changes(improve(study, Quantity::TopCurrent, Want::Less));
    found.limit = limit;
    Some(found)
}
