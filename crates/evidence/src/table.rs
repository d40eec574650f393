//! Tables of numbers as loggers write them: any heading, separator and decimal sign.
//!
//! Separator, decimal comma, lines before the heading and a row of units are found by looking, and
//! what was found is kept to be shown. A cell that is no number becomes a gap and is counted with
//! the first place it happened; nothing is guessed into it.

use std::borrow::Cow;
use std::io::Read;

/// The largest table accepted, bytes.
const LARGEST: u64 = 512 << 20;
/// Wider tables are no logs.
const MOST_COLUMNS: usize = 4096;
/// A table in which most cells are missing may still be so large, cells.
const MOST_MISSING: usize = 1 << 20;
/// Lines looked at to tell the layout.
const LOOKED_AT: usize = 60;
/// Lines that may stand before the heading.
const MOST_PREAMBLE: usize = 40;

/// A column of numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Heading without its unit; `column 3` where there is none.
    pub name: String,
    /// Unit, as written in the heading or the row below it.
    pub unit: Option<String>,
    /// Values; not-a-number for gaps. Times of day and dates are seconds.
    pub values: Vec<f64>,
    /// Cells that were neither empty nor a number.
    pub unreadable: usize,
    /// Line (from 1) and text of the first of these.
    pub first_unreadable: Option<(u64, String)>,
}

/// A table read.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// Columns, all of one length.
    pub columns: Vec<Column>,
    /// Line of the file (from 1) each row came from.
    pub lines: Vec<u64>,
    /// Separator found.
    pub separator: char,
    /// Numbers are written with a comma.
    pub decimal_comma: bool,
    /// Lines before the heading.
    pub preamble: Vec<String>,
    /// Rows with fewer or more cells than there are columns.
    pub ragged_rows: usize,
}

/// Why a table cannot be read.
#[derive(Debug, thiserror::Error)]
pub enum TableError {
    /// Nothing is there.
    #[error("the table is empty")]
    Empty,
    /// No rows of numbers.
    #[error("no rows of numbers were found; a heading and rows with one separator are expected")]
    NoNumbers,
    /// Larger than is accepted.
    #[error("the table is larger than {} MB", LARGEST >> 20)]
    TooLarge,
    /// More columns than are accepted.
    #[error("the table has {columns} columns; at most {MOST_COLUMNS} are accepted")]
    TooWide {
        /// Columns found.
        columns: usize,
    },
    /// Rows that are nearly all shorter than the first ones.
    #[error(
        "line {line}: nearly all rows so far have fewer cells than the {columns} columns of the first rows"
    )]
    Ragged {
        /// Line, from 1.
        line: u64,
        /// Columns found.
        columns: usize,
    },
    /// It cannot be read.
    #[error("the table cannot be read")]
    Read(#[from] std::io::Error),
    /// A quoted cell that never ends, or the like.
    #[error("line {line}: {reason}")]
    Broken {
        /// Line, from 1.
        line: u64,
        /// What the reader said.
        reason: String,
    },
}

impl Table {
    /// Reads a table.
    ///
    /// # Errors
    /// [`TableError`].
    pub fn read(file: impl Read) -> Result<Self, TableError> {
        let mut bytes = Vec::new();
        file.take(LARGEST + 1).read_to_end(&mut bytes)?;
        if bytes.len() as u64 > LARGEST {
            return Err(TableError::TooLarge);
        }
        Self::parse(&text_of(bytes))
    }

    /// Reads a table from text.
    ///
    /// # Errors
    /// [`TableError`].
    pub fn parse(text: &str) -> Result<Self, TableError> {
        if text.trim().is_empty() {
            return Err(TableError::Empty);
        }
        // A CR alone ends a line for the reader of rows; so it must where the layout is told.
        let text = &with_line_feeds(text);
        let lines: Vec<&str> = text.lines().take(LOOKED_AT).collect();
        let separator = separator(&lines);
        let width = usual_width(&lines, separator);
        let decimal_comma = separator != ',' && writes_decimal_comma(&lines, separator);
        if width > MOST_COLUMNS {
            return Err(TableError::TooWide { columns: width });
        }
        let layout = Layout::find(&lines, separator, width, decimal_comma);
        let mut table = layout.empty_table(&lines, separator, decimal_comma);
        table.fill(text, &layout)?;
        let any = |c: &Column| c.values.iter().any(|v| v.is_finite());
        if !table.columns.iter().any(any) {
            return Err(TableError::NoNumbers);
        }
        Ok(table)
    }

    /// Number of rows.
    pub fn len(&self) -> usize {
        self.lines.len()
    }

    /// True when there are no rows.
    pub fn is_empty(&self) -> bool {
        self.lines.is_empty()
    }

