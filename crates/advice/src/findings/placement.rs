//! Where things are.

use boat::Kind;
use craft::elements::blade::Role;
use study::Study;
use study::placement::{Misplaced, misplaced};

use crate::finding::{Basis, Finding, Standing};
use crate::number::Number;

pub fn findings(study: &Study) -> Vec<Finding> {
    let all = misplaced(&study.boat, &study.form, &study.rest, study.hull_type);
    all.iter().map(finding).collect()
}

fn mm(metres: f64) -> String {
    Number::exact(Kind::Length, metres).plain()
}

fn litres(m3: f64) -> String {
    format!("{:.1} l", 1e3 * m3)
}

const fn called(role: Role) -> &'static str {
    match role {
        Role::Rudder => "rudder",
        Role::Fin => "fin",
        Role::Strut => "strut",
    }
}

/// `The rudder`, or `The left fin`.
fn blade(role: Role, name: &str) -> String {
    match name.is_empty() || name == called(role) {
        true => format!("The {}", called(role)),
        false => format!("The {name}"),
    }
}

fn finding(found: &Misplaced) -> Finding {
    let (id, standing, sentence) = match found {
        Misplaced::Outside { part, by_m } => (
            "part-outside",
            Standing::Stop,
            format!(
                "{part} lies outside the hull: its middle is {} away from it.",
                mm(*by_m)
            ),
        ),
        Misplaced::SticksOut { part, by_m } => (
            "part-sticks-out",
            Standing::Watch,
            format!(
                "{part} sticks out of the hull by {} at its furthest corner.",
                mm(*by_m)
            ),
        ),
        Misplaced::Overlap { parts, common_m } => (
            "parts-overlap",
            Standing::Watch,
            format!(
                "{} and {} take the same place: {} long, {} wide and {} high are in both.",
                parts[0],
                parts[1],
                mm(common_m[0]),
                mm(common_m[1]),
                mm(common_m[2])
            ),
        ),
        Misplaced::NoHatch {
            part,
            sides_m,
            hatch_m,
        } => (
            "hatch-too-small",
            Standing::Stop,
            format!(
                "{part} does not go through the hatch: it is {} by {} end on, the hatch {} by {}.",
                mm(sides_m[1]),
                mm(sides_m[0]),
                mm(hatch_m[1]),
                mm(hatch_m[0])
            ),
        ),
        Misplaced::PacksTooLight {
            energy_j,
            mass_kg,
            drives,
        } => (
            "packs-too-light",
            Standing::Watch,
            format!(
                "The packs hold {:.0} Wh by the drives and weigh {} by the parts: no pack is that light. {}",
                energy_j / 3600.0,
                Number::exact(Kind::Mass, *mass_kg).plain(),
                match drives {
                    0 | 1 => "Is the capacity right, and is the whole pack weighed?",
                    _ =>
                        "Do two drives hang on one pack? Then give each its share of the capacity.",
                }
            ),
        ),
        Misplaced::PropellerInHull { drive } => {
            let propeller = match drive.is_empty() {
                true => "The propeller".to_owned(),
                false => format!("The {drive} propeller"),
            };
            (
                "propeller-in-hull",
                Standing::Stop,
                format!("{propeller} cuts into the hull where it is."),
            )
        }
        Misplaced::BladeInHull { role, name } => (
            "blade-in-hull",
            Standing::Stop,
            format!("{} is buried in the hull where it is.", blade(*role, name)),
        ),
        Misplaced::BladeInAir { role, name, by_m } => (
            "blade-in-air",
            match role {
                Role::Rudder => Standing::Stop,
                Role::Fin | Role::Strut => Standing::Watch,
            },
            format!(
                "{} hangs in the air at rest: its lower end is {} above the water.",
                blade(*role, name),
                mm(*by_m)
            ),
        ),
        Misplaced::NoFin => (
            "no-fin",
            Standing::Watch,
            "No turn fin is fitted: a boat on sponsons slides wide instead of turning.".to_owned(),
        ),
        Misplaced::FoamTooLarge { foam_m3, hull_m3 } => (
            "foam-too-large",
            Standing::Stop,
            format!(
                "Foam and voids of {} do not fit into a hull of {}.",
                litres(*foam_m3),
                litres(*hull_m3)
            ),
        ),
        Misplaced::Length { length_m } => (
            "hull-length",
            Standing::Watch,
            format!(
                "The hull is {} long, not the size of boats that are built: is its mesh in another unit?",
                mm(*length_m)
            ),
        ),
    };
    Finding::new(id, standing, Basis::Statics, sentence).why(match found {
        Misplaced::NoFin => "Common practice, no source: three-point boats and outriggers turn about a fin on the inside sponson; without one the tightest turn is many boat lengths wide.",
        Misplaced::NoHatch { .. } => "End on, its two smaller sides have to fit the largest hatch that the boat file gives a size.",
        Misplaced::PacksTooLight { .. } => "Common practice, no source: soft lithium packs hold 120 to 200 Wh a kilogram, none more than 250; counted are the parts whose name says battery, pack, LiPo or Akku.",
        Misplaced::Length { .. } => "Between 200 mm and 1.8 m; the mesh's unit is told by `unit` beside its file where it is not millimetres.",
        _ => "Places are those of the boat file, the hull is its mesh cut into upright columns; what sticks out by less than a column's width is passed over.",
    })
}
