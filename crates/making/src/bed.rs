//! Whether a box fits a printer.

use boat::making::Printer;

/// Kept free at each edge for brim and clamps, m (judgement).
const EDGE_M: f64 = 0.002;
/// Boxes are tried turned on the bed in steps of this, degrees.
const TURN_DEG: u32 = 3;

/// What a printer can print.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bed {
    /// Width, depth, height that may be used, m.
    pub room_m: [f64; 3],
}

impl Bed {
    /// With room for a brim.
    #[must_use]
    pub fn of(printer: &Printer) -> Self {
        let [x, y, z] = printer.bed_m;
        Self {
            room_m: [x - 2.0 * EDGE_M, y - 2.0 * EDGE_M, z],
        }
    }

    /// Turn on the bed, rad, at which a base of `width` by `depth` fits; least first.
    #[must_use]
    pub fn turn_rad(&self, [width, depth]: [f64; 2]) -> Option<f64> {
        (0..=90 / TURN_DEG)
            .map(|k| f64::from(k * TURN_DEG).to_radians())
            .find(|a| {
                let (s, c) = a.sin_cos();
                width * c + depth * s <= self.room_m[0] && width * s + depth * c <= self.room_m[1]
            })
    }

    /// Whether a box of these sides fits with side `up` standing.
    #[must_use]
    pub fn takes_up(&self, size: [f64; 3], up: usize) -> bool {
        let base = [size[(up + 1) % 3], size[(up + 2) % 3]];
        size[up] <= self.room_m[2] && self.turn_rad(base).is_some()
    }

    /// Whether a box of these sides fits any way up.
    #[must_use]
    pub fn takes(&self, size: [f64; 3]) -> bool {
        (0..3).any(|up| self.takes_up(size, up))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_narrow_piece_lies_across_the_corners() {
        let bed = Bed::of(&Printer::default());
        // 216 mm square: its diagonal is 305 mm.
        assert!(bed.takes_up([0.25, 0.03, 0.05], 2));
        assert!(!bed.takes_up([0.30, 0.03, 0.05], 2));
        assert!(bed.takes([0.05, 0.03, 0.25]) && !bed.takes([0.26, 0.26, 0.05]));
    }
}
