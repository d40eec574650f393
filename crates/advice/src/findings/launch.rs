//! Getting away from rest, and what the propeller does to the bottom ahead of it.

use boat::Kind;
use craft::launch::Launch;

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
    let launch = under.craft.launch(&under.curve).map(|l| getting_away(&l));
    launch.into_iter().chain(pull(under)).collect()
}

fn speed(m_s: f64) -> String {
    Number::exact(Kind::Speed, m_s).plain()
}

fn getting_away(launch: &Launch) -> Finding {
    let number = Number::new(
        Kind::Fraction,
        launch.margin,
        2.0 * SPREAD * (1.0 + launch.margin),
    );
    let limit = Limit::at_least(
        Number::exact(Kind::Fraction, 0.0),
        "thrust drawing air over thrust needed",
    );
    let (standing, sentence) = if !launch.may_draw_air() {
        let sentence = "The propeller lies deep enough at rest to grip at once.".to_owned();
        (Standing::Good, sentence)
    } else if launch.margin > 0.0 {
        let sentence = format!(
            "Opened at a stroke the propeller may draw air, and still pushes {:.1} times what the boat needs to plane.",
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
        .figure(
            "pack current there, drawing air",
            Number::exact(Kind::Current, launch.current_a),
        )
        .caution(HANDS)
}

fn squeeze(launch: &Launch) -> String {
    let lacking = Number::exact(Kind::Fraction, -launch.margin).plain();
    match launch.clear_m_s {
        Some(clear) => format!(
            "Opened at a stroke the propeller may draw air and then lacks {lacking} of the thrust to plane: squeeze the throttle, or push it off at {}.",
            speed(clear)
        ),
        None => format!(
            "Opened at a stroke the propeller may draw air and then lacks {lacking} of the thrust to plane: squeeze the throttle in over a second or two."
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
