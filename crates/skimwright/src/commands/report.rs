//! The findings with drawings, as one page.

use serde::Serialize;
use workshop::check::CheckAnswer;
use workshop::output::Target;
use workshop::report::{ReportAsk, is_page};
use workshop::{BoatAt, folder, shown};

use super::{Outcome, ask, check};
use crate::cli::Report;
use crate::failure::Failure;
use crate::output;

/// What check says, and the file.
#[derive(Serialize)]
struct Written<'a> {
    #[serde(flatten)]
    check: &'a CheckAnswer,
    report: String,
}

pub fn run(given: &Report) -> Result<Outcome, Failure> {
    let boat = BoatAt::saved(&given.boat);
    let target = match &given.output {
        Some(file) => Target::new(file, Some(&boat), &[], given.force)?,
        None => {
            let file = folder::boat_file(&given.boat)?.with_file_name("report.html");
            Target::usual(&file, Some(&boat), is_page, given.force)?
        }
    };
    let question = ReportAsk {
        effort: given.effort.into(),
        units: output::chosen(),
    };
    let answer = ask(&question, &given.boat)?;
    target.write(answer.page.as_bytes())?;
    let written = Written {
        check: &answer.check,
        report: target.path().display().to_string(),
    };
    output::give(given.json, &written, |w| {
        let text = check::as_text(w.check, check::Shown::default());
        format!("{text}report: {}\n", shown(target.path()))
    })?;
    Ok(Outcome::of(answer.check.says_stop()))
}
