//! Recordings on their way in, piece by piece: who writes now, and what has come whole.
//!
//! A connection that breaks leaves its writer behind, which may notice late. So each piece takes a turn, and whoever's
//! turn is over writes no more.

use std::collections::{HashMap, VecDeque};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};

/// How many that came whole are remembered, for a sender that did not hear of it.
const REMEMBERED: usize = 256;

/// The number of the turn, held while something is written or asked.
pub type Turn = Arc<tokio::sync::Mutex<u64>>;

/// All of them.
#[derive(Default)]
pub struct Uploads {
    turns: Mutex<HashMap<PathBuf, Turn>>,
    whole: Mutex<VecDeque<PathBuf>>,
}

impl Uploads {
    /// Of what is kept at `part` until it is whole.
    pub fn turn(&self, part: &Path) -> Turn {
        let mut turns = self.turns.lock().unwrap_or_else(|e| e.into_inner());
        turns.entry(part.to_owned()).or_default().clone()
    }

    /// All of it has come.
    pub fn finish(&self, part: &Path) {
        let mut turns = self.turns.lock().unwrap_or_else(|e| e.into_inner());
        turns.remove(part);
        let mut whole = self.whole.lock().unwrap_or_else(|e| e.into_inner());
        whole.push_back(part.to_owned());
        if whole.len() > REMEMBERED {
            whole.pop_front();
        }
    }

    /// Whether all of it has come before.
    pub fn is_whole(&self, part: &Path) -> bool {
        let whole = self.whole.lock().unwrap_or_else(|e| e.into_inner());
        whole.iter().any(|known| known == part)
    }
}
