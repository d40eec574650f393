//! What is wrong with a boat file, each with its place.

use miette::{Diagnostic, LabeledSpan, NamedSource, SourceCode};
use std::fmt;
use std::ops::Range;

use crate::excerpt::Excerpt;

/// Problems of one severity that are kept; of more, the rest is counted.
const MOST_KEPT: usize = 50;
/// Longest underline that is drawn, bytes.
const LONGEST_LABEL: usize = 200;
/// Longest sentence about a problem, characters: what is quoted in it may be anything.
const LONGEST_SENTENCE: usize = 1000;

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
        let length = self.span.len().min(LONGEST_LABEL);
        let label = LabeledSpan::new(None, self.span.start, length);
        Some(Box::new(std::iter::once(label)))
    }
}

/// All problems of one file, with its text so that each can be drawn with its line and a caret.
#[derive(Debug, Clone)]
pub struct BoatFileError {
    /// In the order of the file; errors and, beside them, warnings. Of each no more than the first fifty.
    pub problems: Vec<Problem>,
    /// The file's name and text.
    pub source: NamedSource<Excerpt>,
    /// How many were found: errors, warnings.
    found: [usize; 2],
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
        let mut found = [0; 2];
        problems.retain_mut(|problem| {
            cut(&mut problem.message);
            problem.help.iter_mut().for_each(cut);
            let count = &mut found[usize::from(problem.severity == Severity::Warning)];
            *count += 1;
            *count <= MOST_KEPT
        });
        let text = Excerpt::new(text.to_owned());
        let source = NamedSource::new(file_name, text).with_language("toml");
        Self {
            problems,
            source,
            found,
        }
    }
}

fn cut(sentence: &mut String) {
    if let Some((end, _)) = sentence.char_indices().nth(LONGEST_SENTENCE) {
        sentence.truncate(end);
        sentence.push('…');
    }
}

impl fmt::Display for BoatFileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let name = self.source.name();
        let plural = |n: usize, word: &str| format!("{n} {word}{}", if n == 1 { "" } else { "s" });
        match self.found {
            [0, warnings] => write!(f, "{name}: {}", plural(warnings, "warning"))?,
            [errors, 0] => write!(f, "{name}: {}", plural(errors, "error"))?,
            [errors, warnings] => {
                write!(
                    f,
                    "{name}: {}, {}",
                    plural(errors, "error"),
                    plural(warnings, "warning")
                )?;
            }
        }
        if self.found.iter().any(|found| *found > MOST_KEPT) {
            write!(f, "; the first {MOST_KEPT} are shown")?;
        }
        Ok(())
    }
}

impl std::error::Error for BoatFileError {}

impl Diagnostic for BoatFileError {
    fn severity(&self) -> Option<miette::Severity> {
        let any_error = self.found[0] > 0;
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
