//! One state asked for again near a known one: after small changes of boat or laws this is far cheaper than the whole
//! way up from rest.

use crate::branch::{Point, Walk, faster};
use crate::craft::Craft;
use crate::solution::{RunningState, SpeedCurve};
use crate::steady::{Condition, Running};
use crate::way::meets;

/// Most steps along the line to a state that Newton does not reach at once.
const MOST: usize = 80;
/// A state further off than this share of speed was not the nearest.
const FURTHEST: f64 = 0.3;

impl RunningState {
    /// Attitude and shaft speed, for solvers to start from.
    pub fn running(&self) -> Running {
        let shaft = self.drives.first().map_or(0.0, |d| d.shaft_rad_s);
        Running {
            speed_m_s: self.speed_m_s,
            attitude: self.attitude,
            shaft_rad_s: shaft,
            drift_rad: self.drift_rad,
        }
    }
}

impl SpeedCurve {
    /// The state of the curve, top speed among them, that lies nearest to a speed.
    pub fn nearest(&self, speed_m_s: f64) -> Option<&RunningState> {
        let away = |s: &&RunningState| (s.speed_m_s - speed_m_s).abs();
        self.running
            .iter()
            .chain(&self.top)
            .min_by(|a, b| away(a).total_cmp(&away(b)))
    }
}

impl Craft {
    /// The state at a speed, solved for from the nearest one of the curve.
    pub fn on_curve(&self, curve: &SpeedCurve, speed_m_s: f64) -> Option<RunningState> {
        let near = curve.nearest(speed_m_s)?;
        if near.speed_m_s == speed_m_s {
            return Some(near.clone());
        }
        self.state_near(&near.running(), speed_m_s)
    }

    /// The state at `speed_m_s` on the line of `from`.
    pub fn state_near(&self, from: &Running, speed_m_s: f64) -> Option<RunningState> {
        self.running_near(from, speed_m_s)
            .map(|r| self.describe(&r))
    }

    /// The state on the line of `from` at which the hardest-working drive has this throttle: solved for at once, with
    /// speed an unknown, else walked to.
    pub fn at_throttle_near(&self, from: &Running, throttle: f64) -> Option<RunningState> {
        self.running_at_throttle(from, throttle)
            .map(|r| self.describe(&r))
    }

    /// As [`Craft::at_throttle_near`], attitude and speeds alone.
    pub fn running_at_throttle(&self, from: &Running, throttle: f64) -> Option<Running> {
        let start = self.place(from);
        let wanted = Condition::Throttle(throttle);
        let near = |r: &Running| {
            (r.speed_m_s / from.speed_m_s.max(1e-3) - 1.0).abs() < FURTHEST
                && (r.attitude.trim_rad - from.attitude.trim_rad).abs() < 0.1
                && self.is_in_the_water(r)
                && self.pushes_back(r)
        };
        let direct = self.settle(&start, &wanted, None, false);
        direct
            .map(|x| self.running(&x))
            .filter(near)
            .or_else(|| self.walked(from, |r| self.holding(r) - throttle))
    }

    fn running_near(&self, from: &Running, speed_m_s: f64) -> Option<Running> {
        let start = Running {
            speed_m_s,
            shaft_rad_s: from.shaft_rad_s * (speed_m_s / from.speed_m_s.max(1e-3)),
            ..*from
        };
        let close = (speed_m_s / from.speed_m_s.max(1e-3) - 1.0).abs() < 0.05;
        let direct = close.then(|| self.balance(&start)).flatten();
        direct
            .filter(|r| (r.attitude.trim_rad - from.attitude.trim_rad).abs() < 0.02)
            .or_else(|| self.walked(from, |r| r.speed_m_s - speed_m_s))
            .or_else(|| self.balance(&start))
    }

    /// Along the line of `from`, towards where `over` falls or rises to nothing.
    fn walked(&self, from: &Running, over: impl Fn(&Running) -> f64) -> Option<Running> {
        let settled = self.balance(from)?;
        let left = over(&settled);
        if left.abs() < 1e-9 {
            return Some(settled);
        }
        let ahead = if left < 0.0 { faster() } else { -faster() };
        let mut here = Point::at(self, self.place(&settled), &ahead)?;
        let mut walk = Walk::new(self);
        for _ in 0..MOST {
            let next = walk.next(&here)?;
            let now = over(&next.running);
            if now * left <= 0.0 {
                return meets(self, &here, &next, over);
            }
            if (next.tangent[4] > 0.0) != (ahead[4] > 0.0) {
                return None;
            }
            here = next;
        }
        None
    }
}
