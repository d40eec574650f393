//! Which measured values can be held against the model, and under which condition.
//!
//! Several numbers from one recording share its errors (a clock, a scale, a pole count), so of each
//! kind one number a recording is taken: the two-way mean, else the mean held nearest to three
//! seconds (common practice, no source), else the middle of the steady stretches.

use advice::Number;
use boat::{Boat, Kind};
use evidence::Measured;
use evidence::measured::{median, robust_sigma};
use evidence::outing::{Doing, Outing, QuantityKind, Statistic, Value};
use laws::constants::HALF_WIDTH_95;
use std::f64::consts::TAU;

/// Seconds a best speed should be held.
const HELD_S: f64 = 3.0;
/// A speed nobody gave an uncertainty, as a share.
const UNSURE_SPEED: f64 = 0.03;

/// Where on the speed curve a value was measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Place {
    /// Straight ahead with this throttle, 0 to 1.
    Throttle(f64),
    /// Straight ahead at this speed, m/s.
    Speed(f64),
}

/// A value that can be held against the model.
#[derive(Debug, Clone, PartialEq)]
pub struct Observed {
    /// What it is.
    pub kind: QuantityKind,
    /// Value and standard uncertainty, SI as in `measured.json`.
    pub measured: Measured,
    /// Where it was measured.
    pub place: Place,
    /// Recording and method.
    pub from: String,
    /// Which drive, from 0.
    pub drive: usize,
    /// What was taken for granted.
    pub assumed: Option<String>,
    /// How long the run had lasted, s; for temperatures.
    pub after_s: Option<f64>,
    /// A mean of both ways, which the wind does not move.
    pub both_ways: bool,
}

/// A value that cannot.
#[derive(Debug, Clone, PartialEq)]
pub struct Passed {
    /// What it is.
    pub kind: QuantityKind,
    /// Value and standard uncertainty.
    pub measured: Measured,
    /// Recording and method.
    pub from: String,
    /// Why not.
    pub why: &'static str,
}

/// Numbers that cannot be.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{}", .0.join("\n"))]
pub struct Impossible(pub Vec<String>);

/// Sorts an outing's values.
///
/// # Errors
/// [`Impossible`], with every value at fault and what it may be.
pub fn observe(outing: &Outing, boat: &Boat) -> Result<(Vec<Observed>, Vec<Passed>), Impossible> {
    let faults: Vec<String> = outing
        .quantities
        .iter()
        .filter_map(|v| {
            Some(format!(
                "{} {}: {}",
                v.from.recording,
                name(v.kind),
                fault(v, boat)?
            ))
        })
        .collect();
    if !faults.is_empty() {
        return Err(Impossible(faults));
    }
    let mut taken: Vec<Observed> = Vec::new();
    let mut passed = Vec::new();
    let mut left: Vec<&Value> = Vec::new();
    for value in &outing.quantities {
        match unusable(value) {
            Some(why) => passed.push(pass(value, why)),
            None => left.push(value),
        }
    }
    let mut done: Vec<(&str, Option<u32>, QuantityKind)> = Vec::new();
    for value in &left {
        let key = (value.from.recording.as_str(), value.from.which, value.kind);
        if done.contains(&key) {
            continue;
        }
        done.push(key);
        let like = |v: &&Value| (v.from.recording.as_str(), v.from.which, v.kind) == key;
        let group: Vec<&Value> = left.iter().copied().filter(like).collect();
        let (value, beside) = best(&group);
        passed.extend(
            beside
                .iter()
                .map(|v| pass(v, "another number of the same recording stands for it")),
        );
        taken.push(observed(value, outing));
    }
    Ok((taken, passed))
}

/// Builders' names.
pub fn name(kind: QuantityKind) -> &'static str {
    match kind {
        QuantityKind::Speed => "speed",
        QuantityKind::ShaftSpeed => "propeller speed",
        QuantityKind::Current => "current",
        QuantityKind::Voltage => "voltage",
        QuantityKind::Power => "battery power",
        QuantityKind::Charge => "charge drawn",
        QuantityKind::MotorTemperature => "motor temperature",
        QuantityKind::ControllerTemperature => "controller temperature",
        QuantityKind::OtherTemperature => "temperature",
        QuantityKind::Throttle => "throttle",
        QuantityKind::Trim => "trim",
        QuantityKind::Heel => "heel",
        QuantityKind::HopFrequency => "hop frequency",
        QuantityKind::HopAcceleration => "hop acceleration",
        QuantityKind::LandingAcceleration => "landing acceleration",
        QuantityKind::FlightTime => "time in the air",
        QuantityKind::TurnRadius => "turn radius",
        QuantityKind::LateralAcceleration => "sideways acceleration",
        QuantityKind::PassDistance => "distance of the pass",
        QuantityKind::LapTime => "lap time",
        QuantityKind::Distance => "distance run",
        QuantityKind::PulseWidth => "pulse width",
        QuantityKind::FramePeriod => "pulse period",
        QuantityKind::EdgeTimeConstant => "edge time constant",
    }
}

