//! What to change next: every adjustment that was tried, ranked by what it mends for how much work.
//!
//! A change is judged by the whole boat: each quantity that a finding holds against a limit is held against it
//! again, and a change that pushes another one over its limit is not offered. Gains count in spreads, no more than
//! a few each, so that one great gain does not hide three losses; work divides them.

use boat::Edit;
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use study::Study;
use study::quantity::{Quantities, Quantity};
use study::trial::{Trial, Work};
use utoipa::ToSchema;

use crate::finding::{Finding, Standing};
use crate::number::Number;
use crate::stronger::stronger;

/// Gains and losses of one quantity count up to so many spreads.
pub(crate) const MOST: f64 = 3.0;
/// A stop weighs so many watches.
pub(crate) const STOP_WEIGHT: f64 = 4.0;
/// What a quantity that becomes worse without going over its limit weighs.
const COST_WEIGHT: f64 = 0.25;
/// Less gain than this is not worth touching the boat for, in spreads of a watch.
pub(crate) const LEAST: f64 = 0.15;
/// A quantity this many spreads and more inside its limit is not told when it loses a little.
const WORTH_TELLING: f64 = 3.0;
/// Nor is thrust at the hump while there is twice what it takes.
const HUMP_PLENTY: f64 = 1.0;
/// Costs told, nearest to their limits first.
const COSTS: usize = 3;
/// Changes listed, and of those that ease what was seen.
const LISTED: usize = 8;
const EASING: usize = 3;

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
    /// In how many of the boat's likely variations it is worth doing; told where that was tried.
    pub helps: Option<Helps>,
}

/// Of likely variations.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct Helps {
    /// So many.
    pub boats: usize,
    /// Of so many that were tried.
    pub of: usize,
}

impl Helps {
    /// `helps in 29 of 32 likely boats`.
    pub fn words(&self) -> String {
        format!("helps in {} of {} likely boats", self.boats, self.of)
    }
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

    /// Thrust at the hump while there is twice what it takes: nobody feels it move.
    fn plenty(&self, quantities: &Quantities) -> bool {
        self.quantity == Quantity::HumpMargin
            && (quantities.get(self.quantity)).is_some_and(|m| m > HUMP_PLENTY)
    }

    /// Near enough to its limit for a loss to be told.
    fn near(&self, quantities: &Quantities) -> bool {
        !self.plenty(quantities) && self.margin(quantities).is_some_and(|m| m < WORTH_TELLING)
    }
}

/// Everything a study's findings hold against a limit, in the quantities that trials tell, and how the boat is.
pub(crate) struct Limits {
    held: Vec<Held>,
    now: Quantities,
}

impl Limits {
    /// `None` for a boat that does not run.
    pub(crate) fn of(study: &Study, findings: &[Finding]) -> Option<Self> {
        let under = study.running.as_ref()?;
        Some(Self {
            held: held(study, findings),
            now: under.quantities.clone(),
        })
    }

