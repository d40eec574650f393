//! From rest to a little beyond top speed, and every other way the boat could run.

use rayon::prelude::*;

use crate::craft::Craft;
use crate::drive::PropellerLoad;
use crate::launch::Grip;
use crate::solution::{
    Attitude, DriveState, ElementForce, Hump, RunningState, SpeedCurve, WettedSurface,
};
use crate::steady::Running;

/// Fewest and most speeds of the first pass, up to the propeller's unloaded pitch speed.
const COARSE: (usize, usize) = (24, 32);
/// Largest change of trim or heel between neighbouring speeds of one branch, rad (8 deg).
const MOST_TRIM_STEP_RAD: f64 = 0.14;
/// Largest change of trim at a jump to another branch, rad (10 deg).
const MOST_JUMP_RAD: f64 = 0.175;
/// Speeds in the finished curve go this far beyond top speed.
const BEYOND_TOP: f64 = 1.1;
/// Where other equilibria are searched for.
const SEARCH: Sweep = Sweep {
    from_rad: -0.07,
    to_rad: 0.6,
    count: 18,
    insist: false,
};
/// They are searched for at every so-many-th speed of the curve.
const SEARCH_EVERY: usize = 10;

impl Craft {
    /// The whole curve at `count` speeds. Empty for a boat without a drive.
    pub fn speed_curve(&self, count: usize) -> SpeedCurve {
        let mut curve = SpeedCurve::default();
        if self.propellers().is_empty() || count < 2 {
            return curve;
        }
        let limit = self.pitch_speed_m_s();
        let passes = (2 * count / 3).clamp(COARSE.0, COARSE.1);
        let coarse = self.march_to_top(limit, passes, Care::Thorough);
        let top = self.top_of(&coarse.found);
        let end = top
            .as_ref()
            .map_or(limit, |t| (t.speed_m_s * BEYOND_TOP).min(limit));
        let March {
            found: fine,
            missing,
            jumps,
        } = self.march(&spaced(end, count), &coarse.found, Care::Thorough, |_| {
            false
        });
        (curve.missing_m_s, curve.jumps_m_s) = (missing, jumps);
        curve.running = fine.par_iter().map(|b| self.describe(b)).collect();
        curve.top = top.map(|t| self.describe(&t));
        curve.hump = self.hump(&curve);
        curve.others = self
            .others(&fine)
            .iter()
            .map(|b| self.describe(b))
            .collect();
        curve
    }

    /// One pass at about `count` speeds to a little past top speed, without a search for other
    /// equilibria: a third of the work of [`Craft::speed_curve`], for sampling.
    pub fn rough_curve(&self, count: usize) -> SpeedCurve {
        let mut curve = SpeedCurve::default();
        if self.propellers().is_empty() || count < 2 {
            return curve;
        }
        let March {
            found,
            missing,
            jumps,
        } = self.march_to_top(self.pitch_speed_m_s(), count, Care::Quick);
        (curve.missing_m_s, curve.jumps_m_s) = (missing, jumps);
        curve.top = self.top_of(&found).map(|t| self.describe(&t));
        curve.running = found.iter().map(|b| self.describe(b)).collect();
        curve.hump = self.hump(&curve);
        curve
    }

    /// Top speed alone, for sampling: `None` when it never balances.
    pub fn top_speed(&self) -> Option<RunningState> {
        let coarse = self.march_to_top(self.pitch_speed_m_s(), COARSE.1, Care::Thorough);
        self.top_of(&coarse.found).map(|t| self.describe(&t))
    }

    /// Speed at which the fastest-turning propeller would screw through a solid, unloaded, m/s.
    pub fn pitch_speed_m_s(&self) -> f64 {
        let each = self.propellers().iter().zip(self.circuits());
        each.map(|(p, c)| p.pitch_m() * c.unloaded_rad_s() / std::f64::consts::TAU)
            .fold(0.5, f64::max)
    }

    /// A first pass, ended a little past top speed: far beyond it nothing is asked and little
    /// settles. A hump that full throttle does not climb is passed over, to show what lies behind.
    fn march_to_top(&self, limit_m_s: f64, count: usize, care: Care) -> March {
        self.march(&crowded(limit_m_s, count), &[], care, |running| {
            let throttle = self.throttle(running);
            throttle > 1.0 && (running.speed_m_s > 0.5 * limit_m_s || throttle > 1.6)
        })
    }

