//! How big, and where things go, as text or JSON.

use advice::Number;
use std::fmt::Write as _;
use workshop::as_argument;
use workshop::size::SizeAsk;
use workshop::size::told::{Size, SizeAnswer};

use super::Outcome;
use super::check::{give_first, verdict};
use crate::cli::SizeArgs;
use crate::failure::Failure;
use crate::output;
use crate::progress::Progress;

pub fn run(given: &SizeArgs) -> Result<Outcome, Failure> {
    let question = SizeAsk {
        dir: given.dir.clone(),
        hull: given.hull.map(|h| h.word().to_owned()),
        carry_kg: given.carry,
        cells: given.cells,
        speed_m_s: given.speed,
        length_m: given.length,
        fit: given.fit.clone(),
        name: given.name.clone(),
        effort: given.effort.into(),
    };
    let answer = workshop::ask(&question, None, &Progress::new().until_interrupted())?;
    output::give(given.json, &answer, |a| {
        as_text(a, &as_argument(&given.dir))
    })?;
    Ok(Outcome::of(!answer.in_the_way.is_empty()))
}

fn as_text(a: &SizeAnswer, dir: &str) -> String {
    let mut text = String::new();
    let Some(this) = a.sizes.iter().find(|s| s.chosen) else {
        return text;
    };
    let _ = writeln!(
        text,
        "{}: {} of {} x {}, {} all up, to carry {} on {}S at {}",
        a.name,
        a.hull_type,
        this.length.plain(),
        this.beam.plain(),
        this.mass.plain(),
        a.carry.plain(),
        a.cells,
        a.speed.plain()
    );
    let s = &a.set_up;
    let each = if s.drives > 1 { ", each of two" } else { "" };
    let _ = writeln!(
        text,
        "propeller {} x {:.1}, motor {} x {} of {}, pack {}S {}, controller {}{each}",
        s.diameter.plain(),
        s.pitch_ratio,
        s.motor_diameter.plain(),
        s.motor_length.plain(),
        s.kv.plain(),
        a.cells,
        s.capacity.plain(),
        s.rated_current.plain()
    );
    if a.stopped {
        text.push_str("Cut short: this is the best until then.\n");
    }
    for line in &a.why {
        let _ = writeln!(text, "- {line}");
    }
    for line in &a.in_the_way {
        let _ = writeln!(text, "▲ in the way: {line}");
    }
    if let Some(fitted) = &a.fitted {
        text.push_str("\nFound in the mesh, and guessed:\n");
        for line in &fitted.guessed {
            let _ = writeln!(text, "  {line}");
        }
        for line in &fitted.words {
            let _ = writeln!(text, "- {line}");
        }
    }
    text.push('\n');
    table(&mut text, &a.sizes);
    let tried: Vec<String> = a
        .tried
        .iter()
        .map(|t| format!("{} {}", t.boats, t.asked))
        .collect();
    let _ = writeln!(
        text,
        "Boats asked: {}. Flight is told where everything was asked.",
        tried.join(", ")
    );
    if let Some(given) = &a.verdict {
        text.push('\n');
        verdict(&mut text, given);
    }
    text.push('\n');
    give_first(&mut text, &a.give_first);
    let _ = writeln!(
        text,
        "made {} and {}\nnext: skimwright check {dir}",
        a.made, a.mesh
    );
    text
}

fn table(text: &mut String, sizes: &[Size]) {
    let _ = writeln!(
        text,
        "  {:>8} {:>8} {:>9} {:>9} {:>9} {:>8} {:>7} {:>6}  misses",
        "length", "mass", "freeboard", "planes", "top", "flight", "print", "hours"
    );
    let or_none = |n: &Option<Number>| n.as_ref().map_or_else(|| "-".to_owned(), Number::plain);
    for s in sizes {
        let _ = writeln!(
            text,
            "{} {:>8} {:>8} {:>9} {:>9} {:>9} {:>8} {:>7} {:>6.0}  {}",
            if s.chosen { ">" } else { " " },
            s.length.plain(),
            s.mass.plain(),
            or_none(&s.freeboard),
            or_none(&s.planes_from),
            or_none(&s.top_speed),
            or_none(&s.flight_margin),
            s.print_mass.plain(),
            s.print_time.value / 3600.0,
            s.misses.join("; ")
        );
    }
}
