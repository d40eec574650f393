//! The boat on the desk: as saved, as tried out, and every step between.
//!
//! What is tried out is a text of its own beside the saved one. Each step back is a text too, so
//! that undo needs no inverse of anything. All of it is written to a sidecar after every change:
//! stopping the server at any moment loses nothing.

use boat::merge::{self, Clash, Difference};
use boat::{Edit, PathStep, steps};
use std::collections::HashMap;
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::time::Duration;
use workshop::Fault;
use workshop::beneath::inside;
use workshop::writing::{Writer, clear_unfinished, one_writer, write_over};

use crate::app::Config;
use crate::error::{Answer, ApiError};
use crate::revision::revision;
use crate::sidecar::{Places, Sidecar, Snapshot, Stamp, stamp};

/// Steps back that are kept.
const STEPS: usize = 60;
/// Bytes of text of these; the oldest go first.
const STEP_BYTES: usize = 16 << 20;

/// A boat file is read when it was left alone for so long.
const SETTLED: Duration = Duration::from_millis(40);
const MOMENT: Duration = Duration::from_millis(1);

/// A boat folder with what is tried out.
pub struct Desk {
    /// Where it lives.
    pub folder: PathBuf,
    /// Its boat file.
    pub file: PathBuf,
    /// The demonstration boat it is a scratch copy of; it is copied to the builder when saved.
    pub demo: Option<String>,
    places: Places,
    state: Mutex<State>,
}

#[derive(Debug, Default)]
struct State {
    saved: String,
    draft: String,
    undo: Vec<Snapshot>,
    redo: Vec<Snapshot>,
    gesture: Option<String>,
    version: u64,
    /// Of the sidecar last put down or taken up.
    count: u64,
    /// Of the sidecar in the boat folder then.
    beside: Stamp,
    touched: HashMap<Vec<PathStep>, (u64, String)>,
    outside: Outside,
    /// Of what was learned: every answer carries it.
    taught: Stamp,
    /// What the builder should know of what was tried out before.
    remarks: Vec<String>,
}

impl State {
    fn take(&mut self, sidecar: Sidecar) {
        self.count = sidecar.count;
        self.saved = sidecar.saved;
        self.draft = sidecar.draft;
        self.undo = sidecar.undo;
        self.redo = sidecar.redo;
    }
}

/// What happened to the file behind our back.
#[derive(Debug, Default, Clone, PartialEq)]
pub enum Outside {
    /// Nothing that matters.
    #[default]
    Calm,
    /// It was changed, and the what-if with it; both kept.
    Merged {
        /// Which keys.
        keys: Vec<String>,
    },
    /// It was changed where the what-if was too: somebody must choose.
    Clashes {
        /// The file's new text.
        theirs: String,
        /// Where they disagree.
        clashes: Vec<Clash>,
    },
    /// It cannot be read any more.
    Gone {
        /// Why, in a sentence.
        why: String,
    },
}

impl Outside {
    /// Comments and order alone are nobody's business.
    fn merged(keys: Vec<String>) -> Self {
        if keys.is_empty() {
            Self::Calm
        } else {
            Self::Merged { keys }
        }
    }
}

/// What the page sees of the desk.
#[derive(Debug, Clone)]
pub struct Look {
    /// On disk, as last read.
    pub saved: String,
    /// With what is tried out.
    pub draft: String,
    /// Names of steps back, last first.
    pub undo: Vec<String>,
    /// Names of steps forward, next first.
    pub redo: Vec<String>,
    /// Counts every change.
    pub version: u64,
    /// See [`Outside`].
    pub outside: Outside,
}

/// Who edits, and from what they saw.
#[derive(Debug, Clone, Default)]
pub struct Who {
    /// Names the page.
    pub client: String,
    /// Version it last saw; nothing edits regardless.
    pub seen: Option<u64>,
    /// Edits of one drag share a name and are one step back.
    pub gesture: Option<String>,
}

