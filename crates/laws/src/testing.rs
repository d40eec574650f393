//! Reads the published tables in `checks/` for tests.

/// A table of named columns; `#` lines are its source.
pub(crate) struct Table {
    columns: Vec<String>,
    rows: Vec<Vec<String>>,
}

impl Table {
    pub(crate) fn read(text: &str) -> Self {
        let mut lines = text
            .lines()
            .filter(|l| !l.starts_with('#') && !l.trim().is_empty());
        let cells = |l: &str| {
            l.split(',')
                .map(|c| c.trim().to_owned())
                .collect::<Vec<_>>()
        };
        let columns = cells(lines.next().expect("a header line"));
        Self {
            columns,
            rows: lines.map(cells).collect(),
        }
    }

    pub(crate) fn len(&self) -> usize {
        self.rows.len()
    }

    pub(crate) fn text(&self, row: usize, column: &str) -> &str {
        let i = self
            .columns
            .iter()
            .position(|c| c == column)
            .unwrap_or_else(|| panic!("no column {column}"));
        &self.rows[row][i]
    }

    pub(crate) fn maybe(&self, row: usize, column: &str) -> Option<f64> {
        self.text(row, column).parse().ok()
    }

    pub(crate) fn number(&self, row: usize, column: &str) -> f64 {
        self.maybe(row, column)
            .unwrap_or_else(|| panic!("{column} in row {row} is no number"))
    }
}

pub(crate) fn relative(got: f64, published: f64) -> f64 {
    ((got - published) / published).abs()
}
