//! What the builder tells us: the boat file, quantities with units, parts, validation with places.
//! No physics, and no reading of files: texts come in, boats and texts go out.

mod build;
mod change;
mod checked;
mod edit;
mod excerpt;
mod fill;
#[doc(hidden)]
pub mod fuzzing;
mod keys;
mod kind;
mod load;
pub mod making;
mod manual;
pub mod measure;
pub mod merge;
pub mod model;
mod problem;
mod put_in;
mod quantity;
mod schema;
mod sheet;
pub mod starter;
mod template;
mod units;
mod visit;
mod words;

pub use change::Edit;
pub use edit::{EditError, NewValue, Step, add, edit, remove};
pub use excerpt::Excerpt;
pub use kind::{Kind, Unit};
pub use load::load;
pub use manual::manual;
pub use measure::{Measure, Origin};
pub use model::*;
pub use problem::{BoatFileError, Problem, Severity, line_and_column};
pub use put_in::{PutIn, WHY as PUT_IN};
pub use quantity::{Quantity, QuantityError, parse_quantity, show, show_measure, show_quantity};
pub use schema::json_schema;
pub use sheet::{PathStep, SheetForm, SheetKey, SheetTable, sheet, steps};
pub use template::{STARTER_TYPES, template};
pub use units::Units;
