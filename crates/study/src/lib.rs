//! What is asked of a boat: every quantity there is, of the boat as declared, of its likely variations
//! and of the adjustments a builder could make; its runs in time, turns and set-ups.
//!
//! No sentence is made here: a [`Study`] is numbers and states, and `advice` tells them.

pub mod along;
mod deviates;
pub mod edits;
pub mod handling;
pub mod hull_type;
pub mod joint;
pub mod lever;
pub mod outfit;
mod paired;
pub mod placement;
pub mod porpoising;
pub mod quantity;
pub mod size;
pub mod spread;
pub mod stint;
pub mod strength;
mod study;
pub mod trial;
pub mod worth;

pub use lever::Learned;
pub use paired::paired;
pub use quantity::{Detail, Quantity};
pub use study::{
    Effort, SLIDES, Study, StudyError, Under, hump_current_a, launched, study, study_near,
    study_with,
};
pub use trial::{Adjustment, Source, Subject, Trial};
