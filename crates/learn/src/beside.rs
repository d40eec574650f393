//! Hops, turns and landings beside what the boat in motion is expected to do. Theory, and nothing is fitted
//! to it: these recordings say whether the theory of motion holds on this boat.
//!
//! - A hop against the heave-and-pitch motion that grows fastest at that speed. A hop that leaves the water
//!   swings slower than small motions do.
//! - A turn against the tightest steady one to its side from a straight run at that speed, and the most
//!   sideways acceleration in any that holds: a driver need not turn as tightly as the boat can.
//! - The hardest landing against runs in time over ripple of some heights, since no recording tells the
//!   water's.

use craft::elements::blade::Role;
use craft::{Craft, RunningState, SpeedCurve};
use evidence::Measured;
use evidence::outing::{Doing, Outing, QuantityKind, Value};
use laws::constants::GRAVITY_M_S2;
use motion::run::Start;
use motion::script::Script;
use motion::stability::{Mode, Shape, about};
use motion::turning::{Turner, Turns, Way};
use motion::water::Water;
use motion::{Conditions, run};
use std::ops::ControlFlow;

/// Hops in theory and on the water may differ by this share before they are called apart (judgement).
const HOP_SHARE: f64 = 0.25;
/// Ripple tried for landings, trough to crest, m, and its length over its height.
const RIPPLE_M: [f64; 3] = [0.02, 0.04, 0.08];
const RIPPLE_LENGTH: f64 = 15.0;
/// Of each run, s.
const RUN_S: f64 = 8.0;

/// A measured number and the one expected.
#[derive(Debug, Clone, PartialEq)]
pub struct Beside {
    /// What it is.
    pub kind: QuantityKind,
    /// Measured.
    pub measured: Measured,
    /// Recording and method.
    pub from: String,
    /// Lowest and highest expected, in the kind's unit; `None` where the model has no answer.
    pub expected: Option<(f64, f64)>,
    /// Whether they agree, where that can be said.
    pub agree: Option<bool>,
    /// What was expected, and under which condition.
    pub says: String,
}

/// A boat that can be asked.
pub struct Predicting<'a> {
    /// Its elements.
    pub craft: &'a Craft,
    /// Its speeds.
    pub curve: &'a SpeedCurve,
}

/// Everything of an outing that motion can be asked about: of each kind, recording and side the number that
/// asks most of the boat.
pub fn beside(outing: &Outing, asked: &Predicting<'_>) -> Vec<Beside> {
    let mut done: Vec<(QuantityKind, &str, Doing)> = Vec::new();
    let mut all = Vec::new();
    for v in &outing.quantities {
        let key = (v.kind, v.from.recording.as_str(), v.condition.motion);
        if done.contains(&key) {
            continue;
        }
        let alike = outing
            .quantities
            .iter()
            .filter(|o| (o.kind, o.from.recording.as_str(), o.condition.motion) == key);
        let hardest = match v.kind {
            QuantityKind::HopFrequency => Some(v),
            QuantityKind::TurnRadius => alike.min_by(|a, b| a.value.total_cmp(&b.value)),
            QuantityKind::LateralAcceleration | QuantityKind::LandingAcceleration => {
                alike.max_by(|a, b| a.value.total_cmp(&b.value))
            }
            _ => None,
        };
        if let Some(hardest) = hardest {
            done.push(key);
            all.push(asked.one(hardest));
        }
    }
    all
}

