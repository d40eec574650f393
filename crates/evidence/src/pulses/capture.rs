//! Captures: tables of changes or samples, and sound cards.

use super::edges::{Between, Detector, Pulse};
use super::lines::Shortened;
use crate::measured::quantile;
use crate::sound::decode::{Sound, SoundError};
use std::io::Read;

/// Rows looked at to learn the layout and the levels: at least several frames at usual rates.
const LOOKED_AT: usize = 400_000;
/// Most pulses kept, so that memory stays bounded: a day at 50 a second.
pub const MOST_PULSES: usize = 4_400_000;
/// A level list with steps this unequal is a list of changes.
const UNEQUAL: f64 = 1.5;

/// A capture turned into pulses.
#[derive(Debug, Clone, PartialEq)]
pub struct Capture {
    /// Pulses in order.
    pub pulses: Vec<Pulse>,
    /// Excursions that did not reach the other level.
    pub runts: usize,
    /// First and last time, s.
    pub span_s: (f64, f64),
    /// Time between samples, s; 0 for a list of changes.
    pub interval_s: f64,
    /// Low and high level.
    pub levels: (f64, f64),
    /// Rows that were no numbers, or went back in time.
    pub skipped_rows: usize,
    /// Row (from 1, headings counted) of the first of these.
    pub first_skipped_row: Option<u64>,
    /// The capture went on after the most pulses kept.
    pub stopped_early: bool,
    /// Pulses point down and were turned round.
    pub inverted: bool,
}

/// Why a capture cannot be read.
#[derive(Debug, thiserror::Error)]
pub enum CaptureError {
    /// No rows of numbers.
    #[error("no rows of numbers were found; a column of time and one of level are expected")]
    NoNumbers,
    /// One column and no rate.
    #[error("the capture has levels but no times; give its sample rate")]
    NoTimes,
    /// The column asked for is not there.
    #[error("column {asked} was asked for, but there are {columns} (counted from 0)")]
    NoColumn {
        /// Asked for.
        asked: usize,
        /// There are.
        columns: usize,
    },
    /// Nothing changes.
    #[error("the level never changes ({level:.3}): is the probe on the signal wire?")]
    Flat {
        /// The level.
        level: f64,
    },
    /// A sound that cannot be heard.
    #[error(transparent)]
    Sound(#[from] SoundError),
    /// It cannot be read.
    #[error("the capture cannot be read")]
    Read(#[from] std::io::Error),
}

/// What is known of a table beforehand.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct CaptureHints {
    /// Column of the level, from 0; the one after the time unless given.
    pub level_column: Option<usize>,
    /// Samples a second, for tables without times.
    pub rate_hz: Option<f64>,
    /// Seconds for one of the time column's units; from its heading unless given, else 1.
    pub time_unit_s: Option<f64>,
}

/// Reads a table of times and levels, of any length.
///
/// # Errors
/// [`CaptureError`].
pub fn read_table(file: impl Read, hints: &CaptureHints) -> Result<Capture, CaptureError> {
    let mut rows = Rows::new(file, hints);
    let mut first = Vec::new();
    while first.len() < LOOKED_AT {
        let Some(row) = rows.next()? else { break };
        first.push(row);
    }
    if first.is_empty() {
        return Err(rows.why_nothing());
    }
    let mut feed = Feed::learn(&first)?;
    let heading = rows
        .row_number()
        .saturating_sub(first.len() as u64 + rows.skipped as u64);
    for (i, (t, v)) in first.iter().enumerate() {
        // Exact unless rows before it were passed over.
        feed.take_row(*t, *v, heading + i as u64 + 1);
    }
    drop(first);
    while !feed.is_full() {
        let Some((t, v)) = rows.next()? else { break };
        feed.take_row(t, v, rows.row_number());
    }
    Ok(feed.finish(rows.skipped, rows.first_skipped))
}

/// Reads the pulses a sound card recorded. Its coupling lets the baseline float and may turn the
/// signal upside down; both are found from the levels.
///
/// # Errors
/// [`CaptureError`].
pub fn read_sound(sound: &mut Sound) -> Result<Capture, CaptureError> {
    let rate = f64::from(sound.info().rate_hz);
    let mut n = 0u64;
    let mut first: Vec<(f64, f64)> = Vec::new();
    let mut feed: Option<Feed> = None;
    loop {
        let block = sound.next_block()?;
        if block.is_empty() {
            break;
        }
        if feed.as_ref().is_some_and(Feed::is_full) {
            break;
        }
        for x in block {
            let row = (n as f64 / rate, f64::from(*x));
            n += 1;
            match &mut feed {
                Some(f) => f.take(row.0, row.1),
                None => first.push(row),
            }
        }
        if feed.is_none() && first.len() >= LOOKED_AT {
            feed = Some(Feed::start(&mut first)?);
        }
    }
    let feed = match feed {
        Some(f) => f,
        None if first.is_empty() => return Err(CaptureError::NoNumbers),
        None => Feed::start(&mut first)?,
    };
    Ok(feed.finish(0, None))
}

/// Whether the level is above a value for most of the time, whatever part of the rows that is.
fn mostly_above(rows: &[(f64, f64)], value: f64) -> bool {
    let (mut above, mut all) = (0.0, 0.0);
    for w in rows.windows(2) {
        let lasts = (w[1].0 - w[0].0).max(0.0);
        all += lasts;
        above += if w[0].1 > value { lasts } else { 0.0 };
    }
    above > 0.5 * all
}

/// Feeds a detector and keeps what is common to all captures.
struct Feed {
    detector: Detector,
    first_s: f64,
    last_s: f64,
    interval_s: f64,
    levels: (f64, f64),
    inverted: bool,
    backwards: usize,
    first_backwards: Option<u64>,
}

impl Feed {
    fn start(first: &mut Vec<(f64, f64)>) -> Result<Self, CaptureError> {
        let mut feed = Self::learn(first)?;
        first.drain(..).for_each(|(t, v)| feed.take(t, v));
        Ok(feed)
    }

