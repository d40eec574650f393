//! The questions that have one number for an answer, so that the same question can be put to the
//! boat, to its likely variations and to its adjustments.

use boat::{Boat, Kind};
use craft::launch::Grip;
use craft::{Craft, CraftError, Factors, MassProperties, RunningState, SpeedCurve, attitude};
use form::Form;
use motion::{LetGo, TopSpeed};
use nalgebra::Vector3;
use std::sync::atomic::{AtomicBool, Ordering};

use crate::hull_type::HullType;
use crate::porpoising;
use crate::stint::FlatOut;

mod definition;

pub use definition::Definition;

/// A question.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Quantity {
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
    LateTopSpeed,
    RunTime,
    Hottest,
    FlightMargin,
    TightestTurn,
}

impl Quantity {
    /// Every question.
    pub const ALL: [Quantity; 22] = [
        Quantity::Mass,
        Quantity::BalanceX,
        Quantity::RestTrim,
        Quantity::RestHeel,
        Quantity::Freeboard,
        Quantity::HumpMargin,
        Quantity::HumpCurrent,
        Quantity::PlaningSpeed,
        Quantity::TopSpeed,
        Quantity::TopTrim,
        Quantity::TopCurrent,
        Quantity::TopPower,
        Quantity::TopShaftSpeed,
        Quantity::Slip,
        Quantity::Immersion,
        Quantity::DynamicShare,
        Quantity::PorpoisingMargin,
        Quantity::LateTopSpeed,
        Quantity::RunTime,
        Quantity::Hottest,
        Quantity::FlightMargin,
        Quantity::TightestTurn,
    ];

    /// What the answer measures.
    pub const fn kind(self) -> Kind {
        match self {
            Quantity::Mass => Kind::Mass,
            Quantity::BalanceX | Quantity::Freeboard | Quantity::TightestTurn => Kind::Length,
            Quantity::RestTrim
            | Quantity::RestHeel
            | Quantity::TopTrim
            | Quantity::PorpoisingMargin
            | Quantity::FlightMargin => Kind::Angle,
            Quantity::HumpMargin
            | Quantity::Slip
            | Quantity::Immersion
            | Quantity::DynamicShare => Kind::Fraction,
            Quantity::HumpCurrent | Quantity::TopCurrent => Kind::Current,
            Quantity::PlaningSpeed | Quantity::TopSpeed | Quantity::LateTopSpeed => Kind::Speed,
            Quantity::RunTime => Kind::Time,
            Quantity::Hottest => Kind::Temperature,
            Quantity::TopPower => Kind::Power,
            Quantity::TopShaftSpeed => Kind::ShaftSpeed,
        }
    }

    /// What a builder calls it.
    pub const fn name(self) -> &'static str {
        match self {
            Quantity::Mass => "all-up mass",
            Quantity::BalanceX => "balance point ahead of the transom",
            Quantity::RestTrim => "trim at rest",
            Quantity::RestHeel => "heel at rest",
            Quantity::Freeboard => "freeboard",
            Quantity::HumpMargin => "thrust to spare at the hump",
            Quantity::HumpCurrent => "current at the hump",
            Quantity::PlaningSpeed => "planing from",
            Quantity::TopSpeed => "top speed",
            Quantity::TopTrim => "trim at top speed",
            Quantity::TopCurrent => "current at top speed",
            Quantity::TopPower => "shaft power at top speed",
            Quantity::TopShaftSpeed => "propeller speed at top speed",
            Quantity::Slip => "slip",
            Quantity::Immersion => "propeller immersion",
            Quantity::DynamicShare => "share of lift from speed",
            Quantity::PorpoisingMargin => "trim to spare before porpoising",
            Quantity::LateTopSpeed => "top speed late in the run",
            Quantity::RunTime => "run time",
            Quantity::Hottest => "hottest against its limit",
            Quantity::FlightMargin => "pitch to spare before it blows over",
            Quantity::TightestTurn => "tightest turn",
        }
    }

    /// The unit it is told in.
    pub fn unit(self) -> &'static str {
        match self {
            Quantity::TightestTurn => "m",
            other => other.kind().units().first().map_or("", |u| u.symbol),
        }
    }
}

/// Quantities, each absent where the boat has none (no drive, never planes).
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Quantities([Option<f64>; Quantity::ALL.len()]);

impl Quantities {
    /// One answer, SI.
    pub fn get(&self, quantity: Quantity) -> Option<f64> {
        self.0[quantity as usize]
    }

