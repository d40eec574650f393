//! The build sheet, written as one page.

use workshop::output::Target;
use workshop::sheet::{SheetAsk, is_page};
use workshop::{BoatAt, folder, shown};

use super::{Outcome, ask};
use crate::cli::SheetArgs;
use crate::failure::Failure;
use crate::output;

pub fn run(given: &SheetArgs) -> Result<Outcome, Failure> {
    let boat = BoatAt::saved(&given.boat);
    let target = match &given.output {
        Some(file) => Target::new(file, Some(&boat), &[], given.force)?,
        None => {
            let file = folder::boat_file(&given.boat)?.with_file_name("build-sheet.html");
            Target::usual(&file, Some(&boat), is_page, given.force)?
        }
    };
    let answer = ask(
        &SheetAsk {
            effort: given.effort.into(),
            units: output::chosen(),
        },
        &given.boat,
    )?;
    target.write(answer.page.as_bytes())?;
    output::print(&format!(
        "build sheet: {}\nPrint it at 100 %, and measure a 50 mm line before you drill.\n",
        shown(target.path())
    ))?;
    Ok(Outcome::Good)
}
