//! Afloat at rest.

use advice::Number;
use boat::Kind;
use craft::craft::GRAVITY_M_S2;
use craft::{Afloat, Rest, RightingPoint};

use super::running::caution;
use super::table::{Table, opens};
use crate::chart::{self, Line, Stack, Stave, Upright};
use crate::node::Node;
use crate::page::figure;
use crate::subject::Subject;
use crate::ticks::fixed;

const COLD_WATER: &str = "Never swim after a boat: cold water disables a swimmer in minutes. Plan \
     how it comes back before it goes out, and follow the rules of the water and the practice of \
     your club.";

/// Draught, trim, heel, freeboard, stability, flooding, levelling.
pub fn section(subject: &Subject) -> Node {
    let rest = subject.rest;
    let mut section = Node::new("section")
        .attr("id", "rest")
        .with(Node::new("h2").text("Afloat at rest"));
    match &rest.afloat {
        Some(afloat) => section.push(figures(subject, afloat)),
        None => section.push(Node::new("p").class("lead").text(sinks(rest))),
    }
    if rest.righting.len() > 2 {
        section.push(figure(
            Some("Righting"),
            chart::draw(righting(subject), subject.units),
            "Above the line the arm turns the boat to port, below it to starboard: it rests where \
             the line rises through zero. Where an opening is under water the boat fills and the \
             arm no longer holds.",
        ));
        section.push(opens(
            "the numbers of this chart",
            [righting_table(&rest.righting)],
        ));
    }
    section.push(Node::new("h3").text("Full of water"));
    section.push(Node::new("p").text(flooded(rest)));
    section.push(caution(COLD_WATER));
    if !rest.levelling.is_empty() {
        section.push(Node::new("h3").text("To float level"));
        section.push(levelling(rest));
    }
    if !rest.supports.is_empty() {
        section.push(Node::new("h3").text("On the bench"));
        section.push(supports(rest));
    }
    let notes = rest.notes.iter().map(|n| Node::new("li").text(n.as_str()));
    if !rest.notes.is_empty() {
        section.push(Node::new("ul").class("notes").with_all(notes));
    }
    section
}

fn sinks(rest: &Rest) -> String {
    format!(
        "It sinks: the whole hull displaces {} % less than the boat weighs.",
        fixed(-rest.reserve_of_buoyancy * 100.0, 0)
    )
}

fn figures(subject: &Subject, afloat: &Afloat) -> Node {
    let rest = subject.rest;
    let plain = |kind, value| Number::exact(kind, value).plain();
    let mut table = Table::new("At rest on still water", &["what", "value"]);
    table.row([
        "draught, deepest point of the hull",
        &plain(Kind::Length, afloat.draught_m),
    ]);
    table.row(["trim, bow up positive", &degrees(afloat.attitude.trim_rad)]);
    table.row([
        "heel, starboard down positive",
        &degrees(afloat.attitude.heel_rad),
    ]);
    if let Some((name, height)) = &afloat.freeboard {
        let label = format!("freeboard to the lowest opening, {name}");
        table.row([label, plain(Kind::Length, *height)]);
    }
    table.row([
        "metacentric height across, GM",
        &plain(Kind::Length, afloat.gm_roll_m),
    ]);
    table.row([
        "metacentric height along",
        &plain(Kind::Length, afloat.gm_pitch_m),
    ]);
    table.row([
        "reserve of buoyancy over the displaced volume",
        &plain(Kind::Fraction, rest.reserve_of_buoyancy),
    ]);
    table.row([
        "displaced volume",
        &plain(Kind::Volume, afloat.displaced_m3),
    ]);
    table.row(["waterplane", &square_cm(afloat.waterplane_area_m2)]);
    table.row(["wetted surface", &square_cm(afloat.wetted_area_m2)]);
    let b = afloat.buoyancy_m;
    table.row([
        "centre of buoyancy, x ahead, y to port, z up",
        &format!(
            "{}, {}, {} mm",
            fixed(b.x * 1e3, 1),
            fixed(b.y * 1e3, 1),
            fixed(b.z * 1e3, 1)
        ),
    ]);
    if rest.resting_heels_rad.len() > 1 {
        let heels: Vec<String> = rest.resting_heels_rad.iter().map(|h| degrees(*h)).collect();
        table.row(["heels at which it can come to rest", &heels.join(", ")]);
    }
    table.node()
}

fn square_cm(area_m2: f64) -> String {
    format!("{} cm²", fixed(area_m2 * 1e4, 0))
}

