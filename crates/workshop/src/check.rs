//! What a boat will do: findings, worst first.

use advice::findings::sureness::assumptions;
use advice::{Finding, Give, Number, Standing, Verdict, findings};
use boat::Kind;
use craft::{DriveState, RunningState, WettedSurface};
use evidence::Measured;
use laws::constants::HALF_WIDTH_95 as HALF_WIDTH;
use serde::{Deserialize, Serialize};
use std::path::Path;
use study::{Learned, Study, StudyError};
use utoipa::ToSchema;

use crate::bench::Bench;
use crate::fault::{Fault, shown};
use crate::folder::Loaded;
use crate::question::Question;

/// What will the boat do?
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct CheckAsk {
    /// How hard to look.
    pub effort: Effort,
}

/// How hard to look.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct Effort {
    /// How many likely variations of the boat to run for the spread.
    #[schema(maximum = 10_000)]
    pub variations: u32,
    /// Seed of the variations: the same seed gives the same answer to the byte.
    pub seed: u64,
}

impl Default for Effort {
    fn default() -> Self {
        Self {
            variations: 32,
            seed: 1,
        }
    }
}

/// What the boat will do.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CheckAnswer {
    /// The builder's name for it.
    pub boat: String,
    /// `three-point`, `outrigger`, `vee`, `catamaran` or `hull`.
    pub hull_type: String,
    /// All-up.
    pub mass: Number,
    /// Centre of gravity, boat axes.
    pub balance: Balance,
    /// Numbers to give before anything else, where parts were put in that nobody gave; five at most.
    pub give_first: Vec<Give>,
    /// What a builder asks first, and what to do next.
    pub verdict: Verdict,
    /// Worst first.
    pub findings: Vec<Finding>,
    /// Numbers nobody gave.
    pub assumptions: Vec<Assumption>,
    /// What was found in the mesh.
    pub notices: Vec<Notice>,
    /// Running states by speed; nothing for a boat that sinks, empty without a drive.
    pub speed_curve: Option<Vec<State>>,
    /// Likely variations behind the spreads.
    pub variations: Variations,
    /// What predictions carry from outings.
    pub learned: Option<Carried>,
}

/// Centre of gravity, boat axes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Balance {
    /// Ahead of the transom.
    pub x: Number,
    /// To port.
    pub y: Number,
    /// Above the transom's bottom edge.
    pub z: Number,
}

/// A number nobody gave.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Assumption {
    /// Which.
    pub what: String,
    /// What was taken.
    pub number: Number,
    /// Why that.
    pub why: String,
}

/// Something the mesh reader found.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct Notice {
    /// Whether answers may be wrong because of it.
    pub serious: bool,
    /// A sentence.
    pub text: String,
}

/// A running state.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct State {
    /// Through the water.
    pub speed: Number,
    /// Over 100 %: the drive cannot hold this speed.
    pub throttle: Number,
    /// Bow up positive.
    pub trim: Number,
    /// Starboard down positive.
    pub heel: Number,
    /// Of the transom's bottom edge above the still water; negative below it.
    pub rise: Number,
    /// To hold the speed.
    pub thrust_needed: Number,
    /// At full throttle at this speed and attitude.
    pub thrust_available: Number,
    /// Each running surface.
    pub wetted: Vec<Wetted>,
    /// Each drive.
    pub drives: Vec<Drive>,
}

/// What is wet of a running surface.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Wetted {
    /// Its name.
    pub surface: String,
    /// Along the keel.
    pub length: Number,
    /// Across.
    pub beam: Number,
    /// What it carries.
    pub lift: Number,
}

/// One drive at a speed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Drive {
    /// Its name; empty for the only one.
    pub drive: String,
    /// Of the propeller.
    pub shaft_speed: Number,
    /// Of the pack.
    pub current: Number,
    /// Of the pack.
    pub voltage: Number,
    /// Along the shaft.
    pub thrust: Number,
    /// Share of the disc under water.
    pub immersion: Number,
    /// Of the propeller.
    pub slip: Number,
}

/// Likely variations behind the spreads.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct Variations {
    /// Those that were run.
    pub run: usize,
    /// Those asked for that could not be solved.
    pub not_solved: usize,
}

/// What predictions carry from outings.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Carried {
    /// Outings it was learned from.
    pub from: Vec<String>,
    /// What was moved.
    pub factors: Vec<Factor>,
    /// What does not carry to this boat, and why.
    pub left_out: Vec<String>,
}

/// An uncertain number that was learned.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Factor {
    /// Which.
    pub name: String,
    /// The part it belongs to.
    pub of: String,
    /// Before anything was measured.
    pub before: Number,
    /// With what was measured.
    pub after: Number,
}

impl Factor {
    /// Whether it became surer by more than a tenth.
    pub fn is_told(&self) -> bool {
        self.after.spread <= 0.9 * self.before.spread
    }
}

impl Question for CheckAsk {
    type Answer = CheckAnswer;

    fn answer(&self, bench: &Bench) -> Result<CheckAnswer, Fault> {
        let study = studied(bench.load()?, self.effort, bench)?;
        Ok(CheckAnswer::of(&study, &findings(&study)))
    }
}

