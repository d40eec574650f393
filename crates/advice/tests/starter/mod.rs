//! Starter boats studied, and what is told of them.

#![allow(dead_code, unused_imports)]

use advice::{Finding, Standing, findings};
use boat::Boat;
use study::{Effort, Study, study};

#[path = "../../../study/tests/starter/mod.rs"]
mod starters;
pub use starters::{File, boat, form};

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