    fn fill(&mut self, text: &str, layout: &Layout) -> Result<(), TableError> {
        let skipped: usize = text
            .split_inclusive('\n')
            .take(layout.first_row)
            .map(str::len)
            .sum();
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .delimiter(self.separator as u8)
            .trim(csv::Trim::All)
            .comment(Some(b'#'))
            .from_reader(&text.as_bytes()[skipped..]);
        let mut row = csv::StringRecord::new();
        loop {
            let line = reader.position().line() + layout.first_row as u64;
            match reader.read_record(&mut row) {
                Ok(true) => {
                    self.take_row(&row, line);
                    self.refuse_ragged(line, text.len())?;
                }
                Ok(false) => return Ok(()),
                Err(e) => {
                    let reason = e.to_string();
                    return Err(TableError::Broken { line, reason });
                }
            }
        }
    }

    /// Each cell that is there takes a byte or more, so a table of more cells than bytes is mostly gaps made here: a
    /// small file must not become gigabytes of them.
    fn refuse_ragged(&self, line: u64, bytes: usize) -> Result<(), TableError> {
        let columns = self.columns.len();
        if self.len() * columns > bytes + MOST_MISSING {
            return Err(TableError::Ragged { line, columns });
        }
        Ok(())
    }

    fn take_row(&mut self, row: &csv::StringRecord, line: u64) {
        if row.iter().all(str::is_empty) {
            return;
        }
        self.ragged_rows += usize::from(row.len() != self.columns.len());
        self.lines.push(line);
        for (i, column) in self.columns.iter_mut().enumerate() {
            let cell = row.get(i).unwrap_or("");
            let value = number(cell, self.decimal_comma);
            if value.is_none() && !is_gap(cell) {
                column.unreadable += 1;
                column
                    .first_unreadable
                    .get_or_insert_with(|| (line, cell.chars().take(40).collect()));
            }
            column.values.push(value.unwrap_or(f64::NAN));
        }
    }
}

/// The text with every line ended by LF, also where CR alone or CR LF ended it.
fn with_line_feeds(text: &str) -> Cow<'_, str> {
    if !text.contains('\r') {
        return Cow::Borrowed(text);
    }
    Cow::Owned(text.replace("\r\n", "\n").replace('\r', "\n"))
}

/// UTF-8 or UTF-16 by its mark; stray bytes become replacement signs.
fn text_of(bytes: Vec<u8>) -> String {
    let wide = |from: fn([u8; 2]) -> u16| {
        let units: Vec<u16> = bytes[2..]
            .chunks_exact(2)
            .map(|c| from([c[0], c[1]]))
            .collect();
        String::from_utf16_lossy(&units)
    };
    match bytes.get(..2) {
        Some([0xff, 0xfe]) => wide(u16::from_le_bytes),
        Some([0xfe, 0xff]) => wide(u16::from_be_bytes),
        _ => String::from_utf8_lossy(bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(&bytes))
            .into_owned(),
    }
}

/// The separator that splits most lines into the same number of cells, more than one.
fn separator(lines: &[&str]) -> char {
    // Semicolon and tab come first: a comma may be a decimal sign beside them.
    let agreement = |s: char| {
        let width = usual_width(lines, s);
        let same = lines.iter().filter(|l| cells(l, s) == width).count();
        if width > 1 { same } else { 0 }
    };
    let mut best = (',', 0);
    for s in [';', '\t', '|', ','] {
        let n = agreement(s);
        if n > best.1 {
            best = (s, n);
        }
    }
    best.0
}

fn cells(line: &str, separator: char) -> usize {
    line.matches(separator).count() + 1
}

/// The commonest number of cells.
fn usual_width(lines: &[&str], separator: char) -> usize {
    let filled = lines.iter().filter(|l| !l.trim().is_empty());
    let widths: Vec<usize> = filled.map(|l| cells(l, separator)).collect();
    let count = |w: usize| widths.iter().filter(|x| **x == w).count();
    widths
        .iter()
        .copied()
        .max_by_key(|w| (count(*w), *w))
        .unwrap_or(1)
}

fn writes_decimal_comma(lines: &[&str], separator: char) -> bool {
    let all = || lines.iter().flat_map(|l| l.split(separator));
    let with = |sign| {
        all()
            .filter(|c| c.matches(sign).count() == 1 && number(c, sign == ',').is_some())
            .count()
    };
    with(',') > with('.')
}

/// Where things are in a table.
struct Layout {
    heading: Option<usize>,
    units: Option<usize>,
    first_row: usize,
    width: usize,
}

