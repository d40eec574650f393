//! Numerics that several rooms share.
//!
//! - [`newton`]: several unknowns, near a start.
//! - [`ode`]: steps in time with error control.
//! - [`roots`]: one unknown, kept in a bracket.

pub mod newton;
pub mod ode;
pub mod roots;
