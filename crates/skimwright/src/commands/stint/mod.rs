//! A run in time, as text or JSON.

mod script;
mod text;

use advice::Number;
use advice::number::significant;
use boat::Kind;
use power::run::{Run, Sample};
use power::script::Script;
use power::setup::{CARE, charge_time_s};
use power::thermal::Part;
use serde_json::{Value, json};
use std::path::Path;
use study::Detail;
use study::stint::{SCRIPTS, Stint, StintError, WHAT_IFS, Worth, time_s, what_if};

use workshop::check::Carried;

use super::{Outcome, check};
use crate::boat_folder::{self, Loaded};
use crate::cli::StintArgs;
use crate::failure::{Failure, shown};
use crate::output;

/// Speeds of the curve the drag is taken from.
const POINTS: usize = 48;
/// Samples in the JSON answer.
const SAMPLES: usize = 240;

/// Everything the faces show.
struct Answer {
    stint: Stint,
    script: Script,
    run: Run,
    what_ifs: Vec<(&'static str, &'static str, Run)>,
    worth: Vec<Worth>,
}

pub fn run(given: &StintArgs) -> Result<Outcome, Failure> {
    let loaded = boat_folder::load(&given.boat)?;
    let answer = answer(given, &loaded)?;
    if given.json {
        let mut said = as_json(&answer);
        said["learned"] = json!(Carried::of(&loaded.learned));
        output::print_json(&said)?;
    } else {
        let mut said = text::of(&loaded.boat.name, &answer);
        check::learned(&mut said, Carried::of(&loaded.learned).as_ref());
        output::print(&said)?;
    }
    Ok(Outcome::Good)
}

fn answer(given: &StintArgs, loaded: &Loaded) -> Result<Answer, Failure> {
    let file = loaded.folder.join("boat.toml");
    let fault = |error: &dyn std::fmt::Display, hint: &str| {
        Failure::new(format!("{}: {error}", shown(&file)), hint)
    };
    let index = which(given, loaded, &file)?;
    let boat = &loaded.boat;
    let mass = craft::mass::mass_properties(boat, &loaded.form).map_err(|e| {
        fault(
            &e,
            "weigh the parts, or describe the print under [hull.print]",
        )
    })?;
    let asked = study::quantity::solve(
        boat,
        &loaded.form,
        &mass,
        &loaded.learned.factors(),
        Detail::Full(POINTS),
    )
    .map_err(|e| fault(&e, ""))?;
    let stint = Stint::of(boat, &asked.craft, &asked.curve, index).map_err(|e| {
        let hint = match e {
            StintError::NoDrive => "add a [[drive]]",
            StintError::NoCurve => "`skimwright check` says why it does not run",
            StintError::Power(_) => "check the constants under [[drive]]",
        };
        fault(&e, hint)
    })?;
    let script = match stint.script(&given.script) {
        Some(script) => script,
        None => script::read(Path::new(&given.script))?,
    }
    .with_soak(f64::from(given.soak));
    let cannot = |e: power::PowerError| fault(&e, "check the constants under [[drive]]");
    let mut script = script;
    let mut run = stint.run(&script).map_err(cannot)?;
    if let Some(shorter) = stint.until_reserve(&given.script, &run) {
        script = shorter.with_soak(f64::from(given.soak));
        run = stint.run(&script).map_err(cannot)?;
    }
    let mut what_ifs = Vec::new();
    for (name, words) in WHAT_IFS {
        let wanted = given.what_if.is_empty() || given.what_if.iter().any(|w| w == name);
        if let Some(change) = what_if(name).filter(|_| wanted) {
            let run = stint.with(change).run(&script).map_err(cannot)?;
            what_ifs.push((name, words, run));
        }
    }
    let worth = stint.worth_measuring(&boat.drives[index]).map_err(cannot)?;
    Ok(Answer {
        stint,
        script,
        run,
        what_ifs,
        worth,
    })
}

