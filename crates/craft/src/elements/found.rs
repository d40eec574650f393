//! What several questions of one evaluation have in common: wetted lines, which each are walked once, and the loaded
//! sides of running surfaces.

use std::cell::OnceCell;

use super::planing::Halves;
use super::surface::WetLine;

/// Surfaces of which lines are kept; a boat with more has the others walked anew.
const SURFACES: usize = 8;

/// Which line of a running surface.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Along {
    /// Its keel.
    Keel,
    /// Its outer edge to port.
    Port,
    /// Its outer edge to starboard.
    Starboard,
}

/// What was found of one motion in one water; made anew for the next.
#[derive(Debug, Default)]
pub struct Found {
    lines: [[OnceCell<Option<WetLine>>; 3]; SURFACES],
    halves: [OnceCell<Halves>; SURFACES],
}

impl Found {
    /// Where a surface's two sides are kept.
    pub(super) fn halves(&self, surface: usize) -> Option<&OnceCell<Halves>> {
        self.halves.get(surface)
    }

    pub(crate) fn line(
        &self,
        surface: usize,
        along: Along,
        walk: impl FnOnce() -> Option<WetLine>,
    ) -> Option<WetLine> {
        match self.lines.get(surface) {
            Some(kept) => *kept[along as usize].get_or_init(walk),
            None => walk(),
        }
    }
}
