//! Edits of a boat file that move a number by so much, in terms of what the file says: what is written keeps its
//! tolerance, and a pitch written as a length is changed as one.

use boat::making::Rod;
use boat::{Boat, Edit, Kind, Measure, NewValue, Part, PathStep, Place, SheetTable};
use making::strength::Declared;
use serde_json::Value;

/// Writes edits for one boat file.
pub struct Writer<'b> {
    boat: &'b Boat,
    sheet: Vec<SheetTable>,
}

impl<'b> Writer<'b> {
    /// For the file `text`, which declares `boat`.
    pub fn new(text: &str, boat: &'b Boat) -> Self {
        Self {
            boat,
            sheet: boat::sheet(text),
        }
    }

    /// A part moved, m forward, to port and up.
    pub fn part_moved(&self, part: &Part, by_m: [f64; 3]) -> Vec<Edit> {
        let path = vec![word("part"), word(&part.name), word("at")];
        vec![self.place(path, &part.at, by_m)]
    }

    /// Every propeller with its strut moved up, m.
    pub fn propellers_raised(&self, by_m: f64) -> Vec<Edit> {
        let mut edits = Vec::new();
        for (index, drive) in self.boat.drives.iter().enumerate() {
            let by = [0.0, 0.0, by_m];
            edits.push(self.place(self.way(index, "propeller", "at"), &drive.propeller.at, by));
            if let Some(strut) = &drive.strut {
                edits.push(self.place(self.way(index, "strut", "at"), &strut.at, by));
            }
        }
        edits
    }

    /// Every shaft turned propeller-down, rad.
    pub fn shafts_tilted(&self, by_rad: f64) -> Vec<Edit> {
        let drives = self.boat.drives.iter().enumerate();
        let each = drives.map(|(index, drive)| {
            let path = self.way(index, "shaft", "angle");
            let now = self.written(&path, Kind::Angle, &drive.shaft.angle_rad);
            Edit::set(path, shown(Kind::Angle, &now, now.value + by_rad))
        });
        each.collect()
    }

    /// Whether there are trim tabs to turn.
    pub fn has_tabs(&self) -> bool {
        !self.boat.tabs.is_empty()
    }

    /// Every trim tab turned trailing edge down, rad.
    pub fn tabs_turned(&self, by_rad: f64) -> Vec<Edit> {
        let each = self.boat.tabs.iter().enumerate().map(|(index, tab)| {
            // Without a name in the file it is addressed by its number.
            let named = self.boat.tabs.len() > 1 || tab.name != "tab";
            let which = match named {
                true => word(&tab.name),
                false => PathStep::Nth(index),
            };
            let path = vec![word("tab"), which, word("angle")];
            let now = self.written(&path, Kind::Angle, &tab.angle_rad);
            Edit::set(path, shown(Kind::Angle, &now, now.value + by_rad))
        });
        each.collect()
    }

    /// Every propeller larger, m, at the same ratio of pitch to diameter.
    pub fn propellers_larger(&self, by_m: f64) -> Vec<Edit> {
        let mut edits = Vec::new();
        for (index, drive) in self.boat.drives.iter().enumerate() {
            let path = self.way(index, "propeller", "diameter");
            let now = self.written(&path, Kind::Length, &drive.propeller.diameter_m);
            let size_m = now.value + by_m;
            edits.push(Edit::set(path, shown(Kind::Length, &now, size_m)));
            // A pitch written as a length would change the ratio.
            let pitch = self.way(index, "propeller", "pitch");
            if let Some(now) = self.quantity(&pitch, Kind::Length) {
                let pitch_m = now.value * size_m / drive.propeller.diameter_m.value;
                edits.push(Edit::set(pitch, shown(Kind::Length, &now, pitch_m)));
            }
        }
        edits
    }

    /// Every propeller's ratio of pitch to diameter changed.
    pub fn pitch_changed(&self, by: f64) -> Vec<Edit> {
        let drives = self.boat.drives.iter().enumerate();
        let each = drives.map(|(index, drive)| {
            let (pitch, ratio) = (
                self.way(index, "propeller", "pitch"),
                self.way(index, "propeller", "pitch_ratio"),
            );
            if let Some(now) = self.quantity(&pitch, Kind::Length) {
                let pitch_m = now.value + by * drive.propeller.diameter_m.value;
                return Edit::set(pitch, shown(Kind::Length, &now, pitch_m));
            }
            let now = self.written(&ratio, Kind::Number, &drive.propeller.pitch_ratio);
            let to = ((now.value + by) * 1e4).round() / 1e4;
            let value = match now.spread {
                0.0 => NewValue::Number(to),
                _ => shown(Kind::Number, &now, to),
            };
            Edit::set(ratio, value)
        });
        each.collect()
    }

    /// An opening higher, m.
    pub fn opening_raised(&self, opening: &boat::Opening, by_m: f64) -> Vec<Edit> {
        let path = vec![word("opening"), word(&opening.name), word("at")];
        vec![self.place(path, &opening.at, [0.0, 0.0, by_m])]
    }

