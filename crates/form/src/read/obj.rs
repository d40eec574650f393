//! OBJ: positions and faces only; polygons become triangles.

use std::io::Cursor;

use nalgebra::Vector3;

use super::{RawFile, RawObject, ReadError, check_count, syntax};
use crate::Mesh;

pub(super) fn read(file: &str, bytes: &[u8]) -> Result<RawFile, ReadError> {
    check_lines(file, bytes)?;
    let options = tobj::LoadOptions {
        triangulate: true,
        single_index: false,
        ignore_points: true,
        ignore_lines: true,
    };
    // Materials do not change a shape, and an inner crate opens no files.
    let (models, _) = tobj::load_obj_buf(&mut Cursor::new(bytes), &options, |_| {
        Ok((Vec::new(), Default::default()))
    })
    .map_err(|e| syntax(file, "text", e.to_string()))?;
    let mut objects = Vec::new();
    let mut count = 0;
    for model in models {
        let mesh = mesh_of(file, &model.mesh)?;
        count += mesh.triangles.len();
        check_count(file, count as u64)?;
        if !mesh.triangles.is_empty() {
            objects.push(RawObject {
                name: model.name,
                mesh,
            });
        }
    }
    Ok(RawFile {
        name: file.to_owned(),
        objects,
        unit_m: None,
        skipped: Vec::new(),
    })
}

fn mesh_of(file: &str, from: &tobj::Mesh) -> Result<Mesh, ReadError> {
    let vertices: Vec<_> = from
        .positions
        .chunks_exact(3)
        .map(Vector3::from_column_slice)
        .collect();
    let mut triangles = Vec::with_capacity(from.indices.len() / 3);
    for (n, t) in from.indices.chunks_exact(3).enumerate() {
        if let Some(missing) = t.iter().find(|i| **i as usize >= vertices.len()) {
            return Err(ReadError::NoSuchVertex {
                file: file.to_owned(),
                triangle: n + 1,
                vertex: u64::from(*missing),
                vertices: vertices.len(),
            });
        }
        triangles.push([t[0], t[1], t[2]]);
    }
    Ok(Mesh {
        vertices,
        triangles,
    })
}

/// Finds the first unreadable vertex or face line, which the library would report without its
/// number.
fn check_lines(file: &str, bytes: &[u8]) -> Result<(), ReadError> {
    let mut vertices = 0i64;
    for (n, line) in bytes.split(|b| *b == b'\n').enumerate() {
        let line = std::str::from_utf8(line)
            .map_err(|_| syntax(file, format!("line {}", n + 1), "not text"))?;
        let wrong = |what: String| syntax(file, format!("line {}", n + 1), what);
        let mut words = line.split_whitespace();
        match words.next() {
            Some("v") => {
                vertices += 1;
                let numbers = words.take(3).filter(|w| w.parse::<f64>().is_ok()).count();
                if numbers < 3 {
                    return Err(wrong(format!(
                        "expected 'v x y z', found '{}'",
                        line.trim()
                    )));
                }
            }
            Some("f") => {
                let corners: Vec<_> = words.collect();
                if corners.len() < 3 {
                    return Err(wrong("a face needs three corners or more".to_owned()));
                }
                for corner in corners {
                    check_corner(corner, vertices).map_err(wrong)?;
                }
            }
            _ => {}
        }
    }
    Ok(())
}

fn check_corner(corner: &str, vertices: i64) -> Result<(), String> {
    let index = corner.split('/').next().unwrap_or("");
    match index.parse::<i64>() {
        Ok(i) if (i >= 1 && i <= vertices) || (i < 0 && -i <= vertices) => Ok(()),
        Ok(i) => Err(format!(
            "face names vertex {i}, but {vertices} came before it"
        )),
        Err(_) => Err(format!("'{corner}' is not a vertex number")),
    }
}
