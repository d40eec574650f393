//! A result with its spread, printed no finer than it is known.

use boat::{Kind, Unit};
use std::fmt;

/// A value with the half-width of its 95 % interval, SI inside, the trade's unit outside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Number {
    /// What it measures.
    pub kind: Kind,
    /// SI (radians, degC).
    pub value: f64,
    /// Same unit, never negative; 0 when it was not estimated.
    pub spread: f64,
    /// Printed instead of the kind's unit, for ratios such as litres per kilogram.
    pub(crate) named: Option<&'static str>,
}

impl Number {
    /// Without a spread.
    pub const fn exact(kind: Kind, value: f64) -> Self {
        Self::new(kind, value, 0.0)
    }

    /// A stress, Pa, as plastics are told.
    pub fn stress(pa: f64) -> Self {
        Self::exact(Kind::Number, 1e-6 * pa).per("MPa")
    }

    /// With a 95 % half-width.
    pub const fn new(kind: Kind, value: f64, spread: f64) -> Self {
        Self {
            kind,
            value,
            spread,
            named: None,
        }
    }

    /// A plain number printed with a unit of its own.
    pub const fn per(self, unit: &'static str) -> Self {
        Self {
            named: Some(unit),
            ..self
        }
    }

    /// The unit it is printed in: mm, km/h, g, deg, %; nothing for a plain number.
    pub fn unit(&self) -> &'static str {
        if let Some(named) = self.named {
            return named;
        }
        self.face().map_or("", |u| Self::symbol(&u))
    }

    /// A unit's symbol as it is printed.
    pub(crate) const fn symbol(unit: &Unit) -> &'static str {
        match unit.symbol.as_bytes() {
            b"degC" => "°C",
            b"deg" => "°",
            b"us" => "µs",
            _ => unit.symbol,
        }
    }

    /// The trade's unit: the first of its kind, but cm2 and, for long times, minutes, for the shortest microseconds.
    fn face(&self) -> Option<Unit> {
        let units = self.kind.units();
        let named = |symbol: &str| units.iter().find(|u| u.symbol == symbol).copied();
        match self.kind {
            Kind::Area => named("cm2"),
            Kind::Time if self.value.abs() >= 100.0 => named("min"),
            Kind::Time if self.value != 0.0 && self.value.abs() < 1e-4 => named("us"),
            _ => units.first().copied(),
        }
    }

    /// Value and spread in the printed unit.
    pub fn shown(&self) -> (f64, f64) {
        match self.face() {
            Some(u) => ((self.value - u.offset) / u.factor, self.spread / u.factor),
            None => (self.value, self.spread),
        }
    }

    /// `8 to 23 %`: from the value less its spread to the value and its spread.
    pub fn reach(&self) -> String {
        let (value, spread) = self.shown();
        let places = decimals(value, spread, finest(self.unit(), value));
        let text = format!(
            "{} to {}",
            rounded(value - spread, places),
            rounded(value + spread, places)
        );
        with_unit(&text, self.unit())
    }

    /// The value alone, without spread or unit.
    pub fn digits(&self) -> String {
        let (value, spread) = self.shown();
        rounded(value, decimals(value, spread, finest(self.unit(), value)))
    }

    /// The value with its unit, without the spread: for the middle of a sentence.
    pub fn plain(&self) -> String {
        with_unit(&self.digits(), self.unit())
    }
}

/// How many times over is plenty: more of them mean nothing to a builder.
const MANY: f64 = 20.0;

/// `38 mm ± 3 mm` as `38 ± 3 mm`.
impl fmt::Display for Number {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (value, spread) = self.shown();
        if self.named == Some("times") && value >= MANY {
            return write!(f, "more than {MANY} times");
        }
        let places = decimals(value, spread, finest(self.unit(), value));
        let width = rounded(spread, places);
        if is_nothing(&width) {
            return f.write_str(&self.plain());
        }
        let text = format!("{} ± {width}", rounded(value, places));
        f.write_str(&with_unit(&text, self.unit()))
    }
}

