//! Files that a face writes for the builder: never in place of what the builder put in.

use std::fs;
use std::path::{Path, PathBuf};

use crate::bench::BoatAt;
use crate::beneath::read_at_most;
use crate::fault::{Fault, shown};
use crate::folder::{self, LEARNED, boat_file};

/// How far above a file a boat folder is looked for: `builds/1-first/parts/deck.stl`.
const ABOVE: usize = 4;
/// A larger file is no answer of ours.
const LARGEST_ANSWER: u64 = 256 << 20;

/// A place that may be written to. Looked at before the work that fills it.
#[derive(Debug, Clone)]
pub struct Target(PathBuf);

impl Target {
    /// The place `path`, for something worked out of `boat` and of `inputs` beside it. Those, a boat file, a mesh in
    /// use, a recording with its outing's notes, a build and what was learned are never replaced; any other file
    /// that is there only with `force`.
    ///
    /// # Errors
    /// [`Fault`] that says what would be lost.
    pub fn new(
        path: &Path,
        boat: Option<&BoatAt>,
        inputs: &[&Path],
        force: bool,
    ) -> Result<Self, Fault> {
        let here = fs::canonicalize(path);
        let same = |input: &&Path| {
            let input = fs::canonicalize(input);
            here.as_ref().is_ok_and(|h| input.is_ok_and(|i| i == *h))
        };
        let read = inputs.iter().any(same);
        let what = read.then_some("what it is worked out of");
        if let Some(what) = what.or_else(|| precious(path, boat)) {
            return Err(Fault::new(
                format!("{} is {what}: nothing was written", shown(path)),
                "name another file",
            ));
        }
        if path.exists() && !path.is_dir() && !force {
            return Err(Fault::new(
                format!("{} is there already: nothing was written", shown(path)),
                "name another file, or say --force to replace it",
            ));
        }
        Ok(Self(path.to_owned()))
    }

    /// The same for the place where an answer goes unless another is named: what an earlier answer left there, which
    /// `ours` knows by its bytes, is replaced without being asked.
    ///
    /// # Errors
    /// As [`Target::new`].
    pub fn usual(
        path: &Path,
        boat: Option<&BoatAt>,
        ours: impl Fn(&[u8]) -> bool,
        force: bool,
    ) -> Result<Self, Fault> {
        let again = read_at_most(path, LARGEST_ANSWER).is_ok_and(|bytes| ours(&bytes));
        Self::new(path, boat, &[], force || again)
    }

    /// Where.
    pub fn path(&self) -> &Path {
        &self.0
    }

    /// Writes it whole or not at all.
    ///
    /// # Errors
    /// [`Fault`] when the system refuses; what was there before is untouched.
    pub fn write(&self, bytes: &[u8]) -> Result<(), Fault> {
        folder::write_whole(&self.0, bytes)
    }
}

/// What a file is that must not be replaced; nothing for any other.
fn precious(path: &Path, boat: Option<&BoatAt>) -> Option<&'static str> {
    let real = real(path)?;
    let name = real.file_name()?.to_str().unwrap_or_default();
    if name == "boat.toml" || boat.is_some_and(|boat| is_file_of(boat, &real)) {
        return Some("a boat file");
    }
    let given = boat.and_then(|boat| home(&boat.path));
    let above = real.ancestors().skip(1).take(ABOVE);
    let homes = above
        .filter(|folder| folder.join("boat.toml").is_file())
        .map(Path::to_owned);
    given
        .into_iter()
        .chain(homes)
        .find_map(|home| precious_of(&home, &real))
}

/// What a file is to the boat at `home`.
fn precious_of(home: &Path, real: &Path) -> Option<&'static str> {
    let inside = real.strip_prefix(home).ok()?;
    let mut parts = inside.components().map(|part| part.as_os_str());
    let top = parts.next()?;
    if top == "builds" {
        return Some("part of a build, and builds are never changed");
    }
    // A page beside the recordings is nobody's input.
    if top == "outings" && inside.extension().is_none_or(|ext| ext != "html") {
        return real.exists().then_some("part of an outing");
    }
    if top == LEARNED || top == "loggers.json" {
        return Some("what was learned of the boat");
    }
    let declared = folder::declared(&BoatAt::saved(home)).ok()?;
    let mut meshes = meshes_of(&declared).into_iter();
    let used = meshes.any(|mesh| fs::canonicalize(home.join(mesh)).is_ok_and(|m| m == real));
    used.then_some("a mesh the boat is made of")
}

/// Mesh files a boat names.
pub fn meshes_of(boat: &boat::Boat) -> Vec<String> {
    match &boat.hull.source {
        boat::HullSource::Starter(_) => Vec::new(),
        boat::HullSource::Mesh(files) => files.iter().map(|f| f.path.clone()).collect(),
    }
}

fn is_file_of(boat: &BoatAt, real: &Path) -> bool {
    let file = boat_file(&boat.path)
        .and_then(|f| fs::canonicalize(&f).map_err(|e| Fault::system("open", &f, &e)));
    file.is_ok_and(|file| file == real)
}