    /// Each with its margin as the boat is and with a change.
    fn margins<'a>(&'a self, after: &'a Quantities) -> impl Iterator<Item = (&'a Held, f64, f64)> {
        self.margins_of(&self.now, after)
    }

    fn margins_of<'a>(
        &'a self,
        before: &'a Quantities,
        after: &'a Quantities,
    ) -> impl Iterator<Item = (&'a Held, f64, f64)> {
        let each = self.held.iter();
        each.filter_map(move |one| Some((one, one.margin(before)?, one.margin(after)?)))
    }

    /// Whether nothing is pushed over a limit, or further over one.
    pub(crate) fn keeps(&self, after: &Quantities) -> bool {
        self.margins(after)
            .all(|(_, before, after)| !broken(before, after))
    }

    /// What a change gains and costs, in spreads by weight.
    fn gain(&self, after: &Quantities) -> f64 {
        self.gain_of(&self.now, after)
    }

    fn gain_of(&self, before: &Quantities, after: &Quantities) -> f64 {
        let each = self.margins_of(before, after).map(|(one, before, after)| {
            let change = enough(after) - enough(before);
            match (broken(before, after), one.open) {
                (true, _) => STOP_WEIGHT * change.clamp(-MOST, 0.0),
                (false, true) => one.weight * change.clamp(-MOST, MOST),
                (false, false) => COST_WEIGHT * change.clamp(-MOST, 0.0),
            }
        });
        each.sum()
    }

    /// Open findings that a change eases.
    fn eased(&self, after: &Quantities) -> Vec<&'static str> {
        let mut ids = Vec::new();
        for (one, before, after) in self.margins(after) {
            let better = enough(after) - enough(before) > 1e-3;
            if one.open && better && !ids.contains(&one.id) {
                ids.push(one.id);
            }
        }
        ids
    }

    /// How far inside a limit it was and then is, in spreads.
    fn moved(&self, one: &Held, after: &Quantities) -> Option<(f64, f64)> {
        one.margin(&self.now).zip(one.margin(after))
    }

    /// What moves enough to tell, once each.
    fn effects(&self, after: &Quantities) -> Vec<(&Held, Effect)> {
        let mut all: Vec<(&Held, Effect)> = Vec::new();
        for one in &self.held {
            let number = |q: &Quantities| {
                let value = q.get(one.quantity)?;
                Some(Number::exact(one.quantity.kind(), value))
            };
            let told = Effect {
                quantity: one.quantity.name().into(),
                before: number(&self.now),
                after: number(after),
            };
            let moved = match (self.now.get(one.quantity), after.get(one.quantity)) {
                (Some(a), Some(b)) => (a - b).abs() > worth_saying(one.quantity),
                (a, b) => a.is_some() != b.is_some(),
            };
            // What reads the same has not moved for a builder.
            let read = |n: &Option<Number>| n.as_ref().map(Number::plain);
            let moved = moved && read(&told.before) != read(&told.after);
            let moved = moved && !(one.plenty(&self.now) && one.plenty(after));
            if moved && all.iter().all(|(_, other)| *other != told) {
                all.push((one, told));
            }
        }
        all
    }

    fn step(&self, trial: &Trial) -> Step {
        let (mut gains, mut costs) = (Vec::new(), Vec::new());
        for (one, told) in self.effects(&trial.quantities) {
            match self.moved(one, &trial.quantities) {
                Some((was, is)) if one.open && is > was => gains.push(told),
                Some((was, is)) if is < was && one.near(&trial.quantities) => {
                    costs.push((is, told));
                }
                _ => {}
            }
        }
        costs.sort_by(|a, b| a.0.total_cmp(&b.0));
        costs.truncate(COSTS);
        let mut mends = self.eased(&trial.quantities);
        if let Some(held_m_s) = gets_away(trial) {
            mends.insert(0, "getting-away");
            gains.insert(
                0,
                Effect {
                    quantity: "it stays on the water from rest, at".into(),
                    before: None,
                    after: Some(Number::exact(boat::Kind::Speed, held_m_s)),
                },
            );
        }
        Step {
            what: trial.what.clone(),
            work: trial.adjustment.work(),
            edits: trial.edits.clone(),
            mends: mends.into_iter().map(Cow::Borrowed).collect(),
            gains,
            costs: costs.into_iter().map(|(_, told)| told).collect(),
            helps: None,
        }
    }
}

/// Over a limit, and further than now.
fn broken(before: f64, after: f64) -> bool {
    after < 0.0 && after < before.min(0.0) - 1e-6
}

/// A margin of a spread is enough: what lies beyond it is worth nothing.
pub(crate) fn enough(margin: f64) -> f64 {
    margin.min(1.0)
}

