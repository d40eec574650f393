//! What is tried out, on disk: in the boat folder, or with the builder's own state where that must not or cannot be
//! written.
//!
//! One with the builder's own state is known by three things: which folder it is of, where that lay, and what the boat
//! file held. A folder that was renamed, moved or brought back finds its own again; another boat in its place does not.
//! Times of files decide nothing.

use serde::{Deserialize, Serialize};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::time::SystemTime;
use workshop::beneath::{beneath, read_at_most};
use workshop::writing::UNFINISHED;

use crate::revision::revision;

/// In the boat folder.
const BESIDE: &str = ".skimwright/whatif.json";
/// A larger one is none of ours.
const MOST_BYTES: u64 = 64 << 20;
/// What could not be read is called so.
const ASIDE: &str = "unreadable";

/// A text to go back to.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Snapshot {
    /// What was done from it: `part Battery at`.
    pub label: String,
    /// The boat file then.
    pub text: String,
}

/// Everything that is kept of a boat on the desk.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Sidecar {
    /// Counts each time it is put down: of two sidecars the one with more is the later.
    #[serde(default)]
    pub count: u64,
    /// Where the boat lay.
    #[serde(default)]
    pub folder: PathBuf,
    /// The boat file.
    pub saved: String,
    /// The same with what is tried out.
    pub draft: String,
    /// Steps back, last at the end.
    pub undo: Vec<Snapshot>,
    /// Steps forward, next at the end.
    pub redo: Vec<Snapshot>,
}

/// Where sidecars of one boat are.
#[derive(Debug)]
pub struct Places {
    folder: PathBuf,
    /// As it was opened; it may be gone meanwhile.
    identity: String,
    /// None where the way to it leads out of the folder.
    beside: Option<PathBuf>,
    read_only: bool,
    state_folder: PathBuf,
}

/// What was found of a boat.
#[derive(Debug, Default)]
pub struct Found {
    /// The latest.
    pub sidecar: Option<Sidecar>,
    /// What was tried out in others and is not among its steps.
    pub more: Vec<String>,
    /// What the builder should know.
    pub remarks: Vec<String>,
}

/// Size and age of a file, which tell that it was written.
pub type Stamp = Option<(u64, SystemTime)>;

/// See [`Stamp`].
pub fn stamp(path: &Path) -> Stamp {
    let about = fs::metadata(path).ok()?;
    Some((about.len(), about.modified().ok()?))
}

impl Sidecar {
    /// Whether a text is among those that can be gone to.
    fn holds(&self, text: &str) -> bool {
        let steps = self.undo.iter().chain(&self.redo);
        let mut texts = steps.map(|step| step.text.as_str());
        self.draft == text || self.saved == text || texts.any(|known| known == text)
    }
}

impl Places {
    /// Of the boat in `folder`.
    pub fn of(folder: &Path, state_folder: &Path, read_only: bool) -> Self {
        Self {
            folder: folder.to_owned(),
            identity: identity(folder).unwrap_or_else(|| place(folder)),
            beside: beneath(folder, BESIDE).ok(),
            read_only,
            state_folder: state_folder.to_owned(),
        }
    }

    /// The one in the boat folder, unless nothing may be written there.
    fn may_write(&self) -> Option<&Path> {
        self.beside.as_deref().filter(|_| !self.read_only)
    }

    /// Of the one in the boat folder.
    pub fn stamp(&self) -> Stamp {
        stamp(self.may_write()?)
    }

    /// What another program put down in the boat folder.
    ///
    /// # Errors
    /// A remark where it cannot be read; it is set aside then.
    pub fn others(&self) -> Result<Option<Sidecar>, String> {
        let Some(beside) = self.may_write() else {
            return Ok(None);
        };
        read(beside).map_err(|why| self.set_aside(beside, &why))
    }

    /// All that is kept of a boat whose file holds `saved`.
    pub fn find(&self, saved: &str) -> Found {
        let mut found = Found {
            remarks: self.set_aside_before(),
            ..Found::default()
        };
        let (own, here_before) = self.elsewhere(saved);
        let mut read_all = |paths: Vec<PathBuf>| {
            let mut all: Vec<Sidecar> = Vec::new();
            for path in paths {
                match read(&path) {
                    Ok(sidecar) => all.extend(sidecar),
                    Err(why) => found.remarks.push(self.set_aside(&path, &why)),
                }
            }
            all
        };
        // A boat opened read-only keeps nothing in its folder, and what is there is still taken up.
        let mut all = read_all(self.beside.iter().cloned().chain(own).collect());
        let others = read_all(here_before);
        // The first of equals: the one in the boat folder.
        all.sort_by_key(|sidecar| std::cmp::Reverse(sidecar.count));
        let mut all = all.into_iter();
        let latest = all.next();
        let known = |text: &str| text == saved || latest.as_ref().is_some_and(|it| it.holds(text));
        let more = all.chain(others).map(|other| other.draft);
        found.more = more.filter(|draft| !known(draft)).collect();
        found.more.dedup();
        found.sidecar = latest;
        found
    }

    /// Puts it down: in the boat folder, else with the builder's own state. Earlier ones of this folder go.
    ///
    /// # Errors
    /// Where and why, when neither can be written.
    pub fn put(&self, sidecar: &Sidecar) -> Result<(), (PathBuf, io::Error)> {
        let failed = |path: &Path| {
            let path = path.to_owned();
            move |error| (path, error)
        };
        let bytes = serde_json::to_vec(sidecar)
            .map_err(io::Error::other)
            .map_err(failed(&self.folder))?;
        let earlier = self.of_this_folder();
        let elsewhere = self.state_folder.join(self.name(&sidecar.saved));
        let put = match self.may_write() {
            Some(beside) if write(beside, &bytes, &self.folder).is_ok() => beside,
            _ => {
                write(&elsewhere, &bytes, &self.folder).map_err(failed(&elsewhere))?;
                &elsewhere
            }
        };
        for path in earlier.iter().filter(|path| path.as_path() != put) {
            let _ = fs::remove_file(path);
        }
        Ok(())
    }

