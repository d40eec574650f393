//! Where everything goes: plan, side and end view with a table of dimensions from the transom.

use form::sections::{Along, sections};

use super::BuildSheet;
use super::tables::mm;
use crate::node::Node;
use crate::svg::{self, Anchor, Point, num};

/// Printed width, mm.
const WIDTH: f64 = 180.0;

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

/// Outlines from sections, numbers where things sit, a triangle where it balances.
fn views(sheet: &BuildSheet, rows: &[(String, [f64; 3])]) -> Node {
    let mesh = &sheet.study.form.envelope;
    let Some((low, high)) = mesh.bounds() else {
        return Node::new("figure");
    };
    let least = rows.iter().map(|r| r.1[0]).fold(low.x, f64::min);
    let scale = (WIDTH - 10.0) / (high.x - least);
    let n = 60;
    let at: Vec<f64> = (0..=n)
        .map(|i| low.x + 1e-4 + (high.x - low.x - 2e-4) * f64::from(i) / f64::from(n))
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
    let px = |x: f64| 5.0 + scale * (x - least);
    let beam = scale * (high.y - low.y);
    let depth = scale * (high.z - low.z);
    let plan_mid = 5.0 + scale * high.y;
    let side_foot = 5.0 + beam + 10.0 + depth;
    let end_foot = side_foot + 14.0 + depth;
    let height = end_foot + 8.0;
    let outline = |points: &[(f64, f64, f64)], y: &dyn Fn(f64) -> f64| {
        let mut ring: Vec<Point> = points.iter().map(|(x, a, _)| (px(*x), y(*a))).collect();
        ring.extend(points.iter().rev().map(|(x, _, b)| (px(*x), y(*b))));
        svg::path("cut", svg::around(&ring))
    };
    let plan_y = |y: f64| plan_mid - scale * y;
    let side_y = |z: f64| side_foot - scale * (z - low.z);
    let mut out = svg::picture(
        "places",
        (WIDTH, height),
        "Plan, side and end view",
        "Numbers stand in the table below.",
    )
    .attr("width", format!("{}mm", num(WIDTH)))
    .attr("height", format!("{}mm", num(height)))
    .with(outline(&reach(1), &plan_y))
    .with(outline(&reach(2), &side_y));
    let end_x = |y: f64| 0.5 * WIDTH - scale * y;
    let end_y = |z: f64| end_foot - scale * (z - low.z);
    for cut in [&cuts[0], &cuts[cuts.len() / 2]] {
        for l in cut.iter().filter(|l| l.closed) {
            let ring: Vec<Point> = l.points.iter().map(|p| (end_x(p.y), end_y(p.z))).collect();
            out.push(svg::path("cut", svg::around(&ring)));
        }
    }
    for (i, (_, p)) in rows.iter().enumerate() {
        for (x, y) in [
            (px(p[0]), plan_y(p[1])),
            (px(p[0]), side_y(p[2])),
            (end_x(p[1]), end_y(p[2])),
        ] {
            out.push(svg::circle("tag", (x, y), 1.9));
            out.push(svg::text(
                "number",
                (x, y + 1.0),
                Anchor::Middle,
                format!("{}", i + 1),
            ));
        }
    }
    let balance = px(sheet.study.mass.cg_m.x);
    for y in [plan_mid, side_foot] {
        out.push(svg::path(
            "mark",
            svg::around(&[
                (balance, y),
                (balance - 1.5, y + 3.0),
                (balance + 1.5, y + 3.0),
            ]),
        ));
    }
    Node::new("figure").with(out).with(Node::new("figcaption").text(format!(
        "Plan (port up), side, and end view from ahead; drawn at {:.0} % of full size. The black triangle is the balance point: mark it on the hull, {} ahead of the transom.",
        100.0 * scale / 1e3,
        mm(sheet.study.mass.cg_m.x)
    )))
}
