//! Steady turns: how tight, what they cost, and what lets go first.
//!
//! Begins with the course held straight at full six degrees of freedom (the rudder angle that takes is
//! an answer), then moves the rudder towards its stop each way, each turn from the last, the throttle
//! left where it was. Where no steady turn follows, the step is shortened until it is found to within a
//! sixteenth of it. From the same elements as everything else; no physics here.
//!
//! Theory: fin and rudder rest on measured struts, the hull's resistance to sliding does not.

mod circle;
mod lateral;
mod steered;
mod turn;

pub use circle::{Circle, Held, Turner};
pub use lateral::LateralBalance;
pub use steered::{First, Gone, Kept, Side, Steered};
pub use turn::{BladeInTurn, GivesWay, Turn, Used};

use craft::Attitude;
use craft::elements::blade::Role;
use craft::steady::Running;

use crate::run::{Conditions, Start, run_while};
use crate::script::Script;

/// Rudder steps from the straight to the stop.
const STEPS: usize = 8;
/// Shortest step, as a share of the first.
const SHORTEST: f64 = 1.0 / 16.0;
/// A turn is steady and repeatable while no limit is used beyond this.
const LETS_GO: f64 = 1.0;
/// A like boat's rudder is eased so many times, each time by no more than this share, and is then told to this share of
/// the throw.
const EASED: usize = 2;
const EASED_BY: f64 = 0.75;
const EASED_TO: f64 = 0.03;

/// Which way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// Left.
    Port,
    /// Right.
    Starboard,
}

impl Way {
    /// Both.
    pub const BOTH: [Way; 2] = [Way::Port, Way::Starboard];

    /// Sign of rudder and yaw rate.
    pub const fn sign(self) -> f64 {
        match self {
            Self::Port => 1.0,
            Self::Starboard => -1.0,
        }
    }

    /// As a driver says it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Port => "left",
            Self::Starboard => "right",
        }
    }
}

/// Heel and drift, degrees, from which a course held straight is looked for: upright, then as a propeller's pull and
/// torque lay a boat over, either way.
const LEANS: [[f64; 2]; 7] = [
    [0.0, 0.0],
    [4.0, 1.0],
    [-4.0, -1.0],
    [2.0, -1.0],
    [-2.0, 1.0],
    [7.0, 2.0],
    [-7.0, -2.0],
];

/// A course held straight on which the boat leans by more than this is looked at in time, rad, for so long, s.
const LEANS_OVER_RAD: f64 = 0.025;
const COMES_TO_S: f64 = 1.5;

/// Why the turns to one side stop getting tighter.
#[derive(Debug, Clone, PartialEq)]
pub enum End {
    /// The rudder is at its stop and everything still holds.
    Throw,
    /// This lets go.
    LetsGo(GivesWay),
    /// No steady turn beyond the last one; this was nearest to letting go.
    NoSteadyTurn(Option<GivesWay>),
}

/// Turns to one side.
#[derive(Debug, Clone, PartialEq)]
pub struct OneWay {
    /// Left or right.
    pub way: Way,
    /// By growing rudder angle.
    pub turns: Vec<Turn>,
    /// Why they end.
    pub end: End,
}

impl OneWay {
    /// The tightest turn in which everything holds.
    pub fn tightest(&self) -> Option<&Turn> {
        let holds = |t: &&Turn| t.circle.yaw_rate_rad_s * self.way.sign() > 0.0 && !lets_go(t);
        self.turns
            .iter()
            .filter(holds)
            .min_by(|a, b| a.radius_m.total_cmp(&b.radius_m))
    }
}

/// Whether something is used beyond its limit.
fn lets_go(turn: &Turn) -> bool {
    turn.weakest().is_some_and(|used| used.share >= LETS_GO)
}

/// Everything about turning from one straight run.
#[derive(Debug, Clone, PartialEq)]
pub struct Turns {
    /// Held straight; its rudder angle is what that takes.
    pub straight: Turn,
    /// Side resistance on the straight.
    pub lateral: LateralBalance,
    /// Left and right.
    pub ways: [OneWay; 2],
}

impl Turns {
    /// One side.
    pub fn to(&self, way: Way) -> &OneWay {
        &self.ways[usize::from(way == Way::Starboard)]
    }

    /// The tightest in which everything holds, to either side.
    pub fn tightest(&self) -> Option<(&Turn, Way)> {
        let each = self
            .ways
            .iter()
            .filter_map(|w| Some((w.tightest()?, w.way)));
        each.min_by(|a, b| a.0.radius_m.total_cmp(&b.0.radius_m))
    }
}

/// Why turns cannot be found.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum TurningError {
    /// Nothing to steer with.
    #[error("the boat has no rudder")]
    NoRudder,
    /// The course cannot be held.
    #[error(
        "no rudder angle within its throw holds the boat straight at {speed_m_s:.1} m/s with sway and yaw free"
    )]
    NoCourse {
        /// m/s.
        speed_m_s: f64,
    },
    /// A rudder angle the rudder cannot reach.
    #[error("rudder {rudder_deg:.1} deg is beyond the throw of {throw_deg:.1} deg to each side")]
    BeyondThrow {
        /// Asked.
        rudder_deg: f64,
        /// There is.
        throw_deg: f64,
    },
}

