//! Findings as text or JSON.

use advice::{Finding, Number, Standing, findings};
use boat::Kind;
use serde_json::{Value, json};
use std::fmt::Write as _;
use study::{Learned, Study};

use super::{Outcome, study};
use crate::boat_folder;
use crate::cli::Check;
use crate::failure::Failure;
use crate::output;

pub fn run(given: &Check) -> Result<Outcome, Failure> {
    let loaded = boat_folder::load(&given.boat)?;
    let study = study(loaded, &given.effort)?;
    let all = findings(&study);
    if given.json {
        output::print_json(&as_json(&study, &all))?;
    } else {
        output::print(&as_text(&study, &all, given.why))?;
    }
    Ok(outcome(&all))
}

/// Whether anything says stop.
pub fn outcome(all: &[Finding]) -> Outcome {
    if all.iter().any(|f| f.standing == Standing::Stop) {
        Outcome::Stop
    } else {
        Outcome::Good
    }
}

/// The whole answer for a terminal.
pub fn as_text(study: &Study, all: &[Finding], why: bool) -> String {
    let mut text = heading(study);
    learned(&mut text, &study.learned);
    for finding in all {
        text.push('\n');
        entry(&mut text, finding, why);
    }
    let _ = writeln!(text, "\n{}", summary(all));
    text
}

fn heading(study: &Study) -> String {
    let number = |kind, value, spread| Number::new(kind, value, spread);
    let mass = number(Kind::Mass, study.mass.mass_kg, study.mass.mass_spread_kg);
    let balance = number(
        Kind::Length,
        study.mass.cg_m.x,
        study.mass.cg_spread_m.x.abs(),
    );
    format!(
        "{} ({}): {mass} all up, balance {balance} ahead of the transom\n",
        study.boat.name,
        study.hull_type.name()
    )
}

/// Whether these predictions carry what was learned on the water.
/// What predictions carry, where they do.
pub fn learned(text: &mut String, learned: &Learned) {
    if !learned.is_empty() {
        let told = learned
            .knobs()
            .iter()
            .filter(|k| k.sigma <= 0.9 * k.before.1);
        let names: Vec<&str> = told.map(|k| k.lever.name()).collect();
        let what = if names.is_empty() {
            "no number much surer".to_owned()
        } else {
            names.join(", ")
        };
        let _ = writeln!(
            text,
            "carries what was learned from {}: {what} (learned.toml)",
            learned.from.join(", ")
        );
    }
    for line in &learned.left_out {
        let _ = writeln!(text, "does not carry {line}");
    }
}

const INDENT: &str = "          ";
const WIDTH: usize = 96;

fn entry(text: &mut String, finding: &Finding, why: bool) {
    let standing = finding.standing;
    let style = style(standing);
    let _ = write!(text, "{style}{} {standing:<7}{style:#} ", standing.mark());
    push_wrapped(text, &finding.sentence);
    push_wrapped_indented(text, &grounds(finding));
    let open = why || finding.standing != Standing::Good;
    for change in finding.changes.iter().filter(|_| open) {
        push_wrapped_indented(text, &format!("> {}: {}", change.what, change.effect));
    }
    if let Some(caution) = finding
        .caution
        .filter(|_| finding.standing != Standing::Good)
    {
        push_wrapped_indented(text, &format!("! {caution}"));
    }
    if why {
        push_wrapped_indented(text, &finding.why);
        for figure in &finding.figures {
            push_wrapped_indented(text, &format!("- {}: {}", figure.label, figure.value));
        }
    }
}

/// Number, limit and basis in one line.
fn grounds(finding: &Finding) -> String {
    let mut parts = Vec::new();
    if let Some(number) = &finding.number {
        parts.push(number.to_string());
    }
    if let Some(limit) = &finding.limit {
        parts.push(format!("wanted {limit} ({})", limit.says));
    }
    parts.push(format!("rests on {}", finding.basis.words()));
    parts.push(format!("[{}]", finding.id));
    parts.join("; ").replace("; [", " [")
}

/// `1 stop, 2 watch, 4 good`.
fn summary(all: &[Finding]) -> String {
    let counts = Standing::ALL.iter().filter_map(|standing| {
        let count = all.iter().filter(|f| f.standing == *standing).count();
        (count > 0).then(|| format!("{count} {standing}"))
    });
    counts.collect::<Vec<_>>().join(", ")
}

