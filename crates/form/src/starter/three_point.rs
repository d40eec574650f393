//! Three-point hydroplane: a crowned hull between two sponsons.

use boat::starter::ThreePoint;

use super::hull::Body;
use super::sponson::{Sponson, mirror};
use super::{StarterError, angle, join, length};
use crate::Mesh;

/// How far the hull reaches into the sponsons, over their width.
const ROOT: f64 = 0.25;

pub(super) fn build(t: &ThreePoint) -> Result<Mesh, StarterError> {
    check(t)?;
    let left = sponson(t, t.pad_deadrise_left_rad);
    let right = sponson(t, t.pad_deadrise_right_rad);
    for sponson in [&left, &right] {
        sponson.check()?;
    }
    join(&[hull(t).mesh(), left.mesh(), mirror(&right.mesh())])
}

fn check(t: &ThreePoint) -> Result<(), StarterError> {
    let (long, wide) = (t.length_m, t.beam_m);
    length("length", long, 0.1, 3.0)?;
    length("beam", wide, 0.2 * long, 0.9 * long)?;
    length("depth", t.depth_m, 0.05 * long, 0.4 * long)?;
    length("gap", t.gap_m, 0.25 * wide, 0.85 * wide)?;
    let te = t.sponson_trailing_edge_x_m;
    length("sponson trailing edge x", te, 0.2 * long, 0.8 * long)?;
    length("sponson length", t.sponson_length_m, 0.15 * long, long - te)?;
    length("sponson drop", t.sponson_drop_m, 0.01 * long, 0.12 * long)?;
    let least = t.gap_m * 0.3;
    length("transom width", t.transom_width_m, least, t.gap_m)?;
    angle("pad deadrise left", t.pad_deadrise_left_rad, 0.0, 20.0)?;
    angle("pad deadrise right", t.pad_deadrise_right_rad, 0.0, 20.0)
}

fn sponson(t: &ThreePoint, deadrise_rad: f64) -> Sponson {
    let te = t.sponson_trailing_edge_x_m;
    Sponson {
        from_x_m: te,
        to_x_m: te + t.sponson_length_m,
        inner_y_m: t.gap_m / 2.0,
        outer_y_m: t.beam_m / 2.0,
        bottom_z_m: -t.sponson_drop_m,
        top_z_m: 0.56 * t.depth_m,
        top_to_x_m: te + 0.45 * t.sponson_length_m,
        pad_m: t.pad_width_m,
        flat_m: t.pad_flat_m,
        angle_rad: t.pad_angle_rad,
        deadrise_rad,
        entry_rad: t.entry_angle_rad,
        nontrip_rad: t.nontrip_angle_rad,
        rounded_inside: false,
    }
}

fn hull(t: &ThreePoint) -> Body {
    let sponson = (t.beam_m - t.gap_m) / 2.0;
    Body {
        length_m: t.length_m,
        depth_m: t.depth_m,
        half_aft_m: t.transom_width_m / 2.0,
        // A little more than the gap, so that the hull's side runs into the sponson's end.
        half_middle_m: t.gap_m / 2.0 + 0.02 * sponson,
        widens_to_x_m: t.sponson_trailing_edge_x_m,
        half_m: t.gap_m / 2.0 + ROOT * sponson,
        narrows_from_x_m: 0.78 * t.length_m,
        bow: 0.35,
        edge: 0.5,
        transom: 0.8,
        nose: 0.36,
    }
}