fn held(study: &Study, findings: &[Finding]) -> Vec<Held> {
    let standing = |id: &str| findings.iter().find(|f| f.id == id).map(|f| f.standing);
    let drive = study.boat.drives.first();
    let length_m = study.form.outline.length_m;
    let inf = f64::INFINITY;
    let heel = crate::findings::float::HEEL_DEG.to_radians();
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
        ("heel", Quantity::RestHeel, -heel, heel, false),
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

/// Least work first counts.
fn effort(trial: &Trial) -> f64 {
    f64::from(trial.adjustment.work().effort())
}

/// The speed a boat that goes over at full throttle from rest holds with a change instead, m/s.
fn gets_away(trial: &Trial) -> Option<f64> {
    let launch = trial.launch.as_ref()?;
    let ends = launch.ends.filter(|_| launch.ended.is_none())?;
    Some(ends.mean_m_s)
}

/// Changes worth making, best first; one of each adjustment of each thing.
pub fn steps(study: &Study, findings: &[Finding]) -> Vec<Step> {
    let Some(limits) = Limits::of(study, findings) else {
        return Vec::new();
    };
    let gain = |trial: &Trial| {
        let away = gets_away(trial).map_or(0.0, |_| STOP_WEIGHT * MOST);
        limits.gain(&trial.quantities) + away
    };
    let worth = |trial: &Trial| gain(trial) / effort(trial);
    let offered = |trial: &&Trial| {
        let after = &trial.quantities;
        let eases = limits.keeps(after) && !limits.eased(after).is_empty();
        // To stay upright is worth a watch elsewhere.
        gain(trial) > LEAST && (eases || gets_away(trial).is_some())
    };
    let mut all: Vec<(f64, &Trial)> = study
        .trials
        .iter()
        .filter(offered)
        .map(|trial| (worth(trial), trial))
        .collect();
    all.sort_by(|a, b| b.0.total_cmp(&a.0));
    let all = crate::change::one_of_each(all.into_iter().map(|(_, trial)| trial));
    let moved = all
        .into_iter()
        .map(|trial| (worth(trial), limits.step(trial)))
        .filter(|(_, step)| !step.gains.is_empty());
    let mut all: Vec<(f64, Step)> = moved.chain(stronger(study, findings)).collect();
    all.sort_by(|a, b| b.0.total_cmp(&a.0));
    all.truncate(LISTED);
    all.into_iter().map(|(_, step)| step).collect()
}

/// Changes that move what was seen the right way, best first, as [`steps`] ranks: a quantity, and 1 where less of it
/// is wanted or -1 where more is.
pub fn easing(study: &Study, findings: &[Finding], seen: &[(Quantity, f64)]) -> Vec<Step> {
    let Some(limits) = Limits::of(study, findings) else {
        return Vec::new();
    };
    let eases = |trial: &Trial| -> Vec<(Quantity, f64)> {
        let moved = |(quantity, less): &(Quantity, f64)| {
            let (before, after) = (limits.now.get(*quantity)?, trial.quantities.get(*quantity)?);
            let scale = study.number(*quantity).map_or(0.0, |n| n.1);
            let by = less * (before - after) / scale.max(worth_saying(*quantity));
            (by > LEAST).then_some((*quantity, by.min(MOST)))
        };
        seen.iter().filter_map(moved).collect()
    };
    let mut all: Vec<(f64, &Trial)> = (study.trials.iter())
        .filter(|t| limits.keeps(&t.quantities))
        .map(|t| {
            let eased: f64 = eases(t).iter().map(|e| e.1).sum();
            (eased / effort(t), t)
        })
        .filter(|(worth, _)| *worth > 0.0)
        .collect();
    all.sort_by(|a, b| b.0.total_cmp(&a.0));
    let all = crate::change::one_of_each(all.into_iter().map(|(_, trial)| trial));
    let told = |trial: &Trial| {
        let mut step = limits.step(trial);
        for (quantity, _) in eases(trial).into_iter().rev() {
            let number = |of: &Quantities| {
                let value = of.get(quantity)?;
                Some(Number::exact(quantity.kind(), value))
            };
            let effect = Effect {
                quantity: quantity.name().into(),
                before: number(&limits.now),
                after: number(&trial.quantities),
            };
            step.gains.retain(|g| g.quantity != effect.quantity);
            step.gains.insert(0, effect);
        }
        step
    };
    all.into_iter().take(EASING).map(told).collect()
}

/// In how many likely variations, each without and with a change, it gains more than it costs.
pub fn helps(
    study: &Study,
    findings: &[Finding],
    variations: &[(Quantities, Quantities)],
) -> Option<Helps> {
    let limits = Limits::of(study, findings)?;
    let gains = |(before, after): &&(Quantities, Quantities)| limits.gain_of(before, after) > 0.0;
    (!variations.is_empty()).then(|| Helps {
        boats: variations.iter().filter(gains).count(),
        of: variations.len(),
    })
}

/// How well a boat does against everything a study holds against a limit: 0 as it is, more is better.
pub fn worth(study: &Study, findings: &[Finding]) -> impl Fn(&Quantities) -> f64 + use<> {
    let limits = Limits::of(study, findings);
    move |quantities| limits.as_ref().map_or(0.0, |l| l.gain(quantities))
}

/// Whether something that a finding holds against the boat is better by enough for a builder to read it.
pub fn felt(study: &Study, findings: &[Finding], after: &Quantities) -> bool {
    let limits = Limits::of(study, findings);
    limits.is_some_and(|limits| {
        let told = limits.effects(after);
        let better = |one: &Held| limits.moved(one, after).is_some_and(|(was, is)| is > was);
        told.iter().any(|(one, _)| one.open && better(one))
    })
}

/// What changes between two boats in everything held against a limit.
pub fn effects(study: &Study, findings: &[Finding], after: &Quantities) -> Vec<Effect> {
    let limits = Limits::of(study, findings);
    limits.map_or_else(Vec::new, |limits| {
        let told = limits.effects(after).into_iter();
        told.map(|(_, effect)| effect).collect()
    })
}
