//! The hull in pieces for the printer, written as files.

use advice::Number;
use boat::{Boat, Kind, Weighed};
use form::Form;
use making::orient;
use serde::{Deserialize, Serialize};
use std::cell::Cell;
use std::fs;
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};
use utoipa::ToSchema;

use crate::bench::Bench;
use crate::beneath::beneath;
use crate::fault::{Fault, shown};
use crate::folder::write_whole;
use crate::made::named;
use crate::question::Question;
use crate::watch::Watch;

/// What pieces does it print in?
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct PiecesAsk {
    /// Folder to write the files to; `pieces` in the boat folder when absent. Nothing older is written over.
    #[schema(value_type = Option<String>)]
    pub into: Option<PathBuf>,
    /// Only list them.
    pub list_only: bool,
    /// Also tell the shape of each, to draw it.
    pub shapes: bool,
}

/// The pieces.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PiecesAnswer {
    /// The builder's name for the boat.
    pub boat: String,
    /// What the printer can print: width, depth, height.
    pub bed: Vec<Number>,
    /// Whether the builder gave it.
    pub bed_given: bool,
    /// Stern first.
    pub pieces: Vec<PieceTold>,
    /// Between them.
    pub joints: Vec<JointTold>,
    /// Of all pieces.
    pub mass: Number,
    /// On the printer.
    pub time: Number,
    /// Of filament.
    pub filament: Number,
    /// In the builder's money.
    pub cost: Option<Number>,
    /// What else to know.
    pub notes: Vec<String>,
    /// Where the files are; nothing when they were only listed.
    pub folder: Option<String>,
    /// Files written.
    pub files: Vec<String>,
    /// Of each piece, in the order of `pieces`; empty unless asked for.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub shapes: Vec<Shape>,
}

/// A piece in place with its joints, boat axes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Shape {
    /// Corners, x, y, z one after the other, hundredths of a millimetre.
    pub corners: Vec<i32>,
    /// Triangles: three corners each, from 0.
    pub triangles: Vec<u32>,
}

impl Shape {
    fn of(mesh: &form::Mesh) -> Self {
        let fine = |metres: f64| (1e5 * metres).round() as i32;
        Self {
            corners: mesh.vertices.iter().flatten().copied().map(fine).collect(),
            triangles: mesh.triangles.iter().flatten().copied().collect(),
        }
    }
}

/// A piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PieceTold {
    /// Its name.
    pub name: String,
    /// The boat's axis that points up while it prints: `+x`.
    pub up: String,
    /// The same in words.
    pub lies: String,
    /// On the bed: width, depth, height.
    pub size: Vec<Number>,
    /// Of the print.
    pub mass: Number,
    /// Whether it was on a scale.
    pub weighed: bool,
    /// On the printer.
    pub time: Number,
    /// Of filament.
    pub filament: Number,
    /// In the builder's money.
    pub cost: Option<Number>,
    /// Of surface that needs support.
    pub support: Number,
    /// Where it may leak.
    pub notes: Vec<String>,
}

/// A joint.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct JointTold {
    /// `x` or `y`: the axis its plane stands square to.
    pub across: String,
    /// Along that axis.
    pub at: Number,
    /// `lap`, `flange` or `butt`.
    pub kind: String,
    /// Whether the boat file asked for it.
    pub asked: bool,
    /// Dowels, each a diameter.
    pub dowels: Vec<Number>,
    /// What the cut could not keep off.
    pub through: Vec<String>,
    /// Share of the hull's greatest bending there.
    pub bending: Number,
}

impl Question for PiecesAsk {
    type Answer = PiecesAnswer;

