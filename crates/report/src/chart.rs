//! Charts stacked over one shared axis, like the staves of a score.
//!
//! Lines are told apart by dashes and by what is written beside them, not by colour alone; spreads
//! are bands; single states are shapes.

use crate::node::Node;
use crate::svg::{self, Anchor, Point};
use crate::ticks::Ticks;
use boat::Units;

/// Width of every picture, drawing units.
pub const WIDTH: f64 = 760.0;
/// Where the plotted area begins and how far from the right edge it ends, drawing units.
pub const LEFT: f64 = 58.0;
/// See [`LEFT`].
pub const RIGHT: f64 = 14.0;
const TOP: f64 = 30.0;
const FOOT: f64 = 40.0;
/// Above each stave: its title and key.
const HEAD: f64 = 24.0;
const GAP: f64 = 12.0;
/// Line styles in the style sheet.
const STYLES: usize = 6;

/// A line of a stave.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Line {
    /// What it shows.
    pub name: String,
    /// In order of x; `None` breaks the line.
    pub points: Vec<Option<Point>>,
    /// x, low and high.
    pub band: Vec<(f64, f64, f64)>,
}

/// Shape of a mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// Open diamond.
    Diamond,
    /// Cross.
    Cross,
}

/// Single states in a stave.
#[derive(Debug, Clone, PartialEq)]
pub struct Marks {
    /// What they are.
    pub name: String,
    /// How they look.
    pub shape: Shape,
    /// Where they are.
    pub at: Vec<Point>,
}

/// One chart of a stack.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Stave {
    /// What is shown.
    pub title: String,
    /// In which unit.
    pub unit: &'static str,
    /// Height of the plotted area, drawing units.
    pub height: f64,
    /// Whether zero belongs on the axis.
    pub from_zero: bool,
    /// Lines.
    pub lines: Vec<Line>,
    /// Single states.
    pub marks: Vec<Marks>,
}

/// A value of x marked through all staves.
#[derive(Debug, Clone, PartialEq)]
pub struct Upright {
    /// Where.
    pub x: f64,
    /// What is there.
    pub label: String,
}

/// Charts over one axis.
#[derive(Debug, Clone, PartialEq)]
pub struct Stack {
    /// Unique on the page.
    pub id: String,
    /// For a screen reader: what it is.
    pub title: String,
    /// For a screen reader: what it shows.
    pub desc: String,
    /// Title of the shared axis with its unit.
    pub axis: String,
    /// Ends of the shared axis.
    pub range: (f64, f64),
    /// Step between ticks of the shared axis, chosen when absent.
    pub step: Option<f64>,
    /// From top to bottom.
    pub staves: Vec<Stave>,
    /// Marked through all staves.
    pub uprights: Vec<Upright>,
}

impl Stack {
    /// With axes and values in the units chosen.
    fn in_units(mut self, units: Units) -> Self {
        let (axis, across) = units.heading(&self.axis);
        self.axis = axis.into_owned();
        let x = |x: f64| across.map_or(x, |unit| units.value(x, unit));
        self.range = (x(self.range.0), x(self.range.1));
        if across.is_some() {
            self.step = None;
        }
        for upright in &mut self.uprights {
            upright.x = x(upright.x);
        }
        for stave in &mut self.staves {
            let unit = stave.unit;
            let y = |y: f64| units.value(y, unit);
            let point = |p: Point| (x(p.0), y(p.1));
            stave.unit = units.unit(unit);
            for line in &mut stave.lines {
                line.points.iter_mut().for_each(|p| *p = p.map(point));
                for (at, low, high) in &mut line.band {
                    (*at, *low, *high) = (x(*at), y(*low), y(*high));
                }
            }
            for marks in &mut stave.marks {
                marks.at.iter_mut().for_each(|p| *p = point(*p));
            }
        }
        self
    }
}

/// The stack as a picture, in the units chosen.
pub fn draw(stack: Stack, units: Units) -> Node {
    let stack = &stack.in_units(units);
    let across = Across::of(stack);
    let height = TOP
        + stack
            .staves
            .iter()
            .map(|s| HEAD + s.height + GAP)
            .sum::<f64>()
        + FOOT;
    let mut picture =
        svg::picture(&stack.id, (WIDTH, height), &stack.title, &stack.desc).class("chart");
    let mut top = TOP;
    for stave in &stack.staves {
        top += HEAD;
        picture.push(draw_stave(stave, &across, top));
        top += stave.height + GAP;
    }
    picture.push(draw_uprights(stack, &across, top - GAP));
    picture.push(draw_axis(stack, &across, top - GAP));
    picture
}

/// The shared axis.
struct Across {
    ticks: Vec<f64>,
    labels: Vec<String>,
    range: (f64, f64),
}

