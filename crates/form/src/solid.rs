//! Solids: boolean operations on closed meshes, each result checked.

use manifold_rust::cross_section::CrossSection;
use manifold_rust::linalg::{Vec2, Vec3};
use manifold_rust::manifold::Manifold;
use manifold_rust::types::{Error, MeshGL64, OpType, WindingRule};
use nalgebra::Vector3;

use crate::Mesh;
use crate::sections::{Along, Polyline};

/// What could not be done with a solid, in the geometry library's words.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct SolidError(pub String);

/// A closed, oriented body without self-contact; may be empty.
#[derive(Clone)]
pub struct Solid(Manifold);

impl Solid {
    /// From a closed mesh.
    ///
    /// # Errors
    /// [`SolidError`] for a mesh that is not closed and oriented.
    pub fn new(mesh: &Mesh) -> Result<Self, SolidError> {
        let solid = Manifold::from_mesh_gl64(&gl(mesh));
        check(&solid)?;
        Ok(Self(solid))
    }

    /// The same with what overlaps itself counted once.
    ///
    /// # Errors
    /// [`SolidError`].
    pub fn mended(mesh: &Mesh) -> Result<Self, SolidError> {
        let solid = Manifold::from_mesh_gl64_robust(&gl(mesh));
        check(&solid)?;
        let rebuilt = solid.rebuild_solid(WindingRule::Positive);
        check(&rebuilt)?;
        Ok(Self(rebuilt))
    }

    /// A prism over `region`, from `from_m` to `to_m` along `axis`.
    ///
    /// # Errors
    /// [`SolidError`] for an empty region or a height not above zero.
    pub fn prism(region: &Region, axis: Along, from_m: f64, to_m: f64) -> Result<Self, SolidError> {
        let polygons = region.0.to_polygons();
        let one = Vec2::new(1.0, 1.0);
        let solid = Manifold::extrude(&polygons, to_m - from_m, 0, 0.0, one);
        check(&solid)?;
        let k = axis as usize;
        let mesh = mesh_of(&solid).map(|p| {
            let mut q = Vector3::zeros();
            q[(k + 1) % 3] = p.x;
            q[(k + 2) % 3] = p.y;
            q[k] = p.z + from_m;
            q
        });
        Self::new(&mesh)
    }

    /// Its surface.
    #[must_use]
    pub fn mesh(&self) -> Mesh {
        if self.0.is_empty() {
            return Mesh::default();
        }
        mesh_of(&self.0)
    }

    /// Whether nothing is left of it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// m3.
    #[must_use]
    pub fn volume_m3(&self) -> f64 {
        self.0.volume()
    }

    /// What lies behind the plane `axis = at_m`, and what lies ahead of it.
    ///
    /// # Errors
    /// [`SolidError`].
    pub fn cut(&self, axis: Along, at_m: f64) -> Result<(Self, Self), SolidError> {
        let mut normal = [0.0; 3];
        normal[axis as usize] = 1.0;
        let normal = Vec3::new(normal[0], normal[1], normal[2]);
        let (ahead, behind) = self.0.split_by_plane(normal, at_m);
        sound(&ahead)?;
        sound(&behind)?;
        Ok((Self(behind), Self(ahead)))
    }

    /// Both together.
    ///
    /// # Errors
    /// [`SolidError`].
    pub fn with(&self, other: &Self) -> Result<Self, SolidError> {
        self.op(other, OpType::Add)
    }

    /// Without what `other` takes up.
    ///
    /// # Errors
    /// [`SolidError`].
    pub fn without(&self, other: &Self) -> Result<Self, SolidError> {
        self.op(other, OpType::Subtract)
    }

    /// What both take up.
    ///
    /// # Errors
    /// [`SolidError`].
    pub fn shared(&self, other: &Self) -> Result<Self, SolidError> {
        self.op(other, OpType::Intersect)
    }

    fn op(&self, other: &Self, op: OpType) -> Result<Self, SolidError> {
        let out = self.0.boolean(&other.0, op);
        sound(&out)?;
        Ok(Self(out))
    }

    /// Its connected parts, largest first.
    #[must_use]
    pub fn parts(&self) -> Vec<Self> {
        let (outer, cavities): (Vec<Mesh>, Vec<Mesh>) =
            (self.0.decompose().iter().map(mesh_of)).partition(|m| m.signed_volume_m3() > 0.0);
        let mut parts: Vec<Self> = (outer.into_iter())
            .filter_map(|mut mesh| {
                let (low, high) = mesh.bounds()?;
                for cavity in &cavities {
                    let (l, h) = cavity.bounds()?;
                    if (0..3).all(|k| low[k] <= l[k] && h[k] <= high[k]) {
                        mesh.append(cavity);
                    }
                }
                Self::new(&mesh).ok()
            })
            .collect();
        parts.sort_by(|a, b| b.volume_m3().total_cmp(&a.volume_m3()));
        parts
    }

