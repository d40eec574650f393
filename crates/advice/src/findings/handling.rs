//! Turning: how tight, both ways, what lets go first, and why it slides.

use boat::Kind;
use craft::elements::blade::Role;
use motion::turning::{Gone, Kept, Side, Steered, Turn, TurningError, Turns, Way};

use crate::finding::{Basis, Figure, Finding, Limit, Standing};
use crate::number::Number;
use study::lever::TurnSeen;
use study::{Quantity, Study, Under};

/// Radii that differ by less are the same to a driver (judgement).
const ALIKE: f64 = 1.15;
/// Radii that differ by more are one-sided handling (judgement).
const ONE_SIDED: f64 = 1.5;
/// Laws of fin and rudder hold to about a sixth, the hull's side resistance is unmeasured: a third.
const SPREAD: f64 = study::SLIDES;

const THEORY: &str = "Run in time on flat water from the same forces as the straight run: the rudder put over as fast as its servo does, the throttle held, further and further, as long as it stays upright, planes and goes on round. Fin and rudder rest on measured struts; how hard the hull itself resists sliding is theory.";
/// What servos are sold by, N m.
const KG_CM: f64 = 0.098_066_5;
const CAREFUL: &str = "Find the limit at half throttle first, away from the bank and from people.";

pub fn findings(study: &Study, under: &Under) -> Vec<Finding> {
    let handling = &under.handling;
    let Some(circles) = &handling.turns else {
        return Vec::new();
    };
    if let Err(TurningError::NoRudder) = circles.turns {
        return vec![no_rudder()];
    }
    let mut all: Vec<Finding> = circles
        .turns
        .as_ref()
        .err()
        .map(no_course)
        .into_iter()
        .collect();
    let Some((speed, turns)) = handling.circles() else {
        return all;
    };
    if let Some(steered) = &handling.steered {
        all.extend(tightest(study, speed, &turns.straight, steered));
        all.extend(one_way(speed, steered));
        for seen in &study.learned.turns {
            measured(&mut all, seen, steered);
        }
        all.push(lets_go(speed, steered));
    }
    all.extend(lateral(under, speed, turns));
    all.extend(servo(study, turns));
    all
}

fn show(kind: Kind, value: f64) -> String {
    Number::exact(kind, value).plain()
}

/// A radius: metres, where lengths are else given in mm.
fn metres(value: f64, spread: f64) -> Number {
    Number::new(Kind::Number, value, spread).per("m")
}

fn no_rudder() -> Finding {
    Finding::new(
        "tightest-turn",
        Standing::Watch,
        Basis::Statics,
        "It has no rudder, so nothing steers it.",
    )
    .why("Add a rudder to the boat file.")
}

fn no_course(error: &TurningError) -> Finding {
    Finding::new(
        "holds-course",
        Standing::Watch,
        Basis::TheoryOnly,
        format!("It may not hold a straight course near top speed: {error}."),
    )
    .why("Hands off, no rudder angle within the throw holds it straight: propeller walk, a fin out of line or too little side resistance behind the balance point pull it off course.")
}

fn tightest(study: &Study, speed: f64, straight: &Turn, steered: &Steered) -> Option<Finding> {
    let from = show(Kind::Speed, speed);
    let tightest = steered.tightest();
    let mut found = match &tightest {
        Some((way, kept)) => {
            let (radius_m, half_m) = study.number(Quantity::TightestTurn)?;
            let number = metres(radius_m, half_m);
            let sentence = format!(
                "From {from} its tightest turn is {} in radius, to the {}, at {:.1} g; it comes out at {}.",
                number.plain(),
                way.word(),
                kept.lateral_g,
                show(Kind::Speed, kept.speed_m_s),
            );
            Finding::new("tightest-turn", Standing::Good, Basis::TheoryOnly, sentence).number(number)
        }
        None => {
            let [left, right] = steered.sides.each_ref().map(|side| {
                let rudder = side.wrong.as_ref().map_or_else(String::new, |wrong| {
                    format!(" with the rudder at {}", show(Kind::Angle, wrong.rudder_rad.abs()))
                });
                format!("to the {}{rudder} {}", side.way.word(), goes(side))
            });
            let sentence = format!("From {from} no turn holds: {left}; {right}.");
            Finding::new("tightest-turn", Standing::Watch, Basis::TheoryOnly, sentence)
        }
    }
    .why(THEORY)
    .caution(CAREFUL);
    for side in &steered.sides {
        if let Some(kept) = &side.tightest {
            found = found.figure(format!("to the {}", side.way.word()), costs(kept, straight));
        }
    }
    let held = tightest.and_then(|(way, _)| steered.to(way).held.as_ref());
    Some(match held {
        Some(turn) => loads(found, turn),
        None => found,
    })
}

