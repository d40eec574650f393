//! Turns as a driver makes them: the rudder put over at the rate of its servo, run in time on flat water.
//!
//! Steady turns only start the search. From the held course the rudder goes over to an angle and stays there, the
//! throttle where it was. A turn holds while the boat stays upright and no limit (`super::turn`) is used beyond
//! its whole for longer than [`GONE_S`] (a running surface out of the water: [`LIFTED_S`]). The full throw is tried first,
//! then the steady answer, then halves of what is left, to both sides. Radius, speed and current are means of the last
//! [`MEANT_S`].
//!
//! Theory, as all of turning; checks: `tests/turning.rs`.

use super::circle::{Circle, Turner};
use super::turn::{GivesWay, Turn};
use super::{TurningError, Turns, Way};
use crate::events::What;
use crate::run::{Conditions, Run, STEP_S, Sample, Start, run_while};
use crate::script::Script;
use crate::water::Water;

/// Straight on, then in the turn, s.
const STRAIGHT_S: f64 = 0.2;
const TURNS_S: f64 = 2.4;
/// The end of it that is meant, s.
pub const MEANT_S: f64 = 0.8;
/// A limit passed for so long is gone, s.
pub const GONE_S: f64 = 0.1;
/// A running surface clear of the water is missed when it stays so for so long, s: pads skip (judgement).
const LIFTED_S: f64 = 0.5;
/// Rolling from side to side by more than this to each side in the end, it does not hold, rad (8 deg; judgement).
const SWAYS_RAD: f64 = 8.0 * std::f64::consts::PI / 180.0;
/// Angles between one that holds and one that does not are tried until it is known to this share of the throw.
const TRIED: usize = 7;
const CLOSE: f64 = 0.01;
/// Less of a change of course than this is no turn, rad.
const LEAST_RAD: f64 = 0.05;

/// A turn that holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Kept {
    /// Put over to, rad.
    pub rudder_rad: f64,
    /// m.
    pub radius_m: f64,
    /// m/s.
    pub speed_m_s: f64,
    /// Towards the centre, in g.
    pub lateral_g: f64,
    /// Starboard down, rad.
    pub heel_rad: f64,
    /// Bow inside the course, rad.
    pub slip_rad: f64,
    /// Of the hardest-worked pack, A.
    pub current_a: f64,
}

/// What goes first when a turn does not hold.
#[derive(Debug, Clone, PartialEq)]
pub enum Gone {
    /// A limit is passed; the boat may still go round.
    Limit(GivesWay),
    /// It ends on its side or its back.
    Spill(What),
    /// It rolls from side to side.
    Sways,
    /// It does not turn that way.
    Straight,
}

impl Gone {
    /// As a builder says it.
    pub fn words(&self) -> String {
        match self {
            Self::Limit(way) => way.words(),
            Self::Spill(what) => format!("it {}", what.word()),
            Self::Sways => "it rolls from side to side".to_owned(),
            Self::Straight => "it does not turn".to_owned(),
        }
    }
}

/// The gentlest turn that did not hold.
#[derive(Debug, Clone, PartialEq)]
pub struct First {
    /// What went.
    pub gone: Gone,
    /// Put over to, rad.
    pub rudder_rad: f64,
    /// After the rudder began to move, s.
    pub after_s: f64,
    /// Then, m/s.
    pub speed_m_s: f64,
}

/// To one side.
#[derive(Debug, Clone, PartialEq)]
pub struct Side {
    /// Left or right.
    pub way: Way,
    /// The tightest that holds; `None` when even a little rudder does not.
    pub tightest: Option<Kept>,
    /// The boat at the end of it.
    pub held: Option<Turn>,
    /// What lets go beyond it; `None` when the full throw holds.
    pub first: Option<First>,
}

impl Side {
    /// Radius of the tightest turn, m; infinite where none holds.
    pub fn radius_m(&self) -> f64 {
        self.tightest.map_or(f64::INFINITY, |kept| kept.radius_m)
    }

    /// Nothing tried yet.
    fn of(way: Way) -> Self {
        Self {
            way,
            tightest: None,
            held: None,
            first: None,
        }
    }
}

/// Both sides from one straight run.
#[derive(Debug, Clone, PartialEq)]
pub struct Steered {
    /// On the straight, m/s.
    pub speed_m_s: f64,
    /// Left where it is, 0 to 1.
    pub throttle: f64,
    /// Left and right.
    pub sides: [Side; 2],
}

impl Steered {
    /// One side.
    pub fn to(&self, way: Way) -> &Side {
        &self.sides[usize::from(way == Way::Starboard)]
    }

    /// The side to which it turns tighter; `None` where no turn holds.
    pub fn tightest(&self) -> Option<(Way, Kept)> {
        let each = self.sides.iter().filter_map(|s| Some((s.way, s.tightest?)));
        each.min_by(|a, b| a.1.radius_m.total_cmp(&b.1.radius_m))
    }
}