impl Turner<'_> {
    /// Largest rudder angle, rad.
    pub fn throw_rad(&self) -> Option<f64> {
        let rudders = self.craft.blades().iter();
        rudders
            .filter(|b| b.role() == Role::Rudder)
            .map(|b| b.throw_rad())
            .reduce(f64::max)
    }

    /// Straight running at the speed of a balanced state, with sway, yaw and roll free.
    ///
    /// # Errors
    /// [`TurningError::NoRudder`], [`TurningError::NoCourse`].
    pub fn straight(&self, near: &Running) -> Result<Circle, TurningError> {
        let throw = self.throw_rad().ok_or(TurningError::NoRudder)?;
        let speed_m_s = near.speed_m_s;
        let start = Circle {
            speed_m_s,
            attitude: near.attitude,
            drift_rad: near.drift_rad,
            yaw_rate_rad_s: 0.0,
            shaft_rad_s: near.shaft_rad_s,
            rudder_rad: 0.0,
        };
        let held = Held::Course { speed_m_s };
        let found = LEANS
            .into_iter()
            .find_map(|[heel_deg, drift_deg]| {
                let mut leaning = start;
                leaning.attitude.heel_rad += heel_deg.to_radians();
                leaning.drift_rad += drift_deg.to_radians();
                self.settle(&leaning, held)
                    .or_else(|| self.settle_skimming(&leaning, held))
                    .filter(|c| c.rudder_rad.abs() <= throw)
            })
            .ok_or(TurningError::NoCourse { speed_m_s })?;
        // A boat that lies on one side or the other has two straights: the one that it comes to from where it runs.
        if found.attitude.heel_rad.abs() < LEANS_OVER_RAD {
            return Ok(found);
        }
        let settled = || {
            let came = self.comes_to(&start, throw)?;
            let settled = self.settle(&came, held)?;
            let same = is_near(&came, &settled) && settled.rudder_rad.abs() <= throw;
            same.then_some(settled)
        };
        Ok(settled().unwrap_or(found))
    }

    /// What a straight run becomes in time, its course held.
    fn comes_to(&self, start: &Circle, throw_rad: f64) -> Option<Circle> {
        let running = Running {
            speed_m_s: start.speed_m_s,
            attitude: start.attitude,
            shaft_rad_s: start.shaft_rad_s,
            drift_rad: start.drift_rad,
        };
        let script = Script::steady(self.throttle(start).clamp(0.0, 1.0));
        let start = Start::Running(running);
        let conditions = Conditions::flat(self.craft, script, start, COMES_TO_S);
        let done = run_while(self.craft, throw_rad, &conditions, &mut |_| true).ok()?;
        let upright = !done.events.iter().any(|e| e.what.ends());
        let last = done.samples.last().filter(|_| upright)?;
        Some(Circle::of(last, &self.craft.cg_m()))
    }

    /// Every turn from the straight run nearest to a state of the speed curve.
    ///
    /// # Errors
    /// [`TurningError::NoRudder`], [`TurningError::NoCourse`].
    pub fn turns(&self, near: &Running) -> Result<Turns, TurningError> {
        let straight = self.straight(near)?;
        let carried = self.carried(&straight);
        let ways = Way::BOTH.map(|way| self.one_way(&straight, &carried, way));
        Ok(Turns {
            lateral: self.lateral_balance(&straight),
            straight: self.describe(&straight, &carried),
            ways,
        })
    }

    /// The tightest turn in which everything holds of a boat that is nearly the one whose turns are known, at its own
    /// speed: their tightest solved for again, with the rudder eased or put over until as much of a limit is used as there.
    pub fn tightest_like(&self, speed_m_s: f64, known: &Turns) -> Option<Turn> {
        let (theirs, way) = known.tightest()?;
        let throw = self.throw_rad()?;
        let held = Held::Course { speed_m_s };
        let straight = self.settle(&known.straight.circle, held)?;
        let (carried, throttle) = (self.carried(&straight), self.throttle(&straight));
        let at = |start: &Circle, rudder_rad: f64| {
            let held = Held::Throttle {
                rudder_rad,
                throttle,
            };
            let circle = self.settle(start, held).filter(|c| is_near(start, c))?;
            Some(self.describe(&circle, &carried))
        };
        let free = matches!(known.to(way).end, End::Throw);
        let used = |turn: &Turn| turn.weakest().map_or(0.0, |u| u.share);
        let wanted = if free { LETS_GO } else { used(theirs) };
        let mut turn = at(&theirs.circle, theirs.circle.rudder_rad)?;
        for _ in 0..EASED {
            let over = (turn.circle.rudder_rad - straight.rudder_rad)
                * (wanted / used(&turn).max(1e-3)).clamp(EASED_BY, 1.0 / EASED_BY);
            let eased = (straight.rudder_rad + over).clamp(-throw, throw);
            if (eased - turn.circle.rudder_rad).abs() < EASED_TO * throw {
                break;
            }
            turn = at(&turn.circle, eased)?;
        }
        (turn.circle.yaw_rate_rad_s * way.sign() > 0.0).then_some(turn)
    }

    /// The turn at one rudder angle, reached from the straight.
    ///
    /// # Errors
    /// [`TurningError::BeyondThrow`]; `Ok(None)` when no steady turn is reached.
    pub fn turn_at(
        &self,
        straight: &Circle,
        rudder_rad: f64,
    ) -> Result<Option<Turn>, TurningError> {
        let throw = self.throw_rad().ok_or(TurningError::NoRudder)?;
        if rudder_rad.abs() > throw + 1e-9 {
            return Err(TurningError::BeyondThrow {
                rudder_deg: rudder_rad.to_degrees(),
                throw_deg: throw.to_degrees(),
            });
        }
        let carried = self.carried(straight);
        let way = self.follow(straight, rudder_rad);
        let reached = way
            .last()
            .copied()
            .filter(|c| (c.rudder_rad - rudder_rad).abs() < 1e-9);
        Ok(reached.map(|circle| self.describe(&circle, &carried)))
    }

    fn one_way(&self, straight: &Circle, carried: &[f64], way: Way) -> OneWay {
        let stop = way.sign() * self.throw_rad().unwrap_or(0.0);
        let circles = self.follow(straight, stop);
        let turns: Vec<Turn> = circles.iter().map(|c| self.describe(c, carried)).collect();
        let gone = turns
            .iter()
            .find_map(|t| t.weakest().filter(|used| used.share >= LETS_GO));
        let end = match gone {
            Some(used) => End::LetsGo(used.way.clone()),
            None if circles
                .last()
                .is_some_and(|c| (c.rudder_rad - stop).abs() < 1e-9) =>
            {
                End::Throw
            }
            None => {
                let nearest = turns.last().and_then(Turn::weakest);
                End::NoSteadyTurn(nearest.map(|used| used.way.clone()))
            }
        };
        OneWay { way, turns, end }
    }

    /// From the straight to a rudder angle in steps, as far as steady turns go, the throttle held.
    fn follow(&self, straight: &Circle, stop_rad: f64) -> Vec<Circle> {
        let throttle = self.throttle(straight);
        let whole = (stop_rad - straight.rudder_rad) / STEPS as f64;
        let (mut found, mut share) = (vec![*straight], 1.0);
        while (stop_rad - found[found.len() - 1].rudder_rad) * whole.signum() > 1e-9 {
            let last = found[found.len() - 1];
            let next = last.rudder_rad + whole * share;
            let rudder_rad = if (next - stop_rad) * whole.signum() > -1e-9 {
                stop_rad
            } else {
                next
            };
            let start = ahead(&found, rudder_rad);
            let held = Held::Throttle {
                rudder_rad,
                throttle,
            };
            let settled = self
                .settle(&start, held)
                .or_else(|| self.settle(&last, held))
                .or_else(|| {
                    // Dear, so only for the shortest step.
                    (share <= SHORTEST).then(|| self.settle_skimming(&last, held))?
                })
                .filter(|c| is_near(&last, c));
            match settled {
                Some(circle) => {
                    found.push(circle);
                    share = f64::min(1.0, 2.0 * share);
                }
                None if share > SHORTEST => share *= 0.5,
                None => break,
            }
        }
        found
    }
}