impl Desk {
    /// Opens a boat folder, with what was tried out when it was last open.
    ///
    /// # Errors
    /// [`ApiError`] when the folder or its file cannot be read.
    pub fn open(path: &Path, config: &Config, demo: Option<String>) -> Answer<Self> {
        let file = workshop::folder::boat_file(path)?;
        let file = std::path::absolute(&file).unwrap_or(file);
        let folder = file.parent().map(Path::to_owned).unwrap_or_default();
        let saved = workshop::folder::read_text(&file)?;
        let desk = Self {
            places: Places::of(&folder, &config.state_folder, config.read_only),
            state: Mutex::new(State {
                draft: saved.clone(),
                saved,
                version: 1,
                ..State::default()
            }),
            folder,
            file,
            demo,
        };
        desk.take_up();
        if !config.read_only {
            let cleared = clear_unfinished(&desk.folder).ok().flatten();
            desk.lock().remarks.extend(cleared);
        }
        Ok(desk)
    }

    /// What the builder should know of what was tried out before, at whatever time it was found.
    pub fn remarks(&self) -> Vec<String> {
        self.lock().remarks.clone()
    }

    /// The desk as it is, after a look at the file.
    pub fn look(&self) -> Look {
        let mut state = self.lock();
        self.notice(&mut state);
        look(&state)
    }

    /// Edits what is tried out.
    ///
    /// # Errors
    /// [`ApiError`] when an edit cannot be made, or would undo what another page did unseen.
    pub fn edit(&self, edits: &[Edit], who: &Who) -> Answer<Look> {
        let (_one, mut state) = self.change();
        unseen(&state, edits, who)?;
        let mut text = state.draft.clone();
        for edit in edits {
            text = made(edit, &text)?;
        }
        let same_drag = who.gesture.is_some() && who.gesture == state.gesture;
        if !same_drag && text != state.draft {
            let label = edits.first().map(Edit::label).unwrap_or_default();
            let before = state.draft.clone();
            push(&mut state.undo, label, before);
        }
        state.redo.clear();
        state.gesture.clone_from(&who.gesture);
        state.draft = text;
        state.version += 1;
        let version = state.version;
        for edit in edits {
            let by = (version, who.client.clone());
            state.touched.insert(edit.path().to_vec(), by);
        }
        self.put_down(&mut state)?;
        Ok(look(&state))
    }

    /// One step back; nothing happens when there is none.
    ///
    /// # Errors
    /// [`ApiError`] when it cannot be put down.
    pub fn undo(&self) -> Answer<Look> {
        self.step(|state| {
            let Some(last) = state.undo.pop() else { return };
            let now = std::mem::replace(&mut state.draft, last.text);
            push(&mut state.redo, last.label, now);
        })
    }

    /// One step forward again.
    ///
    /// # Errors
    /// [`ApiError`] when it cannot be put down.
    pub fn redo(&self) -> Answer<Look> {
        self.step(|state| {
            let Some(next) = state.redo.pop() else { return };
            let now = std::mem::replace(&mut state.draft, next.text);
            push(&mut state.undo, next.label, now);
        })
    }

    /// Back to the saved boat; a step like any other, so it can be undone.
    ///
    /// # Errors
    /// [`ApiError`] when it cannot be put down.
    pub fn discard(&self) -> Answer<Look> {
        self.step(|state| {
            if state.draft == state.saved {
                return;
            }
            let before = std::mem::replace(&mut state.draft, state.saved.clone());
            push(&mut state.undo, "back to the saved boat".into(), before);
            state.redo.clear();
        })
    }

    /// Takes over what was tried out on another copy of the same boat.
    ///
    /// # Errors
    /// [`ApiError`] when it cannot be put down.
    pub fn adopt(&self, other: &Look) -> Answer<Look> {
        self.step(|state| {
            let before = std::mem::replace(&mut state.draft, other.draft.clone());
            if state.draft != before {
                push(
                    &mut state.undo,
                    "as tried out on the demonstration boat".into(),
                    before,
                );
            }
        })
    }

