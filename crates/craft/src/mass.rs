//! Mass, centre of gravity and inertia of the whole boat, with their spreads.
//!
//! The shell is weighed or predicted from the print (see `shell`); parts are uniform boxes of
//! their stated size, points without one. Independent 95 % half-widths combine in quadrature to
//! first order: `dG = (dM1 - G dm) / m`, `M1` the first moment.

mod body;
pub(crate) mod shell;

use boat::{Boat, Hull, Part, Place};
use form::Form;
use nalgebra::Vector3;

use crate::{MassItem, MassProperties};
use body::Body;
use shell::Shell;

/// Why there is no mass table.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum MassError {
    /// Nothing weighs anything.
    #[error("the boat's total mass is {mass_kg} kg; it must be above 0 kg")]
    NoMass {
        /// kg.
        mass_kg: f64,
    },
    /// A mass is negative or not a number.
    #[error("the mass of {name} is {mass_kg} kg; it must be 0 kg or more")]
    BadMass {
        /// Part name, or `hull print`, `hull coating`, `hull`.
        name: String,
        /// kg.
        mass_kg: f64,
    },
    /// A position is not a number.
    #[error("the position of {name} is not a finite number")]
    BadPlace {
        /// Part name, or `hull`.
        name: String,
    },
}

/// An entry of the table with what is needed to add it up.
struct Entry {
    item: MassItem,
    body: Body,
    /// What each independent uncertainty does to mass and first moment.
    changes: Vec<Change>,
}

/// Half-width effect of one uncertain number.
#[derive(Clone, Copy)]
struct Change {
    mass: f64,
    first: Vector3<f64>,
}

/// Adds up shell and parts.
///
/// # Errors
/// A total of zero, a negative or non-finite mass, or a non-finite position.
pub fn mass_properties(boat: &Boat, form: &Form) -> Result<MassProperties, MassError> {
    let shell = Shell::of(form);
    let mut entries = hull_entries(&boat.hull, &shell);
    entries.extend(boat.parts.iter().map(part_entry));
    entries.iter().try_for_each(check)?;
    let total: Body = entries.iter().map(|entry| entry.body).sum();
    let cg_m = match total.centre() {
        Some(centre) if total.mass.is_finite() => centre,
        _ => {
            return Err(MassError::NoMass {
                mass_kg: total.mass,
            });
        }
    };
    let changes = || entries.iter().flat_map(|entry| &entry.changes);
    let cg_change = |change: &Change| (change.first - cg_m * change.mass) / total.mass;
    Ok(MassProperties {
        mass_kg: total.mass,
        mass_spread_kg: quadrature(changes().map(|change| change.mass)),
        cg_m,
        cg_spread_m: Vector3::from_fn(|axis, _| quadrature(changes().map(|c| cg_change(c)[axis]))),
        inertia_kg_m2: total.inertia(),
        items: entries.into_iter().map(|entry| entry.item).collect(),
    })
}

/// Volume inside a closed mesh, m3.
pub(crate) fn solid_volume(mesh: &form::Mesh) -> f64 {
    body::solid(mesh).mass
}

fn hull_entries(hull: &Hull, shell: &Shell) -> Vec<Entry> {
    if hull.weighed.is_some() {
        return vec![weighed_entry(hull, shell)];
    }
    let print = predicted(hull, "hull print", |print| shell.print(print));
    let coating = predicted(hull, "hull coating", |print| shell.coating(print));
    [print, coating]
        .into_iter()
        .filter(|entry| entry.body.mass != 0.0)
        .collect()
}

/// An entry computed from the print's numbers, with the effect of each number's spread.
fn predicted(hull: &Hull, name: &str, mass_of: impl Fn(&boat::Print) -> Body) -> Entry {
    let body = mass_of(&hull.print);
    let changes = shell::moved(&hull.print)
        .iter()
        .map(|print| mass_of(print) + body * -1.0)
        .map(|change| Change {
            mass: change.mass,
            first: change.first,
        })
        .collect();
    entry(name, body, changes, "predicted from the print")
}

/// The shell on a scale: its mass as given, its place as given or as predicted.
fn weighed_entry(hull: &Hull, shell: &Shell) -> Entry {
    let Some(weighed) = &hull.weighed else {
        unreachable!("asked only for a weighed hull")
    };
    let mass = weighed.mass_kg.value;
    let guess = predicted(hull, "hull", |print| {
        let body = shell.print(print) + shell.coating(print);
        if body.mass > 0.0 { body } else { shell.skin() }
    });
    let guessed_at = guess.body.centre().unwrap_or_default();
    let at = weighed.at.as_ref().map_or(guessed_at, position);
    let mut changes = vec![Change {
        mass: weighed.mass_kg.spread,
        first: at * weighed.mass_kg.spread,
    }];
    match &weighed.at {
        Some(place) => changes.extend(place_changes(place, mass)),
        None => changes.extend(guess.changes.iter().map(|change| Change {
            mass: 0.0,
            first: (change.first - guessed_at * change.mass) * (mass / guess.body.mass),
        })),
    }
    entry("hull", guess.body.placed(mass, at), changes, "weighed")
}

fn part_entry(part: &Part) -> Entry {
    let at = position(&part.at);
    let body = Body::cuboid(part.mass_kg.value, at, part.size_m);
    let mut changes = vec![Change {
        mass: part.mass_kg.spread,
        first: at * part.mass_kg.spread,
    }];
    changes.extend(place_changes(&part.at, part.mass_kg.value));
    let source = if part.mass_kg.is_assumed() {
        "assumed"
    } else {
        "given"
    };
    entry(&part.name, body, changes, source)
}

fn entry(name: &str, body: Body, changes: Vec<Change>, source: &'static str) -> Entry {
    let item = MassItem {
        name: name.to_owned(),
        mass_kg: body.mass,
        spread_kg: quadrature(changes.iter().map(|change| change.mass)),
        at_m: body.centre().unwrap_or_default(),
        source,
    };
    Entry {
        item,
        body,
        changes,
    }
}

fn check(entry: &Entry) -> Result<(), MassError> {
    let MassItem {
        name,
        mass_kg,
        at_m,
        ..
    } = &entry.item;
    if !(mass_kg.is_finite() && *mass_kg >= 0.0) {
        return Err(MassError::BadMass {
            name: name.clone(),
            mass_kg: *mass_kg,
        });
    }
    if !at_m.iter().all(|coordinate| coordinate.is_finite()) {
        return Err(MassError::BadPlace { name: name.clone() });
    }
    Ok(())
}

fn position(place: &Place) -> Vector3<f64> {
    Vector3::from_fn(|axis, _| place[axis].value)
}

/// What the spread of each coordinate does to the first moment.
fn place_changes(place: &Place, mass: f64) -> impl Iterator<Item = Change> {
    (0..3).map(move |axis| {
        let first = Vector3::ith(axis, place[axis].spread * mass);
        Change { mass: 0.0, first }
    })
}

fn quadrature(values: impl Iterator<Item = f64>) -> f64 {
    values.map(|value| value * value).sum::<f64>().sqrt()
}