    /// Follows the state reached from rest through increasing speeds. Where it ends, the nearest
    /// other state that pushes back is taken up: the boat changes attitude at a stroke there.
    ///
    /// `known` are states of an earlier pass, by speed: where Newton fails, the next of them is
    /// tried before anything dearer.
    fn march(
        &self,
        speeds: &[f64],
        known: &[Running],
        care: Care,
        enough: impl Fn(&Running) -> bool,
    ) -> March {
        let mut march = March::default();
        let mut slopes = None;
        for &speed_m_s in speeds {
            let start = self.guess(&march.found, speed_m_s);
            let last = march.found.last();
            let settled = self
                .balance_with(&start, &mut slopes)
                .filter(|now| follows(last, now))
                .or_else(|| {
                    let next = known.iter().find(|r| r.speed_m_s >= speed_m_s)?;
                    let from = Running { speed_m_s, ..*next };
                    self.balance(&from).filter(|now| follows(last, now))
                })
                .or_else(|| self.insist(&march.found, &start));
            if let Some(running) = settled {
                march.found.push(running);
                if enough(&running) {
                    break;
                }
                continue;
            }
            slopes = None;
            match self.jump(&march, speed_m_s, care) {
                Some(running) => {
                    march.jumps.push(speed_m_s);
                    march.found.push(running);
                }
                None => march.missing.push(speed_m_s),
            }
        }
        march
    }

    /// The nearest other state in the water that pushes back. In a long gap, searched for at every
    /// third speed only.
    fn jump(&self, march: &March, speed_m_s: f64, care: Care) -> Option<Running> {
        let last = march.found.last()?;
        let gap = march.missing.iter().rev();
        let gap = gap.take_while(|m| **m > last.speed_m_s).count();
        if gap >= 3 && gap % 3 != 0 {
            return None;
        }
        let here = Running { speed_m_s, ..*last };
        let away = |r: &Running| (r.attitude.trim_rad - last.attitude.trim_rad).abs();
        let around = Sweep {
            from_rad: last.attitude.trim_rad - MOST_JUMP_RAD,
            to_rad: last.attitude.trim_rad + MOST_JUMP_RAD,
            count: if care == Care::Thorough { 24 } else { 14 },
            insist: care == Care::Thorough,
        };
        self.balances_by_trim(&here, around)
            .into_iter()
            .filter(|r| away(r) < MOST_JUMP_RAD && self.is_in_the_water(r) && self.pushes_back(r))
            .min_by(|a, b| away(a).total_cmp(&away(b)))
    }

    /// Whether any running surface or the hull itself carries weight on the water.
    fn is_in_the_water(&self, running: &Running) -> bool {
        let (motion, around) = (running.motion(), self.surroundings());
        self.elements()
            .filter_map(|e| e.contact(&motion, &around))
            .any(|wet| wet.keel_length_m > 0.0)
    }

    /// Slower ways when Newton fails: damped from the same guess, then from the last known state.
    fn insist(&self, found: &[Running], start: &Running) -> Option<Running> {
        let last = found.last();
        let near = |now: &Running| follows(last, now);
        self.balance_damped(start).filter(near).or_else(|| {
            let from = Running {
                speed_m_s: start.speed_m_s,
                ..*last?
            };
            self.balance_damped(&from).filter(near)
        })
    }

    /// Straight on from the last two states.
    fn guess(&self, found: &[Running], speed_m_s: f64) -> Running {
        match found {
            [] => Running {
                speed_m_s,
                attitude: self.rest_attitude(),
                shaft_rad_s: 0.1 * self.shaft_scale_rad_s(),
            },
            [only] => Running { speed_m_s, ..*only },
            [.., a, b] => extrapolated(a, b, speed_m_s),
        }
    }