    /// Settles a clash with the file: `mine` keeps what is tried out where both changed.
    ///
    /// # Errors
    /// [`ApiError`] when nothing clashes.
    pub fn settle(&self, mine: bool) -> Answer<Look> {
        let (_one, mut state) = self.change();
        let Outside::Clashes { theirs, clashes } = state.outside.clone() else {
            return Err(ApiError::conflict("nothing has to be chosen", ""));
        };
        let mut merged = merge::merge(&state.saved, &state.draft, &theirs)?.text;
        for clash in clashes.iter().filter(|_| mine) {
            let change = Difference {
                path: clash.path.clone(),
                before: clash.theirs.clone(),
                after: clash.mine.clone(),
                table: false,
            };
            merged = merge::apply(&merged, &change)?;
        }
        let before = std::mem::replace(&mut state.draft, merged);
        push(&mut state.undo, "choice between two changes".into(), before);
        state.saved = theirs;
        state.outside = Outside::Calm;
        state.version += 1;
        self.put_down(&mut state)?;
        Ok(look(&state))
    }

    /// Writes what is tried out to the boat file, comments and order kept.
    ///
    /// # Errors
    /// [`ApiError`] when the text is no boat, the file was changed elsewhere in the same place, is
    /// not the one the page saw, or cannot be written; what is tried out is kept in each case.
    pub fn save(&self, seen: Option<&str>) -> Answer<Look> {
        let mut state = self.lock();
        let writer = one_writer(&self.folder);
        self.notice(&mut state);
        self.may_save(&state, seen)?;
        let _one = writer.map_err(kept)?;
        boat::load(&state.draft, "boat.toml")?;
        let name = self.file.file_name().unwrap_or_default();
        // Through a link inside of the folder, which stays one.
        let file = inside(&self.folder, &name.to_string_lossy()).map_err(kept)?;
        let (saved, draft) = (state.saved.as_bytes(), state.draft.as_bytes());
        write_over(&file, Some(saved), draft).map_err(kept)?;
        state.saved = state.draft.clone();
        state.outside = Outside::Calm;
        state.gesture = None;
        state.version += 1;
        self.put_down(&mut state)?;
        Ok(look(&state))
    }

    fn may_save(&self, state: &State, seen: Option<&str>) -> Answer<()> {
        match &state.outside {
            Outside::Clashes { clashes, .. } => {
                let keys: Vec<String> = clashes.iter().map(|c| merge::spell(&c.path)).collect();
                return Err(ApiError::conflict(
                    format!(
                        "boat.toml was changed elsewhere, in the same place: {}",
                        keys.join(", ")
                    ),
                    "choose which to keep; your what-if is not lost",
                ));
            }
            Outside::Gone { why } => {
                return Err(ApiError::conflict(
                    why.clone(),
                    "put the folder back and save again; your what-if is kept until then",
                ));
            }
            Outside::Calm | Outside::Merged { .. } => {}
        }
        if seen.is_some_and(|seen| seen != revision(&state.saved)) {
            return Err(ApiError::conflict(
                "boat.toml is not the one this page was showing",
                "look at it again, then save; nothing was written",
            ));
        }
        Ok(())
    }

    fn step(&self, change: impl FnOnce(&mut State)) -> Answer<Look> {
        let (_one, mut state) = self.change();
        change(&mut state);
        state.gesture = None;
        state.version += 1;
        self.put_down(&mut state)?;
        Ok(look(&state))
    }

