//! What is certain is repaired: repeated vertices, collapsed and doubled triangles, flipped
//! faces, small or flat holes. What is not is reported with its place.

use std::collections::HashMap;

use nalgebra::Vector3;

use crate::{Mesh, Notice};

/// Open edges closer than this fraction of the mesh's size are joined: 6 micrometres on a
/// 0.6 m hull, far below what a printer resolves and above what CAD exports round away.
const WELD: f64 = 1e-5;
/// A hole no wider than this fraction of the size is filled without doubt.
const SMALL_HOLE: f64 = 0.02;
/// A hole is flat when its edge stays within this fraction of the size from a plane.
const FLAT: f64 = 1e-3;
/// A part with less volume than this fraction of its area times its size is a sheet folded on
/// itself, not a body: a foil a micrometre thick would count.
const THINNEST: f64 = 1e-6;
/// An opening covers at least this fraction of the largest side of the bounding box.
const OPENING: f64 = 0.15;

/// A closed surface in one piece, outward or (for a shell that was exported as a cavity) not.
#[derive(Debug, Clone)]
pub struct Shell {
    /// Closed and consistently wound, facing outward.
    pub mesh: Mesh,
    /// Whether the file had it facing inward.
    pub was_inward: bool,
    /// Large openings that were capped.
    pub openings: Vec<Opening>,
}

/// The edge of a large opening in a surface without thickness.
#[derive(Debug, Clone)]
pub struct Opening {
    /// In order around the opening.
    pub edge: Vec<Vector3<f64>>,
    /// Area vector of the cap, outward.
    pub area: Vector3<f64>,
}

/// Splits a mesh into shells and repairs each. `length_to_mm` puts places into messages.
#[must_use]
pub fn repair(mesh: &Mesh, length_to_mm: f64, notices: &mut Vec<Notice>) -> Vec<Shell> {
    let size = mesh.size_m();
    let mut log = Log {
        to_mm: length_to_mm,
        notices,
        holes: [0, 0],
    };
    let mut mesh = weld_exact(mesh);
    drop_collapsed(&mut mesh, &mut log);
    if Edges::of(&mesh).open().next().is_some() {
        mesh = weld_open(&mesh, size * WELD, &mut log);
        drop_collapsed(&mut mesh, &mut log);
    }
    let edges = Edges::of(&mesh);
    log.many_sided(&mesh, &edges);
    let parts = parts(&mesh, &edges);
    let flipped = wind_alike(&mut mesh, &edges, &mut log);
    if flipped > 0 {
        log.note(format!(
            "{flipped} triangles faced the wrong way and were turned"
        ));
    }
    let mut shells: Vec<Shell> = parts
        .into_iter()
        .map(|part| shell(&mesh.subset(part), size, &mut log))
        .collect();
    let found = shells.len();
    shells.retain(|s| s.mesh.signed_volume_m3() > THINNEST * s.mesh.area_m2() * s.mesh.size_m());
    if found > shells.len() {
        log.note(format!(
            "{} parts that enclose nothing were left out",
            found - shells.len()
        ));
    }
    log.count_holes();
    shells
}

/// Holes described one by one; more are only counted.
const MOST_DESCRIBED: usize = 10;

struct Log<'a> {
    to_mm: f64,
    notices: &'a mut Vec<Notice>,
    /// Certain and uncertain holes met so far.
    holes: [usize; 2],
}

impl Log<'_> {
    fn note(&mut self, text: String) {
        self.notices.push(Notice {
            serious: false,
            text,
        });
    }

    fn warn(&mut self, text: String) {
        self.notices.push(Notice {
            serious: true,
            text,
        });
    }

    fn place(&self, at: Vector3<f64>) -> String {
        let p = at * self.to_mm;
        format!("({:.1}, {:.1}, {:.1}) mm in the file's axes", p.x, p.y, p.z)
    }

    fn hole(&mut self, certain: bool, text: String) {
        self.holes[usize::from(!certain)] += 1;
        if self.holes[0] + self.holes[1] > MOST_DESCRIBED {
            return;
        }
        if certain {
            self.note(text);
        } else {
            self.warn(text);
        }
    }

    fn count_holes(&mut self) {
        let [certain, doubtful] = self.holes;
        if certain + doubtful > MOST_DESCRIBED {
            let text = format!(
                "{} holes in all, of which {doubtful} are neither small nor flat",
                certain + doubtful
            );
            if doubtful > 0 {
                self.warn(text);
            } else {
                self.note(text);
            }
        }
    }

    /// Edges where more than two triangles meet: a sheet standing on a wall, or two bodies
    /// touching along an edge. Only the first is certain to be wrong.
    fn many_sided(&mut self, mesh: &Mesh, edges: &Edges) {
        let mut uneven = edges.groups().filter(|g| g.len() > 2 && g.len() % 2 == 1);
        let Some(first) = uneven.next() else { return };
        let at = mesh.vertices[first[0].low as usize];
        let text = format!(
            "{} edges are shared by three or more triangles, the first at {}; a sheet without thickness may be standing on a wall",
            1 + uneven.count(),
            self.place(at)
        );
        self.warn(text);
    }
}

