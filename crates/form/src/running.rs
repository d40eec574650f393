//! Running surfaces: the lowest runs of the hull that carry it on the water at speed.
//!
//! Found from the mesh alone, by exact plane sections, so it does not matter how the surface is
//! cut into triangles. What the water sees from below on each of some 240 frames is divided into
//! runs at sides (steeper than 45 degrees) and non-trip bevels; runs that continue each other
//! from frame to frame are one surface; buttocks give the exact places of steps and trailing
//! edges. Angle, beam and deadrise come from least squares over the straight run ahead of the
//! trailing edge. Keel fins and strakes do not divide a bottom. A surface is listed when it is at
//! least 3.5 % of the length long and 2 % of the beam wide and nothing at its trailing edge hangs
//! more than 8 % of the beam below it (a tunnel roof, a wing).

mod across;
mod ends;
mod fit;
mod measured;
mod names;
mod refine;
mod runs;
mod tracks;
mod underside;

use boat::Measure;

use crate::Mesh;
use crate::sections::{Along, cuts};

pub use across::Across;
pub use measured::{UnknownSurface, apply};

/// Frames over the length of the hull.
const FRAMES: usize = 240;

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
    /// Mean rise of the widest straight face near the trailing edge, rad: what a protractor reads.
    /// It differs from `deadrise_rad` where a keel pad, ride strip or chine flat widens the bottom.
    pub face_deadrise_rad: Measure,
    /// Width of the flat along the keel (keel pad, ride strip) near the trailing edge, m; the
    /// whole beam on a flat pad, 0 on a sharp keel.
    pub keel_flat_m: f64,
    /// What lies between keel and chine, port and starboard: pads, strakes, chine flats, hollows.
    pub across: [Across; 2],
    /// From the keel out to the inner spray strake, m; only as declared.
    pub strake_m: Option<f64>,
    /// Radius of the trailing edge as the mesh has it, m; 0 is sharp.
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

/// Lengths that belong to one hull, m.
#[derive(Debug, Clone, Copy)]
struct Scale {
    /// Of the mesh.
    length_m: f64,
    /// Of the mesh.
    beam_m: f64,
    /// A section's outline is followed this closely.
    tolerance_m: f64,
    /// Jumps of the bottom across, up to this, belong to strakes.
    strake_m: f64,
    /// Jumps along, above this, are steps.
    step_m: f64,
    /// Gap across that a keel fin may leave.
    skeg_m: f64,
    /// Narrower runs are fins, struts and strips.
    narrowest_m: f64,
    /// Shorter surfaces are booms and brackets.
    shortest_m: f64,
    /// A surface this far above something else on its frame is sheltered by it.
    sheltered_m: f64,
}

impl Scale {
    /// Between frames, m.
    fn spacing_m(&self) -> f64 {
        self.length_m / FRAMES as f64
    }

    fn of(mesh: &Mesh) -> Option<Scale> {
        let (low, high) = mesh.bounds()?;
        let (length_m, beam_m) = (high.x - low.x, high.y - low.y);
        (length_m > 0.0 && beam_m > 0.0).then_some(Scale {
            length_m,
            beam_m,
            tolerance_m: 6e-4 * beam_m,
            strake_m: 0.015 * beam_m,
            step_m: 2e-3 * beam_m,
            skeg_m: 0.03 * beam_m,
            narrowest_m: 0.02 * beam_m,
            shortest_m: 0.035 * length_m,
            sheltered_m: 0.08 * beam_m,
        })
    }
}

/// The running surfaces of a closed mesh in boat axes, port to starboard, aft to forward. Empty
/// when nothing of it faces down.
#[must_use]
pub fn find(envelope: &Mesh) -> Vec<RunningSurface> {
    let Some(scale) = Scale::of(envelope) else {
        return Vec::new();
    };
    let frames = frames(envelope, &scale);
    let tracks = tracks::follow(&frames, &scale);
    let mut found: Vec<RunningSurface> = tracks
        .iter()
        .filter(|track| track.at.len() >= 3)
        .flat_map(|track| ends::stretches(envelope, track, &scale))
        .filter_map(|stretch| fit::surface(&stretch, &frames, &scale))
        .collect();
    found.sort_by(|a, b| {
        let (p, q) = (a.trailing_edge_m, b.trailing_edge_m);
        (a.side as u8)
            .cmp(&(b.side as u8))
            .then(p[0].total_cmp(&q[0]))
            .then(q[1].total_cmp(&p[1]))
    });
    names::give(&mut found, &frames, &scale);
    found
}

fn frames(envelope: &Mesh, scale: &Scale) -> Vec<tracks::Frame> {
    let low = envelope.bounds().map_or(0.0, |b| b.0.x);
    let step = scale.spacing_m();
    let at: Vec<f64> = (0..FRAMES).map(|i| low + (i as f64 + 0.5) * step).collect();
    let cut = cuts(envelope, Along::X, &at);
    at.iter()
        .zip(&cut)
        .map(|(x, cut)| tracks::Frame::of(*x, &underside::underside(cut, 1, scale.strake_m), scale))
        .collect()
}
