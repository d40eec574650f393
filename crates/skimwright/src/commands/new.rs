//! A boat folder to start from.

use serde_json::json;
use std::fs;
use std::path::Path;

use super::Outcome;
use crate::boat_folder::write_whole;
use crate::cli::New;
use crate::failure::{Failure, shown};
use crate::output;

pub fn run(given: &New) -> Result<Outcome, Failure> {
    let name = match &given.name {
        Some(name) => name.clone(),
        None => folder_name(&given.dir)?,
    };
    let Some(text) = boat::template(given.hull.word(), &name) else {
        return Err(Failure::new(
            format!("there is no starter hull of type {}", given.hull.word()),
            format!("there are: {}", boat::STARTER_TYPES.join(", ")),
        ));
    };
    let file = given.dir.join("boat.toml");
    // The name may be one that a boat cannot have: found out before anything is written.
    boat::load(&text, &shown(&file))?;
    make_folder(&given.dir)?;
    write_whole(&file, text.as_bytes())?;
    if given.json {
        let made = json!({
            "made": file.display().to_string(),
            "hull_type": given.hull.word(),
            "name": name,
        });
        output::print_json(&made)?;
    } else {
        output::print(&format!(
            "made {}\nnext: skimwright check {}\n",
            shown(&file),
            shown(&given.dir)
        ))?;
    }
    Ok(Outcome::Good)
}

fn folder_name(dir: &Path) -> Result<String, Failure> {
    let name = dir.file_name().and_then(|name| name.to_str());
    name.map(str::to_owned).ok_or_else(|| {
        Failure::new(
            format!("{} gives the boat no name", shown(dir)),
            "name the boat with --name",
        )
    })
}

/// Makes the folder, or takes an empty one; never touches a folder with something in it.
fn make_folder(dir: &Path) -> Result<(), Failure> {
    if !dir.exists() {
        return fs::create_dir_all(dir).map_err(|e| Failure::system("make", dir, &e));
    }
    let mut entries = fs::read_dir(dir).map_err(|e| Failure::system("read the folder", dir, &e))?;
    if entries.next().is_some() {
        return Err(Failure::new(
            format!("{} is not empty", shown(dir)),
            "name a folder that does not exist yet; nothing was changed",
        ));
    }
    Ok(())
}
