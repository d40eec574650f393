//! Does it hold: hull, joints, sponson roots, panels, brackets, heat, standing, crashes.

use boat::Kind;
use making::strength::{Margin, Of, Strength};

use crate::finding::{Basis, Change, Finding, Limit, Standing};
use crate::number::Number;
use study::{Study, Under};

const ESTIMATE: &str = "An estimate, not a certificate: two prints of one file differ by half. Wear glasses when you bend one to see.";
const HOT: &str = "A motor case burns skin, and soft plastic lets a shaft go: let it cool, unplugged, before you touch it.";

pub fn findings(study: &Study, under: &Under) -> Vec<Finding> {
    let Some(strength) = &under.strength else {
        return unknown(study);
    };
    let mut all = Vec::new();
    all.extend(hull(strength));
    all.extend(joints(strength));
    all.extend(one(
        strength,
        Of::Root,
        "holds-roots",
        "Each sponson is held by a section of hull; its pad's largest force bends it there.",
    ));
    all.extend(one(strength, Of::Panel, "holds-panels", "A bottom panel between keel and chine under the mean pressure of water entry at the fastest the boat came down; edges held, stretching counted."));
    all.extend(one(strength, Of::Bracket, "holds-brackets", "Four 3 mm screws with 7 mm washers in the bare wall carry a blade's largest side force, the propeller's push on its strut, the motor's torque and weight, or a wing's lift; a plate or blocks behind the wall carry more. Stays of a wing are not described, so they are not judged."));
    all.extend(standing(strength));
    all.extend(softens(strength, &study.boat.hull.print.material));
    all.extend(crashes(strength));
    all
}

fn unknown(study: &Study) -> Vec<Finding> {
    let material = &study.boat.hull.print.material;
    if laws::printed_strength::find(material).is_some() {
        return Vec::new();
    }
    let known = laws::printed_strength::WORDS.join(", ");
    vec![
        Finding::new(
            "holds-hull",
            Standing::Unsure,
            Basis::TheoryOnly,
            format!("Nobody told the strength of {material}, so whether it holds is open."),
        )
        .why(format!("Strengths are known of {known}.")),
    ]
}

fn times(margin: &Margin) -> Number {
    let (value, half) = margin.told();
    Number::new(Kind::Number, value, half).per("times")
}

fn limit() -> Limit {
    Limit::at_least(
        Number::exact(Kind::Number, 1.0).per("times"),
        "strength over stress",
    )
}

/// Of a margin, what it says and how sure.
fn of_margin(id: &'static str, margin: &Margin, outside: Standing) -> Finding {
    let number = times(margin);
    let mut standing = limit().judge(&number, outside);
    // Only what breaks for sure is a stop; a good print may yet hold.
    if standing == Standing::Stop && margin.value() + margin.spread > 1.0 {
        standing = Standing::Watch;
    }
    let sentence = if margin.value() < 1.0 {
        format!(
            "{}, the {} breaks: it carries only {} of the load.",
            when(margin.load),
            margin.place,
            percent(margin.value())
        )
    } else if standing == Standing::Watch {
        format!(
            "{}, the {} is {} as strong as it must be. A poor print would break there.",
            when(margin.load),
            margin.place,
            factor(margin.value())
        )
    } else {
        format!(
            "{}, the weakest place is the {}: {} as strong as it must be.",
            when(margin.load),
            margin.place,
            factor(margin.value())
        )
    };
    Finding::new(id, standing, Basis::TheoryOnly, sentence)
        .number(number)
        .limit(limit())
        .figure("stress", Number::stress(margin.stress_pa).plain())
        .figure("strength", Number::stress(margin.strength_pa).plain())
}

/// A load as the beginning of a sentence.
fn when(load: &str) -> String {
    match load {
        "landing" => "When it lands".to_owned(),
        _ if load.starts_with("carried ") || load.starts_with("standing ") => {
            let mut letters = load.chars();
            let first = letters.next().map(char::to_uppercase);
            first.into_iter().flatten().chain(letters).collect()
        }
        _ if load.starts_with("bow ") => format!("With the {load}"),
        _ => format!("Under the {load}"),
    }
}

fn percent(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}

fn factor(value: f64) -> String {
    match value {
        v if v >= 20.0 => "more than 20 times".to_owned(),
        v if v >= 9.5 => format!("{v:.0} times"),
        v => format!("{v:.1} times"),
    }
}

/// The worst of a kind in use if that does not hold, else the worst of all, and what it may come to: nobody need build a
/// boat for its crash.
fn decides(s: &Strength, of: Of) -> Option<(&Margin, Standing)> {
    let in_use = s.margins.iter().find(|m| m.of == of && !m.is_of_crash());
    match (in_use.filter(|m| m.value() < 1.0), s.worst(of)?) {
        (Some(broken), _) => Some((broken, Standing::Stop)),
        (None, worst) if worst.is_of_crash() => Some((worst, Standing::Watch)),
        (None, worst) => Some((worst, Standing::Stop)),
    }
}

