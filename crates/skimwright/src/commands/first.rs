//! What to do first, for somebody who typed the name alone.

use super::Outcome;
use crate::failure::Failure;
use crate::output;

const FIRST: &str = "\
skimwright says what a boat will do before it is printed.

  skimwright demo                      a demonstration boat to try things on
  skimwright check practice            what it will do, worst first
  skimwright open practice             the same in your browser, with every number to try out
  skimwright new tern --mesh tern.stl  a folder for your own hull; without a mesh: --hull vee
  skimwright check tern                change tern/boat.toml until nothing says stop

skimwright --help lists everything; skimwright check --help tells one command with examples.
";

pub fn run() -> Result<Outcome, Failure> {
    output::print(FIRST)?;
    Ok(Outcome::Good)
}
