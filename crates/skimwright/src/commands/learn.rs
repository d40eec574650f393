//! Measured beside predicted, as text or JSON.

use std::fmt::Write as _;
use workshop::learn::{LearnAnswer, LearnAsk, Moved};

use super::{Outcome, ask};
use crate::cli::LearnArgs;
use crate::failure::Failure;
use crate::output;

pub fn run(given: &LearnArgs) -> Result<Outcome, Failure> {
    let question = LearnAsk {
        outing: given.outing.clone(),
        keep: given.keep,
    };
    let answer = ask(&question, &given.boat)?;
    output::give(given.json, &answer, as_text)?;
    Ok(Outcome::Good)
}

fn as_text(answer: &LearnAnswer) -> String {
    let build = answer
        .build
        .as_deref()
        .map_or_else(String::new, |b| format!(", build {b}"));
    let mut text = format!(
        "{}: outing {}{build}\n",
        answer.boat,
        answer.outings.join(", ")
    );
    if !answer.day.is_empty() {
        let _ = writeln!(
            text,
            "run in the model as on the day: {}",
            answer.day.join("; ")
        );
    }
    rows(&mut text, answer);
    instruments(&mut text, answer);
    teaches(&mut text, answer);
    in_motion(&mut text, answer);
    passed(&mut text, answer);
    kept(&mut text, answer);
    text
}

fn rows(text: &mut String, answer: &LearnAnswer) {
    text.push_str("\nMeasured beside predicted (± is the half-width of the 95 % interval)\n");
    if answer.rows.is_empty() {
        text.push_str("  nothing in these recordings can be held against the model: steady straight running is needed\n");
    }
    for row in &answer.rows {
        let _ = writeln!(text, "  {}: {} by {}", row.quantity, row.measured, row.from);
        let _ = writeln!(
            text,
            "      predicted {}: {}; after learning {}",
            row.predicted, row.says, row.after
        );
        if row.weight < 0.5 {
            let _ = writeln!(
                text,
                "      far from what the rest tells: counted {:.0} %",
                100.0 * row.weight
            );
        }
        if let Some(assumed) = &row.assumed {
            let _ = writeln!(text, "      {assumed}");
        }
    }
}

fn instruments(text: &mut String, answer: &LearnAnswer) {
    let all = [
        (&answer.instruments.speed, "speed"),
        (&answer.instruments.propeller_speed, "propeller speed"),
    ];
    let shown: Vec<_> = all.iter().filter(|(a, _)| a.told.len() > 1).collect();
    if shown.is_empty() {
        return;
    }
    text.push_str("\nInstruments against each other\n");
    for (all, name) in shown {
        let _ = writeln!(text, "  {name}: {}", all.says);
        for told in &all.told {
            let _ = writeln!(text, "    {} by {}", told.value, told.by);
        }
    }
    if let Some(doubt) = &answer.instruments.pole_doubt {
        let _ = writeln!(text, "  {doubt}");
    }
}

fn teaches(text: &mut String, answer: &LearnAnswer) {
    let (told, silent): (Vec<&Moved>, Vec<&Moved>) = answer.factors.iter().partition(|s| s.told);
    if answer.factors.is_empty() {
        return;
    }
    text.push_str("\nWhat that teaches (1 is as published or as declared)\n");
    if told.is_empty() {
        text.push_str("  nothing yet: every spread stays within a tenth of what it was\n");
    }
    for s in &told {
        let weigh = if s.kept { "" } else { "; not kept, measure it" };
        let _ = writeln!(
            text,
            "  {}: {} becomes {}{weigh}",
            s.name, s.before, s.after
        );
    }
    text.push_str("\nWhat these recordings cannot tell\n");
    if !silent.is_empty() {
        let names: Vec<&str> = silent.iter().map(|s| s.name.as_str()).collect();
        let _ = writeln!(text, "  as unsure as before: {}", names.join(", "));
    }
    for p in &answer.not_told_apart {
        let known = if p.correlation > 0.0 {
            "difference"
        } else {
            "sum"
        };
        let _ = writeln!(
            text,
            "  {} from {}: only their {known} is known (correlation {:.2})",
            p.a, p.b, p.correlation
        );
    }
    text.push_str("  Fitted with the laws' spreads as priors and errors of Student's t with 4 degrees of freedom,\n  in which a value far from the rest counts little.\n");
}

fn in_motion(text: &mut String, answer: &LearnAnswer) {
    if answer.in_motion.is_empty() {
        return;
    }
    text.push_str("\nHops, turns and landings beside the boat in motion (theory, unvalidated; nothing is fitted to them)\n");
    for one in &answer.in_motion {
        let verdict = match one.agree {
            Some(true) => "agrees: ",
            Some(false) => "apart: ",
            None => "",
        };
        let _ = writeln!(
            text,
            "  {}: {} by {}\n      {verdict}{}",
            one.quantity, one.measured, one.from, one.says
        );
    }
}

fn passed(text: &mut String, answer: &LearnAnswer) {
    if answer.passed_over.is_empty() {
        return;
    }
    text.push_str("\nNot held against the model\n");
    for p in &answer.passed_over {
        let _ = writeln!(
            text,
            "  {} {} by {}: {}",
            p.quantity, p.measured, p.from, p.why
        );
    }
}

fn kept(text: &mut String, answer: &LearnAnswer) {
    match &answer.written {
        Some(file) => {
            let _ = writeln!(text, "\nKept in {file}; every prediction now carries it.");
        }
        None if !answer.worth_keeping => text.push_str("\nNothing to keep.\n"),
        None => text.push_str("\nNothing was changed. --keep writes it to learned.toml, and predictions then carry it.\n"),
    }
    if let Some(file) = &answer.moved {
        let _ = writeln!(text, "What was learned before is in {file}.");
    }
    let left_out = answer.carries.iter().flat_map(|c| &c.left_out);
    for line in left_out {
        let _ = writeln!(text, "Does not carry to the boat as it is now: {line}");
    }
}
