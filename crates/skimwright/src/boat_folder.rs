//! A boat folder for a command: warnings are printed, and the rest is the `folder` crate's.

use boat::{Boat, BoatFileError};
use std::path::Path;

pub use folder::{LEARNED, Loaded};

use crate::failure::{Failure, handler, shown};
use crate::output;

/// Reads a boat folder, or the boat file inside it, with what was learned of the boat.
pub fn load(path: &Path) -> Result<Loaded, Failure> {
    warned(folder::load(path)?)
}

/// The same as declared, without what was learned.
pub fn load_declared(path: &Path) -> Result<Loaded, Failure> {
    warned(folder::load_declared(path)?)
}

/// What a boat folder declares, without looking at its mesh.
pub fn declared(path: &Path) -> Result<Boat, Failure> {
    let file = folder::boat_file(path)?;
    let (boat, _) = boat::load(&folder::read_text(&file)?, &shown(&file))?;
    Ok(boat)
}

/// The text of a file a person writes.
pub fn read_text(file: &Path) -> Result<String, Failure> {
    Ok(folder::read_text(file)?)
}

/// Prints what should be known about a boat file.
fn warned(loaded: Loaded) -> Result<Loaded, Failure> {
    if loaded.warnings.is_empty() {
        return Ok(loaded);
    }
    let file = shown(&loaded.file);
    let all = BoatFileError::new(&file, &loaded.text, loaded.warnings.clone());
    let mut drawn = String::new();
    if handler().render_report(&mut drawn, &all).is_ok() {
        output::warn(&drawn);
    }
    Ok(loaded)
}

/// Writes beside the target, flushes, and renames: whole or not at all.
pub fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    Ok(folder::write_whole(path, bytes)?)
}
