//! The hand on the throttle: one that does what the script says, and one that lifts off when it must.
//!
//! A driver who lifts off sees the bow go up, the boat lie over or stay in the air, and eases the throttle a
//! reaction later until it has been quiet for a while; then squeezes it open again. All of it judgement: a
//! reaction of 0.25 s is common practice for a person who expects it (no source).

use crate::run::Sample;

/// Who drives.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Driver {
    /// As the script has it, whatever happens.
    #[default]
    FlatOut,
    /// Eases the throttle when the boat is about to go over.
    LiftsOff,
}

/// Bow up, and over to a side, that frighten a driver, rad.
const BOW_RAD: f64 = 12.0 * std::f64::consts::PI / 180.0;
const OVER_RAD: f64 = 25.0 * std::f64::consts::PI / 180.0;
/// In the air for so long, s.
const AIR_S: f64 = 0.15;
/// From seeing to moving the thumb, s.
const REACTION_S: f64 = 0.25;
/// Share of the throttle that is left, how long it must be quiet, and how slowly it is opened again, s.
const EASED: f64 = 0.4;
const QUIET_S: f64 = 0.4;
const SQUEEZE_S: f64 = 0.8;

/// What the hand is doing since when.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Hand {
    Open,
    Seen(f64),
    Eased(f64),
    Squeezing(f64),
}

/// A driver's state in a run.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Nerves {
    lifts: bool,
    hand: Hand,
    air_since: Option<f64>,
}

impl Driver {
    pub(crate) fn nerves(self) -> Nerves {
        Nerves {
            lifts: self == Self::LiftsOff,
            hand: Hand::Open,
            air_since: None,
        }
    }
}

impl Nerves {
    /// The next moment.
    pub fn see(&mut self, s: &Sample) {
        if !self.lifts {
            return;
        }
        let t = s.time_s;
        let since = *self.air_since.get_or_insert(t);
        if s.touching {
            self.air_since = None;
        }
        let flies = !s.touching && t - since > AIR_S;
        let trouble = flies || s.trim_rad > BOW_RAD || s.heel_rad.abs() > OVER_RAD;
        self.hand = match self.hand {
            Hand::Open | Hand::Squeezing(_) if trouble => Hand::Seen(t),
            Hand::Seen(seen) if t - seen >= REACTION_S => Hand::Eased(t),
            Hand::Eased(_) if trouble => Hand::Eased(t),
            Hand::Eased(quiet) if t - quiet >= QUIET_S => Hand::Squeezing(t),
            Hand::Squeezing(from) if t - from >= SQUEEZE_S => Hand::Open,
            same => same,
        };
    }

    /// Of the script's throttle.
    pub fn share(&self, t: f64) -> f64 {
        match self.hand {
            Hand::Open | Hand::Seen(_) => 1.0,
            Hand::Eased(_) => EASED,
            Hand::Squeezing(from) => {
                EASED + (1.0 - EASED) * ((t - from) / SQUEEZE_S).clamp(0.0, 1.0)
            }
        }
    }
}
