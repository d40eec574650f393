//! The parts of the page that are mostly words and numbers.

pub mod findings;
pub mod handling;
pub mod holds;
pub mod known;
pub mod launch;
pub mod masses;
pub mod power;
pub mod rest;
pub mod running;
pub mod sized;
pub mod table;
pub mod verdict;
pub mod water;
