//! Drilling patterns at full size, each with a line of 50 mm.

use boat::{Blade, Drive};
use form::sections::{Along, sections};

use super::{BuildSheet, LETTERS};
use crate::drawing::label::Labels;
use crate::node::Node;
use crate::svg::{self, Anchor, Point, num};

/// Widest that prints on A4 and Letter, mm.
const WIDE: f64 = 176.0;
/// Room for the line and a title, mm.
const FOOT: f64 = 14.0;
/// Round a transom, and what parts of a wide one share at least, mm.
const MARGIN: f64 = 8.0;
const SHARED: f64 = 20.0;
/// Bracket screws where nothing else is known: rows apart and hole, mm (judgement; the bracket in hand decides).
const BRACKET: (f64, f64) = (20.0, 3.2);

pub(super) fn section(sheet: &BuildSheet) -> Node {
    let boat = &sheet.study.boat;
    let mut out = super::section("Drilling patterns, full size").with(Node::new("p").class("ahead").text(
        "Print at 100 %, no fitting to the page. Measure the 50 mm line on each before you drill. Screw holes are four of 3.2 mm, 20 mm apart: hold your bracket on and mark its own.",
    ));
    for part in transom(sheet) {
        out.push(part);
    }
    for drive in &boat.drives {
        out.push(shaft_exit(drive));
        if let Some(strut) = &drive.strut {
            let name = match drive.name.is_empty() {
                true => "Strut".to_owned(),
                false => format!("Strut, {}", drive.name),
            };
            out.push(bracket(&name, strut));
        }
    }
    for b in &boat.rudders {
        out.push(bracket(&b.name, b));
    }
    for b in &boat.fins {
        out.push(bracket(&b.name, b));
    }
    out
}

/// A pattern of that size with its line; `draw` gets the middle of the drawing.
fn pattern(
    id: &str,
    title: &str,
    (width, height): (f64, f64),
    words: &str,
    shapes: Vec<Node>,
) -> Node {
    let width = width.max(60.0);
    let whole = height + FOOT;
    let y = height + 6.0;
    let left = 0.5 * width - 25.0;
    let picture = svg::picture(id, (width, whole), title, words)
        .attr("width", format!("{}mm", num(width)))
        .attr("height", format!("{}mm", num(whole)))
        .with_all(shapes)
        .with(svg::line("gauge", (left, y), (left + 50.0, y)).attr("id", format!("{id}-50mm")))
        .with(svg::line("gauge", (left, y - 2.0), (left, y + 2.0)))
        .with(svg::line(
            "gauge",
            (left + 50.0, y - 2.0),
            (left + 50.0, y + 2.0),
        ))
        .with(svg::text(
            "number",
            (0.5 * width, y + 5.0),
            Anchor::Middle,
            "50 mm",
        ));
    Node::new("figure")
        .with(Node::new("h3").text(title))
        .with(picture)
        .with(Node::new("figcaption").text(words))
}

fn cross(at: Point, size: f64) -> Vec<Node> {
    vec![
        svg::line("fine", (at.0 - size, at.1), (at.0 + size, at.1)),
        svg::line("fine", (at.0, at.1 - size), (at.0, at.1 + size)),
    ]
}

/// What meets the transom's plane: across and up, mm, and its name.
fn meets_transom(sheet: &BuildSheet, x: f64) -> Vec<(Point, String)> {
    let boat = &sheet.study.boat;
    let place = |p: &boat::Place| (1e3 * p[1].value, 1e3 * p[2].value);
    let shafts = boat.drives.iter().map(|d| {
        let name = match d.name.is_empty() {
            true => "shaft line".to_owned(),
            false => format!("{} shaft line", d.name),
        };
        ((1e3 * d.propeller.at[1].value, 1e3 * line_at(d, x)), name)
    });
    let rudders = boat.rudders.iter().map(|b| (place(&b.at), b.name.clone()));
    let near = |o: &&boat::Opening| (o.at[0].value - x).abs() < 0.01;
    let openings = boat.openings.iter().filter(near);
    let openings = openings.map(|o| (place(&o.at), o.name.clone()));
    shafts.chain(rudders).chain(openings).collect()
}

