//! Several shells made one: cavities told from bodies, overlapping and touching bodies joined.

use nalgebra::Vector3;

use crate::repair::{Opening, Shell};
use crate::solid::Solid;
use crate::{Mesh, Notice, crossing};

/// Sections of one hull may end this far apart, m: half a millimetre of export gap.
const GAP_M: f64 = 0.5e-3;

/// The whole boat's outer skin with what lies inside it.
#[derive(Debug, Clone, Default)]
pub(crate) struct Bodies {
    /// Outer skins, joined where they meet.
    pub outer: Mesh,
    /// Closed cavities, facing as cavities do (into the cavity).
    pub cavities: Mesh,
    /// Openings of surfaces without thickness.
    pub openings: Vec<Opening>,
    /// How many separate outer skins there are.
    pub count: usize,
}

/// Sorts shells into outer skins, cavities and inner parts, and joins the outer skins.
pub(crate) fn combine(shells: Vec<Shell>, notices: &mut Vec<Notice>) -> Bodies {
    let (outers, inners) = split_nested(shells);
    let mut bodies = Bodies::default();
    for inner in inners {
        inner.sort_into(&mut bodies, notices);
    }
    for outer in &outers {
        bodies.openings.extend(outer.openings.iter().cloned());
    }
    let meshes: Vec<Mesh> = outers.into_iter().map(|s| s.mesh).collect();
    let joined = join(meshes, notices);
    bodies.count = joined.len();
    for mesh in joined {
        bodies.add_joined(untangle(mesh, notices));
    }
    bodies
}

impl Bodies {
    /// Joining sections of a shell can close a cavity: a part that faces inward.
    fn add_joined(&mut self, mesh: Mesh) {
        for part in crate::repair::split(&mesh) {
            if part.signed_volume_m3() < 0.0 {
                self.cavities.append(&part);
            } else {
                self.outer.append(&part);
            }
        }
    }
}

struct Inner {
    shell: Shell,
    /// Facing opposite to the body around it.
    reversed: bool,
}

impl Inner {
    fn sort_into(self, bodies: &mut Bodies, notices: &mut Vec<Notice>) {
        let volume = self.shell.mesh.signed_volume_m3();
        let at = self.shell.mesh.centroid_m() * 1e3;
        let place = format!("({:.1}, {:.1}, {:.1}) mm", at.x, at.y, at.z);
        if self.reversed {
            notices.push(plain(format!(
                "a closed cavity of {:.1} cm3 around {place} lies inside the hull",
                volume * 1e6
            )));
            let mut cavity = self.shell.mesh;
            cavity.flip();
            bodies.cavities.append(&cavity);
        } else {
            notices.push(plain(format!(
                "a closed body of {:.1} cm3 around {place} lies wholly inside another and displaces nothing of its own",
                volume * 1e6
            )));
        }
    }
}

/// Shells inside another go to the second list.
fn split_nested(shells: Vec<Shell>) -> (Vec<Shell>, Vec<Inner>) {
    let boxes: Vec<_> = shells.iter().map(|s| s.mesh.bounds()).collect();
    let holder = |i: usize| {
        (0..shells.len()).find(|j| {
            *j != i
                && holds(boxes[*j], boxes[i])
                && contains(&shells[*j].mesh, shells[i].mesh.vertices[0])
        })
    };
    let holders: Vec<Option<usize>> = (0..shells.len()).map(holder).collect();
    let inward: Vec<bool> = shells.iter().map(|s| s.was_inward).collect();
    let (mut outers, mut inners) = (Vec::new(), Vec::new());
    for (i, shell) in shells.into_iter().enumerate() {
        match holders[i] {
            None => outers.push(shell),
            Some(j) => inners.push(Inner {
                reversed: inward[i] != inward[j],
                shell,
            }),
        }
    }
    (outers, inners)
}

type Bounds = Option<(Vector3<f64>, Vector3<f64>)>;

fn holds(outer: Bounds, inner: Bounds) -> bool {
    let (Some(o), Some(i)) = (outer, inner) else {
        return false;
    };
    (0..3).all(|k| o.0[k] <= i.0[k] && i.1[k] <= o.1[k]) && (o.1 - o.0).norm() > (i.1 - i.0).norm()
}

/// By solid angle: the sum over all facets is 4 pi inside and 0 outside.
fn contains(mesh: &Mesh, point: Vector3<f64>) -> bool {
    let sum: f64 = mesh
        .faces()
        .map(|corners| {
            let [a, b, c] = corners.map(|p| p - point);
            let (la, lb, lc) = (a.norm(), b.norm(), c.norm());
            let below = la * lb * lc + a.dot(&b) * lc + b.dot(&c) * la + c.dot(&a) * lb;
            2.0 * a.dot(&b.cross(&c)).atan2(below)
        })
        .sum();
    sum > std::f64::consts::TAU
}

/// Joins bodies whose boxes meet; others stay apart.
fn join(meshes: Vec<Mesh>, notices: &mut Vec<Notice>) -> Vec<Mesh> {
    if meshes.len() < 2 {
        return meshes;
    }
    let groups = touching(&meshes);
    let apart = groups.len();
    let mut slots: Vec<Option<Mesh>> = meshes.into_iter().map(Some).collect();
    let joined = groups
        .into_iter()
        .map(|group| {
            let members: Vec<Mesh> = group.iter().filter_map(|i| slots[*i].take()).collect();
            join_group(members, notices)
        })
        .collect();
    if apart > 1 {
        notices.push(plain(format!(
            "{apart} bodies do not touch each other; they move as one boat"
        )));
    }
    joined
}

