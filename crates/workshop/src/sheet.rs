//! The build sheet, as one page to print.

use advice::findings;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::bench::Bench;
use crate::check::{Effort, studied};
use crate::fault::Fault;
use crate::question::Question;

/// What goes where, in which order?
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct SheetAsk {
    /// How hard to look.
    pub effort: Effort,
    /// What everything is shown in; as the boat file says unless given.
    pub units: Option<boat::Units>,
}

/// The page.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SheetAnswer {
    /// HTML that needs nothing else, to print on A4 or Letter.
    pub page: String,
}

/// Whether a file is such a page.
pub fn is_page(bytes: &[u8]) -> bool {
    let head = &bytes[..bytes.len().min(4096)];
    String::from_utf8_lossy(head).contains(": build sheet</title>")
}

impl Question for SheetAsk {
    type Answer = SheetAnswer;

    fn answer(&self, bench: &Bench) -> Result<SheetAnswer, Fault> {
        let loaded = bench.load()?;
        let shell = loaded.declared.hull.weighed.clone();
        let study = studied(loaded, self.effort, bench)?;
        let (boat, form) = (&study.boat, &study.form);
        let pieces = crate::pieces::made(boat, shell.as_ref(), form, bench.watch())?;
        bench.step("drawing")?;
        let all = findings(&study);
        let verdict = advice::verdict(&study, &all);
        let sheet = report::BuildSheet {
            study: &study,
            findings: &all,
            verdict: &verdict,
            pieces: &pieces,
            units: self.units.unwrap_or(boat.units),
        };
        Ok(SheetAnswer {
            page: report::build_sheet(&sheet),
        })
    }
}
