//! Rest against closed forms and handbook values.

mod hulls;

use std::f64::consts::{FRAC_PI_4, PI};

use form::Mesh;
use hulls::shapes::{block, cylinder, prism, subdivide, v, vee, wigley};
use hulls::{close, rest, vee_boat};
use nalgebra::Vector3;

/// Rows of `checks/hydrostatic_reference_shapes.csv`.
fn handbook() -> Vec<(String, Vec<Option<f64>>)> {
    include_str!("../../../checks/hydrostatic_reference_shapes.csv")
        .lines()
        .skip(2)
        .map(|line| {
            let mut cells = line.split(',');
            let name = cells.next().expect("a name").to_owned();
            (name, cells.map(|cell| cell.parse().ok()).collect())
        })
        .collect()
}

/// The shape of a row with some side above its waterline, keel at z = 0, and how closely its
/// facets follow the true surface.
fn shape(name: &str, length: f64, beam: f64, draught: f64) -> (Mesh, f64) {
    let sided = |depth: f64| block(v(0.0, -beam / 2.0, 0.0), v(length, beam / 2.0, depth));
    if name.starts_with("box") || name.starts_with("RC box") {
        (sided(2.0 * draught), 2e-6)
    } else if name.contains("prism") {
        (vee(length, beam * 1.25, draught * 1.25), 5e-6)
    } else if name.starts_with("Wigley") {
        // The topmost row of facets is stretched into a side above the water.
        let raised = wigley(length, beam, draught, 200, 100).map(|p| {
            v(
                p.x,
                p.y,
                if p.z > -1e-9 {
                    1.2 * draught
                } else {
                    p.z + draught
                },
            )
        });
        (raised, 1e-3)
    } else {
        assert!(name.contains("cylinder"), "no shape for {name}");
        (cylinder(length, beam / 2.0, 720), 1e-4)
    }
}

#[test]
fn handbook_shapes_float_at_their_draught_with_their_metacentric_heights() {
    let rows = handbook();
    assert_eq!(rows.len(), 7);
    for (name, cells) in rows {
        let cell = |i: usize| cells[i].unwrap_or_else(|| panic!("{name}: column {i}"));
        let (length, beam, draught, volume) = (cell(0), cell(1), cell(2), cell(3));
        let (kb, bm_roll, bm_pitch) = (cell(4), cell(5), cell(6));
        let kg = cells[7].unwrap_or(kb);
        let (mesh, accuracy) = shape(&name, length, beam, draught);
        let found = rest(mesh, volume * hulls::WATER, v(length / 2.0, 0.0, kg));
        let afloat = found.afloat.expect(&name);
        close(afloat.draught_m, draught, accuracy * draught);
        close(afloat.buoyancy_m.z, kb, accuracy * kb);
        close(
            afloat.gm_roll_m,
            kb + bm_roll - kg,
            accuracy * (kb + bm_roll),
        );
        close(
            afloat.gm_pitch_m,
            kb + bm_pitch - kg,
            accuracy * (kb + bm_pitch),
        );
        if let Some(gm) = cells[8] {
            close(afloat.gm_roll_m, gm, accuracy * (kb + bm_roll));
        }
    }
}

/// Box 0.6 x 0.2 x 0.14 m at 0.06 m draught: the wall-sided formula holds until the bilge comes
/// out at 31 degrees. `GZ = (GM + BM tan^2 / 2) sin`.
#[test]
fn box_rights_by_the_wall_sided_formula_until_the_bilge_emerges() {
    let (kg, bm) = (0.05, 0.2 * 0.2 / (12.0 * 0.06));
    let gm = 0.03 + bm - kg;
    let found = rest(
        block(v(0.0, -0.1, 0.0), v(0.6, 0.1, 0.14)),
        7.2,
        v(0.3, 0.0, kg),
    );
    let sided: Vec<_> = found
        .righting
        .iter()
        .filter(|at| at.heel_rad.abs() < 31f64.to_radians())
        .collect();
    assert_eq!(sided.len(), 7);
    for at in sided {
        let expected = (gm + 0.5 * bm * at.heel_rad.tan().powi(2)) * at.heel_rad.sin();
        close(at.gz_m, expected, 1e-9);
    }
}