/// Seen from behind, port on the left; one wider than the paper in parts that overlap.
fn transom(sheet: &BuildSheet) -> Vec<Node> {
    let mesh = &sheet.study.form.envelope;
    let (low, _) = mesh.bounds().unwrap_or_default();
    let cut = &sections(mesh, Along::X, &[low.x + 0.002])[0];
    let outlines: Vec<Vec<Point>> = cut
        .iter()
        .filter(|l| l.closed)
        .map(|l| l.points.iter().map(|p| (1e3 * p.y, 1e3 * p.z)).collect())
        .collect();
    if outlines.is_empty() {
        let at = 1e3 * low.x;
        return vec![Node::new("p").text(format!(
            "No transom was found within 2 mm of x = {at:.0} mm."
        ))];
    }
    let marks = meets_transom(sheet, low.x);
    let all = || outlines.iter().flatten().chain(marks.iter().map(|m| &m.0));
    let aside = all().fold(0.0f64, |most, p| most.max(p.0.abs())) + MARGIN;
    let (foot, top) = all().fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), p| {
        (a.min(p.1), b.max(p.1))
    });
    let drawn = Transom {
        outlines,
        marks,
        foot,
        top,
        width: (2.0 * aside).clamp(60.0, WIDE),
    };
    let parts = ((2.0 * aside - SHARED) / (WIDE - SHARED)).ceil().max(1.0) as usize;
    if parts == 1 {
        return vec![drawn.part("pattern-transom", "Transom, seen from behind", 0.0)];
    }
    let first = aside - 0.5 * WIDE;
    let middle = |i: usize| first - 2.0 * first * i as f64 / (parts - 1) as f64;
    let part = |i: usize| {
        let title = format!(
            "Transom, seen from behind, part {} of {parts} from port",
            i + 1
        );
        drawn.part(&format!("pattern-transom-{}", i + 1), &title, middle(i))
    };
    (0..parts).map(part).collect()
}

/// A transom and what meets it, mm.
struct Transom {
    outlines: Vec<Vec<Point>>,
    marks: Vec<(Point, String)>,
    foot: f64,
    top: f64,
    width: f64,
}

impl Transom {
    /// As much as the paper shows round `middle`.
    fn part(&self, id: &str, title: &str, middle: f64) -> Node {
        let (width, height) = (self.width, self.top - self.foot + 2.0 * MARGIN);
        let at = |(y, z): Point| (0.5 * width - y + middle, self.top - z + MARGIN);
        let mut shapes: Vec<Node> = self
            .outlines
            .iter()
            .map(|l| {
                svg::path(
                    "cut",
                    svg::around(&l.iter().copied().map(at).collect::<Vec<_>>()),
                )
            })
            .collect();
        let mut labels = Labels::lettered([0.0, 0.0, width, height], LETTERS);
        for (x, y) in self.outlines.iter().flat_map(|l| dotted(l)).map(at) {
            labels.keep([x - 0.3, y - 0.3, x + 0.3, y + 0.3]);
        }
        // Where the middle is off this part, another upright tells where it lies.
        let datum = if middle.abs() < 0.5 * width - 5.0 {
            0.0
        } else {
            (0.1 * middle).round() * 10.0
        };
        let ends = (at((datum, self.top + 3.0)), at((datum, self.foot - 3.0)));
        shapes.push(svg::line("dash", ends.0, ends.1));
        let shown = |m: &&(Point, String)| (m.0.0 - middle).abs() < 0.5 * width - 3.0;
        for (x, y) in self.marks.iter().filter(shown).map(|m| at(m.0)) {
            labels.keep([x - 3.0, y - 0.5, x + 3.0, y + 0.5]);
            labels.keep([x - 0.5, y - 3.0, x + 0.5, y + 3.0]);
            shapes.extend(cross((x, y), 3.0));
        }
        for (place, name) in self.marks.iter().filter(shown) {
            shapes.push(labels.near("number", at(*place), name));
        }
        let dashed = match datum {
            0.0 => "the middle".to_owned(),
            d if d > 0.0 => format!("{d:.0} mm to port of the middle"),
            d => format!("{:.0} mm to starboard of the middle", -d),
        };
        let words = format!(
            "Port on the left; dashed is {dashed}. Crosses are where shaft lines and brackets meet the transom's plane."
        );
        pattern(id, title, (width, height), &words, shapes)
    }
}

