//! The one question every part of the boat answers: what force, here and now?

use nalgebra::Vector3;

use crate::motion::{Controls, Motion, Surroundings};
use crate::solution::WettedSurface;

/// Force and moment about the boat's origin, boat axes.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Wrench {
    /// N.
    pub force_n: Vector3<f64>,
    /// N m.
    pub moment_n_m: Vector3<f64>,
}

impl Wrench {
    /// A force acting at a point of the boat.
    pub fn at(point_m: &Vector3<f64>, force_n: Vector3<f64>) -> Self {
        Self {
            force_n,
            moment_n_m: point_m.cross(&force_n),
        }
    }
}

impl std::ops::AddAssign for Wrench {
    fn add_assign(&mut self, other: Self) {
        self.force_n += other.force_n;
        self.moment_n_m += other.moment_n_m;
    }
}

impl std::ops::Add for Wrench {
    type Output = Self;
    fn add(mut self, other: Self) -> Self {
        self += other;
        self
    }
}

impl std::ops::Sub for Wrench {
    type Output = Self;
    fn sub(mut self, other: Self) -> Self {
        self.force_n -= other.force_n;
        self.moment_n_m -= other.moment_n_m;
        self
    }
}

impl std::iter::Sum for Wrench {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::default(), |a, b| a + b)
    }
}

/// A part of the boat that feels water, air or gravity. No element knows which solver asks.
pub trait Element: Send + Sync {
    /// What a builder would call it.
    fn name(&self) -> &str;

    /// Force and moment in this state.
    fn wrench(&self, motion: &Motion, around: &Surroundings, controls: &Controls) -> Wrench;

    /// How it meets the water, for elements that have a running surface.
    fn contact(&self, _: &Motion, _: &Surroundings) -> Option<WettedSurface> {
        None
    }

    /// Plain sentences where a law is used outside its range in this state.
    fn notes(&self, _: &Motion, _: &Surroundings, _: &Controls) -> Vec<String> {
        Vec::new()
    }
}
