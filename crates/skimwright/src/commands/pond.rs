//! A run in time on the pond, as text or JSON.

use advice::Number;
use boat::Kind;
use motion::events::What;
use std::fmt::Write as _;
use workshop::output::Target;
use workshop::pond::{Counted, Happened, Peaks, PondAnswer, PondAsk, Trace};
use workshop::{BoatAt, Question as _, TextAt, shown};

use super::{Outcome, check, show_as_declared};
use crate::cli::PondArgs;
use crate::failure::Failure;
use crate::output;
use crate::progress::Progress;

/// Events shown; a hopping boat makes hundreds.
const MOST_EVENTS: usize = 20;
/// Rows of the table.
const ROWS: usize = 10;

pub fn run(given: &PondArgs) -> Result<Outcome, Failure> {
    let question = PondAsk {
        condition: given.condition.clone(),
        water: given.water.clone(),
        wind: given.wind.clone(),
        throttle: given.throttle.clone(),
        rudder: given.rudder.clone(),
        script: given.script.clone().map(TextAt::File),
        start: given.start.clone(),
        seconds: given.seconds,
        seed: given.seed,
        runs: given.runs,
        odds: given.odds,
    };
    let boat = BoatAt::saved(&given.boat);
    let target = given.output.as_deref();
    let target = target
        .map(|file| Target::new(file, Some(&boat), &question.files(), given.force))
        .transpose()?;
    // What was counted is kept when the counting is stopped.
    show_as_declared(&boat);
    let answer = workshop::ask(&question, Some(&boat), &Progress::new().until_interrupted())?;
    if let Some(target) = &target {
        target.write(output::json(&answer.recording())?.as_bytes())?;
    }
    if given.json {
        output::print_json(&answer)?;
    } else {
        let mut said = as_text(&answer, given.runs);
        if let Some(file) = &given.output {
            said += &format!("recording: {}\n", shown(file));
        }
        output::print(&said)?;
    }
    Ok(Outcome::of(answer.ends_over()))
}

fn as_text(answer: &PondAnswer, asked: u32) -> String {
    let mut text = format!("{}: {}\n", answer.boat, answer.condition);
    let _ = writeln!(
        text,
        "from {}; water {}; wind {}; {}; seed {}\n",
        answer.start, answer.water, answer.wind, answer.hands, answer.seed
    );
    events(&mut text, &answer.events);
    table(&mut text, &answer.trace);
    peaks(&mut text, &answer.peaks);
    let _ = writeln!(text, "\n{}", answer.says.join("\n"));
    if let Some(count) = &answer.runs {
        let _ = writeln!(text, "\n{}", odds_of(count));
        if count.runs < asked as usize {
            let _ = writeln!(text, "Stopped: {} of {asked} runs were made.", count.runs);
        }
    }
    odds(&mut text, answer);
    text.push_str(
        "\nTheory only, unvalidated: what it names can happen; when and how often is for the pond to say.\n  ! Try the limit at half throttle first, with nobody ahead of the boat and spectators behind the driver.\n  ! Never wade or swim after a boat: fetch it with a line or another boat.\n",
    );
    check::learned(&mut text, answer.learned.as_ref());
    text
}

fn events(text: &mut String, events: &[Happened]) {
    if events.is_empty() {
        text.push_str(
            "Nothing happened that has a name: it stays on the water and on its feet.\n\n",
        );
        return;
    }
    for event in events.iter().take(MOST_EVENTS) {
        let _ = writeln!(text, "{:>8.2} s  {}", event.time.value, told(event));
    }
    let more = events.len().saturating_sub(MOST_EVENTS);
    if more > 0 {
        let _ = writeln!(text, "            and {more} more");
    }
    text.push('\n');
}

