//! Under way: over the hump, on the plane, at top speed, and every other way it could run.

use boat::Kind;
use craft::outcome::Unsteady;
use motion::{InTime, Settled, TopSpeed};

use super::{asked, count, improve};
use crate::change::Want;
use crate::finding::{Basis, Finding, Limit, Standing};
use crate::number::Number;
use study::Quantity;
use study::hull_type::HullType;
use study::porpoising::nearest;
use study::{Study, Under};

/// Angle of a running surface to the water at speed. Common practice, no source.
const SURFACE_DEG: (f64, f64) = (0.5, 6.0);
/// Measured speed over pitch times unloaded turns. Common practice, no source.
const PITCH_SPEED_SHARE: (f64, f64) = (0.60, 0.82);
/// For so long `motion::let_go` watches it, s.
const HELD_S: f64 = motion::settled::LET_GO_S;
/// A hop that moves speed by less than this share is told by its bow (judgement).
const CALM: f64 = 0.02;
/// Of the likely boats: fewer is worth a word.
const ALMOST_ALL: f64 = 0.95;
/// Bias of Day and Haag's limit at the points it was read from, rad.
const PORPOISING_SPREAD_DEG: f64 = 0.7;

pub fn findings(study: &Study, under: &Under) -> Vec<Finding> {
    if study.boat.drives.is_empty() {
        return vec![Finding::new(
            "drive",
            Standing::Unsure,
            Basis::Statics,
            "No drive is fitted, so nothing can be said about running.",
        )];
    }
    let mut all = vec![planes(study, under)];
    all.extend(hump(study, under));
    all.extend(top_speed(study, under));
    all.extend(surface_angle(under));
    all.extend(slip(study));
    all.extend(pitch_speed(under));
    all.extend(gaps(under));
    all.extend(jumps(under));
    all.extend(porpoising(study, under));
    all
}

fn speed(value: f64) -> Number {
    Number::exact(Kind::Speed, value)
}

fn percent(value: f64) -> Number {
    Number::exact(Kind::Fraction, value)
}

fn planes(study: &Study, under: &Under) -> Finding {
    let often = count(study, |d| {
        d.quantities.get(Quantity::PlaningSpeed).is_some()
    });
    let Some(from) = asked(study, Quantity::PlaningSpeed) else {
        return never_planes(study, often);
    };
    let (standing, sentence) = plane_verdict(study, under, &from);
    let mut found = Finding::new("planes", standing, Basis::TheoryOnly, sentence)
        .number(from)
        .why("Planing is counted from the speed at which lift on the running surfaces carries more than the water pushed aside. Lift follows the 1964 fit and, above its speeds, the planing-plate law; both are measured on single hulls, and a pair of small pads is theory.");
    if let Some(top) = &under.curve.top {
        for surface in &top.wetted {
            found = found.figure(
                format!("{} wet at top speed", surface.name),
                format!(
                    "{} long, {} wide, lifts {}",
                    Number::exact(Kind::Length, surface.keel_length_m).plain(),
                    Number::exact(Kind::Length, surface.beam_m).plain(),
                    Number::exact(Kind::Force, surface.lift_n).plain()
                ),
            );
        }
    }
    if let Some(often) = often {
        found = found.figure("planes", often);
    }
    found.changes(improve(study, Quantity::PlaningSpeed, Want::Less))
}

fn plane_verdict(study: &Study, under: &Under, from: &Number) -> (Standing, String) {
    let Some(top) = under.quantities.get(Quantity::TopSpeed) else {
        return (Standing::Watch, format!("It planes from {}.", from.plain()));
    };
    if top < from.value {
        let sentence = format!(
            "It would plane from {}, which its power does not reach.",
            from.plain()
        );
        return (Standing::Stop, sentence);
    }
    let mut sentence = format!("It planes from {}.", from.plain());
    let planes = |d: &study::spread::Draw| d.quantities.get(Quantity::PlaningSpeed).is_some();
    match study.spread.share(planes) {
        Some(share) if share < ALMOST_ALL => {
            let not = percent(1.0 - share).plain();
            sentence.push_str(&format!(" It may not: {not} of likely builds never do."));
            (Standing::Watch, sentence)
        }
        _ => (Standing::Good, sentence),
    }
}

