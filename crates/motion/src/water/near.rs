//! The water near a boat at a moment: the sines themselves, quickly.

use craft::motion::WaterSurface;
use nalgebra::Vector3;
use std::cell::Cell;

use super::Surface;
use super::sum::{Blocks, Phases};

/// Heights that are kept: several elements ask for the same places.
const KEPT: usize = 32;

/// A surface with its phases counted from a place and time near by.
pub struct Near<'a> {
    surface: &'a Surface,
    phases: Phases,
    place: [f64; 2],
    time_s: f64,
    highest_m: f64,
    shortest_m: f64,
    /// The waves neither grow nor end within a boat's reach.
    full: bool,
    /// Places, and the height there now.
    kept: [Cell<[f64; 3]>; KEPT],
}

/// Scatters bits: the golden ratio's, Knuth's multiplicative hash.
const SPREAD: u64 = 0x9E37_79B9_7F4A_7C15;

/// No boat reaches further from its centre of gravity, m.
const REACH_M: f64 = 3.0;

impl<'a> Near<'a> {
    /// Meant for places within a few metres and times within a second.
    pub fn new(surface: &'a Surface, place: [f64; 2], time_s: f64) -> Self {
        Self {
            surface,
            phases: Blocks::phases(&surface.components, place, time_s),
            place,
            time_s,
            highest_m: surface.highest_m(),
            shortest_m: surface.shortest_m(),
            full: surface.is_full(place[0] - REACH_M),
            kept: [const { Cell::new([f64::NAN; 3]) }; KEPT],
        }
    }

    fn envelope(&self, x: f64) -> (f64, f64) {
        if self.full {
            (1.0, 0.0)
        } else {
            self.surface.envelope(x)
        }
    }

    fn off(&self, [x, y]: [f64; 2], time_s: f64) -> [f32; 3] {
        [
            (x - self.place[0]) as f32,
            (y - self.place[1]) as f32,
            (time_s - self.time_s) as f32,
        ]
    }
}

fn single(v: [f64; 2]) -> [f32; 2] {
    v.map(|v| v as f32)
}

fn vector(v: [f32; 3]) -> Vector3<f64> {
    Vector3::from(v.map(f64::from))
}

impl WaterSurface for Near<'_> {
    fn height_m(&self, x_m: f64, y_m: f64, time_s: f64) -> f64 {
        let spread = (x_m.to_bits() ^ y_m.to_bits().rotate_left(21)).wrapping_mul(SPREAD);
        let kept = &self.kept[(spread >> 59) as usize];
        let [x, y, height] = kept.get();
        let now = time_s == self.time_s;
        if now && x == x_m && y == y_m {
            return height;
        }
        let off = self.off([x_m, y_m], time_s);
        let sum = f64::from(self.surface.blocks.height(&self.phases, off));
        let height = sum * self.envelope(x_m).0;
        if now {
            kept.set([x_m, y_m, height]);
        }
        height
    }

    fn velocity_m_s(&self, x_m: f64, y_m: f64, time_s: f64) -> Vector3<f64> {
        let off = self.off([x_m, y_m], time_s);
        vector(self.surface.blocks.velocity(&self.phases, off)) * self.envelope(x_m).0
    }

    fn met_m(&self, place: [f64; 2], going: [f64; 2], time_s: f64) -> [f64; 2] {
        let off = self.off(place, time_s);
        let met = self.surface.blocks.met(&self.phases, off, single(going));
        let [height, rate] = met.map(f64::from);
        let (share, slope) = self.envelope(place[0]);
        [height * share, rate * share + height * slope * going[0]]
    }

    fn pull_m_s2(&self, place: [f64; 2], going: [f64; 2], time_s: f64) -> Vector3<f64> {
        let off = self.off(place, time_s);
        let pull = vector(self.surface.blocks.pull(&self.phases, off, single(going)));
        let (share, slope) = self.envelope(place[0]);
        if slope == 0.0 {
            return pull * share;
        }
        let flow = vector(self.surface.blocks.velocity(&self.phases, off));
        pull * share + flow * (slope * going[0])
    }

    fn shortest_m(&self) -> f64 {
        self.shortest_m
    }

    fn highest_m(&self) -> f64 {
        self.highest_m
    }

    fn is_still(&self) -> bool {
        self.surface.components.is_empty()
    }
}
