//! Units in which laws are asked: SI, but angles in degrees, temperatures in degC and choices in words.

use boat::{QuantityError, parse_quantity};
use laws::catalogue::{Bounds, Kind};

use super::CalcValue;

/// 0 degC in K.
const ICE_K: f64 = 273.15;
/// rpm per rad/s.
const RPM: f64 = 30.0 / std::f64::consts::PI;

/// The unit values are printed in; empty for plain numbers and words.
pub fn face_unit(kind: Kind) -> &'static str {
    match kind {
        Kind::Angle => "deg",
        Kind::Temperature => "degC",
        other => other.unit(),
    }
}

/// ` [mm]`, or nothing.
pub fn with_space(unit: &str) -> String {
    if unit.is_empty() {
        String::new()
    } else {
        format!(" [{unit}]")
    }
}

/// From the law's unit to this face's.
fn out(kind: Kind, value: f64) -> f64 {
    match kind {
        Kind::Angle => value.to_degrees(),
        Kind::Temperature => value - ICE_K,
        _ => value,
    }
}

/// The word of a choice.
fn word(words: &[&'static str], value: f64) -> Option<&'static str> {
    words.get(value as usize).copied()
}

/// In its unit, or the word of a choice.
pub fn out_value(kind: Kind, value: f64) -> CalcValue {
    match kind {
        Kind::Choice(words) => CalcValue::Word(word(words, value).unwrap_or("?").to_owned()),
        _ => CalcValue::Number(out(kind, value)),
    }
}

/// With its unit, for reading.
pub fn spoken(kind: Kind, value: f64) -> String {
    out_value(kind, value).spoken(face_unit(kind))
}

pub fn trimmed(value: f64) -> String {
    let shown = advice::number::significant(value);
    if value != 0.0 && !(1e-4..1e7).contains(&value.abs()) {
        format!("{shown:e}")
    } else {
        shown.to_string()
    }
}

/// Which values are accepted.
pub fn bounds_in_words(kind: Kind, bounds: Bounds) -> String {
    match (kind, bounds) {
        (Kind::Choice(words), _) => format!("one of {}", words.join(", ")),
        (_, Bounds::Within(low, high)) => {
            format!("{} to {}", spoken(kind, low), spoken(kind, high))
        }
        (_, other) => other.to_string(),
    }
}

/// Units a value may be written in.
pub fn accepted_units(kind: Kind) -> String {
    match file_kind(kind) {
        Some(kind) => kind.unit_list(),
        None => kind.unit().to_owned(),
    }
}

/// A value from the command line in the law's unit.
pub fn read_value(kind: Kind, text: &str) -> Result<f64, QuantityError> {
    if let Kind::Choice(words) = kind {
        return choice(words, text);
    }
    let Some(file_kind) = file_kind(kind) else {
        // No unit of the boat file fits: SI, with or without its symbol.
        let bare = text.trim().trim_end_matches(kind.unit());
        return Ok(parse_quantity(boat::Kind::Number, bare)?.value);
    };
    let text = &with_face_unit(kind, text);
    let value = parse_quantity(file_kind, text)?.value;
    Ok(match kind {
        Kind::Temperature => value + ICE_K,
        // The trade counts in rpm, and so do these laws.
        Kind::MotorConstant | Kind::Rpm => value * RPM,
        _ => value,
    })
}

/// A bare number is degrees for an angle, and rpm per volt for what is named so; everything else
/// needs its unit written.
fn with_face_unit(kind: Kind, text: &str) -> String {
    let bare = text.trim().parse::<f64>().is_ok();
    match kind {
        Kind::Angle if bare => format!("{} deg", text.trim()),
        Kind::MotorConstant if bare => format!("{} rpm/V", text.trim()),
        _ => text.to_owned(),
    }
}

fn choice(words: &[&'static str], text: &str) -> Result<f64, QuantityError> {
    let at = words.iter().position(|w| *w == text.trim());
    at.map(|index| index as f64).ok_or_else(|| QuantityError {
        message: format!("`{text}` is not a choice here"),
        help: format!("one of {}", words.join(", ")),
        range: 0..text.len(),
    })
}

/// The boat file's word for what a law's input measures, if it has one.
fn file_kind(kind: Kind) -> Option<boat::Kind> {
    Some(match kind {
        Kind::Length => boat::Kind::Length,
        Kind::Area => boat::Kind::Area,
        Kind::Mass => boat::Kind::Mass,
        Kind::Speed => boat::Kind::Speed,
        Kind::Acceleration => boat::Kind::Acceleration,
        Kind::Angle => boat::Kind::Angle,
        Kind::Temperature => boat::Kind::Temperature,
        Kind::Dimensionless => boat::Kind::Fraction,
        Kind::Count => boat::Kind::Number,
        Kind::Resistance => boat::Kind::Resistance,
        Kind::Voltage => boat::Kind::Voltage,
        Kind::Current => boat::Kind::Current,
        Kind::Charge => boat::Kind::Charge,
        Kind::MotorConstant => boat::Kind::MotorConstant,
        Kind::RotationSpeed | Kind::Rpm => boat::Kind::ShaftSpeed,
        Kind::Torque => boat::Kind::Torque,
        Kind::Force => boat::Kind::Force,
        Kind::Power => boat::Kind::Power,
        Kind::Density => boat::Kind::Density,
        Kind::KinematicViscosity => boat::Kind::KinematicViscosity,
        Kind::DynamicViscosity => boat::Kind::DynamicViscosity,
        Kind::Conductivity => boat::Kind::Conductivity,
        Kind::Flow => boat::Kind::Flow,
        Kind::Pressure => boat::Kind::Pressure,
        Kind::SurfaceTension => boat::Kind::SurfaceTension,
        Kind::SecondMoment => boat::Kind::SecondMoment,
        Kind::Frequency => boat::Kind::Frequency,
        Kind::Time => boat::Kind::Time,
        Kind::Capacitance => boat::Kind::Capacitance,
        Kind::HeatTransfer | Kind::Conductance | Kind::Choice(_) => return None,
    })
}
