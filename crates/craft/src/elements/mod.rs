//! The force elements: each a part of the boat that feels water, air or gravity.

pub mod air;
pub mod barrel;
pub mod blade;
pub mod buoyancy;
pub mod edge;
pub mod found;
pub mod lines;
pub mod planing;
pub mod propeller;
pub mod sides;
pub mod suction;
pub mod surface;
pub mod tab;
pub mod topsides;
pub mod underside;
pub mod wave;
pub mod weight;