    /// Where full throttle first fails to hold the speed, following the curve from rest.
    fn top_of(&self, found: &[Running]) -> Option<Running> {
        let over = found.iter().position(|b| self.throttle(b) > 1.0)?;
        let below = *found.get(over.checked_sub(1)?)?;
        let above = found[over];
        let (mut low, mut high) = (below, above);
        let mut slopes = None;
        for _ in 0..12 {
            let speed_m_s = 0.5 * (low.speed_m_s + high.speed_m_s);
            let start = extrapolated(&low, &high, speed_m_s);
            let settled = self
                .balance_with(&start, &mut slopes)
                .or_else(|| self.balance_damped(&start));
            let Some(mid) = settled else {
                break;
            };
            if self.throttle(&mid) > 1.0 {
                high = mid
            } else {
                low = mid
            }
        }
        Some(low)
    }

    /// The hardest-working drive's throttle.
    pub(crate) fn throttle(&self, running: &Running) -> f64 {
        let loads = self.loads(running);
        let each = loads.iter().zip(self.circuits());
        each.map(|(l, c)| c.demand(l.shaft_rad_s, l.torque_n_m).throttle)
            .fold(0.0, f64::max)
    }

    fn loads(&self, running: &Running) -> Vec<PropellerLoad> {
        let (motion, around) = (running.motion(), self.surroundings());
        self.propellers()
            .iter()
            .map(|p| p.load(&motion, &around, running.shaft_rad_s))
            .collect()
    }

    /// The narrowest place between rest and planing, where trim is greatest or margin least.
    fn hump(&self, curve: &SpeedCurve) -> Option<Hump> {
        let planing = planing_speed(curve)?;
        let before: Vec<_> = curve
            .running
            .iter()
            .filter(|s| s.speed_m_s <= planing)
            .collect();
        let margin = |s: &RunningState| s.thrust_available_n / s.thrust_needed_n.max(1e-9) - 1.0;
        let worst = before
            .iter()
            .filter(|s| s.speed_m_s > 0.2 * planing)
            .min_by(|a, b| margin(a).total_cmp(&margin(b)))?;
        Some(Hump {
            speed_m_s: worst.speed_m_s,
            margin: margin(worst),
            current_a: worst.drives.iter().map(|d| d.current_a).sum(),
            trim_rad: before
                .iter()
                .map(|s| s.attitude.trim_rad)
                .fold(f64::MIN, f64::max),
        })
    }

    /// Equilibria beside the one reached from rest, at a few speeds: trim is swept, heave and
    /// shaft speed settle, and every change of sign of the pitch moment is refined.
    fn others(&self, running: &[Running]) -> Vec<Running> {
        let sampled = running.iter().skip(SEARCH_EVERY - 1).step_by(SEARCH_EVERY);
        let sampled: Vec<&Running> = sampled.collect();
        sampled
            .par_iter()
            .flat_map_iter(|known| self.others_at(known))
            .collect()
    }

    fn others_at(&self, known: &Running) -> Vec<Running> {
        let mut found = self.balances_by_trim(known, SEARCH);
        found.retain(|other| distinct(other, known));
        found
    }

    /// Every equilibrium at the speed of `near` that a sweep of trim comes across.
    fn balances_by_trim(&self, near: &Running, sweep: Sweep) -> Vec<Running> {
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
                let between = blend(&before, &settled, m / (m - moment));
                let balanced = self
                    .balance(&between)
                    .or_else(|| self.balance_damped(&between));
                found.extend(balanced.filter(|b| found.iter().all(|other| distinct(b, other))));
            }
            start = settled;
            last = Some((settled, moment));
        }
        found
    }

    /// A state with all its numbers.
    pub(crate) fn describe(&self, running: &Running) -> RunningState {
        let (motion, around) = (running.motion(), self.surroundings());
        let mut controls = self.controls();
        controls.shaft_rad_s.fill(running.shaft_rad_s);
        let forces: Vec<ElementForce> = self
            .elements()
            .map(|e| {
                let wrench = e.wrench(&motion, &around, &controls);
                ElementForce {
                    name: e.name().to_owned(),
                    force_n: wrench.force_n,
                    moment_n_m: wrench.moment_n_m,
                }
            })
            .collect();
        let wetted: Vec<WettedSurface> = self
            .elements()
            .filter_map(|e| e.contact(&motion, &around))
            .collect();
        let loads = self.loads(running);
        RunningState {
            speed_m_s: running.speed_m_s,
            throttle: self.throttle(running),
            attitude: running.attitude,
            forces,
            wetted,
            drives: self.drive_states(&loads),
            thrust_needed_n: loads.iter().map(|l| l.thrust_n).sum(),
            thrust_available_n: self
                .wide_open(&motion, &around, Grip::Settled)
                .iter()
                .map(|l| l.thrust_n)
                .sum(),
            notes: self
                .elements()
                .flat_map(|e| e.notes(&motion, &around, &controls))
                .collect(),
            statically_stable: self.pushes_back(running),
        }
    }

    fn drive_states(&self, loads: &[PropellerLoad]) -> Vec<DriveState> {
        let each = self.circuits().iter().zip(self.drive_names()).zip(loads);
        each.map(|((circuit, name), load)| crate::drive::drive_state(circuit, name, load))
            .collect()
    }
}

