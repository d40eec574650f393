//! How a [`Number`] is sent and read back: value and spread in the unit it is shown in.

use boat::Kind;
use serde::de::{Deserialize, Deserializer, Error};
use serde::ser::{Serialize, Serializer};
use std::borrow::Cow;
use utoipa::openapi::{RefOr, Schema};
use utoipa::{PartialSchema, ToSchema};

use crate::number::{Number, significant};

/// A value with its spread and unit.
#[derive(serde::Serialize, serde::Deserialize, ToSchema)]
struct Sent {
    /// In `unit`, to six digits; nothing where it could not be worked out.
    value: Option<f64>,
    /// Half-width of the 95 % interval, in `unit`; 0 when it was not estimated.
    spread: Option<f64>,
    /// As the trade writes it; empty for a plain number.
    unit: Cow<'static, str>,
}

/// Units of [`Number::per`] that no kind is shown in.
const NAMED: [&str; 9] = [
    "times", "l/kg", "per hour", "m", "C", "Hz", "m/s2", "s", "us",
];

impl Serialize for Number {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let (value, spread) = self.shown();
        // No negative zero: it would not come back.
        let finite = |x: f64| x.is_finite().then(|| significant(x) + 0.0);
        let sent = Sent {
            value: finite(value),
            spread: finite(spread),
            unit: self.unit().into(),
        };
        sent.serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for Number {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let sent = Sent::deserialize(deserializer)?;
        let value = sent.value.unwrap_or(f64::NAN);
        let spread = sent.spread.unwrap_or(f64::NAN);
        shown_as(value, spread, &sent.unit)
            .ok_or_else(|| D::Error::custom(format!("no number is shown in `{}`", sent.unit)))
    }
}

/// The number that is shown so.
fn shown_as(value: f64, spread: f64, unit: &str) -> Option<Number> {
    if unit.is_empty() {
        return Some(Number::new(Kind::Number, value, spread));
    }
    let kinds = Kind::ALL.iter().filter_map(|kind| {
        let same = |u: &&boat::Unit| Number::symbol(u) == unit;
        let of = kind.units().iter().find(same)?;
        let number = Number::new(*kind, value * of.factor + of.offset, spread * of.factor);
        (number.unit() == unit).then_some(number)
    });
    let named = || {
        let known = NAMED.iter().find(|known| **known == unit)?;
        Some(Number::new(Kind::Number, value, spread).per(known))
    };
    kinds.into_iter().next().or_else(named)
}

impl PartialSchema for Number {
    fn schema() -> RefOr<Schema> {
        Sent::schema()
    }
}

impl ToSchema for Number {
    fn name() -> Cow<'static, str> {
        "Number".into()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_comes_back_as_it_is_shown() {
        for kind in Kind::ALL {
            for value in [0.012_345_678, 1.5, 345.678] {
                let sent = Number::new(*kind, value, 0.1 * value);
                let text = serde_json::to_string(&sent).expect("plain data");
                let back: Number = serde_json::from_str(&text).expect("its own words");
                assert_eq!(back.to_string(), sent.to_string(), "{kind:?}");
                assert_eq!(serde_json::to_string(&back).expect("plain data"), text);
            }
        }
    }

    #[test]
    fn units_of_its_own_come_back() {
        for unit in NAMED {
            let sent = Number::new(Kind::Number, 120.0, 3.0).per(unit);
            let text = serde_json::to_string(&sent).expect("plain data");
            let back: Number = serde_json::from_str(&text).expect("its own words");
            assert_eq!(back.to_string(), sent.to_string());
        }
    }

    #[test]
    fn what_is_no_number_is_sent_as_nothing() {
        let text = serde_json::to_string(&Number::exact(Kind::Speed, f64::NAN)).expect("data");
        assert_eq!(text, r#"{"value":null,"spread":0.0,"unit":"km/h"}"#);
        let back: Number = serde_json::from_str(&text).expect("its own words");
        assert!(back.value.is_nan());
    }
}