/// An angle to a tenth of a degree.
pub fn degrees(rad: f64) -> String {
    format!("{}°", fixed(rad.to_degrees(), 1))
}

fn righting(subject: &Subject) -> Stack {
    let points = &subject.rest.righting;
    let uprights = subject.rest.resting_heels_rad.iter().map(|heel| Upright {
        x: heel.to_degrees(),
        label: if heel.to_degrees().abs() > 179.0 {
            "rests upside down".to_owned()
        } else {
            format!("rests at {}", degrees(*heel))
        },
    });
    Stack {
        id: "righting".to_owned(),
        title: "Righting arm against heel".to_owned(),
        desc: format!(
            "Righting arm at {} angles of heel, from upside down over port to upside down over \
             starboard. The numbers are in the table below.",
            points.len()
        ),
        axis: "heel, degrees (starboard down positive)".to_owned(),
        range: (-180.0, 180.0),
        step: Some(45.0),
        staves: vec![Stave {
            title: "righting arm".to_owned(),
            unit: "mm",
            height: 170.0,
            from_zero: true,
            lines: vec![
                stretch("every opening dry", points, false),
                stretch("an opening under water", points, true),
            ],
            marks: Vec::new(),
        }],
        uprights: uprights.collect(),
    }
}

/// The part of the curve where the boat fills or does not; one step between the two belongs to
/// the filling part.
fn stretch(name: &str, points: &[RightingPoint], fills: bool) -> Line {
    let under = |p: &RightingPoint| p.opening_m.is_some_and(|h| h < 0.0);
    let beside = |i: usize| {
        let before = i.checked_sub(1).and_then(|b| points.get(b));
        under(&points[i]) || before.is_some_and(under) || points.get(i + 1).is_some_and(under)
    };
    let shown = (0..points.len()).map(|i| {
        let p = &points[i];
        let shown = if fills { beside(i) } else { !under(p) };
        shown.then_some((p.heel_rad.to_degrees(), p.gz_m * 1e3))
    });
    Line {
        name: name.to_owned(),
        points: shown.collect(),
        band: Vec::new(),
    }
}

fn righting_table(points: &[RightingPoint]) -> Node {
    let mut table = Table::new(
        "Righting arm, trim taken and height of the lowest opening",
        &[
            "heel, °",
            "righting arm, mm",
            "trim, °",
            "lowest opening above water, mm",
        ],
    );
    // Every ten degrees is enough to plot it by hand.
    let every = (points.len() / 36).max(1);
    for p in points.iter().step_by(every) {
        table.row([
            fixed(p.heel_rad.to_degrees(), 0),
            fixed(p.gz_m * 1e3, 1),
            fixed(p.trim_rad.to_degrees(), 1),
            p.opening_m.map_or("–".to_owned(), |h| fixed(h * 1e3, 0)),
        ]);
    }
    table.node()
}

fn flooded(rest: &Rest) -> String {
    let spare = rest.flooded.spare_kg;
    let grams = fixed(spare.abs() * 1e3, 0);
    let way = if rest.flooded.inverted {
        "It ends upside down, since what floats it sits below the centre of gravity."
    } else {
        "It stays upright."
    };
    if spare >= 0.0 {
        format!(
            "Filled with water, the declared foam and sealed voids and the hull's own plastic \
             carry the boat with {grams} g to spare. {way}"
        )
    } else {
        format!(
            "Filled with water it sinks: the declared foam and sealed voids and the hull's own \
             plastic fall {grams} g short."
        )
    }
}

fn levelling(rest: &Rest) -> Node {
    let mut table = Table::new(
        "One part at a time",
        &["part", "shift, mm", "way", "within the hull"],
    );
    for level in &rest.levelling {
        table.row([
            level.part.as_str(),
            &fixed(level.shift_m.abs() * 1e3, 0),
            if level.shift_m >= 0.0 {
                "forward"
            } else {
                "aft"
            },
            if level.fits { "yes" } else { "no" },
        ]);
    }
    table.node()
}

fn supports(rest: &Rest) -> Node {
    let mut table = Table::new(
        "Loads with the hull level, resting on propeller and trailing edges (common practice: \
         weigh these)",
        &["support", "load, N", "as a weight, g", "share of all-up"],
    );
    for support in &rest.supports {
        table.row([
            support.name.clone(),
            fixed(support.load_n, 2),
            fixed(support.load_n / GRAVITY_M_S2 * 1e3, 0),
            format!("{} %", fixed(support.fraction * 100.0, 1)),
        ]);
    }
    table.node()
}