/// What a turn takes.
fn costs(kept: &Kept, straight: &Turn) -> String {
    format!(
        "{} at {:.1} g, rudder {:.0}°, heel {:.1}°, speed {:+.0} %, current {} instead of {}",
        metres(kept.radius_m, 0.0).plain(),
        kept.lateral_g,
        kept.rudder_rad.abs().to_degrees(),
        kept.heel_rad.to_degrees(),
        100.0 * (kept.speed_m_s / straight.circle.speed_m_s - 1.0),
        show(Kind::Current, kept.current_a),
        show(Kind::Current, straight.current_a),
    )
}

/// Side loads on fins and their brackets.
fn loads(mut found: Finding, turn: &Turn) -> Finding {
    for blade in turn.blades.iter().filter(|b| b.role != Role::Strut) {
        found = found.figure(
            format!("{} in it", blade.name),
            format!(
                "{} to the {}, {} on its bracket, {} wet",
                show(Kind::Force, blade.side_n.abs()),
                if blade.side_n > 0.0 { "left" } else { "right" },
                show(Kind::Torque, blade.root_moment_n_m),
                show(Kind::Length, blade.wetted_m),
            ),
        );
    }
    found
}

/// What lets go to one side as the rudder is put over further, and how it then goes wrong.
fn goes(side: &Side) -> String {
    let Some(first) = &side.first else {
        return "the rudder reaches its stop and everything holds".to_owned();
    };
    let first = first.gone.words();
    let wrong = side.wrong.as_ref().map(|wrong| wrong.gone.words());
    match wrong.filter(|wrong| *wrong != first) {
        Some(wrong) => format!("{first}, further on {wrong}"),
        None => first,
    }
}

fn spills(side: &Side) -> bool {
    let spilled = |gone: &Gone| match gone {
        Gone::Spill(_) => true,
        Gone::Limit(way) => way.turns_over(),
        _ => false,
    };
    let each = side.first.iter().chain(&side.wrong);
    each.map(|f| &f.gone).any(spilled)
}

fn lets_go(speed: f64, steered: &Steered) -> Finding {
    let standing = if steered.sides.iter().any(spills) {
        Standing::Watch
    } else {
        Standing::Good
    };
    let at = show(Kind::Speed, speed);
    let [left_words, right_words] = steered.sides.each_ref().map(goes);
    let sentence = if right_words == left_words {
        format!("Turned harder and harder from {at}, to either side {right_words}.")
    } else {
        format!(
            "Turned harder and harder from {at}: to the right {right_words}; to the left {left_words}."
        )
    };
    let mut found = Finding::new("lets-go-first", standing, Basis::TheoryOnly, sentence)
        .why("Air reaches a blade's low side at about 14.5° to the water (measured struts; steady ones have held to 20°) and it keeps a third to a half of its force. A running surface is gone when it carries nothing; tripping and rolling are judged at 10° of outward heel held by the sides and at 30°. A fin that lets go first lets the boat slide, which is the kindest of these.")
        .caution(CAREFUL);
    for side in &steered.sides {
        let used = side.held.iter().flat_map(|turn| &turn.used).take(3);
        for used in used {
            found = found.figure(
                format!("tightest to the {}", side.way.word()),
                format!("{:.0} % of: {}", 100.0 * used.share, used.way.words()),
            );
        }
    }
    found
}

fn one_way(speed: f64, steered: &Steered) -> Option<Finding> {
    let (way, kept) = steered.tightest()?;
    let [left, right] = steered.sides.each_ref().map(Side::radius_m);
    let other = if way == Way::Port {
        Way::Starboard
    } else {
        Way::Port
    };
    let (better, worse) = (way.word(), other.word());
    let (near, far) = (kept.radius_m, steered.to(other).radius_m());
    let ratio = far / near;
    let basis = Basis::TheoryOnly;
    if ratio < ONE_SIDED {
        let both = format!("{left:.1} m to the left, {right:.1} m to the right");
        let sentence = if ratio < ALIKE {
            format!("It turns as well to either side: {both}.")
        } else {
            format!("It turns a little tighter to the {better}: {both}.")
        };
        return Some(Finding::new("one-way-turner", Standing::Good, basis, sentence).why(THEORY));
    }
    let other = if far.is_finite() {
        format!("{far:.1} m to the {worse}")
    } else {
        format!("no turn that holds to the {worse}")
    };
    let course = if way == Way::Starboard {
        "clockwise"
    } else {
        "anticlockwise"
    };
    let sentence = format!(
        "From {} it turns to the {better}: {near:.1} m against {other}. Run it {course}.",
        show(Kind::Speed, speed),
    );
    Some(
        Finding::new("one-way-turner", Standing::Watch, basis, sentence)
            .why("One fin, one propeller turning one way and a rudder to one side make most such boats turn one way only; ovals are run clockwise for it (common practice, no source).")
            .caution("Tell whoever drives it: a turn the other way may run wide or roll it."),
    )
}

