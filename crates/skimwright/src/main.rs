//! skimwright on the command line.

mod cli;
mod cli_recordings;
mod colours;
mod commands;
mod failure;
mod output;
mod progress;
mod qr;

use clap::Parser as _;
use std::process::ExitCode;

fn main() -> ExitCode {
    let arguments = match cli::Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(refusal) => return output::refuse(&refusal),
    };
    match commands::run(arguments) {
        Ok(outcome) => outcome.code(),
        Err(failure) => failure.show(),
    }
}
