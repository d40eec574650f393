//! The questions that have one number for an answer, so that the same question can be put to the
//! boat, to its likely variations and to its adjustments.

use boat::{Boat, Kind};
use craft::launch::Grip;
use craft::{Craft, CraftError, Factors, MassProperties, RunningState, SpeedCurve, attitude};
use form::Form;
use nalgebra::Vector3;

use crate::hull_type::HullType;
use crate::porpoising;

/// A question.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Ask {
    Mass,
    BalanceX,
    RestTrim,
    RestHeel,
    Freeboard,
    HumpMargin,
    HumpCurrent,
    PlaningSpeed,
    TopSpeed,
    TopTrim,
    TopCurrent,
    TopPower,
    TopShaftSpeed,
    Slip,
    Immersion,
    DynamicShare,
    PorpoisingMargin,
}

impl Ask {
    /// Every question.
    pub const ALL: [Ask; 17] = [
        Ask::Mass,
        Ask::BalanceX,
        Ask::RestTrim,
        Ask::RestHeel,
        Ask::Freeboard,
        Ask::HumpMargin,
        Ask::HumpCurrent,
        Ask::PlaningSpeed,
        Ask::TopSpeed,
        Ask::TopTrim,
        Ask::TopCurrent,
        Ask::TopPower,
        Ask::TopShaftSpeed,
        Ask::Slip,
        Ask::Immersion,
        Ask::DynamicShare,
        Ask::PorpoisingMargin,
    ];

    /// What the answer measures.
    pub const fn kind(self) -> Kind {
        match self {
            Ask::Mass => Kind::Mass,
            Ask::BalanceX | Ask::Freeboard => Kind::Length,
            Ask::RestTrim | Ask::RestHeel | Ask::TopTrim | Ask::PorpoisingMargin => Kind::Angle,
            Ask::HumpMargin | Ask::Slip | Ask::Immersion | Ask::DynamicShare => Kind::Fraction,
            Ask::HumpCurrent | Ask::TopCurrent => Kind::Current,
            Ask::PlaningSpeed | Ask::TopSpeed => Kind::Speed,
            Ask::TopPower => Kind::Power,
            Ask::TopShaftSpeed => Kind::ShaftSpeed,
        }
    }

    /// What a builder calls it.
    pub const fn name(self) -> &'static str {
        match self {
            Ask::Mass => "all-up mass",
            Ask::BalanceX => "balance point ahead of the transom",
            Ask::RestTrim => "trim at rest",
            Ask::RestHeel => "heel at rest",
            Ask::Freeboard => "freeboard",
            Ask::HumpMargin => "thrust to spare at the hump",
            Ask::HumpCurrent => "current at the hump",
            Ask::PlaningSpeed => "planing from",
            Ask::TopSpeed => "top speed",
            Ask::TopTrim => "trim at top speed",
            Ask::TopCurrent => "current at top speed",
            Ask::TopPower => "shaft power at top speed",
            Ask::TopShaftSpeed => "propeller speed at top speed",
            Ask::Slip => "slip",
            Ask::Immersion => "propeller immersion",
            Ask::DynamicShare => "share of lift from speed",
            Ask::PorpoisingMargin => "trim to spare before porpoising",
        }
    }
}

/// Answers, each absent where the boat has none (no drive, never planes).
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Answers([Option<f64>; Ask::ALL.len()]);

impl Answers {
    /// One answer, SI.
    pub fn get(&self, ask: Ask) -> Option<f64> {
        self.0[ask as usize]
    }

    fn set(&mut self, ask: Ask, value: Option<f64>) {
        self.0[ask as usize] = value.filter(|v| v.is_finite());
    }

