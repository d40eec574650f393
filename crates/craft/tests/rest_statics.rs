//! Supports, levelling and flooding by hand.

mod hulls;

use boat::{
    Battery, Boat, Controller, Drive, FloatAid, Measure, Motor, Propeller, Shaft, ShaftEnds,
    ShaftKind,
};
use craft::mass::mass_properties;
use form::{Form, RunningSurface, Side, SurfaceStation};
use hulls::shapes::{block, v};
use hulls::{WATER, bare, close, lump, part, place, vee_boat, weighed};

fn solve(boat: &Boat, form: &Form) -> craft::Rest {
    let mass = mass_properties(boat, form).expect("masses");
    craft::rest::solve(boat, form, &mass, WATER).expect("a sound body")
}

/// A drive of which only the propeller's place matters here.
fn drive(x: f64, y: f64) -> Drive {
    let some = Measure::given(1.0);
    Drive {
        name: String::new(),
        battery: Battery {
            series: 1,
            parallel: 1,
            capacity_c: some,
            cell_resistance_ohm: some,
            state_of_charge: some,
            temperature_c: some,
            max_temperature_c: some,
            mass_kg: None,
            fuse_a: None,
            connector_a: None,
        },
        controller: Controller {
            resistance_ohm: some,
            rated_current_a: None,
            lead_m: some,
            current_limit_a: None,
            capacitor_f: None,
            max_temperature_c: some,
            mass_kg: None,
        },
        motor: Motor {
            kv_rad_s_v: some,
            resistance_ohm: some,
            no_load_current_a: some,
            winding_temperature_c: some,
            max_current_a: None,
            max_temperature_c: some,
            poles: None,
            diameter_m: None,
            length_m: None,
            mass_kg: None,
        },
        gear_ratio: some,
        shaft: Shaft {
            angle_rad: some,
            toe_rad: some,
            efficiency: Some(some),
            tube_m: some,
            bend_rad: some,
            gap_m: some,
            lubricant: boat::Lubricant::Oil,
            diameter_m: None,
            length_m: None,
            kind: ShaftKind::Flex,
            ends: ShaftEnds::Pinned,
            stub_m: None,
        },
        cooling: None,
        strut: None,
        barrel: None,
        propeller: Propeller {
            diameter_m: some,
            pitch_ratio: some,
            blades: 2,
            area_ratio: some,
            at: place(x, y, 0.0),
            right_handed: true,
            lift_fraction: some,
            cup_m: 0.0,
            material: None,
            measured: Vec::new(),
        },
    }
}

fn pad(name: &str, x: f64, y: f64) -> RunningSurface {
    RunningSurface {
        name: name.to_owned(),
        side: Side::Centre,
        stations: Vec::<SurfaceStation>::new(),
        angle_rad: Measure::given(0.05),
        beam_m: Measure::given(0.06),
        deadrise_rad: Measure::given(0.0),
        trailing_edge_m: [x, y, 0.0],
        step: true,
        edge_radius_m: 0.0,
        face_deadrise_rad: Measure::given(0.0),
        keel_flat_m: 0.0,
        across: Default::default(),
        strake_m: None,
    }
}

/// Pads end 0.35 m ahead of the transom, propeller 0.05 m behind it, weight at 0.30 m: the
/// propeller carries 0.05 / 0.40 = 12.5 %; 0.012 m to port of 0.24 m between the pads shifts
/// 5 % of the weight from one pad to the other.
#[test]
fn three_point_supports_by_hand() {
    let mut boat = bare();
    boat.drives.push(drive(-0.05, 0.0));
    let mut form = Form::from_mesh(block(v(0.0, -0.1, 0.0), v(0.6, 0.1, 0.14)));
    form.surfaces = vec![pad("left pad", 0.35, 0.12), pad("right pad", 0.35, -0.12)];
    let mass = lump(1.8, v(0.30, 0.012, 0.05));
    let rest = craft::rest::solve(&boat, &form, &mass, WATER).expect("a sound body");
    let names: Vec<_> = rest
        .supports
        .iter()
        .map(|load| load.name.as_str())
        .collect();
    assert_eq!(names, ["propeller", "left pad", "right pad"]);
    close(rest.supports[0].fraction, 0.125, 1e-12);
    close(rest.supports[1].fraction, 0.4375 + 0.05, 1e-12);
    close(rest.supports[2].fraction, 0.4375 - 0.05, 1e-12);
    close(rest.supports[0].load_n, 0.125 * 1.8 * 9.80665, 1e-9);
}

#[test]
fn boat_without_steps_ahead_of_its_balance_has_no_support_loads() {
    let mut boat = bare();
    boat.drives.push(drive(-0.05, 0.0));
    boat.hull.weighed = weighed(1.0, Some(place(0.2, 0.0, 0.03)));
    let rest = solve(&boat, &Form::from_mesh(vee_boat(0.7, 0.2, 0.08, 20)));
    assert!(rest.supports.is_empty());
    assert!(rest.notes.iter().any(|note| note.contains("support loads")));
}

