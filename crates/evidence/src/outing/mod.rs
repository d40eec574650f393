//! An outing: what the builder says of it, and what its recordings measured.
//!
//! [`measured`] is the form of `measured.json`: everything later reasoning needs (reconciliation,
//! causes, the page) without opening a recording again.

pub mod measured;

pub use measured::{
    Clock, Condition, Motion, Outing, QuantityKind, RecordedEvent, Recording, RecordingKind,
    Source, Statistic, Unit, Value, Window,
};
