//! Currents against what motor, controller, pack, fuse and connector stand, each for as long as it lasts.
//!
//! The straight is held against what a part stands for the whole run, the hump against what it stands for a
//! second or three: no part is called good by the straight alone.

use boat::{Drive, Kind};
use craft::DriveState;

use super::{asked, improve};
use crate::change::Want;
use crate::finding::{Basis, Finding, Limit, Standing};
use crate::number::Number;
use study::Quantity;
use study::{Study, Under};

/// Controller rating over current on the straight. Common practice, no source.
const CONTROLLER_MARGIN: f64 = 1.5;
/// Discharge that packs stand for a run, C, whatever the label says. Common practice.
const DISCHARGE_C: f64 = 35.0;

/// How many times what a part stands for the whole run it stands for the hump's second or three. Common
/// practice, no source.
mod short_time {
    /// Field-effect transistors on a cooled plate.
    pub const CONTROLLER: f64 = 1.5;
    /// Cells.
    pub const PACK: f64 = 2.0;
    /// A fuse melts in seconds at more.
    pub const FUSE: f64 = 2.0;
    /// Spring contacts.
    pub const CONNECTOR: f64 = 1.5;
    /// Windings.
    pub const MOTOR: f64 = 2.0;
}

const LITHIUM: &str = "Lithium packs: stay inside the maker's limits for current, charge and temperature. Charge \
     watched, outside the boat, on something that does not burn; never charge a wet, swollen or \
     crashed pack.";
const PROPELLER: &str = "Unplug the pack before touching motor, shaft or propeller: treat them as live whenever it is connected.";

pub fn findings(study: &Study, under: &Under) -> Vec<Finding> {
    let Some(top) = &under.curve.top else {
        return Vec::new();
    };
    let mut all = Vec::new();
    for (drive, state) in study.boat.drives.iter().zip(&top.drives) {
        let load = Load::of(study, drive, state);
        all.push(controller(study, &load));
        all.extend(motor(study, &load));
        all.push(pack(study, &load));
        all.extend(fuse(study, &load));
        all.extend(connector(study, &load));
    }
    all.extend(run_time(study));
    all
}

/// What one drive draws.
struct Load<'a> {
    drive: &'a Drive,
    state: &'a DriveState,
    straight: Number,
    hump: Option<Number>,
}

impl<'a> Load<'a> {
    fn of(study: &Study, drive: &'a Drive, state: &'a DriveState) -> Self {
        let spread = study.number(Quantity::TopCurrent).map_or(0.0, |n| n.1);
        Self {
            drive,
            state,
            straight: Number::new(Kind::Current, state.current_a, spread),
            hump: asked(study, Quantity::HumpCurrent),
        }
    }

    /// `The left drive's controller`, or `The controller` of a single one.
    fn the(&self, what: &str) -> String {
        if self.drive.name.is_empty() {
            format!("The {what}")
        } else {
            format!("The {} drive's {what}", self.drive.name)
        }
    }

    /// `45 ± 11 A on the straight and 86 A over the hump`.
    fn words(&self) -> String {
        match &self.hump {
            Some(hump) => format!(
                "{} on the straight and {} over the hump",
                self.straight,
                hump.plain()
            ),
            None => format!("{} on the straight", self.straight),
        }
    }

    /// Worst of the straight against what a part stands for a run and the hump against what it stands for
    /// seconds; `outside` where the straight is over.
    fn judge(&self, straight: &Limit, hump_a: f64, outside: Standing) -> Standing {
        let over_hump = self.hump.as_ref().map_or(Standing::Good, |hump| {
            Limit::at_most(amps(hump_a), "").judge(hump, Standing::Watch)
        });
        straight.judge(&self.straight, outside).min(over_hump)
    }

    /// A finding about a part marked `rated`, that stands `times` as much over the hump.
    fn held(&self, study: &Study, part: Part) -> Finding {
        let limit = Limit::at_most(amps(part.steady_a), part.says);
        let standing = self.judge(&limit, part.short_a, part.outside);
        let mut sentence = format!(
            "{} carries {}; {}.",
            self.the(part.id),
            self.words(),
            part.mark
        );
        if let Some(hump) = self.hump.as_ref().filter(|h| h.value > part.short_a) {
            sentence.push_str(&format!(
                " {} is more than it stands for seconds: squeeze the throttle until it planes.",
                hump.plain()
            ));
        }
        let mut found = Finding::new(part.id, standing, Basis::TheoryOnly, sentence)
            .number(self.straight)
            .limit(limit)
            .figure("stands for a second or three", amps(part.short_a))
            .changes(improve(study, Quantity::TopCurrent, Want::Less));
        if let Some(hump) = self.hump {
            found = found.figure("over the hump with the throttle open", hump);
        }
        found
    }
}

/// What a part stands.
struct Part {
    id: &'static str,
    mark: String,
    steady_a: f64,
    short_a: f64,
    says: String,
    outside: Standing,
}

fn amps(value: f64) -> Number {
    Number::exact(Kind::Current, value)
}

