//! Studies and shapes worked out so far, by what they were worked out from.

use advice::Finding;
use boat::HullSource;
use form::Form;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, OnceLock};
use std::time::SystemTime;
use study::{Effort, Study};

use crate::error::{Answer, ApiError};
use crate::views::staves::{self, Lines, StaveKind};

/// Studies kept.
const KEPT: usize = 12;
/// Shapes kept.
const SHAPES: usize = 4;

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
}

type Outcome = Answer<Arc<Studied>>;

/// One text's answers, worked out at most once.
#[derive(Default)]
struct Slot {
    quick: OnceLock<Outcome>,
    full: OnceLock<Outcome>,
    staves: [OnceLock<Arc<Vec<Lines>>>; 4],
}

#[derive(Default)]
struct Kept {
    studies: Vec<(String, Arc<Slot>)>,
    shapes: Vec<(ShapeKey, Arc<Form>)>,
}

type Stamp = Option<(u64, SystemTime)>;

#[derive(PartialEq, Clone)]
struct ShapeKey {
    folder: PathBuf,
    source: HullSource,
    stamps: Vec<Stamp>,
}

/// See the module.
#[derive(Default)]
pub struct Studies {
    kept: Mutex<Kept>,
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
        let known = self.with(|kept| {
            let found = kept.shapes.iter().find(|(k, _)| *k == key);
            found.map(|(_, form)| form.clone())
        });
        let shape = match known {
            Some(shape) => shape,
            None => {
                let read = workshop::folder::read_shape(folder, &file, text, &boat.hull.source)?;
                let shape = Arc::new(read);
                self.with(|kept| remember(&mut kept.shapes, key, shape.clone(), SHAPES));
                shape
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
        cell.get_or_init(|| work(ready, depth, step)).clone()
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
        let slot = self.slot(&self.ready(folder, text)?.key);
        let cell = &slot.staves[kind as usize];
        if cell.get().is_none() && !wanted() {
            return Err(given_up());
        }
        Ok(cell
            .get_or_init(|| Arc::new(staves::lines(&studied.study, kind)))
            .clone())
    }

    fn slot(&self, key: &str) -> Arc<Slot> {
        self.with(|kept| {
            let found = kept.studies.iter().position(|(k, _)| k == key);
            let slot = found.map_or_else(Arc::default, |at| kept.studies.remove(at).1);
            remember(&mut kept.studies, key.to_owned(), slot.clone(), KEPT);
            slot
        })
    }

    fn with<T>(&self, f: impl FnOnce(&mut Kept) -> T) -> T {
        f(&mut self.kept.lock().unwrap_or_else(|e| e.into_inner()))
    }
}

/// Work that was overtaken by a newer question.
pub fn given_up() -> ApiError {
    ApiError::conflict(
        "the boat was changed before this was worked out",
        "ask again for the boat as it is now",
    )
}

fn work(ready: Ready, depth: Depth, step: &dyn Fn(&'static str)) -> Outcome {
    let effort = match depth {
        Depth::Quick => Effort {
            draws: 0,
            trials: false,
            deep: false,
            ..Effort::default()
        },
        // It comes by itself, after the quick one: there is time for twice as many.
        Depth::Full => Effort {
            draws: 64,
            ..Effort::default()
        },
    };
    let file: &dyn study::Source = &ready.source;
    let study = study::study_with(ready.source.subject(), Some(file), effort, step)
        .map_err(|error| ApiError::unusable(error.to_string(), hint(&error)))?;
    let findings = advice::findings(&study);
    Ok(Arc::new(Studied { study, findings }))
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

/// Size and age of a file: what tells whether it changed.
fn stamp(file: &Path) -> Stamp {
    let about = std::fs::metadata(file).ok()?;
    Some((about.len(), about.modified().ok()?))
}

/// Newest last; the oldest go.
fn remember<K, V>(kept: &mut Vec<(K, V)>, key: K, value: V, most: usize) {
    kept.push((key, value));
    let over = kept.len().saturating_sub(most);
    kept.drain(..over);
}