    fn answer(&self, bench: &Bench) -> Result<PiecesAnswer, Fault> {
        let loaded = bench.load()?;
        let target = self
            .into
            .clone()
            .map_or_else(|| beneath(&loaded.folder, "pieces"), Ok)?;
        // A hull of which nothing was weighed is not printed yet: nobody waits for what is refused.
        let given = |p: &boat::making::Piece| p.mass_kg.is_some();
        if !self.list_only && !loaded.boat.making.pieces.iter().any(given) {
            refuse_existing(&target)?;
        }
        let shell = loaded.declared.hull.weighed.as_ref();
        let made = made(&loaded.boat, shell, &loaded.form, bench.watch())?;
        let printed = made.pieces.iter().all(|p| p.weighed);
        let write = !(self.list_only || printed);
        if write {
            refuse_existing(&target)?;
        }
        let mut answer = told(&loaded.boat, &made);
        if self.shapes {
            answer.shapes = made.pieces.iter().map(|p| Shape::of(&p.mesh)).collect();
        }
        if printed && !self.list_only {
            answer.notes.push(
                "Every piece has its mass in the boat file, so the hull is printed: nothing was written.".to_owned(),
            );
        }
        if write {
            bench.step("writing")?;
            answer.files = write_all(&target, &loaded.boat.name, &made)?;
            answer.folder = Some(shown(&target));
        }
        Ok(answer)
    }

    fn files(&self) -> Vec<&Path> {
        self.into.iter().map(PathBuf::as_path).collect()
    }

    fn writes(&self) -> bool {
        !self.list_only
    }
}

/// The pieces of a boat, weighed so that they add up to its shell: `whole` is the shell on a scale, as declared.
///
/// # Errors
/// [`Fault`].
pub fn made(
    boat: &Boat,
    whole: Option<&Weighed>,
    form: &Form,
    watch: &dyn Watch,
) -> Result<making::Pieces, Fault> {
    let weighed = |boat: &Boat| {
        craft::mass::mass_properties(boat, form).map_err(|e| Fault::new(e.to_string(), ""))
    };
    let mass = weighed(boat)?;
    let girder = making::strength::Bending::of(boat, form, &mass);
    let said = Cell::new("");
    let mut tell = |share: f64, what: &str| {
        let step = STEPS
            .iter()
            .find(|s| **s == what)
            .copied()
            .unwrap_or("cutting");
        if said.get() != step {
            said.set(step);
            watch.step(step);
        }
        watch.part(share);
        if watch.wanted() {
            ControlFlow::Continue(())
        } else {
            ControlFlow::Break(())
        }
    };
    let mut made = making::pieces(boat, form, &|x| girder.share(x), &mut tell).map_err(fault)?;
    // As it was before pieces were weighed, which is no part of the boat's mass twice.
    let mut before = boat.clone();
    before.hull.weighed = whole.cloned();
    let (print, _) = making::weigh::print_kg(&before, &weighed(&before)?);
    let described: f64 = made.pieces.iter().map(|p| p.plastic_m3).sum();
    let described = described * boat.hull.print.density_kg_m3.value;
    if whole.is_some() && !(ALIKE..1.0 / ALIKE).contains(&(print.value / described)) {
        made.notes.push(format!(
            "As [hull.print] describes it the hull comes to {:.0} g, and it was weighed at {:.0} g: check wall and infill.",
            1e3 * described,
            1e3 * print.value
        ));
    }
    making::weigh::weigh(&mut made, print);
    Ok(made)
}

/// A print and its description further apart than this are told (judgement; a print is known to 8 %).
const ALIKE: f64 = 0.6;

const STEPS: [&str; 4] = [
    "finding where to cut",
    "cutting",
    "making joints",
    "turning each piece",
];

fn fault(error: making::MakingError) -> Fault {
    use making::MakingError as E;
    let hint = match &error {
        E::Stopped => return Fault::Stopped,
        E::Unsound { .. } => "`skimwright hull` lists what the reader found in the mesh",
        E::BedTooSmall { .. } => {
            "give the printer's room as `bed` under [printer], or print it elsewhere"
        }
        E::DeclaredUp { .. } => "choose another `up` for that [[piece]], or leave it out",
        E::WallsFillIt { .. } => "check `wall` under [hull.print] and the mesh's unit",
        E::CutMisses { .. } => "change `at` of that [[cut]]",
        E::NoSuchPiece { .. } => "name the [[piece]] as one of these",
    };
    Fault::new(error.to_string(), hint)
}

fn refuse_existing(target: &Path) -> Result<(), Fault> {
    let occupied = match fs::read_dir(target) {
        Ok(mut entries) => entries.next().is_some(),
        Err(_) => target.exists(),
    };
    if occupied {
        return Err(Fault::new(
            format!(
                "{} is there already, and nothing in it is written over",
                shown(target)
            ),
            "move or rename it, or name another folder to write into; nothing was changed",
        ));
    }
    Ok(())
}