    /// Levels, polarity and kind from the first rows.
    fn learn(first: &[(f64, f64)]) -> Result<Self, CaptureError> {
        let levels: Vec<f64> = first.iter().map(|r| r.1).collect();
        let steps: Vec<f64> = first.windows(2).map(|w| w[1].0 - w[0].0).collect();
        let at = |v: &[f64], q| quantile(v, q).unwrap_or(0.0);
        let binary = levels
            .iter()
            .all(|v| *v == levels[0] || *v == 0.0 || *v == 1.0);
        let unequal = at(&steps, 0.95) > UNEQUAL * at(&steps, 0.05).max(1e-12);
        let changes = binary && unequal;
        // Pulses fill 4 to 15 % of the time, so both ends hold a settled level.
        let (mut low, mut high) = (at(&levels, 0.02), at(&levels, 0.985));
        if changes || high <= low {
            (low, high) = (at(&levels, 0.0), at(&levels, 1.0));
        }
        if high <= low {
            return Err(CaptureError::Flat { level: low });
        }
        let inverted = !changes && mostly_above(first, 0.5 * (low + high));
        if inverted {
            (low, high) = (at(&levels, 0.98), at(&levels, 0.015));
        }
        let interval_s = at(&steps, if unequal { 0.05 } else { 0.5 }).max(0.0);
        let between = match (changes, unequal) {
            (true, _) => Between::Holds,
            (false, true) => Between::Thinned(interval_s),
            (false, false) => Between::Varies,
        };
        Ok(Self {
            detector: Detector::new(low, high, between),
            first_s: first[0].0,
            last_s: f64::NEG_INFINITY,
            interval_s: if changes { 0.0 } else { interval_s },
            levels: (low, high),
            inverted,
            backwards: 0,
            first_backwards: None,
        })
    }

    fn is_full(&self) -> bool {
        self.detector.count() >= MOST_PULSES
    }

    fn take(&mut self, time_s: f64, level: f64) {
        self.take_row(time_s, level, 0);
    }

    fn take_row(&mut self, time_s: f64, level: f64, row: u64) {
        if time_s < self.last_s {
            self.backwards += 1;
            self.first_backwards.get_or_insert(row);
            return;
        }
        self.last_s = time_s;
        self.detector.take(time_s, level);
    }

