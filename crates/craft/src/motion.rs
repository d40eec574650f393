//! The boat's state and what surrounds it: everything a force element may look at.

use nalgebra::{Rotation3, Vector3};

use crate::elements::found::Found;

/// Position, attitude and velocity of the boat as a rigid body.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Motion {
    /// Boat's origin in the world: x along the course, y to port of it, z above still water, m.
    pub position_m: Vector3<f64>,
    /// Turns boat axes into world axes.
    pub attitude: Rotation3<f64>,
    /// Velocity of the boat's origin over ground, boat axes, m/s.
    pub velocity_m_s: Vector3<f64>,
    /// Turning rate, boat axes, rad/s.
    pub rate_rad_s: Vector3<f64>,
    /// s.
    pub time_s: f64,
}

impl Motion {
    /// World position of a point of the boat.
    pub fn place(&self, point_m: &Vector3<f64>) -> Vector3<f64> {
        self.position_m + self.attitude * point_m
    }

    /// Height of a point of the boat above still water, m.
    pub fn height_m(&self, point_m: &Vector3<f64>) -> f64 {
        let up = self.attitude.matrix().row(2);
        self.position_m.z + up[0] * point_m.x + up[1] * point_m.y + up[2] * point_m.z
    }

    /// World up in boat axes.
    pub fn up(&self) -> Vector3<f64> {
        // The last row of the rotation matrix: cheaper than rotating a vector back.
        self.attitude.matrix().row(2).transpose()
    }

    /// Level, square to the bow and to port, boat axes, unit.
    pub fn level_port(&self) -> Vector3<f64> {
        let up = self.up();
        Vector3::new(0.0, up.z, -up.y)
            .try_normalize(1e-9)
            .unwrap_or_else(Vector3::y)
    }

    /// Velocity over ground of a point of the boat, boat axes.
    pub fn velocity_at(&self, point_m: &Vector3<f64>) -> Vector3<f64> {
        self.velocity_m_s + self.rate_rad_s.cross(point_m)
    }
}

/// Differences of a surface that gives no rates of its own are taken over so long, s.
const MOMENT_S: f64 = 1e-4;

/// The water surface; still unless a run in time says otherwise.
pub trait WaterSurface {
    /// Height above the still surface at a place and time, m.
    fn height_m(&self, x_m: f64, y_m: f64, time_s: f64) -> f64;
    /// Velocity of the water near the surface, world axes, m/s.
    fn velocity_m_s(&self, x_m: f64, y_m: f64, time_s: f64) -> Vector3<f64>;
    /// Height as a place meets it that goes at `vx`, `vy` (m/s), and its rate there, m and m/s.
    fn met_m(&self, [x, y]: [f64; 2], [vx, vy]: [f64; 2], time_s: f64) -> [f64; 2] {
        let at = |s: f64| self.height_m(x + vx * s, y + vy * s, time_s + s);
        let rate = (at(MOMENT_S) - at(-MOMENT_S)) / (2.0 * MOMENT_S);
        [self.height_m(x, y, time_s), rate]
    }
    /// Rate of the velocity that such a place meets, m/s2.
    fn pull_m_s2(&self, [x, y]: [f64; 2], [vx, vy]: [f64; 2], time_s: f64) -> Vector3<f64> {
        let at = |s: f64| self.velocity_m_s(x + vx * s, y + vy * s, time_s + s);
        (at(MOMENT_S) - at(-MOMENT_S)) / (2.0 * MOMENT_S)
    }
    /// No wave is shorter than this from crest to crest, m: what lies closer need not be asked twice.
    fn shortest_m(&self) -> f64 {
        0.0
    }
    /// No water stands higher than this, m: what lies above is passed over.
    fn highest_m(&self) -> f64 {
        f64::INFINITY
    }
    /// True when the height is zero everywhere, which lets elements skip the look-up.
    fn is_still(&self) -> bool {
        false
    }
}

/// Flat water.
#[derive(Debug, Clone, Copy, Default)]
pub struct Still;

impl WaterSurface for Still {
    fn height_m(&self, _: f64, _: f64, _: f64) -> f64 {
        0.0
    }
    fn velocity_m_s(&self, _: f64, _: f64, _: f64) -> Vector3<f64> {
        Vector3::zeros()
    }
    fn highest_m(&self) -> f64 {
        0.0
    }
    fn shortest_m(&self) -> f64 {
        f64::INFINITY
    }
    fn is_still(&self) -> bool {
        true
    }
}

/// Fluids and gravity, and what was found out in them.
#[derive(Clone, Copy)]
pub struct Surroundings<'a> {
    /// Its surface.
    pub water: &'a dyn WaterSurface,
    /// kg/m3.
    pub water_density_kg_m3: f64,
    /// m2/s.
    pub water_viscosity_m2_s: f64,
    /// kg/m3.
    pub air_density_kg_m3: f64,
    /// World axes, m/s.
    pub wind_m_s: Vector3<f64>,
    /// m/s2.
    pub gravity_m_s2: f64,
    /// Of one motion alone: where several elements are asked about it.
    pub found: Option<&'a Found>,
}

impl Surroundings<'_> {
    /// For elements that are asked about one and the same motion.
    pub fn asked_together<'b>(&'b self, found: &'b Found) -> Surroundings<'b> {
        Surroundings {
            found: Some(found),
            ..*self
        }
    }

    /// Depth of a boat point below the local water surface, m; negative is dry.
    pub fn depth_m(&self, motion: &Motion, point_m: &Vector3<f64>) -> f64 {
        if self.water.is_still() {
            return -motion.height_m(point_m);
        }
        let place = motion.place(point_m);
        self.water.height_m(place.x, place.y, motion.time_s) - place.z
    }

    /// Velocity of a boat point through the water, boat axes, m/s.
    pub fn through_water(&self, motion: &Motion, point_m: &Vector3<f64>) -> Vector3<f64> {
        let over_ground = motion.velocity_at(point_m);
        if self.water.is_still() {
            return over_ground;
        }
        let place = motion.place(point_m);
        let water = self.water.velocity_m_s(place.x, place.y, motion.time_s);
        over_ground - motion.attitude.inverse_transform_vector(&water)
    }

    /// Velocity of a boat point through the air, boat axes, m/s.
    pub fn through_air(&self, motion: &Motion, point_m: &Vector3<f64>) -> Vector3<f64> {
        motion.velocity_at(point_m) - motion.attitude.inverse_transform_vector(&self.wind_m_s)
    }
}

/// What the driver and the drives do at this moment.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Controls {
    /// Propeller shaft speed of each drive, rad/s, in boat order.
    pub shaft_rad_s: Vec<f64>,
    /// Rudder, trailing edge to port positive (turns the bow to port), rad.
    pub rudder_rad: f64,
}
