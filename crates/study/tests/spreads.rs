//! Sampled spreads against what is known without sampling.

mod starter;

use boat::Boat;
use craft::Factors;
use form::Form;
use starter::{boat, form};
use study::quantity::{Solved, solve};
use study::spread::Spread;
use study::{Detail, Quantity};

/// Relative standard error of a standard deviation from `n` draws is `1 / sqrt(2 (n - 1))`; three of
/// them, and 1.1 % for the cut of the draws.
fn allowance(n: usize) -> f64 {
    3.0 / (2.0 * (n as f64 - 1.0)).sqrt() + 0.011
}

fn known(boat: &Boat, form: &Form) -> Solved {
    let mass = craft::mass::mass_properties(boat, form).expect("a mass");
    solve(boat, form, &mass, &Factors::default(), Detail::Full(12)).expect("it floats")
}

/// As a study draws them.
fn like(known: &Solved) -> Detail<'_> {
    Detail::Like(12, &known.craft, &known.curve)
}

#[test]
fn mass_and_balance_spread_as_the_sum_of_squares_says() {
    let boat = boat("vee");
    let form = form(&boat);
    let mass = craft::mass::mass_properties(&boat, &form).expect("a mass");
    let known = known(&boat, &form);
    let spread = Spread::sample(&boat, &form, 300, 7, like(&known));
    assert_eq!(spread.draws.len(), 300);
    let close = |quantity: Quantity, expected: f64| {
        let ratio = spread.half_width(quantity) / expected;
        assert!(
            (ratio - 1.0).abs() < allowance(300),
            "{quantity:?}: {ratio}"
        );
    };
    close(Quantity::Mass, mass.mass_spread_kg);
    close(Quantity::BalanceX, mass.cg_spread_m.x);
}

#[test]
fn the_same_seed_gives_the_same_draws_on_any_number_of_threads() {
    let boat = boat("three-point");
    let form = form(&boat);
    let on = |threads: usize, seed: u64| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build();
        let pool = pool.expect("a pool");
        let spread = pool.install(|| Spread::sample(&boat, &form, 6, seed, Detail::Rough(12)));
        let answers: Vec<_> = spread.draws.iter().map(|d| d.quantities.clone()).collect();
        answers
    };
    assert_eq!(on(1, 3), on(3, 3));
    assert_ne!(on(1, 3), on(1, 4));
}

#[test]
fn more_draws_keep_the_first_ones() {
    let boat = boat("three-point");
    let form = form(&boat);
    let few = Spread::sample(&boat, &form, 3, 1, Detail::Rough(6));
    let many = Spread::sample(&boat, &form, 5, 1, Detail::Rough(6));
    for (a, b) in few.draws.iter().zip(&many.draws) {
        assert_eq!(a.quantities, b.quantities);
    }
}

/// Half-widths of 64 draws lie within 20 % of each other from seed to seed: two standard errors of quantiles of so many
/// chance draws would be 22 %, and these fill space more evenly.
#[test]
fn another_seed_tells_nearly_the_same_spread() {
    let boat = boat("three-point");
    let form = form(&boat);
    let known = known(&boat, &form);
    let spreads: Vec<Spread> = (1..=4)
        .map(|seed| Spread::sample(&boat, &form, 64, seed, like(&known)))
        .collect();
    for quantity in [
        Quantity::TopSpeed,
        Quantity::TopCurrent,
        Quantity::PlaningSpeed,
        Quantity::Slip,
    ] {
        let widths: Vec<f64> = spreads.iter().map(|s| s.half_width(quantity)).collect();
        let mean = widths.iter().sum::<f64>() / widths.len() as f64;
        let furthest = widths.iter().map(|w| (w / mean - 1.0).abs());
        let furthest = furthest.fold(0.0, f64::max);
        assert!(furthest < 0.2, "{quantity:?}: {widths:?}");
    }
}