/// The same formula end to end: a weight moved ahead by `d` trims a box until
/// `(GM_L + BM_L tan^2 / 2) sin = d cos`.
#[test]
fn box_trims_by_the_wall_sided_formula() {
    let (length, draught, kg, ahead) = (0.6, 0.06, 0.05, 0.02);
    let bm = length * length / (12.0 * draught);
    let mesh = block(v(0.0, -0.1, 0.0), v(length, 0.1, 0.14));
    let found = rest(mesh, 7.2, v(length / 2.0 + ahead, 0.0, kg));
    let trim = found.afloat.expect("afloat").attitude.trim_rad;
    assert!(trim < -0.04, "bow down, found {trim}");
    let gm = draught / 2.0 + bm - kg;
    let arm = (gm + 0.5 * bm * trim.tan().powi(2)) * -trim.sin();
    close(arm, ahead * trim.cos(), 1e-10);
}

#[test]
fn curve_runs_from_minus_to_plus_180_degrees_and_meets_itself() {
    let found = rest(vee_boat(0.7, 0.2, 0.08, 30), 1.5, v(0.22, 0.0, 0.04));
    assert_eq!(found.righting.len(), 37);
    close(found.righting[0].heel_rad, -PI, 1e-12);
    close(found.righting[36].heel_rad, PI, 1e-12);
    close(found.righting[0].gz_m, found.righting[36].gz_m, 1e-12);
    for (port, starboard) in found.righting.iter().zip(found.righting.iter().rev()) {
        close(port.gz_m, -starboard.gz_m, 1e-8);
        close(port.trim_rad, starboard.trim_rad, 1e-6);
    }
}

#[test]
fn symmetric_boat_floats_without_heel() {
    let afloat = rest(vee_boat(0.7, 0.2, 0.08, 40), 1.5, v(0.22, 0.0, 0.04))
        .afloat
        .expect("afloat");
    close(afloat.attitude.heel_rad, 0.0, 1e-9);
    close(afloat.buoyancy_m.y, 0.0, 1e-9);
}

#[test]
fn mirrored_loads_mirror_the_heel() {
    let side = |y: f64| {
        rest(vee_boat(0.7, 0.2, 0.08, 40), 1.5, v(0.22, y, 0.04))
            .afloat
            .expect("afloat")
    };
    let (port, starboard) = (side(0.01), side(-0.01));
    assert!(
        starboard.attitude.heel_rad > 0.02,
        "weight to starboard heels to starboard"
    );
    close(port.attitude.heel_rad, -starboard.attitude.heel_rad, 1e-9);
    close(port.attitude.trim_rad, starboard.attitude.trim_rad, 1e-9);
    close(port.attitude.rise_m, starboard.attitude.rise_m, 1e-9);
}

#[test]
fn twice_the_boat_floats_twice_as_deep_at_the_same_angles() {
    let cg = v(0.25, 0.01, 0.04);
    let one = rest(vee_boat(0.7, 0.2, 0.08, 40), 1.5, cg)
        .afloat
        .expect("afloat");
    let two = rest(vee_boat(1.4, 0.4, 0.16, 40), 12.0, cg * 2.0)
        .afloat
        .expect("afloat");
    close(two.attitude.trim_rad, one.attitude.trim_rad, 1e-9);
    close(two.attitude.heel_rad, one.attitude.heel_rad, 1e-9);
    close(two.draught_m, 2.0 * one.draught_m, 1e-9);
    close(two.gm_roll_m, 2.0 * one.gm_roll_m, 1e-8);
    close(two.gm_pitch_m, 2.0 * one.gm_pitch_m, 1e-8);
}

#[test]
fn finer_facets_of_the_same_solid_change_nothing() {
    let mesh = vee_boat(0.7, 0.2, 0.08, 20);
    let fine = rest(subdivide(&mesh), 1.5, v(0.25, 0.01, 0.04))
        .afloat
        .expect("afloat");
    let coarse = rest(mesh, 1.5, v(0.25, 0.01, 0.04)).afloat.expect("afloat");
    close(fine.attitude.rise_m, coarse.attitude.rise_m, 1e-10);
    close(fine.attitude.heel_rad, coarse.attitude.heel_rad, 1e-9);
    close(fine.wetted_area_m2, coarse.wetted_area_m2, 1e-9);
}

