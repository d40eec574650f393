//! Causes put into the model: the boat as it would be if the cause held, asked for the number that the symptom is
//! about.
//!
//! A run of this kind does not show that the cause is there. It shows whether the cause, in the size a builder
//! meets it (judgement, told in the sentence), would make *this* boat do what was seen.

use super::clue::{Case, Word, measured, word};
use super::table::{Cause, Symptom};
use boat::{Boat, Measure};
use craft::Factors;
use evidence::outing::QuantityKind;
use motion::turning::{Turns, Way};
use power::thermal::Part;
use study::handling::turned;
use study::quantity::{Solved, solve};
use study::{Quantity, Study};

/// A number that moves by this share of itself, or an angle by so many rad, moves (judgement).
const MOVES: f64 = 0.02;
const MOVES_RAD: f64 = 0.003;
/// For and against: that a cause could do it is a weaker word than a finding that it is there.
const DOES: f64 = 1.25;
const DOES_NOT: f64 = 0.6;
/// Time constant of a wet lead's edges where nobody captured it, s, and thresholds of ordinary logic at 3.3 V, V
/// (from memory).
const WET_S: f64 = 40e-6;
const LOGIC_V: (f64, f64, f64) = (3.3, 2.0, 0.8);
/// Pulse from the middle to full rudder, s.
const FULL_S: f64 = 500e-6;

/// The boat a cause is put into.
struct Spoilt {
    boat: Boat,
    factors: Factors,
    mass_share: f64,
}

/// How a cause is put in.
enum Put {
    /// The boat changes, in the words of the sentence.
    Change(&'static str, fn(&mut Spoilt)),
    /// Nothing comes in at the pickup.
    Blocked,
    /// The servo reads another pulse.
    WetLead,
}

/// Numbers a symptom is about, and whether the symptom is more (1) or less (-1) of each; none for what no number tells.
pub fn about(symptom: &Symptom) -> &'static [(Quantity, f64)] {
    use Quantity as Q;
    match symptom.id {
        "porpoising" => &[(Q::PorpoisingMargin, -1.0), (Q::TopTrim, 1.0)],
        "blow-over" => &[(Q::TopTrim, 1.0)],
        "hop-straight" | "on-propeller" => &[(Q::Immersion, 1.0)],
        "no-plane-revs" | "no-plane-bogged" => &[(Q::HumpMargin, -1.0)],
        "stuffs-start" | "dives-waves" | "rides-wet" => &[(Q::TopTrim, -1.0)],
        "motor-hot" | "controller-hot" | "controller-cuts" | "pack-hot" | "short-run" => {
            &[(Q::TopCurrent, 1.0)]
        }
        "stutters" => &[(Q::HumpCurrent, 1.0)],
        "slow" | "slower-later" => &[(Q::TopSpeed, -1.0)],
        "sits-low" => &[(Q::Freeboard, -1.0)],
        "lopsided" => &[(Q::RestHeel, 1.0)],
        _ => &[],
    }
}

/// Whether a symptom is about how tightly it turns.
fn about_turning(symptom: &Symptom) -> bool {
    matches!(symptom.id, "no-steer" | "spins-out" | "turns-one-way")
}

