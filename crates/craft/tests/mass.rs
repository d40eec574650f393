//! Masses, centres, inertia and their spreads by hand.

mod hulls;

use boat::Measure;
use craft::mass::{MassError, mass_properties};
use form::Form;
use hulls::shapes::{block, tub, v};
use hulls::{bare, close, part, place, weighed};

/// 0.6 x 0.2 x 0.1 m: 0.4 m2 of skin (0.24 level, 0.16 upright), 12 litres.
fn hull() -> Form {
    Form::from_mesh(block(v(0.0, -0.1, 0.0), v(0.6, 0.1, 0.1)))
}

#[test]
fn shell_is_area_times_thickness_times_density() {
    let mut boat = bare();
    boat.hull.print.wall_m = Measure::given(1.2e-3);
    boat.hull.print.top_bottom_m = Measure::given(0.8e-3);
    let mass = mass_properties(&boat, &hull()).expect("masses");
    close(
        mass.mass_kg,
        1000.0 * (0.16 * 1.2e-3 + 0.24 * 0.8e-3),
        1e-12,
    );
    assert!((mass.cg_m - v(0.3, 0.0, 0.05)).norm() < 1e-12);
    assert_eq!(mass.items.len(), 1);
    assert_eq!(mass.items[0].name, "hull print");
    assert_eq!(mass.items[0].source, "predicted from the print");
}

/// Full infill is the solid box: `m (b^2 + c^2) / 12` about each axis.
#[test]
fn filled_box_is_a_solid_box() {
    let mut boat = bare();
    boat.hull.print.hollow = false;
    boat.hull.print.infill = Measure::given(1.0);
    let mass = mass_properties(&boat, &hull()).expect("masses");
    close(mass.mass_kg, 12.0, 1e-9);
    let inertia = mass.inertia_kg_m2;
    close(inertia[(0, 0)], 12.0 * (0.04 + 0.01) / 12.0, 1e-9);
    close(inertia[(1, 1)], 12.0 * (0.36 + 0.01) / 12.0, 1e-9);
    close(inertia[(2, 2)], 12.0 * (0.36 + 0.04) / 12.0, 1e-9);
    assert!(inertia[(0, 1)].abs() < 1e-12 && inertia[(0, 2)].abs() < 1e-12);
}

#[test]
fn infill_fills_what_the_walls_leave() {
    let mut boat = bare();
    boat.hull.print.hollow = false;
    boat.hull.print.infill = Measure::given(0.2);
    let mass = mass_properties(&boat, &hull()).expect("masses");
    close(mass.mass_kg, 0.4 + 0.2 * (12.0 - 0.4), 1e-9);
}

/// A thin square tube of unit sheet about its long axis, by the parallel-axis theorem: four
/// plates of mass `m` at distance `s / 2`, two ends of `m_e` as square plates.
#[test]
fn shell_inertia_of_a_cube_by_hand() {
    let form = Form::from_mesh(block(v(0.0, -0.1, 0.0), v(0.2, 0.1, 0.2)));
    let mass = mass_properties(&bare(), &form).expect("masses");
    // A hollow cube of side s: I = 5 m s^2 / 18.
    let expected = 5.0 * mass.mass_kg * 0.04 / 18.0;
    for axis in 0..3 {
        close(mass.inertia_kg_m2[(axis, axis)], expected, 1e-12);
    }
}

#[test]
fn coating_and_frames_add_their_share() {
    let mut boat = bare();
    boat.hull.print.extra_fraction = Measure::given(0.1);
    boat.hull.print.coating_kg_m2 = Measure::given(0.15);
    let mass = mass_properties(&boat, &hull()).expect("masses");
    close(mass.items[0].mass_kg, 0.44, 1e-12);
    close(mass.items[1].mass_kg, 0.06, 1e-12);
    assert_eq!(mass.items[1].name, "hull coating");
}

/// A tub that models its own 5 mm walls: their volume counts, not the skin times a thickness.
#[test]
fn modelled_walls_weigh_their_volume() {
    let (low, high, wall) = (v(0.0, -0.1, 0.0), v(0.6, 0.1, 0.1), 0.005);
    let stl = hulls::shapes::text_stl(&tub(low, high, wall), 1000.0);
    let form = form::assemble(&[("tub.stl", &stl[..])], &[]).expect("a tub");
    let mass = mass_properties(&bare(), &form).expect("masses");
    let inside = (0.6 - 2.0 * wall) * (0.2 - 2.0 * wall) * (0.1 - wall);
    close(mass.mass_kg, 1000.0 * (0.012 - inside), 1e-6);
}

