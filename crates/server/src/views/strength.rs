//! Whether it holds: margins along the length, what is worst, what a crash breaks, what would change it.

use advice::Number;
use boat::Kind;
use making::strength::{Bow, Lever, MOST_TOLD, Margin, Of, Press, Strength, prints_standing};
use serde::Serialize;
use utoipa::ToSchema;

use super::NumberView;
use crate::studies::Studied;

/// Whether it holds.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct StrengthView {
    /// Of the text it was worked out from.
    pub revision: String,
    /// The plastic it prints in.
    pub material: String,
    /// Why nothing is told, in a sentence; nothing where it is.
    pub open: Option<String>,
    /// The worst at each place along the hull, stern first.
    pub stations: Vec<StationView>,
    /// Worst first.
    pub margins: Vec<MarginView>,
    /// What presses on the hull in the load of the worst margin, stern first; empty where that does not bend the whole.
    pub acting: Vec<PushView>,
    /// The most it bends in use.
    pub bow: Option<BowView>,
    /// What a crash breaks first.
    pub crashes: Vec<CrashView>,
    /// What would change the worst of them; empty where nothing is near its limit.
    pub levers: Vec<LeverView>,
    /// Stretches of the hull as they print, stern first.
    pub stretches: Vec<StretchView>,
    /// Joints across the length.
    pub joints: Vec<SeamView>,
}

/// A place along the hull.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct StationView {
    /// Ahead of the transom, m.
    pub x_m: f64,
    /// Strength over stress under the worst load there; 99 at most.
    pub margin: f64,
    /// Which load.
    pub load: String,
}

/// Strength over stress of one thing under one load.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct MarginView {
    /// `hull`, `joint`, `root`, `panel`, `bracket` or `steady`.
    pub of: String,
    /// `lap joint at 155 mm`.
    pub place: String,
    /// `landing`.
    pub load: String,
    /// Ahead of the transom, m.
    pub x_m: f64,
    /// Strength over stress, times.
    pub holds: NumberView,
    /// What it bears.
    pub stress: NumberView,
    /// What it can bear.
    pub strength: NumberView,
}

/// A force on the hull, from below or above.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct PushView {
    /// Ahead of the transom, m.
    pub x_m: f64,
    /// Where it meets the hull, m.
    pub z_m: f64,
    /// How much.
    pub force: NumberView,
    /// From above.
    pub down: bool,
}

/// How far the hull bends between its ends, frames keeping their shape.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct BowView {
    /// `landing`.
    pub load: String,
    /// How far.
    pub bow: NumberView,
    /// What gives way further, as the end of a sentence.
    pub beyond: String,
}

/// What a crash does.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct CrashView {
    /// `into the bank at half speed`.
    pub what: String,
    /// What breaks first, in words.
    pub breaks: String,
    /// Whether anything does.
    pub broken: bool,
    /// Where, m ahead of the transom.
    pub x_m: f64,
}

/// What would change it.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct LeverView {
    /// In words.
    pub what: String,
    /// The worst margin of the hull then, times.
    pub hull: f64,
    /// The worst margin of its joints then.
    pub joints: Option<f64>,
    /// The worst margin of its panels then.
    pub panels: Option<f64>,
}

/// A stretch of the hull that prints in one piece, or in pieces side by side.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct StretchView {
    /// m ahead of the transom.
    pub from_m: f64,
    /// m ahead of the transom.
    pub to_m: f64,
    /// It prints standing: bending pulls its layers apart.
    pub standing: bool,
}

/// A joint across the length.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SeamView {
    /// m ahead of the transom.
    pub x_m: f64,
    /// `lap`, `flange` or `butt`.
    pub kind: String,
}

/// Of a full study of the text `text`.
pub fn view(studied: &Studied, text: &str) -> StrengthView {
    let study = &studied.study;
    let material = study.boat.hull.print.material.clone();
    let running = study.running.as_ref();
    let strength = running.and_then(|under| under.strength.as_ref());
    let open = match (running, strength) {
        (None, _) => Some("The boat sinks: no load on it is known.".to_owned()),
        (_, None) => Some(format!(
            "Nobody told the strength of {material}, so whether it holds is open. It is known of {}.",
            making::strength::KNOWN.join(", ")
        )),
        _ => None,
    };
    let none = Strength::default();
    let strength = strength.unwrap_or(&none);
    StrengthView {
        revision: crate::revision::revision(text),
        material,
        open,
        stations: strength.stations.iter().map(station).collect(),
        margins: strength.margins.iter().map(margin).collect(),
        acting: strength.worst_acting().iter().map(push).collect(),
        bow: strength.bow.as_ref().map(bow),
        crashes: strength.crashes.iter().map(crash).collect(),
        levers: strength.levers.iter().map(lever).collect(),
        stretches: (strength.layout.stretches.iter())
            .map(|(from, to, up)| StretchView {
                from_m: place(*from),
                to_m: place(*to),
                standing: prints_standing(up),
            })
            .collect(),
        joints: (strength.layout.joints.iter())
            .map(|j| SeamView {
                x_m: place(j.x_m),
                kind: j.kind.word().to_owned(),
            })
            .collect(),
    }
}

fn place(metres: f64) -> f64 {
    advice::number::significant(metres)
}

fn times(value: f64) -> f64 {
    advice::number::significant(value.min(MOST_TOLD))
}

fn station(of: &making::strength::Station) -> StationView {
    StationView {
        x_m: place(of.x_m),
        margin: times(of.margin),
        load: of.load.to_owned(),
    }
}

fn margin(of: &Margin) -> MarginView {
    let (value, half) = of.told();
    let pressure = |pa: f64| (&Number::stress(pa)).into();
    MarginView {
        of: word(of.of).to_owned(),
        place: of.place.clone(),
        load: of.load.to_owned(),
        x_m: place(of.x_m),
        holds: (&Number::new(Kind::Number, value, half).per("times")).into(),
        stress: pressure(of.stress_pa),
        strength: pressure(of.strength_pa),
    }
}

const fn word(of: Of) -> &'static str {
    match of {
        Of::Hull => "hull",
        Of::Joint => "joint",
        Of::Root => "root",
        Of::Panel => "panel",
        Of::Bracket => "bracket",
        Of::Steady => "steady",
    }
}

fn push(of: &Press) -> PushView {
    PushView {
        x_m: place(of.x_m),
        z_m: place(of.z_m),
        force: (&Number::exact(Kind::Force, of.up_n.abs())).into(),
        down: of.up_n < 0.0,
    }
}

fn bow(of: &Bow) -> BowView {
    BowView {
        load: of.load.to_owned(),
        bow: (&Number::new(Kind::Length, of.bow_m, of.spread_m)).into(),
        beyond: of.beyond(),
    }
}

fn crash(of: &making::strength::crash::Crash) -> CrashView {
    CrashView {
        what: of.what.to_owned(),
        breaks: of.breaks.clone(),
        broken: of.broken,
        x_m: place(of.x_m),
    }
}

fn lever(of: &Lever) -> LeverView {
    LeverView {
        what: of.what.clone(),
        hull: times(of.hull),
        joints: of.joints.map(times),
        panels: of.panels.map(times),
    }
}
