//! A boat folder on disk: read within limits, written whole or not at all.

use advice::Learned;
use boat::{Boat, BoatFileError, HullSource, MeshFile, Problem, Severity};
use form::Form;
use form::read::check_size;
use learn::keep::Kept;
use std::fs::{self, File};
use std::io::{Read as _, Write as _};
use std::path::{Component, Path, PathBuf};

use crate::failure::{Failure, handler, shown};
use crate::output;

/// Larger boat files are not boat files.
const MAX_BOAT_FILE_BYTES: u64 = 4 << 20;

/// A boat as found on disk.
pub struct Loaded {
    /// Where it lives.
    pub folder: PathBuf,
    /// What was declared, its parts corrected by what was learned.
    pub boat: Boat,
    /// Its shape, with what was measured on the print put in place.
    pub form: Form,
    /// What outings taught, as far as it carries to this boat.
    pub learned: Learned,
}

/// What outings taught, in the boat folder.
pub const LEARNED: &str = "learned.toml";

/// Reads a boat folder, or the boat file inside it, with what was learned of the boat.
pub fn load(path: &Path) -> Result<Loaded, Failure> {
    let mut loaded = load_declared(path)?;
    let file = loaded.folder.join(LEARNED);
    if file.exists() {
        let kept = Kept::read(&read_text(&file)?, &shown(&file))?;
        loaded.learned = kept.carry(&loaded.boat, &loaded.form);
        loaded.learned.correct(&mut loaded.boat);
    }
    Ok(loaded)
}

/// The same as declared, without what was learned.
pub fn load_declared(path: &Path) -> Result<Loaded, Failure> {
    let file = boat_file(path)?;
    let folder = file.parent().map(Path::to_owned).unwrap_or_default();
    let text = read_text(&file)?;
    let (boat, warnings) = boat::load(&text, &shown(&file))?;
    warn_about(&file, &text, &warnings);
    let form = read_form(&folder, &file, &text, &boat)?;
    Ok(Loaded {
        folder,
        boat,
        form,
        learned: Learned::default(),
    })
}

/// What a boat folder declares, without looking at its mesh.
pub fn declared(path: &Path) -> Result<Boat, Failure> {
    let file = boat_file(path)?;
    let (boat, _) = boat::load(&read_text(&file)?, &shown(&file))?;
    Ok(boat)
}

/// `boat.toml` of a folder; a file stands for itself.
fn boat_file(path: &Path) -> Result<PathBuf, Failure> {
    let about = fs::metadata(path).map_err(|e| Failure::system("open", path, &e))?;
    if !about.is_dir() {
        return Ok(path.to_owned());
    }
    let file = path.join("boat.toml");
    if file.exists() {
        return Ok(file);
    }
    // Tell a folder that cannot be read from one without a boat in it.
    fs::read_dir(path).map_err(|e| Failure::system("read the folder", path, &e))?;
    Err(Failure::new(
        format!("{} has no boat.toml", shown(path)),
        "start a boat with `skimwright new DIR --hull three-point`",
    ))
}

pub fn read_text(file: &Path) -> Result<String, Failure> {
    let bytes = read_limited(file, |size| {
        if size > MAX_BOAT_FILE_BYTES {
            let what = format!(
                "{} is {} MB, over the limit of 4 MB",
                shown(file),
                size >> 20
            );
            return Err(Failure::new(what, "a boat file is a page or two of text"));
        }
        Ok(())
    })?;
    String::from_utf8(bytes).map_err(|error| {
        let upto = error.utf8_error().valid_up_to();
        let before = &error.as_bytes()[..upto];
        let line = before.iter().filter(|b| **b == b'\n').count() + 1;
        let what = format!("{}:{line}: the text is not UTF-8", shown(file));
        Failure::new(what, "save it as UTF-8 from the editor")
    })
}

/// Asks for the size before reading anything, and never reads more than was allowed.
fn read_limited(
    path: &Path,
    allow: impl Fn(u64) -> Result<(), Failure>,
) -> Result<Vec<u8>, Failure> {
    let refused = |e: std::io::Error| Failure::system("read", path, &e);
    // Asked by name first: opening a pipe would wait for someone to write to it.
    let about = fs::metadata(path).map_err(refused)?;
    if !about.is_file() {
        return Err(Failure::new(
            format!("{} is not a file", shown(path)),
            "name a file here",
        ));
    }
    allow(about.len())?;
    let file = File::open(path).map_err(refused)?;
    let mut bytes = Vec::with_capacity(about.len() as usize);
    file.take(about.len() + 1)
        .read_to_end(&mut bytes)
        .map_err(refused)?;
    allow(bytes.len() as u64)?;
    Ok(bytes)
}

