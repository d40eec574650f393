//! One steady state asked for again near a known one: after small changes of boat or laws this is far
//! cheaper than the whole speed curve.

use crate::craft::Craft;
use crate::solution::RunningState;
use crate::steady::Running;

/// First step of speed, as a share.
const FIRST: f64 = 0.01;
/// Longest step of speed, as a share.
const LONGEST: f64 = 0.08;
const ROUNDS: usize = 14;
/// Throttle is met to this.
const CLOSE: f64 = 1e-5;

impl RunningState {
    /// Attitude and shaft speed, for solvers to start from.
    pub fn running(&self) -> Running {
        let shaft = self.drives.first().map_or(0.0, |d| d.shaft_rad_s);
        Running {
            speed_m_s: self.speed_m_s,
            attitude: self.attitude,
            shaft_rad_s: shaft,
        }
    }
}

impl Craft {
    /// The state at `speed_m_s` on the branch of `from`, approached in steps it can follow.
    pub fn state_near(&self, from: &Running, speed_m_s: f64) -> Option<RunningState> {
        self.running_near(from, speed_m_s)
            .map(|r| self.describe(&r))
    }

    /// The state on the branch of `from` at which the hardest-working drive has this throttle.
    pub fn at_throttle_near(&self, from: &Running, throttle: f64) -> Option<RunningState> {
        let over = |r: &Running| self.throttle(r) - throttle;
        let mut before = self.settle(from)?;
        let mut left = over(&before);
        let mut now =
            self.running_near(&before, before.speed_m_s * (1.0 - FIRST * left.signum()))?;
        for _ in 0..ROUNDS {
            let here = over(&now);
            if here.abs() < CLOSE {
                return Some(self.describe(&now));
            }
            let slope = (here - left) / (now.speed_m_s - before.speed_m_s);
            if slope <= 0.0 || !slope.is_finite() {
                return None;
            }
            let most = LONGEST * now.speed_m_s;
            let next = now.speed_m_s + (-here / slope).clamp(-most, most);
            (before, left) = (now, here);
            now = self.running_near(&before, next)?;
        }
        None
    }

    fn running_near(&self, from: &Running, speed_m_s: f64) -> Option<Running> {
        let mut now = *from;
        let steps = ((speed_m_s / from.speed_m_s).ln().abs() / LONGEST)
            .ceil()
            .max(1.0);
        let ratio = (speed_m_s / from.speed_m_s).powf(1.0 / steps);
        for _ in 0..steps as usize {
            let speed_m_s = now.speed_m_s * ratio;
            now = self.settle(&Running {
                speed_m_s,
                shaft_rad_s: now.shaft_rad_s * ratio,
                ..now
            })?;
        }
        Some(now)
    }

    fn settle(&self, start: &Running) -> Option<Running> {
        self.balance(start).or_else(|| self.balance_damped(start))
    }
}
