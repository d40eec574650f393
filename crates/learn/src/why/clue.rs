//! What model and recordings say for or against a cause.

use crate::observe::Place;
use crate::reconcile::{Reconciled, Row};
use advice::{Finding, Standing};
use boat::Boat;
use evidence::outing::{Outing, QuantityKind, Statistic};
use std::f64::consts::TAU;
use study::Study;

/// Something that can be looked up.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(missing_docs)]
pub enum Clue {
    /// A finding about the cause: stop speaks for it strongly, watch weakly, good against it.
    Finds(&'static str),
    /// A finding's number below its limit speaks for it, above it against.
    Low(&'static str),
    /// The other way round.
    High(&'static str),
    Aft,
    Forward,
    ShaftUp,
    ShaftDown,
    PropellerShallow,
    PropellerDeep,
    PropellerBack,
    HasFin,
    NoFin,
    OneSidedFin,
    HasRudder,
    ThrowMuch,
    OnePropeller,
    LowDeadrise,
    NoCooling,
    CarbonHull,
    Slipping,
    SlipLow,
    CurrentHigh,
    VoltageLow,
    ControllerHot,
    SlowEdges,
}

/// What is known of the boat.
#[derive(Clone, Copy)]
pub struct Case<'a> {
    /// The model's answers.
    pub study: &'a Study,
    /// Its findings.
    pub findings: &'a [Finding],
    /// What was measured.
    pub outing: Option<&'a Outing>,
    /// Held against the model.
    pub found: Option<&'a Reconciled>,
}

/// A word for or against.
#[derive(Debug, Clone, PartialEq)]
pub struct Word {
    /// How many times more likely the cause is with it; below one speaks against.
    pub times: f64,
    /// In words.
    pub says: String,
    /// Whether a recording rather than the model says so.
    pub measured: bool,
}

const STRONG: f64 = 4.0;
const WEAK: f64 = 2.0;

pub(super) fn word(times: f64, says: impl Into<String>) -> Option<Word> {
    Some(Word {
        times,
        says: says.into(),
        measured: false,
    })
}

pub(super) fn measured(times: f64, says: impl Into<String>) -> Option<Word> {
    Some(Word {
        times,
        says: says.into(),
        measured: true,
    })
}

impl Clue {
    /// What it says in this case; `None` when it has no say.
    pub fn ask(self, case: &Case) -> Option<Word> {
        let boat = &case.study.boat;
        match self {
            Self::Finds(id) => finds(case, id),
            Self::Low(id) => side(case, id, -1.0),
            Self::High(id) => side(case, id, 1.0),
            Self::Aft => balance(case, -1.0),
            Self::Forward => balance(case, 1.0),
            Self::ShaftUp => shaft(boat, -1.0),
            Self::ShaftDown => shaft(boat, 1.0),
            Self::PropellerShallow => immersed(case, -1.0),
            Self::PropellerDeep => immersed(case, 1.0),
            Self::PropellerBack => back(case),
            Self::HasFin => none_of(boat.fins.is_empty(), "turn fin"),
            Self::HasRudder => none_of(boat.rudders.is_empty(), "rudder"),
            Self::NoFin => match boat.fins.is_empty() {
                true => word(STRONG, "the boat file has no turn fin"),
                false => word(1.0 / WEAK, "the boat file has a turn fin"),
            },
            Self::OneSidedFin => one_sided(boat),
            Self::ThrowMuch => throw(boat),
            Self::OnePropeller => match boat.drives.len() {
                1 => word(WEAK, "one propeller, nothing turns against it"),
                _ => balanced(boat),
            },
            Self::LowDeadrise => deadrise(case),
            Self::NoCooling => match boat.drives.iter().any(|d| d.cooling.is_some()) {
                true => None,
                false => word(WEAK, "the boat file has no water line at all"),
            },
            Self::CarbonHull => {
                let name = boat.hull.print.material.to_lowercase();
                if name.contains("cf") || name.contains("carbon") {
                    word(
                        STRONG,
                        format!("the hull is printed of {}", boat.hull.print.material),
                    )
                } else {
                    word(
                        1.0 / STRONG,
                        format!(
                            "the hull is of {}, which lets radio through",
                            boat.hull.print.material
                        ),
                    )
                }
            }
            Self::Slipping => slipping(case),
            Self::SlipLow => side(case, "slip", -1.0),
            Self::CurrentHigh => against_model(case, QuantityKind::Current, 1.0),
            Self::VoltageLow => against_model(case, QuantityKind::Voltage, -1.0),
            Self::ControllerHot => controller_hot(case),
            Self::SlowEdges => edges(case),
        }
    }
}

fn finding<'a>(case: &Case<'a>, id: &str) -> Option<&'a Finding> {
    case.findings.iter().find(|f| f.id == id)
}

