//! How close a boat is to flying: pitch and gust to lift-off, and the odds over ripple.
//!
//! At one speed the boat has a running state and, nose high, an airborne one that is not stable. Here the
//! trim is raised from the running state in small steps; at each the height is sought at which the boat
//! neither rises nor sinks (speed and shaft speed held: a gust is over before they change), and the pitch
//! moment left there is looked at. Below the unstable state it pushes the bow back down; past it, up. A trim
//! at which no height holds the boat down is past it too: it flies.
//!
//! - Pitch margin: from running trim to the unstable state.
//! - Gust margin: the steady headwind, beside the declared one, beyond which no trim pushes back.
//! - Where both shrink to nothing along speed, running state and airborne state meet.
//!
//! Theory, unvalidated: no measured blow-over of such boats was found. [`odds`] asks the run in time instead.

mod odds;

use craft::motion::{Motion, Surroundings};
use craft::steady::Running;
use craft::{Craft, RunningState, SpeedCurve};
use nalgebra::Vector3;

pub use odds::{Asked, Odds, holding_throttle, odds};

/// Trim is raised by this much at a time, rad (half a degree).
const STEP_RAD: f64 = 0.5 * std::f64::consts::PI / 180.0;
/// Not looked for beyond this trim, rad (45 deg).
const HIGHEST_RAD: f64 = 0.785;
/// A gust beyond a storm is no gust, m/s.
pub const STRONGEST_M_S: f64 = 25.0;
/// A gust of a fresh day, m/s.
pub const USUAL_GUST_M_S: f64 = 5.0;
/// Gusts are told apart to this, m/s.
const GUST_STEP_M_S: f64 = 0.2;
/// Share of weight left over in heave.
const TOLERANCE: f64 = 1e-4;
/// First step of the search for a height, m, and how far up it goes before the boat is said to fly.
const FIRST_M: f64 = 5e-4;
const FLIES_M: f64 = 0.5;
/// Beyond top speed the running state is followed in steps of this share, up to [`FURTHEST`] times.
const FASTER: f64 = 1.08;
const FURTHEST: f64 = 2.5;

/// How near a running state is to flying.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Margin {
    /// m/s.
    pub speed_m_s: f64,
    /// As it runs.
    pub running_trim_rad: f64,
    /// Trim at which the last running surface leaves the water on the way up.
    pub lift_off_trim_rad: Option<f64>,
    /// Trim past which it goes on by itself; `None` when there is none below 45 degrees.
    pub unstable_trim_rad: Option<f64>,
    /// The unstable trim in a gust of [`USUAL_GUST_M_S`].
    pub unstable_in_gust_rad: Option<f64>,
    /// Steady headwind added to the declared one that it just stands, m/s; `None` above a storm.
    pub gust_m_s: Option<f64>,
}

impl Margin {
    /// Pitch between running and the unstable state.
    pub fn pitch_rad(&self) -> Option<f64> {
        self.unstable_trim_rad.map(|t| t - self.running_trim_rad)
    }
}

/// Along the speed curve.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Margins {
    /// By speed, up to a little past top speed.
    pub points: Vec<Margin>,
    /// Speed at which running and unstable state meet, looked for up to 2.5 times top speed, m/s.
    pub meet_m_s: Option<f64>,
}

/// Margins at about `count` speeds of a curve, and where they end.
pub fn margins(craft: &Craft, curve: &SpeedCurve, count: usize) -> Margins {
    let planing = craft::curve::planing_speed(curve).unwrap_or(0.0);
    let states: Vec<&RunningState> = curve
        .running
        .iter()
        .filter(|s| s.speed_m_s >= planing)
        .collect();
    let every = states.len().div_ceil(count.max(1)).max(1);
    let mut points: Vec<Margin> = states
        .iter()
        .rev()
        .step_by(every)
        .map(|s| margin(craft, &as_running(s)))
        .collect();
    points.reverse();
    let meet_m_s = states.last().and_then(|s| meeting(craft, &as_running(s)));
    Margins { points, meet_m_s }
}