fn controller(study: &Study, load: &Load) -> Finding {
    let Some(rated) = load.drive.controller.rated_current_a else {
        let sentence = format!(
            "{} carries {}; what it is rated for is not given.",
            load.the("controller"),
            load.words()
        );
        return Finding::new("controller", Standing::Unsure, Basis::Statics, sentence)
            .number(load.straight);
    };
    let rating = amps(rated).plain();
    let part = Part {
        id: "controller",
        mark: format!("it is rated {rating}"),
        steady_a: rated / CONTROLLER_MARGIN,
        short_a: rated * short_time::CONTROLLER,
        says: format!(
            "rated {rating} over 1.5; common practice with good cooling water, no source"
        ),
        outside: if load.straight.value > rated {
            Standing::Stop
        } else {
            Standing::Watch
        },
    };
    load.held(study, part)
        .why("Current follows from the torque the propeller asks for. Ratings assume cooling water; long part throttle heats a controller more than full throttle. For a second or three over the hump a controller stands half as much again as its mark (common practice, no source).")
}

fn motor(study: &Study, load: &Load) -> Option<Finding> {
    let rated = load.drive.motor.max_current_a?;
    let part = Part {
        id: "motor",
        mark: format!("its maker allows {}", amps(rated).plain()),
        steady_a: rated,
        short_a: rated * short_time::MOTOR,
        says: "the maker's limit, from the boat file".to_owned(),
        outside: Standing::Stop,
    };
    let found = load
        .held(study, part)
        .why("Three-constant motor: speed constant, resistance, no-load current, at its running temperature. Windings stand twice the maker's current for a second or three (common practice, no source); `heat` follows them through the run.")
        .figure(
            "shaft power",
            Number::exact(Kind::Power, load.state.shaft_power_w),
        )
        .figure(
            "heat in the motor",
            Number::exact(Kind::Power, load.state.motor_heat_w),
        );
    Some(found.caution(PROPELLER))
}

fn pack(study: &Study, load: &Load) -> Finding {
    let capacity_ah = load.drive.battery.capacity_c.value / 3600.0;
    let c = |value, spread| Number::new(Kind::Number, value, spread).per("C");
    let number = c(
        load.straight.value / capacity_ah,
        load.straight.spread / capacity_ah,
    );
    let limit = Limit::at_most(
        c(DISCHARGE_C, 0.0),
        "for a whole run; common practice, whatever the label says",
    );
    let steady = Limit::at_most(amps(DISCHARGE_C * capacity_ah), "");
    let short_a = short_time::PACK * DISCHARGE_C * capacity_ah;
    let standing = load.judge(&steady, short_a, Standing::Watch);
    let sentence = format!(
        "{} gives {}: {:.0}C at {}.",
        load.the("pack"),
        load.words(),
        number.value,
        Number::exact(Kind::Voltage, load.state.voltage_v).plain(),
    );
    Finding::new("pack", standing, Basis::TheoryOnly, sentence)
        .number(number)
        .limit(limit)
        .why("Cells sag by current times resistance; resistance doubles when they are cold. The C figure on a label is not comparable between makers and is not used. For a second or three over the hump packs stand twice as much (common practice, no source).")
        .figure("open circuit less terminals", sag(load.drive, load.state))
        .figure("stands for a second or three", amps(short_a))
        .caution(LITHIUM)
        .changes(improve(study, Quantity::TopCurrent, Want::Less))
}

fn sag(drive: &Drive, state: &DriveState) -> Number {
    let charge = drive.battery.state_of_charge.value;
    let open_v = f64::from(drive.battery.series) * laws::cell::open_circuit_v(charge);
    Number::exact(Kind::Voltage, open_v - state.voltage_v)
}

fn fuse(study: &Study, load: &Load) -> Option<Finding> {
    let rated = load.drive.battery.fuse_a?;
    Some(marked(study, load, "fuse", rated, short_time::FUSE))
}

fn connector(study: &Study, load: &Load) -> Option<Finding> {
    let rated = load.drive.battery.connector_a?;
    Some(marked(
        study,
        load,
        "connector",
        rated,
        short_time::CONNECTOR,
    ))
}

fn marked(study: &Study, load: &Load, id: &'static str, rated: f64, short: f64) -> Finding {
    let part = Part {
        id,
        mark: format!("it is marked {}", amps(rated).plain()),
        steady_a: rated,
        short_a: rated * short,
        says: format!("what the {id} is marked with, for a whole run"),
        outside: Standing::Watch,
    };
    load.held(study, part)
        .why("Fuses stand twice their mark and connectors half as much again for the second or three of the hump (common practice, no source).")
        .caution(LITHIUM)
}

/// Full throttle from full until a fifth of the charge is left, the shortest of the packs.
fn run_time(study: &Study) -> Option<Finding> {
    let number = asked(study, Quantity::RunTime)?;
    let limit =
        study.boat.wishes.run_time_s.map(|wish| {
            Limit::at_least(Number::exact(Kind::Time, wish), "the boat file's own wish")
        });
    let standing = match &limit {
        Some(limit) => limit.judge(&number, Standing::Watch),
        None => Standing::Good,
    };
    let sentence = format!("Flat out it runs {number} until a fifth of the charge is left.");
    let mut found = Finding::new("run-time", standing, Basis::TheoryOnly, sentence)
        .number(number)
        .why("The run in time at full throttle, from full and cold: voltage, rpm and current fall by about a tenth on the way. `skimwright stint` shows it second by second.")
        .caution(LITHIUM)
        .changes(improve(study, Quantity::TopCurrent, Want::Less));
    found.limit = limit;
    Some(found)
}
