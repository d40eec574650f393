//! Getting away from rest, and what the propeller does to the bottom ahead of it.

use boat::Kind;
use craft::launch::Launch;
use motion::launch::Spill;

use crate::finding::{Basis, Finding, Limit, Standing};
use crate::number::Number;
use study::Under;

/// Spread of a ventilated propeller's thrust; `laws::surface_propeller`.
const SPREAD: f64 = laws::surface_propeller::SPREAD;
/// A pull of less than this share of the weight is not worth a word.
const PULL: f64 = 0.01;
/// Above this it shapes how the stern runs (judgement).
const STRONG_PULL: f64 = 0.05;

const HANDS: &str = "Launch from the bank with the pack's plug in last, hands and hair clear of the propeller; never wade in to push.";

pub fn findings(under: &Under) -> Vec<Finding> {
    let air = under.craft.launch(&under.curve).map(|l| drawing_air(&l));
    let away = under.launch.as_ref().map(away);
    away.into_iter().chain(air).chain(pull(under)).collect()
}

/// What the run in time from rest does.
fn away(launch: &motion::launch::Launch) -> Finding {
    let seconds = |s: f64| match s {
        s if s < 0.5 => "at once".to_owned(),
        s if s < 1.5 => "over a second".to_owned(),
        s => format!("over {s:.0} seconds"),
    };
    let goes = |s: &Spill| {
        let (opened, at) = (seconds(s.opened_s), speed(s.speed_m_s));
        format!(
            "With the throttle opened {opened} from rest, it {} at {at}",
            s.what.word()
        )
    };
    let (standing, sentence) = match (&launch.ended, launch.quicker.last()) {
        (Some(spill), _) => (
            Standing::Watch,
            format!("{}: it does not get away at full throttle.", goes(spill)),
        ),
        (None, Some(spill)) => (
            Standing::Watch,
            format!(
                "{}. Squeezed open {}, it gets away.",
                goes(spill),
                seconds(launch.opened_s)
            ),
        ),
        (None, None) => (
            Standing::Good,
            "Full throttle at once gets it away upright.".to_owned(),
        ),
    };
    let mut found = Finding::new("getting-away", standing, Basis::TheoryOnly, sentence)
        .why("Full throttle from rest on flat water, run in time with the driver steering straight: opened within a fifth of a second, then over one and over two seconds where that goes wrong. A disc that draws air at once pushes less than this.")
        .figure(
            "largest current over a second",
            Number::exact(Kind::Current, launch.hump_current_a),
        )
        .figure(
            "bow up at most before it planes",
            Number::exact(Kind::Angle, launch.most_trim_rad),
        );
    if let Some(after_s) = launch.planes_after_s {
        found = found.figure("planes after", Number::exact(Kind::Time, after_s));
    }
    if let Some(ends) = launch.ends {
        found = found.figure("then runs at", speed(ends.mean_m_s)).figure(
            "trim then, and its swing",
            Number::new(Kind::Angle, ends.trim_rad.0, ends.trim_rad.1),
        );
    }
    match standing {
        Standing::Good => found,
        _ => found.caution(HANDS),
    }
}

fn speed(m_s: f64) -> String {
    Number::exact(Kind::Speed, m_s).plain()
}

fn drawing_air(launch: &Launch) -> Finding {
    let times = 1.0 + launch.margin;
    let number = ratio(times, 2.0 * SPREAD * times);
    let limit = Limit::at_least(ratio(1.0, 0.0), "thrust drawing air over thrust needed");
    let (standing, sentence) = if !launch.may_draw_air() {
        let sentence = "The propeller lies deep enough at rest to grip at once.".to_owned();
        (Standing::Good, sentence)
    } else if launch.margin > 0.0 {
        let sentence = format!(
            "With the throttle opened at once the propeller may draw air, and still pushes {:.1} times what the boat needs to plane.",
            1.0 + launch.margin
        );
        (limit.judge(&number, Standing::Watch), sentence)
    } else {
        (Standing::Watch, squeeze(launch))
    };
    Finding::new("launch", standing, Basis::TheoryOnly, sentence)
        .number(number)
        .limit(limit)
        .why("At rest the disc is covered by so little water that a sudden full throttle can suck air down to the blades; ventilated blades push with a fraction of their grip until the boat has run clear of it. Squeezing the throttle in over one or two seconds, or a push at walking pace, avoids it (common practice, no source). Whether it happens cannot be told from the law, only what is left if it does.")
        .figure("lowest tip at rest", format!("{:.1} diameters deep", launch.immersion))
        .figure("tightest at", speed(launch.speed_m_s))
        .caution(HANDS)
}

fn ratio(value: f64, spread: f64) -> Number {
    Number::new(Kind::Number, value, spread).per("times")
}

fn squeeze(launch: &Launch) -> String {
    let lacking = Number::exact(Kind::Fraction, -launch.margin).plain();
    match launch.clear_m_s {
        Some(clear) => format!(
            "With the throttle opened at once the propeller may draw air and then lacks {lacking} of the thrust to plane: squeeze the throttle, or push it off at {}.",
            speed(clear)
        ),
        None => format!(
            "With the throttle opened at once the propeller may draw air and then lacks {lacking} of the thrust to plane: squeeze the throttle in over a second or two."
        ),
    }
}

/// The strongest pull on the bottom at any speed that was solved.
fn pull(under: &Under) -> Option<Finding> {
    let states = under.curve.running.iter();
    let (state, force) = states
        .flat_map(|s| s.forces.iter().map(move |f| (s, f)))
        .filter(|(_, f)| f.name.contains("'s pull on"))
        .min_by(|a, b| a.1.force_n.z.total_cmp(&b.1.force_n.z))?;
    let share = -force.force_n.z / under.craft.weight_n();
    if share < PULL {
        return None;
    }
    let number = Number::new(Kind::Fraction, share, 0.5 * share);
    let limit = Limit::at_most(
        Number::exact(Kind::Fraction, STRONG_PULL),
        "judgement: above it the stern's attitude depends on the throttle",
    );
    let sentence = format!(
        "The {} reaches {number} of the boat's weight, at {}.",
        force.name,
        speed(state.speed_m_s)
    );
    let standing = limit.judge(&number, Standing::Watch);
    Some(
        Finding::new("propeller-pull", standing, Basis::TheoryOnly, sentence)
            .number(number)
            .limit(limit)
            .why("A propeller draws water in and lowers the pressure on the bottom it draws it from: the stern is pulled down and the water there falls. Set back behind the transom there is no bottom to pull on. Sinks for a disc, unmeasured at this size."),
    )
}
