//! What the answers rest on: assumptions, notices, ranges, sources.

use boat::{Kind, Origin, show_measure};

use super::table::Table;
use crate::node::Node;
use crate::subject::Subject;

/// Assumed values, what the mesh reader noticed, laws outside their range, sources.
pub fn section(subject: &Subject) -> Node {
    let mut section = Node::new("section")
        .attr("id", "known")
        .with(Node::new("h2").text("What this rests on"));
    section.push(Node::new("h3").text("Assumed, because nobody gave it"));
    section.push(assumed(subject));
    section.push(Node::new("h3").text("What the mesh reader noticed"));
    section.push(notices(subject));
    section.push(Node::new("h3").text("Laws outside the range they were checked in"));
    section.push(outside(subject));
    section.push(Node::new("h3").text("Sources"));
    section.push(Node::new("p").text(SOURCES));
    section.push(Node::new("p").text(compared(subject)));
    section
}

const SOURCES: &str = "Masses, volumes and stability are geometry. Planing surfaces after \
     Savitsky (1964), friction by the ITTC 1957 line, propellers after the Wageningen B series, \
     slow-running resistance after NPL and Series 64, struts and wings by thin-section theory; \
     each with its range, units and measured error in the project's accuracy manual, \
     docs/accuracy.md. Makers' limits, local rules and club practice come first.";

const UNCOMPARED: &str = "No prediction here has been compared with this boat on the water.";

/// Whether the boat's own outings have corrected anything.
fn compared(subject: &Subject) -> String {
    if subject.learned.is_empty() {
        return UNCOMPARED.to_owned();
    }
    let from = subject.learned.from.join(", ");
    format!("Predictions carry what was learned from this boat's outings: {from}.")
}

fn assumed(subject: &Subject) -> Node {
    let rows = assumed_rows(subject);
    if rows.is_empty() {
        return Node::new("p").text("Nothing: every number was given.");
    }
    let mut table = Table::new(
        "Give any of these in the boat file and the answers get surer",
        &["what", "taken as", "why"],
    );
    for row in rows {
        table.row(row);
    }
    table.node()
}

fn assumed_rows(subject: &Subject) -> Vec<[String; 3]> {
    let mut rows = Vec::new();
    // Visiting wants to be able to change the boat; a copy is changed by nobody.
    let mut boat = subject.boat.clone();
    boat.visit_quantities(&mut |path: &str, kind: Kind, measure| {
        if let Origin::Assumed(why) = measure.origin {
            rows.push([path.to_owned(), show_measure(kind, measure), why.to_owned()]);
        }
    });
    rows
}

fn notices(subject: &Subject) -> Node {
    let notices = &subject.form.notices;
    if notices.is_empty() {
        return Node::new("p").text("Nothing out of the ordinary.");
    }
    let each = notices.iter().map(|notice| {
        let item = Node::new("li");
        if notice.serious {
            item.class("serious")
                .with(Node::new("strong").text("The result may be wrong:"))
                .with(Node::new("span").text(notice.text.as_str()))
        } else {
            item.text(notice.text.as_str())
        }
    });
    Node::new("ul").class("notes").with_all(each)
}

/// Each note once, with the speeds it was made at.
fn outside(subject: &Subject) -> Node {
    let mut notes: Vec<(&str, f64, f64)> = Vec::new();
    let states = subject
        .curve
        .iter()
        .flat_map(|c| c.running.iter().chain(&c.top));
    for state in states {
        for text in &state.notes {
            let speed = state.speed_m_s * 3.6;
            match notes.iter_mut().find(|(known, ..)| *known == text) {
                Some((_, low, high)) => (*low, *high) = (low.min(speed), high.max(speed)),
                None => notes.push((text, speed, speed)),
            }
        }
    }
    if notes.is_empty() {
        return Node::new("p").text("None on the way from rest to top speed.");
    }
    let each = notes.iter().map(|(text, low, high)| {
        let speeds = if high - low < 0.05 {
            format!("at {low:.1} km/h")
        } else {
            format!("from {low:.1} to {high:.1} km/h")
        };
        Node::new("li").text(format!("{text} ({speeds})"))
    });
    Node::new("ul").class("notes").with_all(each)
}