/// A state of a curve as the solvers hold it.
pub fn as_running(state: &RunningState) -> Running {
    Running {
        speed_m_s: state.speed_m_s,
        attitude: state.attitude,
        shaft_rad_s: state.drives.first().map_or(0.0, |d| d.shaft_rad_s),
    }
}

/// Follows the running state to higher speeds until it stands no gust any more, or is gone.
fn meeting(craft: &Craft, last: &Running) -> Option<f64> {
    let mut here = *last;
    let stands = |running: &Running| Sweep { craft, running }.stands(0.0);
    if !stands(&here) {
        return Some(here.speed_m_s);
    }
    while here.speed_m_s < FURTHEST * last.speed_m_s {
        let next = Running {
            speed_m_s: FASTER * here.speed_m_s,
            shaft_rad_s: FASTER * here.shaft_rad_s,
            ..here
        };
        let settled = craft
            .balance(&next)
            .filter(|r| (r.attitude.trim_rad - here.attitude.trim_rad).abs() < 0.1);
        match settled.filter(|r| stands(r)) {
            Some(running) => here = running,
            None => return Some(0.5 * (here.speed_m_s + next.speed_m_s)),
        }
    }
    None
}

/// How near one running state is to flying.
pub fn margin(craft: &Craft, running: &Running) -> Margin {
    let sweep = Sweep { craft, running };
    let still = sweep.up(0.0);
    Margin {
        speed_m_s: running.speed_m_s,
        running_trim_rad: running.attitude.trim_rad,
        lift_off_trim_rad: still.lift_off_rad,
        unstable_trim_rad: still.unstable_rad,
        unstable_in_gust_rad: sweep.up(USUAL_GUST_M_S).unstable_rad,
        gust_m_s: sweep.gust_m_s(),
    }
}

/// One speed, pitched up.
struct Sweep<'a> {
    craft: &'a Craft,
    running: &'a Running,
}

/// What pitching up shows.
#[derive(Default)]
struct Shown {
    /// Some trim at or above the running one pushes the bow back down.
    pushed_back: bool,
    lift_off_rad: Option<f64>,
    unstable_rad: Option<f64>,
}

