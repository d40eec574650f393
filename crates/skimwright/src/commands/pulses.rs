//! Servo pulses.

use workshop::recordings::pulses::PulsesAsk;

use super::Outcome;
use super::recording::{asked, give};
use crate::cli_recordings::PulsesArgs;
use crate::failure::Failure;

pub fn run(given: &PulsesArgs) -> Result<Outcome, Failure> {
    let question = PulsesAsk {
        file: given.file.clone(),
        level_column: given.level_column,
        sample_rate_hz: given.sample_rate,
        time_unit_s: given.time_unit.map(|t| t.value),
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
