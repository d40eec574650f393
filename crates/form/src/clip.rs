//! A closed mesh cut by the water plane: volume, centroid, waterplane, exactly for these facets.

use nalgebra::Vector3;

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