/// Joins vertices with equal coordinates.
pub(crate) fn weld_exact(mesh: &Mesh) -> Mesh {
    let mut names: HashMap<[u64; 3], u32> = HashMap::with_capacity(mesh.vertices.len() / 4);
    let mut welded = Mesh::default();
    let renamed: Vec<u32> = mesh
        .vertices
        .iter()
        .map(|v| {
            // Adding zero makes -0.0 equal to 0.0 in bits too.
            let key = [v.x, v.y, v.z].map(|c| (c + 0.0).to_bits());
            *names.entry(key).or_insert_with(|| {
                welded.vertices.push(*v);
                welded.vertices.len() as u32 - 1
            })
        })
        .collect();
    welded.triangles = rename(mesh, &renamed);
    welded
}

fn rename(mesh: &Mesh, names: &[u32]) -> Vec<[u32; 3]> {
    let name = |i: u32| names[i as usize];
    mesh.triangles.iter().map(|t| t.map(name)).collect()
}

/// Joins vertices of open edges that lie within `tolerance` of each other.
fn weld_open(mesh: &Mesh, tolerance: f64, log: &mut Log) -> Mesh {
    if tolerance <= 0.0 {
        return mesh.clone();
    }
    let mut on_edge: Vec<u32> = (Edges::of(mesh).open())
        .flat_map(|e| [e.low, e.high])
        .collect();
    on_edge.sort_unstable();
    on_edge.dedup();
    let cell = |v: Vector3<f64>| [v.x, v.y, v.z].map(|c| (c / tolerance).floor() as i64);
    let mut cells: HashMap<[i64; 3], Vec<u32>> = HashMap::new();
    let mut names: Vec<u32> = (0..mesh.vertices.len() as u32).collect();
    let mut joined = 0;
    for i in on_edge {
        let at = mesh.vertices[i as usize];
        let home = cell(at);
        let twin = around(home)
            .filter_map(|c| cells.get(&c))
            .flatten()
            .find(|j| (mesh.vertices[**j as usize] - at).norm() <= tolerance);
        if let Some(j) = twin {
            names[i as usize] = *j;
            joined += 1;
        } else {
            cells.entry(home).or_default().push(i);
        }
    }
    if joined > 0 {
        log.note(format!(
            "{joined} nearly equal vertices on open edges were joined (within {:.4} mm)",
            tolerance * log.to_mm
        ));
    }
    Mesh {
        vertices: mesh.vertices.clone(),
        triangles: rename(mesh, &names),
    }
}

fn around(c: [i64; 3]) -> impl Iterator<Item = [i64; 3]> {
    (0..27).map(move |k| [c[0] + k % 3 - 1, c[1] + k / 3 % 3 - 1, c[2] + k / 9 - 1])
}

/// Removes triangles with a repeated corner and doubled ones. Thin triangles with three
/// corners stay: they enclose nothing but keep the mesh closed.
fn drop_collapsed(mesh: &mut Mesh, log: &mut Log) {
    let before = mesh.triangles.len();
    mesh.triangles
        .retain(|t| t[0] != t[1] && t[1] != t[2] && t[2] != t[0]);
    let collapsed = before - mesh.triangles.len();
    if collapsed > 0 {
        log.note(format!("{collapsed} collapsed triangles were dropped"));
    }
    let mut order: Vec<(u32, u32, u32, u32)> = (mesh.triangles.iter().enumerate())
        .map(|(n, t)| {
            let mut key = *t;
            key.sort_unstable();
            (key[0], key[1], key[2], n as u32)
        })
        .collect();
    order.sort_unstable();
    let mut doomed = vec![false; mesh.triangles.len()];
    for twins in order.chunk_by(|a, b| (a.0, a.1, a.2) == (b.0, b.1, b.2)) {
        let facing = |n: u32| even_order(mesh.triangles[n as usize]);
        let (front, back): (Vec<u32>, Vec<u32>) =
            twins.iter().map(|t| t.3).partition(|n| facing(*n));
        // Equal triangles are one; a front and a back cancel.
        let keep_front = usize::from(front.len() > back.len());
        let keep_back = usize::from(back.len() > front.len());
        for n in front
            .iter()
            .skip(keep_front)
            .chain(back.iter().skip(keep_back))
        {
            doomed[*n as usize] = true;
        }
    }
    let doubled = doomed.iter().filter(|d| **d).count();
    if doubled > 0 {
        let mut n = 0;
        mesh.triangles.retain(|_| {
            n += 1;
            !doomed[n - 1]
        });
        log.note(format!("{doubled} doubled triangles were dropped"));
    }
}