/// In the trade's unit with its 95 % half-width.
pub fn number(kind: QuantityKind, m: Measured) -> Number {
    let n = |kind| Number::new(kind, m.value, HALF_WIDTH_95 * m.sigma);
    match kind {
        QuantityKind::Speed => n(Kind::Speed),
        QuantityKind::ShaftSpeed => n(Kind::ShaftSpeed),
        QuantityKind::Current => n(Kind::Current),
        QuantityKind::Voltage => n(Kind::Voltage),
        QuantityKind::Power => n(Kind::Power),
        QuantityKind::Charge => n(Kind::Number).per("C"),
        QuantityKind::MotorTemperature
        | QuantityKind::ControllerTemperature
        | QuantityKind::OtherTemperature => n(Kind::Temperature),
        QuantityKind::Throttle => n(Kind::Fraction),
        QuantityKind::Trim | QuantityKind::Heel => n(Kind::Angle),
        QuantityKind::HopFrequency => n(Kind::Number).per("Hz"),
        QuantityKind::HopAcceleration
        | QuantityKind::LandingAcceleration
        | QuantityKind::LateralAcceleration => n(Kind::Number).per("m/s2"),
        QuantityKind::TurnRadius | QuantityKind::PassDistance | QuantityKind::Distance => {
            n(Kind::Number).per("m")
        }
        QuantityKind::FlightTime | QuantityKind::LapTime => n(Kind::Number).per("s"),
        QuantityKind::PulseWidth | QuantityKind::FramePeriod | QuantityKind::EdgeTimeConstant => {
            Number::new(Kind::Number, 1e6 * m.value, 1e6 * HALF_WIDTH_95 * m.sigma).per("us")
        }
    }
}

fn pass(value: &Value, why: &'static str) -> Passed {
    Passed {
        kind: value.kind,
        measured: value.measured(),
        from: from(value),
        why,
    }
}

pub(crate) fn from(value: &Value) -> String {
    let which = value
        .from
        .which
        .map_or_else(String::new, |w| format!(" {w}"));
    format!("{}{which} ({})", value.from.recording, value.from.method)
}

/// What makes a number impossible.
fn fault(v: &Value, boat: &Boat) -> Option<String> {
    if v.unit != v.kind.unit() {
        return Some(format!(
            "the unit is {}, and this is measured in {}",
            word(v.unit),
            word(v.kind.unit())
        ));
    }
    if !v.value.is_finite() || !v.sigma.is_finite() || v.sigma < 0.0 {
        return Some(format!("{} ± {} is no measurement", v.value, v.sigma));
    }
    let x = v.value;
    let drive = boat
        .drives
        .get(v.from.which.map_or(0, |w| (w as usize).saturating_sub(1)));
    let unloaded = drive.or(boat.drives.first()).map(|d| {
        let volts = 4.2 * f64::from(d.battery.series);
        (
            d.motor.kv_rad_s_v.value * volts / d.gear_ratio.value,
            volts,
            d.propeller.diameter_m.value * d.propeller.pitch_ratio.value,
        )
    });
    let (shaft, volts, pitch) = unloaded.unwrap_or((f64::INFINITY, f64::INFINITY, f64::INFINITY));
    let rpm = |w: f64| w * 60.0 / TAU;
    match v.kind {
        QuantityKind::Speed if x < 0.0 => Some(format!(
            "{:.1} km/h is below zero: a speed has no sign here",
            3.6 * x
        )),
        QuantityKind::Speed if x > 100.0 || x > 3.0 * pitch * shaft / TAU => Some(format!(
            "{:.0} km/h is over three times what pitch and unloaded turns give: is the unit right?",
            3.6 * x
        )),
        QuantityKind::ShaftSpeed if x < 0.0 => Some(format!("{:.0} rpm is below zero", rpm(x))),
        QuantityKind::ShaftSpeed if x > 3.0 * shaft => Some(format!(
            "{:.0} rpm is {:.1} times what this pack can give the motor unloaded ({:.0} rpm at the propeller): doubt the pole count, electrical turns are pole pairs times the shaft's",
            rpm(x),
            x / shaft,
            rpm(shaft)
        )),
        QuantityKind::Voltage if x < 0.0 || x > 1.3 * volts => Some(format!(
            "{x:.1} V from a pack of {volts:.1} V at most: doubt the number of cells or the column"
        )),
        QuantityKind::Current if !(-5.0..=2000.0).contains(&x) => Some(format!(
            "{x:.0} A: is the unit right, or the sensor's sign?"
        )),
        QuantityKind::Throttle if !(-0.05..=1.05).contains(&x) => {
            Some(format!("{x:.2} is outside 0 to 1"))
        }
        QuantityKind::Trim | QuantityKind::Heel if x.abs() > TAU / 2.0 => Some(format!(
            "{:.0}° is over a half turn: degrees taken for radians?",
            x.to_degrees()
        )),
        QuantityKind::MotorTemperature
        | QuantityKind::ControllerTemperature
        | QuantityKind::OtherTemperature
            if !(-40.0..=400.0).contains(&x) =>
        {
            Some(format!(
                "{x:.0} °C cannot be: is the sensor connected, and the unit right?"
            ))
        }
        _ => None,
    }
}

