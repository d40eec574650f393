//! Turns as a driver makes them: the rudder put over at the rate of its servo, run in time on flat water.
//!
//! From the held course the rudder goes over to an angle and stays there, the throttle where it was. A turn holds
//! while the boat stays upright, planes, goes on round with its bow not far inside its course, and does not roll from
//! side to side. What lets go (a limit of `super::turn` used beyond its whole for longer than [`GONE_S`], a running
//! surface out of the water for [`LIFTED_S`]) is told, and ends a turn only where it is rolling over or tripping: a
//! blade that draws air lets the boat slide, and whether more rudder still turns it tighter is seen from its path.
//! Quarters of the throw are tried, then halves of what lies beside the tightest, to both sides. Radius, speed and
//! current are means of the last [`MEANT_S`].
//!
//! Theory, as all of turning; checks: `tests/turning.rs`.

use super::circle::{Circle, Turner};
use super::turn::{GivesWay, Turn};
use super::{TurningError, Turns, Way};
use crate::events::What;
use crate::run::{Conditions, Run, STEP_S, Sample, Start, run_while};
use crate::script::Script;

/// Straight on, then in the turn, s.
const STRAIGHT_S: f64 = 0.2;
const TURNS_S: f64 = 2.4;
/// The end of it that is meant, s.
pub const MEANT_S: f64 = 0.8;
/// A turn that still changes by more in half of that is run on, and is looked at every so many samples once the rudder
/// has been over so long, s.
const STILL: f64 = 5e-3;
const LOOKED: usize = 5;
const GOES_ROUND_S: f64 = 1.2;
/// A limit passed for so long is gone, s.
pub const GONE_S: f64 = 0.1;
/// A running surface clear of the water is missed when it stays so for so long, s: pads skip (judgement).
const LIFTED_S: f64 = 0.5;
/// Rolling from side to side by more than this to each side in the end, it does not hold, rad (8 deg; judgement).
const SWAYS_RAD: f64 = 8.0 * std::f64::consts::PI / 180.0;
/// Shares of the throw that are tried first, all of them: a vee that lies over near its stop goes round tighter at half.
const SHARES: [f64; 4] = [1.0, 0.75, 0.5, 0.25];
/// Between and below them angles are tried until the tightest is known to this share of the throw.
const TRIED: usize = 7;
const CLOSE: f64 = 0.03;
/// Radii this near to the tightest are as tight: what the hull's hold is known to is ten times as much.
const ALIKE: f64 = 1.03;
/// It no longer planes where its running surfaces carry less of its weight (air and propeller carry some too).
const PLANES: f64 = 0.3;
/// Bow further inside its course, it spins rather than turns, rad (35 deg; judgement).
const SPINS_RAD: f64 = 35.0 * std::f64::consts::PI / 180.0;
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
    /// The bow comes round faster than the boat does.
    Spins,
    /// It no longer planes.
    Sinks,
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
            Self::Spins => "it spins".to_owned(),
            Self::Sinks => "it falls off the plane".to_owned(),
            Self::Straight => "it does not turn".to_owned(),
        }
    }
}

/// The gentlest turn in which something goes.
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
    /// What lets go first as the rudder is put over further; `None` when everything holds.
    pub first: Option<First>,
    /// How it goes wrong further on; `None` when the full throw still turns it.
    pub wrong: Option<First>,
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
            wrong: None,
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
        let side = |way: Way| self.entry(turns, way)?.search();
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