/// Everything into a new folder beside the target, which then takes its name: all or nothing.
fn write_all(target: &Path, boat: &str, made: &making::Pieces) -> Result<Vec<String>, Fault> {
    let parent = match target.parent() {
        Some(p) if !p.as_os_str().is_empty() => p,
        _ => Path::new("."),
    };
    let refused = |e: std::io::Error| Fault::system("write to", parent, &e);
    let beside = tempfile::Builder::new()
        .prefix(".pieces-")
        .tempdir_in(parent)
        .map_err(refused)?;
    let mut files = Vec::new();
    let mut put = |name: String, bytes: Vec<u8>| -> Result<(), Fault> {
        write_whole(&beside.path().join(&name), &bytes)?;
        files.push(name);
        Ok(())
    };
    let unwritten = |e: form::write::WriteError| Fault::new(e.to_string(), "");
    for p in &made.pieces {
        let name = format!("{}.3mf", p.name.replace(' ', "-"));
        put(
            name,
            form::write::threemf(&p.placed, &format!("{boat}: {}", p.name)).map_err(unwritten)?,
        )?;
    }
    let all: Vec<(&str, &form::Mesh)> = made
        .pieces
        .iter()
        .map(|p| (p.name.as_str(), &p.mesh))
        .collect();
    put(
        "whole.3mf".to_owned(),
        form::write::threemf_of(&all).map_err(unwritten)?,
    )?;
    named(beside, target)
        .map_err(refused)?
        .map_err(|e| Fault::system("write", target, &e))?;
    Ok(files)
}

fn length(value: f64) -> Number {
    Number::exact(Kind::Length, value)
}

fn told(boat: &Boat, made: &making::Pieces) -> PiecesAnswer {
    let total = &made.total_kg;
    let time: f64 = made.pieces.iter().map(|p| p.time_s).sum();
    let filament: f64 = made.pieces.iter().map(|p| p.filament_m).sum();
    let spread = making::filament::MASS_SPREAD;
    let hours = making::filament::TIME_SPREAD;
    let cost = |c: f64| Number::new(Kind::Number, c, spread * c);
    PiecesAnswer {
        boat: boat.name.clone(),
        bed: boat
            .making
            .printer
            .bed_m
            .iter()
            .map(|b| length(*b))
            .collect(),
        bed_given: boat.making.printer.bed_given,
        pieces: made
            .pieces
            .iter()
            .map(|p| {
                let (low, high) = p.placed.bounds().unwrap_or_default();
                let size = high - low;
                PieceTold {
                    name: p.name.clone(),
                    up: p.up().word().to_owned(),
                    lies: orient::words(p.up()).to_owned(),
                    size: size.iter().map(|s| length(*s)).collect(),
                    mass: Number::new(Kind::Mass, p.mass_kg, p.mass_spread_kg),
                    weighed: p.weighed,
                    time: Number::new(Kind::Time, p.time_s, hours * p.time_s),
                    filament: Number::new(Kind::Length, p.filament_m, spread * p.filament_m),
                    cost: p.cost.map(cost),
                    support: Number::exact(Kind::Area, p.ways[0].overhang_m2),
                    notes: p.notes.clone(),
                }
            })
            .collect(),
        joints: made
            .joints
            .iter()
            .map(|j| JointTold {
                across: j.cut.across.clone(),
                at: length(j.cut.at_m),
                kind: j.cut.joint.clone(),
                asked: j.cut.asked,
                dowels: j.dowels.iter().map(|d| length(d.0)).collect(),
                through: j.cut.through.clone(),
                bending: Number::exact(Kind::Fraction, j.cut.bending),
            })
            .collect(),
        mass: Number::new(Kind::Mass, total.value, total.spread),
        time: Number::new(Kind::Time, time, hours * time),
        filament: Number::new(Kind::Length, filament, spread * filament),
        cost: made
            .pieces
            .iter()
            .map(|p| p.cost)
            .sum::<Option<f64>>()
            .map(cost),
        notes: made.notes.clone(),
        folder: None,
        files: Vec::new(),
        shapes: Vec::new(),
    }
}
