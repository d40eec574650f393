//! Measured beside predicted, and what that teaches about a boat.

use advice::Number;
use advice::number::significant;
use craft::{Craft, Factors, SpeedCurve};
use evidence::Measured;
use evidence::outing::QuantityKind;
use learn::agree::{Agreement, Verdict, pole_pairs};
use learn::beside::{Beside, Predicting, beside};
use learn::day::Day;
use learn::keep::Kept;
use learn::model::Model;
use learn::observe::{self, Passed, number};
use learn::reconcile::{Pair, Reconciled, Row, Shift, reconcile};
use serde::{Deserialize, Serialize};
use std::path::Path;
use study::hull_type::HullType;
use study::{Detail, Learned, quantity};
use utoipa::ToSchema;

use crate::bench::{Bench, BoatAt};
use crate::beneath::beneath;
use crate::check::{Carried, factor};
use crate::fault::{Fault, shown};
use crate::folder::{self, LEARNED, Loaded, POINTS, write_whole};
use crate::outings::{self, Read};
use crate::question::Question;
use crate::watch::Watch;
use crate::writing::one_writer;

/// What do outings teach about the boat?
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct LearnAsk {
    /// Outings as their folders are named, fitted together; the latest that is measured when empty.
    pub outing: Vec<String>,
    /// Write what was learned to learned.toml; predictions then carry it.
    pub keep: bool,
}

/// What outings teach.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct LearnAnswer {
    /// The builder's name for the boat.
    pub boat: String,
    /// Outings, as they are named.
    pub outings: Vec<String>,
    /// Build they were run with, unless the boat as it is now.
    pub build: Option<String>,
    /// What the day was like, as the model was given it.
    pub day: Vec<String>,
    /// Measured beside predicted.
    pub rows: Vec<Compared>,
    /// Instruments against each other.
    pub instruments: Instruments,
    /// Uncertain numbers, before and after.
    pub factors: Vec<Moved>,
    /// Pairs of numbers the recordings do not tell apart.
    pub not_told_apart: Vec<Tied>,
    /// Hops, turns and landings beside the boat in motion.
    pub in_motion: Vec<InMotion>,
    /// What was measured and not held against the model.
    pub passed_over: Vec<PassedOver>,
    /// What of it carries to the boat as it is now.
    pub carries: Option<Carried>,
    /// Whether there is anything to keep.
    pub worth_keeping: bool,
    /// Where it was written.
    pub written: Option<String>,
    /// Where what was there before went.
    pub moved: Option<String>,
}

/// One quantity, measured and predicted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Compared {
    /// Which.
    pub quantity: String,
    /// By what it was measured.
    pub from: String,
    /// On the water.
    pub measured: Number,
    /// For the same condition.
    pub predicted: Number,
    /// How many standard errors of both are between; positive when more was measured.
    pub apart: f64,
    /// What to make of that.
    pub says: String,
    /// Predicted after learning.
    pub after: Number,
    /// How far it counted in the fit, 0 to 1.
    pub weight: f64,
    /// What was assumed to compare them.
    pub assumed: Option<String>,
}

/// Instruments against each other.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Instruments {
    /// That tell speed.
    pub speed: Agreed,
    /// That tell the propeller's.
    pub propeller_speed: Agreed,
    /// A logger that seems to count another number of pole pairs.
    pub pole_doubt: Option<String>,
}

/// Whether instruments agree.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Agreed {
    /// What each tells.
    pub told: Vec<ToldBy>,
    /// `alone`, `agree`, `odd` or `disagree`.
    pub verdict: String,
    /// Which is the odd one.
    pub odd: Option<String>,
    /// The same in words.
    pub says: String,
}

/// What an instrument tells.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ToldBy {
    /// Which.
    pub by: String,
    /// What.
    pub value: Number,
}

/// An uncertain number, before and after.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Moved {
    /// Which.
    pub name: String,
    /// Before measuring.
    pub before: Number,
    /// After.
    pub after: Number,
    /// Whether the measurements tell anything about it.
    pub told: bool,
    /// Whether it can be kept; else it is better measured.
    pub kept: bool,
}

