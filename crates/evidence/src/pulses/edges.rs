//! Levels into pulses: where each edge crosses half way, and how slow it is.
//!
//! An edge counts once it has gone from below a fifth to above four fifths of the swing (or back), so
//! noise at a threshold makes no pulses. For a first-order edge the time between is `tau ln 4`.
//! Half-way crossings of both edges are late by the same `tau ln 2`: the width is the true one.

use std::f64::consts::LN_2;

const LOW: f64 = 0.2;
const HALF: f64 = 0.5;
const HIGH: f64 = 0.8;

/// A pulse.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pulse {
    /// Half-way up, s.
    pub rise_s: f64,
    /// From half-way up to half-way down, s.
    pub width_s: f64,
    /// Time constant of its rising edge as captured, s: never less than the capture can tell.
    pub rise_constant_s: f64,
    /// Time constant of its falling edge, s.
    pub fall_constant_s: f64,
}

/// How times between samples are to be read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Between {
    /// A level holds until the next is given: a list of changes.
    Holds,
    /// Levels are samples of a course; crossings lie in between, in proportion.
    Varies,
    /// Samples of which those alike were left out: a level holds until one interval (s) before the next.
    Thinned(f64),
}

/// Finds pulses in levels as they come.
#[derive(Debug, Clone)]
pub struct Detector {
    low: f64,
    swing: f64,
    between: Between,
    last: Option<(f64, f64)>,
    high: bool,
    /// Latest crossings of the three levels on the way to the other state.
    crossed: [f64; 3],
    rise: Option<(f64, f64)>,
    pulses: Vec<Pulse>,
    /// Excursions past half way that turned back.
    runts: usize,
    past_half: bool,
}

impl Detector {
    /// For levels that swing from `low` to `high`.
    pub fn new(low: f64, high: f64, between: Between) -> Self {
        Self {
            low,
            swing: high - low,
            between,
            last: None,
            high: false,
            crossed: [f64::NAN; 3],
            rise: None,
            pulses: Vec::new(),
            runts: 0,
            past_half: false,
        }
    }

    /// Takes a level at a time, s.
    pub fn take(&mut self, time_s: f64, level: f64) {
        let here = (level - self.low) / self.swing;
        let Some((t0, before)) = self.last.replace((time_s, here)) else {
            // A capture that starts inside a pulse: that pulse has no known start.
            self.high = here > HALF;
            return;
        };
        if here == before {
            return;
        }
        let up = here > before;
        // In the order they are passed, also when one step passes all.
        let order = if up { [0, 1, 2] } else { [2, 1, 0] };
        for i in order {
            let threshold = [LOW, HALF, HIGH][i];
            if (before < threshold) != (here < threshold) {
                let t = match self.between {
                    Between::Holds => time_s,
                    Between::Varies => t0 + (time_s - t0) * (threshold - before) / (here - before),
                    Between::Thinned(interval_s) => {
                        let from = t0.max(time_s - interval_s);
                        from + (time_s - from) * (threshold - before) / (here - before)
                    }
                };
                self.cross(i, up, t);
            }
        }
    }

    fn cross(&mut self, i: usize, up: bool, t: f64) {
        self.crossed[i] = t;
        match (self.high, up, i) {
            (false, true, 1) | (true, false, 1) => self.past_half = true,
            (false, true, 2) => {
                self.high = true;
                self.past_half = false;
                self.rise = Some((self.crossed[1], self.constant()));
            }
            (true, false, 0) => {
                self.high = false;
                self.past_half = false;
                self.end_pulse();
            }
            // Back where it came from without having arrived.
            (false, false, 0) | (true, true, 2) if self.past_half => {
                self.past_half = false;
                self.runts += 1;
            }
            _ => {}
        }
    }

    fn end_pulse(&mut self) {
        let Some((rise_s, rise_constant_s)) = self.rise.take() else {
            return;
        };
        self.pulses.push(Pulse {
            rise_s,
            width_s: self.crossed[1] - rise_s,
            rise_constant_s,
            fall_constant_s: self.constant(),
        });
    }

    /// From the outer crossings of the edge just finished.
    fn constant(&self) -> f64 {
        let passed = (self.crossed[2] - self.crossed[0]).abs();
        // A capture that starts in an edge has not seen all of it.
        if passed.is_finite() {
            passed / (2.0 * LN_2)
        } else {
            0.0
        }
    }

    /// Pulses so far.
    pub fn count(&self) -> usize {
        self.pulses.len()
    }

    /// Pulses and runts.
    pub fn finish(self) -> (Vec<Pulse>, usize) {
        (self.pulses, self.runts)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_list_of_changes_gives_exact_widths() {
        let mut d = Detector::new(0.0, 1.0, Between::Holds);
        for (t, v) in [
            (0.0, 0.0),
            (0.02, 1.0),
            (0.0215, 0.0),
            (0.04, 1.0),
            (0.0412, 0.0),
        ] {
            d.take(t, v);
        }
        let (p, runts) = d.finish();
        assert_eq!((p.len(), runts), (2, 0));
        assert!((p[0].width_s - 0.0015).abs() < 1e-12 && (p[1].width_s - 0.0012).abs() < 1e-12);
        assert_eq!(p[0].rise_constant_s, 0.0);
    }

    #[test]
    fn slow_edges_keep_the_width_and_show_their_constant() {
        let (tau, dt) = (40e-6, 1e-6);
        let mut d = Detector::new(0.0, 3.3, Between::Varies);
        let mut v = 0.0;
        for i in 0..44_000 {
            let t = i as f64 * dt;
            let drive = if (0.010..0.0115).contains(&(t % 0.02)) {
                3.3
            } else {
                0.0
            };
            d.take(t, v);
            v += (drive - v) * (1.0 - (-dt / tau).exp());
        }
        let (p, _) = d.finish();
        assert_eq!(p.len(), 2);
        for p in p {
            assert!((p.width_s - 0.0015).abs() < 1e-6, "{p:?}");
            assert!((p.rise_constant_s / tau - 1.0).abs() < 0.01, "{p:?}");
            assert!((p.fall_constant_s / tau - 1.0).abs() < 0.01, "{p:?}");
        }
    }

    #[test]
    fn half_hearted_pulses_are_runts() {
        let mut d = Detector::new(0.0, 1.0, Between::Varies);
        for (i, v) in [0.0, 0.1, 0.6, 0.7, 0.1, 0.0, 0.9, 1.0, 0.4, 0.9, 0.0, 0.0]
            .into_iter()
            .enumerate()
        {
            d.take(i as f64, v);
        }
        let (p, runts) = d.finish();
        assert_eq!((p.len(), runts), (1, 2));
    }
}
