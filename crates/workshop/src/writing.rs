//! Writing into a boat folder: whole or not at all, one writer at a time, and never over what somebody else changed
//! meanwhile.

use std::ffi::OsStr;
use std::fs::{self, File, TryLockError};
use std::io::Write as _;
use std::path::Path;
use std::time::{Duration, Instant};

use crate::beneath::{beneath, read_at_most};
use crate::fault::{Fault, shown};

/// What is being written is called so until it is whole; what is left of a run that was killed is known by it.
pub const UNFINISHED: &str = ".skimwright-";
/// What comes in piece by piece, by a connection that may break, is called so until all of it is there.
pub const COMING: &str = ".skimwright-coming-";
/// So long another writer is waited for: each holds the folder for a few writes only.
const PATIENCE: Duration = Duration::from_secs(10);
/// So long a file that somebody holds open is tried again, where the system refuses to replace it.
const HELD_OPEN: Duration = Duration::from_secs(1);
/// How often it is looked whether it is done.
const LOOK: Duration = Duration::from_millis(10);

/// The right to write into a boat folder, until it is dropped.
#[derive(Debug)]
pub struct Writer {
    /// Held, not read; none where the file system knows no locks.
    _lock: Option<File>,
}

/// Waits until nobody else writes into a folder. Held for reading what is to be changed and writing it, never for work.
///
/// # Errors
/// [`Fault`] when the folder is gone, or somebody writes for longer than ten seconds.
pub fn one_writer(folder: &Path) -> Result<Writer, Fault> {
    let file = lock_file(folder).map_err(|e| Fault::system("write in", folder, &e))?;
    let until = Instant::now() + PATIENCE;
    loop {
        match file.try_lock() {
            Ok(()) => return Ok(Writer { _lock: Some(file) }),
            Err(TryLockError::WouldBlock) if Instant::now() < until => std::thread::sleep(LOOK),
            Err(TryLockError::WouldBlock) => {
                return Err(Fault::new(
                    format!("another program is writing in {}", shown(folder)),
                    "wait until it is done and try again; nothing was written",
                ));
            }
            // Some file systems know no locks: writing is whole and compared all the same.
            Err(TryLockError::Error(_)) => return Ok(Writer { _lock: None }),
        }
    }
}

/// The folder itself, so that nothing has to be left in it.
#[cfg(unix)]
fn lock_file(folder: &Path) -> std::io::Result<File> {
    let here = Path::new(".");
    File::open(if folder.as_os_str().is_empty() {
        here
    } else {
        folder
    })
}

/// A file beside the what-if: a folder cannot be locked here.
#[cfg(not(unix))]
fn lock_file(folder: &Path) -> std::io::Result<File> {
    let home = folder.join(".skimwright");
    fs::create_dir_all(&home)?;
    let mut lock = File::options();
    lock.create(true).append(true).open(home.join("lock"))
}

/// Writes beside the target, flushes, and renames: whole or not at all. A file that is there keeps its mode.
///
/// # Errors
/// [`Fault`] when the system refuses; what was there before is untouched.
pub fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), Fault> {
    prepared(path, bytes)?.take_place()
}

/// The same over a file that should still hold `before`; `None` where there should be none.
///
/// # Errors
/// [`Fault`] when it holds something else, or the system refuses; what was there before is untouched.
pub fn write_over(path: &Path, before: Option<&[u8]>, bytes: &[u8]) -> Result<(), Fault> {
    // Flushing takes long: it is looked after that, at the last moment.
    let ready = prepared(path, bytes)?;
    let most = before.map_or(0, |before| before.len() as u64);
    let same = match before {
        Some(before) => read_at_most(path, most).is_ok_and(|now| now == before),
        None => path.symlink_metadata().is_err(),
    };
    if !same {
        return Err(Fault::changed(path));
    }
    ready.take_place()
}

/// Everything written and flushed, under a name that does not count.
struct Prepared<'a> {
    file: tempfile::NamedTempFile,
    folder: &'a Path,
    path: &'a Path,
}

fn prepared<'a>(path: &'a Path, bytes: &[u8]) -> Result<Prepared<'a>, Fault> {
    let refused = |e: std::io::Error| Fault::system("write", path, &e);
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    if path.is_dir() {
        return Err(Fault::new(
            format!("cannot write {}: it is a folder", shown(path)),
            "name a file to write",
        ));
    }
    let mut beside = tempfile::Builder::new();
    beside.prefix(UNFINISHED);
    #[cfg(unix)]
    beside.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o644));
    let mut file = beside.tempfile_in(folder).map_err(refused)?;
    file.write_all(bytes).map_err(refused)?;
    if let Ok(there) = path.symlink_metadata()
        && there.is_file()
    {
        file.as_file()
            .set_permissions(there.permissions())
            .map_err(refused)?;
    }
    file.as_file().sync_all().map_err(refused)?;
    Ok(Prepared { file, folder, path })
}

impl Prepared<'_> {
    fn take_place(self) -> Result<(), Fault> {
        let until = Instant::now() + HELD_OPEN;
        let mut file = self.file;
        loop {
            match file.persist(self.path) {
                Ok(_) => break,
                // Windows refuses (access denied, sharing violation) while somebody else reads the file, such as a scanner that looks at each new one.
                Err(refused)
                    if cfg!(windows)
                        && matches!(refused.error.raw_os_error(), Some(5 | 32))
                        && Instant::now() < until =>
                {
                    file = refused.file;
                    std::thread::sleep(LOOK);
                }
                Err(refused) => return Err(Fault::system("write", self.path, &refused.error)),
            }
        }
        flush_folder(self.folder);
        Ok(())
    }
}

