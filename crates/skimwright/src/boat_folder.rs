//! A boat folder for a command: what is odd about it is printed, and the rest is the workshop's.

use std::path::Path;
use workshop::{Bench, BoatAt, folder};

pub use workshop::folder::{LEARNED, Loaded};

use crate::failure::Failure;
use crate::progress::Progress;

/// Reads a boat folder, or the boat file inside it, with what was learned of the boat.
pub fn load(path: &Path) -> Result<Loaded, Failure> {
    Ok(Bench::new(Some(&BoatAt::saved(path)), &Progress::new()).load()?)
}

/// The same as declared, without what was learned.
pub fn load_declared(path: &Path) -> Result<Loaded, Failure> {
    Ok(Bench::new(Some(&BoatAt::saved(path)), &Progress::new()).load_declared()?)
}

/// The text of a file a person writes.
pub fn read_text(file: &Path) -> Result<String, Failure> {
    Ok(folder::read_text(file)?)
}

/// Writes beside the target, flushes, and renames: whole or not at all.
pub fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    Ok(folder::write_whole(path, bytes)?)
}
