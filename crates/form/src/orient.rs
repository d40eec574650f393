//! Which way the boat lies in its file, and where its origin is.
//!
//! The longest extent is the length. Of the other two, the boat is symmetric across one (beam)
//! and not across the other (up). The keel line rises towards the bow, the sections are fuller
//! above than below, and the transom is blunt where the bow is fine. Declared axes override
//! what is found. Only quarter turns are considered.

use boat::Axis;
use nalgebra::{Matrix3, Vector3};

use crate::rays::{self, Raster};
use crate::{Mesh, Notice};

/// Rays in each direction of a sounding.
const RAYS: usize = 80;
/// Evidence below this is no evidence.
const DOUBT: f64 = 0.1;
/// A file whose own origin is this close to the one found (fraction of the length) is taken to
/// be in boat axes already.
const HOME: f64 = 0.015;

/// A turn and a shift from file axes (in metres) to boat axes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placing {
    /// Quarter turns.
    pub turn: Matrix3<f64>,
    /// Added after the turn, m.
    pub shift: Vector3<f64>,
}

impl Placing {
    /// A point of the file, in metres, in boat axes.
    #[must_use]
    pub fn place(&self, p: Vector3<f64>) -> Vector3<f64> {
        self.turn * p + self.shift
    }

    /// The axes of the file that point to the bow and up.
    #[must_use]
    pub fn axes(&self) -> [Axis; 2] {
        [0, 2].map(|row| nearest(self.turn.row(row).transpose()))
    }
}

/// Finds how a mesh in metres is to be placed.
#[must_use]
pub fn find(
    mesh: &Mesh,
    forward: Option<Axis>,
    up: Option<Axis>,
    notices: &mut Vec<Notice>,
) -> Placing {
    let turn = find_turn(mesh, forward, up, notices);
    let turned = mesh.map(|p| turn * p);
    let shift = find_shift(&turned, turn == Matrix3::identity(), notices);
    Placing { turn, shift }
}

fn find_turn(
    mesh: &Mesh,
    forward: Option<Axis>,
    up: Option<Axis>,
    notices: &mut Vec<Notice>,
) -> Matrix3<f64> {
    let length = forward.map_or_else(|| longest(mesh, up), |f| axis(f).iamax());
    let up_axis = up.map(axis).filter(|u| u.iamax() != length);
    if up.is_some() && up_axis.is_none() {
        warn(
            notices,
            "the declared up axis is also the forward axis; up was found instead",
        );
    }
    let (up_found, up_known) = match up_axis {
        Some(u) => (u, true),
        None => (find_up(mesh, length, notices), false),
    };
    let ahead = forward.map_or_else(|| unit(length), axis);
    let mut turn = axes(ahead, up_found);
    // CAD mostly has z up, so that takes good evidence to refuse; any other guess does not.
    let wanted = if up_found == Vector3::z() {
        1.5 * DOUBT
    } else {
        0.0
    };
    let evidence = upright(&mesh.map(|p| turn * p));
    if !up_known && evidence.abs() < DOUBT / 2.0 {
        note(
            notices,
            "top and bottom look alike; declare the up axis if the drawing is upside down",
        );
    }
    if !up_known && evidence < -wanted {
        note(
            notices,
            "the hull lay upside down in its file and was turned over",
        );
        turn = axes(ahead, -up_found);
    }
    if forward.is_none() {
        turn = face_bow(mesh, turn, notices);
    }
    if turn != Matrix3::identity() {
        let named = |row: usize| name(turn.row(row).transpose());
        note(
            notices,
            &format!(
                "in the file, the bow points to {} and up is {}",
                named(0),
                named(2)
            ),
        );
    }
    turn
}

/// Rows: ahead, port, up.
fn axes(ahead: Vector3<f64>, up: Vector3<f64>) -> Matrix3<f64> {
    let port = up.cross(&ahead);
    Matrix3::from_rows(&[ahead.transpose(), port.transpose(), up.transpose()])
}

