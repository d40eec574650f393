//! What was found in the mesh, and the mesh written out.

use advice::Number;
use boat::Kind;
use serde::Serialize;
use std::fmt::Write as _;
use workshop::hull::{HullAnswer, HullAsk, MeshFormat, Surface, mesh};
use workshop::output::Target;
use workshop::{Bench, BoatAt, Quiet, shown};

use super::{Outcome, ask};
use crate::cli::HullArgs;
use crate::failure::Failure;
use crate::output;

/// The shape, and the files.
#[derive(Serialize)]
struct Written<'a> {
    #[serde(flatten)]
    hull: &'a HullAnswer,
    written: Vec<String>,
}

pub fn run(given: &HullArgs) -> Result<Outcome, Failure> {
    let boat = BoatAt::saved(&given.boat);
    let wanted = [
        (given.stl.as_deref(), MeshFormat::Stl),
        (given.threemf.as_deref(), MeshFormat::ThreeMf),
    ];
    let mut targets = Vec::new();
    for (file, format) in wanted {
        if let Some(file) = file {
            targets.push((Target::new(file, Some(&boat), &[], given.force)?, format));
        }
    }
    let question = HullAsk {
        stations: given.stations,
    };
    let hull = ask(&question, &given.boat)?;
    for (target, format) in &targets {
        let bytes = mesh(&Bench::new(Some(&boat), &Quiet), *format)?;
        target.write(&bytes)?;
    }
    let written = Written {
        hull: &hull,
        written: targets
            .iter()
            .map(|(t, _)| t.path().display().to_string())
            .collect(),
    };
    output::give(given.json, &written, |w| {
        let mut text = as_text(w.hull);
        for (target, _) in &targets {
            let _ = writeln!(text, "wrote {}", shown(target.path()));
        }
        text
    })?;
    Ok(Outcome::Good)
}

fn as_text(hull: &HullAnswer) -> String {
    let mut text = format!(
        "{}: {} long, {} wide, {} outside volume, {} triangles\n",
        hull.shape, hull.length, hull.beam, hull.volume, hull.triangles
    );
    for notice in &hull.notices {
        let mark = if notice.serious { "▲" } else { "-" };
        let _ = writeln!(text, "{mark} {}", notice.text);
    }
    text.push_str("\nrunning surfaces\n");
    for surface in &hull.running_surfaces {
        text.push_str(&surface_line(surface));
    }
    if hull.running_surfaces.is_empty() {
        text.push_str("  none found\n");
    }
    if !hull.sections.is_empty() {
        text.push_str("\nsections: ahead of transom, area, half beam, bottom, top\n");
    }
    for s in &hull.sections {
        let _ = writeln!(
            text,
            "  {:>10} {:>12} {:>10} {:>10} {:>10}",
            s.x.to_string(),
            s.area.to_string(),
            s.half_beam.to_string(),
            s.bottom.to_string(),
            s.top.to_string()
        );
    }
    text
}

fn surface_line(surface: &Surface) -> String {
    let edge = &surface.trailing_edge;
    let place = if surface.step {
        format!("ends in a step {} ahead of the transom", edge.x)
    } else {
        "ends at the transom".to_owned()
    };
    let side = if edge.z.value < 0.0 { "below" } else { "above" };
    format!(
        "  {}: angle {}, beam {}, deadrise {}; {place}, {} {side} its bottom edge\n",
        surface.surface,
        surface.angle,
        surface.beam,
        surface.deadrise,
        Number::exact(Kind::Length, edge.z.value.abs()),
    )
}
