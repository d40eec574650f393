//! A build frozen: the boat file, its meshes, what is predicted of them, and why.

use advice::findings;
use boat::{Boat, HullSource};
use serde_json::json;
use std::fs;
use std::path::{Path, PathBuf};

use super::builds::{PREDICTED, WHY, frozen, same_boat};
use workshop::check::CheckAnswer;

use super::{Outcome, study};
use crate::boat_folder::{self, write_whole};
use crate::cli_recordings::Keep;
use crate::failure::{Failure, shown};
use crate::output;

/// Longest name made of the reason, characters.
const LONGEST: usize = 32;

pub fn run(given: &Keep) -> Result<Outcome, Failure> {
    let why = given.why.trim();
    if why.is_empty() {
        return Err(Failure::new(
            "a build is kept with a reason",
            "say in --why what was changed and why",
        ));
    }
    let loaded = boat_folder::load(&given.boat)?;
    let folder = loaded.folder.clone();
    let before = frozen(&folder)?;
    if let Some(same) = before.last().filter(|b| same_boat(&folder, &b.folder)) {
        return Err(Failure::new(
            format!("nothing changed since {}; nothing was kept", same.name),
            "its boat.toml and meshes are the same to the byte",
        ));
    }
    let meshes = meshes_of(&loaded.boat);
    let study = study(loaded, &given.effort)?;
    let all = findings(&study);
    let predicted = serde_json::json!(CheckAnswer::of(&study, &all));
    let number = before.last().map_or(1, |b| b.number + 1);
    let name = format!("{number}-{}", slug(why));
    let home = folder.join("builds");
    fs::create_dir_all(&home).map_err(|e| Failure::system("make", &home, &e))?;
    // Made whole under another name first, so that a build is all there or not there.
    let beside = tempfile::Builder::new()
        .prefix(".keeping-")
        .tempdir_in(&home)
        .map_err(|e| Failure::system("write in", &home, &e))?;
    fill(beside.path(), &folder, &meshes, why, number, &predicted)?;
    let target = home.join(&name);
    if target.exists() {
        return Err(Failure::new(
            format!("{} is there already; nothing was changed", shown(&target)),
            "",
        ));
    }
    let made = beside.keep();
    fs::rename(&made, &target).map_err(|e| Failure::system("write", &target, &e))?;
    open_to_read(&target);
    if given.json {
        let answer = json!({"kept": target.display().to_string(), "name": name, "number": number, "why": why});
        output::print_json(&answer)?;
    } else {
        output::print(&format!("kept {}\n", shown(&target)))?;
    }
    Ok(Outcome::Good)
}

/// A temporary folder is closed to others; a build need not be.
fn open_to_read(folder: &Path) {
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        let _ = fs::set_permissions(folder, fs::Permissions::from_mode(0o755));
    }
    #[cfg(not(unix))]
    let _ = folder;
}

fn fill(
    into: &Path,
    folder: &Path,
    meshes: &[String],
    why: &str,
    number: u32,
    predicted: &serde_json::Value,
) -> Result<(), Failure> {
    for file in std::iter::once("boat.toml").chain(meshes.iter().map(String::as_str)) {
        let (from, to) = (folder.join(file), into.join(file));
        if let Some(parent) = to.parent() {
            fs::create_dir_all(parent).map_err(|e| Failure::system("make", parent, &e))?;
        }
        let bytes = fs::read(&from).map_err(|e| Failure::system("read", &from, &e))?;
        write_whole(&to, &bytes)?;
    }
    let today = jiff::ZonedDateTime::now().date().to_string();
    let note = json!({"format": 1, "number": number, "date": today, "why": why});
    write_json(&into.join(WHY), &note)?;
    write_json(&into.join(PREDICTED), predicted)
}

fn write_json(path: &Path, value: &serde_json::Value) -> Result<(), Failure> {
    write_whole(path, format!("{value:#}\n").as_bytes())
}

/// Mesh files the boat names.
pub fn meshes_of(boat: &Boat) -> Vec<String> {
    match &boat.hull.source {
        HullSource::Starter(_) => Vec::new(),
        HullSource::Mesh(files) => files.iter().map(|f| f.path.clone()).collect(),
    }
}

/// A short folder name of a reason.
fn slug(why: &str) -> String {
    let mut out = String::new();
    for word in why
        .split(|c: char| !c.is_ascii_alphanumeric())
        .filter(|w| !w.is_empty())
    {
        if !out.is_empty() && out.len() + 1 + word.len() > LONGEST {
            break;
        }
        if !out.is_empty() {
            out.push('-');
        }
        out.push_str(&word.to_ascii_lowercase()[..word.len().min(LONGEST)]);
    }
    if out.is_empty() {
        "build".to_owned()
    } else {
        out
    }
}

/// The mesh files' places in a folder.
pub fn mesh_paths(folder: &Path, boat: &Boat) -> Vec<PathBuf> {
    meshes_of(boat).iter().map(|m| folder.join(m)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reasons_become_short_names() {
        assert_eq!(
            slug("Wider pads: it would not plane!"),
            "wider-pads-it-would-not-plane"
        );
        assert_eq!(slug("größere Kufen"), "gr-ere-kufen");
        assert_eq!(slug("…"), "build");
        assert!(slug(&"x".repeat(200)).len() <= LONGEST);
    }
}