/// Two numbers that the recordings do not tell apart.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Tied {
    /// One.
    pub a: String,
    /// The other.
    pub b: String,
    /// Positive: only their difference is known; negative: only their sum or product.
    pub correlation: f64,
}

/// A hop, turn or landing beside the boat in motion.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct InMotion {
    /// Which.
    pub quantity: String,
    /// By what it was measured.
    pub from: String,
    /// On the water.
    pub measured: Number,
    /// The least the model allows.
    pub lowest: Option<Number>,
    /// The most.
    pub highest: Option<Number>,
    /// Whether they agree, where that can be told.
    pub agree: Option<bool>,
    /// In words.
    pub says: String,
}

/// Something measured and not held against the model.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PassedOver {
    /// Which.
    pub quantity: String,
    /// By what it was measured.
    pub from: String,
    /// On the water.
    pub measured: Number,
    /// Why not.
    pub why: String,
}

/// What outings teach, as the model has it.
pub struct Learning {
    /// Outings, as they are named.
    pub outings: Vec<String>,
    /// Build they were run with, unless the boat as it is now.
    pub build: Option<String>,
    /// What the day was like, as the model was given it.
    pub day: Vec<String>,
    /// What was found.
    pub found: Reconciled,
    /// What would be kept.
    pub kept: Kept,
    /// What of it carries to the boat as it is now.
    pub carried: Learned,
}

impl Question for LearnAsk {
    type Answer = LearnAnswer;

    fn answer(&self, bench: &Bench) -> Result<LearnAnswer, Fault> {
        let now = bench.load_declared()?;
        let read = outings::read(&now.folder, &self.outing)?;
        bench.go_on()?;
        let learning = learned_from(&now, &read, bench.watch())?;
        let mut answer = LearnAnswer::of(&now, &learning);
        bench.go_on()?;
        if self.keep {
            keep(&now.folder, &learning.kept, &mut answer)?;
        }
        Ok(answer)
    }

    fn writes(&self) -> bool {
        self.keep
    }
}

/// Reconciles outings with the build they were run with; `now` is the boat as declared today.
pub fn learned_from(now: &Loaded, read: &[Read], watch: &dyn Watch) -> Result<Learning, Fault> {
    let build = build_of(read)?;
    let then;
    let ran = match &build {
        None => now,
        Some(name) => {
            let build = beneath(&now.folder, Path::new("builds").join(name))?;
            then = folder::load_declared(&BoatAt::saved(build))?;
            &then
        }
    };
    let mut on_the_day = ran.boat.clone();
    let said: Vec<_> = read
        .iter()
        .map(|r| (&r.measured, r.said.as_ref()))
        .collect();
    let day = Day::apply(&mut on_the_day, &said);
    let fault = |error: &dyn std::fmt::Display, hint: &str| ran.fault(error, hint);
    let mass = ran.mass()?;
    watch.step("running from rest to top speed");
    let solved = quantity::solve(
        &on_the_day,
        &ran.form,
        &mass,
        &Factors::default(),
        Detail::Full(POINTS),
    )
    .map_err(|e| fault(&e, ""))?;
    let (mut observed, mut passed) = (Vec::new(), Vec::new());
    for one in read {
        let (seen, rest) = observe::observe(&one.measured, &ran.boat).map_err(|e| {
            let place = now
                .folder
                .join("outings")
                .join(&one.name)
                .join("measured.json");
            Fault::new(
                format!("{} holds numbers that cannot be:\n{e}", shown(&place)),
                "put the reading of that recording right and measure it again; nothing was learned",
            )
        })?;
        observed.extend(seen);
        passed.extend(rest);
    }
    watch.step("fitting what is uncertain");
    let mut model = Model::new(&on_the_day, &ran.form, &mass, &solved.curve);
    if let Some(wind) = day.headwind_m_s {
        model = model.in_wind(wind);
    }
    let hull_type = HullType::of(&ran.boat, &ran.form);
    let mut found = reconcile(&model, &ran.boat, hull_type, observed, passed).map_err(|e| {
        fault(
            &e,
            "`skimwright check` says how far it runs; without a top speed nothing can be learned",
        )
    })?;
    moving(&mut found, read, &solved.craft, &solved.curve);
    let names: Vec<String> = read.iter().map(|r| r.name.clone()).collect();
    let mut kept = Kept::of(&found, &ran.boat, &ran.form, names.clone(), build.clone());
    for one in read {
        kept = kept.with_turns(&one.name, &one.measured);
    }
    Ok(Learning {
        outings: names,
        build,
        day: day.says,
        carried: kept.carry(&now.boat, &now.form),
        kept,
        found,
    })
}

