//! The answers of a study: what `skimwright check --json` says, without the speed curve.

use advice::{Finding, Number};
use boat::Kind;
use serde::Serialize;
use utoipa::ToSchema;

use super::NumberView;
use super::verdict::VerdictView;
use crate::studies::Studied;

/// Everything said about one boat.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct StudyView {
    /// Of the text it was worked out from.
    pub revision: String,
    /// Whether variations and adjustments were tried.
    pub full: bool,
    /// The builder's name for it.
    pub boat: String,
    /// `three-point`, `outrigger`, `vee`, `catamaran` or `other`.
    pub hull_type: String,
    /// All-up.
    pub mass: NumberView,
    /// What the whole hull floats, for comparison with `mass`.
    pub floats: NumberView,
    /// Centre of gravity, boat axes.
    pub balance: BalanceView,
    /// What of it was learned on the water: `from what was measured on 17 May 2026`; nothing where nothing was.
    pub rests_on: Option<String>,
    /// What was learned and does not carry to this boat, and why.
    pub left_out: Vec<String>,
    /// What a builder asks first.
    pub verdict: VerdictView,
    /// Worst first.
    pub findings: Vec<FindingView>,
    /// Numbers nobody gave.
    pub assumptions: Vec<AssumptionView>,
    /// What the mesh reader found.
    pub notices: Vec<NoticeView>,
    /// Likely variations that were run.
    pub variations: usize,
    /// Those that could not be solved.
    pub variations_not_solved: usize,
}

/// Centre of gravity, boat axes.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct BalanceView {
    /// Ahead of the transom.
    pub x: NumberView,
    /// To port.
    pub y: NumberView,
    /// Above the transom's bottom edge.
    pub z: NumberView,
}

/// One finding.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct FindingView {
    /// Stable name.
    pub id: String,
    /// `stop`, `watch`, `unsure` or `good`; `pending` where a quick answer cannot tell: nothing else is said then.
    pub standing: String,
    /// A shape that tells it without colour.
    pub mark: String,
    /// What a builder would say.
    pub sentence: String,
    /// The number behind it.
    pub number: Option<NumberView>,
    /// What it is held against.
    pub limit: Option<LimitView>,
    /// `statics`, `measured-elsewhere`, `theory-only` or `rule-of-thumb`.
    pub basis: String,
    /// The same in words.
    pub basis_words: String,
    /// How it comes about.
    pub why: String,
    /// The figures behind the why.
    pub figures: Vec<FigureView>,
    /// What would change it, best first.
    pub changes: Vec<ChangeView>,
    /// A caution at the point of use.
    pub caution: Option<String>,
}

/// A limit.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct LimitView {
    /// It should be at least this.
    pub at_least: Option<NumberView>,
    /// It should be at most this.
    pub at_most: Option<NumberView>,
    /// Who says so.
    pub says: String,
    /// For reading: `at least 25 mm`.
    pub shown: String,
}

/// A label and a value.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct FigureView {
    /// What it is.
    pub label: String,
    /// With unit.
    pub value: String,
}

/// An adjustment.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ChangeView {
    /// What to do.
    pub what: String,
    /// What it gives.
    pub effect: String,
    /// Whether it moves the number the right way.
    pub better: bool,
    /// The edits that try it, for PUT /api/whatif; empty where it is no edit of the file.
    #[schema(value_type = Vec<crate::routes::whatif::EditAsked>)]
    pub edits: Vec<crate::routes::whatif::EditAsked>,
}

/// A number nobody gave.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct AssumptionView {
    /// Which.
    pub what: String,
    /// What was taken.
    pub number: NumberView,
    /// Why that.
    pub why: String,
}

/// Something the mesh reader found.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct NoticeView {
    /// Whether answers may be wrong because of it.
    pub serious: bool,
    /// A sentence.
    pub text: String,
}

impl NoticeView {
    /// Of what the reader found.
    pub fn of(notice: &form::Notice) -> Self {
        Self {
            serious: notice.serious,
            text: notice.text.clone(),
        }
    }
}

/// The view of a study of the text `text`.
pub fn view(studied: &Studied, text: &str, full: bool) -> StudyView {
    let study = &studied.study;
    let axis = |index: usize| {
        let spread = study.mass.cg_spread_m[index].abs();
        (&Number::new(Kind::Length, study.mass.cg_m[index], spread)).into()
    };
    let mass = Number::new(Kind::Mass, study.mass.mass_kg, study.mass.mass_spread_kg);
    let floats = (1.0 + study.rest.reserve_of_buoyancy) * study.mass.mass_kg;
    StudyView {
        revision: crate::revision::revision(text),
        full,
        boat: study.boat.name.clone(),
        hull_type: study.hull_type.name().to_owned(),
        mass: (&mass).into(),
        floats: (&Number::exact(Kind::Mass, floats)).into(),
        balance: BalanceView {
            x: axis(0),
            y: axis(1),
            z: axis(2),
        },
        rests_on: advice::learned::rests_on(&study.learned),
        left_out: study.learned.left_out.clone(),
        verdict: super::verdict::view(studied, full),
        findings: findings(&studied.findings, full),
        assumptions: advice::findings::sureness::assumptions(&study.boat)
            .iter()
            .map(|one| AssumptionView {
                what: one.what.clone(),
                number: (&one.number).into(),
                why: one.why.to_owned(),
            })
            .collect(),
        notices: study.form.notices.iter().map(NoticeView::of).collect(),
        variations: study.spread.draws.len(),
        variations_not_solved: study.spread.failed,
    }
}

/// A quick answer tells what it can for certain, then what is being worked out.
fn findings(all: &[Finding], full: bool) -> Vec<FindingView> {
    let (told, rest): (Vec<_>, Vec<_>) = all
        .iter()
        .partition(|f| full || advice::findings::quick::tells(f));
    let told = told.into_iter().map(finding);
    told.chain(rest.into_iter().map(pending)).collect()
}

fn pending(of: &Finding) -> FindingView {
    FindingView {
        standing: "pending".to_owned(),
        mark: "\u{25cc}".to_owned(),
        sentence: "working it out".to_owned(),
        number: None,
        limit: None,
        why: String::new(),
        figures: Vec::new(),
        changes: Vec::new(),
        caution: None,
        ..finding(of)
    }
}

fn finding(finding: &Finding) -> FindingView {
    FindingView {
        id: finding.id.to_string(),
        standing: finding.standing.word().to_owned(),
        mark: finding.standing.mark().to_owned(),
        sentence: finding.sentence.clone(),
        number: finding.number.as_ref().map(Into::into),
        limit: finding.limit.as_ref().map(|limit| LimitView {
            at_least: limit.at_least.as_ref().map(Into::into),
            at_most: limit.at_most.as_ref().map(Into::into),
            says: limit.says.clone(),
            shown: limit.to_string(),
        }),
        basis: serde_json::to_value(finding.basis)
            .ok()
            .and_then(|v| v.as_str().map(str::to_owned))
            .unwrap_or_default(),
        basis_words: finding.basis.words().to_owned(),
        why: finding.why.clone(),
        figures: finding
            .figures
            .iter()
            .map(|f| FigureView {
                label: f.label.clone(),
                value: f.value.clone(),
            })
            .collect(),
        changes: finding
            .changes
            .iter()
            .map(|c| ChangeView {
                edits: c.edits.iter().map(Into::into).collect(),
                what: c.what.clone(),
                effect: c.effect.clone(),
                better: c.better,
            })
            .collect(),
        caution: finding.caution.as_deref().map(str::to_owned),
    }
}
