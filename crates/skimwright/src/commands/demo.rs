//! A demonstration boat copied out of the program.

use serde::Serialize;
use std::path::PathBuf;
use workshop::as_argument;
use workshop::made::boat_folder;

use super::Outcome;
use crate::cli::Demo;
use crate::failure::Failure;
use crate::output;

/// One that can be had.
#[derive(Debug, Serialize)]
struct Listed {
    name: String,
    says: String,
}

/// What was made.
#[derive(Debug, Serialize)]
struct Made {
    name: String,
    folder: String,
}

pub fn run(given: &Demo) -> Result<Outcome, Failure> {
    if given.list {
        let all = web_assets::demos().into_iter();
        let all: Vec<Listed> = all
            .map(|name| Listed {
                says: web_assets::demo_says(&name),
                name,
            })
            .collect();
        output::give(given.json, &all, |all| listed(all))?;
        return Ok(Outcome::Good);
    }
    let files = web_assets::demo_with_outings(&given.name);
    if !web_assets::demos().contains(&given.name) {
        let what = format!("there is no demonstration boat {}", given.name);
        let hint = format!("there are: {}", web_assets::demos().join(", "));
        return Err(Failure::new(what, hint));
    }
    let last = given.name.rsplit('/').next().unwrap_or(&given.name);
    let folder = given.folder.clone().unwrap_or_else(|| PathBuf::from(last));
    let files: Vec<(&str, &[u8])> = files.iter().map(|(name, b)| (*name, &**b)).collect();
    boat_folder(&folder, &files)?;
    let made = Made {
        name: given.name.clone(),
        folder: folder.display().to_string(),
    };
    output::give(given.json, &made, |_| next(&as_argument(&folder)))?;
    Ok(Outcome::Good)
}

fn listed(all: &[Listed]) -> String {
    let mut text = String::new();
    for one in all {
        text.push_str(&format!("{}\n    {}\n", one.name, one.says));
    }
    text.push_str("\ncopy one: skimwright demo NAME\n");
    text
}

fn next(folder: &str) -> String {
    format!("made {folder}\nnext: skimwright check {folder}\n      skimwright open {folder}\n")
}