/// One angle tried.
struct Turned {
    /// What its end comes to and the end itself, of a turn that holds.
    kept: Option<(Kept, Sample)>,
    /// What lets go first.
    first: Option<First>,
    /// Why it is no turn.
    wrong: Option<First>,
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
    fn search(&self) -> Result<Side, TurningError> {
        let mut side = Side::of(self.way);
        // Shares of the throw by rising share, with the radius each comes to.
        let mut tried = vec![(0.0, f64::INFINITY)];
        for share in SHARES {
            tried.insert(1, (share, self.tried(share, &mut side)?));
        }
        for _ in 0..TRIED {
            // Of those alike the gentlest: where none holds, less rudder is tried.
            let each = tried.iter().enumerate();
            let best = each.min_by(|a, b| a.1.1.total_cmp(&b.1.1));
            let best = best.map_or(0, |b| b.0);
            let radius_m = tried[best].1;
            let wide = |i: usize| tried[i + 1].0 - tried[i].0 > CLOSE;
            let beyond = (best + 1 < tried.len() && wide(best)).then_some(best);
            let before = best.checked_sub(1).filter(|i| wide(*i));
            // Beyond the tightest first: where that goes wrong it lies at the edge, and not before it.
            let further = match beyond {
                Some(i) => self.halved(&mut tried, i, &mut side)?,
                None => f64::INFINITY,
            };
            let edge = beyond.is_some() && further.is_infinite();
            let gentler = match before.filter(|_| !edge && further > radius_m) {
                Some(i) => self.halved(&mut tried, i, &mut side)?,
                None => f64::INFINITY,
            };
            let found = further.min(gentler);
            let flat = (radius_m / ALIKE..radius_m * ALIKE).contains(&found);
            if flat || beyond.is_none() && found >= radius_m {
                break;
            }
        }
        Ok(side)
    }

    /// Tries the middle between one share and the next; the radius it comes to.
    fn halved(
        &self,
        tried: &mut Vec<(f64, f64)>,
        i: usize,
        side: &mut Side,
    ) -> Result<f64, TurningError> {
        let share = 0.5 * (tried[i].0 + tried[i + 1].0);
        let radius_m = self.tried(share, side)?;
        tried.insert(i + 1, (share, radius_m));
        Ok(radius_m)
    }

    /// Runs a share of the throw, notes what came of it, and gives its radius: infinite where it does not turn.
    fn tried(&self, share: f64, side: &mut Side) -> Result<f64, TurningError> {
        let straight = self.straight.rudder_rad;
        let rudder_rad = straight + share * (self.way.sign() * self.throw - straight);
        let Turned { kept, first, wrong } = self.turn(rudder_rad)?;
        let gentler = |known: &Option<First>, new: &First| {
            known
                .as_ref()
                .is_none_or(|k| new.rudder_rad.abs() < k.rudder_rad.abs())
        };
        if let Some(first) = first.filter(|f| gentler(&side.first, f)) {
            side.first = Some(first);
        }
        // A little rudder that does not turn it is not what goes wrong with more.
        if let Some(wrong) = wrong.filter(|w| gentler(&side.wrong, w)) {
            side.wrong = Some(wrong);
        }
        let Some((kept, end)) = kept else {
            return Ok(f64::INFINITY);
        };
        if kept.radius_m < side.radius_m() {
            let turn = self.turner.describe(&self.circle(&end), &self.carried);
            (side.tightest, side.held) = (Some(kept), Some(turn));
        }
        Ok(kept.radius_m)
    }

    /// Runs one angle.
    fn turn(&self, rudder_rad: f64) -> Result<Turned, TurningError> {
        let script = Script::steady(self.throttle).turning(STRAIGHT_S, rudder_rad);
        let start = Start::Course(*self.straight);
        let conditions = Conditions::flat(self.turner.craft, script, start, STRAIGHT_S + TURNS_S);
        let mut passed = Passed::of(self);
        let mut over_for = 0;
        let mut more = |run: &Run| {
            over_for += usize::from(run.events.iter().any(|e| e.what.ends()));
            // What lets go before it goes over is known a little later.
            !passed.see(run) && over_for <= samples(GONE_S) && !goes_round(run)
        };
        let done = run_while(self.turner.craft, self.throw, &conditions, &mut more);
        let speed_m_s = self.straight.speed_m_s;
        let done = done.map_err(|_| TurningError::NoCourse { speed_m_s })?;
        passed.see(&done);
        let Some(last) = done.samples.last().copied() else {
            return Err(TurningError::NoCourse { speed_m_s });
        };
        let first = |gone, s: &Sample| First {
            gone,
            rudder_rad,
            after_s: (s.time_s - STRAIGHT_S).max(0.0),
            speed_m_s: s.speed_m_s,
        };
        let limit =
            |(way, from): &(GivesWay, usize)| first(Gone::Limit(way.clone()), &done.samples[*from]);
        let spill = done.events.iter().find(|e| e.what.ends());
        let over = passed.over.as_ref().map(limit);
        let wrong = over.or_else(|| Some(first(Gone::Spill(spill?.what), &last)));
        let kept = match wrong.is_some() {
            true => Err(wrong),
            false => self.meant(rudder_rad, &done.samples).map_err(|gone| {
                // More rudder may turn it yet.
                let more = gone == Gone::Straight && rudder_rad.abs() < 0.999 * self.throw;
                (!more).then(|| first(gone, &last))
            }),
        };
        let lets_go = passed.first.as_ref().map(limit);
        Ok(match kept {
            Ok(kept) => Turned {
                kept: Some((kept, last)),
                first: lets_go,
                wrong: None,
            },
            Err(wrong) => Turned {
                kept: None,
                first: lets_go.or_else(|| wrong.clone()),
                wrong,
            },
        })
    }

