//! Builds side by side: what changed, then a table of what differs or was measured.

use std::fmt::Write as _;
use workshop::builds::{Build, BuildsAnswer, BuildsAsk, Cell, Row};
use workshop::check::Effort;

use super::{Outcome, ask};
use crate::cli_recordings::Builds;
use crate::failure::Failure;
use crate::output;

/// Builds in a table; more go into the next one.
const ACROSS: usize = 4;

pub fn run(given: &Builds) -> Result<Outcome, Failure> {
    let asked = BuildsAsk {
        now: Some(Effort::default()),
    };
    let answer = ask(&asked, &given.boat)?;
    if given.json {
        output::print_json(&answer)?;
    } else {
        output::print(&as_text(&answer))?;
    }
    Ok(Outcome::Good)
}

fn as_text(answer: &BuildsAnswer) -> String {
    let mut text: String = answer.builds.iter().map(history).collect();
    if answer.builds.len() < 2 {
        text.push_str(
            "\nNothing to compare yet: `skimwright keep` freezes a build before you change the boat.\n",
        );
        return text;
    }
    for from in (0..answer.builds.len()).step_by(ACROSS) {
        let to = (from + ACROSS).min(answer.builds.len());
        text.push('\n');
        table(&mut text, &answer.builds[from..to], &answer.rows, from);
    }
    text
}

fn name(build: &Build) -> &str {
    build.name.as_deref().unwrap_or("now")
}

fn history(build: &Build) -> String {
    let mut text = name(build).to_owned();
    if let Some(date) = &build.date {
        let _ = write!(text, " ({date})");
    }
    let why = build.why.as_deref();
    let _ = writeln!(text, ": {}", why.unwrap_or("the boat as it is saved"));
    for c in &build.changed {
        let side = |side: &Option<String>| side.clone().unwrap_or_else(|| "nothing".to_owned());
        let _ = writeln!(
            text,
            "  {}: {} -> {}",
            c.key,
            side(&c.before),
            side(&c.after)
        );
    }
    text
}

fn table(text: &mut String, builds: &[Build], rows: &[Row], from: usize) {
    let cells = |row: &Row, of: &dyn Fn(&Cell) -> String| -> Vec<String> {
        row.cells[from..from + builds.len()]
            .iter()
            .map(of)
            .collect()
    };
    let predicted = |c: &Cell| match (&c.predicted, &c.standing) {
        (Some(number), Some(standing)) => format!("{} {number}", standing.mark()),
        _ => "-".to_owned(),
    };
    let measured = |c: &Cell| c.measured.clone().unwrap_or_else(|| "-".to_owned());
    let mut lines = vec![(
        String::new(),
        builds.iter().map(|b| name(b).to_owned()).collect(),
    )];
    for row in rows {
        if row.id.is_some() {
            lines.push((row.label.clone(), cells(row, &predicted)));
        }
        if row.cells.iter().any(|c| c.measured.is_some()) {
            let label = match row.id {
                Some(_) => "  measured".to_owned(),
                None => format!("{}, measured", row.label),
            };
            lines.push((label, cells(row, &measured)));
        }
    }
    let wide = |s: &str| s.chars().count();
    let first = lines.iter().map(|l| wide(&l.0)).max().unwrap_or(0);
    let widths: Vec<usize> = (0..builds.len())
        .map(|i| lines.iter().map(|l| wide(&l.1[i])).max().unwrap_or(0))
        .collect();
    for (label, cells) in lines {
        let mut line = format!("{label:first$}");
        for (cell, width) in cells.iter().zip(&widths) {
            let _ = write!(line, "  {cell:width$}");
        }
        let _ = writeln!(text, "{}", line.trim_end());
    }
}
