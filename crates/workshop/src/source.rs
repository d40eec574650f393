//! A boat folder's boat, and the boat it would be with its file edited.

use boat::{Boat, Edit, Weighed};
use form::Form;
use learn::keep::Kept;
use std::path::{Path, PathBuf};
use std::sync::{Arc, OnceLock};
use study::{Learned, Subject};

use crate::fault::Fault;
use crate::folder::{kept, read_shape, with_measured};

/// A boat file with its folder.
pub struct Source {
    folder: PathBuf,
    file: PathBuf,
    text: String,
    declared: Boat,
    form: Arc<Form>,
    kept: Option<Kept>,
    shell: OnceLock<Option<Weighed>>,
}

impl Source {
    /// The file `text` of `folder`, which declares `declared` of the shape `form`.
    ///
    /// # Errors
    /// [`Fault`] when what outings taught cannot be read.
    pub fn new(folder: &Path, text: &str, declared: Boat, form: Arc<Form>) -> Result<Self, Fault> {
        Ok(Self {
            folder: folder.to_owned(),
            file: folder.join("boat.toml"),
            text: text.to_owned(),
            declared,
            form,
            kept: kept(folder)?,
            shell: OnceLock::new(),
        })
    }

    /// The boat as it is, with what outings taught.
    pub fn subject(&self) -> Subject {
        self.corrected(self.declared.clone(), self.form.clone())
    }

    fn corrected(&self, mut boat: Boat, form: Arc<Form>) -> Subject {
        let kept = self.kept.as_ref();
        let learned = kept.map_or_else(Learned::default, |kept| kept.carry(&boat, &form));
        learned.correct(&mut boat);
        if let Some(shell) = self.shell_by_pieces(&boat, &form) {
            boat.hull.weighed = Some(shell);
        }
        Subject {
            boat,
            form,
            learned,
        }
    }

    /// What its weighed pieces tell of the shell's mass; cut once for all boats whose hull prints as the declared one's.
    fn shell_by_pieces(&self, boat: &Boat, form: &Form) -> Option<Weighed> {
        let (is, was) = (boat, &self.declared);
        if is.hull == was.hull && is.making == was.making {
            let known = self.shell.get_or_init(|| making::weigh::shell(boat, form));
            return known.clone();
        }
        making::weigh::shell(boat, form)
    }

    /// The shape of another boat of the same folder; read again only where the edits are of the hull.
    fn shape(&self, boat: &Boat, text: &str) -> Option<Arc<Form>> {
        let (is, was) = (&boat.hull, &self.declared.hull);
        if is.source == was.source && is.running == was.running {
            return Some(self.form.clone());
        }
        let shape = read_shape(&self.folder, &self.file, text, &is.source).ok()?;
        let form = with_measured(shape, &self.file, text, boat).ok()?;
        Some(Arc::new(form))
    }
}

impl study::Source for Source {
    fn text(&self) -> &str {
        &self.text
    }

    fn declared(&self) -> &Boat {
        &self.declared
    }

    fn edited(&self, edits: &[Edit]) -> Option<Subject> {
        let text = Edit::apply_all(edits, &self.text).ok()?;
        let (boat, _) = boat::load(&text, "boat.toml").ok()?;
        let form = self.shape(&boat, &text)?;
        Some(self.corrected(boat, form))
    }
}