/// Makes a new name last through a loss of power, where the system can.
pub fn flush_folder(folder: &Path) {
    #[cfg(unix)]
    let _ = File::open(folder).and_then(|folder| folder.sync_all());
    #[cfg(not(unix))]
    let _ = folder;
}

/// Removes what runs that were killed left unfinished in a boat folder, and says so. What changed within the hour may be
/// of a run that goes on; a recording that is coming in may go on for a day.
///
/// # Errors
/// [`Fault`] when somebody else writes in the folder.
pub fn clear_unfinished(boat: &Path) -> Result<Option<String>, Fault> {
    let _one = one_writer(boat)?;
    let mut homes = vec![boat.to_owned()];
    for inside in [".skimwright", "builds", "outings"] {
        homes.extend(beneath(boat, inside));
    }
    let days = beneath(boat, "outings").map(fs::read_dir);
    let days = days.into_iter().flatten().flatten().flatten();
    let each = days.map(|day| beneath(boat, Path::new("outings").join(day.file_name())));
    homes.extend(each.flatten());
    let entries = homes.iter().flat_map(fs::read_dir).flatten().flatten();
    let removed = entries.filter(is_stale).filter(|entry| {
        let path = entry.path();
        match entry.file_type().is_ok_and(|kind| kind.is_dir()) {
            true => fs::remove_dir_all(path).is_ok(),
            false => fs::remove_file(path).is_ok(),
        }
    });
    Ok(match removed.count() {
        0 => None,
        1 => Some("1 unfinished file of a run that was killed was removed".to_owned()),
        n => Some(format!(
            "{n} unfinished files of runs that were killed were removed"
        )),
    })
}

/// Whether a name is that of what is being written, or was left by a kill.
pub fn is_unfinished(name: &OsStr) -> bool {
    name.to_string_lossy().starts_with(UNFINISHED)
}

/// Whether it was left by a run that goes on no longer.
pub fn is_stale(entry: &fs::DirEntry) -> bool {
    const HOUR: Duration = Duration::from_secs(3600);
    let name = entry.file_name();
    let most = match name.to_string_lossy().starts_with(COMING) {
        true => 24 * HOUR,
        false => HOUR,
    };
    let changed = entry.metadata().and_then(|about| about.modified()).ok();
    is_unfinished(&name) && changed.is_some_and(|at| at.elapsed().is_ok_and(|age| age > most))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_writers_take_turns() {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("count");
        write_whole(&file, b"0").expect("written");
        let add = || {
            let _one = one_writer(folder.path()).expect("in turn");
            let text = fs::read_to_string(&file).expect("read");
            let number: u32 = text.parse().expect("a number");
            let next = (number + 1).to_string();
            write_over(&file, Some(text.as_bytes()), next.as_bytes()).expect("unchanged");
        };
        std::thread::scope(|threads| {
            for _ in 0..4 {
                threads.spawn(|| (0..10).for_each(|_| add()));
            }
        });
        assert_eq!(fs::read_to_string(&file).expect("read"), "40");
    }

    #[test]
    fn what_somebody_else_changed_is_not_written_over() {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("boat.toml");
        write_over(&file, None, b"first").expect("there was none");
        assert!(write_over(&file, None, b"second").is_err());
        for other in ["other", "first and more", ""] {
            fs::write(&file, other).expect("written");
            assert!(write_over(&file, Some(b"first"), b"second").is_err());
            assert_eq!(fs::read_to_string(&file).expect("read"), other);
        }
        let left = fs::read_dir(folder.path()).expect("a folder").count();
        assert_eq!(left, 1, "nothing unfinished is left");
    }

    #[cfg(unix)]
    #[test]
    fn a_file_keeps_its_mode() {
        use std::os::unix::fs::PermissionsExt as _;
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("boat.toml");
        let mode = || fs::metadata(&file).expect("there").permissions().mode() & 0o777;
        write_whole(&file, b"1").expect("written");
        assert_eq!(mode() & 0o077, 0o044 & mode());
        fs::set_permissions(&file, fs::Permissions::from_mode(0o600)).expect("set");
        write_whole(&file, b"2").expect("written");
        assert_eq!(mode(), 0o600);
    }

    #[test]
    fn what_a_killed_run_left_is_cleared_and_nothing_else() {
        let boat = tempfile::tempdir().expect("a folder");
        let at = |name: &str| boat.path().join(name);
        fs::create_dir_all(at("outings/2026-05-17")).expect("made");
        fs::create_dir_all(at(".skimwright")).expect("made");
        fs::create_dir_all(at("builds/.skimwright-keeping-a/parts")).expect("made");
        let old = [
            "outings/2026-05-17/.skimwright-b",
            ".skimwright-c",
            "builds/.skimwright-keeping-a",
        ];
        let stay = [
            "outings/2026-05-17/run.wav",
            ".skimwright/whatif.json",
            "outings/2026-05-17/.skimwright-coming-d",
            ".hidden",
            ".skimwright-new",
        ];
        for name in old[..2].iter().chain(&stay) {
            fs::write(at(name), "x").expect("written");
        }
        let before = std::time::SystemTime::now() - Duration::from_secs(7200);
        for name in old.iter().chain(&stay[..4]) {
            let file = File::open(at(name)).expect("there");
            file.set_modified(before).expect("set");
        }
        let said = clear_unfinished(boat.path()).expect("cleared");
        assert!(said.is_some_and(|said| said.starts_with("3 unfinished files")));
        assert!(old.iter().all(|name| !at(name).exists()));
        assert!(stay.iter().all(|name| at(name).exists()));
        assert_eq!(clear_unfinished(boat.path()).expect("cleared"), None);
    }
}
