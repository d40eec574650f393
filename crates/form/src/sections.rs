//! Plane sections of a mesh: frames (constant x), buttocks (constant y), waterlines (constant z).
//!
//! A plane is cut exactly through the facets. A vertex on the plane counts as ahead of it, so
//! every closed mesh gives closed outlines, also where the plane meets vertices or whole facets
//! (those facets are not drawn; their edges are). Sections of 100 000 triangles at 200 stations
//! take some 30 ms.

use std::collections::HashMap;

use nalgebra::Vector3;

use crate::Mesh;

/// Direction in which the cutting planes are stacked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Along {
    /// Frames: planes of constant x.
    X,
    /// Buttocks: planes of constant y.
    Y,
    /// Waterlines: planes of constant z.
    Z,
}

/// Where one triangle meets a plane, the solid on the left seen against the plane's axis.
pub type Cut = [Vector3<f64>; 2];

/// A chain of points in the cutting plane, m, boat axes.
#[derive(Debug, Clone, PartialEq)]
pub struct Polyline {
    /// In order, the solid on the left seen against the plane's axis.
    pub points: Vec<Vector3<f64>>,
    /// Whether the last point joins the first.
    pub closed: bool,
}

/// Outlines at each position of `at`, m, in the same order.
#[must_use]
pub fn sections(mesh: &Mesh, along: Along, at: &[f64]) -> Vec<Vec<Polyline>> {
    cuts(mesh, along, at).iter().map(|c| chain(c)).collect()
}

/// Loose cuts at each position of `at`, m, in the same order.
#[must_use]
pub fn cuts(mesh: &Mesh, along: Along, at: &[f64]) -> Vec<Vec<Cut>> {
    let k = along as usize;
    let mut order: Vec<usize> = (0..at.len()).collect();
    order.sort_by(|a, b| at[*a].total_cmp(&at[*b]));
    let sorted: Vec<f64> = order.iter().map(|i| at[*i]).collect();
    let mut found = vec![Vec::new(); at.len()];
    for corners in mesh.faces() {
        let [a, b, c] = corners.map(|p| p[k]);
        let first = sorted.partition_point(|x| *x <= a.min(b).min(c));
        let end = sorted.partition_point(|x| *x <= a.max(b).max(c));
        for i in first..end {
            if let Some(cut) = cut(corners, k, sorted[i]) {
                found[order[i]].push(cut);
            }
        }
    }
    found
}

/// From the edge that goes ahead of the plane to the one that comes back.
fn cut(corners: [Vector3<f64>; 3], k: usize, at: f64) -> Option<Cut> {
    let ahead = corners.map(|p| p[k] >= at);
    let (mut from, mut to) = (None, None);
    for i in 0..3 {
        let j = (i + 1) % 3;
        match (ahead[i], ahead[j]) {
            (true, false) => from = Some(meet(corners[i], corners[j], k, at)),
            (false, true) => to = Some(meet(corners[i], corners[j], k, at)),
            _ => {}
        }
    }
    Some([from?, to?])
}

/// Worked from the lower end, so that both triangles at an edge find the same bits.
fn meet(a: Vector3<f64>, b: Vector3<f64>, k: usize, at: f64) -> Vector3<f64> {
    let (low, high) = if a[k] < b[k] { (a, b) } else { (b, a) };
    let mut point = low + (high - low) * ((at - low[k]) / (high[k] - low[k]));
    point[k] = at;
    point
}

/// Joins cuts end to end. Cuts without length are dropped.
#[must_use]
pub fn chain(cuts: &[Cut]) -> Vec<Polyline> {
    let key = |p: &Vector3<f64>| [p.x, p.y, p.z].map(|c| (c + 0.0).to_bits());
    let cuts: Vec<&Cut> = cuts.iter().filter(|c| key(&c[0]) != key(&c[1])).collect();
    let mut starting: HashMap<[u64; 3], Vec<usize>> = HashMap::with_capacity(cuts.len());
    let mut ending: HashMap<[u64; 3], usize> = HashMap::with_capacity(cuts.len());
    for (i, cut) in cuts.iter().enumerate().rev() {
        starting.entry(key(&cut[0])).or_default().push(i);
        *ending.entry(key(&cut[1])).or_default() += 1;
    }
    let mut used = vec![false; cuts.len()];
    let mut lines = Vec::new();
    // Open chains first, from where nothing arrives; what is left runs in circles.
    let loose = |i: &usize| !ending.contains_key(&key(&cuts[*i][0]));
    let all = 0..cuts.len();
    for first in all.clone().filter(loose).chain(all) {
        if used[first] {
            continue;
        }
        used[first] = true;
        let mut points = cuts[first].to_vec();
        while let Some(next) = take(&mut starting, key(&points[points.len() - 1]), &mut used) {
            points.push(cuts[next][1]);
        }
        let closed = points.len() > 2 && key(&points[0]) == key(&points[points.len() - 1]);
        if closed {
            points.pop();
        }
        lines.push(Polyline { points, closed });
    }
    lines
}

fn take(
    starting: &mut HashMap<[u64; 3], Vec<usize>>,
    at: [u64; 3],
    used: &mut [bool],
) -> Option<usize> {
    let waiting = starting.get_mut(&at)?;
    while let Some(i) = waiting.pop() {
        if !used[i] {
            used[i] = true;
            return Some(i);
        }
    }
    None
}

impl Polyline {
    /// Enclosed area of a closed outline, m2: positive around solid, negative around a hole.
    #[must_use]
    pub fn area_m2(&self, along: Along) -> f64 {
        let mut normal = Vector3::zeros();
        let origin = self.points.first().copied().unwrap_or_default();
        for (a, b) in self.points.iter().zip(self.points.iter().cycle().skip(1)) {
            normal += (a - origin).cross(&(b - origin)) / 2.0;
        }
        normal[along as usize]
    }
}
