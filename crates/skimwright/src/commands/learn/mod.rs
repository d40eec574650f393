//! Measured beside predicted, as text or JSON.

mod text;

use advice::Number;
use boat::Kind;
use craft::{Craft, Factors, SpeedCurve};
use evidence::Measured;
use evidence::outing::QuantityKind;
use learn::agree::{Agreement, Verdict, pole_pairs};
use learn::beside::{Asked, Beside, beside};
use learn::day::Day;
use learn::keep::Kept;
use learn::model::Model;
use learn::observe::{self, Passed, number};
use learn::reconcile::{Reconciled, Shift, reconcile};
use serde_json::{Value, json};
use std::path::Path;
use study::hull_type::HullType;
use study::{Detail, Learned};

use workshop::check::Carried;

use super::Outcome;
use crate::boat_folder::{self, LEARNED, Loaded, write_whole};
use crate::cli::LearnArgs;
use crate::failure::{Failure, shown};
use crate::output;
use workshop::outings::{self, Read};

/// Speeds of the curve the fit starts from.
const POINTS: usize = 48;
/// Half-width of a 95 % interval over a standard uncertainty.
const HALF_WIDTH: f64 = 1.96;

/// Everything the faces show.
pub struct Answer {
    /// The boat's name.
    pub boat: String,
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
    /// Where it was written.
    pub written: Option<String>,
    /// Where what was there before went.
    pub moved: Option<String>,
}

pub fn run(given: &LearnArgs) -> Result<Outcome, Failure> {
    let now = boat_folder::load_declared(&given.boat)?;
    let read = outings::read(&now.folder, &given.outing)?;
    let mut answer = answer(&now, &read)?;
    if given.keep {
        keep(&now.folder, &mut answer)?;
    }
    if given.json {
        output::print_json(&as_json(&answer))?;
    } else {
        output::print(&text::of(&answer))?;
    }
    Ok(Outcome::Good)
}

/// Reconciles outings with the build they were run with; `now` is the boat as declared today.
pub fn answer(now: &Loaded, read: &[Read]) -> Result<Answer, Failure> {
    let build = build_of(read)?;
    let then;
    let ran = match &build {
        None => now,
        Some(name) => {
            then = boat_folder::load_declared(&now.folder.join("builds").join(name))?;
            &then
        }
    };
    let file = ran.folder.join("boat.toml");
    let mut on_the_day = ran.boat.clone();
    let said: Vec<_> = read
        .iter()
        .map(|r| (&r.measured, r.said.as_ref()))
        .collect();
    let day = Day::apply(&mut on_the_day, &said);
    let fault = |error: &dyn std::fmt::Display, hint: &str| {
        Failure::new(format!("{}: {error}", shown(&file)), hint)
    };
    let mass = craft::mass::mass_properties(&ran.boat, &ran.form).map_err(|e| {
        fault(
            &e,
            "weigh the parts, or describe the print under [hull.print]",
        )
    })?;
    let asked = study::quantity::solve(
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
            Failure::new(
                format!("{} holds numbers that cannot be:\n{e}", shown(&place)),
                "put the reading of that recording right and measure it again; nothing was learned",
            )
        })?;
        observed.extend(seen);
        passed.extend(rest);
    }
    let mut model = Model::new(&on_the_day, &ran.form, &mass, &asked.curve);
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
    moving(&mut found, read, &asked.craft, &asked.curve);
    let names: Vec<String> = read.iter().map(|r| r.name.clone()).collect();
    let kept = Kept::of(&found, &ran.boat, &ran.form, names.clone(), build.clone());
    Ok(Answer {
        boat: now.boat.name.clone(),
        outings: names,
        build,
        day: day.says,
        carried: kept.carry(&now.boat, &now.form),
        kept,
        found,
        written: None,
        moved: None,
    })
}

