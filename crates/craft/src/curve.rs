//! From rest to a little beyond top speed, and every other way the boat could run.

use crate::craft::Craft;
use crate::drive::PropellerLoad;
use crate::elements::propeller::Flow;
use crate::solution::{
    Attitude, DriveState, ElementForce, Hump, RunningState, SpeedCurve, WettedSurface,
};
use crate::steady::Running;

/// How many speeds the first pass takes up to the propeller's unloaded pitch speed.
const COARSE: usize = 40;
/// Speeds in the finished curve go this far beyond top speed.
const BEYOND_TOP: f64 = 1.1;
/// Trim angles searched for other equilibria, rad.
const SEARCH_TRIM: (f64, f64, usize) = (-0.07, 0.6, 18);
/// Speeds at which they are searched for.
const SEARCH_SPEEDS: usize = 8;

impl Craft {
    /// The whole curve at `count` speeds. Empty for a boat without a drive.
    pub fn speed_curve(&self, count: usize) -> SpeedCurve {
        let mut curve = SpeedCurve::default();
        if self.propellers().is_empty() || count < 2 {
            return curve;
        }
        let limit = self.pitch_speed_m_s();
        let coarse = self.march(&spaced(limit, COARSE), &mut Vec::new());
        let top = self.top_of(&coarse);
        let end = top
            .as_ref()
            .map_or(limit, |t| (t.speed_m_s * BEYOND_TOP).min(limit));
        let fine = self.march(&spaced(end, count), &mut curve.missing_m_s);
        curve.running = fine.iter().map(|b| self.describe(b)).collect();
        curve.top = top.map(|t| self.describe(&t));
        curve.hump = self.hump(&curve);
        curve.others = self
            .others(&fine)
            .iter()
            .map(|b| self.describe(b))
            .collect();
        curve
    }

    /// Top speed alone, for sampling: `None` when it never balances.
    pub fn top_speed(&self) -> Option<RunningState> {
        let coarse = self.march(&spaced(self.pitch_speed_m_s(), COARSE), &mut Vec::new());
        self.top_of(&coarse).map(|t| self.describe(&t))
    }

    /// Speed at which the fastest-turning propeller would screw through a solid, unloaded, m/s.
    pub fn pitch_speed_m_s(&self) -> f64 {
        let each = self.propellers().iter().zip(self.circuits());
        each.map(|(p, c)| p.pitch_m() * c.unloaded_rad_s() / std::f64::consts::TAU)
            .fold(0.5, f64::max)
    }

    /// Follows the state reached from rest through increasing speeds; lists speeds with none.
    fn march(&self, speeds: &[f64], missing: &mut Vec<f64>) -> Vec<Running> {
        let mut found: Vec<Running> = Vec::with_capacity(speeds.len());
        let mut slopes = None;
        for &speed_m_s in speeds {
            let start = self.guess(&found, speed_m_s);
            // Once the branch has ended, creeping on at every further speed finds nothing.
            let ended = missing.len() >= 2;
            let settled = self.balance_with(&start, &mut slopes).or_else(|| {
                if ended {
                    None
                } else {
                    self.creep(&found, speed_m_s)
                }
            });
            match settled {
                Some(running) => found.push(running),
                None => {
                    slopes = None;
                    missing.push(speed_m_s);
                }
            }
        }
        found
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

    /// Small steps from the last known state when one long step fails.
    fn creep(&self, found: &[Running], speed_m_s: f64) -> Option<Running> {
        let mut at = *found.last()?;
        let from = at.speed_m_s;
        for i in 1..=8 {
            let speed_m_s = from + (speed_m_s - from) * f64::from(i) / 8.0;
            at = self.balance(&Running { speed_m_s, ..at })?;
        }
        Some(at)
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
            let Some(mid) = self.balance_with(&start, &mut slopes) else {
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
        let every = (running.len() / SEARCH_SPEEDS).max(1);
        let sampled = running.iter().skip(every - 1).step_by(every);
        sampled.flat_map(|known| self.others_at(known)).collect()
    }

    fn others_at(&self, known: &Running) -> Vec<Running> {
        let (low, high, count) = SEARCH_TRIM;
        let mut found: Vec<Running> = Vec::new();
        let mut last: Option<(Running, f64)> = None;
        let mut start = *known;
        for i in 0..count {
            let trim_rad = low + (high - low) * i as f64 / (count - 1) as f64;
            start.attitude.trim_rad = trim_rad;
            let Some((settled, moment)) = self.settle_at_trim(&start) else {
                last = None;
                continue;
            };
            if let Some((before, m)) = last.filter(|(_, m)| m * moment < 0.0) {
                let between = blend(&before, &settled, m / (m - moment));
                found.extend(self.balance(&between).filter(|b| {
                    distinct(b, known) && found.iter().all(|other| distinct(b, other))
                }));
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
        let flows: Vec<Flow> = self
            .propellers()
            .iter()
            .map(|p| p.flow(&motion, &around))
            .collect();
        RunningState {
            speed_m_s: running.speed_m_s,
            throttle: self.throttle(running),
            attitude: running.attitude,
            forces,
            wetted,
            drives: self.drive_states(&loads),
            thrust_needed_n: loads.iter().map(|l| l.thrust_n).sum(),
            thrust_available_n: self.available(&flows),
            notes: self
                .elements()
                .flat_map(|e| e.notes(&motion, &around, &controls))
                .collect(),
            statically_stable: self.pushes_back(running),
        }
    }

    fn drive_states(&self, loads: &[PropellerLoad]) -> Vec<DriveState> {
        let each = self.circuits().iter().zip(self.drive_names()).zip(loads);
        each.map(|((circuit, name), load)| circuit.state(name, load))
            .collect()
    }

    /// Thrust with every drive at full throttle in the flow of this state, N.
    fn available(&self, flows: &[Flow]) -> f64 {
        let around = self.surroundings();
        let each = self.propellers().iter().zip(self.circuits()).zip(flows);
        each.map(|((propeller, circuit), flow)| {
            let load = |shaft| propeller.load_in(flow, &around, shaft);
            let shaft = circuit.full_throttle_rad_s(|shaft| load(shaft).torque_n_m);
            load(shaft).thrust_n
        })
        .sum()
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

fn spaced(end: f64, count: usize) -> Vec<f64> {
    (1..=count).map(|i| end * i as f64 / count as f64).collect()
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
