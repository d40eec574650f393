//! Servo pulses from logic analysers, oscilloscopes and sound cards.
//!
//! A capture of any length streams through [`edges::Detector`]; only the pulses are kept.

pub mod capture;
pub mod edges;
mod lines;
pub mod report;
