//! Hydrostatic equilibrium as the minimum of potential energy.
//!
//! With `u` the upward unit vector and `h` the water height along it (boat axes), `V*` the
//! volume to displace, `G` the centre of gravity, `V` and `B` volume and centroid under water:
//!
//! ```text
//! P / (rho g) = V* (u.G - h) + V (h - u.B)
//! dP/dh = V - V*                          sinkage
//! dP/da = V* G.x' - V B.x'                trim, u turning towards x' (ahead, in the surface)
//! dP/db = V* G.y' - V B.y'                heel, u turning towards y' (to port, in the surface)
//!
//!            [  A       -A xf      -A yf    ]      K = u.(V B - V* G)
//! Hessian =  [ -A xf    Sxx + K     Sxy     ]      Sxx, Sxy, Syy: waterplane second moments
//!            [ -A yf     Sxy      Syy + K   ]      about the origin, (xf, yf) its centroid
//! ```
//!
//! Hydrostatics, exact for the given facets (the Hessian's lower corner over V is the familiar
//! `BM - BG = GM`). Going downhill with the exact Hessian always ends in a *stable* equilibrium.

use form::{Immersed, Mesh, WaterPlane};
use nalgebra::{Matrix3, SymmetricEigen, Vector3};

/// Steps allowed before giving up; a dozen is usual, more only from far away.
const MAX_STEPS: usize = 80;
/// Largest turn (rad) and rise (over the length scale) of one step.
const MAX_STEP: f64 = 0.4;
/// Turn used to leave an unstable equilibrium, rad.
const KICK_RAD: f64 = 0.1;
/// Curvature over the largest one below which a direction counts as flat.
const FLAT: f64 = 1e-7;
/// Slack for rounding when energies are compared, over `V* L`.
const ROUNDING: f64 = 1e-13;

/// A floating body: mesh, volume to displace, centre of gravity.
pub struct Body<'a> {
    /// Watertight outer surface.
    pub mesh: &'a Mesh,
    /// Mass over water density, m3.
    pub volume_m3: f64,
    /// Boat axes, m.
    pub cg_m: Vector3<f64>,
    /// Scale that makes heights and angles comparable, m.
    pub length_m: f64,
}

/// Which of sinkage, trim and heel may move.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Free {
    /// All three.
    All,
    /// Heel held.
    SinkAndTrim,
    /// Trim held.
    SinkAndHeel,
}

impl Free {
    fn allows(self, axis: usize) -> bool {
        match self {
            Self::All => true,
            Self::SinkAndTrim => axis != 2,
            Self::SinkAndHeel => axis != 1,
        }
    }
}

/// The body cut once by the surface: energy, slopes and curvatures over `rho g`.
#[derive(Debug, Clone, Copy)]
pub struct Cut {
    /// Where the surface is.
    pub water: WaterPlane,
    /// What is under it.
    pub immersed: Immersed,
    /// m4.
    pub energy: f64,
    /// Sinkage, trim, heel.
    pub slope: Vector3<f64>,
    /// Sinkage, trim, heel.
    pub curvature: Matrix3<f64>,
    /// Boat x laid into the surface, and port in the surface.
    pub ahead: Vector3<f64>,
    /// Completes the right-handed set (ahead, port, up).
    pub port: Vector3<f64>,
}

