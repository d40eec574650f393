//! What would make hull, joints or panels stronger, as steps beside the others: rods, frames, glue, another cut.

use boat::Kind;
use making::strength::{By, Lever};
use study::Study;
use study::trial::Work;

use crate::finding::{Finding, Standing};
use crate::next::{Effect, MOST, STOP_WEIGHT, Step, enough};
use crate::number::Number;

type Of = fn(&Lever) -> Option<f64>;

/// Findings of strength that a lever moves, and what a builder calls what moves.
const HOLDS: [(&str, &str, Of); 3] = [
    ("holds-hull", "strength over stress of the hull", |l| {
        Some(l.hull)
    }),
    ("holds-joints", "strength over stress of the joints", |l| {
        l.joints
    }),
    ("holds-panels", "strength over stress of the panels", |l| {
        l.panels
    }),
];
/// What is only watched breaks in a crash, for which nobody need build a boat: it comes after all that makes the boat run
/// better, by this factor on what it is worth (judgement).
const AFTER: f64 = 1e-3;
/// More than this is not told.
const MOST_TIMES: f64 = 20.0;
/// A gain of less than this share is none.
const LEAST_SHARE: f64 = 0.05;

/// Each with what it is worth for its work, as other changes are ranked.
pub(crate) fn stronger(study: &Study, findings: &[Finding]) -> Vec<(f64, Step)> {
    let strength = study.running.as_ref().and_then(|r| r.strength.as_ref());
    let levers = strength.map_or(&[][..], |s| &s.levers);
    let open: Vec<(&Finding, &Number, &str, Of)> = HOLDS
        .iter()
        .filter_map(|(id, called, of)| {
            let finding = findings.iter().find(|f| f.id == *id)?;
            let open = matches!(finding.standing, Standing::Stop | Standing::Watch);
            // A joint is also found by the share of its wall it carries, which no lever here moves.
            let number = finding.number.as_ref().filter(|n| n.unit() == "times")?;
            open.then_some((finding, number, *called, *of))
        })
        .collect();
    let edits = |i: usize| study.stronger.get(i).cloned().unwrap_or_default();
    levers
        .iter()
        .enumerate()
        .filter_map(|(i, lever)| {
            let (mut gain, mut mends, mut gains) = (0.0, Vec::new(), Vec::new());
            let mut last = AFTER;
            for (finding, now, called, of) in &open {
                let Some(after) = of(lever).filter(|to| *to > (1.0 + LEAST_SHARE) * now.value)
                else {
                    continue;
                };
                let spread = now.spread.max(LEAST_SHARE * now.value);
                let margin = |times: f64| enough((times - 1.0) / spread);
                let weight = if finding.standing == Standing::Stop {
                    last = 1.0;
                    STOP_WEIGHT
                } else {
                    1.0
                };
                gain += weight * (margin(after) - margin(now.value)).min(MOST);
                mends.push(finding.id.clone());
                gains.push(Effect {
                    quantity: (*called).to_owned().into(),
                    before: Some(times(now.value, now)),
                    after: Some(times(after, now)),
                });
            }
            let work = work(lever.by);
            (gain > crate::next::LEAST).then(|| {
                let step = Step {
                    what: lever.what.clone(),
                    work,
                    edits: edits(i),
                    mends,
                    gains,
                    costs: Vec::new(),
                    helps: None,
                };
                (last * gain / f64::from(work.effort()), step)
            })
        })
        .collect()
}

/// As uncertain in proportion as the finding's.
fn times(value: f64, now: &Number) -> Number {
    let share = now.spread / now.value.max(1e-9);
    let value = value.min(MOST_TIMES);
    Number::new(Kind::Number, value, share * value).per("times")
}

const fn work(by: By) -> Work {
    match by {
        By::GluedIn | By::Joined => Work::Evening,
        By::Printed => Work::Days,
        By::Reprinted => Work::Week,
    }
}
