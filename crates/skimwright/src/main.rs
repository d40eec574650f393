//! skimwright on the command line.
//!
//! The HTML report lives in its own crate, `report` (`report::html(&report::Subject) -> String`,
//! written by "report", not here): `skimwright report` only loads, calls it and saves the text.
fn main() {}
