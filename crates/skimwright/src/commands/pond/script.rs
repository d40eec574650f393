//! A script of throttle and rudder from a table.

use evidence::columns::{Quantity, propose};
use evidence::table::{Column, Table};
use motion::script::Script;
use std::fs::File;
use std::path::Path;

use crate::failure::{Failure, shown};

const HEADING: &str = "give it a heading: `time [s], throttle [%], rudder [deg]`; rudder is positive to the left, and without it the driver holds the course";

/// Reads time, throttle and, when there is a column of it, rudder.
pub fn read(path: &Path) -> Result<Script, Failure> {
    let file = File::open(path).map_err(|e| Failure::system("open", path, &e))?;
    let fault = |what: String, hint: &str| Failure::new(format!("{}: {what}", shown(path)), hint);
    let table = Table::read(file).map_err(|e| fault(e.to_string(), HEADING))?;
    let mapping = propose(&table);
    let column = |quantity, name: &str| {
        mapping
            .values(&table, quantity)
            .ok_or_else(|| fault(format!("no column of {name} was found"), HEADING))
    };
    let time = column(Quantity::Time, "time")?;
    let throttle = column(Quantity::Throttle, "throttle")?;
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

/// Degrees unless the heading says otherwise.
fn radians(rudder: &Column) -> Vec<f64> {
    let is_rad = rudder.unit.as_deref() == Some("rad");
    let each = rudder.values.iter();
    each.map(|v| if is_rad { *v } else { v.to_radians() })
        .collect()
}
