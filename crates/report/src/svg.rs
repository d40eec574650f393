//! Shapes for drawings and charts. Coordinates are in drawing units, y downward, written to two
//! decimals so that the same drawing is the same text everywhere. Looks are in the style sheet.

use crate::node::Node;

/// A point of a drawing.
pub type Point = (f64, f64);

/// A coordinate as written: two decimals at most, no negative zero.
pub fn num(x: f64) -> String {
    if !x.is_finite() {
        return "0".to_owned();
    }
    let text = format!("{x:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0" } else { text }.to_owned()
}

/// A picture of `width` by `height` that a screen reader announces by `title` and `desc`.
pub fn picture(id: &str, size: (f64, f64), title: &str, desc: &str) -> Node {
    let (title_id, desc_id) = (format!("{id}-title"), format!("{id}-desc"));
    Node::new("svg")
        .attr("xmlns", "http://www.w3.org/2000/svg")
        .attr("viewBox", format!("0 0 {} {}", num(size.0), num(size.1)))
        .attr("role", "img")
        .attr("aria-labelledby", format!("{title_id} {desc_id}"))
        .with(Node::new("title").attr("id", title_id).text(title))
        .with(Node::new("desc").attr("id", desc_id).text(desc))
}

/// A group.
pub fn group(class: &str) -> Node {
    Node::new("g").class(class)
}

/// A straight line.
pub fn line(class: &str, from: Point, to: Point) -> Node {
    Node::new("line")
        .class(class)
        .attr("x1", num(from.0))
        .attr("y1", num(from.1))
        .attr("x2", num(to.0))
        .attr("y2", num(to.1))
}

/// A rectangle by its upper left corner.
pub fn rect(class: &str, at: Point, size: (f64, f64)) -> Node {
    Node::new("rect")
        .class(class)
        .attr("x", num(at.0))
        .attr("y", num(at.1))
        .attr("width", num(size.0.max(0.0)))
        .attr("height", num(size.1.max(0.0)))
}

/// A circle.
pub fn circle(class: &str, at: Point, radius: f64) -> Node {
    Node::new("circle")
        .class(class)
        .attr("cx", num(at.0))
        .attr("cy", num(at.1))
        .attr("r", num(radius))
}

/// A path from its commands.
pub fn path(class: &str, commands: impl Into<String>) -> Node {
    Node::new("path").class(class).attr("d", commands)
}

/// Which end of a text sits at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// Its left end.
    Start,
    /// Its middle.
    Middle,
    /// Its right end.
    End,
}

/// A line of text on its base line.
pub fn text(class: &str, at: Point, anchor: Anchor, words: impl Into<String>) -> Node {
    let node = Node::new("text")
        .class(class)
        .attr("x", num(at.0))
        .attr("y", num(at.1));
    let node = match anchor {
        Anchor::Start => node,
        Anchor::Middle => node.attr("text-anchor", "middle"),
        Anchor::End => node.attr("text-anchor", "end"),
    };
    node.text(words)
}

/// Path commands along `points`.
pub fn along(points: &[Point]) -> String {
    let mut out = String::new();
    for (i, (x, y)) in points.iter().enumerate() {
        out.push_str(if i == 0 { "M" } else { "L" });
        out.push_str(&num(*x));
        out.push(' ');
        out.push_str(&num(*y));
    }
    out
}

/// Path commands around `points`.
pub fn around(points: &[Point]) -> String {
    let mut out = along(points);
    if !out.is_empty() {
        out.push('Z');
    }
    out
}

/// Rough width of a text in a sans serif face, for keeping labels apart.
pub fn text_width(words: &str, size: f64) -> f64 {
    words.chars().count() as f64 * size * 0.55
}

/// Drops points that a line through their neighbours passes within `tolerance`
/// (Douglas and Peucker 1973).
pub fn simplified(points: &[Point], tolerance: f64) -> Vec<Point> {
    if points.len() < 3 {
        return points.to_vec();
    }
    let (first, last) = (points[0], points[points.len() - 1]);
    let off = |p: &Point| distance_to_segment(*p, first, last);
    let (index, most) = points[1..points.len() - 1]
        .iter()
        .map(off)
        .enumerate()
        .fold((0, -1.0), |a, b| if b.1 > a.1 { b } else { a });
    if most <= tolerance {
        return vec![first, last];
    }
    let split = index + 1;
    let mut out = simplified(&points[..=split], tolerance);
    out.pop();
    out.extend(simplified(&points[split..], tolerance));
    out
}

fn distance_to_segment(p: Point, a: Point, b: Point) -> f64 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let length2 = dx * dx + dy * dy;
    let t = if length2 > 0.0 {
        (((p.0 - a.0) * dx + (p.1 - a.1) * dy) / length2).clamp(0.0, 1.0)
    } else {
        0.0
    };
    (p.0 - a.0 - t * dx).hypot(p.1 - a.1 - t * dy)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn coordinates_are_short_and_never_broken() {
        assert_eq!(num(12.0), "12");
        assert_eq!(num(-0.001), "0");
        assert_eq!(num(1.256), "1.26");
        assert_eq!(num(f64::NAN), "0");
    }

    #[test]
    fn points_on_a_line_are_dropped_and_corners_kept() {
        let line = [(0.0, 0.0), (1.0, 0.0), (2.0, 0.01), (3.0, 0.0), (3.0, 5.0)];
        let kept = simplified(&line, 0.05);
        assert_eq!(kept, [(0.0, 0.0), (3.0, 0.0), (3.0, 5.0)]);
    }
}
