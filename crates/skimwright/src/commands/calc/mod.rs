//! One law on its own.

mod unit;

use laws::catalogue::{self, EvaluateError, Evaluated, Input, Kind, LAWS, Law, Need};
use miette::{Diagnostic, LabeledSpan, NamedSource};
use serde_json::{Map, Value, json};
use std::fmt::Write as _;

use super::Outcome;
use crate::cli::Calc;
use crate::failure::Failure;
use crate::output;
use unit::{accepted_units, bounds_in_words, face_unit, out_json, read_value, spoken, with_space};

pub fn run(given: &Calc) -> Result<Outcome, Failure> {
    let Some(name) = &given.law else {
        return list(given.json);
    };
    let law = catalogue::find(name).ok_or_else(|| unknown_law(name))?;
    if given.inputs.is_empty() && asks_for_inputs(law) {
        return describe(law, given.json);
    }
    let values = read_inputs(law, &given.inputs)?;
    let answer = law
        .evaluate(&values)
        .map_err(|error| refused(law, &error))?;
    if given.json {
        output::print_json(&answer_json(law, &answer))?;
    } else {
        output::print(&answer_text(law, &answer))?;
    }
    Ok(Outcome::Good)
}

/// A law that needs nothing given has its answer without being asked twice.
fn asks_for_inputs(law: &Law) -> bool {
    !law.inputs.is_empty()
}

fn list(as_json: bool) -> Result<Outcome, Failure> {
    if as_json {
        let all: Vec<Value> = LAWS
            .iter()
            .map(|l| json!({"law": l.name, "summary": l.summary}))
            .collect();
        output::print_json(&json!({"laws": all}))?;
    } else {
        let width = LAWS.iter().map(|l| l.name.len()).max().unwrap_or(0);
        let mut text = String::new();
        for law in LAWS {
            let _ = writeln!(text, "{:width$}  {}", law.name, law.summary);
        }
        text.push_str("\n`skimwright calc LAW` says what a law takes and gives.\n");
        output::print(&text)?;
    }
    Ok(Outcome::Good)
}

fn unknown_law(name: &str) -> Failure {
    let names: Vec<&str> = LAWS.iter().map(|l| l.name).collect();
    Failure::new(
        format!("there is no law called {name}"),
        format!("there are: {}", names.join(", ")),
    )
}

fn describe(law: &Law, as_json: bool) -> Result<Outcome, Failure> {
    if as_json {
        output::print_json(&law_json(law))?;
        return Ok(Outcome::Good);
    }
    let mut text = format!("{}: {}\n\ninputs\n", law.name, law.summary);
    for input in law.inputs {
        let _ = writeln!(text, "  {}", input_line(input));
    }
    let one_of = law.one_of();
    if !one_of.is_empty() {
        let _ = writeln!(text, "  (exactly one of {})", one_of.join(", "));
    }
    text.push_str("\noutputs\n");
    for output in law.outputs {
        let unit = with_space(face_unit(output.kind));
        let _ = writeln!(text, "  {}{unit}: {}", output.key, output.doc);
    }
    let _ = writeln!(text, "\nvalid: {}", law.validity);
    let _ = writeln!(text, "checked {}", law.checked);
    let _ = writeln!(text, "source: {}", law.source);
    output::print(&text)?;
    Ok(Outcome::Good)
}

fn input_line(input: &Input) -> String {
    let need = match input.need {
        Need::Required => String::new(),
        Need::OneOf => ", one of a choice".to_owned(),
        Need::Default(value) => format!(", {} unless given", spoken(input.kind, value)),
    };
    format!(
        "{}{}, {}{need}: {}",
        input.key,
        with_space(face_unit(input.kind)),
        bounds_in_words(input.kind, input.bounds),
        input.doc
    )
}

/// `key=value` pairs as the law takes them.
fn read_inputs<'g>(law: &Law, given: &'g [String]) -> Result<Vec<(&'g str, f64)>, Failure> {
    given.iter().map(|pair| read_input(law, pair)).collect()
}

