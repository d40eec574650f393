//! Where everything goes: plan, side and end view with a table of dimensions from the transom.

use form::Mesh;
use form::sections::{Along, sections};
use nalgebra::Vector3;

use super::tables::mm;
use super::{BuildSheet, LETTERS};
use crate::drawing::label::Labels;
use crate::node::Node;
use crate::svg::{self, Anchor, Point, num};

/// Printed width, and the most height that leaves room for a caption, mm.
const WIDTH: f64 = 180.0;
const HEIGHT: f64 = 215.0;
/// Round the views and between them, for numbers, mm.
const ROOM: f64 = 8.0;
const APART: f64 = 12.0;
/// Half a dot, mm.
const DOT: f64 = 0.5;

pub(super) fn section_rows(sheet: &BuildSheet) -> Vec<(String, [f64; 3])> {
    let boat = &sheet.study.boat;
    let at = |p: &boat::Place| [p[0].value, p[1].value, p[2].value];
    let mut all: Vec<(String, [f64; 3])> = boat
        .parts
        .iter()
        .map(|p| (p.name.clone(), at(&p.at)))
        .collect();
    for d in &boat.drives {
        let of = if d.name.is_empty() {
            String::new()
        } else {
            format!(", {}", d.name)
        };
        all.push((format!("Propeller's middle{of}"), at(&d.propeller.at)));
    }
    for b in boat.rudders.iter().chain(&boat.fins) {
        all.push((format!("Leading edge at the root, {}", b.name), at(&b.at)));
    }
    for o in &boat.openings {
        all.push((format!("Opening, {}", o.name), at(&o.at)));
    }
    all
}

pub(super) fn section(sheet: &BuildSheet) -> Node {
    let rows = section_rows(sheet);
    let side = |y: f64| match y {
        y if y > 5e-4 => format!("{} to port", mm(y)),
        y if y < -5e-4 => format!("{} to starboard", mm(-y)),
        _ => "middle".to_owned(),
    };
    let cells = |i: usize, (name, p): &(String, [f64; 3])| {
        let texts = [
            format!("{}", i + 1),
            name.clone(),
            mm(p[0]),
            side(p[1]),
            mm(p[2]),
        ];
        Node::new("tr").with_all(texts.into_iter().enumerate().map(|(k, t)| {
            Node::new("td")
                .class(if k == 0 || k == 2 || k == 4 { "n" } else { "" })
                .text(t)
        }))
    };
    let head = [
        "",
        "what",
        "ahead of transom",
        "across",
        "above transom's bottom edge",
    ];
    let table = Node::new("table")
        .with(
            Node::new("thead")
                .with(Node::new("tr").with_all(head.iter().map(|h| Node::new("th").text(*h)))),
        )
        .with(Node::new("tbody").with_all(rows.iter().enumerate().map(|(i, r)| cells(i, r))));
    super::section("Where everything goes")
        .with(views(sheet, &rows))
        .with(table)
}

/// The three views on paper: where hull and parts reach, to one scale.
struct Views {
    low: [f64; 3],
    high: [f64; 3],
    scale: f64,
}

impl Views {
    fn of(hull: (Vector3<f64>, Vector3<f64>), rows: &[(String, [f64; 3])]) -> Self {
        let mut low: [f64; 3] = hull.0.into();
        let mut high: [f64; 3] = hull.1.into();
        for (_, p) in rows {
            for k in 0..3 {
                low[k] = low[k].min(p[k]);
                high[k] = high[k].max(p[k]);
            }
        }
        let size: [f64; 3] = std::array::from_fn(|k| high[k] - low[k]);
        let across = (WIDTH - 2.0 * ROOM) / size[0].max(size[1]);
        let down = (HEIGHT - 2.0 * ROOM - 2.0 * APART) / (size[1] + 2.0 * size[2]);
        Self {
            low,
            high,
            scale: across.min(down),
        }
    }

    fn size(&self, k: usize) -> f64 {
        self.scale * (self.high[k] - self.low[k])
    }

    fn height(&self) -> f64 {
        2.0 * ROOM + 2.0 * APART + self.size(1) + 2.0 * self.size(2)
    }

    fn x(&self, x: f64) -> f64 {
        0.5 * (WIDTH - self.size(0)) + self.scale * (x - self.low[0])
    }

    /// Port up.
    fn plan(&self, p: [f64; 3]) -> Point {
        (self.x(p[0]), ROOM + self.scale * (self.high[1] - p[1]))
    }

    fn side(&self, p: [f64; 3]) -> Point {
        let top = ROOM + self.size(1) + APART;
        (self.x(p[0]), top + self.scale * (self.high[2] - p[2]))
    }

    /// From ahead: port on the right.
    fn end(&self, p: [f64; 3]) -> Point {
        let top = ROOM + self.size(1) + 2.0 * APART + self.size(2);
        let middle = 0.5 * (self.low[1] + self.high[1]);
        let x = 0.5 * WIDTH + self.scale * (p[1] - middle);
        (x, top + self.scale * (self.high[2] - p[2]))
    }

