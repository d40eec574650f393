//! The run for a terminal.

use advice::Number;
use boat::Kind;
use power::run::{Reached, Run, Sample};
use power::setup::{CARE, charge_time_s};
use power::thermal::Part;
use std::fmt::Write as _;
use study::stint::{tightest, time_s};

use super::Answer;

/// Rows of the table.
const ROWS: usize = 12;

pub fn of(name: &str, answer: &Answer) -> String {
    let (stint, run) = (&answer.stint, &answer.run);
    let mut text = format!("{name}{}: {}\n\n", drive(&stint.drive), answer.script.name);
    table(&mut text, run);
    let _ = writeln!(text, "\n{}", verdict(answer, run));
    for later in run.reached.iter().skip(1) {
        let _ = writeln!(text, "  then {}", limit(later));
    }
    if let Some(j) = run.energy_per_lap_j {
        let _ = writeln!(text, "Energy for each lap: {}.", show(Kind::Energy, j));
    }
    text.push_str(&soaking(answer));
    if !answer.what_ifs.is_empty() {
        text.push_str("\nWhat if\n");
    }
    for (_, words, run) in &answer.what_ifs {
        let _ = writeln!(text, "  {words}: {}", outcome(run));
    }
    if let Some(best) = answer.worth.first() {
        let _ = writeln!(
            text,
            "\nWorth measuring next, {}.\n  As far off as it may be, it moves the hottest part by {:+.0} K and the time on the pack by {:+.0} s.",
            best.how, best.hottest_k, best.time_s
        );
    }
    assumed(&mut text, answer);
    let _ = writeln!(
        text,
        "\nCharging from a fifth takes about {} at once the capacity an hour. Lithium packs:",
        show(Kind::Time, charge_time_s(0.2, 1.0, 1.0))
    );
    for line in CARE {
        let _ = writeln!(text, "  ! {line}");
    }
    text.push_str(
        "Theory only, with joints and masses estimated from size: carry half of every rise.\n",
    );
    text
}

fn drive(name: &str) -> String {
    if name.is_empty() {
        String::new()
    } else {
        format!(", {name} drive")
    }
}

fn show(kind: Kind, value: f64) -> String {
    Number::exact(kind, value).plain()
}

fn table(text: &mut String, run: &Run) {
    let _ = writeln!(
        text,
        "{:>7} {:>8} {:>6} {:>6} {:>6}  {:>7} {:>5} {:>7} {:>10} {:>5}",
        "time", "speed", "pack", "", "left", "winding", "can", "magnets", "controller", "pack"
    );
    let _ = writeln!(
        text,
        "{:>7} {:>8} {:>6} {:>6} {:>6}  {:>7} {:>5} {:>7} {:>10} {:>5}",
        "s", "km/h", "A", "V", "%", "°C", "°C", "°C", "°C", "°C"
    );
    let end = run.samples.last().map_or(0.0, |s| s.time_s);
    for i in 0..=ROWS {
        let wanted = end * i as f64 / ROWS as f64;
        let near = |s: &&Sample| s.time_s >= wanted - 1e-9;
        if let Some(s) = run.samples.iter().find(near) {
            row(text, s);
        }
    }
}

fn row(text: &mut String, s: &Sample) {
    let c = |p: Part| s.temperature_k[p as usize] - 273.15;
    let _ = writeln!(
        text,
        "{:>7.0} {:>8.1} {:>6.1} {:>6.2} {:>6.0}  {:>7.0} {:>5.0} {:>7.0} {:>10.0} {:>5.0}",
        s.time_s,
        3.6 * s.speed_m_s,
        s.instant.pack_a,
        s.instant.pack_v,
        100.0 * s.charge,
        c(Part::Winding),
        c(Part::Can),
        c(Part::Magnets),
        c(Part::Controller),
        c(Part::Pack),
    );
}

fn verdict(answer: &Answer, run: &Run) -> String {
    let time = show(Kind::Time, time_s(run));
    let spent = if run.reserve_s.is_some() {
        format!("The pack is down to a fifth after {time}.")
    } else {
        format!("It runs for {time} and more than a fifth of the charge is left.")
    };
    let most = show(Kind::Current, run.peak_pack_a);
    let (part, hottest) = tightest(run, &answer.stint.setup);
    let heat = match run.first() {
        Some(_) => outcome(run),
        None => format!(
            "nothing reaches its limit; the {} comes nearest, at {}",
            part.name(),
            show(Kind::Temperature, hottest - 273.15)
        ),
    };
    format!("{spent} The pack gives {most} at most. Heat: {heat}.")
}

/// What goes first, and when.
fn outcome(run: &Run) -> String {
    run.first()
        .map_or_else(|| "nothing reaches its limit".to_owned(), limit)
}

fn limit(reached: &Reached) -> String {
    format!(
        "the {} of the {} is reached after {}",
        show(Kind::Temperature, reached.limit_k - 273.15),
        reached.part.name(),
        show(Kind::Time, reached.time_s)
    )
}

/// How much a part still warms once the throttle is shut.
fn soaking(answer: &Answer) -> String {
    let Some((part, rise_k, after_s)) = answer.run.soak(answer.script.end_s()) else {
        return String::new();
    };
    format!(
        "After stopping the {} warms by another {rise_k:.0} K, most after {}.\n",
        part.name(),
        show(Kind::Time, after_s)
    )
}

fn assumed(text: &mut String, answer: &Answer) {
    let all = &answer.stint.setup.assumed;
    if !all.is_empty() {
        text.push_str("\nAssumed for the heat\n");
    }
    for one in all {
        let _ = writeln!(
            text,
            "  {}: {}, ± {:.0} % ({})",
            one.what,
            show(one.kind, one.value),
            100.0 * one.spread,
            one.why
        );
    }
}