fn told(e: &Happened) -> String {
    let mut words = format!("{} at {}", e.what.word(), e.speed.plain());
    if let Some(height) = &e.height {
        let _ = write!(words, ", {} high", height.plain());
    }
    if let Some(period) = &e.period {
        let which = if e.what == What::Hops { "every" } else { "for" };
        let _ = write!(words, ", {which} {}", period.plain());
    }
    words
}

fn table(text: &mut String, trace: &Trace) {
    let _ = writeln!(
        text,
        "{:>7} {:>7} {:>7} {:>6} {:>6} {:>7} {:>7} {:>7} {:>6}",
        "time", "speed", "ahead", "trim", "heel", "heading", "rudder", "shaft", "pack"
    );
    let _ = writeln!(
        text,
        "{:>7} {:>7} {:>7} {:>6} {:>6} {:>7} {:>7} {:>7} {:>6}",
        "s",
        output::units().unit("km/h"),
        output::units().unit("m"),
        "°",
        "°",
        "°",
        "°",
        "rpm",
        "A"
    );
    let last = trace.speed_km_h.len().saturating_sub(1);
    for i in 0..=ROWS {
        let wanted = last as f64 * i as f64 / ROWS as f64;
        row(text, trace, (wanted - 1e-6).ceil() as usize);
    }
}

fn row(text: &mut String, trace: &Trace, at: usize) {
    let of = |list: &[f64]| list.get(at).copied().unwrap_or(f64::NAN);
    let _ = writeln!(
        text,
        "{:>7.2} {:>7.1} {:>7.1} {:>6.1} {:>6.1} {:>7.0} {:>7.1} {:>7.0} {:>6.1}",
        at as f64 * trace.step_s,
        output::units().value(of(&trace.speed_km_h), "km/h"),
        output::units().value(of(&trace.ahead_m), "m"),
        of(&trace.trim_deg),
        of(&trace.heel_deg),
        of(&trace.yaw_deg),
        of(&trace.rudder_deg),
        of(&trace.shaft_rpm),
        of(&trace.current_a),
    );
}

fn peaks(text: &mut String, p: &Peaks) {
    let _ = writeln!(
        text,
        "\nMost: {:.1} g up at the balance point, {:.1} g at the bow, {:.1} g sideways.",
        p.up_g, p.bow_g, p.across_g
    );
    let mut forces: Vec<_> = p.forces.iter().filter(|e| e.element != "weight").collect();
    forces.sort_by(|a, b| b.force_n.total_cmp(&a.force_n));
    let most = forces.iter().take(4).map(|one| {
        let force = Number::exact(Kind::Force, one.force_n).plain();
        format!("{} {force} at {:.2} s", one.element, one.time_s)
    });
    let _ = writeln!(
        text,
        "Largest loads: {}.",
        most.collect::<Vec<_>>().join("; ")
    );
}

fn odds_of(c: &Counted) -> String {
    format!(
        "Of {} runs {} ended upside down ({} flipped, {} dived, {} rolled): {:.0} %, {:.0} to {:.0} % by the counting alone. {} left the water at least once.",
        c.runs,
        c.flipped + c.dived + c.rolled,
        c.flipped,
        c.dived,
        c.rolled,
        100.0 * c.lost,
        100.0 * c.lost_from,
        100.0 * c.lost_to,
        c.left_the_water
    )
}

fn odds(text: &mut String, answer: &PondAnswer) {
    if answer.odds.is_empty() {
        return;
    }
    let _ = writeln!(
        text,
        "\nUpside down within {}, of {} runs each (95 % by the counting alone)",
        answer.odds[0].seconds.plain(),
        answer.odds[0].count.runs
    );
    for o in &answer.odds {
        let _ = writeln!(
            text,
            "  {:>8} over {:>5} ripple: {:>3.0} % ({:.0} to {:.0} %)",
            o.speed.plain(),
            o.ripple.plain(),
            100.0 * o.count.lost,
            100.0 * o.count.lost_from,
            100.0 * o.count.lost_to
        );
    }
}
