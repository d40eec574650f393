//! One law on its own.

mod unit;

use boat::{BoatFileError, Problem, Severity};
use laws::catalogue::{self, EvaluateError, Evaluated, Input, Kind, LAWS, Law, Need};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use utoipa::ToSchema;

use crate::bench::Bench;
use crate::fault::Fault;
use crate::question::Question;
use unit::{
    accepted_units, bounds_in_words, face_unit, out_value, read_value, spoken, trimmed, with_space,
};

/// What does a law say?
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct CalcAsk {
    /// Which; all are listed unless given.
    pub law: Option<String>,
    /// `KEY=VALUE` with units as in the boat file; what the law takes is told without.
    pub inputs: Vec<String>,
}

/// What a law says.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(untagged)]
pub enum CalcAnswer {
    /// Every law.
    All(CalcLaws),
    /// Its numbers.
    Numbers(CalcNumbers),
    /// What it takes and gives.
    About(CalcLaw),
}

/// Every law.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct CalcLaws {
    /// Each.
    pub laws: Vec<CalcName>,
}

/// A law by name.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct CalcName {
    /// Its name.
    pub law: String,
    /// What it says, in a line.
    pub summary: String,
}

/// What a law gives for what it was given.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CalcNumbers {
    /// Its name.
    pub law: String,
    /// What it was given or took, by key.
    #[serde(with = "pairs")]
    #[schema(value_type = BTreeMap<String, CalcValue>)]
    pub inputs: Vec<(String, CalcValue)>,
    /// What it gives, by key.
    #[serde(with = "pairs")]
    #[schema(value_type = BTreeMap<String, CalcValue>)]
    pub outputs: Vec<(String, CalcValue)>,
    /// Unit of each output; empty for plain numbers and words.
    pub units: BTreeMap<String, String>,
    /// Whether it was measured there.
    pub in_range: bool,
    /// Where it was measured, in words.
    pub validity: String,
    /// What should be known.
    pub notes: Vec<String>,
    /// Who says so.
    pub source: String,
}

/// What a law takes and gives.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CalcLaw {
    /// Its name.
    pub law: String,
    /// What it says, in a line.
    pub summary: String,
    /// What it takes.
    pub inputs: Vec<CalcInput>,
    /// What it gives.
    pub outputs: Vec<CalcOutput>,
    /// Where it was measured, in words.
    pub validity: String,
    /// What it is checked against.
    pub checked: String,
    /// Who says so.
    pub source: String,
}

/// Something a law takes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CalcInput {
    /// Its key.
    pub key: String,
    /// The unit it is told in; empty for plain numbers and words.
    pub unit: String,
    /// Units it may be written in.
    pub accepted_units: String,
    /// Values it may have, in words.
    pub range: String,
    /// `required`, `one-of` or `default`.
    pub need: String,
    /// Taken unless given.
    pub default: Option<CalcValue>,
    /// What it is.
    pub doc: String,
}

/// Something a law gives.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct CalcOutput {
    /// Its key.
    pub key: String,
    /// The unit it is told in; empty for plain numbers and words.
    pub unit: String,
    /// What it is.
    pub doc: String,
}

/// A number in its unit, or the word of a choice.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(untagged)]
pub enum CalcValue {
    /// In its unit.
    Number(f64),
    /// Of a choice.
    Word(String),
}

impl CalcValue {
    /// With its unit, for reading.
    pub fn spoken(&self, unit: &str) -> String {
        match self {
            Self::Word(word) => word.clone(),
            Self::Number(number) if unit.is_empty() => trimmed(*number),
            Self::Number(number) => format!("{} {unit}", trimmed(*number)),
        }
    }
}

impl Question for CalcAsk {
    type Answer = CalcAnswer;

    fn answer(&self, _: &Bench) -> Result<CalcAnswer, Fault> {
        let Some(name) = &self.law else {
            return Ok(CalcAnswer::All(every_law()));
        };
        let law = catalogue::find(name).ok_or_else(|| unknown_law(name))?;
        // A law that needs nothing given has its answer without being asked twice.
        if self.inputs.is_empty() && !law.inputs.is_empty() {
            return Ok(CalcAnswer::About(about(law)));
        }
        let given = self.inputs.iter().map(|pair| read_input(law, pair));
        let values = given.collect::<Result<Vec<_>, _>>()?;
        let found = law.evaluate(&values).map_err(|e| refused(law, &e))?;
        Ok(CalcAnswer::Numbers(numbers(law, &found)))
    }
}

fn every_law() -> CalcLaws {
    let each = LAWS.iter().map(|l| CalcName {
        law: l.name.to_owned(),
        summary: l.summary.to_owned(),
    });
    CalcLaws {
        laws: each.collect(),
    }
}

fn unknown_law(name: &str) -> Fault {
    let names: Vec<&str> = LAWS.iter().map(|l| l.name).collect();
    Fault::new(
        format!("there is no law called {name}"),
        format!("there are: {}", names.join(", ")),
    )
}

