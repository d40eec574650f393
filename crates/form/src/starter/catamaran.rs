//! Catamaran: two half-wedge hulls with a flat strip at their inner edge and a tunnel between.

use boat::starter::Catamaran;
use nalgebra::Vector3;

use super::loft::{self, Ring, cap, quad, rounded, share, smooth, tidy};
use super::{StarterError, angle, length};
use crate::Mesh;

/// Height of the hulls' noses over the depth.
const NOSE: f64 = 0.56;
/// Thickness of the tunnel's leading edge over the depth.
const LIP: f64 = 0.04;

pub(super) fn build(c: &Catamaran) -> Result<Mesh, StarterError> {
    check(c)?;
    let marks = [
        0.0,
        c.curve_from_x_m,
        c.roof_forward_x_m,
        c.mouth_x_m,
        c.length_m,
    ];
    let xs = loft::stations(&marks, c.length_m / 120.0);
    let hulls: Vec<Ring> = xs.iter().map(|x| hull(c, *x)).collect();
    let n = hulls[0].len();
    let mut mesh = Mesh::default();
    for (x, hull) in xs.iter().zip(&hulls) {
        for side in [1.0, -1.0] {
            (mesh.vertices).extend(hull.iter().map(|p| Vector3::new(*x, side * p[0], p[1])));
        }
    }
    // The last two points of a hull's outline are its inner deck edge and the roof line.
    let (deck, roof) = (n - 2, n - 1);
    for bay in 0..xs.len() - 1 {
        let (aft, fore) = (2 * n * bay, 2 * n * (bay + 1));
        let tunnel = xs[bay] < c.mouth_x_m;
        for i in (0..n).filter(|i| !tunnel || *i != deck) {
            let j = (i + 1) % n;
            quad(&mut mesh, [aft + i, aft + j, fore + j, fore + i], true);
            let [a, b, c, d] = [aft + j, aft + i, fore + i, fore + j].map(|k| k + n);
            quad(&mut mesh, [a, b, c, d], false);
        }
        if tunnel {
            let [d, r] = [deck, roof];
            quad(
                &mut mesh,
                [aft + d, aft + n + d, fore + n + d, fore + d],
                true,
            );
            quad(
                &mut mesh,
                [aft + n + r, aft + r, fore + r, fore + n + r],
                true,
            );
        }
        if tunnel && xs[bay + 1] >= c.mouth_x_m {
            let [d, r] = [deck, roof];
            quad(
                &mut mesh,
                [fore + r, fore + d, fore + n + d, fore + n + r],
                true,
            );
        }
    }
    close_transom(&mut mesh, &hulls[0]);
    Ok(tidy(&mesh))
}

fn close_transom(mesh: &mut Mesh, hull: &Ring) {
    let n = hull.len();
    cap(mesh, 0, hull, false);
    let starboard: Ring = hull.iter().rev().map(|p| [-p[0], p[1]]).collect();
    let first = mesh.vertices.len();
    let copied: Vec<_> = (0..n).rev().map(|i| mesh.vertices[n + i]).collect();
    mesh.vertices.extend(copied);
    cap(mesh, first, &starboard, false);
    let (deck, roof) = (n - 2, n - 1);
    quad(mesh, [deck, roof, n + roof, n + deck], true);
}

fn check(c: &Catamaran) -> Result<(), StarterError> {
    let (long, wide) = (c.length_m, c.beam_m);
    length("length", long, 0.1, 3.0)?;
    length("beam", wide, 0.15 * long, 0.8 * long)?;
    length("depth", c.depth_m, 0.12 * wide, 0.8 * wide)?;
    length("hull width", c.sponson_width_m, 0.08 * wide, 0.42 * wide)?;
    length("strip width", c.strip_width_m, 0.0, 0.8 * c.sponson_width_m)?;
    angle("deadrise", c.deadrise_rad, 0.0, 40.0)?;
    let face = c.sponson_width_m - c.strip_width_m;
    let most = (0.6 * c.depth_m / face).atan();
    angle("deadrise", c.deadrise_rad, 0.0, most.to_degrees())?;
    length("curve from x", c.curve_from_x_m, 0.1 * long, 0.8 * long)?;
    length("mouth x", c.mouth_x_m, 0.5 * long, 0.96 * long)?;
    let most = c.mouth_x_m - 0.02 * long;
    length("roof forward x", c.roof_forward_x_m, 0.1 * long, most)?;
    let most = deck(c, 0.0) - 0.1 * c.depth_m;
    length("roof aft z", c.roof_aft_z_m, 0.05 * c.depth_m, most)?;
    let most = deck(c, c.mouth_x_m) - 1.5 * LIP * c.depth_m;
    length("roof forward z", c.roof_forward_z_m, c.roof_aft_z_m, most)
}

/// Port hull from the keel (its inner edge): strip, bottom, topside, deck, roof line.
fn hull(c: &Catamaran, x: f64) -> Ring {
    let inner = c.beam_m / 2.0 - c.sponson_width_m;
    let bottom = bottom(c, x);
    let top = deck(c, x);
    let wide = c.sponson_width_m * rounded(share(x, 0.5 * c.length_m, c.length_m), 2.6);
    let strip = c.strip_width_m.min(0.6 * wide);
    let rise = ((wide - strip) * c.deadrise_rad.tan()).min(0.7 * (top - bottom));
    let keel = [inner, bottom];
    let edge = [inner + strip, bottom];
    let chine = [inner + wide, bottom + rise];
    let shoulder = [inner + wide * 0.985, top - 0.12 * (top - bottom)];
    let sheer = [inner + wide * 0.88, top];
    let mut points = vec![keel];
    points.extend(loft::line(keel, edge, 2));
    points.extend(loft::line(edge, chine, 3));
    points.extend(loft::line(chine, shoulder, 3));
    points.extend(loft::line(shoulder, sheer, 1));
    points.extend(loft::line(sheer, [inner, top], 2));
    points.push([inner, roof(c, x).clamp(bottom, top)]);
    points
}

fn bottom(c: &Catamaran, x: f64) -> f64 {
    let s = share(x, c.curve_from_x_m, c.length_m);
    NOSE * c.depth_m * (1.0 - rounded(s, 2.6))
}

fn deck(c: &Catamaran, x: f64) -> f64 {
    let s = share(x, 0.35 * c.length_m, c.length_m);
    let aft = 0.93 + 0.07 * smooth(share(x, 0.0, 0.3 * c.length_m));
    c.depth_m * aft.min(1.0 - (1.0 - NOSE) * s.powf(2.4))
}

/// Straight between the two declared heights, then up to the lip at the mouth.
fn roof(c: &Catamaran, x: f64) -> f64 {
    let slope = (c.roof_forward_z_m - c.roof_aft_z_m) / c.roof_forward_x_m;
    let straight = c.roof_aft_z_m + slope * x;
    let end = deck(c, c.mouth_x_m) - LIP * c.depth_m;
    let gap = end - (c.roof_aft_z_m + slope * c.mouth_x_m);
    straight + gap * share(x, c.roof_forward_x_m, c.mouth_x_m).powi(2)
}
