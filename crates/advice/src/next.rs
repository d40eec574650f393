//! What to change next: every adjustment that was tried, ranked by what it mends for how much work.
//!
//! A change is judged by the whole boat: each quantity that a finding holds against a limit is held against it
//! again, and a change that pushes another one over its limit is not offered. Gains count in spreads, no more than
//! a few each, so that one great gain does not hide three losses; work divides them.

use boat::Edit;
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use study::quantity::{Quantities, Quantity};
use study::trial::{Trial, Work};
use study::{Study, Under};
use utoipa::ToSchema;

use crate::finding::{Finding, Standing};
use crate::number::Number;

/// Gains and losses of one quantity count up to so many spreads.
const MOST: f64 = 3.0;
/// A stop weighs so many watches.
const STOP_WEIGHT: f64 = 4.0;
/// What a quantity that becomes worse without going over its limit weighs.
const COST_WEIGHT: f64 = 0.25;
/// Less gain than this is not worth touching the boat for, in spreads of a watch.
const LEAST: f64 = 0.15;
/// A quantity this many spreads and more inside its limit is not told when it loses a little.
const WORTH_TELLING: f64 = 3.0;
/// Changes listed.
const LISTED: usize = 8;

/// One change, with what it does.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Step {
    /// `Battery 10 mm forward`.
    pub what: String,
    /// How much work.
    pub work: Work,
    /// Changes of the boat file that do it; empty for one that is built.
    pub edits: Vec<Edit>,
    /// Findings it mends or eases, worst first.
    pub mends: Vec<Cow<'static, str>>,
    /// What moves the right way.
    pub gains: Vec<Effect>,
    /// What it costs elsewhere, without going over a limit.
    pub costs: Vec<Effect>,
}

/// One quantity before and after.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Effect {
    /// `top speed`.
    pub quantity: Cow<'static, str>,
    /// As the boat is; nothing where it has none.
    pub before: Option<Number>,
    /// With the change; nothing where it loses it.
    pub after: Option<Number>,
}

impl Effect {
    /// `top speed 84 km/h instead of 88 km/h`.
    pub fn words(&self) -> String {
        match (&self.before, &self.after) {
            (Some(before), Some(after)) if before.plain() == after.plain() => {
                format!("{} {before}", self.quantity)
            }
            (Some(before), Some(after)) => format!(
                "{} {} instead of {}",
                self.quantity,
                after.plain(),
                before.plain()
            ),
            (None, Some(after)) => format!("{} {}", self.quantity, after.plain()),
            _ => format!("no {}", self.quantity),
        }
    }
}

/// A quantity held against a limit by a finding.
struct Held {
    id: &'static str,
    quantity: Quantity,
    low: f64,
    high: f64,
    weight: f64,
    open: bool,
    /// Of the margin, what one spread is.
    scale: f64,
    /// A boat without it is at fault.
    needed: bool,
}

impl Held {
    /// In spreads; negative is over the limit.
    fn margin(&self, quantities: &Quantities) -> Option<f64> {
        let value = quantities.get(self.quantity);
        match value {
            Some(v) => Some(((v - self.low).min(self.high - v) / self.scale).clamp(-50.0, 50.0)),
            None => self.needed.then_some(-10.0),
        }
    }
}

