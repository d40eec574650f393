//! What was found in the mesh, and the mesh written out.

use advice::Number;
use boat::{Kind, Measure};
use form::sections::{Along, sections};
use form::{EnvelopeKind, Form, RunningSurface};
use serde_json::{Value, json};
use std::fmt::Write as _;

use super::Outcome;
use crate::boat_folder::{self, write_whole};
use crate::cli::HullArgs;
use crate::failure::{Failure, shown};
use crate::output;

pub fn run(given: &HullArgs) -> Result<Outcome, Failure> {
    let loaded = boat_folder::load(&given.boat)?;
    let form = &loaded.form;
    let mut written = Vec::new();
    if let Some(file) = &given.stl {
        let bytes = form::write::stl(&form.envelope)
            .map_err(|error| Failure::new(error.to_string(), ""))?;
        write_whole(file, &bytes)?;
        written.push(file);
    }
    if let Some(file) = &given.threemf {
        let bytes = form::write::threemf(&form.envelope, &loaded.boat.name)
            .map_err(|error| Failure::new(error.to_string(), ""))?;
        write_whole(file, &bytes)?;
        written.push(file);
    }
    let stations = stations(form, given.stations);
    if given.json {
        let mut answer = as_json(form, &stations);
        answer["written"] = written.iter().map(|f| f.display().to_string()).collect();
        return output::print_json(&answer).map(|()| Outcome::Good);
    }
    let mut text = as_text(form, &stations);
    for file in written {
        let _ = writeln!(text, "wrote {}", shown(file));
    }
    output::print(&text)?;
    Ok(Outcome::Good)
}

fn exact(kind: Kind, value: f64) -> Number {
    Number::exact(kind, value)
}

fn number(kind: Kind, measure: &Measure) -> Number {
    Number::new(kind, measure.value, measure.spread)
}

fn kind_in_words(kind: EnvelopeKind) -> &'static str {
    match kind {
        EnvelopeKind::Solid => "a solid outside shape",
        EnvelopeKind::ClosedShell => "a closed shell with a cavity",
        EnvelopeKind::OpenShell => "a hull open at the top, dry inside up to its rim",
    }
}

/// A section across the hull.
struct Station {
    x_m: f64,
    area_m2: f64,
    half_beam_m: f64,
    bottom_z_m: f64,
    top_z_m: f64,
}

/// Evenly spaced, half a spacing in from both ends.
fn stations(form: &Form, count: u32) -> Vec<Station> {
    let Some((low, high)) = form.envelope.bounds() else {
        return Vec::new();
    };
    let count = f64::from(count);
    let at: Vec<f64> = (0..count as usize)
        .map(|i| low.x + (high.x - low.x) * (i as f64 + 0.5) / count)
        .collect();
    let cuts = sections(&form.envelope, Along::X, &at);
    at.iter()
        .zip(cuts)
        .filter(|(_, lines)| !lines.is_empty())
        .map(|(x_m, lines)| {
            let points = || lines.iter().flat_map(|l| &l.points);
            Station {
                x_m: *x_m,
                area_m2: lines.iter().map(|l| l.area_m2(Along::X)).sum(),
                half_beam_m: points().map(|p| p.y.abs()).fold(0.0, f64::max),
                bottom_z_m: points().map(|p| p.z).fold(f64::INFINITY, f64::min),
                top_z_m: points().map(|p| p.z).fold(f64::NEG_INFINITY, f64::max),
            }
        })
        .collect()
}

fn as_text(form: &Form, stations: &[Station]) -> String {
    let outline = &form.outline;
    let mut text = format!(
        "{}: {} long, {} wide, {} outside volume, {} triangles\n",
        kind_in_words(form.kind),
        exact(Kind::Length, outline.length_m),
        exact(Kind::Length, outline.beam_m),
        exact(Kind::Volume, form.envelope.signed_volume_m3()),
        form.envelope.triangles.len()
    );
    for notice in &form.notices {
        let mark = if notice.serious { "▲" } else { "-" };
        let _ = writeln!(text, "{mark} {}", notice.text);
    }
    text.push_str("\nrunning surfaces\n");
    for surface in &form.surfaces {
        text.push_str(&surface_line(surface));
    }
    if form.surfaces.is_empty() {
        text.push_str("  none found\n");
    }
    if !stations.is_empty() {
        text.push_str("\nsections: ahead of transom, area, half beam, bottom, top\n");
    }
    for s in stations {
        let _ = writeln!(
            text,
            "  {:>10} {:>12} {:>10} {:>10} {:>10}",
            exact(Kind::Length, s.x_m).to_string(),
            exact(Kind::Area, s.area_m2).to_string(),
            exact(Kind::Length, s.half_beam_m).to_string(),
            exact(Kind::Length, s.bottom_z_m).to_string(),
            exact(Kind::Length, s.top_z_m).to_string()
        );
    }
    text
}

fn surface_line(surface: &RunningSurface) -> String {
    let [x, _, z] = surface.trailing_edge_m;
    let place = if surface.step {
        format!(
            "ends in a step {} ahead of the transom",
            exact(Kind::Length, x)
        )
    } else {
        "ends at the transom".to_owned()
    };
    let side = if z < 0.0 { "below" } else { "above" };
    format!(
        "  {}: angle {}, beam {}, deadrise {}; {place}, {} {side} its bottom edge\n",
        surface.name,
        number(Kind::Angle, &surface.angle_rad),
        number(Kind::Length, &surface.beam_m),
        number(Kind::Angle, &surface.deadrise_rad),
        exact(Kind::Length, z.abs()),
    )
}

fn as_json(form: &Form, stations: &[Station]) -> Value {
    let outline = &form.outline;
    json!({
        "shape": kind_in_words(form.kind),
        "length": exact(Kind::Length, outline.length_m),
        "beam": exact(Kind::Length, outline.beam_m),
        "volume": exact(Kind::Volume, form.envelope.signed_volume_m3()),
        "triangles": form.envelope.triangles.len(),
        "notices": form.notices.iter()
            .map(|n| json!({"serious": n.serious, "text": n.text}))
            .collect::<Vec<_>>(),
        "running_surfaces": form.surfaces.iter().map(surface_json).collect::<Vec<_>>(),
        "sections": stations.iter().map(|s| json!({
            "x": exact(Kind::Length, s.x_m),
            "area": exact(Kind::Area, s.area_m2),
            "half_beam": exact(Kind::Length, s.half_beam_m),
            "bottom": exact(Kind::Length, s.bottom_z_m),
            "top": exact(Kind::Length, s.top_z_m),
        })).collect::<Vec<_>>(),
    })
}

fn surface_json(surface: &RunningSurface) -> Value {
    let [x, y, z] = surface.trailing_edge_m.map(|c| exact(Kind::Length, c));
    json!({
        "surface": surface.name,
        "angle": number(Kind::Angle, &surface.angle_rad),
        "beam": number(Kind::Length, &surface.beam_m),
        "deadrise": number(Kind::Angle, &surface.deadrise_rad),
        "trailing_edge": {"x": x, "y": y, "z": z},
        "step": surface.step,
    })
}
