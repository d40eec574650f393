//! Causes of what went wrong, as text or JSON.

use advice::findings;
use learn::observe;
use learn::why::{Case, Explained, Weighed, WhyError, Word, explain, known};
use serde_json::{Value, json};
use std::fmt::Write as _;

use workshop::outings;

use super::{Outcome, learn as learning, study};
use crate::boat_folder;
use crate::cli::WhyArgs;
use crate::failure::Failure;
use crate::output;

/// Causes shown in full; the rest in a line.
const SHOWN: usize = 3;

pub fn run(given: &WhyArgs) -> Result<Outcome, Failure> {
    let words = given.words.join(" ");
    let loaded = boat_folder::load(&given.boat)?;
    let name = loaded.boat.name.clone();
    let wanted: &[String] = given.outing.as_slice();
    let read = match wanted {
        [] => None,
        wanted => outings::read(&loaded.folder, wanted)?.pop(),
    };
    let found = match &read {
        None => None,
        Some(one) => {
            observe::observe(&one.measured, &loaded.boat).map_err(|e| {
                Failure::new(
                    format!("outing {} holds numbers that cannot be:\n{e}", one.name),
                    "put the reading of that recording right and measure it again",
                )
            })?;
            let declared = boat_folder::load_declared(&given.boat)?;
            Some(learning::answer(&declared, std::slice::from_ref(one))?.found)
        }
    };
    let said = read.as_ref().and_then(|r| r.said.as_ref());
    let text = match said {
        Some(said) if words.trim().is_empty() => said.what_happened.clone(),
        _ => words,
    };
    refuse_early(&text, read.is_some())?;
    let study = study(loaded, &given.effort)?;
    let all = findings(&study);
    let case = Case {
        study: &study,
        findings: &all,
        outing: read.as_ref().map(|r| &r.measured),
        found: found.as_ref(),
    };
    let explained = explain(&text, &case).map_err(|e| refusal(&e))?;
    if given.json {
        output::print_json(&as_json(&name, &explained))?;
    } else {
        output::print(&as_text(&name, &explained))?;
    }
    Ok(Outcome::Good)
}

/// Words in which nothing is found need no study first.
fn refuse_early(text: &str, outing: bool) -> Result<(), Failure> {
    use learn::why::words::{MOST_BYTES, nearest, recognise};
    if text.len() > MOST_BYTES {
        return Err(refusal(&WhyError::TooLong(text.len())));
    }
    let blank = text.trim().is_empty();
    if blank && !outing {
        return Err(refusal(&WhyError::Nothing));
    }
    if !blank && recognise(text).is_empty() {
        return Err(refusal(&WhyError::Unknown {
            text: text.trim().to_owned(),
            near: nearest(text).iter().map(|s| s.name).collect(),
        }));
    }
    Ok(())
}

fn refusal(error: &WhyError) -> Failure {
    let all: Vec<String> = known().map(|name| format!("  {name}")).collect();
    let near = match error {
        WhyError::Unknown { near, .. } if !near.is_empty() => {
            format!("perhaps: {}\n", near.join("; "))
        }
        _ => String::new(),
    };
    Failure::new(
        error.to_string(),
        format!(
            "{near}say in plain English what the boat did. Known here:\n{}",
            all.join("\n")
        ),
    )
}

fn as_text(name: &str, all: &[Explained]) -> String {
    let mut text = format!("{name}\n");
    for e in all {
        let _ = writeln!(text, "\n{} ({})", capital(e.symptom.name), e.seen_in);
        for (n, one) in e.causes.iter().take(SHOWN).enumerate() {
            entry(&mut text, n, one);
        }
        let rest: Vec<String> = e
            .causes
            .iter()
            .skip(SHOWN)
            .map(|c| format!("{} ({})", c.cause.what, c.chance.word()))
            .collect();
        if !rest.is_empty() {
            let _ = writeln!(text, "  further down: {}", rest.join("; "));
        }
        if let Some(note) = e.symptom.note {
            let _ = writeln!(text, "  ! {note}");
        }
    }
    if let Some(first) = next(all) {
        let _ = writeln!(text, "\nNext: {}.", first.cause.try_next);
        if let Some(effect) = &first.effect {
            let _ = writeln!(text, "  On the model, {effect}.");
        }
        let _ = writeln!(text, "To decide, measure: {}.", first.cause.measure);
        if let Some(caution) = first.cause.caution {
            let _ = writeln!(text, "! {caution}");
        }
    }
    text.push_str("\nCauses and their order are common practice, no source; model and recordings move them. One change a run.\n");
    text
}

fn entry(text: &mut String, n: usize, one: &Weighed) {
    let _ = writeln!(
        text,
        "  {}. {}: {}",
        n + 1,
        one.chance.word(),
        one.cause.what
    );
    let said = |text: &mut String, mark: &str, words: &[Word]| {
        for w in words {
            let by = if w.measured { "measured" } else { "model" };
            let _ = writeln!(text, "     {mark} {by}: {}", w.says);
        }
    };
    said(text, "+ for,", &one.for_it);
    said(text, "- against,", &one.against);
    if one.for_it.is_empty() && one.against.is_empty() {
        text.push_str(
            "     neither model nor recordings have a say: its place is the usual order\n",
        );
    }
    for symptom in &one.also {
        let _ = writeln!(text, "     + would also explain: {symptom}");
    }
    let _ = writeln!(
        text,
        "     try: {}; measure: {}",
        one.cause.try_next, one.cause.measure
    );
}

/// The one thing to try: the likeliest cause of all, one that explains more first.
fn next(all: &[Explained]) -> Option<&Weighed> {
    let firsts = all.iter().filter_map(|e| e.causes.first());
    firsts.max_by(|a, b| {
        a.also
            .len()
            .cmp(&b.also.len())
            .then(a.share.total_cmp(&b.share))
    })
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map_or_else(String::new, |c| c.to_uppercase().chain(letters).collect())
}

fn as_json(name: &str, all: &[Explained]) -> Value {
    json!({
        "boat": name,
        "symptoms": all.iter().map(|e| json!({
            "id": e.symptom.id,
            "symptom": e.symptom.name,
            "seen_in": e.seen_in,
            "causes": e.causes.iter().map(cause).collect::<Vec<_>>(),
            "note": e.symptom.note,
        })).collect::<Vec<_>>(),
        "next": next(all).map(|one| json!({
            "cause": one.cause.id,
            "try": one.cause.try_next,
            "effect": one.effect,
            "measure": one.cause.measure,
            "caution": one.cause.caution,
        })),
        "basis": "causes and their order are common practice, no source; moved by the model and by recordings",
    })
}

fn cause(one: &Weighed) -> Value {
    let words = |all: &[Word]| -> Vec<Value> {
        let each = all.iter().map(|w| {
            json!({
                "by": if w.measured { "measured" } else { "model" },
                "says": w.says,
                "times": w.times,
            })
        });
        each.collect()
    };
    json!({
        "id": one.cause.id,
        "cause": one.cause.what,
        "chance": one.chance.word(),
        "share": advice::number::significant(one.share),
        "for": words(&one.for_it),
        "against": words(&one.against),
        "also_explains": one.also,
        "try": one.cause.try_next,
        "effect": one.effect,
        "measure": one.cause.measure,
        "caution": one.cause.caution,
    })
}
