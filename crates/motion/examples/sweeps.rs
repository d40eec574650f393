//! Every demonstration boat over twelve parameters at 21 values: a line a sweep, with what is missing, what jumps, and
//! how far a run in time on flat water is from the steady answer. `cargo run --release -p motion --example sweeps`,
//! with `runs` for the runs in time (minutes), `rows` for every value, and a boat's name or part of a parameter's to
//! pick some.

#[path = "../tests/boats/mod.rs"]
mod boats;
#[path = "../tests/sweep/mod.rs"]
mod sweep;

use std::time::Instant;

use motion::InTime;
use sweep::{BOATS, PARAMETERS, Row, jumps};

const VALUES: usize = 21;
const KMH: f64 = 3.6;

fn main() {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let has = |word: &str| words.iter().any(|w| w == word);
    let names = words
        .iter()
        .filter(|w| !["runs", "rows", "time"].contains(&w.as_str()));
    let names: Vec<&String> = names.collect();
    let asked = |boat: &str, parameter: &str| {
        names
            .iter()
            .all(|n| boat.contains(n.as_str()) || parameter.contains(n.as_str()))
    };
    for name in BOATS {
        let boat = boats::example(name);
        if has("time") {
            timed(name, &boat.craft);
        }
        for parameter in PARAMETERS.iter().filter(|p| asked(name, p.name)) {
            let begun = Instant::now();
            let rows = sweep::sweep(&boat, parameter, VALUES, has("runs"));
            told(name, parameter.name, &rows, begun.elapsed().as_secs_f64());
            if has("rows") {
                rows.iter().for_each(row);
            }
        }
    }
}

fn told(boat: &str, parameter: &str, rows: &[Row], seconds: f64) {
    let tops: Vec<f64> = rows.iter().filter_map(Row::top).collect();
    let missing = rows.iter().filter(|r| r.missing()).count();
    let none = rows.iter().filter(|r| !r.steady()).count();
    let jumps = jumps(rows);
    let off = rows
        .iter()
        .filter_map(Row::off)
        .map(f64::abs)
        .fold(0.0, f64::max);
    let far = rows
        .iter()
        .filter_map(Row::off)
        .filter(|o| o.abs() > 0.015)
        .count();
    println!(
        "{boat:>12} | {parameter:<30} | {:5.1} to {:5.1} km/h | not steady {none:2} | missing {missing:2} | jumps {} ({} named) | off in time {:.1} %, {far} over 1.5 % | {seconds:.2} s",
        KMH * tops.iter().copied().fold(f64::INFINITY, f64::min),
        KMH * tops.iter().copied().fold(0.0, f64::max),
        jumps.len(),
        jumps.iter().filter(|j| j.3).count(),
        100.0 * off,
    );
    for (from, to, by, named) in jumps.iter().filter(|j| !j.3) {
        println!(
            "             jumps by {:+.1} % from {from:.3} to {to:.3} {named}",
            100.0 * by
        );
    }
}

fn row(row: &Row) {
    let km_h = |v: Option<f64>| v.map_or("-".to_owned(), |v| format!("{:.2}", KMH * v));
    let in_time = match &row.in_time {
        None => String::new(),
        Some(InTime::Runs(run)) => {
            format!(
                "{:.2} ± {:.2} trim {:.2} ± {:.2}",
                KMH * run.mean_m_s,
                KMH * run.swing_m_s,
                run.trim_rad.0.to_degrees(),
                run.trim_rad.1.to_degrees()
            )
        }
        Some(InTime::Over(words) | InTime::Stuck(words)) => words.clone(),
    };
    println!(
        "             {:8.3} {:>7} planes {:>6} hump {:.2} strokes {:?} {} {} in time {in_time}",
        row.x,
        km_h(row.top()),
        km_h(row.curve.planing_m_s),
        row.curve.hump.map_or(f64::NAN, |h| h.margin),
        row.curve
            .jumps_m_s
            .iter()
            .map(|v| (KMH * v).round())
            .collect::<Vec<_>>(),
        row.curve.no_top.map_or(String::new(), |n| n.to_string()),
        row.refused.clone().unwrap_or_default(),
    );
}

/// How long a curve of 60 speeds, one for sampling, and a top speed from a known one take; the least of ten.
fn timed(name: &str, craft: &craft::Craft) {
    let least = |go: &dyn Fn()| {
        let once = |_| {
            let begun = Instant::now();
            go();
            begun.elapsed().as_secs_f64() * 1e3
        };
        (0..10).map(once).fold(f64::INFINITY, f64::min)
    };
    let curve = craft.speed_curve(60);
    let near = curve.top.as_ref().map(craft::RunningState::running);
    println!(
        "{name}: curve of 60 {:.1} ms, for sampling {:.1} ms, top speed {:.1} ms, from a known one {:.2} ms",
        least(&|| drop(craft.speed_curve(60))),
        least(&|| drop(craft.rough_curve(20))),
        least(&|| drop(craft.top_speed())),
        near.map_or(f64::NAN, |near| least(&|| drop(
            craft.at_throttle_near(&near, 1.0)
        ))),
    );
}