    /// All of `solids` in one.
    ///
    /// # Errors
    /// [`SolidError`].
    pub fn union(solids: &[Self]) -> Result<Self, SolidError> {
        let all: Vec<Manifold> = solids.iter().map(|s| s.0.clone()).collect();
        let out = Manifold::batch_boolean(&all, OpType::Add);
        sound(&out)?;
        Ok(Self(out))
    }

    /// Without corners nearer than `tolerance_m` to the surface through their neighbours.
    #[must_use]
    pub fn simplified(&self, tolerance_m: f64) -> Self {
        Self(self.0.simplify(tolerance_m))
    }
}

/// A flat region in the plane square to an axis, its coordinates the next two axes in turn.
#[derive(Clone, Debug, Default)]
pub struct Region(CrossSection);

impl Region {
    /// What closed outlines of a section enclose; see [`crate::sections::sections`].
    #[must_use]
    pub fn of(outlines: &[Polyline], axis: Along) -> Self {
        let k = axis as usize;
        let flat = |p: &Vector3<f64>| Vec2::new(p[(k + 1) % 3], p[(k + 2) % 3]);
        let rings = outlines.iter().filter(|o| o.closed && o.points.len() > 2);
        Self(CrossSection::new(
            rings.map(|o| o.points.iter().map(flat).collect()).collect(),
        ))
    }

    /// From rings, outer ones counter-clockwise and holes clockwise.
    #[must_use]
    pub fn from_rings(rings: &[Vec<[f64; 2]>]) -> Self {
        let ring = |r: &Vec<[f64; 2]>| r.iter().map(|p| Vec2::new(p[0], p[1])).collect();
        Self(CrossSection::new(rings.iter().map(ring).collect()))
    }

    /// Disc of many corners.
    #[must_use]
    pub fn disc(middle: [f64; 2], radius_m: f64, corners: i32) -> Self {
        Self(CrossSection::circle(radius_m, corners).translate(Vec2::new(middle[0], middle[1])))
    }

    /// Its outlines: outer ones counter-clockwise, holes clockwise.
    #[must_use]
    pub fn rings(&self) -> Vec<Vec<[f64; 2]>> {
        let ring = |r: &Vec<Vec2>| r.iter().map(|p| [p.x, p.y]).collect();
        self.0.to_polygons().iter().map(ring).collect()
    }

    /// Grown by `by_m` all round, or shrunk where negative; corners stay sharp or become round.
    #[must_use]
    pub fn grown(&self, by_m: f64, sharp: bool) -> Self {
        let join = if sharp { 2 } else { 1 };
        Self(self.0.offset_with_params(by_m, join, 10.0, 24))
    }

    /// Both together.
    #[must_use]
    pub fn with(&self, other: &Self) -> Self {
        Self(self.0.union(&other.0))
    }

    /// Without the other.
    #[must_use]
    pub fn without(&self, other: &Self) -> Self {
        Self(self.0.difference(&other.0))
    }

    /// What both cover.
    #[must_use]
    pub fn shared(&self, other: &Self) -> Self {
        Self(self.0.intersection(&other.0))
    }

    /// Its connected parts.
    #[must_use]
    pub fn parts(&self) -> Vec<Self> {
        self.0.decompose().into_iter().map(Self).collect()
    }

    /// m2.
    #[must_use]
    pub fn area_m2(&self) -> f64 {
        self.0.area()
    }

    /// Whether it covers nothing.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

pub(crate) fn gl(mesh: &Mesh) -> MeshGL64 {
    MeshGL64 {
        num_prop: 3,
        vert_properties: mesh.vertices.iter().flat_map(|v| [v.x, v.y, v.z]).collect(),
        tri_verts: mesh
            .triangles
            .iter()
            .flatten()
            .map(|i| u64::from(*i))
            .collect(),
        ..MeshGL64::default()
    }
}

/// A failed operation comes back as an empty solid with a status.
pub(crate) fn check(solid: &Manifold) -> Result<(), SolidError> {
    sound(solid)?;
    if solid.is_empty() {
        return Err(SolidError("empty result".into()));
    }
    Ok(())
}

/// Empty is sound when nothing failed.
fn sound(solid: &Manifold) -> Result<(), SolidError> {
    match solid.status() {
        Error::NoError => Ok(()),
        error => Err(SolidError(error.to_str().to_lowercase())),
    }
}

pub(crate) fn mesh_of(solid: &Manifold) -> Mesh {
    let out = solid.get_mesh_gl64(-1);
    let width = out.num_prop as usize;
    let vertices = out
        .vert_properties
        .chunks_exact(width.max(3))
        .map(|p| Vector3::new(p[0], p[1], p[2]))
        .collect();
    let triangles = out
        .tri_verts
        .chunks_exact(3)
        .map(|t| [t[0] as u32, t[1] as u32, t[2] as u32])
        .collect();
    crate::repair::weld_exact(&Mesh {
        vertices,
        triangles,
    })
}