    /// The moment as a circle.
    fn circle(&self, s: &Sample) -> Circle {
        Circle::of(s, &self.turner.craft.cg_m())
    }

    /// What its end comes to, or why it is no turn.
    fn meant(&self, rudder_rad: f64, samples: &[Sample]) -> Result<Kept, Gone> {
        let count = (MEANT_S / STEP_S).round() as usize;
        let from = samples.len().checked_sub(count + 1);
        let some = &samples[from.ok_or(Gone::Straight)?..];
        if swing_rad(some) > SWAYS_RAD {
            return Err(Gone::Sways);
        }
        let mean = |of: fn(&Sample) -> f64| some.iter().map(of).sum::<f64>() / some.len() as f64;
        let turned = course_change(some) * self.way.sign();
        if turned < LEAST_RAD {
            return Err(Gone::Straight);
        }
        if mean(|s| s.slip_rad).abs() > SPINS_RAD {
            return Err(Gone::Spins);
        }
        if mean(|s| s.lift_share) < PLANES {
            return Err(Gone::Sinks);
        }
        let speed_m_s = mean(|s| s.speed_m_s);
        let rate = turned / (count as f64 * STEP_S);
        Ok(Kept {
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
    /// The first of those that turn it over.
    over: Option<(GivesWay, usize)>,
}

impl<'a> Passed<'a> {
    fn of(entry: &'a Entry<'a>) -> Self {
        Self {
            entry,
            seen: 0,
            since: Vec::new(),
            first: None,
            over: None,
        }
    }

    /// Looks at what is new; whether a limit that turns it over stays passed.
    fn see(&mut self, run: &Run) -> bool {
        while self.over.is_none() && self.seen < run.samples.len() {
            if run.samples[self.seen].time_s >= STRAIGHT_S {
                self.look(&run.samples[self.seen]);
            }
            self.seen += 1;
        }
        self.over.is_some()
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
        let mut staying = self.since.iter().filter(stays);
        self.over = staying.clone().find(|s| s.0.turns_over()).cloned();
        if self.first.is_none() {
            self.first = staying.next().cloned();
        }
    }
}

/// What comes would be more of the same: both halves of what is meant turn and go as fast.
fn goes_round(run: &Run) -> bool {
    let count = samples(MEANT_S) / 2;
    let long = run.samples.len() > samples(STRAIGHT_S + GOES_ROUND_S);
    if !long || !run.samples.len().is_multiple_of(LOOKED) {
        return false;
    }
    let (early, late) = run.samples[run.samples.len() - 2 * count..].split_at(count);
    let alike = |of: fn(&Sample) -> f64| {
        let [early, late] = [early, late].map(|s| s.iter().map(of).sum::<f64>());
        (late - early).abs() < STILL * late.abs()
    };
    alike(|s| s.yaw_rate_rad_s) && alike(|s| s.speed_m_s)
}

/// In so many seconds.
fn samples(seconds: f64) -> usize {
    (seconds / STEP_S).round() as usize
}

/// Of heel to each side, rad.
fn swing_rad(samples: &[Sample]) -> f64 {
    let (low, high) = samples.iter().fold((f64::MAX, f64::MIN), |(low, high), s| {
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
