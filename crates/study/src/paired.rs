//! A change tried on the likely variations of a boat: each beside itself without the change, for the draws of both are
//! the same.

use crate::quantity::Quantities;
use crate::spread::{Deep, Spread};
use crate::study::Study;
use crate::trial::Subject;

/// Without and with the change, of each variation that runs both ways. `seed` is the study's.
pub fn paired(study: &Study, edited: &Subject, seed: u64) -> Vec<(Quantities, Quantities)> {
    let deep = Deep {
        flight_at: study.flight_at(),
        turns_at: None,
    };
    let known = &study.spread;
    let count = known.draws.len() + known.failed;
    let with = Spread::sample_with(
        &edited.boat,
        &edited.form,
        count,
        seed,
        study.like(),
        &edited.learned,
        deep,
    );
    let offsets = study.rest_offsets();
    let pair = |mut changed: crate::spread::Draw| {
        let same = known.draws.iter().find(|d| d.index == changed.index)?;
        changed.quantities.moved_to(&offsets);
        Some((same.quantities.clone(), changed.quantities))
    };
    with.draws.into_iter().filter_map(pair).collect()
}