fn about(law: &Law) -> CalcLaw {
    let inputs = law.inputs.iter().map(|i| {
        let (need, default) = match i.need {
            Need::Required => ("required", None),
            Need::OneOf => ("one-of", None),
            Need::Default(value) => ("default", Some(out_value(i.kind, value))),
        };
        CalcInput {
            key: i.key.to_owned(),
            unit: face_unit(i.kind).to_owned(),
            accepted_units: accepted_units(i.kind),
            range: bounds_in_words(i.kind, i.bounds),
            need: need.to_owned(),
            default,
            doc: i.doc.to_owned(),
        }
    });
    let outputs = law.outputs.iter().map(|o| CalcOutput {
        key: o.key.to_owned(),
        unit: face_unit(o.kind).to_owned(),
        doc: o.doc.to_owned(),
    });
    CalcLaw {
        law: law.name.to_owned(),
        summary: law.summary.to_owned(),
        inputs: inputs.collect(),
        outputs: outputs.collect(),
        validity: law.validity.to_owned(),
        checked: law.checked.to_string(),
        source: law.source.to_owned(),
    }
}

fn numbers(law: &Law, found: &Evaluated) -> CalcNumbers {
    let kind_of_input = |key: &str| law.inputs.iter().find(|i| i.key == key).map(|i| i.kind);
    let kind_of_output = |key: &str| law.outputs.iter().find(|o| o.key == key).map(|o| o.kind);
    let told = |key: &str, kind: Option<Kind>, value: f64| {
        let value = out_value(kind.unwrap_or(Kind::Dimensionless), value);
        (key.to_owned(), value)
    };
    let inputs = found.inputs.iter();
    let outputs = found.outputs.iter();
    CalcNumbers {
        law: law.name.to_owned(),
        inputs: inputs
            .map(|(key, value)| told(key, kind_of_input(key), *value))
            .collect(),
        outputs: outputs
            .map(|(key, value)| told(key, kind_of_output(key), *value))
            .collect(),
        units: law
            .outputs
            .iter()
            .map(|o| (o.key.to_owned(), face_unit(o.kind).to_owned()))
            .collect(),
        in_range: found.in_range,
        validity: law.validity.to_owned(),
        notes: found.notes.iter().map(ToString::to_string).collect(),
        source: law.source.to_owned(),
    }
}

/// `KEY=VALUE` as the law takes it.
fn read_input<'g>(law: &Law, pair: &'g str) -> Result<(&'g str, f64), Fault> {
    let Some((key, text)) = pair.split_once('=') else {
        let what = format!("`{pair}` is not KEY=VALUE");
        return Err(Fault::new(what, accepted(law)));
    };
    let key = key.trim();
    let input = law
        .inputs
        .iter()
        .find(|i| i.key == key)
        .ok_or_else(|| Fault::new(format!("{} has no input {key}", law.name), accepted(law)))?;
    let start = pair.len() - text.len();
    let value = read_value(input.kind, text).map_err(|fault| {
        let problem = Problem {
            message: format!("{key}: {}", fault.message),
            help: Some(fault.help),
            span: start + fault.range.start..start + fault.range.end,
            severity: Severity::Error,
        };
        BoatFileError::new("command line", pair, vec![problem])
    })?;
    Ok((key, value))
}

fn accepted(law: &Law) -> String {
    let line = |i: &Input| about_input(&about(law), i.key);
    let lines: Vec<String> = law.inputs.iter().map(line).collect();
    format!("{} takes\n  {}", law.name, lines.join("\n  "))
}

fn about_input(law: &CalcLaw, key: &str) -> String {
    let input = law.inputs.iter().find(|i| i.key == key);
    input.map_or_else(String::new, CalcInput::line)
}

impl CalcInput {
    /// For reading: `speed [m/s], 0 to 60, required: through the water`.
    pub fn line(&self) -> String {
        let need = match (&*self.need, &self.default) {
            ("one-of", _) => ", one of a choice".to_owned(),
            (_, Some(value)) => format!(", {} unless given", value.spoken(&self.unit)),
            _ => String::new(),
        };
        format!(
            "{}{}, {}{need}: {}",
            self.key,
            with_space(&self.unit),
            self.range,
            self.doc
        )
    }
}

impl CalcOutput {
    /// For reading.
    pub fn line(&self) -> String {
        format!("{}{}: {}", self.key, with_space(&self.unit), self.doc)
    }
}

fn refused(law: &Law, error: &EvaluateError) -> Fault {
    if let EvaluateError::OutOfBounds {
        key,
        given,
        kind,
        bounds,
        ..
    } = error
    {
        let what = format!(
            "{key} is {}, but must be {}",
            spoken(*kind, *given),
            bounds_in_words(*kind, *bounds)
        );
        return Fault::new(what, accepted(law));
    }
    Fault::new(error.to_string(), accepted(law))
}

/// A list of keys and values as an object, in order.
mod pairs {
    use super::CalcValue;
    use serde::de::{MapAccess, Visitor};
    use serde::{Deserializer, Serializer};

    pub fn serialize<S: Serializer>(
        pairs: &[(String, CalcValue)],
        serializer: S,
    ) -> Result<S::Ok, S::Error> {
        serializer.collect_map(pairs.iter().map(|(k, v)| (k, v)))
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(
        deserializer: D,
    ) -> Result<Vec<(String, CalcValue)>, D::Error> {
        struct Pairs;
        impl<'de> Visitor<'de> for Pairs {
            type Value = Vec<(String, CalcValue)>;
            fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str("an object")
            }
            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
                let mut all = Vec::new();
                while let Some(pair) = map.next_entry()? {
                    all.push(pair);
                }
                Ok(all)
            }
        }
        deserializer.deserialize_map(Pairs)
    }
}
