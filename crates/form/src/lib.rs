//! Hull shape: mesh files in and out, repair, outer envelope, sections, running surfaces,
//! starter hulls.

mod assemble;
mod bodies;
pub mod clip;
pub mod columns;
mod crossing;
mod envelope;
mod flood;
#[doc(hidden)]
pub mod fuzzing;
pub mod mesh;
pub mod orient;
pub mod outline;
mod rays;
pub mod read;
pub mod repair;
pub mod running;
pub mod sections;
pub mod solid;
pub mod starter;
mod units;
pub mod write;

pub use assemble::CELLS as COLUMN_CELLS;
pub use assemble::{assemble, assemble_placed};
pub use clip::{Immersed, WaterPlane};
pub use columns::Columns;
pub use mesh::Mesh;
pub use running::{Across, Panel, RunningSurface, Side, SurfaceStation};

/// What kind of mesh the builder gave us, found from the shape.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EnvelopeKind {
    /// A solid outside shape.
    Solid,
    /// An outer skin with a closed cavity inside.
    ClosedShell,
    /// A hull open at the top: dry inside up to its rim.
    OpenShell,
}

/// Something the reader found, repaired or could not repair.
#[derive(Debug, Clone, PartialEq)]
pub struct Notice {
    /// True when the result may be wrong because of it.
    pub serious: bool,
    /// A sentence with numbers and, where there is one, the place in mm.
    pub text: String,
}

/// Projected areas and their middles, for air forces and drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outline {
    /// From ahead, m2.
    pub front_area_m2: f64,
    /// Height of the middle of the front area, m.
    pub front_centre_z_m: f64,
    /// From the side, m2.
    pub side_area_m2: f64,
    /// Middle of the side area (x, z), m.
    pub side_centre_m: [f64; 2],
    /// From above, m2.
    pub plan_area_m2: f64,
    /// x of the middle of the plan area, m.
    pub plan_centre_x_m: f64,
    /// Greatest beam, m.
    pub beam_m: f64,
    /// Length, m.
    pub length_m: f64,
}

impl Form {
    /// What it takes in memory, bytes; running surfaces and notices are small beside the mesh.
    #[must_use]
    pub fn bytes(&self) -> usize {
        let walls = self.walls.as_ref().map_or(0, |walls| walls.bytes());
        let columns = 5 * size_of::<f64>() * self.columns.len();
        size_of::<Self>() + self.envelope.bytes() + walls + columns
    }
}

/// The hull as every solver sees it.
#[derive(Debug, Clone)]
pub struct Form {
    /// Watertight outer surface: everything inside displaces water.
    pub envelope: Mesh,
    /// What was found.
    pub kind: EnvelopeKind,
    /// Volume between outer and inner skins when the mesh models the walls itself, m3.
    pub wall_volume_m3: Option<f64>,
    /// Centre of that wall material, m.
    pub wall_centroid_m: Option<[f64; 3]>,
    /// That wall material itself: outside, inside and rim as one closed surface.
    pub walls: Option<std::sync::Arc<Mesh>>,
    /// Lowest point of an open shell's rim, m.
    pub rim_m: Option<[f64; 3]>,
    /// Findings of the reader, in order.
    pub notices: Vec<Notice>,
    /// Port to starboard, aft to forward.
    pub surfaces: Vec<RunningSurface>,
    /// See [`Columns`].
    pub columns: std::sync::Arc<Columns>,
    /// See [`Outline`].
    pub outline: Outline,
}