/// Where dynamic lift first carries half the boat, m/s.
pub fn planing_speed(curve: &SpeedCurve) -> Option<f64> {
    curve
        .running
        .iter()
        .find(|s| s.dynamic_share() >= 0.5)
        .map(|s| s.speed_m_s)
}

/// How hard to look where a branch seems to end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Care {
    /// For the curve shown.
    Thorough,
    /// For one of many samples.
    Quick,
}

/// Trim angles to look at.
#[derive(Clone, Copy)]
struct Sweep {
    from_rad: f64,
    to_rad: f64,
    count: usize,
    /// Take fresh slopes where borrowed ones fail: surer and slower.
    insist: bool,
}

impl Sweep {
    fn trim_rad(&self, i: usize) -> f64 {
        self.from_rad + (self.to_rad - self.from_rad) * i as f64 / (self.count - 1) as f64
    }
}

/// A branch followed through speeds.
#[derive(Default)]
struct March {
    found: Vec<Running>,
    /// Speeds without a state.
    missing: Vec<f64>,
    /// Speeds at which another branch was taken up.
    jumps: Vec<f64>,
}

/// Whether `now` is the same way of running a little faster, and not another one: a boat does not
/// trim or rise this much between neighbouring speeds.
fn follows(before: Option<&Running>, now: &Running) -> bool {
    before.is_none_or(|before| {
        let (a, b) = (&before.attitude, &now.attitude);
        (a.trim_rad - b.trim_rad).abs() < MOST_TRIM_STEP_RAD
            && (a.heel_rad - b.heel_rad).abs() < MOST_TRIM_STEP_RAD
    })
}

fn spaced(end: f64, count: usize) -> Vec<f64> {
    (1..=count).map(|i| end * i as f64 / count as f64).collect()
}

/// Closer together at low speed, where attitude changes quickest.
fn crowded(end: f64, count: usize) -> Vec<f64> {
    let at = |i: usize| end * (i as f64 / count as f64).powf(1.4);
    (1..=count).map(at).collect()
}

fn extrapolated(a: &Running, b: &Running, speed_m_s: f64) -> Running {
    let f = (speed_m_s - a.speed_m_s) / (b.speed_m_s - a.speed_m_s).max(1e-9);
    Running {
        speed_m_s,
        ..blend(a, b, f)
    }
}

fn blend(a: &Running, b: &Running, f: f64) -> Running {
    let mix = |x: f64, y: f64| x + (y - x) * f;
    Running {
        speed_m_s: mix(a.speed_m_s, b.speed_m_s),
        attitude: Attitude {
            rise_m: mix(a.attitude.rise_m, b.attitude.rise_m),
            trim_rad: mix(a.attitude.trim_rad, b.attitude.trim_rad),
            heel_rad: mix(a.attitude.heel_rad, b.attitude.heel_rad),
        },
        shaft_rad_s: mix(a.shaft_rad_s, b.shaft_rad_s).max(0.0),
    }
}

/// Apart by more than what solving leaves open.
fn distinct(a: &Running, b: &Running) -> bool {
    let (a, b) = (&a.attitude, &b.attitude);
    (a.trim_rad - b.trim_rad).abs() > 5e-3 || (a.rise_m - b.rise_m).abs() > 1e-3
}