fn axis(a: Axis) -> Vector3<f64> {
    match a {
        Axis::PlusX => Vector3::x(),
        Axis::MinusX => -Vector3::x(),
        Axis::PlusY => Vector3::y(),
        Axis::MinusY => -Vector3::y(),
        Axis::PlusZ => Vector3::z(),
        Axis::MinusZ => -Vector3::z(),
    }
}

fn nearest(v: Vector3<f64>) -> Axis {
    let k = v.iamax();
    match (k, v[k] > 0.0) {
        (0, true) => Axis::PlusX,
        (0, false) => Axis::MinusX,
        (1, true) => Axis::PlusY,
        (1, false) => Axis::MinusY,
        (_, true) => Axis::PlusZ,
        (_, false) => Axis::MinusZ,
    }
}

fn unit(k: usize) -> Vector3<f64> {
    let mut v = Vector3::zeros();
    v[k] = 1.0;
    v
}

fn name(v: Vector3<f64>) -> String {
    let k = v.iamax();
    let sign = if v[k] > 0.0 { '+' } else { '-' };
    format!("{sign}{}", ['x', 'y', 'z'][k])
}

fn longest(mesh: &Mesh, up: Option<Axis>) -> usize {
    let (low, high) = mesh.bounds().unwrap_or_default();
    let mut extent = high - low;
    if let Some(u) = up {
        extent[axis(u).iamax()] = -1.0;
    }
    extent.imax()
}

/// The direction across which the hull is not symmetric. Where neither or both are, the file's
/// z (else y) is up, as most CAD has it.
fn find_up(mesh: &Mesh, length: usize, notices: &mut Vec<Notice>) -> Vector3<f64> {
    let usual = if length == 2 { 1 } else { 2 };
    let other = 3 - length - usual;
    let turn = axes(unit(length), unit(usual));
    let Some(view) = Front::of(&mesh.map(|p| turn * p)) else {
        return unit(usual);
    };
    let (across, upright) = (view.unlike(0), view.unlike(1));
    if across <= upright + 0.02 {
        return unit(usual);
    }
    note(
        notices,
        &format!(
            "the hull lies on its side in its file: it is symmetric across {} and not across {}",
            ["x", "y", "z"][usual],
            ["x", "y", "z"][other]
        ),
    );
    unit(other)
}

/// Thickness along x seen from ahead, on a grid over (y, z).
struct Front(Vec<f64>);

impl Front {
    fn of(mesh: &Mesh) -> Option<Front> {
        let raster = Raster::cast(mesh, rays::Axis::X, [RAYS, RAYS])?;
        let thick = |i, j| raster.solid(i, j).iter().map(|s| s[1] - s[0]).sum();
        let cells = (0..RAYS * RAYS).map(|n| thick(n / RAYS, n % RAYS));
        Some(Front(cells.collect()))
    }

    /// Height of the middle of the view, 0 to 1.
    fn middle(&self) -> f64 {
        let (mut sum, mut count) = (0.0, 0.0);
        for (n, thick) in self.0.iter().enumerate() {
            if *thick > 0.0 {
                sum += ((n % RAYS) as f64 + 0.5) / RAYS as f64;
                count += 1.0;
            }
        }
        if count > 0.0 { sum / count } else { 0.5 }
    }

    /// How much of the hull has no counterpart mirrored across grid direction `k`, 0 to 1.
    fn unlike(&self, k: usize) -> f64 {
        let (mut apart, mut all) = (0.0, 0.0);
        for i in 0..RAYS {
            for j in 0..RAYS {
                let twin = if k == 0 {
                    (RAYS - 1 - i) * RAYS + j
                } else {
                    i * RAYS + RAYS - 1 - j
                };
                apart += (self.0[i * RAYS + j] - self.0[twin]).abs();
                all += self.0[i * RAYS + j];
            }
        }
        if all > 0.0 { apart / all / 2.0 } else { 0.0 }
    }
}

/// Profile and sections along the length, from rays straight up.
struct Profile {
    /// Lowest and highest point at each station, relative to the depth, 0 to 1.
    low: Vec<f64>,
    high: Vec<f64>,
    /// Section area relative to the largest.
    section: Vec<f64>,
}

