//! What full throttle comes to: the steady top speed, or what a run in time does where there is none.
//!
//! A steady state is an answer as long as the boat stays there: [`let_go`] there in time, it may hop or go on to
//! another speed. Where it does, and where accelerating leads past every steady state
//! (`craft::Unsteady`; then the boat starts from rest), the last seconds of the run on flat water are told: mean, and
//! how it moves about it. A run that ends on its back, or that the integrator cannot carry on, says so.

use craft::attitude::at_height;
use craft::steady::Running;
use craft::{Attitude, CannotRun, Craft, NoTop, RunningState, SpeedCurve, Unsteady};
use laws::numerics::roots::{outward, root};
use std::ops::ControlFlow;

use crate::run::{Conditions, Run, RunError, STEP_S, Sample, Start, Stopped, run, run_while};
use crate::script::Script;

/// Run for so long, of which the last part is looked at, s.
pub const RUN_S: f64 = 10.0;
const LAST_S: f64 = 2.0;
/// A boat let go at its steady top speed runs for so long, s: a hop that has not grown by then grows slowly.
pub const LET_GO_S: f64 = 6.0;
/// Its bow is that much up then, rad (half a degree, what a ripple of some millimetres does; judgement).
const NUDGED_RAD: f64 = 0.009;
/// Throttle from shut to open, s.
const SQUEEZE_S: f64 = 3.0;
/// Settled: neither swinging nor still gaining more than this, as shares of speed; and trim swinging by no more than
/// this, rad (a quarter of a degree): a boat that hops has another mean speed than one that runs.
const STILL: f64 = 0.01;
const STILL_RAD: f64 = 0.0044;
/// How much deeper or higher than its mean height a boat is first looked at, and at most, m.
const DEEPER_M: f64 = 1e-3;
const DEEPEST_M: f64 = 0.05;
/// Whether nothing moves any more is looked at every so many samples.
const LOOKED: usize = 10;
/// And not before, s.
const WAITED_S: f64 = 1.0;
/// A boat whose speed ends up further than this share from where it was let go does not stay there.
pub const ELSEWHERE: f64 = 0.015;

/// The last seconds of a run.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Settled {
    /// m/s.
    pub mean_m_s: f64,
    /// Half of highest less lowest, m/s.
    pub swing_m_s: f64,
    /// Mean of the second half less that of the first, m/s.
    pub gain_m_s: f64,
    /// Mean trim and half its swing, rad.
    pub trim_rad: (f64, f64),
    /// Mean heel, starboard down, rad.
    pub heel_rad: f64,
    /// Mean height of the centre of gravity above still water, m.
    pub height_m: f64,
    /// Mean current of the hardest-worked pack, A.
    pub current_a: f64,
}

impl Settled {
    /// Its bow swings.
    pub fn hops(&self) -> bool {
        self.trim_rad.1 >= STILL_RAD
    }

    /// Neither swings nor gains.
    pub fn is_steady(&self) -> bool {
        self.swing_m_s.max(self.gain_m_s.abs()) < STILL * self.mean_m_s.max(0.1) && !self.hops()
    }

    /// Nothing moves any more: a tenth of what counts as steady.
    fn is_still(&self) -> bool {
        let moves = self.swing_m_s.max(self.gain_m_s.abs());
        moves < 0.1 * STILL * self.mean_m_s && self.trim_rad.1 < 0.1 * STILL_RAD
    }

    pub(crate) fn of(last: &[Sample]) -> Option<Self> {
        let (first, second) = last.split_at(last.len() / 2);
        if first.is_empty() {
            return None;
        }
        let mean =
            |s: &[Sample], of: fn(&Sample) -> f64| s.iter().map(of).sum::<f64>() / s.len() as f64;
        let swing = |of: fn(&Sample) -> f64| {
            let values = || last.iter().map(of);
            0.5 * (values().fold(f64::MIN, f64::max) - values().fold(f64::MAX, f64::min))
        };
        let speed = |s: &Sample| s.speed_m_s;
        Some(Self {
            mean_m_s: mean(last, speed),
            swing_m_s: swing(speed),
            gain_m_s: mean(second, speed) - mean(first, speed),
            trim_rad: (mean(last, |s| s.trim_rad), swing(|s| s.trim_rad)),
            heel_rad: mean(last, |s| s.heel_rad),
            height_m: mean(last, |s| s.place_m[2]),
            current_a: mean(last, |s| s.current_a),
        })
    }

