//! How close a boat is to flying: pitch and gust to lift-off, and the odds over ripple.
//!
//! At one speed the boat has a running state and, nose high, an airborne one that is not stable. Here the
//! trim is raised from the running state in small steps; at each the height is sought at which the boat
//! neither rises nor sinks (speed and throttle held: a gust is over before the speed changes, while a shaft
//! answers its load within some 20 ms, before the bow has moved), and the pitch moment left there is looked
//! at. Below the unstable state it pushes the bow back down; past it, up. A trim at which no height holds the
//! boat down is past it too: it flies.
//!
//! - Pitch margin: from running trim to the unstable state.
//! - Gust margin: the steady headwind, beside the declared one, beyond which no trim pushes back.
//! - Where both shrink to nothing along speed, running state and airborne state meet.
//!
//! Theory, unvalidated: no measured blow-over of such boats was found. [`odds`] asks the run in time instead.

mod odds;

use craft::motion::{Controls, Motion, Surroundings};
use craft::steady::Running;
use craft::{Craft, SpeedCurve};
use laws::numerics::roots::{Bracket, outward, root};
use laws::smooth::step;
use nalgebra::Vector3;
use std::cell::RefCell;

pub use odds::{Odds, OddsGrid, differences, odds};

/// Trim is raised by this much at a time, rad (half a degree).
const STEP_RAD: f64 = 0.5 * std::f64::consts::PI / 180.0;
/// Not looked for beyond this trim, rad (45 deg).
pub const HIGHEST_RAD: f64 = 0.785;
/// A gust beyond a storm is no gust, m/s.
pub const STRONGEST_M_S: f64 = 25.0;
/// A gust of a fresh day, m/s.
pub const USUAL_GUST_M_S: f64 = 5.0;
/// Gusts are told apart to this, m/s.
const GUST_STEP_M_S: f64 = 0.2;
/// Heights and trims are found to this, m and rad.
const CLOSE_M: f64 = 1e-6;
const CLOSE_RAD: f64 = 1e-5;
/// The worst speed is looked for first at so many, then to this share of the way between two of them.
const LOOKS: usize = 12;
const CLOSE_LOOK: f64 = 0.05;
/// A bow that was tipped up is as likely caught as not where so much of the work that tipped it is taken back: water and
/// air have damped the rest (judgement). Much less is a ledge that it swings over.
const CAUGHT: f64 = 0.05;
/// First step of the search for a height, m, and how far up it goes before the boat is said to fly.
const FIRST_M: f64 = 1e-4;
const GROWS: f64 = 2.5;
const FLIES_M: f64 = 0.5;
/// Beyond top speed the running state is followed in steps of this share, up to [`FURTHEST`] times.
const FASTER: f64 = 1.08;
const FURTHEST: f64 = 3.0;

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

    /// The same in a gust of [`USUAL_GUST_M_S`], and without one where only that tips it.
    pub fn in_gust_rad(&self) -> Option<f64> {
        let tips = self.unstable_in_gust_rad.or(self.unstable_trim_rad);
        tips.map(|t| (t - self.running_trim_rad).max(0.0))
    }
}

/// Along the speed curve.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Margins {
    /// By speed, from planing to top speed.
    pub points: Vec<Margin>,
    /// Where it is least in a gust, of all speeds between planing and top speed.
    pub worst: Option<Margin>,
    /// Speed at which running and unstable state meet, looked for up to three times top speed, m/s.
    pub meet_m_s: Option<f64>,
}

