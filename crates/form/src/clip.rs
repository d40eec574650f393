//! A closed mesh cut by the water plane: volume, centroid, waterplane, exactly for these facets.
//!
//! With `d` the height of a surface point above the plane, the divergence theorem on `(0, 0, d)`
//! gives the immersed volume from the wetted facets alone: the cut surface has `d = 0` and
//! contributes nothing, so no cap is ever built. The waterplane's area and moments follow from
//! the cut edges by Green's theorem.
//!
//! - Units: m, m2, m3, m4.
//! - Valid: any closed mesh and any attitude. A mesh with open edges gives a number without
//!   meaning where the plane passes above an opening.
//! - Checks: boxes, wedges, prisms and faceted cylinders in closed form, 1e-9 relative
//!   (`tests/closed_forms.rs`); the same meshes cut by a general-purpose library
//!   (`checks/mesh_cuts.csv`).

use nalgebra::{Vector2, Vector3};

use crate::Mesh;

/// The still water surface in boat axes: points with `up . p < height_m` are under water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WaterPlane {
    /// Unit vector pointing up, in boat axes.
    pub up: Vector3<f64>,
    /// Distance of the surface from the boat's origin along `up`, m.
    pub height_m: f64,
}

/// What lies under the water plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Immersed {
    /// m3.
    pub volume_m3: f64,
    /// Centre of buoyancy, boat axes, m. Zero when nothing is immersed.
    pub centroid_m: Vector3<f64>,
    /// m2.
    pub waterplane_area_m2: f64,
    /// Centre of flotation, boat axes, m.
    pub waterplane_centroid_m: Vector3<f64>,
    /// Second moment of the waterplane about the axis through its centroid that points ahead
    /// (boat x laid into the plane): governs heel. m4.
    pub second_moment_roll_m4: f64,
    /// About the axis to port in the plane: governs trim. m4.
    pub second_moment_pitch_m4: f64,
    /// Product moment, m4.
    pub product_moment_m4: f64,
    /// Hull surface below the plane, m2.
    pub wetted_area_m2: f64,
}

/// The part of a closed mesh under the water plane. One pass, no allocation.
#[must_use]
pub fn immersed(mesh: &Mesh, water: &WaterPlane) -> Immersed {
    let mut sums = Sums::new(water);
    for t in &mesh.triangles {
        let corners = t.map(|i| mesh.vertices[i as usize] - sums.origin);
        sums.add(corners);
    }
    sums.finish()
}

/// Immersed volume alone, m3: cheaper inside a search.
#[must_use]
pub fn immersed_volume_m3(mesh: &Mesh, water: &WaterPlane) -> f64 {
    immersed(mesh, water).volume_m3
}

/// Running integrals about a point of the water plane below or above the boat's origin.
struct Sums {
    up: Vector3<f64>,
    /// Ahead and to port, in the plane.
    ahead: Vector3<f64>,
    port: Vector3<f64>,
    /// On the plane, boat axes.
    origin: Vector3<f64>,
    /// Six times the volume.
    volume6: f64,
    /// 24 times the integral of `p d` over the upward-projected wetted surface.
    moment24: Vector3<f64>,
    wetted2: f64,
    /// Twice the area, then 6, 12, 12 and 24 times the moments of the waterplane.
    plane: PlaneSums,
}

#[derive(Default)]
struct PlaneSums {
    area2: f64,
    first6: Vector2<f64>,
    ahead_ahead12: f64,
    port_port12: f64,
    product24: f64,
}

impl Sums {
    fn new(water: &WaterPlane) -> Self {
        let up = water.up.normalize();
        let (ahead, port) = plane_axes(up);
        Sums {
            up,
            ahead,
            port,
            origin: up * (water.height_m / water.up.norm()),
            volume6: 0.0,
            moment24: Vector3::zeros(),
            wetted2: 0.0,
            plane: PlaneSums::default(),
        }
    }

    fn add(&mut self, p: [Vector3<f64>; 3]) {
        let d = p.map(|q| self.up.dot(&q));
        match d.map(|height| height < 0.0) {
            [true, true, true] => self.add_wet(p, d),
            [false, false, false] => {}
            [true, false, false] => self.one_under(p, d),
            [false, true, false] => self.one_under(turn(p, 1), turn(d, 1)),
            [false, false, true] => self.one_under(turn(p, 2), turn(d, 2)),
            [false, true, true] => self.two_under(p, d),
            [true, false, true] => self.two_under(turn(p, 1), turn(d, 1)),
            [true, true, false] => self.two_under(turn(p, 2), turn(d, 2)),
        }
    }

