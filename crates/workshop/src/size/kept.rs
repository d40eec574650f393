//! Why a boat has the size it has, kept in its folder for the report: `sized.json`.

use advice::Number;
use serde::{Deserialize, Serialize};
use std::path::Path;

use super::told::Size;
use crate::beneath::{beneath, read_at_most};
use crate::fault::{Fault, shown};

/// Its name in the boat folder.
pub const SIZED: &str = "sized.json";
/// A larger one is none of ours.
const MOST_BYTES: u64 = 1 << 20;

/// What was asked, and every length that was tried.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Kept {
    /// Everything but the printed hull.
    pub carry: Number,
    /// In series of each pack.
    pub cells: u32,
    /// Wanted.
    pub speed: Number,
    /// A sentence each.
    pub why: Vec<String>,
    /// Shortest first.
    pub sizes: Vec<Size>,
}

impl Kept {
    /// As the file holds it.
    ///
    /// # Errors
    /// [`Fault`] for a number that JSON cannot hold.
    pub fn bytes(&self) -> Result<Vec<u8>, Fault> {
        serde_json::to_vec_pretty(self).map_err(|e| Fault::new(format!("{SIZED}: {e}"), ""))
    }

    /// What a boat folder holds; nothing where it was not sized here.
    ///
    /// # Errors
    /// [`Fault`] for a file that cannot be read.
    pub fn read(folder: &Path) -> Result<Option<Self>, Fault> {
        let file = beneath(folder, SIZED)?;
        if !file.exists() {
            return Ok(None);
        }
        let bytes = read_at_most(&file, MOST_BYTES)?;
        serde_json::from_slice(&bytes).map(Some).map_err(|e| {
            Fault::new(
                format!("{}: {e}", shown(&file)),
                "delete it: only the report's picture of sizes needs it",
            )
        })
    }

    /// For the report.
    pub fn drawn(self) -> report::Sizes {
        let lengths = self.sizes.into_iter();
        report::Sizes {
            carry: self.carry,
            cells: self.cells,
            speed: self.speed,
            why: self.why,
            lengths: lengths
                .map(|s| report::Length {
                    chosen: s.chosen,
                    length: s.length,
                    mass: s.mass,
                    print_mass: s.print_mass,
                    freeboard: s.freeboard,
                    planes_from: s.planes_from,
                    top_speed: s.top_speed,
                    misses: s.misses,
                })
                .collect(),
        }
    }
}
