//! A boat folder to start from.

use serde::{Deserialize, Serialize};
use std::fs;
use std::path::{Path, PathBuf};
use utoipa::ToSchema;

use crate::bench::Bench;
use crate::fault::{Fault, shown};
use crate::folder::write_whole;
use crate::question::Question;

/// Makes a boat folder from a starter hull.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct NewAsk {
    /// Folder to make; it must not exist, or be empty.
    #[schema(value_type = String)]
    pub dir: PathBuf,
    /// `three-point`, `outrigger`, `vee` or `catamaran`.
    pub hull: String,
    /// Name of the boat; the folder's name unless given.
    pub name: Option<String>,
}

/// What was made.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct NewAnswer {
    /// The boat file.
    pub made: String,
    /// As asked.
    pub hull_type: String,
    /// Of the boat.
    pub name: String,
}

impl Question for NewAsk {
    type Answer = NewAnswer;

    fn answer(&self, _: &Bench) -> Result<NewAnswer, Fault> {
        let name = match &self.name {
            Some(name) => name.clone(),
            None => folder_name(&self.dir)?,
        };
        let Some(text) = boat::template(&self.hull, &name) else {
            return Err(Fault::new(
                format!("there is no starter hull of type {}", self.hull),
                format!("there are: {}", boat::STARTER_TYPES.join(", ")),
            ));
        };
        let file = self.dir.join("boat.toml");
        // The name may be one that a boat cannot have: found out before anything is written.
        boat::load(&text, &shown(&file))?;
        make_folder(&self.dir)?;
        write_whole(&file, text.as_bytes())?;
        Ok(NewAnswer {
            made: file.display().to_string(),
            hull_type: self.hull.clone(),
            name,
        })
    }

    fn files(&self) -> Vec<&Path> {
        vec![&self.dir]
    }

    fn writes(&self) -> bool {
        true
    }
}

fn folder_name(dir: &Path) -> Result<String, Fault> {
    let name = dir.file_name().and_then(|name| name.to_str());
    name.map(str::to_owned).ok_or_else(|| {
        Fault::new(
            format!("{} gives the boat no name", shown(dir)),
            "name the boat with --name",
        )
    })
}

/// Makes the folder, or takes an empty one; never touches a folder with something in it.
fn make_folder(dir: &Path) -> Result<(), Fault> {
    if !dir.exists() {
        return fs::create_dir_all(dir).map_err(|e| Fault::system("make", dir, &e));
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
