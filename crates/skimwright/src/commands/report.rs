//! The findings with drawings, as one page.

use ::learn::why::{Case, explain};
use advice::{Finding, Study, findings};
use std::path::Path;

use super::learn::Answer;
use super::{Outcome, check, learn, study};
use crate::boat_folder::{self, write_whole};
use crate::cli::Report;
use crate::failure::{Failure, shown};
use crate::outings::{self, Read};
use crate::output;

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
    let mut subject = report::Subject::of(&study, &all);
    if let Some((_, answer)) = &outing {
        subject = subject.with_water(report::Water {
            outings: &answer.outings,
            found: Some(&answer.found),
            explained: &explained,
        });
    }
    let page = report::html(&subject);
    write_whole(&target, page.as_bytes())?;
    if given.json {
        let mut answer = check::as_json(&study, &all);
        answer["report"] = target.display().to_string().into();
        output::print_json(&answer)?;
    } else {
        let text = check::as_text(&study, &all, false);
        output::print(&format!("{text}report: {}\n", shown(&target)))?;
    }
    Ok(check::outcome(&all))
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
