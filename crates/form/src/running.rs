//! Running surfaces: the lowest runs of the hull that carry it on the water at speed.

use boat::Measure;

/// Which side of the boat a surface belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Side {
    Port,
    Centre,
    Starboard,
}

/// One running surface: a pad, a sponson bottom, a vee bottom, an afterplane.
#[derive(Debug, Clone, PartialEq)]
pub struct RunningSurface {
    /// What a builder would call it: `left pad`, `vee bottom`, `afterplane`, `right hull`.
    pub name: String,
    /// Where it lies.
    pub side: Side,
    /// From the trailing edge forward, at least two, x strictly increasing.
    pub stations: Vec<SurfaceStation>,
    /// Angle of the keel line over its straight run ahead of the trailing edge, bow up positive.
    pub angle_rad: Measure,
    /// Chine to chine at the trailing edge, m.
    pub beam_m: Measure,
    /// Width-weighted mean of both panels near the trailing edge.
    pub deadrise_rad: Measure,
    /// Trailing edge on the keel line, boat axes, m.
    pub trailing_edge_m: [f64; 3],
    /// Whether the trailing edge is a step (air behind it below the hull) or the transom.
    pub step: bool,
    /// Heights a rounding of the trailing edge below which flow stays attached, m; 0 is sharp.
    pub edge_radius_m: f64,
}

/// A cross-section of one running surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SurfaceStation {
    /// m.
    pub x_m: f64,
    /// Keel (lowest point) across, m.
    pub keel_y_m: f64,
    /// Keel height, m.
    pub keel_z_m: f64,
    /// From the keel to port.
    pub port: Panel,
    /// From the keel to starboard.
    pub starboard: Panel,
}

/// The bottom from keel to chine on one side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Panel {
    /// Horizontal width from keel to chine, m; 0 where the keel is the edge.
    pub width_m: f64,
    /// Mean rise from keel to chine, rad.
    pub deadrise_rad: f64,
}
