//! A run in time: current, charge and heat, and what reaches its limit first.

pub(crate) mod script;

use advice::Number;
use advice::number::significant;
use boat::Kind;
use power::PowerError;
use power::run::{Discharge, Sample};
use power::script::Script;
use power::setup::{CARE, charge_time_s};
use power::thermal::Part;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use study::Quantity;
use study::stint::{SCRIPTS, Stint, StintError, WHAT_IFS, Worth, tightest, time_s, what_if};
use utoipa::ToSchema;

use crate::bench::Bench;
use crate::check::Carried;
use crate::fault::Fault;
use crate::folder::Loaded;
use crate::question::Question;
use crate::series::settled;
use crate::text_at::TextAt;

/// Samples in an answer.
const SAMPLES: usize = 240;

/// How does a run go, until the pack is spent?
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct StintAsk {
    /// What the throttle does.
    pub script: Hands,
    /// Ask only these; all of them when empty.
    pub what_if: Vec<String>,
    /// Watch for so long after stopping, s.
    #[schema(maximum = 7200)]
    pub soak: u32,
    /// Which drive, by its name; the first unless given.
    pub drive: Option<String>,
}

/// What the throttle does.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum Hands {
    /// `flat-out`, `heat`, `sprint` or `cruise`.
    Named(String),
    /// A table with time and throttle, and speed if it was measured.
    Table(TextAt),
}

impl Default for StintAsk {
    fn default() -> Self {
        Self {
            script: Hands::Named(SCRIPTS[0].0.to_owned()),
            what_if: Vec::new(),
            soak: 120,
            drive: None,
        }
    }
}

/// How a run goes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StintAnswer {
    /// The builder's name for the boat.
    pub boat: String,
    /// Which drive; empty for the only one.
    pub drive: String,
    /// What the throttle did.
    pub script: String,
    /// Full throttle at the charge in the boat file, as `check` tells it.
    pub top_speed: Option<Number>,
    /// Over the hump, as `check` tells it, where the script opens full throttle from rest.
    pub hump_current: Option<Number>,
    /// What came of it.
    pub summary: Summary,
    /// What warms most after stopping.
    pub soak: Option<Soak>,
    /// The same run with something wrong.
    pub what_if: Vec<WhatIf>,
    /// What would be worth measuring, most first.
    pub measure_next: Vec<MeasureNext>,
    /// Numbers of the heat that nobody gave.
    pub assumed: Vec<Assumed>,
    /// From a fifth to full, at 1C.
    pub charge_time: Number,
    /// How to treat lithium packs.
    pub care: Vec<String>,
    /// The course of it.
    pub samples: Vec<Instant>,
    /// What predictions carry from outings.
    pub learned: Option<Carried>,
}

/// What came of a run.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Summary {
    /// Limits reached, in order.
    pub reached: Vec<Reached>,
    /// How long the pack lasts.
    pub time_on_pack: Number,
    /// Whether it was spent down to a fifth.
    pub reserve_reached: bool,
    /// Of each part.
    pub hottest: BTreeMap<String, Number>,
    /// Of the parts, the one that came nearest to its limit.
    pub nearest: Nearest,
    /// From the pack, the highest of this run, which takes the boat along its steady states: a launch draws more.
    pub most_current: Number,
    /// From the pack.
    pub energy: Number,
    /// Of the script's laps.
    pub energy_per_lap: Option<Number>,
    /// Run.
    pub distance: Number,
    /// What the heat's sums are off by, as a share.
    pub imbalance: f64,
}

/// A limit reached.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Reached {
    /// Of which part.
    pub part: String,
    /// When.
    pub after: Number,
    /// Its temperature.
    pub limit: Number,
}

/// The part nearest to its limit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Nearest {
    /// Which.
    pub part: String,
    /// How hot it got.
    pub hottest: Number,
}

/// What warms most after stopping.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Soak {
    /// Which part.
    pub part: String,
    /// By how much, K.
    pub rise_k: f64,
    /// How long after stopping.
    pub after: Number,
}

/// The run with something wrong.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct WhatIf {
    /// Its name.
    pub what: String,
    /// In words.
    pub words: String,
    /// What comes of it.
    pub summary: Summary,
}

/// Something worth measuring.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct MeasureNext {
    /// What, and how.
    pub what: String,
    /// What it moves the hottest part by, K.
    pub hottest: Number,
    /// What it moves the time on the pack by.
    pub time: Number,
}

/// A number of the heat that nobody gave.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Assumed {
    /// Which.
    pub what: String,
    /// What was taken.
    pub number: Number,
    /// Why that.
    pub why: String,
}

