//! A script of throttle and rudder from a table.

use evidence::columns::{Mapping, Quantity, propose};
use evidence::table::{Column, Table};
use motion::script::Script;

use crate::fault::Fault;
use crate::text_at::TextAt;

const HEADING: &str = "give it a heading: `time [s], throttle [%], rudder [deg]`; rudder is positive to the left, and without it the driver holds the course";

/// Largest table of hands read, bytes: a day at ten rows a second.
const LARGEST: u64 = 64 << 20;

/// Reads time, throttle and, when there is a column of it, rudder.
pub fn read(table: &TextAt) -> Result<Script, Fault> {
    let text = table.text_within(LARGEST, "cut out the run you want to ask about")?;
    let fault = |what: String, hint: &str| Fault::of_file(table.place(), &what, hint);
    let table = Table::parse(&text).map_err(|e| fault(e.to_string(), HEADING))?;
    let mapping = propose(&table);
    let column = |quantity, name: &str| {
        mapping
            .values(&table, quantity)
            .ok_or_else(|| fault(format!("no column of {name} was found"), HEADING))
    };
    let time = column(Quantity::Time, "time")?;
    let mut throttle = column(Quantity::Throttle, "throttle")?;
    if of_one(&table, &mapping) {
        throttle.iter_mut().for_each(|t| *t *= 100.0);
    }
    let rudder = table
        .columns
        .iter()
        .find(|c| c.name.to_lowercase().contains("rudder"));
    let at = |row: usize| table.lines.get(row).copied().unwrap_or(0);
    for row in 0..time.len() {
        let gap = !time[row].is_finite()
            || !throttle[row].is_finite()
            || rudder.is_some_and(|r| !r.values[row].is_finite());
        if gap {
            return Err(fault(
                format!("line {}: a number is missing", at(row)),
                "fill the gap or take the row out",
            ));
        }
        if row > 0 && time[row] <= time[row - 1] {
            return Err(fault(
                format!(
                    "line {}: time runs backwards, from {} s to {} s",
                    at(row),
                    time[row - 1],
                    time[row]
                ),
                "rows must be in order of time, each later than the last",
            ));
        }
    }
    let first = time.first().copied().unwrap_or(0.0);
    let rows = |values: &[f64]| -> Vec<(f64, f64)> {
        time.iter()
            .zip(values)
            .map(|(t, v)| (t - first, *v))
            .collect()
    };
    Ok(Script {
        throttle: rows(&throttle),
        rudder: rudder.map(|r| rows(&radians(r))).unwrap_or_default(),
    })
}

/// Without a unit, and never above 1: a share of wide open, as `--throttle` takes it, and no hundredths.
fn of_one(table: &Table, mapping: &Mapping) -> bool {
    let throttle = mapping
        .columns
        .iter()
        .find(|p| p.quantity == Quantity::Throttle)
        .and_then(|p| table.columns.get(p.column));
    throttle.is_some_and(|c| {
        let most = c.values.iter().copied().fold(0.0, f64::max);
        c.unit.is_none() && most > 0.0 && most <= 1.0
    })
}

/// Degrees unless the heading says otherwise.
fn radians(rudder: &Column) -> Vec<f64> {
    let is_rad = rudder.unit.as_deref() == Some("rad");
    let each = rudder.values.iter();
    each.map(|v| if is_rad { *v } else { v.to_radians() })
        .collect()
}
