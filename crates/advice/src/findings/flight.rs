//! How close it is to flying.

use boat::Kind;
use motion::flight::{Margin, USUAL_GUST_M_S};

use crate::finding::{Basis, Finding, Limit, Standing};
use crate::number::Number;
use study::{Study, Under};

/// Below this in a gust a wave of its own length is enough (judgement: 20 mm on half a metre is 5°).
pub(crate) const LEAST_RAD: f64 = 5.0 * std::f64::consts::PI / 180.0;
/// As good as no pitch to spare, rad.
const NOTHING_RAD: f64 = 1e-3;
/// Without likely variations of the boat: lift of hulls in the air is known to about a third.
const SPREAD: f64 = 0.3;

const FLIGHT: &str =
    "Nobody stands where a boat that takes off may land: keep everyone behind the driver.";

pub fn findings(study: &Study, under: &Under) -> Vec<Finding> {
    let margins = &under.handling.margins;
    let Some(here) = &margins.worst else {
        return Vec::new();
    };
    let mut found = match here.in_gust_rad() {
        Some(in_gust) => narrow(study, here, in_gust),
        None => Finding::new(
            "flight-margin",
            Standing::Good,
            Basis::TheoryOnly,
            format!(
                "At {} no pitch up to 45° takes it into the air.",
                show(Kind::Speed, here.speed_m_s)
            ),
        ),
    }
    .why(format!(
        "With the nose raised and speed and propeller as they are, the height at which it neither rises nor sinks is sought, and the pitch moment left there: past the unstable state it goes over by itself. The speed named is the worst of those between planing and top speed. The gust is {USUAL_GUST_M_S:.0} m/s of headwind beside the declared one. No blow-over of such a boat has been measured: theory, unvalidated."
    ))
    .caution(FLIGHT);
    for point in &margins.points {
        found = found.figure(
            format!("at {}", show(Kind::Speed, point.speed_m_s)),
            told(point),
        );
    }
    if let Some(meet) = margins.meet_m_s {
        found = found.figure("no running state left from", show(Kind::Speed, meet));
    }
    vec![found]
}

fn show(kind: Kind, value: f64) -> String {
    Number::exact(kind, value).plain()
}

fn narrow(study: &Study, here: &Margin, in_gust: f64) -> Finding {
    let drawn = study.spread.half_width_of(|d| d.flight_rad);
    let spread = if drawn > 0.0 { drawn } else { SPREAD * in_gust };
    let number = Number::new(Kind::Angle, in_gust, spread);
    let limit = Limit::at_least(
        Number::exact(Kind::Angle, LEAST_RAD),
        "judgement: what a ripple does to the pitch of a small boat",
    );
    let standing = limit.judge(&number, Standing::Watch);
    let at = show(Kind::Speed, here.speed_m_s);
    let still = here.pitch_rad().map(|pitch| show(Kind::Angle, pitch));
    let number_words = number.plain();
    let sentence = match (standing, still) {
        (Standing::Good, Some(pitch)) => format!(
            "At {at} its bow can rise {pitch} before the air takes it, in a gust {number_words}."
        ),
        (Standing::Good, None) => format!(
            "At {at} its bow can rise {number_words} in a gust before the air takes it; without a gust nothing up to 45° does."
        ),
        (_, _) if in_gust < NOTHING_RAD => format!(
            "At {at} a gust of {USUAL_GUST_M_S:.0} m/s beside the declared wind blows it over by itself."
        ),
        (_, Some(pitch)) => format!(
            "At {at} it blows over once its bow is {pitch} higher than it runs, in a gust {number_words}."
        ),
        (_, None) => format!(
            "At {at} a gust blows it over once its bow is {number_words} higher than it runs; without a gust nothing up to 45° does."
        ),
    };
    Finding::new("flight-margin", standing, Basis::TheoryOnly, sentence)
        .number(number)
        .limit(limit)
}

fn told(point: &Margin) -> String {
    let angle = |a: Option<f64>| a.map_or("none".to_owned(), |a| show(Kind::Angle, a));
    let gust = match point.gust_m_s {
        Some(gust) => format!("stands a steady {gust:.0} m/s more"),
        None => "stands any wind held level".to_owned(),
    };
    format!(
        "runs at {}, clear of the water from {}, flips past {}, in a gust past {}; {gust}",
        show(Kind::Angle, point.running_trim_rad),
        angle(point.lift_off_trim_rad),
        angle(point.unstable_trim_rad),
        angle(point.unstable_in_gust_rad),
    )
}
