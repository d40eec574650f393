//! Force elements, mass properties and the solvers over them.

pub mod added_mass;
mod alike;
mod assembly;
pub mod attitude;
mod branch;
mod course;
pub mod craft;
pub mod curve;
mod describe;
#[cfg(test)]
#[path = "../tests/docs/mod.rs"]
mod docs;
pub mod drive;
pub mod element;
pub mod elements;
pub mod factors;
mod floating;
mod geometry;
pub mod launch;
pub mod mass;
pub mod motion;
mod near;
pub mod outcome;
pub mod rest;
mod search;
pub mod solution;
pub mod steady;
#[cfg(test)]
mod steady_tests;
#[cfg(test)]
mod testing;
mod way;

pub use craft::{Craft, CraftError};
pub use factors::Factors;
pub use outcome::{CannotRun, Unsteady};
pub use solution::*;
