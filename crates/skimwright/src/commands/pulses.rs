//! Servo pulses.

use evidence::outing::recording::{Settings, measure_pulses};
use serde_json::json;

use super::Outcome;
use super::recording::{fault, file_name, give, open};
use crate::cli_recordings::PulsesArgs;
use crate::failure::Failure;

pub fn run(given: &PulsesArgs) -> Result<Outcome, Failure> {
    let mut settings = Settings::default();
    settings.pulses.level_column = given.level_column;
    settings.pulses.rate_hz = given.sample_rate.filter(|r| *r > 0.0);
    settings.pulses.time_unit_s = given.time_unit.map(|t| t.value);
    let (analysis, report) = measure_pulses(&file_name(&given.file), open(&given.file)?, &settings)
        .map_err(|e| fault(&given.file, &e))?;
    let Some(r) = report else {
        let why = analysis
            .says
            .first()
            .map_or("too few pulses", String::as_str);
        return Err(fault(&given.file, &why));
    };
    let losses = r.losses.iter().map(|l| {
        json!({
            "from_s": l.from_s, "to_s": l.to_s, "frames": l.frames,
            "width_before_s": l.width_before_s, "width_after_s": l.width_after_s,
        })
    });
    let more = json!({
        "pulses": r.pulses,
        "odd_widths": r.odd_widths,
        "runts": r.runts,
        "width_range_s": r.width_range_s,
        "width_jitter_s": r.width_jitter_s,
        "frame_jitter_s": r.frame_jitter_s,
        "losses": losses.collect::<Vec<_>>(),
        "failsafe_width_s": r.failsafe_width_s,
        "read_shift_s": r.read_shift_s,
    });
    give(&[analysis], &given.shown, ("", ""), more)?;
    Ok(Outcome::Good)
}
