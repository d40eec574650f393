//! One file a command.

mod calc;
mod check;
mod hull;
mod new;
mod outfit;
mod report;
mod schema;
mod stint;

use std::path::Path;
use std::process::ExitCode;

use advice::{Effort, Study, StudyError};

use crate::boat_folder::Loaded;
use crate::cli::{self, Arguments, Command};
use crate::failure::{Failure, shown};
use crate::progress::Progress;

/// How a command that could be carried out ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outcome {
    /// Nothing says stop.
    Good,
    /// Something does.
    Stop,
}

impl Outcome {
    /// Exit status.
    pub fn code(self) -> ExitCode {
        match self {
            Self::Good => ExitCode::SUCCESS,
            Self::Stop => ExitCode::from(1),
        }
    }
}

/// Carries out what was asked.
pub fn run(arguments: Arguments) -> Result<Outcome, Failure> {
    match arguments.command {
        Command::Check(given) => check::run(&given),
        Command::Report(given) => report::run(&given),
        Command::New(given) => new::run(&given),
        Command::Hull(given) => hull::run(&given),
        Command::Stint(given) => stint::run(&given),
        Command::Outfit(given) => outfit::run(&given),
        Command::Calc(given) => calc::run(&given),
        Command::Schema(_) => schema::run(),
    }
}

/// Asks everything of a loaded boat.
fn study(loaded: Loaded, effort: &cli::Effort) -> Result<Study, Failure> {
    let progress = Progress::new();
    let effort = Effort {
        draws: effort.variations as usize,
        seed: effort.seed,
        ..Effort::default()
    };
    let folder = loaded.folder;
    let studied = advice::study(loaded.boat, loaded.form, effort, &|what| {
        progress.step(what);
    });
    let study = studied.map_err(|error| {
        let hint = match &error {
            StudyError::NoRunningSurface => {
                "the lowest part of the hull needs a flat or vee run that ends in an edge; see `skimwright hull`"
            }
            StudyError::Mass(_) => "weigh the parts, or describe the print under [hull.print]",
            _ => "",
        };
        let file = folder.join("boat.toml");
        Failure::new(format!("{}: {error}", shown(&file)), hint)
    })?;
    refuse_to_sink(&folder, study)
}

/// A boat heavier than its whole hull can float has no answers to give: the file is at fault.
fn refuse_to_sink(folder: &Path, study: Study) -> Result<Study, Failure> {
    if study.rest.afloat.is_some() {
        return Ok(study);
    }
    let mass_kg = study.mass.mass_kg;
    let hull_kg = (1.0 + study.rest.reserve_of_buoyancy) * mass_kg;
    let heaviest = study
        .mass
        .items
        .iter()
        .max_by(|a, b| a.mass_kg.total_cmp(&b.mass_kg));
    let heaviest = heaviest.map_or_else(String::new, |item| {
        let grams = item.mass_kg * 1e3;
        format!(
            "; the heaviest thing in it is `{}`, {grams:.0} g",
            item.name
        )
    });
    Err(Failure::new(
        format!(
            "{}: it sinks: the masses add up to {mass_kg:.3} kg, and the whole hull under water carries {hull_kg:.3} kg{heaviest}",
            shown(&folder.join("boat.toml"))
        ),
        "check the masses' units and the hull's size (`skimwright hull` prints it), or make the hull larger",
    ))
}
