//! Turning and flying, asked of a boat's speed curve.

use craft::{Craft, SpeedCurve};
use motion::flight::{Margins, margins};
use motion::turning::{Steered, Turner, TurningError, Turns};

/// Share of top speed at which it is turned: a corner taken without lifting off altogether. Near top speed the
/// answer hangs on a surface that only just touches, and costs as much again.
const SHARE: f64 = 0.6;
/// And where it has no steady straight there to turn from (its attitude changes at a stroke), so many shares to either side.
const BESIDE: [f64; 4] = [-0.04, 0.04, -0.1, 0.1];
/// Speeds at which it is pitched up.
const PITCHED: usize = 4;

/// Turns from one speed, or why there are none.
#[derive(Debug, Clone, PartialEq)]
pub struct TurnsAt {
    /// On the straight, m/s.
    pub speed_m_s: f64,
    /// What turning gives.
    pub turns: Result<Turns, TurningError>,
}

impl TurnsAt {
    /// The turns run in time, from the straight of the steady circles.
    pub fn steered(&self, craft: &Craft) -> Option<Steered> {
        Turner { craft }.steered(self.turns.as_ref().ok()?).ok()
    }
}

/// How it handles.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Handling {
    /// Steady circles; nothing for a boat without a top speed.
    pub turns: Option<TurnsAt>,
    /// The same run in time, the rudder put over as its servo does; nothing where there is no straight to turn from.
    pub steered: Option<Steered>,
    /// Pitch and gust to lift-off.
    pub margins: Margins,
}

impl Handling {
    /// Steady circles and pitch to spare along its curve; turns in time are another question.
    pub fn of(craft: &Craft, curve: &SpeedCurve) -> Self {
        let (turns, margins) =
            rayon::join(|| turned(craft, curve), || margins(craft, curve, PITCHED));
        Self {
            turns,
            steered: None,
            margins,
        }
    }

    /// Its steady circles, and the speed on the straight, m/s.
    pub fn circles(&self) -> Option<(f64, &Turns)> {
        let at = self.turns.as_ref()?;
        Some((at.speed_m_s, at.turns.as_ref().ok()?))
    }
}

/// Steady circles; nothing for a boat without a top speed.
pub fn turned(craft: &Craft, curve: &SpeedCurve) -> Option<TurnsAt> {
    let top = curve.top.as_ref()?;
    Some(turns_near(craft, curve, top.speed_m_s))
}

fn turns_near(craft: &Craft, curve: &SpeedCurve, top_m_s: f64) -> TurnsAt {
    let meant = turns_at(craft, curve, SHARE * top_m_s);
    if meant.turns.is_ok() {
        return meant;
    }
    let mut beside = BESIDE.iter();
    let found = beside.find_map(|by| {
        let at = turns_at(craft, curve, (SHARE + by) * top_m_s);
        at.turns.is_ok().then_some(at)
    });
    found.unwrap_or(meant)
}

fn turns_at(craft: &Craft, curve: &SpeedCurve, speed_m_s: f64) -> TurnsAt {
    let straight = craft.on_curve(curve, speed_m_s);
    let turns = straight.map_or(Err(TurningError::NoCourse { speed_m_s }), |state| {
        Turner { craft }.turns(&state.running())
    });
    TurnsAt { speed_m_s, turns }
}
