//! One file a command.

mod builds;
mod calc;
mod check;
mod hear;
mod hull;
mod keep;
mod learn;
mod log;
mod marks;
mod new;
mod open;
mod outfit;
mod outing;
mod pond;
mod pulses;
mod recording;
mod report;
mod schema;
mod stint;
mod together;
mod track;
mod why;

use std::path::Path;
use std::process::ExitCode;
use std::sync::Arc;

use study::{Effort, Study, StudyError};

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
        Command::Learn(given) => learn::run(&given),
        Command::Stint(given) => stint::run(&given),
        Command::Outfit(given) => outfit::run(&given),
        Command::Hear(given) => hear::run(&given),
        Command::Track(given) => track::run(&given),
        Command::Pulses(given) => pulses::run(&given),
        Command::Log(given) => log::run(&given),
        Command::Marks(given) => marks::run(&given),
        Command::Together(given) => together::run(&given),
        Command::Outing(given) => outing::run(&given),
        Command::Keep(given) => keep::run(&given),
        Command::Builds(given) => builds::run(&given),
        Command::Pond(given) => pond::run(&given),
        Command::Calc(given) => calc::run(&given),
        Command::Why(given) => why::run(&given),
        Command::Schema(_) => schema::run(),
        Command::Open(given) => open::run(&given),
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
    let (declared, _) = boat::load(&loaded.text, &shown(&loaded.file))?;
    let source = folder::Source::new(&folder, &loaded.text, declared, Arc::new(loaded.form))?;
    let file: &dyn study::Source = &source;
    let studied = study::study_with(source.subject(), Some(file), effort, &|what| {
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
