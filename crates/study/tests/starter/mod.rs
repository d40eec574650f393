//! Starter boats to study.

#![allow(dead_code)]

use boat::{Boat, Edit, HullSource};
use form::Form;
use std::sync::Arc;
use study::{Learned, Subject};

pub fn boat(hull: &str) -> Boat {
    File::new(hull).declared
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

/// The file of a starter boat, with what was learned of the boat: it carries whatever is exchanged.
pub struct File {
    pub text: String,
    pub declared: Boat,
    pub learned: Learned,
}

impl File {
    pub fn new(hull: &str) -> Self {
        Self::of(boat::template(hull, "Test").expect("a starter hull"))
    }

    pub fn of(text: String) -> Self {
        let declared = boat::load(&text, "boat.toml").expect("a sound template").0;
        let learned = Learned::default();
        Self {
            text,
            declared,
            learned,
        }
    }

    pub fn subject(&self) -> Subject {
        let mut boat = self.declared.clone();
        let form = Arc::new(form(&boat));
        self.learned.correct(&mut boat);
        let learned = self.learned.clone();
        Subject {
            boat,
            form,
            learned,
        }
    }
}

impl study::Source for File {
    fn text(&self) -> &str {
        &self.text
    }

    fn declared(&self) -> &Boat {
        &self.declared
    }

    fn edited(&self, edits: &[Edit]) -> Option<Subject> {
        let text = Edit::apply_all(edits, &self.text).ok()?;
        boat::load(&text, "boat.toml").ok()?;
        let learned = self.learned.clone();
        let edited = Self {
            learned,
            ..Self::of(text)
        };
        Some(edited.subject())
    }
}
