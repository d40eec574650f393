//! What is told: what a boat will do, how sure that is, why, and what would change it.
//!
//! [`findings()`] turns a [`study::Study`] into sentences, worst first.

pub mod change;
pub mod finding;
pub mod findings;
pub mod give;
pub mod learned;
pub mod next;
pub mod number;
mod stronger;
pub mod verdict;
mod wire;

pub use finding::{Basis, Change, Figure, Finding, Limit, Standing};
pub use findings::findings;
pub use give::{Give, give_first};
pub use number::Number;
pub use verdict::{Verdict, verdict};
