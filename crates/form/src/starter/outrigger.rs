//! Outrigger hydroplane: a tub, two sponsons on booms, two pads under the transom.

use boat::starter::Outrigger;
use nalgebra::Vector3;

use super::hull::Body;
use super::loft::loft;
use super::sponson::{Sponson, mirror};
use super::{StarterError, join, length};
use crate::Mesh;

/// Sides of a boom's outline.
const BOOM_SIDES: usize = 32;

pub(super) fn build(o: &Outrigger) -> Result<Mesh, StarterError> {
    check(o)?;
    let sponson = sponson(o);
    sponson.check()?;
    let port = sponson.mesh();
    let mut bodies = vec![tub(o).mesh(), mirror(&port), port];
    bodies.extend(o.boom_x_m.iter().map(|x| boom(o, *x)));
    if o.rear_pad_m[0] > 0.0 {
        let pad = rear_pad(o);
        bodies.extend([mirror(&pad), pad]);
    }
    join(&bodies)
}

fn check(o: &Outrigger) -> Result<(), StarterError> {
    let (long, wide) = (o.length_m, o.beam_m);
    length("length", long, 0.1, 3.0)?;
    length("beam", wide, 0.25 * long, 0.9 * long)?;
    length("tub width", o.tub_width_m, 0.1 * wide, 0.6 * wide)?;
    length("tub depth", o.tub_depth_m, 0.04 * long, 0.3 * long)?;
    let most = 0.45 * (wide - o.tub_width_m);
    length("sponson width", o.sponson_width_m, 0.05 * wide, most)?;
    let te = o.sponson_trailing_edge_x_m;
    length("sponson trailing edge x", te, 0.2 * long, 0.8 * long)?;
    length("sponson length", o.sponson_length_m, 0.1 * long, long - te)?;
    length("sponson drop", o.sponson_drop_m, 0.005 * long, 0.12 * long)?;
    check_booms(o)?;
    check_rear_pads(o)
}

fn check_booms(o: &Outrigger) -> Result<(), StarterError> {
    let most = 0.4 * o.tub_depth_m;
    length("boom diameter", o.boom_diameter_m, 0.002, most)?;
    let room = 0.55 * o.boom_diameter_m;
    let deepest = room + 0.02 * o.tub_depth_m;
    let highest = o.tub_depth_m - room;
    length("boom z", o.boom_z_m, deepest, highest)?;
    let from = o.sponson_trailing_edge_x_m + room;
    let to = o.sponson_trailing_edge_x_m + 0.75 * o.sponson_length_m;
    for x in o.boom_x_m {
        length("boom x", x, from, to)?;
    }
    Ok(())
}

fn check_rear_pads(o: &Outrigger) -> Result<(), StarterError> {
    let [wide, long] = o.rear_pad_m;
    length("rear pad width", wide, 0.0, 0.5 * o.tub_width_m)?;
    if wide == 0.0 {
        return Ok(());
    }
    length("rear pad length", long, 0.01 * o.length_m, 0.3 * o.length_m)?;
    let most = o.tub_width_m / 2.0 - wide * 0.55;
    length("rear pad y", o.rear_pad_y_m, wide / 2.0, most)?;
    let deepest = -0.12 * o.length_m;
    length("rear pad z", o.rear_pad_z_m, deepest, -0.001 * o.length_m)
}

fn tub(o: &Outrigger) -> Body {
    Body {
        length_m: o.length_m,
        depth_m: o.tub_depth_m,
        half_aft_m: o.tub_width_m / 2.0,
        half_middle_m: o.tub_width_m / 2.0,
        half_m: o.tub_width_m / 2.0,
        widens_to_x_m: 0.3 * o.length_m,
        narrows_from_x_m: 0.66 * o.length_m,
        bow: 0.12,
        edge: 0.55,
        transom: 0.92,
        nose: 0.42,
    }
}

/// Tall enough to hold the booms.
fn sponson(o: &Outrigger) -> Sponson {
    let te = o.sponson_trailing_edge_x_m;
    let booms_to = o.boom_x_m[0].max(o.boom_x_m[1]);
    Sponson {
        from_x_m: te,
        to_x_m: te + o.sponson_length_m,
        inner_y_m: o.beam_m / 2.0 - o.sponson_width_m,
        outer_y_m: o.beam_m / 2.0,
        bottom_z_m: -o.sponson_drop_m,
        top_z_m: o.boom_z_m + 0.85 * o.boom_diameter_m,
        top_to_x_m: booms_to + 0.6 * o.boom_diameter_m,
        pad_m: o.pad_width_m,
        flat_m: o.pad_flat_m,
        angle_rad: o.pad_angle_rad,
        deadrise_rad: 0.0,
        entry_rad: o.entry_angle_rad,
        nontrip_rad: o.nontrip_angle_rad,
        rounded_inside: true,
    }
}

/// A rod from inside one sponson to inside the other.
fn boom(o: &Outrigger, x: f64) -> Mesh {
    let r = o.boom_diameter_m / 2.0;
    let outline = (0..BOOM_SIDES)
        .map(|i| {
            let a = std::f64::consts::TAU * (i as f64 + 0.5) / BOOM_SIDES as f64;
            [r * a.cos(), r * a.sin()]
        })
        .collect::<Vec<_>>();
    let half = o.beam_m / 2.0 - 0.55 * o.sponson_width_m;
    let rod = loft(&[-half, half], &[outline.clone(), outline]);
    // Turned about z: along x becomes along y.
    rod.map(|v| Vector3::new(x - v.y, v.x, o.boom_z_m + v.z))
}

/// A flat runner under the transom with a sloping front, its root inside the tub.
fn rear_pad(o: &Outrigger) -> Mesh {
    let [wide, long] = o.rear_pad_m;
    let (low, root) = (o.rear_pad_z_m, 0.12 * o.tub_depth_m);
    let (inner, outer) = (o.rear_pad_y_m - wide / 2.0, o.rear_pad_y_m + wide / 2.0);
    let ring = |bottom: f64| {
        vec![
            [inner, bottom],
            [outer, bottom],
            [outer, root],
            [inner, root],
        ]
    };
    // The front rises at 30 degrees until it is inside the tub.
    let front = (root - low) * 0.95 / 30f64.to_radians().tan();
    let xs = [0.0, long, long + front];
    let rings = [ring(low), ring(low), ring(low + (root - low) * 0.95)];
    loft(&xs, &rings)
}
