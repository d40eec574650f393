//! Cooling water on its way: pickup, what it cools in order, outlet, with what it carries at each place.

use advice::Number;
use boat::{Cooled, CoolingLoop, Kind};
use power::cooling::Leg;
use power::thermal::Part;

use super::dimension;
use crate::chart::WIDTH;
use crate::node::Node;
use crate::svg::{self, Anchor, Point};

const HEIGHT: f64 = 176.0;
/// Water level, the line's top and the pickup, downward in the picture.
const LEVEL: f64 = 128.0;
const TOP: f64 = 72.0;
const PICKUP: f64 = 150.0;
const BOX: (f64, f64) = (132.0, 40.0);
const FIRST: f64 = 190.0;
const LAST: f64 = 690.0;

/// What the water does at one speed.
pub struct Water<'a> {
    /// Unique on the page.
    pub id: String,
    /// As the boat file has it.
    pub line: &'a CoolingLoop,
    /// In the order of the line.
    pub legs: Vec<Leg>,
    /// kg/s.
    pub flow_kg_s: f64,
    /// Coming in, K.
    pub in_k: f64,
    /// At which speed all this is, m/s.
    pub speed_m_s: f64,
}

fn show(kind: Kind, value: f64) -> String {
    Number::exact(kind, value).plain()
}

/// The line from pickup to outlet.
pub fn water_path(water: &Water) -> Node {
    let title = "Path of the cooling water";
    let mut picture =
        svg::picture(&water.id, (WIDTH, HEIGHT), title, &desc(water)).class("drawing");
    picture.push(
        svg::group("water")
            .with(svg::rect(
                "body",
                (20.0, LEVEL),
                (WIDTH - 40.0, HEIGHT - LEVEL - 8.0),
            ))
            .with(svg::line("level", (20.0, LEVEL), (WIDTH - 20.0, LEVEL))),
    );
    let tube: [Point; 6] = [
        (70.0, PICKUP),
        (110.0, PICKUP),
        (130.0, TOP),
        (LAST, TOP),
        (LAST + 20.0, TOP + 14.0),
        (LAST + 36.0, TOP + 36.0),
    ];
    picture.push(
        svg::group("pipe")
            .with(svg::path("tube", svg::along(&tube)))
            .with(dimension::head(tube[5], (0.59, 0.81))),
    );
    picture.push(ends(water));
    for (i, what) in water.line.order.iter().enumerate() {
        picture.push(station(water, *what, place(i, water.line.order.len())));
    }
    picture.with(dimension::upright(
        100.0,
        (TOP, LEVEL),
        &show(Kind::Length, water.line.rise_m.value),
    ))
}

/// Middle of a station.
fn place(index: usize, of: usize) -> f64 {
    FIRST + (LAST - FIRST) * (index as f64 + 0.5) / of.max(1) as f64
}

fn ends(water: &Water) -> Node {
    let line = water.line;
    let pickup = format!("pickup {}", show(Kind::Length, line.pickup_m.value));
    let carried = format!(
        "{} at {}, {} bore",
        show(Kind::Flow, water.flow_kg_s / 1000.0),
        celsius(water.in_k),
        show(Kind::Length, line.bore_m.value)
    );
    let out = water.legs.last().map_or(water.in_k, |l| l.leaves_k);
    svg::group("label")
        .with(svg::text(
            "name",
            (26.0, PICKUP + 15.0),
            Anchor::Start,
            pickup,
        ))
        .with(svg::text(
            "name",
            (138.0, TOP - 34.0),
            Anchor::Start,
            carried,
        ))
        .with(svg::text(
            "name",
            (LAST + 10.0, TOP - 12.0),
            Anchor::Middle,
            "outlet",
        ))
        .with(svg::text(
            "name",
            (LAST + 10.0, TOP + 54.0),
            Anchor::Middle,
            celsius(out),
        ))
}

fn station(water: &Water, what: Cooled, x: f64) -> Node {
    let (part, words) = match what {
        Cooled::Controller => (Part::Controller, "controller"),
        Cooled::Motor => (Part::Can, "motor jacket"),
    };
    let corner = (x - BOX.0 / 2.0, TOP - BOX.1 / 2.0);
    let mut group = svg::group("pipe")
        .with(svg::rect("jacket", corner, BOX))
        .with(svg::text("name", (x, TOP - 3.0), Anchor::Middle, words));
    if let Some(leg) = water.legs.iter().find(|l| l.part == part) {
        let heat = format!("gives {}", show(Kind::Power, leg.heat_w));
        group.push(svg::text("name", (x, TOP + 12.0), Anchor::Middle, heat));
        let after = (x + BOX.0 / 2.0 + 8.0, TOP + 18.0);
        group.push(svg::text(
            "name",
            after,
            Anchor::Start,
            celsius(leg.leaves_k),
        ));
    }
    group
}

fn celsius(kelvin: f64) -> String {
    show(Kind::Temperature, kelvin - 273.15)
}

fn desc(water: &Water) -> String {
    let out = water.legs.last().map_or(water.in_k, |l| l.leaves_k);
    let order: Vec<&str> = water
        .line
        .order
        .iter()
        .map(|c| match c {
            Cooled::Controller => "controller",
            Cooled::Motor => "motor",
        })
        .collect();
    format!(
        "From the pickup through {} to the outlet: {} at {}, {} in and {} out, {} up.",
        order.join(" and "),
        show(Kind::Flow, water.flow_kg_s / 1000.0),
        show(Kind::Speed, water.speed_m_s),
        celsius(water.in_k),
        celsius(out),
        show(Kind::Length, water.line.rise_m.value),
    )
}
