//! One file a command.

mod calc;
mod check;
mod hull;
mod new;
mod report;
mod schema;

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
    advice::study(loaded.boat, loaded.form, effort, &|what| {
        progress.step(what);
    })
    .map_err(|error| {
        let hint = match &error {
            StudyError::NoRunningSurface => {
                "the lowest part of the hull needs a flat or vee run that ends in an edge; see `skimwright hull`"
            }
            StudyError::Mass(_) => "weigh the parts, or describe the print under [hull.print]",
            _ => "",
        };
        let file = folder.join("boat.toml");
        Failure::new(format!("{}: {error}", shown(&file)), hint)
    })
}
