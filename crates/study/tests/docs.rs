//! `docs/quantities.md` is that of the code. `UPDATE_DOCS=1` writes it anew.

use std::fmt::Write as _;
use std::path::Path;

use study::Quantity;

#[test]
fn the_table_of_quantities_is_up_to_date() {
    let mut text = String::from(
        "# Quantities\n\n\
         One definition and one function for each, `study::Study::number`; every face and every question shows what\n\
         it answers. The number shown is that of the boat as declared; the spread is the 95 % half-width over its\n\
         likely variations. Written from the code by `UPDATE_DOCS=1 cargo test --release --workspace --test docs`.\n\n\
         | quantity | symbol | unit | the condition it is for | rests on |\n|---|---|---|---|---|\n",
    );
    for quantity in Quantity::ALL {
        let told = quantity.definition();
        let unit = quantity.unit();
        let _ = writeln!(
            text,
            "| {} | {} | {} | {} | {} |",
            quantity.name(),
            told.symbol,
            unit,
            told.condition,
            told.rests_on
        );
    }
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/quantities.md");
    if std::env::var_os("UPDATE_DOCS").is_some() {
        std::fs::write(&path, &text).expect("docs can be written");
    }
    let committed = std::fs::read_to_string(&path).unwrap_or_default();
    assert_eq!(
        committed, text,
        "docs/quantities.md is stale: run the tests with UPDATE_DOCS=1"
    );
}

#[test]
fn no_two_quantities_share_a_name() {
    let mut names: Vec<_> = Quantity::ALL.iter().map(|q| q.name()).collect();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), Quantity::ALL.len());
}
