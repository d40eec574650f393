//! What was measured on the printed hull replaces what was found on the mesh.

use boat::{Measure, RunningOverride};

use super::{Panel, RunningSurface, SurfaceStation};

/// An override for a surface the hull does not have.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "there is no running surface called `{given}`; this hull has {}",
    list(known)
)]
pub struct UnknownSurface {
    /// As written in the boat file.
    pub given: String,
    /// What the mesh has.
    pub known: Vec<String>,
}

fn list(known: &[String]) -> String {
    if known.is_empty() {
        return "none".into();
    }
    let quoted: Vec<String> = known.iter().map(|n| format!("`{n}`")).collect();
    quoted.join(", ")
}

/// Replaces values of named surfaces and moves their stations to match: the trailing edge first,
/// then the keel's angle about it, the beam by stretching both panels, the deadrise by turning
/// both panels about the keel. A changed angle holds over the straight run; what lies ahead of
/// it is lifted or lowered with it.
///
/// # Errors
/// [`UnknownSurface`] for the first name the hull does not have; nothing is changed then.
pub fn apply(
    surfaces: &mut [RunningSurface],
    overrides: &[RunningOverride],
) -> Result<(), UnknownSurface> {
    let unknown = |o: &&RunningOverride| !surfaces.iter().any(|s| s.name == o.surface);
    if let Some(o) = overrides.iter().find(unknown) {
        return Err(UnknownSurface {
            given: o.surface.clone(),
            known: surfaces.iter().map(|s| s.name.clone()).collect(),
        });
    }
    for o in overrides {
        for surface in surfaces.iter_mut().filter(|s| s.name == o.surface) {
            replace(surface, o);
        }
    }
    Ok(())
}

fn replace(surface: &mut RunningSurface, measured: &RunningOverride) {
    let [x, _, z] = surface.trailing_edge_m;
    let slide = measured.trailing_edge_x_m.map_or(0.0, |m| m.value - x);
    let lift = measured.trailing_edge_z_m.map_or(0.0, |m| m.value - z);
    for s in &mut surface.stations {
        s.x_m += slide;
        s.keel_z_m += lift;
    }
    surface.trailing_edge_m[0] += slide;
    surface.trailing_edge_m[2] += lift;
    if let Some(strake) = measured.strake_m {
        surface.strake_m = Some(strake.value);
    }
    if let Some(angle) = measured.angle_rad {
        turn(surface, angle);
    }
    if let Some(beam) = measured.beam_m {
        widen(surface, beam);
    }
    if let Some(deadrise) = measured.deadrise_rad {
        tilt(surface, deadrise);
    }
}

fn turn(surface: &mut RunningSurface, angle: Measure) {
    let straight_to = straight_to(surface);
    let change = angle.value.tan() - surface.angle_rad.value.tan();
    let edge = surface.trailing_edge_m[0];
    for s in &mut surface.stations {
        s.keel_z_m += change * (s.x_m.min(straight_to) - edge);
    }
    surface.angle_rad = angle;
}

/// How far the keel stays on the line of its angle, within 0.1 % of the distance.
fn straight_to(surface: &RunningSurface) -> f64 {
    let [x, _, z] = surface.trailing_edge_m;
    let slope = surface.angle_rad.value.tan();
    let off = |s: &SurfaceStation| (s.keel_z_m - z - slope * (s.x_m - x)).abs();
    let on_line = |s: &&SurfaceStation| off(s) <= 1e-5 + 1e-3 * (s.x_m - x);
    let last = surface.stations.iter().take_while(on_line).last();
    last.map_or(x, |s| s.x_m)
}

fn widen(surface: &mut RunningSurface, beam: Measure) {
    let factor = beam.value / surface.beam_m.value;
    for s in &mut surface.stations {
        s.port.width_m *= factor;
        s.starboard.width_m *= factor;
    }
    surface.keel_flat_m *= factor;
    surface.beam_m = beam;
}

fn tilt(surface: &mut RunningSurface, deadrise: Measure) {
    let change = deadrise.value - surface.face_deadrise_rad.value;
    for s in &mut surface.stations {
        for panel in [&mut s.port, &mut s.starboard] {
            tilt_panel(panel, change);
        }
    }
    surface.deadrise_rad.value += change;
    surface.deadrise_rad.spread = deadrise.spread;
    surface.deadrise_rad.origin = deadrise.origin;
    surface.face_deadrise_rad = deadrise;
}

fn tilt_panel(panel: &mut Panel, change: f64) {
    if panel.width_m > 0.0 {
        panel.deadrise_rad += change;
    }
}