fn never_planes(study: &Study, often: Option<String>) -> Finding {
    let mut found = Finding::new(
        "planes",
        Standing::Stop,
        Basis::TheoryOnly,
        "It does not plane: the running surfaces never carry half of it.",
    )
    .why("Either the surfaces are too narrow or too flat to lift it, or there is too little thrust to reach the speed at which they would.");
    for surface in &study.form.surfaces {
        found = found.figure(
            &surface.name,
            format!(
                "{} wide at {}",
                Number::exact(Kind::Length, surface.beam_m.value).plain(),
                Number::exact(Kind::Angle, surface.angle_rad.value).plain()
            ),
        );
    }
    if let Some(often) = often {
        found = found.figure("planes", often);
    }
    found.changes(improve(study, Quantity::PlaningSpeed, Want::Less))
}

fn hump(study: &Study, under: &Under) -> Option<Finding> {
    let hump = under.curve.hump?;
    let margin = asked(study, Quantity::HumpMargin)?;
    let number = ratio(1.0 + margin.value, margin.spread);
    let limit = Limit::at_least(ratio(1.0, 0.0), "thrust available over thrust needed");
    let standing = limit.judge(&number, Standing::Stop);
    let at = speed(hump.speed_m_s).plain();
    let sentence = if number.value >= 1.0 {
        format!(
            "It gets over the hump: at {at} it has {} times the thrust it needs.",
            times(number.value)
        )
    } else {
        format!(
            "It does not get over the hump: at {at} it lacks {} of the thrust it needs.",
            percent(1.0 - number.value).plain()
        )
    };
    let mut found = Finding::new("hump", standing, Basis::TheoryOnly, sentence)
        .number(number)
        .limit(limit)
        .why("Between floating and planing a hull climbs its own wave. Thrust is at full throttle from the propeller, motor and pack together, drag at the attitude the boat takes.")
        .figure("current to hold it there", Number::exact(Kind::Current, hump.current_a))
        .figure(
            "greatest trim on the way",
            Number::exact(Kind::Angle, hump.trim_rad),
        );
    if let Some(current) = asked(study, Quantity::HumpCurrent) {
        found = found.figure("current there at full throttle", current);
    }
    if let Some(often) = count(study, |d| {
        d.quantities
            .get(Quantity::HumpMargin)
            .is_some_and(|m| m > 0.0)
    }) {
        found = found.figure("gets over", often);
    }
    Some(found.changes(improve(study, Quantity::HumpMargin, Want::More)))
}

/// A ratio, as builders say it.
fn ratio(value: f64, spread: f64) -> Number {
    Number::new(Kind::Number, value, spread).per("times")
}

fn times(value: f64) -> String {
    if value < 10.0 {
        format!("{value:.1}")
    } else {
        format!("{value:.0}")
    }
}

fn top_speed(study: &Study, under: &Under) -> Option<Finding> {
    let number = asked(study, Quantity::TopSpeed);
    let (TopSpeed::Steady(_), Some(number)) = (&under.full_throttle, number) else {
        return Some(no_top_speed(study, under, number));
    };
    let top = under.curve.top.as_ref()?;
    let limit = study
        .boat
        .wishes
        .speed_m_s
        .map(|wish| Limit::at_least(speed(wish), "the boat file's own wish"));
    let standing = match &limit {
        Some(limit) => limit.judge(&number, Standing::Watch),
        None => Standing::Good,
    };
    let sentence = match (study.boat.wishes.speed_m_s, short_of_hump_n(under)) {
        (_, Some((lacking_n, at_m_s))) => format!(
            "It tops out at {number}: it does not get over the hump, where it lacks {} at {}.",
            Number::exact(Kind::Force, lacking_n).plain(),
            speed(at_m_s).plain()
        ),
        (Some(wish), None) if number.value < wish => format!(
            "It tops out at {number}, short of the {} wanted.",
            speed(wish).plain()
        ),
        _ => format!("It tops out at {number}."),
    };
    let late = asked(study, Quantity::LateTopSpeed);
    let sentence = match late {
        Some(late) => format!(
            "{} With a fifth of the charge left it does {}.",
            sentence,
            late.plain()
        ),
        None => sentence,
    };
    let (standing, sentence) = match from_rest(under, top.speed_m_s) {
        Some(otherwise) => (
            standing.min(Standing::Watch),
            format!("{sentence} {otherwise}"),
        ),
        None => (standing, sentence),
    };
    let (standing, sentence) = match under.curve.goes_over {
        true => (
            standing.min(Standing::Watch),
            format!("{sentence} Held there at full throttle it goes over within {HELD_S} seconds."),
        ),
        false => (standing, sentence),
    };
    let mut found = Finding::new("top-speed", standing, Basis::TheoryOnly, sentence)
        .number(number)
        .why("Where thrust at full throttle meets drag, at the attitude the boat takes there. Drag and thrust by element:");
    for force in top.forces.iter().filter(|f| f.force_n.x.abs() > 0.02) {
        found = found.figure(&force.name, Number::exact(Kind::Force, force.force_n.x));
    }
    if let Some(faster) = &under.curve.faster {
        let pushed = format!(
            "{}, if it were pushed there",
            speed(faster.speed_m_s).plain()
        );
        found = found.figure("it would also hold", pushed);
    }
    found = found.changes(improve(study, Quantity::TopSpeed, Want::More));
    found.limit = limit;
    Some(found)
}

