//! Drawings of the boat on the water: the hull with hidden lines removed, what is fitted where it
//! sits, the water line, dimensions, wetted surfaces and forces.

pub mod bottoms;
mod dimension;
mod fitted;
mod force;
pub mod holds;
mod hull;
pub mod label;
pub mod lengths;
pub mod sheet;
mod view;
pub mod water_path;
mod wetted;
