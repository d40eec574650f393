//! From mesh files to the hull as every solver sees it.

use nalgebra::Vector3;

use crate::bodies::{self, Bodies};
use crate::read::{RawFile, ReadError, read};
use crate::repair::repair;
use crate::{Columns, EnvelopeKind, Form, Mesh, Notice, Outline, envelope, orient, units};

/// Cells of the column table along and across the hull.
pub const CELLS: [usize; 2] = [60, 24];

/// Reads, repairs, joins and places the hull's mesh files.
///
/// `files` are names and contents; `hints` are what the boat file declares about them, in the
/// same order (absent entries count as undeclared). The running surfaces are those of
/// [`crate::running::find`]; the caller may override them with measured values.
///
/// # Errors
/// [`ReadError`], naming the file and the place in it.
pub fn assemble(files: &[(&str, &[u8])], hints: &[boat::MeshFile]) -> Result<Form, ReadError> {
    assemble_placed(files, hints).map(|(form, _)| form)
}

/// The same, and which axes of the files point to the bow and up, as declared or as found.
///
/// # Errors
/// As [`assemble`].
pub fn assemble_placed(
    files: &[(&str, &[u8])],
    hints: &[boat::MeshFile],
) -> Result<(Form, [boat::Axis; 2]), ReadError> {
    if files.is_empty() {
        return Err(ReadError::NoFiles);
    }
    let raw: Vec<RawFile> = (files.iter())
        .map(|(name, bytes)| read(name, bytes))
        .collect::<Result<_, _>>()?;
    let mut notices = Vec::new();
    let bodies = bodies_of(&raw, hints, &mut notices)?;
    let forward = hints.iter().find_map(|h| h.forward);
    let up = hints.iter().find_map(|h| h.up);
    let placing = orient::find(&bodies.outer, forward, up, &mut notices);
    Ok((form_of(bodies.placed(&placing), notices), placing.axes()))
}

impl Form {
    /// A hull from a closed mesh already in metres and boat axes, such as a starter hull.
    #[must_use]
    pub fn from_mesh(mesh: Mesh) -> Form {
        let bodies = Bodies {
            outer: mesh,
            count: 1,
            ..Bodies::default()
        };
        form_of(bodies, Vec::new())
    }
}

fn form_of(bodies: Bodies, mut notices: Vec<Notice>) -> Form {
    let found = envelope::of(&bodies, &mut notices);
    let (columns, (outline, surfaces)) = rayon::join(
        || Columns::of(&found.mesh, CELLS[0], CELLS[1]),
        || {
            let outline = || Outline::of(&found.mesh);
            rayon::join(outline, || crate::running::find(&found.mesh))
        },
    );
    Form {
        kind: found.kind,
        wall_volume_m3: found.wall.map(|w| w.0),
        wall_centroid_m: found.wall.map(|w| w.1.into()),
        walls: found.wall.map(|_| std::sync::Arc::new(bodies.material())),
        rim_m: found.rim_m.map(Into::into),
        notices,
        surfaces,
        columns: columns.into(),
        outline,
        envelope: found.mesh,
    }
}

fn bodies_of(
    raw: &[RawFile],
    hints: &[boat::MeshFile],
    notices: &mut Vec<Notice>,
) -> Result<Bodies, ReadError> {
    let names = || {
        raw.iter()
            .map(|f| f.name.as_str())
            .collect::<Vec<_>>()
            .join(", ")
    };
    let flat = |what: &str| ReadError::NoSolid {
        file: names(),
        what: what.to_owned(),
    };
    let scales = scales(raw, hints, notices);
    let mut shells = Vec::new();
    for (file, unit_m) in raw.iter().zip(scales) {
        for skipped in &file.skipped {
            notices.push(Notice {
                serious: false,
                text: format!("{}: {skipped}", file.name),
            });
        }
        for object in &file.objects {
            let first = notices.len();
            let mesh = object.mesh.map(|p| p * unit_m);
            shells.extend(repair(&mesh, 1e3, notices));
            for notice in &mut notices[first..] {
                notice.text = format!("{}: {}", object.name, notice.text);
            }
        }
    }
    if shells.is_empty() {
        return Err(flat("no part of it encloses a volume"));
    }
    Ok(bodies::combine(shells, notices))
}

/// Metres per unit of each file. Files of one hull share a unit unless they say otherwise, so
/// an undeclared one is judged by the length of all together.
fn scales(raw: &[RawFile], hints: &[boat::MeshFile], notices: &mut Vec<Notice>) -> Vec<f64> {
    let declared = |i: usize| hints.get(i).and_then(|h| h.unit_m);
    let known = |i: usize| declared(i).or(raw[i].unit_m);
    let undeclared: Vec<usize> = (0..raw.len()).filter(|i| known(*i).is_none()).collect();
    let mut scales: Vec<Option<f64>> = vec![None; raw.len()];
    if !undeclared.is_empty() {
        let length = length(undeclared.iter().map(|i| &raw[*i]));
        let unit = units::find(length, None, None, notices);
        undeclared.iter().for_each(|i| scales[*i] = Some(unit));
    }
    (0..raw.len())
        .map(|i| {
            scales[i].unwrap_or_else(|| {
                let length = length([&raw[i]]);
                units::find(length, declared(i), raw[i].unit_m, notices)
            })
        })
        .collect()
}

/// Longest extent in file units.
fn length<'a>(files: impl IntoIterator<Item = &'a RawFile>) -> f64 {
    let corners = files
        .into_iter()
        .flat_map(|f| &f.objects)
        .filter_map(|o| o.mesh.bounds());
    let whole = corners.reduce(|a, b| (a.0.inf(&b.0), a.1.sup(&b.1)));
    whole.map_or(0.0, |(low, high)| (high - low).max())
}

impl Bodies {
    /// Outer skins and cavities in one surface.
    pub(crate) fn material(&self) -> Mesh {
        let mut material = self.outer.clone();
        material.append(&self.cavities);
        material
    }

    fn placed(self, placing: &orient::Placing) -> Bodies {
        let place = |p: Vector3<f64>| placing.place(p);
        let mut openings = self.openings;
        for opening in &mut openings {
            opening.edge.iter_mut().for_each(|p| *p = place(*p));
            opening.area = placing.turn * opening.area;
        }
        Bodies {
            outer: self.outer.map(place),
            cavities: self.cavities.map(place),
            openings,
            count: self.count,
        }
    }
}

impl Form {
    /// Whether anything found may make the results wrong.
    #[must_use]
    pub fn has_serious_notice(&self) -> bool {
        self.notices.iter().any(|n| n.serious)
    }

    /// Whether the inside can fill over a rim.
    #[must_use]
    pub fn can_fill(&self) -> bool {
        self.kind == EnvelopeKind::OpenShell
    }
}
