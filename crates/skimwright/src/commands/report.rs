//! The findings with drawings, as one page.

use ::learn::why::{Case, explain};
use advice::{Finding, findings};
use motion::Conditions;
use motion::run::Start;
use motion::script::Script;
use motion::water::{RIPPLE_LENGTH, Water};
use std::ops::ControlFlow;
use std::path::Path;
use study::Study;
use workshop::check::CheckAnswer;

use super::learn::Answer;
use super::{Outcome, check, learn, study};
use crate::boat_folder::{self, write_whole};
use crate::cli::Report;
use crate::failure::{Failure, shown};
use crate::output;
use workshop::outings::{self, Read};

pub fn run(given: &Report) -> Result<Outcome, Failure> {
    let loaded = boat_folder::load(&given.boat)?;
    let target = match &given.output {
        Some(file) => file.clone(),
        None => loaded.folder.join("report.html"),
    };
    let outing = outing(&given.boat, &loaded.folder)?;
    let study = study(loaded, &given.effort)?;
    let all = findings(&study);
    let explained = explained(outing.as_ref(), &study, &all);
    let launch = launch(&study);
    let mut subject = report::Subject::of(&study, &all).with_launch(launch.as_ref());
    if let Some((_, answer)) = &outing {
        subject = subject.with_water(report::Water {
            outings: &answer.outings,
            found: Some(&answer.found),
            explained: &explained,
        });
    }
    let page = report::html(&subject);
    write_whole(&target, page.as_bytes())?;
    let answer = CheckAnswer::of(&study, &all);
    if given.json {
        let mut told = serde_json::json!(answer);
        told["report"] = target.display().to_string().into();
        output::print_json(&told)?;
    } else {
        let text = check::as_text(&answer, check::Shown::default());
        output::print(&format!("{text}report: {}\n", shown(&target)))?;
    }
    Ok(Outcome::of(answer.says_stop()))
}

/// Of the run in time: a quiet day's ripple, and long enough to come up to speed.
const RIPPLE_M: f64 = 0.005;
const SECONDS: f64 = 12.0;
const SEED: u64 = 1;

/// From rest, throttle squeezed open to full.
fn launch(study: &Study) -> Option<report::Launch> {
    let under = study.running.as_ref()?;
    let conditions = Conditions {
        water: Water::Ripple {
            height_m: RIPPLE_M,
            length_m: RIPPLE_LENGTH * RIPPLE_M,
            from_rad: 0.0,
        },
        wind_m_s: under.craft.surroundings().wind_m_s,
        script: Script::squeeze(1.0, workshop::pond::SQUEEZE_S),
        start: Start::Rest,
        seconds: SECONDS,
        seed: SEED,
    };
    let throws = study.boat.rudders.iter().map(|r| r.throw_rad.value);
    let throw_rad = throws.fold(0.0, f64::max);
    let run = motion::run(&under.craft, throw_rad, &conditions, &mut |_| {
        ControlFlow::Continue(())
    });
    Some(report::Launch {
        ripple_m: RIPPLE_M,
        seed: SEED,
        run: run.ok()?,
    })
}

/// The latest measured outing held against the model. One that cannot be used is told, and the report
/// is made without it.
fn outing(boat: &Path, folder: &Path) -> Result<Option<(Read, Answer)>, Failure> {
    let Some(read) = outings::latest_if_any(folder)? else {
        return Ok(None);
    };
    let declared = boat_folder::load_declared(boat)?;
    match learn::answer(&declared, std::slice::from_ref(&read)) {
        Ok(answer) => Ok(Some((read, answer))),
        Err(failure) => {
            output::warn("the report is without the latest outing:\n");
            failure.show();
            Ok(None)
        }
    }
}

/// What went wrong, from the builder's notes and the recordings; nothing said is no fault here.
fn explained(
    outing: Option<&(Read, Answer)>,
    study: &Study,
    all: &[Finding],
) -> Vec<::learn::why::Explained> {
    let Some((read, answer)) = outing else {
        return Vec::new();
    };
    let case = Case {
        study,
        findings: all,
        outing: Some(&read.measured),
        found: Some(&answer.found),
    };
    let said = read.said.as_ref().map_or("", |s| s.what_happened.as_str());
    explain(said, &case).unwrap_or_default()
}
