//! A run in time on the pond: what happens, in order, and the odds over many runs.

pub(crate) mod script;
mod told;
mod words;

use craft::steady::Running;
use craft::{Craft, SpeedCurve};
use motion::flight::{Odds, OddsGrid, differences, odds};
use motion::many::{Count, many};
use motion::run::{Conditions, Start};
use motion::script::Script;
use motion::water::Surface;
use motion::{Run, run as drive};
use serde::{Deserialize, Serialize};
use std::ops::ControlFlow;
use study::quantity::{Detail, Solved, solve};
use utoipa::ToSchema;

use crate::bench::Bench;
use crate::fault::{Fault, shown};
use crate::folder::{Loaded, POINTS};
use crate::question::Question;
use crate::text_at::TextAt;

pub use told::{Counted, Happened, Load, OddsAt, Peaks, PondAnswer, Recording, Trace, Water};

/// The throttle is opened over this long from rest where no launch says how quickly, s.
const SQUEEZE_S: f64 = 2.0;
/// The odds: shares of top speed, ripple heights, and length of each run.
const SHARES: [f64; 4] = [0.5, 0.7, 0.85, 1.0];
const RIPPLES_M: [f64; 3] = [0.01, 0.02, 0.04];
const ODDS_SECONDS: f64 = 3.0;

/// What happens on the pond?
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct PondAsk {
    /// Ready condition to start from: `launch`, `straight`, `ripple`, `gusty`, `wake`, `turn-left`, `turn-right`.
    pub condition: String,
    /// `flat`, `ripple=20mm`, `waves=40mm,1.5m` or `wake=40mm,0.8m`, with `,from=SIDE`.
    pub water: Option<String>,
    /// Speed and side: `5m/s,from=ahead`.
    pub wind: Option<String>,
    /// Held throttle, 0 to 1 or in %; what holds the starting speed unless given.
    pub throttle: Option<String>,
    /// `right=12deg,at=2s`; the driver holds the course unless given.
    pub rudder: Option<String>,
    /// Throttle and rudder from a table with time, throttle and rudder.
    pub script: Option<TextAt>,
    /// `rest`, `top`, or a speed.
    pub start: Option<String>,
    /// How long.
    pub seconds: f64,
    /// Seed of the ripple: the same seed gives the same answer to the byte.
    pub seed: u64,
    /// Count how so many runs end, with seeds from `seed` on.
    #[schema(minimum = 1, maximum = 10_000)]
    pub runs: u32,
    /// Also: how often it ends upside down, by speed and ripple.
    pub odds: bool,
}

impl Default for PondAsk {
    fn default() -> Self {
        Self {
            condition: "launch".to_owned(),
            water: None,
            wind: None,
            throttle: None,
            rudder: None,
            script: None,
            start: None,
            seconds: 20.0,
            seed: 1,
            runs: 1,
            odds: false,
        }
    }
}

impl Question for PondAsk {
    type Answer = PondAnswer;

    fn answer(&self, bench: &Bench) -> Result<PondAnswer, Fault> {
        let loaded = bench.load()?;
        let ran = self.run(&loaded, bench)?;
        Ok(PondAnswer::of(&ran, &loaded))
    }

    fn files(&self) -> Vec<&std::path::Path> {
        self.script.iter().filter_map(TextAt::file).collect()
    }
}

/// What was asked and what came of it.
struct Ran {
    said: Said,
    surface: Surface,
    run: Run,
    count: Option<Count>,
    /// Each with what differs from the run.
    odds: Vec<(Odds, Vec<String>)>,
}

/// The conditions in the builder's words.
struct Said {
    condition: String,
    water: String,
    wind: String,
    hands: String,
    start: String,
    seed: u64,
}