/// Whether the corners are an even permutation of their sorted order.
fn even_order(t: [u32; 3]) -> bool {
    (t[0] < t[1]) as u8 + (t[1] < t[2]) as u8 + (t[2] < t[0]) as u8 == 2
}

/// One side of a triangle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Side {
    low: u32,
    high: u32,
    triangle: u32,
    /// Whether the triangle runs from `low` to `high`.
    rising: bool,
}

/// All sides, those of one edge together.
struct Edges(Vec<Side>);

impl Edges {
    fn of(mesh: &Mesh) -> Edges {
        let mut sides = Vec::with_capacity(mesh.triangles.len() * 3);
        for (n, t) in mesh.triangles.iter().enumerate() {
            for (a, b) in [(t[0], t[1]), (t[1], t[2]), (t[2], t[0])] {
                sides.push(Side {
                    low: a.min(b),
                    high: a.max(b),
                    triangle: n as u32,
                    rising: a < b,
                });
            }
        }
        sides.sort_unstable();
        Edges(sides)
    }

    fn groups(&self) -> impl Iterator<Item = &[Side]> {
        self.0.chunk_by(|a, b| (a.low, a.high) == (b.low, b.high))
    }

    fn open(&self) -> impl Iterator<Item = Side> {
        self.groups().filter(|g| g.len() == 1).map(|g| g[0])
    }
}

/// Triangles of each connected part, parts in order of their first triangle.
fn parts(mesh: &Mesh, edges: &Edges) -> Vec<Vec<usize>> {
    let mut parent: Vec<u32> = (0..mesh.triangles.len() as u32).collect();
    for group in edges.groups() {
        // Four sides on an edge are two bodies touching there: pair by the facing of sides
        // only when two; otherwise keep neighbours of open parts together.
        for pair in joined(group) {
            let (a, b) = (root(&mut parent, pair[0]), root(&mut parent, pair[1]));
            parent[a.max(b) as usize] = a.min(b);
        }
    }
    let mut lists: Vec<Vec<usize>> = Vec::new();
    let mut slot = vec![usize::MAX; mesh.triangles.len()];
    for n in 0..mesh.triangles.len() {
        let r = root(&mut parent, n as u32) as usize;
        if slot[r] == usize::MAX {
            slot[r] = lists.len();
            lists.push(Vec::new());
        }
        lists[slot[r]].push(n);
    }
    lists
}

fn joined(group: &[Side]) -> impl Iterator<Item = [u32; 2]> + '_ {
    let from_first = group.len() != 4;
    group
        .windows(2)
        .filter(move |_| from_first)
        .map(|w| [w[0].triangle, w[1].triangle])
}

fn root(parent: &mut [u32], mut n: u32) -> u32 {
    while parent[n as usize] != n {
        let up = parent[parent[n as usize] as usize];
        parent[n as usize] = up;
        n = up;
    }
    n
}

