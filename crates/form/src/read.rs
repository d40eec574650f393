//! Mesh files: bytes to triangles in the file's own axes and units.
//!
//! STL (binary and text), 3MF (core specification 1.3: several objects, components, build-item
//! transforms, units) and OBJ. Readers take bytes, so limits on the size of a file are checked
//! by the caller against [`MAX_FILE_BYTES`] before it reads anything.

mod obj;
mod stl;
mod threemf;

use nalgebra::Vector3;

use crate::Mesh;

/// Largest mesh file worth opening: 5 million triangles of binary STL, with room to spare.
pub const MAX_FILE_BYTES: u64 = 512 * 1024 * 1024;

/// Most triangles accepted from one file.
pub const MAX_TRIANGLES: usize = 5_000_000;

/// One object of a mesh file, as it stands there.
#[derive(Debug, Clone, PartialEq)]
pub struct RawObject {
    /// Name given in the file, or the file's own name.
    pub name: String,
    /// File axes and units. Vertices may repeat.
    pub mesh: Mesh,
}

/// A mesh file as it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct RawFile {
    /// File name, for messages.
    pub name: String,
    /// Objects in file order, each with at least one triangle.
    pub objects: Vec<RawObject>,
    /// Metres per file unit, when the format says.
    pub unit_m: Option<f64>,
    /// What the reader had to skip, if anything.
    pub skipped: Vec<String>,
}

/// Why a mesh file cannot be read.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum ReadError {
    /// No file was named.
    #[error("no mesh file was given")]
    NoFiles,
    /// Zero bytes.
    #[error("{file}: the file is empty")]
    Empty {
        /// File name.
        file: String,
    },
    /// Larger than [`MAX_FILE_BYTES`].
    #[error("{file}: {bytes} bytes is over the limit of {limit}; export a coarser mesh")]
    TooLarge {
        /// File name.
        file: String,
        /// Its size.
        bytes: u64,
        /// Limit.
        limit: u64,
    },
    /// Neither the extension nor the content tells the format.
    #[error("{file}: not recognised as STL, 3MF or OBJ; export one of these from CAD")]
    UnknownFormat {
        /// File name.
        file: String,
    },
    /// A binary STL file shorter than its own count says.
    #[error(
        "{file}: header announces {announced} triangles ({expected} bytes) but the file has {found} bytes; it was cut short or is damaged"
    )]
    Truncated {
        /// File name.
        file: String,
        /// Triangle count in the header.
        announced: u64,
        /// Bytes that many triangles need.
        expected: u64,
        /// Bytes present.
        found: u64,
    },
    /// A binary STL file longer than its own count says.
    #[error(
        "{file}: header announces {announced} triangles but the file has room for {found}; it is damaged"
    )]
    WrongCount {
        /// File name.
        file: String,
        /// Triangle count in the header.
        announced: u64,
        /// Whole triangles the bytes would hold.
        found: u64,
    },
    /// Text or structure that does not follow the format.
    #[error("{file}: {place}: {what}")]
    Syntax {
        /// File name.
        file: String,
        /// Line, triangle or part.
        place: String,
        /// What is wrong there.
        what: String,
    },
    /// A coordinate that is not a finite number.
    #[error("{file}: triangle {triangle} has a coordinate that is not a finite number")]
    NotFinite {
        /// File name.
        file: String,
        /// Counted from 1.
        triangle: usize,
    },
    /// A coordinate no machine tool could have meant.
    #[error("{file}: triangle {triangle} has a coordinate beyond 1e9 file units")]
    TooFar {
        /// File name.
        file: String,
        /// Counted from 1.
        triangle: usize,
    },
    /// More triangles than [`MAX_TRIANGLES`].
    #[error("{file}: {count} triangles is over the limit of {limit}; export a coarser mesh")]
    TooManyTriangles {
        /// File name.
        file: String,
        /// Triangles found or announced.
        count: u64,
        /// Limit.
        limit: u64,
    },
    /// A triangle naming a vertex that is not there.
    #[error("{file}: triangle {triangle} names vertex {vertex}, but there are {vertices}")]
    NoSuchVertex {
        /// File name.
        file: String,
        /// Counted from 1.
        triangle: usize,
        /// As numbered in the file from 0.
        vertex: u64,
        /// How many there are.
        vertices: usize,
    },
    /// A compressed part that is unsafe to open.
    #[error("{file}: part '{part}' {what}")]
    Archive {
        /// File name.
        file: String,
        /// Name inside the archive.
        part: String,
        /// What is wrong with it.
        what: String,
    },
    /// A well-formed file without any triangle.
    #[error("{file}: no triangles in the file")]
    NoTriangles {
        /// File name.
        file: String,
    },
    /// Triangles without any extent to make a hull of.
    #[error("{file}: the mesh is flat or a single point: {what}")]
    NoSolid {
        /// File name or names.
        file: String,
        /// What is missing.
        what: String,
    },
}

