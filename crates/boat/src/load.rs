//! Reading a boat file.

use crate::build;
use crate::checked::Checker;
use crate::model::Boat;
use crate::problem::{BoatFileError, Problem, Severity};
use toml::de::DeTable;

/// Larger texts are not boat files.
const MAX_BYTES: usize = 4 << 20;

/// Reads the text of a `boat.toml`. `file_name` is only for messages.
///
/// Defaults are filled in and marked [`crate::Origin::Assumed`]; the warnings say what the file
/// leaves out. A path of a mesh file is checked to stay inside the boat folder, not opened.
///
/// # Errors
/// [`BoatFileError`] with every problem in the file at once, each with its place.
pub fn load(text: &str, file_name: &str) -> Result<(Boat, Vec<Problem>), BoatFileError> {
    if text.len() > MAX_BYTES {
        let problem = error(
            0..0,
            "the file is over 4 MB",
            "a boat file is a page or two of text",
        );
        return Err(BoatFileError::new(file_name, "", vec![problem]));
    }
    let (document, faults) = DeTable::parse_recoverable(text);
    if !faults.is_empty() {
        // Half-read tables would raise problems that are not there.
        let problems = faults.iter().map(|fault| syntax(text, fault)).collect();
        return Err(BoatFileError::new(file_name, text, problems));
    }
    let mut checker = Checker::new(text);
    let boat = build::boat(&mut checker, document.get_ref());
    let problems = checker.problems;
    if problems
        .iter()
        .any(|problem| problem.severity == Severity::Error)
    {
        return Err(BoatFileError::new(file_name, text, problems));
    }
    Ok((boat, problems))
}

fn syntax(text: &str, fault: &toml::de::Error) -> Problem {
    let span = fault.span().unwrap_or(0..0);
    let end = span.end.min(text.len());
    let (message, help) = match fault.message() {
        // What the parser makes of a bare word.
        message if message.starts_with("invalid boolean") => (
            "this is not a value",
            "texts and quantities stand in quotes: `name = \"Tern\"`",
        ),
        message if message.contains("duplicate key") => (
            message,
            "write each key and each [heading] once; [[headings]] may be repeated",
        ),
        message => (
            message,
            "the file is TOML: `key = \"value\"` lines under [headings]",
        ),
    };
    error(span.start.min(end)..end, message, help)
}

fn error(span: std::ops::Range<usize>, message: &str, help: &str) -> Problem {
    let (message, help) = (message.to_owned(), Some(help.to_owned()));
    Problem {
        message,
        help,
        span,
        severity: Severity::Error,
    }
}
