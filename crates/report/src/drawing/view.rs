//! Looking at the boat from one side, with the water level.

use craft::{Attitude, attitude};
use nalgebra::{Rotation3, Vector3};

use crate::svg::Point;

/// Where the eye is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum From {
    /// To starboard, bow to the right.
    Starboard,
    /// Above, bow to the right, port up.
    Above,
    /// Below, bow to the right, starboard up.
    Below,
    /// Astern, port to the left.
    Astern,
}

/// A parallel projection of the boat at an attitude onto the drawing.
#[derive(Debug, Clone, Copy)]
pub struct View {
    /// Where the eye is.
    pub from: From,
    /// Drawing units per metre.
    pub scale: f64,
    /// Where the world's origin lands: below the boat's origin, on the water.
    pub origin: Point,
    turn: Rotation3<f64>,
    rise_m: f64,
}

impl View {
    /// One view.
    pub fn new(from: From, boat: &Attitude, scale: f64, origin: Point) -> Self {
        Self {
            from,
            scale,
            origin,
            turn: attitude::rotation(0.0, boat.trim_rad, boat.heel_rad),
            rise_m: boat.rise_m,
        }
    }

    /// A place of the boat in the world.
    pub fn world(&self, boat_m: &Vector3<f64>) -> Vector3<f64> {
        self.turn * boat_m + Vector3::new(0.0, 0.0, self.rise_m)
    }

    /// A place of the boat in the drawing.
    pub fn at(&self, boat_m: &Vector3<f64>) -> Point {
        let (right, up) = self.across(&self.world(boat_m));
        (
            self.origin.0 + right * self.scale,
            self.origin.1 - up * self.scale,
        )
    }

    /// A direction of the boat in the drawing, x right and y down, per unit.
    pub fn along(&self, boat: &Vector3<f64>) -> Point {
        let (right, up) = self.across(&(self.turn * boat));
        (right, -up)
    }

    /// How near to the eye, m.
    pub fn near(&self, boat_m: &Vector3<f64>) -> f64 {
        self.toward().dot(&self.world(boat_m))
    }

    /// Whether a face with this normal (boat axes) is seen from the front.
    pub fn faces(&self, normal: &Vector3<f64>) -> bool {
        self.toward().dot(&(self.turn * normal)) > 0.0
    }

    fn across(&self, world: &Vector3<f64>) -> (f64, f64) {
        match self.from {
            From::Starboard => (world.x, world.z),
            From::Above => (world.x, world.y),
            From::Below => (world.x, -world.y),
            From::Astern => (-world.y, world.z),
        }
    }

    fn toward(&self) -> Vector3<f64> {
        match self.from {
            From::Starboard => -Vector3::y(),
            From::Above => Vector3::z(),
            From::Below => -Vector3::z(),
            From::Astern => -Vector3::x(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn view(from: From) -> View {
        let level = Attitude {
            rise_m: 0.0,
            trim_rad: 0.0,
            heel_rad: 0.0,
        };
        View::new(from, &level, 100.0, (0.0, 0.0))
    }

    #[test]
    fn bow_is_right_and_port_is_where_the_eye_sees_it() {
        let (bow, port) = (Vector3::x(), Vector3::y());
        assert_eq!(view(From::Starboard).at(&bow), (100.0, 0.0));
        assert_eq!(view(From::Above).at(&port), (0.0, -100.0));
        assert_eq!(view(From::Below).at(&port), (0.0, 100.0));
        assert_eq!(view(From::Astern).at(&port), (-100.0, 0.0));
        assert!(view(From::Starboard).near(&-port) > view(From::Starboard).near(&port));
        assert!(view(From::Astern).near(&-bow) > view(From::Astern).near(&bow));
    }

    #[test]
    fn bow_up_rises_in_the_profile() {
        let up = Attitude {
            rise_m: 0.1,
            trim_rad: 0.2,
            heel_rad: 0.0,
        };
        let view = View::new(From::Starboard, &up, 100.0, (0.0, 0.0));
        let (_, y) = view.at(&Vector3::x());
        assert!((y + 100.0 * (0.1 + 0.2f64.sin())).abs() < 1e-9);
    }
}