impl Across {
    fn of(stack: &Stack) -> Self {
        let (low, high) = stack.range;
        let ticks = Ticks::cover(low, high, 9);
        let at: Vec<f64> = match stack.step {
            Some(step) => {
                let count = ((high - low) / step).round() as usize;
                (0..=count).map(|i| low + i as f64 * step).collect()
            }
            None => ticks
                .at
                .iter()
                .copied()
                .filter(|t| *t >= low - 1e-9 && *t <= high + 1e-9)
                .collect(),
        };
        Self {
            labels: at.iter().map(|t| ticks.label(*t)).collect(),
            ticks: at,
            range: (low, high),
        }
    }

    fn x(&self, value: f64) -> f64 {
        let (low, high) = self.range;
        LEFT + (value - low) / (high - low).max(1e-12) * (WIDTH - LEFT - RIGHT)
    }
}

/// The upward axis of one stave.
struct Up {
    ticks: Ticks,
    top: f64,
    height: f64,
}

impl Up {
    fn of(stave: &Stave, top: f64) -> Self {
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        let mut take = |y: f64| {
            if y.is_finite() {
                (low, high) = (low.min(y), high.max(y));
            }
        };
        if stave.from_zero {
            take(0.0);
        }
        for line in &stave.lines {
            line.points.iter().flatten().for_each(|p| take(p.1));
            line.band.iter().for_each(|b| {
                take(b.1);
                take(b.2);
            });
        }
        for marks in &stave.marks {
            marks.at.iter().for_each(|p| take(p.1));
        }
        let wanted = ((stave.height / 19.0) as usize).max(4);
        Self {
            ticks: Ticks::cover(low, high, wanted),
            top,
            height: stave.height,
        }
    }

    fn y(&self, value: f64) -> f64 {
        let (low, high) = (self.ticks.low(), self.ticks.high());
        self.top + self.height * (1.0 - (value - low) / (high - low))
    }
}

fn draw_stave(stave: &Stave, across: &Across, top: f64) -> Node {
    let up = Up::of(stave, top);
    let mut group = svg::group("stave");
    group.push(grid(&up, across));
    for (i, line) in stave.lines.iter().enumerate() {
        if line.band.len() > 1 {
            group.push(band(&line.band, i, across, &up));
        }
    }
    for (i, line) in stave.lines.iter().enumerate() {
        let class = format!("trace t{}", i % STYLES);
        group.push(svg::path(&class, trace(&line.points, across, &up)));
    }
    for marks in &stave.marks {
        for at in &marks.at {
            let (x, y) = (across.x(at.0), up.y(at.1));
            group.push(mark(marks.shape, (x, y)));
        }
    }
    let title = if stave.unit.is_empty() {
        stave.title.clone()
    } else {
        format!("{}, {}", stave.title, stave.unit)
    };
    group.push(svg::text(
        "stave-title",
        (LEFT, top - 8.0),
        Anchor::Start,
        title.as_str(),
    ));
    let from = LEFT + svg::text_width(&title, 13.0) + 22.0;
    group.push(key(stave, (from, top - 8.0)));
    group
}

fn grid(up: &Up, across: &Across) -> Node {
    let mut group = svg::group("grid");
    let bottom = up.top + up.height;
    for tick in &across.ticks {
        let x = across.x(*tick);
        group.push(svg::line("rule", (x, up.top), (x, bottom)));
    }
    for tick in &up.ticks.at {
        let y = up.y(*tick);
        let class = if *tick == 0.0 { "rule zero" } else { "rule" };
        group.push(svg::line(class, (LEFT, y), (WIDTH - RIGHT, y)));
        group.push(svg::text(
            "tick",
            (LEFT - 6.0, y + 4.0),
            Anchor::End,
            up.ticks.label(*tick),
        ));
    }
    group
}

fn band(band: &[(f64, f64, f64)], style: usize, across: &Across, up: &Up) -> Node {
    let upper = band.iter().map(|(x, _, high)| (across.x(*x), up.y(*high)));
    let lower = band
        .iter()
        .rev()
        .map(|(x, low, _)| (across.x(*x), up.y(*low)));
    let points: Vec<Point> = upper.chain(lower).collect();
    svg::path(&format!("band t{}", style % STYLES), svg::around(&points))
}

fn trace(points: &[Option<Point>], across: &Across, up: &Up) -> String {
    points
        .split(|p| p.is_none())
        .map(|run| {
            let placed: Vec<Point> = run
                .iter()
                .flatten()
                .map(|(x, y)| (across.x(*x), up.y(*y)))
                .collect();
            svg::along(&placed)
        })
        .collect()
}

