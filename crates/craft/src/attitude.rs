//! How the boat sits: rotations between boat axes and the world, and the still water plane.
//!
//! World axes: z up from the undisturbed surface, x ahead, y to port. A boat point `p` lies in
//! the world at `R p + (.., .., rise)` with `R = Rz(yaw) Ry(-trim) Rx(heel)`: heel first, about
//! the boat's own x axis (starboard down positive), then trim (bow up positive), then yaw.
//! Valid for trim strictly between -90 and 90 degrees; at either end heel and yaw are the same
//! turn and only their combination means anything.

use form::WaterPlane;
use nalgebra::{Rotation3, Vector3};

use crate::Attitude;

/// The attitude of a boat whose centre of gravity, `cg_m` in boat axes, stands at a height above still water.
pub fn at_height(cg_m: &Vector3<f64>, height_m: f64, trim_rad: f64, heel_rad: f64) -> Attitude {
    let leaning = rotation(0.0, trim_rad, heel_rad) * cg_m;
    Attitude {
        rise_m: height_m - leaning.z,
        trim_rad,
        heel_rad,
    }
}

/// `R = Rz(yaw) Ry(-trim) Rx(heel)`: turns a vector in boat axes into world axes.
pub fn rotation(yaw_rad: f64, trim_rad: f64, heel_rad: f64) -> Rotation3<f64> {
    let yaw = Rotation3::from_axis_angle(&Vector3::z_axis(), yaw_rad);
    let trim = Rotation3::from_axis_angle(&Vector3::y_axis(), -trim_rad);
    let heel = Rotation3::from_axis_angle(&Vector3::x_axis(), heel_rad);
    yaw * trim * heel
}

/// The world's upward direction in boat axes: the last row of [`rotation`], whatever the yaw.
pub fn up(trim_rad: f64, heel_rad: f64) -> Vector3<f64> {
    let (sin_trim, cos_trim) = trim_rad.sin_cos();
    let (sin_heel, cos_heel) = heel_rad.sin_cos();
    Vector3::new(sin_trim, cos_trim * sin_heel, cos_trim * cos_heel)
}

/// The still water surface seen from the boat.
pub fn water_plane(attitude: &Attitude) -> WaterPlane {
    WaterPlane {
        up: up(attitude.trim_rad, attitude.heel_rad),
        height_m: -attitude.rise_m,
    }
}

/// The attitude that puts the surface at `water`: the inverse of [`water_plane`].
///
/// With the boat standing on end (`up` within 1e-9 of the x axis) heel is given as 0.
pub fn from_water_plane(water: &WaterPlane) -> Attitude {
    let across = water.up.y.hypot(water.up.z);
    let heel_rad = if across < 1e-9 {
        0.0
    } else {
        water.up.y.atan2(water.up.z)
    };
    Attitude {
        rise_m: -water.height_m,
        trim_rad: water.up.x.atan2(across),
        heel_rad,
    }
}

/// Height of a boat point above the undisturbed surface, m; negative is under water.
pub fn height_above_water(water: &WaterPlane, point_m: &Vector3<f64>) -> f64 {
    water.up.dot(point_m) - water.height_m
}

#[cfg(test)]
mod tests {
    use super::*;

    const LOW: Attitude = Attitude {
        rise_m: 0.02,
        trim_rad: 0.3,
        heel_rad: -0.7,
    };

    #[test]
    fn positive_trim_lifts_the_bow_and_positive_heel_lowers_starboard() {
        assert!((rotation(0.0, 0.1, 0.0) * Vector3::x()).z > 0.0);
        assert!((rotation(0.0, 0.0, 0.1) * -Vector3::y()).z < 0.0);
        assert!((rotation(0.1, 0.0, 0.0) * Vector3::x()).y > 0.0);
    }

    #[test]
    fn up_is_the_last_row_of_the_rotation_at_any_yaw() {
        let row = rotation(1.1, LOW.trim_rad, LOW.heel_rad);
        let row = row.matrix().row(2).transpose();
        assert!((row - up(LOW.trim_rad, LOW.heel_rad)).norm() < 1e-15);
    }

    #[test]
    fn attitude_and_water_plane_are_inverse() {
        let back = from_water_plane(&water_plane(&LOW));
        assert!((back.rise_m - LOW.rise_m).abs() < 1e-15);
        assert!((back.trim_rad - LOW.trim_rad).abs() < 1e-15);
        assert!((back.heel_rad - LOW.heel_rad).abs() < 1e-15);
    }

    #[test]
    fn the_origin_rides_at_its_rise() {
        assert!((height_above_water(&water_plane(&LOW), &Vector3::zeros()) - 0.02).abs() < 1e-15);
    }
}
