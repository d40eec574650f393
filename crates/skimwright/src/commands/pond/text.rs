//! The run for a terminal.

use advice::Number;
use boat::Kind;
use craft::craft::GRAVITY_M_S2;
use motion::Run;
use motion::events::{Event, What};
use motion::many::Count;
use motion::run::{Sample, Stopped};
use std::fmt::Write as _;

use super::Answer;

/// Events shown; a hopping boat makes hundreds.
const MOST_EVENTS: usize = 20;
/// Rows of the table.
const ROWS: usize = 10;

pub fn of(answer: &Answer) -> String {
    let (said, run) = (&answer.said, &answer.run);
    let mut text = format!("{}: {}\n", answer.name, said.condition);
    let _ = writeln!(
        text,
        "from {}; water {}; wind {}; {}; seed {}\n",
        said.start, said.water, said.wind, said.hands, said.seed
    );
    events(&mut text, run);
    table(&mut text, run);
    peaks(&mut text, run);
    let _ = writeln!(text, "\n{}", meaning(run));
    if let Some(count) = &answer.count {
        let _ = writeln!(text, "\n{}", odds_of(count));
        if count.runs < answer.asked {
            let _ = writeln!(
                text,
                "Stopped: {} of {} runs were made.",
                count.runs, answer.asked
            );
        }
    }
    odds(&mut text, answer);
    text.push_str(
        "\nTheory only, unvalidated: what it names can happen; when and how often is for the pond to say.\n  ! Try the limit at half throttle first, with nobody ahead of the boat and spectators behind the driver.\n  ! Never wade or swim after a boat: fetch it with a line or another boat.\n",
    );
    text
}

fn show(kind: Kind, value: f64) -> String {
    Number::exact(kind, value).plain()
}

fn events(text: &mut String, run: &Run) {
    if run.events.is_empty() {
        text.push_str(
            "Nothing happened that has a name: it stays on the water and on its feet.\n\n",
        );
        return;
    }
    for event in run.events.iter().take(MOST_EVENTS) {
        let _ = writeln!(text, "{:>8.2} s  {}", event.time_s, told(event));
    }
    let more = run.events.len().saturating_sub(MOST_EVENTS);
    if more > 0 {
        let _ = writeln!(text, "            and {more} more");
    }
    text.push('\n');
}

fn told(e: &Event) -> String {
    let mut words = format!("{} at {}", e.what.word(), show(Kind::Speed, e.speed_m_s));
    if let Some(height) = e.height_m {
        let _ = write!(words, ", {} high", show(Kind::Length, height));
    }
    if let Some(period) = e.period_s {
        let which = if e.what == What::Hops { "every" } else { "for" };
        let _ = write!(words, ", {which} {}", show(Kind::Time, period));
    }
    words
}

fn table(text: &mut String, run: &Run) {
    let _ = writeln!(
        text,
        "{:>7} {:>7} {:>7} {:>6} {:>6} {:>7} {:>7} {:>7} {:>6}",
        "time", "speed", "ahead", "trim", "heel", "heading", "rudder", "shaft", "pack"
    );
    let _ = writeln!(
        text,
        "{:>7} {:>7} {:>7} {:>6} {:>6} {:>7} {:>7} {:>7} {:>6}",
        "s", "km/h", "m", "°", "°", "°", "°", "rpm", "A"
    );
    let end = run.samples.last().map_or(0.0, |s| s.time_s);
    for i in 0..=ROWS {
        let wanted = end * i as f64 / ROWS as f64;
        if let Some(s) = run.samples.iter().find(|s| s.time_s >= wanted - 1e-9) {
            row(text, s);
        }
    }
}

fn row(text: &mut String, s: &Sample) {
    let _ = writeln!(
        text,
        "{:>7.2} {:>7.1} {:>7.1} {:>6.1} {:>6.1} {:>7.0} {:>7.1} {:>7.0} {:>6.1}",
        s.time_s,
        3.6 * s.speed_m_s,
        s.place_m[0],
        s.trim_rad.to_degrees(),
        s.heel_rad.to_degrees(),
        s.yaw_rad.to_degrees(),
        s.rudder_rad.to_degrees(),
        s.shaft_rad_s * 30.0 / std::f64::consts::PI,
        s.current_a,
    );
}