fn mark(shape: Shape, (x, y): Point) -> Node {
    let r = 4.0;
    match shape {
        Shape::Diamond => {
            let r = r + 1.0;
            let corners = [(x, y - r), (x + r, y), (x, y + r), (x - r, y)];
            svg::path("mark diamond", svg::around(&corners))
        }
        Shape::Cross => {
            let mut commands = svg::along(&[(x - r, y - r), (x + r, y + r)]);
            commands += &svg::along(&[(x - r, y + r), (x + r, y - r)]);
            svg::path("mark cross", commands)
        }
    }
}

/// A sample of each line and mark with its name, when there is more than one thing to name.
fn key(stave: &Stave, (mut x, y): Point) -> Node {
    let mut group = svg::group("key");
    let many = stave.lines.len() + stave.marks.len() > 1;
    let lines = stave.lines.iter().enumerate().filter(|_| many);
    for (i, line) in lines {
        let class = format!("trace t{}", i % STYLES);
        let sample = svg::along(&[(x, y - 4.0), (x + 30.0, y - 4.0)]);
        group.push(svg::path(&class, sample));
        x = name(&mut group, &line.name, (x + 35.0, y));
    }
    for marks in stave.marks.iter().filter(|m| !m.at.is_empty()) {
        group.push(mark(marks.shape, (x + 5.0, y - 4.0)));
        x = name(&mut group, &marks.name, (x + 14.0, y));
    }
    group
}

fn name(group: &mut Node, words: &str, at: Point) -> f64 {
    group.push(svg::text("key-name", at, Anchor::Start, words));
    at.0 + svg::text_width(words, 11.5) + 14.0
}

fn draw_uprights(stack: &Stack, across: &Across, bottom: f64) -> Node {
    let mut group = svg::group("uprights");
    for upright in &stack.uprights {
        let x = across.x(upright.x);
        group.push(svg::line("upright", (x, TOP), (x, bottom)));
        let half = svg::text_width(&upright.label, 11.5) / 2.0;
        let middle = x.clamp(LEFT + half, WIDTH - half - 2.0);
        group.push(svg::text(
            "upright-label",
            (middle, TOP - 8.0),
            Anchor::Middle,
            upright.label.as_str(),
        ));
    }
    group
}

fn draw_axis(stack: &Stack, across: &Across, y: f64) -> Node {
    let mut group = svg::group("axis");
    for (tick, label) in across.ticks.iter().zip(&across.labels) {
        group.push(svg::text(
            "tick",
            (across.x(*tick), y + 16.0),
            Anchor::Middle,
            label.as_str(),
        ));
    }
    let middle = (LEFT + WIDTH - RIGHT) / 2.0;
    group.push(svg::text(
        "axis-title",
        (middle, y + 34.0),
        Anchor::Middle,
        stack.axis.as_str(),
    ));
    group
}

/// Points with a break wherever two are further apart in x than `widest`.
pub fn broken(points: impl IntoIterator<Item = Point>, widest: f64) -> Vec<Option<Point>> {
    let mut out: Vec<Option<Point>> = Vec::new();
    for point in points {
        if let Some(Some(last)) = out.last()
            && point.0 - last.0 > widest
        {
            out.push(None);
        }
        out.push((point.0.is_finite() && point.1.is_finite()).then_some(point));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_small_stack() {
        let stack = Stack {
            id: "small".to_owned(),
            title: "Thrust".to_owned(),
            desc: "Thrust against speed".to_owned(),
            axis: "speed, km/h".to_owned(),
            range: (0.0, 40.0),
            step: None,
            staves: vec![Stave {
                title: "thrust".to_owned(),
                unit: "N",
                height: 80.0,
                from_zero: true,
                lines: vec![
                    Line {
                        name: "needed".to_owned(),
                        points: broken([(5.0, 1.0), (10.0, 3.0), (30.0, 2.0), (35.0, 2.5)], 10.0),
                        band: vec![(5.0, 0.8, 1.2), (35.0, 2.0, 3.0)],
                    },
                    Line {
                        name: "available".to_owned(),
                        points: broken([(0.0, 6.0), (40.0, 2.0)], 50.0),
                        band: Vec::new(),
                    },
                ],
                marks: vec![Marks {
                    name: "unstable".to_owned(),
                    shape: Shape::Cross,
                    at: vec![(20.0, 4.0)],
                }],
            }],
            uprights: vec![Upright {
                x: 36.0,
                label: "top speed 36 km/h".to_owned(),
            }],
        };
        insta::assert_snapshot!(draw(stack, Units::Metric).to_string());
    }

    #[test]
    fn a_line_breaks_over_gaps_and_at_nonsense() {
        let points = [(0.0, 1.0), (1.0, 1.0), (5.0, 1.0), (6.0, f64::NAN)];
        let line = broken(points, 1.5);
        assert_eq!(
            line,
            [
                Some((0.0, 1.0)),
                Some((1.0, 1.0)),
                None,
                Some((5.0, 1.0)),
                None
            ]
        );
    }
}
