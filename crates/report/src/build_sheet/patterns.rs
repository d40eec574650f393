//! Drilling patterns at full size, each with a line of 50 mm.

use boat::{Blade, Drive};
use form::sections::{Along, sections};

use super::BuildSheet;
use crate::node::Node;
use crate::svg::{self, Anchor, Point, num};

/// Widest that prints on A4 and Letter, mm.
const WIDE: f64 = 176.0;
/// Room for the line and a title, mm.
const FOOT: f64 = 14.0;
/// Bracket screws where nothing else is known: rows apart and hole, mm (judgement; the bracket in hand decides).
const BRACKET: (f64, f64) = (20.0, 3.2);

pub(super) fn section(sheet: &BuildSheet) -> Node {
    let boat = &sheet.study.boat;
    let mut out = super::section("Drilling patterns, full size").with(Node::new("p").text(
        "Print at 100 %, no fitting to the page. Measure the 50 mm line on each before you drill. Screw holes are four of 3.2 mm, 20 mm apart: hold your bracket on and mark its own.",
    ));
    out.push(transom(sheet));
    for drive in &boat.drives {
        out.push(shaft_exit(drive));
        if let Some(strut) = &drive.strut {
            out.push(bracket("Strut", strut));
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

/// Seen from behind: port on the left.
fn transom(sheet: &BuildSheet) -> Node {
    let study = sheet.study;
    let mesh = &study.form.envelope;
    let (low, high) = mesh.bounds().unwrap_or_default();
    let cut = &sections(mesh, Along::X, &[low.x + 0.002])[0];
    let points: Vec<_> = cut.iter().flat_map(|l| &l.points).collect();
    let fold = |k: usize| {
        points
            .iter()
            .map(|p| 1e3 * p[k])
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| {
                (a.min(v), b.max(v))
            })
    };
    if points.is_empty() {
        return Node::new("p").text(format!(
            "No transom was found within 2 mm of x = {:.0} mm.",
            1e3 * low.x
        ));
    }
    let ((left, right), (foot, top)) = (fold(1), fold(2));
    // A wide transom shows its middle; what is drilled is there.
    let half = left.abs().max(right).min(0.5 * WIDE - 4.0);
    let (width, height) = (2.0 * half + 8.0, top - foot + 30.0);
    let at = |y: f64, z: f64| -> Point { (0.5 * width - y, top - z + 4.0) };
    let mut shapes = Vec::new();
    for l in cut.iter().filter(|l| l.closed) {
        let ring: Vec<Point> = l.points.iter().map(|p| at(1e3 * p.y, 1e3 * p.z)).collect();
        shapes.push(svg::path("cut", svg::around(&ring)));
    }
    shapes.push(svg::line("dash", at(0.0, top + 3.0), at(0.0, foot - 3.0)));
    let mut mark = |y: f64, z: f64, what: &str| {
        if y.abs() > half {
            return;
        }
        shapes.extend(cross(at(y, z), 3.0));
        let p = at(y, z);
        shapes.push(svg::text(
            "number",
            (p.0 + 1.0, p.1 - 1.0),
            Anchor::Start,
            what,
        ));
    };
    for d in &study.boat.drives {
        mark(
            1e3 * d.propeller.at[1].value,
            1e3 * line_at(d, low.x),
            "shaft line",
        );
    }
    for b in &study.boat.rudders {
        mark(1e3 * b.at[1].value, 1e3 * b.at[2].value, &b.name);
    }
    for o in study
        .boat
        .openings
        .iter()
        .filter(|o| (o.at[0].value - low.x).abs() < 0.01)
    {
        mark(1e3 * o.at[1].value, 1e3 * o.at[2].value, &o.name);
    }
    let cropped = if 1e3 * high.y > half + 1.0 && right > half {
        " It is wider than the paper: only its middle is shown."
    } else {
        ""
    };
    pattern(
        "pattern-transom",
        "Transom, seen from behind",
        (width, height),
        &format!(
            "Port on the left; dashed is the middle. Crosses are where shaft lines and brackets meet the transom's plane.{cropped}"
        ),
        shapes,
    )
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
    pattern(
        &format!("pattern-{}", name.to_lowercase().replace(' ', "-")),
        name,
        size,
        &format!(
            "Blade's root {chord:.0} by {thick:.1} mm, leading edge {:.0} mm ahead of the transom, leaning {lean:.0}°; forward to the right.",
            1e3 * b.at[0].value
        ),
        shapes,
    )
}
