//! The body alone against exact solutions and scipy, and a floating one against hydrostatics.

#[path = "../../craft/tests/docs/mod.rs"]
mod docs;
mod table;
mod towed;

use craft::Craft;
use craft::element::Wrench;
use craft::motion::{Controls, Motion, Surroundings};
use laws::numerics::ode::{Accuracy, integrate};
use motion::body::{Body, Held, SCALE, STATES, State};
use nalgebra::{Quaternion, Rotation3, UnitQuaternion, Vector3};
use std::f64::consts::{PI, TAU};
use std::fmt::Write as _;
use towed::Prism;

const G: f64 = 9.806_65;

fn hull() -> Prism {
    Prism {
        beam_m: 0.2,
        deadrise_deg: 0.0,
        length_m: 0.8,
        mass_kg: 4.0,
        lcg_m: 0.4,
        vcg_m: 0.03,
        gyradius_m: 0.2,
        inertia_kg_m2: None,
    }
}

fn bare(craft: &Craft) -> Body<'_> {
    let mut body = Body::new(craft);
    body.bare = true;
    body
}

fn fly(body: &Body, around: &Surroundings, start: State, seconds: f64) -> State {
    let accuracy = Accuracy {
        relative: 1e-10,
        absolute: 1e-11,
        longest: 0.05,
        most_steps: 1_000_000,
    };
    let held = Held::default();
    let rates = |t: f64, s: &State| {
        let y: State = std::array::from_fn(|i| s[i] * SCALE[i]);
        let d = body.rates(t, &y, around, &held);
        std::array::from_fn(|i| d[i] / SCALE[i])
    };
    let scaled: State = std::array::from_fn(|i| start[i] / SCALE[i]);
    let end = integrate(rates, 0.0, seconds, scaled, &accuracy, |_, _, _| {}).expect("goes on");
    std::array::from_fn(|i| end[i] * SCALE[i])
}

fn thrown(body: &Body, rate: Vector3<f64>) -> State {
    let mut y = [0.0; STATES];
    y[2] = 1.0;
    y[3] = 1.0;
    y[7..10].copy_from_slice(&[4.0, 0.5, 7.0]);
    y[10..13].copy_from_slice(rate.as_slice());
    assert!(body.bare);
    y
}

fn attitude(y: &State) -> UnitQuaternion<f64> {
    UnitQuaternion::from_quaternion(Quaternion::new(y[3], y[4], y[5], y[6]))
}

#[test]
fn it_falls_as_everything_falls() {
    let craft = hull().craft();
    let body = bare(&craft);
    let around = craft.surroundings();
    let end = fly(&body, &around, thrown(&body, Vector3::zeros()), 1.5);
    assert!((end[0] - 6.0).abs() < 1e-9 && (end[1] - 0.75).abs() < 1e-9);
    assert!((end[2] - (1.0 + 10.5 - 0.5 * G * 2.25)).abs() < 1e-9);
}

/// A free symmetric top: the axis stays at its angle to the angular momentum and goes round it at `L / I`; the
/// rates go round the axis at `(I - I_3) / I w_3` (any text on mechanics).
#[test]
fn a_symmetric_top_goes_round_as_the_closed_form_has_it() {
    let craft = hull().craft();
    let body = bare(&craft);
    let around = craft.surroundings();
    let inertia = craft.inertia_kg_m2();
    // The prism's transverse inertias are equal: its axis is x.
    assert_eq!(inertia[(1, 1)], inertia[(2, 2)]);
    let (axial, across) = (inertia[(0, 0)], inertia[(1, 1)]);
    let (spin, nod) = (9.0, 2.0);
    let start = thrown(&body, Vector3::new(spin, nod, 0.0));
    let seconds = 3.0;
    let end = fly(&body, &around, start, seconds);
    let turned = (1.0 - axial / across) * spin * seconds;
    let expected = Vector3::new(spin, nod * turned.cos(), -nod * turned.sin());
    let rate = Vector3::new(end[10], end[11], end[12]);
    let mirrored = Vector3::new(expected.x, expected.y, -expected.z);
    // The sense of going round follows from Euler's equations: w_y' = (I_z - I_x)/I_y w_z w_x.
    let sense = if (rate - expected).norm() < (rate - mirrored).norm() {
        expected
    } else {
        mirrored
    };
    assert!((rate - sense).norm() < 1e-7, "{rate} {sense}");
    let momentum = Vector3::new(axial * spin, across * nod, 0.0);
    let going = momentum.norm() / across * seconds;
    let axis = attitude(&end) * Vector3::x();
    let about = UnitQuaternion::from_scaled_axis(momentum.normalize() * going);
    assert!((axis - about * Vector3::x()).norm() < 1e-7);
}

