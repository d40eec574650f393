//! Running surfaces and the part of each that is wet, hatched.

use craft::{RunningState, WettedSurface};
use form::{Form, RunningSurface};
use nalgebra::Vector3;

use super::label::Labels;
use super::view::View;
use crate::node::Node;
use crate::svg::{self, Point};
use crate::ticks::fixed;

/// Outlines of every running surface.
pub fn outlines(form: &Form, view: &View) -> Node {
    let each = form.surfaces.iter().map(|surface| {
        let end = reach_m(surface);
        svg::path("surface", svg::around(&patch(surface, end, end, 1.0, view)))
    });
    svg::group("surfaces").with_all(each)
}

/// The wetted patches at a state, with their wetted keel lengths.
pub fn patches(form: &Form, state: &RunningState, view: &View, labels: &mut Labels) -> Node {
    let mut group = svg::group("wetted");
    for wet in state.wetted.iter().filter(|w| w.keel_length_m > 0.0) {
        let Some(surface) = form.surfaces.iter().find(|s| s.name == wet.name) else {
            continue;
        };
        let points = wetted(surface, wet, view);
        group.push(svg::path("wet", svg::around(&points)));
        let edge = view.at(&Vector3::from(surface.trailing_edge_m));
        let words = format!("{} wet {}", wet.name, length(wet.keel_length_m * 1e3));
        group.push(labels.near("word", edge, &words));
    }
    group
}

fn length(mm: f64) -> String {
    if mm < 1.0 {
        "less than 1 mm".to_owned()
    } else {
        format!("{} mm", fixed(mm, 0))
    }
}

fn wetted(surface: &RunningSurface, wet: &WettedSurface, view: &View) -> Vec<Point> {
    let whole = surface.beam_m.value.max(1e-9);
    let share = (wet.beam_m / whole).clamp(0.0, 1.0);
    patch(surface, wet.keel_length_m, wet.chine_length_m, share, view)
}

/// How far forward the surface keeps about its width: beyond, it is bow rather than bottom.
fn reach_m(surface: &RunningSurface) -> f64 {
    let wide = surface.beam_m.value;
    let alike = |s: &&form::SurfaceStation| {
        (0.5 * wide..1.3 * wide).contains(&(s.port.width_m + s.starboard.width_m))
    };
    let last = surface.stations.iter().take_while(alike).last();
    let last = last.or(surface.stations.last());
    last.map_or(0.0, |s| s.x_m - surface.trailing_edge_m[0])
}

/// The bottom from the trailing edge forward: up to `chine_m` along both edges and `keel_m` along
/// the keel; `share` of the width at the trailing edge is covered.
fn patch(
    surface: &RunningSurface,
    keel_m: f64,
    chine_m: f64,
    share: f64,
    view: &View,
) -> Vec<Point> {
    const STEPS: usize = 24;
    let aft = surface.trailing_edge_m[0];
    let side = |sign: f64, reversed: bool| {
        let mut points: Vec<Point> = (0..=STEPS)
            .map(|i| {
                let ahead = chine_m.max(0.0) * i as f64 / STEPS as f64;
                let share = if i == 0 { share } else { 1.0 };
                view.at(&edge(surface, aft + ahead, sign, share))
            })
            .collect();
        if reversed {
            points.reverse();
        }
        points
    };
    let mut points = side(1.0, false);
    points.push(view.at(&edge(surface, aft + keel_m, 0.0, 0.0)));
    points.extend(side(-1.0, true));
    points
}

/// A point of the bottom at `x`: on the keel for a `sign` of 0, at `share` of the way to the port
/// chine for 1 and to the starboard chine for -1.
fn edge(surface: &RunningSurface, x_m: f64, sign: f64, share: f64) -> Vector3<f64> {
    let at = |s: &form::SurfaceStation| {
        let panel = if sign >= 0.0 { s.port } else { s.starboard };
        let out = share * panel.width_m * sign.abs();
        Vector3::new(
            s.x_m,
            s.keel_y_m + sign * out,
            s.keel_z_m + out * panel.deadrise_rad.tan(),
        )
    };
    let stations = &surface.stations;
    let after = stations.partition_point(|s| s.x_m < x_m);
    match (
        after.checked_sub(1).and_then(|i| stations.get(i)),
        stations.get(after),
    ) {
        (Some(a), Some(b)) => {
            let t = (x_m - a.x_m) / (b.x_m - a.x_m).max(1e-12);
            at(a).lerp(&at(b), t)
        }
        (Some(a), None) => at(a),
        (None, Some(b)) => at(b),
        (None, None) => Vector3::from(surface.trailing_edge_m),
    }
}
