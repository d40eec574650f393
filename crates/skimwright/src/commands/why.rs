//! Causes of what went wrong, as text or JSON.

use std::fmt::Write as _;
use workshop::why::{Cause, Clue, WhyAnswer, WhyAsk};

use super::check::{next_words, push_wrapped};
use super::{Outcome, ask};
use crate::cli::WhyArgs;
use crate::failure::Failure;
use crate::output;

/// Causes shown in full; the rest in a line.
const SHOWN: usize = 3;

pub fn run(given: &WhyArgs) -> Result<Outcome, Failure> {
    let question = WhyAsk {
        words: given.words.join(" "),
        outing: given.outing.clone(),
        effort: given.effort.into(),
    };
    let answer = ask(&question, &given.boat)?;
    output::give(given.json, &answer, as_text)?;
    Ok(Outcome::Good)
}

fn as_text(answer: &WhyAnswer) -> String {
    let mut text = format!("{}\n", answer.boat);
    for e in &answer.symptoms {
        let _ = writeln!(text, "\n{} ({})", capital(&e.symptom), e.seen_in);
        for (n, one) in e.causes.iter().take(SHOWN).enumerate() {
            entry(&mut text, n, one);
        }
        let rest: Vec<String> = e
            .causes
            .iter()
            .skip(SHOWN)
            .map(|c| format!("{} ({})", c.cause, c.chance))
            .collect();
        if !rest.is_empty() {
            let _ = writeln!(text, "  further down: {}", rest.join("; "));
        }
        if let Some(note) = &e.note {
            let _ = writeln!(text, "  ! {note}");
        }
    }
    if let Some(first) = &answer.next {
        let _ = writeln!(text, "\nNext: {}.", first.r#try);
        if let Some(effect) = &first.effect {
            let _ = writeln!(text, "  On the model, {effect}.");
        }
        let _ = writeln!(text, "To decide, measure: {}.", first.measure);
        if let Some(caution) = &first.caution {
            let _ = writeln!(text, "! {caution}");
        }
    }
    if !answer.steps.is_empty() {
        text.push_str("\nTried on the whole boat, these ease it:\n");
        for (index, step) in answer.steps.iter().enumerate() {
            text.push_str(&format!("{:>8}. ", index + 1));
            push_wrapped(&mut text, &next_words(step));
        }
    }
    text.push_str("\nCauses and their order are common practice, no source; model and recordings move them. One change a run.\n");
    text
}

fn entry(text: &mut String, n: usize, one: &Cause) {
    let _ = writeln!(text, "  {}. {}: {}", n + 1, one.chance, one.cause);
    let said = |text: &mut String, mark: &str, clues: &[Clue]| {
        for c in clues {
            let _ = writeln!(text, "     {mark} {}: {}", c.by, c.says);
        }
    };
    said(text, "+ for,", &one.r#for);
    said(text, "- against,", &one.against);
    if one.r#for.is_empty() && one.against.is_empty() {
        text.push_str(
            "     neither model nor recordings have a say: its place is the usual order\n",
        );
    }
    for symptom in &one.also_explains {
        let _ = writeln!(text, "     + would also explain: {symptom}");
    }
    let _ = writeln!(text, "     try: {}; measure: {}", one.r#try, one.measure);
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map_or_else(String::new, |c| c.to_uppercase().chain(letters).collect())
}
