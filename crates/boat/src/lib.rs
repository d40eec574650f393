//! What the builder tells us: the boat file, quantities with units, parts, validation with places.
//! No physics.

mod build;
mod checked;
mod fill;
mod keys;
mod kind;
mod load;
pub mod measure;
pub mod model;
mod problem;
mod quantity;
pub mod starter;
mod template;
mod words;

pub use kind::{Kind, Unit};
pub use load::load;
pub use measure::{Measure, Origin};
pub use model::*;
pub use problem::{BoatFileError, Problem, Severity, line_and_column};
pub use quantity::{Quantity, QuantityError, parse_quantity, show, show_measure};
pub use template::{STARTER_TYPES, template};