impl Profile {
    fn of(mesh: &Mesh) -> Option<Profile> {
        let raster = Raster::cast(mesh, rays::Axis::Z, [RAYS, RAYS])?;
        let (bottom, top) = mesh.bounds()?;
        let depth = top.z - bottom.z;
        let (mut low, mut high) = (vec![1.0f64; RAYS], vec![0.0f64; RAYS]);
        let mut section = vec![0.0f64; RAYS];
        for n in 0..RAYS * RAYS {
            let i = n / RAYS;
            for s in raster.solid(i, n % RAYS) {
                let [a, b] = s.map(|z| (z - bottom.z) / depth);
                low[i] = low[i].min(a);
                high[i] = high[i].max(b);
                section[i] += b - a;
            }
        }
        let largest = section.iter().copied().fold(0.0, f64::max);
        if largest <= 0.0 {
            return None;
        }
        section.iter_mut().for_each(|a| *a /= largest);
        Some(Profile { low, high, section })
    }
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len().max(1) as f64
}

/// Stations counted as an end.
const END: usize = RAYS / 10;

/// The keel climbs towards an end while the deck does not fall there, and the view from ahead
/// is wider above mid-height than below. Turned over, each of these changes sign. (The climb
/// within the end, so that a cabin amidships is not taken for a keel; the view from ahead and
/// not the volume, because an open hull has most of its material in its bottom.)
fn upright(mesh: &Mesh) -> f64 {
    let (Some(p), Some(view)) = (Profile::of(mesh), Front::of(mesh)) else {
        return 0.0;
    };
    let climb = |line: &[f64]| {
        let aft = line[1] - line[END];
        let ahead = line[RAYS - 2] - line[RAYS - 1 - END];
        aft.max(ahead).max(0.0)
    };
    let deck: Vec<f64> = p.high.iter().map(|z| -z).collect();
    let keel = climb(&p.low) - climb(&deck);
    keel + view.middle() - 0.5
}

/// Turns the finer end forward.
fn face_bow(mesh: &Mesh, turn: Matrix3<f64>, notices: &mut Vec<Notice>) -> Matrix3<f64> {
    let turned = mesh.map(|p| turn * p);
    let evidence = bow_ahead(&turned);
    if evidence.abs() < DOUBT {
        warn(
            notices,
            "the two ends are alike, so which is the bow is uncertain; declare the forward axis",
        );
    }
    if evidence > -DOUBT {
        return turn;
    }
    let ahead = -turn.row(0).transpose();
    axes(ahead, turn.row(2).transpose())
}

/// Positive when the bow is at +x: sections fuller, faces blunter and keel lower aft.
fn bow_ahead(mesh: &Mesh) -> f64 {
    let Some(p) = Profile::of(mesh) else {
        return 0.0;
    };
    let fuller = mean(&p.section[..END]) - mean(&p.section[RAYS - END..]);
    let rise = mean(&p.low[RAYS - END..]) - mean(&p.low[..END]);
    fuller + rise + blunter_aft(mesh)
}

/// Area of facets square to x near the aft end less that near the forward end, as a fraction
/// of beam times depth.
fn blunter_aft(mesh: &Mesh) -> f64 {
    let (low, high) = mesh.bounds().unwrap_or_default();
    let extent = high - low;
    let mut balance = 0.0;
    for [a, b, c] in mesh.faces() {
        let area = (b - a).cross(&(c - a)) / 2.0;
        let along = ((a.x + b.x + c.x) / 3.0 - low.x) / extent.x;
        let square = area.x.abs() > 0.9 * area.norm();
        if square && along < 0.15 && area.x < 0.0 {
            balance += area.norm();
        } else if square && along > 0.85 && area.x > 0.0 {
            balance -= area.norm();
        }
    }
    balance / (extent.y * extent.z)
}

