//! An outing: what the builder says of it, and what its recordings measured.
//!
//! [`recording`] measures any file; every kind comes to the same [`Analysis`]. [`measured`] is the form
//! of `measured.json`: everything later reasoning needs (reconciliation, causes, the page) without
//! opening a recording again.

pub mod analysis;
pub mod events;
pub mod file;
pub mod given;
pub mod hear;
pub mod log;
pub mod marks;
pub mod measured;
pub mod pulses;
pub mod recording;
pub mod together;
pub mod track;

pub use analysis::{Analysis, Trace};
pub use file::OutingFile;
pub use measured::{
    Clock, Condition, Doing, Outing, QuantityKind, RecordedEvent, Recording, RecordingKind, Source,
    Statistic, Unit, Value, Window,
};
