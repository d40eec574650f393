//! Speed from marks on the frames of a film.

use evidence::outing::recording::{frame_times, measure_marks};
use evidence::outing::{Analysis, RecordingKind, marks};
use serde::{Deserialize, Serialize};
use std::io::BufReader;
use std::path::{Path, PathBuf};
use utoipa::ToSchema;

use super::{fault, file_name, text};
use crate::bench::Bench;
use crate::beneath::{beneath, open};
use crate::fault::{Fault, shown};
use crate::question::Question;

/// What do marks on a film tell?
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct MarksAsk {
    /// The marks.
    #[schema(value_type = String)]
    pub file: PathBuf,
    /// The film; the one the marks name, beside them, unless given.
    #[schema(value_type = Option<String>)]
    pub film: Option<PathBuf>,
}

/// What marks told.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct MarksAnswer {
    /// As every recording is told.
    #[serde(flatten)]
    pub analysis: Analysis,
}

impl Question for MarksAsk {
    type Answer = MarksAnswer;

    fn answer(&self, _bench: &Bench) -> Result<MarksAnswer, Fault> {
        let analysis = marked(&self.file, self.film.as_deref())?;
        Ok(MarksAnswer { analysis })
    }

    fn files(&self) -> Vec<&Path> {
        std::iter::once(&self.file)
            .chain(&self.film)
            .map(PathBuf::as_path)
            .collect()
    }
}

/// Marks with the film they name.
pub(crate) fn marked(path: &Path, film: Option<&Path>) -> Result<Analysis, Fault> {
    let text = text(path)?;
    let given = marks::read(&text, &shown(path))?;
    let beside = path.parent().unwrap_or(Path::new(""));
    let named = given
        .film
        .as_ref()
        .map(|f| beneath(beside, f))
        .transpose()?;
    let frames = match film.map(Path::to_owned).or(named) {
        Some(film) => {
            let mut file = BufReader::new(open(&film)?);
            Some(frame_times(&mut file).map_err(|e| fault(&film, RecordingKind::Sound, &e))?)
        }
        None => None,
    };
    measure_marks(&file_name(path), &given, frames.as_deref())
        .map_err(|e| fault(path, RecordingKind::Marks, &e))
}