/// Margins at `count` speeds between planing and top speed, the worst of all, and where they end. Each speed is solved
/// for: where the curve's own states lie changes nothing.
pub fn margins(craft: &Craft, curve: &SpeedCurve, count: usize) -> Margins {
    let Some(top) = &curve.top else {
        return Margins::default();
    };
    let from = craft::curve::planing_speed(curve).unwrap_or(top.speed_m_s);
    let from = from.min(top.speed_m_s);
    let running = |share: f64| {
        let speed_m_s = from + (top.speed_m_s - from) * share;
        if share >= 1.0 {
            return Some(top.running());
        }
        craft.on_curve(curve, speed_m_s).map(|s| s.running())
    };
    let points = || {
        (1..=count.max(1))
            .filter_map(|i| running(i as f64 / count.max(1) as f64))
            .map(|r| margin(craft, &r))
            .collect()
    };
    let (points, (worst, meet_m_s)) = rayon::join(points, || {
        (worst(craft, running), meeting(craft, &top.running()))
    });
    Margins {
        points,
        worst,
        meet_m_s,
    }
}

/// Pitch between running and the unstable state in a gust of [`USUAL_GUST_M_S`], rad; up to 45 degrees where there is
/// none.
pub fn spare_in_gust_rad(craft: &Craft, running: &Running) -> f64 {
    let tips = Sweep::of(craft, running).up(USUAL_GUST_M_S).unstable_rad;
    tips.unwrap_or(HIGHEST_RAD) - running.attitude.trim_rad
}

/// The least pitch to spare in a gust, by halved steps about the worst of a few.
fn worst(craft: &Craft, running: impl Fn(f64) -> Option<Running>) -> Option<Margin> {
    let spare = |share: f64| {
        let running = running(share)?;
        Some((share, spare_in_gust_rad(craft, &running), running))
    };
    let less = |a: (f64, f64, Running), b: (f64, f64, Running)| if b.1 < a.1 { b } else { a };
    // The faster of two alike: from there it is thrown further.
    let looks = (0..LOOKS).rev();
    let mut best = looks
        .filter_map(|i| spare(i as f64 / (LOOKS - 1) as f64))
        .reduce(less)?;
    let first = 1.0 / (LOOKS - 1) as f64;
    let mut width = first;
    while width > CLOSE_LOOK * first {
        width *= 0.5;
        let sides = [best.0 + width, best.0 - width];
        let beside = sides.into_iter().filter(|s| (0.0..=1.0).contains(s));
        best = beside.filter_map(spare).fold(best, less);
    }
    Some(margin(craft, &best.2))
}

