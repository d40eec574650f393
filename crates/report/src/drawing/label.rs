//! Words in a drawing, kept from lying on each other.

use crate::node::Node;
use crate::svg::{self, Anchor, Point};

/// Size of small lettering, drawing units.
const SIZE: f64 = 11.0;

/// Places taken so far in one drawing.
#[derive(Debug)]
pub struct Labels {
    taken: Vec<[f64; 4]>,
    within: [f64; 4],
}

impl Labels {
    /// An empty drawing that covers `within`: left, top, right, bottom.
    pub fn new(within: [f64; 4]) -> Self {
        Self {
            taken: Vec::new(),
            within,
        }
    }

    /// Keeps a rectangle free of words: left, top, right, bottom.
    pub fn keep(&mut self, area: [f64; 4]) {
        self.taken.push(area);
    }

    /// Writes `words` near `at`, on the first of a ring of places that is free, with a leader
    /// when that is not close by.
    pub fn near(&mut self, class: &str, at: Point, words: &str) -> Node {
        // Names of forces are bold, a tenth wider.
        let width = 1.1 * svg::text_width(words, SIZE);
        let best = ring()
            .map(|(dx, dy)| (at.0 + dx, at.1 + dy))
            .map(|p| (p, area(p, width)))
            .find(|(_, area)| self.free(area));
        let (place, box_) = best.unwrap_or_else(|| {
            let left = self.within[2] - width - 3.0;
            let p = ((at.0 + 8.0).min(left).max(self.within[0] + 3.0), at.1 - 6.0);
            (p, area(p, width))
        });
        self.taken.push(box_);
        let mut group = svg::group("label");
        if (place.0 - at.0).hypot(place.1 - at.1) > 18.0 {
            let edge = (at.0.clamp(box_[0], box_[2]), at.1.clamp(box_[1], box_[3]));
            group.push(svg::line("leader", at, edge));
        }
        group.with(svg::text(class, place, Anchor::Start, words))
    }

    /// A number in a ring near `at`, joined to it when it had to move away.
    pub fn tag(&mut self, at: Point, words: &str) -> Node {
        const R: f64 = 7.5;
        let spot = ring()
            .map(|(dx, dy)| (at.0 + dx, at.1 + dy - 3.0))
            .find(|p| self.free(&[p.0 - R, p.1 - R, p.0 + R, p.1 + R]))
            .unwrap_or((at.0 + 10.0, at.1 - 10.0));
        self.taken
            .push([spot.0 - R, spot.1 - R, spot.0 + R, spot.1 + R]);
        svg::group("tag")
            .with(svg::line("leader", at, spot))
            .with(svg::circle("ring", spot, R))
            .with(svg::text(
                "tag-number",
                (spot.0, spot.1 + 3.5),
                Anchor::Middle,
                words,
            ))
    }

    fn free(&self, area: &[f64; 4]) -> bool {
        let [left, top, right, bottom] = self.within;
        let inside = area[0] > left && area[1] > top && area[2] < right && area[3] < bottom;
        let clear =
            |t: &[f64; 4]| area[2] < t[0] || area[0] > t[2] || area[3] < t[1] || area[1] > t[3];
        inside && self.taken.iter().all(clear)
    }
}

fn area(base: Point, width: f64) -> [f64; 4] {
    [
        base.0 - 2.0,
        base.1 - SIZE,
        base.0 + width + 2.0,
        base.1 + 3.0,
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
        for (i, a) in labels.taken.iter().enumerate() {
            for b in &labels.taken[i + 1..] {
                let apart = a[2] < b[0] || a[0] > b[2] || a[3] < b[1] || a[1] > b[3];
                assert!(apart, "{a:?} {b:?}");
            }
        }
    }
}