#[test]
fn energy_and_momentum_stay_without_forces() {
    let craft = hull().craft();
    let body = bare(&craft);
    let around = Surroundings {
        gravity_m_s2: 0.0,
        ..craft.surroundings()
    };
    let inertia = *craft.inertia_kg_m2();
    let sums = |y: &State| {
        let turn = attitude(y);
        let (v, w) = (
            Vector3::new(y[7], y[8], y[9]),
            Vector3::new(y[10], y[11], y[12]),
        );
        let energy = 0.5 * craft.mass_kg() * v.norm_squared() + 0.5 * w.dot(&(inertia * w));
        (energy, turn * v * craft.mass_kg(), turn * (inertia * w))
    };
    let start = thrown(&body, Vector3::new(3.0, -5.0, 2.0));
    let end = fly(&body, &around, start, 5.0);
    let (a, b) = (sums(&start), sums(&end));
    assert!((a.0 / b.0 - 1.0).abs() < 1e-8);
    assert!((a.1 - b.1).norm() < 1e-7 * a.1.norm());
    assert!((a.2 - b.2).norm() < 1e-7 * a.2.norm());
}

/// Everything that dissipates turned off: weight and buoyancy alone on a box set free from a slant. What it loses in
/// height it has in speed: `m v^2 / 2 + w I w / 2 + m g z`, and what lifting the water it displaces costs.
#[test]
fn a_box_that_only_floats_keeps_its_energy() {
    let craft = hull().craft();
    let body = Body::new(&craft);
    let around = craft.surroundings();
    let gamma = around.water_density_kg_m3 * around.gravity_m_s2;
    let inertia = *craft.inertia_kg_m2();
    let cg = craft.cg_m();
    let floats = |name: &str| name == "weight" || name == "buoyancy";
    let rates = |t: f64, y: &State| {
        let motion = body.motion(t, y);
        let acting = craft.elements().filter(|e| floats(e.name()));
        let all: Wrench = acting
            .map(|e| e.wrench(&motion, &around, &Controls::default()))
            .sum();
        let (v, w) = (motion.velocity_at(&cg), motion.rate_rad_s);
        let moment = all.moment_n_m - cg.cross(&all.force_n);
        let mut d = [0.0; STATES];
        d[..3].copy_from_slice((motion.attitude * v).as_slice());
        let turned = Quaternion::new(y[3], y[4], y[5], y[6]) * Quaternion::from_imag(w) * 0.5;
        d[3] = turned.w;
        d[4..7].copy_from_slice(turned.imag().as_slice());
        d[7..10].copy_from_slice((all.force_n / craft.mass_kg() - w.cross(&v)).as_slice());
        let turning = inertia.try_inverse().expect("a body") * (moment - w.cross(&(inertia * w)));
        d[10..13].copy_from_slice(turning.as_slice());
        d
    };
    // The box itself, not its columns: planes cut by the water have their volume and its middle in closed form
    // while all four bottom corners stay wet and all deck corners dry.
    let (l, b) = (hull().length_m, hull().beam_m);
    let energy = |y: &State| {
        let motion = body.motion(0.0, y);
        let up = motion.up();
        let (v, w) = (motion.velocity_at(&cg), motion.rate_rad_s);
        // Depth of the bottom along the box's own height: `h + p x + q y` about the middle.
        let middle = motion.place(&Vector3::new(0.5 * l, 0.0, 0.0)).z;
        let (h, p, q) = (-middle / up.z, -up.x / up.z, -up.y / up.z);
        let spread = p * p * l * l / 12.0 + q * q * b * b / 12.0;
        // A column of depth `d` displaces `d` with its middle `d up.z / 2` under water.
        let lifted = 0.5 * gamma * l * b * up.z * (h * h + spread);
        let moving = 0.5 * craft.mass_kg() * v.norm_squared() + 0.5 * w.dot(&(inertia * w));
        (
            moving,
            moving + craft.mass_kg() * around.gravity_m_s2 * y[2] + lifted,
        )
    };
    let rest = craft.rest_attitude();
    let turn = Rotation3::from_euler_angles(0.04, 0.012, 0.0);
    let motion = Motion {
        position_m: Vector3::new(0.0, 0.0, rest.rise_m + 0.004) + cg - turn * cg,
        attitude: turn,
        velocity_m_s: Vector3::zeros(),
        rate_rad_s: Vector3::zeros(),
        time_s: 0.0,
    };
    let accuracy = Accuracy {
        relative: 1e-9,
        absolute: 1e-10,
        longest: 0.01,
        most_steps: 1_000_000,
    };
    let mut y = body.state(&motion, &[]);
    let start = energy(&y).1;
    let (mut most, mut worst): (f64, f64) = (0.0, 0.0);
    for i in 0..150 {
        let t = 0.02 * f64::from(i);
        y = integrate(rates, t, t + 0.02, y, &accuracy, |_, _, _| {}).expect("goes on");
        let (moving, all) = energy(&y);
        most = most.max(moving);
        worst = worst.max((all - start).abs());
    }
    // Columns cut the water's edge off straight: a thousandth of what swings to and fro.
    assert!(most > 0.01, "{most} J swing");
    assert!(worst < 2e-3 * most, "{worst} J of {most} J lost or made");
}

