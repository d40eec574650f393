//! Studies and shapes worked out so far, by what they were worked out from.

use advice::Finding;
use boat::HullSource;
use form::Form;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};
use study::{Effort, Study};

use crate::cache::Cache;
use crate::error::{Answer, ApiError};
use crate::sidecar::{Stamp, stamp};
use crate::views::staves::{self, Lines, StaveKind};

/// Bytes of studies kept: twenty of a boat with all its variations, eighty quick ones.
const STUDY_BYTES: usize = 64 << 20;
/// Bytes of shapes kept: the boat's own and a few that it was before.
const SHAPE_BYTES: usize = 64 << 20;
/// A key with its text, before anything is worked out.
const SLOT_BYTES: usize = 4 << 10;

/// A boat with its shape, ready to be asked.
pub struct Ready {
    /// Its shape.
    pub form: Arc<Form>,
    /// The boat, and the boat with edits made.
    pub source: workshop::folder::Source,
    /// Text, folder and state of the mesh files: what answers depend on.
    key: String,
}

/// A study with its findings.
pub struct Studied {
    /// Everything asked.
    pub study: Study,
    /// Worst first.
    pub findings: Vec<Finding>,
    /// That it takes in memory.
    bytes: usize,
}

type Outcome = Answer<Arc<Studied>>;

/// One text's answers, worked out at most once.
#[derive(Default)]
struct Slot {
    quick: OnceLock<Outcome>,
    full: OnceLock<Outcome>,
    staves: [OnceLock<Arc<Vec<Lines>>>; 4],
}

impl Slot {
    fn bytes(&self) -> usize {
        let studies = [&self.quick, &self.full];
        let studied = studies.iter().filter_map(|cell| cell.get()?.as_ref().ok());
        let lines = self.staves.iter().filter_map(OnceLock::get);
        SLOT_BYTES
            + studied.map(|s| s.bytes).sum::<usize>()
            + lines.map(|all| staves::bytes(all)).sum::<usize>()
    }
}

#[derive(PartialEq, Clone)]
struct ShapeKey {
    folder: PathBuf,
    source: HullSource,
    stamps: Vec<Stamp>,
}

/// See the module.
pub struct Studies {
    studies: Cache<String, Arc<Slot>>,
    shapes: Cache<ShapeKey, Arc<Form>>,
    last: Mutex<Option<(PathBuf, Arc<Studied>)>>,
}

impl Default for Studies {
    fn default() -> Self {
        Self::within(STUDY_BYTES, SHAPE_BYTES)
    }
}

/// How hard to look.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Depth {
    /// Mass, rest and one pass of the speed curve: no heat, turns, spread or adjustments.
    Quick,
    /// All of it.
    Full,
}

impl Studies {
    /// Keeps so many bytes of studies and of shapes, and the last of each.
    pub fn within(study_bytes: usize, shape_bytes: usize) -> Self {
        Self {
            studies: Cache::new(study_bytes),
            shapes: Cache::new(shape_bytes),
            last: Mutex::default(),
        }
    }

    /// Reads `text` as a boat of `folder` and finds its shape, from memory where nothing changed.
    ///
    /// # Errors
    /// [`ApiError`] with every problem of the text, or that of a mesh.
    pub fn ready(&self, folder: &Path, text: &str) -> Answer<Ready> {
        let file = folder.join("boat.toml");
        let (boat, _) = boat::load(text, "boat.toml")?;
        let key = ShapeKey::of(folder, &boat.hull.source);
        let taught = stamp(&folder.join(workshop::folder::LEARNED));
        let answers = format!("{}\n{:?} {taught:?}\n{text}", folder.display(), key.stamps);
        let shape = match self.shapes.get(&key) {
            Some(shape) => shape,
            None => {
                let read = workshop::folder::read_shape(folder, &file, text, &boat.hull.source)?;
                let bytes = read.bytes();
                self.shapes.get_or(key, bytes, || Arc::new(read))
            }
        };
        let form = if boat.hull.running.is_empty() {
            shape
        } else {
            let plain = Form::clone(&shape);
            Arc::new(workshop::folder::with_measured(plain, &file, text, &boat)?)
        };
        let source = workshop::folder::Source::new(folder, text, boat, form.clone())?;
        Ok(Ready {
            form,
            source,
            key: answers,
        })
    }