#[test]
fn weighed_shell_replaces_the_prediction_and_keeps_its_place() {
    let mut boat = bare();
    boat.hull.weighed = weighed(0.5, None);
    let mass = mass_properties(&boat, &hull()).expect("masses");
    close(mass.mass_kg, 0.5, 1e-12);
    assert!((mass.cg_m - v(0.3, 0.0, 0.05)).norm() < 1e-12);
    assert_eq!(mass.items[0].source, "weighed");
    boat.hull.weighed = weighed(0.5, Some(place(0.25, 0.0, 0.04)));
    let mass = mass_properties(&boat, &hull()).expect("masses");
    assert!((mass.cg_m - v(0.25, 0.0, 0.04)).norm() < 1e-12);
}

/// Two points on the x axis: 1 kg at 0 and 3 kg at 0.4 balance at 0.3; inertia 0.12 kg m2.
#[test]
fn points_balance_by_hand() {
    let mut boat = bare();
    boat.hull.weighed = weighed(0.0, None);
    boat.parts = vec![
        part("a", 1.0, [0.0; 3], [0.0; 3]),
        part("b", 3.0, [0.4, 0.0, 0.0], [0.0; 3]),
    ];
    let mass = mass_properties(&boat, &hull()).expect("masses");
    close(mass.cg_m.x, 0.3, 1e-12);
    close(mass.inertia_kg_m2[(1, 1)], 0.12, 1e-12);
    close(mass.inertia_kg_m2[(0, 0)], 0.0, 1e-12);
    let names: Vec<_> = mass.items.iter().map(|item| item.name.as_str()).collect();
    assert_eq!(names, ["hull", "a", "b"]);
}

/// 3 kg +- 0.4 at x = 0.4 +- 0.02 with 1 kg +- 0.3 at 0: mass +- 0.5; the centre moves by
/// 0.1 * 0.4 / 4, 0.3 * 0.3 / 4 and 3 * 0.02 / 4 in turn.
#[test]
fn spreads_combine_in_quadrature() {
    let mut boat = bare();
    boat.hull.weighed = weighed(0.0, None);
    boat.parts = vec![
        part("a", 1.0, [0.0; 3], [0.0; 3]),
        part("b", 3.0, [0.4, 0.0, 0.0], [0.0; 3]),
    ];
    boat.parts[0].mass_kg = Measure::given(1.0).with_spread(0.3);
    boat.parts[1].mass_kg = Measure::given(3.0).with_spread(0.4);
    boat.parts[1].at[0] = Measure::given(0.4).with_spread(0.02);
    let mass = mass_properties(&boat, &hull()).expect("masses");
    close(mass.mass_spread_kg, 0.5, 1e-12);
    let expected = (0.01f64.powi(2) + 0.0225f64.powi(2) + 0.015f64.powi(2)).sqrt();
    close(mass.cg_spread_m.x, expected, 1e-12);
    close(mass.cg_spread_m.y, 0.0, 1e-12);
}

/// 0.4 kg with density +- 3 % and frames 10 % +- 4 % of the shell: 3 % and 4 / 110.
#[test]
fn print_spread_combines_its_numbers() {
    let mut boat = bare();
    boat.hull.print.density_kg_m3 = Measure::given(1000.0).with_spread(30.0);
    boat.hull.print.extra_fraction = Measure::given(0.1).with_spread(0.04);
    let mass = mass_properties(&boat, &hull()).expect("masses");
    close(mass.mass_spread_kg, 0.44 * 0.03f64.hypot(0.04 / 1.1), 1e-12);
}

#[test]
fn impossible_masses_are_refused() {
    let mut boat = bare();
    boat.hull.weighed = weighed(0.0, None);
    assert_eq!(
        mass_properties(&boat, &hull()),
        Err(MassError::NoMass { mass_kg: 0.0 })
    );
    boat.parts = vec![part("servo", -0.1, [0.0; 3], [0.0; 3])];
    let error = mass_properties(&boat, &hull()).expect_err("negative");
    assert_eq!(
        error.to_string(),
        "the mass of servo is -0.1 kg; it must be 0 kg or more"
    );
    boat.parts = vec![part("servo", 0.1, [f64::NAN, 0.0, 0.0], [0.0; 3])];
    assert!(matches!(
        mass_properties(&boat, &hull()),
        Err(MassError::BadPlace { .. })
    ));
}
