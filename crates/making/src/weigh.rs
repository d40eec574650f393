//! The pieces' masses, so that they add up to the shell's mass everywhere else, and narrow as pieces are weighed.
//!
//! A print's mass is off by a part that all pieces share (plastic, walls as sliced) and a part of each piece's
//! own: 7 and 4 %, 8 % together. Pieces on a scale measure the shared part for the rest.

use boat::{Boat, Measure, Weighed};

use crate::pieces::Pieces;

/// What all pieces are off by together (judgement; see `checks/printed_parts.csv`).
const SHARED: f64 = 0.07;
/// What each is off by on its own (judgement).
const OWN: f64 = 0.04;

/// Gives the pieces their masses. `shell_kg` is what the whole print weighs by the boat's mass table.
pub fn weigh(pieces: &mut Pieces, shell_kg: Measure) {
    let raw: f64 = pieces
        .pieces
        .iter()
        .filter(|p| !p.weighed)
        .map(|p| p.mass_kg)
        .sum();
    let all = &pieces.pieces;
    let scaled: f64 = all.iter().map(|p| p.plastic_m3).sum();
    if scaled <= 0.0 {
        return;
    }
    let per_m3 = shell_kg.value / scaled;
    let ratios: Vec<f64> = all
        .iter()
        .filter(|p| p.weighed)
        .map(|p| p.mass_kg / (p.plastic_m3 * per_m3))
        .collect();
    let (factor, shared) = shared(&ratios);
    if raw <= 0.0 {
        return;
    }
    for p in pieces.pieces.iter_mut().filter(|p| !p.weighed) {
        p.mass_kg = p.plastic_m3 * per_m3 * factor;
        p.mass_spread_kg = p.mass_kg * (shared * shared + OWN * OWN).sqrt();
        p.cost = p
            .cost
            .map(|c| c * p.mass_kg / (p.plastic_m3 * per_m3).max(1e-12));
    }
}

/// The shared factor and its spread from the pieces' weighed over predicted mass.
fn shared(ratios: &[f64]) -> (f64, f64) {
    if ratios.is_empty() {
        return (1.0, SHARED);
    }
    let n = ratios.len() as f64;
    let mean = ratios.iter().sum::<f64>() / n;
    let (prior, seen) = (SHARED.powi(-2), n * OWN.powi(-2));
    (
        (prior + seen * mean) / (prior + seen),
        (prior + seen).powf(-0.5),
    )
}

/// Mass of all pieces and its 95 % half-width, kg.
#[must_use]
pub fn total_kg(pieces: &Pieces) -> Measure {
    let sum: f64 = pieces.pieces.iter().map(|p| p.mass_kg).sum();
    let (scale, own): (f64, f64) = pieces.pieces.iter().fold((0.0, 0.0), |(s, o), p| {
        let own = if p.weighed {
            p.mass_spread_kg
        } else {
            OWN * p.mass_kg
        };
        (s + if p.weighed { 0.0 } else { p.mass_kg }, o + own * own)
    });
    let ratios = pieces.pieces.iter().filter(|p| p.weighed).count();
    let shared = shared(&vec![1.0; ratios]).1;
    Measure::given(sum).with_spread(((scale * shared).powi(2) + own).sqrt())
}

/// What the boat's mass table has for the bare print and for its coating, kg.
#[must_use]
pub fn print_kg(boat: &Boat, mass: &craft::MassProperties) -> (Measure, f64) {
    let item = |name: &str| mass.items.iter().find(|i| i.name == name);
    let measure = |i: &craft::MassItem| Measure::given(i.mass_kg).with_spread(i.spread_kg);
    if let Some(print) = item("hull print") {
        return (
            measure(print),
            item("hull coating").map_or(0.0, |c| c.mass_kg),
        );
    }
    let weighed = boat
        .hull
        .weighed
        .as_ref()
        .map_or(Measure::given(0.0), |w| w.mass_kg);
    (weighed, 0.0)
}

/// The shell as its weighed pieces have it, with `coating_kg` on top; `None` when none was weighed.
#[must_use]
pub fn shell(pieces: &Pieces, coating_kg: f64) -> Option<Weighed> {
    pieces.pieces.iter().any(|p| p.weighed).then(|| {
        let total = total_kg(pieces);
        Weighed {
            mass_kg: Measure {
                value: total.value + coating_kg,
                ..total
            },
            at: None,
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_weighed_piece_narrows_the_rest() {
        let (none, before) = shared(&[]);
        let (one, after) = shared(&[1.1]);
        let (_, more) = shared(&[1.1, 1.1, 1.1]);
        assert!(none == 1.0 && one > 1.05 && one < 1.1);
        assert!(after < 0.6 * before && more < after);
    }
}