/// Winds neighbours alike, keeping the majority of each part; returns how many were turned.
fn wind_alike(mesh: &mut Mesh, edges: &Edges, log: &mut Log) -> usize {
    let count = mesh.triangles.len();
    let mut next: Vec<Vec<(u32, bool)>> = vec![Vec::new(); count];
    let mut turned_somewhere = false;
    for g in edges.groups().filter(|g| g.len() == 2) {
        let same = g[0].rising != g[1].rising;
        turned_somewhere |= !same;
        next[g[0].triangle as usize].push((g[1].triangle, same));
        next[g[1].triangle as usize].push((g[0].triangle, same));
    }
    if !turned_somewhere {
        return 0;
    }
    let mut turn: Vec<Option<bool>> = vec![None; count];
    let (mut flipped, mut twisted) = (0, None);
    for start in 0..count {
        if turn[start].is_some() {
            continue;
        }
        turn[start] = Some(false);
        let mut part = vec![start as u32];
        let mut done = 0;
        while done < part.len() {
            let n = part[done];
            done += 1;
            let own = turn[n as usize] == Some(true);
            for (m, same) in &next[n as usize] {
                let wanted = own == *same;
                match turn[*m as usize] {
                    None => {
                        turn[*m as usize] = Some(wanted);
                        part.push(*m);
                    }
                    Some(is) if is != wanted => twisted = Some(*m),
                    Some(_) => {}
                }
            }
        }
        let turned = part.iter().filter(|n| turn[**n as usize] == Some(true));
        let turned = turned.count();
        let majority = 2 * turned > part.len();
        for n in &part {
            if (turn[*n as usize] == Some(true)) != majority {
                mesh.triangles[*n as usize].swap(1, 2);
                flipped += 1;
            }
        }
    }
    if let Some(n) = twisted {
        let at = log.place(mesh.corners(n as usize)[0]);
        log.warn(format!(
            "the surface is one-sided, like a twisted band, near {at}"
        ));
    }
    flipped
}

/// Caps what is open and faces the part outward.
fn shell(part: &Mesh, size: f64, log: &mut Log) -> Shell {
    let mut mesh = part.clone();
    let loops = open_loops(part);
    let mut openings = Vec::new();
    for ring in &loops {
        let cap = cap(&mesh.vertices, ring);
        let opening = describe(&mesh, ring);
        report_hole(&mesh, ring, &opening, size, log);
        if is_opening(&mesh, &opening) {
            openings.push(opening);
        }
        add_cap(&mut mesh, &cap);
    }
    let was_inward = mesh.signed_volume_m3() < 0.0;
    if was_inward {
        mesh.flip();
        openings.iter_mut().for_each(|o| o.area = -o.area);
    }
    Shell {
        mesh,
        was_inward,
        openings,
    }
}

/// Triangles for one ring; the last index may be a new vertex in the middle.
struct Cap {
    triangles: Vec<[u32; 3]>,
    middle: Option<Vector3<f64>>,
}

fn add_cap(mesh: &mut Mesh, cap: &Cap) {
    mesh.vertices.extend(cap.middle);
    mesh.triangles.extend_from_slice(&cap.triangles);
}

/// Rings of open edges, each in the direction that the missing triangles would run it.
pub(crate) fn open_loops(mesh: &Mesh) -> Vec<Vec<u32>> {
    let mut from: HashMap<u32, Vec<u32>> = HashMap::new();
    let mut starts = Vec::new();
    for side in Edges::of(mesh).open() {
        let (a, b) = if side.rising {
            (side.high, side.low)
        } else {
            (side.low, side.high)
        };
        from.entry(a).or_default().push(b);
        starts.push(a);
    }
    let mut loops = Vec::new();
    for start in starts {
        while let Some(ring) = walk(start, &mut from) {
            if ring.len() > 2 {
                loops.push(ring);
            }
        }
    }
    loops
}

/// Follows open edges until they close or end; cuts off the first ring met on the way.
fn walk(start: u32, from: &mut HashMap<u32, Vec<u32>>) -> Option<Vec<u32>> {
    let mut path = vec![start];
    let mut position: HashMap<u32, usize> = HashMap::from([(start, 0)]);
    let mut at = start;
    loop {
        let Some(next) = from.get_mut(&at).and_then(Vec::pop) else {
            // A torn edge: what has been walked is closed by a straight cut.
            return (path.len() > 1).then_some(path);
        };
        if let Some(back) = position.get(&next) {
            // Edges before the ring are put back for a later walk.
            for pair in path[..=*back].windows(2) {
                from.entry(pair[0]).or_default().push(pair[1]);
            }
            return Some(path.split_off(*back));
        }
        position.insert(next, path.len());
        path.push(next);
        at = next;
    }
}

/// Fills a ring by clipping ears in its mean plane, or by a fan about its middle where that
/// fails (the volume of a fan over a flat ring is right even where its triangles overlap).
fn cap(vertices: &[Vector3<f64>], ring: &[u32]) -> Cap {
    let points: Vec<_> = ring.iter().map(|i| vertices[*i as usize]).collect();
    if let Some(triangles) = ears(&points) {
        return Cap {
            triangles: triangles.into_iter().map(|t| t.map(|i| ring[i])).collect(),
            middle: None,
        };
    }
    let centre = vertices.len() as u32;
    let n = ring.len();
    Cap {
        triangles: (0..n)
            .map(|i| [ring[i], ring[(i + 1) % n], centre])
            .collect(),
        middle: Some(points.iter().sum::<Vector3<f64>>() / n as f64),
    }
}

