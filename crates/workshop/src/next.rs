//! What to change next, what the free changes do together, and what other parts would do.

use advice::next::{Effect, Step, effects, felt, helps, steps, worth};
use advice::{Finding, Number, Standing, Verdict, findings};
use boat::{Edit, Kind, PathStep};
use serde::{Deserialize, Serialize};
use study::joint::{Joint, Moved, search};
use study::{Source, Study, paired};
use utoipa::ToSchema;

use crate::bench::Bench;
use crate::check::{Carried, Effort, studied};
use crate::fault::Fault;
use crate::folder::Loaded;
use crate::question::Question;

/// What do I change next?
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct NextAsk {
    /// How hard to look.
    pub effort: Effort,
    /// Other parts to try instead, each `cells=4S`, `kv=2600 rpm/V` and so on ([`WITH`]); nothing asks for changes.
    pub with: Vec<String>,
}

/// What can be tried with [`NextAsk::with`], and an example of each.
pub const WITH: [(&str, &str); 7] = [
    ("cells", "4S"),
    ("capacity", "5000 mAh"),
    ("kv", "2600 rpm/V"),
    ("controller", "120 A"),
    ("diameter", "40 mm"),
    ("pitch_ratio", "1.4"),
    ("headwind", "4 m/s"),
];

/// So many changes are tried on likely variations of the boat too.
const TRIED_WIDELY: usize = 4;

/// What to change, best first.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct NextAnswer {
    /// The builder's name for the boat.
    pub boat: String,
    /// As it is.
    pub verdict: Verdict,
    /// Single changes, best first; empty where nothing that was tried is worth it, or other parts were asked about.
    pub steps: Vec<Step>,
    /// What costs minutes, all together.
    pub together: Option<Together>,
    /// With other parts.
    pub with: Option<With>,
    /// What predictions carry from outings.
    pub learned: Option<Carried>,
}

/// The changes that cost minutes, searched together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Together {
    /// `Battery 12 mm forward; anything from 8 to 20 mm does as well`.
    pub moves: Vec<String>,
    /// Changes of the boat file that make them.
    pub edits: Vec<Edit>,
    /// Before and after.
    pub effects: Vec<Effect>,
    /// Boats that were tried.
    pub tried: usize,
}

/// The boat with other parts.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct With {
    /// What was exchanged.
    pub parts: Vec<String>,
    /// Its verdict.
    pub verdict: Verdict,
    /// Findings that stand worse than before, worst first: what would break first.
    pub worse: Vec<Finding>,
    /// Findings that stand better.
    pub better: Vec<Finding>,
}

impl Question for NextAsk {
    type Answer = NextAnswer;

    fn answer(&self, bench: &Bench) -> Result<NextAnswer, Fault> {
        let loaded = bench.load()?;
        let source = loaded.source()?;
        let exchanged = match self.with.is_empty() {
            true => None,
            false => Some(exchanged(&loaded, &self.with)?),
        };
        let study = studied(loaded, self.effort, bench)?;
        let all = findings(&study);
        let (mut together, mut with, mut singles) = (None, None, Vec::new());
        match exchanged {
            Some(text) => with = Some(self.with_other(&text, &all, bench)?),
            None => {
                singles = steps(&study, &all);
                bench.step("trying the best on likely boats")?;
                for step in singles.iter_mut().take(TRIED_WIDELY) {
                    if step.edits.is_empty() {
                        continue;
                    }
                    let edited = source.edited(&step.edits);
                    let seed = self.effort.seed;
                    step.helps =
                        edited.and_then(|e| helps(&study, &all, &paired(&study, &e, seed)));
                }
                bench.step("trying the free changes together")?;
                let value = worth(&study, &all);
                let wanted = || bench.watch().wanted();
                let joint = search(&source, &study, &value, &wanted);
                // Moves that nobody would notice are none.
                let joint = joint.filter(|j| felt(&study, &all, &j.quantities));
                together = joint.map(|j| Together::of(&j, &study, &all));
            }
        }
        Ok(NextAnswer {
            boat: study.boat.name.clone(),
            verdict: advice::verdict(&study, &all),
            steps: singles,
            together,
            with,
            learned: Carried::of(&study.learned),
        })
    }
}

