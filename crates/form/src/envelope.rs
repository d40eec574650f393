//! The outer envelope: everything that keeps water out.
//!
//! A closed solid displaces what it encloses. A cavity inside changes only the mass. A hull
//! open at the top displaces its inside too, up to the rim: as water rises around it, the
//! inside stays dry until the water stands at the lowest point of the rim. That is found by
//! flooding the air around the mesh on a grid, lowest ways first; air that is reached only by
//! climbing higher than itself is a pocket. Triangles that face a pocket are left out of the
//! envelope, and the rim is closed with a cap. Tunnels and recesses that drain downward are
//! reached without climbing and stay open to the water.

use nalgebra::Vector3;

use crate::flood::Air;
use crate::repair::{Opening, area_vector, close, neighbours, open_loops};
use crate::{EnvelopeKind, Mesh, Notice, bodies::Bodies};

/// A pocket smaller than this fraction of the enclosed volume is a puddle on deck.
const POCKET: f64 = 0.1;
/// Surfaces steeper to the horizontal than this cosine are walls, others rim or floor.
const WALL_COS: f64 = 0.7;
/// Neighbouring triangles within 40 degrees belong to one wall.
const SMOOTH_COS: f64 = 0.766;

/// The envelope and what it is made of.
#[derive(Debug, Clone)]
pub(crate) struct Envelope {
    pub mesh: Mesh,
    pub kind: EnvelopeKind,
    pub wall: Option<(f64, Vector3<f64>)>,
    pub rim_m: Option<Vector3<f64>>,
}

/// Envelope of bodies in boat axes.
pub(crate) fn of(bodies: &Bodies, notices: &mut Vec<Notice>) -> Envelope {
    if let Some(found) = skin(bodies, notices) {
        return found;
    }
    if let Some(found) = tub(bodies, notices) {
        return found;
    }
    let hollow = !bodies.cavities.triangles.is_empty();
    if hollow {
        notices.push(plain(format!(
            "closed shell: {:.1} cm3 outside, {:.1} cm3 of it cavity",
            bodies.outer.signed_volume_m3() * 1e6,
            -bodies.cavities.signed_volume_m3() * 1e6
        )));
    }
    Envelope {
        mesh: bodies.outer.clone(),
        kind: if hollow {
            EnvelopeKind::ClosedShell
        } else {
            EnvelopeKind::Solid
        },
        wall: hollow.then(|| wall(bodies)),
        rim_m: None,
    }
}

/// Volume and centre of the material: outer skins less cavities.
fn wall(bodies: &Bodies) -> (f64, Vector3<f64>) {
    let material = bodies.material();
    (material.signed_volume_m3(), material.centroid_m())
}

/// A surface without thickness, capped when it was repaired.
fn skin(bodies: &Bodies, notices: &mut Vec<Notice>) -> Option<Envelope> {
    let faces_up = |o: &&Opening| o.area.z > 0.5 * o.area.norm();
    for other in bodies.openings.iter().filter(|o| !faces_up(o)) {
        let at = mean(&other.edge) * 1e3;
        notices.push(Notice {
            serious: true,
            text: format!(
                "a large opening of {:.0} cm2 around ({:.0}, {:.0}, {:.0}) mm does not face up; it was closed flat, as if sealed",
                other.area.norm() * 1e4, at.x, at.y, at.z
            ),
        });
    }
    let rims: Vec<&Opening> = bodies.openings.iter().filter(faces_up).collect();
    let rim = lowest(rims.iter().flat_map(|o| &o.edge))?;
    notices.push(plain(format!(
        "open skin without thickness: dry inside up to its rim, lowest at ({:.1}, {:.1}, {:.1}) mm",
        rim.x * 1e3,
        rim.y * 1e3,
        rim.z * 1e3
    )));
    Some(Envelope {
        mesh: bodies.outer.clone(),
        kind: EnvelopeKind::OpenShell,
        wall: None,
        rim_m: Some(rim),
    })
}

/// A hull with walls, open at the top.
fn tub(bodies: &Bodies, notices: &mut Vec<Notice>) -> Option<Envelope> {
    let solid = &bodies.outer;
    let mut air = Air::around(solid)?;
    air.plug_holes();
    let enclosed = solid.signed_volume_m3();
    let level = air.pockets(Vector3::z());
    let pocket = air.volume_m3(&level);
    if pocket < POCKET * (enclosed + pocket) {
        if pocket > 0.02 * enclosed {
            notices.push(plain(format!(
                "a recess that would hold {:.0} cm3 of water counts as open to the water",
                pocket * 1e6
            )));
        }
        return None;
    }
    let dry = air.dry_inside(&level);
    let inner = inner_triangles(solid, &air, &dry);
    let outside = (0..solid.triangles.len()).filter(|t| !inner[*t]);
    let mut mesh = solid.subset(outside);
    let rims: Vec<Vec<Vector3<f64>>> = open_loops(&mesh)
        .iter()
        .map(|ring| ring.iter().map(|i| mesh.vertices[*i as usize]).collect())
        .collect();
    let (kind, rim) = match main_rim(&rims, &air) {
        Some(main) => {
            report_small_rims(rims.iter().filter(|r| r != &main), notices);
            (EnvelopeKind::OpenShell, lowest(main))
        }
        None => {
            report_small_rims(rims.iter(), notices);
            (EnvelopeKind::ClosedShell, None)
        }
    };
    if rims.is_empty() {
        return None;
    }
    close(&mut mesh);
    report_tub(&mesh, enclosed, pocket, rim, notices);
    Some(Envelope {
        mesh,
        kind,
        wall: Some(wall(bodies)),
        rim_m: rim,
    })
}

