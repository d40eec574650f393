//! Where things sit changes how it runs, and in the direction builders report.

mod boats;

use boats::{Example, example, of};
use craft::SpeedCurve;
use craft::curve::planing_speed;

fn with_propeller_at(boat: &Example, forward_m: f64) -> Example {
    let mut moved = boat.boat.clone();
    moved.drives[0].propeller.at[0].value += forward_m;
    moved.drives[0].propeller.at[2].value -= 0.02;
    of(moved, boat.form.clone())
}

/// Strongest downward pull of the propeller on the bottom, over the boat's weight.
fn pull(boat: &Example, curve: &SpeedCurve) -> f64 {
    let states = curve.running.iter().flat_map(|s| &s.forces);
    let pulls = states.filter(|f| f.name.contains("'s pull on"));
    pulls
        .map(|f| -f.force_n.z / boat.craft.weight_n())
        .fold(0.0, f64::max)
}

#[test]
fn a_propeller_under_the_hull_pulls_the_stern_and_one_set_back_does_not() {
    let boat = example("millrace");
    let under = with_propeller_at(&boat, 0.10);
    let back = with_propeller_at(&boat, -0.10);
    let (under_pull, back_pull) = (
        pull(&under, &under.craft.rough_curve(24)),
        pull(&back, &back.craft.rough_curve(24)),
    );
    assert!(under_pull > 0.01, "{under_pull}");
    assert!(back_pull < 0.5 * under_pull, "{back_pull} and {under_pull}");
}

/// "Narrow pads do not plane" (common practice, no source). In the model they do, late, nose up and slow:
/// what they lack in width and angle they take in wetted length.
#[test]
fn narrow_level_pads_plane_later_higher_and_slower() {
    let (usual, narrow) = (example("tadpole"), example("faults/tadpole-narrow-pads"));
    let (a, b) = (usual.craft.rough_curve(32), narrow.craft.rough_curve(32));
    let planing = |c| planing_speed(c).expect("planes");
    assert!(planing(&b) > 1.2 * planing(&a));
    let (a, b) = (a.top.expect("a top speed"), b.top.expect("a top speed"));
    assert!(b.speed_m_s < a.speed_m_s);
    assert!(b.attitude.trim_rad > a.attitude.trim_rad + 0.02);
    let wet = |s: &craft::RunningState| -> f64 {
        s.wetted.iter().map(|w| w.keel_length_m).fold(0.0, f64::max)
    };
    assert!(wet(&b) > 2.0 * wet(&a));
}