impl CheckAnswer {
    /// Of a study and its findings.
    pub fn of(study: &Study, all: &[Finding]) -> Self {
        let axis = |index: usize| {
            let spread = study.mass.cg_spread_m[index].abs();
            Number::new(Kind::Length, study.mass.cg_m[index], spread)
        };
        let under = study.running.as_ref();
        Self {
            boat: study.boat.name.clone(),
            hull_type: study.hull_type.name().to_owned(),
            mass: Number::new(Kind::Mass, study.mass.mass_kg, study.mass.mass_spread_kg),
            balance: Balance {
                x: axis(0),
                y: axis(1),
                z: axis(2),
            },
            give_first: advice::give_first(&study.boat),
            verdict: advice::verdict(study, all),
            findings: all.to_vec(),
            assumptions: assumptions(&study.boat)
                .into_iter()
                .map(|one| Assumption {
                    what: one.what,
                    number: one.number,
                    why: one.why.to_owned(),
                })
                .collect(),
            notices: study.form.notices.iter().map(Notice::of).collect(),
            speed_curve: under.map(|u| u.curve.running.iter().map(State::of).collect()),
            variations: Variations {
                run: study.spread.draws.len(),
                not_solved: study.spread.failed,
            },
            learned: Carried::of(&study.learned),
        }
    }

    /// Whether anything says stop.
    pub fn says_stop(&self) -> bool {
        self.findings.iter().any(|f| f.standing == Standing::Stop)
    }
}

impl Notice {
    /// As the mesh reader has it.
    pub fn of(notice: &form::Notice) -> Self {
        Self {
            serious: notice.serious,
            text: notice.text.clone(),
        }
    }
}

impl State {
    fn of(state: &RunningState) -> Self {
        let n = Number::exact;
        Self {
            speed: n(Kind::Speed, state.speed_m_s),
            throttle: n(Kind::Fraction, state.throttle),
            trim: n(Kind::Angle, state.attitude.trim_rad),
            heel: n(Kind::Angle, state.attitude.heel_rad),
            rise: n(Kind::Length, state.attitude.rise_m),
            thrust_needed: n(Kind::Force, state.thrust_needed_n),
            thrust_available: n(Kind::Force, state.thrust_available_n),
            wetted: state.wetted.iter().map(Wetted::of).collect(),
            drives: state.drives.iter().map(Drive::of).collect(),
        }
    }
}

impl Wetted {
    fn of(one: &WettedSurface) -> Self {
        Self {
            surface: one.name.clone(),
            length: Number::exact(Kind::Length, one.keel_length_m),
            beam: Number::exact(Kind::Length, one.beam_m),
            lift: Number::exact(Kind::Force, one.lift_n),
        }
    }
}

impl Drive {
    fn of(one: &DriveState) -> Self {
        let n = Number::exact;
        Self {
            drive: one.name.clone(),
            shaft_speed: n(Kind::ShaftSpeed, one.shaft_rad_s),
            current: n(Kind::Current, one.current_a),
            voltage: n(Kind::Voltage, one.voltage_v),
            thrust: n(Kind::Force, one.thrust_n),
            immersion: n(Kind::Fraction, one.immersion),
            slip: n(Kind::Fraction, one.slip),
        }
    }
}

impl Carried {
    /// Nothing where nothing is carried and nothing was left out.
    pub fn of(learned: &Learned) -> Option<Self> {
        if learned.is_empty() && learned.left_out.is_empty() {
            return None;
        }
        let factors = learned.knobs().iter().map(|k| Factor {
            name: k.lever.name().to_owned(),
            of: k.lever.owner().name().to_owned(),
            before: factor(Measured::new(k.before.0, k.before.1)),
            after: factor(Measured::new(k.mean, k.sigma)),
        });
        Some(Self {
            from: learned.from.clone(),
            factors: factors.collect(),
            left_out: learned.left_out.clone(),
        })
    }
}

/// An uncertain number with its 95 % half-width.
pub fn factor(m: Measured) -> Number {
    Number::new(Kind::Number, m.value, HALF_WIDTH * m.sigma)
}

/// Asks everything of a loaded boat.
///
/// # Errors
/// [`Fault`] when it cannot be studied, and for a boat that sinks.
pub fn studied(loaded: Loaded, effort: Effort, bench: &Bench) -> Result<Study, Fault> {
    bench.go_on()?;
    let effort = study::Effort {
        draws: effort.variations as usize,
        seed: effort.seed,
        ..study::Effort::default()
    };
    let file = loaded.folder.join("boat.toml");
    let step = |what: &'static str| bench.watch().step(what);
    let source = loaded.source()?;
    let from: &dyn study::Source = &source;
    let study = study::study_with(source.subject(), Some(from), effort, &step)
        .map_err(|error| Fault::of_file(&file, &error, hint(&error)))?;
    bench.go_on()?;
    refuse_to_sink(&file, study)
}

/// What would let a boat be studied.
pub fn hint(error: &StudyError) -> &'static str {
    match error {
        StudyError::NoRunningSurface => {
            "the lowest part of the hull needs a flat or vee run that ends in an edge; see `skimwright hull`"
        }
        StudyError::Mass(_) => "weigh the parts, or describe the print under [hull.print]",
        _ => "",
    }
}

/// A boat heavier than its whole hull can float has no answers to give: the file is at fault.
fn refuse_to_sink(file: &Path, study: Study) -> Result<Study, Fault> {
    if study.rest.afloat.is_some() {
        return Ok(study);
    }
    let mass_kg = study.mass.mass_kg;
    let hull_kg = (1.0 + study.rest.reserve_of_buoyancy) * mass_kg;
    let heaviest = study
        .mass
        .items
        .iter()
        .max_by(|a, b| a.mass_kg.total_cmp(&b.mass_kg));
    let heaviest = heaviest.map_or_else(String::new, |item| {
        let grams = item.mass_kg * 1e3;
        format!(
            "; the heaviest thing in it is `{}`, {grams:.0} g",
            item.name
        )
    });
    Err(Fault::new(
        format!(
            "{}: it sinks: the masses add up to {mass_kg:.3} kg, and the whole hull under water carries {hull_kg:.3} kg{heaviest}",
            shown(file)
        ),
        "check the masses' units and the hull's size (`skimwright hull` prints it), or make the hull larger",
    ))
}
