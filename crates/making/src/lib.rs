//! Making a hull: pieces for the printer and their joints, what they weigh and take, whether the boat holds,
//! and what the build sheet says. No files, no printing.

pub mod bed;
pub mod error;
pub mod extents;
pub mod filament;
pub mod joint;
pub mod keep_off;
pub mod orient;
pub mod pieces;
pub mod plan;
pub mod section;
pub mod strength;
pub mod tight;
pub mod weigh;

pub use error::MakingError;
pub use pieces::{JointMade, Piece, Pieces, pieces};
