//! One file a command.

mod builds;
mod calc;
mod check;
mod demo;
mod first;
mod hear;
mod hull;
mod keep;
mod learn;
mod log;
mod manuals;
mod marks;
mod new;
mod next;
mod open;
mod outfit;
mod outing;
mod pieces;
mod pond;
mod pulses;
mod recording;
mod report;
mod schema;
mod sheet;
mod size;
mod stint;
mod together;
mod track;
mod why;

use std::path::Path;
use std::process::ExitCode;

use workshop::{BoatAt, Question};

use crate::cli::{Arguments, Command};
use crate::failure::Failure;
use crate::output;
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
    /// By whether anything says stop.
    pub fn of(stop: bool) -> Self {
        if stop { Self::Stop } else { Self::Good }
    }

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
    if let Some(units) = arguments.units.as_deref().and_then(boat::Units::of_word) {
        output::show_in(units);
    }
    let Some(command) = arguments.command else {
        return first::run();
    };
    match command {
        Command::Check(given) => check::run(&given),
        Command::Next(given) => next::run(&given),
        Command::Report(given) => report::run(&given),
        Command::New(given) => new::run(&given),
        Command::Size(given) => size::run(&given),
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
        Command::Sheet(given) => sheet::run(&given),
        Command::Pieces(given) => pieces::run(&given),
        Command::Pond(given) => pond::run(&given),
        Command::Calc(given) => calc::run(&given),
        Command::Why(given) => why::run(&given),
        Command::Schema(_) => schema::run(),
        Command::Open(given) => open::run(&given),
        Command::Demo(given) => demo::run(&given),
        Command::Manuals(given) => manuals::run(&given),
        Command::Answer => answer(),
    }
}

/// As a child of the page's server: one question in, lines out.
fn answer() -> Result<Outcome, Failure> {
    // Whoever asked may have gone: nothing to say and nobody to say it to.
    let gone = || std::process::exit(2);
    match workshop::child::serve(std::io::stdin(), std::io::stdout(), gone) {
        Ok(()) => Ok(Outcome::Good),
        Err(_) => Err(Failure::NobodyListens),
    }
}

/// Asks something of a boat, with progress at the terminal.
fn ask<Q: Question>(question: &Q, boat: &Path) -> Result<Q::Answer, Failure> {
    ask_of(question, Some(boat))
}

/// Shows everything in the units of the boat file, unless others were asked for. A boat that cannot be read is told of by
/// the question itself.
fn show_as_declared(boat: &BoatAt) {
    if let Ok(declared) = workshop::folder::declared(boat) {
        output::show_in(declared.units);
    }
}

/// Asks something that may be of a boat.
fn ask_of<Q: Question>(question: &Q, boat: Option<&Path>) -> Result<Q::Answer, Failure> {
    let boat = boat.map(BoatAt::saved);
    if let Some(boat) = &boat {
        show_as_declared(boat);
    }
    Ok(workshop::ask(question, boat.as_ref(), &Progress::new())?)
}