/// A square log of half the water's density is unstable on its flat and floats corner down.
#[test]
fn square_log_of_half_density_turns_corner_down() {
    let found = rest(
        block(v(0.0, -0.05, 0.0), v(1.0, 0.05, 0.1)),
        5.0,
        v(0.5, 0.0, 0.05),
    );
    let afloat = found.afloat.expect("afloat");
    close(afloat.attitude.heel_rad, FRAC_PI_4, 1e-8);
    assert!(afloat.gm_roll_m > 0.0);
    assert_eq!(
        found.resting_heels_rad.len(),
        4,
        "{:?}",
        found.resting_heels_rad
    );
    for heel in found.resting_heels_rad {
        close((heel / FRAC_PI_4).abs().rem_euclid(2.0), 1.0, 1e-8);
    }
}

/// Below 0.2113 of the water's density, `(3 - sqrt 3) / 6`, the same log is stable on its flat.
#[test]
fn light_square_log_lies_flat_and_a_little_heavier_one_does_not() {
    let limit = (3.0 - 3f64.sqrt()) / 6.0;
    let heel = |density_ratio: f64| {
        let log = block(v(0.0, -0.05, 0.0), v(1.0, 0.05, 0.1));
        let found = rest(log, 10.0 * density_ratio, v(0.5, 0.0, 0.05));
        found.afloat.expect("afloat").attitude.heel_rad
    };
    close(heel(limit - 0.002), 0.0, 1e-9);
    assert!(heel(limit + 0.002) > 0.02);
}

/// A round log has no preference: neither righting arm nor heel.
#[test]
fn round_log_is_neutral() {
    let found = rest(cylinder(0.6, 0.05, 720), 1.2, v(0.3, 0.0, 0.05));
    let afloat = found.afloat.expect("afloat");
    assert!(afloat.gm_roll_m.abs() < 1e-5);
    assert!(found.righting.iter().all(|at| at.gz_m.abs() < 1e-6));
}

/// Weight above the middle of a slab: it rests either way up, deeper upside down.
#[test]
fn top_heavy_slab_rests_deepest_upside_down() {
    let slab = block(v(0.0, -0.1, 0.0), v(0.6, 0.1, 0.06));
    let found = rest(slab, 2.4, v(0.3, 0.0, 0.05));
    assert_eq!(
        found.resting_heels_rad.len(),
        2,
        "{:?}",
        found.resting_heels_rad
    );
    close(found.resting_heels_rad[0].abs(), PI, 1e-9);
    close(found.resting_heels_rad[1], 0.0, 1e-9);
}

/// A rod with all its weight at the bow stands on its nose: far beyond any small-angle method.
#[test]
fn bow_heavy_rod_stands_on_its_nose() {
    let rod = prism(
        &[[-0.02, 0.0], [0.02, 0.0], [0.025, 0.04], [-0.025, 0.04]],
        0.0,
        0.8,
    );
    let found = rest(rod, 0.8, v(0.75, 0.0, 0.02));
    let trim = found.afloat.expect("afloat").attitude.trim_rad;
    assert!(trim < -1.2, "trim {trim}");
}

#[test]
fn box_reserve_of_buoyancy_and_freeboard_by_hand() {
    // 0.6 x 0.2 x 0.14 m and 7.2 kg: 60 mm draught, 80 mm of side left, 140 / 60 - 1.
    let mesh = block(v(0.0, -0.1, 0.0), v(0.6, 0.1, 0.14));
    let mut boat = hulls::bare();
    for (name, z) in [("hatch", 0.13), ("tube", 0.05)] {
        boat.openings.push(boat::Opening {
            name: name.into(),
            at: hulls::place(0.3, 0.0, z),
            hatch_m: None,
        });
    }
    let lump = hulls::lump(7.2, v(0.3, 0.0, 0.05));
    let form = form::Form::from_mesh(mesh);
    let found = craft::rest::solve(&boat, &form, &lump, hulls::WATER).expect("sound");
    close(found.reserve_of_buoyancy, 140.0 / 60.0 - 1.0, 1e-9);
    let (name, height) = found.afloat.expect("afloat").freeboard.expect("openings");
    assert_eq!(name, "tube");
    close(height, -0.01, 1e-9);
    assert!(
        found
            .notes
            .iter()
            .any(|note| note.contains("tube is 10.0 mm under water"))
    );
}

