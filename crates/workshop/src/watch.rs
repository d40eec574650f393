//! Whoever waits for an answer: told how far it is, and free to want it no longer.

use boat::BoatFileError;

use crate::fault::{Fault, FaultKind, Refusal};

/// Whoever waits for an answer. Everything may be left out.
pub trait Watch: Sync {
    /// What is being done now, in words.
    fn step(&self, _what: &'static str) {}

    /// Which part of the step is done, 0 to 1; from any thread.
    fn part(&self, _done: f64) {}

    /// Something that should be known and keeps nothing from being answered.
    fn remark(&self, _remark: &Remark) {}

    /// Whether the answer is still wanted.
    fn wanted(&self) -> bool {
        true
    }
}

/// Something that should be known beside the answer.
#[derive(Debug)]
pub enum Remark {
    /// Odd places in a text somebody wrote.
    Text(BoatFileError),
    /// A sentence.
    Plain(String),
    /// Something is left out of the answer, and why.
    Without {
        /// What, as a sentence that ends in a colon.
        what: String,
        /// Why.
        fault: Fault,
    },
}

/// Nobody listens, and the answer is wanted to the end.
pub struct Quiet;

impl Watch for Quiet {}

impl Remark {
    /// In plain words, to be sent.
    pub fn refusal(&self) -> Refusal {
        match self {
            Self::Text(odd) => Fault::Text(odd.clone()).refusal(),
            Self::Plain(message) => Refusal {
                kind: FaultKind::Unusable,
                message: message.clone(),
                hint: String::new(),
                problems: Vec::new(),
            },
            Self::Without { what, fault } => {
                let refusal = fault.refusal();
                Refusal {
                    message: format!("{what} {}", refusal.message),
                    ..refusal
                }
            }
        }
    }
}
