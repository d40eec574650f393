//! The whole way on a boat: truth drawn from the priors, measured with noise, learned, and asked
//! whether the stated intervals hold the truth.

use boat::Boat;
use craft::Factors;
use evidence::Measured;
use evidence::outing::QuantityKind;
use form::Form;
use learn::keep::Kept;
use learn::model::Model;
use learn::observe::{Observed, Place};
use learn::reconcile::{Reconciled, reconcile};
use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;
use study::hull_type::HullType;
use study::{Detail, quantity::solve};

const OUTINGS: u64 = 8;

fn boat() -> (Boat, Form) {
    let text = boat::template("vee", "Test").expect("a starter hull");
    let boat = boat::load(&text, "boat.toml").expect("a sound template").0;
    let boat::HullSource::Starter(starter) = &boat.hull.source else {
        panic!("not a starter hull");
    };
    let mut form = Form::from_mesh(form::starter::build(starter).expect("sound dimensions"));
    form.surfaces = form::running::find(&form.envelope);
    (boat, form)
}

fn observed(kind: QuantityKind, sigma: f64) -> Observed {
    Observed {
        kind,
        measured: Measured::new(0.0, sigma),
        place: Place::Throttle(1.0),
        from: "made up".to_owned(),
        drive: 0,
        assumed: None,
        after_s: None,
        both_ways: false,
    }
}

fn normal(rng: &mut ChaCha8Rng) -> f64 {
    let (u, v): (f64, f64) = (rng.random(), rng.random());
    (-2.0 * (1.0 - u).ln()).sqrt() * (std::f64::consts::TAU * v).cos()
}

/// Flat out, with the errors that instruments have.
fn instruments() -> Vec<Observed> {
    vec![
        observed(QuantityKind::Speed, 0.15),
        observed(QuantityKind::ShaftSpeed, 10.0),
        observed(QuantityKind::Current, 2.0),
        observed(QuantityKind::Voltage, 0.05),
        observed(QuantityKind::Trim, 0.3f64.to_radians()),
    ]
}

#[test]
fn stated_intervals_hold_the_truth_and_narrow_what_was_measured() {
    let (boat, form) = boat();
    let mass = craft::mass::mass_properties(&boat, &form).expect("a mass");
    let asked = solve(&boat, &form, &mass, &Factors::default(), Detail::Full(32)).expect("a curve");
    let model = Model::new(&boat, &form, &mass, &asked.curve);
    let hull_type = HullType::of(&boat, &form);
    let mut rng = ChaCha8Rng::seed_from_u64(11);
    let (mut held, mut all, mut rows_held, mut rows_all) = (0u32, 0u32, 0u32, 0u32);
    let mut done = 0;
    let mut last: Option<Reconciled> = None;
    while done < OUTINGS {
        let truth: Vec<f64> = model
            .priors
            .iter()
            .map(|p| p.value + p.sigma * normal(&mut rng).clamp(-2.5, 2.5))
            .collect();
        // A boat that cannot run cannot be measured either.
        let Some(exact) = model.ask(&truth, &instruments()) else {
            continue;
        };
        done += 1;
        let mut seen = instruments();
        for (one, value) in seen.iter_mut().zip(&exact) {
            one.measured.value = value + one.measured.sigma * normal(&mut rng);
        }
        let found = reconcile(&model, &boat, hull_type, seen, Vec::new()).expect("a fit");
        for (shift, t) in found.shifts.iter().zip(&truth) {
            all += 1;
            held += u32::from((t - shift.after.value).abs() < 1.96 * shift.after.sigma);
            assert!(shift.after.sigma <= 1.0001 * shift.before.sigma);
        }
        for (row, t) in found.rows.iter().zip(&exact) {
            rows_all += 1;
            rows_held += u32::from((t - row.after.value).abs() < 1.96 * row.after.sigma);
            // What is measured less sharply than predicted tells little, and elsewhere the model has other slopes.
            let sharp = row.observed.measured.sigma < row.predicted.sigma;
            let most = if sharp { 1.0 } else { 1.1 } * row.predicted.sigma;
            assert!(row.after.sigma < most, "{row:?}");
        }
        last = Some(found);
    }
    let (rate, rows) = (
        f64::from(held) / f64::from(all),
        f64::from(rows_held) / f64::from(rows_all),
    );
    println!(
        "95 % intervals hold {:.1} % of {all} factors, {:.1} % of {rows_all} quantities",
        100.0 * rate,
        100.0 * rows
    );
    // Some 150 intervals, bound to each other: three standard errors of perhaps 2 % and 4 %.
    assert!(rate > 0.89, "factors {rate}");
    assert!(rows > 0.80, "quantities {rows}");
    let found = last.expect("an outing");
    assert!(found.shifts.iter().any(|s| s.is_told()));
    assert!(
        found.shifts.iter().any(|s| !s.is_told()),
        "five numbers cannot tell everything"
    );
    kept_factors_predict_what_was_learned(&found, &boat, &form);
}

/// What is written, read back and applied gives the top speed the fit ended at, but for what is not
/// kept (mass, balance) and what was not worth writing.
fn kept_factors_predict_what_was_learned(found: &Reconciled, boat: &Boat, form: &Form) {
    let kept = Kept::of(found, boat, form, vec!["2026-05-17".to_owned()], None);
    let kept = Kept::read(&kept.text(), "learned.toml").expect("its own text");
    let learned = kept.carry(boat, form);
    assert_eq!(learned.knobs().len(), kept.factor.len());
    let mut corrected = boat.clone();
    learned.correct(&mut corrected);
    let mass = craft::mass::mass_properties(&corrected, form).expect("a mass");
    let top = |boat: &Boat, factors: &Factors| {
        let asked = solve(boat, form, &mass, factors, Detail::Full(32)).expect("a curve");
        asked.curve.top.expect("a top speed").speed_m_s
    };
    let speed = &found.rows[0];
    let (before, after) = (
        top(boat, &Factors::default()),
        top(&corrected, &learned.factors()),
    );
    let (aim, was) = (speed.after.value, speed.predicted.value);
    assert!(
        (after - aim).abs() <= 0.25 * (before - aim).abs() + 3.0 * speed.after.sigma,
        "top speed {before:.2} became {after:.2}, the fit says {aim:.2} from {was:.2}"
    );
}
