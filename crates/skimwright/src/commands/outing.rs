//! Outings: a folder a day, with the builder's words, recordings and what they measured.

use evidence::outing::{Analysis, Outing};
use std::fmt::Write as _;
use std::path::Path;
use workshop::outing::{BeginOutingAsk, MeasureAsk, OutingsAsk};
use workshop::output::Target;
use workshop::{BoatAt, as_argument};

use super::recording::as_text;
use super::together::clock_text;
use super::{Outcome, ask};
use crate::cli_recordings::{OutingArgs, OutingWhat, Shown};
use crate::failure::Failure;
use crate::output;

pub fn run(given: &OutingArgs) -> Result<Outcome, Failure> {
    match &given.what {
        OutingWhat::New { date, place, json } => new(&given.boat, date.as_deref(), place, *json),
        OutingWhat::Measure { date, shown } => measure(&given.boat, date, shown),
        OutingWhat::List { json } => list(&given.boat, *json),
    }
}

fn new(boat: &Path, date: Option<&str>, place: &str, as_json: bool) -> Result<Outcome, Failure> {
    let today = jiff::ZonedDateTime::now().date().to_string();
    let question = BeginOutingAsk {
        date: date.unwrap_or(&today).to_owned(),
        place: place.to_owned(),
    };
    let answer = ask(&question, boat)?;
    if as_json {
        output::print_json(&answer)?;
    } else {
        output::print(&format!(
            "made {}\nput the recordings beside it and say what happened; then: skimwright outing {} measure {}\n",
            answer.made,
            as_argument(boat),
            answer.date
        ))?;
    }
    Ok(Outcome::Good)
}

fn measure(boat: &Path, date: &str, how: &Shown) -> Result<Outcome, Failure> {
    let at = BoatAt::saved(boat);
    let page = how.output.as_ref();
    let page = page
        .map(|page| Target::new(page, Some(&at), &[], how.force))
        .transpose()?;
    let outing = date.to_owned();
    let answer = ask(&MeasureAsk { outing }, boat)?;
    if let Some(page) = &page {
        let html = report::recordings(
            &format!("Outing {date}"),
            &answer.recordings,
            output::units(),
        );
        page.write(html.as_bytes())?;
    }
    if how.json {
        output::print_json(&answer)?;
    } else {
        output::print(&told(&answer.outing, &answer.recordings, &answer.written))?;
    }
    Ok(Outcome::Good)
}

fn told(outing: &Outing, all: &[Analysis], target: &str) -> String {
    let mut text = String::new();
    if outing.invented {
        text.push_str("invented recordings, not taken on the water\n");
    }
    for a in all {
        text.push_str(&as_text(a));
    }
    for r in &outing.recordings {
        if let Some(why) = &r.trouble {
            let _ = writeln!(text, "{}: {why}", r.file);
        }
    }
    for c in &outing.clocks {
        let _ = writeln!(text, "one clock: {}", clock_text(c));
    }
    let _ = writeln!(
        text,
        "wrote {} ({} values)",
        target,
        outing.quantities.len()
    );
    text
}

fn list(boat: &Path, as_json: bool) -> Result<Outcome, Failure> {
    let answer = ask(&OutingsAsk {}, boat)?;
    if as_json {
        output::print_json(&answer)?;
    } else if answer.outings.is_empty() {
        output::print(&format!(
            "no outings yet; start one with `skimwright outing {} new`\n",
            as_argument(boat)
        ))?;
    } else {
        let mut text = String::new();
        for o in &answer.outings {
            let place = match o.place.as_str() {
                "" => "somewhere",
                place => place,
            };
            let build = o.build.as_deref().unwrap_or("the boat as it is");
            let values = o.values;
            let values = values.map_or("not measured yet".to_owned(), |n| format!("{n} values"));
            let _ = writeln!(text, "{}  {place}  {build}  {values}", o.date);
        }
        output::print(&text)?;
    }
    Ok(Outcome::Good)
}
