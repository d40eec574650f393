//! Things that nobody weighed or measured: put in so that the boat can be answered for at all, and marked.

use crate::checked::Table;
use crate::kind::Kind;
use crate::measure::{Measure, Origin};
use crate::model::{Blade, Boat, Place};
use crate::visit::{blade, drive, place};

/// The reason a builder is shown.
pub const WHY: &str = "put in by common practice; nobody gave it";

/// What sort of thing was put in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum PutIn {
    /// Something carried.
    Part,
    /// A drive: battery, motor, shaft, propeller.
    Drive,
    /// A rudder, fin or wing.
    Blade,
    /// Foam or a sealed void.
    Float,
    /// Where water gets in.
    Opening,
}

impl Boat {
    /// Everything marked `assumed = true`, by sort and name, in the order of the boat file.
    pub fn put_in(&self) -> Vec<(PutIn, &str)> {
        let mut all = Vec::new();
        // A required key is assumed only where its table is marked so.
        let told = |measure: &Measure| measure.origin == Origin::Assumed(WHY);
        let parts = self.parts.iter().filter(|p| told(&p.mass_kg));
        all.extend(parts.map(|p| (PutIn::Part, p.name.as_str())));
        let drives = self.drives.iter();
        let drives = drives.filter(|d| told(&d.propeller.diameter_m));
        all.extend(drives.map(|d| (PutIn::Drive, d.name.as_str())));
        let blades = self.rudders.iter().chain(&self.fins);
        let blades = blades.filter(|b| told(&b.chord_m));
        all.extend(blades.map(|b| (PutIn::Blade, b.name.as_str())));
        let wings = self.wings.iter().filter(|w| told(&w.chord_m));
        all.extend(wings.map(|w| (PutIn::Blade, w.name.as_str())));
        let floats = self.floats.iter().filter(|f| told(&f.volume_m3));
        all.extend(floats.map(|f| (PutIn::Float, f.name.as_str())));
        let openings = self.openings.iter().filter(|o| told(&o.at[0]));
        all.extend(openings.map(|o| (PutIn::Opening, o.name.as_str())));
        all
    }
}

/// Marks every number of the tables with `assumed = true`.
pub(crate) fn mark(boat: &mut Boat, root: &Table) {
    let marked = |kind: &str| -> Vec<bool> {
        let tables = root.tables(kind).iter();
        tables.map(|t| t.flag("assumed") == Some(true)).collect()
    };
    let number = &mut |_: &str, _: Kind, measure: &mut Measure| mark_one(measure);
    for (part, _) in boat.parts.iter_mut().zip(marked("part")).filter(|m| m.1) {
        mark_one(&mut part.mass_kg);
        mark_place(&mut part.at);
    }
    for (one, _) in boat.drives.iter_mut().zip(marked("drive")).filter(|m| m.1) {
        drive(one, number);
    }
    let blades = |blades: &mut [Blade], kind: &str, turns: bool| {
        for (one, _) in blades.iter_mut().zip(marked(kind)).filter(|m| m.1) {
            blade(kind, one, turns, &mut |_, _, measure| mark_one(measure));
        }
    };
    blades(&mut boat.rudders, "rudder", true);
    blades(&mut boat.fins, "fin", false);
    for (wing, _) in boat.wings.iter_mut().zip(marked("wing")).filter(|m| m.1) {
        place("wing", &mut wing.at, number);
        mark_one(&mut wing.span_m);
        mark_one(&mut wing.chord_m);
        mark_one(&mut wing.incidence_rad);
    }
    for (float, _) in boat.floats.iter_mut().zip(marked("float")).filter(|m| m.1) {
        mark_one(&mut float.volume_m3);
        mark_place(&mut float.at);
    }
    let openings = boat.openings.iter_mut().zip(marked("opening"));
    for (opening, _) in openings.filter(|m| m.1) {
        mark_place(&mut opening.at);
    }
}

fn mark_place(at: &mut Place) {
    at.iter_mut().for_each(mark_one);
}

/// What the key list assumed already keeps its own reason.
fn mark_one(measure: &mut Measure) {
    if measure.origin == Origin::Given {
        measure.origin = Origin::Assumed(WHY);
    }
}