/// The largest ring that is more than a plugged hole.
fn main_rim<'a>(rims: &'a [Vec<Vector3<f64>>], air: &Air) -> Option<&'a Vec<Vector3<f64>>> {
    rims.iter()
        .max_by(|a, b| area_vector(a).norm().total_cmp(&area_vector(b).norm()))
        .filter(|r| area_vector(r).norm() > air.hole_area_m2())
}

fn report_tub(
    mesh: &Mesh,
    solid: f64,
    pocket: f64,
    rim: Option<Vector3<f64>>,
    notices: &mut Vec<Notice>,
) {
    let inside = mesh.signed_volume_m3() - solid;
    let until = rim.map_or_else(
        || "with its holes sealed".to_owned(),
        |r| {
            format!(
                "up to its rim, lowest at ({:.1}, {:.1}, {:.1}) mm",
                r.x * 1e3,
                r.y * 1e3,
                r.z * 1e3
            )
        },
    );
    notices.push(plain(format!(
        "shell with walls of {:.1} cm3: dry inside ({:.0} cm3) {until}",
        solid * 1e6,
        inside * 1e6
    )));
    if inside < 0.8 * pocket || !mesh.is_closed() {
        notices.push(Notice {
            serious: true,
            text: format!(
                "the rim was traced poorly: {:.0} cm3 inside against {:.0} cm3 by flooding; check the hull's edge in CAD",
                inside * 1e6,
                pocket * 1e6
            ),
        });
    }
}

fn report_small_rims<'a>(
    rims: impl Iterator<Item = &'a Vec<Vector3<f64>>>,
    notices: &mut Vec<Notice>,
) {
    for rim in rims {
        let at = mean(rim) * 1e3;
        notices.push(plain(format!(
            "another opening into the dry inside, {:.1} cm2 at ({:.0}, {:.0}, {:.0}) mm, counts as sealed",
            area_vector(rim).norm() * 1e4, at.x, at.y, at.z
        )));
    }
}

/// Triangles that face dry air, grown up their walls to the rim.
fn inner_triangles(mesh: &Mesh, air: &Air, dry: &[bool]) -> Vec<bool> {
    let normals: Vec<Vector3<f64>> = mesh
        .faces()
        .map(|[a, b, c]| {
            (b - a)
                .cross(&(c - a))
                .try_normalize(0.0)
                .unwrap_or_default()
        })
        .collect();
    let mut inner: Vec<bool> = mesh
        .faces()
        .zip(&normals)
        .map(|(corners, n)| share_dry(corners, *n, air, dry) > 0.3)
        .collect();
    let next = neighbours(mesh);
    let mut queue: Vec<usize> = (0..inner.len()).filter(|t| inner[*t]).collect();
    while let Some(t) = queue.pop() {
        for n in &next[t] {
            let n = *n as usize;
            let wall = normals[n].z.abs() < WALL_COS;
            let smooth = normals[n].dot(&normals[t]) > SMOOTH_COS;
            let flat = normals[n] == Vector3::zeros();
            if !inner[n] && (flat || (wall && smooth && air.near(&mesh.corners(n), dry))) {
                inner[n] = true;
                queue.push(n);
            }
        }
    }
    inner
}

/// Fraction of points just off the triangle's face that are dry air.
fn share_dry(p: [Vector3<f64>; 3], normal: Vector3<f64>, air: &Air, dry: &[bool]) -> f64 {
    let longest = (p[1] - p[0])
        .norm()
        .max((p[2] - p[1]).norm())
        .max((p[0] - p[2]).norm());
    let n = ((longest / air.cell_m()).ceil() as usize).clamp(1, 12);
    let (mut hits, mut count) = (0, 0);
    for i in 0..n {
        for j in 0..n - i {
            let (u, v) = (
                (i as f64 + 1.0 / 3.0) / n as f64,
                (j as f64 + 1.0 / 3.0) / n as f64,
            );
            let on = p[0] + (p[1] - p[0]) * u + (p[2] - p[0]) * v;
            let beside = [0.35, 0.8].map(|k| on + normal * (k * air.cell_m()));
            count += 1;
            hits += usize::from(beside.iter().any(|q| air.index(*q).is_some_and(|c| dry[c])));
        }
    }
    f64::from(hits as u32) / f64::from(count.max(1))
}

fn lowest<'a>(points: impl IntoIterator<Item = &'a Vector3<f64>>) -> Option<Vector3<f64>> {
    points
        .into_iter()
        .min_by(|a, b| a.z.total_cmp(&b.z).then(a.x.total_cmp(&b.x)))
        .copied()
}

fn mean(points: &[Vector3<f64>]) -> Vector3<f64> {
    points.iter().sum::<Vector3<f64>>() / points.len().max(1) as f64
}

fn plain(text: String) -> Notice {
    Notice {
        serious: false,
        text,
    }
}
