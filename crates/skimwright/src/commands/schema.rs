//! The JSON Schema of the boat file.

use super::Outcome;
use crate::failure::Failure;
use crate::output;

pub fn run() -> Result<Outcome, Failure> {
    output::print_json(&boat::json_schema())?;
    Ok(Outcome::Good)
}
