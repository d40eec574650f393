//! A new boat folder: made whole beside its place, or not at all, and never over anything that is there.

use std::fs;
use std::io;
use std::path::Path;
use tempfile::TempDir;

use crate::fault::{Fault, shown};
use crate::writing::{UNFINISHED, flush_folder, write_whole};

/// Refuses a place where something is; an empty folder is nothing.
///
/// # Errors
/// [`Fault`] that says so.
pub fn refuse_taken(dir: &Path) -> Result<(), Fault> {
    if dir.symlink_metadata().is_err() {
        return Ok(());
    }
    if !dir.is_dir() {
        return Err(Fault::new(
            format!("{} is a file", shown(dir)),
            "name a folder that does not exist yet; nothing was changed",
        ));
    }
    let mut entries = fs::read_dir(dir).map_err(|e| Fault::system("read the folder", dir, &e))?;
    if entries.next().is_some() {
        return Err(Fault::new(
            format!("{} is not empty", shown(dir)),
            "name a folder that does not exist yet; nothing was changed",
        ));
    }
    Ok(())
}

/// Makes the folder with these files in it.
///
/// # Errors
/// [`Fault`] when something is there, or the system refuses; nothing is left behind.
pub fn boat_folder(dir: &Path, files: &[(&str, &[u8])]) -> Result<(), Fault> {
    refuse_taken(dir)?;
    let parent = match dir.parent() {
        Some(p) if !p.as_os_str().is_empty() => p,
        _ => Path::new("."),
    };
    fs::create_dir_all(parent).map_err(|e| Fault::system("make", dir, &e))?;
    let refused = |e: std::io::Error| Fault::system("write in", parent, &e);
    let beside = tempfile::Builder::new()
        .prefix(UNFINISHED)
        .tempdir_in(parent)
        .map_err(refused)?;
    for (name, bytes) in files {
        let file = beside.path().join(name);
        if let Some(inner) = file.parent() {
            fs::create_dir_all(inner).map_err(refused)?;
        }
        write_whole(&file, bytes)?;
    }
    named(beside, dir)
        .map_err(refused)?
        .map_err(|e| Fault::system("make", dir, &e))?;
    flush_folder(parent);
    Ok(())
}

/// Gives a folder that was filled beside its place, for its owner alone, the modes of any other and its name. The outer
/// error is of the folder itself, the inner of its name; nothing is left behind either way.
pub(crate) fn named(beside: TempDir, dir: &Path) -> io::Result<io::Result<()>> {
    #[cfg(unix)]
    fs::set_permissions(
        beside.path(),
        std::os::unix::fs::PermissionsExt::from_mode(0o755),
    )?;
    // An empty folder may stand there; the system refuses to rename onto anything else, and Windows even onto that.
    if cfg!(windows) {
        let _ = fs::remove_dir(dir);
    }
    let whole = beside.keep();
    let renamed = fs::rename(&whole, dir);
    if renamed.is_err() {
        let _ = fs::remove_dir_all(&whole);
    }
    Ok(renamed)
}

/// The boat's name unless one was given: the folder's.
///
/// # Errors
/// [`Fault`] for a folder without a name.
pub fn name_of(dir: &Path, given: Option<&String>) -> Result<String, Fault> {
    if let Some(name) = given {
        return Ok(name.clone());
    }
    let name = dir.file_name().and_then(|name| name.to_str());
    name.map(str::to_owned).ok_or_else(|| {
        Fault::new(
            format!("{} gives the boat no name", shown(dir)),
            "name the boat with --name",
        )
    })
}