fn warn_about(file: &Path, text: &str, warnings: &[Problem]) {
    if warnings.is_empty() {
        return;
    }
    let all = BoatFileError::new(&shown(file), text, warnings.to_vec());
    let mut drawn = String::new();
    if handler().render_report(&mut drawn, &all).is_ok() {
        output::warn(&drawn);
    }
}

fn read_form(folder: &Path, file: &Path, text: &str, boat: &Boat) -> Result<Form, Failure> {
    let mut form = match &boat.hull.source {
        HullSource::Starter(starter) => {
            let mesh = form::starter::build(starter)
                .map_err(|error| at_word(file, text, "[hull.starter]", &error.to_string()))?;
            Form::from_mesh(mesh)
        }
        HullSource::Mesh(files) => read_meshes(folder, files)?,
    };
    form.surfaces = form::running::find(&form.envelope);
    form::running::apply(&mut form.surfaces, &boat.hull.running).map_err(|error| {
        let place = format!("\"{}\"", error.given);
        at_word(file, text, &place, &error.to_string())
    })?;
    refuse_huge_propellers(file, text, boat, &form)?;
    Ok(form)
}

/// A propeller wider than the hull is a slip of the unit.
fn refuse_huge_propellers(
    file: &Path,
    text: &str,
    boat: &Boat,
    form: &Form,
) -> Result<(), Failure> {
    let Some((low, high)) = form.envelope.bounds() else {
        return Ok(());
    };
    let beam_m = high.y - low.y;
    for drive in &boat.drives {
        let diameter_m = drive.propeller.diameter_m.value;
        if diameter_m > beam_m {
            let message = format!(
                "a propeller of {:.0} mm is larger than the boat, which is {:.0} mm wide: is the unit right?",
                1e3 * diameter_m,
                1e3 * beam_m
            );
            return Err(at_word(file, text, "[drive.propeller]", &message));
        }
    }
    Ok(())
}

/// A fault found after loading, pointed at the first place where `word` stands in the file.
fn at_word(file: &Path, text: &str, word: &str, message: &str) -> Failure {
    let start = text.find(word).unwrap_or(0);
    let length = if text[start..].starts_with(word) {
        word.len()
    } else {
        0
    };
    let problem = Problem {
        message: message.to_owned(),
        help: None,
        span: start..start + length,
        severity: Severity::Error,
    };
    BoatFileError::new(&shown(file), text, vec![problem]).into()
}

fn read_meshes(folder: &Path, files: &[MeshFile]) -> Result<Form, Failure> {
    let mut read = Vec::with_capacity(files.len());
    for file in files {
        let path = inside(folder, &file.path)?;
        let bytes = read_limited(&path, |size| {
            check_size(&file.path, size).map_err(|e| Failure::new(e.to_string(), ""))
        })?;
        read.push((file.path.as_str(), bytes));
    }
    let borrowed: Vec<(&str, &[u8])> = read.iter().map(|(n, b)| (*n, b.as_slice())).collect();
    form::assemble(&borrowed, files).map_err(|error| {
        Failure::new(
            error.to_string(),
            format!(
                "the hull's files are those named in {}",
                shown(&folder.join("boat.toml"))
            ),
        )
    })
}

/// A mesh file of the folder. Links and `..` that lead out of it are refused: a boat folder from
/// somebody else must not make the program read other files.
fn inside(folder: &Path, name: &str) -> Result<PathBuf, Failure> {
    let plain = Path::new(name)
        .components()
        .all(|part| matches!(part, Component::Normal(_) | Component::CurDir));
    let outside = || {
        Failure::new(
            format!("the mesh file {name} is outside the boat folder"),
            "copy it into the boat folder",
        )
    };
    if !plain {
        return Err(outside());
    }
    let here = if folder.as_os_str().is_empty() {
        Path::new(".")
    } else {
        folder
    };
    let path = here.join(name);
    let real = fs::canonicalize(&path).map_err(|e| Failure::system("read the mesh", &path, &e))?;
    let home = fs::canonicalize(here).map_err(|e| Failure::system("open", here, &e))?;
    if real.starts_with(home) {
        Ok(real)
    } else {
        Err(outside())
    }
}

/// Writes beside the target, flushes, and renames: whole or not at all.
pub fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let refused = |e: std::io::Error| Failure::system("write", path, &e);
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    if path.is_dir() {
        return Err(Failure::new(
            format!("cannot write {}: it is a folder", shown(path)),
            "name a file to write",
        ));
    }
    let mut beside = tempfile::Builder::new();
    #[cfg(unix)]
    beside.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o644));
    let mut file = beside.tempfile_in(folder).map_err(refused)?;
    file.write_all(bytes).map_err(refused)?;
    file.as_file().sync_all().map_err(refused)?;
    file.persist(path).map_err(|e| refused(e.error))?;
    Ok(())
}