fn style(standing: Standing) -> anstyle::Style {
    use anstyle::{AnsiColor, Style};
    let colour = match standing {
        Standing::Stop => AnsiColor::Red,
        Standing::Watch => AnsiColor::Yellow,
        Standing::Unsure => AnsiColor::Magenta,
        Standing::Good => AnsiColor::Cyan,
    };
    Style::new().fg_color(Some(colour.into())).bold()
}

fn push_wrapped(text: &mut String, words: &str) {
    text.push_str(&wrapped(words));
    text.push('\n');
}

fn push_wrapped_indented(text: &mut String, words: &str) {
    text.push_str(INDENT);
    push_wrapped(text, words);
}

/// Words broken at the right margin, later lines indented.
fn wrapped(words: &str) -> String {
    let mut out = String::new();
    let mut column = INDENT.len();
    for word in words.split(' ') {
        let width = word.chars().count();
        if column > INDENT.len() {
            if column + 1 + width > WIDTH {
                out.push('\n');
                out.push_str(INDENT);
                column = INDENT.len();
            } else {
                out.push(' ');
                column += 1;
            }
        }
        out.push_str(word);
        column += width;
    }
    out
}

/// The whole answer for scripts; see docs/json.md.
pub fn as_json(study: &Study, all: &[Finding]) -> Value {
    json!({
        "boat": study.boat.name,
        "hull_type": study.hull_type.name(),
        "mass": Number::new(Kind::Mass, study.mass.mass_kg, study.mass.mass_spread_kg),
        "balance": balance(study),
        "findings": all,
        "assumptions": assumptions(study),
        "notices": notices(study),
        "speed_curve": speed_curve(study),
        "variations": {
            "run": study.spread.draws.len(),
            "not_solved": study.spread.failed,
        },
        "learned": super::learn::carried_json(&study.learned),
    })
}

fn balance(study: &Study) -> Value {
    let axis = |index: usize| {
        let spread = study.mass.cg_spread_m[index].abs();
        json!(Number::new(Kind::Length, study.mass.cg_m[index], spread))
    };
    json!({"x": axis(0), "y": axis(1), "z": axis(2)})
}

fn assumptions(study: &Study) -> Value {
    let all = advice::findings::sureness::assumptions(&study.boat);
    all.iter()
        .map(|one| json!({"what": one.what, "number": one.number, "why": one.why}))
        .collect()
}

fn notices(study: &Study) -> Value {
    let all = study.form.notices.iter();
    all.map(|n| json!({"serious": n.serious, "text": n.text}))
        .collect()
}

fn speed_curve(study: &Study) -> Value {
    let Some(under) = &study.running else {
        return Value::Null;
    };
    under.curve.running.iter().map(state).collect()
}

fn state(state: &craft::RunningState) -> Value {
    let n = |kind, value| json!(Number::exact(kind, value));
    json!({
        "speed": n(Kind::Speed, state.speed_m_s),
        "throttle": n(Kind::Fraction, state.throttle),
        "trim": n(Kind::Angle, state.attitude.trim_rad),
        "heel": n(Kind::Angle, state.attitude.heel_rad),
        "rise": n(Kind::Length, state.attitude.rise_m),
        "thrust_needed": n(Kind::Force, state.thrust_needed_n),
        "thrust_available": n(Kind::Force, state.thrust_available_n),
        "wetted": state.wetted.iter().map(|w| json!({
            "surface": w.name,
            "length": n(Kind::Length, w.keel_length_m),
            "beam": n(Kind::Length, w.beam_m),
            "lift": n(Kind::Force, w.lift_n),
        })).collect::<Vec<_>>(),
        "drives": state.drives.iter().map(|d| json!({
            "drive": d.name,
            "shaft_speed": n(Kind::ShaftSpeed, d.shaft_rad_s),
            "current": n(Kind::Current, d.current_a),
            "voltage": n(Kind::Voltage, d.voltage_v),
            "thrust": n(Kind::Force, d.thrust_n),
            "immersion": n(Kind::Fraction, d.immersion),
            "slip": n(Kind::Fraction, d.slip),
        })).collect::<Vec<_>>(),
    })
}