/// What a run in time from rest comes to instead of the steady top speed.
fn from_rest(under: &Under, top_m_s: f64) -> Option<String> {
    let launch = under.launch.as_ref()?;
    if let Some(spill) = &launch.ended {
        return Some(format!(
            "From rest it does not get there: it {} at {}.",
            spill.what.word(),
            speed(spill.speed_m_s).plain()
        ));
    }
    let ends = launch.ends?;
    let hops = ends.hops().then(|| {
        format!(
            "its bow swings {} each way",
            Number::exact(Kind::Angle, ends.trim_rad.1).plain()
        )
    });
    let elsewhere = (ends.mean_m_s / top_m_s - 1.0).abs() > motion::settled::ELSEWHERE;
    let at = speed(ends.mean_m_s).plain();
    match (hops, elsewhere) {
        (Some(how), true) => Some(format!("From rest it hops and does {at}: {how}.")),
        (Some(how), false) => Some(format!("From rest it gets there hopping: {how}.")),
        (None, true) => Some(format!("From rest it settles at {at}.")),
        (None, false) => None,
    }
}

/// Thrust lacking at a hump that stops it, N, and where that is, m/s.
fn short_of_hump_n(under: &Under) -> Option<(f64, f64)> {
    let (hump, top) = (under.curve.at_hump.as_ref()?, under.curve.top.as_ref()?);
    let lacking_n = hump.thrust_needed_n - hump.thrust_available_n;
    let planes = under.curve.planing_m_s.is_some_and(|v| v <= top.speed_m_s);
    (lacking_n > 0.0 && !planes).then_some((lacking_n, hump.speed_m_s))
}

/// There is no steady state at full throttle: what a run in time does instead, or why it does not run.
fn no_top_speed(study: &Study, under: &Under, drawn: Option<Number>) -> Finding {
    let found =
        |standing, sentence| Finding::new("top-speed", standing, Basis::TheoryOnly, sentence);
    match &under.full_throttle {
        TopSpeed::Unsteady { why, in_time, .. } => {
            let finding = match in_time {
                InTime::Runs(run) => {
                    let spread = drawn.map_or(0.0, |n| n.spread).max(run.swing_m_s);
                    let number = Number::new(Kind::Speed, run.mean_m_s, spread);
                    let trim = Number::new(Kind::Angle, run.trim_rad.0, run.trim_rad.1);
                    found(Standing::Watch, in_a_run(run))
                        .number(number)
                        .figure("trim, and its swing", trim)
                        .changes(improve(study, Quantity::TopSpeed, Want::More))
                }
                InTime::Over(words) => found(
                    Standing::Stop,
                    format!("It has no top speed: held at full throttle {words}."),
                ),
                InTime::Stuck(words) => found(
                    Standing::Unsure,
                    format!("It has no steady top speed, and no run in time tells one: {words}."),
                ),
            };
            finding.why(match why {
                Unsteady::Left { speed_m_s } => format!(
                    "Its forces balance at {}, but a boat let go there in time does not stay. The last seconds of that run, on flat water, decide.",
                    speed(*speed_m_s).plain()
                ),
                why => format!(
                    "No attitude is steady at full throttle: {why}. So the last seconds of a run in time from rest, on flat water, decide."
                ),
            })
        }
        TopSpeed::CannotRun(why) => found(Standing::Stop, format!("It cannot run: {why}.")),
        TopSpeed::Steady(state) => found(
            Standing::Unsure,
            format!("It tops out at {}.", speed(state.speed_m_s).plain()),
        ),
    }
}

