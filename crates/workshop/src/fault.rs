//! Why a question has no answer, with what would put it right.

use boat::{BoatFileError, Severity, line_and_column};
use miette::Diagnostic;
use serde::{Deserialize, Serialize};
use std::fmt;
use std::path::{Path, PathBuf};
use utoipa::ToSchema;

/// Why a question has no answer.
#[derive(Debug)]
pub enum Fault {
    /// A text somebody wrote says something it cannot mean; each problem has its place.
    Text(BoatFileError),
    /// Anything without a place in a text.
    Plain {
        /// What is wrong.
        what: String,
        /// What would be right; may be empty.
        hint: String,
        /// What the system said, if it was the system.
        kind: Option<std::io::ErrorKind>,
    },
    /// Whoever watches wants it no longer.
    Stopped,
}

impl Fault {
    /// A fault without a place in a text.
    pub fn new(what: impl Into<String>, hint: impl Into<String>) -> Self {
        Self::Plain {
            what: what.into(),
            hint: hint.into(),
            kind: None,
        }
    }

    /// A file or folder the system refused.
    pub fn system(doing: &str, path: &Path, error: &std::io::Error) -> Self {
        use std::io::ErrorKind;
        let hint = match error.kind() {
            ErrorKind::NotFound => "check the spelling; nothing was changed",
            ErrorKind::PermissionDenied if cfg!(windows) => {
                "close the program that has it open, or check who may read and write it"
            }
            ErrorKind::PermissionDenied => "check who may read and write it",
            ErrorKind::StorageFull | ErrorKind::QuotaExceeded => {
                "make room and try again; nothing was changed"
            }
            ErrorKind::ReadOnlyFilesystem => "copy the folder to where it can be written",
            _ => "",
        };
        Self::Plain {
            what: format!("cannot {doing} {}: {}", shown(path), reason(error)),
            hint: hint.to_owned(),
            kind: Some(error.kind()),
        }
    }

    /// A fault of the file at `path` as a whole.
    pub fn of_file(path: &Path, why: &dyn fmt::Display, hint: &str) -> Self {
        Self::new(format!("{}: {why}", shown(path)), hint)
    }

    /// A file that somebody else changed since it was read.
    pub fn changed(path: &Path) -> Self {
        Self::Plain {
            what: format!("{} was changed meanwhile; nothing was written", shown(path)),
            hint: "look at it again and try once more".to_owned(),
            kind: Some(std::io::ErrorKind::AlreadyExists),
        }
    }

    /// What sort of fault it is, for a face that has codes for them.
    pub fn kind(&self) -> FaultKind {
        use std::io::ErrorKind;
        match self {
            Self::Text(_) | Self::Plain { kind: None, .. } => FaultKind::Unusable,
            Self::Stopped => FaultKind::Stopped,
            Self::Plain {
                kind: Some(ErrorKind::NotFound),
                ..
            } => FaultKind::Missing,
            Self::Plain {
                kind: Some(ErrorKind::PermissionDenied),
                ..
            } => FaultKind::Forbidden,
            Self::Plain { kind: Some(_), .. } => FaultKind::System,
        }
    }

    /// The same as plain words, to be sent.
    pub fn refusal(&self) -> Refusal {
        match self {
            Self::Text(error) => Refusal {
                kind: self.kind(),
                message: error.to_string(),
                hint: "each line at fault is listed with what would be right".to_owned(),
                problems: places(error.source.inner(), &error.problems),
            },
            Self::Plain { what, hint, .. } => Refusal {
                kind: self.kind(),
                message: what.clone(),
                hint: hint.clone(),
                problems: Vec::new(),
            },
            Self::Stopped => Refusal {
                kind: self.kind(),
                message: self.to_string(),
                hint: "ask again".to_owned(),
                problems: Vec::new(),
            },
        }
    }
}

