//! Small motions that grow by themselves: hopping, chine walk, swerving.

use boat::Kind;
use craft::steady::Running;
use motion::stability::{Mode, Modes, Shape, along};

use crate::finding::{Basis, Finding, Standing};
use crate::number::Number;
use study::Under;

const WHY: &str = "Small motions about each running state, from the same forces as the straight run and the water the hull carries with it; shaft speed and rudder held. Prisms in a towing tank begin within 0.7° of the trim found so where they are lightly loaded (flat ones 1°), up to 2.7° off where heavily; no boat of this size has been measured: theory, unvalidated.";

/// One kind of motion, as findings speak of it.
struct Told {
    shape: Shape,
    id: &'static str,
    grows: &'static str,
    dies: &'static str,
    remedy: &'static str,
}

const TOLD: [Told; 3] = [
    Told {
        shape: Shape::Porpoising,
        id: "hops",
        grows: "small bounces grow: it hops",
        dies: "Small bounces die out",
        remedy: "Weight forward, or less angle on the surface that drives it.",
    },
    Told {
        shape: Shape::ChineWalk,
        id: "chine-walk",
        grows: "a small roll grows: it walks from chine to chine",
        dies: "A small roll dies out",
        remedy: "Weight lower, more deadrise or a wider stance at the trailing edges.",
    },
    Told {
        shape: Shape::Yaw,
        id: "swerves",
        grows: "a small swerve grows before the driver steers",
        dies: "A small swerve dies out",
        remedy: "More fin or rudder behind the balance point, or weight forward.",
    },
];

/// One finding a kind of motion; none for a boat without a curve.
pub fn findings(under: &Under) -> Vec<Finding> {
    let top = under
        .curve
        .top
        .as_ref()
        .map_or(f64::INFINITY, |t| t.speed_m_s);
    let states: Vec<Running> = under
        .curve
        .running
        .iter()
        .filter(|s| s.speed_m_s <= top)
        .map(|s| s.running())
        .collect();
    if states.is_empty() {
        return Vec::new();
    }
    let all = along(&under.craft, &states);
    TOLD.iter().map(|told| finding(told, &all)).collect()
}

fn finding(told: &Told, all: &[Modes]) -> Finding {
    let at = |m: &Modes| m.worst(told.shape).filter(|m| m.unstable()).cloned();
    let growing: Vec<(f64, Mode)> = all
        .iter()
        .filter_map(|m| at(m).map(|mode| (m.speed_m_s, mode)))
        .collect();
    let worst = growing
        .iter()
        .max_by(|a, b| a.1.growth_per_s.total_cmp(&b.1.growth_per_s));
    let Some((at_m_s, mode)) = worst else {
        let sentence = format!("{} at every speed up to the top.", told.dies);
        return Finding::new(told.id, Standing::Good, Basis::TheoryOnly, sentence).why(WHY);
    };
    let (from, to) = (growing[0].0, growing[growing.len() - 1].0);
    let show = |kind, value| Number::exact(kind, value).plain();
    let speeds = if to > from {
        format!(
            "Between {} and {}",
            show(Kind::Speed, from),
            show(Kind::Speed, to)
        )
    } else {
        format!("At {}", show(Kind::Speed, from))
    };
    let every = mode
        .period_s()
        .map(|p| format!(", once every {p:.2} s"))
        .unwrap_or_default();
    let driver = mode
        .driven_by
        .as_ref()
        .map(|d| format!("; the {d} drives it"))
        .unwrap_or_default();
    let sentence = format!("{speeds} {}{every}{driver}.", told.grows);
    let doubles = std::f64::consts::LN_2 / mode.growth_per_s;
    Finding::new(told.id, Standing::Watch, Basis::TheoryOnly, sentence)
        .why(format!("{WHY} {}", told.remedy))
        .figure("doubles in", Number::exact(Kind::Time, doubles))
        .figure("fastest at", Number::exact(Kind::Speed, *at_m_s))
        .figure("speeds of the curve at which it grows", growing.len())
}
