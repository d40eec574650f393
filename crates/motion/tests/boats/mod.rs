#![allow(dead_code)] // each test takes what it needs

//! The demonstration boats, put together as the program does.

use std::path::Path;

use boat::{Boat, HullSource};
use craft::{Craft, Factors, MassProperties};
use form::Form;

/// A boat with its shape and weights.
pub struct Example {
    pub boat: Boat,
    pub form: Form,
    pub mass: MassProperties,
    pub craft: Craft,
}

/// One of `examples/`.
pub fn example(name: &str) -> Example {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../examples")
        .join(name);
    let text = std::fs::read_to_string(folder.join("boat.toml")).expect("a boat file");
    let (boat, _) = boat::load(&text, name).expect("a sound boat file");
    let mut form = match &boat.hull.source {
        HullSource::Starter(starter) => {
            Form::from_mesh(form::starter::build(starter).expect("a hull"))
        }
        HullSource::Mesh(files) => {
            let read: Vec<(&str, Vec<u8>)> = files
                .iter()
                .map(|f| {
                    (
                        f.path.as_str(),
                        std::fs::read(folder.join(&f.path)).expect("a mesh"),
                    )
                })
                .collect();
            let bytes: Vec<(&str, &[u8])> = read.iter().map(|(n, b)| (*n, b.as_slice())).collect();
            form::assemble(&bytes, files).expect("a form")
        }
    };
    form.surfaces = form::running::find(&form.envelope);
    form::running::apply(&mut form.surfaces, &boat.hull.running).expect("names that exist");
    of(boat, form)
}

/// With elements made anew, after a change to the boat or its shape.
pub fn of(boat: Boat, form: Form) -> Example {
    let mass = craft::mass::mass_properties(&boat, &form).expect("weights");
    let craft = Craft::new(&boat, &form, &mass, &Factors::default()).expect("a craft");
    Example {
        boat,
        form,
        mass,
        craft,
    }
}