fn finds(case: &Case, id: &str) -> Option<Word> {
    let f = finding(case, id)?;
    let times = match f.standing {
        Standing::Stop => STRONG,
        Standing::Watch => WEAK,
        Standing::Good => 1.0 / WEAK,
        Standing::Unsure => return None,
    };
    word(times, format!("{} [{id}]", f.sentence))
}

/// `way` 1: above its limit speaks for the cause.
fn side(case: &Case, id: &str, way: f64) -> Option<Word> {
    let f = finding(case, id)?;
    let (number, limit) = (f.number?, f.limit.as_ref()?);
    let over = limit.at_most.is_some_and(|l| number.value > l.value);
    let under = limit.at_least.is_some_and(|l| number.value < l.value);
    let times = match (over, under) {
        (false, false) => 1.0 / WEAK,
        (true, _) if way > 0.0 => STRONG,
        (_, true) if way < 0.0 => STRONG,
        _ => 1.0 / STRONG,
    };
    word(times, format!("{} [{id}]", f.sentence))
}

/// The rule's number counts from the transom on a vee and a catamaran, from the sponsons' edge aft on
/// others. `way` 1 asks for too far forward.
fn balance(case: &Case, way: f64) -> Option<Word> {
    use study::hull_type::HullType;
    let aft_counts = matches!(
        case.study.hull_type,
        HullType::ThreePoint | HullType::Outrigger
    );
    side(case, "balance", if aft_counts { -way } else { way })
}

fn shaft(boat: &Boat, way: f64) -> Option<Word> {
    let angle = boat.drives.first()?.shaft.angle_rad.value.to_degrees();
    let says = format!("the shaft stands {angle:.1}° propeller-down in the boat file");
    // Common practice sets it from level to 2 degrees propeller-down.
    let times = match way * (angle - 0.75) {
        off if off > 1.5 => STRONG,
        off if off > 0.5 => WEAK,
        off if off < -1.5 => 1.0 / STRONG,
        _ => 1.0 / 1.5,
    };
    word(times, says)
}

/// `way` 1 asks for too deep. Builders run about half the disc in the water.
fn immersed(case: &Case, way: f64) -> Option<Word> {
    let top = case.study.running.as_ref()?.curve.top.as_ref()?;
    let immersion = top.drives.first()?.immersion;
    let says = format!(
        "at top speed {:.0} % of the propeller's height is in the water",
        100.0 * immersion
    );
    let times = match way * (immersion - 0.5) {
        off if off > 0.2 => STRONG,
        off if off > 0.1 => WEAK,
        _ => 1.0 / WEAK,
    };
    word(times, says)
}

fn back(case: &Case) -> Option<Word> {
    let at = case.study.boat.drives.first()?.propeller.at[0].value;
    let share = -at / case.study.form.outline.length_m.max(1e-9);
    let says = format!(
        "the propeller is {:.0} mm behind the transom, {:.0} % of the length",
        -1e3 * at,
        100.0 * share
    );
    word(
        if share > 0.15 {
            STRONG
        } else if share > 0.1 {
            WEAK
        } else {
            1.0 / WEAK
        },
        says,
    )
}

fn none_of(none: bool, what: &str) -> Option<Word> {
    if none {
        word(1.0 / 20.0, format!("the boat file has no {what}"))
    } else {
        None
    }
}

fn one_sided(boat: &Boat) -> Option<Word> {
    let sides: Vec<f64> = boat.fins.iter().map(|f| f.at[1].value).collect();
    if sides.is_empty() {
        return word(1.0 / STRONG, "the boat file has no turn fin");
    }
    let off = sides.iter().all(|y| *y < -0.01) || sides.iter().all(|y| *y > 0.01);
    if off && boat.drives.len() == 1 {
        let side = if sides[0] < 0.0 { "starboard" } else { "port" };
        return word(
            STRONG,
            format!("one propeller, and its fin is on the {side} side only: it turns that way"),
        );
    }
    word(1.0 / STRONG, "its fins are in the middle or on both sides")
}

fn throw(boat: &Boat) -> Option<Word> {
    let most = boat
        .rudders
        .iter()
        .map(|r| r.throw_rad.value)
        .reduce(f64::max)?;
    let says = format!("the rudder moves {:.0}° each way", most.to_degrees());
    word(
        if most.to_degrees() > 35.0 {
            WEAK
        } else {
            1.0 / WEAK
        },
        says,
    )
}

