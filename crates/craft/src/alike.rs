//! The curve of a boat that is nearly one whose curve is known: each of its states solved for at once from the known
//! boat's at that speed, without a walk from rest.
//!
//! For likely variations and small changes, of which there are dozens. It answers only where nothing else can be meant:
//! top speed, planing and hump each have their like, top pushes back, and full throttle exceeds what every slower state
//! needs. Else the way is walked (`way`).

use rayon::prelude::*;

use crate::craft::Craft;
use crate::curve::{BEYOND_TOP, CROWDED, FLIES, PLANES};
use crate::outcome::Unsteady;
use crate::solution::{RunningState, SpeedCurve};
use crate::steady::{Condition, Place, Running};

/// A like state's speed is not further off than this share, nor its trim than this, rad.
const FURTHEST: f64 = 0.35;
const TURNED_RAD: f64 = 0.1;
/// Of the states shown, so many may have no like.
const MISSED: usize = 1;
/// States solved for one after the other before the rest.
const COARSE: usize = 12;
/// Slower than this share of top speed the throttle is less than wide open.
const SLOWER: f64 = 0.98;
/// Where a search for full throttle begins and steps by, in the known boat's top speeds, and its most steps.
const FROM: f64 = 0.6;
const STEP: f64 = 0.04;
const MOST_STEPS: u32 = 25;

impl Craft {
    /// At `count` speeds; `None` where this does not tell.
    pub(crate) fn curve_alike(&self, count: usize, known: &SpeedCurve) -> Option<SpeedCurve> {
        let theirs = known.balanced()?.running();
        let top = match self.like(&theirs, Condition::Throttle(1.0)) {
            Some(top) if self.pushes_back(&top) && self.on_the_water(&top) > FLIES => Ok(top),
            _ => self.top_above(known, &theirs)?,
        };
        let fastest_m_s = match &top {
            Ok(top) => top.speed_m_s,
            Err(Unsteady::TakesOff { speed_m_s }) => *speed_m_s,
            Err(_) => return None,
        };
        let planing = match known.planing_m_s {
            Some(theirs) => {
                let there = known.between(theirs)?.0;
                Some(self.like(&there, Condition::Carried(PLANES))?)
            }
            None => None,
        };
        let planing_m_s = planing.map(|r| r.speed_m_s);
        let end = match planing_m_s {
            Some(planing) if planing > fastest_m_s => planing,
            _ if top.is_err() => fastest_m_s,
            _ => BEYOND_TOP * fastest_m_s,
        };
        let mut curve = SpeedCurve {
            planing_m_s,
            ..SpeedCurve::default()
        };
        let mut apart = Apart::default();
        let speeds =
            (1..=count.max(2)).map(|i| end * (i as f64 / count.max(2) as f64).powf(CROWDED));
        let speeds: Vec<f64> = speeds.collect();
        // One after the other a few, from which the others know how far apart they are.
        let every = (speeds.len() / COARSE).max(1);
        let some = speeds.iter().step_by(every);
        let some: Vec<_> = some.map(|v| self.like_at(known, *v, &mut apart)).collect();
        let found = speeds.par_iter().enumerate().map(|(i, v)| match i % every {
            0 => some[i / every],
            _ => self.like_near(known, *v, &apart).map(|found| found.0),
        });
        let states = found.map(|found| found.map(|(r, stable)| self.described(&r, stable)));
        let states: Vec<Option<RunningState>> = states.collect();
        for (speed_m_s, state) in speeds.iter().zip(states) {
            match state {
                Some(state) => curve.running.push(state),
                None => curve.missing_m_s.push(*speed_m_s),
            }
        }
        let held = |s: &RunningState| s.speed_m_s > SLOWER * fastest_m_s || s.throttle < 1.0;
        if curve.missing_m_s.len() > MISSED || !curve.running.iter().all(held) {
            return None;
        }
        let slowest = known.running.first()?.speed_m_s;
        let to = planing_m_s.unwrap_or(end);
        let mut state = |speed: f64| Some(self.like_at(known, speed, &mut apart)?.0);
        let (mut hump, at_hump) = self.hump((slowest, to), &curve.running, &mut state)?;
        let slower = curve.running.iter().filter(|s| s.speed_m_s <= to);
        hump.trim_rad = (slower.map(|s| s.attitude.trim_rad)).fold(hump.trim_rad, f64::max);
        curve.hump = Some(hump);
        curve.at_hump = Some(self.describe(&at_hump));
        match top {
            Ok(top) => curve.top = Some(self.described(&top, true)),
            Err(why) => curve.no_top = Some(why.into()),
        }
        Some(curve)
    }

