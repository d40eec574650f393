//! Numerics that several rooms share.
//!
//! - [`ode`]: steps in time with error control.

pub mod ode;