impl PondAsk {
    /// A run that is stopped on the way is answered as far as it came.
    fn run(&self, loaded: &Loaded, bench: &Bench) -> Result<Ran, Fault> {
        bench.step("running from rest to top speed")?;
        let fault = |error: &dyn std::fmt::Display, hint: &str| loaded.fault(error, hint);
        let boat = &loaded.boat;
        let mass = loaded.mass()?;
        let factors = loaded.learned.factors();
        let detail = Detail::Rough(POINTS);
        let solved = solve(boat, &loaded.form, &mass, &factors, detail).map_err(|e| {
            let hint = "a boat that cannot float cannot start; `skimwright check` says more";
            fault(&e, hint)
        })?;
        let Solved { craft, curve, .. } = solved;
        if craft.propellers().is_empty() {
            let what = "the boat has no drive: it cannot start";
            return Err(fault(&what, "add a [[drive]]"));
        }
        if loaded.form.surfaces.is_empty() {
            let what = "no running surface was found: it cannot start";
            return Err(fault(&what, "see `skimwright hull`"));
        }
        let throws = boat.rudders.iter().map(|r| r.throw_rad.value);
        let throw_rad = throws.fold(0.0, f64::max);
        let (conditions, said) = conditions(self, &craft, &curve, throw_rad, &fault)?;
        bench.step("running in time")?;
        let refused = |e: motion::run::RunError| Fault::new(e.to_string(), hint(&e));
        let told = |share: f64| {
            bench.watch().part(share);
            match bench.watch().wanted() {
                true => ControlFlow::Continue(()),
                false => ControlFlow::Break(()),
            }
        };
        let run =
            drive(&craft, throw_rad, &conditions, &mut |share| told(share)).map_err(refused)?;
        let runs = self.runs.max(1) as usize;
        let count = if runs == 1 {
            None
        } else {
            bench.watch().step("counting how runs end");
            let counting = |done| told(done as f64 / runs as f64);
            Some(many(&craft, throw_rad, &conditions, runs, &counting).map_err(refused)?)
        };
        let odds = if self.odds {
            let speeds = odds_speeds(&craft, &curve);
            let asked = OddsGrid {
                speeds: &speeds,
                ripples_m: &RIPPLES_M,
                headwind_m_s: 0.0,
                seconds: ODDS_SECONDS,
                runs: runs.max(20),
                seed: self.seed,
            };
            bench.watch().step("counting the odds");
            let all = asked.runs * speeds.len() * RIPPLES_M.len();
            let counting = |done| told(done as f64 / all as f64);
            let counted = odds(&craft, throw_rad, &asked, &counting).map_err(refused)?;
            let beside = |o: Odds| {
                let running = speeds.iter().find(|s| s.speed_m_s == o.speed_m_s);
                let of = running.map(|r| asked.conditions(&craft, r, o.ripple_m));
                let differs = of.map_or_else(Vec::new, |of| differences(&of, &conditions));
                (o, differs)
            };
            counted.into_iter().map(beside).collect()
        } else {
            Vec::new()
        };
        Ok(Ran {
            said,
            surface: conditions.surface(&craft).map_err(|e| refused(e.into()))?,
            run,
            count,
            odds,
        })
    }
}

fn hint(error: &motion::run::RunError) -> &'static str {
    use motion::run::RunError;
    match error {
        RunError::Water(_) => "make them lower or longer",
        RunError::Script(_) => "see `skimwright pond --help`",
        RunError::Storm(_) => "less --wind",
        RunError::Seconds(_) => "another --seconds",
        RunError::NoDrive => "add a [[drive]]",
    }
}

fn conditions(
    given: &PondAsk,
    craft: &Craft,
    curve: &SpeedCurve,
    throw_rad: f64,
    fault: &dyn Fn(&dyn std::fmt::Display, &str) -> Fault,
) -> Result<(Conditions, Said), Fault> {
    let ready = words::condition(&given.condition)?;
    let water_text = given.water.as_deref().unwrap_or(ready.water);
    let wind_text = given.wind.as_deref().unwrap_or(ready.wind);
    let rudder_text = given.rudder.as_deref().unwrap_or(ready.rudder);
    let start_text = given.start.as_deref().unwrap_or(ready.start);
    let start = start(start_text, craft, curve, fault)?;
    let wind_m_s = match wind_text {
        "" => craft.surroundings().wind_m_s,
        text => words::wind(text)?,
    };
    let throttle = given.throttle.as_deref().map(words::throttle).transpose()?;
    let opened_s = match (&given.script, &start) {
        (None, Start::Rest) => opened_s(craft, throw_rad),
        _ => 0.0,
    };
    let mut script = match (&given.script, &start) {
        (Some(table), _) => script::read(table)?,
        (None, Start::Rest) => Script::squeeze(throttle.unwrap_or(1.0), opened_s),
        (None, Start::Running(running)) => {
            Script::steady(throttle.unwrap_or_else(|| craft.holding(running).min(1.0)))
        }
        (None, Start::Course(circle)) => {
            let turner = motion::turning::Turner { craft };
            Script::steady(throttle.unwrap_or_else(|| turner.throttle(circle).min(1.0)))
        }
    };
    if given.script.is_none() && !rudder_text.is_empty() {
        if throw_rad <= 0.0 {
            return Err(fault(&"the boat has no rudder", "add a [[rudder]]"));
        }
        let (at_s, angle_rad) = words::rudder(rudder_text, throw_rad)?;
        script = script.turning(at_s, angle_rad);
    }
    let said = Said {
        condition: ready.what.to_owned(),
        water: water_text.to_owned(),
        wind: said_wind(&wind_m_s),
        hands: match &given.script {
            Some(TextAt::Text(_)) => "hands by the table".to_owned(),
            Some(table) => shown(table.place()),
            None => {
                let rudder = match rudder_text {
                    "" => "course held".to_owned(),
                    text => format!("rudder {text}"),
                };
                match &start {
                    Start::Rest => format!("throttle opened over {opened_s} s, {rudder}"),
                    Start::Running(_) | Start::Course(_) => rudder,
                }
            }
        },
        start: match &start {
            Start::Rest => "rest".to_owned(),
            Start::Running(r) => format!("{:.0} km/h", 3.6 * r.speed_m_s),
            Start::Course(c) => format!("{:.0} km/h", 3.6 * c.speed_m_s),
        },
        seed: given.seed,
    };
    let conditions = Conditions {
        water: words::water(water_text)?,
        wind_m_s,
        script,
        start,
        seconds: given.seconds,
        seed: given.seed,
    };
    Ok((conditions, said))
}

