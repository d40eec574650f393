//! The report: one self-contained HTML page with drawings, charts, tables and findings.
//!
//! `html(&Subject)` is its whole face; the binary only writes the text to a file.
