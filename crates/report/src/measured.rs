//! Measured quantities in the builder's units and words.

use evidence::outing::{Doing, QuantityKind, Statistic, Unit, Value};

/// Half-width of the 95 % interval over the standard uncertainty.
pub use evidence::outing::given::HALF_WIDTH;

/// A unit of the faces: `shown = si * factor`.
pub fn face(kind: QuantityKind) -> (f64, &'static str) {
    match kind {
        QuantityKind::Charge => (1.0 / 3.6, "mAh"),
        QuantityKind::HopAcceleration
        | QuantityKind::LandingAcceleration
        | QuantityKind::LateralAcceleration => (1.0 / craft::craft::GRAVITY_M_S2, "g"),
        QuantityKind::PulseWidth | QuantityKind::EdgeTimeConstant => (1e6, "us"),
        QuantityKind::FramePeriod => (1e3, "ms"),
        other => face_of_unit(other.unit()),
    }
}

/// The same for a trace.
pub fn face_of_unit(unit: Unit) -> (f64, &'static str) {
    match unit {
        Unit::MetrePerSecond => (3.6, "km/h"),
        Unit::RadianPerSecond => (30.0 / std::f64::consts::PI, "rpm"),
        Unit::Radian => (180.0 / std::f64::consts::PI, "°"),
        Unit::DegreeCelsius => (1.0, "°C"),
        Unit::Coulomb => (1.0 / 3.6, "mAh"),
        Unit::One => (1.0, ""),
        Unit::Ampere => (1.0, "A"),
        Unit::Volt => (1.0, "V"),
        Unit::Watt => (1.0, "W"),
        Unit::Hertz => (1.0, "Hz"),
        Unit::MetrePerSecondSquared => (1.0, "m/s2"),
        Unit::Metre => (1.0, "m"),
        Unit::Second => (1.0, "s"),
    }
}

/// `48.2 ± 0.9 km/h`: value and the half-width of its 95 % interval.
pub fn shown(kind: QuantityKind, value: f64, sigma: f64) -> String {
    let (factor, unit) = face(kind);
    if kind == QuantityKind::Throttle {
        return with_spread(100.0 * value, 100.0 * HALF_WIDTH * sigma, "%");
    }
    with_spread(factor * value, factor * HALF_WIDTH * sigma, unit)
}

/// A number with its half-width, rounded so that the half-width keeps two figures.
pub fn with_spread(value: f64, spread: f64, unit: &str) -> String {
    let space = if unit.is_empty() || unit == "°" {
        ""
    } else {
        " "
    };
    if !(spread.is_finite() && spread > 0.0) {
        return format!("{value:.4}{space}{unit}");
    }
    let places = (1.0 - spread.log10().floor()).clamp(0.0, 6.0) as usize;
    format!("{value:.places$} ± {spread:.places$}{space}{unit}")
}

/// What it is, for the first column of a table.
pub fn name(value: &Value) -> String {
    let kind = match value.kind {
        QuantityKind::Speed => "speed",
        QuantityKind::ShaftSpeed => "shaft speed",
        QuantityKind::Current => "current",
        QuantityKind::Voltage => "voltage",
        QuantityKind::Power => "power",
        QuantityKind::Charge => "charge drawn",
        QuantityKind::MotorTemperature => "motor temperature",
        QuantityKind::ControllerTemperature => "controller temperature",
        QuantityKind::OtherTemperature => "temperature",
        QuantityKind::Throttle => "throttle",
        QuantityKind::Trim => "trim",
        QuantityKind::Heel => "heel",
        QuantityKind::HopFrequency => "hop frequency",
        QuantityKind::HopAcceleration => "hop amplitude",
        QuantityKind::LandingAcceleration => "landing peak",
        QuantityKind::FlightTime => "time in the air",
        QuantityKind::TurnRadius => "turn radius",
        QuantityKind::LateralAcceleration => "lateral acceleration",
        QuantityKind::PassDistance => "closest distance",
        QuantityKind::LapTime => "lap time",
        QuantityKind::Distance => "distance",
        QuantityKind::PulseWidth => "pulse width",
        QuantityKind::FramePeriod => "frame period",
        QuantityKind::EdgeTimeConstant => "edge time constant",
    };
    match value.from.which {
        Some(n) => format!("{kind}, {n}"),
        None => kind.to_owned(),
    }
}

/// How and when it holds: `best held for 2.0 s, straight, from 12.3 s`.
pub fn when(value: &Value) -> String {
    let mut words = Vec::new();
    let span = value.window.map(|w| (w.from_s, w.to_s));
    let held = span.map_or(0.0, |(a, b)| b - a);
    words.push(match value.statistic {
        Statistic::Steady => "steady".to_owned(),
        Statistic::BestHeld => format!("best held for {held:.0} s"),
        Statistic::Peak => "highest".to_owned(),
        Statistic::Least => "lowest".to_owned(),
        Statistic::TwoWay => "mean of two ways".to_owned(),
        Statistic::Total => "in all".to_owned(),
        Statistic::Last => "at the end".to_owned(),
    });
    let motion = match value.condition.motion {
        Doing::Unknown | Doing::Whole => None,
        Doing::AtRest => Some("at rest"),
        Doing::Launch => Some("launch"),
        Doing::Straight => Some("straight"),
        Doing::TurnToPort => Some("turning to port"),
        Doing::TurnToStarboard => Some("turning to starboard"),
        Doing::Airborne => Some("in the air"),
    };
    words.extend(motion.map(str::to_owned));
    if let Some(t) = value.condition.throttle {
        words.push(format!("{:.0} % throttle", 100.0 * t));
    }
    let about_turn = matches!(
        value.kind,
        QuantityKind::TurnRadius | QuantityKind::LateralAcceleration
    );
    if let Some(v) = value.condition.speed_m_s.filter(|_| about_turn) {
        words.push(format!("at {:.0} km/h", 3.6 * v));
    }
    if let Some((a, b)) = span {
        words.push(if b - a < 0.05 {
            format!("at {a:.1} s")
        } else {
            format!("{a:.1} to {b:.1} s")
        });
    }
    words.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_half_width_keeps_two_figures() {
        assert_eq!(
            shown(QuantityKind::Speed, 13.389, 0.128),
            "48.20 ± 0.90 km/h"
        );
        assert_eq!(
            shown(QuantityKind::ShaftSpeed, 3141.6, 10.0),
            "30000 ± 187 rpm"
        );
        assert_eq!(
            shown(QuantityKind::PulseWidth, 1.5e-3, 1e-7),
            "1500.00 ± 0.20 us"
        );
        assert_eq!(shown(QuantityKind::Trim, 0.05, 0.0), "2.8648°");
        assert_eq!(shown(QuantityKind::Throttle, 0.5, 0.01), "50.0 ± 2.0 %");
    }
}