fn ears(points: &[Vector3<f64>]) -> Option<Vec<[usize; 3]>> {
    let normal = area_vector(points);
    if normal.norm() == 0.0 {
        return None;
    }
    let (u, v) = across(normal.normalize());
    let middle = points.iter().sum::<Vector3<f64>>() / points.len() as f64;
    let flat: Vec<manifold_rust::linalg::Vec2> = (points.iter())
        .map(|p| manifold_rust::linalg::Vec2::new(u.dot(&(p - middle)), v.dot(&(p - middle))))
        .collect();
    let triangles = manifold_rust::polygon::triangulate(&vec![flat], -1.0, true);
    (triangles.len() + 2 == points.len()).then(|| {
        triangles
            .iter()
            .map(|t| [t.x as usize, t.y as usize, t.z as usize])
            .collect()
    })
}

/// Two unit vectors that complete `n` to right-handed axes.
fn across(n: Vector3<f64>) -> (Vector3<f64>, Vector3<f64>) {
    let least = n.iamin();
    let mut axis = Vector3::zeros();
    axis[least] = 1.0;
    let u = axis.cross(&n).normalize();
    (u, n.cross(&u))
}

/// Area of a ring as a vector (Newell), positive towards where it runs counter-clockwise.
pub(crate) fn area_vector(points: &[Vector3<f64>]) -> Vector3<f64> {
    let Some(first) = points.first() else {
        return Vector3::zeros();
    };
    points
        .windows(2)
        .map(|w| (w[0] - first).cross(&(w[1] - first)))
        .sum::<Vector3<f64>>()
        / 2.0
}

fn describe(mesh: &Mesh, ring: &[u32]) -> Opening {
    let edge: Vec<_> = ring.iter().map(|i| mesh.vertices[*i as usize]).collect();
    let area = area_vector(&edge);
    Opening { edge, area }
}

fn is_opening(mesh: &Mesh, opening: &Opening) -> bool {
    let (low, high) = mesh.bounds().unwrap_or_default();
    let e = high - low;
    let largest = (e.x * e.y).max(e.y * e.z).max(e.z * e.x);
    opening.area.norm() > OPENING * largest
}

fn report_hole(mesh: &Mesh, ring: &[u32], opening: &Opening, size: f64, log: &mut Log) {
    if is_opening(mesh, opening) {
        return;
    }
    let points = &opening.edge;
    let middle = points.iter().sum::<Vector3<f64>>() / points.len() as f64;
    let span = 2.0
        * points
            .iter()
            .map(|p| (p - middle).norm())
            .fold(0.0, f64::max);
    let normal = opening.area.try_normalize(0.0).unwrap_or_default();
    let off = points.iter().map(|p| normal.dot(&(p - middle)).abs());
    let flat = off.fold(0.0, f64::max) < FLAT * size;
    let what = format!(
        "a hole of {} edges, {:.1} mm across, at {}",
        ring.len(),
        span * log.to_mm,
        log.place(middle)
    );
    if span < SMALL_HOLE * size || flat {
        log.hole(true, format!("{what}, was filled"));
    } else {
        log.hole(false, format!(
            "{what}, is neither small nor flat; it was closed by the shortest surface, so check it in CAD"
        ));
    }
}

/// Connected parts, in order of their first triangle.
pub(crate) fn split(mesh: &Mesh) -> Vec<Mesh> {
    let parts = parts(mesh, &Edges::of(mesh));
    if parts.len() == 1 {
        return vec![mesh.clone()];
    }
    parts.into_iter().map(|p| mesh.subset(p)).collect()
}

/// Triangles on the other side of each triangle's edges.
pub(crate) fn neighbours(mesh: &Mesh) -> Vec<Vec<u32>> {
    let mut next = vec![Vec::with_capacity(3); mesh.triangles.len()];
    for pair in Edges::of(mesh).groups().filter(|g| g.len() == 2) {
        next[pair[0].triangle as usize].push(pair[1].triangle);
        next[pair[1].triangle as usize].push(pair[0].triangle);
    }
    next
}

/// Closes every open ring of a mesh; used for envelopes cut at a rim.
pub(crate) fn close(mesh: &mut Mesh) {
    for ring in open_loops(mesh) {
        let cap = cap(&mesh.vertices, &ring);
        add_cap(mesh, &cap);
    }
}
