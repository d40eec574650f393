//! Lengths that were tried beside each other, a strip for each thing that differs; one is chosen.

use advice::Number;

use crate::chart::WIDTH;
use crate::node::Node;
use crate::subject::{Length, Sizes};
use crate::svg::{self, Anchor};

/// Left of the strips, over them, a strip, between two, under them.
const LEFT: f64 = 128.0;
const TOP: f64 = 22.0;
const HIGH: f64 = 40.0;
const GAP: f64 = 18.0;
const FOOT: f64 = 44.0;
const RIGHT: f64 = 10.0;
/// Widest bar.
const BAR: f64 = 46.0;

type Strip = (&'static str, fn(&Length) -> Option<Number>);

const STRIPS: [Strip; 5] = [
    ("top speed", |s| s.top_speed),
    ("planes from", |s| s.planes_from),
    ("freeboard", |s| s.freeboard),
    ("all-up", |s| Some(s.mass)),
    ("print", |s| Some(s.print_mass)),
];

/// Bars over the lengths. Those that miss something are hollow, and marked below.
pub fn lengths(sizes: &Sizes) -> Node {
    let all = &sizes.lengths;
    let wide = (WIDTH - LEFT - RIGHT) / all.len().max(1) as f64;
    let bar = BAR.min(0.7 * wide);
    let middle = |i: usize| LEFT + (i as f64 + 0.5) * wide;
    let tall = TOP + STRIPS.len() as f64 * (HIGH + GAP) + FOOT;
    let chosen = all.iter().position(|s| s.chosen);
    let words = format!(
        "{} lengths, of which {} is chosen.",
        all.len(),
        chosen.map_or("none".to_owned(), |i| all[i].length.plain())
    );
    let mut picture = svg::picture("sizes", (WIDTH, tall), "Lengths beside each other", &words)
        .class("drawing sizes");
    if let Some(i) = chosen {
        let at = (middle(i) - 0.5 * wide, 2.0);
        picture.push(svg::rect("chosen", at, (wide, tall - 4.0)));
    }
    for (row, (title, of)) in STRIPS.iter().enumerate() {
        let foot = TOP + HIGH + row as f64 * (HIGH + GAP);
        let most = all
            .iter()
            .filter_map(of)
            .fold(1e-9, |m: f64, n| m.max(n.value));
        picture.push(svg::text(
            "axis",
            (LEFT - 8.0, foot - 4.0),
            Anchor::End,
            *title,
        ));
        for (i, length) in all.iter().enumerate() {
            let value = of(length);
            let high = value.map_or(0.0, |v| (HIGH * v.value / most).clamp(1.0, HIGH));
            let class = if length.misses.is_empty() {
                "bar"
            } else {
                "bar misses"
            };
            let at = (middle(i) - 0.5 * bar, foot - high);
            picture.push(svg::rect(class, at, (bar, high)));
            let near = chosen.is_none_or(|c| i.abs_diff(c) <= 1) || all.len() < 6;
            if near {
                let words = value.map_or("–".to_owned(), |v| told(&v));
                let at = (middle(i), foot - high - 3.0);
                picture.push(svg::text("figure", at, Anchor::Middle, words));
            }
        }
    }
    for (i, length) in all.iter().enumerate() {
        let words = told(&length.length);
        picture.push(svg::text(
            "figure",
            (middle(i), tall - 26.0),
            Anchor::Middle,
            words,
        ));
        let mark = match (length.chosen, length.misses.is_empty()) {
            (true, _) => "this",
            (false, false) => "✗",
            (false, true) => "",
        };
        picture.push(svg::text(
            "figure",
            (middle(i), tall - 10.0),
            Anchor::Middle,
            mark,
        ));
    }
    picture.push(svg::text(
        "axis",
        (LEFT - 8.0, tall - 26.0),
        Anchor::End,
        "length",
    ));
    picture
}

/// Without its spread: there is little room over a bar.
fn told(number: &Number) -> String {
    Number::exact(number.kind, number.value).plain()
}
