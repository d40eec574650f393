//! Vee-bottomed hull.

use boat::starter::Vee;

use super::loft::{self, loft, mirrored, rounded, share, smooth};
use super::{StarterError, angle, length};
use crate::Mesh;

/// Height of the stem over the depth of the hull.
const STEM: f64 = 0.80;
/// Height of the deck at the transom over the depth.
const DECK_AFT: f64 = 0.86;

pub(super) fn build(v: &Vee) -> Result<Mesh, StarterError> {
    check(v)?;
    let xs = loft::stations(
        &[
            0.0,
            v.constant_to_x_m,
            v.bow_x_m,
            narrows_from(v),
            v.length_m,
        ],
        v.length_m / 120.0,
    );
    let rings: Vec<_> = xs.iter().map(|x| mirrored(&half(v, *x))).collect();
    Ok(loft(&xs, &rings))
}

fn check(v: &Vee) -> Result<(), StarterError> {
    length("length", v.length_m, 0.1, 3.0)?;
    length("beam", v.beam_m, 0.12 * v.length_m, 0.6 * v.length_m)?;
    length("depth", v.depth_m, 0.2 * v.beam_m, 1.5 * v.beam_m)?;
    angle("deadrise", v.deadrise_rad, 0.0, 40.0)?;
    let from = 0.1 * v.length_m;
    length("constant to x", v.constant_to_x_m, from, 0.7 * v.length_m)?;
    let from = v.constant_to_x_m + 0.05 * v.length_m;
    length("bow x", v.bow_x_m, from, 0.9 * v.length_m)?;
    length("chine flat", v.chine_flat_m, 0.0, 0.12 * v.beam_m)?;
    length("keel pad", v.keel_pad_m, 0.0, 0.4 * v.beam_m)?;
    let least = v.deadrise_rad.to_degrees();
    angle("bow deadrise", v.bow_deadrise_rad, least, 65.0)?;
    check_chines(v)
}

/// The chine must pass under the deck edge wherever a deadrise is declared.
fn check_chines(v: &Vee) -> Result<(), StarterError> {
    for (name, given, x) in [
        ("deadrise", v.deadrise_rad, 0.0),
        ("bow deadrise", v.bow_deadrise_rad, v.bow_x_m),
    ] {
        let wide = half_beam(v, x) - half_pad(v, x) - flat(v, x);
        let most = (0.88 * (deck_edge(v, x) - keel(v, x)) / wide).atan();
        angle(name, given, 0.0, most.to_degrees())?;
    }
    Ok(())
}

/// Port half: keel pad, bottom, chine flat, topside, deck.
fn half(v: &Vee, x: f64) -> Vec<[f64; 2]> {
    let (keel, edge) = (keel(v, x), deck_edge(v, x));
    let pad = [half_pad(v, x), keel];
    let wide = (half_beam(v, x) - pad[0] - flat(v, x)).max(0.0);
    let rise = (wide * deadrise(v, x).tan()).min(0.88 * (edge - keel));
    let inner = [pad[0] + wide, keel + rise];
    let chine = [half_beam(v, x), inner[1]];
    let sheer = [half_deck(v, x), edge];
    let mut points = vec![pad];
    points.extend(loft::line(pad, inner, 4));
    points.extend(loft::line(inner, chine, 1));
    points.extend(loft::line(chine, sheer, 3));
    points.extend(deck(sheer, deck_middle(v, x)));
    points
}

/// Cambered deck from its edge to the middle.
fn deck(edge: [f64; 2], middle_z: f64) -> impl Iterator<Item = [f64; 2]> {
    (1..=5).map(move |i| {
        let s = 1.0 - f64::from(i) / 5.0;
        [edge[0] * s, middle_z - (middle_z - edge[1]) * s * s]
    })
}

fn keel(v: &Vee, x: f64) -> f64 {
    let s = share(x, v.constant_to_x_m, v.length_m);
    STEM * v.depth_m * (1.0 - rounded(s, 2.6))
}

/// Along the chine, whose plan stays full until the bow curve begins.
fn half_beam(v: &Vee, x: f64) -> f64 {
    let s = share(x, narrows_from(v), v.length_m);
    v.beam_m / 2.0 * rounded(s, 2.3)
}

fn narrows_from(v: &Vee) -> f64 {
    v.constant_to_x_m.max(0.4 * v.length_m)
}

/// The deck stays wider than the chine forward: flare.
fn half_deck(v: &Vee, x: f64) -> f64 {
    let s = share(x, 0.5 * v.length_m, v.length_m);
    // Tumblehome aft, so that the chine is the widest part there.
    let tumblehome = 0.94 + 0.06 * smooth(share(x, 0.35 * v.length_m, 0.7 * v.length_m));
    v.beam_m / 2.0 * tumblehome * rounded(s, 2.6)
}

fn half_pad(v: &Vee, x: f64) -> f64 {
    let s = share(x, v.constant_to_x_m, v.length_m);
    v.keel_pad_m / 2.0 * (1.0 - smooth(s))
}

fn flat(v: &Vee, x: f64) -> f64 {
    let s = share(x, v.bow_x_m, v.length_m);
    (v.chine_flat_m * (1.0 - smooth(s))).min(half_beam(v, x) * 0.5)
}

fn deadrise(v: &Vee, x: f64) -> f64 {
    let s = ((x - v.constant_to_x_m) / (v.bow_x_m - v.constant_to_x_m)).max(0.0);
    let angle = v.deadrise_rad + (v.bow_deadrise_rad - v.deadrise_rad) * s.powf(1.5);
    angle.min(75f64.to_radians())
}

fn deck_middle(v: &Vee, x: f64) -> f64 {
    let aft = DECK_AFT + (1.0 - DECK_AFT) * smooth(share(x, 0.0, 0.4 * v.length_m));
    let forward = 1.0 - (1.0 - STEM) * share(x, 0.55 * v.length_m, v.length_m).powi(2);
    v.depth_m * aft.min(forward)
}

fn deck_edge(v: &Vee, x: f64) -> f64 {
    let camber = 0.16 * half_deck(v, x);
    deck_middle(v, x) - camber.min(0.25 * v.depth_m)
}
