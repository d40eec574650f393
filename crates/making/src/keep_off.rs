//! Where a hull is better not cut.

use boat::making::{CutAcross, CutPlace};
use boat::{Blade, Boat};
use form::Form;

/// No cut passes the last of a running surface, m.
const EDGE_M: f64 = 0.050;
/// Room round brackets, feet and rims, m (judgement).
const ROOM_M: f64 = 0.012;

/// A stretch along x where a cut costs.
#[derive(Debug, Clone, PartialEq)]
pub struct KeepOff {
    /// m.
    pub from_m: f64,
    /// m.
    pub to_m: f64,
    /// Why, in words.
    pub what: String,
    /// Against the cost of one more piece, which is 100.
    pub cost: f64,
}

/// The stretches along x of a boat.
#[must_use]
pub fn along(boat: &Boat, form: &Form) -> Vec<KeepOff> {
    let mut all = Vec::new();
    let mut add = |from: f64, to: f64, what: String, cost: f64| {
        all.push(KeepOff {
            from_m: from,
            to_m: to,
            what,
            cost,
        });
    };
    for s in &form.surfaces {
        let x = s.trailing_edge_m[0];
        add(
            x - 0.002,
            x + EDGE_M,
            format!("trailing edge of the {}", s.name),
            1000.0,
        );
    }
    let blade = |b: &Blade| {
        (
            b.at[0].value - b.chord_m.value - ROOM_M,
            b.at[0].value + ROOM_M,
        )
    };
    for b in boat
        .fins
        .iter()
        .chain(&boat.rudders)
        .chain(boat.drives.iter().filter_map(|d| d.strut.as_ref()))
    {
        let (from, to) = blade(b);
        add(from, to, b.name.clone(), 120.0);
    }
    for part in boat.parts.iter().filter(|p| is_motor(&p.name)) {
        let half = 0.5 * part.size_m[0].max(0.04) + ROOM_M;
        let x = part.at[0].value;
        add(
            x - half,
            x + half,
            format!("feet of the {}", part.name),
            110.0,
        );
    }
    for o in &boat.openings {
        let x = o.at[0].value;
        add(x - ROOM_M, x + ROOM_M, o.name.clone(), 60.0);
    }
    for cut in &boat.making.cuts {
        if let (CutAcross::X, CutPlace::KeepOff(from, to)) = (cut.across, cut.place) {
            add(from, to, "the boat file".to_owned(), f64::INFINITY);
        }
    }
    all
}

/// Whether a part of that name is a motor, not its mount.
#[must_use]
pub fn is_motor(name: &str) -> bool {
    let name = name.to_lowercase();
    name.contains("motor")
        && !["mount", "jacket", "coil", "lead"]
            .iter()
            .any(|w| name.contains(w))
}
