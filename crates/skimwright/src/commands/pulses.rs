//! Servo pulses.

use workshop::recordings::pulses::PulsesAsk;

use super::recording::give;
use super::{Outcome, ask_of};
use crate::cli_recordings::PulsesArgs;
use crate::failure::Failure;

pub fn run(given: &PulsesArgs) -> Result<Outcome, Failure> {
    let question = PulsesAsk {
        file: given.file.clone(),
        level_column: given.level_column,
        sample_rate_hz: given.sample_rate,
        time_unit_s: given.time_unit.map(|t| t.value),
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
