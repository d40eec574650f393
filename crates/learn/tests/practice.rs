//! The demonstration outing, whose sound and controller agree on the turns and whose speeds agree by three ways:
//! what is learned of it, and whether the next prediction for that day meets what was measured.

use boat::Boat;
use craft::Factors;
use evidence::outing::{Outing, OutingFile, QuantityKind};
use form::Form;
use learn::day::Day;
use learn::keep::Kept;
use learn::model::Model;
use learn::observe::observe;
use learn::reconcile::{Reconciled, reconcile};
use std::fs;
use std::path::PathBuf;
use study::hull_type::HullType;
use study::quantity::{Detail, solve};

fn home() -> PathBuf {
    PathBuf::from(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../examples/practice"
    ))
}

fn boat_and_form() -> (Boat, Form) {
    let text = fs::read_to_string(home().join("boat.toml")).expect("a boat file");
    let boat = boat::load(&text, "boat.toml").expect("a sound boat").0;
    let mesh = fs::read(home().join("practice.stl")).expect("a mesh");
    let boat::HullSource::Mesh(files) = &boat.hull.source else {
        panic!("not a mesh");
    };
    let mut form = form::assemble(&[("practice.stl", mesh.as_slice())], files).expect("a form");
    form.surfaces = form::running::find(&form.envelope);
    form::running::apply(&mut form.surfaces, &boat.hull.running).expect("surfaces");
    (boat, form)
}

/// Measured, learned and predicted anew for one kind.
fn row(found: &Reconciled, kind: QuantityKind) -> (f64, f64, f64) {
    let rows: Vec<_> = found
        .rows
        .iter()
        .filter(|r| r.observed.kind == kind)
        .collect();
    let first = rows.first().expect("a row");
    let weights: f64 = rows.iter().map(|r| r.weight).sum();
    (
        first.observed.measured.value,
        first.after.value,
        weights / rows.len() as f64,
    )
}

#[test]
fn instruments_that_agree_are_believed_and_the_next_prediction_meets_them() {
    let (boat, form) = boat_and_form();
    let day = home().join("outings/2026-05-17");
    let text = |name: &str| fs::read_to_string(day.join(name)).expect("a file");
    let outing: Outing = serde_json::from_str(&text("measured.json")).expect("an outing");
    let said = OutingFile::read(&text("outing.toml"), "outing.toml").expect("notes");
    let mut on_the_day = boat.clone();
    let conditions = Day::apply(&mut on_the_day, &[(&outing, Some(&said))]);
    let mass = craft::mass::mass_properties(&boat, &form).expect("a mass");
    let before = solve(
        &on_the_day,
        &form,
        &mass,
        &Factors::default(),
        Detail::Full(48),
    )
    .expect("a curve");
    let (observed, passed) = observe(&outing, &boat).expect("possible numbers");
    let mut model = Model::new(&on_the_day, &form, &mass, &before.curve);
    if let Some(wind) = conditions.headwind_m_s {
        model = model.in_wind(wind);
    }
    let found =
        reconcile(&model, &boat, HullType::of(&boat, &form), observed, passed).expect("a fit");
    for row in &found.rows {
        println!(
            "{:?} {}: measured {:.2}, predicted {:.2}, after {:.2}, counted {:.0} %",
            row.observed.kind,
            row.observed.from,
            row.observed.measured.value,
            row.predicted.value,
            row.after.value,
            100.0 * row.weight
        );
    }
    // Turns by sound and controller, speed by sound, marks and track: none is laid aside.
    let (speed, after_speed, counted) = row(&found, QuantityKind::Speed);
    assert!((after_speed / speed - 1.0).abs() < 0.015 && counted > 0.99);
    let (turns, after_turns, counted) = row(&found, QuantityKind::ShaftSpeed);
    assert!((after_turns / turns - 1.0).abs() < 0.015 && counted > 0.99);
    let (volts, after_volts, _) = row(&found, QuantityKind::Voltage);
    assert!((after_volts - volts).abs() < 0.2);
    let (amps, after_amps, _) = row(&found, QuantityKind::Current);
    assert!((after_amps / amps - 1.0).abs() < 0.05);
    // Kept, read back and carried to the same boat on the same day.
    let kept = Kept::of(&found, &boat, &form, vec!["2026-05-17".to_owned()], None);
    let kept = Kept::read(&kept.text(), "learned.toml").expect("its own text");
    let learned = kept.carry(&boat, &form);
    let mut corrected = on_the_day.clone();
    learned.correct(&mut corrected);
    let next = solve(
        &corrected,
        &form,
        &mass,
        &learned.factors(),
        Detail::Full(48),
    )
    .expect("a curve");
    let top = next.curve.top.expect("a top speed");
    let drive = &top.drives[0];
    println!(
        "next: {:.2} m/s, {:.0} rad/s, {:.2} V, {:.1} A",
        top.speed_m_s, drive.shaft_rad_s, drive.voltage_v, drive.current_a
    );
    assert!(
        (top.speed_m_s / speed - 1.0).abs() < 0.015,
        "{}",
        top.speed_m_s
    );
    assert!(
        (drive.shaft_rad_s / turns - 1.0).abs() < 0.015,
        "{}",
        drive.shaft_rad_s
    );
    assert!((drive.voltage_v - volts).abs() < 0.2, "{}", drive.voltage_v);
    assert!(
        (drive.current_a / amps - 1.0).abs() < 0.05,
        "{}",
        drive.current_a
    );
}