impl Sweep<'_> {
    /// Raises the trim under an added headwind until it flies or stands on its tail.
    fn up(&self, gust_m_s: f64) -> Shown {
        let mut shown = Shown::default();
        let mut rise_m = self.running.attitude.rise_m;
        let (mut trim_rad, mut before) = (self.running.attitude.trim_rad, 0.0);
        while trim_rad + STEP_RAD < HIGHEST_RAD {
            trim_rad += STEP_RAD;
            let Some(held) = self.height(trim_rad, gust_m_s, rise_m) else {
                shown.lift_off_rad.get_or_insert(trim_rad);
                if shown.pushed_back {
                    shown.unstable_rad.get_or_insert(trim_rad);
                }
                break;
            };
            rise_m = held;
            if shown.lift_off_rad.is_none() && self.is_clear(trim_rad, rise_m) {
                shown.lift_off_rad = Some(trim_rad);
            }
            let moment = self.left_over(trim_rad, rise_m, gust_m_s).1;
            if moment < 0.0 {
                // Whatever tipped it below, something still brings it back from here.
                shown.pushed_back = true;
                shown.unstable_rad = None;
            } else if shown.pushed_back && shown.unstable_rad.is_none() {
                let share = moment / (moment - before).max(1e-12);
                shown.unstable_rad = Some(trim_rad - STEP_RAD * share.clamp(0.0, 1.0));
            }
            before = moment;
        }
        shown
    }

    /// Greatest added headwind under which some trim still pushes back; `None` above a storm.
    fn gust_m_s(&self) -> Option<f64> {
        let stands = |gust: f64| self.stands(gust);
        if !stands(0.0) {
            return Some(0.0);
        }
        if stands(STRONGEST_M_S) {
            return None;
        }
        let (mut low, mut high) = (0.0, STRONGEST_M_S);
        while high - low > GUST_STEP_M_S {
            let middle = 0.5 * (low + high);
            if stands(middle) {
                low = middle;
            } else {
                high = middle;
            }
        }
        Some(low)
    }

    /// As [`Sweep::up`], ended at the first trim that pushes back.
    fn stands(&self, gust_m_s: f64) -> bool {
        let mut rise_m = self.running.attitude.rise_m;
        let mut trim_rad = self.running.attitude.trim_rad;
        while trim_rad + STEP_RAD < HIGHEST_RAD {
            trim_rad += STEP_RAD;
            let Some(held) = self.height(trim_rad, gust_m_s, rise_m) else {
                return false;
            };
            rise_m = held;
            if self.left_over(trim_rad, rise_m, gust_m_s).1 < 0.0 {
                return true;
            }
        }
        false
    }

    /// The height at which it neither rises nor sinks, near another; `None` when it flies.
    fn height(&self, trim_rad: f64, gust_m_s: f64, near_m: f64) -> Option<f64> {
        let lift = |rise_m: f64| self.left_over(trim_rad, rise_m, gust_m_s).0;
        let (mut a, mut at_a) = (near_m, lift(near_m));
        let mut step = FIRST_M.copysign(at_a);
        let (mut b, mut at_b) = (a, at_a);
        while at_a * at_b > 0.0 {
            (a, at_a) = (b, at_b);
            b += step;
            at_b = lift(b);
            step *= 1.6;
            if (b - near_m).abs() > FLIES_M {
                return None;
            }
        }
        // Regula falsi after the Illinois rule: keeps its bracket.
        for _ in 0..60 {
            let c = (a * at_b - b * at_a) / (at_b - at_a);
            let at_c = lift(c);
            if at_c.abs() < TOLERANCE || (b - a).abs() < 1e-9 {
                return Some(c);
            }
            if at_c * at_b < 0.0 {
                (a, at_a) = (b, at_b);
            } else {
                at_a *= 0.5;
            }
            (b, at_b) = (c, at_c);
        }
        Some(b)
    }

    /// Heave over weight, and pitch moment, bow up, over weight times length.
    fn left_over(&self, trim_rad: f64, rise_m: f64, gust_m_s: f64) -> (f64, f64) {
        let motion = pitched(self.running, trim_rad, rise_m);
        let around = blown(self.craft, gust_m_s);
        let mut controls = self.craft.controls();
        controls.shaft_rad_s.fill(self.running.shaft_rad_s);
        let total: craft::element::Wrench = self
            .craft
            .elements()
            .map(|e| e.wrench(&motion, &around, &controls))
            .sum();
        let moment = total.moment_n_m - self.craft.cg_m().cross(&total.force_n);
        let weight = self.craft.weight_n();
        let up = (motion.attitude * total.force_n).z / weight;
        (up, -moment.y / (weight * self.craft.length_m()))
    }

    /// Whether no running surface touches the water.
    fn is_clear(&self, trim_rad: f64, rise_m: f64) -> bool {
        let motion = pitched(self.running, trim_rad, rise_m);
        let around = self.craft.surroundings();
        self.craft
            .elements()
            .filter_map(|e| e.contact(&motion, &around))
            .all(|wet| wet.keel_length_m <= 0.0)
    }
}

fn pitched(running: &Running, trim_rad: f64, rise_m: f64) -> Motion {
    let mut at = *running;
    at.attitude.trim_rad = trim_rad;
    at.attitude.rise_m = rise_m;
    at.motion()
}

fn blown(craft: &Craft, gust_m_s: f64) -> Surroundings<'static> {
    let around = craft.surroundings();
    Surroundings {
        wind_m_s: around.wind_m_s - Vector3::x() * gust_m_s,
        ..around
    }
}
