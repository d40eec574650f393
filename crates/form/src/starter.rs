//! Starter hulls: a watertight mesh from the trade's own dimensions.
//!
//! Each hull is lofted through cross-sections; every declared dimension is met exactly where the
//! trade measures it, and what is not declared (bow curves, deck camber, topsides) is drawn fair.
//! Facets follow curved parts within about 0.1 mm on a 600 mm hull; running surfaces, chines and
//! trailing edges are flat and sharp. Port and starboard mirror each other except where the
//! dimensions differ.

mod catamaran;
mod hull;
mod loft;
mod outrigger;
mod sponson;
mod three_point;
mod vee;

use boat::starter::Starter;

use crate::Mesh;

/// Why a starter hull cannot be made.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum StarterError {
    /// One dimension is impossible or contradicts another.
    #[error("{dimension} is {given} {unit}; {low} to {high} {unit} fits the other dimensions")]
    Dimension {
        /// What the trade calls it.
        dimension: &'static str,
        /// As given, rounded to 0.01.
        given: f64,
        /// Least that works with the others.
        low: f64,
        /// Most that works with the others.
        high: f64,
        /// `mm` or `deg`.
        unit: &'static str,
    },
    /// The bodies of the hull could not be joined.
    #[error("the starter's bodies could not be joined ({0})")]
    NotJoined(String),
}

/// The hull as a closed mesh in boat axes, every triangle facing outward.
///
/// # Errors
/// [`StarterError`], naming the first dimension that does not fit the others.
pub fn build(starter: &Starter) -> Result<Mesh, StarterError> {
    let mesh = match starter {
        Starter::ThreePoint(dimensions) => three_point::build(dimensions)?,
        Starter::Outrigger(dimensions) => outrigger::build(dimensions)?,
        Starter::Vee(dimensions) => vee::build(dimensions)?,
        Starter::Catamaran(dimensions) => catamaran::build(dimensions)?,
    };
    if mesh.is_closed() {
        Ok(mesh)
    } else {
        Err(StarterError::NotJoined("the surface stayed open".into()))
    }
}

/// Refuses a length outside `low` to `high`, m.
fn length(dimension: &'static str, given: f64, low: f64, high: f64) -> Result<(), StarterError> {
    within(dimension, given, low, high, 1e3, "mm")
}

/// Refuses an angle outside `low` to `high` degrees.
fn angle(dimension: &'static str, given: f64, low: f64, high: f64) -> Result<(), StarterError> {
    let (low, high) = (f64::to_radians(low), f64::to_radians(high));
    within(dimension, given, low, high, 1f64.to_degrees(), "deg")
}

fn within(
    dimension: &'static str,
    given: f64,
    low: f64,
    high: f64,
    scale: f64,
    unit: &'static str,
) -> Result<(), StarterError> {
    // A picometre of slack, so that a limit met exactly in the file's unit is not lost to rounding.
    if given >= low - 1e-12 && given <= high + 1e-12 {
        return Ok(());
    }
    let round = |x: f64| (x * scale * 100.0).round() / 100.0;
    Err(StarterError::Dimension {
        dimension,
        given: round(given),
        low: round(low),
        high: round(high),
        unit,
    })
}

fn join(bodies: &[Mesh]) -> Result<Mesh, StarterError> {
    crate::bodies::unite(bodies).map_err(StarterError::NotJoined)
}
