//! Controller and motion logs: what they hold, whether it can be true, and what the boat did.
//!
//! A log is read as a [`crate::table::Table`]; [`crate::columns::propose`] says what its columns are
//! and the builder confirms; then [`doubts`] cross-checks and [`motion`] measures.

pub mod doubts;
pub mod motion;
