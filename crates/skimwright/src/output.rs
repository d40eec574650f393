//! Data to standard output, everything else to standard error; neither ever panics.

use anstream::ColorChoice;
use std::io::{ErrorKind, IsTerminal as _, Write as _};
use std::process::ExitCode;

use crate::failure::Failure;

/// Writes data. A reader that has gone away (`| head`) ends the program quietly.
pub fn print(text: &str) -> Result<(), Failure> {
    let mut out = anstream::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Ok(()) => Ok(()),
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Err(Failure::NobodyListens),
        Err(error) => Err(Failure::new(
            format!("cannot write the output: {error}"),
            "",
        )),
    }
}

/// Writes a value as indented JSON.
pub fn print_json(value: &impl serde::Serialize) -> Result<(), Failure> {
    let text = serde_json::to_string_pretty(value)
        .map_err(|error| Failure::new(format!("cannot write JSON: {error}"), ""))?;
    print(&format!("{text}\n"))
}

/// Writes an answer as JSON, or as text.
pub fn give<A: serde::Serialize>(
    as_json: bool,
    answer: &A,
    as_text: impl FnOnce(&A) -> String,
) -> Result<(), Failure> {
    if as_json {
        print_json(answer)
    } else {
        print(&as_text(answer))
    }
}

/// A value as JSON for a file.
pub fn json(value: &impl serde::Serialize) -> Result<String, Failure> {
    serde_json::to_string(value)
        .map_err(|error| Failure::new(format!("cannot write JSON: {error}"), ""))
}

/// Writes a remark. If nobody can read it, that is no reason to stop.
pub fn warn(text: &str) {
    let _ = anstream::stderr().lock().write_all(text.as_bytes());
}

/// Whether remarks are read by a person at a terminal.
pub fn person_at_stderr() -> bool {
    std::io::stderr().is_terminal()
}

/// Whether remarks may be coloured: a terminal, and `NO_COLOR` not set.
pub fn colour_on_stderr() -> bool {
    anstream::AutoStream::choice(&std::io::stderr()) != ColorChoice::Never
}

/// A command line that cannot be followed, or one that asked for help.
pub fn refuse(refusal: &clap::Error) -> ExitCode {
    let _ = refusal.print();
    ExitCode::from(if refusal.use_stderr() { 2 } else { 0 })
}
