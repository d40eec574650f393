//! Mass, its first moments and its second moments: bodies that can be added and scaled.

use std::ops::{Add, Mul};

use form::Mesh;
use nalgebra::{Matrix3, Vector3};

/// Moments of a mass distribution about the boat's origin.
///
/// They are linear in the mass, so a hull is a sum of parts times thicknesses and densities.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Body {
    /// Integral of dm.
    pub mass: f64,
    /// Integral of r dm.
    pub first: Vector3<f64>,
    /// Integral of r r^T dm.
    pub second: Matrix3<f64>,
}

impl Body {
    /// A uniform box with its sides along the boat's axes; size 0 is a point.
    pub fn cuboid(mass: f64, at: Vector3<f64>, size: [f64; 3]) -> Self {
        let own = Vector3::from(size).map(|side| side * side / 12.0);
        let second = (Matrix3::from_diagonal(&own) + at * at.transpose()) * mass;
        Self {
            mass,
            first: at * mass,
            second,
        }
    }

    /// Where it balances, or `None` without mass.
    pub fn centre(&self) -> Option<Vector3<f64>> {
        (self.mass != 0.0).then(|| self.first / self.mass)
    }

    /// The same distribution carried to another centre and mass.
    pub fn placed(&self, mass: f64, at: Vector3<f64>) -> Self {
        let Some(centre) = self.centre() else {
            return Self::cuboid(mass, at, [0.0; 3]);
        };
        let own = (self.second - self.first * centre.transpose()) * (mass / self.mass);
        Self {
            mass,
            first: at * mass,
            second: own + at * at.transpose() * mass,
        }
    }

    /// Inertia tensor about the centre of mass: tr(S) 1 - S with S the central second moment.
    pub fn inertia(&self) -> Matrix3<f64> {
        let centre = self.centre().unwrap_or_default();
        let central = self.second - self.first * centre.transpose();
        Matrix3::identity() * central.trace() - central
    }
}

impl Add for Body {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            mass: self.mass + other.mass,
            first: self.first + other.first,
            second: self.second + other.second,
        }
    }
}

impl Mul<f64> for Body {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self {
            mass: self.mass * factor,
            first: self.first * factor,
            second: self.second * factor,
        }
    }
}

impl std::iter::Sum for Body {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::default(), |sum, body| sum + body)
    }
}

/// Area and unit normal of a triangle; the normal of a sliver without area is zero.
pub fn facet(corners: &[Vector3<f64>; 3]) -> (f64, Vector3<f64>) {
    let [a, b, c] = corners;
    let cross = (b - a).cross(&(c - a));
    let norm = cross.norm();
    (
        norm / 2.0,
        if norm > 0.0 {
            cross / norm
        } else {
            Vector3::zeros()
        },
    )
}

/// A sheet of unit mass per area over one triangle; exact (second-order simplex moments).
pub fn sheet(corners: &[Vector3<f64>; 3], area: f64) -> Body {
    simplex(corners, area, 12.0)
}

/// The inside of a closed mesh at unit density: signed tetrahedra from the origin.
pub fn solid(mesh: &Mesh) -> Body {
    mesh.faces()
        .map(|[a, b, c]| {
            simplex(
                &[Vector3::zeros(), a, b, c],
                a.dot(&b.cross(&c)) / 6.0,
                20.0,
            )
        })
        .sum()
}

/// Uniform simplex with n corners: `int r r^T = m (sum v_i v_i^T + s s^T) / (n (n + 1))`, s the
/// sum of corners; `divisor` is n (n + 1).
fn simplex(corners: &[Vector3<f64>], mass: f64, divisor: f64) -> Body {
    let sum: Vector3<f64> = corners.iter().sum();
    let squares: Matrix3<f64> = corners.iter().map(|v| v * v.transpose()).sum();
    Body {
        mass,
        first: sum * (mass / corners.len() as f64),
        second: (squares + sum * sum.transpose()) * (mass / divisor),
    }
}
