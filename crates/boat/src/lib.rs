//! What the builder tells us: the boat file, quantities with units, parts, validation with places.
//! No physics.

pub mod measure;
pub mod model;
pub mod starter;

pub use measure::{Measure, Origin};
pub use model::*;
