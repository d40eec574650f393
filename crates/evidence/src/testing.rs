//! Published tables and seeded noise for tests.

use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;

/// A table of named columns; `#` lines are its source. Quoted cells may hold commas.
pub(crate) struct Table {
    columns: Vec<String>,
    rows: Vec<Vec<String>>,
}

impl Table {
    pub(crate) fn read(text: &str) -> Self {
        let mut reader = csv::ReaderBuilder::new()
            .comment(Some(b'#'))
            .flexible(true)
            .from_reader(text.as_bytes());
        let own = |r: &csv::StringRecord| r.iter().map(|c| c.trim().to_owned()).collect();
        Self {
            columns: own(reader.headers().expect("a header line")),
            rows: reader.records().map(|r| own(&r.expect("a row"))).collect(),
        }
    }

    pub(crate) fn len(&self) -> usize {
        self.rows.len()
    }

    pub(crate) fn text(&self, row: usize, column: &str) -> &str {
        let i = self.columns.iter().position(|c| c == column);
        &self.rows[row][i.unwrap_or_else(|| panic!("no column {column}"))]
    }

    pub(crate) fn number(&self, row: usize, column: &str) -> f64 {
        let text = self.text(row, column);
        text.parse()
            .unwrap_or_else(|_| panic!("{column} in row {row} is no number: {text}"))
    }
}

/// Seeded noise.
pub(crate) struct Noise(ChaCha8Rng);

impl Noise {
    pub(crate) fn new(seed: u64) -> Self {
        Self(ChaCha8Rng::seed_from_u64(seed))
    }

    pub(crate) fn uniform(&mut self) -> f64 {
        self.0.random::<f64>()
    }

    /// Standard normal, by Box and Muller.
    pub(crate) fn normal(&mut self) -> f64 {
        let (a, b) = (1.0 - self.uniform(), self.uniform());
        (-2.0 * a.ln()).sqrt() * (std::f64::consts::TAU * b).cos()
    }
}