fn read_input<'g>(law: &Law, pair: &'g str) -> Result<(&'g str, f64), Failure> {
    let Some((key, text)) = pair.split_once('=') else {
        let what = format!("`{pair}` is not KEY=VALUE");
        return Err(Failure::new(what, accepted(law)));
    };
    let key = key.trim();
    let input =
        law.inputs.iter().find(|i| i.key == key).ok_or_else(|| {
            Failure::new(format!("{} has no input {key}", law.name), accepted(law))
        })?;
    let value = read_value(input.kind, text).map_err(|fault| BadValue {
        message: format!("{key}: {}", fault.message),
        help: fault.help,
        source: NamedSource::new("command line", pair.to_owned()),
        span: (text.as_ptr() as usize - pair.as_ptr() as usize + fault.range.start)
            ..(text.as_ptr() as usize - pair.as_ptr() as usize + fault.range.end),
    })?;
    Ok((key, value))
}

fn accepted(law: &Law) -> String {
    let lines: Vec<String> = law.inputs.iter().map(input_line).collect();
    format!("{} takes\n  {}", law.name, lines.join("\n  "))
}

fn refused(law: &Law, error: &EvaluateError) -> Failure {
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
        return Failure::new(what, accepted(law));
    }
    Failure::new(error.to_string(), accepted(law))
}

fn answer_text(law: &Law, answer: &Evaluated) -> String {
    let mut text = format!("{}\n", law.name);
    let width = answer
        .outputs
        .iter()
        .map(|(k, _)| k.len())
        .max()
        .unwrap_or(0);
    for (key, value) in &answer.outputs {
        let _ = writeln!(
            text,
            "  {key:width$}  {}",
            spoken(output_kind(law, key), *value)
        );
    }
    if !answer.in_range {
        let _ = writeln!(text, "▲ outside the law's range: {}", law.validity);
    }
    for note in &answer.notes {
        let _ = writeln!(text, "- {note}");
    }
    let _ = writeln!(text, "source: {}", law.source);
    text
}

fn output_kind(law: &Law, key: &str) -> Kind {
    let mut outputs = law.outputs.iter();
    outputs
        .find(|o| o.key == key)
        .map_or(Kind::Dimensionless, |o| o.kind)
}

fn input_kind(law: &Law, key: &str) -> Kind {
    let mut inputs = law.inputs.iter();
    inputs
        .find(|i| i.key == key)
        .map_or(Kind::Dimensionless, |i| i.kind)
}

fn answer_json(law: &Law, answer: &Evaluated) -> Value {
    let inputs: Map<String, Value> = answer
        .inputs
        .iter()
        .map(|(k, v)| ((*k).to_owned(), out_json(input_kind(law, k), *v)))
        .collect();
    let outputs: Map<String, Value> = answer
        .outputs
        .iter()
        .map(|(k, v)| ((*k).to_owned(), out_json(output_kind(law, k), *v)))
        .collect();
    json!({
        "law": law.name,
        "inputs": inputs,
        "outputs": outputs,
        "in_range": answer.in_range,
        "notes": answer.notes,
        "source": law.source,
    })
}

fn law_json(law: &Law) -> Value {
    let inputs = law.inputs.iter().map(|i| {
        let (need, default) = match i.need {
            Need::Required => ("required", Value::Null),
            Need::OneOf => ("one-of", Value::Null),
            Need::Default(value) => ("default", out_json(i.kind, value)),
        };
        json!({
            "key": i.key,
            "unit": face_unit(i.kind),
            "accepted_units": accepted_units(i.kind),
            "range": bounds_in_words(i.kind, i.bounds),
            "need": need,
            "default": default,
            "doc": i.doc,
        })
    });
    let outputs = law
        .outputs
        .iter()
        .map(|o| json!({"key": o.key, "unit": face_unit(o.kind), "doc": o.doc}));
    json!({
        "law": law.name,
        "summary": law.summary,
        "inputs": inputs.collect::<Vec<_>>(),
        "outputs": outputs.collect::<Vec<_>>(),
        "validity": law.validity,
        "checked": law.checked.to_string(),
        "source": law.source,
    })
}

/// A value on the command line that cannot be read, with the place in it.
#[derive(Debug)]
struct BadValue {
    message: String,
    help: String,
    source: NamedSource<String>,
    span: std::ops::Range<usize>,
}

impl std::fmt::Display for BadValue {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for BadValue {}

impl Diagnostic for BadValue {
    fn help<'a>(&'a self) -> Option<Box<dyn std::fmt::Display + 'a>> {
        Some(Box::new(&self.help))
    }

    fn source_code(&self) -> Option<&dyn miette::SourceCode> {
        Some(&self.source)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let label = LabeledSpan::new(None, self.span.start, self.span.len());
        Some(Box::new(std::iter::once(label)))
    }
}
