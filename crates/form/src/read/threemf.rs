//! 3MF, core specification 1.3 with the production extension's parts.
//!
//! The archive is judged before the library opens it: names that climb out of it, parts whose
//! real size is not what they declare, and parts that swell beyond reason are refused.

use std::collections::HashSet;
use std::io::{Cursor, Read};

use nalgebra::{Matrix3, Vector3};
use quick_xml::events::{BytesStart, Event};
use threemf2::model::domain::model::{Model, Unit};
use threemf2::model::domain::object::{Object, ObjectKind, ObjectType};
use threemf2::model::domain::transform::Transform;
use threemf2::package::ThreemfPackage;

use super::{RawFile, RawObject, ReadError, check_count, syntax};
use crate::Mesh;

/// Most bytes all parts together may unpack to.
const MAX_UNPACKED: u64 = 1024 * 1024 * 1024;
/// Most parts in one archive.
const MAX_PARTS: usize = 10_000;
/// A part above a megabyte may unpack to at most this many times its packed size. Mesh text
/// packs five to twenty times.
const MAX_RATIO: u64 = 200;
/// Components within components.
const MAX_DEPTH: usize = 16;
/// Objects placed, counting each use: nested assemblies multiply.
const MAX_PLACED: usize = 20_000;

pub(super) fn read(file: &str, bytes: &[u8]) -> Result<RawFile, ReadError> {
    check_archive(file, bytes)?;
    let package =
        ThreemfPackage::from_reader_with_memory_optimized_deserializer(Cursor::new(bytes), true)
            .map_err(|e| syntax(file, "3MF package", e.to_string()))?;
    let mut gather = Gather {
        file,
        package: &package,
        objects: Vec::new(),
        skipped: Vec::new(),
        count: 0,
        placed: 0,
    };
    for item in &package.root.build.item {
        let path = item.path.as_ref().map(|p| p.as_str());
        gather.object(path, item.objectid, &matrix(item.transform.as_ref()), 0)?;
    }
    Ok(RawFile {
        name: file.to_owned(),
        objects: gather.objects,
        unit_m: Some(unit_m(package.root.unit.as_ref())),
        skipped: gather.skipped,
    })
}

/// Metres per unit; the specification's default is the millimetre.
fn unit_m(unit: Option<&Unit>) -> f64 {
    match unit {
        Some(Unit::Micron) => 1e-6,
        None | Some(Unit::Millimeter) => 1e-3,
        Some(Unit::Centimeter) => 1e-2,
        Some(Unit::Inch) => 0.0254,
        Some(Unit::Foot) => 0.3048,
        Some(Unit::Meter) => 1.0,
    }
}

#[derive(Clone, Copy)]
struct Place {
    turn: Matrix3<f64>,
    shift: Vector3<f64>,
}

impl Place {
    fn then(&self, outer: &Place) -> Place {
        Place {
            turn: outer.turn * self.turn,
            shift: outer.turn * self.shift + outer.shift,
        }
    }
}

/// The specification multiplies row vectors: the file lists the transpose.
fn matrix(transform: Option<&Transform>) -> Place {
    let m = transform.map_or([1., 0., 0., 0., 1., 0., 0., 0., 1., 0., 0., 0.], |t| t.0);
    Place {
        turn: Matrix3::from_column_slice(&m[..9]),
        shift: Vector3::from_column_slice(&m[9..]),
    }
}

struct Gather<'a> {
    file: &'a str,
    package: &'a ThreemfPackage,
    objects: Vec<RawObject>,
    skipped: Vec<String>,
    count: usize,
    placed: usize,
}

impl<'a> Gather<'a> {
    fn model(&self, path: Option<&str>) -> Option<&'a Model> {
        match path {
            None => Some(&self.package.root),
            Some(wanted) => (self.package.sub_models.iter())
                .find(|(at, _)| at.as_str() == wanted)
                .map(|(_, model)| model)
                .or(Some(&self.package.root)),
        }
    }

    fn object(
        &mut self,
        path: Option<&str>,
        id: u32,
        place: &Place,
        depth: usize,
    ) -> Result<(), ReadError> {
        let named = format!("object {id}");
        self.placed += 1;
        if depth > MAX_DEPTH || self.placed > MAX_PLACED {
            let what = "components nested too deep or too often, or within themselves";
            return Err(syntax(self.file, named, what));
        }
        let found = self
            .model(path)
            .and_then(|m| m.resources.object.iter().find(|o| o.id == id));
        let Some(object) = found else {
            return Err(syntax(self.file, named, "is used but not defined"));
        };
        match &object.kind {
            Some(ObjectKind::Mesh(mesh)) => self.mesh(object, mesh, place),
            Some(ObjectKind::Components(parts)) => {
                for part in &parts.component {
                    let inner = matrix(part.transform.as_ref()).then(place);
                    let inside = part.path.as_ref().map(|p| p.as_str()).or(path);
                    self.object(inside, part.objectid, &inner, depth + 1)?;
                }
                Ok(())
            }
            _ => {
                self.skipped
                    .push(format!("object {id} is neither a mesh nor an assembly"));
                Ok(())
            }
        }
    }

    fn mesh(
        &mut self,
        object: &Object,
        from: &threemf2::model::domain::mesh::Mesh,
        place: &Place,
    ) -> Result<(), ReadError> {
        let name = object
            .name
            .as_ref()
            .map_or_else(|| format!("object {}", object.id), |n| n.to_string());
        if matches!(
            object.objecttype,
            Some(ObjectType::Support | ObjectType::SolidSupport | ObjectType::Other)
        ) {
            self.skipped.push(format!(
                "'{name}' is marked as support or other, not as model"
            ));
            return Ok(());
        }
        let triangles = &from.triangles.triangle;
        self.count += triangles.len();
        check_count(self.file, self.count as u64)?;
        let vertices: Vec<_> = (from.vertices.vertex.iter())
            .map(|v| place.turn * Vector3::new(v.x.value(), v.y.value(), v.z.value()) + place.shift)
            .collect();
        let mut mesh = Mesh {
            triangles: Vec::with_capacity(triangles.len()),
            vertices,
        };
        for (n, t) in triangles.iter().enumerate() {
            let corners = [t.v1, t.v2, t.v3];
            if let Some(missing) = (corners.iter()).find(|i| **i as usize >= mesh.vertices.len()) {
                return Err(ReadError::NoSuchVertex {
                    file: self.file.to_owned(),
                    triangle: n + 1,
                    vertex: u64::from(*missing),
                    vertices: mesh.vertices.len(),
                });
            }
            mesh.triangles.push(corners);
        }
        if place.turn.determinant() < 0.0 {
            mesh.flip();
        }
        if !mesh.triangles.is_empty() {
            self.objects.push(RawObject { name, mesh });
        }
        Ok(())
    }
}

