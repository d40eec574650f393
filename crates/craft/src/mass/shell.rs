//! What the printed shell weighs, from its shape and how it is printed.
//!
//! - Meshes that model their own walls: wall volume times density.
//! - Otherwise each facet of the outside carries a wall inward of it. Its thickness blends the
//!   perimeters (upright facets) and the solid top and bottom layers (level facets):
//!   `t = wall (1 - n_z^2) + top_bottom n_z^2`, printed as it floats. Our interpolation, no
//!   published source; exact when both thicknesses are equal. Curvature is neglected: a wall
//!   1/40 of the beam thick is over-estimated by a few percent.
//! - Prints that are not hollow carry infill in what the walls leave.
//! - Coating covers the outside. Frames and spigots are a fraction of the print.

use boat::{Measure, Print};
use form::{EnvelopeKind, Form};
use nalgebra::Vector3;

use super::body::{self, Body};

/// Tolerance on height for calling a facet part of an open hull's closing lid, m.
const LID_HEIGHT_M: f64 = 1e-4;

/// The shape integrals a shell's mass is linear in.
pub struct Shell {
    /// Per metre of wall thickness at unit density.
    walls: Body,
    /// Per metre of top and bottom thickness.
    levels: Body,
    /// Outer area.
    skin: Body,
    /// Everything inside the outer surface.
    inside: Body,
    /// Volume and centre of the walls when the mesh has them.
    modelled: Option<(f64, Vector3<f64>)>,
}

impl Shell {
    /// Integrates over the envelope once.
    pub fn of(form: &Form) -> Self {
        let [mut walls, mut levels, mut skin] = [Body::default(); 3];
        for corners in form.envelope.faces() {
            let (area, normal) = body::facet(&corners);
            if is_lid(form, &corners, normal) {
                continue;
            }
            let sheet = body::sheet(&corners, area);
            let level = normal.z * normal.z;
            walls = walls + sheet * (1.0 - level);
            levels = levels + sheet * level;
            skin = skin + sheet;
        }
        let modelled = form.wall_volume_m3.map(|volume| {
            let centre = form.wall_centroid_m.map(Vector3::from).or(skin.centre());
            (volume, centre.unwrap_or_default())
        });
        Self {
            walls,
            levels,
            skin,
            inside: body::solid(&form.envelope),
            modelled,
        }
    }

    /// Plastic of the print, frames included.
    pub fn print(&self, print: &Print) -> Body {
        self.plastic(print) * (print.density_kg_m3.value * (1.0 + print.extra_fraction.value))
    }

    /// Coating on the outside.
    pub fn coating(&self, print: &Print) -> Body {
        self.skin * print.coating_kg_m2.value
    }

    /// The outer skin at unit mass per area: a stand-in where only a shape is needed.
    pub fn skin(&self) -> Body {
        self.skin
    }

    /// Solid plastic without frames at unit density.
    fn plastic(&self, print: &Print) -> Body {
        if let Some((volume, centre)) = self.modelled {
            return self.skin.placed(volume, centre);
        }
        let walls = self.walls * print.wall_m.value + self.levels * print.top_bottom_m.value;
        let inside = self.inside.mass;
        if walls.mass >= inside && inside > 0.0 {
            return self.inside;
        }
        if print.hollow {
            return walls;
        }
        walls + (self.inside + walls * -1.0) * print.infill.value
    }
}

/// The printing numbers that carry a spread, each moved by its half-width in turn.
pub fn moved(print: &Print) -> Vec<Print> {
    let fields: [fn(&mut Print) -> &mut Measure; 6] = [
        |p| &mut p.density_kg_m3,
        |p| &mut p.wall_m,
        |p| &mut p.top_bottom_m,
        |p| &mut p.infill,
        |p| &mut p.extra_fraction,
        |p| &mut p.coating_kg_m2,
    ];
    fields
        .into_iter()
        .map(|field| with_moved(print, field))
        .collect()
}

fn with_moved(print: &Print, field: fn(&mut Print) -> &mut Measure) -> Print {
    let mut changed = print.clone();
    let measure = field(&mut changed);
    measure.value += measure.spread;
    changed
}

/// Corners of the facets that close an open hull at its rim: water sees them, nobody prints
/// them. Taken as all that face up at or above the rim's lowest point, so a flat deck level with
/// the rim counts too: its edge is then judged as rim, and a skin's deck is missing in the mass.
pub(crate) fn lid(form: &Form) -> impl Iterator<Item = [Vector3<f64>; 3]> {
    form.envelope
        .faces()
        .filter(|corners| is_lid(form, corners, body::facet(corners).1))
}

fn is_lid(form: &Form, corners: &[Vector3<f64>; 3], normal: Vector3<f64>) -> bool {
    let Some(rim) = form.rim_m else { return false };
    form.kind == EnvelopeKind::OpenShell
        && normal.z > 0.5
        && corners
            .iter()
            .all(|corner| corner.z >= rim[2] - LID_HEIGHT_M)
}