    fn lock(&self) -> std::sync::MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(|e| e.into_inner())
    }

    /// To change what is tried out. Another program may have this boat open too, and each takes up what the other did.
    fn change(&self) -> (Option<Writer>, std::sync::MutexGuard<'_, State>) {
        let mut state = self.lock();
        // A folder that is gone has no other writer.
        let writer = one_writer(&self.folder).ok();
        self.notice(&mut state);
        (writer, state)
    }

    fn taught(&self) -> Stamp {
        stamp(&self.folder.join(workshop::folder::LEARNED))
    }

    /// Takes up what another program tried out on this boat since.
    fn hear_others(&self, state: &mut State) {
        let now = self.places.stamp();
        if now == state.beside {
            return;
        }
        state.beside = now;
        match self.places.others() {
            Ok(Some(sidecar)) if sidecar.count > state.count => {
                state.take(sidecar);
                state.gesture = None;
                state.version += 1;
            }
            Ok(_) => {}
            Err(remark) => {
                state.remarks.push(remark);
                state.version += 1;
            }
        }
    }

    /// Takes in what happened to the file since.
    fn notice(&self, state: &mut State) {
        self.hear_others(state);
        let taught = self.taught();
        if taught != state.taught {
            state.taught = taught;
            state.version += 1;
        }
        let theirs = match self.settled(&state.saved) {
            Ok(text) => text,
            Err(error) => {
                let why = format!("the boat file cannot be read any more: {error}");
                if !matches!(&state.outside, Outside::Gone { why: known } if *known == why) {
                    state.outside = Outside::Gone { why };
                    state.version += 1;
                }
                return;
            }
        };
        if let Some(why) = torn(&theirs) {
            if !matches!(&state.outside, Outside::Gone { why: known } if *known == why) {
                state.outside = Outside::Gone { why };
                state.version += 1;
            }
            return;
        }
        if matches!(state.outside, Outside::Gone { .. }) {
            state.outside = Outside::Calm;
            state.version += 1;
        }
        if theirs == state.saved {
            if matches!(state.outside, Outside::Clashes { .. }) {
                state.outside = Outside::Calm;
                state.version += 1;
            }
            return;
        }
        if matches!(&state.outside, Outside::Clashes { theirs: known, .. } if *known == theirs) {
            return;
        }
        self.take_in(state, theirs);
        state.version += 1;
        // The file's own change is on disk already; a sidecar that lags is caught up next time.
        let _ = self.put_down(state);
    }

    /// The file's text. One that was changed a moment ago is left to settle: an editor may empty a file before it
    /// writes it, and what stands between is nobody's boat.
    fn settled(&self, known: &str) -> Result<String, Fault> {
        loop {
            let changed = std::fs::metadata(&self.file).and_then(|about| about.modified());
            let text = workshop::folder::read_text(&self.file)?;
            // A clock that was set back leaves nothing to wait for.
            let age = changed.ok().and_then(|at| at.elapsed().ok());
            match age.and_then(|age| SETTLED.checked_sub(age)) {
                Some(left) if text != known => std::thread::sleep(left.max(MOMENT)),
                _ => return Ok(text),
            }
        }
    }

    fn take_in(&self, state: &mut State, theirs: String) {
        let changed = merge::differences(&state.saved, &theirs).unwrap_or_default();
        let keys: Vec<String> = changed.iter().map(|d| merge::spell(&d.path)).collect();
        if state.draft == state.saved {
            state.draft.clone_from(&theirs);
            state.saved = theirs;
            state.outside = Outside::merged(keys);
            return;
        }
        match merge::merge(&state.saved, &state.draft, &theirs) {
            Ok(merged) if merged.clashes.is_empty() => {
                let before = std::mem::replace(&mut state.draft, merged.text);
                push(&mut state.undo, "change made outside".into(), before);
                state.saved = theirs;
                state.outside = Outside::merged(keys);
            }
            Ok(merged) => {
                let clashes = merged.clashes;
                state.outside = Outside::Clashes { theirs, clashes };
            }
            Err(_) => state.outside = Outside::Gone { why: TORN.into() },
        }
    }

    fn put_down(&self, state: &mut State) -> Answer<()> {
        state.count = state.count.saturating_add(1);
        let sidecar = Sidecar {
            count: state.count,
            folder: self.folder.clone(),
            saved: state.saved.clone(),
            draft: state.draft.clone(),
            undo: state.undo.clone(),
            redo: state.redo.clone(),
        };
        let put = self.places.put(&sidecar);
        state.beside = self.places.stamp();
        put.map_err(|(path, error)| kept(Fault::system("keep the what-if in", &path, &error)))
    }

    /// What was tried out when the boat was last open, brought onto the file as it is now.
    fn take_up(&self) {
        let mut state = self.lock();
        state.taught = self.taught();
        let theirs = state.saved.clone();
        let found = self.places.find(&theirs);
        state.beside = self.places.stamp();
        state.remarks = found.remarks;
        if let Some(sidecar) = found.sidecar {
            state.take(sidecar);
            if theirs != state.saved {
                self.take_in(&mut state, theirs);
            }
        }
        for draft in found.more {
            push(&mut state.undo, "tried out elsewhere".into(), draft);
            let said =
                "something else was tried out on this boat, or on one that lay here; undo shows it";
            state.remarks.push(said.to_owned());
        }
    }
}