/// A weight off to port held by supports in line: said, not shared out.
#[test]
fn supports_in_line_cannot_carry_a_sideways_weight() {
    let mut boat = bare();
    boat.drives.push(drive(-0.05, 0.0));
    let mut form = Form::from_mesh(block(v(0.0, -0.1, 0.0), v(0.6, 0.1, 0.14)));
    form.surfaces = vec![pad("pad", 0.35, 0.0)];
    let rest = craft::rest::solve(&boat, &form, &lump(1.8, v(0.30, 0.01, 0.05)), WATER);
    let notes = rest.expect("a sound body").notes;
    assert!(
        notes.iter().any(|note| note.contains("10.0 mm off")),
        "{notes:?}"
    );
}

/// Moving the battery by the stated shift and solving again leaves no trim, also with the boat
/// heeled by a weight off the centreline.
#[test]
fn the_stated_shift_levels_the_boat() {
    let form = Form::from_mesh(vee_boat(0.7, 0.2, 0.08, 40));
    let mut boat = bare();
    boat.hull.weighed = weighed(0.6, Some(place(0.25, 0.0, 0.03)));
    boat.parts = vec![
        part("motor", 0.4, [0.10, 0.01, 0.03], [0.07, 0.04, 0.04]),
        part("battery", 0.4, [0.15, 0.0, 0.03], [0.14, 0.04, 0.04]),
    ];
    boat.parts[1].movable = true;
    let before = solve(&boat, &form);
    assert!(before.afloat.expect("afloat").attitude.trim_rad > 0.02);
    let [battery] = &before.levelling[..] else {
        panic!("one part moves")
    };
    assert!(battery.fits && battery.shift_m > 0.05);
    boat.parts[1].at[0].value += battery.shift_m;
    let after = solve(&boat, &form).afloat.expect("afloat").attitude;
    close(after.trim_rad, 0.0, 1e-9);
    assert!(after.heel_rad.abs() > 0.01);
}

/// A box floats level with its weight in the middle: a 0.1 kg part at the end has to bring the
/// whole centre there, which takes it out of the hull.
#[test]
fn a_small_part_cannot_level_a_large_error() {
    let form = Form::from_mesh(block(v(0.0, -0.1, 0.0), v(0.6, 0.1, 0.14)));
    let mut boat = bare();
    boat.hull.weighed = weighed(0.9, Some(place(0.25, 0.0, 0.03)));
    boat.parts = vec![part("servo", 0.1, [0.3, 0.0, 0.03], [0.02, 0.02, 0.02])];
    boat.parts[0].movable = true;
    let found = solve(&boat, &form);
    // 0.9 * 0.25 + 0.1 * x = 1.0 * 0.3 -> x = 0.75, shift 0.45.
    close(found.levelling[0].shift_m, 0.45, 1e-9);
    assert!(!found.levelling[0].fits);
}

/// 1 kg dry: 0.5 kg shell of 1250 kg/m3 displaces 0.4 kg, a 0.5 kg motor in a 100 cm3 box 0.1 kg,
/// a 600 cm3 foam block 0.6 kg: 0.1 kg to spare.
#[test]
fn flooded_spare_buoyancy_by_hand() {
    let form = Form::from_mesh(block(v(0.0, -0.1, 0.0), v(0.6, 0.1, 0.14)));
    let mut boat = bare();
    boat.hull.print.density_kg_m3 = Measure::given(1250.0);
    boat.hull.weighed = weighed(0.5, Some(place(0.3, 0.0, 0.05)));
    boat.parts = vec![part("motor", 0.5, [0.2, 0.0, 0.03], [0.1, 0.05, 0.02])];
    let float = |z: f64| FloatAid {
        name: "foam".into(),
        volume_m3: Measure::given(6e-4),
        at: place(0.3, 0.0, z),
    };
    boat.floats = vec![float(0.10)];
    let high = solve(&boat, &form).flooded;
    close(high.spare_kg, 0.1, 1e-9);
    assert!(!high.inverted);
    boat.floats = vec![float(0.01)];
    assert!(solve(&boat, &form).flooded.inverted);
    boat.floats.clear();
    close(solve(&boat, &form).flooded.spare_kg, -0.5, 1e-9);
}

/// Only a declared float lifts others: a light box carries no more than itself.
#[test]
fn a_light_part_is_not_counted_as_a_float() {
    let form = Form::from_mesh(block(v(0.0, -0.1, 0.0), v(0.6, 0.1, 0.14)));
    let mut boat = bare();
    boat.hull.weighed = weighed(0.5, None);
    boat.parts = vec![part("radio box", 0.1, [0.2, 0.0, 0.03], [0.1, 0.1, 0.1])];
    // The shell's plastic is 1000 kg/m3 here: both just float themselves.
    close(solve(&boat, &form).flooded.spare_kg, 0.0, 1e-9);
}
