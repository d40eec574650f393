//! The build sheet: one page to print and take to the bench. Everything a builder needs while gluing, drilling and
//! weighing, with patterns at full size.
//!
//! Nothing is wider than 180 mm or higher than 235 mm, so that it prints on A4 and Letter alike; the patterns are in
//! millimetres and carry a line of 50 mm to check the printer by.

mod patterns;
mod places;
mod tables;

use advice::{Finding, Standing, Verdict};
use boat::Units;
use making::Pieces;
use study::Study;

use crate::node::Node;

/// Size of letters in pictures, as the style has it, mm.
const LETTERS: f64 = 3.0;

/// What a build sheet is about.
#[derive(Clone, Copy)]
pub struct BuildSheet<'a> {
    /// All that was asked of the boat.
    pub study: &'a Study,
    /// What it will do.
    pub findings: &'a [Finding],
    /// In short.
    pub verdict: &'a Verdict,
    /// Its pieces.
    pub pieces: &'a Pieces,
    /// What everything is shown in.
    pub units: Units,
}

/// The page.
#[must_use]
pub fn html(sheet: &BuildSheet) -> String {
    let boat = &sheet.study.boat;
    let body = Node::new("body")
        .with(Node::new("h1").text(format!("{}: build sheet", boat.name)))
        .with(verdict(sheet))
        .with(tables::pieces(sheet))
        .with(tables::joints(sheet))
        .with(places::section(sheet))
        .with(patterns::section(sheet))
        .with(tables::wires(sheet))
        .with_all(tables::foam(sheet))
        .with(tables::weigh(sheet))
        .with(checks())
        .with(first_run(sheet))
        .in_units(sheet.units);
    let head = Node::new("head")
        .with(Node::new("meta").attr("charset", "utf-8"))
        .with(
            Node::new("meta")
                .attr("http-equiv", "Content-Security-Policy")
                .attr("content", "default-src 'none'; style-src 'unsafe-inline'"),
        )
        .with(Node::new("title").text(format!("{}: build sheet", boat.name)))
        .with(Node::new("style").verbatim(include_str!("sheet.css")));
    let page = Node::new("html")
        .attr("xmlns", "http://www.w3.org/1999/xhtml")
        .attr("lang", "en")
        .with(head)
        .with(body);
    format!("<!DOCTYPE html>\n{page}\n")
}

fn section(title: &str) -> Node {
    Node::new("section").with(Node::new("h2").text(title))
}

fn verdict(sheet: &BuildSheet) -> Node {
    let items = sheet.verdict.items.iter().map(|i| {
        Node::new("li").text(format!(
            "{} {}: {} {}",
            i.standing.mark(),
            i.standing,
            i.label,
            i.text
        ))
    });
    let bad = sheet
        .findings
        .iter()
        .filter(|f| f.standing == Standing::Stop);
    let stops: Vec<Node> = bad
        .map(|f| {
            Node::new("li")
                .class("stop")
                .text(format!("■ {}", f.sentence))
        })
        .collect();
    let mut out = section("What it will do").with(Node::new("ul").class("plain").with_all(items));
    if !stops.is_empty() {
        out.push(Node::new("p").text("Put these right before you print:"));
        out.push(Node::new("ul").class("plain").with_all(stops));
    }
    out
}

fn boxes(items: &[&str]) -> Node {
    Node::new("ul")
        .class("boxes")
        .with_all(items.iter().map(|i| Node::new("li").text(*i)))
}

fn checks() -> Node {
    section("On the bench, before water")
        .with(Node::new("p").class("caution").text(
            "Propeller off, or boat strapped down and nobody in the propeller's plane, whenever a pack is connected.",
        ))
        .with(boxes(&[
            "Rotation: the propeller turns the way its blades want, at a touch of throttle.",
            "Rudder: stick right turns the boat right; full throw both ways without buzzing.",
            "Failsafe: transmitter off, throttle goes to stop within a second.",
            "Leak: hull weighed, floated loaded for ten minutes, dried outside, weighed again: no heavier.",
            "Balance: on two fingers at the mark, packs in, level across.",
            "Range: full control at 30 paces, transmitter antenna down.",
            "Water: a syringe at the pickup comes out at the outlet.",
            "Screws of strut, rudder, fin and motor: tight, with thread lock in metal.",
        ]))
}

fn first_run(sheet: &BuildSheet) -> Node {
    let half = sheet
        .findings
        .iter()
        .find(|f| f.id == "run-time")
        .and_then(|f| f.number)
        .map_or_else(
            || "one minute".to_owned(),
            |n| format!("{:.0} s", (0.5 * n.value).clamp(30.0, 120.0)),
        );
    let text = format!(
        "First run: half throttle, {half}, then in: motor, controller and pack no hotter than a hand bears. Open the hatch: dry."
    );
    section("First run")
        .with(boxes(&[
            &text,
            "Nobody ahead of the boat or beside it; everyone behind the driver.",
            "Full throttle on the straight only after two cool, dry runs; turns at half throttle first.",
            "Never swim after a boat: line, rod and ball, or a second boat.",
        ]))
        .with(Node::new("p").class("caution").text(
            "Hot motors burn and soften plastic. A thrown blade flies in the propeller's plane. Wear gloves and a mask with resin and sanding dust. Strengths here are an estimate, not a certificate.",
        ))
}
