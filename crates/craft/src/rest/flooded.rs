//! The boat with its inside full of water.
//!
//! What still displaces: foam and sealed voids as declared; the shell's plastic (its mass over
//! the density of the solid plastic, coating left out); and each part that has a size, its box
//! but never more than its own weight of water, since only a declared float may be counted on
//! to carry others. Infill cells and closed corners are taken as full. Upside down is judged
//! with everything under water: buoyancy below the centre of gravity turns over. The shape of
//! the part that emerges is not followed. Common practice, no source.

use boat::Boat;
use nalgebra::Vector3;

use crate::{Flooded, MassItem, MassProperties};

/// Spare buoyancy and which way up.
pub fn flooded(boat: &Boat, mass: &MassProperties, density_kg_m3: f64) -> Flooded {
    let displaced: Vec<(f64, Vector3<f64>)> = floats(boat)
        .chain(plastic(boat, mass))
        .chain(parts(boat, density_kg_m3))
        .collect();
    let volume: f64 = displaced.iter().map(|(volume, _)| volume).sum();
    let first: Vector3<f64> = displaced.iter().map(|(volume, at)| at * *volume).sum();
    let lift_kg = volume * density_kg_m3;
    Flooded {
        spare_kg: lift_kg - mass.mass_kg,
        inverted: volume > 0.0 && first.z / volume < mass.cg_m.z,
    }
}

fn floats(boat: &Boat) -> impl Iterator<Item = (f64, Vector3<f64>)> {
    boat.floats
        .iter()
        .map(|float| (float.volume_m3.value, place(&float.at)))
}

fn plastic(boat: &Boat, mass: &MassProperties) -> impl Iterator<Item = (f64, Vector3<f64>)> {
    let density = boat.hull.print.density_kg_m3.value;
    let is_shell = |item: &&MassItem| item.name == "hull print" || item.source == "weighed";
    mass.items
        .iter()
        .filter(is_shell)
        .map(move |item| (item.mass_kg / density, item.at_m))
}

fn parts(boat: &Boat, density_kg_m3: f64) -> impl Iterator<Item = (f64, Vector3<f64>)> {
    boat.parts.iter().map(move |part| {
        let box_m3: f64 = part.size_m.iter().product();
        (
            box_m3.min(part.mass_kg.value / density_kg_m3),
            place(&part.at),
        )
    })
}

fn place(at: &boat::Place) -> Vector3<f64> {
    Vector3::from_fn(|axis, _| at[axis].value)
}
