//! Force elements, mass properties and the solvers over them.

pub mod solution;

pub use solution::*;