/// Sets hops, turns and landings beside the boat in motion; they are then no longer passed over.
fn moving(found: &mut Reconciled, read: &[Read], craft: &Craft, curve: &SpeedCurve) {
    let asked = Predicting { craft, curve };
    found.beside = read
        .iter()
        .flat_map(|r| beside(&r.measured, &asked))
        .collect();
    let stands = |p: &Passed| {
        found
            .beside
            .iter()
            .any(|b| (b.kind, b.measured, &b.from) == (p.kind, p.measured, &p.from))
    };
    found.passed.retain(|p| !stands(p));
    let moves = |k: QuantityKind| found.beside.iter().any(|b| b.kind == k);
    for p in found.passed.iter_mut().filter(|p| moves(p.kind)) {
        p.why = "another of the same recording asks more of the boat";
    }
}

/// Outings fitted together must have run the same boat.
fn build_of(read: &[Read]) -> Result<Option<String>, Fault> {
    let build = |r: &Read| {
        let said = r.said.as_ref().and_then(|s| s.build.clone());
        r.measured.build.clone().or(said)
    };
    let first = read.first().and_then(&build);
    match read.iter().find(|r| build(r) != first) {
        None => Ok(first),
        Some(other) => Err(Fault::new(
            format!(
                "{} and {} were run with different builds",
                read[0].name, other.name
            ),
            "learn from each build on its own",
        )),
    }
}

/// What was there before is kept beside it: nothing is lost.
fn keep(folder: &Path, kept: &Kept, answer: &mut LearnAnswer) -> Result<(), Fault> {
    if kept.factor.is_empty() {
        return Err(Fault::new(
            "these outings teach nothing that could be kept",
            "more kinds of measurement help: speed, turns and current of the same run",
        ));
    }
    let _one = one_writer(folder)?;
    let file = beneath(folder, LEARNED)?;
    let text = kept.text();
    if file.exists() {
        let before = folder::read_text(&file)?;
        if before != text {
            let free = (1..).map(|n| folder.join(format!("learned-before-{n}.toml")));
            if let Some(aside) = free.into_iter().find(|f| !f.exists()) {
                write_whole(&aside, before.as_bytes())?;
                answer.moved = Some(shown(&aside));
            }
        }
    }
    write_whole(&file, text.as_bytes())?;
    answer.written = Some(shown(&file));
    Ok(())
}

impl LearnAnswer {
    fn of(now: &Loaded, learning: &Learning) -> Self {
        let found = &learning.found;
        Self {
            boat: now.boat.name.clone(),
            outings: learning.outings.clone(),
            build: learning.build.clone(),
            day: learning.day.clone(),
            rows: found.rows.iter().map(Compared::of).collect(),
            instruments: Instruments {
                speed: Agreed::of(&found.speed, QuantityKind::Speed),
                propeller_speed: Agreed::of(&found.turns, QuantityKind::ShaftSpeed),
                pole_doubt: pole_doubt(&found.turns),
            },
            factors: found.shifts.iter().map(Moved::of).collect(),
            not_told_apart: found.pairs.iter().map(Tied::of).collect(),
            in_motion: found.beside.iter().map(InMotion::of).collect(),
            passed_over: found.passed.iter().map(PassedOver::of).collect(),
            carries: Carried::of(&learning.carried),
            worth_keeping: !learning.kept.factor.is_empty(),
            written: None,
            moved: None,
        }
    }
}

