//! Force elements, mass properties and the solvers over them.

pub mod attitude;
pub mod mass;
pub mod rest;
pub mod solution;

pub use solution::*;
