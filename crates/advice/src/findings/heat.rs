//! Heat over a run, cooling water, charging, fuse and connector.

use boat::{Drive, Kind};
use laws::controller_loss::{Leads, Ripple, loss, ripple};
use power::run::Discharge;
use power::setup::charge_time_s;
use power::thermal::Part;

use crate::finding::{Basis, Finding, Limit, Standing};
use crate::number::Number;
use study::stint::FlatOut;
use study::{Study, Under};

/// Lead that controllers are made for, and what each further 100 mm asks, F (common practice, no source).
const LEAD_M: f64 = 0.2;
const CAPACITOR_F: f64 = 220e-6;
/// An idling boat, m/s.
const IDLE_M_S: f64 = 10.0 / 3.6;
/// Battery wire, its conductor and insulation, m; what controllers carry themselves, F (judgement).
const WIRE_M: f64 = 0.004;
const OWN_CAPACITOR_F: f64 = 470e-6;
/// Usual chopping frequency, Hz (common practice, no source).
const CHOP_HZ: f64 = 16e3;

const LIVE: &str = "Unplug the pack before reaching in. Cans and controllers burn fingers at 60 °C and more; cells over 60 °C may vent: leave a hot boat outdoors until it is cool.";
const CHARGING: &str = "Charge watched, outside the boat, on something that does not burn, at no more than the maker's rate; never a wet, swollen or crashed pack. The maker's limits hold.";

pub fn findings(study: &Study, under: &Under) -> Vec<Finding> {
    let drives = study.boat.drives.iter().enumerate();
    drives
        .flat_map(|(index, drive)| of_drive(under, index, drive))
        .collect()
}

fn of_drive(under: &Under, index: usize, drive: &Drive) -> Vec<Finding> {
    let mut all = vec![charge(drive)];
    all.extend(lead(drive, straight_a(under, index)));
    let Some(flat_out) = under.flat_out.iter().find(|f| f.index == index) else {
        return all;
    };
    all.push(heat(flat_out));
    all.extend(drive.cooling.as_ref().map(|line| cooling(flat_out, line)));
    all
}

fn named(drive: &str, what: &str) -> String {
    if drive.is_empty() {
        format!("the {what}")
    } else {
        format!("the {drive} drive's {what}")
    }
}

fn celsius(kelvin: f64, spread: f64) -> Number {
    Number::new(Kind::Temperature, kelvin - 273.15, spread)
}

fn time(seconds: f64) -> String {
    Number::exact(Kind::Time, seconds.round()).plain()
}

fn heat(flat_out: &FlatOut) -> Finding {
    let (stint, run) = (&flat_out.stint, &flat_out.run);
    let warmest = flat_out.nearest_limit();
    let part = warmest.part;
    let number = celsius(warmest.at_k, warmest.half_width_k);
    let limit_k = stint.setup.limits.at_k[part as usize];
    let limit = Limit::at_most(
        Number::exact(Kind::Temperature, limit_k - 273.15),
        "the maker's limit in the boat file, or where builders stop; common practice, no source",
    );
    let name = named(&stint.drive, part.name());
    let (standing, sentence) = match run.first() {
        Some(first) => (
            Standing::Watch,
            format!(
                "Flat out from cold {} reaches its limit of {} after {}.",
                named(&stint.drive, first.part.name()),
                Number::exact(Kind::Temperature, first.limit_k - 273.15).plain(),
                time(first.time_s),
            ),
        ),
        None => (
            limit.judge(&number, Standing::Watch),
            format!("Flat out {name} comes nearest to its limit, at {number}."),
        ),
    };
    let mut found = Finding::new("heat", standing, Basis::TheoryOnly, sentence)
        .number(number)
        .limit(limit)
        .why("Copper, iron and switching heat go into winding, can, magnets, controller and pack; water and air carry it off. Six lumps of heat in time, with masses and joints estimated from size: carry half of the rise. `skimwright stint` shows the run.")
        .caution(LIVE);
    for part in Part::ALL {
        found = found.figure(part.name(), celsius(run.hottest_k[part as usize], 0.0));
    }
    for (label, throttle) in [
        ("controller's heat at top speed", 1.0),
        ("the same current at half throttle", 0.5),
    ] {
        let watts = controller_w(flat_out, throttle);
        found = found.figure(label, Number::exact(Kind::Power, watts));
    }
    found.figure(
        "most from the pack",
        Number::exact(Kind::Current, run.peak_pack_a),
    )
}

/// Part throttle switches the whole current sixteen thousand times a second.
fn controller_w(flat_out: &FlatOut, throttle: f64) -> f64 {
    let at_speed = |s: &&power::run::Sample| s.time_s < flat_out.stopped_s - 2.0;
    let late = flat_out.run.samples.iter().rfind(at_speed);
    late.map_or(0.0, |s| {
        let controller = &flat_out.stint.setup.controller;
        loss(controller, s.instant.motor_a, s.instant.pack_v, throttle).total_w
    })
}

