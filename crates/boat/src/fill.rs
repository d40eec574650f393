//! Typed access to a checked table, with the defaults of the key list filled in and marked.
//!
//! A value that is bad or missing although required reads as NaN: its problem is noted already, no
//! comparison with it adds another, and the boat is thrown away in the end.

use crate::checked::{Table, Value};
use crate::keys::Need;
use crate::measure::Measure;
use crate::model::Place;
use crate::quantity::Quantity;

impl Table {
    /// Whether the key is written, well or badly.
    pub fn has(&self, name: &str) -> bool {
        self.entry(name).is_some()
    }

    fn quantity(&self, name: &str) -> Option<Quantity> {
        match self.entry(name)?.value {
            Value::Quantity(quantity) => Some(quantity),
            _ => Some(Quantity {
                value: f64::NAN,
                spread: None,
                taken: false,
            }),
        }
    }

    /// As written; absent when not.
    pub fn given(&self, name: &str) -> Option<Measure> {
        self.quantity(name).map(Quantity::measure)
    }

    /// As written, with this share of the value as spread if no tolerance is.
    pub fn given_within(&self, name: &str, share: f64) -> Option<Measure> {
        let quantity = self.quantity(name)?;
        let spread = quantity.spread.unwrap_or(share * quantity.value.abs());
        Some(Measure::given(quantity.value).with_spread(spread))
    }

    /// As written, else the key list's default.
    pub fn filled(&self, name: &str) -> Measure {
        self.given(name).unwrap_or_else(|| self.default_of(name))
    }

    /// The key list's default.
    pub fn default_of(&self, name: &str) -> Measure {
        match self.section.key(name).map(|key| &key.need) {
            Some(Need::Assumed { value, spread, why }) => Measure::assumed(*value, *spread, why),
            Some(Need::Share { of, factor }) => Measure::assumed(
                self.filled(of).value * factor,
                0.0,
                "first-sketch proportion (common practice, no source)",
            ),
            _ => Measure::given(f64::NAN),
        }
    }

    /// The bare SI value, default filled in.
    pub fn value(&self, name: &str) -> f64 {
        self.filled(name).value
    }

    /// The bare SI value if written.
    pub fn number(&self, name: &str) -> Option<f64> {
        self.quantity(name).map(|quantity| quantity.value)
    }

    pub fn count(&self, name: &str) -> Option<u32> {
        match self.entry(name)?.value {
            Value::Count(count) => Some(count),
            _ => None,
        }
    }

    pub fn text(&self, name: &str) -> Option<&str> {
        match &self.entry(name)?.value {
            Value::Text(text) => Some(text),
            _ => None,
        }
    }

    pub fn texts(&self, name: &str) -> Option<&[String]> {
        match &self.entry(name)?.value {
            Value::Texts(texts) => Some(texts),
            _ => None,
        }
    }

    pub fn flag(&self, name: &str) -> Option<bool> {
        match self.entry(name)?.value {
            Value::Flag(flag) => Some(flag),
            _ => None,
        }
    }

    pub fn lengths(&self, name: &str) -> Option<Vec<Measure>> {
        match &self.entry(name)?.value {
            Value::Lengths(all) => Some(all.iter().map(|quantity| quantity.measure()).collect()),
            _ => None,
        }
    }

    /// Three coordinates as written.
    pub fn place(&self, name: &str) -> Option<Place> {
        self.lengths(name)?.try_into().ok()
    }

    /// Three coordinates; unknown where they are required and not given.
    pub fn required_place(&self, name: &str) -> Place {
        self.place(name).unwrap_or([Measure::given(f64::NAN); 3])
    }

    pub fn cells(&self, name: &str) -> Option<(u32, u32)> {
        match self.entry(name)?.value {
            Value::Cells(series, parallel) => Some((series, parallel)),
            _ => None,
        }
    }

    pub fn table(&self, name: &str) -> Option<&Table> {
        match &self.entry(name)?.value {
            Value::Table(table) => Some(table),
            _ => None,
        }
    }

    pub fn tables(&self, name: &str) -> &[Table] {
        match self.entry(name).map(|entry| &entry.value) {
            Some(Value::Tables(tables)) => tables,
            _ => &[],
        }
    }
}