fn check_archive(file: &str, bytes: &[u8]) -> Result<(), ReadError> {
    let broken = |e: zip::result::ZipError| syntax(file, "3MF package", archive_words(&e));
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).map_err(broken)?;
    if archive.len() > MAX_PARTS {
        let what = format!("{} parts, over {MAX_PARTS}", archive.len());
        return Err(syntax(file, "zip archive", what));
    }
    let mut total = 0;
    let mut seen = HashSet::new();
    for index in 0..archive.len() {
        let part = archive.by_index(index).map_err(broken)?;
        let name = part.name().to_owned();
        let refuse = |what: String| ReadError::Archive {
            file: file.to_owned(),
            part: name.clone(),
            what,
        };
        if part.enclosed_name().is_none() {
            return Err(refuse("has a path that leaves the archive".to_owned()));
        }
        if !seen.insert(name.clone()) {
            return Err(refuse("occurs twice".to_owned()));
        }
        let (declared, packed) = (part.size(), part.compressed_size());
        total += declared;
        if declared > MAX_UNPACKED || total > MAX_UNPACKED {
            return Err(refuse(format!("unpacks beyond {MAX_UNPACKED} bytes")));
        }
        if declared > 1 << 20 && declared / packed.max(1) > MAX_RATIO {
            let ratio = declared / packed.max(1);
            return Err(refuse(format!(
                "unpacks to {ratio} times its size, over {MAX_RATIO}"
            )));
        }
        let mut unpacked = Vec::new();
        part.take(declared + 1)
            .read_to_end(&mut unpacked)
            .map_err(|e| refuse(format!("cannot be unpacked: {e}")))?;
        let real = unpacked.len() as u64;
        if real == declared && name.ends_with(".model") {
            check_numbers(&unpacked).map_err(|(place, what)| syntax(file, place, what))?;
        }
        if real != declared {
            return Err(refuse(format!(
                "declares {declared} bytes but unpacks to {}",
                if real > declared { "more" } else { "fewer" }
            )));
        }
    }
    Ok(())
}

/// Why an archive cannot be opened, without the names of its inner tables.
fn archive_words(error: &zip::result::ZipError) -> String {
    use zip::result::ZipError as Z;
    match error {
        Z::InvalidArchive(_) | Z::FileNotFound => {
            "it is damaged or cut short; export or copy the file again".to_owned()
        }
        Z::UnsupportedArchive(_) => {
            "it is packed in a way that is not read here; save it again as 3MF".to_owned()
        }
        Z::Io(error) => format!("it cannot be unpacked ({})", error.kind()),
        other => other.to_string(),
    }
}

/// The library reads a coordinate it cannot understand as zero and an absent one too, which
/// would bend the hull without a word. This pass refuses them first. On error: place and fault.
fn check_numbers(model: &[u8]) -> Result<(), (String, String)> {
    let mut xml = quick_xml::Reader::from_reader(model);
    let (mut vertex, mut triangle) = (0, 0);
    loop {
        let at = xml.buffer_position();
        let broken = |what: String| (format!("model text, byte {at}"), what);
        match xml.read_event() {
            Ok(Event::Eof) => return Ok(()),
            Ok(Event::Start(tag) | Event::Empty(tag)) => match tag.local_name().as_ref() {
                "vertex" => {
                    vertex += 1;
                    check_attributes(&tag, ["x", "y", "z"], |t| t.parse::<f64>().is_ok())
                        .map_err(|what| (format!("vertex {vertex}"), what))?;
                }
                "triangle" => {
                    triangle += 1;
                    check_attributes(&tag, ["v1", "v2", "v3"], |t| t.parse::<u32>().is_ok())
                        .map_err(|what| (format!("triangle {triangle}"), what))?;
                }
                _ => {}
            },
            Ok(_) => {}
            Err(e) => return Err(broken(e.to_string())),
        }
    }
}

fn check_attributes(
    tag: &BytesStart,
    wanted: [&str; 3],
    readable: impl Fn(&str) -> bool,
) -> Result<(), String> {
    for name in wanted {
        let value = tag
            .try_get_attribute(name)
            .map_err(|e| e.to_string())?
            .ok_or_else(|| format!("has no '{name}'"))?
            .value;
        let text = value.as_ref();
        if !readable(text.trim()) {
            return Err(format!("{name} = '{text}' is not a number"));
        }
    }
    Ok(())
}