    /// Of one with the builder's own state.
    fn name(&self, saved: &str) -> String {
        let (place, content) = (place(&self.folder), revision(saved));
        format!("{}-{place}-{content}.json", self.identity)
    }

    /// Those with the builder's own state that are of this folder, whatever the boat file held.
    fn of_this_folder(&self) -> Vec<PathBuf> {
        let kept = kept(&self.state_folder).into_iter();
        let own = kept.filter(|(_, [folder, ..])| *folder == self.identity);
        own.map(|(path, _)| path).collect()
    }

    /// Those with the builder's own state that are of this boat, and those of boats that lay here before.
    fn elsewhere(&self, saved: &str) -> (Vec<PathBuf>, Vec<PathBuf>) {
        let (here, now) = (place(&self.folder), revision(saved));
        let (mut own, mut before) = (Vec::new(), Vec::new());
        for (path, [folder, place, content]) in kept(&self.state_folder) {
            let same = content == now && (place == here || left_behind(&path, &folder));
            if folder == self.identity || same {
                own.push(path);
            } else if place == here {
                before.push(path);
            }
        }
        (own, before)
    }

    /// What could not be read at an earlier start.
    fn set_aside_before(&self) -> Vec<String> {
        let beside = self.beside.as_deref().and_then(Path::parent);
        let in_the_folder = beside.map(aside).unwrap_or_default();
        let mut elsewhere = aside(&self.state_folder);
        elsewhere.retain(|path| {
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            name.starts_with(&self.identity)
        });
        let all = in_the_folder.iter().chain(&elsewhere);
        let each = all.map(|path| {
            let path = path.display();
            format!("what was tried out once could not be read; it is kept as {path}")
        });
        each.collect()
    }

    /// Moves what cannot be read out of the way.
    fn set_aside(&self, path: &Path, why: &str) -> String {
        let what = format!("what was tried out before cannot be read: {why}");
        let may = !self.read_only || self.beside.as_deref() != Some(path);
        let first = path.with_extension(ASIDE);
        let further = (2..1000).map(|n| path.with_extension(format!("{n}.{ASIDE}")));
        let mut free = std::iter::once(first).chain(further);
        match free.find(|to| to.symlink_metadata().is_err()) {
            Some(to) if may && fs::rename(path, &to).is_ok() => {
                format!("{what}; it was set aside as {}", to.display())
            }
            _ => format!("{what}; the saved boat is shown"),
        }
    }
}

/// Sidecars with the builder's own state, each with the three parts of its name.
fn kept(state_folder: &Path) -> Vec<(PathBuf, [String; 3])> {
    let entries = fs::read_dir(state_folder).into_iter().flatten().flatten();
    let named = entries.filter_map(|entry| {
        let name = entry.file_name();
        let stem = name.to_str()?.strip_suffix(".json")?;
        let parts: Vec<String> = stem.split('-').map(str::to_owned).collect();
        Some((entry.path(), parts.try_into().ok()?))
    });
    let mut all: Vec<_> = named.collect();
    all.sort();
    all
}

/// What was set aside in a folder.
fn aside(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let paths = entries.map(|entry| entry.path());
    let mut all: Vec<_> = paths
        .filter(|path| path.extension().is_some_and(|end| end == ASIDE))
        .collect();
    all.sort();
    all
}

/// Whether the folder that a sidecar was of is gone: a copy on another disk takes its place.
fn left_behind(sidecar: &Path, was: &str) -> bool {
    let from = read(sidecar).ok().flatten().map(|sidecar| sidecar.folder);
    from.is_some_and(|from| identity(&from).as_deref() != Some(was))
}

/// Where a folder lies, as part of a name.
fn place(folder: &Path) -> String {
    revision(&folder.to_string_lossy())
}

/// What stays the same of a folder that is renamed, and is another for one made anew in its place.
fn identity(folder: &Path) -> Option<String> {
    let about = fs::metadata(folder).ok().filter(fs::Metadata::is_dir)?;
    let made = about.created().ok();
    #[cfg(unix)]
    let told = {
        use std::os::unix::fs::MetadataExt as _;
        // Numbers of disks change from one start of a system to the next; they are asked where nothing else tells.
        let disk = made.is_none().then(|| about.dev());
        format!("{} {made:?} {disk:?}", about.ino())
    };
    #[cfg(not(unix))]
    let told = format!("{made:?}");
    Some(revision(&told))
}

/// A sidecar, where there is one.
fn read(path: &Path) -> Result<Option<Sidecar>, String> {
    if path.symlink_metadata().is_err() {
        return Ok(None);
    }
    let bytes = read_at_most(path, MOST_BYTES).map_err(|e| e.to_string())?;
    let sidecar = serde_json::from_slice(&bytes);
    sidecar
        .map(Some)
        .map_err(|e| format!("{}: {e}", path.display()))
}

fn write(path: &Path, bytes: &[u8], boat: &Path) -> io::Result<()> {
    use io::Write as _;
    let folder = path.parent().unwrap_or(Path::new("."));
    // A folder that was deleted is not made again behind the builder's back.
    if path.starts_with(boat) && !boat.is_dir() {
        return Err(io::ErrorKind::NotFound.into());
    }
    fs::create_dir_all(folder)?;
    let mut file = tempfile::Builder::new()
        .prefix(UNFINISHED)
        .tempfile_in(folder)?;
    file.write_all(bytes)?;
    file.persist(path)?;
    Ok(())
}
