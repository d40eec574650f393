//! Steps and trailing edges: where a buttock of the bottom ends.

use crate::Mesh;
use crate::sections::{Along, cuts};

use super::Scale;
use super::tracks::Track;
use super::underside::{Chain, simplify, underside};

/// Steeper than this along the hull is the face of a step or a transom.
const FACE: f64 = std::f64::consts::FRAC_PI_4;
/// A face at least this steep counts as upright.
const UPRIGHT: f64 = 75.0 * std::f64::consts::PI / 180.0;

/// A stretch of one track between two ends.
#[derive(Debug, Clone)]
pub(super) struct Stretch {
    pub track: Track,
    /// x of the trailing edge.
    pub edge_x: f64,
    /// Underside of a buttock over the stretch, (x, z).
    pub profile: Chain,
}

/// Cuts a track at its steps. Stretches from aft to forward.
pub(super) fn stretches(mesh: &Mesh, track: &Track, scale: &Scale) -> Vec<Stretch> {
    let y = buttock(track);
    let cut = &cuts(mesh, Along::Y, &[y])[0];
    let chains = underside(cut, 0, scale.step_m);
    let mut pieces: Vec<(f64, Chain)> = chains.iter().flat_map(|c| bottoms(c, scale)).collect();
    pieces.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut found: Vec<Stretch> = Vec::new();
    for (i, (edge_x, profile)) in pieces.iter().enumerate() {
        let next = pieces.get(i + 1).map_or(f64::INFINITY, |p| p.0);
        let on_it = |x: f64| x > *edge_x && x < next;
        let at: Vec<_> = (track.at.iter())
            .filter(|(x, _)| on_it(*x))
            .cloned()
            .collect();
        if at.len() >= 3 {
            found.push(Stretch {
                track: Track { at },
                edge_x: *edge_x,
                profile: profile.clone(),
            });
        }
    }
    found
}

/// Inside the run over its aft third, as near to the middle as the whole of it allows.
fn buttock(track: &Track) -> f64 {
    let aft = &track.at[..track.at.len().div_ceil(3)];
    let low = aft.iter().map(|(_, r)| r.low()[0]);
    let high = aft.iter().map(|(_, r)| r.high()[0]);
    let (low, high) = (
        low.fold(f64::NEG_INFINITY, f64::max),
        high.fold(f64::INFINITY, f64::min),
    );
    if high > low {
        // Off the middle: fewer vertices of symmetric meshes lie there.
        return low + 0.53 * (high - low);
    }
    let (_, first) = &track.at[0];
    first.low()[0] + 0.53 * first.width()
}

/// Pieces of a buttock between steep faces that rise going aft or forward, with the x of their
/// aft end.
fn bottoms(chain: &Chain, scale: &Scale) -> Vec<(f64, Chain)> {
    let corners = simplify(chain, scale.tolerance_m / 2.0);
    let steep = |i: usize| slope(corners[i], corners[i + 1]).abs() >= FACE;
    let (mut pieces, mut first, mut edge, mut i) = (Vec::new(), 0, corners[0][0], 0);
    while i + 1 < corners.len() {
        let mut end = i + 1;
        while steep(i) && end + 1 < corners.len() && steep(end) {
            end += 1;
        }
        if steep(i) && (corners[end][1] - corners[i][1]).abs() > scale.step_m {
            pieces.push((edge, corners[first..=i].to_vec()));
            first = end;
            edge = if i == 0 && rounded(chain, corners[end][0]) {
                corners[0][0]
            } else {
                aft_end(&corners[i..=end], corners.get(end + 1))
            };
        } else if i == 0 && steep(0) {
            // A low rounding that ends the chain.
            first = end;
        }
        i = end;
    }
    pieces.push((edge, corners[first..].to_vec()));
    pieces.retain(|(_, p)| p.len() > 1);
    for (edge, piece) in &mut pieces {
        *piece = within(chain, *edge, piece[piece.len() - 1][0]);
    }
    pieces
}

/// Whether the chain begins with a curve that levels out towards `foot`, not with a straight
/// face.
fn rounded(chain: &Chain, foot: f64) -> bool {
    let pieces: Vec<f64> = (chain.windows(2))
        .take_while(|p| p[1][0] <= foot + 1e-9)
        .map(|p| slope(p[0], p[1]).abs())
        .collect();
    let [steepest, .., gentlest] = pieces.as_slice() else {
        return false;
    };
    steepest - gentlest > 15f64.to_radians()
}

/// Where the bottom ahead of a face ends: at the face when a rounding leads into it, otherwise
/// where the two lines meet.
fn aft_end(face: &[[f64; 2]], ahead: Option<&[f64; 2]>) -> f64 {
    let foot = face[face.len() - 1];
    let last = face.len() - 2;
    let rounding = slope(face[last], foot).abs() < UPRIGHT;
    let upright = (0..=last)
        .rev()
        .find(|i| slope(face[*i], face[*i + 1]).abs() >= UPRIGHT);
    match upright {
        Some(i) if rounding && ahead.is_some() => face[i + 1][0],
        _ => foot[0],
    }
}

fn within(chain: &Chain, from: f64, to: f64) -> Chain {
    let inside = |p: &&[f64; 2]| p[0] >= from - 1e-9 && p[0] <= to + 1e-9;
    chain.iter().filter(inside).copied().collect()
}

/// z of the profile at x.
pub(super) fn height(profile: &Chain, x: f64) -> f64 {
    let i = profile
        .partition_point(|p| p[0] < x)
        .clamp(1, profile.len() - 1);
    let (a, b) = (profile[i - 1], profile[i]);
    if b[0] == a[0] {
        return a[1].min(b[1]);
    }
    a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0])
}

fn slope(a: [f64; 2], b: [f64; 2]) -> f64 {
    (b[1] - a[1]).atan2(b[0] - a[0])
}