#[test]
fn too_heavy_sinks_and_says_so() {
    let found = rest(
        block(v(0.0, -0.1, 0.0), v(0.6, 0.1, 0.14)),
        17.0,
        v(0.3, 0.0, 0.05),
    );
    assert!(found.afloat.is_none());
    close(found.reserve_of_buoyancy, 16.8 / 17.0 - 1.0, 1e-9);
    assert!(
        found.notes.iter().any(|note| note.contains("sinks")),
        "{:?}",
        found.notes
    );
}

#[test]
fn one_gram_of_reserve_still_floats() {
    let found = rest(
        block(v(0.0, -0.1, 0.0), v(0.6, 0.1, 0.14)),
        16.799,
        v(0.3, 0.0, 0.05),
    );
    let afloat = found.afloat.expect("afloat");
    close(afloat.displaced_m3, 16.799e-3, 1e-12);
    assert!(afloat.draught_m < 0.14);
}

#[test]
fn a_feather_floats_too() {
    let found = rest(
        block(v(0.0, -0.1, 0.0), v(0.6, 0.1, 0.14)),
        1e-4,
        v(0.3, 0.0, 0.05),
    );
    close(found.afloat.expect("afloat").draught_m, 1e-4 / 120.0, 1e-10);
}

#[test]
fn nonsense_is_refused() {
    let form = form::Form::from_mesh(block(v(0.0, -0.1, 0.0), v(0.6, 0.1, 0.14)));
    let solve = |form: &form::Form, mass: f64, density: f64| {
        let lump = hulls::lump(mass, Vector3::zeros());
        craft::rest::solve(&hulls::bare(), form, &lump, density)
    };
    use craft::rest::RestError;
    assert!(matches!(
        solve(&form, 1.0, 0.0),
        Err(RestError::Density { .. })
    ));
    assert!(matches!(
        solve(&form, f64::NAN, 1000.0),
        Err(RestError::Mass { .. })
    ));
    assert!(matches!(
        solve(&form, 0.0, 1000.0),
        Err(RestError::Mass { .. })
    ));
    let mut inside_out = form.clone();
    inside_out.envelope.flip();
    assert!(matches!(
        solve(&inside_out, 1.0, 1000.0),
        Err(RestError::NoVolume { .. })
    ));
}

/// A tub 0.6 x 0.2 x 0.1 m with its weight aft and to port: its rim is nearest to the water at the
/// port aft corner, by the rotation of that corner.
#[test]
fn rim_of_an_open_shell_is_judged_at_its_attitude() {
    let tub = hulls::shapes::tub(v(0.0, -0.1, 0.0), v(0.6, 0.1, 0.1), 0.004);
    let stl = hulls::shapes::text_stl(&tub, 1000.0);
    let form = form::assemble(&[("tub.stl", &stl[..])], &[]).expect("a tub");
    let lump = hulls::lump(3.0, v(0.27, 0.01, 0.03));
    let found = craft::rest::solve(&hulls::bare(), &form, &lump, hulls::WATER).expect("sound");
    let afloat = found.afloat.expect("afloat");
    let (name, height) = afloat.freeboard.expect("a rim");
    let water = craft::attitude::water_plane(&afloat.attitude);
    let corner = craft::attitude::height_above_water(&water, &v(0.0, 0.1, 0.1));
    assert_eq!(name, "rim");
    close(height, corner, 1e-6);
    // Level it would be 100 mm less 25 mm of draught.
    assert!(corner < 0.065, "{corner}");
}