    fn finish(self, skipped: usize, first_skipped: Option<u64>) -> Capture {
        let first = [first_skipped, self.first_backwards];
        let stopped_early = self.is_full();
        let (pulses, runts) = self.detector.finish();
        Capture {
            pulses,
            runts,
            span_s: (self.first_s, self.last_s),
            interval_s: self.interval_s,
            levels: self.levels,
            skipped_rows: skipped + self.backwards,
            first_skipped_row: first.into_iter().flatten().filter(|r| *r > 0).min(),
            stopped_early,
            inverted: self.inverted,
        }
    }
}

/// Rows of a table as (time, level).
struct Rows<R> {
    reader: csv::Reader<Peeked<R>>,
    row: csv::ByteRecord,
    level_column: Option<usize>,
    rate_hz: Option<f64>,
    unit_s: Option<f64>,
    decimal_comma: bool,
    count: u64,
    skipped: usize,
    first_skipped: Option<u64>,
    columns: usize,
}

type Peeked<R> = std::io::Chain<std::io::Cursor<Vec<u8>>, Shortened<R>>;

impl<R: Read> Rows<R> {
    fn new(mut file: R, hints: &CaptureHints) -> Self {
        let mut head = Vec::new();
        // An error here comes again at the first row.
        let _ = file.by_ref().take(8192).read_to_end(&mut head);
        let text = String::from_utf8_lossy(&head).into_owned();
        let count = |c| text.matches(c).count();
        let delimiter = [b';', b'\t', b',']
            .into_iter()
            .find(|d| count(*d as char) >= text.lines().count().saturating_sub(3).max(1))
            .unwrap_or(b',');
        Self {
            reader: csv::ReaderBuilder::new()
                .has_headers(false)
                .flexible(true)
                .delimiter(delimiter)
                .comment(Some(b'#'))
                .quoting(false)
                .from_reader(std::io::Cursor::new(head).chain(Shortened::new(file))),
            row: csv::ByteRecord::new(),
            level_column: hints.level_column,
            rate_hz: hints.rate_hz,
            unit_s: hints.time_unit_s,
            decimal_comma: delimiter == b';' && count(',') > count('.'),
            count: 0,
            skipped: 0,
            first_skipped: None,
            columns: 0,
        }
    }

    fn next(&mut self) -> Result<Option<(f64, f64)>, CaptureError> {
        loop {
            let more = self
                .reader
                .read_byte_record(&mut self.row)
                .map_err(std::io::Error::other)?;
            if !more {
                return Ok(None);
            }
            let alone = self.row.len() == 1;
            let level = self.level_column.unwrap_or(usize::from(!alone));
            let values = (self.number(0), self.number(level));
            match values {
                (Some(_), Some(v)) if alone || self.rate_hz.is_some() => {
                    let Some(rate) = self.rate_hz else {
                        return Err(CaptureError::NoTimes);
                    };
                    let t = self.count as f64 / rate;
                    self.count += 1;
                    return Ok(Some((t, v)));
                }
                (Some(t), Some(v)) => {
                    self.count += 1;
                    return Ok(Some((t * self.unit_s.unwrap_or(1.0), v)));
                }
                _ => self.other_row(),
            }
        }
    }

    /// Line of the row last read, from 1.
    fn row_number(&self) -> u64 {
        self.row.position().map_or(0, csv::Position::line)
    }

    /// A heading before the first numbers, or damage after.
    fn other_row(&mut self) {
        self.columns = self.columns.max(self.row.len());
        if self.count > 0 {
            self.skipped += 1;
            let row = self.row_number();
            self.first_skipped.get_or_insert(row);
            return;
        }
        let heading = String::from_utf8_lossy(self.row.get(0).unwrap_or_default()).to_lowercase();
        let units = [
            ("ms", 1e-3),
            ("us", 1e-6),
            ("µs", 1e-6),
            ("ns", 1e-9),
            ("s", 1.0),
        ];
        let inside = |u: &str| {
            ["(", "["]
                .iter()
                .any(|b| heading.contains(&format!("{b}{u}")))
        };
        let written = units
            .iter()
            .find(|(u, _)| inside(u) || heading.trim() == *u);
        if self.unit_s.is_none() {
            self.unit_s = written.map(|(_, s)| *s);
        }
    }

