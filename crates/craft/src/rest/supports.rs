//! What the propeller and the sponsons would weigh on scales, hull level.
//!
//! Supports are the propeller(s) and every trailing edge ahead of the centre of gravity that
//! ends in a step: what a three-point boat stands on. Loads balance weight, pitch and roll
//! moments; where that leaves a choice (more than three supports) the loads of least square sum
//! are given, as on equally soft supports. Statics; the practice of weighing them is common
//! practice, no source.

use boat::Boat;
use form::Form;
use laws::constants::GRAVITY_M_S2;
use nalgebra::{DMatrix, DVector, Vector3};

use crate::{MassProperties, SupportLoad};

/// Loads, and what is to be said about them.
pub fn supports(
    boat: &Boat,
    form: &Form,
    mass: &MassProperties,
) -> (Vec<SupportLoad>, Vec<String>) {
    let places = places(boat, form, mass);
    if places.len() < 2 || boat.drives.is_empty() {
        let note = "support loads need a propeller and a stepped running surface that ends ahead \
                    of the centre of gravity; this boat has none to stand on";
        return (Vec::new(), vec![note.to_owned()]);
    }
    let fractions = fractions(&places, &mass.cg_m);
    let weight_n = mass.mass_kg * GRAVITY_M_S2;
    let notes = notes(&places, &fractions, &mass.cg_m);
    let loads = places
        .into_iter()
        .zip(&fractions)
        .map(|((name, _), &fraction)| SupportLoad {
            name,
            load_n: fraction * weight_n,
            fraction,
        });
    (loads.collect(), notes)
}

/// Propellers first, then the trailing edges; empty of edges means no three-point stance.
fn places(boat: &Boat, form: &Form, mass: &MassProperties) -> Vec<(String, [f64; 2])> {
    let steps = form
        .surfaces
        .iter()
        .filter(|surface| surface.step && surface.trailing_edge_m[0] > mass.cg_m.x);
    let edges: Vec<_> = steps
        .map(|surface| {
            (
                surface.name.clone(),
                [surface.trailing_edge_m[0], surface.trailing_edge_m[1]],
            )
        })
        .collect();
    if edges.is_empty() {
        return edges;
    }
    let propellers = boat.drives.iter().map(|drive| {
        let name = format!("{} propeller", drive.name).trim_start().to_owned();
        (
            name,
            [drive.propeller.at[0].value, drive.propeller.at[1].value],
        )
    });
    propellers.chain(edges).collect()
}

/// Least-square-sum loads with sum 1 and the centre of gravity's moments.
fn fractions(places: &[(String, [f64; 2])], cg: &Vector3<f64>) -> Vec<f64> {
    let balance = DMatrix::from_fn(3, places.len(), |row, column| match row {
        0 => 1.0,
        row => places[column].1[row - 1] - cg[row - 1],
    });
    let loads = DVector::from_vec(vec![1.0, 0.0, 0.0]);
    let solved = balance.svd(true, true).solve(&loads, 1e-9);
    solved.map_or_else(
        |_| vec![f64::NAN; places.len()],
        |loads| loads.iter().copied().collect(),
    )
}

fn notes(places: &[(String, [f64; 2])], fractions: &[f64], cg: &Vector3<f64>) -> Vec<String> {
    let mut notes = Vec::new();
    let offset_y: f64 = places
        .iter()
        .zip(fractions)
        .map(|((_, at), load)| at[1] * load)
        .sum();
    if (offset_y - cg.y).abs() > 1e-6 {
        notes.push(format!(
            "the supports stand in line and cannot carry a centre of gravity {:.1} mm off it",
            (cg.y - offset_y) * 1e3
        ));
    }
    for ((name, _), fraction) in places
        .iter()
        .zip(fractions)
        .filter(|(_, load)| **load < 0.0)
    {
        notes.push(format!(
            "{name} would lift off its support ({:.0} % of the weight)",
            fraction * 100.0
        ));
    }
    notes
}