impl Layout {
    fn find(lines: &[&str], separator: char, width: usize, decimal_comma: bool) -> Self {
        let split = |i: usize| -> Vec<&str> {
            lines.get(i).map_or_else(Vec::new, |l| {
                l.split(separator)
                    .map(|c| c.trim().trim_matches('"'))
                    .collect()
            })
        };
        let numeric = |i: usize| {
            let row = split(i);
            let filled: Vec<_> = row.iter().filter(|c| !is_gap(c)).collect();
            let numbers = filled.iter().filter(|c| number(c, decimal_comma).is_some());
            let enough = 2 * numbers.count() >= filled.len() && !filled.is_empty();
            enough && (row.len() == width || row.len() + 1 == width)
        };
        let first_row = (0..lines.len().min(MOST_PREAMBLE))
            .find(|i| numeric(*i) && !lines[*i].starts_with('#'))
            .unwrap_or(0);
        let wordy = |i: &usize| {
            let row = split(*i);
            row.len() + 1 >= width && row.iter().any(|c| c.chars().any(char::is_alphabetic))
        };
        let above = first_row.checked_sub(1).filter(wordy);
        let higher = first_row.checked_sub(2).filter(wordy);
        let unit_like = |i: usize| {
            split(i)
                .iter()
                .all(|c| c.chars().count() <= 8 && !c.contains(' '))
        };
        let (heading, units) = match (higher, above) {
            (Some(h), Some(a)) if unit_like(a) && !numeric(h) => (Some(h), Some(a)),
            (_, a) => (a, None),
        };
        Self {
            heading,
            units,
            first_row,
            width,
        }
    }

    fn empty_table(&self, lines: &[&str], separator: char, decimal_comma: bool) -> Table {
        let cell = |line: Option<usize>, i: usize| {
            let text = lines.get(line?)?.split(separator).nth(i)?;
            let text = text
                .trim()
                .trim_start_matches('#')
                .trim()
                .trim_matches('"')
                .trim();
            (!text.is_empty()).then(|| text.to_owned())
        };
        let column = |i: usize| {
            let (name, unit) = cell(self.heading, i).map_or_else(
                || (format!("column {}", i + 1), None),
                |heading| split_unit(&heading),
            );
            let below =
                cell(self.units, i).map(|u| u.trim_matches(|c| "[](){}".contains(c)).to_owned());
            Column {
                name,
                unit: below.or(unit),
                values: Vec::new(),
                unreadable: 0,
                first_unreadable: None,
            }
        };
        Table {
            columns: (0..self.width).map(column).collect(),
            lines: Vec::new(),
            separator,
            decimal_comma,
            preamble: lines[..self.heading.unwrap_or(self.first_row)]
                .iter()
                .map(|l| (*l).to_owned())
                .collect(),
            ragged_rows: 0,
        }
    }
}

/// `Voltage (V)`, `Voltage [V]`, `Voltage/V` into name and unit.
fn split_unit(heading: &str) -> (String, Option<String>) {
    for (open, close) in [('(', ')'), ('[', ']'), ('{', '}')] {
        if let Some((name, rest)) = heading.rsplit_once(open) {
            let unit = rest.trim_end().trim_end_matches(close).trim();
            if !name.trim().is_empty() && !unit.is_empty() {
                return (name.trim().to_owned(), Some(unit.to_owned()));
            }
        }
    }
    (heading.to_owned(), None)
}

/// What loggers write where they have nothing.
fn is_gap(cell: &str) -> bool {
    [
        "", "-", "--", "---", "nan", "null", "none", "n/a", "na", "#n/a",
    ]
    .iter()
    .any(|g| cell.trim().eq_ignore_ascii_case(g))
}

/// A number, a time of day, or a date and time (both in seconds).
pub(crate) fn number(cell: &str, decimal_comma: bool) -> Option<f64> {
    let cell = cell.trim().trim_matches('"').trim();
    let plain = if decimal_comma {
        cell.replace('.', "").replace(',', ".")
    } else {
        cell.to_owned()
    };
    let first = plain.chars().next()?;
    if first.is_ascii_digit() || "+-.".contains(first) {
        if let Ok(n) = plain.parse::<f64>() {
            return n.is_finite().then_some(n);
        }
        if cell.contains(':') {
            return time_of_day(&cell.replace(',', ".")).or_else(|| date_time(cell));
        }
    }
    None
}

/// `h:mm:ss.fff` or `mm:ss.fff` in seconds.
fn time_of_day(cell: &str) -> Option<f64> {
    let parts: Vec<&str> = cell.split(':').collect();
    if !(2..=3).contains(&parts.len()) {
        return None;
    }
    let mut total = 0.0;
    for (i, p) in parts.iter().enumerate() {
        let digits = p.bytes().all(|b| b.is_ascii_digit() || b == b'.');
        let n: f64 = p.parse().ok().filter(|_| digits)?;
        if i > 0 && n >= 60.0 {
            return None;
        }
        total = 60.0 * total + n;
    }
    Some(total)
}

