//! Outings in a boat folder, as far as they are measured.

use evidence::outing::given::from_json;
use evidence::outing::{Outing, OutingFile};
use std::fs;
use std::path::{Component, Path, PathBuf};

use crate::beneath::beneath;
use crate::fault::{Fault, shown};
use crate::folder::read_text;

const HOW: &str = "an outing is a folder such as outings/2026-05-17 with its recordings and the measured.json made of them; see docs/recordings.md";

/// One outing read.
pub struct Read {
    /// As its folder is named.
    pub name: String,
    /// What was measured.
    pub measured: Outing,
    /// What the builder says of it, where there is an outing.toml.
    pub said: Option<OutingFile>,
}

/// The outings named, or the latest that is measured.
pub fn read(folder: &Path, wanted: &[String]) -> Result<Vec<Read>, Fault> {
    let names = match wanted {
        [] => vec![latest(folder)?],
        names => names.to_vec(),
    };
    let mut all: Vec<Read> = Vec::with_capacity(names.len());
    for name in names {
        if all.iter().any(|r| r.name == name) {
            return Err(Fault::new(
                format!("the outing {name} is named twice"),
                "name each once: the same measurements must not count twice",
            ));
        }
        all.push(one(folder, &name)?);
    }
    Ok(all)
}

/// The latest measured outing, if there is any.
pub fn latest_if_any(folder: &Path) -> Result<Option<Read>, Fault> {
    match measured_names(folder).pop() {
        Some(name) => one(folder, &name).map(Some),
        None => Ok(None),
    }
}

fn latest(folder: &Path) -> Result<String, Fault> {
    measured_names(folder).pop().ok_or_else(|| {
        let home = folder.join("outings");
        let what = if home.is_dir() {
            format!("no outing in {} has a measured.json", shown(&home))
        } else {
            format!("{} has no outings", shown(folder))
        };
        Fault::new(what, HOW)
    })
}

/// Named by date, so that the last is the latest.
fn measured_names(folder: &Path) -> Vec<String> {
    let entries = beneath(folder, "outings").map(fs::read_dir);
    let Ok(Ok(entries)) = entries else {
        return Vec::new();
    };
    let mut names: Vec<String> = entries
        .flatten()
        .filter(|e| e.path().join("measured.json").is_file())
        .filter_map(|e| e.file_name().into_string().ok())
        .collect();
    names.sort();
    names
}

fn one(folder: &Path, name: &str) -> Result<Read, Fault> {
    let plain: Vec<Component> = Path::new(name).components().collect();
    if !matches!(plain[..], [Component::Normal(_)]) {
        return Err(Fault::new(
            format!("`{name}` is not the name of an outing"),
            HOW,
        ));
    }
    let home: PathBuf = beneath(folder, Path::new("outings").join(name))?;
    let file = home.join("measured.json");
    if !file.is_file() {
        let there = measured_names(folder);
        let hint = if there.is_empty() {
            HOW.to_owned()
        } else {
            format!("measured outings: {}", there.join(", "))
        };
        return Err(Fault::new(format!("{} is not there", shown(&file)), hint));
    }
    beneath(&home, "measured.json")?;
    let measured: Outing = from_json(&read_text(&file)?, &shown(&file))?;
    let notes = home.join("outing.toml");
    let said = if notes.is_file() {
        beneath(&home, "outing.toml")?;
        Some(OutingFile::read(&read_text(&notes)?, &shown(&notes))?)
    } else {
        None
    };
    Ok(Read {
        name: name.to_owned(),
        measured,
        said,
    })
}