/// Straight on from the last two.
fn ahead(found: &[Circle], rudder_rad: f64) -> Circle {
    let [.., a, b] = found else {
        return found[found.len() - 1];
    };
    let f = (rudder_rad - a.rudder_rad) / (b.rudder_rad - a.rudder_rad);
    let mix = |x: f64, y: f64| x + (y - x) * f;
    Circle {
        speed_m_s: mix(a.speed_m_s, b.speed_m_s),
        attitude: Attitude {
            rise_m: mix(a.attitude.rise_m, b.attitude.rise_m),
            trim_rad: mix(a.attitude.trim_rad, b.attitude.trim_rad),
            heel_rad: mix(a.attitude.heel_rad, b.attitude.heel_rad),
        },
        drift_rad: mix(a.drift_rad, b.drift_rad),
        yaw_rate_rad_s: mix(a.yaw_rate_rad_s, b.yaw_rate_rad_s),
        shaft_rad_s: mix(a.shaft_rad_s, b.shaft_rad_s),
        rudder_rad,
    }
}

/// The same way of turning a little tighter, and not another one.
fn is_near(a: &Circle, b: &Circle) -> bool {
    (a.attitude.heel_rad - b.attitude.heel_rad).abs() < 0.2
        && (a.attitude.trim_rad - b.attitude.trim_rad).abs() < 0.12
        && (a.drift_rad - b.drift_rad).abs() < 0.2
        && b.speed_m_s > 0.4 * a.speed_m_s
}