/// Seconds since 1970 of an ISO 8601 date and time; without a zone it is taken as UTC.
pub(crate) fn date_time(cell: &str) -> Option<f64> {
    if !cell.is_ascii() || cell.len() < 16 {
        return None;
    }
    let stamp = cell.parse::<jiff::Timestamp>().ok().or_else(|| {
        let local: jiff::civil::DateTime = cell.trim_end_matches('Z').parse().ok()?;
        jiff::tz::TimeZone::UTC.to_timestamp(local).ok()
    })?;
    Some(stamp.as_microsecond() as f64 / 1e6)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_the_usual_and_the_unusual() {
        let plain = Table::parse("t,rpm\n0,100\n1,200\n").unwrap();
        assert_eq!(plain.columns[1].values, [100.0, 200.0]);
        let german =
            "Logger 3\n\nZeit [s];Strom [A];Spannung [V]\n0,5;12,25;14,8\n1,0;1.013,5;14,7\n";
        let t = Table::parse(german).unwrap();
        assert_eq!((t.separator, t.decimal_comma), (';', true));
        assert_eq!(t.columns[1].unit.as_deref(), Some("A"));
        assert_eq!(t.columns[1].values, [12.25, 1013.5]);
        assert_eq!(t.lines, [4, 5]);
        let units = Table::parse("time\tvolts\ns\tV\n0\t3.3\n1\t0.1\n").unwrap();
        assert_eq!(units.columns[1].unit.as_deref(), Some("V"));
        let bare = Table::parse("0 ,1.5\n1 ,2.5\n").unwrap();
        assert_eq!(bare.columns[0].name, "column 1");
        assert_eq!(bare.len(), 2);
    }

    #[test]
    fn gaps_and_wrong_cells_have_their_place() {
        let t = Table::parse("t,x\n0,1\n1,\n2,oops\n3,4,5\n").unwrap();
        let x = &t.columns[1];
        assert!(x.values[1].is_nan() && x.values[2].is_nan());
        assert_eq!(x.unreadable, 1);
        assert_eq!(x.first_unreadable, Some((4, "oops".to_owned())));
        assert_eq!(t.ragged_rows, 1);
    }

    #[test]
    fn times_are_seconds() {
        assert_eq!(number("1:02:03.5", false), Some(3723.5));
        assert_eq!(number("02:03,5", true), Some(123.5));
        assert_eq!(number("1970-01-01T00:01:00Z", false), Some(60.0));
        assert_eq!(number("1970-01-01 00:01:00.250", false), Some(60.25));
        assert_eq!(number("1:99", false), None);
        assert_eq!(number("inf", false), None);
    }

    #[test]
    fn wide_text_and_strange_bytes_are_read() {
        let mut wide = vec![0xff, 0xfe];
        wide.extend("t;x\n0;1\n".encode_utf16().flat_map(u16::to_le_bytes));
        assert_eq!(Table::read(&wide[..]).unwrap().columns[1].values, [1.0]);
        assert_eq!(Table::read(&b"t,temp \xb0C\n0,21\n"[..]).unwrap().len(), 1);
    }

    #[test]
    fn line_ends_of_every_kind_give_the_same_table() {
        let plain = String::from("t,rpm\n0,100\n1,200\n") + &"2,300\n".repeat(2_000);
        let wanted = Table::parse(&plain).unwrap();
        assert_eq!((wanted.columns.len(), wanted.len()), (2, 2_002));
        for end in ["\r", "\r\n"] {
            assert_eq!(Table::parse(&plain.replace('\n', end)).unwrap(), wanted);
        }
    }

    #[test]
    fn wide_rows_before_short_ones_do_not_fill_the_memory() {
        let wide = ("1,".repeat(2_000) + "1\n").repeat(60);
        let short = wide.clone() + &"1\n".repeat(2_000);
        assert!(matches!(
            Table::parse(&short),
            Err(TableError::Ragged { columns: 2_001, .. })
        ));
        assert_eq!(Table::parse(&wide).unwrap().len(), 60);
        let wider = ("1,".repeat(5_000) + "1\n").repeat(3);
        assert!(matches!(
            Table::parse(&wider),
            Err(TableError::TooWide { columns: 5_001 })
        ));
    }

    #[test]
    fn refuses_what_is_no_table() {
        assert!(matches!(Table::parse("  \n"), Err(TableError::Empty)));
        assert!(matches!(
            Table::parse("hello\nworld\n"),
            Err(TableError::NoNumbers)
        ));
    }
}