/// Reads a mesh file. The format follows from the file name's ending, then from the content.
///
/// # Errors
/// Any [`ReadError`] but `NoFiles` and `NoSolid`.
pub fn read(name: &str, bytes: &[u8]) -> Result<RawFile, ReadError> {
    let file = || name.to_owned();
    if bytes.is_empty() {
        return Err(ReadError::Empty { file: file() });
    }
    check_size(name, bytes.len() as u64)?;
    let raw = match format_of(name, bytes) {
        Some(Format::Stl) => stl::read(name, bytes)?,
        Some(Format::ThreeMf) => threemf::read(name, bytes)?,
        Some(Format::Obj) => obj::read(name, bytes)?,
        None => return Err(ReadError::UnknownFormat { file: file() }),
    };
    if raw.objects.iter().all(|o| o.mesh.triangles.is_empty()) {
        return Err(ReadError::NoTriangles { file: file() });
    }
    check_coordinates(&raw)?;
    Ok(raw)
}

/// Whether a file of this size may be opened at all: ask before reading it.
///
/// # Errors
/// [`ReadError::TooLarge`].
pub fn check_size(name: &str, bytes: u64) -> Result<(), ReadError> {
    if bytes > MAX_FILE_BYTES {
        return Err(ReadError::TooLarge {
            file: name.to_owned(),
            bytes,
            limit: MAX_FILE_BYTES,
        });
    }
    Ok(())
}

enum Format {
    Stl,
    ThreeMf,
    Obj,
}

fn format_of(name: &str, bytes: &[u8]) -> Option<Format> {
    if bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"PK\x05\x06") {
        return Some(Format::ThreeMf);
    }
    let ending = name.rsplit('.').next().unwrap_or("").to_ascii_lowercase();
    match ending.as_str() {
        "stl" => Some(Format::Stl),
        "3mf" => Some(Format::ThreeMf),
        "obj" => Some(Format::Obj),
        _ if stl::looks_binary(bytes) || bytes.starts_with(b"solid") => Some(Format::Stl),
        _ => None,
    }
}

fn check_coordinates(raw: &RawFile) -> Result<(), ReadError> {
    let mut triangle = 0;
    for object in &raw.objects {
        for corners in object.mesh.faces() {
            triangle += 1;
            let file = || raw.name.clone();
            if corners.iter().any(|c| !c.iter().all(|x| x.is_finite())) {
                return Err(ReadError::NotFinite {
                    file: file(),
                    triangle,
                });
            }
            if corners.iter().any(|c| c.amax() > 1e9) {
                return Err(ReadError::TooFar {
                    file: file(),
                    triangle,
                });
            }
        }
    }
    Ok(())
}

fn check_count(file: &str, count: u64) -> Result<(), ReadError> {
    if count > MAX_TRIANGLES as u64 {
        return Err(ReadError::TooManyTriangles {
            file: file.to_owned(),
            count,
            limit: MAX_TRIANGLES as u64,
        });
    }
    Ok(())
}

fn syntax(file: &str, place: impl Into<String>, what: impl Into<String>) -> ReadError {
    ReadError::Syntax {
        file: file.to_owned(),
        place: place.into(),
        what: what.into(),
    }
}

/// A mesh of loose triangles.
fn push_triangle(mesh: &mut Mesh, corners: [[f64; 3]; 3]) {
    let first = mesh.vertices.len() as u32;
    mesh.vertices.extend(corners.map(Vector3::from));
    mesh.triangles.push([first, first + 1, first + 2]);
}