/// Groups of indices whose boxes, grown by the gap, overlap.
fn touching(meshes: &[Mesh]) -> Vec<Vec<usize>> {
    let boxes: Vec<_> = meshes
        .iter()
        .map(|m| m.bounds().unwrap_or_default())
        .collect();
    let meet = |i: usize, j: usize| {
        let (a, b) = (boxes[i], boxes[j]);
        (0..3).all(|k| a.0[k] <= b.1[k] + GAP_M && b.0[k] <= a.1[k] + GAP_M)
    };
    let mut group: Vec<usize> = (0..meshes.len()).collect();
    for i in 0..meshes.len() {
        for j in 0..i {
            if meet(i, j) && group[i] != group[j] {
                let (from, to) = (group[i].max(group[j]), group[i].min(group[j]));
                group.iter_mut().for_each(|g| {
                    if *g == from {
                        *g = to;
                    }
                });
            }
        }
    }
    let mut lists: Vec<Vec<usize>> = vec![Vec::new(); meshes.len()];
    for (i, g) in group.iter().enumerate() {
        lists[*g].push(i);
    }
    lists.retain(|l| !l.is_empty());
    lists
}

fn join_group(mut members: Vec<Mesh>, notices: &mut Vec<Notice>) -> Mesh {
    if members.len() == 1 {
        return members.swap_remove(0);
    }
    let closed = close_gaps(&mut members);
    if closed > 0 {
        notices.push(plain(format!(
            "{closed} gaps of at most {:.1} mm between sections of the hull were closed",
            GAP_M * 1e3
        )));
    }
    let volumes: Vec<f64> = members.iter().map(Mesh::signed_volume_m3).collect();
    let total: f64 = volumes.iter().sum();
    let largest = volumes.iter().copied().fold(0.0, f64::max);
    match unite(&members) {
        Ok(whole) if plausible(&whole, largest, total) => {
            let volume = whole.signed_volume_m3();
            notices.push(plain(format!(
                "{} bodies were joined into one; {:.1} cm3 where they overlap is counted once",
                members.len(),
                (total - volume).max(0.0) * 1e6
            )));
            whole
        }
        other => {
            let why = other.err().unwrap_or_else(|| "result implausible".into());
            notices.push(Notice {
                serious: true,
                text: format!(
                    "{} bodies could not be joined ({why}); any overlap counts twice, so join them in CAD",
                    members.len()
                ),
            });
            let mut whole = Mesh::default();
            members.iter().for_each(|m| whole.append(m));
            whole
        }
    }
}

fn plausible(whole: &Mesh, largest: f64, total: f64) -> bool {
    let volume = whole.signed_volume_m3();
    whole.is_closed() && volume > largest * (1.0 - 1e-6) && volume < total * (1.0 + 1e-6)
}

/// Flat ends that face each other across a small gap are drawn together, so that sections of
/// one hull join. Returns how many gaps were closed.
fn close_gaps(members: &mut [Mesh]) -> usize {
    let mut closed = 0;
    for i in 0..members.len() {
        for j in 0..members.len() {
            let (Some(a), Some(b)) = (members[i].bounds(), members[j].bounds()) else {
                continue;
            };
            for k in 0..3 {
                let gap = b.0[k] - a.1[k];
                if i != j && gap > 0.0 && gap <= GAP_M {
                    // Down to the other's face, so the two coincide there.
                    for v in &mut members[j].vertices {
                        if v[k] <= b.0[k] + 1e-9 {
                            v[k] = a.1[k];
                        }
                    }
                    closed += 1;
                }
            }
        }
    }
    closed
}

/// Rebuilds a surface that passes through itself, so that overlaps count once; where that does
/// not give a sound result the surface stays and the place is named.
fn untangle(mesh: Mesh, notices: &mut Vec<Notice>) -> Mesh {
    let found = crossing::find(&mesh);
    let Some(first) = found.places.first() else {
        return mesh;
    };
    let count = if found.complete { "" } else { "at least " };
    let what = format!(
        "the surface passes through itself in {count}{} places, the first at ({:.1}, {:.1}, {:.1}) mm in the file's axes",
        found.places.len(),
        first.x * 1e3,
        first.y * 1e3,
        first.z * 1e3
    );
    let volume = mesh.signed_volume_m3();
    let rebuilt = if found.complete { rebuild(&mesh) } else { None };
    match rebuilt.filter(|r| plausible(r, 0.5 * volume, volume)) {
        Some(rebuilt) => {
            notices.push(plain(format!(
                "{what}; overlaps of {:.2} cm3 are counted once",
                (volume - rebuilt.signed_volume_m3()) * 1e6
            )));
            rebuilt
        }
        None => {
            notices.push(Notice {
                serious: true,
                text: format!("{what}; overlaps may count twice, so mend it in CAD"),
            });
            mesh
        }
    }
}

fn rebuild(mesh: &Mesh) -> Option<Mesh> {
    Solid::mended(mesh).ok().map(|s| s.mesh())
}

/// Boolean union.
pub(crate) fn unite(members: &[Mesh]) -> Result<Mesh, String> {
    let solids: Result<Vec<Solid>, _> = members.iter().map(Solid::new).collect();
    let whole = solids
        .and_then(|s| Solid::union(&s))
        .map_err(|e| e.to_string())?;
    if whole.is_empty() {
        return Err("empty result".into());
    }
    Ok(whole.mesh())
}

fn plain(text: String) -> Notice {
    Notice {
        serious: false,
        text,
    }
}
