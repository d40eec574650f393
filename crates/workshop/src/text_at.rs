//! A text somebody wrote: in a file, or said here.

use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};
use utoipa::ToSchema;

use crate::beneath::read_within;
use crate::fault::{Fault, shown};

/// A text: in a file, or as it stands here.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum TextAt {
    /// In this file.
    #[schema(value_type = String)]
    File(PathBuf),
    /// This.
    Text(String),
}

impl TextAt {
    /// What a fault calls it.
    pub fn place(&self) -> &Path {
        match self {
            Self::File(file) => file,
            Self::Text(_) => Path::new("what was sent"),
        }
    }

    /// The file, where it is in one.
    pub fn file(&self) -> Option<&Path> {
        match self {
            Self::File(file) => Some(file),
            Self::Text(_) => None,
        }
    }

    /// The text, unless it is larger than `most` bytes.
    ///
    /// # Errors
    /// [`Fault`] when it cannot be read or is too large; `smaller` says what would be right then.
    pub fn text_within(&self, most: u64, smaller: &str) -> Result<String, Fault> {
        let refuse_above = |size: u64| {
            if size <= most {
                return Ok(());
            }
            let what = format!("{} is larger than {} MB", shown(self.place()), most >> 20);
            Err(Fault::new(what, smaller))
        };
        let file = match self {
            Self::Text(text) => {
                refuse_above(text.len() as u64)?;
                return Ok(text.clone());
            }
            Self::File(file) => file,
        };
        let bytes = read_within(file, refuse_above)?;
        Ok(String::from_utf8_lossy(&bytes).into_owned())
    }
}
