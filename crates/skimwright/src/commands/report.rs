//! The findings with drawings, as one page.

use advice::findings;

use super::{Outcome, check, study};
use crate::boat_folder::{self, write_whole};
use crate::cli::Report;
use crate::failure::{Failure, shown};
use crate::output;

pub fn run(given: &Report) -> Result<Outcome, Failure> {
    let loaded = boat_folder::load(&given.boat)?;
    let target = match &given.output {
        Some(file) => file.clone(),
        None => loaded.folder.join("report.html"),
    };
    let study = study(loaded, &given.effort)?;
    let all = findings(&study);
    let page = report::html(&report::Subject::of(&study, &all));
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