/// Everything a study's findings hold against a limit, in the quantities that trials tell.
fn held(study: &Study, findings: &[Finding]) -> Vec<Held> {
    let standing = |id: &str| findings.iter().find(|f| f.id == id).map(|f| f.standing);
    let drive = study.boat.drives.first();
    let length_m = study.form.outline.length_m;
    let inf = f64::INFINITY;
    let mut all: Vec<(&'static str, Quantity, f64, f64, bool)> = vec![
        ("hump", Quantity::HumpMargin, 0.0, inf, false),
        (
            "flight-margin",
            Quantity::FlightMargin,
            crate::findings::LEAST_FLIGHT_RAD,
            inf,
            false,
        ),
        ("planes", Quantity::PlaningSpeed, 0.0, inf, true),
        ("porpoising", Quantity::PorpoisingMargin, 0.0, inf, false),
        ("heel", Quantity::RestHeel, -HEEL_RAD, HEEL_RAD, false),
        ("level", Quantity::RestTrim, -LEVEL_RAD, inf, false),
        (
            "top-speed",
            Quantity::TopSpeed,
            study.boat.wishes.speed_m_s.unwrap_or(0.0),
            inf,
            true,
        ),
    ];
    let freeboard = study
        .boat
        .wishes
        .freeboard_m
        .unwrap_or(study.hull_type.freeboard_m());
    all.push(("freeboard", Quantity::Freeboard, freeboard, inf, false));
    if let Some((low, high, _)) = study.hull_type.slip() {
        all.push(("slip", Quantity::Slip, low, high, false));
    }
    if let Some((low, high)) = crate::findings::usual_balance_m(study, length_m) {
        all.push(("balance", Quantity::BalanceX, low, high, false));
    }
    if let Some(drive) = drive {
        let battery_c = drive.battery.capacity_c.value;
        if let Some(rated) = drive.controller.rated_current_a {
            all.push(("controller", Quantity::TopCurrent, 0.0, rated / 1.5, false));
            all.push(("controller", Quantity::HumpCurrent, 0.0, rated * 1.5, false));
        }
        if let Some(rated) = drive.motor.max_current_a {
            all.push(("motor", Quantity::TopCurrent, 0.0, rated, false));
        }
        if let Some(wish) = study.boat.wishes.run_time_s {
            let most_a = 0.8 * battery_c / wish;
            all.push(("run-time", Quantity::TopCurrent, 0.0, most_a, false));
        }
    }
    let told = |(id, quantity, low, high, needed)| {
        let standing = standing(id)?;
        let worth = worth_saying(quantity);
        Some(Held {
            id,
            quantity,
            low,
            high,
            weight: if standing == Standing::Stop {
                STOP_WEIGHT
            } else {
                1.0
            },
            open: matches!(standing, Standing::Stop | Standing::Watch),
            scale: study.number(quantity).map_or(worth, |n| n.1).max(worth),
            needed,
        })
    };
    all.into_iter().filter_map(told).collect()
}

const HEEL_RAD: f64 = 2.0 * std::f64::consts::PI / 180.0;
const LEVEL_RAD: f64 = 1.0 * std::f64::consts::PI / 180.0;

/// Smaller moves mean nothing to a builder, SI.
fn worth_saying(quantity: Quantity) -> f64 {
    use boat::Kind;
    match quantity.kind() {
        Kind::Angle => 0.1f64.to_radians(),
        Kind::Length => 1e-3,
        Kind::Fraction => 0.01,
        Kind::Speed => 0.2,
        Kind::Current => 1.0,
        _ => 1e-9,
    }
}

/// What a trial does to everything that is held against a limit.
struct Judged<'t> {
    trial: &'t Trial,
    score: f64,
    mends: Vec<&'static str>,
}

fn judge<'t>(trial: &'t Trial, now: &Quantities, held: &[Held]) -> Option<Judged<'t>> {
    let (mut score, mut mends) = (0.0, Vec::new());
    for one in held {
        let (Some(before), Some(after)) = (one.margin(now), one.margin(&trial.quantities)) else {
            continue;
        };
        // A margin of a spread is enough: what lies beyond it is worth nothing.
        let enough = |m: f64| m.min(1.0);
        let change = (enough(after) - enough(before)).clamp(-MOST, MOST);
        let broken = after < 0.0 && after < before - 1e-6;
        if broken && !one.open {
            return None;
        }
        if one.open {
            score += one.weight * change;
            if change > 1e-3 && !mends.contains(&one.id) {
                mends.push(one.id);
            }
            if broken && one.weight > 1.0 {
                return None;
            }
        } else {
            score += COST_WEIGHT * change.min(0.0);
        }
    }
    (score > LEAST && !mends.is_empty()).then_some(Judged {
        trial,
        score,
        mends,
    })
}

/// Least work first counts: how much gain an evening must bring to be done before something of minutes.
fn effort(work: Work) -> f64 {
    match work {
        Work::Minutes => 1.0,
        Work::Evening => 2.0,
        Work::Days => 5.0,
        Work::Week => 10.0,
    }
}

