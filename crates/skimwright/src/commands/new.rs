//! A boat folder to start from.

use workshop::as_argument;
use workshop::new_boat::{NewAnswer, NewAsk};

use super::check::give_first;
use super::{Outcome, ask_of};
use crate::cli::New;
use crate::failure::Failure;
use crate::output;

pub fn run(given: &New) -> Result<Outcome, Failure> {
    let question = NewAsk {
        dir: given.dir.clone(),
        hull: given.hull.map(|h| h.word().to_owned()),
        name: given.name.clone(),
        mesh: given.mesh.clone(),
        ..NewAsk::default()
    };
    let answer = ask_of(&question, None)?;
    output::give(given.json, &answer, |a| {
        let mut text = String::new();
        give_first(&mut text, &a.give_first);
        guessed(&mut text, a);
        text.push_str(&format!(
            "made {}\nnext: skimwright check {}\n",
            a.made,
            as_argument(&given.dir)
        ));
        text
    })?;
    Ok(Outcome::Good)
}

fn guessed(text: &mut String, answer: &NewAnswer) {
    if answer.guessed.is_empty() {
        return;
    }
    text.push_str("Found in the mesh, and guessed:\n");
    for line in &answer.guessed {
        text.push_str(&format!("  {line}\n"));
    }
}