/// Sorts of fault.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum FaultKind {
    /// What was read or asked cannot be used.
    Unusable,
    /// There is no such file or folder.
    Missing,
    /// The system does not allow it.
    Forbidden,
    /// The system refused for another reason.
    System,
    /// Nobody wanted the answer any longer.
    Stopped,
    /// The program failed.
    Bug,
}

/// A [`Fault`] in plain words.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Refusal {
    /// What sort of fault it is.
    pub kind: FaultKind,
    /// What is wrong, in a sentence.
    pub message: String,
    /// What would put it right; may be empty.
    pub hint: String,
    /// Each fault of the text with its place.
    pub problems: Vec<Place>,
}

/// One thing wrong with a text, and where.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Place {
    /// From 1.
    pub line: usize,
    /// From 1, in characters.
    pub column: usize,
    /// Key at fault, as written on that line; empty when it cannot be told.
    pub path: String,
    /// What is wrong.
    pub text: String,
    /// What would be right; may be empty.
    pub hint: String,
    /// Whether the text can be used all the same.
    pub warning: bool,
}

/// Problems of a text with their places.
pub fn places(text: &str, found: &[boat::Problem]) -> Vec<Place> {
    let each = found.iter().map(|problem| {
        let (line, column) = line_and_column(text, problem.span.start);
        let written = text.lines().nth(line.saturating_sub(1)).unwrap_or_default();
        let key = written.split_once('=').map_or("", |(key, _)| key.trim());
        Place {
            line,
            column,
            path: key.to_owned(),
            text: problem.message.clone(),
            hint: problem.help.clone().unwrap_or_default(),
            warning: problem.severity == Severity::Warning,
        }
    });
    each.collect()
}

/// Without the error number that is of no use to a builder.
fn reason(error: &std::io::Error) -> String {
    let text = error.to_string();
    match text.split_once(" (os error") {
        Some((plain, _)) => plain.to_lowercase(),
        None => text,
    }
}

/// A path as the builder knows it.
pub fn shown(path: &Path) -> String {
    let here = if path.as_os_str().is_empty() {
        PathBuf::from(".")
    } else {
        path.to_owned()
    };
    let text = here.display().to_string();
    // How Windows writes a path that was followed through its links; nobody types it so.
    match text.strip_prefix(r"\\?\") {
        Some(plain) if cfg!(windows) && !plain.starts_with("UNC") => plain.to_owned(),
        _ => text,
    }
}

/// A path as it is typed behind a command: in quotes where a shell would take it apart.
pub fn as_argument(path: &Path) -> String {
    let plain = shown(path);
    let safe = |c: char| c.is_alphanumeric() || "._-/\\:@+".contains(c);
    if plain.starts_with('-') {
        return as_argument(&Path::new(".").join(path));
    }
    if plain.chars().all(safe) {
        plain
    } else if cfg!(windows) {
        format!("\"{plain}\"")
    } else {
        format!("'{}'", plain.replace('\'', r"'\''"))
    }
}

impl From<BoatFileError> for Fault {
    fn from(error: BoatFileError) -> Self {
        Self::Text(error)
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Text(error) => error.fmt(f),
            Self::Plain { what, .. } => f.write_str(what),
            Self::Stopped => f.write_str("stopped before it was worked out"),
        }
    }
}

impl std::error::Error for Fault {}

impl Diagnostic for Fault {
    fn severity(&self) -> Option<miette::Severity> {
        match self {
            Self::Text(error) => error.severity(),
            _ => None,
        }
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        match self {
            Self::Text(error) => error.help(),
            Self::Plain { hint, .. } if !hint.is_empty() => Some(Box::new(hint)),
            _ => None,
        }
    }

    fn source_code(&self) -> Option<&dyn miette::SourceCode> {
        match self {
            Self::Text(error) => error.source_code(),
            _ => None,
        }
    }

    fn related<'a>(&'a self) -> Option<Box<dyn Iterator<Item = &'a dyn Diagnostic> + 'a>> {
        match self {
            Self::Text(error) => error.related(),
            _ => None,
        }
    }
}
