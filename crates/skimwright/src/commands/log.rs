//! A controller's or motion log: what its columns hold, agreed to and remembered.

use evidence::columns::{Mapping, Quantity};
use std::fmt::Write as _;
use workshop::recordings::log::{ColumnRead, LogAsk};

use super::Outcome;
use super::recording::{asked, give};
use crate::cli_recordings::LogArgs;
use crate::failure::Failure;

pub fn run(given: &LogArgs) -> Result<Outcome, Failure> {
    let columns = given.column.iter().map(|words| column(words));
    let question = LogAsk {
        file: given.file.clone(),
        columns: columns.collect::<Result<_, _>>()?,
        confirm: given.confirm,
        shaft_rad_s: given.shaft_rpm.map(|s| s.value),
    };
    let (answer, page) = asked(&question, given.boat.as_deref(), &given.shown)?;
    let mut head = columns_text(&answer.mapping);
    if let Some(file) = &answer.remembered {
        let _ = writeln!(head, "remembered for this logger in {file}");
    } else if !answer.mapping.confirmed {
        head.push_str("if that is right, say so with --confirm; correct a column with --column 'HEADING=QUANTITY[UNIT]'\n");
    }
    give(
        &answer,
        std::slice::from_ref(&answer.analysis),
        (&given.shown, page),
        (&head, ""),
    )?;
    Ok(Outcome::Good)
}

/// `HEADING=QUANTITY[UNIT]`, or `HEADING=` to leave a column alone.
fn column(words: &str) -> Result<ColumnRead, Failure> {
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
    let known = match quantity.is_empty() {
        true => None,
        false => Some(
            serde_json::from_value::<Quantity>(quantity.into()).map_err(|_| {
                Failure::new(
                    format!("`{quantity}` is nothing a column can hold"),
                    format!("known are: {}", all_quantities().join(", ")),
                )
            })?,
        ),
    };
    Ok(ColumnRead {
        heading: heading.to_owned(),
        quantity: known,
        unit: unit.map(str::to_owned),
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
