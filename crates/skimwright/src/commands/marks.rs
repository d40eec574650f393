//! Speed from marks on the frames of a film.

use workshop::recordings::marks::MarksAsk;

use super::recording::give;
use super::{Outcome, ask_of};
use crate::cli_recordings::MarksArgs;
use crate::failure::Failure;

pub fn run(given: &MarksArgs) -> Result<Outcome, Failure> {
    let question = MarksAsk {
        file: given.file.clone(),
        film: given.video.clone(),
    };
    let answer = ask_of(&question, None)?;
    give(
        &answer,
        std::slice::from_ref(&answer.analysis),
        &given.shown,
        ("", ""),
    )?;
    Ok(Outcome::Good)
}
