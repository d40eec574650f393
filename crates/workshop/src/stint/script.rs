//! A throttle script from a table.

use boat::{BoatFileError, Problem, Severity};
use evidence::columns::{Mapping, Quantity, propose};
use evidence::table::Table;
use power::script::Script;
use std::ops::Range;
use std::path::Path;

use crate::fault::{Fault, shown};
use crate::text_at::TextAt;

const HEADING: &str = "give it a heading: `time [s], throttle [%]`, and `speed [km/h]` if measured";
/// Largest script read, bytes: a day at ten rows a second.
const LARGEST: u64 = 64 << 20;
/// A log is a table of at least so many rows at most so many seconds apart.
const LOG_ROWS: usize = 20;
const LOG_STEP_S: f64 = 2.0;
/// Rows missing from a log for longer than this, and ten of its steps, are a gap, s.
const GAP_S: f64 = 5.0;

/// Reads time and throttle, and speed when there is a column of it.
pub fn read(table: &TextAt) -> Result<Script, Fault> {
    let text = table.text_within(LARGEST, "cut out the run you want to ask about")?;
    let path = table.place();
    let plain = |what: &str| Fault::new(format!("{}: {what}", shown(path)), HEADING);
    let table = Table::parse(&text).map_err(|e| plain(&e.to_string()))?;
    let mapping = propose(&table);
    let place = Place {
        path,
        text: &text,
        table: &table,
        mapping: &mapping,
    };
    let column = |quantity, name: &str| {
        mapping
            .values(&table, quantity)
            .ok_or_else(|| plain(&format!("no column of {name} was found")))
    };
    let time = column(Quantity::Time, "time")?;
    let throttle = column(Quantity::Throttle, "throttle")?;
    let speed = mapping.values(&table, Quantity::Speed);
    place.in_order(&time)?;
    place.throttles(&throttle)?;
    place.no_gap(&time, &throttle)?;
    if let Some(speed) = &speed {
        place.speeds(speed)?;
    }
    let first = time.first().copied().unwrap_or(0.0);
    let rows = |values: &[f64]| -> Vec<(f64, f64)> {
        let each = time.iter().zip(values);
        each.filter(|(_, v)| v.is_finite())
            .map(|(t, v)| (t - first, *v))
            .collect()
    };
    Script::log(rows(&throttle), speed.as_deref().map(rows)).map_err(|e| plain(&e.to_string()))
}

/// Finds where in the file a cell stands.
struct Place<'a> {
    path: &'a Path,
    text: &'a str,
    table: &'a Table,
    mapping: &'a Mapping,
}

impl Place<'_> {
    fn fault(&self, row: usize, quantity: Quantity, message: &str, help: &str) -> Fault {
        let problem = Problem {
            message: message.to_owned(),
            help: Some(help.to_owned()),
            span: self.span(row, quantity),
            severity: Severity::Error,
        };
        BoatFileError::new(&shown(self.path), self.text, vec![problem]).into()
    }

    /// The cell of a row, or the whole line where it has fewer.
    fn span(&self, row: usize, quantity: Quantity) -> Range<usize> {
        let line_number = self.table.lines.get(row).copied().unwrap_or(1) as usize;
        let before = self.text.split_inclusive('\n').take(line_number.max(1) - 1);
        let start: usize = before.map(str::len).sum();
        let line = self.text[start..].lines().next().unwrap_or("");
        let column = self.mapping.columns.iter().find(|p| p.quantity == quantity);
        let mut from = start;
        for (index, cell) in line.split(self.table.separator).enumerate() {
            if column.is_some_and(|p| p.column == index) && !cell.trim().is_empty() {
                let inside = from + cell.len() - cell.trim_start().len();
                return inside..inside + cell.trim().len();
            }
            from += cell.len() + self.table.separator.len_utf8();
        }
        start..start + line.len()
    }

    fn in_order(&self, time: &[f64]) -> Result<(), Fault> {
        let help = "rows must be in order of time, each later than the last";
        if let Some(row) = time.iter().position(|t| !t.is_finite()) {
            return Err(self.fault(row, Quantity::Time, "this time is no number", help));
        }
        let back = time.windows(2).position(|pair| pair[1] <= pair[0]);
        back.map_or(Ok(()), |row| {
            let (from, to) = (time[row], time[row + 1]);
            let what = format!("time runs backwards, from {from} s to {to} s");
            Err(self.fault(row + 1, Quantity::Time, &what, help))
        })
    }

    fn throttles(&self, throttle: &[f64]) -> Result<(), Fault> {
        for (row, value) in throttle.iter().enumerate() {
            if !value.is_finite() {
                let what = "throttle is missing here or no number";
                let help = "fill the gap or take the row out";
                return Err(self.fault(row, Quantity::Throttle, what, help));
            }
            if !(-0.01..=1.01).contains(value) {
                let what = format!("a throttle of {value} is not between 0 and 1");
                let help = "write it as a share, or in %: `throttle [%]`";
                return Err(self.fault(row, Quantity::Throttle, &what, help));
            }
        }
        Ok(())
    }

    /// A hand-written script may hold a throttle for minutes; a log that skips has lost something.
    fn no_gap(&self, time: &[f64], throttle: &[f64]) -> Result<(), Fault> {
        let mut steps: Vec<f64> = time.windows(2).map(|p| p[1] - p[0]).collect();
        let all = steps.clone();
        steps.sort_by(f64::total_cmp);
        let usual = steps.get(steps.len() / 2).copied().unwrap_or(f64::INFINITY);
        if time.len() < LOG_ROWS || usual > LOG_STEP_S {
            return Ok(());
        }
        let lost = |i: &usize| {
            all[*i] > GAP_S.max(10.0 * usual) && (throttle[i + 1] - throttle[*i]).abs() > 0.02
        };
        (0..all.len()).find(lost).map_or(Ok(()), |i| {
            let what = format!(
                "{} s are missing before this row, and the throttle is another after them",
                all[i]
            );
            let help = "run the pieces apart, or write in what the throttle was";
            Err(self.fault(i + 1, Quantity::Time, &what, help))
        })
    }

    fn speeds(&self, speed: &[f64]) -> Result<(), Fault> {
        if speed.iter().filter(|v| v.is_finite()).count() < 2 {
            let what = "the column of speed has fewer than two numbers";
            let help = "take the column out to have speed worked out from the throttle";
            return Err(self.fault(0, Quantity::Speed, what, help));
        }
        let wrong = |v: &f64| v.is_finite() && !(-0.5..=100.0).contains(v);
        speed.iter().position(wrong).map_or(Ok(()), |row| {
            let what = format!("a speed of {:.0} km/h is not a boat's", 3.6 * speed[row]);
            let help = "is its unit right? write `speed [km/h]` or `speed [m/s]`";
            Err(self.fault(row, Quantity::Speed, &what, help))
        })
    }
}