const TORN: &str = "boat.toml cannot be read just now";

/// Why a text is no boat file at all: an editor at work. The boat as it was is kept, and the file looked at again.
fn torn(text: &str) -> Option<String> {
    if !text.trim().is_empty() {
        merge::differences(text, text).err()?;
    }
    let found = boat::load(text, "boat.toml").err();
    let found = found.map(|fault| crate::error::problems(text, &fault.problems));
    let first = found.as_ref().and_then(|all| all.first());
    let place = first.map_or(String::new(), |p| {
        format!(": line {}, {}", p.line, p.text.trim_end_matches('.'))
    });
    Some(format!(
        "{TORN}{place}. The boat as it was before is shown; put the line right and it is read again"
    ))
}

/// A failed write, with the one thing the builder wants to know.
fn kept(error: Fault) -> ApiError {
    let mut out = ApiError::from(error);
    out.add_hint("what you tried out is kept in this page and here, unsaved");
    out
}

/// Refuses an edit of what another page changed since this one looked.
fn unseen(state: &State, edits: &[Edit], who: &Who) -> Answer<()> {
    let Some(seen) = who.seen else { return Ok(()) };
    for edit in edits {
        let touched = state.touched.get(edit.path());
        if touched.is_some_and(|(at, by)| *at > seen && *by != who.client) {
            return Err(ApiError::conflict(
                format!(
                    "another page changed {} meanwhile",
                    merge::spell(edit.path())
                ),
                "look at its value, then change it again; nothing was lost",
            ));
        }
    }
    Ok(())
}

fn push(stack: &mut Vec<Snapshot>, label: String, text: String) {
    stack.push(Snapshot { label, text });
    let mut bytes = 0;
    let kept = stack.iter().rev().take(STEPS).take_while(|step| {
        bytes += step.text.len();
        bytes <= STEP_BYTES
    });
    let over = stack.len() - kept.count();
    stack.drain(..over);
}

fn look(state: &State) -> Look {
    let names = |stack: &[Snapshot]| stack.iter().rev().map(|s| s.label.clone()).collect();
    Look {
        saved: state.saved.clone(),
        draft: state.draft.clone(),
        undo: names(&state.undo),
        redo: names(&state.redo),
        version: state.version,
        outside: state.outside.clone(),
    }
}

/// `text` with one edit made.
fn made(edit: &Edit, text: &str) -> Answer<String> {
    if steps(edit.path()).is_none() {
        return Err(ApiError::unusable(
            format!("the boat file has no place `{}`", merge::spell(edit.path())),
            "GET /api/keys lists every key",
        ));
    }
    Ok(edit.apply(text)?)
}