/// A turn that was measured stands beside what the model says of it, and above it where the two differ.
fn measured(all: &mut [Finding], seen: &TurnSeen, steered: &Steered) {
    let way = if seen.to_port {
        Way::Port
    } else {
        Way::Starboard
    };
    let word = way.word();
    let speed = seen
        .speed_m_s
        .map_or_else(String::new, |v| format!(" at {}", show(Kind::Speed, v)));
    let says = format!(
        "{} in radius{speed} on {}",
        metres(seen.radius_m, 0.0).plain(),
        seen.on
    );
    let found = steered.to(way).tightest.map(|kept| kept.radius_m);
    let tighter = found.is_none_or(|r| seen.radius_m < r * (1.0 - SPREAD));
    for finding in all.iter_mut() {
        let about = matches!(&*finding.id, "one-way-turner" | "tightest-turn");
        if !about {
            continue;
        }
        let label = format!("measured to the {word}");
        finding.figures.push(Figure::new(label, &says));
        if tighter && finding.id == "one-way-turner" {
            finding.standing = Standing::Unsure;
            let model = found.map_or_else(
                || format!("finds no turn that holds to the {word}"),
                |r| format!("finds {} to the {word}", metres(r, 0.0).plain()),
            );
            finding.sentence =
                format!("It turned {word}: {says}. The model {model}: trust the water.");
        }
    }
}

fn lateral(under: &Under, speed: f64, turns: &Turns) -> Option<Finding> {
    let balance = &turns.lateral;
    let ahead = balance.ahead_of_cg_m?;
    let number = Number::new(Kind::Length, -ahead, SPREAD * ahead.abs());
    let limit = Limit::at_least(
        Number::exact(Kind::Length, 0.0),
        "centre of lateral resistance behind the centre of gravity",
    );
    let standing = limit.judge(&number, Standing::Watch);
    let place = show(Kind::Length, ahead.abs());
    let at = show(Kind::Speed, speed);
    let sentence = if ahead < 0.0 {
        format!(
            "At {at} the water holds it sideways {place} behind the balance point: it follows its nose."
        )
    } else {
        format!(
            "At {at} the water holds it sideways {place} ahead of the balance point: it wants to go sideways."
        )
    };
    let slide = (1.0 / balance.stiffness.max(1e-6)).to_degrees();
    Some(
        Finding::new("lateral-balance", standing, Basis::TheoryOnly, sentence)
            .number(number)
            .limit(limit)
            .why("A small drift gives a side force and a turning moment; where that force acts is the centre of lateral resistance. Behind the centre of gravity drift turns the bow back into the course, ahead of it further away, and only the driver holds it. A fin further aft or a deeper rudder moves it aft; a fin forward makes a boat snappier and touchier (common practice, no source).")
            .figure("centre of lateral resistance", format!("{} ahead of the transom", show(Kind::Length, balance.centre_x_m?)))
            .figure("balance point", format!("{} ahead of the transom", show(Kind::Length, under.craft.cg_m().x)))
            .figure("drift for 1 g sideways", format!("{slide:.1}°"))
            .figure("held by rudder, fins and struts", format!("{:.0} %", 100.0 * balance.by_blades))
            .figure("rudder held on the straight", rudder_words(turns.straight.circle.rudder_rad)),
    )
}

fn rudder_words(rudder_rad: f64) -> String {
    let degrees = rudder_rad.to_degrees();
    if degrees.abs() < 0.05 {
        return "none".to_owned();
    }
    let side = if degrees > 0.0 { "left" } else { "right" };
    format!("{:.1}° to the {side}", degrees.abs())
}

fn servo(study: &Study, turns: &Turns) -> Option<Finding> {
    let all = turns.ways.iter().flat_map(|w| &w.turns);
    let most = all.map(Turn::servo_torque_n_m).fold(0.0, f64::max);
    if most <= 0.0 {
        return None;
    }
    let number = Number::new(Kind::Torque, most, SPREAD * most);
    let sentence = format!(
        "Turning takes up to {} at the rudder's stock: {:.1} kg cm of servo.",
        number.plain(),
        most / KG_CM
    );
    let servos = study.boat.rudders.iter().filter_map(|r| r.servo_torque_n_m);
    let limit = servos.reduce(f64::min).map(|has| {
        Limit::at_most(
            Number::exact(Kind::Torque, has),
            "what the servo holds, as given",
        )
    });
    let standing = limit
        .as_ref()
        .map_or(Standing::Good, |l| l.judge(&number, Standing::Watch));
    let found = Finding::new("servo", standing, Basis::TheoryOnly, sentence)
        .number(number)
        .why("Side force times its distance from the stock: a quarter chord behind the leading edge while the water stays on the blade, a third and more once it ventilates. A stock set back takes load off the servo; behind the force it makes the rudder snatch. Give `servo_torque` in [[rudder]] to hold it against.");
    Some(match limit {
        Some(limit) => found.limit(limit),
        None => found,
    })
}
