//! Rpm and speed from sound.

use workshop::recordings::hear::HearAsk;

use super::Outcome;
use super::recording::{asked, give};
use crate::cli_recordings::{Hear, measured};
use crate::failure::Failure;

pub fn run(given: &Hear) -> Result<Outcome, Failure> {
    let question = HearAsk {
        file: given.file.clone(),
        blades: given.blades,
        poles: given.poles,
        gear: given.gear,
        air_temperature_c: given.air_temperature.map(|t| measured(t, 0.0)),
        closest_m: given.closest.map(|d| measured(d, 0.1 * d.value)),
        shaft_rad_s: given
            .lowest_rpm
            .zip(given.highest_rpm)
            .map(|(l, h)| (l.value, h.value)),
        still: given.still.then_some(true),
        channel: given.channel,
        from_s: given.from.map(|t| t.value),
        to_s: given.to.map(|t| t.value),
    };
    let (answer, page) = asked(&question, given.boat.as_deref(), &given.shown)?;
    give(
        &answer,
        std::slice::from_ref(&answer.analysis),
        (&given.shown, page),
        ("", ""),
    )?;
    Ok(Outcome::Good)
}