    /// Every pack with cells more, or less, in series.
    pub fn cells_added(&self, count: i32) -> Vec<Edit> {
        let drives = self.boat.drives.iter().enumerate();
        let each = drives.map(|(index, drive)| {
            let cells = format!(
                "{}S{}P",
                drive.battery.series.saturating_add_signed(count).max(1),
                drive.battery.parallel
            );
            Edit::set(self.way(index, "battery", "cells"), cells)
        });
        each.collect()
    }

    /// A hull made stronger.
    pub fn declared(&self, what: &Declared) -> Vec<Edit> {
        match what {
            Declared::Rods(rods) => rods.iter().flat_map(|rod| self.rod_added(rod)).collect(),
            Declared::MoreWall(by_m) => {
                let path = ["hull", "print", "wall"].map(word).to_vec();
                let now = self.written(&path, Kind::Length, &self.boat.hull.print.wall_m);
                vec![Edit::set(path, shown(Kind::Length, &now, now.value + by_m))]
            }
            Declared::Frames(apart_m) => {
                let path = ["glue", "frames"].map(word).to_vec();
                let apart = Measure::given(*apart_m);
                vec![Edit::set(path, shown(Kind::Length, &apart, *apart_m))]
            }
            Declared::Glue(kind) => {
                let mut edits = vec![Edit::set(["glue", "kind"].map(word).to_vec(), kind.word())];
                // It is the other glue's.
                let strength = ["glue", "strength"].map(word).to_vec();
                if self.text(&strength).is_some() {
                    edits.push(Edit::Remove { path: strength });
                }
                edits
            }
        }
    }

    /// One more rod, under a name that no other has.
    fn rod_added(&self, rod: &Rod) -> Vec<Edit> {
        let taken = |name: &str| self.boat.making.rods.iter().any(|r| r.name == name);
        let mut name = rod.name.clone();
        while taken(&name) {
            name.push_str(" more");
        }
        let way = |key: &str| vec![word("rod"), word(&name), word(key)];
        let length = |m: &Measure| spelled(Kind::Length, m, m.value);
        let place = |at: &Place| NewValue::List(at.iter().map(length).collect());
        vec![
            Edit::Add {
                path: vec![word("rod")],
                name: name.clone(),
            },
            Edit::set(way("diameter"), length(&rod.diameter_m)),
            Edit::set(way("from"), place(&rod.from)),
            Edit::set(way("to"), place(&rod.to)),
            Edit::set(way("material"), rod.material.word()),
        ]
    }

    fn way(&self, drive: usize, table: &str, key: &str) -> Vec<PathStep> {
        let name = &self.boat.drives[drive].name;
        let which = match name.is_empty() {
            true => PathStep::Nth(drive),
            false => word(name),
        };
        vec![word("drive"), which, word(table), word(key)]
    }

    fn text(&self, path: &[PathStep]) -> Option<&Value> {
        let mut keys = self.sheet.iter().flat_map(|table| &table.keys);
        keys.find(|key| key.path == path)?.written.as_ref()
    }

    /// What is written there, with its tolerance where it has one.
    fn quantity(&self, path: &[PathStep], kind: Kind) -> Option<Measure> {
        read(kind, self.text(path)?)
    }

    /// What is written there, else what the boat takes for it.
    fn written(&self, path: &[PathStep], kind: Kind, taken: &Measure) -> Measure {
        self.quantity(path, kind)
            .unwrap_or(Measure::given(taken.value))
    }

    /// A place moved; what does not move stays as it is written.
    fn place(&self, path: Vec<PathStep>, at: &Place, by_m: [f64; 3]) -> Edit {
        let written = self.text(&path).and_then(Value::as_array).cloned();
        let axis = |axis: usize| {
            let text = written.as_ref().and_then(|all| all.get(axis));
            let now = text.and_then(|v| read(Kind::Length, v));
            let now = now.unwrap_or(Measure::given(at[axis].value));
            match text.and_then(Value::as_str) {
                Some(text) if by_m[axis] == 0.0 => text.to_owned(),
                _ => spelled(Kind::Length, &now, now.value + by_m[axis]),
            }
        };
        Edit::set(path, NewValue::List((0..3).map(axis).collect()))
    }
}

fn read(kind: Kind, written: &Value) -> Option<Measure> {
    match written {
        Value::String(text) => Some(boat::parse_quantity(kind, text).ok()?.measure()),
        Value::Number(number) => Some(Measure::given(number.as_f64()?)),
        _ => None,
    }
}

fn shown(kind: Kind, now: &Measure, to: f64) -> NewValue {
    NewValue::Text(spelled(kind, now, to))
}

fn spelled(kind: Kind, now: &Measure, to: f64) -> String {
    let exact = Measure {
        value: (to * 1e6).round() / 1e6,
        ..*now
    };
    boat::show_measure(kind, &exact).replace('°', "deg")
}

fn word(text: &str) -> PathStep {
    PathStep::Word(text.to_owned())
}
