//! From rest to a little beyond top speed, and every other way the boat could run.
//!
//! The way up is walked once (`way`); top speed, planing speed and the hump are solved for on it, and the
//! states shown are then picked at even speeds. How many are shown changes nothing else.

use std::sync::Arc;

use rayon::prelude::*;

use crate::craft::Craft;
use crate::drive::PropellerLoad;
use crate::launch::Grip;
use crate::outcome::{CannotRun, Unsteady};
use crate::search::{Sweep, distinct};
use crate::solution::{Hump, NoTop, RunningState, SpeedCurve};
use crate::steady::Running;
use crate::way::{Crossing, Past, Way};

/// Speeds shown go this far beyond top speed.
pub(crate) const BEYOND_TOP: f64 = 1.1;
/// Speeds shown go up with the number of the state to this power.
const EVEN: f64 = 1.0;
pub(crate) const CROWDED: f64 = 1.4;
/// Where other equilibria are searched for.
const SEARCH: Sweep = Sweep {
    from_rad: -0.07,
    to_rad: 0.6,
    count: 18,
    insist: true,
};
/// They are searched for at every so-many-th speed of the curve.
const SEARCH_EVERY: usize = 10;
/// The hump is looked for from this share of planing speed, among no fewer speeds.
const HUMP_FROM: f64 = 1.0 / 3.0;
const HUMP_LOOKS: usize = 5;
/// Then to this share of the way there, by halves: at its narrowest the margin hardly changes.
const HUMP_CLOSE: f64 = 0.05;
/// Speeds this near are one, m/s.
const ALIKE_M_S: f64 = 1e-2;
/// With less than this share of its weight on the water a boat flies on its propellers (judgement): it has no top speed
/// as a boat, and a run in time says what becomes of it.
pub(crate) const FLIES: f64 = 0.15;
/// Share of weight that speed carries when a boat planes.
pub(crate) const PLANES: f64 = 0.5;

impl Craft {
    /// The whole curve at `count` speeds. Empty, but for a reason, for a boat that does not run.
    pub fn speed_curve(&self, count: usize) -> SpeedCurve {
        let (mut curve, shown) = self.curve(count, EVEN, self.way(Past::Far));
        curve.others = self
            .others(&shown)
            .par_iter()
            .map(|b| self.describe(b))
            .collect();
        curve
    }

    /// The same without a search for other equilibria, for sampling; its speeds lie closer together where they are low
    /// and attitude changes quickest.
    pub fn rough_curve(&self, count: usize) -> SpeedCurve {
        self.curve(count, CROWDED, self.way(Past::Far)).0
    }

    /// The same of a boat that is nearly the one whose curve is known, which takes a small part of the time: state by
    /// state (`alike`), else along its line.
    pub fn rough_curve_like(&self, count: usize, known: &SpeedCurve) -> SpeedCurve {
        if let Some(alike) = self.curve_alike(count, known) {
            return alike;
        }
        let way = match &known.way {
            Some(known) => self.way_like(known, Past::Little),
            None => self.way(Past::Little),
        };
        self.curve(count, CROWDED, way).0
    }

    /// Top speed alone, for sampling: `None` when it never settles.
    pub fn top_speed(&self) -> Option<RunningState> {
        if self.propellers().is_empty() {
            return None;
        }
        let top = self.way(Past::Top)?.top(self).ok()?.1;
        Some(self.describe(&top))
    }

    /// Speed at which the fastest-turning propeller would screw through a solid, unloaded, m/s.
    pub fn pitch_speed_m_s(&self) -> f64 {
        let each = self.propellers().iter().zip(self.circuits());
        each.map(|(p, c)| p.pitch_m() * c.unloaded_rad_s() / std::f64::consts::TAU)
            .fold(0.5, f64::max)
    }

