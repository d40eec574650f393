//! Wherever the boat is thrown, every force acts within it.

mod boats;

use craft::attitude::rotation;
use craft::motion::Motion;
use nalgebra::Vector3;
use rand::{RngExt as _, SeedableRng as _};

/// States of each boat.
const STATES: usize = 5_000;

/// A moment is never larger than the force on an arm of twice the boat, and a couple of three times its weight on its length
/// (two sides of a hull pushed apart). An arm that grew without bound, as halves nearly cancelled, threw boats over by
/// chance: its moments were hundreds of times as large.
#[test]
fn no_force_acts_far_outside_the_boat() {
    for name in [
        "practice",
        "tadpole",
        "longshank",
        "millrace",
        "twin-thistle",
    ] {
        let boat = boats::example(name).craft;
        let (weight, length) = (boat.weight_n(), boat.length_m());
        let around = boat.surroundings();
        let mut random = rand_chacha::ChaCha8Rng::seed_from_u64(1);
        let mut off = |most: f64| random.random_range(-most..=most);
        for _ in 0..STATES {
            let attitude = rotation(0.0, off(0.15), off(0.4));
            let flow = Vector3::new(12.0 + off(12.0), off(3.0), off(1.0));
            let motion = Motion {
                position_m: Vector3::new(0.0, 0.0, off(0.03)),
                attitude,
                velocity_m_s: attitude.inverse_transform_vector(&flow),
                rate_rad_s: Vector3::new(off(10.0), off(3.0), off(3.0)),
                time_s: 0.0,
            };
            let mut controls = boat.controls();
            controls.shaft_rad_s.fill(1500.0 + off(1500.0));
            controls.rudder_rad = off(0.3);
            for element in boat.elements() {
                let found = element.wrench(&motion, &around, &controls);
                let (force, moment) = (found.force_n.norm(), found.moment_n_m.norm());
                let most = 2.0 * length * force + 3.0 * weight * length;
                assert!(
                    moment <= most,
                    "{name}, {}: {force} N and {moment} N m at {motion:?}",
                    element.name()
                );
            }
        }
    }
}
