//! A build frozen: the boat file, its meshes, what is predicted of them, and why.

use workshop::builds::KeepAsk;

use super::{Outcome, ask};
use crate::cli_recordings::Keep;
use crate::failure::Failure;
use crate::output;

pub fn run(given: &Keep) -> Result<Outcome, Failure> {
    let question = KeepAsk {
        why: given.why.clone(),
        effort: given.effort.into(),
    };
    let answer = ask(&question, &given.boat)?;
    if given.json {
        output::print_json(&answer)?;
    } else {
        output::print(&format!("kept {}\n", answer.kept))?;
    }
    Ok(Outcome::Good)
}