    /// Full throttle looked for step by step from well below the known boat's: for a boat whose own is further off, or
    /// that takes off before. `None` where a step has no state.
    fn top_above(&self, known: &SpeedCurve, theirs: &Running) -> Option<Result<Running, Unsteady>> {
        let from_m_s = FROM * theirs.speed_m_s;
        let mut last = self.like_at(known, from_m_s, &mut Apart::default())?.0;
        let mut before = last;
        let mut slopes = None;
        for step in 1..=MOST_STEPS {
            if self.on_the_water(&last) <= FLIES {
                let (wet, dry) = (self.on_the_water(&before), self.on_the_water(&last));
                let share = ((wet - FLIES) / (wet - dry).max(1e-9)).clamp(0.0, 1.0);
                let speed_m_s = before.speed_m_s + share * (last.speed_m_s - before.speed_m_s);
                return Some(Err(Unsteady::TakesOff { speed_m_s }));
            }
            if self.holding(&last) >= 1.0 {
                let top =
                    self.settle(&self.place(&last), &Condition::Throttle(1.0), None, false)?;
                let top = self.running(&top);
                let between = (before.speed_m_s..=last.speed_m_s).contains(&top.speed_m_s);
                return (between && self.pushes_back(&top)).then_some(Ok(top));
            }
            let speed_m_s = (FROM + STEP * f64::from(step)) * theirs.speed_m_s;
            let ahead = before.blended(&last, if step > 1 { 2.0 } else { 1.0 });
            let next = self.balance_with(&Running { speed_m_s, ..ahead }, &mut slopes)?;
            let turned = next.attitude.trim_rad - last.attitude.trim_rad;
            if turned.abs() > TURNED_RAD || !self.is_in_the_water(&next) {
                return None;
            }
            (before, last) = (last, next);
        }
        None
    }

    fn like(&self, theirs: &Running, condition: Condition) -> Option<Running> {
        let from = |start: &Running| self.settle(&self.place(start), &condition, None, false);
        // Straight there, or by way of the state at that speed.
        let x = from(theirs).or_else(|| from(&self.balance(theirs)?))?;
        Some(self.running(&x)).filter(|ours| self.alike(ours, theirs))
    }

    /// At a speed, and whether the known boat pushes back there; looked for as far `apart` from the known boat's state
    /// as it was at other speeds.
    fn like_at(
        &self,
        known: &SpeedCurve,
        speed_m_s: f64,
        apart: &mut Apart,
    ) -> Option<(Running, bool)> {
        let (found, by) = self.like_near(known, speed_m_s, apart)?;
        apart.add(speed_m_s, by);
        Some(found)
    }

    /// The same with how far apart it is.
    fn like_near(
        &self,
        known: &SpeedCurve,
        speed_m_s: f64,
        apart: &Apart,
    ) -> Option<((Running, bool), Place)> {
        let (near, stable) = known.between(speed_m_s)?;
        let theirs = self.place(&Running { speed_m_s, ..near });
        let start = self.running(&(theirs + apart.at(speed_m_s)));
        let start = Running { speed_m_s, ..start };
        let mut slopes = known.way.as_ref().map(|way| way.slopes_near(speed_m_s));
        let found = self
            .nearly_balance(&start, &mut slopes)
            .or_else(|| self.nearly_balance(&Running { speed_m_s, ..near }, &mut None));
        let found = found.filter(|ours| self.alike(ours, &near));
        let found = found?;
        Some(((found, stable), self.place(&found) - theirs))
    }

    fn alike(&self, ours: &Running, theirs: &Running) -> bool {
        (ours.speed_m_s / theirs.speed_m_s.max(1e-3) - 1.0).abs() < FURTHEST
            && (ours.attitude.trim_rad - theirs.attitude.trim_rad).abs() < TURNED_RAD
            && self.is_in_the_water(ours)
    }
}

/// How far a boat's states lie from those of the one it is like, by speed.
#[derive(Default)]
struct Apart(Vec<(f64, Place)>);

impl Apart {
    fn add(&mut self, speed_m_s: f64, by: Place) {
        let after = self.0.partition_point(|k| k.0 < speed_m_s);
        self.0.insert(after, (speed_m_s, by));
    }

    /// Straight between the speeds around one; beyond them as at the last.
    fn at(&self, speed_m_s: f64) -> Place {
        let after = self.0.partition_point(|k| k.0 < speed_m_s);
        let last = after.clamp(1, self.0.len().saturating_sub(1).max(1));
        match (self.0.get(last - 1), self.0.get(last)) {
            (Some((a, x)), Some((b, y))) if b > a => {
                x + (y - x) * ((speed_m_s - a) / (b - a)).clamp(0.0, 1.0)
            }
            (Some((_, x)), _) => *x,
            _ => Place::zeros(),
        }
    }
}

impl SpeedCurve {
    /// Straight between the two states around a speed, and whether the nearer pushes back.
    fn between(&self, speed_m_s: f64) -> Option<(Running, bool)> {
        let after = self.running.partition_point(|s| s.speed_m_s < speed_m_s);
        let last = self.running.len().checked_sub(1)?;
        let (a, b) = (
            &self.running[after.saturating_sub(1).min(last)],
            &self.running[after.min(last)],
        );
        let width = (b.speed_m_s - a.speed_m_s).max(1e-9);
        let share = ((speed_m_s - a.speed_m_s) / width).clamp(0.0, 1.0);
        let nearer = if share < 0.5 { a } else { b };
        Some((
            a.running().blended(&b.running(), share),
            nearer.statically_stable,
        ))
    }
}