/// Follows the running state to higher speeds until it stands no gust any more, or is gone.
fn meeting(craft: &Craft, last: &Running) -> Option<f64> {
    let mut here = *last;
    let stands = |running: &Running| Sweep::of(craft, running).stands(0.0);
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

/// The boat with its bow put up to a trim under an added headwind, at the height that holds it there; `None` where it
/// flies before.
pub fn raised(craft: &Craft, running: &Running, trim_rad: f64, gust_m_s: f64) -> Option<Running> {
    let sweep = Sweep::of(craft, running);
    let mut raised = *running;
    while raised.attitude.trim_rad < trim_rad {
        let next_rad = (raised.attitude.trim_rad + STEP_RAD).min(trim_rad);
        raised.attitude.rise_m = sweep.height(next_rad, gust_m_s, raised.attitude.rise_m)?;
        raised.attitude.trim_rad = next_rad;
    }
    Some(raised)
}

/// How near one running state is to flying.
pub fn margin(craft: &Craft, running: &Running) -> Margin {
    let sweep = Sweep::of(craft, running);
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
    /// Of each propeller, as it runs.
    throttle: Vec<f64>,
    /// Each propeller's shaft speed as last found, rad/s, and how throttle grows with it there.
    turned: RefCell<Vec<(f64, f64)>>,
}

/// What pitching up shows.
#[derive(Default)]
struct Shown {
    lift_off_rad: Option<f64>,
    unstable_rad: Option<f64>,
}

/// Trims past which the bow goes up by itself, each with how surely it is caught further up.
///
/// What tips it and what pushes it back since are moments summed over steps. A bow caught as likely as not counts as
/// tipped half-way to the next such trim: so nothing jumps as a ledge that just catches it just does not.
struct Tips {
    /// In rising order: where, and how surely it is caught before the next, 0 to 1.
    all: Vec<(f64, f64)>,
    /// The last of them has not caught it for certain.
    open: bool,
    up: f64,
    back: f64,
}

impl Tips {
    /// Nothing yet has pushed the bow back down to the running trim.
    fn at(running_rad: f64) -> Self {
        Self {
            all: vec![(running_rad, 0.0)],
            open: true,
            up: 0.0,
            back: 0.0,
        }
    }

    /// Adds a step. `tips_rad` tells where in it the bow begins to go up.
    fn step(&mut self, moment: f64, tips_rad: impl FnOnce() -> Option<f64>) {
        if moment < 0.0 {
            self.back -= moment;
            let Some(last) = self.all.last_mut().filter(|_| self.open) else {
                return;
            };
            last.1 = step(0.0, 2.0 * CAUGHT, self.back / self.up.max(1e-12));
            self.open = last.1 < 1.0;
            return;
        }
        if self.back > 0.0 || !self.open {
            if let Some(at) = tips_rad() {
                self.all.push((at, 0.0));
            }
            self.up = if self.open {
                (self.up - self.back).max(0.0)
            } else {
                0.0
            };
            (self.back, self.open) = (0.0, true);
        }
        self.up += moment;
    }

    /// Ends where it flies, or at [`HIGHEST_RAD`]; `None` where nothing tips it.
    fn end(&self, flies_rad: Option<f64>) -> Option<f64> {
        // From where it flies down: what a bow that rests before each of them may be tipped to.
        let mut rests = vec![flies_rad.unwrap_or(HIGHEST_RAD)];
        for (i, (at, _)) in self.all.iter().enumerate().rev() {
            let (mut ends, mut goes_on) = (0.0, 1.0);
            for ((_, caught), beyond) in self.all[i..].iter().zip(rests.iter().rev()) {
                ends += goes_on * caught * beyond;
                goes_on *= 1.0 - caught;
            }
            rests.push(ends + goes_on * at);
        }
        let ends = rests[rests.len() - 1];
        (ends < HIGHEST_RAD).then_some(ends)
    }
}

impl<'a> Sweep<'a> {
    fn of(craft: &'a Craft, running: &'a Running) -> Self {
        let shaft = running.shaft_rad_s;
        let motion = running.motion();
        let demands = craft.demands(&motion, shaft);
        let throttle: Vec<f64> = demands.map(|d| d.throttle).collect();
        let turned = throttle
            .iter()
            .zip(craft.shafts_rad_s(shaft, running.speed_m_s))
            .map(|(t, shaft)| (shaft, 2.0 * t.max(0.05) / shaft.max(1.0)));
        Self {
            craft,
            running,
            turned: RefCell::new(turned.collect()),
            throttle,
        }
    }

    /// Shaft speeds at which each propeller takes what its motor gives at the held throttle.
    fn controls(&self, motion: &Motion, around: &Surroundings) -> Controls {
        let mut controls = self.craft.controls();
        let running = self.running;
        self.craft
            .turn(&mut controls, running.shaft_rad_s, running.speed_m_s);
        let drives = self.craft.propellers().iter().zip(self.craft.circuits());
        let mut turned = self.turned.borrow_mut();
        for (((propeller, circuit), throttle), known) in
            drives.zip(&self.throttle).zip(turned.iter_mut())
        {
            let flow = propeller.flow(motion, around);
            let torque_n_m = |shaft| propeller.load_in(&flow, around, shaft).torque_n_m;
            *known = circuit.run_near(*throttle, *known, torque_n_m);
            if let Some(shaft) = controls.shaft_rad_s.get_mut(propeller.drive) {
                *shaft = known.0;
            }
        }
        controls
    }

    /// Raises the trim under an added headwind until it flies or stands on its tail. Where nothing ever brings the bow
    /// back down, the running trim itself is past the unstable state.
    fn up(&self, gust_m_s: f64) -> Shown {
        let mut shown = Shown::default();
        let mut tips = Tips::at(self.running.attitude.trim_rad);
        let mut flies_rad = None;
        let mut rise_m = self.running.attitude.rise_m;
        let (mut trim_rad, mut before) = (self.running.attitude.trim_rad, 0.0);
        let mut rises_m = 0.0;
        while trim_rad + STEP_RAD < HIGHEST_RAD {
            let last_m = rise_m;
            trim_rad += STEP_RAD;
            let Some(held) = self.height(trim_rad, gust_m_s, rise_m + rises_m) else {
                let flies = self.flies_from(trim_rad - STEP_RAD, gust_m_s, last_m);
                shown.lift_off_rad.get_or_insert(flies);
                flies_rad = Some(flies);
                break;
            };
            (rises_m, rise_m) = (held - last_m, held);
            if shown.lift_off_rad.is_none() && self.is_clear(trim_rad, rise_m) {
                shown.lift_off_rad = Some(trim_rad);
            }
            let moment = self.left_over(trim_rad, rise_m, gust_m_s).1;
            tips.step(moment, || {
                self.tips_at(trim_rad, (before, moment), gust_m_s, last_m)
            });
            before = moment;
        }
        shown.unstable_rad = tips.end(flies_rad);
        shown
    }

    /// Trim at which the moment changes sign in the step up to `to_rad`.
    fn tips_at(&self, to_rad: f64, moments: (f64, f64), gust_m_s: f64, near_m: f64) -> Option<f64> {
        let bracket = Bracket {
            a: (to_rad - STEP_RAD, moments.0),
            b: (to_rad, moments.1),
        };
        let moment = |trim_rad: f64| {
            let held = self.height(trim_rad, gust_m_s, near_m);
            // Where no height holds it down it is past.
            held.map_or(moments.1, |rise_m| {
                self.left_over(trim_rad, rise_m, gust_m_s).1
            })
        };
        root(moment, bracket, CLOSE_RAD).or(Some(to_rad))
    }

    /// Trim from which no height holds it down, in the step from `from_rad` on.
    fn flies_from(&self, from_rad: f64, gust_m_s: f64, near_m: f64) -> f64 {
        let (mut low, mut high) = (from_rad, from_rad + STEP_RAD);
        while high - low > 0.02 * STEP_RAD {
            let middle = 0.5 * (low + high);
            match self.height(middle, gust_m_s, near_m) {
                Some(_) => low = middle,
                None => high = middle,
            }
        }
        high
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
        let (mut trim_rad, mut rises_m) = (self.running.attitude.trim_rad, 0.0);
        while trim_rad + STEP_RAD < HIGHEST_RAD {
            trim_rad += STEP_RAD;
            let Some(held) = self.height(trim_rad, gust_m_s, rise_m + rises_m) else {
                return false;
            };
            (rises_m, rise_m) = (held - rise_m, held);
            if self.left_over(trim_rad, rise_m, gust_m_s).1 < 0.0 {
                return true;
            }
        }
        false
    }

    /// The height at which it neither rises nor sinks, near another; `None` when it flies.
    fn height(&self, trim_rad: f64, gust_m_s: f64, near_m: f64) -> Option<f64> {
        let lift = |rise_m: f64| self.left_over(trim_rad, rise_m, gust_m_s).0;
        let near = lift(near_m);
        let lift = |rise_m: f64| if rise_m == near_m { near } else { lift(rise_m) };
        let bracket = outward(lift, near_m, FIRST_M.copysign(near), GROWS, FLIES_M)?;
        root(lift, bracket, CLOSE_M)
    }

    /// Heave over weight, and pitch moment, bow up, over weight times length.
    fn left_over(&self, trim_rad: f64, rise_m: f64, gust_m_s: f64) -> (f64, f64) {
        let motion = pitched(self.running, trim_rad, rise_m);
        let around = blown(self.craft, gust_m_s);
        let controls = self.controls(&motion, &around);
        let total = self.craft.total_in(&motion, &around, &controls);
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
