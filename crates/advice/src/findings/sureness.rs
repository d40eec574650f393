//! What stands between these answers and the truth: the mesh, and numbers nobody gave.

use boat::Kind;

use crate::finding::{Basis, Finding, Standing};
use crate::number::Number;
use study::Study;

pub(super) fn findings(study: &Study) -> Vec<Finding> {
    let mut all = Vec::new();
    all.extend(mesh(study));
    all.extend(assumed(study));
    all.extend(outside_laws(study));
    all
}

fn mesh(study: &Study) -> Option<Finding> {
    let serious: Vec<_> = study
        .form
        .notices
        .iter()
        .filter(|n| n.serious)
        .map(|n| n.text.as_str())
        .collect();
    let first = serious.first()?;
    let more = match serious.len() - 1 {
        0 => String::new(),
        n => format!(" ({n} more)"),
    };
    let mut found = Finding::new(
        "mesh",
        Standing::Watch,
        Basis::Statics,
        format!("The hull's mesh may mislead: {first}{more}."),
    )
    .number(Number::exact(Kind::Number, serious.len() as f64))
    .why("Everything else here rests on the outer shape found in the mesh.");
    for (index, text) in serious.iter().enumerate() {
        found = found.figure(format!("notice {}", index + 1), text);
    }
    Some(found)
}

/// A number nobody gave.
#[derive(Debug, Clone, PartialEq)]
pub struct Assumption {
    /// Which: `drive shaft efficiency`.
    pub what: String,
    /// What was taken, with its spread.
    pub number: Number,
    /// Why that.
    pub why: &'static str,
}

/// Every number nobody gave, in the order of the boat file.
pub fn assumptions(boat: &boat::Boat) -> Vec<Assumption> {
    let mut all = Vec::new();
    boat.clone().visit_quantities(&mut |path, kind, measure| {
        if let boat::Origin::Assumed(why) = measure.origin {
            all.push(Assumption {
                what: path.to_owned(),
                number: Number::new(kind, measure.value, measure.spread),
                why,
            });
        }
    });
    all
}

fn assumed(study: &Study) -> Option<Finding> {
    let all = assumptions(&study.boat);
    if all.is_empty() {
        return None;
    }
    let sentence = format!(
        "{} numbers were not given and are taken from common practice.",
        all.len()
    );
    let mut found = Finding::new("assumed", Standing::Unsure, Basis::RuleOfThumb, sentence).why(
        "Each has a spread that is carried through to the findings. Give the ones you can measure.",
    );
    for one in &all {
        found = found.figure(&one.what, one.number);
    }
    Some(found)
}

/// Laws used beyond what they were measured for, at top speed.
fn outside_laws(study: &Study) -> Option<Finding> {
    let top = study.running.as_ref()?.curve.top.as_ref()?;
    let mut notes: Vec<&String> = top.notes.iter().collect();
    notes.sort();
    notes.dedup();
    if notes.is_empty() {
        return None;
    }
    let mut found = Finding::new(
        "outside-laws",
        Standing::Unsure,
        Basis::TheoryOnly,
        "At top speed some laws are used beyond what they were measured for.",
    )
    .why("A result outside its law's range is given, not trusted: the spread does not cover it.");
    for (index, note) in notes.iter().enumerate() {
        found = found.figure(format!("{}", index + 1), note);
    }
    Some(found)
}
