//! From a study to sentences, worst first.

mod balance;
mod flight;
pub(crate) mod float;
mod handling;
mod heat;
mod launch;
mod pads;
mod placement;
mod power;
pub mod quick;
mod running;
mod shaft;
mod stability;
mod strength;
pub mod sureness;

pub(crate) use balance::usual_balance_m;
pub(crate) use flight::LEAST_RAD as LEAST_FLIGHT_RAD;
pub(crate) use float::on_end;

use crate::change::{Want, changes};
use crate::finding::{Change, Finding};
use crate::next::Limits;
use crate::number::Number;
use study::Quantity;
use study::Study;

/// Every finding of a study, worst first.
pub fn findings(study: &Study) -> Vec<Finding> {
    let mut all = float::findings(study);
    all.extend(balance::findings(study));
    all.extend(pads::findings(study));
    all.extend(placement::findings(study));
    if let Some(under) = &study.running {
        all.extend(running::findings(study, under));
        all.extend(launch::findings(under));
        all.extend(handling::findings(study, under));
        all.extend(flight::findings(study, under));
        all.extend(power::findings(study, under));
        all.extend(heat::findings(study, under));
        all.extend(shaft::findings(study, under));
        all.extend(stability::findings(under));
        all.extend(strength::findings(study, under));
    }
    all.extend(sureness::findings(study));
    let mut all: Vec<Finding> = all.into_iter().map(Finding::with_reach_told).collect();
    crate::give::keep_from_good(&study.boat, &mut all);
    Finding::sort(&mut all);
    keep_sound_changes(study, &mut all);
    all
}

/// How many adjustments a finding lists.
const LISTED: usize = 3;

/// A change that pushes something else over its limit is no advice.
fn keep_sound_changes(study: &Study, all: &mut [Finding]) {
    let limits = Limits::of(study, all);
    let unsound: Vec<&str> = study
        .trials
        .iter()
        .filter(|t| limits.as_ref().is_some_and(|l| !l.keeps(&t.quantities)))
        .map(|t| t.what.as_str())
        .collect();
    for finding in all {
        // What makes a hull stronger was tried on its strength alone, and is none of these.
        finding
            .changes
            .retain(|c| !unsound.contains(&c.what.as_str()));
        finding.changes.truncate(LISTED);
    }
}

/// The one number for a quantity, with its spread.
pub(crate) fn asked(study: &Study, quantity: Quantity) -> Option<Number> {
    let (value, half_width) = study.number(quantity)?;
    Some(Number::new(quantity.kind(), value, half_width))
}

/// What would move an answer the right way.
fn improve(study: &Study, quantity: Quantity, want: Want) -> Vec<Change> {
    study.running.as_ref().map_or_else(Vec::new, |under| {
        changes(&study.trials, &under.quantities, quantity, want)
    })
}

/// `in 29 of 32 likely boats`.
fn count(study: &Study, holds: impl Fn(&study::spread::Draw) -> bool) -> Option<String> {
    let held = study.spread.draws.iter().filter(|d| holds(d)).count();
    let all = study.spread.draws.len();
    (all > 0).then(|| format!("in {held} of {all} likely variations of this boat"))
}