    fn curve(&self, count: usize, crowding: f64, way: Option<Way>) -> (SpeedCurve, Vec<Running>) {
        let mut curve = SpeedCurve::default();
        if self.propellers().is_empty() {
            curve.no_top = Some(CannotRun::NoDrive.into());
            return (curve, Vec::new());
        }
        let Some(way) = way else {
            curve.no_top = Some(self.why_not_even_slow().into());
            return (curve, Vec::new());
        };
        let top = way.top(self);
        curve.planing_m_s = way.planing_m_s(self);
        let to = curve.planing_m_s.unwrap_or(way.span_m_s().1);
        match &top {
            Ok((after, top)) => {
                curve.top = Some(self.describe(top));
                curve.faster = way.faster(self, *after).map(|r| self.describe(&r));
            }
            Err(why) => curve.no_top = Some(*why),
        }
        let end = match &top {
            Ok((_, top)) if curve.planing_m_s.is_none_or(|p| p <= top.speed_m_s) => {
                (BEYOND_TOP * top.speed_m_s).min(way.span_m_s().1)
            }
            _ => way.span_m_s().1,
        };
        let speeds = (1..=count.max(2)).into_par_iter();
        let speeds = speeds.map(|i| end * (i as f64 / count.max(2) as f64).powf(crowding));
        let states: Vec<_> = speeds.map(|v| (v, way.at_speed(self, v))).collect();
        let mut shown = Vec::new();
        for (speed_m_s, state) in states {
            match state {
                Some(running) => shown.push(running),
                None => curve.missing_m_s.push(speed_m_s),
            }
        }
        let strokes = way.breaks.iter().filter(|b| !b.smooth);
        curve.jumps_m_s = strokes.map(|b| b.to_m_s).filter(|v| *v <= end).collect();
        curve.running = shown
            .par_iter()
            .map(|b| {
                let known = way.pushes_back_at(b.speed_m_s);
                self.described(b, known.unwrap_or_else(|| self.pushes_back(b)))
            })
            .collect();
        let mut on_the_way = |speed: f64| way.at_speed(self, speed);
        let between = (way.span_m_s().0, to);
        if let Some((mut hump, there)) = self.hump(between, &curve.running, &mut on_the_way) {
            let slower = way.points.iter().filter(|p| p.speed_m_s() <= to);
            let trims = slower.map(|p| p.running.attitude.trim_rad);
            hump.trim_rad = trims.fold(hump.trim_rad, f64::max);
            curve.hump = Some(hump);
            curve.at_hump = Some(self.describe(&there));
        }
        curve.way = Some(Arc::new(way));
        (curve, shown)
    }

    /// Why there is no slowest state.
    fn why_not_even_slow(&self) -> CannotRun {
        let rest = self.at_rest();
        let (motion, around) = (rest.motion(), self.surroundings());
        let each = self.propellers().iter();
        let clear_m = each
            .map(|p| -p.immersion(&motion, &around) * p.diameter_m())
            .fold(f64::INFINITY, f64::min);
        if clear_m >= 0.0 {
            return CannotRun::PropellerDry { clear_m };
        }
        let wind_m_s = -around.wind_m_s.x;
        let thrust_n = self.wide_open(&motion, &around, Grip::Settled);
        let thrust_n: f64 = thrust_n.iter().map(|l| l.thrust_n).sum();
        let still = self.total(&motion, &self.controls());
        let against_n = -(motion.attitude * still.force_n).x;
        if against_n > thrust_n {
            CannotRun::HeldByWind {
                thrust_n,
                against_n,
            }
        } else if wind_m_s > 1.0 {
            CannotRun::BlownOver { wind_m_s }
        } else {
            CannotRun::NoAttitude
        }
    }

    /// The narrowest place between a third of a speed (not below the slowest there is) and the speed, and the boat
    /// there, whose trim is told. What is `shown` already need not be solved for again.
    pub(crate) fn hump(
        &self,
        (slowest, to): (f64, f64),
        shown: &[RunningState],
        state: &mut dyn FnMut(f64) -> Option<Running>,
    ) -> Option<(Hump, Running)> {
        let from = (HUMP_FROM * to).max(slowest);
        let mut at = |speed: f64| Some((speed, self.margin(&state(speed)?)));
        let between = shown
            .iter()
            .filter(|s| s.speed_m_s > from && s.speed_m_s < to);
        let mut looked: Vec<(f64, f64)> = between
            .map(|s| (s.speed_m_s, spared(s.thrust_available_n, s.thrust_needed_n)))
            .collect();
        looked.extend([from, to].into_iter().filter_map(&mut at));
        if looked.len() < HUMP_LOOKS {
            let step = (to - from) / (HUMP_LOOKS - 1) as f64;
            let inside = (1..HUMP_LOOKS - 1).map(|i| from + step * i as f64);
            looked.extend(inside.filter_map(&mut at));
        }
        looked.sort_by(|a, b| a.0.total_cmp(&b.0));
        let least = |looked: &[(f64, f64)]| {
            let each = looked.iter().enumerate();
            each.min_by(|a, b| a.1.1.total_cmp(&b.1.1)).map(|(i, _)| i)
        };
        // The slowest state may lie at planing speed itself, or past it.
        let close = HUMP_CLOSE * (to - from).abs().max(ALIKE_M_S);
        loop {
            let beside = halves(&looked, least(&looked)?, close);
            let known = looked.len();
            looked.extend(beside.into_iter().filter_map(&mut at));
            if looked.len() == known {
                break;
            }
            looked.sort_by(|a, b| a.0.total_cmp(&b.0));
        }
        let best = looked[least(&looked)?];
        let running = state(best.0)?;
        let motion = running.motion();
        let demands = self.demands(&motion, running.shaft_rad_s);
        let hump = Hump {
            speed_m_s: best.0,
            margin: best.1,
            current_a: demands.map(|d| d.pack_a).sum(),
            trim_rad: running.attitude.trim_rad,
        };
        Some((hump, running))
    }

