//! Every state at one speed that a sweep of trim comes across.
//!
//! Trim is held at one angle after another, heave and shaft speed settle, and where the pitch moment left over
//! changes sign the state between is solved for.

use crate::craft::Craft;
use crate::solution::Attitude;
use crate::steady::Running;

/// Trim angles to look at.
#[derive(Clone, Copy)]
pub(crate) struct Sweep {
    pub from_rad: f64,
    pub to_rad: f64,
    pub count: usize,
    /// Take fresh slopes where borrowed ones fail: surer and slower.
    pub insist: bool,
}

impl Sweep {
    fn trim_rad(&self, i: usize) -> f64 {
        self.from_rad + (self.to_rad - self.from_rad) * i as f64 / (self.count - 1) as f64
    }
}

impl Craft {
    /// Every equilibrium at the speed of `near` that a sweep of trim comes across.
    pub(crate) fn balances_by_trim(&self, near: &Running, sweep: Sweep) -> Vec<Running> {
        let mut found: Vec<Running> = Vec::new();
        let mut last: Option<(Running, f64)> = None;
        let mut start = *near;
        let mut slopes = None;
        for i in 0..sweep.count {
            start.attitude.trim_rad = sweep.trim_rad(i);
            let found_here = self.settle_at_trim(&start, &mut slopes).or_else(|| {
                sweep
                    .insist
                    .then(|| self.settle_at_trim(&start, &mut None))?
            });
            let Some((settled, moment)) = found_here else {
                last = None;
                continue;
            };
            if let Some((before, m)) = last.filter(|(_, m)| m * moment < 0.0) {
                let between = before.blended(&settled, m / (m - moment));
                let balanced = self.balance(&between);
                found.extend(balanced.filter(|b| found.iter().all(|other| distinct(b, other))));
            }
            start = settled;
            last = Some((settled, moment));
        }
        found
    }

    /// Whether any running surface or the hull itself carries weight on the water.
    pub(crate) fn is_in_the_water(&self, running: &Running) -> bool {
        let (motion, around) = (running.motion(), self.surroundings());
        self.elements()
            .filter_map(|e| e.contact(&motion, &around))
            .any(|wet| wet.keel_length_m > 0.0)
    }
}

impl Running {
    /// So large a share of the way to another.
    pub(crate) fn blended(&self, other: &Running, share: f64) -> Running {
        let mix = |x: f64, y: f64| x + (y - x) * share;
        let (a, b) = (&self.attitude, &other.attitude);
        Running {
            speed_m_s: mix(self.speed_m_s, other.speed_m_s),
            attitude: Attitude {
                rise_m: mix(a.rise_m, b.rise_m),
                trim_rad: mix(a.trim_rad, b.trim_rad),
                heel_rad: mix(a.heel_rad, b.heel_rad),
            },
            shaft_rad_s: mix(self.shaft_rad_s, other.shaft_rad_s).max(0.0),
            drift_rad: mix(self.drift_rad, other.drift_rad),
        }
    }
}

/// Apart by more than what solving leaves open.
pub(crate) fn distinct(a: &Running, b: &Running) -> bool {
    let (a, b) = (&a.attitude, &b.attitude);
    (a.trim_rad - b.trim_rad).abs() > 5e-3
        || (a.heel_rad - b.heel_rad).abs() > 2e-2
        || (a.rise_m - b.rise_m).abs() > 1e-3
}