impl Turner<'_> {
    /// Puts the rudder over both ways from the straight of some steady turns.
    ///
    /// # Errors
    /// [`TurningError::NoRudder`]; [`TurningError::NoCourse`] when the run cannot be begun.
    pub fn steered(&self, turns: &Turns) -> Result<Steered, TurningError> {
        let straight = turns.straight.circle;
        let side = |way: Way| {
            let near = turns.to(way).tightest().map(|t| t.circle.rudder_rad);
            self.entry(turns, way)?.search(near)
        };
        let (left, right) = rayon::join(|| side(Way::Port), || side(Way::Starboard));
        Ok(Steered {
            speed_m_s: straight.speed_m_s,
            throttle: self.held(turns),
            sides: [left?, right?],
        })
    }

    /// The throttle of the straight, left where it is.
    fn held(&self, turns: &Turns) -> f64 {
        self.throttle(&turns.straight.circle).clamp(0.0, 1.0)
    }

    fn entry<'a>(&'a self, turns: &'a Turns, way: Way) -> Result<Entry<'a>, TurningError> {
        let straight = &turns.straight.circle;
        Ok(Entry {
            turner: self,
            straight,
            carried: self.carried(straight),
            throttle: self.held(turns),
            throw: self.throw_rad().ok_or(TurningError::NoRudder)?,
            way,
        })
    }
}

/// One side of one straight run.
struct Entry<'a> {
    turner: &'a Turner<'a>,
    straight: &'a Circle,
    /// By each running surface on the straight.
    carried: Vec<f64>,
    throttle: f64,
    throw: f64,
    way: Way,
}

impl Entry<'_> {
    fn search(&self, near_rad: Option<f64>) -> Result<Side, TurningError> {
        let mut side = Side::of(self.way);
        let stop = self.way.sign() * self.throw;
        if self.tried(stop, &mut side)? {
            return Ok(side);
        }
        let (holds, goes) = (self.straight.rudder_rad, stop);
        let inside = |angle: f64| (angle - holds) * (angle - goes) < 0.0;
        match near_rad.filter(|n| inside(*n)) {
            Some(near) if self.tried(near, &mut side)? => self.between(near, goes, &mut side)?,
            Some(near) => self.between(holds, near, &mut side)?,
            None => self.between(holds, goes, &mut side)?,
        }
        Ok(side)
    }

    /// Halves of what lies between an angle that holds and one that does not.
    fn between(&self, mut holds: f64, mut goes: f64, side: &mut Side) -> Result<(), TurningError> {
        for _ in 0..TRIED {
            if (goes - holds).abs() < CLOSE * self.throw {
                break;
            }
            let angle = 0.5 * (holds + goes);
            if self.tried(angle, side)? {
                holds = angle;
            } else {
                goes = angle;
            }
        }
        Ok(())
    }

    /// Runs one angle and notes what came of it; whether more rudder may be tried.
    fn tried(&self, rudder_rad: f64, side: &mut Side) -> Result<bool, TurningError> {
        match self.turn(rudder_rad)? {
            Ok((kept, end)) => {
                if kept.radius_m < side.radius_m() {
                    let turn = self.turner.describe(&self.circle(&end), &self.carried);
                    (side.tightest, side.held) = (Some(kept), Some(turn));
                }
                Ok(true)
            }
            // More rudder may turn it yet.
            Err(first) if first.gone == Gone::Straight && rudder_rad.abs() < self.throw => Ok(true),
            Err(first) => {
                let gentler = |f: &First| rudder_rad.abs() < f.rudder_rad.abs();
                if side.first.as_ref().is_none_or(gentler) {
                    side.first = Some(first);
                }
                Ok(false)
            }
        }
    }

    /// What the end of a turn comes to and the end itself, or what goes first.
    fn turn(&self, rudder_rad: f64) -> Result<Result<(Kept, Sample), First>, TurningError> {
        let conditions = Conditions {
            water: Water::Flat,
            wind_m_s: self.turner.craft.surroundings().wind_m_s,
            script: Script::steady(self.throttle).turning(STRAIGHT_S, rudder_rad),
            start: Start::Course(*self.straight),
            seconds: STRAIGHT_S + TURNS_S,
            seed: 0,
        };
        let mut passed = Passed::of(self);
        let mut over_for = 0;
        let mut more = |run: &Run| {
            over_for += usize::from(run.events.iter().any(|e| e.what.ends()));
            // What lets go before it goes over is known a little later.
            !passed.see(run) && over_for <= samples(GONE_S)
        };
        let done = run_while(self.turner.craft, self.throw, &conditions, &mut more);
        let speed_m_s = self.straight.speed_m_s;
        let done = done.map_err(|_| TurningError::NoCourse { speed_m_s })?;
        let first = |gone, s: &Sample| First {
            gone,
            rudder_rad,
            after_s: (s.time_s - STRAIGHT_S).max(0.0),
            speed_m_s: s.speed_m_s,
        };
        passed.see(&done);
        if let Some((way, from)) = passed.first {
            return Ok(Err(first(Gone::Limit(way), &done.samples[from])));
        }
        let Some(last) = done.samples.last().copied() else {
            return Err(TurningError::NoCourse { speed_m_s });
        };
        if let Some(spill) = done.events.iter().find(|e| e.what.ends()) {
            return Ok(Err(first(Gone::Spill(spill.what), &last)));
        }
        if swing_rad(&done.samples) > SWAYS_RAD {
            return Ok(Err(first(Gone::Sways, &last)));
        }
        let kept = self.meant(rudder_rad, &done.samples);
        Ok(kept
            .map(|kept| (kept, last))
            .ok_or_else(|| first(Gone::Straight, &last)))
    }

    /// The moment as a circle.
    fn circle(&self, s: &Sample) -> Circle {
        Circle::of(s, &self.turner.craft.cg_m())
    }

    fn meant(&self, rudder_rad: f64, samples: &[Sample]) -> Option<Kept> {
        let count = (MEANT_S / STEP_S).round() as usize;
        let some = samples.get(samples.len().checked_sub(count + 1)?..)?;
        let mean = |of: fn(&Sample) -> f64| some.iter().map(of).sum::<f64>() / some.len() as f64;
        let turned = course_change(some) * self.way.sign();
        if turned < LEAST_RAD {
            return None;
        }
        let speed_m_s = mean(|s| s.speed_m_s);
        let rate = turned / (count as f64 * STEP_S);
        Some(Kept {
            rudder_rad,
            radius_m: speed_m_s / rate,
            speed_m_s,
            lateral_g: speed_m_s * rate / craft::craft::GRAVITY_M_S2,
            heel_rad: mean(|s| s.heel_rad),
            slip_rad: mean(|s| s.slip_rad) * self.way.sign(),
            current_a: mean(|s| s.current_a),
        })
    }
}

