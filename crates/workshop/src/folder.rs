//! A boat folder on disk: read within limits, written whole or not at all.

use boat::{Boat, BoatFileError, HullSource, MeshFile, Problem, Severity};
use craft::MassProperties;
use form::Form;
use form::read::check_size;
use learn::keep::Kept;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use study::quantity::{self, Solved};
use study::{Detail, Learned};

use crate::bench::BoatAt;
use crate::beneath::{beneath, inside_as, read_within};
use crate::fault::{Fault, as_argument, shown};
pub use crate::source::Source;
pub use crate::writing::write_whole;

/// Larger boat files are not boat files.
const MAX_BOAT_FILE_BYTES: u64 = 4 << 20;

/// A boat as found on disk.
pub struct Loaded {
    /// Where it lives.
    pub folder: PathBuf,
    /// The boat file.
    pub file: PathBuf,
    /// What it says.
    pub text: String,
    /// What should be known about it.
    pub warnings: Vec<Problem>,
    /// What was declared.
    pub declared: Boat,
    /// The same, its parts corrected by what was learned.
    pub boat: Boat,
    /// Its shape, with what was measured on the print put in place.
    pub form: Arc<Form>,
    /// What outings taught, as far as it carries to this boat.
    pub learned: Learned,
}

/// What outings taught, in the boat folder.
pub const LEARNED: &str = "learned.toml";

/// Reads a boat folder, or the boat file inside it, with what was learned of the boat.
///
/// # Errors
/// [`Fault`] with everything wrong and where.
pub fn load(boat: &BoatAt) -> Result<Loaded, Fault> {
    let loaded = load_declared(boat)?;
    let subject = loaded.source()?.subject();
    let given = |p: &boat::making::Piece| p.mass_kg.is_some();
    let weighed = loaded.declared.making.pieces.iter().any(given);
    let mut warnings = loaded.warnings;
    if weighed && subject.boat.hull.weighed == loaded.declared.hull.weighed {
        warnings.push(unmatched_pieces(&loaded.text));
    }
    Ok(Loaded {
        warnings,
        boat: subject.boat,
        learned: subject.learned,
        ..loaded
    })
}

fn unmatched_pieces(text: &str) -> Problem {
    let at = text.find("[[piece]]").unwrap_or_default();
    Problem {
        message: "the pieces that were weighed tell nothing about the hull's mass".to_owned(),
        help: Some("`skimwright pieces --list` says what is wrong with them".to_owned()),
        span: at..(at + 9).min(text.len()),
        severity: Severity::Warning,
    }
}

/// What was learned of a boat, as far as it carries to it as it is now.
///
/// # Errors
/// [`Fault`] with everything wrong in the file and where.
pub fn learned(folder: &Path, boat: &Boat, form: &Form) -> Result<Learned, Fault> {
    Ok(kept(folder)?.map_or_else(Learned::default, |kept| kept.carry(boat, form)))
}

/// `learned.toml` of a folder, where there is one.
///
/// # Errors
/// [`Fault`] with everything wrong in the file and where.
pub fn kept(folder: &Path) -> Result<Option<Kept>, Fault> {
    let file = beneath(folder, LEARNED)?;
    if !file.exists() {
        return Ok(None);
    }
    Ok(Some(Kept::read(&read_text(&file)?, &shown(&file))?))
}

/// The same as declared, without what was learned.
///
/// # Errors
/// [`Fault`] with everything wrong and where.
pub fn load_declared(boat: &BoatAt) -> Result<Loaded, Fault> {
    let (file, text) = text_of(boat)?;
    let folder = file.parent().map(Path::to_owned).unwrap_or_default();
    let (boat, warnings) = boat::load(&text, &shown(&file))?;
    let form = read_form(&folder, &file, &text, &boat)?;
    Ok(Loaded {
        folder,
        file,
        text,
        warnings,
        declared: boat.clone(),
        boat,
        form: Arc::new(form),
        learned: Learned::default(),
    })
}

impl Loaded {
    /// The file it comes from, for trying what edits of it would do.
    ///
    /// # Errors
    /// [`Fault`] when what outings taught cannot be read.
    pub fn source(&self) -> Result<Source, Fault> {
        let (declared, form) = (self.declared.clone(), self.form.clone());
        Source::new(&self.folder, &self.text, declared, form)
    }

