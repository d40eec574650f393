//! What went wrong: symptoms in the builder's words, and their causes on this boat.

use advice::findings;
use advice::next::{Step, easing};
use advice::number::significant;
use learn::observe;
use learn::why::words::{MOST_BYTES, nearest, recognise};
use learn::why::{Case, Explained, Weighed, WhyError, Word, about, explain, known};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::bench::Bench;
use crate::check::{Effort, studied};
use crate::fault::Fault;
use crate::learn::learned_from;
use crate::outings;
use crate::question::Question;

/// What went wrong, and why?
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct WhyAsk {
    /// What the boat did, in the builder's words; what an outing's notes say when empty.
    pub words: String,
    /// An outing whose recordings and notes count too.
    pub outing: Option<String>,
    /// How hard to look.
    pub effort: Effort,
}

/// Symptoms and their causes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct WhyAnswer {
    /// The builder's name for the boat.
    pub boat: String,
    /// Each with its causes.
    pub symptoms: Vec<Symptom>,
    /// The one thing to try.
    pub next: Option<Next>,
    /// Changes tried on the whole boat that ease what was seen, best first; none where no number tells it.
    pub steps: Vec<Step>,
    /// What all this rests on.
    pub basis: String,
}

/// A symptom.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Symptom {
    /// Stable name.
    pub id: String,
    /// In words.
    pub symptom: String,
    /// In whose words or recording.
    pub seen_in: String,
    /// Likeliest first.
    pub causes: Vec<Cause>,
    /// What should be known about it.
    pub note: Option<String>,
}

/// A cause.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Cause {
    /// Stable name.
    pub id: String,
    /// In words.
    pub cause: String,
    /// How likely, in a word.
    pub chance: String,
    /// How likely, 0 to 1.
    pub share: f64,
    /// What speaks for it.
    pub r#for: Vec<Clue>,
    /// What speaks against it.
    pub against: Vec<Clue>,
    /// Other symptoms it would explain.
    pub also_explains: Vec<String>,
    /// What to do.
    pub r#try: String,
    /// What that does on the model.
    pub effect: Option<String>,
    /// What would decide.
    pub measure: String,
    /// A caution at the point of use.
    pub caution: Option<String>,
}

/// What speaks for or against a cause.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Clue {
    /// `measured` or `model`.
    pub by: String,
    /// In words.
    pub says: String,
    /// How many times likelier it makes the cause.
    pub times: f64,
}

/// The one thing to try.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Next {
    /// Stable name of the cause.
    pub cause: String,
    /// What to do.
    pub r#try: String,
    /// What that does on the model.
    pub effect: Option<String>,
    /// What would decide.
    pub measure: String,
    /// A caution at the point of use.
    pub caution: Option<String>,
}

impl Question for WhyAsk {
    type Answer = WhyAnswer;

    fn answer(&self, bench: &Bench) -> Result<WhyAnswer, Fault> {
        let loaded = bench.load()?;
        let name = loaded.boat.name.clone();
        let wanted = self.outing.as_slice();
        let read = match wanted {
            [] => None,
            wanted => outings::read(&loaded.folder, wanted)?.pop(),
        };
        let said = read.as_ref().and_then(|r| r.said.as_ref());
        let text = match said {
            Some(said) if self.words.trim().is_empty() => said.what_happened.clone(),
            _ => self.words.clone(),
        };
        refuse_early(&text, read.is_some())?;
        let found = match &read {
            None => None,
            Some(one) => {
                observe::observe(&one.measured, &loaded.boat).map_err(|e| {
                    Fault::new(
                        format!("outing {} holds numbers that cannot be:\n{e}", one.name),
                        "put the reading of that recording right and measure it again",
                    )
                })?;
                let declared = bench.load_declared()?;
                let learning = learned_from(&declared, std::slice::from_ref(one), bench.watch())?;
                Some(learning.found)
            }
        };
        let study = studied(loaded, self.effort, bench)?;
        let all = findings(&study);
        let case = Case {
            study: &study,
            findings: &all,
            outing: read.as_ref().map(|r| &r.measured),
            found: found.as_ref(),
        };
        let explained = explain(&text, &case).map_err(|e| refusal(&e))?;
        let mut seen: Vec<_> = explained.iter().flat_map(|e| about(e.symptom)).collect();
        seen.dedup();
        let seen: Vec<_> = seen.into_iter().copied().collect();
        Ok(WhyAnswer {
            steps: easing(&study, &all, &seen),
            ..WhyAnswer::of(name, &explained)
        })
    }
}

/// Words in which nothing is found need no study first.
fn refuse_early(text: &str, outing: bool) -> Result<(), Fault> {
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

fn refusal(error: &WhyError) -> Fault {
    let all: Vec<String> = known().map(|name| format!("  {name}")).collect();
    let near = match error {
        WhyError::Unknown { near, .. } if !near.is_empty() => {
            format!("perhaps: {}\n", near.join("; "))
        }
        _ => String::new(),
    };
    Fault::new(
        error.to_string(),
        format!(
            "{near}say in plain English what the boat did. Known here:\n{}",
            all.join("\n")
        ),
    )
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

impl WhyAnswer {
    fn of(boat: String, all: &[Explained]) -> Self {
        let symptoms = all.iter().map(|e| Symptom {
            id: e.symptom.id.to_owned(),
            symptom: e.symptom.name.to_owned(),
            seen_in: e.seen_in.to_string(),
            causes: e.causes.iter().map(Cause::of).collect(),
            note: e.symptom.note.map(str::to_owned),
        });
        Self {
            boat,
            symptoms: symptoms.collect(),
            next: next(all).map(|one| Next {
                cause: one.cause.id.to_owned(),
                r#try: one.cause.try_next.to_owned(),
                effect: one.effect.clone(),
                measure: one.cause.measure.to_owned(),
                caution: one.cause.caution.map(str::to_owned),
            }),
            steps: Vec::new(),
            basis: "causes and their order are common practice, no source; moved by the model and by recordings"
                .to_owned(),
        }
    }
}

impl Cause {
    fn of(one: &Weighed) -> Self {
        let clues = |all: &[Word]| all.iter().map(Clue::of).collect();
        Self {
            id: one.cause.id.to_owned(),
            cause: one.cause.what.to_owned(),
            chance: one.chance.word().to_owned(),
            share: significant(one.share),
            r#for: clues(&one.for_it),
            against: clues(&one.against),
            also_explains: one.also.iter().map(ToString::to_string).collect(),
            r#try: one.cause.try_next.to_owned(),
            effect: one.effect.clone(),
            measure: one.cause.measure.to_owned(),
            caution: one.cause.caution.map(str::to_owned),
        }
    }
}

impl Clue {
    fn of(word: &Word) -> Self {
        Self {
            by: if word.measured { "measured" } else { "model" }.to_owned(),
            says: word.says.clone(),
            times: word.times,
        }
    }
}
