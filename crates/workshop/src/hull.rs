//! What was found in the hull's mesh, and the mesh written out.

use advice::Number;
use boat::{Kind, Measure};
use form::sections::{Along, sections};
use form::{EnvelopeKind, Form, RunningSurface};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::bench::Bench;
use crate::check::Notice;
use crate::fault::Fault;
use crate::question::Question;

/// What is the hull's shape?
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct HullAsk {
    /// So many sections along the length.
    #[schema(maximum = 1000)]
    pub stations: u32,
}

/// The hull's shape.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct HullAnswer {
    /// In words.
    pub shape: String,
    /// Overall.
    pub length: Number,
    /// Overall.
    pub beam: Number,
    /// Of the outside.
    pub volume: Number,
    /// Of the outside.
    pub triangles: usize,
    /// What the reader found.
    pub notices: Vec<Notice>,
    /// By the names that `[[hull.running]]` uses.
    pub running_surfaces: Vec<Surface>,
    /// Along the length.
    pub sections: Vec<Section>,
}

/// A running surface.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Surface {
    /// Its name.
    pub surface: String,
    /// To the bottom's line.
    pub angle: Number,
    /// Across.
    pub beam: Number,
    /// From horizontal.
    pub deadrise: Number,
    /// Where it ends.
    pub trailing_edge: Point,
    /// Whether it ends in a step.
    pub step: bool,
}

/// A place, boat axes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Point {
    /// Ahead of the transom.
    pub x: Number,
    /// To port.
    pub y: Number,
    /// Above the transom's bottom edge.
    pub z: Number,
}

/// A section across the hull.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Section {
    /// Ahead of the transom.
    pub x: Number,
    /// Inside its outline.
    pub area: Number,
    /// Widest, from the middle.
    pub half_beam: Number,
    /// Lowest.
    pub bottom: Number,
    /// Highest.
    pub top: Number,
}

/// How to write a mesh.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MeshFormat {
    /// Binary STL.
    Stl,
    /// 3MF.
    ThreeMf,
}

impl Question for HullAsk {
    type Answer = HullAnswer;

    fn answer(&self, bench: &Bench) -> Result<HullAnswer, Fault> {
        let form = bench.load()?.form;
        let outline = &form.outline;
        let length = |m| Number::exact(Kind::Length, m);
        Ok(HullAnswer {
            shape: in_words(form.kind).to_owned(),
            length: length(outline.length_m),
            beam: length(outline.beam_m),
            volume: Number::exact(Kind::Volume, form.envelope.signed_volume_m3()),
            triangles: form.envelope.triangles.len(),
            notices: form.notices.iter().map(Notice::of).collect(),
            running_surfaces: form.surfaces.iter().map(Surface::of).collect(),
            sections: stations(&form, self.stations),
        })
    }
}

/// The outer shape as a mesh file, mm and boat axes.
///
/// # Errors
/// [`Fault`] when the boat cannot be read or its shape cannot be written so.
pub fn mesh(bench: &Bench, format: MeshFormat) -> Result<Vec<u8>, Fault> {
    let loaded = bench.load()?;
    let envelope = &loaded.form.envelope;
    let refused = |e: &dyn std::fmt::Display| Fault::new(e.to_string(), "");
    match format {
        MeshFormat::Stl => form::write::stl(envelope).map_err(|e| refused(&e)),
        MeshFormat::ThreeMf => {
            form::write::threemf(envelope, &loaded.boat.name).map_err(|e| refused(&e))
        }
    }
}

fn in_words(kind: EnvelopeKind) -> &'static str {
    match kind {
        EnvelopeKind::Solid => "a solid outside shape",
        EnvelopeKind::ClosedShell => "a closed shell with a cavity",
        EnvelopeKind::OpenShell => "a hull open at the top, dry inside up to its rim",
    }
}

impl Surface {
    fn of(surface: &RunningSurface) -> Self {
        let number = |kind, measure: &Measure| Number::new(kind, measure.value, measure.spread);
        let [x, y, z] = surface
            .trailing_edge_m
            .map(|c| Number::exact(Kind::Length, c));
        Self {
            surface: surface.name.clone(),
            angle: number(Kind::Angle, &surface.angle_rad),
            beam: number(Kind::Length, &surface.beam_m),
            deadrise: number(Kind::Angle, &surface.deadrise_rad),
            trailing_edge: Point { x, y, z },
            step: surface.step,
        }
    }
}

/// Evenly spaced, half a spacing in from both ends.
fn stations(form: &Form, count: u32) -> Vec<Section> {
    let Some((low, high)) = form.envelope.bounds() else {
        return Vec::new();
    };
    let count = f64::from(count);
    let at: Vec<f64> = (0..count as usize)
        .map(|i| low.x + (high.x - low.x) * (i as f64 + 0.5) / count)
        .collect();
    let cuts = sections(&form.envelope, Along::X, &at);
    let length = |m| Number::exact(Kind::Length, m);
    at.iter()
        .zip(cuts)
        .filter(|(_, lines)| !lines.is_empty())
        .map(|(x_m, lines)| {
            let points = || lines.iter().flat_map(|l| &l.points);
            let area_m2 = lines.iter().map(|l| l.area_m2(Along::X)).sum();
            Section {
                x: length(*x_m),
                area: Number::exact(Kind::Area, area_m2),
                half_beam: length(points().map(|p| p.y.abs()).fold(0.0, f64::max)),
                bottom: length(points().map(|p| p.z).fold(f64::INFINITY, f64::min)),
                top: length(points().map(|p| p.z).fold(f64::NEG_INFINITY, f64::max)),
            }
        })
        .collect()
}
