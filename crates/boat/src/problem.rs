//! What is wrong with a boat file, each with its place.

use miette::{Diagnostic, LabeledSpan, NamedSource, SourceCode};
use std::fmt;
use std::ops::Range;

/// How bad a [`Problem`] is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Severity {
    /// The file cannot be used.
    Error,
    /// The file can be used, and the builder should know this.
    Warning,
}

/// One thing wrong, where, and what would be right.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// What is wrong, lower case, without a full stop.
    pub message: String,
    /// What would be right.
    pub help: Option<String>,
    /// Bytes of the file.
    pub span: Range<usize>,
    /// Error or warning.
    pub severity: Severity,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for Problem {}

impl Diagnostic for Problem {
    fn severity(&self) -> Option<miette::Severity> {
        Some(match self.severity {
            Severity::Error => miette::Severity::Error,
            Severity::Warning => miette::Severity::Warning,
        })
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.help
            .as_ref()
            .map(|help| Box::new(help) as Box<dyn fmt::Display>)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let label = LabeledSpan::new(None, self.span.start, self.span.len());
        Some(Box::new(std::iter::once(label)))
    }
}

/// All problems of one file, with its text so that each can be drawn with its line and a caret.
#[derive(Debug, Clone)]
pub struct BoatFileError {
    /// In the order of the file; errors and, beside them, warnings.
    pub problems: Vec<Problem>,
    /// The file's name and text.
    pub source: NamedSource<String>,
}

/// Line and column of a byte, both from 1; columns count characters.
pub fn line_and_column(text: &str, byte: usize) -> (usize, usize) {
    let mut end = byte.min(text.len());
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    let before = &text[..end];
    let line_start = before.rfind('\n').map_or(0, |newline| newline + 1);
    (
        before.matches('\n').count() + 1,
        before[line_start..].chars().count() + 1,
    )
}

impl BoatFileError {
    /// Problems of the file `file_name` that reads `text`.
    pub fn new(file_name: &str, text: &str, mut problems: Vec<Problem>) -> Self {
        problems.sort_by_key(|problem| (problem.span.start, problem.span.end));
        let source = NamedSource::new(file_name, text.to_owned()).with_language("toml");
        Self { problems, source }
    }

    fn count(&self, severity: Severity) -> usize {
        self.problems
            .iter()
            .filter(|problem| problem.severity == severity)
            .count()
    }
}

impl fmt::Display for BoatFileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let name = self.source.name();
        let plural = |n: usize, word: &str| format!("{n} {word}{}", if n == 1 { "" } else { "s" });
        match (self.count(Severity::Error), self.count(Severity::Warning)) {
            (0, warnings) => write!(f, "{name}: {}", plural(warnings, "warning")),
            (errors, 0) => write!(f, "{name}: {}", plural(errors, "error")),
            (errors, warnings) => {
                write!(
                    f,
                    "{name}: {}, {}",
                    plural(errors, "error"),
                    plural(warnings, "warning")
                )
            }
        }
    }
}

impl std::error::Error for BoatFileError {}

impl Diagnostic for BoatFileError {
    fn severity(&self) -> Option<miette::Severity> {
        let any_error = self.count(Severity::Error) > 0;
        Some(if any_error {
            miette::Severity::Error
        } else {
            miette::Severity::Warning
        })
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        Some(&self.source)
    }

    fn related<'a>(&'a self) -> Option<Box<dyn Iterator<Item = &'a dyn Diagnostic> + 'a>> {
        Some(Box::new(
            self.problems
                .iter()
                .map(|problem| problem as &dyn Diagnostic),
        ))
    }
}
