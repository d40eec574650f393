//! Meshes out: binary STL and 3MF, both in millimetres and boat axes.

use threemf2::model::builder::{ModelBuilder, ObjectType, Unit};
use threemf2::package::ThreemfPackageBuilder;

use crate::Mesh;

/// Why a mesh cannot be written.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("the mesh cannot be written as {format}: {what}")]
pub struct WriteError {
    /// `STL` or `3MF`.
    pub format: &'static str,
    /// What the format library said.
    pub what: String,
}

/// Binary STL in millimetres. Coordinates become single precision: 3e-5 mm on a 600 mm hull.
///
/// # Errors
/// [`WriteError`] when there are more triangles than the format can count.
pub fn stl(mesh: &Mesh) -> Result<Vec<u8>, WriteError> {
    let triangles: Vec<stl_io::Triangle> = mesh
        .faces()
        .map(|[a, b, c]| {
            let normal = (b - a)
                .cross(&(c - a))
                .try_normalize(0.0)
                .unwrap_or_default();
            let single = |v: nalgebra::Vector3<f64>, scale: f64| {
                stl_io::Vector::new([v.x, v.y, v.z].map(|x| (x * scale) as f32))
            };
            stl_io::Triangle {
                normal: single(normal, 1.0),
                vertices: [a, b, c].map(|v| single(v, 1e3)),
            }
        })
        .collect();
    let mut bytes = Vec::with_capacity(84 + 50 * triangles.len());
    stl_io::write_stl(&mut bytes, triangles.iter()).map_err(|e| failed("STL", e))?;
    Ok(bytes)
}

/// 3MF with one object called `name`, in millimetres.
///
/// # Errors
/// [`WriteError`] for an empty mesh or when the library refuses.
pub fn threemf(mesh: &Mesh, name: &str) -> Result<Vec<u8>, WriteError> {
    threemf_of(&[(name, mesh)])
}

/// 3MF with an object for each named mesh, in millimetres, all in one place.
///
/// # Errors
/// [`WriteError`] for an empty mesh or when the library refuses.
pub fn threemf_of(meshes: &[(&str, &Mesh)]) -> Result<Vec<u8>, WriteError> {
    let mut builder = ModelBuilder::new(Unit::Millimeter, true);
    builder.add_build(None).map_err(|e| failed("3MF", e))?;
    for (name, mesh) in meshes {
        let vertices: Vec<[f64; 3]> = mesh
            .vertices
            .iter()
            .map(|v| [v.x * 1e3, v.y * 1e3, v.z * 1e3])
            .collect();
        let id = builder
            .add_mesh_object(|object| {
                object.object_type(ObjectType::Model);
                object.name(name);
                object.add_vertices(&vertices);
                for t in &mesh.triangles {
                    object.add_triangle(&t.map(|i| i as usize));
                }
                Ok(())
            })
            .map_err(|e| failed("3MF", e))?;
        builder.add_build_item(id).map_err(|e| failed("3MF", e))?;
    }
    let model = builder.build().map_err(|e| failed("3MF", e))?;
    let mut package = ThreemfPackageBuilder::new();
    package.set_root_model(model);
    let package = package.build().map_err(|e| failed("3MF", e))?;
    let mut bytes = Vec::new();
    package
        .write(std::io::Cursor::new(&mut bytes))
        .map_err(|e| failed("3MF", e))?;
    Ok(bytes)
}

fn failed(format: &'static str, error: impl std::fmt::Display) -> WriteError {
    WriteError {
        format,
        what: error.to_string(),
    }
}
