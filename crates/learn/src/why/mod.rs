//! What went wrong: from a builder's words and an outing's events to causes for this boat, ranked.
//!
//! Each cause starts with a weight from its place in the list of what builders meet: seven tenths of
//! the one before it. Every clue that has a say multiplies it by 4 or 2, or divides it (judgement, no
//! source), and so does the model with the cause put into it (`tried`). A cause that explains more than one symptom counts double in each. The weights of a
//! symptom's causes are then shares of one: from four tenths likely, from an eighth possible, below
//! unlikely. They are an order to try things in, not probabilities of anything measured.

mod causes;
pub mod clue;
pub mod lexicon;
mod symptoms;
pub mod table;
mod tried;
pub mod words;

use rayon::prelude::*;
use std::collections::BTreeMap;

pub use clue::{Case, Word};
use evidence::outing::{Outing, QuantityKind};
use std::fmt::Write as _;
use table::{Cause, SYMPTOMS, Symptom, cause};
pub use tried::about;
use words::MOST_BYTES;

/// From one place in the list to the next.
const NEXT: f64 = 0.7;
/// A cause of several symptoms.
const SHARED: f64 = 2.0;
const LIKELY: f64 = 0.4;
const POSSIBLE: f64 = 0.125;
/// Slower than this is pitching, faster is hopping, Hz (judgement).
const SLOW_HZ: f64 = 4.0;
/// Cells are cut off about here, V.
const CUT_V: f64 = 3.1;
/// In the air longer than this, s.
const FLIGHT_S: f64 = 0.3;

/// How a cause stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Chance {
    /// Try it first.
    Likely,
    /// May be.
    Possible,
    /// Last.
    Unlikely,
}

impl Chance {
    /// The word shown.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Likely => "likely",
            Self::Possible => "possible",
            Self::Unlikely => "unlikely",
        }
    }
}

/// A cause weighed for this boat.
#[derive(Debug, Clone)]
pub struct Weighed {
    /// Which.
    pub cause: &'static Cause,
    /// Share of one among the symptom's causes.
    pub share: f64,
    /// In words.
    pub chance: Chance,
    /// What speaks for it.
    pub for_it: Vec<Word>,
    /// What speaks against it.
    pub against: Vec<Word>,
    /// What the model says the adjustment would do.
    pub effect: Option<String>,
    /// Other symptoms it would explain.
    pub also: Vec<&'static str>,
}

/// A symptom with its causes, the likeliest first.
#[derive(Debug, Clone)]
pub struct Explained {
    /// Which.
    pub symptom: &'static Symptom,
    /// How it was recognised.
    pub seen_in: String,
    /// Likeliest first.
    pub causes: Vec<Weighed>,
}

/// Why nothing can be said.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum WhyError {
    /// No words.
    #[error("nothing was said about what went wrong, and no recording shows anything")]
    Nothing,
    /// Too many.
    #[error("the description is {0} bytes; a sentence or two is enough")]
    TooLong(usize),
    /// None of the known symptoms.
    #[error("{}", nothing_known(text))]
    Unknown {
        /// What was said.
        text: String,
        /// Nearest known ones.
        near: Vec<&'static str>,
    },
}

fn nothing_known(text: &str) -> String {
    let unknown = words::hear(text).unknown;
    let words = match unknown.as_slice() {
        [] => String::new(),
        unknown => format!("; words not known here: {}", unknown.join(", ")),
    };
    format!("no known symptom is in `{text}`{words}")
}

/// Every symptom's name.
pub fn known() -> impl Iterator<Item = &'static str> {
    SYMPTOMS.iter().map(|s| s.name)
}

