//! What waits on the solvers: one boat ready to be asked, its rest, its whole speed curve.

use boat::{Boat, HullSource, STARTER_TYPES};
use craft::{Craft, Factors, mass};
use divan::{Bencher, black_box};
use form::Form;

fn main() {
    divan::main();
}

fn boat(starter: &str) -> Boat {
    let text = boat::template(starter, "Demo").unwrap();
    boat::load(&text, "boat.toml").unwrap().0
}

fn form(boat: &Boat) -> Form {
    let HullSource::Starter(starter) = &boat.hull.source else {
        panic!("a template has a starter hull");
    };
    Form::from_mesh(form::starter::build(starter).unwrap())
}

fn craft(boat: &Boat, form: &Form) -> Craft {
    let mass = mass::mass_properties(boat, form).unwrap();
    Craft::new(boat, form, &mass, &Factors::default()).unwrap()
}

/// 60 speeds from rest to beyond top speed, the hump, and every other running state.
#[divan::bench(args = STARTER_TYPES, sample_count = 20)]
fn speed_curve_60(bencher: Bencher, starter: &str) {
    let boat = boat(starter);
    let craft = craft(&boat, &form(&boat));
    let curve = craft.speed_curve(60);
    assert!(curve.running.len() >= 2, "{starter}: no curve to time");
    bencher.bench(|| black_box(&craft).speed_curve(60));
}

/// Top speed alone: what a spread or a sweep asks many times.
#[divan::bench(args = STARTER_TYPES, sample_count = 20)]
fn top_speed(bencher: Bencher, starter: &str) {
    let boat = boat(starter);
    let craft = craft(&boat, &form(&boat));
    bencher.bench(|| black_box(&craft).top_speed());
}

/// Masses, rest and force elements of a boat whose form is known.
#[divan::bench(args = STARTER_TYPES, sample_count = 20)]
fn craft_of_form(bencher: Bencher, starter: &str) {
    let boat = boat(starter);
    let form = form(&boat);
    bencher.bench(|| craft(black_box(&boat), black_box(&form)));
}

/// The starter hull and everything found from its mesh.
#[divan::bench(args = STARTER_TYPES, sample_count = 10)]
fn form_of_starter(bencher: Bencher, starter: &str) {
    let boat = boat(starter);
    bencher.bench(|| form(black_box(&boat)));
}