/// Limits as they are passed in a run.
struct Passed<'a> {
    entry: &'a Entry<'a>,
    /// How many samples were looked at.
    seen: usize,
    /// Beyond which, and since which sample.
    since: Vec<(GivesWay, usize)>,
    /// The first that stays passed, and when it was.
    first: Option<(GivesWay, usize)>,
}

impl<'a> Passed<'a> {
    fn of(entry: &'a Entry<'a>) -> Self {
        Self {
            entry,
            seen: 0,
            since: Vec::new(),
            first: None,
        }
    }

    /// Looks at what is new; whether a limit stays passed.
    fn see(&mut self, run: &Run) -> bool {
        while self.first.is_none() && self.seen < run.samples.len() {
            if run.samples[self.seen].time_s >= STRAIGHT_S {
                self.look(&run.samples[self.seen]);
            }
            self.seen += 1;
        }
        self.first.is_some()
    }

    fn look(&mut self, sample: &Sample) {
        let i = self.seen;
        let circle = self.entry.circle(sample);
        let turn = self.entry.turner.describe(&circle, &self.entry.carried);
        let beyond = (turn.used.into_iter()).filter(|u| u.share >= super::LETS_GO);
        let now = beyond.map(|u| {
            let known = self.since.iter().find(|s| s.0 == u.way);
            let from = known.map_or(i, |s| s.1);
            (u.way, from)
        });
        self.since = now.collect();
        let long = |way: &GivesWay| samples(if way.lifts() { LIFTED_S } else { GONE_S });
        let stays = |s: &&(GivesWay, usize)| i - s.1 >= long(&s.0);
        self.first = self.since.iter().find(stays).cloned();
    }
}

/// In so many seconds.
fn samples(seconds: f64) -> usize {
    (seconds / STEP_S).round() as usize
}

/// Of heel to each side in the end, rad.
fn swing_rad(samples: &[Sample]) -> f64 {
    let count = (MEANT_S / STEP_S).round() as usize;
    let end = samples[samples.len().saturating_sub(count)..].iter();
    let (low, high) = end.fold((f64::MAX, f64::MIN), |(low, high), s| {
        (low.min(s.heel_rad), high.max(s.heel_rad))
    });
    0.5 * (high - low)
}

/// From first to last, to port, however often it went round.
fn course_change(samples: &[Sample]) -> f64 {
    let course = |s: &Sample| s.yaw_rad - s.slip_rad;
    let steps = samples.windows(2).map(|w| {
        let step = course(&w[1]) - course(&w[0]);
        step - std::f64::consts::TAU * (step / std::f64::consts::TAU).round()
    });
    steps.sum()
}