    /// The boat at full throttle as it runs on average: at its mean speed, trim and heel, and as deep as takes its mean
    /// current. The mean height would not do: a propeller that leaps clear of the water in half of its hops is not half
    /// as deep on average. For the same reason a boat that hops heels as it does `without` hopping, where that is known.
    fn on_average(&self, craft: &Craft, without: Option<&RunningState>) -> RunningState {
        let steady = without.filter(|_| self.hops());
        let heel_rad = steady.map_or(self.heel_rad, |s| s.attitude.heel_rad);
        let at = |height_m: f64| {
            let attitude = at_height(&craft.cg_m(), height_m, self.trim_rad.0, heel_rad);
            craft.wide_open_at(self.mean_m_s, attitude)
        };
        let current_a = |s: &RunningState| s.drives.iter().map(|d| d.current_a).fold(0.0, f64::max);
        let mut over = |height_m: f64| current_a(&at(height_m)) - self.current_a;
        let step_m = DEEPER_M.copysign(over(self.height_m));
        let bracket = outward(&mut over, self.height_m, step_m, 1.5, DEEPEST_M);
        let height_m = bracket.and_then(|b| root(over, b, 1e-5));
        at(height_m.unwrap_or(self.height_m))
    }
}

/// How a run at full throttle goes.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub enum InTime {
    /// It goes on.
    Runs(Settled),
    /// It ends on its back, its side or its nose.
    Over(String),
    /// It could not be begun or carried on.
    Stuck(String),
}

/// What full throttle comes to.
#[derive(Debug, Clone, PartialEq)]
pub enum TopSpeed {
    /// It settles at this state.
    Steady(Box<RunningState>),
    /// It does not settle by itself; a run in time tells what it does.
    Unsteady {
        /// Why there is no steady state.
        why: Unsteady,
        /// What it does.
        in_time: InTime,
        /// How it runs on average, where it goes on.
        average: Option<Box<RunningState>>,
    },
    /// It does not run.
    CannotRun(CannotRun),
}

impl TopSpeed {
    /// The speed to show, m/s: steady, or the mean of the run.
    pub fn speed_m_s(&self) -> Option<f64> {
        match self {
            Self::Steady(state) => Some(state.speed_m_s),
            Self::Unsteady {
                in_time: InTime::Runs(run),
                ..
            } => Some(run.mean_m_s),
            Self::Unsteady { .. } | Self::CannotRun(_) => None,
        }
    }
}

/// At full throttle from rest on flat water in the boat's own wind, the driver holding the course.
///
/// # Errors
/// [`RunError`] for what cannot be begun.
pub fn settled_speed(craft: &Craft, throw_rad: f64) -> Result<InTime, RunError> {
    let conditions = Conditions::flat(craft, Script::squeeze(1.0, SQUEEZE_S), Start::Rest, RUN_S);
    let done = run(craft, throw_rad, &conditions, &mut |_| {
        ControlFlow::Continue(())
    })?;
    Ok(told(done))
}

/// What a boat does that is let go at its steady top speed.
#[derive(Debug, Clone, PartialEq)]
pub enum LetGo {
    /// It stays there.
    Stays,
    /// It goes on to something else: hops, or another speed.
    Leaves(TopSpeed),
    /// It goes over: its steady state is all there is to be told, and a run from rest says what becomes of it.
    GoesOver,
}

/// A running state with its bow a little up, about the centre of gravity.
fn nudged(craft: &Craft, state: &RunningState) -> Running {
    let running = state.running();
    let height_m = running.motion().height_m(&craft.cg_m());
    let Attitude {
        trim_rad, heel_rad, ..
    } = running.attitude;
    Running {
        attitude: at_height(&craft.cg_m(), height_m, trim_rad + NUDGED_RAD, heel_rad),
        ..running
    }
}

