//! A throttle script from a table.

use evidence::columns::{Quantity, propose};
use evidence::table::Table;
use power::script::Script;
use std::fs::File;
use std::path::Path;

use super::script_names;
use crate::failure::{Failure, shown};

/// Reads time and throttle, and speed when there is a column of it.
pub fn read(path: &Path) -> Result<Script, Failure> {
    let file = File::open(path).map_err(|e| {
        if e.kind() == std::io::ErrorKind::NotFound {
            let what = format!("there is no script or file called {}", shown(path));
            return Failure::new(what, format!("scripts: {}; or a file", script_names()));
        }
        Failure::system("open", path, &e)
    })?;
    let fault = |what: String, hint: &str| Failure::new(format!("{}: {what}", shown(path)), hint);
    let heading = "give it a heading: `time [s], throttle [%]`, and `speed [km/h]` if measured";
    let table = Table::read(file).map_err(|e| fault(e.to_string(), heading))?;
    let mapping = propose(&table);
    let column = |quantity, name: &str| {
        mapping
            .values(&table, quantity)
            .ok_or_else(|| fault(format!("no column of {name} was found"), heading))
    };
    let time = column(Quantity::Time, "time")?;
    let throttle = column(Quantity::Throttle, "throttle")?;
    let speed = mapping.values(&table, Quantity::Speed);
    let at = |row: usize| table.lines.get(row).copied().unwrap_or(0);
    for (row, pair) in time.windows(2).enumerate() {
        if pair[1] <= pair[0] {
            let what = format!(
                "line {}: time runs backwards, from {} s to {} s",
                at(row + 1),
                pair[0],
                pair[1]
            );
            return Err(fault(
                what,
                "rows must be in order of time, each later than the last",
            ));
        }
    }
    let first = time.first().copied().unwrap_or(0.0);
    for (row, value) in throttle.iter().enumerate() {
        if !value.is_finite() || !time[row].is_finite() {
            let what = format!("line {}: time or throttle is missing", at(row));
            return Err(fault(what, "fill the gap or take the row out"));
        }
        if !(-0.01..=1.01).contains(value) {
            let what = format!(
                "line {}: a throttle of {value} is not between 0 and 1",
                at(row)
            );
            return Err(fault(what, "write it as a share, or in %: `throttle [%]`"));
        }
    }
    let rows = |values: &[f64]| -> Vec<(f64, f64)> {
        let each = time.iter().zip(values);
        each.filter(|(_, v)| v.is_finite())
            .map(|(t, v)| (t - first, *v))
            .collect()
    };
    Script::log(rows(&throttle), speed.as_deref().map(rows))
        .map_err(|e| fault(e.to_string(), heading))
}
