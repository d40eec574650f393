//! What the builder said of a recording in `outing.toml`, as options of the command that measures it.

use evidence::Measured;
use evidence::outing::file::{OutingFile, RecordingEntry};
use evidence::outing::given::HALF_WIDTH;
use std::collections::BTreeMap;
use std::path::Path;

use crate::error::Answer;
use crate::routes::jobs::JobKind;

/// Options for `file` (`outings/2026-05-17/run-1.wav`); those in `given` go before them.
///
/// # Errors
/// [`crate::error::ApiError`] when the outing's file is at fault.
pub fn options(
    folder: &Path,
    file: &str,
    kind: JobKind,
    given: &BTreeMap<String, String>,
) -> Answer<Vec<String>> {
    let Some((home, name)) = file.rsplit_once('/') else {
        return Ok(Vec::new());
    };
    let notes = folder.join(home).join("outing.toml");
    if !home.starts_with("outings/") || !notes.is_file() {
        return Ok(Vec::new());
    }
    let notes = OutingFile::read(&workshop::folder::read_text(&notes)?, "outing.toml")?;
    let mut all = match kind {
        JobKind::Hear => heard(&notes, notes.entry(name)),
        JobKind::Track => tracked(&notes),
        JobKind::Pulses => captured(notes.entry(name)),
        _ => Vec::new(),
    };
    all.retain(|(key, _)| !given.contains_key(*key));
    Ok(all
        .into_iter()
        .flat_map(|(key, values)| spell(key, values))
        .collect())
}

fn spell(key: &str, values: Vec<String>) -> Vec<String> {
    match values.as_slice() {
        [one] => vec![format!("--{key}={one}")],
        many => std::iter::once(format!("--{key}"))
            .chain(many.iter().cloned())
            .collect(),
    }
}

type Said = Vec<(&'static str, Vec<String>)>;

fn heard(notes: &OutingFile, entry: Option<&RecordingEntry>) -> Said {
    let mut all = Said::new();
    let mut say = |key, text: Option<String>| all.extend(text.map(|t| (key, vec![t])));
    let air = notes.air_temperature;
    say("air-temperature", air.map(|t| in_unit(t.0, 1.0, "degC")));
    let Some(e) = entry else { return all };
    let rpm = 30.0 / std::f64::consts::PI;
    say("closest", e.closest.map(|d| in_unit(d.0, 1.0, "m")));
    if let (Some(low), Some(high)) = (e.lowest_rpm, e.highest_rpm) {
        say("lowest-rpm", Some(in_unit(low.0, rpm, "rpm")));
        say("highest-rpm", Some(in_unit(high.0, rpm, "rpm")));
    }
    say("channel", e.channel.map(|c| c.to_string()));
    say("from", e.from.map(|t| in_unit(t.0, 1.0, "s")));
    say("to", e.to.map(|t| in_unit(t.0, 1.0, "s")));
    if e.still {
        all.push(("still", Vec::new()));
    }
    all
}

fn tracked(notes: &OutingFile) -> Said {
    let Some(line) = &notes.lap_line else {
        return Said::new();
    };
    let place = |(north, east): (f64, f64)| format!("{north},{east}");
    let mut all = vec![("line", vec![place(line.from_deg), place(line.to_deg)])];
    if let Some(t) = line.shortest_lap {
        all.push(("shortest-lap", vec![in_unit(t.0, 1.0, "s")]));
    }
    all
}

fn captured(entry: Option<&RecordingEntry>) -> Said {
    let Some(e) = entry else { return Said::new() };
    let mut all = Said::new();
    all.extend(
        e.level_column
            .map(|c| ("level-column", vec![c.to_string()])),
    );
    all.extend(e.sample_rate.map(|r| ("sample-rate", vec![r.to_string()])));
    all
}

/// As the command reads it, its tolerance the half-width of the 95 % interval.
fn in_unit(m: Measured, factor: f64, unit: &str) -> String {
    let value = m.value * factor;
    if m.sigma > 0.0 {
        let half = HALF_WIDTH * m.sigma * factor;
        format!("{value} {unit} ± {half} {unit}")
    } else {
        format!("{value} {unit}")
    }
}