fn peaks(text: &mut String, run: &Run) {
    let p = &run.peaks;
    let g = |a: f64| a / GRAVITY_M_S2;
    let _ = writeln!(
        text,
        "\nMost: {:.1} g up at the balance point, {:.1} g at the bow, {:.1} g sideways.",
        g(p.up_m_s2),
        g(p.bow_m_s2),
        g(p.across_m_s2)
    );
    let mut forces: Vec<_> = p.elements.iter().filter(|e| e.0 != "weight").collect();
    forces.sort_by(|a, b| b.1.total_cmp(&a.1));
    let most = forces
        .iter()
        .take(4)
        .map(|(name, force, time)| format!("{name} {} at {time:.2} s", show(Kind::Force, *force)));
    let _ = writeln!(
        text,
        "Largest loads: {}.",
        most.collect::<Vec<_>>().join("; ")
    );
}

/// What a builder should take from it.
fn meaning(run: &Run) -> String {
    let has = |what| run.events.iter().any(|e| e.what == what);
    let ended = match &run.stopped {
        Some(Stopped::Stuck(why)) => Some(format!(
            "The reckoning could not go on: {why}. What came before holds."
        )),
        Some(Stopped::Over(why)) => Some(format!("The run ends: {why}.")),
        _ => None,
    };
    let advice = if has(What::Flips) {
        "It blows over: weight forward, strut deeper or less nose up, less throttle into wind; `skimwright check --why` shows the flight margin."
    } else if has(What::Dives) {
        "It dives: weight aft, more lift ahead, less throttle into waves."
    } else if has(What::Trips) || has(What::Rolls) {
        "It goes over sideways: less rudder or speed, lower weight, bevelled outer chines; look at `tightest-turn` in `skimwright check`."
    } else if has(What::Hooks) {
        "It swings round faster than it was steered: less rudder throw, a rudder that holds longer, weight aft."
    } else if has(What::Hops) {
        "It hops: what drives it is named under `hops` in `skimwright check`; common cures are a raised or levelled strut and a flatter pad."
    } else if has(What::Ventilates) {
        "The propeller comes out: deeper strut or weight aft."
    } else if has(What::Leaves) {
        "It leaves the water and comes back on its feet."
    } else if run.samples.last().is_some_and(|s| s.lift_share < 0.5) {
        "It does not plane."
    } else {
        "It stays on the water."
    };
    match ended {
        Some(ended) => format!("{ended}\n{advice}"),
        None => advice.to_owned(),
    }
}

fn odds_of(c: &Count) -> String {
    let (share, low, high) = c.lost_share();
    format!(
        "Of {} runs {} ended upside down ({} flipped, {} dived, {} rolled): {:.0} %, {:.0} to {:.0} % by the counting alone. {} left the water at least once.",
        c.runs,
        c.lost(),
        c.flipped,
        c.dived,
        c.rolled,
        100.0 * share,
        100.0 * low,
        100.0 * high,
        c.left
    )
}

fn odds(text: &mut String, answer: &Answer) {
    if answer.odds.is_empty() {
        return;
    }
    let _ = writeln!(
        text,
        "\nUpside down within 5 s, of {} runs each (95 % by the counting alone)",
        answer.odds[0].count.runs
    );
    for o in &answer.odds {
        let (share, low, high) = o.count.lost_share();
        let _ = writeln!(
            text,
            "  {:>8} over {:>5} ripple: {:>3.0} % ({:.0} to {:.0} %)",
            show(Kind::Speed, o.speed_m_s),
            show(Kind::Length, o.ripple_m),
            100.0 * share,
            100.0 * low,
            100.0 * high
        );
    }
}
