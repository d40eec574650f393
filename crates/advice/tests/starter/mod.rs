//! Starter boats to study.

#![allow(dead_code)]

use advice::{Effort, Finding, Standing, Study, findings, study};
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

pub fn studied(boat: Boat) -> Study {
    let effort = Effort {
        draws: 4,
        trials: false,
        ..Effort::default()
    };
    let form = form(&boat);
    study(boat, form, effort, &|_| ()).expect("a boat that can be studied")
}

pub fn found(study: &Study, id: &str) -> Finding {
    let all = findings(study);
    let found = all.into_iter().find(|f| f.id == id);
    found.unwrap_or_else(|| panic!("no finding {id}"))
}

pub fn standing(boat: Boat, id: &str) -> Standing {
    found(&studied(boat), id).standing
}
