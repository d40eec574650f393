//! Why a folder could not be read or written, with what would put it right.

use boat::BoatFileError;
use miette::Diagnostic;
use std::fmt;
use std::path::{Path, PathBuf};

/// Why a folder could not be read or written.
#[derive(Debug)]
pub enum FolderError {
    /// The boat file says something it cannot mean; each problem has its place.
    BoatFile(BoatFileError),
    /// Anything without a place in a text.
    Fault {
        /// What is wrong.
        what: String,
        /// What would be right; may be empty.
        hint: String,
        /// What the system said, if it was the system.
        kind: Option<std::io::ErrorKind>,
    },
}

impl FolderError {
    /// A fault without a place in a text.
    pub fn new(what: impl Into<String>, hint: impl Into<String>) -> Self {
        Self::Fault {
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
            ErrorKind::PermissionDenied => "check who may read and write it",
            ErrorKind::StorageFull | ErrorKind::QuotaExceeded => {
                "make room and try again; nothing was changed"
            }
            ErrorKind::ReadOnlyFilesystem => "copy the folder to where it can be written",
            _ => "",
        };
        Self::Fault {
            what: format!("cannot {doing} {}: {}", shown(path), reason(error)),
            hint: hint.to_owned(),
            kind: Some(error.kind()),
        }
    }
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
    here.display().to_string()
}

impl From<BoatFileError> for FolderError {
    fn from(error: BoatFileError) -> Self {
        Self::BoatFile(error)
    }
}

impl fmt::Display for FolderError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::BoatFile(error) => error.fmt(f),
            Self::Fault { what, .. } => f.write_str(what),
        }
    }
}

impl std::error::Error for FolderError {}

impl Diagnostic for FolderError {
    fn severity(&self) -> Option<miette::Severity> {
        match self {
            Self::BoatFile(error) => error.severity(),
            Self::Fault { .. } => None,
        }
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        match self {
            Self::BoatFile(error) => error.help(),
            Self::Fault { hint, .. } if hint.is_empty() => None,
            Self::Fault { hint, .. } => Some(Box::new(hint)),
        }
    }

    fn source_code(&self) -> Option<&dyn miette::SourceCode> {
        match self {
            Self::BoatFile(error) => error.source_code(),
            Self::Fault { .. } => None,
        }
    }

    fn related<'a>(&'a self) -> Option<Box<dyn Iterator<Item = &'a dyn Diagnostic> + 'a>> {
        match self {
            Self::BoatFile(error) => error.related(),
            Self::Fault { .. } => None,
        }
    }
}