/// `checks/python/make_motion_checks.py`: the unstable middle axis, so that errors would grow.
#[test]
fn a_tumbling_body_agrees_with_scipy() {
    let craft = Prism {
        inertia_kg_m2: Some(Vector3::new(0.002, 0.011, 0.012)),
        ..hull()
    }
    .craft();
    let body = bare(&craft);
    let around = craft.surroundings();
    let start = thrown(&body, Vector3::new(0.3, 6.0, 0.2));
    let mut worst: f64 = 0.0;
    let rows = table::rows("free_body.csv");
    assert_eq!(rows.len(), 11);
    for row in rows.iter().skip(1) {
        let y = fly(&body, &around, start, row[0]);
        let ours = y[..7].iter().chain(&y[10..13]);
        for (ours, theirs) in ours.zip(&row[1..]) {
            worst = worst.max((ours - theirs).abs());
        }
    }
    assert!(worst < 1e-6, "{worst}");
}

/// Small motions of a flat-bottomed box afloat against hydrostatics in closed form, with the mass of the water
/// by the same published sections written out here: heave `rho g A`, pitch `rho g I`, roll `W GM`.
#[test]
fn a_box_afloat_swings_as_its_waterplane_has_it() {
    let prism = hull();
    let craft = prism.craft();
    let density = craft.surroundings().water_density_kg_m3;
    let rest = craft.rest_attitude();
    let (l, b) = (prism.length_m, prism.beam_m);
    let draught = prism.mass_kg / (density * l * b);
    assert!((rest.rise_m + draught).abs() < 2e-4, "{}", rest.rise_m);
    let body = Body::new(&craft);
    let around = craft.surroundings();
    let carried = PI / 8.0 * density * b * b * l;
    // The box is free to sway as it rolls, and its water with it.
    let sway = 0.5 * PI * density * draught * draught * l;
    let weight = prism.mass_kg * G;
    let centre = 0.5 * draught;
    let metacentre = |moment: f64| centre + moment / (l * b * draught) - prism.vcg_m;
    let inertia = craft.inertia_kg_m2();
    let expected = [
        ("heave", density * G * l * b, prism.mass_kg + carried),
        (
            "pitch",
            weight * metacentre(b * l.powi(3) / 12.0),
            inertia[(1, 1)] + carried * l * l / 12.0,
        ),
        (
            "roll",
            weight * metacentre(l * b.powi(3) / 12.0),
            inertia[(0, 0)]
                + PI / 256.0 * density * b.powi(4) * l
                + sway * prism.mass_kg / (sway + prism.mass_kg) * prism.vcg_m.powi(2),
        ),
    ];
    let mut text = "\nA flat-bottomed box afloat:\n\n| period | linear theory, s | ours, s | off, % |\n|---|---|---|---|\n".to_owned();
    for (i, (name, stiffness, mass)) in expected.into_iter().enumerate() {
        let theory = TAU * (mass / stiffness).sqrt();
        let push = [2e-4, 1e-3, 2e-3][i];
        let moved = |by: f64| {
            let cg = craft.cg_m();
            let level = Vector3::new(0.0, 0.0, rest.rise_m) + cg;
            let (turn, up) = match i {
                0 => (Rotation3::identity(), by),
                1 => (Rotation3::from_scaled_axis(Vector3::y() * by), 0.0),
                _ => (Rotation3::from_scaled_axis(Vector3::x() * by), 0.0),
            };
            let motion = Motion {
                position_m: level + Vector3::z() * up - turn * cg,
                attitude: turn,
                velocity_m_s: Vector3::zeros(),
                rate_rad_s: Vector3::zeros(),
                time_s: 0.0,
            };
            let a = body.accelerations(&motion, &around, &craft.controls());
            [a[2], a[4], a[3]][i]
        };
        let square = -(moved(push) - moved(-push)) / (2.0 * push);
        let ours = TAU / square.sqrt();
        let off = 100.0 * (ours / theory - 1.0);
        let _ = writeln!(text, "| {name} | {theory:.3} | {ours:.3} | {off:+.1} |");
        assert!(off.abs() < 3.0, "{name}: {ours} s against {theory} s");
    }
    let _ = writeln!(
        text,
        "\nA free symmetric top, free fall, energy and momentum: within 1e-7 of the closed forms. A tumbling body: within 1e-6 of scipy's DOP853 over 2 s. A box with nothing but weight and buoyancy keeps its energy within 0.2 % of what swings."
    );
    docs::keep_current("body", &(text + "\n"));
}

/// Let go from a little above its place, afloat, it never gains energy: water that is thrown aside takes it away.
#[test]
fn bobbing_takes_energy_away() {
    let craft = hull().craft();
    let body = Body::new(&craft);
    let around = craft.surroundings();
    let rest = craft.at_rest();
    let mut start = body.state(&rest.motion(), &[]);
    start[2] += 0.02;
    let level = start[2] - 0.02;
    let held = Held::default();
    let accuracy = Accuracy {
        relative: 1e-7,
        absolute: 1e-8,
        longest: 0.01,
        most_steps: 100_000,
    };
    let mut tops = vec![0.02];
    let (mut y, mut before) = (start, 0.0);
    for i in 0..400 {
        let t = 0.01 * f64::from(i);
        let rates = |t: f64, y: &State| body.rates(t, y, &around, &held);
        y = integrate(rates, t, t + 0.01, y, &accuracy, |_, _, _| {}).expect("goes on");
        if before > 0.0 && y[9] <= 0.0 {
            tops.push(y[2] - level);
        }
        before = y[9];
    }
    assert!(tops.len() > 3, "{tops:?}");
    assert!(tops.windows(2).all(|w| w[1] <= w[0] + 1e-4), "{tops:?}");
}
