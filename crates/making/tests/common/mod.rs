//! Demonstration boats and made-up hulls for the tests.
#![allow(dead_code, missing_docs)]

use boat::Boat;
use form::Form;
use std::path::PathBuf;

pub const DEMOS: [&str; 5] = [
    "tadpole",
    "practice",
    "longshank",
    "millrace",
    "twin-thistle",
];

pub fn folder(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("../../examples")
        .join(name)
}

pub fn demo(name: &str) -> (Boat, Form) {
    with(name, "")
}

/// A demonstration boat with more in its file.
pub fn with(name: &str, more: &str) -> (Boat, Form) {
    let text = std::fs::read_to_string(folder(name).join("boat.toml")).unwrap() + "\n" + more;
    let (boat, _) = boat::load(&text, "boat.toml").unwrap();
    let boat::HullSource::Mesh(files) = &boat.hull.source else {
        panic!("{name} has mesh files")
    };
    let read: Vec<(&str, Vec<u8>)> = files
        .iter()
        .map(|f| {
            (
                f.path.as_str(),
                std::fs::read(folder(name).join(&f.path)).unwrap(),
            )
        })
        .collect();
    let all: Vec<(&str, &[u8])> = read.iter().map(|(n, b)| (*n, b.as_slice())).collect();
    let form = form::assemble(&all, files).unwrap();
    (boat, form)
}
