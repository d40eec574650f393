//! For a terminal.

use learn::agree::{Agreement, Verdict};
use learn::observe::{self, number};
use learn::reconcile::{Row, Shift};
use std::fmt::Write as _;

use evidence::outing::QuantityKind;

use super::{Answer, factor, pole_doubt};

pub fn of(answer: &Answer) -> String {
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

fn rows(text: &mut String, answer: &Answer) {
    text.push_str("\nMeasured beside predicted (± is the half-width of the 95 % interval)\n");
    if answer.found.rows.is_empty() {
        text.push_str("  nothing in these recordings can be held against the model: steady straight running is needed\n");
    }
    for row in &answer.found.rows {
        let kind = row.observed.kind;
        let name = observe::name(kind);
        let _ = writeln!(
            text,
            "  {name}: {} by {}",
            number(kind, row.observed.measured),
            row.observed.from
        );
        let _ = writeln!(
            text,
            "      predicted {}: {}; after learning {}",
            number(kind, row.predicted),
            apart(row),
            number(kind, row.after)
        );
        if row.weight < 0.5 {
            let _ = writeln!(
                text,
                "      far from what the rest tells: counted {:.0} %",
                100.0 * row.weight
            );
        }
        if let Some(assumed) = &row.observed.assumed {
            let _ = writeln!(text, "      {assumed}");
        }
    }
}

fn apart(row: &Row) -> String {
    let apart = row.apart();
    let way = if apart > 0.0 { "more" } else { "less" };
    let verdict = match apart.abs() {
        a if a <= 2.0 => "within what both allow",
        a if a <= 3.0 => "hardly within what both allow",
        _ => "not explained by either spread",
    };
    format!(
        "{:.1} standard errors {way} measured, {verdict}",
        apart.abs()
    )
}

fn instruments(text: &mut String, answer: &Answer) {
    let all = [
        (&answer.found.speed, QuantityKind::Speed, "speed"),
        (
            &answer.found.turns,
            QuantityKind::ShaftSpeed,
            "propeller speed",
        ),
    ];
    let shown: Vec<_> = all.iter().filter(|(a, ..)| a.told.len() > 1).collect();
    if shown.is_empty() {
        return;
    }
    text.push_str("\nInstruments against each other\n");
    for (all, kind, name) in shown {
        let _ = writeln!(text, "  {name}: {}", verdict(all));
        for told in &all.told {
            let _ = writeln!(text, "    {} by {}", number(*kind, told.value), told.by);
        }
    }
    if let Some(doubt) = pole_doubt(&answer.found.turns) {
        let _ = writeln!(text, "  {doubt}");
    }
}

fn verdict(all: &Agreement) -> String {
    match all.verdict {
        Verdict::Alone => "only one tells it".to_owned(),
        Verdict::Agree => "all agree".to_owned(),
        Verdict::Odd(index, gap) => {
            format!(
                "{} is the odd one, {gap:.1} standard errors from the rest",
                all.told[index].by
            )
        }
        Verdict::Disagree(gap) if all.told.len() == 2 => {
            format!(
                "they disagree by {gap:.1} standard errors; a third instrument would tell which is off"
            )
        }
        Verdict::Disagree(gap) => {
            format!("they disagree by up to {gap:.1} standard errors, and no single one is off")
        }
    }
}

fn teaches(text: &mut String, answer: &Answer) {
    let (told, silent): (Vec<&Shift>, Vec<&Shift>) =
        answer.found.shifts.iter().partition(|s| s.is_told());
    if answer.found.shifts.is_empty() {
        return;
    }
    text.push_str("\nWhat that teaches (1 is as published or as declared)\n");
    if told.is_empty() {
        text.push_str("  nothing yet: every spread stays within a tenth of what it was\n");
    }
    for s in &told {
        let weigh = if s.what.is_kept() {
            ""
        } else {
            "; not kept, measure it"
        };
        let _ = writeln!(
            text,
            "  {}: {} becomes {}{weigh}",
            s.what.name(),
            factor(s.before),
            factor(s.after)
        );
    }
    text.push_str("\nWhat these recordings cannot tell\n");
    if !silent.is_empty() {
        let names: Vec<&str> = silent.iter().map(|s| s.what.name()).collect();
        let _ = writeln!(text, "  as unsure as before: {}", names.join(", "));
    }
    for p in &answer.found.pairs {
        let known = if p.correlation > 0.0 {
            "difference"
        } else {
            "sum"
        };
        let _ = writeln!(
            text,
            "  {} from {}: only their {known} is known (correlation {:.2})",
            p.a.name(),
            p.b.name(),
            p.correlation
        );
    }
    text.push_str("  Fitted with the laws' spreads as priors and errors of Student's t with 4 degrees of freedom,\n  in which a value far from the rest counts little.\n");
}

fn in_motion(text: &mut String, answer: &Answer) {
    if answer.found.beside.is_empty() {
        return;
    }
    text.push_str("\nHops, turns and landings beside the boat in motion (theory, unvalidated; nothing is fitted to them)\n");
    for one in &answer.found.beside {
        let verdict = match one.agree {
            Some(true) => "agrees: ",
            Some(false) => "apart: ",
            None => "",
        };
        let _ = writeln!(
            text,
            "  {}: {} by {}\n      {verdict}{}",
            observe::name(one.kind),
            number(one.kind, one.measured),
            one.from,
            one.says
        );
    }
}

fn passed(text: &mut String, answer: &Answer) {
    if answer.found.passed.is_empty() {
        return;
    }
    text.push_str("\nNot held against the model\n");
    for p in &answer.found.passed {
        let _ = writeln!(
            text,
            "  {} {} by {}: {}",
            observe::name(p.kind),
            number(p.kind, p.measured),
            p.from,
            p.why
        );
    }
}

fn kept(text: &mut String, answer: &Answer) {
    match &answer.written {
        Some(file) => {
            let _ = writeln!(text, "\nKept in {file}; every prediction now carries it.");
        }
        None if answer.kept.factor.is_empty() => text.push_str("\nNothing to keep.\n"),
        None => text.push_str("\nNothing was changed. --keep writes it to learned.toml, and predictions then carry it.\n"),
    }
    if let Some(file) = &answer.moved {
        let _ = writeln!(text, "What was learned before is in {file}.");
    }
    for line in &answer.carried.left_out {
        let _ = writeln!(text, "Does not carry to the boat as it is now: {line}");
    }
}
