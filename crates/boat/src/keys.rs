//! Every table and key of `boat.toml`, once: the reader, the JSON Schema and the manual all work
//! from the lists in `keys/`.

mod craft_keys;
mod drive_keys;
mod hull_keys;
mod making_keys;
mod starter_keys;

pub(crate) use craft_keys::ROOT;
pub(crate) use hull_keys::plastic_density;

use crate::kind::Kind;

/// One table of the file.
pub(crate) struct Section {
    /// As written in the file, e.g. `hull.print`.
    pub name: &'static str,
    /// What it describes.
    pub doc: &'static str,
    pub keys: &'static [Key],
}

/// One key of a table.
pub(crate) struct Key {
    pub name: &'static str,
    pub form: Form,
    pub need: Need,
    /// What it means; axis and sign included.
    pub doc: &'static str,
}

/// What a value looks like.
pub(crate) enum Form {
    /// A number with a unit, within limits in SI, both included.
    Quantity {
        kind: Kind,
        min: f64,
        max: f64,
    },
    /// A whole number.
    Count {
        min: i64,
        max: i64,
    },
    Text,
    Flag,
    Choice(&'static [&'static str]),
    /// A file inside the boat folder.
    Path,
    Paths,
    /// That many lengths within limits in m, both included.
    Lengths {
        count: usize,
        min: f64,
        max: f64,
    },
    /// `3S` or `3S1P`.
    Cells,
    Table(&'static Section),
    Tables(&'static Section),
    /// One of several tables, told apart by the key `type`.
    Variant(&'static [(&'static str, &'static Section)]),
}

/// What happens when a key is absent.
pub(crate) enum Need {
    Required,
    /// Absent means nothing is there or nothing is wanted.
    Optional,
    /// A stated default in SI with its 95 % half-width, and why.
    Assumed {
        value: f64,
        spread: f64,
        why: &'static str,
    },
    /// This share of another key of the same table.
    Share {
        of: &'static str,
        factor: f64,
    },
    /// Worked out from other keys; the text says how.
    Derived(&'static str),
}

impl Section {
    pub fn key(&self, name: &str) -> Option<&'static Key> {
        self.keys.iter().find(|key| key.name == name)
    }
}

const fn key(name: &'static str, form: Form, need: Need, doc: &'static str) -> Key {
    Key {
        name,
        form,
        need,
        doc,
    }
}

const fn quantity(
    name: &'static str,
    kind: Kind,
    limits: [f64; 2],
    need: Need,
    doc: &'static str,
) -> Key {
    key(
        name,
        Form::Quantity {
            kind,
            min: limits[0],
            max: limits[1],
        },
        need,
        doc,
    )
}

const fn length(name: &'static str, limits: [f64; 2], need: Need, doc: &'static str) -> Key {
    quantity(name, Kind::Length, limits, need, doc)
}

/// An angle with limits in degrees.
const fn angle(name: &'static str, limits: [f64; 2], need: Need, doc: &'static str) -> Key {
    let limits = [limits[0].to_radians(), limits[1].to_radians()];
    quantity(name, Kind::Angle, limits, need, doc)
}

const fn place(name: &'static str, need: Need, doc: &'static str) -> Key {
    key(
        name,
        Form::Lengths {
            count: 3,
            min: -5.0,
            max: 5.0,
        },
        need,
        doc,
    )
}

const fn assumed(value: f64, spread: f64, why: &'static str) -> Need {
    Need::Assumed { value, spread, why }
}

/// An assumed angle in degrees.
const fn assumed_deg(value: f64, spread: f64, why: &'static str) -> Need {
    Need::Assumed {
        value: value.to_radians(),
        spread: spread.to_radians(),
        why,
    }
}

const fn share(of: &'static str, factor: f64) -> Need {
    Need::Share { of, factor }
}
