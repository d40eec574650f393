//! A propeller under the hull pulls the stern down in the equilibrium; one set well back does not.

use boat::HullSource;
use craft::mass::mass_properties;
use craft::{Craft, Factors, RunningState};
use form::Form;

/// The vee starter at a speed, its propeller at `x` with its tips just clear of the keel.
fn state(x_m: f64, suction: f64, speed_m_s: f64) -> RunningState {
    let text = boat::template("vee", "Test").expect("a starter type");
    let (mut boat, _) = boat::load(&text, "boat.toml").expect("a boat");
    let propeller = &mut boat.drives[0].propeller;
    propeller.at[0].value = x_m;
    propeller.at[1].value = 0.0;
    propeller.at[2].value = -0.5 * propeller.diameter_m.value - 0.002;
    let HullSource::Starter(starter) = &boat.hull.source else {
        panic!("a starter hull")
    };
    let form = Form::from_mesh(form::starter::build(starter).expect("a hull"));
    let mass = mass_properties(&boat, &form).expect("masses");
    let factors = Factors {
        suction,
        ..Factors::default()
    };
    let craft = Craft::new(&boat, &form, &mass, &factors).expect("a craft");
    let curve = craft.speed_curve(40);
    craft.on_curve(&curve, speed_m_s).expect("a state")
}

/// Vertical force of the pull over the boat's weight, downward.
fn pull(state: &RunningState) -> f64 {
    let on = |name: &str| {
        let named = state.forces.iter().filter(move |f| f.name.contains(name));
        named.map(|f| f.force_n.z).sum::<f64>()
    };
    on("pull on") / on("weight")
}

/// Pull over weight and change of trim it makes, deg, with the propeller at `x`.
fn effect(x_m: f64, speed_m_s: f64) -> (f64, f64) {
    let (with, without) = (state(x_m, 1.0, speed_m_s), state(x_m, 0.0, speed_m_s));
    let trim = with.attitude.trim_rad - without.attitude.trim_rad;
    (pull(&with), trim.to_degrees())
}

#[test]
fn under_the_hull_it_pulls_the_stern_down_and_well_back_it_does_not() {
    for speed in [4.0, 8.0] {
        let (under, bow_up) = effect(0.03, speed);
        let (back, hardly) = effect(-0.06, speed);
        let (far, nothing) = effect(-0.12, speed);
        assert!(
            under > 0.02 && bow_up > 0.1,
            "{speed} m/s: {under} {bow_up}"
        );
        // The law of a sheet of sinks falls off slowly: at 1.7 diameters a good part is left, at 3.3 little.
        assert!(
            back < under && far < 0.25 * under,
            "{speed} m/s: {under} {back} {far}"
        );
        assert!(
            hardly < bow_up && nothing.abs() < 0.25 * bow_up,
            "{speed} m/s: {bow_up} {hardly} {nothing}"
        );
    }
}