    fn number(&self, i: usize) -> Option<f64> {
        let cell = self.row.get(i)?.trim_ascii();
        let text = std::str::from_utf8(cell).ok()?.trim_matches('"');
        let value = if self.decimal_comma {
            text.replace(',', ".").parse::<f64>()
        } else {
            text.parse::<f64>()
        };
        value.ok().filter(|v| v.is_finite())
    }

    fn why_nothing(&self) -> CaptureError {
        match self.level_column {
            Some(asked) if self.columns > 0 && asked >= self.columns => CaptureError::NoColumn {
                asked,
                columns: self.columns,
            },
            _ => CaptureError::NoNumbers,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fmt::Write as _;

    #[test]
    fn changes_and_samples_give_the_same_pulses() {
        let mut changes = String::from("Time [ms],Channel 0\n0,0\n");
        for i in 0..50 {
            let t = 5.0 + 20.0 * f64::from(i);
            writeln!(changes, "{t},1\n{},0", t + 1.3).unwrap();
        }
        let c = read_table(changes.as_bytes(), &CaptureHints::default()).unwrap();
        assert_eq!((c.pulses.len(), c.interval_s), (50, 0.0));
        assert!(c.pulses.iter().all(|p| (p.width_s - 1.3e-3).abs() < 1e-9));
        let mut samples = String::from("s;V\n");
        for i in 0..100_000 {
            let t = f64::from(i) * 1e-5;
            let v = if (0.005..0.0063).contains(&(t % 0.02)) {
                3.2
            } else {
                0.05
            };
            writeln!(samples, "{t:.5};{v}").unwrap();
        }
        let c = read_table(
            samples.replace('.', ",").as_bytes(),
            &CaptureHints::default(),
        )
        .unwrap();
        assert_eq!(c.pulses.len(), 50);
        assert!(c.pulses.iter().all(|p| (p.width_s - 1.3e-3).abs() < 1.1e-5));
        assert!((c.interval_s - 1e-5).abs() < 1e-9);
    }

    #[test]
    fn samples_with_those_alike_left_out_keep_their_widths() {
        // Edges of 30 us in steps of 10 us; on the levels only the first and the last sample are kept.
        let course = |t: f64| {
            let since = t % 0.02 - 0.005;
            let up = (since / 30e-6).clamp(0.0, 1.0);
            let down = ((since - 1.5e-3) / 30e-6).clamp(0.0, 1.0);
            0.05 + 3.2 * (up - down)
        };
        let all: Vec<(f64, f64)> = (0..100_000)
            .map(|i| (f64::from(i) * 1e-5, course(f64::from(i) * 1e-5)))
            .collect();
        let mut text = String::from("Time (s),V\n");
        for w in all.windows(3) {
            if w[0].1 != w[1].1 || w[1].1 != w[2].1 {
                writeln!(text, "{:.6},{:.4}", w[1].0, w[1].1).unwrap();
            }
        }
        let c = read_table(text.as_bytes(), &CaptureHints::default()).unwrap();
        assert_eq!(c.pulses.len(), 50);
        assert!((c.interval_s - 1e-5).abs() < 1e-9, "{}", c.interval_s);
        for p in &c.pulses {
            assert!((p.width_s - 1.5e-3).abs() < 2e-6, "{p:?}");
            assert!(p.rise_constant_s < 20e-6, "{p:?}");
        }
    }

    #[test]
    fn what_is_wrong_is_said() {
        let read = |t: &str| read_table(t.as_bytes(), &CaptureHints::default());
        assert!(matches!(read(""), Err(CaptureError::NoNumbers)));
        assert!(matches!(read("a,b\nc,d\n"), Err(CaptureError::NoNumbers)));
        assert!(matches!(
            read("0,1\n1,1\n2,1\n"),
            Err(CaptureError::Flat { .. })
        ));
        assert!(matches!(read("0\n1\n0\n"), Err(CaptureError::NoTimes)));
        let c = read("0,0\n1,1\nx,y\n2,0\n1.5,1\n3,0\n").unwrap();
        assert_eq!(c.skipped_rows, 2);
    }
}