fn word(unit: evidence::outing::Unit) -> String {
    serde_json::to_string(&unit)
        .unwrap_or_default()
        .replace('"', "")
}

/// Why a possible number is not held against the model.
fn unusable(v: &Value) -> Option<&'static str> {
    let steady = matches!(
        v.kind,
        QuantityKind::Speed
            | QuantityKind::ShaftSpeed
            | QuantityKind::Current
            | QuantityKind::Voltage
            | QuantityKind::Power
            | QuantityKind::Trim
            | QuantityKind::Heel
    );
    let hot = matches!(
        v.kind,
        QuantityKind::MotorTemperature | QuantityKind::ControllerTemperature
    );
    if !steady && !hot {
        return Some("not a number of steady straight running");
    }
    if v.sigma <= 0.0 {
        return Some("no uncertainty is given");
    }
    if hot {
        let known = v.condition.throttle.is_some() && v.window.is_some_and(|w| w.to_s > w.from_s);
        return (!known).then_some("how long and how hard it had run is not recorded");
    }
    match v.condition.motion {
        Doing::Straight | Doing::Unknown => {}
        Doing::TurnToPort | Doing::TurnToStarboard => return Some("in a turn"),
        Doing::AtRest => return Some("at rest"),
        Doing::Launch => return Some("while gathering speed"),
        Doing::Airborne => return Some("in the air"),
        Doing::Whole => return Some("over the whole recording, whatever happened"),
    }
    match v.statistic {
        Statistic::Peak | Statistic::Least => Some("an extreme, not a steady value"),
        Statistic::Total | Statistic::Last => Some("not a steady value"),
        Statistic::Steady | Statistic::BestHeld | Statistic::TwoWay => None,
    }
}

/// The one that stands for the group, and those beside it.
fn best<'v>(group: &[&'v Value]) -> (Value, Vec<&'v Value>) {
    let rank = |v: &Value| {
        let long = v.window.map_or(0.0, |w| w.to_s - w.from_s);
        match v.statistic {
            Statistic::TwoWay => (0, 0.0),
            Statistic::BestHeld => (1, (long - HELD_S).abs()),
            _ => (2, 0.0),
        }
    };
    let order = |a: &&&Value, b: &&&Value| {
        let (a, b) = (rank(a), rank(b));
        a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))
    };
    // A group is never empty.
    let chosen = group.iter().min_by(order).copied().unwrap_or(group[0]);
    let alike: Vec<&&Value> = group
        .iter()
        .filter(|v| {
            v.statistic == chosen.statistic
                && v.statistic == Statistic::Steady
                && v.condition.throttle == chosen.condition.throttle
        })
        .collect();
    let mut value = chosen.clone();
    if alike.len() > 1 {
        let values: Vec<f64> = alike.iter().map(|v| v.value).collect();
        let sigmas: Vec<f64> = alike.iter().map(|v| v.sigma).collect();
        value.value = median(&values).unwrap_or(value.value);
        let scatter = robust_sigma(&values).unwrap_or(0.0);
        value.sigma = median(&sigmas).unwrap_or(value.sigma).hypot(scatter);
        value.from.method = format!("{}, middle of {}", value.from.method, alike.len());
    }
    let beside = group
        .iter()
        .copied()
        .filter(|v| {
            !std::ptr::eq(*v, chosen) && (alike.len() <= 1 || v.statistic != Statistic::Steady)
        })
        .collect();
    (value, beside)
}

fn observed(value: Value, outing: &Outing) -> Observed {
    let mut measured = value.measured();
    let (place, assumed) = match (value.condition.throttle, value.condition.speed_m_s) {
        (Some(throttle), _) => (Place::Throttle(throttle.clamp(0.05, 1.0)), None),
        (None, Some(speed)) if value.kind != QuantityKind::Speed && speed > 0.5 => {
            let relative = outing
                .quantities
                .iter()
                .find(|v| v.kind == QuantityKind::Speed && v.from.recording == value.from.recording)
                .map_or(UNSURE_SPEED, |v| v.sigma / v.value.abs().max(1e-9));
            // What the speed leaves open, the value held against it does too.
            measured = measured.with_relative_error(relative);
            (Place::Speed(speed), None)
        }
        _ => (
            Place::Throttle(1.0),
            Some("taken as flat out: the recording does not tell the throttle".to_owned()),
        ),
    };
    Observed {
        kind: value.kind,
        measured,
        place,
        from: from(&value),
        drive: value
            .from
            .which
            .map_or(0, |w| (w as usize).saturating_sub(1)),
        assumed,
        after_s: value.window.map(|w| w.to_s),
        both_ways: value.statistic == Statistic::TwoWay,
    }
}

#[cfg(test)]
mod tests;
