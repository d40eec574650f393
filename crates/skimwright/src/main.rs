//! skimwright on the command line.

mod cli;
mod cli_recordings;
mod colours;
mod commands;
mod failure;
mod grouped;
mod output;
mod progress;
mod qr;

use clap::FromArgMatches as _;
use std::process::ExitCode;

fn main() -> ExitCode {
    let given = grouped::command().try_get_matches();
    let arguments = match given.and_then(|g| cli::Arguments::from_arg_matches(&g)) {
        Ok(arguments) => arguments,
        Err(refusal) => return output::refuse(&refusal),
    };
    match commands::run(arguments) {
        Ok(outcome) => outcome.code(),
        Err(failure) => failure.show(),
    }
}
