//! What would move a quantity the right way, out of the adjustments that were tried.

use boat::Kind;
use study::quantity::{Quantities, Quantity};
use study::trial::Trial;

use crate::finding::Change;
use crate::number::Number;

/// Which way a number should go.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Want {
    /// More is better.
    More,
    /// Less is better.
    Less,
    /// Nearer to this value, SI, is better.
    Near(f64),
}

/// The adjustments that move an answer the right way, most first; of one adjustment of one thing the size that
/// moves it most.
pub fn changes(trials: &[Trial], now: &Quantities, quantity: Quantity, want: Want) -> Vec<Change> {
    let Some(from) = now.get(quantity) else {
        return cures(trials, quantity);
    };
    let gain = |to: f64| match want {
        Want::More => to - from,
        Want::Less => from - to,
        Want::Near(aim) => (from - aim).abs() - (to - aim).abs(),
    };
    let worth = worth_saying(quantity.kind()).max(0.005 * from.abs());
    let mut ranked: Vec<(f64, f64, &Trial)> = trials
        .iter()
        .filter_map(|t| {
            Some((
                gain(t.quantities.get(quantity)?),
                t.quantities.get(quantity)?,
                t,
            ))
        })
        .filter(|(gain, ..)| *gain > worth)
        .collect();
    ranked.sort_by(|a, b| b.0.total_cmp(&a.0));
    let number = |value| Number::exact(quantity.kind(), value).plain();
    one_of_each(ranked.into_iter().map(|(_, _, trial)| trial))
        .into_iter()
        .filter_map(|trial| Some((trial.quantities.get(quantity)?, trial)))
        .filter(|(to, _)| number(*to) != number(from))
        .map(|(to, trial)| Change {
            what: trial.what.clone(),
            edits: trial.edits.clone(),
            effect: format!(
                "{} {} instead of {}",
                quantity.name(),
                number(to),
                number(from)
            ),
            better: true,
        })
        .collect()
}

/// The first of each adjustment of each thing.
pub(crate) fn one_of_each<'t>(trials: impl Iterator<Item = &'t Trial>) -> Vec<&'t Trial> {
    let mut kept: Vec<&Trial> = Vec::new();
    for trial in trials {
        let same = |k: &&Trial| k.adjustment == trial.adjustment && k.of == trial.of;
        if !kept.iter().any(same) {
            kept.push(trial);
        }
    }
    kept
}

/// Smaller changes are not worth a builder's evening, SI.
fn worth_saying(kind: Kind) -> f64 {
    match kind {
        Kind::Angle => 0.05f64.to_radians(),
        Kind::Length => 0.3e-3,
        Kind::Fraction => 0.003,
        Kind::Speed => 0.05,
        Kind::Current => 0.2,
        _ => 0.0,
    }
}

/// Adjustments that give an answer where the boat as it is has none.
fn cures(trials: &[Trial], quantity: Quantity) -> Vec<Change> {
    let cured = trials
        .iter()
        .filter_map(|t| Some((t, t.quantities.get(quantity)?)));
    cured
        .map(|(trial, to)| Change {
            what: trial.what.clone(),
            edits: trial.edits.clone(),
            effect: format!(
                "{} {}",
                quantity.name(),
                Number::exact(quantity.kind(), to).plain()
            ),
            better: true,
        })
        .collect()
}
