//! What a builder would call each surface.

use super::tracks::Frame;
use super::{RunningSurface, Scale, Side};

/// Names every surface, each differently. Surfaces come aft to forward.
pub(super) fn give(found: &mut [RunningSurface], frames: &[Frame], scale: &Scale) {
    let plain: Vec<String> = (0..found.len())
        .map(|i| name(found, i, frames, scale))
        .collect();
    for (surface, name) in found.iter_mut().zip(&plain) {
        surface.name.clone_from(name);
    }
    number(found, &plain);
}

fn name(found: &[RunningSurface], i: usize, frames: &[Frame], scale: &Scale) -> String {
    let surface = &found[i];
    let word = match surface.side {
        Side::Port => "left",
        Side::Starboard => "right",
        Side::Centre => return centre(found, surface, frames, scale).to_owned(),
    };
    let ahead = |s: &&RunningSurface| {
        s.side == surface.side && s.trailing_edge_m[0] > surface.trailing_edge_m[0]
    };
    let alone = !found.iter().any(|s| s.side == Side::Centre);
    let what = match (surface.step, alone, found.iter().any(|s| ahead(&s))) {
        (false, true, false) => "hull",
        (false, false, true) => "rear pad",
        _ => "pad",
    };
    format!("{word} {what}")
}

fn centre(
    found: &[RunningSurface],
    surface: &RunningSurface,
    frames: &[Frame],
    scale: &Scale,
) -> &'static str {
    let pad = found.iter().find(|s| s.side != Side::Centre && s.step);
    match pad {
        Some(pad) if beside(pad, frames, scale) => "afterplane",
        Some(_) => "tub",
        None if surface.deadrise_rad.value < 3f64.to_radians() => "flat bottom",
        None => "vee bottom",
    }
}

/// Whether the hull reaches from the centreline to the pad without a gap (a tunnel roof), over
/// most of the pad's straight run.
fn beside(pad: &RunningSurface, frames: &[Frame], scale: &Scale) -> bool {
    let from = pad.trailing_edge_m[0];
    let y = pad.trailing_edge_m[1];
    let near = |f: &&Frame| f.x > from && f.x < from + 0.15 * scale.length_m;
    let (mut joined, mut all) = (0, 0);
    for frame in frames.iter().filter(near) {
        all += 1;
        joined += usize::from(frame.covers(y.min(0.0), y.max(0.0)));
    }
    2 * joined > all
}

/// Surfaces of one name: aft and forward for two, numbered from aft for more.
fn number(found: &mut [RunningSurface], plain: &[String]) {
    for i in 0..found.len() {
        let mut alike: Vec<usize> = (0..plain.len()).filter(|j| plain[*j] == plain[i]).collect();
        alike.sort_by(|a, b| found[*a].trailing_edge_m[0].total_cmp(&found[*b].trailing_edge_m[0]));
        let place = alike.iter().position(|j| *j == i).unwrap_or(0);
        let name = &mut found[i].name;
        match (alike.len(), place) {
            (1, _) => {}
            (2, 0) => name.push_str(" aft"),
            (2, _) => name.push_str(" forward"),
            _ => name.push_str(&format!(" {}", place + 1)),
        }
    }
}
