//! Everything fitted to a hull, each thing at its place.

use super::fitter::Fitter;
use super::frame::Frame;
use super::practice::Practice;
use super::wish::{SetUp, Trim, Wish};
use crate::hull_type::HullType;
use form::Form;

/// A thing with its mass and place.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// What a builder calls it.
    pub name: String,
    /// kg.
    pub mass_kg: f64,
    /// Its middle, boat axes, m.
    pub at_m: [f64; 3],
    /// Length, width, height, m; none for a point.
    pub size_m: Option<[f64; 3]>,
    /// Whether it is slid to balance the boat.
    pub movable: bool,
}

/// A blade in the water: leading edge at its root, m.
#[derive(Debug, Clone, PartialEq)]
pub struct Fin {
    /// What a builder calls it.
    pub name: &'static str,
    /// Leading edge at the root, m.
    pub at_m: [f64; 3],
    /// m.
    pub chord_m: f64,
    /// m.
    pub span_m: f64,
    /// Inboard at its lower end, degrees.
    pub lean_deg: f64,
}

/// One drive line's places.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// `left`, `right`, or empty for the only one.
    pub name: &'static str,
    /// Disc of the propeller, m.
    pub propeller_at_m: [f64; 3],
    /// Strut's blade, m.
    pub strut_span_m: f64,
    /// Clockwise seen from astern.
    pub right_handed: bool,
    /// Where cooling water leaves, m.
    pub outlet_m: [f64; 3],
}

/// A wing.
#[derive(Debug, Clone, PartialEq)]
pub struct Sail {
    /// Middle of the leading edge, m.
    pub at_m: [f64; 3],
    /// m.
    pub span_m: f64,
    /// m.
    pub chord_m: f64,
}

/// Everything fitted to a hull.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// Which practice.
    pub hull: HullType,
    /// What it was fitted out for.
    pub wish: Wish,
    /// Of each drive.
    pub set_up: SetUp,
    /// Ahead of the transom, m.
    pub length_m: f64,
    /// m.
    pub beam_m: f64,
    /// Everything carried.
    pub items: Vec<Item>,
    /// One for each propeller.
    pub lines: Vec<Line>,
    /// Capacity of each pack, A h.
    pub capacity_ah: f64,
    /// Can of each motor: diameter and length, m.
    pub can_m: [f64; 2],
    /// The rudder.
    pub rudder: Fin,
    /// Turn fins.
    pub fins: Vec<Fin>,
    /// A wing, for boats that are fast enough.
    pub wing: Option<Sail>,
    /// Foam: name, m3 and place.
    pub floats: Vec<(&'static str, f64, [f64; 3])>,
    /// Where water gets in first: name and place.
    pub openings: Vec<(&'static str, [f64; 3])>,
    /// Balance point wanted, m ahead of the transom.
    pub balance_m: f64,
    /// Propeller end down, degrees.
    pub shaft_deg: f64,
    /// Depth of a starter hull, m; nothing for a mesh.
    pub depth_m: Option<f64>,
    /// Rods glued in along bottom and deck: both ends, m.
    pub rods: Vec<[[f64; 3]; 2]>,
}

/// The shell's mass and its middle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shell {
    /// kg.
    pub mass_kg: f64,
    /// m.
    pub at_m: [f64; 3],
}

impl Fitted {
    /// Fits a hull out for a wish.
    pub fn out(frame: &Frame<'_>, wish: Wish, set_up: SetUp, shell: Shell, trim: Trim) -> Self {
        let fitter = Fitter {
            practice: Practice::of(frame.hull),
            frame,
            wish,
            set_up,
        };
        fitter.fitted(shell, trim)
    }

    /// What it all weighs, kg.
    pub fn carried_kg(&self) -> f64 {
        self.items.iter().map(|i| i.mass_kg).sum()
    }
}

/// The shell alone, from the print's numbers.
pub fn shell(boat: &boat::Boat, form: &Form) -> Result<Shell, craft::mass::MassError> {
    let mut bare = boat.clone();
    bare.parts = Vec::new();
    let mass = craft::mass::mass_properties(&bare, form)?;
    Ok(Shell {
        mass_kg: mass.mass_kg,
        at_m: mass.cg_m.into(),
    })
}
