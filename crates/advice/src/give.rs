//! What stands on nobody's word: parts that were put in by common practice, and the numbers to give first.

use boat::{Boat, Kind, PutIn};
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use utoipa::ToSchema;

use crate::finding::{Finding, Standing};
use crate::number::Number;

/// A number to give.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct Give {
    /// What a builder calls it.
    pub what: Cow<'static, str>,
    /// What was taken meanwhile.
    pub taken: String,
    /// Where it stands in the boat file: `[drive.motor] kv`.
    pub place: Cow<'static, str>,
}

/// The five numbers that decide most, as far as nobody gave them; none for a boat without parts put in.
pub fn give_first(boat: &Boat) -> Vec<Give> {
    let put_in = boat.put_in();
    let assumed = |sort: PutIn, name: &str| put_in.contains(&(sort, name));
    let give = |what, taken, place: &'static str| Give {
        what,
        taken,
        place: Cow::Borrowed(place),
    };
    let mut all = Vec::new();
    let drive = boat.drives.first();
    let drive = drive.filter(|d| assumed(PutIn::Drive, &d.name));
    if let Some(drive) = drive {
        let battery = &drive.battery;
        let capacity = Number::exact(Kind::Charge, battery.capacity_c.value);
        let cells = format!("{}S, {}", battery.series, capacity.plain());
        all.push(give(
            "cells and capacity of the pack".into(),
            cells,
            "[drive.battery] cells, capacity",
        ));
        let kv = Number::exact(Kind::MotorConstant, drive.motor.kv_rad_s_v.value);
        all.push(give(
            "the motor's kv".into(),
            kv.plain(),
            "[drive.motor] kv",
        ));
        let propeller = &drive.propeller;
        let diameter = Number::exact(Kind::Length, propeller.diameter_m.value);
        let size = format!("{} x {:.1}", diameter.plain(), propeller.pitch_ratio.value);
        all.push(give(
            "the propeller's diameter and pitch".into(),
            size,
            "[drive.propeller] diameter, pitch_ratio",
        ));
        let height = Number::exact(Kind::Length, propeller.at[2].value);
        all.push(give(
            "height of the shaft at the propeller".into(),
            height.plain(),
            "[drive.propeller] at",
        ));
    }
    let parts = boat.parts.iter().filter(|p| assumed(PutIn::Part, &p.name));
    let heaviest = parts.max_by(|a, b| a.mass_kg.value.total_cmp(&b.mass_kg.value));
    if let Some(part) = heaviest {
        let taken = format!(
            "{}, {} ahead of the transom",
            Number::exact(Kind::Mass, part.mass_kg.value).plain(),
            Number::exact(Kind::Length, part.at[0].value).plain()
        );
        let what = format!("mass and place of {}", part.name);
        all.push(give(what.into(), taken, "[[part]] mass, at"));
    }
    all
}

/// What says good only if it really is what was put in, says unsure.
pub(crate) fn keep_from_good(boat: &Boat, all: &mut [Finding]) {
    let put_in = boat.put_in();
    if put_in.is_empty() {
        return;
    }
    for finding in all.iter_mut().filter(|f| f.standing == Standing::Good) {
        let rests: Vec<&str> = put_in
            .iter()
            .filter(|(sort, _)| rests_on(&finding.id, *sort))
            .map(|(_, name)| *name)
            .filter(|name| !name.is_empty())
            .collect();
        let Some(first) = rests.first() else { continue };
        finding.standing = Standing::Unsure;
        let more = match rests.len() - 1 {
            0 => String::new(),
            n => format!(" and {n} more"),
        };
        finding.figures.push(crate::finding::Figure::new(
            "rests on what nobody gave",
            format!("{first}{more}"),
        ));
    }
}

/// Whether an answer would be another with other things of a sort.
fn rests_on(id: &str, sort: PutIn) -> bool {
    const SHAPE: [&str; 4] = ["mesh", "pad-angle", "pad-width", "surface-angle"];
    const AT_REST: [&str; 12] = [
        "floats",
        "freeboard",
        "mass-margin",
        "stability",
        "level",
        "heel",
        "balance",
        "lateral-balance",
        "flotation",
        "swamped",
        "turned-over",
        "gaps",
    ];
    const SWAMPED: [&str; 3] = ["flotation", "swamped", "turned-over"];
    if SHAPE.contains(&id) {
        return false;
    }
    match sort {
        PutIn::Part => true,
        PutIn::Drive | PutIn::Blade => !AT_REST.contains(&id),
        PutIn::Float => SWAMPED.contains(&id),
        PutIn::Opening => matches!(id, "freeboard" | "turned-over" | "swamped"),
    }
}