    pub(crate) fn set(&mut self, quantity: Quantity, value: Option<f64>) {
        self.0[quantity as usize] = value.filter(|v| v.is_finite());
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
        answers.set(Quantity::Mass, Some(mass.mass_kg));
        answers.set(Quantity::BalanceX, Some(mass.cg_m.x));
        let rest = craft.rest_attitude();
        answers.set(Quantity::RestTrim, Some(rest.trim_rad));
        answers.set(Quantity::RestHeel, Some(rest.heel_rad));
        answers.set(Quantity::Freeboard, lowest_opening_m(boat, form, craft));
        answers.set(Quantity::HumpMargin, curve.hump.map(|h| h.margin));
        answers.set(Quantity::HumpCurrent, hump_current_a(craft, curve));
        answers.set(Quantity::PlaningSpeed, craft::curve::planing_speed(curve));
        if let Some(top) = &curve.top {
            answers.set_top(top);
        }
        if HullType::of(boat, form) == HullType::Vee {
            let density = craft.surroundings().water_density_kg_m3;
            let nearest = porpoising::nearest(form, density, curve);
            answers.set(Quantity::PorpoisingMargin, nearest.map(|p| p.margin_rad));
        }
        answers
    }

    /// At rest the hull afloat on its columns is asked of every variation, and the clipped mesh of the boat itself:
    /// all of them are moved by what the two differ.
    pub(crate) fn moved_to(&mut self, exact: &[(Quantity, f64)]) {
        for (quantity, by) in exact {
            let moved = self.get(*quantity).map(|v| v + by);
            self.set(*quantity, moved);
        }
    }

    /// What only the drives' runs in time tell.
    pub(crate) fn set_runs(&mut self, runs: &[FlatOut]) {
        let shortest =
            |of: fn(&FlatOut) -> Option<f64>| runs.iter().filter_map(of).min_by(f64::total_cmp);
        self.set(Quantity::RunTime, shortest(FlatOut::run_time_s));
        self.set(Quantity::LateTopSpeed, shortest(FlatOut::late_m_s));
        let warmest = FlatOut::warmest(runs).map(|w| w.at_k - 273.15);
        self.set(Quantity::Hottest, warmest);
    }

    /// Flat out as another state has it; nothing where there is none.
    pub(crate) fn set_top_of(&mut self, top: Option<&RunningState>) {
        match top {
            Some(top) => self.set_top(top),
            None => {
                for quantity in [Quantity::TopSpeed, Quantity::TopCurrent, Quantity::TopPower] {
                    self.set(quantity, None);
                }
            }
        }
    }

    fn set_top(&mut self, top: &RunningState) {
        self.set(Quantity::TopSpeed, Some(top.speed_m_s));
        self.set(Quantity::TopTrim, Some(top.attitude.trim_rad));
        self.set(Quantity::TopCurrent, most(top, |d| d.current_a));
        let power: f64 = top.drives.iter().map(|d| d.shaft_power_w).sum();
        self.set(Quantity::TopPower, Some(power));
        self.set(Quantity::TopShaftSpeed, most(top, |d| d.shaft_rad_s));
        self.set(Quantity::Slip, most(top, |d| d.slip));
        self.set(Quantity::Immersion, most(top, |d| d.immersion));
        self.set(Quantity::DynamicShare, Some(top.dynamic_share()));
    }
}

/// Greatest pack current of a drive with the throttle wide open at the hump, A: what a builder
/// sees while the boat accelerates through it.
fn hump_current_a(craft: &Craft, curve: &SpeedCurve) -> Option<f64> {
    craft
        .full_throttle_currents_a(curve.at_hump.as_ref()?, Grip::Settled)
        .into_iter()
        .max_by(f64::total_cmp)
}

fn most(state: &RunningState, of: impl Fn(&craft::DriveState) -> f64) -> Option<f64> {
    state.drives.iter().map(of).max_by(f64::total_cmp)
}

/// Lowest opening or rim above the water at rest, m, with the hull afloat on its columns.
pub(crate) fn lowest_opening_m(boat: &Boat, form: &Form, craft: &Craft) -> Option<f64> {
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

/// Greatest throw of a rudder, rad.
pub(crate) fn throw_rad(boat: &Boat) -> f64 {
    let throws = boat.rudders.iter().map(|r| r.throw_rad.value);
    throws.fold(0.0, f64::max)
}

/// A boat solved as far as the questions go.
pub struct Solved {
    /// Quantities.
    pub quantities: Quantities,
    /// From rest to a little beyond top speed; empty without a drive.
    pub curve: SpeedCurve,
    /// What full throttle comes to; not asked of a boat that is nearly a known one and has no top speed.
    pub full_throttle: Option<TopSpeed>,
    /// The elements.
    pub craft: Craft,
}

/// How closely to follow the speed curve.
#[derive(Clone, Copy)]
pub enum Detail<'a> {
    /// So many speeds, and every other way it could run.
    Full(usize),
    /// One pass at about so many speeds.
    Rough(usize),
    /// The same of a boat that is nearly the one of this curve, which takes a small part of the time.
    Like(usize, &'a Craft, &'a SpeedCurve),
    /// The same of a change that somebody may make because it is faster.
    Tried(usize, &'a Craft, &'a SpeedCurve),
}

