//! What goes wrong with fast boats, and why: symptoms, each with its causes, the most frequent first.
//!
//! Common practice, no source, unless a clue's own finding says otherwise. The order is what builders
//! meet most often; the clues say how the model of this boat or a recording can speak for or against a
//! cause. Here is what the two are; the tables themselves are in `symptoms` and `causes`.

use super::clue::Clue;
use study::{Adjustment, Quantity};

pub use super::causes::CAUSES;
pub use super::symptoms::SYMPTOMS;

/// Before hands go near the propeller.
pub const PROPELLER: &str = "Disconnect the pack before touching propeller, shaft or strut: with a pack in, the propeller is live.";
/// Before touching packs.
pub const LITHIUM: &str = "Let a hot or wet pack rest outdoors on something that does not burn; never charge one that is swollen, wet or crashed.";
/// Before fetching it.
pub const RECOVERY: &str = "Never swim after a boat: fetch it with a line, a pole or a second boat, never alone, all other boats stopped.";

/// A cause.
#[derive(Debug, PartialEq)]
pub struct Cause {
    /// Stable name, for scripts.
    pub id: &'static str,
    /// What it is.
    pub what: &'static str,
    /// The one thing to try.
    pub try_next: &'static str,
    /// What to measure to decide.
    pub measure: &'static str,
    /// How model and recordings can tell.
    pub clues: &'static [Clue],
    /// Adjustment that the model tries, and the number it should move.
    pub trial: Option<(Adjustment, Quantity)>,
    /// For whoever tries it.
    pub caution: Option<&'static str>,
}

/// A symptom.
#[derive(Debug, PartialEq)]
pub struct Symptom {
    /// Stable name, for scripts.
    pub id: &'static str,
    /// What a builder sees.
    pub name: &'static str,
    /// Ways to say it, in the meanings of `lexicon`; how they are written is told in `symptoms`.
    pub said: &'static [&'static str],
    /// Names of causes, the most frequent first.
    pub causes: &'static [&'static str],
    /// Whatever the cause.
    pub note: Option<&'static str>,
}

/// A cause by its name.
pub fn cause(id: &str) -> Option<&'static Cause> {
    CAUSES.iter().find(|c| c.id == id)
}

impl Cause {
    pub(super) const fn new(
        id: &'static str,
        what: &'static str,
        try_next: &'static str,
        measure: &'static str,
        clues: &'static [Clue],
    ) -> Self {
        Self {
            id,
            what,
            try_next,
            measure,
            clues,
            trial: None,
            caution: None,
        }
    }

    pub(super) const fn trial(self, adjustment: Adjustment, quantity: Quantity) -> Self {
        Self {
            trial: Some((adjustment, quantity)),
            ..self
        }
    }

    pub(super) const fn caution(self, caution: &'static str) -> Self {
        Self {
            caution: Some(caution),
            ..self
        }
    }
}
