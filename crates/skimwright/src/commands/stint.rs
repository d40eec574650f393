//! A run in time, as text or JSON.

use power::thermal::Part;
use std::fmt::Write as _;
use study::stint::SCRIPTS;
use workshop::TextAt;
use workshop::stint::{Hands, Instant, Reached, StintAnswer, StintAsk, Summary, script_names};

use super::{Outcome, ask, check};
use crate::cli::StintArgs;
use crate::failure::Failure;
use crate::output;

/// Rows of the table.
const ROWS: usize = 12;

pub fn run(given: &StintArgs) -> Result<Outcome, Failure> {
    let question = StintAsk {
        script: hands(&given.script)?,
        what_if: given.what_if.clone(),
        soak: given.soak,
        drive: given.drive.clone(),
    };
    let answer = ask(&question, &given.boat)?;
    if given.json {
        output::print_json(&answer)?;
    } else {
        output::print(&as_text(&answer))?;
    }
    Ok(Outcome::Good)
}

/// A script by its name, else a file.
fn hands(script: &str) -> Result<Hands, Failure> {
    if SCRIPTS.iter().any(|(name, _)| *name == script) {
        return Ok(Hands::Named(script.to_owned()));
    }
    if !std::path::Path::new(script).exists() {
        let what = format!("there is no script or file called {script}");
        let hint = format!("scripts: {}; or a file", script_names());
        return Err(Failure::new(what, hint));
    }
    Ok(Hands::Table(TextAt::File(script.into())))
}

fn as_text(answer: &StintAnswer) -> String {
    let mut text = format!(
        "{}{}: {}\n\n",
        answer.boat,
        drive(&answer.drive),
        answer.script
    );
    table(&mut text, &answer.samples);
    if let Some(top) = &answer.top_speed {
        let _ = writeln!(
            text,
            "\nTop speed {}, at the charge of the boat file.",
            top.plain()
        );
    }
    let _ = writeln!(text, "{}", verdict(answer));
    for later in answer.summary.reached.iter().skip(1) {
        let _ = writeln!(text, "  then {}", limit(later));
    }
    if let Some(energy) = &answer.summary.energy_per_lap {
        let _ = writeln!(
            text,
            "Energy for each lap of the script's course: {}.",
            energy.plain()
        );
    }
    text.push_str(&soaking(answer));
    if !answer.what_if.is_empty() {
        text.push_str("\nWhat if\n");
    }
    for one in &answer.what_if {
        let _ = writeln!(text, "  {}: {}", one.words, outcome(&one.summary));
    }
    if let Some(best) = answer.measure_next.first() {
        let _ = writeln!(
            text,
            "\nWorth measuring next, {}.\n  As far off as it may be, it moves the hottest part by {:+.0} K and the time on the pack by {:+.0} s.",
            best.what, best.hottest.value, best.time.value
        );
    }
    assumed(&mut text, answer);
    let _ = writeln!(
        text,
        "\nCharging from a fifth takes about {} at 1C. Lithium packs:",
        answer.charge_time.plain()
    );
    for line in &answer.care {
        let _ = writeln!(text, "  ! {line}");
    }
    text.push_str(
        "Theory only, with joints and masses estimated from size: carry half of every rise.\n",
    );
    check::learned(&mut text, answer.learned.as_ref());
    text
}

fn drive(name: &str) -> String {
    if name.is_empty() {
        String::new()
    } else {
        format!(", {name} drive")
    }
}

fn table(text: &mut String, samples: &[Instant]) {
    let (speed, warmth) = (output::units().unit("km/h"), output::units().unit("°C"));
    let _ = writeln!(
        text,
        "{:>7} {:>8} {:>6} {:>6} {:>6}  {:>7} {:>5} {:>7} {:>10} {:>5}",
        "time", "speed", "pack", "", "left", "winding", "can", "magnets", "controller", "pack"
    );
    let _ = writeln!(
        text,
        "{:>7} {:>8} {:>6} {:>6} {:>6}  {:>7} {:>5} {:>7} {:>10} {:>5}",
        "s", speed, "A", "V", "%", warmth, warmth, warmth, warmth, warmth
    );
    let end = samples.last().map_or(0.0, |s| s.time_s);
    for i in 0..=ROWS {
        let wanted = end * i as f64 / ROWS as f64;
        let near = |s: &&Instant| s.time_s >= wanted - 1e-9;
        if let Some(s) = samples.iter().find(near) {
            row(text, s);
        }
    }
}

fn row(text: &mut String, s: &Instant) {
    let c = |part: Part| {
        s.temperature_c
            .get(part.name())
            .copied()
            .map_or(f64::NAN, |c| output::units().value(c, "°C"))
    };
    let _ = writeln!(
        text,
        "{:>7.0} {:>8.1} {:>6.1} {:>6.2} {:>6.0}  {:>7.0} {:>5.0} {:>7.0} {:>10.0} {:>5.0}",
        s.time_s,
        output::units().value(s.speed_km_h, "km/h"),
        s.current_a,
        s.voltage_v,
        100.0 * s.charge,
        c(Part::Winding),
        c(Part::Can),
        c(Part::Magnets),
        c(Part::Controller),
        c(Part::Pack),
    );
}

fn verdict(answer: &StintAnswer) -> String {
    let summary = &answer.summary;
    let time = summary.time_on_pack.plain();
    let spent = if summary.reserve_reached {
        format!("The pack is down to a fifth after {time}.")
    } else {
        format!("It runs for {time} and more than a fifth of the charge is left.")
    };
    let most = match &answer.hump_current {
        Some(hump) => format!("{} over the hump", hump.plain()),
        None => format!("{} at most", summary.most_current.plain()),
    };
    let heat = match summary.reached.first() {
        Some(_) => outcome(summary),
        None => format!(
            "nothing reaches its limit; the {} comes nearest, at {}",
            summary.nearest.part,
            summary.nearest.hottest.plain()
        ),
    };
    format!("{spent} The pack gives {most}. Heat: {heat}.")
}

/// What goes first, and when.
fn outcome(summary: &Summary) -> String {
    let first = summary.reached.first();
    first.map_or_else(|| "nothing reaches its limit".to_owned(), limit)
}

fn limit(reached: &Reached) -> String {
    format!(
        "the {} of the {} is reached after {}",
        reached.limit.plain(),
        reached.part,
        reached.after.plain()
    )
}

/// How much a part still warms once the throttle is shut.
fn soaking(answer: &StintAnswer) -> String {
    let Some(soak) = &answer.soak else {
        return String::new();
    };
    format!(
        "After stopping the {} warms by another {:.0} K, most after {}.\n",
        soak.part,
        soak.rise_k,
        soak.after.plain()
    )
}

fn assumed(text: &mut String, answer: &StintAnswer) {
    if !answer.assumed.is_empty() {
        text.push_str("\nAssumed for the heat\n");
    }
    for one in &answer.assumed {
        let _ = writeln!(
            text,
            "  {}: {}, ± {:.0} % ({})",
            one.what,
            one.number.plain(),
            100.0 * one.number.spread / one.number.value,
            one.why
        );
    }
}
