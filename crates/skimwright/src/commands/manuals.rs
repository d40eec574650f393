//! Man pages and shell completions, made from the command line's own description.

use clap_complete::Shell;
use clap_complete::generate_to;
use std::fs;
use std::path::Path;
use workshop::made::refuse_taken;
use workshop::{Fault, shown};

use super::Outcome;
use crate::cli::Manuals;
use crate::failure::Failure;
use crate::grouped;
use crate::output;

const NAME: &str = env!("CARGO_PKG_NAME");

pub fn run(given: &Manuals) -> Result<Outcome, Failure> {
    refuse_taken(&given.folder)?;
    let (man, completions) = (given.folder.join("man"), given.folder.join("completions"));
    for folder in [&man, &completions] {
        fs::create_dir_all(folder).map_err(|e| Fault::system("make", folder, &e))?;
    }
    clap_mangen::generate_to(grouped::command(), &man)
        .map_err(|e| Fault::system("write in", &man, &e))?;
    for shell in [
        Shell::Bash,
        Shell::Zsh,
        Shell::Fish,
        Shell::PowerShell,
        Shell::Elvish,
    ] {
        complete(shell, &completions)?;
    }
    output::print(&format!(
        "made {}\nread one: man {}\ncompletions: copy the one of your shell to where it looks for them\n",
        shown(&given.folder),
        shown(&man.join("skimwright.1"))
    ))?;
    Ok(Outcome::Good)
}

fn complete(shell: Shell, into: &Path) -> Result<(), Failure> {
    generate_to(shell, &mut grouped::command(), NAME, into)
        .map(|_| ())
        .map_err(|e| Fault::system("write in", into, &e).into())
}