fn hull(s: &Strength) -> Option<Finding> {
    let (worst, outside) = decides(s, Of::Hull)?;
    let mut found = of_margin("holds-hull", worst, outside)
        .why("The hull is a thin-walled beam; cut-outs for hatches are not in the mesh and weaken it. Loads come from its own run over a usual day's ripple, from being carried, and from a bow driven under; strength is that of the print in the direction of the stress.")
        .changes(changes(s, worst, |l| Some(l.hull)))
        .caution(ESTIMATE);
    for m in s.margins.iter().filter(|m| m.of == Of::Hull) {
        found = found.figure(format!("{}, {}", m.load, m.place), factor(m.value()));
    }
    let (low, high) = s.layout.stretches.iter().fold((false, false), |(l, h), p| {
        let across = making::strength::prints_standing(&p.2);
        (l || !across, h || across)
    });
    if high {
        let which = if low {
            "Some pieces print"
        } else {
            "It prints"
        };
        found = found.figure(
            "layers",
            format!("{which} standing: bending pulls its layers apart"),
        );
    }
    Some(found)
}

fn joints(s: &Strength) -> Option<Finding> {
    let (worst, outside) = decides(s, Of::Joint)?;
    let found = match &s.weak_link {
        Some(link) => weakest_link(link),
        None => of_margin("holds-joints", worst, outside),
    };
    let mut found = found
        .why("Bending pulls the wall on one side and the glue must carry it: over the overlap of a lap, some 8 mm of a closed face, or only the wall's own thickness of a butt joint. The glue is held to a value to design with, well under a lap test.")
        .changes(changes(s, worst, |l| l.joints));
    for m in s.margins.iter().filter(|m| m.of == Of::Joint).take(4) {
        found = found.figure(format!("{}, {}", m.place, m.load), factor(m.value()));
    }
    Some(found)
}

/// A joint far weaker than the wall beside it, where the hull bends: that is where the boat ends.
fn weakest_link(link: &Margin) -> Finding {
    let share = link.of_wall.unwrap_or_default();
    let least = Number::exact(Kind::Fraction, making::strength::LINK);
    let sentence = format!(
        "The {} carries {} of what the wall beside it does, just where the hull bends most: there it opens first.",
        link.place,
        percent(share)
    );
    Finding::new("holds-joints", Standing::Stop, Basis::TheoryOnly, sentence)
        .number(Number::new(Kind::Fraction, share, 0.3 * share))
        .limit(Limit::at_least(
            least,
            "judgement: a flange carries a quarter of its wall",
        ))
}

fn changes(
    s: &Strength,
    worst: &Margin,
    of: impl Fn(&making::strength::Lever) -> Option<f64>,
) -> Vec<Change> {
    let mut all: Vec<(f64, Change)> = s
        .levers
        .iter()
        .filter_map(|l| {
            let to = of(l)?;
            (to > 1.05 * worst.value()).then(|| {
                let change = Change {
                    what: l.what.clone(),
                    effect: format!("{} instead of {}", factor(to), factor(worst.value())),
                    better: true,
                    edits: Vec::new(),
                };
                (to, change)
            })
        })
        .collect();
    all.sort_by(|a, b| b.0.total_cmp(&a.0));
    all.into_iter().map(|c| c.1).take(4).collect()
}

fn one(s: &Strength, of: Of, id: &'static str, why: &str) -> Option<Finding> {
    let worst = s.worst(of)?;
    // What is described only by default is never more than watched.
    let outside = if of == Of::Bracket {
        Standing::Watch
    } else {
        Standing::Stop
    };
    let mut found = of_margin(id, worst, outside).why(why);
    if of == Of::Panel {
        found = found.changes(changes(s, worst, |l| l.panels));
    }
    for m in s.margins.iter().filter(|m| m.of == of).take(5) {
        found = found.figure(m.place.clone(), factor(m.value()));
    }
    Some(found)
}

fn standing(s: &Strength) -> Option<Finding> {
    let worst = s.worst(Of::Steady)?;
    Some(of_margin("stands", worst, Standing::Stop).why(
        "Plastic creeps: for days on its stands in the sun it may carry a fifth of its strength.",
    ))
}

fn softens(s: &Strength, material: &str) -> Option<Finding> {
    let ([low, high], motor) = s.softens?;
    let number = Number::new(Kind::Temperature, motor, 10.0);
    let limit = Limit::at_most(
        Number::exact(Kind::Temperature, low),
        format!("where printed {material} softens under load"),
    );
    let standing = limit.judge(&number, Standing::Watch);
    let sentence = match standing {
        Standing::Good => {
            format!("The motor's case reaches {motor:.0} °C; {material} under it stays hard.")
        }
        _ if motor > high => format!(
            "The motor's case reaches {motor:.0} °C and {material} softens at {low:.0} to {high:.0} °C: a printed mount gives way."
        ),
        _ => format!(
            "The motor's case reaches {motor:.0} °C, close to where {material} softens ({low:.0} to {high:.0} °C)."
        ),
    };
    Some(
        Finding::new("softens", standing, Basis::TheoryOnly, sentence)
            .number(number)
            .limit(limit)
            .why("The hottest case of the full-throttle run, as if the mount took its temperature. A metal plate between motor and print, cooling, or ASA instead of PETG or PLA helps.")
            .caution(HOT),
    )
}

fn crashes(s: &Strength) -> Option<Finding> {
    let first = s.crashes.iter().find(|c| c.broken).or(s.crashes.first())?;
    let standing = if first.broken {
        Standing::Unsure
    } else {
        Standing::Good
    };
    let mut sentence = format!("{}: {}.", first.what, first.breaks);
    if let Some(c) = sentence.get_mut(0..1) {
        c.make_ascii_uppercase();
    }
    let mut found = Finding::new("crash", standing, Basis::TheoryOnly, sentence)
        .why("What breaks first and roughly how far (half to twice); no margin to trust. Pad the battery's front end: it keeps going.");
    for c in &s.crashes {
        found = found.figure(c.what, &c.breaks);
    }
    Some(found)
}