    /// Only the first corner is under water.
    fn one_under(&mut self, p: [Vector3<f64>; 3], d: [f64; 3]) {
        let leaving = cut(p[0], d[0], p[1], d[1]);
        let entering = cut(p[0], d[0], p[2], d[2]);
        self.add_wet([p[0], leaving, entering], [d[0], 0.0, 0.0]);
        self.add_cut_edge(entering, leaving);
    }

    /// Only the first corner is above water.
    fn two_under(&mut self, p: [Vector3<f64>; 3], d: [f64; 3]) {
        let entering = cut(p[1], d[1], p[0], d[0]);
        let leaving = cut(p[2], d[2], p[0], d[0]);
        self.add_wet([entering, p[1], p[2]], [0.0, d[1], d[2]]);
        self.add_wet([entering, p[2], leaving], [0.0, d[2], 0.0]);
        self.add_cut_edge(entering, leaving);
    }

    fn add_wet(&mut self, p: [Vector3<f64>; 3], d: [f64; 3]) {
        let normal2 = (p[1] - p[0]).cross(&(p[2] - p[0]));
        let upward2 = normal2.dot(&self.up);
        let depth = d[0] + d[1] + d[2];
        self.wetted2 += normal2.norm();
        self.volume6 += upward2 * depth;
        let outer = (p[0] + p[1] + p[2]) * depth;
        let inner = p[0] * d[0] + p[1] * d[1] + p[2] * d[2];
        self.moment24 += (outer + inner) * upward2;
    }

    /// An edge of the waterplane, the water body on its left seen from above.
    fn add_cut_edge(&mut self, from: Vector3<f64>, to: Vector3<f64>) {
        let flat = |p: Vector3<f64>| Vector2::new(self.ahead.dot(&p), self.port.dot(&p));
        let (a, b) = (flat(from), flat(to));
        self.plane.add(a, b);
    }

    fn finish(self) -> Immersed {
        let volume_m3 = self.volume6 / 6.0;
        // `p` has the component `d` along up, whose potential is d^2/2: hence the half.
        let moment = self.moment24 / 24.0;
        let moment = moment - self.up * (self.up.dot(&moment) / 2.0);
        let centroid_m = if volume_m3 > 0.0 {
            self.origin + moment / volume_m3
        } else {
            Vector3::zeros()
        };
        let plane = self.plane;
        let area = plane.area2 / 2.0;
        let middle = if area > 0.0 {
            plane.first6 / 6.0 / area
        } else {
            Vector2::zeros()
        };
        let waterplane_centroid_m = if area > 0.0 {
            self.origin + self.ahead * middle.x + self.port * middle.y
        } else {
            Vector3::zeros()
        };
        Immersed {
            volume_m3,
            centroid_m,
            waterplane_area_m2: area,
            waterplane_centroid_m,
            second_moment_roll_m4: plane.port_port12 / 12.0 - area * middle.y * middle.y,
            second_moment_pitch_m4: plane.ahead_ahead12 / 12.0 - area * middle.x * middle.x,
            product_moment_m4: plane.product24 / 24.0 - area * middle.x * middle.y,
            wetted_area_m2: self.wetted2 / 2.0,
        }
    }
}

impl PlaneSums {
    fn add(&mut self, a: Vector2<f64>, b: Vector2<f64>) {
        let cross = a.x * b.y - b.x * a.y;
        self.area2 += cross;
        self.first6 += (a + b) * cross;
        self.ahead_ahead12 += cross * (a.x * a.x + a.x * b.x + b.x * b.x);
        self.port_port12 += cross * (a.y * a.y + a.y * b.y + b.y * b.y);
        self.product24 += cross * (a.x * b.y + 2.0 * (a.x * a.y + b.x * b.y) + b.x * a.y);
    }
}

/// Ahead and port directions in the water plane. With the bow straight up or down, port stays
/// port and ahead becomes whatever completes the axes.
fn plane_axes(up: Vector3<f64>) -> (Vector3<f64>, Vector3<f64>) {
    let across = up.cross(&Vector3::x());
    let port = if across.norm() > 1e-6 {
        across.normalize()
    } else {
        Vector3::y()
    };
    (port.cross(&up).normalize(), port)
}

/// Where the edge from an immersed to a dry corner meets the plane. Always reckoned from the
/// immersed end, so that both triangles of an edge find the same point.
fn cut(wet: Vector3<f64>, wet_d: f64, dry: Vector3<f64>, dry_d: f64) -> Vector3<f64> {
    wet + (dry - wet) * (wet_d / (wet_d - dry_d))
}

/// Rotates so that entry `first` comes first.
fn turn<T: Copy>(of: [T; 3], first: usize) -> [T; 3] {
    [of[first], of[(first + 1) % 3], of[(first + 2) % 3]]
}
