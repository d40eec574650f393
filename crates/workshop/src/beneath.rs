//! What lies in a boat folder: found without being led out of it, opened only where it is a regular file, and read
//! within a limit.
//!
//! A boat folder may come from somebody else. Links, pipes and devices in it must not make the program read or write
//! elsewhere, or wait for ever.

use std::fs::{self, File};
use std::io::Read as _;
use std::path::{Component, Path, PathBuf};

use crate::fault::{Fault, shown};

/// The place of something in a folder, there or not. Links and `..` that lead out of the folder are refused.
///
/// # Errors
/// [`Fault`] for such a way.
pub fn beneath(folder: &Path, name: impl AsRef<Path>) -> Result<PathBuf, Fault> {
    beneath_as("the file", folder, name.as_ref())
}

/// The same for something that is there, with links inside the folder followed.
///
/// # Errors
/// [`Fault`] for such a way and for a file that is not there.
pub fn inside(folder: &Path, name: &str) -> Result<PathBuf, Fault> {
    inside_as("the file", folder, name)
}

pub(crate) fn inside_as(what: &str, folder: &Path, name: &str) -> Result<PathBuf, Fault> {
    let path = beneath_as(what, folder, Path::new(name))?;
    fs::canonicalize(&path).map_err(|e| Fault::system("read", &path, &e))
}

fn beneath_as(what: &str, folder: &Path, name: &Path) -> Result<PathBuf, Fault> {
    let plain = name
        .components()
        .all(|part| matches!(part, Component::Normal(_) | Component::CurDir));
    let outside = || {
        Fault::new(
            format!("{what} {} is outside the boat folder", shown(name)),
            "copy it into the boat folder",
        )
    };
    if !plain {
        return Err(outside());
    }
    if let Some(part) = name
        .components()
        .find(|part| is_reserved(&part.as_os_str().to_string_lossy()))
    {
        return Err(Fault::new(
            format!("{} names a device on some systems", shown(part.as_ref())),
            "take another name",
        ));
    }
    let here = if folder.as_os_str().is_empty() {
        Path::new(".")
    } else {
        folder
    };
    let path = here.join(name);
    // The last part of the way that is there; a link counts even where it leads nowhere.
    let Some(there) = path.ancestors().find(|p| p.symlink_metadata().is_ok()) else {
        return Ok(path);
    };
    let real = fs::canonicalize(there).map_err(|e| Fault::system("read", there, &e))?;
    let home = fs::canonicalize(here).map_err(|e| Fault::system("open", here, &e))?;
    if real.starts_with(home) {
        Ok(path)
    } else {
        Err(outside())
    }
}

/// Whether some system takes a name for one of its devices, whatever its extension: CON, NUL, COM1.
pub fn is_reserved(name: &str) -> bool {
    let stem = name
        .split('.')
        .next()
        .unwrap_or(name)
        .trim_end()
        .to_ascii_uppercase();
    let numbered = |word: &str| {
        let number = stem.strip_prefix(word);
        number.is_some_and(|n| n.len() == 1 && n.bytes().all(|b| b.is_ascii_digit()))
    };
    ["CON", "PRN", "AUX", "NUL"].contains(&stem.as_str()) || numbered("COM") || numbered("LPT")
}

/// Opens a regular file to be read.
///
/// # Errors
/// [`Fault`] when it is a folder, a pipe or a device, or the system refuses.
pub fn open(path: &Path) -> Result<File, Fault> {
    // Asked by name first: opening a pipe would wait for someone to write to it.
    let about = fs::metadata(path).map_err(|e| Fault::system("open", path, &e))?;
    if !about.is_file() {
        let what = format!("{} is not a file", shown(path));
        return Err(Fault::new(what, "name a file here"));
    }
    File::open(path).map_err(|e| Fault::system("open", path, &e))
}

/// Reads a regular file. Asks for its size before reading anything, and never reads more than was allowed.
///
/// # Errors
/// [`Fault`] of `allow`, of [`open`], or of the system.
pub fn read_within(
    path: &Path,
    allow: impl Fn(u64) -> Result<(), Fault>,
) -> Result<Vec<u8>, Fault> {
    let refused = |e: std::io::Error| Fault::system("read", path, &e);
    let file = open(path)?;
    let size = file.metadata().map_err(refused)?.len();
    allow(size)?;
    let mut bytes = Vec::with_capacity(size as usize);
    file.take(size + 1)
        .read_to_end(&mut bytes)
        .map_err(refused)?;
    allow(bytes.len() as u64)?;
    Ok(bytes)
}

/// Reads a regular file of at most `most` bytes.
///
/// # Errors
/// [`Fault`] when it is larger, no regular file, or the system refuses.
pub fn read_at_most(path: &Path, most: u64) -> Result<Vec<u8>, Fault> {
    read_within(path, |size| match size <= most {
        true => Ok(()),
        false => Err(Fault::new(
            format!("{} is over the limit of {} MB", shown(path), most >> 20),
            "make it smaller, or move it out of the way",
        )),
    })
}

#[cfg(all(test, unix))]
mod tests {
    use super::*;
    use std::os::unix::fs::symlink;

    #[test]
    fn no_way_leads_out_of_the_folder() {
        let outside = tempfile::tempdir().expect("a folder");
        fs::write(outside.path().join("secret"), "x").expect("written");
        let boat = tempfile::tempdir().expect("a folder");
        let at = |name: &str| boat.path().join(name);
        fs::create_dir(at("outings")).expect("made");
        fs::write(at("outings/own"), "x").expect("written");
        symlink(outside.path(), at("builds")).expect("a link");
        symlink(outside.path().join("none"), at("nowhere")).expect("a link");
        symlink(boat.path().join(".."), at("up")).expect("a link");
        symlink(at("outings"), at("days")).expect("a link");
        let way = |name: &str| beneath(boat.path(), name);
        for good in ["outings/own", "outings/new/deep", "days/own", "new.txt"] {
            assert_eq!(way(good).expect(good), at(good));
        }
        for bad in [
            "builds",
            "builds/secret",
            "builds/new",
            "nowhere",
            "up",
            "up/x",
            "../x",
            "/etc/passwd",
        ] {
            assert!(way(bad).is_err(), "{bad}");
        }
        assert!(inside(boat.path(), "days/own").is_ok());
        assert!(inside(boat.path(), "new.txt").is_err());
    }

    #[test]
    fn names_of_devices_are_refused() {
        let boat = tempfile::tempdir().expect("a folder");
        for bad in ["CON", "nul.wav", "outings/Aux", "com1.csv", "LPT9 .txt"] {
            assert!(beneath(boat.path(), bad).is_err(), "{bad}");
        }
        for good in ["console.wav", "null", "com10.csv", "outings/2026-05-17"] {
            assert!(beneath(boat.path(), good).is_ok(), "{good}");
        }
    }

    #[test]
    fn pipes_and_devices_are_not_opened() {
        let boat = tempfile::tempdir().expect("a folder");
        let pipe = boat.path().join("pipe");
        let made = std::process::Command::new("mkfifo").arg(&pipe).status();
        assert!(made.expect("mkfifo").success());
        for odd in [pipe.as_path(), Path::new("/dev/zero"), boat.path()] {
            let refused = read_at_most(odd, 1 << 20).expect_err("no file");
            assert!(refused.to_string().ends_with("is not a file"), "{refused}");
        }
        let large = boat.path().join("large");
        fs::write(&large, vec![0; 3 << 20]).expect("written");
        assert!(read_at_most(&large, 2 << 20).is_err());
        assert_eq!(read_at_most(&large, 3 << 20).expect("read").len(), 3 << 20);
    }
}
