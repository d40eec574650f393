//! The pieces a hull prints in, as text or JSON, and their files.

use advice::Number;
use std::fmt::Write as _;
use workshop::pieces::{JointTold, PiecesAnswer, PiecesAsk};

use super::{Outcome, ask};
use crate::cli::PiecesArgs;
use crate::failure::Failure;
use crate::output;

pub fn run(given: &PiecesArgs) -> Result<Outcome, Failure> {
    let question = PiecesAsk {
        into: given.into.clone(),
        list_only: given.list,
        shapes: false,
    };
    let answer = ask(&question, &given.boat)?;
    if given.json {
        output::print_json(&answer)?;
    } else {
        output::print(&as_text(&answer))?;
    }
    Ok(Outcome::Good)
}

fn as_text(answer: &PiecesAnswer) -> String {
    let mut text = String::new();
    let bed = times(&answer.bed);
    let assumed = if answer.bed_given { "" } else { ", assumed" };
    let _ = writeln!(
        text,
        "{}: {} pieces for a bed of {bed}{assumed}",
        answer.boat,
        answer.pieces.len()
    );
    for p in &answer.pieces {
        let how = if p.weighed { ", weighed" } else { "" };
        let _ = writeln!(
            text,
            "\n{}\n  {}: {} on the bed\n  {}{how}, {}",
            p.name,
            p.lies,
            times(&p.size),
            p.mass,
            hours(&p.time)
        );
        if p.support.value > 2e-4 {
            let _ = writeln!(text, "  needs support under {}", p.support.plain());
        }
        for note in &p.notes {
            let _ = writeln!(text, "  {note}");
        }
    }
    if !answer.joints.is_empty() {
        text.push_str("\nJoints\n");
    }
    for j in &answer.joints {
        let _ = writeln!(text, "  {}", joint(j));
    }
    let cost = answer
        .cost
        .as_ref()
        .map_or(String::new(), |c| format!(", cost {c}"));
    let _ = writeln!(
        text,
        "\nAll: {}, {:.0} m of 1.75 mm filament, {}{cost}",
        answer.mass,
        answer.filament.value,
        hours(&answer.time)
    );
    for note in &answer.notes {
        let _ = writeln!(text, "{note}");
    }
    if let Some(folder) = &answer.folder {
        let _ = writeln!(text, "wrote {} files to {folder}", answer.files.len());
        text.push_str(
            "Sand in the open or with a mask: dust and fresh resin harm lungs and skin.\n",
        );
    }
    text
}

fn hours(time: &Number) -> String {
    format!(
        "{:.1} ± {:.1} h on the printer",
        time.value / 3600.0,
        time.spread / 3600.0
    )
}

fn times(sides: &[Number]) -> String {
    let all: Vec<String> = sides
        .iter()
        .map(|s| format!("{:.0}", 1e3 * s.value))
        .collect();
    format!("{} mm", all.join(" × "))
}

fn joint(j: &JointTold) -> String {
    let mut line = format!("{} = {:.0} mm: {}", j.across, 1e3 * j.at.value, j.kind);
    if let Some(first) = j.dowels.first() {
        let _ = write!(line, ", {} dowels of {}", j.dowels.len(), first.plain());
    }
    if j.asked {
        line.push_str(", from the boat file");
    }
    if j.across == "x" && j.bending.value > 0.5 {
        let _ = write!(
            line,
            ", at {:.0} % of the greatest bending",
            100.0 * j.bending.value
        );
    }
    if !j.through.is_empty() {
        let _ = write!(line, "; passes the {}", j.through.join(", the "));
    }
    line
}