fn home(path: &Path) -> Option<PathBuf> {
    let folder = if path.is_dir() { path } else { path.parent()? };
    let here = if folder.as_os_str().is_empty() {
        Path::new(".")
    } else {
        folder
    };
    fs::canonicalize(here).ok()
}

/// Where it is, through links and `..`, also where there is no such file yet.
fn real(path: &Path) -> Option<PathBuf> {
    if let Ok(real) = fs::canonicalize(path) {
        return Some(real);
    }
    let name = path.file_name()?;
    Some(home(path)?.join(name))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A boat with a mesh, an outing and a build.
    fn boat() -> (tempfile::TempDir, BoatAt) {
        let dir = tempfile::tempdir().expect("a folder");
        let at = |name: &str| dir.path().join(name);
        let starter = boat::template("vee", "Tern").expect("a starter hull");
        // At the start of a line: a comment above speaks of the table too.
        let hull = starter.find("\n[hull.starter]").expect("a starter table") + 1;
        let next = starter[hull..].find("\n[").expect("another table");
        let rest = &starter[hull + next..];
        let text = format!("{}file = \"tern.stl\"\n{rest}", &starter[..hull]);
        for folder in ["outings/2026-05-17", "builds/1-first"] {
            fs::create_dir_all(at(folder)).expect("a folder");
        }
        for (name, text) in [
            ("boat.toml", text.as_str()),
            ("tern.stl", "solid"),
            ("other.stl", "solid"),
            ("learned.toml", ""),
            ("report.html", "<!DOCTYPE html>"),
            ("outings/2026-05-17/run-1.wav", "sound"),
            ("outings/2026-05-17/outing.toml", ""),
            ("builds/1-first/boat.toml", "x"),
            ("builds/1-first/tern.stl", "x"),
        ] {
            fs::write(at(name), text).expect("written");
        }
        let boat = BoatAt::saved(dir.path());
        (dir, boat)
    }

    #[test]
    fn nothing_that_was_put_in_is_replaced() {
        let (dir, boat) = boat();
        for name in [
            "boat.toml",
            "tern.stl",
            "learned.toml",
            "outings/2026-05-17/run-1.wav",
            "outings/2026-05-17/outing.toml",
            "builds/1-first/boat.toml",
            "builds/1-first/tern.stl",
            "builds/1-first/new.stl",
            "outings/../boat.toml",
        ] {
            for of in [Some(&boat), None] {
                let refused = Target::new(&dir.path().join(name), of, &[], true);
                assert!(refused.is_err(), "{name}");
            }
        }
    }

    #[test]
    fn a_boat_file_of_another_name_is_known_by_being_asked_of() {
        let (dir, boat) = boat();
        let file = dir.path().join("tern.toml");
        fs::copy(dir.path().join("boat.toml"), &file).expect("copied");
        let asked = BoatAt::saved(&file);
        assert!(Target::new(&file, Some(&asked), &[], true).is_err());
        assert!(Target::new(&file, Some(&boat), &[], true).is_ok());
    }

    #[test]
    #[cfg(unix)]
    fn a_link_is_what_it_leads_to() {
        let (dir, boat) = boat();
        let link = dir.path().join("innocent.html");
        std::os::unix::fs::symlink(dir.path().join("tern.stl"), &link).expect("a link");
        assert!(Target::new(&link, Some(&boat), &[], true).is_err());
    }

    #[test]
    fn what_is_read_is_never_written() {
        let (dir, boat) = boat();
        let other = dir.path().join("other.stl");
        let again = dir.path().join("outings/../other.stl");
        let refused = Target::new(&again, Some(&boat), &[&other], true);
        assert!(refused.is_err());
    }

    #[test]
    fn what_is_there_is_replaced_only_when_told_to() {
        let (dir, boat) = boat();
        let other = dir.path().join("other.stl");
        assert!(Target::new(&other, Some(&boat), &[], false).is_err());
        let forced = Target::new(&other, Some(&boat), &[], true).expect("told to");
        forced.write(b"new").expect("written");
        assert_eq!(fs::read(&other).expect("there"), b"new");
        let fresh = dir.path().join("fresh.stl");
        Target::new(&fresh, Some(&boat), &[], false)
            .and_then(|t| t.write(b"new"))
            .expect("nothing is lost");
    }

    #[test]
    fn an_answer_replaces_its_own_earlier_one() {
        let (dir, boat) = boat();
        let page = dir.path().join("report.html");
        let ours = |bytes: &[u8]| bytes.starts_with(b"<!DOCTYPE html>");
        assert!(Target::usual(&page, Some(&boat), ours, false).is_ok());
        fs::write(&page, "my own notes").expect("written");
        assert!(Target::usual(&page, Some(&boat), ours, false).is_err());
    }

    #[test]
    fn a_page_may_lie_beside_its_recordings() {
        let (dir, boat) = boat();
        let page = dir.path().join("outings/2026-05-17/day.html");
        assert!(Target::new(&page, Some(&boat), &[], false).is_ok());
    }
}