/// Sets hops, turns and landings beside the boat in motion; they are then no longer passed over.
fn moving(found: &mut Reconciled, read: &[Read], craft: &Craft, curve: &SpeedCurve) {
    let asked = Asked { craft, curve };
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
fn build_of(read: &[Read]) -> Result<Option<String>, Failure> {
    let build = |r: &Read| {
        let said = r.said.as_ref().and_then(|s| s.build.clone());
        r.measured.build.clone().or(said)
    };
    let first = read.first().and_then(&build);
    match read.iter().find(|r| build(r) != first) {
        None => Ok(first),
        Some(other) => Err(Failure::new(
            format!(
                "{} and {} were run with different builds",
                read[0].name, other.name
            ),
            "learn from each build on its own",
        )),
    }
}

/// What was there before is kept beside it: nothing is lost.
fn keep(folder: &Path, answer: &mut Answer) -> Result<(), Failure> {
    if answer.kept.factor.is_empty() {
        return Err(Failure::new(
            "these outings teach nothing that could be kept",
            "more kinds of measurement help: speed, turns and current of the same run",
        ));
    }
    let file = folder.join(LEARNED);
    let text = answer.kept.text();
    if file.exists() {
        let before = boat_folder::read_text(&file)?;
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

/// An uncertain number.
pub fn factor(m: Measured) -> Number {
    Number::new(Kind::Number, m.value, HALF_WIDTH * m.sigma)
}

pub fn as_json(answer: &Answer) -> Value {
    let found = &answer.found;
    json!({
        "boat": answer.boat,
        "outings": answer.outings,
        "build": answer.build,
        "day": answer.day,
        "rows": found.rows.iter().map(|r| json!({
            "quantity": observe::name(r.observed.kind),
            "from": r.observed.from,
            "measured": number(r.observed.kind, r.observed.measured),
            "predicted": number(r.observed.kind, r.predicted),
            "apart": advice::number::significant(r.apart()),
            "after": number(r.observed.kind, r.after),
            "weight": advice::number::significant(r.weight),
            "assumed": r.observed.assumed,
        })).collect::<Vec<_>>(),
        "instruments": {
            "speed": agreement(&found.speed, QuantityKind::Speed),
            "propeller_speed": agreement(&found.turns, QuantityKind::ShaftSpeed),
        },
        "factors": found.shifts.iter().map(shift).collect::<Vec<_>>(),
        "not_told_apart": found.pairs.iter().map(|p| json!({
            "a": p.a.name(),
            "b": p.b.name(),
            "correlation": advice::number::significant(p.correlation),
        })).collect::<Vec<_>>(),
        "in_motion": found.beside.iter().map(in_motion).collect::<Vec<_>>(),
        "passed_over": found.passed.iter().map(passed).collect::<Vec<_>>(),
        "carries": Carried::of(&answer.carried),
        "written": answer.written,
        "moved": answer.moved,
    })
}

fn in_motion(one: &Beside) -> Value {
    let end = |x: f64| {
        let kept = x
            .is_finite()
            .then(|| number(one.kind, Measured::new(x, 0.0)));
        kept.map_or(Value::Null, |n| json!(n))
    };
    json!({
        "quantity": observe::name(one.kind),
        "from": one.from,
        "measured": number(one.kind, one.measured),
        "lowest": one.expected.map_or(Value::Null, |e| end(e.0)),
        "highest": one.expected.map_or(Value::Null, |e| end(e.1)),
        "agree": one.agree,
        "says": one.says,
    })
}

fn passed(one: &Passed) -> Value {
    json!({
        "quantity": observe::name(one.kind),
        "from": one.from,
        "measured": number(one.kind, one.measured),
        "why": one.why,
    })
}

fn shift(one: &Shift) -> Value {
    json!({
        "name": one.what.name(),
        "before": factor(one.before),
        "after": factor(one.after),
        "told": one.is_told(),
        "kept": one.what.is_kept(),
    })
}

fn agreement(all: &Agreement, kind: QuantityKind) -> Value {
    let (verdict, odd) = match all.verdict {
        Verdict::Alone => ("alone", None),
        Verdict::Agree => ("agree", None),
        Verdict::Odd(index, _) => ("odd", Some(all.told[index].by.clone())),
        Verdict::Disagree(_) => ("disagree", None),
    };
    json!({
        "told": all.told.iter().map(|t| json!({"by": t.by, "value": number(kind, t.value)})).collect::<Vec<_>>(),
        "verdict": verdict,
        "odd": odd,
    })
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
