//! Speed from marks on the frames of a film.

use workshop::recordings::marks::MarksAsk;

use super::Outcome;
use super::recording::{asked, give};
use crate::cli_recordings::MarksArgs;
use crate::failure::Failure;

pub fn run(given: &MarksArgs) -> Result<Outcome, Failure> {
    let question = MarksAsk {
        file: given.file.clone(),
        film: given.video.clone(),
    };
    let (answer, page) = asked(&question, None, &given.shown)?;
    give(
        &answer,
        std::slice::from_ref(&answer.analysis),
        (&given.shown, page),
        ("", ""),
    )?;
    Ok(Outcome::Good)
}