fn cooling(flat_out: &FlatOut, given: &boat::CoolingLoop) -> Finding {
    let (stint, run) = (&flat_out.stint, &flat_out.run);
    let flow_kg_s = run.samples.iter().map(|s| s.water_kg_s).fold(0.0, f64::max);
    let number = Number::new(Kind::Flow, flow_kg_s / 1000.0, 0.3 * flow_kg_s / 1000.0);
    let lost = flat_out.blocked.as_ref().and_then(Discharge::first);
    let (standing, sentence) = match (flow_kg_s > 1e-5, lost) {
        (false, _) => (
            Standing::Watch,
            "No water gets through the cooling line at any speed: the ram pressure does not lift it over the highest point.".to_owned(),
        ),
        (true, Some(first)) => (
            Standing::Good,
            format!(
                "Cooling water runs at {number} at top speed; with the pickup blocked {} reaches its limit after {} flat out.",
                named(&stint.drive, first.part.name()),
                time(first.time_s)
            ),
        ),
        (true, None) => (
            Standing::Good,
            format!("Cooling water runs at {number} at top speed; even without it nothing reaches its limit flat out."),
        ),
    };
    let mut found = Finding::new("cooling", standing, Basis::TheoryOnly, sentence)
        .number(number)
        .why("The pickup's ram pressure, less the rise to the highest point, drives the water through hole, tube, coils and outlet in a row. Below the speed at which it is lifted over that point nothing runs: slow running with a hot motor is the worst for it. Builders see a steady jet from about 25 km/h (common practice, no source): below planing a pickup behind the hull may stand in dead water, which is not in this.")
        .figure("highest point", Number::new(Kind::Length, given.rise_m.value, given.rise_m.spread))
        .caution(LIVE);
    if let Some(line) = &stint.setup.line {
        found = found.figure("lifted from", Number::exact(Kind::Speed, line.starts_m_s()));
    }
    if let Some(water) = &flat_out.cooling {
        let flow = Number::exact(Kind::Flow, water.flow_kg_s(IDLE_M_S) / 1000.0);
        found = found.figure("idling at 10 km/h", flow);
    }
    if let Some(last) = run.samples.iter().rfind(|s| s.water_kg_s > 1e-5) {
        found = found.figure("at the outlet", celsius(last.outlet_k, 0.0));
    }
    found
}

fn charge(drive: &Drive) -> Finding {
    let seconds = charge_time_s(0.2, 1.0, 1.0);
    let number = Number::new(Kind::Time, seconds, 0.2 * seconds);
    let volts = 4.2 * f64::from(drive.battery.series);
    let amps = drive.battery.capacity_c.value / 3600.0;
    let sentence = format!(
        "{} takes {number} to charge at 1C, {}, to no more than {}.",
        capital(&named(&drive.name, "pack")),
        Number::exact(Kind::Current, amps).plain(),
        Number::exact(Kind::Voltage, volts).plain(),
    );
    Finding::new("charge", Standing::Good, Basis::RuleOfThumb, sentence)
        .number(number)
        .why("From a fifth to full: constant current to nine tenths, then tapering (common practice, no source). Store at about 3.8 V a cell, cool, in a metal box; do not run below 3.2 V a cell.")
        .caution(CHARGING)
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(|c| c.to_uppercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}

fn straight_a(under: &Under, index: usize) -> Option<f64> {
    let top = under.curve.top.as_ref()?;
    top.drives.get(index).map(|d| d.current_a)
}

/// Long leads between pack and controller want capacitors.
fn lead(drive: &Drive, straight_a: Option<f64>) -> Option<Finding> {
    let lead_m = drive.controller.lead_m.value;
    if lead_m <= LEAD_M {
        return None;
    }
    let wanted_f = CAPACITOR_F * (lead_m - LEAD_M) / 0.1;
    let have_f = drive.controller.capacitor_f.unwrap_or(0.0);
    let number = Number::exact(Kind::Capacitance, have_f);
    let limit = Limit::at_least(
        Number::exact(Kind::Capacitance, wanted_f),
        "220 uF at the controller for each 100 mm over 200 mm; common practice, no source",
    );
    let standing = limit.judge(&number, Standing::Watch);
    let sentence = format!(
        "{} has {} of added lead to the pack and {} of capacitors at it.",
        capital(&named(&drive.name, "controller")),
        Number::exact(Kind::Length, lead_m).plain(),
        number.plain()
    );
    let mut found = Finding::new("lead", standing, Basis::RuleOfThumb, sentence)
        .number(number)
        .limit(limit)
        .why("When the controller stops the current, the leads' inductance drives it on into its capacitors: longer leads, more ripple, hot capacitors, then burnt switches. Lengthen the motor's wires instead. Ripple is estimated at half throttle with the straight's current, wires of 4 mm at 8 mm between centres and 470 uF in the controller itself (judgement): a steady chopper, upper estimate.");
    if let Some(ripple) = straight_a.and_then(|a| ripple_at(drive, a)) {
        found = found
            .figure(
                "ripple current in the capacitors",
                Number::exact(Kind::Current, ripple.current_a),
            )
            .figure(
                "kick above the pack, at most",
                Number::exact(Kind::Voltage, ripple.kick_v),
            );
    }
    Some(found)
}

/// At half throttle, where the current through the capacitors is largest.
fn ripple_at(drive: &Drive, current_a: f64) -> Option<Ripple> {
    let leads = Leads {
        length_m: drive.controller.lead_m.value,
        wire_m: WIRE_M,
        spacing_m: 2.0 * WIRE_M,
    };
    let all_f = OWN_CAPACITOR_F + drive.controller.capacitor_f.unwrap_or(0.0);
    ripple(current_a, 0.5, CHOP_HZ, all_f, leads).ok()
}