    /// A fault of the boat file as a whole.
    pub fn fault(&self, why: &dyn std::fmt::Display, hint: &str) -> Fault {
        Fault::of_file(&self.folder.join("boat.toml"), why, hint)
    }

    /// What it weighs.
    ///
    /// # Errors
    /// [`Fault`] when the masses make no boat.
    pub fn mass(&self) -> Result<MassProperties, Fault> {
        craft::mass::mass_properties(&self.boat, &self.form).map_err(|e| {
            let hint = "weigh the parts, or describe the print under [hull.print]";
            self.fault(&e, hint)
        })
    }

    /// Its speed curve, followed closely.
    ///
    /// # Errors
    /// [`Fault`] when it sinks or a law refuses a number.
    pub fn solved(&self) -> Result<Solved, Fault> {
        let factors = self.learned.factors();
        let detail = Detail::Full(POINTS);
        quantity::solve(&self.boat, &self.form, &self.mass()?, &factors, detail)
            .map_err(|e| self.fault(&e, ""))
    }
}

/// Speeds of a curve that is followed closely.
pub const POINTS: usize = 48;

/// What a boat file declares, without looking at its mesh.
///
/// # Errors
/// [`Fault`] with everything wrong and where.
pub fn declared(boat: &BoatAt) -> Result<Boat, Fault> {
    let (file, text) = text_of(boat)?;
    Ok(boat::load(&text, &shown(&file))?.0)
}

/// The boat file and the text it stands for: the draft where there is one.
fn text_of(boat: &BoatAt) -> Result<(PathBuf, String), Fault> {
    let file = boat_file(&boat.path)?;
    let text = match &boat.draft {
        Some(draft) => draft.clone(),
        None => read_text(&file)?,
    };
    Ok((file, text))
}

/// `boat.toml` of a folder; a file stands for itself.
///
/// # Errors
/// [`Fault`] when there is no such folder or nothing in it.
pub fn boat_file(path: &Path) -> Result<PathBuf, Fault> {
    let about = fs::metadata(path).map_err(|e| Fault::system("open", path, &e))?;
    if !about.is_dir() {
        return match no_boat(path) {
            Some(fault) => Err(fault),
            None => Ok(path.to_owned()),
        };
    }
    let file = path.join("boat.toml");
    if file.exists() {
        return beneath(path, "boat.toml").map(|_| file);
    }
    // Tell a folder that cannot be read from one without a boat in it.
    let inside = fs::read_dir(path).map_err(|e| Fault::system("read the folder", path, &e))?;
    let what = format!("{} has no boat.toml, so it is no boat folder", shown(path));
    let mut inside: Vec<PathBuf> = inside.flatten().map(|entry| entry.path()).collect();
    inside.sort();
    let boat = |p: &&PathBuf| p.join("boat.toml").is_file();
    let help = if let Some(boat) = inside.iter().find(boat) {
        format!("one lies in it: {}", shown(boat))
    } else if let Some(mesh) = inside.iter().find(|p| is_one_of(p, &MESHES)) {
        make_of_mesh(mesh)
    } else {
        "start a boat with `skimwright new DIR --hull three-point`".to_owned()
    };
    Err(Fault::new(what, help))
}

const MESHES: [&str; 3] = ["stl", "3mf", "obj"];

fn is_one_of(path: &Path, endings: &[&str]) -> bool {
    let ending = path.extension().unwrap_or_default();
    endings
        .iter()
        .any(|known| ending.eq_ignore_ascii_case(known))
}

/// What to do with a file that is a mesh by its name.
pub(crate) fn if_mesh(path: &Path) -> Option<String> {
    is_one_of(path, &MESHES).then(|| format!("this is a mesh; {}", make_of_mesh(path)))
}

fn make_of_mesh(mesh: &Path) -> String {
    format!(
        "make a boat of the mesh: `skimwright new NAME --mesh {}`",
        as_argument(mesh)
    )
}

/// Whether it may stand in the name of a folder that is made of a builder's words; an accent may stand as a character
/// of its own.
pub fn names_a_folder(c: char) -> bool {
    c.is_alphanumeric() || ('\u{300}'..='\u{36f}').contains(&c)
}

