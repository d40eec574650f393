//! Recordings turned into measured quantities, each with its uncertainty.
//!
//! Readers take bytes or anything that implements `Read` (and `Seek` where a format needs it); nothing
//! here opens a file, prints or reads a clock, and a recording is never altered. Where a recording
//! cannot tell, the answer says so instead of guessing.

pub mod clock;
pub mod columns;
pub mod fit;
pub mod fuzzing;
pub mod logs;
pub mod measured;
pub mod outing;
pub mod pulses;
pub mod sound;
pub mod table;
#[cfg(test)]
mod testing;
pub mod track;
pub mod video;

pub use measured::Measured;
