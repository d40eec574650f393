//! Rows of the published tables in `checks/`.

use std::fs;
use std::path::Path;

/// Numbers of a table, without its comment and headings.
pub fn rows(name: &str) -> Vec<Vec<f64>> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../checks")
        .join(name);
    let text = fs::read_to_string(&path).expect("a table of checks/");
    let lines = text.lines().filter(|l| !l.starts_with('#')).skip(1);
    let number = |c: &str| c.trim().parse().expect("a number");
    lines
        .filter(|l| !l.trim().is_empty())
        .map(|l| l.split(',').map(number).collect())
        .collect()
}
