//! Findings as text or JSON.

use advice::next::{Effect, Step};
use advice::{Finding, Give, Standing, Verdict};
use std::fmt::Write as _;
use workshop::check::{Carried, CheckAnswer, CheckAsk};

use super::{Outcome, ask};
use crate::cli::Check;
use crate::colours;
use crate::failure::Failure;
use crate::output;

pub fn run(given: &Check) -> Result<Outcome, Failure> {
    let question = CheckAsk {
        effort: given.effort.into(),
    };
    let answer = ask(&question, &given.boat)?;
    if given.json {
        output::print_json(&answer)?;
    } else {
        output::print(&as_text(&answer, Shown::of(given)))?;
    }
    Ok(Outcome::of(answer.says_stop()))
}

/// How much of each finding to print.
#[derive(Debug, Clone, Copy, Default)]
pub struct Shown {
    /// Those that are not stop or watch in full too.
    pub all: bool,
    /// How each comes about.
    pub why: bool,
}

impl Shown {
    fn of(given: &Check) -> Self {
        Self {
            all: given.all || given.why,
            why: given.why,
        }
    }
}

/// The whole answer for a terminal.
pub fn as_text(answer: &CheckAnswer, shown: Shown) -> String {
    let mut text = format!(
        "{} ({}): {} all up, balance {} ahead of the transom\n",
        answer.boat, answer.hull_type, answer.mass, answer.balance.x
    );
    give_first(&mut text, &answer.give_first);
    learned(&mut text, answer.learned.as_ref());
    text.push('\n');
    verdict(&mut text, &answer.verdict);
    let in_full = |f: &&Finding| shown.all || f.standing <= Standing::Watch;
    for finding in answer.findings.iter().filter(in_full) {
        text.push('\n');
        entry(&mut text, finding, shown.why);
    }
    let mut rest = answer.findings.iter().filter(|f| !in_full(f)).peekable();
    if rest.peek().is_some() {
        text.push('\n');
    }
    for finding in rest {
        headline(&mut text, finding);
    }
    let more = if shown.all {
        ""
    } else {
        " (`--all` shows each in full)"
    };
    let _ = writeln!(text, "\n{}{more}", summary(&answer.findings));
    text
}

/// Which numbers to give before anything else, where nobody gave them.
pub fn give_first(text: &mut String, give: &[Give]) {
    if give.is_empty() {
        return;
    }
    text.push_str(
        "Parts were put in by common practice; nothing that rests on them says good. Give first:\n",
    );
    for one in give {
        let _ = writeln!(
            text,
            "  {:<36} taken as {:<28} {}",
            one.what, one.taken, one.place
        );
    }
    text.push_str("Put in your own number and delete `assumed = true` above it.\n");
}

/// The first screen: seven answers and the next thing to do.
pub fn verdict(text: &mut String, verdict: &Verdict) {
    for item in &verdict.items {
        let style = colours::of(item.standing);
        let beside = item
            .beside
            .as_ref()
            .map_or(String::new(), |b| format!(", {b}"));
        let _ = writeln!(
            text,
            "{style}{} {:<7}{style:#} {:<14}{}{beside}",
            item.standing.mark(),
            item.standing,
            item.label,
            item.text
        );
    }
    if let Some(next) = &verdict.next {
        text.push_str("Next:     ");
        push_wrapped(text, &next_words(next));
    }
}

/// `Battery 10 mm forward (minutes): slip 15 % instead of 22 %; costs top speed 84 km/h instead of 85 km/h.`
pub fn next_words(step: &Step) -> String {
    let join = |all: &[Effect]| {
        let each: Vec<String> = all.iter().map(Effect::words).collect();
        each.join(", ")
    };
    let costs = if step.costs.is_empty() {
        String::new()
    } else {
        format!("; costs {}", join(&step.costs))
    };
    let helps = (step.helps).map_or_else(String::new, |h| format!("; {}", h.words()));
    format!(
        "{} ({}): {}{costs}{helps}.",
        step.what,
        step.work.words(),
        join(&step.gains)
    )
}

/// What predictions carry from the water, where they do.
pub fn learned(text: &mut String, learned: Option<&Carried>) {
    let Some(learned) = learned else { return };
    if !learned.factors.is_empty() {
        let told = learned.factors.iter().filter(|f| f.is_told());
        let names: Vec<&str> = told.map(|f| f.name.as_str()).collect();
        let what = if names.is_empty() {
            "no number much surer".to_owned()
        } else {
            names.join(", ")
        };
        let _ = writeln!(
            text,
            "carries what was learned from {}: {what} (learned.toml)",
            learned.from.join(", ")
        );
    }
    for line in &learned.left_out {
        let _ = writeln!(text, "does not carry {line}");
    }
}

const INDENT: &str = "          ";
const WIDTH: usize = 96;

/// Standing and sentence.
pub fn headline(text: &mut String, finding: &Finding) {
    let standing = finding.standing;
    let style = colours::of(standing);
    let _ = write!(text, "{style}{} {standing:<7}{style:#} ", standing.mark());
    push_wrapped(text, &finding.sentence);
}

fn entry(text: &mut String, finding: &Finding, why: bool) {
    headline(text, finding);
    push_wrapped_indented(text, &grounds(finding));
    let open = why || finding.standing != Standing::Good;
    for change in finding.changes.iter().filter(|_| open) {
        push_wrapped_indented(text, &format!("> {}: {}", change.what, change.effect));
    }
    if let Some(caution) = finding
        .caution
        .as_ref()
        .filter(|_| finding.standing != Standing::Good)
    {
        push_wrapped_indented(text, &format!("! {caution}"));
    }
    if why {
        push_wrapped_indented(text, &finding.why);
        for figure in &finding.figures {
            push_wrapped_indented(text, &format!("- {}: {}", figure.label, figure.value));
        }
    }
}

/// Number, limit and basis in one line.
fn grounds(finding: &Finding) -> String {
    let mut parts = Vec::new();
    if let Some(number) = &finding.number {
        parts.push(number.to_string());
    }
    if let Some(limit) = &finding.limit {
        parts.push(format!("wanted {limit} ({})", limit.says));
    }
    parts.push(format!("rests on {}", finding.basis.words()));
    parts.push(format!("[{}]", finding.id));
    parts.join("; ").replace("; [", " [")
}

/// `1 stop, 2 watch, 4 good`.
fn summary(all: &[Finding]) -> String {
    let counts = Standing::ALL.iter().filter_map(|standing| {
        let count = all.iter().filter(|f| f.standing == *standing).count();
        (count > 0).then(|| format!("{count} {standing}"))
    });
    counts.collect::<Vec<_>>().join(", ")
}

pub fn push_wrapped(text: &mut String, words: &str) {
    text.push_str(&wrapped(&output::units().in_words(words)));
    text.push('\n');
}

fn push_wrapped_indented(text: &mut String, words: &str) {
    text.push_str(INDENT);
    push_wrapped(text, words);
}

/// Words broken at the right margin, later lines indented.
fn wrapped(words: &str) -> String {
    let mut out = String::new();
    let mut column = INDENT.len();
    for word in words.split(' ') {
        let width = word.chars().count();
        if column > INDENT.len() {
            if column + 1 + width > WIDTH {
                out.push('\n');
                out.push_str(INDENT);
                column = INDENT.len();
            } else {
                out.push(' ');
                column += 1;
            }
        }
        out.push_str(word);
        column += width;
    }
    out
}
