//! Closed bodies from cross-sections with equally many points, and the curves they follow.

use manifold_rust::linalg::Vec2;
use manifold_rust::polygon;
use nalgebra::Vector3;

use crate::Mesh;
use crate::repair::weld_exact;

/// A closed (y, z) outline, counter-clockwise seen from ahead.
pub(super) type Ring = Vec<[f64; 2]>;

/// Skin through `rings` at `xs` (increasing), ends capped. A ring shrunk to a point closes its
/// end by itself.
pub(super) fn loft(xs: &[f64], rings: &[Ring]) -> Mesh {
    let mut mesh = Mesh::default();
    for (x, ring) in xs.iter().zip(rings) {
        (mesh.vertices).extend(ring.iter().map(|p| Vector3::new(*x, p[0], p[1])));
    }
    let n = rings[0].len();
    for bay in 0..xs.len() - 1 {
        for i in 0..n {
            let (a, b) = (bay * n + i, bay * n + (i + 1) % n);
            quad(&mut mesh, [a, b, b + n, a + n], 2 * i < n - 1);
        }
    }
    cap(&mut mesh, 0, &rings[0], false);
    cap(&mut mesh, (xs.len() - 1) * n, &rings[xs.len() - 1], true);
    tidy(&mesh)
}

/// Two triangles, split along one diagonal or the other so that port mirrors starboard.
pub(super) fn quad(mesh: &mut Mesh, corners: [usize; 4], first_diagonal: bool) {
    let [a, b, c, d] = corners.map(|i| i as u32);
    mesh.triangles.extend(if first_diagonal {
        [[a, b, d], [b, c, d]]
    } else {
        [[a, b, c], [a, c, d]]
    });
}

/// Closes the ring whose vertices start at `first`.
pub(super) fn cap(mesh: &mut Mesh, first: usize, ring: &Ring, forward: bool) {
    let mut kept: Vec<usize> = (0..ring.len()).collect();
    kept.dedup_by_key(|i| ring[*i]);
    if kept.len() > 1 && ring[kept[0]] == ring[kept[kept.len() - 1]] {
        kept.pop();
    }
    if kept.len() < 3 {
        return;
    }
    let outline = kept.iter().map(|i| Vec2::new(ring[*i][0], ring[*i][1]));
    for t in polygon::triangulate(&vec![outline.collect()], -1.0, false) {
        let [a, b, c] = [t.x, t.y, t.z].map(|i| (first + kept[i as usize]) as u32);
        mesh.triangles
            .push(if forward { [a, b, c] } else { [a, c, b] });
    }
}

/// Joins coinciding vertices and drops what has collapsed.
pub(super) fn tidy(mesh: &Mesh) -> Mesh {
    let mut tidy = weld_exact(mesh);
    tidy.triangles
        .retain(|t| t[0] != t[1] && t[1] != t[2] && t[2] != t[0]);
    let used: Vec<usize> = (0..tidy.triangles.len()).collect();
    tidy.subset(used)
}

/// The port half of an outline, from the keel up to the middle of the deck, made whole.
pub(super) fn mirrored(half: &[[f64; 2]]) -> Ring {
    let starboard = half.iter().rev().map(|p| [-p[0], p[1]]);
    half.iter().copied().chain(starboard).collect()
}

/// Points of a straight line after `from`, `n` of them, ending at `to`.
pub(super) fn line(from: [f64; 2], to: [f64; 2], n: usize) -> impl Iterator<Item = [f64; 2]> {
    (1..=n).map(move |i| {
        if i == n {
            return to; // exactly, so that neighbours weld
        }
        let s = i as f64 / n as f64;
        [0, 1].map(|k| from[k] + (to[k] - from[k]) * s)
    })
}

/// Stations from 0 or `marks[0]` to the last mark that hit every mark and lie at most `step`
/// apart, closing up towards the last.
pub(super) fn stations(marks: &[f64], step: f64) -> Vec<f64> {
    let mut marks: Vec<f64> = marks.to_vec();
    marks.sort_by(f64::total_cmp);
    marks.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    let mut xs = vec![marks[0]];
    for pair in marks.windows(2) {
        let bays = ((pair[1] - pair[0]) / step).ceil() as usize;
        xs.extend(line([pair[0], 0.0], [pair[1], 0.0], bays.max(1)).map(|p| p[0]));
    }
    // Curves turn fastest at the bow: halve the last bays again and again.
    let (end, last) = (xs.len() - 1, xs[xs.len() - 1]);
    let bay = last - xs[end - 1];
    for i in 1..=4 {
        xs.insert(xs.len() - 1, last - bay / f64::from(1 << i));
    }
    xs
}

/// How far `x` is from `from` to `to`: 0 before, 1 beyond.
pub(super) fn share(x: f64, from: f64, to: f64) -> f64 {
    ((x - from) / (to - from)).clamp(0.0, 1.0)
}

/// From 1 to 0 as `s` goes from 0 to 1, leaving level and arriving upright: the quarter of a
/// rounded plan or profile. `fullness` 2 is an ellipse, more is fuller.
pub(super) fn rounded(s: f64, fullness: f64) -> f64 {
    (1.0 - s.powf(fullness)).max(0.0).powf(0.75)
}

/// From 0 to 1 as `s` goes from 0 to 1, level at both ends.
pub(super) fn smooth(s: f64) -> f64 {
    s * s * (3.0 - 2.0 * s)
}
