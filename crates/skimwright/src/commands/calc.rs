//! One law on its own.

use std::fmt::Write as _;
use workshop::calc::{CalcAnswer, CalcAsk, CalcLaw, CalcLaws, CalcNumbers};

use super::{Outcome, ask_of};
use crate::cli::Calc;
use crate::failure::Failure;
use crate::output;

pub fn run(given: &Calc) -> Result<Outcome, Failure> {
    let question = CalcAsk {
        law: given.law.clone(),
        inputs: given.inputs.clone(),
    };
    let answer = ask_of(&question, None)?;
    output::give(given.json, &answer, |answer| match answer {
        CalcAnswer::All(laws) => list(laws),
        CalcAnswer::About(law) => about(law),
        CalcAnswer::Numbers(numbers) => told(numbers),
    })?;
    Ok(Outcome::Good)
}

fn list(all: &CalcLaws) -> String {
    let width = all.laws.iter().map(|l| l.law.len()).max().unwrap_or(0);
    let mut text = String::new();
    for law in &all.laws {
        let _ = writeln!(text, "{:width$}  {}", law.law, law.summary);
    }
    text.push_str("\n`skimwright calc LAW` says what a law takes and gives.\n");
    text
}

fn about(law: &CalcLaw) -> String {
    let mut text = format!("{}: {}\n\ninputs\n", law.law, law.summary);
    for input in &law.inputs {
        let _ = writeln!(text, "  {}", input.line());
    }
    let choice = law.inputs.iter().filter(|i| i.need == "one-of");
    let one_of: Vec<&str> = choice.map(|i| i.key.as_str()).collect();
    if !one_of.is_empty() {
        let _ = writeln!(text, "  (exactly one of {})", one_of.join(", "));
    }
    text.push_str("\noutputs\n");
    for output in &law.outputs {
        let _ = writeln!(text, "  {}", output.line());
    }
    let _ = writeln!(text, "\nvalid: {}", law.validity);
    let _ = writeln!(text, "checked {}", law.checked);
    let _ = writeln!(text, "source: {}", law.source);
    text
}

fn told(found: &CalcNumbers) -> String {
    let mut text = format!("{}\n", found.law);
    let width = found
        .outputs
        .iter()
        .map(|(k, _)| k.len())
        .max()
        .unwrap_or(0);
    for (key, value) in &found.outputs {
        let unit = found.units.get(key).map_or("", String::as_str);
        let _ = writeln!(text, "  {key:width$}  {}", value.spoken(unit));
    }
    if !found.in_range {
        let _ = writeln!(text, "▲ outside the law's range: {}", found.validity);
    }
    for note in &found.notes {
        let _ = writeln!(text, "- {note}");
    }
    let _ = writeln!(text, "source: {}", found.source);
    text
}
