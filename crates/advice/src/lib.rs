//! Findings: what a boat will do, how sure that is, why, and what would change it.
//!
//! A [`Study`] asks one boat everything: mass, rest, the speed curve, the same again for likely
//! variations of the boat and of the laws ([`spread`]), and for the adjustments a builder could
//! make ([`trial`]). [`findings()`] turns it into sentences, worst first.

pub mod along;
pub mod ask;
pub mod finding;
pub mod findings;
pub mod handling;
pub mod hull_type;
pub mod lever;
pub mod number;
pub mod outfit;
pub mod porpoising;
pub mod spread;
pub mod stint;
pub mod study;
pub mod trial;

pub use ask::Detail;
pub use finding::{Basis, Change, Figure, Finding, Limit, Standing};
pub use findings::findings;
pub use lever::Learned;
pub use number::Number;
pub use study::{Effort, Study, StudyError, study, study_with};
