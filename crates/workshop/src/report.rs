//! The findings with drawings, charts and tables, as one page to read or print.

use advice::{Finding, findings};
use learn::why::{Case, Explained, explain};
use motion::Conditions;
use motion::run::Start;
use motion::script::Script;
use motion::water::{RIPPLE_LENGTH, Water};
use serde::{Deserialize, Serialize};
use std::ops::ControlFlow;
use std::path::Path;
use study::Study;
use utoipa::ToSchema;

use crate::bench::Bench;
use crate::check::{CheckAnswer, Effort, studied};
use crate::fault::Fault;
use crate::learn::{Learning, learned_from};
use crate::outings::{self, Read};
use crate::question::Question;
use crate::size::kept::Kept;
use crate::watch::Remark;

/// What will the boat do, on a page?
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct ReportAsk {
    /// How hard to look.
    pub effort: Effort,
    /// What everything is shown in; as the boat file says unless given.
    pub units: Option<boat::Units>,
}

/// The page, and what it says as data.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ReportAnswer {
    /// What the boat will do.
    pub check: CheckAnswer,
    /// HTML that needs nothing else.
    pub page: String,
}

/// Whether a file is such a page.
pub fn is_page(bytes: &[u8]) -> bool {
    let head = &bytes[..bytes.len().min(4096)];
    String::from_utf8_lossy(head).contains(": predicted behaviour</title>")
}

impl Question for ReportAsk {
    type Answer = ReportAnswer;

    fn answer(&self, bench: &Bench) -> Result<ReportAnswer, Fault> {
        let loaded = bench.load()?;
        let folder = loaded.folder.clone();
        let outing = outing(&folder, bench)?;
        let study = studied(loaded, self.effort, bench)?;
        let all = findings(&study);
        let explained = explained(outing.as_ref(), &study, &all);
        bench.step("drawing")?;
        let launch = launch(&study);
        let sizes = sizes(&folder, bench);
        let mut subject = report::Subject::of(&study, &all)
            .with_launch(launch.as_ref())
            .with_sizes(sizes.as_ref())
            .shown_in(self.units);
        if let Some((_, learning)) = &outing {
            subject = subject.with_water(report::Water {
                outings: &learning.outings,
                found: Some(&learning.found),
                explained: &explained,
            });
        }
        Ok(ReportAnswer {
            check: CheckAnswer::of(&study, &all),
            page: report::html(&subject),
        })
    }
}

/// Of the run in time: a quiet day's ripple, and long enough to come up to speed.
const RIPPLE_M: f64 = 0.005;
const SECONDS: f64 = 12.0;
const SEED: u64 = 1;

/// From rest, the throttle opened as in the launch that the findings tell of.
fn launch(study: &Study) -> Option<report::Launch> {
    let under = study.running.as_ref()?;
    let opened_s = under.launch.as_ref()?.opened_s;
    let conditions = Conditions {
        water: Water::Ripple {
            height_m: RIPPLE_M,
            length_m: RIPPLE_LENGTH * RIPPLE_M,
            from_rad: 0.0,
        },
        wind_m_s: under.craft.surroundings().wind_m_s,
        script: Script::squeeze(1.0, opened_s),
        start: Start::Rest,
        seconds: SECONDS,
        seed: SEED,
    };
    let throws = study.boat.rudders.iter().map(|r| r.throw_rad.value);
    let throw_rad = throws.fold(0.0, f64::max);
    let run = motion::run(&under.craft, throw_rad, &conditions, &mut |_| {
        ControlFlow::Continue(())
    });
    Some(report::Launch {
        ripple_m: RIPPLE_M,
        seed: SEED,
        run: run.ok()?,
    })
}

/// How it was sized. A file that cannot be read is remarked, and the report is made without it.
fn sizes(folder: &Path, bench: &Bench) -> Option<report::Sizes> {
    match Kept::read(folder) {
        Ok(kept) => kept.map(Kept::drawn),
        Err(fault) => {
            bench.watch().remark(&Remark::Without {
                what: "the report is without its picture of sizes:".to_owned(),
                fault,
            });
            None
        }
    }
}

/// The latest measured outing held against the model. One that cannot be used is remarked, and the report is made
/// without it.
fn outing(folder: &Path, bench: &Bench) -> Result<Option<(Read, Learning)>, Fault> {
    let Some(read) = outings::latest_if_any(folder)? else {
        return Ok(None);
    };
    let declared = bench.load_declared()?;
    match learned_from(&declared, std::slice::from_ref(&read), bench.watch()) {
        Ok(learning) => Ok(Some((read, learning))),
        Err(fault) => {
            bench.watch().remark(&Remark::Without {
                what: "the report is without the latest outing:".to_owned(),
                fault,
            });
            Ok(None)
        }
    }
}

/// What went wrong, from the builder's notes and the recordings; nothing said is no fault here.
fn explained(outing: Option<&(Read, Learning)>, study: &Study, all: &[Finding]) -> Vec<Explained> {
    let Some((read, learning)) = outing else {
        return Vec::new();
    };
    let case = Case {
        study,
        findings: all,
        outing: Some(&read.measured),
        found: Some(&learning.found),
    };
    let said = read.said.as_ref().map_or("", |s| s.what_happened.as_str());
    explain(said, &case).unwrap_or_default()
}
