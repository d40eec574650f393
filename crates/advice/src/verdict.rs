//! The first screen: seven answers, how each stands, and what to do next.

use motion::{InTime, TopSpeed};
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use study::{Quantity, Study};

use crate::finding::{Finding, Standing};
use crate::findings::{asked, on_end};
use crate::next::{Step, steps};
use crate::number::Number;
use utoipa::ToSchema;

/// What a builder asks first.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Verdict {
    /// In the order of the builder's questions; what cannot be told is left out.
    pub items: Vec<Item>,
    /// The change to make first, if any is worth it.
    pub next: Option<Step>,
}

/// One answer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Item {
    /// The finding that tells more.
    pub id: Cow<'static, str>,
    /// `tops out`.
    pub label: Cow<'static, str>,
    /// `88 ± 15 km/h`.
    pub text: String,
    /// `late 79 km/h`, `right`: what stands beside it.
    pub beside: Option<String>,
    /// The number, where it has one.
    pub number: Option<Number>,
    /// How it stands.
    pub standing: Standing,
}

/// From a study and its findings.
pub fn verdict(study: &Study, findings: &[Finding]) -> Verdict {
    let found = |id: &str| findings.iter().find(|f| f.id == id);
    let items = [
        floats(study, found("floats"), found("freeboard")),
        found("planes").map(|f| item(f, "planes from", "does not plane")),
        found("top-speed").map(|f| Item {
            beside: beside_top(study),
            ..item(f, "tops out at", "no top speed")
        }),
        found("run-time").map(|f| item(f, "lasts", "no run")),
        found("heat").map(|f| Item {
            beside: hottest_part(study),
            ..item(f, "hottest", "not known")
        }),
        found("tightest-turn").map(|f| item(f, "turns in", "does not steer")),
        found("flight-margin").map(|f| Item {
            beside: f
                .number
                .map(|_| "bow up from its running trim, in a gust".to_owned()),
            ..item(f, "blows over at", "stays down")
        }),
    ];
    Verdict {
        items: items.into_iter().flatten().collect(),
        next: steps(study, findings).into_iter().next(),
    }
}

fn item(finding: &Finding, label: &'static str, without: &'static str) -> Item {
    Item {
        id: finding.id.clone(),
        label: label.into(),
        text: match &finding.number {
            Some(number) => number.to_string(),
            None => without.to_owned(),
        },
        beside: None,
        number: finding.number,
        standing: finding.standing,
    }
}

/// Afloat it is the freeboard that a builder looks at.
fn floats(study: &Study, floats: Option<&Finding>, freeboard: Option<&Finding>) -> Option<Item> {
    let floats = floats?;
    let text = match &study.rest.afloat {
        None => "no: it sinks".to_owned(),
        Some(afloat) => match (on_end(afloat), freeboard) {
            (Some(end), _) => format!("on its {end}"),
            (None, Some(freeboard)) => return Some(item(freeboard, "floats with", "yes")),
            (None, None) => "yes".to_owned(),
        },
    };
    // A word, not the number behind it.
    Some(Item {
        text,
        number: None,
        ..item(floats, "floats", "")
    })
}

/// Late in the run, and how a launch ends that does not get there upright or at rest in its trim.
fn beside_top(study: &Study) -> Option<String> {
    let late = asked(study, Quantity::LateTopSpeed).map(|n| format!("late {}", n.plain()));
    let launch = study.running.as_ref().and_then(|r| r.launch.as_ref());
    let full = study.running.as_ref().map(|r| &r.full_throttle);
    let hops = match full {
        // The number itself is that of the hop.
        Some(TopSpeed::Unsteady {
            in_time: InTime::Runs(run),
            ..
        }) => run.hops().then(|| "hopping".to_owned()),
        _ => launch.and_then(|l| l.ends).filter(|e| e.hops()).map(|e| {
            let speed = Number::exact(boat::Kind::Speed, e.mean_m_s);
            format!("from rest {}, hopping", speed.plain())
        }),
    };
    let over = launch.and_then(|l| l.ended).map(|spill| {
        let speed = Number::exact(boat::Kind::Speed, spill.speed_m_s);
        format!("from rest it {} at {}", spill.what.word(), speed.plain())
    });
    let both: Vec<String> = late.into_iter().chain(hops).chain(over).collect();
    (!both.is_empty()).then(|| both.join(", "))
}

fn hottest_part(study: &Study) -> Option<String> {
    let runs = &study.running.as_ref()?.flat_out;
    let warmest = study::stint::FlatOut::warmest(runs)?;
    Some(warmest.part.name().to_owned())
}