    /// From what the solvers say.
    pub fn of(
        boat: &Boat,
        form: &Form,
        mass: &MassProperties,
        craft: &Craft,
        curve: &SpeedCurve,
    ) -> Self {
        let mut answers = Self::default();
        answers.set(Ask::Mass, Some(mass.mass_kg));
        answers.set(Ask::BalanceX, Some(mass.cg_m.x));
        let rest = craft.rest_attitude();
        answers.set(Ask::RestTrim, Some(rest.trim_rad));
        answers.set(Ask::RestHeel, Some(rest.heel_rad));
        answers.set(Ask::Freeboard, lowest_opening_m(boat, form, craft));
        answers.set(Ask::HumpMargin, curve.hump.map(|h| h.margin));
        answers.set(Ask::HumpCurrent, hump_current_a(craft, curve));
        answers.set(Ask::PlaningSpeed, craft::curve::planing_speed(curve));
        if let Some(top) = &curve.top {
            answers.set_top(top);
        }
        if HullType::of(boat, form) == HullType::Vee {
            let density = craft.surroundings().water_density_kg_m3;
            let nearest = porpoising::nearest(form, density, curve);
            answers.set(Ask::PorpoisingMargin, nearest.map(|p| p.margin_rad));
        }
        answers
    }

    fn set_top(&mut self, top: &RunningState) {
        self.set(Ask::TopSpeed, Some(top.speed_m_s));
        self.set(Ask::TopTrim, Some(top.attitude.trim_rad));
        self.set(Ask::TopCurrent, most(top, |d| d.current_a));
        let power: f64 = top.drives.iter().map(|d| d.shaft_power_w).sum();
        self.set(Ask::TopPower, Some(power));
        self.set(Ask::TopShaftSpeed, most(top, |d| d.shaft_rad_s));
        self.set(Ask::Slip, most(top, |d| d.slip));
        self.set(Ask::Immersion, most(top, |d| d.immersion));
        self.set(Ask::DynamicShare, Some(top.dynamic_share()));
    }
}

/// Greatest pack current of a drive with the throttle wide open at the hump, A: what a builder
/// sees while the boat accelerates through it.
fn hump_current_a(craft: &Craft, curve: &SpeedCurve) -> Option<f64> {
    let hump = curve.hump?;
    let state = curve.running.iter().min_by(|a, b| {
        let away = |s: &RunningState| (s.speed_m_s - hump.speed_m_s).abs();
        away(a).total_cmp(&away(b))
    })?;
    craft
        .full_throttle_currents_a(state, Grip::Settled)
        .into_iter()
        .max_by(f64::total_cmp)
}

fn most(state: &RunningState, of: impl Fn(&craft::DriveState) -> f64) -> Option<f64> {
    state.drives.iter().map(of).max_by(f64::total_cmp)
}

/// Lowest opening or rim above the water at rest, m, with the hull afloat on its columns.
fn lowest_opening_m(boat: &Boat, form: &Form, craft: &Craft) -> Option<f64> {
    let water = attitude::water_plane(&craft.rest_attitude());
    let openings = boat
        .openings
        .iter()
        .map(|o| Vector3::from_fn(|axis, _| o.at[axis].value));
    openings
        .chain(form.rim_m.map(Vector3::from))
        .map(|at| attitude::height_above_water(&water, &at))
        .min_by(f64::total_cmp)
}

/// A boat solved as far as the questions go.
pub struct Asked {
    /// Answers.
    pub answers: Answers,
    /// From rest to a little beyond top speed; empty without a drive.
    pub curve: SpeedCurve,
    /// The elements.
    pub craft: Craft,
}

/// How closely to follow the speed curve.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Detail {
    /// So many speeds, and every other way it could run.
    Full(usize),
    /// One pass at about so many speeds.
    Rough(usize),
}

/// Asks everything of one boat.
///
/// # Errors
/// [`CraftError`] when it sinks or a law refuses a number.
pub fn ask(
    boat: &Boat,
    form: &Form,
    mass: &MassProperties,
    factors: &Factors,
    detail: Detail,
) -> Result<Asked, CraftError> {
    let craft = Craft::new(boat, form, mass, factors)?;
    let curve = match detail {
        Detail::Full(points) => craft.speed_curve(points),
        Detail::Rough(points) => craft.rough_curve(points),
    };
    let answers = Answers::of(boat, form, mass, &craft, &curve);
    Ok(Asked {
        answers,
        curve,
        craft,
    })
}
