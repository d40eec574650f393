//! What waits on the hull: clipping at one attitude, and everything from an STL file's bytes to
//! a form, for a hull of 100 000 triangles.

#[path = "../tests/dims/mod.rs"]
mod dims;
#[path = "../tests/remesh/mod.rs"]
mod remesh;
#[path = "../tests/shapes/mod.rs"]
mod shapes;

use boat::starter::Starter;
use divan::Bencher;
use form::clip::immersed;
use form::sections::{Along, sections};
use form::{Columns, Mesh, Outline, WaterPlane, assemble, write};
use nalgebra::Vector3;

fn main() {
    divan::main();
}

/// 100 000 triangles.
fn hull() -> Mesh {
    let mesh = shapes::wigley(0.6, 0.12, 0.08, 200, 124).map(|p| p + Vector3::z() * 0.08);
    assert_eq!(mesh.triangles.len(), 99_600);
    mesh
}

#[divan::bench]
fn immersed_100k(bencher: Bencher) {
    let mesh = welded();
    let up = Vector3::new(0.05, 0.1, 1.0).normalize();
    let water = WaterPlane { up, height_m: 0.03 };
    bencher.bench(|| immersed(divan::black_box(&mesh), &water));
}

fn welded() -> Mesh {
    let bytes = write::stl(&hull()).unwrap();
    assemble(&[("hull.stl", &bytes)], &[]).unwrap().envelope
}

#[divan::bench]
fn columns_100k(bencher: Bencher) {
    let mesh = welded();
    bencher.bench(|| Columns::of(divan::black_box(&mesh), 60, 24));
}

#[divan::bench]
fn outline_100k(bencher: Bencher) {
    let mesh = welded();
    bencher.bench(|| Outline::of(divan::black_box(&mesh)));
}

#[divan::bench]
fn column_sum(bencher: Bencher) {
    let columns = Columns::of(&welded(), 60, 24);
    let up = Vector3::new(0.05, 0.1, 1.0).normalize();
    bencher.bench(|| divan::black_box(&columns).immersed(up, 0.03));
}

/// A starter hull cut up finer.
fn starter(of: Starter) -> Mesh {
    let mesh = form::starter::build(&of).unwrap();
    remesh::subdivided(&mesh, 100_000)
}

#[divan::bench(sample_count = 10)]
fn sections_200_of_100k(bencher: Bencher) {
    let mesh = starter(Starter::Vee(dims::vee()));
    let at: Vec<f64> = (0..200).map(|i| (f64::from(i) + 0.5) * 0.003).collect();
    bencher.bench(|| sections(divan::black_box(&mesh), Along::X, &at));
}

#[divan::bench(sample_count = 10)]
fn surfaces_of_100k(bencher: Bencher) {
    let mesh = starter(Starter::ThreePoint(dims::three_point()));
    bencher.bench(|| form::running::find(divan::black_box(&mesh)));
}

#[divan::bench(sample_count = 10)]
fn assemble_stl_100k(bencher: Bencher) {
    let bytes = write::stl(&hull()).unwrap();
    bencher.bench(|| assemble(&[("hull.stl", divan::black_box(&bytes))], &[]).unwrap());
}

#[divan::bench(sample_count = 10)]
fn assemble_open_shell_100k(bencher: Bencher) {
    let mut cup = shapes::tub(
        Vector3::new(0.0, -0.1, 0.0),
        Vector3::new(0.6, 0.1, 0.1),
        0.002,
    );
    while cup.triangles.len() < 90_000 {
        cup = shapes::subdivide(&cup);
    }
    let bytes = write::stl(&cup).unwrap();
    bencher.bench(|| assemble(&[("cup.stl", divan::black_box(&bytes))], &[]).unwrap());
}

#[divan::bench(sample_count = 5)]
fn assemble_3mf_100k(bencher: Bencher) {
    let bytes = write::threemf(&welded(), "hull").unwrap();
    bencher.bench(|| assemble(&[("hull.3mf", divan::black_box(&bytes))], &[]).unwrap());
}
