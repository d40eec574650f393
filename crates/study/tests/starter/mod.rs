//! Starter boats to study.

#![allow(dead_code)]

use boat::{Boat, HullSource};
use form::Form;

pub fn boat(hull: &str) -> Boat {
    let text = boat::template(hull, "Test").expect("a starter hull");
    boat::load(&text, "boat.toml").expect("a sound template").0
}

pub fn form(boat: &Boat) -> Form {
    let HullSource::Starter(starter) = &boat.hull.source else {
        panic!("not a starter hull");
    };
    let mesh = form::starter::build(starter).expect("sound dimensions");
    let mut form = Form::from_mesh(mesh);
    form.surfaces = form::running::find(&form.envelope);
    form
}