impl Body<'_> {
    /// Cuts the mesh and evaluates everything above.
    pub fn cut(&self, water: WaterPlane) -> Cut {
        let immersed = form::clip::immersed(self.mesh, &water);
        let (ahead, port) = surface_axes(&water.up);
        let into_surface =
            |v: &Vector3<f64>| Vector3::new(ahead.dot(v), port.dot(v), water.up.dot(v));
        let weight = into_surface(&self.cg_m) * self.volume_m3;
        let lift = into_surface(&immersed.centroid_m) * immersed.volume_m3;
        let slope = Vector3::new(
            immersed.volume_m3 - self.volume_m3,
            weight.x - lift.x,
            weight.y - lift.y,
        );
        let lever = lift.z - weight.z;
        Cut {
            water,
            energy: water.height_m * slope[0] - lever,
            slope,
            curvature: curvature(
                &immersed,
                into_surface(&immersed.waterplane_centroid_m),
                lever,
            ),
            immersed,
            ahead,
            port,
        }
    }

    /// Puts the surface where the body displaces its volume, to `tolerance` of it, at a fixed
    /// attitude: Newton on waterplane area inside a closing bracket.
    pub fn sink(&self, up: Vector3<f64>, tolerance: f64) -> Cut {
        let (mut low, mut high) = extent(self.mesh, &up);
        let mut height_m = (low + high) / 2.0;
        loop {
            let cut = self.cut(WaterPlane { up, height_m });
            let excess = cut.slope[0];
            if excess.abs() <= tolerance * self.volume_m3 || high - low < 1e-12 * self.length_m {
                return cut;
            }
            if excess > 0.0 {
                high = height_m
            } else {
                low = height_m
            }
            let newton = height_m - excess / cut.immersed.waterplane_area_m2;
            height_m = if newton > low && newton < high {
                newton
            } else {
                (low + high) / 2.0
            };
        }
    }

    /// Goes downhill to a stable equilibrium of what is free. `None` when it does not settle to
    /// `tolerance` (moment arm over length, volume error over volume).
    pub fn settle(&self, start: Cut, free: Free, tolerance: f64) -> Option<Cut> {
        let mut here = start;
        for _ in 0..MAX_STEPS {
            let (slope, curvature) = self.scaled(&here, free);
            if !(here.energy.is_finite() && curvature.iter().all(|value| value.is_finite())) {
                return None;
            }
            let hill = SymmetricEigen::new(curvature);
            let at_rest = slope.amax() <= tolerance * self.volume_m3 * self.length_m;
            here = match (at_rest, unstable_direction(&hill, free)) {
                (true, None) => return Some(here),
                (true, Some(direction)) => self.cut(self.moved(&here, &(direction * KICK_RAD))),
                (false, _) => self.descend(&here, &slope, &hill)?,
            };
        }
        None
    }

    /// One safeguarded Newton step: curvature made positive, step bounded, energy must fall.
    fn descend(&self, here: &Cut, slope: &Vector3<f64>, hill: &Hill) -> Option<Cut> {
        let floor = hill.eigenvalues.amax() * FLAT;
        let inverse = hill.eigenvalues.map(|value| 1.0 / value.abs().max(floor));
        let newton =
            hill.eigenvectors * -inverse.component_mul(&(hill.eigenvectors.transpose() * slope));
        let mut step = newton * (MAX_STEP / newton.amax()).min(1.0);
        let slack = ROUNDING * self.volume_m3 * self.length_m;
        for _ in 0..40 {
            let there = self.cut(self.moved(here, &step));
            if there.energy <= here.energy + 1e-4 * step.dot(slope) + slack {
                return Some(there);
            }
            step /= 2.0;
        }
        None
    }

    /// Slope and curvature with heights in lengths, held axes stilled.
    fn scaled(&self, cut: &Cut, free: Free) -> (Vector3<f64>, Matrix3<f64>) {
        let scale = Vector3::new(self.length_m, 1.0, 1.0);
        let on = Vector3::from_fn(|axis, _| f64::from(u8::from(free.allows(axis))));
        let scale = scale.component_mul(&on);
        let mut curvature = cut.curvature.component_mul(&(scale * scale.transpose()));
        let still = curvature.diagonal().amax().max(f64::MIN_POSITIVE);
        for axis in (0..3).filter(|axis| !free.allows(*axis)) {
            curvature[(axis, axis)] = still;
        }
        (cut.slope.component_mul(&scale), curvature)
    }

    /// The surface after a step of (height over length, trim, heel) along great circles.
    fn moved(&self, cut: &Cut, step: &Vector3<f64>) -> WaterPlane {
        let turn = cut.ahead * step[1] + cut.port * step[2];
        let angle = turn.norm();
        let sine_over_angle = if angle > 1e-12 {
            angle.sin() / angle
        } else {
            1.0
        };
        let up = (cut.water.up * angle.cos() + turn * sine_over_angle).normalize();
        WaterPlane {
            up,
            height_m: cut.water.height_m + step[0] * self.length_m,
        }
    }
}

type Hill = SymmetricEigen<f64, nalgebra::Const<3>>;

fn curvature(immersed: &Immersed, centroid: Vector3<f64>, lever: f64) -> Matrix3<f64> {
    let area = immersed.waterplane_area_m2;
    let (x, y) = (centroid.x, centroid.y);
    let trim = immersed.second_moment_pitch_m4 + area * x * x + lever;
    let heel = immersed.second_moment_roll_m4 + area * y * y + lever;
    let both = immersed.product_moment_m4 + area * x * y;
    Matrix3::new(
        area,
        -area * x,
        -area * y,
        -area * x,
        trim,
        both,
        -area * y,
        both,
        heel,
    )
}

/// Boat x laid into the surface, and port; any pair when the boat stands on end.
fn surface_axes(up: &Vector3<f64>) -> (Vector3<f64>, Vector3<f64>) {
    let laid = Vector3::x() - up * up.x;
    let ahead = laid
        .try_normalize(1e-9)
        .unwrap_or_else(|| up.cross(&Vector3::y()).normalize());
    (ahead, up.cross(&ahead))
}

/// The direction in which an equilibrium is unstable, if any; to starboard and bow up first so
/// that the answer does not depend on rounding.
fn unstable_direction(hill: &Hill, free: Free) -> Option<Vector3<f64>> {
    let steepest = hill.eigenvalues.imin();
    if hill.eigenvalues[steepest] >= -FLAT * hill.eigenvalues.amax() {
        return None;
    }
    let direction = hill.eigenvectors.column(steepest).into_owned();
    let lead = if free.allows(2) && direction[2].abs() > 1e-6 {
        2
    } else {
        1
    };
    Some(direction * direction[lead].signum())
}

/// Lowest and highest vertex along `up`.
pub fn extent(mesh: &Mesh, up: &Vector3<f64>) -> (f64, f64) {
    mesh.vertices
        .iter()
        .map(|vertex| up.dot(vertex))
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), height| {
            (low.min(height), high.max(height))
        })
}
