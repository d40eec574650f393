//! Rows of `docs/hard-use.md`, written by the run that counted them.

use std::fs;
use std::path::PathBuf;
use workshop::writing::one_writer;

/// Whether this is the longer run, `bash tests/run hard`.
pub fn long() -> bool {
    std::env::var("HARD_USE").is_ok_and(|how| how == "long")
}

/// As many as this run tries.
pub fn of(ordinary: u64, longer: u64) -> u64 {
    if long() { longer } else { ordinary }
}

/// Tells how often something was tried and what came of it; with `UPDATE_DOCS`, in the row of the document.
pub fn tell(what: &str, tried: u64, came: &str) {
    println!("{what}: {tried} tried; {came}");
    let docs = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../docs");
    let file = docs.join("hard-use.md");
    let update = std::env::var_os("UPDATE_DOCS").is_some();
    let _one = update.then(|| one_writer(&docs).expect("docs can be written"));
    let text = fs::read_to_string(&file).expect("the document");
    let begins = format!("| {what} |");
    let row = text.lines().find(|line| line.starts_with(&begins));
    let row = row.unwrap_or_else(|| panic!("docs/hard-use.md has no row `{what}`"));
    let cells: Vec<&str> = row.trim_matches('|').split('|').map(str::trim).collect();
    let count = spaced(tried);
    let new = match long() {
        true => format!("| {what} | {} | {count} | {came} |", cells[1]),
        false => format!("| {what} | {count} | {} | {} |", cells[2], cells[3]),
    };
    if update {
        fs::write(&file, text.replacen(row, &new, 1)).expect("docs can be written");
    } else if !long() {
        assert_eq!(
            row, new,
            "docs/hard-use.md is stale: run the tests with UPDATE_DOCS=1"
        );
    }
}

/// 100000 as `100 000`.
fn spaced(number: u64) -> String {
    let digits = number.to_string();
    let groups: Vec<&str> = (0..digits.len().div_ceil(3))
        .rev()
        .map(|i| {
            let end = digits.len() - 3 * i;
            &digits[end.saturating_sub(3)..end]
        })
        .collect();
    groups.join(" ")
}
