//! The page: what comes in which order.

use advice::Number;
use boat::Kind;

use crate::drawing::sheet;
use crate::node::Node;
use crate::sections::{
    findings, handling, holds, known, launch, masses, power, rest, running, sized, verdict, water,
};
use crate::subject::Subject;

/// Drawn once, used by every picture.
const HATCH: [(&str, &str, &str); 1] = [("hatch", "7", "M-1 8L8 -1M-1 1L1 -1M6 8L8 6")];

/// The whole report as one HTML page.
#[must_use]
pub fn html(subject: &Subject) -> String {
    let units = subject.units;
    let body = Node::new("body")
        .with(patterns())
        .with(head(subject))
        .with(
            Node::new("main")
                .with(drawings(subject))
                .with(findings::section(subject.findings))
                .with(masses::section(subject))
                .with_all(sized::section(subject))
                .with(rest::section(subject))
                .with_all(running::section(subject))
                .with_all(handling::section(subject))
                .with_all(launch::section(subject))
                .with_all(power::section(subject))
                .with_all(holds::section(subject))
                .with_all(water::section(subject.learned, subject.water.as_ref()))
                .with(known::section(subject)),
        )
        .with(foot())
        .in_units(units);
    let page = Node::new("html")
        .attr("xmlns", "http://www.w3.org/1999/xhtml")
        .attr("lang", "en")
        .with(about(&format!(
            "{}: predicted behaviour",
            subject.boat.name
        )))
        .with(body);
    format!("<!DOCTYPE html>\n{page}\n")
}

/// The head of a page.
pub fn about(title: &str) -> Node {
    let meta = |name, content: &str| {
        Node::new("meta")
            .attr("name", name)
            .attr("content", content)
    };
    Node::new("head")
        .with(Node::new("meta").attr("charset", "utf-8"))
        .with(meta("viewport", "width=device-width, initial-scale=1"))
        .with(
            Node::new("meta")
                .attr("http-equiv", "Content-Security-Policy")
                .attr("content", "default-src 'none'; style-src 'unsafe-inline'"),
        )
        .with(Node::new("title").text(title))
        .with(Node::new("style").verbatim(include_str!("style.css")))
}

fn patterns() -> Node {
    let each = HATCH.iter().map(|(id, size, lines)| {
        Node::new("pattern")
            .attr("id", *id)
            .attr("width", *size)
            .attr("height", *size)
            .attr("patternUnits", "userSpaceOnUse")
            .with(Node::new("path").class("hatching").attr("d", *lines))
    });
    Node::new("svg")
        .attr("xmlns", "http://www.w3.org/2000/svg")
        .class("patterns")
        .attr("aria-hidden", "true")
        .attr("width", "0")
        .attr("height", "0")
        .with(Node::new("defs").with_all(each))
}

fn head(subject: &Subject) -> Node {
    let kind = subject.hull_type.name();
    let water = Number::exact(Kind::Temperature, subject.boat.water.temperature_c.value);
    let what = format!(
        "{kind}, {} long, fresh water at {}",
        Number::exact(Kind::Length, subject.form.outline.length_m).plain(),
        water.plain()
    );
    let learned = advice::learned::rests_on(subject.learned).map(|from| {
        Node::new("p")
            .class("what")
            .text(format!("Predicted {from}"))
    });
    Node::new("header")
        .class("plate")
        .with(Node::new("p").class("maker").text("skimwright"))
        .with(Node::new("h1").text(subject.boat.name.as_str()))
        .with(Node::new("p").class("what").text(what))
        .with_all(learned)
        .with_all(verdict::nodes(&advice::verdict(
            subject.study,
            subject.findings,
        )))
}

fn drawings(subject: &Subject) -> Node {
    let mut section = Node::new("section")
        .attr("id", "drawings")
        .with(Node::new("h2").text("The boat on the water"))
        .with(figure(
            Some("At rest"),
            sheet::at_rest(subject),
            "Numbers in rings are rows of the mass table. The quartered disc G is the centre of \
             gravity, the ring with a dot the centre of buoyancy, triangles pointing down the \
             openings.",
        ));
    if let Some(top) = subject.curve.and_then(|c| c.top.as_ref()) {
        section.push(figure(
            Some("At top speed"),
            sheet::running(subject, top),
            "The line is the level of still water; spray and the dip behind the hull are not \
             drawn. Arrows are to one scale and lie on the line along which each force acts.",
        ));
        section.push(running::forces_table(top));
    }
    section
}

/// A picture with what one must know to read it, under a heading of its own if it has one.
pub fn figure(heading: Option<&str>, picture: Node, caption: &str) -> Node {
    let heading = heading.map(|words| Node::new("h3").text(words));
    Node::new("div").class("keep").with_all(heading).with(
        Node::new("figure")
            .with(picture)
            .with(Node::new("figcaption").text(caption)),
    )
}

fn foot() -> Node {
    Node::new("footer").with(Node::new("p").text(
        "Predicted by skimwright from the boat file and the hull mesh. Predictions are not \
         promises: try a new boat slowly, close to the bank, with nobody in the water.",
    ))
}
