//! Silhouettes: projected areas and their middles, by rays on a grid.

use crate::rays::{Axis, Raster};
use crate::{Mesh, Outline};

/// Rays along the longer side of each silhouette. A silhouette's area is then good to about
/// half a percent.
const RAYS: usize = 240;

impl Outline {
    /// Silhouettes of a closed mesh from ahead, from the side and from above. All zero for a
    /// mesh without extent.
    #[must_use]
    pub fn of(mesh: &Mesh) -> Outline {
        let along = |axis| move || silhouette(mesh, axis);
        let ((front, [_, front_z]), ((side, side_centre_m), (plan, [plan_x, _]))) =
            rayon::join(along(Axis::X), || {
                rayon::join(along(Axis::Y), along(Axis::Z))
            });
        let (low, high) = mesh.bounds().unwrap_or_default();
        Outline {
            front_area_m2: front,
            front_centre_z_m: front_z,
            side_area_m2: side,
            side_centre_m,
            plan_area_m2: plan,
            plan_centre_x_m: plan_x,
            beam_m: high.y - low.y,
            length_m: high.x - low.x,
        }
    }
}

/// Area and middle of the shadow along an axis.
fn silhouette(mesh: &Mesh, axis: Axis) -> (f64, [f64; 2]) {
    let shape = [RAYS, RAYS];
    let Some(raster) = Raster::cast(mesh, axis, shape) else {
        return (0.0, [0.0, 0.0]);
    };
    let mut count = 0.0;
    let mut sum = [0.0, 0.0];
    for i in 0..shape[0] {
        for j in 0..shape[1] {
            if raster.solid(i, j).is_empty() {
                continue;
            }
            let at = raster.position(i, j);
            count += 1.0;
            sum = [sum[0] + at[0], sum[1] + at[1]];
        }
    }
    if count == 0.0 {
        return (0.0, [0.0, 0.0]);
    }
    (count * raster.cell_area_m2(), sum.map(|s| s / count))
}