    /// Thrust available at full throttle over needed, less one.
    fn margin(&self, running: &Running) -> f64 {
        let (available, needed) = self.thrusts_n(running);
        spared(available, needed)
    }

    /// Thrust available at full throttle less needed, N.
    fn spare_n(&self, running: &Running) -> f64 {
        let (available, needed) = self.thrusts_n(running);
        available - needed
    }

    /// Thrust available at full throttle, and needed, N.
    fn thrusts_n(&self, running: &Running) -> (f64, f64) {
        let (motion, around) = (running.motion(), self.surroundings());
        let available = self.wide_open(&motion, &around, Grip::Settled);
        let needed = self.loads(running);
        let sum = |loads: &[PropellerLoad]| loads.iter().map(|l| l.thrust_n).sum::<f64>();
        (sum(&available), sum(&needed))
    }

    /// Equilibria beside the one reached from rest, at a few speeds.
    fn others(&self, running: &[Running]) -> Vec<Running> {
        let sampled = running.iter().skip(SEARCH_EVERY - 1).step_by(SEARCH_EVERY);
        let sampled: Vec<&Running> = sampled.collect();
        sampled
            .par_iter()
            .flat_map_iter(|known| {
                let mut found = self.balances_by_trim(known, SEARCH);
                found.retain(|other| distinct(other, known));
                found
            })
            .collect()
    }
}

/// Thrust available over needed, less one.
fn spared(available_n: f64, needed_n: f64) -> f64 {
    available_n / needed_n.max(1e-9) - 1.0
}

/// The middles of the gaps beside the least of several values, of those wider than `close`. No parabola: a hump may be
/// narrow, and the margin bends sharply where a spray root reaches a chine.
fn halves(looked: &[(f64, f64)], least: usize, close: f64) -> Vec<f64> {
    let x = looked[least].0;
    let beside = [least.checked_sub(1), Some(least + 1)];
    let gaps = beside.into_iter().filter_map(|i| looked.get(i?));
    gaps.filter(|other| (other.0 - x).abs() > close)
        .map(|other| 0.5 * (other.0 + x))
        .collect()
}

impl Way {
    /// The first state at full throttle, with the index of the state before, or why there is none.
    pub(crate) fn top(&self, craft: &Craft) -> Result<(usize, Running), NoTop> {
        let over = |r: &Running| craft.holding(r) - 1.0;
        let slowest = &self.points[0];
        if slowest.throttle >= 1.0 {
            return Err(CannotRun::TooWeak {
                speed_m_s: slowest.speed_m_s(),
                lacking_n: -craft.spare_n(&slowest.running),
            }
            .into());
        }
        match self.rises(craft, 0, over) {
            Some((i, Crossing::At(top))) if craft.on_the_water(&top) > FLIES => Ok((i, top)),
            Some((_, Crossing::At(top))) => {
                let less = |r: &Running| FLIES - craft.on_the_water(r);
                let speed_m_s = match self.rises(craft, 0, less) {
                    Some((_, Crossing::At(there))) => there.speed_m_s,
                    Some((_, Crossing::Broken(broken))) => broken.to_m_s,
                    None => top.speed_m_s,
                };
                Err(Unsteady::TakesOff { speed_m_s }.into())
            }
            Some((i, Crossing::Broken(broken))) => {
                let trim = |i: usize| self.points[i].running.attitude.trim_rad;
                Err(Unsteady::BackAndForth {
                    speed_m_s: broken.from_m_s,
                    trim_rad: (trim(i), trim(i + 1)),
                }
                .into())
            }
            None => {
                let last = &self.points[self.points.len() - 1].running;
                Err(Unsteady::NoAttitude {
                    speed_m_s: last.speed_m_s,
                    spare_n: craft.spare_n(last),
                }
                .into())
            }
        }
    }

    /// The next state at full throttle beyond the one after index `after`, if there is one.
    fn faster(&self, craft: &Craft, after: usize) -> Option<Running> {
        let over = |r: &Running| craft.holding(r) - 1.0;
        let back = (after + 1..self.points.len()).find(|i| self.points[*i].throttle < 1.0)?;
        match self.rises(craft, back, over)?.1 {
            Crossing::At(running) => Some(running).filter(|r| craft.on_the_water(r) > FLIES),
            Crossing::Broken(_) => None,
        }
    }

    /// Where speed-borne lift first carries half.
    fn planing_m_s(&self, craft: &Craft) -> Option<f64> {
        let share = |r: &Running| craft.dynamic_share(r) - PLANES;
        match self.rises(craft, 0, share)?.1 {
            Crossing::At(running) => Some(running.speed_m_s),
            Crossing::Broken(broken) => Some(broken.to_m_s),
        }
    }
}

/// Where dynamic lift first carries half the boat, m/s.
pub fn planing_speed(curve: &SpeedCurve) -> Option<f64> {
    curve.planing_m_s
}