/// A file that is plainly something else than a boat file, and what it is for.
fn no_boat(path: &Path) -> Option<Fault> {
    let file = as_argument(path);
    let of = |what: &str, help: String| {
        let what = format!("{} is {what}, not a boat folder", shown(path));
        Some(Fault::new(what, help))
    };
    let measured =
        |by: &str| format!("`skimwright {by} {file}` measures it; name the boat by its folder");
    if is_one_of(path, &MESHES) {
        of("a mesh", make_of_mesh(path))
    } else if is_one_of(path, &["wav", "flac", "ogg", "mp3", "m4a", "mp4", "mov"]) {
        of("a recording", measured("hear"))
    } else if is_one_of(path, &["gpx", "nmea"]) {
        of("a track", measured("track"))
    } else if is_one_of(path, &["csv"]) {
        of("a table", measured("log"))
    } else if is_one_of(path, &["html", "pdf", "png", "jpg", "json", "md"]) {
        of("no boat file", "name a folder with a boat.toml".to_owned())
    } else {
        None
    }
}

/// The text of a boat file.
///
/// # Errors
/// [`Fault`] when it cannot be read, is too large or is not UTF-8.
pub fn read_text(file: &Path) -> Result<String, Fault> {
    let bytes = read_within(file, |size| {
        if size > MAX_BOAT_FILE_BYTES {
            let what = format!(
                "{} is {} MB, over the limit of 4 MB",
                shown(file),
                size >> 20
            );
            return Err(Fault::new(
                what,
                "a boat file or notes are a page or two of text",
            ));
        }
        Ok(())
    })?;
    String::from_utf8(bytes).map_err(|error| {
        let upto = error.utf8_error().valid_up_to();
        let before = &error.as_bytes()[..upto];
        let line = before.iter().filter(|b| **b == b'\n').count() + 1;
        let what = format!("{}:{line}: the text is not UTF-8", shown(file));
        Fault::new(what, "save it as UTF-8 from the editor")
    })
}

fn read_form(folder: &Path, file: &Path, text: &str, boat: &Boat) -> Result<Form, Fault> {
    let shape = read_shape(folder, file, text, &boat.hull.source)?;
    with_measured(shape, file, text, boat)
}

/// The hull as its files have it, running surfaces found.
///
/// # Errors
/// [`Fault`] when a mesh cannot be read or a starter hull cannot be built.
pub fn read_shape(
    folder: &Path,
    file: &Path,
    text: &str,
    source: &HullSource,
) -> Result<Form, Fault> {
    let mut form = match source {
        HullSource::Starter(starter) => {
            let mesh = form::starter::build(starter)
                .map_err(|error| at_word(file, text, "[hull.starter]", &error.to_string()))?;
            Form::from_mesh(mesh)
        }
        HullSource::Mesh(files) => read_meshes(folder, files)?,
    };
    form.surfaces = form::running::find(&form.envelope);
    Ok(form)
}

/// The same with what was measured on the print put in its place.
///
/// # Errors
/// [`Fault`] when a measured surface is not on the hull, or a propeller is wider than it.
pub fn with_measured(mut form: Form, file: &Path, text: &str, boat: &Boat) -> Result<Form, Fault> {
    form::running::apply(&mut form.surfaces, &boat.hull.running).map_err(|error| {
        let place = format!("\"{}\"", error.given);
        at_word(file, text, &place, &error.to_string())
    })?;
    refuse_huge_propellers(file, text, boat, &form)?;
    Ok(form)
}

/// A propeller wider than the hull is a slip of the unit.
fn refuse_huge_propellers(file: &Path, text: &str, boat: &Boat, form: &Form) -> Result<(), Fault> {
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
fn at_word(file: &Path, text: &str, word: &str, message: &str) -> Fault {
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

fn read_meshes(folder: &Path, files: &[MeshFile]) -> Result<Form, Fault> {
    let mut read = Vec::with_capacity(files.len());
    for file in files {
        let path = inside_as("the mesh file", folder, &file.path)?;
        let bytes = read_within(&path, |size| {
            check_size(&file.path, size).map_err(|e| Fault::new(e.to_string(), ""))
        })?;
        read.push((file.path.as_str(), bytes));
    }
    let borrowed: Vec<(&str, &[u8])> = read.iter().map(|(n, b)| (*n, b.as_slice())).collect();
    form::assemble(&borrowed, files).map_err(|error| {
        Fault::new(
            error.to_string(),
            format!(
                "the hull's files are those named in {}",
                shown(&folder.join("boat.toml"))
            ),
        )
    })
}