/// Lets a boat go at its steady `top` speed at full throttle, on flat water, the driver holding the course and the bow
/// a little up: no pond is so still that a boat sits in its balance by itself.
pub fn let_go(craft: &Craft, top: &RunningState, throw_rad: f64) -> LetGo {
    let start = Start::Running(nudged(craft, top));
    let conditions = Conditions::flat(craft, Script::steady(1.0), start, LET_GO_S);
    let done = run_while(craft, throw_rad, &conditions, &mut |run| {
        !dies_out(run, top.speed_m_s)
    });
    let settled = match done {
        Ok(done) if matches!(done.stopped, Some(Stopped::Asked)) => return LetGo::Stays,
        Ok(done) => told(done),
        Err(refused) => InTime::Stuck(refused.to_string()),
    };
    let InTime::Runs(settled) = settled else {
        return LetGo::GoesOver;
    };
    let elsewhere = (settled.mean_m_s / top.speed_m_s - 1.0).abs() > ELSEWHERE;
    if !elsewhere && !settled.hops() {
        return LetGo::Stays;
    }
    LetGo::Leaves(TopSpeed::Unsteady {
        why: Unsteady::Left {
            speed_m_s: top.speed_m_s,
        },
        in_time: InTime::Runs(settled),
        average: Some(Box::new(settled.on_average(craft, Some(top)))),
    })
}

/// What swung when it was let go swings less by now, and speed and heel hardly change any more: it stays.
fn dies_out(run: &Run, top_m_s: f64) -> bool {
    let second = (1.0 / STEP_S) as usize;
    let mut last = run.samples.rchunks(second).map_while(Settled::of);
    let (Some(now), Some(before)) = (last.next(), last.next()) else {
        return false;
    };
    let calmer = now.trim_rad.1 < before.trim_rad.1.min(0.5 * STILL_RAD);
    let as_fast = (now.mean_m_s - before.mean_m_s).abs() < 0.5 * STILL * top_m_s;
    let there = (now.mean_m_s / top_m_s - 1.0).abs() < ELSEWHERE;
    let as_upright = (now.heel_rad - before.heel_rad).abs() < STILL_RAD;
    run.samples.len().is_multiple_of(second) && calmer && as_fast && as_upright && there
}

/// The last seconds of a run, or as much of them as there is.
pub(crate) fn the_end(run: &Run) -> &[Sample] {
    let count = (LAST_S / STEP_S) as usize;
    &run.samples[run.samples.len().saturating_sub(count)..]
}

/// What comes would be more of the same.
pub(crate) fn is_still(run: &Run) -> bool {
    let end = the_end(run);
    let whole = end.first().is_some_and(|s| s.time_s > WAITED_S);
    let looked_at = run.samples.len().is_multiple_of(LOOKED);
    whole && looked_at && Settled::of(end).is_some_and(|s| s.is_still())
}

fn told(run: Run) -> InTime {
    match run.stopped {
        Some(Stopped::Over(ref words)) => return InTime::Over(words.clone()),
        Some(Stopped::Stuck(ref words)) => return InTime::Stuck(words.clone()),
        Some(Stopped::Asked) | None => (),
    }
    Settled::of(the_end(&run)).map_or_else(
        || InTime::Stuck("it ended before it began".to_owned()),
        InTime::Runs,
    )
}

/// What full throttle comes to, on a curve already followed.
pub fn top_speed(craft: &Craft, curve: &SpeedCurve, throw_rad: f64) -> TopSpeed {
    if let Some(top) = &curve.top {
        return TopSpeed::Steady(Box::new(top.clone()));
    }
    match curve.no_top {
        Some(NoTop::CannotRun(why)) => TopSpeed::CannotRun(why),
        Some(NoTop::Unsteady(why)) => {
            let in_time = settled_speed(craft, throw_rad)
                .unwrap_or_else(|refused| InTime::Stuck(refused.to_string()));
            let average = match &in_time {
                InTime::Runs(run) => Some(Box::new(run.on_average(craft, None))),
                InTime::Over(_) | InTime::Stuck(_) => None,
            };
            TopSpeed::Unsteady {
                why,
                in_time,
                average,
            }
        }
        None => TopSpeed::CannotRun(CannotRun::NoDrive),
    }
}
