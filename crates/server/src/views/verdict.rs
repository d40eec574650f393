//! The line across the top of the page: what a builder asks first, and the change to make first.

use advice::next::{Effect, Step};
use advice::verdict::Item;
use serde::Serialize;
use utoipa::ToSchema;

use super::NumberView;
use crate::routes::whatif::EditAsked;
use crate::studies::Studied;

/// What a builder asks first.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct VerdictView {
    /// In the order of the builder's questions; what cannot be told is left out.
    pub items: Vec<ItemView>,
    /// The change to make first; nothing before the full answer, or where none is worth it.
    pub next: Option<StepView>,
}

/// One answer.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ItemView {
    /// The finding that tells more.
    pub id: String,
    /// `tops out at`.
    pub label: String,
    /// The number, where it has one.
    pub number: Option<NumberView>,
    /// What to say: the number with its spread, or why there is none.
    pub text: String,
    /// What stands beside it: `late 79 km/h`, `motor`.
    pub beside: Option<String>,
    /// `stop`, `watch`, `unsure` or `good`; `pending` where a quick answer cannot tell.
    pub standing: String,
}

/// One change with what it does.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct StepView {
    /// `Battery 10 mm forward`.
    pub what: String,
    /// `minutes`, `an evening`, `days` or `a week`.
    pub work: String,
    /// What moves the right way.
    pub gains: Vec<EffectView>,
    /// What it costs elsewhere.
    pub costs: Vec<EffectView>,
    /// The edits that try it, for PUT /api/whatif; empty for one that is built.
    #[schema(value_type = Vec<crate::routes::whatif::EditAsked>)]
    pub edits: Vec<EditAsked>,
}

/// A quantity before and after.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct EffectView {
    /// `top speed`.
    pub quantity: String,
    /// As the boat is; nothing where it has none.
    pub before: Option<NumberView>,
    /// With the change; nothing where it loses it.
    pub after: Option<NumberView>,
}

/// Of a study; a quick one has numbers, and states only where they cannot change.
pub fn view(studied: &Studied, full: bool) -> VerdictView {
    let findings = &studied.findings;
    let verdict = advice::verdict::verdict(&studied.study, findings);
    let sure = |item: &Item| {
        full || findings
            .iter()
            .any(|f| f.id == item.id && advice::findings::quick::tells(f))
    };
    let items = verdict.items.iter().map(|one| item(one, sure(one)));
    VerdictView {
        items: items.collect(),
        next: verdict.next.filter(|_| full).as_ref().map(step),
    }
}

fn item(item: &Item, sure: bool) -> ItemView {
    let standing = if sure {
        item.standing.word()
    } else {
        "pending"
    };
    ItemView {
        id: item.id.to_string(),
        label: item.label.to_string(),
        number: item.number.as_ref().map(Into::into),
        text: item.text.clone(),
        beside: item.beside.clone(),
        standing: standing.to_owned(),
    }
}

fn step(step: &Step) -> StepView {
    let all = |effects: &[Effect]| effects.iter().map(effect).collect();
    StepView {
        what: step.what.clone(),
        work: step.work.words().to_owned(),
        gains: all(&step.gains),
        costs: all(&step.costs),
        edits: step.edits.iter().map(Into::into).collect(),
    }
}

fn effect(effect: &Effect) -> EffectView {
    EffectView {
        quantity: effect.quantity.to_string(),
        before: effect.before.as_ref().map(Into::into),
        after: effect.after.as_ref().map(Into::into),
    }
}