fn put(cause: &Cause) -> Option<Put> {
    use Put::{Blocked, Change, WetLead};
    Some(match cause.id {
        "balance-aft" => Change("everything that can be moved 15 mm further aft", |s| {
            slide(s, -0.015)
        }),
        "balance-forward" | "balance-at-edge" => {
            Change("everything that can be moved 15 mm further forward", |s| {
                slide(s, 0.015)
            })
        }
        "tail-light" => Change("everything that can be moved 15 mm further forward", |s| {
            slide(s, 0.015)
        }),
        "strut-up" => Change("the shaft 1.5° more propeller-up", |s| shaft(s, -1.5, 0.0)),
        "strut-down" => Change("the shaft 1° more propeller-down and 1 mm deeper", |s| {
            shaft(s, 1.0, -1e-3)
        }),
        "strut-high" => Change("the propeller 2 mm higher", |s| shaft(s, 0.0, 2e-3)),
        "propeller-lifts" => Change("the propeller 2 mm deeper", |s| shaft(s, 0.0, -2e-3)),
        "propeller-far-back" => Change("the propeller 15 mm further back", |s| {
            for drive in &mut s.boat.drives {
                drive.propeller.at[0].value -= 0.015;
            }
        }),
        "propeller-big" => Change("a propeller 2 mm larger", |s| size(s, 2e-3)),
        "propeller-small" => Change("a propeller 2 mm smaller", |s| size(s, -2e-3)),
        "propeller-blunt" | "propeller-nicked" => Change(
            "a propeller that gives a tenth less thrust and takes a twentieth more torque",
            |s| {
                s.factors.thrust *= 0.9;
                s.factors.torque *= 1.05;
            },
        ),
        "propeller-airy" => Change("a propeller that gives a third less thrust, in air", |s| {
            s.factors.thrust *= 0.67;
            s.factors.torque *= 0.75;
        }),
        "driveline-binds" => Change("a driveline that takes a quarter more torque", |s| {
            s.factors.torque *= 1.25
        }),
        "pack-weak" => Change("a pack of twice the resistance", |s| {
            for drive in &mut s.boat.drives {
                drive.battery.cell_resistance_ohm.value *= 2.0;
            }
        }),
        "motor-warm" => Change("a motor with a quarter more resistance", |s| {
            for drive in &mut s.boat.drives {
                drive.motor.resistance_ohm.value *= 1.25;
            }
        }),
        "motor-wrong" => Change("a motor of a tenth less speed constant", |s| {
            for drive in &mut s.boat.drives {
                drive.motor.kv_rad_s_v.value *= 0.9;
            }
        }),
        "heavy" => Change("the boat a fifth heavier", |s| s.mass_share = 1.2),
        "water-carried" => Change("a tenth of its weight in water aboard", |s| {
            s.mass_share = 1.1
        }),
        "load-off-centre" => Change("everything that can be moved 15 mm to the left", |s| {
            for part in s.boat.parts.iter_mut().filter(|p| p.movable) {
                part.at[1].value += 0.015;
            }
        }),
        "wind" => Change("5 m/s of wind from ahead", |s| {
            s.boat.air.headwind_m_s.value += 5.0
        }),
        "fin-missing" => Change("the fins off", |s| s.boat.fins.clear()),
        "fin-shallow" => Change("fins of two thirds of the depth", |s| {
            s.boat.fins.iter_mut().for_each(|f| f.span_m.value *= 0.67);
        }),
        "rudder-short" | "rudder-airy" => Change("a rudder of which a third is gone", |s| {
            s.boat
                .rudders
                .iter_mut()
                .for_each(|r| r.span_m.value *= 0.67);
        }),
        "linkage-slipped" => Change("half the rudder's throw", |s| {
            s.boat
                .rudders
                .iter_mut()
                .for_each(|r| r.throw_rad.value *= 0.5);
        }),
        "throw-much" => Change("a third more throw", |s| {
            s.boat
                .rudders
                .iter_mut()
                .for_each(|r| r.throw_rad.value *= 1.33);
        }),
        "no-water" | "pickup-blocked" | "pickup-dry" | "tube-kinked" => Blocked,
        "lead-wet" | "receiver-wet" => WetLead,
        _ => return None,
    })
}

fn slide(s: &mut Spoilt, by_m: f64) {
    for part in s.boat.parts.iter_mut().filter(|p| p.movable) {
        part.at[0].value += by_m;
    }
}

fn shaft(s: &mut Spoilt, down_deg: f64, up_m: f64) {
    for drive in &mut s.boat.drives {
        drive.shaft.angle_rad.value += down_deg.to_radians();
        drive.propeller.at[2].value += up_m;
    }
}

fn size(s: &mut Spoilt, by_m: f64) {
    for drive in &mut s.boat.drives {
        let Measure { value, .. } = &mut drive.propeller.diameter_m;
        *value = (*value + by_m).max(0.5 * *value);
    }
}

/// What the model says of a cause of a symptom; nothing where it cannot be put in or has no say.
pub(super) fn tried(symptom: &Symptom, cause: &Cause, case: &Case) -> Option<Word> {
    match put(cause)? {
        Put::Blocked => blocked(case.study),
        Put::WetLead => wet_lead(case),
        Put::Change(what, change) => {
            let study = case.study;
            let now = solved(study, |_| ())?;
            let then = solved(study, change);
            let Some(then) = then else {
                return word(
                    DOES,
                    format!("put into the model, {what} is a boat that does not run"),
                );
            };
            if about_turning(symptom) {
                return tighter(what, &now, &then);
            }
            about(symptom)
                .iter()
                .find_map(|(quantity, way)| moved(what, *quantity, *way, &now, &then))
        }
    }
}

fn solved(study: &Study, change: impl FnOnce(&mut Spoilt)) -> Option<Solved> {
    let mut spoilt = Spoilt {
        boat: study.boat.clone(),
        factors: study.learned.factors(),
        mass_share: 1.0,
    };
    change(&mut spoilt);
    let mut mass = craft::mass::mass_properties(&spoilt.boat, &study.form).ok()?;
    mass.mass_kg *= spoilt.mass_share;
    mass.inertia_kg_m2 *= spoilt.mass_share;
    solve(
        &spoilt.boat,
        &study.form,
        &mass,
        &spoilt.factors,
        study.like(),
    )
    .ok()
}