fn balanced(boat: &Boat) -> Option<Word> {
    let right = boat
        .drives
        .iter()
        .filter(|d| d.propeller.right_handed)
        .count();
    if 2 * right == boat.drives.len() {
        word(1.0 / STRONG, "its propellers turn against each other")
    } else {
        word(WEAK, "its propellers turn the same way")
    }
}

fn deadrise(case: &Case) -> Option<Word> {
    if case.study.hull_type != study::hull_type::HullType::Vee {
        return None;
    }
    let least = case
        .study
        .form
        .surfaces
        .iter()
        .map(|s| s.deadrise_rad.value)
        .reduce(f64::min)?;
    let deg = least.to_degrees();
    word(
        if deg < 12.0 { WEAK } else { 1.0 / WEAK },
        format!("deadrise is {deg:.0}°"),
    )
}

fn rows<'a>(case: &Case<'a>) -> &'a [Row] {
    case.found.map_or(&[], |f| &f.rows)
}

/// Slip measured by turns and speed, else by what the model finds.
fn slipping(case: &Case) -> Option<Word> {
    let (_, high, sick) = case.study.hull_type.slip()?;
    let Some(slip) = measured_slip(case) else {
        return side(case, "slip", 1.0);
    };
    let says = format!(
        "measured turns and speed leave {:.0} % slip; {:.0} % is where a well-set boat ends",
        100.0 * slip,
        100.0 * high
    );
    measured(
        if slip > sick {
            STRONG
        } else if slip > high {
            WEAK
        } else {
            1.0 / STRONG
        },
        says,
    )
}

/// From the speed the instruments agree on and the turns flat out.
pub fn measured_slip(case: &Case) -> Option<f64> {
    let speed = case.found?.speed.mean()?.value;
    let flat_out = |r: &&Row| {
        r.observed.kind == QuantityKind::ShaftSpeed
            && matches!(r.observed.place, Place::Throttle(t) if t > 0.97)
    };
    let turns = rows(case).iter().find(flat_out)?.observed.measured.value;
    let propeller = &case.study.boat.drives.first()?.propeller;
    let pitch = propeller.diameter_m.value * propeller.pitch_ratio.value;
    Some(1.0 - speed / (pitch * turns / TAU))
}

fn against_model(case: &Case, kind: QuantityKind, way: f64) -> Option<Word> {
    let row = rows(case).iter().find(|r| r.observed.kind == kind)?;
    let apart = way * row.apart();
    let name = crate::observe::name(kind);
    let more = if row.apart() > 0.0 { "more" } else { "less" };
    let says = format!(
        "{name} was measured {:.1} standard errors {more} than predicted",
        row.apart().abs()
    );
    measured(
        if apart > 3.0 {
            STRONG
        } else if apart > 1.5 {
            WEAK
        } else {
            1.0 / WEAK
        },
        says,
    )
}

fn controller_hot(case: &Case) -> Option<Word> {
    let limit = case
        .study
        .boat
        .drives
        .first()?
        .controller
        .max_temperature_c
        .value;
    let hottest = hottest(case.outing?, QuantityKind::ControllerTemperature)?;
    let says = format!("the log shows {hottest:.0} °C, its limit is {limit:.0} °C");
    measured(
        if hottest > limit - 5.0 {
            STRONG
        } else {
            1.0 / STRONG
        },
        says,
    )
}

/// Highest of a temperature in an outing, degC.
pub fn hottest(outing: &Outing, kind: QuantityKind) -> Option<f64> {
    let values = outing.quantities.iter().filter(|q| q.kind == kind);
    values.map(|q| q.value).reduce(f64::max)
}

/// Lowest battery voltage in an outing, V.
pub fn lowest_v(outing: &Outing) -> Option<f64> {
    let least = |q: &&evidence::outing::Value| {
        q.kind == QuantityKind::Voltage
            && matches!(q.statistic, Statistic::Least | Statistic::Steady)
    };
    outing
        .quantities
        .iter()
        .filter(least)
        .map(|q| q.value)
        .reduce(f64::min)
}

fn edges(case: &Case) -> Option<Word> {
    let constant = |q: &&evidence::outing::Value| q.kind == QuantityKind::EdgeTimeConstant;
    let slowest = case
        .outing?
        .quantities
        .iter()
        .filter(constant)
        .map(|q| q.value)
        .reduce(f64::max)?;
    let says = format!(
        "the servo pulses' edges have a time constant of {:.0} µs",
        1e6 * slowest
    );
    measured(if slowest > 5e-6 { STRONG } else { 1.0 / STRONG }, says)
}