/// Six significant digits: more than any of our results is worth, few enough to be the same on
/// every machine.
pub fn significant(x: f64) -> f64 {
    if x == 0.0 || !x.is_finite() {
        return x;
    }
    format!("{x:.5e}").parse().unwrap_or(x)
}

/// Digits behind the point: those the spread leaves (two where it begins with a 1), or three of the value
/// without one; never more than a builder can read off the thing itself.
fn decimals(value: f64, spread: f64, finest: usize) -> usize {
    if spread == 0.0 && value.fract() == 0.0 {
        return 0;
    }
    let places = |x: f64, digits: f64| (digits - 1.0 - x.abs().max(1e-12).log10().floor()).max(0.0);
    let wanted = if spread > 0.0 {
        let first = spread / 10f64.powf(spread.log10().floor());
        let digits = if first < 1.95 { 2.0 } else { 1.0 };
        places(spread, digits).min(places(value.abs().max(spread), 3.0))
    } else {
        places(value, 3.0)
    };
    (wanted as usize).min(finest)
}

/// Decimals that mean something in a unit, by the size of the number in it.
fn finest(unit: &str, value: f64) -> usize {
    let small = value.abs() < 10.0;
    match unit {
        "km/h" | "mph" | "A" | "°" | "%" if small => 1,
        "km/h" | "mph" | "A" | "°C" | "°F" | "g" | "rpm" | "W" => 0,
        "°" | "%" if value.abs() >= 30.0 => 0,
        "mm" | "min" | "µs" | "°" | "%" | "l/min" => 1,
        _ => 3,
    }
}

fn rounded(x: f64, places: usize) -> String {
    // Six digits, as they are sent: a number read back is printed the same.
    let x = significant(x);
    let text = format!("{x:.places$}");
    // No negative zero.
    if is_nothing(&text) {
        return text.trim_start_matches('-').to_owned();
    }
    text
}

fn is_nothing(digits: &str) -> bool {
    digits.trim_start_matches(['-', '0', '.']).is_empty()
}

fn with_unit(text: &str, unit: &str) -> String {
    match unit {
        "" => text.to_owned(),
        "°" => format!("{text}°"),
        _ => format!("{text} {unit}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_is_printed_as_finely_as_it_is_known() {
        let n = |value, spread| Number::new(Kind::Length, value, spread).to_string();
        assert_eq!(n(0.031_27, 0.004_123), "31 ± 4 mm");
        assert_eq!(n(0.031_27, 0.001_423), "31.3 ± 1.4 mm");
        assert_eq!(n(0.031_27, 0.0), "31.3 mm");
        assert_eq!(n(0.312_7, 0.041_23), "313 ± 41 mm");
        assert_eq!(n(-0.000_000_1, 0.01), "0 ± 10 mm");
        assert_eq!(n(0.193, 0.000_000_1), "193 mm");
        assert_eq!(n(0.0, 0.0), "0 mm");
    }

    #[test]
    fn units_are_the_trades_own() {
        assert_eq!(Number::exact(Kind::Speed, 10.0).to_string(), "36 km/h");
        assert_eq!(
            Number::exact(Kind::Angle, 1f64.to_radians()).to_string(),
            "1°"
        );
        assert_eq!(Number::exact(Kind::Fraction, 0.123).to_string(), "12.3 %");
        assert_eq!(Number::exact(Kind::Speed, 20.175).to_string(), "73 km/h");
        assert_eq!(Number::exact(Kind::Speed, 2.2417).to_string(), "8.1 km/h");
        assert_eq!(
            Number::new(Kind::Speed, 24.456, 4.115).to_string(),
            "88 ± 15 km/h"
        );
        assert_eq!(Number::exact(Kind::Temperature, 60.0).to_string(), "60 °C");
        assert_eq!(Number::exact(Kind::Number, 1.05).to_string(), "1.05");
        let foam = Number::exact(Kind::Number, 1.05).per("l/kg");
        assert_eq!(foam.to_string(), "1.05 l/kg");
        assert_eq!(Number::exact(Kind::Area, 0.0123).to_string(), "123 cm2");
        assert_eq!(
            Number::new(Kind::Time, 431.0, 90.0).to_string(),
            "7.2 ± 1.5 min"
        );
    }
}
