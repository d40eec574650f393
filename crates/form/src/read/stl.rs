//! STL, binary and text. Text files may hold several solids, one after the other.

use std::io::{Cursor, Read, Seek};

use super::{RawFile, RawObject, ReadError, check_count, push_triangle, syntax};
use crate::Mesh;

const HEADER: usize = 84;
const RECORD: usize = 50;

pub(super) fn read(file: &str, bytes: &[u8]) -> Result<RawFile, ReadError> {
    let objects = if looks_text(bytes) {
        text(file, bytes)?
    } else {
        vec![binary(file, bytes)?]
    };
    Ok(RawFile {
        name: file.to_owned(),
        objects,
        unit_m: None,
        skipped: Vec::new(),
    })
}

/// Whether the count in a binary header agrees with the length.
pub(super) fn looks_binary(bytes: &[u8]) -> bool {
    announced(bytes).is_some_and(|n| bytes.len() as u64 == HEADER as u64 + RECORD as u64 * n)
}

/// Text files start with `solid`, but so do some binary headers.
fn looks_text(bytes: &[u8]) -> bool {
    let start = bytes.trim_ascii_start();
    start.starts_with(b"solid")
        && !looks_binary(bytes)
        && bytes[..bytes.len().min(2048)]
            .iter()
            .all(|b| b.is_ascii_graphic() || b.is_ascii_whitespace() || *b >= 0x80)
}

fn announced(bytes: &[u8]) -> Option<u64> {
    let count = bytes.get(80..HEADER)?;
    Some(u64::from(u32::from_le_bytes(count.try_into().ok()?)))
}

fn binary(file: &str, bytes: &[u8]) -> Result<RawObject, ReadError> {
    let found = bytes.len() as u64;
    let Some(announced) = announced(bytes) else {
        return Err(syntax(
            file,
            "header",
            format!("{found} bytes is shorter than an STL header (84 bytes)"),
        ));
    };
    let expected = HEADER as u64 + RECORD as u64 * announced;
    if found < expected {
        return Err(ReadError::Truncated {
            file: file.to_owned(),
            announced,
            expected,
            found,
        });
    }
    if found - expected >= RECORD as u64 {
        return Err(ReadError::WrongCount {
            file: file.to_owned(),
            announced,
            found: (found - HEADER as u64) / RECORD as u64,
        });
    }
    check_count(file, announced)?;
    // A header that starts like a text file would send the library down the wrong road.
    let triangles = if bytes.starts_with(b"solid") {
        let mut plain = bytes.to_vec();
        plain[0] = b' ';
        collect(file, 0, Cursor::new(plain))?
    } else {
        collect(file, 0, Cursor::new(bytes))?
    };
    Ok(RawObject {
        name: file.to_owned(),
        mesh: triangles,
    })
}

/// One object per `solid ... endsolid`.
fn text(file: &str, bytes: &[u8]) -> Result<Vec<RawObject>, ReadError> {
    let whole = String::from_utf8_lossy(bytes).replace('\r', "\n");
    let mut objects = Vec::new();
    let mut before = 0;
    for (name, body) in solids(&whole) {
        let mesh = collect(file, before, Cursor::new(body.as_bytes()))?;
        before += mesh.triangles.len();
        if !mesh.triangles.is_empty() {
            let name = if name.is_empty() { file } else { &name };
            objects.push(RawObject {
                name: name.to_owned(),
                mesh,
            });
        }
    }
    Ok(objects)
}

/// Name and text of each solid, rewritten so that a nameless one is readable too. A last solid
/// without its `endsolid` is passed on for the library to refuse.
fn solids(whole: &str) -> Vec<(String, String)> {
    let mut found: Vec<(String, String)> = Vec::new();
    for line in whole.lines() {
        let line = line.trim();
        let word = line.split_whitespace().next().unwrap_or("");
        if word.eq_ignore_ascii_case("solid") {
            let name = line.get(5..).unwrap_or("").trim().to_owned();
            found.push((name, "solid x\n".to_owned()));
        } else if let Some((_, body)) = found.last_mut() {
            body.push_str(&line.to_ascii_lowercase());
            body.push('\n');
        }
    }
    found
}

fn collect(file: &str, before: usize, mut source: impl Read + Seek) -> Result<Mesh, ReadError> {
    let place = |n: usize| format!("triangle {}", before + n + 1);
    let mut mesh = Mesh::default();
    let reader = stl_io::create_stl_reader(&mut source)
        .map_err(|e| syntax(file, "header", e.to_string()))?;
    for (n, triangle) in reader.enumerate() {
        let triangle = triangle.map_err(|e| syntax(file, place(n), e.to_string()))?;
        check_count(file, (before + n + 1) as u64)?;
        push_triangle(&mut mesh, triangle.vertices.map(|v| v.0.map(f64::from)));
    }
    Ok(mesh)
}
