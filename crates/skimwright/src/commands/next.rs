//! What to change next, as text or JSON.

use advice::next::Effect;
use workshop::next::{NextAnswer, NextAsk, Together, With};

use super::check::{headline, learned, next_words, push_wrapped, verdict};
use super::{Outcome, ask};
use crate::cli::NextArgs;
use crate::failure::Failure;
use crate::output;

pub fn run(given: &NextArgs) -> Result<Outcome, Failure> {
    let question = NextAsk {
        effort: given.effort.into(),
        with: given.with.clone(),
    };
    let answer = ask(&question, &given.boat)?;
    if given.json {
        output::print_json(&answer)?;
    } else {
        output::print(&as_text(&answer))?;
    }
    Ok(Outcome::Good)
}

fn as_text(answer: &NextAnswer) -> String {
    let mut text = format!("{}\n", answer.boat);
    learned(&mut text, answer.learned.as_ref());
    if let Some(with) = &answer.with {
        text.push_str("\nAs it is\n");
        verdict(&mut text, &without_next(&answer.verdict));
        with_other(&mut text, with);
        return text;
    }
    verdict(&mut text, &without_next(&answer.verdict));
    text.push('\n');
    if answer.steps.is_empty() {
        text.push_str("Nothing that was tried is worth doing: leave it as it is.\n");
    }
    for (index, step) in answer.steps.iter().enumerate() {
        text.push_str(&format!("{:>8}. ", index + 1));
        push_wrapped(&mut text, &next_words(step));
    }
    if let Some(together) = &answer.together {
        all_at_once(&mut text, together);
    }
    text
}

fn without_next(given: &advice::Verdict) -> advice::Verdict {
    advice::Verdict {
        next: None,
        ..given.clone()
    }
}

fn all_at_once(text: &mut String, together: &Together) {
    text.push_str("\nTogether, in minutes:\n");
    for line in &together.moves {
        text.push_str("          ");
        push_wrapped(text, line);
    }
    let effects: Vec<String> = together.effects.iter().map(Effect::words).collect();
    text.push_str("      ->  ");
    push_wrapped(text, &format!("{}.", effects.join(", ")));
}

fn with_other(text: &mut String, with: &With) {
    text.push_str(&format!("\nWith {}\n", with.parts.join(", ")));
    verdict(text, &without_next(&with.verdict));
    for (words, findings) in [
        ("What would break, first to last:", &with.worse),
        ("What stands better:", &with.better),
    ] {
        if findings.is_empty() {
            continue;
        }
        text.push_str(&format!("\n{words}\n"));
        for finding in findings {
            headline(text, finding);
        }
    }
    if with.worse.is_empty() {
        text.push_str("\nNothing that holds now would break.\n");
    }
}
