//! What the recording commands share: giving an answer.

use evidence::clock::EventKind;
use evidence::outing::{Analysis, RecordingKind};
use report::measured::{name, shown as shown_value, when, with_spread};
use serde::Serialize;
use serde_json::json;
use std::fmt::Write as _;
use std::path::Path;
use workshop::output::Target;
use workshop::{BoatAt, Question};

use super::ask_of;
use crate::cli_recordings::Shown;
use crate::failure::{Failure, shown};
use crate::output;

/// Asks, once it is known that the page may be written where it is wanted.
pub fn asked<Q: Question>(
    question: &Q,
    boat: Option<&Path>,
    how: &Shown,
) -> Result<(Q::Answer, Option<Target>), Failure> {
    let at = boat.map(BoatAt::saved);
    let page = how.output.as_deref();
    let page = page
        .map(|page| Target::new(page, at.as_ref(), &question.files(), how.force))
        .transpose()?;
    Ok((ask_of(question, boat)?, page))
}

/// Gives the answer of one or several recordings, with text before and after.
pub fn give(
    answer: &impl Serialize,
    all: &[Analysis],
    (how, page): (&Shown, Option<Target>),
    around: (&str, &str),
) -> Result<(), Failure> {
    if let Some(page) = &page {
        let files: Vec<&str> = all.iter().map(|a| a.file.as_str()).collect();
        let html = report::recordings(&files.join(", "), all, output::units());
        page.write(html.as_bytes())?;
    }
    if how.json {
        let mut answer = json!(answer);
        if let Some(page) = &how.output {
            answer["page"] = page.display().to_string().into();
        }
        return output::print_json(&answer);
    }
    let mut text = around.0.to_owned();
    for a in all {
        text.push_str(&as_text(a));
    }
    text.push_str(around.1);
    if let Some(page) = &how.output {
        let _ = writeln!(text, "page: {}", shown(page));
    }
    output::print(&text)
}

/// What was measured, as a builder reads it.
pub fn as_text(a: &Analysis) -> String {
    let mut text = format!("{}: {}", a.file, kind_words(a.kind));
    if let Some((from, to)) = a.span_s {
        let _ = write!(text, ", {:.1} s", to - from);
    }
    text.push('\n');
    for words in &a.says {
        let _ = writeln!(text, "  {words}");
    }
    let rows: Vec<[String; 3]> = a
        .quantities
        .iter()
        .map(|q| {
            let mut how = format!("{}; {}", when(q), q.from.method);
            if let Some(remark) = &q.remark {
                let _ = write!(how, "; {remark}");
            }
            [name(q), shown_value(q.kind, q.value, q.sigma), how]
        })
        .collect();
    let width = |i: usize| rows.iter().map(|r| r[i].chars().count()).max().unwrap_or(0);
    let (first, second) = (width(0), width(1));
    for [what, value, how] in &rows {
        let _ = writeln!(text, "  {what:<first$}  {value:<second$}  {how}");
    }
    if !a.events.is_empty() {
        let told: Vec<String> = a
            .events
            .iter()
            .map(|e| {
                let at = with_spread(
                    e.time_s.value,
                    report::measured::HALF_WIDTH * e.time_s.sigma,
                    "s",
                );
                format!("{} {} at {at}", event_words(e.kind), e.number)
            })
            .collect();
        let _ = writeln!(text, "  events: {}", told.join(", "));
    }
    for remark in &a.remarks {
        let _ = writeln!(text, "  - {remark}");
    }
    text
}

pub fn event_words(kind: EventKind) -> &'static str {
    match kind {
        EventKind::Launch => "launch",
        EventKind::ThrottleCut => "throttle cut",
        EventKind::Pass => "pass",
        EventKind::Marked => "mark",
    }
}

pub fn kind_words(kind: RecordingKind) -> &'static str {
    match kind {
        RecordingKind::Sound => "sound",
        RecordingKind::Marks => "marked frames",
        RecordingKind::Track => "track",
        RecordingKind::Log => "log",
        RecordingKind::Pulses => "servo pulses",
        RecordingKind::Other => "other",
    }
}