/// A moment of a run.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Instant {
    /// s.
    pub time_s: f64,
    /// 0 to 1.
    pub throttle: f64,
    /// km/h.
    pub speed_km_h: f64,
    /// From the pack, A.
    pub current_a: f64,
    /// Of the pack, V.
    pub voltage_v: f64,
    /// Left in the pack, 0 to 1.
    pub charge: f64,
    /// Cooling water, l/min.
    pub water_l_min: f64,
    /// Of each part, °C.
    pub temperature_c: BTreeMap<String, f64>,
}

impl Question for StintAsk {
    type Answer = StintAnswer;

    fn answer(&self, bench: &Bench) -> Result<StintAnswer, Fault> {
        let loaded = bench.load()?;
        bench.step("running from rest to top speed")?;
        let ran = self.run(&loaded, bench)?;
        Ok(ran.told(&loaded))
    }

    fn files(&self) -> Vec<&std::path::Path> {
        match &self.script {
            Hands::Table(table) => table.file().into_iter().collect(),
            Hands::Named(_) => Vec::new(),
        }
    }
}

/// A run and what was asked beside it.
struct Ran {
    top_m_s: Option<f64>,
    hump_a: Option<f64>,
    stint: Stint,
    script: Script,
    run: Discharge,
    what_ifs: Vec<(&'static str, &'static str, Discharge)>,
    worth: Vec<Worth>,
}

impl StintAsk {
    fn run(&self, loaded: &Loaded, bench: &Bench) -> Result<Ran, Fault> {
        let index = self.which(loaded)?;
        let solved = loaded.solved()?;
        bench.step("running in time")?;
        let boat = &loaded.boat;
        let stint = Stint::of(boat, &solved.craft, &solved.curve, index).map_err(|e| {
            let hint = match e {
                StintError::NoDrive => "add a [[drive]]",
                StintError::NoCurve => "`skimwright check` says why it does not run",
                StintError::Power(_) => "check the constants under [[drive]]",
            };
            loaded.fault(&e, hint)
        })?;
        let cannot = |e: PowerError| loaded.fault(&e, "check the constants under [[drive]]");
        let soak = f64::from(self.soak);
        let named = match &self.script {
            Hands::Named(name) => stint.run_named(name, soak).map_err(cannot)?,
            Hands::Table(_) => None,
        };
        let (script, run) = match named {
            Some(ran) => ran,
            None => {
                let script = self.script_of(&stint)?.with_soak(soak);
                let run = stint.run(&script).map_err(cannot)?;
                (script, run)
            }
        };
        bench.step("asking what if")?;
        let mut what_ifs = Vec::new();
        for (name, words) in WHAT_IFS {
            let wanted = self.what_if.is_empty() || self.what_if.iter().any(|w| w == name);
            if let Some(change) = what_if(name).filter(|_| wanted) {
                bench.go_on()?;
                let run = stint.with(change).run(&script).map_err(cannot)?;
                what_ifs.push((name, words, run));
            }
        }
        let worth = stint.worth_measuring(&boat.drives[index]).map_err(cannot)?;
        let top_m_s = solved.quantities.get(Quantity::TopSpeed);
        let opens = matches!(&self.script, Hands::Named(name) if name != "cruise");
        let hump_a = || study::hump_current_a(boat, &solved);
        Ok(Ran {
            top_m_s,
            hump_a: opens.then(hump_a).flatten(),
            stint,
            script,
            run,
            what_ifs,
            worth,
        })
    }

    fn which(&self, loaded: &Loaded) -> Result<usize, Fault> {
        for name in &self.what_if {
            if what_if(name).is_none() {
                let known = WHAT_IFS.map(|w| w.0).join(", ");
                let what = format!("there is no what-if called `{name}`");
                return Err(Fault::new(what, format!("there are: {known}")));
            }
        }
        let drives = &loaded.boat.drives;
        if drives.is_empty() {
            return Err(loaded.fault(&StintError::NoDrive, "add a [[drive]]"));
        }
        let Some(name) = &self.drive else {
            return Ok(0);
        };
        drives.iter().position(|d| d.name == *name).ok_or_else(|| {
            let names: Vec<&str> = drives.iter().map(|d| d.name.as_str()).collect();
            let hint = format!("its drives: {}", names.join(", "));
            loaded.fault(&format!("no drive is called `{name}`"), &hint)
        })
    }

