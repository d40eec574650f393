//! Where a print would let water through, and where foam cannot be put.

use boat::Print;
use boat::making::Printer;
use form::Mesh;
use form::sections::{Along, sections};
use form::solid::Region;
use nalgebra::Vector3;

/// A printed line over its nozzle.
const LINE: f64 = 1.1;
/// Fewer layers over a gap than this leak.
const LAYERS: f64 = 2.0;
/// Smaller than this is nothing to tell, m2.
const LEAST_M2: f64 = 5e-5;

/// What is worth telling of a piece, in sentences.
#[must_use]
pub fn leaks(
    piece: &Mesh,
    up: Vector3<f64>,
    print: &Print,
    printer: &Printer,
    walls: bool,
) -> Vec<String> {
    let mut told = Vec::new();
    let line = LINE * printer.nozzle_m.value;
    let layer = printer.layer_m.value;
    if let Some((area, at)) = shallow(piece, up, print, layer, walls) {
        told.push(format!(
            "{:.0} cm2 around ({:.0}, {:.0}, {:.0}) mm slope so little that fewer than two layers cover a gap: add top layers, or coat it inside.",
            1e4 * area, 1e3 * at.x, 1e3 * at.y, 1e3 * at.z
        ));
    }
    if walls {
        if let Some(at) = thin(piece, 2.0 * line) {
            told.push(format!(
                "A wall near x = {:.0} mm is thinner than two lines ({:.1} mm): it prints with gaps or not at all.",
                1e3 * at, 2e3 * line
            ));
        }
    } else if print.wall_m.value < 1.95 * line {
        told.push(format!(
            "Walls of {:.1} mm are fewer than two lines of {:.2} mm: expect it to leak.",
            1e3 * print.wall_m.value,
            1e3 * line
        ));
    }
    told
}

/// Area whose cover over a gap is under two layers, and its middle.
fn shallow(
    piece: &Mesh,
    up: Vector3<f64>,
    print: &Print,
    layer: f64,
    walls: bool,
) -> Option<(f64, Vector3<f64>)> {
    let (mut area, mut moment) = (0.0, Vector3::zeros());
    for [a, b, c] in piece.faces() {
        let cross = (b - a).cross(&(c - a));
        let Some(n) = cross.try_normalize(0.0) else {
            continue;
        };
        let level = n.dot(&up).abs();
        // Level faces are closed by whole layers; the trouble is the slope beside them.
        if !(0.7..=0.9999).contains(&level) {
            continue;
        }
        let slope = (1.0 - level * level).sqrt() / level;
        let wall = print.wall_m.value;
        let solid = if walls { 0.0 } else { print.top_bottom_m.value };
        if (wall * slope).max(solid) < LAYERS * layer {
            let size = 0.5 * cross.norm();
            area += size;
            moment += size * (a + b + c) / 3.0;
        }
    }
    (area > LEAST_M2).then(|| (area, moment / area))
}

/// Where along x the walls are thinner than `least_m`, the worst place.
fn thin(piece: &Mesh, least_m: f64) -> Option<f64> {
    let (low, high) = piece.bounds()?;
    let at: Vec<f64> = (1..12)
        .map(|k| low.x + (high.x - low.x) * f64::from(k) / 12.0)
        .collect();
    let cuts = sections(piece, Along::X, &at);
    let lost = |k: usize| {
        let whole = Region::of(&cuts[k], Along::X);
        let thick = whole
            .grown(-0.49 * least_m, true)
            .grown(0.5 * least_m, true);
        whole.without(&thick).area_m2() / whole.area_m2().max(1e-12)
    };
    let (k, share) = (0..at.len())
        .map(|k| (k, lost(k)))
        .fold((0, 0.0), |a, b| if b.1 > a.1 { b } else { a });
    (share > 0.1).then_some(at[k])
}
