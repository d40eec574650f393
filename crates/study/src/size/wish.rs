//! What a boat is to do, and what drives and sets it.

use super::practice::{self, Practice};
use crate::hull_type::HullType;

/// What a boat is to do, as far as nobody has built it yet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wish {
    /// Everything but the printed hull, kg.
    pub carry_kg: f64,
    /// Cells in series of each pack.
    pub series: u32,
    /// Top speed, m/s.
    pub speed_m_s: f64,
}

/// Motor, pack and propeller of each drive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SetUp {
    /// m.
    pub propeller_m: f64,
    /// Pitch over diameter.
    pub pitch_ratio: f64,
    /// rpm per volt.
    pub kv_rpm_v: f64,
    /// The controller's rating, A.
    pub rated_a: f64,
}

impl SetUp {
    /// Whose propeller, turning as fast as builders plan, gives the wished speed; as far as motors turn.
    pub fn for_speed(wish: &Wish, propeller_m: f64) -> Self {
        let pitch_m = practice::PITCH_RATIO * propeller_m;
        let rpm = 60.0 * wish.speed_m_s / (practice::SPEED_OF_PITCH * pitch_m);
        Self::at_nominal(wish, propeller_m, rpm)
    }

    /// Whose motor turns so fast at the cells' nominal voltage, within what builders use, rpm.
    pub fn at_nominal(wish: &Wish, propeller_m: f64, rpm: f64) -> Self {
        let [low, high] = practice::NOMINAL_RPM;
        let volts = practice::NOMINAL_V * f64::from(wish.series);
        let kv = rpm.clamp(low, high) / volts;
        Self {
            propeller_m,
            pitch_ratio: practice::PITCH_RATIO,
            kv_rpm_v: (kv / 50.0).round() * 50.0,
            rated_a: practice::RATINGS_A[2],
        }
    }
}

/// How a boat is set: where it balances and how its shaft lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trim {
    /// Share of the length, of what [`Practice::balance`] is of.
    pub balance: f64,
    /// More propeller end down than practice has it, degrees.
    pub shaft_deg: f64,
}

impl Trim {
    /// As practice begins.
    pub fn first(hull: HullType) -> Self {
        Self {
            balance: Practice::of(hull).balance[1],
            shaft_deg: 0.0,
        }
    }
}
