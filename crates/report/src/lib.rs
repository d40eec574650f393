//! The report: one self-contained HTML page with drawings, charts, tables and findings.
//!
//! [`html`] is the report of a boat, [`recordings`] that of recordings; the binary only writes the text
//! to a file. The page needs nothing
//! from the network and runs no script; it is well-formed XML too, prints on A4, and is the same
//! text for the same subject.

mod build_sheet;
mod chart;
mod drawing;
pub mod measured;
mod node;
mod page;
mod recording;
mod sections;
mod subject;
mod svg;
mod ticks;

pub use build_sheet::{BuildSheet, html as build_sheet};
pub use page::html;
pub use recording::recordings;
pub use subject::{Launch, Length, Sizes, Subject, Water};
