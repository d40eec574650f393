//! The pieces' masses, so that they add up to the shell's mass everywhere else, and narrow as pieces are weighed.
//!
//! A print's mass is off by a part that all pieces share (plastic, walls as sliced) and a part of each piece's
//! own. Pieces on a scale measure the shared part for the rest.

use boat::{Boat, Measure, Weighed};
use craft::MassProperties;
use craft::mass::mass_properties;
use form::Form;
use std::ops::ControlFlow;

use crate::pieces::{Piece, Pieces, pieces};
use crate::strength::Bending;

/// What each is off by on its own (judgement). What all are off by together is the shell's spread without it.
const OWN: f64 = 0.04;

/// Gives the pieces their masses. `shell` is what the whole print weighs, as predicted or on a scale: while no piece was
/// weighed they come to it, with its spread.
pub fn weigh(pieces: &mut Pieces, shell: Measure) {
    let all = &pieces.pieces;
    let plastic: f64 = all.iter().map(|p| p.plastic_m3).sum();
    if plastic <= 0.0 || shell.value <= 0.0 {
        return;
    }
    let squares: f64 = all.iter().map(|p| (p.plastic_m3 / plastic).powi(2)).sum();
    let together = (shell.spread / shell.value).powi(2) - OWN * OWN * squares;
    let per_m3 = shell.value / plastic;
    let ratios: Vec<f64> = all
        .iter()
        .filter(|p| p.weighed)
        .map(|p| p.mass_kg / (p.plastic_m3 * per_m3))
        .collect();
    let (factor, shared) = shared(&ratios, together.max(0.0).sqrt());
    for p in pieces.pieces.iter_mut().filter(|p| !p.weighed) {
        let before = p.mass_kg;
        p.mass_kg = p.plastic_m3 * per_m3 * factor;
        p.mass_spread_kg = p.mass_kg * shared.hypot(OWN);
        let more = p.mass_kg / before.max(1e-12);
        p.filament_m *= more;
        p.cost = p.cost.map(|c| c * more);
    }
    pieces.total_kg = total(pieces, shared, shell);
}

/// The shared factor and its spread from the pieces' weighed over predicted mass, and its spread before.
fn shared(ratios: &[f64], before: f64) -> (f64, f64) {
    if ratios.is_empty() || before < 1e-6 {
        return (1.0, before);
    }
    let n = ratios.len() as f64;
    let mean = ratios.iter().sum::<f64>() / n;
    let (prior, seen) = (before.powi(-2), n * OWN.powi(-2));
    (
        (prior + seen * mean) / (prior + seen),
        (prior + seen).powf(-0.5),
    )
}

/// Of all pieces; no less sure than the shell itself is while nothing was weighed.
fn total(pieces: &Pieces, shared: f64, shell: Measure) -> Measure {
    let all = &pieces.pieces;
    let sum = all.iter().map(|p| p.mass_kg).sum();
    let left: f64 = all.iter().filter(|p| !p.weighed).map(|p| p.mass_kg).sum();
    let own = |p: &Piece| match p.weighed {
        true => p.mass_spread_kg,
        false => OWN * p.mass_kg,
    };
    let apart: f64 = all.iter().map(|p| own(p).powi(2)).sum();
    let spread = (left * shared).hypot(apart.sqrt());
    let none = all.iter().all(|p| !p.weighed);
    Measure::given(sum).with_spread(if none { shell.spread } else { spread })
}

/// What the boat's mass table has for the bare print and for its coating, kg.
#[must_use]
pub fn print_kg(boat: &Boat, mass: &MassProperties) -> (Measure, Measure) {
    let of = |name: &str| {
        let item = mass.items.iter().find(|i| i.name == name)?;
        Some(Measure::given(item.mass_kg).with_spread(item.spread_kg))
    };
    let nothing = Measure::given(0.0);
    if let Some(print) = of("hull print") {
        return (print, of("hull coating").unwrap_or(nothing));
    }
    let weighed = boat.hull.weighed.as_ref();
    (weighed.map_or(nothing, |w| w.mass_kg), nothing)
}

/// The shell as its weighed pieces have it; `None` when none was weighed or no pieces can be made.
#[must_use]
pub fn shell(boat: &Boat, form: &Form) -> Option<Weighed> {
    boat.making.pieces.iter().find(|p| p.mass_kg.is_some())?;
    let mass = mass_properties(boat, form).ok()?;
    let bending = Bending::of(boat, form, &mass);
    let go = &mut |_: f64, _: &str| ControlFlow::Continue(());
    let mut made = pieces(boat, form, &|x| bending.share(x), go).ok()?;
    let (print, coating) = print_kg(boat, &mass);
    weigh(&mut made, print);
    let total = made.total_kg;
    let mass_kg =
        Measure::given(total.value + coating.value).with_spread(total.spread.hypot(coating.spread));
    let at = boat.hull.weighed.as_ref().and_then(|w| w.at);
    Some(Weighed { mass_kg, at })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_weighed_piece_narrows_the_rest() {
        let (none, before) = shared(&[], 0.07);
        let (one, after) = shared(&[1.1], 0.07);
        let (_, more) = shared(&[1.1, 1.1, 1.1], 0.07);
        assert!(none == 1.0 && one > 1.05 && one < 1.1);
        assert!(after < 0.6 * before && more < after);
    }
}
