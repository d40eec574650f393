//! Words in a drawing, kept from lying on each other.

use crate::node::Node;
use crate::svg::{self, Anchor, Point};

/// Size of small lettering, drawing units.
const SIZE: f64 = 11.0;
/// Of a ring round a number, drawing units.
const RING: f64 = 7.5;

/// Places taken so far in one drawing.
#[derive(Debug)]
pub struct Labels {
    taken: Vec<[f64; 4]>,
    within: [f64; 4],
    unit: f64,
}

impl Labels {
    /// An empty drawing that covers `within`: left, top, right, bottom.
    pub fn new(within: [f64; 4]) -> Self {
        Self::lettered(within, SIZE)
    }

    /// The same, of letters of another size.
    pub fn lettered(within: [f64; 4], size: f64) -> Self {
        Self {
            taken: Vec::new(),
            within,
            unit: size / SIZE,
        }
    }

    /// Keeps a rectangle free of words: left, top, right, bottom.
    pub fn keep(&mut self, area: [f64; 4]) {
        self.taken.push(area);
    }

    /// Writes `words` near `at`, on the first of a ring of places that is free, with a leader
    /// when that is not close by.
    pub fn near(&mut self, class: &str, at: Point, words: &str) -> Node {
        let u = self.unit;
        // Names of forces are bold, a tenth wider.
        let width = 1.1 * svg::text_width(words, SIZE * u);
        let best = ring()
            .map(|(dx, dy)| (at.0 + dx * u, at.1 + dy * u))
            .map(|p| (p, area(p, width, u)))
            .find(|(_, area)| self.free(area));
        let (place, box_) = best.unwrap_or_else(|| {
            let left = self.within[2] - width - 3.0 * u;
            let x = (at.0 + 8.0 * u).min(left).max(self.within[0] + 3.0 * u);
            let p = (x, at.1 - 6.0 * u);
            (p, area(p, width, u))
        });
        self.taken.push(box_);
        let mut group = svg::group("label");
        if (place.0 - at.0).hypot(place.1 - at.1) > 18.0 * u {
            let edge = (at.0.clamp(box_[0], box_[2]), at.1.clamp(box_[1], box_[3]));
            group.push(svg::line("leader", at, edge));
        }
        group.with(svg::text(class, place, Anchor::Start, words))
    }

    /// A number in a ring near `at`, joined to it when it had to move away.
    pub fn tag(&mut self, at: Point, words: &str) -> Node {
        let spot = self.spot(at);
        svg::group("tag")
            .with(svg::line("leader", at, spot))
            .with(svg::circle("ring", spot, RING * self.unit))
            .with(svg::text(
                "tag-number",
                (spot.0, spot.1 + 3.5 * self.unit),
                Anchor::Middle,
                words,
            ))
    }

    /// Middle of a free place near `at` for a ring round a number.
    pub fn spot(&mut self, at: Point) -> Point {
        let u = self.unit;
        let around = |p: Point| {
            [
                p.0 - RING * u,
                p.1 - RING * u,
                p.0 + RING * u,
                p.1 + RING * u,
            ]
        };
        let spot = ring()
            .map(|(dx, dy)| (at.0 + dx * u, at.1 + (dy - 3.0) * u))
            .find(|p| self.free(&around(*p)))
            .unwrap_or((at.0 + 10.0 * u, at.1 - 10.0 * u));
        self.taken.push(around(spot));
        spot
    }

    fn free(&self, area: &[f64; 4]) -> bool {
        let [left, top, right, bottom] = self.within;
        let inside = area[0] > left && area[1] > top && area[2] < right && area[3] < bottom;
        let clear =
            |t: &[f64; 4]| area[2] < t[0] || area[0] > t[2] || area[3] < t[1] || area[1] > t[3];
        inside && self.taken.iter().all(clear)
    }
}

fn area(base: Point, width: f64, unit: f64) -> [f64; 4] {
    [
        base.0 - 2.0 * unit,
        base.1 - SIZE * unit,
        base.0 + width + 2.0 * unit,
        base.1 + 3.0 * unit,
    ]
}

/// Offsets to try, near ones first.
fn ring() -> impl Iterator<Item = (f64, f64)> {
    const WAYS: [(f64, f64); 8] = [
        (1.0, -0.5),
        (1.0, 0.7),
        (-1.0, -0.5),
        (-1.0, 0.7),
        (0.2, -1.0),
        (0.2, 1.2),
        (-2.4, -0.2),
        (2.0, 0.1),
    ];
    (1..=14).flat_map(|n| {
        let far = 4.0 + 8.0 * f64::from(n);
        WAYS.iter().map(move |(x, y)| (x * far, y * far))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_of_one_place_do_not_overlap() {
        let mut labels = Labels::new([0.0, 0.0, 300.0, 300.0]);
        for i in 0..8 {
            labels.near("note", (100.0, 100.0), &format!("label {i}"));
        }
        apart(&labels);
    }

    #[test]
    fn small_numbers_of_one_place_neither_overlap_nor_leave_the_drawing() {
        let mut labels = Labels::lettered([0.0, 0.0, 60.0, 30.0], 3.0);
        labels.keep([9.5, 9.5, 10.5, 10.5]);
        for _ in 0..8 {
            labels.spot((10.0, 10.0));
        }
        apart(&labels);
        let inside = |a: &[f64; 4]| a[0] > 0.0 && a[1] > 0.0 && a[2] < 60.0 && a[3] < 30.0;
        assert!(labels.taken.iter().all(inside), "{:?}", labels.taken);
    }

    fn apart(labels: &Labels) {
        for (i, a) in labels.taken.iter().enumerate() {
            for b in &labels.taken[i + 1..] {
                let apart = a[2] < b[0] || a[0] > b[2] || a[3] < b[1] || a[1] > b[3];
                assert!(apart, "{a:?} {b:?}");
            }
        }
    }
}
