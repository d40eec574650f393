//! A run in time on the pond: what happens, in order, and the odds over many runs.

mod recording;
mod script;
mod stop;
mod text;
mod words;

use craft::steady::Running;
use craft::{Craft, RunningState, SpeedCurve};
use motion::flight::{Asked, Odds, as_running, holding_throttle, odds};
use motion::many::{Count, many};
use motion::run::{Conditions, Start};
use motion::script::Script;
use motion::water::Surface;
use motion::{Run, run as drive};
use serde_json::{Value, json};
use std::ops::ControlFlow;
use std::sync::atomic::Ordering;

use workshop::check::Carried;

use super::{Outcome, check};
use crate::boat_folder::{self, Loaded, write_whole};
use crate::cli::PondArgs;
use crate::failure::{Failure, shown};
use crate::output;
use crate::progress::Progress;

/// Speeds of the curve that a start is taken from.
const POINTS: usize = 48;
/// The throttle is squeezed open over this long from rest, s.
pub const SQUEEZE_S: f64 = 1.5;
/// `--odds`: shares of top speed, ripple heights, and length of each run.
const SHARES: [f64; 4] = [0.5, 0.7, 0.85, 1.0];
const RIPPLES_M: [f64; 3] = [0.01, 0.02, 0.04];
const ODDS_SECONDS: f64 = 5.0;

