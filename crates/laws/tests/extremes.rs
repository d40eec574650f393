//! No law answers with NaN or infinity, whatever its catalogue lets in.

use laws::catalogue::{Bounds, Input, LAWS, Law, Need};
use rand::{Rng, RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;

/// A value an input allows: mostly of everyday size, sometimes at or near an end.
fn draw(input: &Input, rng: &mut impl Rng) -> f64 {
    let size = 10f64.powf(rng.random_range(-6.0..6.0));
    let value = match input.bounds {
        Bounds::Within(low, high) => {
            [low, high, rng.random_range(low..=high)][rng.random_range(0..3)]
        }
        Bounds::Positive => size,
        Bounds::NotNegative => [0.0, size][rng.random_range(0..2)],
        Bounds::Any => [0.0, size, -size][rng.random_range(0..3)],
    };
    if input.kind.is_whole() {
        value.floor()
    } else {
        value
    }
}

fn inputs(law: &Law, rng: &mut impl Rng) -> Vec<(&'static str, f64)> {
    let group = law.one_of();
    let chosen = (!group.is_empty()).then(|| group[rng.random_range(0..group.len())]);
    let wanted = |i: &&Input, skip: bool| match i.need {
        Need::Required => true,
        Need::Default(_) => !skip,
        Need::OneOf => Some(i.key) == chosen,
    };
    let skip = rng.random_range(0..2) == 0;
    law.inputs
        .iter()
        .filter(|i| wanted(i, skip))
        .map(|i| (i.key, draw(i, rng)))
        .collect()
}

#[test]
fn answers_are_finite() {
    let mut rng = ChaCha8Rng::seed_from_u64(1);
    for law in LAWS {
        let rounds = if law.name == "prismatic-planing" {
            40
        } else {
            3000
        };
        for _ in 0..rounds {
            let given = inputs(law, &mut rng);
            // A refusal is an answer too.
            let Ok(e) = law.evaluate(&given) else {
                continue;
            };
            for (key, value) in &e.outputs {
                assert!(
                    value.is_finite(),
                    "{} {key} = {value} at {given:?}",
                    law.name
                );
            }
        }
    }
}
