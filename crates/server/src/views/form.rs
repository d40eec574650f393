//! The shape with what is fitted, for the scene and the flat views.

use advice::Number;
use boat::{Boat, Kind};
use form::sections::{Along, sections};
use nalgebra::Vector3;
use serde::Serialize;
use utoipa::ToSchema;

use super::sheet::Step;
use super::wetted::{patch, reach_m};
use super::{NumberView, point};
use crate::forces::vector;
use crate::studies::Studied;

/// Cross-sections along the length.
const SECTIONS: usize = 21;

/// The shape and what is fitted.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(as = HullForm)]
pub struct FormView {
    /// Of the text it was worked out from.
    pub revision: String,
    /// Names the mesh: the same for the same shape.
    pub mesh: String,
    /// Triangles of the mesh.
    pub triangles: usize,
    /// m.
    pub length_m: f64,
    /// m.
    pub beam_m: f64,
    /// Least and greatest coordinates, boat axes, m.
    pub bounds_m: [[f64; 3]; 2],
    /// Centre of gravity, boat axes, m.
    pub balance_m: [f64; 3],
    /// Centre of buoyancy at rest, boat axes, m.
    pub buoyancy_m: Option<[f64; 3]>,
    /// Running surfaces.
    pub surfaces: Vec<SurfaceView>,
    /// The mass table: shell first, then the parts in file order.
    pub parts: Vec<PartView>,
    /// Propellers, struts, rudders, fins, wings, openings, foam.
    pub fittings: Vec<FittingView>,
    /// Cross-sections.
    pub sections: Vec<SectionView>,
    /// Where the still water meets the hull at rest, boat axes, m.
    pub waterlines_m: Vec<Vec<[f64; 3]>>,
}

/// A running surface.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SurfaceView {
    /// Its name.
    pub name: String,
    /// Its keel line's angle, bow up positive.
    pub angle: NumberView,
    /// At the trailing edge.
    pub beam: NumberView,
    /// Mean of both sides.
    pub deadrise: NumberView,
    /// On the keel, boat axes, m.
    pub trailing_edge_m: [f64; 3],
    /// Whether it ends in a step.
    pub step: bool,
    /// Around it, boat axes, m.
    pub outline_m: Vec<[f64; 3]>,
}

/// One entry of the mass table.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct PartView {
    /// Its name.
    pub name: String,
    /// Its mass.
    pub mass: NumberView,
    /// `weighed`, `predicted from the print`, `given` or `assumed`.
    pub source: String,
    /// Its own centre, boat axes, m.
    pub at_m: [f64; 3],
    /// Length, width, height, m; zero when not given.
    pub size_m: [f64; 3],
    /// Whether a builder can slide it.
    pub movable: bool,
    /// Path of its `at` in the boat file; empty for the shell.
    pub at_path: Vec<Step>,
}

/// Something fitted that feels water or lets it in.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct FittingView {
    /// `propeller`, `strut`, `rudder`, `fin`, `wing`, `opening` or `foam`.
    pub kind: String,
    /// Its name; may be empty.
    pub name: String,
    /// Boat axes, m.
    pub at_m: [f64; 3],
    /// Diameter of a propeller, chord of a blade or wing, m.
    pub chord_m: Option<f64>,
    /// Span downward of a blade, across of a wing, m.
    pub span_m: Option<f64>,
    /// Leaning out of the vertical, degrees.
    pub lean_deg: Option<f64>,
    /// Turned out of straight ahead, degrees.
    pub toe_deg: Option<f64>,
    /// Path of its `at` in the boat file.
    pub at_path: Vec<Step>,
}

/// A cross-section.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SectionView {
    /// m.
    pub x_m: f64,
    /// Closed lines of (y, z), m.
    pub lines_m: Vec<Vec<[f64; 2]>>,
}

/// The shape of a study of the text `text`.
pub fn view(studied: &Studied, text: &str) -> FormView {
    let study = &studied.study;
    let form = &study.form;
    let (low, high) = form.envelope.bounds().unwrap_or_default();
    let afloat = study.rest.afloat.as_ref();
    FormView {
        revision: crate::revision::revision(text),
        mesh: super::mesh::name(&form.envelope),
        triangles: form.envelope.triangles.len(),
        length_m: form.outline.length_m,
        beam_m: form.outline.beam_m,
        bounds_m: [point(&low), point(&high)],
        balance_m: point(&study.mass.cg_m),
        buoyancy_m: afloat.map(|a| point(&a.buoyancy_m)),
        surfaces: form.surfaces.iter().map(surface).collect(),
        parts: study
            .mass
            .items
            .iter()
            .map(|i| part(&study.boat, i))
            .collect(),
        fittings: fittings(&study.boat),
        sections: cross(form, low.x, high.x),
        waterlines_m: afloat.map_or_else(Vec::new, |a| waterlines(form, &a.attitude)),
    }
}