    /// The study of `text` as a boat of `folder`. `wanted` is asked before each stage: work that
    /// nobody waits for any more is given up.
    ///
    /// # Errors
    /// [`ApiError`] when the boat cannot be studied or the work was given up.
    pub fn study(
        &self,
        folder: &Path,
        text: &str,
        depth: Depth,
        step: &dyn Fn(&'static str),
        wanted: &dyn Fn() -> bool,
    ) -> Outcome {
        let ready = self.ready(folder, text)?;
        let slot = self.slot(&ready.key);
        let cell = match depth {
            Depth::Quick => &slot.quick,
            Depth::Full => &slot.full,
        };
        if let Some(known) = cell.get() {
            return known.clone();
        }
        if !wanted() {
            return Err(given_up());
        }
        let key = ready.key.clone();
        let known = self.known_of(folder).filter(|_| depth == Depth::Quick);
        let found = cell.get_or_init(|| match known {
            Some(known) => work_near(&ready, &known.study),
            None => work(ready, depth, step),
        });
        let found = found.clone();
        if let (Depth::Full, Ok(studied)) = (depth, &found) {
            let mut last = self.last.lock().unwrap_or_else(PoisonError::into_inner);
            *last = Some((folder.to_owned(), studied.clone()));
        }
        self.studies.weigh(&key, slot.bytes());
        found
    }

    /// The last full study of a boat of the folder: one that is tried out is nearly that one.
    fn known_of(&self, folder: &Path) -> Option<Arc<Studied>> {
        let last = self.last.lock().unwrap_or_else(PoisonError::into_inner);
        let (of, studied) = last.as_ref()?;
        (of == folder).then(|| studied.clone())
    }

    /// Bytes of all that is kept, as estimated.
    pub fn bytes(&self) -> usize {
        self.studies.bytes() + self.shapes.bytes()
    }

    /// The full study if it is there already, else the quick one.
    ///
    /// # Errors
    /// As [`Studies::study`].
    pub fn best(&self, folder: &Path, text: &str, wanted: &dyn Fn() -> bool) -> Outcome {
        let key = self.ready(folder, text)?.key;
        let known = self.slot(&key).full.get().cloned();
        match known {
            Some(Ok(full)) => Ok(full),
            _ => self.study(folder, text, Depth::Quick, &|_| {}, wanted),
        }
    }

    /// Lines of one kind over the rail, worked out from whichever study is there.
    ///
    /// # Errors
    /// As [`Studies::study`].
    pub fn staves(
        &self,
        folder: &Path,
        text: &str,
        kind: StaveKind,
        wanted: &dyn Fn() -> bool,
    ) -> Answer<Arc<Vec<Lines>>> {
        let studied = self.best(folder, text, wanted)?;
        let key = self.ready(folder, text)?.key;
        let slot = self.slot(&key);
        let cell = &slot.staves[kind as usize];
        if cell.get().is_none() && !wanted() {
            return Err(given_up());
        }
        let lines = || Arc::new(staves::lines(&studied.study, kind));
        let lines = cell.get_or_init(lines).clone();
        self.studies.weigh(&key, slot.bytes());
        Ok(lines)
    }

    fn slot(&self, key: &str) -> Arc<Slot> {
        let own = SLOT_BYTES + key.len();
        self.studies.get_or(key.to_owned(), own, Arc::default)
    }
}

/// Work that was overtaken by a newer question.
pub fn given_up() -> ApiError {
    ApiError::conflict(
        "the boat was changed before this was worked out",
        "ask again for the boat as it is now",
    )
}

/// The quick study of a boat that is nearly a known one, as while a part is dragged.
fn work_near(ready: &Ready, known: &Study) -> Outcome {
    told(study::study_near(ready.source.subject(), known))
}

fn work(ready: Ready, depth: Depth, step: &dyn Fn(&'static str)) -> Outcome {
    let effort = match depth {
        Depth::Quick => Effort::QUICK,
        // It comes by itself, after the quick one: there is time for bands of twice as many.
        Depth::Full => Effort {
            further: 32,
            ..Effort::default()
        },
    };
    let file: &dyn study::Source = &ready.source;
    told(study::study_with(
        ready.source.subject(),
        Some(file),
        effort,
        step,
    ))
}

fn told(study: Result<Study, study::StudyError>) -> Outcome {
    let study = study.map_err(|error| ApiError::unusable(error.to_string(), hint(&error)))?;
    let findings = advice::findings(&study);
    let bytes = study.bytes();
    Ok(Arc::new(Studied {
        study,
        findings,
        bytes,
    }))
}

fn hint(error: &study::StudyError) -> &'static str {
    use study::StudyError;
    match error {
        StudyError::NoRunningSurface => {
            "the lowest part of the hull needs a flat or vee run that ends in an edge"
        }
        StudyError::Mass(_) => "weigh the parts, or describe the print under [hull.print]",
        _ => "",
    }
}

impl ShapeKey {
    fn of(folder: &Path, source: &HullSource) -> Self {
        let stamps = match source {
            HullSource::Mesh(files) => files.iter().map(|f| stamp(&folder.join(&f.path))).collect(),
            HullSource::Starter(_) => Vec::new(),
        };
        Self {
            folder: folder.to_owned(),
            source: source.clone(),
            stamps,
        }
    }
}
