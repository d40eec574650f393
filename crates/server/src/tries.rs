//! An adjustment in words as edits of the boat file, so that the page can try it.

use boat::{Boat, Kind, Measure, PathStep};

use crate::routes::whatif::{EditAsked, EditKind};

/// The boat that adjustments are made to.
pub struct Tries<'b> {
    boat: &'b Boat,
    sheet: Vec<boat::SheetTable>,
}

impl<'b> Tries<'b> {
    /// Of the boat that `text` declares.
    pub fn new(boat: &'b Boat, text: &str) -> Self {
        Self {
            boat,
            sheet: boat::sheet(text),
        }
    }

    /// Edits that do what `what` says, worded as adjustments are; empty for one that is built
    /// rather than set (`pads 5 mm wider`) or of many numbers (`everything 5 % lighter`).
    pub fn edits(&self, what: &str) -> Vec<EditAsked> {
        self.shifted_part(what)
            .or_else(|| self.drive(what))
            .unwrap_or_default()
    }

    /// `Battery 10 mm forward`.
    fn shifted_part(&self, what: &str) -> Option<Vec<EditAsked>> {
        let (rest, way) = what.rsplit_once(' ')?;
        let sign = match way {
            "forward" => 1.0,
            "aft" => -1.0,
            _ => return None,
        };
        let (name, mm) = rest.strip_suffix(" mm")?.rsplit_once(' ')?;
        let part = self.boat.parts.iter().find(|p| p.name == name)?;
        let by_m = sign * mm.parse::<f64>().ok()? * 1e-3;
        let path = ["part", name, "at"].map(word);
        Some(vec![set(path.to_vec(), place(&part.at, [by_m, 0.0, 0.0]))])
    }

    fn drive(&self, what: &str) -> Option<Vec<EditAsked>> {
        let (amount, more) = amount(what)?;
        let signed = if more { amount } else { -amount };
        let mut edits = Vec::new();
        for (index, drive) in self.boat.drives.iter().enumerate() {
            let at = |table: &str, key: &str| drive_path(self.boat, index, table, key);
            if what.starts_with("strut and propeller") {
                let by = [0.0, 0.0, signed * 1e-3];
                edits.push(set(at("propeller", "at"), place(&drive.propeller.at, by)));
                if let Some(strut) = &drive.strut {
                    edits.push(set(at("strut", "at"), place(&strut.at, by)));
                }
            } else if what.starts_with("shaft") {
                let angle = drive.shaft.angle_rad.value + signed.to_radians();
                edits.push(set(at("shaft", "angle"), shown(Kind::Angle, angle)));
            } else if what.starts_with("propeller") && what.contains("at the same pitch ratio") {
                let size = drive.propeller.diameter_m.value + signed * 1e-3;
                edits.push(set(at("propeller", "diameter"), shown(Kind::Length, size)));
                // A pitch written as a length would change the ratio.
                let ratio = drive.propeller.pitch_ratio.value;
                edits.extend(self.pitch(&at("propeller", "pitch"), ratio * size));
            } else if what.starts_with("propeller with") {
                let ratio = drive.propeller.pitch_ratio.value + signed;
                let pitch = at("propeller", "pitch");
                let as_length = self.pitch(&pitch, ratio * drive.propeller.diameter_m.value);
                edits.push(as_length.unwrap_or_else(|| {
                    let ratio = (ratio * 1e4).round() / 1e4;
                    set(at("propeller", "pitch_ratio"), ratio.into())
                }));
            } else if what == "one cell more in series" {
                let cells = format!("{}S{}P", drive.battery.series + 1, drive.battery.parallel);
                edits.push(set(at("battery", "cells"), cells.into()));
            } else {
                return None;
            }
        }
        Some(edits)
    }

    fn pitch(&self, path: &[PathStep], pitch_m: f64) -> Option<EditAsked> {
        let mut keys = self.sheet.iter().flat_map(|t| &t.keys);
        keys.find(|k| k.path == path)?.written.as_ref()?;
        Some(set(path.to_vec(), shown(Kind::Length, pitch_m)))
    }
}

fn drive_path(boat: &Boat, index: usize, table: &str, key: &str) -> Vec<PathStep> {
    let name = &boat.drives[index].name;
    let which = if name.is_empty() {
        PathStep::Nth(index)
    } else {
        word(name)
    };
    vec![word("drive"), which, word(table), word(key)]
}

/// The first number of `what`, and whether it is added.
fn amount(what: &str) -> Option<(f64, bool)> {
    let words = what.split(' ');
    let number = words
        .filter_map(|w| w.trim_end_matches('°').parse::<f64>().ok())
        .next();
    let more = [" higher", " more", " larger"]
        .iter()
        .any(|w| what.contains(w));
    Some((number.unwrap_or(1.0), more))
}

fn word(text: &str) -> PathStep {
    PathStep::Word(text.to_owned())
}

fn shown(kind: Kind, si: f64) -> serde_json::Value {
    boat::show(kind, (si * 1e6).round() / 1e6)
        .replace('°', "deg")
        .into()
}

fn place(at: &[Measure; 3], by_m: [f64; 3]) -> serde_json::Value {
    let each = at.iter().zip(by_m);
    each.map(|(m, by)| shown(Kind::Length, m.value + by))
        .collect()
}

fn set(path: Vec<PathStep>, value: serde_json::Value) -> EditAsked {
    EditAsked {
        path: crate::views::sheet::steps(&path),
        action: EditKind::Set,
        value: Some(value),
        name: None,
    }
}
