//! The boat at rest against general-purpose Python libraries (trimesh, manifold3d, scipy):
//! `checks/rest_equilibrium.csv` and `checks/rest_righting.csv`, made by
//! `checks/python/make_rest_checks.py` over the meshes of form's tests. The Python side builds
//! each envelope itself.

mod hulls;

use craft::Rest;
use form::{Form, assemble};
use hulls::{bare, lump};
use nalgebra::Vector3;

const WATER_KG_M3: f64 = 998.2;

fn hull(name: &str) -> Form {
    let path = format!(
        "{}/../form/tests/meshes/{name}.stl",
        env!("CARGO_MANIFEST_DIR")
    );
    let bytes = std::fs::read(path).expect("a mesh of form's tests");
    assemble(&[(name, &bytes)], &[]).expect("a sound mesh")
}

fn table(text: &str) -> Vec<(&str, Vec<f64>)> {
    text.lines()
        .skip(2)
        .map(|line| {
            let mut cells = line.split(',');
            let name = cells.next().expect("a name");
            (
                name,
                cells.map(|cell| cell.parse().expect("a number")).collect(),
            )
        })
        .collect()
}

fn rest(name: &str, row: &[f64]) -> Rest {
    let mass = lump(row[0], Vector3::new(row[1], row[2], row[3]));
    craft::rest::solve(&bare(), &hull(name), &mass, WATER_KG_M3).expect("a sound body")
}

/// Seven meshes, among them a hollow and two open ones: 0.1 mm and 0.02 degrees.
#[test]
fn attitudes_agree() {
    let rows = table(include_str!("../../../checks/rest_equilibrium.csv"));
    assert!(rows.len() >= 12);
    for (name, row) in rows {
        let found = rest(name, &row).afloat.expect(name).attitude;
        let sinkage = -found.rise_m - row[4];
        let trim = found.trim_rad.to_degrees() - row[5];
        let heel = found.heel_rad.to_degrees() - row[6];
        assert!(
            sinkage.abs() < 1e-4 && trim.abs() < 0.02 && heel.abs() < 0.02,
            "{name} {row:?}: off by {sinkage} m, {trim} deg trim, {heel} deg heel"
        );
    }
}

/// Arms to 0.1 mm and the trim taken to 0.02 degrees, at heels to 150 degrees both ways.
#[test]
fn righting_arms_agree() {
    let rows = table(include_str!("../../../checks/rest_righting.csv"));
    assert!(rows.len() >= 24);
    for (name, row) in rows {
        let found = rest(name, &row).righting;
        let near = |heel: f64| (heel.to_degrees() - row[4]).abs() < 1e-6;
        let at = found
            .iter()
            .find(|at| near(at.heel_rad))
            .expect("a point of the curve");
        let (arm, trim) = (at.gz_m - row[6], at.trim_rad.to_degrees() - row[5]);
        assert!(
            arm.abs() < 1e-4 && trim.abs() < 0.02,
            "{name} {row:?}: arm off by {arm} m, trim by {trim} deg"
        );
    }
}
