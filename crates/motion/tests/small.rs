//! Small motions against linear theory afloat, and against growth in time under the carriage.

mod towed;

use craft::Attitude;
use craft::steady::Running;
use laws::numerics::ode::{Accuracy, integrate};
use motion::stability::{Shape, about};
use std::f64::consts::{PI, TAU};
use towed::{Carriage, Prism, Tow};

const G: f64 = 9.806_65;

/// Heave, pitch and roll of a box in closed form, the water it carries by a plate's sections.
#[test]
fn a_box_at_rest_swings_in_its_own_periods() {
    let prism = Prism {
        beam_m: 0.2,
        deadrise_deg: 0.0,
        length_m: 0.8,
        mass_kg: 4.0,
        lcg_m: 0.4,
        vcg_m: 0.03,
        gyradius_m: 0.24,
        inertia_kg_m2: None,
    };
    let craft = prism.craft();
    let density = craft.surroundings().water_density_kg_m3;
    let (l, b, m) = (prism.length_m, prism.beam_m, prism.mass_kg);
    let draught = m / (density * l * b);
    let carried = PI / 8.0 * density * b * b * l;
    let sway = 0.5 * PI * density * draught * draught * l;
    let over = |moment: f64| m * G * (0.5 * draught + moment / (l * b * draught) - prism.vcg_m);
    let inertia = craft.inertia_kg_m2();
    let squares = [
        density * G * l * b / (m + carried),
        over(b * l.powi(3) / 12.0) / (inertia[(1, 1)] + carried * l * l / 12.0),
        over(l * b.powi(3) / 12.0)
            / (inertia[(0, 0)]
                + PI / 256.0 * density * b.powi(4) * l
                + sway * m / (sway + m) * prism.vcg_m.powi(2)),
    ];
    let modes = about(&craft, &craft.at_rest());
    for square in squares {
        let expected = square.sqrt();
        let near = modes
            .modes
            .iter()
            .map(|m| (m.frequency_rad_s / expected - 1.0).abs())
            .fold(f64::INFINITY, f64::min);
        assert!(
            near < 0.01,
            "{expected} rad/s, nearest off by {near}: {modes:?}"
        );
    }
    assert!(
        modes.modes.iter().all(|m| m.growth_per_s < 0.05),
        "{modes:?}"
    );
}

/// A prism past its porpoising limit: the eigenvalue, the growth of successive swings in time, and the whole
/// boat's small motions tell the same rate and period.
#[test]
fn what_grows_grows_in_time_as_fast() {
    let prism = Prism {
        beam_m: 0.2,
        deadrise_deg: 10.0,
        length_m: 1.2,
        mass_kg: 3.0,
        lcg_m: 0.15,
        vcg_m: 0.05,
        gyradius_m: 0.3,
        inertia_kg_m2: None,
    };
    let craft = prism.craft();
    let carriage = Carriage::new(&craft, 4.29);
    let steady = carriage.steady(0.1, 0.33).expect("runs steadily");
    let (growth, frequency) = carriage.least_damped(&steady);
    assert!(
        growth > 0.5,
        "{growth} at {:.2} deg",
        steady[1].to_degrees()
    );

    let around = craft.surroundings();
    let accuracy = Accuracy {
        relative: 1e-7,
        absolute: 1e-9,
        longest: 0.005,
        most_steps: 1000,
    };
    let mut y = steady;
    y[1] += 1e-4;
    let mut tops: Vec<(f64, f64)> = Vec::new();
    let mut before = 0.0;
    for i in 0..2000 {
        let t = 0.002 * f64::from(i);
        let rates = |t: f64, y: &Tow| carriage.rates(&around, t, y);
        y = integrate(rates, t, t + 0.002, y, &accuracy, |_, _, _| {}).expect("goes on");
        let off = y[1] - steady[1];
        if before > 0.0 && y[3] <= 0.0 && off > 0.0 {
            tops.push((t, off));
        }
        before = y[3];
        if off.abs() > 4e-3 {
            break;
        }
    }
    assert!(tops.len() > 3, "{tops:?}");
    let (first, last) = (tops[1], tops[tops.len() - 1]);
    let in_time = (last.1 / first.1).ln() / (last.0 - first.0);
    let period = (last.0 - first.0) / (tops.len() - 2) as f64;
    assert!(
        (in_time / growth - 1.0).abs() < 0.15,
        "{in_time} against {growth}"
    );
    assert!((period * frequency / TAU - 1.0).abs() < 0.05, "{period}");

    let cg = craft.cg_m();
    let up = craft::attitude::rotation(0.0, steady[1], 0.0) * cg;
    let modes = about(
        &craft,
        &Running {
            speed_m_s: 4.29,
            attitude: Attitude {
                rise_m: steady[0] - up.z,
                trim_rad: steady[1],
                heel_rad: 0.0,
            },
            shaft_rad_s: 0.0,
            drift_rad: 0.0,
        },
    );
    let mode = modes.worst(Shape::Porpoising).expect("one");
    assert!(mode.unstable(), "{modes:?}");
    assert!(
        (mode.frequency_rad_s / frequency - 1.0).abs() < 0.05,
        "{mode:?}"
    );
    assert!(
        (mode.growth_per_s / growth - 1.0).abs() < 0.25,
        "{mode:?} against {growth}"
    );
    assert!(mode.driven_by.is_some());
}