/// Causes of what was said and recorded.
///
/// # Errors
/// [`WhyError`].
pub fn explain(text: &str, case: &Case) -> Result<Vec<Explained>, WhyError> {
    if text.len() > MOST_BYTES {
        return Err(WhyError::TooLong(text.len()));
    }
    let heard = words::hear(text);
    let mut seen: Vec<(&'static Symptom, String)> =
        heard.seen.iter().map(|s| (s.symptom, s.says())).collect();
    // Told with the first answer, so that nobody takes it for an answer to all that was said.
    if let (Some(first), false) = (seen.first_mut(), heard.unheard.is_empty()) {
        let _ = write!(first.1, "; not understood: {}", heard.unheard.join("; "));
    }
    let unsaid = text.trim().is_empty();
    if seen.is_empty() && !unsaid {
        return Err(WhyError::Unknown {
            text: text.trim().to_owned(),
            near: heard.near.iter().map(|s| s.name).collect(),
        });
    }
    if let Some(outing) = case.outing {
        for (id, how) in recorded(outing, case) {
            let symptom = SYMPTOMS.iter().find(|s| s.id == id);
            match (symptom, seen.iter_mut().find(|(s, _)| s.id == id)) {
                (_, Some((_, known))) => *known = format!("{known}; {how}"),
                (Some(symptom), None) => seen.push((symptom, how)),
                (None, None) => {}
            }
        }
    }
    if seen.is_empty() {
        return Err(WhyError::Nothing);
    }
    let all: Vec<&'static Symptom> = seen.iter().map(|(s, _)| *s).collect();
    Ok(seen
        .into_iter()
        .map(|(symptom, seen_in)| Explained {
            symptom,
            seen_in,
            causes: weigh(symptom, &all, case),
        })
        .collect())
}

/// Symptoms that recordings show.
fn recorded(outing: &Outing, case: &Case) -> Vec<(&'static str, String)> {
    let most = |kind| {
        let values = outing.quantities.iter().filter(|q| q.kind == kind);
        values.map(|q| q.value).reduce(f64::max)
    };
    let mut all = Vec::new();
    if let Some(hz) = most(QuantityKind::HopFrequency) {
        let id = if hz < SLOW_HZ {
            "porpoising"
        } else {
            "hop-straight"
        };
        all.push((id, format!("the motion log shows it at {hz:.1} Hz")));
    }
    if let Some(s) = most(QuantityKind::FlightTime).filter(|s| *s > FLIGHT_S) {
        all.push((
            "blow-over",
            format!("the motion log shows {s:.1} s in the air"),
        ));
    }
    if let Some(drive) = case.study.boat.drives.first() {
        let over = |kind, limit: f64| clue::hottest(outing, kind).filter(|t| *t > limit);
        if let Some(t) = over(
            QuantityKind::MotorTemperature,
            drive.motor.max_temperature_c.value,
        ) {
            all.push(("motor-hot", format!("the log shows {t:.0} °C at the motor")));
        }
        if let Some(t) = over(
            QuantityKind::ControllerTemperature,
            drive.controller.max_temperature_c.value,
        ) {
            all.push((
                "controller-cuts",
                format!("the log shows {t:.0} °C at the controller"),
            ));
        }
        let cut = CUT_V * f64::from(drive.battery.series);
        if let Some(v) = clue::lowest_v(outing).filter(|v| *v < cut) {
            all.push((
                "controller-cuts",
                format!("the log shows the pack down to {v:.1} V"),
            ));
        }
    }
    if let Some(s) = most(QuantityKind::EdgeTimeConstant).filter(|s| *s > 5e-6) {
        all.push((
            "servo-jitter",
            format!("the pulse capture shows slow edges, {:.0} µs", 1e6 * s),
        ));
    }
    all
}

fn weigh(symptom: &'static Symptom, all: &[&'static Symptom], case: &Case) -> Vec<Weighed> {
    let mut weighed: Vec<(f64, Weighed)> = Vec::new();
    let tried: BTreeMap<&str, Option<Word>> = symptom
        .causes
        .par_iter()
        .filter_map(|id| Some((*id, tried::tried(symptom, cause(id)?, case))))
        .collect();
    let mut place = 1.0;
    for id in symptom.causes {
        let Some(cause) = cause(id) else {
            continue;
        };
        let said = cause.clues.iter().filter_map(|c| c.ask(case));
        let said: Vec<Word> = said.chain(tried.get(id).cloned().flatten()).collect();
        let also: Vec<&'static str> = all
            .iter()
            .filter(|s| s.id != symptom.id && s.causes.contains(id))
            .map(|s| s.name)
            .collect();
        let shared = if also.is_empty() { 1.0 } else { SHARED };
        let weight = place * shared * said.iter().map(|w| w.times).product::<f64>();
        let (for_it, against) = said.into_iter().partition(|w| w.times > 1.0);
        weighed.push((
            weight,
            Weighed {
                cause,
                share: 0.0,
                chance: Chance::Unlikely,
                for_it,
                against,
                effect: effect(cause, case),
                also,
            },
        ));
        place *= NEXT;
    }
    let total: f64 = weighed.iter().map(|(w, _)| w).sum();
    weighed.sort_by(|a, b| b.0.total_cmp(&a.0));
    let share = |(weight, one): (f64, Weighed)| {
        let share = weight / total.max(1e-12);
        let chance = if share >= LIKELY {
            Chance::Likely
        } else if share >= POSSIBLE {
            Chance::Possible
        } else {
            Chance::Unlikely
        };
        Weighed {
            share,
            chance,
            ..one
        }
    };
    weighed.into_iter().map(share).collect()
}

/// What the adjustment did on the model.
fn effect(cause: &Cause, case: &Case) -> Option<String> {
    let (adjustment, quantity) = cause.trial?;
    let now = case.study.running.as_ref()?.quantities.get(quantity)?;
    let trial = case
        .study
        .trials
        .iter()
        .find(|t| t.adjustment == adjustment)?;
    let then = trial.quantities.get(quantity)?;
    let number = |value| advice::Number::exact(quantity.kind(), value).plain();
    let (then, now) = (number(then), number(now));
    // What reads the same is no effect.
    let (what, quantity) = (&trial.what, quantity.name());
    (then != now).then(|| format!("{what}: {quantity} {then} instead of {now}"))
}

#[cfg(test)]
mod tests;