/// Along a closed line, every millimetre.
fn dotted(line: &[Point]) -> impl Iterator<Item = Point> {
    (0..line.len()).flat_map(move |i| {
        let (a, b) = (line[i], line[(i + 1) % line.len()]);
        let long = (b.0 - a.0).hypot(b.1 - a.1);
        let n = long.ceil().max(1.0) as usize;
        (0..n).map(move |k| {
            let share = k as f64 / n as f64;
            (a.0 + share * (b.0 - a.0), a.1 + share * (b.1 - a.1))
        })
    })
}

/// Height of the shaft's line at x, m.
fn line_at(d: &Drive, x: f64) -> f64 {
    d.propeller.at[2].value + (x - d.propeller.at[0].value) * d.shaft.angle_rad.value.tan()
}

/// The slot a sloping tube cuts in a level bottom.
fn shaft_exit(d: &Drive) -> Node {
    let tube = 1e3 * d.shaft.diameter_m.unwrap_or(0.004) + 2.0;
    let angle = d.shaft.angle_rad.value.abs().max(0.01);
    let long = tube / angle.sin();
    let name = if d.name.is_empty() {
        "Shaft exit".to_owned()
    } else {
        format!("Shaft exit, {}", d.name)
    };
    let id = format!("pattern-shaft-{}", d.name);
    // A nearly level shaft leaves through the transom or a stuffing box, not through a slot.
    if long > WIDE - 10.0 {
        let r = 0.5 * tube;
        let mut shapes = cross((30.0, 10.0 + r), r + 3.0);
        shapes.push(svg::circle("cut", (30.0, 10.0 + r), r));
        return pattern(
            &id,
            &name,
            (60.0, 2.0 * r + 20.0),
            &format!(
                "Tube of {tube:.1} mm (shaft and 2 mm), nearly level at {:.1}°: it passes an upright wall as a round hole.",
                angle.to_degrees()
            ),
            shapes,
        );
    }
    let (cx, cy) = (0.5 * long + 4.0, 0.5 * tube + 4.0);
    let ring: Vec<Point> = (0..48)
        .map(|k| {
            let a = f64::from(k) * std::f64::consts::TAU / 48.0;
            (cx + 0.5 * long * a.cos(), cy + 0.5 * tube * a.sin())
        })
        .collect();
    let mut shapes = cross((cx, cy), 0.5 * tube + 3.0);
    shapes.push(svg::path("cut", svg::around(&ring)));
    pattern(
        &id,
        &name,
        (long + 8.0, tube + 8.0),
        &format!(
            "Slot for a tube of {tube:.1} mm (shaft and 2 mm) at {:.1}° through a level bottom; forward to the right.",
            angle.to_degrees()
        ),
        shapes,
    )
}

/// A blade's root and four screws.
fn bracket(name: &str, b: &Blade) -> Node {
    let chord = 1e3 * b.chord_m.value;
    let thick = (1e3 * b.thickness_m.value).max(0.5);
    let size = (chord.max(BRACKET.0) + 20.0, BRACKET.0 + 20.0);
    let (cx, cy) = (0.5 * size.0.max(60.0), 0.5 * size.1);
    let mut shapes = vec![
        svg::rect("cut", (cx - 0.5 * chord, cy - 0.5 * thick), (chord, thick)),
        svg::line("dash", (cx - 0.5 * size.0, cy), (cx + 0.5 * size.0, cy)),
    ];
    for (x, y) in [(-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (1.0, 1.0)] {
        let at = (cx + 0.5 * BRACKET.0 * x, cy + 0.5 * BRACKET.0 * y);
        shapes.push(svg::circle("cut", at, 0.5 * BRACKET.1));
        shapes.extend(cross(at, 2.5));
    }
    let lean = b.lean_rad.value.to_degrees();
    let ahead = 1e3 * b.at[0].value;
    let side = if ahead < 0.0 { "behind" } else { "ahead of" };
    pattern(
        &format!(
            "pattern-{}",
            name.to_lowercase().replace(", ", "-").replace(' ', "-")
        ),
        name,
        size,
        &format!(
            "Blade's root {chord:.0} by {thick:.1} mm, leading edge {:.0} mm {side} the transom, leaning {lean:.0}°; forward to the right.",
            ahead.abs()
        ),
        shapes,
    )
}