impl NextAsk {
    fn with_other(&self, text: &str, before: &[Finding], bench: &Bench) -> Result<With, Fault> {
        let mut at = bench.boat()?.clone();
        at.draft = Some(text.to_owned());
        let other = Bench::new(Some(&at), bench.watch());
        let study = studied(other.load()?, self.effort, &other)?;
        let all = findings(&study);
        let stood = |id: &str| before.iter().find(|f| f.id == id).map(|f| f.standing);
        let moved = |worse: bool| {
            let each = all.iter().filter(|f| {
                let was = stood(&f.id).unwrap_or(Standing::Good);
                let serious = f.standing <= Standing::Watch || was <= Standing::Watch;
                serious
                    && if worse {
                        f.standing < was
                    } else {
                        f.standing > was
                    }
            });
            each.cloned().collect::<Vec<_>>()
        };
        Ok(With {
            parts: self.with.clone(),
            verdict: advice::verdict(&study, &all),
            worse: moved(true),
            better: moved(false),
        })
    }
}

/// The boat file with other parts.
fn exchanged(loaded: &Loaded, with: &[String]) -> Result<String, Fault> {
    let mut edits = Vec::new();
    for one in with {
        let (name, value) = one.split_once('=').ok_or_else(|| unknown(one))?;
        edits.extend(exchange(loaded, name.trim(), value.trim()).ok_or_else(|| unknown(one))?);
    }
    Edit::apply_all(&edits, &loaded.text).map_err(|e| loaded.fault(&e, ""))
}

fn unknown(one: &str) -> Fault {
    let known: Vec<String> = WITH.iter().map(|(k, v)| format!("{k}={v}")).collect();
    Fault::new(
        format!("`{one}` is nothing that can be tried"),
        format!("give one of: {}", known.join(", ")),
    )
}

fn exchange(loaded: &Loaded, name: &str, value: &str) -> Option<Vec<Edit>> {
    let word = |w: &str| PathStep::Word(w.to_owned());
    if name == "headwind" {
        return Some(vec![Edit::set(vec![word("air"), word("headwind")], value)]);
    }
    let (table, key) = match name {
        "cells" => ("battery", "cells"),
        "capacity" => ("battery", "capacity"),
        "kv" => ("motor", "kv"),
        "controller" => ("controller", "rated_current"),
        "diameter" => ("propeller", "diameter"),
        "pitch_ratio" => ("propeller", "pitch_ratio"),
        _ => return None,
    };
    let drives = loaded.declared.drives.iter().enumerate();
    let each = drives.map(|(index, drive)| {
        let which = match drive.name.is_empty() {
            true => PathStep::Nth(index),
            false => word(&drive.name),
        };
        let path = vec![word("drive"), which, word(table), word(key)];
        match value.parse::<f64>() {
            Ok(number) if key == "pitch_ratio" => Edit::set(path, boat::NewValue::Number(number)),
            _ => Edit::set(path, value),
        }
    });
    Some(each.collect())
}

impl Together {
    fn of(joint: &Joint, study: &Study, all: &[Finding]) -> Self {
        Self {
            moves: joint.moves.iter().map(move_words).collect(),
            edits: joint.edits.clone(),
            effects: effects(study, all, &joint.quantities),
            tried: joint.tried,
        }
    }
}

fn move_words(moved: &study::joint::Move) -> String {
    let (name, [plus, minus], kind) = match &moved.of {
        Moved::Along(part) => (part.as_str(), ["forward", "aft"], Kind::Length),
        Moved::Across(part) => (part.as_str(), ["to the left", "to the right"], Kind::Length),
        Moved::Strut => ("strut and propeller", ["higher", "lower"], Kind::Length),
        Moved::Shaft => (
            "shaft",
            ["more propeller-down", "less propeller-down"],
            Kind::Angle,
        ),
    };
    let show = |v: f64| Number::exact(kind, v.abs()).plain();
    let way = |v: f64| if v < 0.0 { minus } else { plus };
    let said = format!("{name} {} {}", show(moved.by), way(moved.by));
    let (low, high) = moved.as_good;
    if (high - low).abs() < 1e-9 {
        return said;
    }
    format!(
        "{said}; anything from {} {} to {} {} does as well",
        show(low),
        way(low),
        show(high),
        way(high)
    )
}