    fn script_of(&self, stint: &Stint) -> Result<Script, Fault> {
        match &self.script {
            Hands::Table(table) => script::read(table),
            Hands::Named(name) => stint.script(name).ok_or_else(|| {
                let what = format!("there is no script called {name}");
                Fault::new(what, format!("scripts: {}", script_names()))
            }),
        }
    }
}

/// The made-up scripts, for hints.
pub fn script_names() -> String {
    SCRIPTS.map(|(name, _)| name).join(", ")
}

fn celsius(kelvin: f64) -> Number {
    Number::exact(Kind::Temperature, kelvin - 273.15)
}

impl Ran {
    fn told(&self, loaded: &Loaded) -> StintAnswer {
        let run = &self.run;
        let setup = &self.stint.setup;
        let step = run.samples.len().div_ceil(SAMPLES).max(1);
        let last = run.samples.len().saturating_sub(1);
        let kept = run.samples.iter().enumerate();
        let kept = kept.filter(|(i, _)| i % step == 0 || *i == last);
        let soak = run.soak(self.script.end_s());
        StintAnswer {
            boat: loaded.boat.name.clone(),
            drive: self.stint.drive.clone(),
            script: self.script.name.clone(),
            top_speed: self.top_m_s.map(|v| Number::exact(Kind::Speed, v)),
            hump_current: self.hump_a.map(|a| Number::exact(Kind::Current, a)),
            summary: self.summary(run),
            soak: soak.map(|(part, rise_k, after_s)| Soak {
                part: part.name().to_owned(),
                rise_k: significant(rise_k),
                after: Number::exact(Kind::Time, after_s),
            }),
            what_if: self
                .what_ifs
                .iter()
                .map(|(name, words, run)| WhatIf {
                    what: (*name).to_owned(),
                    words: (*words).to_owned(),
                    summary: self.summary(run),
                })
                .collect(),
            measure_next: self.worth.iter().map(MeasureNext::of).collect(),
            assumed: setup
                .assumed
                .iter()
                .map(|a| Assumed {
                    what: a.what.to_owned(),
                    number: Number::new(a.kind, a.value, a.spread * a.value),
                    why: a.why.to_owned(),
                })
                .collect(),
            charge_time: Number::exact(Kind::Time, charge_time_s(0.2, 1.0, 1.0)),
            care: CARE.map(str::to_owned).to_vec(),
            samples: kept.map(|(_, s)| Instant::of(s)).collect(),
            learned: Carried::of(&loaded.learned),
        }
    }

    fn summary(&self, run: &Discharge) -> Summary {
        let (part, hottest_k) = tightest(run, &self.stint.setup);
        let each = Part::ALL.into_iter();
        Summary {
            reached: run
                .reached
                .iter()
                .map(|r| Reached {
                    part: r.part.name().to_owned(),
                    after: Number::exact(Kind::Time, r.time_s),
                    limit: celsius(r.limit_k),
                })
                .collect(),
            time_on_pack: Number::exact(Kind::Time, time_s(run)),
            reserve_reached: run.reserve_s.is_some(),
            hottest: each
                .map(|p| (p.name().to_owned(), celsius(run.hottest_k[p as usize])))
                .collect(),
            nearest: Nearest {
                part: part.name().to_owned(),
                hottest: celsius(hottest_k),
            },
            most_current: Number::exact(Kind::Current, run.peak_pack_a),
            energy: Number::exact(Kind::Energy, run.energy_j),
            energy_per_lap: run.energy_per_lap_j.map(|j| Number::exact(Kind::Energy, j)),
            distance: Number::exact(Kind::Length, run.distance_m),
            imbalance: significant(run.imbalance),
        }
    }
}

impl MeasureNext {
    fn of(worth: &Worth) -> Self {
        Self {
            what: worth.how.to_owned(),
            hottest: Number::exact(Kind::Number, significant(worth.hottest_k)),
            time: Number::exact(Kind::Time, worth.time_s),
        }
    }
}

impl Instant {
    fn of(s: &Sample) -> Self {
        let each = Part::ALL.into_iter();
        Self {
            time_s: settled(s.time_s),
            throttle: settled(s.throttle),
            speed_km_h: settled(3.6 * s.speed_m_s),
            current_a: settled(s.instant.pack_a),
            voltage_v: settled(s.instant.pack_v),
            charge: settled(s.charge),
            water_l_min: settled(60.0 * s.water_kg_s),
            temperature_c: each
                .map(|p| {
                    let celsius = s.temperature_k[p as usize] - 273.15;
                    (p.name().to_owned(), settled(celsius))
                })
                .collect(),
        }
    }
}
