//! Does it hold: the margin along the length under the side view with the worst load, what a crash breaks.

use advice::Number;
use boat::Kind;
use making::strength::{Bow, Lever, MOST_TOLD, Margin, Of, Strength};

use super::table::Table;
use crate::chart::{self, Line, Marks, Shape, Stack, Stave};
use crate::drawing::holds::{reach, side};
use crate::node::Node;
use crate::page::figure;
use crate::subject::Subject;
use crate::ticks::fixed;

/// The chart goes up to this many times: what holds more is not near its limit, times.
const SHOWN: f64 = 10.0;
/// Rows of the table.
const ROWS: usize = 12;

/// Nothing for a boat of which nobody asked, or a plastic of unknown strength.
pub fn section(subject: &Subject) -> Option<Node> {
    let running = subject.study.running.as_ref()?;
    let strength = running.strength.as_ref()?;
    let pictures = Node::new("div")
        .with(side(subject, strength))
        .with(chart::draw(stack(subject, strength), subject.units));
    let section = Node::new("section")
        .attr("id", "holds")
        .with(Node::new("h2").text("Does it hold"))
        .with_all(strength.margins.first().map(first))
        .with_all(strength.bow.as_ref().map(bends))
        .with(figure(
            Some("Strength over stress along the length"),
            pictures,
            &format!(
                "The worst load at each place of the hull, up to ten times; below one it breaks. The cross is the weakest \
                 place of all, dashed lines are joints.{} Theory, an estimate: two prints of one file differ by half.",
                arrows(strength)
            ),
        ))
        .with(table(strength))
        .with_all(crashes(strength))
        .with_all(levers(&strength.levers));
    Some(section)
}

fn first(worst: &Margin) -> Node {
    Node::new("p").class("lead").text(format!(
        "Weakest is the {}, {}: {}.",
        worst.place,
        worst.load,
        times(worst.value())
    ))
}

fn bends(bow: &Bow) -> Node {
    let most = Number::new(Kind::Length, bow.bow_m, bow.spread_m);
    Node::new("p").text(format!(
        "It bends {most} between its ends at most, {}; {}.",
        bow.load,
        bow.beyond()
    ))
}

/// Which load the arrows are.
fn arrows(strength: &Strength) -> String {
    match strength.margins.first() {
        Some(worst) if !strength.worst_acting().is_empty() => format!(
            " Arrows press on it there: {}; its own weight is against them.",
            worst.load
        ),
        _ => String::new(),
    }
}

fn times(value: f64) -> String {
    match value {
        v if v >= 20.0 => "it holds more than 20 times that".to_owned(),
        v if v < 1.0 => format!(
            "it breaks, since it holds {} % of that",
            fixed(100.0 * v, 0)
        ),
        v => format!("it holds {} times that", fixed(v, 1)),
    }
}

/// A line for each load over the stretch on which it is the worst.
fn stack(subject: &Subject, strength: &Strength) -> Stack {
    let (from, to) = reach(subject);
    let (from, to) = (1e3 * from, 1e3 * to);
    let mut loads: Vec<&str> = Vec::new();
    for station in &strength.stations {
        if !loads.contains(&station.load) {
            loads.push(station.load);
        }
    }
    let mut lines: Vec<Line> = loads.iter().map(|load| line(strength, load)).collect();
    lines.push(Line {
        name: "breaks".to_owned(),
        points: vec![Some((from, 1.0)), Some((to, 1.0))],
        band: Vec::new(),
    });
    // Each place under its worst load, which comes first; one that holds more than is drawn has no mark.
    let at = |of: Of| {
        let mut places: Vec<&str> = Vec::new();
        let mut points = Vec::new();
        for m in strength.margins.iter().filter(|m| m.of == of) {
            let known = places.contains(&m.place.as_str());
            places.push(&m.place);
            if !known && m.value() < SHOWN {
                points.push((1e3 * m.x_m, m.value()));
            }
        }
        points
    };
    let marks = |name: &str, shape, of| Marks {
        name: name.to_owned(),
        shape,
        at: at(of),
    };
    Stack {
        id: "holds-chart".to_owned(),
        title: "Strength over stress along the hull".to_owned(),
        desc: strength.margins.first().map_or_else(String::new, |w| {
            format!(
                "Weakest at {} mm: {}, {}.",
                fixed(1e3 * w.x_m, 0),
                w.place,
                w.load
            )
        }),
        axis: "ahead of the transom, mm".to_owned(),
        range: (from, to),
        step: None,
        staves: vec![Stave {
            title: "holds".to_owned(),
            unit: "times",
            height: 150.0,
            from_zero: true,
            lines,
            marks: vec![
                marks("joint", Shape::Diamond, Of::Joint),
                marks("root", Shape::Cross, Of::Root),
            ],
        }],
        uprights: Vec::new(),
    }
}

/// Where `load` is the worst, with the place before, so that lines meet.
fn line(strength: &Strength, load: &str) -> Line {
    let all = &strength.stations;
    let governs = |i: usize| all[i].load == load;
    let points = (0..all.len()).map(|i| {
        let near = governs(i) || (i + 1 < all.len() && governs(i + 1));
        near.then(|| (1e3 * all[i].x_m, all[i].margin.min(SHOWN)))
    });
    Line {
        name: load.to_owned(),
        points: points.collect(),
        band: Vec::new(),
    }
}

/// Two digits or so: nobody knows it better.
fn rounded(value: f64) -> String {
    match value {
        v if v < 0.1 => fixed(v, 3),
        v if v < 1.0 => fixed(v, 2),
        v if v < 10.0 => fixed(v, 1),
        v => fixed(v, 0),
    }
}

fn table(strength: &Strength) -> Node {
    let mut table = Table::new(
        "Worst first",
        &["place", "load", "stress", "strength", "holds, times"],
    );
    let pressure = |pa: f64| Number::stress(pa).plain();
    for m in strength.margins.iter().take(ROWS) {
        let (value, half) = m.told();
        table.row([
            m.place.clone(),
            m.load.to_owned(),
            pressure(m.stress_pa),
            pressure(m.strength_pa),
            Number::new(Kind::Number, value, half).to_string(),
        ]);
    }
    table.node()
}

fn crashes(strength: &Strength) -> Option<Node> {
    if strength.crashes.is_empty() {
        return None;
    }
    let each = strength.crashes.iter();
    let each = each.map(|c| Node::new("li").text(format!("{}: {}.", c.what, c.breaks)));
    Some(
        Node::new("div")
            .with(Node::new("h3").text("What breaks first in a crash"))
            .with(Node::new("ul").with_all(each)),
    )
}

fn levers(levers: &[Lever]) -> Option<Node> {
    if levers.is_empty() {
        return None;
    }
    let mut table = Table::new(
        "What would change it",
        &["change", "hull, times", "joints, times", "panels, times"],
    );
    let shown = |v: f64| rounded(v.min(MOST_TOLD));
    for lever in levers {
        table.row([
            lever.what.clone(),
            shown(lever.hull),
            lever.joints.map_or_else(String::new, shown),
            lever.panels.map_or_else(String::new, shown),
        ]);
    }
    Some(table.node())
}