impl Compared {
    fn of(row: &Row) -> Self {
        let kind = row.observed.kind;
        let apart = row.apart();
        let way = if apart > 0.0 { "more" } else { "less" };
        let verdict = match apart.abs() {
            a if a <= 2.0 => "within what both allow",
            a if a <= 3.0 => "hardly within what both allow",
            _ => "not explained by either spread",
        };
        Self {
            quantity: observe::name(kind).to_owned(),
            from: row.observed.from.clone(),
            measured: number(kind, row.observed.measured),
            predicted: number(kind, row.predicted),
            apart: significant(apart),
            says: format!(
                "{:.1} standard errors {way} measured, {verdict}",
                apart.abs()
            ),
            after: number(kind, row.after),
            weight: significant(row.weight),
            assumed: row.observed.assumed.as_deref().map(str::to_owned),
        }
    }
}

impl Agreed {
    fn of(all: &Agreement, kind: QuantityKind) -> Self {
        let odd = match all.verdict {
            Verdict::Odd(index, _) => Some(all.told[index].by.clone()),
            _ => None,
        };
        let verdict = match all.verdict {
            Verdict::Alone => "alone",
            Verdict::Agree => "agree",
            Verdict::Odd(..) => "odd",
            Verdict::Disagree(_) => "disagree",
        };
        let told = all.told.iter().map(|t| ToldBy {
            by: t.by.clone(),
            value: number(kind, t.value),
        });
        Self {
            told: told.collect(),
            verdict: verdict.to_owned(),
            odd,
            says: says(all),
        }
    }
}

fn says(all: &Agreement) -> String {
    match all.verdict {
        Verdict::Alone => "only one tells it".to_owned(),
        Verdict::Agree => "all agree".to_owned(),
        Verdict::Odd(index, gap) => format!(
            "{} is the odd one, {gap:.1} standard errors from the rest",
            all.told[index].by
        ),
        Verdict::Disagree(gap) if all.told.len() == 2 => format!(
            "they disagree by {gap:.1} standard errors; a third instrument would tell which is off"
        ),
        Verdict::Disagree(gap) => {
            format!("they disagree by up to {gap:.1} standard errors, and no single one is off")
        }
    }
}

/// A log whose turns differ from another instrument's by a ratio of pole pairs.
fn pole_doubt(turns: &Agreement) -> Option<String> {
    let logged = turns.told.iter().find(|t| t.by.contains("(log"))?;
    let other = turns.told.iter().find(|t| !t.by.contains("(log"))?;
    let (counted, there) = pole_pairs(logged.value.value, other.value.value)?;
    Some(format!(
        "{} against {} is as if {there} pole pairs were set in the logger where the motor has {counted}",
        logged.by, other.by
    ))
}

impl Moved {
    fn of(one: &Shift) -> Self {
        Self {
            name: one.what.name().to_owned(),
            before: factor(one.before),
            after: factor(one.after),
            told: one.is_told(),
            kept: one.what.is_kept(),
        }
    }
}

impl Tied {
    fn of(pair: &Pair) -> Self {
        Self {
            a: pair.a.name().to_owned(),
            b: pair.b.name().to_owned(),
            correlation: significant(pair.correlation),
        }
    }
}

impl InMotion {
    fn of(one: &Beside) -> Self {
        let end = |x: f64| {
            x.is_finite()
                .then(|| number(one.kind, Measured::new(x, 0.0)))
        };
        Self {
            quantity: observe::name(one.kind).to_owned(),
            from: one.from.clone(),
            measured: number(one.kind, one.measured),
            lowest: one.expected.and_then(|e| end(e.0)),
            highest: one.expected.and_then(|e| end(e.1)),
            agree: one.agree,
            says: one.says.clone(),
        }
    }
}

impl PassedOver {
    fn of(one: &Passed) -> Self {
        Self {
            quantity: observe::name(one.kind).to_owned(),
            from: one.from.clone(),
            measured: number(one.kind, one.measured),
            why: one.why.to_owned(),
        }
    }
}