fn moved(what: &str, quantity: Quantity, way: f64, now: &Solved, then: &Solved) -> Option<Word> {
    let before = now.quantities.get(quantity)?;
    let show = |value| advice::Number::exact(quantity.kind(), value).plain();
    let Some(after) = then.quantities.get(quantity) else {
        return word(
            DOES,
            format!(
                "put into the model, {what}: there is no {} any more, now {}",
                quantity.name(),
                show(before)
            ),
        );
    };
    // Heel to either side is heel.
    let size = |x: f64| {
        if quantity == Quantity::RestHeel {
            x.abs()
        } else {
            x
        }
    };
    let by = way * (size(after) - size(before));
    let angle = matches!(quantity.kind(), boat::Kind::Angle);
    let enough = if angle {
        MOVES_RAD
    } else {
        MOVES * before.abs()
    };
    let says = format!(
        "put into the model, {what}: {} {} instead of {}",
        quantity.name(),
        show(after),
        show(before)
    );
    if by > enough {
        word(DOES, says)
    } else {
        word(DOES_NOT, format!("{says}, so it would hardly do this"))
    }
}

/// The tightest turn to either side.
fn tighter(what: &str, now: &Solved, then: &Solved) -> Option<Word> {
    let tightest = |solved: &Solved| {
        let steered = turned(&solved.craft, &solved.curve)?.steered(&solved.craft)?;
        Some(steered.tightest()?.1.radius_m)
    };
    let before = tightest(now)?;
    let Some(after) = tightest(then) else {
        return word(DOES, format!("put into the model, {what}: no turn is left"));
    };
    let says = format!(
        "put into the model, {what}: the tightest turn is {after:.0} m in radius instead of {before:.0} m"
    );
    if (after / before - 1.0).abs() > 0.1 {
        word(DOES, says)
    } else {
        word(DOES_NOT, format!("{says}, so it would hardly do this"))
    }
}

/// Flat out with nothing coming in at the pickup.
fn blocked(study: &Study) -> Option<Word> {
    let runs = &study.running.as_ref()?.flat_out;
    let (run, dry) = runs.iter().find_map(|r| Some((r, r.blocked.as_ref()?)))?;
    let each = Part::ALL.into_iter().filter(|p| *p != Part::Air);
    let rise = |p: &Part| dry.hottest_k[*p as usize] - run.run.hottest_k[*p as usize];
    let worst = each.max_by(|a, b| rise(a).total_cmp(&rise(b)))?;
    let celsius = |k: f64| advice::Number::exact(boat::Kind::Temperature, k - 273.15).plain();
    let says = format!(
        "put into the model, no water at the pickup: the {} reaches {} flat out instead of {}",
        worst.name(),
        celsius(dry.hottest_k[worst as usize]),
        celsius(run.run.hottest_k[worst as usize])
    );
    word(if rise(&worst) > 5.0 { DOES } else { DOES_NOT }, says)
}

/// What the servo makes of slow edges.
fn wet_lead(case: &Case) -> Option<Word> {
    let rudder = case.study.boat.rudders.first()?;
    let kind = |q: &&evidence::outing::Value| q.kind == QuantityKind::EdgeTimeConstant;
    let captured = case
        .outing
        .into_iter()
        .flat_map(|o| &o.quantities)
        .filter(kind)
        .map(|q| q.value)
        .reduce(f64::max);
    let (drive_v, rise_v, fall_v) = LOGIC_V;
    let tau = captured.unwrap_or(WET_S);
    // Resistance and capacitance matter by their product alone.
    let edge = laws::pulse_edge::pulse_edge(1.0, tau, drive_v, rise_v, fall_v).ok()?;
    let share = edge.width_error_s / FULL_S;
    let off_rad = share * rudder.throw_rad.value;
    let circle = radius_at(case.study, off_rad)
        .map(|r| format!(", a circle of about {r:.0} m"))
        .unwrap_or_default();
    let whose = if captured.is_some() {
        "captured"
    } else {
        "of a wet plug, say"
    };
    let says = format!(
        "edges of {:.0} µs ({whose}) make an ordinary servo read {:.0} µs more: the rudder stands {:.1}° off the middle{circle}",
        1e6 * tau,
        1e6 * edge.width_error_s,
        off_rad.to_degrees()
    );
    let times = if off_rad.to_degrees() > 0.3 {
        DOES
    } else {
        DOES_NOT
    };
    if captured.is_some() {
        measured(times, says)
    } else {
        word(times, says)
    }
}

/// Radius of the circle a small rudder angle gives: that of the first steady turn, in proportion.
fn radius_at(study: &Study, off_rad: f64) -> Option<f64> {
    let (_, turns): (f64, &Turns) = study.running.as_ref()?.handling.circles()?;
    let straight = turns.straight.circle.rudder_rad;
    let first = Way::BOTH.into_iter().find_map(|way| {
        let turned = |t: &&motion::turning::Turn| t.radius_m.is_finite() && t.radius_m > 0.0;
        turns.to(way).turns.iter().find(turned)
    })?;
    let angle = (first.circle.rudder_rad - straight).abs();
    (angle > 1e-6 && off_rad.abs() > 1e-6).then(|| first.radius_m * angle / off_rad.abs())
}