impl Predicting<'_> {
    fn one(&self, v: &Value) -> Beside {
        match v.kind {
            QuantityKind::HopFrequency => self.hop(v),
            QuantityKind::LandingAcceleration => self.landing(v),
            _ => self.turn(v),
        }
    }

    /// The state of the curve nearest to the speed of the value, else the top speed.
    fn state(&self, v: &Value) -> Option<&RunningState> {
        let Some(speed) = v.condition.speed_m_s else {
            return self.curve.top.as_ref();
        };
        let away = |s: &&RunningState| (s.speed_m_s - speed).abs();
        let each = self.curve.running.iter();
        each.min_by(|a, b| away(a).total_cmp(&away(b)))
    }

    fn hop(&self, v: &Value) -> Beside {
        let Some(state) = self.state(v) else {
            return unanswered(v, "the model finds no steady running to hop about");
        };
        let modes = about(self.craft, &state.running());
        let swings = |m: &&Mode| m.shape == Shape::Porpoising && m.period_s().is_some();
        let Some(mode) = modes.modes.iter().find(swings) else {
            return unanswered(v, "no swing in heave and pitch there");
        };
        let hz = mode.frequency_rad_s / std::f64::consts::TAU;
        let (low, high) = (hz * (1.0 - HOP_SHARE), hz * (1.0 + HOP_SHARE));
        let grows = if mode.unstable() {
            "which grows there"
        } else {
            "which dies out there: a hop kept going by the water, or by what the model lacks"
        };
        let says = format!(
            "heave and pitch swing at {hz:.1} Hz at {:.0} km/h, {grows}",
            3.6 * state.speed_m_s
        );
        judged(v, (low, high), within(v, low, high), says)
    }

    fn turns(&self, v: &Value) -> Option<Turns> {
        let state = self.state(v)?;
        let turner = Turner { craft: self.craft };
        turner.turns(&state.running()).ok()
    }

    fn turn(&self, v: &Value) -> Beside {
        let way = match v.condition.motion {
            Doing::TurnToPort => Way::Port,
            Doing::TurnToStarboard => Way::Starboard,
            _ => return unanswered(v, "the recording does not tell which way it turned"),
        };
        let Some(turns) = self.turns(v) else {
            return unanswered(
                v,
                "the model cannot hold the boat straight there, so it finds no turn",
            );
        };
        let one = turns.to(way);
        let Some(tightest) = one.tightest() else {
            let word = way.word();
            let says = format!("no steady turn to the {word} holds in the model");
            return unanswered(v, &says);
        };
        let at = format!(
            "from {:.0} km/h to the {}",
            3.6 * turns.straight.circle.speed_m_s,
            way.word()
        );
        if v.kind == QuantityKind::TurnRadius {
            let r = tightest.radius_m;
            let says = format!("the tightest that holds {at} is {r:.1} m");
            return judged(v, (r, f64::INFINITY), v.value + 2.0 * v.sigma >= r, says);
        }
        let most = one
            .turns
            .iter()
            .map(|t| t.lateral_g.abs())
            .fold(0.0, f64::max)
            * GRAVITY_M_S2;
        let says = format!("the most in a steady turn {at} is {most:.0} m/s2");
        judged(v, (0.0, most), v.value - 2.0 * v.sigma <= most, says)
    }

    fn landing(&self, v: &Value) -> Beside {
        let Some(state) = self.state(v) else {
            return unanswered(v, "the model finds no steady running to start from");
        };
        let peak = |height_m: f64| {
            let conditions = Conditions {
                water: Water::Ripple {
                    height_m,
                    length_m: RIPPLE_LENGTH * height_m,
                    from_rad: 0.0,
                },
                wind_m_s: nalgebra::Vector3::zeros(),
                script: Script::steady(state.throttle.clamp(0.0, 1.0)),
                start: Start::Running(state.running()),
                seconds: RUN_S,
                seed: 1,
            };
            let done = run(self.craft, self.throw_rad(), &conditions, &mut |_| {
                ControlFlow::Continue(())
            });
            done.ok().map(|r| r.peaks.up_m_s2)
        };
        let peaks: Option<Vec<f64>> = RIPPLE_M.iter().map(|h| peak(*h)).collect();
        let Some(peaks) = peaks else {
            return unanswered(v, "the boat cannot be run over ripple");
        };
        let low = peaks.iter().copied().fold(f64::INFINITY, f64::min);
        let high = peaks.iter().copied().fold(0.0, f64::max);
        let each: Vec<String> = RIPPLE_M
            .iter()
            .zip(&peaks)
            .map(|(h, p)| format!("{:.0} m/s2 over {:.0} mm", p, 1e3 * h))
            .collect();
        let says = format!(
            "hardest in {RUN_S:.0} s over ripple at {:.0} km/h: {}",
            3.6 * state.speed_m_s,
            each.join(", ")
        );
        judged(v, (low, high), within(v, low, high), says)
    }

    fn throw_rad(&self) -> f64 {
        let rudders = self.craft.blades().iter();
        let throws = rudders.filter(|b| b.role() == Role::Rudder);
        throws.map(|b| b.throw_rad()).fold(0.0, f64::max)
    }
}

fn within(v: &Value, low: f64, high: f64) -> bool {
    v.value + 2.0 * v.sigma >= low && v.value - 2.0 * v.sigma <= high
}

fn judged(v: &Value, expected: (f64, f64), agree: bool, says: String) -> Beside {
    Beside {
        expected: Some(expected),
        agree: Some(agree),
        ..unanswered(v, &says)
    }
}

fn unanswered(v: &Value, says: &str) -> Beside {
    Beside {
        kind: v.kind,
        measured: v.measured(),
        from: crate::observe::from(v),
        expected: None,
        agree: None,
        says: says.to_owned(),
    }
}
