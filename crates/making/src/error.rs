//! What can stand in the way of making a hull.

/// Why pieces cannot be made.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum MakingError {
    /// The mesh is no sound solid.
    #[error("the hull's mesh cannot be cut cleanly: {what}")]
    Unsound {
        /// In the geometry library's words, and where.
        what: String,
    },
    /// Nothing that small prints a piece of it.
    #[error(
        "no cut makes it fit a bed of {0:.0} × {1:.0} × {2:.0} mm (2 mm kept free all round): a slice of {name} at x = {x_mm:.0} mm is still {height_mm:.0} mm high",
        .bed_mm[0], .bed_mm[1], .bed_mm[2]
    )]
    BedTooSmall {
        /// Of the body.
        name: String,
        /// Where, mm.
        x_mm: f64,
        /// How high it is there, mm.
        height_mm: f64,
        /// The bed, mm.
        bed_mm: [f64; 3],
    },
    /// A piece must print a way up in which it does not fit.
    #[error("{name} does not fit the bed with {up} up: it is {0:.0} × {1:.0} × {2:.0} mm", .size_mm[0], .size_mm[1], .size_mm[2])]
    DeclaredUp {
        /// Of the piece.
        name: String,
        /// As declared.
        up: &'static str,
        /// Along the boat's axes, mm.
        size_mm: [f64; 3],
    },
    /// Walls meet in the middle.
    #[error(
        "walls of {wall_mm:.1} mm fill the hull, which is {depth_mm:.1} mm deep at most inside its outline"
    )]
    WallsFillIt {
        /// mm.
        wall_mm: f64,
        /// mm.
        depth_mm: f64,
    },
    /// A declared cut misses.
    #[error(
        "the cut at {axis} = {at_mm:.0} mm misses the hull, which reaches from {from_mm:.0} to {to_mm:.0} mm"
    )]
    CutMisses {
        /// `x` or `y`.
        axis: &'static str,
        /// mm.
        at_mm: f64,
        /// mm.
        from_mm: f64,
        /// mm.
        to_mm: f64,
    },
    /// A declared piece is none of those.
    #[error("there is no piece called `{name}`; the pieces are {}", .pieces.join(", "))]
    NoSuchPiece {
        /// As declared.
        name: String,
        /// As made.
        pieces: Vec<String>,
    },
    /// Asked to stop.
    #[error("stopped")]
    Stopped,
}

impl From<form::solid::SolidError> for MakingError {
    fn from(e: form::solid::SolidError) -> Self {
        Self::Unsound {
            what: e.to_string(),
        }
    }
}