/// A change that is faster by less than this share need not be looked at twice.
const FASTER: f64 = 0.02;

impl<'a> Detail<'a> {
    /// Of a change that may be made.
    pub(crate) fn tried(self) -> Self {
        match self {
            Self::Like(points, craft, known) => Self::Tried(points, craft, known),
            other => other,
        }
    }

    /// Whether the boat is let go at its steady top speed, to see if it stays there: likely boats only where the boat
    /// itself goes on to something else, changes also where they promise more speed to one that stays.
    fn lets_go(&self, curve: &SpeedCurve) -> bool {
        match self {
            Self::Full(_) | Self::Rough(_) => true,
            Self::Like(_, _, known) => known.left.is_some(),
            Self::Tried(_, _, known) => {
                let speed = |c: &SpeedCurve| c.top.as_ref().map(|t| t.speed_m_s);
                let faster = match (speed(curve), speed(known)) {
                    (Some(now), Some(then)) => now > (1.0 + FASTER) * then,
                    _ => false,
                };
                known.left.is_some() || faster && !known.goes_over
            }
        }
    }
}

/// Asks everything of one boat.
///
/// # Errors
/// [`CraftError`] when it sinks or a law refuses a number.
pub fn solve(
    boat: &Boat,
    form: &Form,
    mass: &MassProperties,
    factors: &Factors,
    detail: Detail<'_>,
) -> Result<Solved, CraftError> {
    let (solved, ()) = solve_beside(boat, form, mass, factors, detail, |_, _| ())?;
    Ok(solved)
}

/// The same, with something else asked of the boat's elements meanwhile, which is told whether the curve is still looked
/// for.
///
/// # Errors
/// As [`solve`].
pub fn solve_beside<T: Send>(
    boat: &Boat,
    form: &Form,
    mass: &MassProperties,
    factors: &Factors,
    detail: Detail<'_>,
    beside: impl FnOnce(&Craft, &dyn Fn() -> bool) -> T + Send,
) -> Result<(Solved, T), CraftError> {
    let craft = match detail {
        Detail::Like(_, known, _) | Detail::Tried(_, known, _) => {
            Craft::sharing(known, boat, form, mass, factors)?
        }
        Detail::Full(_) | Detail::Rough(_) => Craft::new(boat, form, mass, factors)?,
    };
    let found = AtomicBool::new(false);
    let curve = || {
        let curve = match detail {
            Detail::Full(points) => craft.speed_curve(points),
            Detail::Rough(points) => craft.rough_curve(points),
            Detail::Like(points, _, known) | Detail::Tried(points, _, known) => {
                craft.rough_curve_like(points, known)
            }
        };
        found.store(true, Ordering::Relaxed);
        curve
    };
    let looked_for = || !found.load(Ordering::Relaxed);
    let (mut curve, asked_beside) = rayon::join(curve, || beside(&craft, &looked_for));
    let asked = curve.top.is_some() || !matches!(detail, Detail::Like(..) | Detail::Tried(..));
    let mut full_throttle = asked.then(|| motion::top_speed(&craft, &curve, throw_rad(boat)));
    if let (Some(top), true) = (&curve.top, detail.lets_go(&curve)) {
        match motion::let_go(&craft, top, throw_rad(boat)) {
            LetGo::Stays => (),
            LetGo::Leaves(other) => full_throttle = Some(other),
            LetGo::GoesOver => curve.goes_over = true,
        }
    } else if let Detail::Like(_, _, known) | Detail::Tried(_, _, known) = detail {
        curve.goes_over = known.goes_over;
    }
    if let Some(TopSpeed::Unsteady { average, why, .. }) = &full_throttle {
        curve.left = std::mem::replace(&mut curve.top, average.as_deref().cloned());
        curve.no_top = Some((*why).into());
    }
    let quantities = Quantities::of(boat, form, mass, &craft, &curve);
    let solved = Solved {
        quantities,
        curve,
        full_throttle,
        craft,
    };
    Ok((solved, asked_beside))
}
