//! Where a question is worked on: which boat, and who waits for the answer.

use boat::{Boat, BoatFileError};
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};
use utoipa::ToSchema;

use crate::fault::Fault;
use crate::folder::{self, Loaded};
use crate::watch::{Remark, Watch};

/// Which boat.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct BoatAt {
    /// Its folder, or the boat file inside.
    #[schema(value_type = String)]
    pub path: PathBuf,
    /// A boat file's text to take instead of the one on disk: what is tried out and not saved. Outings, builds,
    /// meshes and what was learned are the folder's all the same.
    #[serde(default)]
    pub draft: Option<String>,
}

impl BoatAt {
    /// The boat as it is on disk.
    pub fn saved(path: impl Into<PathBuf>) -> Self {
        Self {
            path: path.into(),
            draft: None,
        }
    }
}

/// Which boat is asked, and who waits.
#[derive(Clone, Copy)]
pub struct Bench<'a> {
    boat: Option<&'a BoatAt>,
    watch: &'a dyn Watch,
}

/// A mesh of millions of triangles takes half a minute.
const READING: &str = "reading the hull and finding its surfaces";

impl<'a> Bench<'a> {
    /// For a question of a boat, or of none.
    pub fn new(boat: Option<&'a BoatAt>, watch: &'a dyn Watch) -> Self {
        Self { boat, watch }
    }

    /// Who waits.
    pub fn watch(&self) -> &'a dyn Watch {
        self.watch
    }

    /// The boat asked, where one was named.
    pub fn boat_if_any(&self) -> Option<&'a BoatAt> {
        self.boat
    }

    /// The boat asked.
    ///
    /// # Errors
    /// [`Fault`] when the question came without one.
    pub fn boat(&self) -> Result<&'a BoatAt, Fault> {
        self.boat
            .ok_or_else(|| Fault::new("this question needs a boat", "name a boat folder"))
    }

    /// The boat with its shape and with what was learned of it; what is odd about its file is remarked.
    ///
    /// # Errors
    /// [`Fault`] with everything wrong and where.
    pub fn load(&self) -> Result<Loaded, Fault> {
        let boat = self.boat()?;
        self.watch.step(READING);
        self.remarked(folder::load(boat)?)
    }

    /// The same as declared, without what was learned.
    ///
    /// # Errors
    /// [`Fault`] with everything wrong and where.
    pub fn load_declared(&self) -> Result<Loaded, Fault> {
        let boat = self.boat()?;
        self.watch.step(READING);
        self.remarked(folder::load_declared(boat)?)
    }

    /// What the boat file declares, without looking at its mesh.
    ///
    /// # Errors
    /// [`Fault`] with everything wrong and where.
    pub fn declared(&self) -> Result<Boat, Fault> {
        folder::declared(self.boat()?)
    }

    /// The folder of the boat, once its file has been read.
    ///
    /// # Errors
    /// [`Fault`] when there is no boat there that can be read.
    pub fn home(&self) -> Result<PathBuf, Fault> {
        self.declared()?;
        let path = &self.boat()?.path;
        if path.is_dir() {
            return Ok(path.clone());
        }
        Ok(path.parent().map(Path::to_owned).unwrap_or_default())
    }

    /// Goes on only while the answer is wanted.
    ///
    /// # Errors
    /// [`Fault::Stopped`].
    pub fn go_on(&self) -> Result<(), Fault> {
        match self.watch.wanted() {
            true => Ok(()),
            false => Err(Fault::Stopped),
        }
    }

    /// Says what is being done, and goes on only while the answer is wanted.
    ///
    /// # Errors
    /// [`Fault::Stopped`].
    pub fn step(&self, what: &'static str) -> Result<(), Fault> {
        self.watch.step(what);
        self.go_on()
    }

    fn remarked(&self, loaded: Loaded) -> Result<Loaded, Fault> {
        if !loaded.warnings.is_empty() {
            let file = crate::fault::shown(&loaded.file);
            let odd = BoatFileError::new(&file, &loaded.text, loaded.warnings.clone());
            self.watch.remark(&Remark::Text(odd));
        }
        Ok(loaded)
    }
}