fn surface(s: &form::RunningSurface) -> SurfaceView {
    let n = |kind, m: &boat::Measure| (&Number::new(kind, m.value, m.spread)).into();
    let reach = reach_m(s);
    SurfaceView {
        name: s.name.clone(),
        angle: n(Kind::Angle, &s.angle_rad),
        beam: n(Kind::Length, &s.beam_m),
        deadrise: n(Kind::Angle, &s.deadrise_rad),
        trailing_edge_m: s.trailing_edge_m,
        step: s.step,
        outline_m: patch(s, reach, reach, 1.0).iter().map(point).collect(),
    }
}

fn part(boat: &Boat, item: &craft::MassItem) -> PartView {
    let declared = boat.parts.iter().find(|p| p.name == item.name);
    PartView {
        name: item.name.clone(),
        mass: (&Number::new(Kind::Mass, item.mass_kg, item.spread_kg)).into(),
        source: item.source.to_owned(),
        at_m: point(&item.at_m),
        size_m: declared.map_or([0.0; 3], |p| p.size_m),
        movable: declared.is_some_and(|p| p.movable),
        at_path: declared.map_or_else(Vec::new, |p| path(&["part", &p.name, "at"])),
    }
}

fn path(words: &[&str]) -> Vec<Step> {
    words.iter().map(|w| Step::Word((*w).to_owned())).collect()
}

/// By name where it has one, else by its place.
fn listed(list: &str, name: &str, index: usize, rest: &[&str]) -> Vec<Step> {
    let mut out = path(&[list]);
    out.push(if name.is_empty() || name == list {
        Step::Nth(index)
    } else {
        Step::Word(name.to_owned())
    });
    out.extend(path(rest));
    out
}

fn fittings(boat: &Boat) -> Vec<FittingView> {
    let mut all = Vec::new();
    for (i, drive) in boat.drives.iter().enumerate() {
        let at = &drive.propeller.at;
        let size = Some(drive.propeller.diameter_m.value);
        let way = listed("drive", &drive.name, i, &["propeller", "at"]);
        all.push(bare("propeller", &drive.name, at, size, way));
        if let Some(strut) = &drive.strut {
            let way = listed("drive", &drive.name, i, &["strut", "at"]);
            all.push(blade("strut", strut, way));
        }
    }
    for (kind, blades) in [("rudder", &boat.rudders), ("fin", &boat.fins)] {
        for (i, one) in blades.iter().enumerate() {
            all.push(blade(kind, one, listed(kind, &one.name, i, &["at"])));
        }
    }
    for (i, wing) in boat.wings.iter().enumerate() {
        let way = listed("wing", &wing.name, i, &["at"]);
        let chord = Some(wing.chord_m.value);
        let mut view = bare("wing", &wing.name, &wing.at, chord, way);
        view.span_m = Some(wing.span_m.value);
        all.push(view);
    }
    for (i, opening) in boat.openings.iter().enumerate() {
        let way = listed("opening", &opening.name, i, &["at"]);
        all.push(bare("opening", &opening.name, &opening.at, None, way));
    }
    for (i, float) in boat.floats.iter().enumerate() {
        let way = listed("float", &float.name, i, &["at"]);
        all.push(bare("foam", &float.name, &float.at, None, way));
    }
    all
}

fn bare(
    kind: &str,
    name: &str,
    at: &boat::Place,
    chord_m: Option<f64>,
    at_path: Vec<Step>,
) -> FittingView {
    FittingView {
        kind: kind.to_owned(),
        name: name.to_owned(),
        at_m: point(&vector(at)),
        chord_m,
        span_m: None,
        lean_deg: None,
        toe_deg: None,
        at_path,
    }
}

fn blade(kind: &str, blade: &boat::Blade, at_path: Vec<Step>) -> FittingView {
    FittingView {
        span_m: Some(blade.span_m.value),
        lean_deg: Some(blade.lean_rad.value.to_degrees()),
        toe_deg: Some(blade.toe_rad.value.to_degrees()),
        ..bare(
            kind,
            &blade.name,
            &blade.at,
            Some(blade.chord_m.value),
            at_path,
        )
    }
}

/// Cross-sections, stern first.
pub fn cross(form: &form::Form, from: f64, to: f64) -> Vec<SectionView> {
    let at: Vec<f64> = (0..SECTIONS)
        .map(|i| from + (to - from) * (i as f64 + 0.5) / SECTIONS as f64)
        .collect();
    let cut = sections(&form.envelope, Along::X, &at);
    let each = at.iter().zip(cut);
    each.map(|(x, lines)| SectionView {
        x_m: *x,
        lines_m: lines
            .iter()
            .map(|l| l.points.iter().map(|p| [p.y, p.z]).collect())
            .collect(),
    })
    .collect()
}

fn waterlines(form: &form::Form, attitude: &craft::Attitude) -> Vec<Vec<[f64; 3]>> {
    let turn = craft::attitude::rotation(0.0, attitude.trim_rad, attitude.heel_rad);
    let lift = Vector3::z() * attitude.rise_m;
    let world = form.envelope.map(|p| turn * p + lift);
    let cut = sections(&world, Along::Z, &[0.0]);
    let back = |p: &Vector3<f64>| point(&(turn.inverse() * (p - lift)));
    let lines = cut.iter().flatten();
    lines.map(|l| l.points.iter().map(back).collect()).collect()
}