/// Changes worth making, best first; one of each adjustment of each thing.
pub fn steps(study: &Study, findings: &[Finding]) -> Vec<Step> {
    let Some(under) = &study.running else {
        return Vec::new();
    };
    let held = held(study, findings);
    let mut all: Vec<Judged> = study
        .trials
        .iter()
        .filter_map(|trial| judge(trial, &under.quantities, &held))
        .collect();
    let worth = |j: &Judged| j.score / effort(j.trial.adjustment.work());
    all.sort_by(|a, b| worth(b).total_cmp(&worth(a)));
    let mut seen = Vec::new();
    all.retain(|j| {
        let which = (j.trial.adjustment, j.trial.of.clone());
        let new = !seen.contains(&which);
        seen.push(which);
        new
    });
    all.truncate(LISTED);
    all.iter().map(|j| step(j, under, &held)).collect()
}

/// How well a boat does against everything a study holds against a limit: 0 as it is, more is better.
pub fn worth(study: &Study, findings: &[Finding]) -> impl Fn(&Quantities) -> f64 + use<> {
    let held = held(study, findings);
    let now = study.running.as_ref().map(|u| u.quantities.clone());
    move |quantities| {
        let Some(now) = &now else { return 0.0 };
        let each = held.iter().map(|one| {
            let (Some(before), Some(after)) = (one.margin(now), one.margin(quantities)) else {
                return 0.0;
            };
            let change = after.min(1.0) - before.min(1.0);
            if after < 0.0 && after < before.min(0.0) - 1e-6 && !one.open {
                // Over a limit that it keeps now.
                return STOP_WEIGHT * change.clamp(-MOST, 0.0);
            }
            let weight = if one.open { one.weight } else { COST_WEIGHT };
            weight * change.clamp(-MOST, MOST)
        });
        each.sum()
    }
}

/// What changes between two boats in everything held against a limit.
pub fn effects(study: &Study, findings: &[Finding], after: &Quantities) -> Vec<Effect> {
    let Some(under) = &study.running else {
        return Vec::new();
    };
    let mut all: Vec<Effect> = Vec::new();
    for one in held(study, findings) {
        let number = |q: &Quantities| {
            let value = q.get(one.quantity)?;
            Some(Number::exact(one.quantity.kind(), value))
        };
        let told = Effect {
            quantity: one.quantity.name().into(),
            before: number(&under.quantities),
            after: number(after),
        };
        let moved = match (under.quantities.get(one.quantity), after.get(one.quantity)) {
            (Some(a), Some(b)) => (a - b).abs() > worth_saying(one.quantity),
            (a, b) => a.is_some() != b.is_some(),
        };
        if moved && !all.contains(&told) {
            all.push(told);
        }
    }
    all
}

/// Whether a trial pushes anything over a limit that it keeps now, or a stop further.
pub(crate) fn breaks_nothing(
    study: &Study,
    findings: &[Finding],
) -> impl Fn(&Trial) -> bool + use<> {
    let held = held(study, findings);
    let now = study.running.as_ref().map(|u| u.quantities.clone());
    move |trial| {
        let Some(now) = &now else { return true };
        held.iter().all(
            |one| match (one.margin(now), one.margin(&trial.quantities)) {
                (Some(before), Some(after)) => !(after < 0.0 && after < before.min(0.0) - 1e-6),
                _ => true,
            },
        )
    }
}

fn step(judged: &Judged, under: &Under, held: &[Held]) -> Step {
    let trial = judged.trial;
    let (mut gains, mut costs) = (Vec::new(), Vec::new());
    for one in held {
        let before = under.quantities.get(one.quantity);
        let after = trial.quantities.get(one.quantity);
        let told = Effect {
            quantity: one.quantity.name().into(),
            before: before.map(|v| Number::exact(one.quantity.kind(), v)),
            after: after.map(|v| Number::exact(one.quantity.kind(), v)),
        };
        let (Some(was), Some(is)) = (one.margin(&under.quantities), one.margin(&trial.quantities))
        else {
            continue;
        };
        let moved = match (before, after) {
            (Some(a), Some(b)) => (a - b).abs() > worth_saying(one.quantity),
            _ => before.is_some() != after.is_some(),
        };
        if !moved || gains.contains(&told) || costs.contains(&told) {
            continue;
        }
        if one.open && is > was {
            gains.push(told);
        } else if is < was && is < WORTH_TELLING {
            costs.push(told);
        }
    }
    Step {
        what: trial.what.clone(),
        work: trial.adjustment.work(),
        edits: trial.edits.clone(),
        mends: judged.mends.iter().map(|id| Cow::Borrowed(*id)).collect(),
        gains,
        costs,
    }
}
