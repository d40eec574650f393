//! A controller's or motion log: what its columns hold, agreed to and remembered.

use evidence::columns::{Mapping, Quantity};
use evidence::outing::log::log;
use evidence::outing::recording::mapping_for;
use evidence::table::Table;
use serde_json::json;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use super::Outcome;
use super::recording::{
    Loggers, boat_alone, boat_folder_of, fault, file_name, give, mappings, open, settings_of,
};
use crate::boat_folder::write_whole;
use crate::cli_recordings::LogArgs;
use crate::failure::{Failure, shown};

pub fn run(given: &LogArgs) -> Result<Outcome, Failure> {
    let folder = boat_folder_of(given.boat.as_deref(), &given.file);
    let boat = folder.as_deref().map(boat_alone).transpose()?;
    let mut settings = settings_of(boat.as_ref(), mappings(folder.as_deref())?);
    if let Some(speed) = given.shaft_rpm {
        settings.log.known.shaft_rpm = Some(speed.value * 30.0 / std::f64::consts::PI);
    }
    let table = Table::read(open(&given.file)?).map_err(|e| fault(&given.file, &e))?;
    let mut mapping = mapping_for(&table, &settings);
    for words in &given.column {
        assign(&mut mapping, &table, words)?;
    }
    let mut head = columns_text(&mapping);
    let mut remembered = None;
    if given.confirm {
        mapping.confirmed = true;
        let home = folder.unwrap_or_else(|| {
            given
                .file
                .parent()
                .map_or_else(PathBuf::new, Path::to_owned)
        });
        let file = remember(&home, &mapping)?;
        let _ = writeln!(head, "remembered for this logger in {}", shown(&file));
        remembered = Some(file.display().to_string());
    } else if !mapping.confirmed {
        head.push_str("if that is right, say so with --confirm; correct a column with --column 'HEADING=QUANTITY[UNIT]'\n");
    }
    let (analysis, doubts) = log(&file_name(&given.file), &table, &mapping, &settings.log);
    let more = json!({
        "mapping": mapping,
        "doubts": doubts.iter().map(ToString::to_string).collect::<Vec<_>>(),
        "rows": table.len(),
        "separator": table.separator.to_string(),
        "decimal_comma": table.decimal_comma,
        "remembered": remembered,
    });
    give(&[analysis], &given.shown, (&head, ""), more)?;
    Ok(Outcome::Good)
}

/// `HEADING=QUANTITY[UNIT]`, or `HEADING=` to leave a column alone.
fn assign(mapping: &mut Mapping, table: &Table, words: &str) -> Result<(), Failure> {
    let (heading, what) = words.rsplit_once('=').ok_or_else(|| {
        Failure::new(
            format!("--column {words} has no ="),
            "write --column 'HEADING=QUANTITY[UNIT]'; with nothing behind = the column is left alone",
        )
    })?;
    let what = what.trim();
    let (quantity, unit) = match what.split_once('[') {
        Some((q, u)) => (q.trim(), Some(u.trim_end_matches(']').trim())),
        None => (what, None),
    };
    let read = if quantity.is_empty() {
        None
    } else {
        let known = serde_json::from_value::<Quantity>(quantity.into());
        let known = known.map_err(|_| {
            Failure::new(
                format!("`{quantity}` is nothing a column can hold"),
                format!("known are: {}", all_quantities().join(", ")),
            )
        })?;
        Some((known, unit))
    };
    mapping.assign(table, heading, read).map_err(|e| {
        Failure::new(
            e.to_string(),
            "headings are as in the file, without their unit",
        )
    })
}

fn all_quantities() -> Vec<String> {
    let name = |q: &Quantity| serde_json::to_value(q).ok()?.as_str().map(str::to_owned);
    Quantity::ALL.iter().filter_map(name).collect()
}

fn columns_text(mapping: &Mapping) -> String {
    let mut text = String::from("columns:\n");
    let width = mapping
        .columns
        .iter()
        .map(|p| p.heading.chars().count())
        .max()
        .unwrap_or(0);
    for p in &mapping.columns {
        let name = serde_json::to_value(p.quantity).ok();
        let name = name.as_ref().and_then(|v| v.as_str()).unwrap_or_default();
        let sure = if mapping.confirmed {
            100.0
        } else {
            100.0 * p.confidence
        };
        let _ = writeln!(
            text,
            "  {:<width$}  {name}  ({sure:.0} % sure: {})",
            p.heading, p.reason
        );
    }
    text
}

/// Adds or replaces the reading of one logger; the others stay.
fn remember(folder: &Path, mapping: &Mapping) -> Result<PathBuf, Failure> {
    let mut loggers = mappings(Some(folder))?;
    loggers.retain(|m| m.fingerprint != mapping.fingerprint);
    loggers.push(mapping.clone());
    let file = folder.join("loggers.json");
    let text = serde_json::to_string_pretty(&Loggers { format: 1, loggers })
        .map_err(|e| Failure::new(format!("cannot write {}: {e}", shown(&file)), ""))?;
    write_whole(&file, format!("{text}\n").as_bytes())?;
    Ok(file)
}