/// Origin at the transom's bottom edge on the plane of symmetry.
fn find_shift(mesh: &Mesh, unturned: bool, notices: &mut Vec<Notice>) -> Vector3<f64> {
    let (low, high) = mesh.bounds().unwrap_or_default();
    let length = high.x - low.x;
    let edge = transom_edge(mesh);
    let [x, z] = edge.unwrap_or([low.x, low.z]);
    let origin = Vector3::new(x, (low.y + high.y) / 2.0, z);
    if unturned && origin.amax() < HOME * length {
        note(
            notices,
            "the file is in boat axes already; its origin was kept",
        );
        return Vector3::zeros();
    }
    if edge.is_none() {
        note(
            notices,
            "no transom was found; the origin is the aft end at the lowest point",
        );
    }
    note(
        notices,
        &format!(
            "the origin was moved to the transom's bottom edge: by ({:.1}, {:.1}, {:.1}) mm",
            -origin.x * 1e3,
            -origin.y * 1e3,
            -origin.z * 1e3
        ),
    );
    if let Some(view) = Front::of(mesh)
        && view.unlike(0) > 0.05
    {
        warn(
            notices,
            "port and starboard differ; the centreline is the middle of the beam",
        );
    }
    -origin
}

/// Bottom edge (x, z) on the centreline of the aft-most large blunt end: facets within 25
/// degrees of facing aft, together at least a fifth of beam times depth within 2 % of the length. Sponson and strut
/// ends further forward, and small fittings further aft, do not count.
fn transom_edge(mesh: &Mesh) -> Option<[f64; 2]> {
    let (low, high) = mesh.bounds()?;
    let extent = high - low;
    let mut blunt: Vec<(f64, f64, [Vector3<f64>; 3])> = mesh
        .faces()
        .filter_map(|f| {
            let area = (f[1] - f[0]).cross(&(f[2] - f[0])) / 2.0;
            let aft = -area.x > 0.906 * area.norm() && area.norm() > 0.0;
            let x = f.iter().map(|p| p.x).sum::<f64>() / 3.0;
            aft.then(|| (x, area.norm(), f))
        })
        .collect();
    blunt.sort_by(|a, b| a.0.total_cmp(&b.0));
    let wanted = 0.2 * widest_blunt(&blunt).min(extent.y * extent.z);
    let window = 0.02 * extent.x;
    for (i, first) in blunt.iter().enumerate() {
        let near = blunt[i..].iter().take_while(|b| b.0 <= first.0 + window);
        let together: f64 = near.clone().map(|b| b.1).sum();
        if together >= wanted && wanted > 0.0 {
            let facets: Vec<[Vector3<f64>; 3]> = near.map(|b| b.2).collect();
            let z = bottom_edge(&facets, (low.y + high.y) / 2.0);
            let at_edge = facets
                .iter()
                .flatten()
                .filter(|p| p.z <= z + 0.02 * extent.z);
            let x = at_edge.map(|p| p.x).fold(f64::INFINITY, f64::min);
            return Some([x.min(first.0), z]);
        }
    }
    None
}

/// Height of the transom's lower edge on the centreline; where a tunnel opens there, taller
/// than 30 % of the transom, the lowest point of the hulls beside it.
fn bottom_edge(facets: &[[Vector3<f64>; 3]], centre_y: f64) -> f64 {
    let heights = facets.iter().flatten().map(|p| p.z);
    let lowest = heights.clone().fold(f64::INFINITY, f64::min);
    let highest = heights.fold(f64::NEG_INFINITY, f64::max);
    let mut central = f64::INFINITY;
    for f in facets {
        for (a, b) in [(f[0], f[1]), (f[1], f[2]), (f[2], f[0])] {
            let (from, to) = (a.y - centre_y, b.y - centre_y);
            if from == to {
                continue;
            }
            let t = from / (from - to);
            if (0.0..=1.0).contains(&t) {
                central = central.min(a.z + (b.z - a.z) * t);
            }
        }
    }
    if central - lowest > 0.3 * (highest - lowest) {
        lowest
    } else {
        central
    }
}

fn widest_blunt(blunt: &[(f64, f64, [Vector3<f64>; 3])]) -> f64 {
    blunt.iter().map(|b| b.1).sum()
}

fn note(notices: &mut Vec<Notice>, text: &str) {
    notices.push(Notice {
        serious: false,
        text: text.to_owned(),
    });
}

fn warn(notices: &mut Vec<Notice>, text: &str) {
    notices.push(Notice {
        serious: true,
        text: text.to_owned(),
    });
}