/// What it does in the last seconds of a run in time.
fn in_a_run(run: &Settled) -> String {
    let mean = speed(run.mean_m_s).plain();
    let swing = Number::exact(Kind::Angle, run.trim_rad.1).plain();
    if run.is_steady() {
        format!("It tops out at {mean}, in a run in time.")
    } else if run.swing_m_s < CALM * run.mean_m_s {
        format!("At full throttle it hops: {mean} on average, its bow swinging {swing} each way.")
    } else {
        format!(
            "It does not settle: it runs at {mean} on average, between {} and {}.",
            speed(run.mean_m_s - run.swing_m_s).plain(),
            speed(run.mean_m_s + run.swing_m_s).plain()
        )
    }
}

/// The wet surfaces' own angle to the water.
fn surface_angle(under: &Under) -> Option<Finding> {
    let top = under.curve.top.as_ref()?;
    let wet: Vec<_> = top
        .wetted
        .iter()
        .filter(|w| w.keel_length_m > 0.0)
        .collect();
    let limit = Limit::between(
        Number::exact(Kind::Angle, SURFACE_DEG.0.to_radians()),
        Number::exact(Kind::Angle, SURFACE_DEG.1.to_radians()),
        "common practice: a few degrees at the trailing edge",
    );
    let worst = wet.iter().min_by(|a, b| {
        limit
            .margin(a.trim_rad)
            .total_cmp(&limit.margin(b.trim_rad))
    })?;
    let number = Number::exact(Kind::Angle, worst.trim_rad);
    let standing = limit.judge(&number, Standing::Watch);
    let trim = Number::exact(Kind::Angle, top.attitude.trim_rad);
    let verdict = if worst.trim_rad.to_degrees() < SURFACE_DEG.0 {
        "too flat: it runs wet and slow"
    } else if worst.trim_rad.to_degrees() > SURFACE_DEG.1 {
        "too steep: it drags and bounces"
    } else {
        "a good working angle"
    };
    let sentence = format!(
        "At top speed the {} meets the water at {}, {verdict}.",
        worst.name,
        number.plain()
    );
    let mut found = Finding::new("surface-angle", standing, Basis::RuleOfThumb, sentence)
        .number(number)
        .limit(limit)
        .why("The built angle plus the boat's trim at speed. The boat's trim follows from where lift, thrust and weight balance.")
        .figure("the boat's trim", trim);
    for surface in &wet {
        found = found.figure(&surface.name, Number::exact(Kind::Angle, surface.trim_rad));
    }
    Some(found)
}

fn slip(study: &Study) -> Option<Finding> {
    let number = asked(study, Quantity::Slip)?;
    let (low, high, sick) = study.hull_type.slip()?;
    let limit = Limit::between(
        percent(low),
        percent(high),
        format!(
            "a well-set {}; above {} something is wrong; common practice, no source",
            study.hull_type.name(),
            percent(sick).plain()
        ),
    );
    let standing = limit.judge(&number, Standing::Watch);
    let verdict = if number.value > sick {
        "far too much"
    } else if number.value > high {
        "more than a well-set boat"
    } else if number.value < low {
        "less than builders see: check the pitch"
    } else {
        "fine"
    };
    let sentence = format!("Slip at top speed is {}, {verdict}.", number.plain());
    let mut found = Finding::new("slip", standing, Basis::TheoryOnly, sentence)
        .number(number)
        .limit(limit)
        .why("Slip is what is missing from pitch times turns. Small cast propellers are out by 5 to 8 % of pitch from their mark, which moves slip as much.");
    if let Some(turns) = asked(study, Quantity::TopShaftSpeed) {
        found = found.figure("propeller turns", turns);
    }
    if let Some(depth) = asked(study, Quantity::Immersion) {
        found = found.figure("disc under water", depth);
    }
    let middle = 0.5 * (low + high);
    Some(found.changes(improve(study, Quantity::Slip, Want::Near(middle))))
}

fn pitch_speed(under: &Under) -> Option<Finding> {
    let top = under.quantities.get(Quantity::TopSpeed)?;
    let unloaded = under.craft.pitch_speed_m_s();
    let number = percent(top / unloaded);
    let limit = Limit::between(
        percent(PITCH_SPEED_SHARE.0),
        percent(PITCH_SPEED_SHARE.1),
        "of pitch times unloaded turns; common practice, no source",
    );
    let standing = limit.judge(&number, Standing::Watch);
    let verdict = if number.value > PITCH_SPEED_SHARE.1 {
        "more than builders reach: do not count on it"
    } else if number.value < PITCH_SPEED_SHARE.0 {
        "little: drag or load eats the rest"
    } else {
        "as usual"
    };
    let sentence = format!(
        "Top speed is {} of pitch times unloaded rpm, {verdict}.",
        number.plain()
    );
    Some(
        Finding::new("pitch-speed", standing, Basis::RuleOfThumb, sentence)
            .number(number)
            .limit(limit)
            .why("A check from outside the model: speeds builders time against pitch × motor constant × volts.")
            .figure("pitch speed, unloaded", speed(unloaded)),
    )
}

