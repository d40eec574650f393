//! What a day at the water teaches: measured beside predicted, the model's uncertain numbers
//! corrected, and the causes of what went wrong.
//!
//! Nothing here opens a file, prints or reads a clock, and nothing is corrected unless it is asked for.

pub mod agree;
pub mod beside;
pub mod day;
pub mod fit;
pub mod keep;
pub mod model;
pub mod observe;
pub mod reconcile;
pub mod why;
