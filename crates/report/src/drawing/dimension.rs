//! Dimension lines.

use crate::node::Node;
use crate::svg::{self, Anchor, Point};

const HEAD: f64 = 6.0;

/// A level dimension below or above a view, from `x.0` to `x.1` at height `y`, with witness lines
/// from `from_y`.
pub fn level(x: (f64, f64), y: f64, from_y: f64, words: &str) -> Node {
    let mut group = svg::group("dimension");
    for end in [x.0, x.1] {
        let gap = if y > from_y { 3.0 } else { -3.0 };
        group.push(svg::line("witness", (end, from_y + gap), (end, y + gap)));
    }
    group.push(svg::line("measure", (x.0, y), (x.1, y)));
    group.push(head((x.0, y), (-1.0, 0.0)));
    group.push(head((x.1, y), (1.0, 0.0)));
    let middle = ((x.0 + x.1) / 2.0, y - 4.0);
    group.with(svg::text("size", middle, Anchor::Middle, words))
}

/// An upright dimension at `x`, from `y.0` to `y.1`, with its size beside it on the left.
pub fn upright(x: f64, y: (f64, f64), words: &str) -> Node {
    let middle = (x - 6.0, (y.0 + y.1) / 2.0 + 4.0);
    span(x, y).with(svg::text("size", middle, Anchor::End, words))
}

/// An upright dimension whose size stands above it at `word_y`, clear of a crowded drawing.
pub fn upright_below(x: f64, y: (f64, f64), word_y: f64, words: &str) -> Node {
    span(x, y)
        .with(svg::line("witness", (x, y.0.min(y.1)), (x, word_y + 3.0)))
        .with(svg::text("size", (x, word_y), Anchor::Middle, words))
}

/// Its line and arrows; short ones get their arrows outside.
fn span(x: f64, y: (f64, f64)) -> Node {
    let (top, bottom) = (y.0.min(y.1), y.0.max(y.1));
    let mut group = svg::group("dimension");
    if bottom - top > 2.5 * HEAD {
        group.push(svg::line("measure", (x, top), (x, bottom)));
        group.push(head((x, top), (0.0, -1.0)));
        group.push(head((x, bottom), (0.0, 1.0)));
    } else {
        group.push(svg::line("measure", (x, top - 14.0), (x, top)));
        group.push(svg::line("measure", (x, bottom), (x, bottom + 14.0)));
        group.push(head((x, top), (0.0, 1.0)));
        group.push(head((x, bottom), (0.0, -1.0)));
    }
    group
}

/// An arrow head with its tip at `tip`, pointing along the unit vector `way`.
pub fn head(tip: Point, way: Point) -> Node {
    let back = (tip.0 - HEAD * way.0, tip.1 - HEAD * way.1);
    let across = (-way.1 * HEAD * 0.32, way.0 * HEAD * 0.32);
    let points = [
        tip,
        (back.0 + across.0, back.1 + across.1),
        (back.0 - across.0, back.1 - across.1),
    ];
    svg::path("head", svg::around(&points))
}
