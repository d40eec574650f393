//! Bounds that hold for every propeller, and how one state passes into the next.

use std::f64::consts::{PI, TAU};
use std::sync::Arc;

use super::{Flow, Propeller};
use crate::factors::Factors;
use crate::motion::{Still, Surroundings};

const DENSITY: f64 = 999.0;

fn around() -> Surroundings<'static> {
    Surroundings {
        water: &Still,
        water_density_kg_m3: DENSITY,
        water_viscosity_m2_s: 1.1e-6,
        air_density_kg_m3: 1.2,
        wind_m_s: nalgebra::Vector3::zeros(),
        gravity_m_s2: crate::craft::GRAVITY_M_S2,
        found: None,
    }
}

fn propeller(blades: u32, diameter_m: f64) -> Propeller {
    let mut drive = crate::testing::a_drive();
    drive.propeller.blades = blades;
    drive.propeller.area_ratio = boat::Measure::given(0.2 * f64::from(blades));
    drive.propeller.diameter_m = boat::Measure::given(diameter_m);
    Propeller::new(&drive, 0, Arc::default(), Factors::default()).expect("a propeller")
}

fn straight(advance_m_s: f64, immersion: f64) -> Flow {
    Flow {
        immersion,
        advance_m_s,
        upward_rad: 0.0,
        to_port_rad: 0.0,
    }
}

const IMMERSIONS: [f64; 9] = [0.2, 0.35, 0.5, 0.75, 1.0, 1.2, 1.35, 1.6, 2.5];

/// Rankine and Froude: no propeller is better than the ideal disc of its wet area, from rolling to
/// driving hard, cut, covered, drawing air or cavitating.
#[test]
fn never_better_than_momentum_theory() {
    let mut driving = 0;
    for (blades, diameter) in [(2, 0.03), (2, 0.04), (3, 0.05)] {
        let p = propeller(blades, diameter);
        for immersion in IMMERSIONS {
            let wet = laws::immersed_disc::immersed_disc(immersion.min(1.0)).expect("finite");
            let area = 0.25 * PI * diameter * diameter * wet.area_ratio;
            for speed in [0.5, 2.0, 6.0, 12.0, 20.0, 30.0] {
                for turns in 1..40 {
                    let shaft = TAU * 20.0 * f64::from(turns);
                    let flow = straight(speed, immersion);
                    for load in [
                        p.load_in(&flow, &around(), shaft),
                        p.drawing_air(&flow, &around(), shaft),
                    ] {
                        if load.thrust_n <= 0.0 {
                            continue;
                        }
                        driving += 1;
                        let loading = 2.0 * load.thrust_n / (DENSITY * area * speed * speed);
                        let ideal = 2.0 / (1.0 + (1.0 + loading).sqrt());
                        let efficiency = load.thrust_n * speed / (load.torque_n_m * shaft);
                        assert!(
                            efficiency < ideal,
                            "{blades} {diameter} {immersion} {speed} {shaft}: {efficiency} of {ideal}"
                        );
                    }
                }
            }
        }
    }
    assert!(driving > 5000, "{driving}");
}

#[test]
fn drawing_air_gives_no_more_than_gripping() {
    let p = propeller(2, 0.036);
    for immersion in IMMERSIONS {
        for speed in [0.0, 2.0, 5.0, 10.0] {
            for turns in [50.0, 150.0, 300.0, 450.0] {
                let flow = straight(speed, immersion);
                let grips = p.load_in(&flow, &around(), TAU * turns);
                let air = p.drawing_air(&flow, &around(), TAU * turns);
                if grips.slip < 0.2 {
                    continue;
                }
                assert!(air.thrust_n <= grips.thrust_n * 1.0001, "{flow:?} {turns}");
                assert!(
                    air.torque_n_m <= grips.torque_n_m * 1.0001,
                    "{flow:?} {turns}"
                );
            }
        }
    }
}

/// A covered propeller from rest: thrust goes with the square of turns until its back cavitates, then
/// hardly rises unless air would give more.
#[test]
fn cavitation_holds_a_covered_propeller_back_from_rest() {
    let p = propeller(2, 0.036);
    let thrust = |turns: f64| {
        let load = p.load_in(&straight(0.0, 2.0), &around(), TAU * turns);
        load.thrust_n
    };
    let (slow, twice) = (thrust(60.0), thrust(120.0));
    assert!((twice / slow / 4.0 - 1.0).abs() < 0.02, "{slow} {twice}");
    let (fast, faster) = (thrust(250.0), thrust(400.0));
    let square = (400.0f64 / 250.0).powi(2);
    assert!(
        faster > fast && faster / fast < 0.8 * square,
        "{fast} {faster}"
    );
}

/// Slopes from both sides agree where the law passes from one picture to another.
#[test]
fn no_corners_in_immersion_or_shaft_speed() {
    let p = propeller(2, 0.036);
    let at = |immersion: f64, turns: f64| {
        let load = p.load_in(&straight(4.0, immersion), &around(), TAU * turns);
        [load.thrust_n, load.torque_n_m / 0.036, load.vertical_n]
    };
    for turns in [100.0, 250.0, 400.0] {
        for i in 10..200 {
            let immersion = 0.01 * f64::from(i);
            let (h, k) = (1e-4, 1e-2);
            let here = at(immersion, turns);
            let change = |up: [f64; 3], down: [f64; 3]| {
                (0..3)
                    .map(|c| ((up[c] - here[c]) - (here[c] - down[c])).abs())
                    .fold(0.0, f64::max)
            };
            // A corner would leave a first power of the step: slopes of 100 N a diameter here.
            let deep = change(at(immersion + h, turns), at(immersion - h, turns));
            assert!(
                deep < 3e-3 * h * 100.0 * 10.0,
                "{immersion} {turns}: {deep}"
            );
            let fast = change(at(immersion, turns + k), at(immersion, turns - k));
            assert!(fast < 1e-4, "{immersion} {turns}: {fast}");
        }
    }
}