fn which(given: &StintArgs, loaded: &Loaded, file: &Path) -> Result<usize, Failure> {
    let drives = &loaded.boat.drives;
    if drives.is_empty() {
        let what = format!("{}: {}", shown(file), StintError::NoDrive);
        return Err(Failure::new(what, "add a [[drive]]"));
    }
    let Some(name) = &given.drive else {
        return Ok(0);
    };
    drives.iter().position(|d| d.name == *name).ok_or_else(|| {
        let names: Vec<&str> = drives.iter().map(|d| d.name.as_str()).collect();
        Failure::new(
            format!("{}: no drive is called `{name}`", shown(file)),
            format!("its drives: {}", names.join(", ")),
        )
    })
}

fn number(kind: Kind, value: f64) -> Value {
    json!(Number::exact(kind, value))
}

fn celsius(kelvin: f64) -> Value {
    number(Kind::Temperature, kelvin - 273.15)
}

fn as_json(answer: &Answer) -> Value {
    let run = &answer.run;
    let step = run.samples.len().div_ceil(SAMPLES).max(1);
    let last = run.samples.len() - 1;
    let kept = run.samples.iter().enumerate();
    let samples: Vec<Value> = kept
        .filter(|(i, _)| i % step == 0 || *i == last)
        .map(|(_, s)| sample(s))
        .collect();
    json!({
        "drive": answer.stint.drive,
        "script": answer.script.name,
        "summary": summary(run),
        "soak": run.soak(answer.script.end_s()).map(|(part, rise_k, after_s)| json!({
            "part": part.name(),
            "rise_k": significant(rise_k),
            "after": number(Kind::Time, after_s),
        })),
        "what_if": answer.what_ifs.iter().map(|(name, _, run)| {
            json!({"what": name, "summary": summary(run)})
        }).collect::<Vec<_>>(),
        "measure_next": answer.worth.iter().map(|w| json!({
            "what": w.how,
            "hottest": number(Kind::Number, significant(w.hottest_k)),
            "time": number(Kind::Time, w.time_s),
        })).collect::<Vec<_>>(),
        "assumed": answer.stint.setup.assumed.iter().map(|a| json!({
            "what": a.what,
            "number": Number::new(a.kind, a.value, a.spread * a.value),
            "why": a.why,
        })).collect::<Vec<_>>(),
        "charge_time": number(Kind::Time, charge_time_s(0.2, 1.0, 1.0)),
        "care": CARE,
        "samples": samples,
    })
}

fn summary(run: &Run) -> Value {
    let hottest: serde_json::Map<String, Value> = Part::ALL
        .into_iter()
        .map(|p| (p.name().to_owned(), celsius(run.hottest_k[p as usize])))
        .collect();
    json!({
        "reached": run.reached.iter().map(|r| json!({
            "part": r.part.name(),
            "after": number(Kind::Time, r.time_s),
            "limit": celsius(r.limit_k),
        })).collect::<Vec<_>>(),
        "time_on_pack": number(Kind::Time, time_s(run)),
        "reserve_reached": run.reserve_s.is_some(),
        "hottest": hottest,
        "most_current": number(Kind::Current, run.peak_pack_a),
        "energy": number(Kind::Energy, run.energy_j),
        "energy_per_lap": run.energy_per_lap_j.map(|j| number(Kind::Energy, j)),
        "distance": number(Kind::Length, run.distance_m),
        "imbalance": significant(run.imbalance),
    })
}

fn sample(s: &Sample) -> Value {
    let parts: serde_json::Map<String, Value> = Part::ALL
        .into_iter()
        .map(|p| {
            let value = significant(s.temperature_k[p as usize] - 273.15);
            (p.name().to_owned(), json!(value))
        })
        .collect();
    json!({
        "time_s": significant(s.time_s),
        "throttle": significant(s.throttle),
        "speed_km_h": significant(3.6 * s.speed_m_s),
        "current_a": significant(s.instant.pack_a),
        "voltage_v": significant(s.instant.pack_v),
        "charge": significant(s.charge),
        "water_l_min": significant(60.0 * s.water_kg_s),
        "temperature_c": parts,
    })
}

/// The made-up scripts, for hints.
fn script_names() -> String {
    SCRIPTS.map(|(name, _)| name).join(", ")
}