    fn all(&self, p: [f64; 3]) -> [Point; 3] {
        [self.plan(p), self.side(p), self.end(p)]
    }
}

/// Outlines from sections, a dot where things sit and its number beside it, a triangle where it balances.
fn views(sheet: &BuildSheet, rows: &[(String, [f64; 3])]) -> Node {
    let mesh = &sheet.study.form.envelope;
    let Some((low, high)) = mesh.bounds() else {
        return Node::new("figure");
    };
    let views = Views::of((low, high), rows);
    let height = views.height();
    let mut out = svg::picture(
        "places",
        (WIDTH, height),
        "Plan, side and end view",
        "Numbers stand in the table below.",
    )
    .attr("width", format!("{}mm", num(WIDTH)))
    .attr("height", format!("{}mm", num(height)))
    .with_all(outlines(mesh, (low.x, high.x), &views));
    let mut labels = Labels::lettered([0.0, 0.0, WIDTH, height], LETTERS);
    let cg = sheet.study.mass.cg_m;
    for at in [views.plan([cg.x, 0.0, 0.0]), views.side([cg.x, 0.0, low.z])] {
        let corners = [at, (at.0 - 1.5, at.1 + 3.0), (at.0 + 1.5, at.1 + 3.0)];
        labels.keep([at.0 - 1.5, at.1, at.0 + 1.5, at.1 + 3.0]);
        out.push(svg::path("mark", svg::around(&corners)));
    }
    for n in tags(rows, &views, &mut labels) {
        out.push(n);
    }
    Node::new("figure").with(out).with(Node::new("figcaption").text(format!(
        "Plan (port up), side, and end view from ahead; drawn at {:.0} % of full size. The black triangle is the balance point: mark it on the hull, {} ahead of the transom.",
        views.scale / 10.0,
        mm(cg.x)
    )))
}

/// Outlines of plan and side; transom and widest frame from ahead.
fn outlines(mesh: &Mesh, (stern, bow): (f64, f64), views: &Views) -> Vec<Node> {
    let n = 60;
    let at: Vec<f64> = (0..=n)
        .map(|i| stern + 1e-4 + (bow - stern - 2e-4) * f64::from(i) / f64::from(n))
        .collect();
    let cuts = sections(mesh, Along::X, &at);
    let reach = |k: usize| -> Vec<(f64, f64, f64)> {
        at.iter()
            .zip(&cuts)
            .filter_map(|(x, c)| {
                let all = c.iter().flat_map(|l| &l.points).map(|p| p[k]);
                let (a, b) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| {
                    (a.min(v), b.max(v))
                });
                (a <= b).then_some((*x, a, b))
            })
            .collect()
    };
    let outline = |points: &[(f64, f64, f64)], on: &dyn Fn(f64, f64) -> Point| {
        let mut ring: Vec<Point> = points.iter().map(|(x, a, _)| on(*x, *a)).collect();
        ring.extend(points.iter().rev().map(|(x, _, b)| on(*x, *b)));
        svg::path("cut", svg::around(&ring))
    };
    let mut out = vec![
        outline(&reach(1), &|x, y| views.plan([x, y, 0.0])),
        outline(&reach(2), &|x, z| views.side([x, 0.0, z])),
    ];
    let wide = |i: usize| {
        let ys = || cuts[i].iter().flat_map(|l| &l.points).map(|p| p.y);
        ys().fold(0.0, f64::max) - ys().fold(0.0, f64::min)
    };
    let widest = (0..cuts.len()).max_by(|a, b| wide(*a).total_cmp(&wide(*b)));
    for cut in [0, widest.unwrap_or_default()].map(|i| &cuts[i]) {
        for l in cut.iter().filter(|l| l.closed) {
            let ring: Vec<Point> = l.points.iter().map(|p| views.end((*p).into())).collect();
            out.push(svg::path("cut", svg::around(&ring)));
        }
    }
    out
}

/// Leaders below, dots and numbers on them: no number lies on a dot or on another number.
fn tags(rows: &[(String, [f64; 3])], views: &Views, labels: &mut Labels) -> Vec<Node> {
    let dots: Vec<[Point; 3]> = rows.iter().map(|(_, p)| views.all(*p)).collect();
    for (x, y) in dots.iter().flatten() {
        labels.keep([x - DOT, y - DOT, x + DOT, y + DOT]);
    }
    let (mut below, mut above) = (Vec::new(), Vec::new());
    for (i, each) in dots.iter().enumerate() {
        for at in each {
            let spot = labels.spot(*at);
            below.push(svg::line("leader", *at, spot));
            below.push(svg::circle("mark", *at, DOT));
            above.push(svg::circle("tag", spot, 1.9));
            let number = format!("{}", i + 1);
            above.push(svg::text(
                "number",
                (spot.0, spot.1 + 1.0),
                Anchor::Middle,
                number,
            ));
        }
    }
    below.extend(above);
    below
}
