//! A boat folder to start from.

use workshop::new_boat::NewAsk;
use workshop::shown;

use super::{Outcome, ask_of};
use crate::cli::New;
use crate::failure::Failure;
use crate::output;

pub fn run(given: &New) -> Result<Outcome, Failure> {
    let question = NewAsk {
        dir: given.dir.clone(),
        hull: given.hull.word().to_owned(),
        name: given.name.clone(),
    };
    let answer = ask_of(&question, None)?;
    output::give(given.json, &answer, |a| {
        format!(
            "made {}\nnext: skimwright check {}\n",
            a.made,
            shown(&given.dir)
        )
    })?;
    Ok(Outcome::Good)
}