/// What was asked and what came of it.
struct Answer {
    name: String,
    said: Said,
    surface: Surface,
    run: Run,
    count: Option<Count>,
    /// Runs asked for.
    asked: usize,
    odds: Vec<Odds>,
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

pub fn run(given: &PondArgs) -> Result<Outcome, Failure> {
    let loaded = boat_folder::load(&given.boat)?;
    let answer = answer(given, &loaded)?;
    if let Some(file) = &given.output {
        let recording = recording::of(&answer);
        let text = serde_json::to_string(&recording)
            .map_err(|e| Failure::new(format!("cannot write JSON: {e}"), ""))?;
        write_whole(file, text.as_bytes())?;
    }
    if given.json {
        let mut said = as_json(&answer);
        said["learned"] = json!(Carried::of(&loaded.learned));
        output::print_json(&said)?;
    } else {
        let mut said = text::of(&answer);
        check::learned(&mut said, Carried::of(&loaded.learned).as_ref());
        if let Some(file) = &given.output {
            said += &format!("recording: {}\n", shown(file));
        }
        output::print(&said)?;
    }
    let over = answer.run.events.iter().any(|e| e.what.ends());
    Ok(if over { Outcome::Stop } else { Outcome::Good })
}

fn answer(given: &PondArgs, loaded: &Loaded) -> Result<Answer, Failure> {
    let file = loaded.folder.join("boat.toml");
    let fault = |error: &dyn std::fmt::Display, hint: &str| {
        Failure::new(format!("{}: {error}", shown(&file)), hint)
    };
    let progress = Progress::new();
    progress.step("running from rest to top speed");
    let boat = &loaded.boat;
    let mass = craft::mass::mass_properties(boat, &loaded.form).map_err(|e| {
        fault(
            &e,
            "weigh the parts, or describe the print under [hull.print]",
        )
    })?;
    let craft = Craft::new(boat, &loaded.form, &mass, &loaded.learned.factors()).map_err(|e| {
        fault(
            &e,
            "a boat that cannot float cannot start; `skimwright check` says more",
        )
    })?;
    if craft.propellers().is_empty() {
        return Err(fault(
            &"the boat has no drive: it cannot start",
            "add a [[drive]]",
        ));
    }
    if loaded.form.surfaces.is_empty() {
        return Err(fault(
            &"no running surface was found: it cannot start",
            "see `skimwright hull`",
        ));
    }
    let curve = craft.rough_curve(POINTS);
    let throw_rad = boat
        .rudders
        .iter()
        .map(|r| r.throw_rad.value)
        .fold(0.0, f64::max);
    let (conditions, said) = conditions(given, &craft, &curve, throw_rad, &fault)?;
    progress.step("running in time");
    let refused = |e: motion::run::RunError| Failure::new(e.to_string(), hint(&e));
    let stop = stop::on_interrupt();
    let told = |share: f64| {
        progress.part(share);
        if stop.load(Ordering::Relaxed) {
            ControlFlow::Break(())
        } else {
            ControlFlow::Continue(())
        }
    };
    let run = drive(&craft, throw_rad, &conditions, &mut |share| told(share)).map_err(refused)?;
    let runs = given.runs as usize;
    let count = if runs == 1 {
        None
    } else {
        progress.step("counting how runs end");
        let counting = |done| told(done as f64 / runs as f64);
        Some(many(&craft, throw_rad, &conditions, runs, &counting).map_err(refused)?)
    };
    let odds = if given.odds {
        let speeds = odds_speeds(&craft, &curve);
        let asked = Asked {
            speeds: &speeds,
            ripples_m: &RIPPLES_M,
            headwind_m_s: 0.0,
            seconds: ODDS_SECONDS,
            runs: runs.max(20),
            seed: given.seed,
        };
        progress.step("counting the odds");
        let all = asked.runs * speeds.len() * RIPPLES_M.len();
        let counting = |done| told(done as f64 / all as f64);
        odds(&craft, throw_rad, &asked, &counting).map_err(refused)?
    } else {
        Vec::new()
    };
    Ok(Answer {
        name: boat.name.clone(),
        said,
        surface: conditions.surface(&craft).map_err(|e| refused(e.into()))?,
        run,
        count,
        asked: runs,
        odds,
    })
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
    given: &PondArgs,
    craft: &Craft,
    curve: &SpeedCurve,
    throw_rad: f64,
    fault: &dyn Fn(&dyn std::fmt::Display, &str) -> Failure,
) -> Result<(Conditions, Said), Failure> {
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
    let mut script = match (&given.script, &start) {
        (Some(file), _) => script::read(file)?,
        (None, Start::Rest) => Script::squeeze(throttle.unwrap_or(1.0), SQUEEZE_S),
        (None, Start::Running(running)) => {
            Script::steady(throttle.unwrap_or_else(|| holding_throttle(craft, running)))
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
            Some(file) => shown(file),
            None if rudder_text.is_empty() => "course held".to_owned(),
            None => format!("rudder {rudder_text}"),
        },
        start: match &start {
            Start::Rest => "rest".to_owned(),
            Start::Running(r) => format!("{:.0} km/h", 3.6 * r.speed_m_s),
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
    fault: &dyn Fn(&dyn std::fmt::Display, &str) -> Failure,
) -> Result<Start, Failure> {
    if text == "rest" {
        return Ok(Start::Rest);
    }
    let Some(top) = &curve.top else {
        return Err(fault(
            &"the boat reaches no top speed to start from",
            "start from rest (--start rest); `skimwright check` says why",
        ));
    };
    if text == "top" {
        return Ok(Start::Running(as_running(top)));
    }
    let help = "rest, top, or a speed such as 40km/h";
    let speed = boat::parse_quantity(boat::Kind::Speed, text)
        .map_err(|e| Failure::new(format!("--start: `{text}`: {e}"), help))?
        .value;
    if !(0.0..=top.speed_m_s).contains(&speed) {
        let most = 3.6 * top.speed_m_s;
        return Err(Failure::new(
            format!("--start: `{text}`: the boat runs between rest and {most:.0} km/h"),
            help,
        ));
    }
    running_at(craft, curve, speed)
        .map(Start::Running)
        .ok_or_else(|| {
            Failure::new(
                format!("--start: no steady state was found at {text}"),
                "start from rest, or at another speed",
            )
        })
}

fn running_at(craft: &Craft, curve: &SpeedCurve, speed_m_s: f64) -> Option<Running> {
    let away = |s: &&RunningState| (s.speed_m_s - speed_m_s).abs();
    let near = curve
        .running
        .iter()
        .min_by(|a, b| away(a).total_cmp(&away(b)))?;
    craft.balance(&Running {
        speed_m_s,
        ..as_running(near)
    })
}

fn odds_speeds(craft: &Craft, curve: &SpeedCurve) -> Vec<Running> {
    let top = curve.top.as_ref().map_or(0.0, |t| t.speed_m_s);
    let at = |share: f64| running_at(craft, curve, share * top);
    SHARES.into_iter().filter_map(at).collect()
}

fn as_json(answer: &Answer) -> Value {
    let said = &answer.said;
    json!({
        "boat": answer.name,
        "condition": said.condition,
        "water": said.water,
        "wind": said.wind,
        "hands": said.hands,
        "start": said.start,
        "seed": said.seed,
        "events": recording::events(&answer.run),
        "peaks": recording::peaks(&answer.run),
        "stopped": recording::stopped(&answer.run),
        "runs": answer.count.map(|c| recording::count(&c)),
        "odds": answer.odds.iter().map(recording::odds).collect::<Vec<_>>(),
        "rests_on": "theory only, unvalidated",
        "surface": recording::surface(&answer.surface),
        "trace": recording::trace(&answer.run),
    })
}