/// Speeds below top with no steady state.
fn gaps(under: &Under) -> Option<Finding> {
    let top = under
        .curve
        .top
        .as_ref()
        .map_or(f64::INFINITY, |t| t.speed_m_s);
    let gaps: Vec<f64> = under
        .curve
        .missing_m_s
        .iter()
        .copied()
        .filter(|s| *s <= top)
        .collect();
    let (first, last) = (*gaps.first()?, *gaps.last()?);
    let sentence = if gaps.len() == 1 {
        format!(
            "There is no steady way to run near {}.",
            speed(first).plain()
        )
    } else {
        format!(
            "There is no steady way to run at {} of the speeds tried between {} and {}.",
            gaps.len(),
            speed(first).plain(),
            speed(last).plain()
        )
    };
    Some(
        Finding::new("gaps", Standing::Watch, Basis::TheoryOnly, sentence)
            .number(Number::exact(Kind::Number, gaps.len() as f64))
            .why("No attitude was found at which all forces balance. The boat may jump from one way of running to another there, or the solver may have lost it."),
    )
}

/// Speeds at which it changes attitude at a stroke.
fn jumps(under: &Under) -> Option<Finding> {
    let top = under
        .curve
        .top
        .as_ref()
        .map_or(f64::INFINITY, |t| t.speed_m_s);
    let jump = under.curve.jumps_m_s.iter().find(|s| **s <= top)?;
    let states = &under.curve.running;
    let after = states.iter().position(|s| s.speed_m_s >= *jump)?;
    let before = after.checked_sub(1)?;
    let trim = |i: usize| Number::exact(Kind::Angle, states[i].attitude.trim_rad).plain();
    let sentence = format!(
        "Near {} its trim jumps from {} to {}.",
        speed(*jump).plain(),
        trim(before),
        trim(after)
    );
    Some(
        Finding::new("jump", Standing::Watch, Basis::TheoryOnly, sentence)
            .number(speed(*jump))
            .why("The way it was running ends there and the next one begins at another attitude: the boat changes at once, and may go back and forth between the two."),
    )
}

/// Day and Haag's limit, for single vee bottoms.
fn porpoising(study: &Study, under: &Under) -> Option<Finding> {
    if study.hull_type != HullType::Vee {
        return None;
    }
    let nearest = nearest(&study.form, study.water_density_kg_m3, &under.curve)?;
    let margin = nearest.margin_rad;
    let number = Number::new(
        Kind::Angle,
        margin,
        PORPOISING_SPREAD_DEG
            .to_radians()
            .hypot(study.spread.half_width(Quantity::PorpoisingMargin)),
    );
    let limit = Limit::at_least(
        Number::exact(Kind::Angle, 0.0),
        "trim below the porpoising limit of Day and Haag, 1952",
    );
    // Within the scatter, or beyond the measured range, it is a warning and not a verdict.
    let sure = nearest.in_range && margin < -number.spread;
    let past = if sure {
        Standing::Stop
    } else {
        Standing::Watch
    };
    let at = speed(nearest.speed_m_s).plain();
    let size = Number::exact(Kind::Angle, margin.abs()).plain();
    let sentence = match (margin >= 0.0, sure) {
        (true, _) => {
            format!("It comes nearest to porpoising at {at}, with {size} of trim to spare.")
        }
        (false, true) => format!("It porpoises: at {at} it trims {size} past the limit."),
        (false, false) => format!("It may porpoise: at {at} it trims {size} past the limit."),
    };
    let remark = if nearest.in_range {
        ""
    } else {
        " Here the lift coefficient or deadrise lies outside what was measured."
    };
    Some(
        Finding::new(
            "porpoising",
            limit.judge(&number, past),
            Basis::MeasuredElsewhere,
            sentence,
        )
        .number(number)
        .limit(limit)
        .why(format!("Prismatic hulls of the same deadrise begin to porpoise above a trim that falls with speed; measured to about 0.7°.{remark}"))
        .figure("trim", Number::exact(Kind::Angle, nearest.trim_rad))
        .figure("deadrise", Number::exact(Kind::Angle, nearest.deadrise_rad))
        .changes(improve(study, Quantity::PorpoisingMargin, Want::More)),
    )
}