/// Throttle from shut to open as in the launch that the findings tell of: as quickly as the boat stays upright.
fn opened_s(craft: &Craft, throw_rad: f64) -> f64 {
    motion::launch::launch(craft, throw_rad).map_or(SQUEEZE_S, |launch| launch.opened_s)
}

fn said_wind(wind_m_s: &nalgebra::Vector3<f64>) -> String {
    let speed = wind_m_s.norm();
    if speed < 1e-9 {
        return "none".to_owned();
    }
    // Where it comes from, to the left of ahead.
    let from = (-wind_m_s.y).atan2(-wind_m_s.x).to_degrees();
    match from.round() as i64 {
        0 => format!("{speed:.1} m/s from ahead"),
        180 | -180 => format!("{speed:.1} m/s from astern"),
        left if left > 0 => format!("{speed:.1} m/s from {left}° left of ahead"),
        right => format!("{speed:.1} m/s from {}° right of ahead", -right),
    }
}

/// `rest`, `top` or a speed.
fn start(
    text: &str,
    craft: &Craft,
    curve: &SpeedCurve,
    fault: &dyn Fn(&dyn std::fmt::Display, &str) -> Fault,
) -> Result<Start, Fault> {
    if text == "rest" {
        return Ok(Start::Rest);
    }
    let (Some(top), Some(balanced)) = (&curve.top, curve.balanced()) else {
        return Err(fault(
            &"the boat reaches no top speed to start from",
            "start from rest (--start rest); `skimwright check` says why",
        ));
    };
    if text == "top" {
        // Where its forces balance, also for a boat that does not stay there: what it then does is its top speed.
        return Ok(Start::Running(balanced.running()));
    }
    let help = "rest, top, or a speed such as 40km/h";
    let speed = boat::parse_quantity(boat::Kind::Speed, text)
        .map_err(|e| Fault::new(format!("--start: `{text}`: {e}"), help))?
        .value;
    if !(0.0..=top.speed_m_s).contains(&speed) {
        let most = 3.6 * top.speed_m_s;
        return Err(Fault::new(
            format!("--start: `{text}`: the boat runs between rest and {most:.0} km/h"),
            help,
        ));
    }
    running_at(craft, curve, speed)
        .map(Start::Running)
        .ok_or_else(|| {
            Fault::new(
                format!("--start: no steady state was found at {text}"),
                "start from rest, or at another speed",
            )
        })
}

fn running_at(craft: &Craft, curve: &SpeedCurve, speed_m_s: f64) -> Option<Running> {
    craft.on_curve(curve, speed_m_s).map(|s| s.running())
}

fn odds_speeds(craft: &Craft, curve: &SpeedCurve) -> Vec<Running> {
    let top = curve.top.as_ref().map_or(0.0, |t| t.speed_m_s);
    let at = |share: f64| running_at(craft, curve, share * top);
    SHARES.into_iter().filter_map(at).collect()
}
