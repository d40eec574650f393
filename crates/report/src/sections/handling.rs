//! Turning and flying: the plan of the tightest turns, and the pitch to spare against speed.

use boat::Units;
use motion::flight::Margin;
use motion::turning::{Steered, Way};
use std::f64::consts::PI;
use study::handling::Handling;

use crate::chart::{self, Line, Stack, Stave};
use crate::node::Node;
use crate::page::figure;
use crate::sections::running::caution;
use crate::subject::Subject;
use crate::svg::{self, Anchor, Point};
use crate::ticks::fixed;

const KMH: f64 = 3.6;
const HEIGHT: f64 = 320.0;
/// Points of a half turn.
const POINTS: usize = 36;
/// Wider turns are drawn this many times the tightest, cut off by the edge.
const WIDEST: f64 = 4.0;

/// Nothing for a boat that does not run or cannot be turned or pitched.
pub fn section(subject: &Subject) -> Option<Node> {
    let handling = subject.handling?;
    let plan = subject.steered.and_then(plan);
    let margins = margins(handling, subject.units);
    if plan.is_none() && margins.is_none() {
        return None;
    }
    let mut section = Node::new("section")
        .attr("id", "handling")
        .with(Node::new("h2").text("Turning and flying"));
    if let Some(plan) = plan {
        section.push(figure(
            Some("Tightest turns that hold"),
            plan,
            "From above, the boat coming from below, half a turn each, the throttle held. Theory: the hull's \
             own resistance to sliding is unmeasured.",
        ));
    }
    if let Some(chart) = margins {
        section.push(figure(
            Some("Pitch to spare before it flies"),
            chart,
            "Between the running trim and the trim past which it flips lies the margin; in a gust of 5 m/s it \
             is smaller. Theory, unvalidated.",
        ));
    }
    Some(section.with(caution(
        "Find these limits at half throttle first, with nobody ahead of the boat and everyone \
         behind the driver.",
    )))
}

fn plan(steered: &Steered) -> Option<Node> {
    let turns = || {
        steered
            .sides
            .iter()
            .filter_map(|s| Some((s.way, s.tightest?)))
    };
    let least = steered.tightest()?.1.radius_m;
    let most = turns().map(|t| t.1.radius_m).fold(0.0, f64::max);
    let scale = 0.23 * chart::WIDTH / most.min(WIDEST * least);
    let start: Point = (0.5 * chart::WIDTH, HEIGHT - 40.0);
    let mut picture = svg::picture(
        "turn-plan",
        (chart::WIDTH, HEIGHT),
        "Tightest turns from above",
        "Half circles to the left and right with radius and lateral acceleration",
    )
    .class("drawing");
    let ahead = (start.0, start.1 + 34.0);
    picture.push(svg::group("hull").with(svg::path("edges", svg::along(&[ahead, start]))));
    for (way, turn) in turns() {
        let radius = turn.radius_m * scale;
        let outward = -way.sign();
        let at = |i: usize| {
            let angle = PI * i as f64 / POINTS as f64;
            (
                start.0 + outward * radius * (1.0 - angle.cos()),
                start.1 - radius * angle.sin(),
            )
        };
        let inside = |p: &Point| p.1 > 4.0 && p.0 > 4.0 && p.0 < chart::WIDTH - 4.0;
        let points: Vec<Point> = (0..=POINTS).map(at).take_while(inside).collect();
        picture.push(svg::group("hull").with(svg::path("edges", svg::along(&points))));
        let words = format!(
            "{}: {} m at {} g sideways from {} km/h",
            way.word(),
            fixed(turn.radius_m, 1),
            fixed(turn.lateral_g, 1),
            fixed(steered.speed_m_s * KMH, 0)
        );
        let (x, anchor) = match way {
            Way::Port => (8.0, Anchor::Start),
            Way::Starboard => (chart::WIDTH - 8.0, Anchor::End),
        };
        let y = HEIGHT - 22.0;
        picture.push(svg::text("label", (x, y), anchor, words));
    }
    Some(picture)
}

fn margins(handling: &Handling, units: Units) -> Option<Node> {
    let points = &handling.margins.points;
    if points.len() < 2 || points.iter().all(|p| p.unstable_trim_rad.is_none()) {
        return None;
    }
    let line = |name: &str, of: fn(&Margin) -> Option<f64>| Line {
        name: name.to_owned(),
        points: points
            .iter()
            .map(|p| of(p).map(|trim| (p.speed_m_s * KMH, trim.to_degrees())))
            .collect(),
        band: Vec::new(),
    };
    let end = points.last().map_or(1.0, |p| p.speed_m_s * KMH);
    let stack = Stack {
        id: "flight-margin".to_owned(),
        title: "Pitch to spare against speed".to_owned(),
        desc: "Running trim, trim clear of the water and trim past which it flips, still and in a gust"
            .to_owned(),
        axis: "speed, km/h".to_owned(),
        range: (0.0, end),
        step: None,
        staves: vec![Stave {
            title: "trim".to_owned(),
            unit: "°",
            height: 180.0,
            from_zero: true,
            lines: vec![
                line("runs at", |p| Some(p.running_trim_rad)),
                line("clear of the water", |p| p.lift_off_trim_rad),
                line("flips past", |p| p.unstable_trim_rad),
                line("flips past in a gust", |p| p.unstable_in_gust_rad),
            ],
            marks: Vec::new(),
        }],
        uprights: Vec::new(),
    };
    Some(chart::draw(stack, units))
}
