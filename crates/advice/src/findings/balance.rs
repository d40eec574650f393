//! Where the weight is: balance point, load on the propeller, what levels it.

use boat::Kind;

use super::improve;
use super::on_end;
use crate::change::Want;
use crate::finding::{Basis, Finding, Limit, Standing};
use crate::number::Number;
use study::Quantity;
use study::Study;
use study::hull_type::HullType;

/// Static load on the propeller as a share of the weight. Common practice, no source.
const PROPELLER_LOAD: (f64, f64) = (0.08, 0.14);
/// Balance behind the sponsons' trailing edge as a share of length. Common practice, no source.
const BEHIND_EDGE: (f64, f64) = (0.03, 0.08);
/// Balance ahead of the transom as a share of length. Common practice, no source.
const VEE: (f64, f64) = (0.27, 0.33);
/// See [`VEE`].
const CATAMARAN: (f64, f64) = (0.30, 0.35);

/// Fast boats sit 1 to 4 degrees bow up at rest; beyond this the stern is heavy (judgement).
const STEEP_DEG: f64 = 6.0;

pub fn findings(study: &Study) -> Vec<Finding> {
    let mut all = Vec::new();
    all.extend(balance_point(study));
    all.extend(propeller_load(study));
    all.extend(level(study));
    all
}

fn balance_point(study: &Study) -> Option<Finding> {
    match study.hull_type {
        HullType::ThreePoint | HullType::Outrigger => behind_edge(study),
        HullType::Vee => Some(share_of_length(study, VEE)),
        HullType::Catamaran => Some(share_of_length(study, CATAMARAN)),
        HullType::Other => None,
    }
}

/// Mean x of the trailing edges that end in a step ahead of the balance point, or just behind it.
fn edge_x_m(study: &Study) -> Option<f64> {
    let edges: Vec<f64> = study
        .form
        .surfaces
        .iter()
        .filter(|s| s.step && s.trailing_edge_m[0] > 0.25 * study.form.outline.length_m)
        .map(|s| s.trailing_edge_m[0])
        .collect();
    (!edges.is_empty()).then(|| edges.iter().sum::<f64>() / edges.len() as f64)
}

/// Where builders put the balance point, ahead of the transom, m; nothing for a hull without a practice.
pub(crate) fn usual_balance_m(study: &Study, length_m: f64) -> Option<(f64, f64)> {
    match study.hull_type {
        HullType::ThreePoint | HullType::Outrigger => {
            let edge = edge_x_m(study)?;
            Some((
                edge - BEHIND_EDGE.1 * length_m,
                edge - BEHIND_EDGE.0 * length_m,
            ))
        }
        HullType::Vee => Some((VEE.0 * length_m, VEE.1 * length_m)),
        HullType::Catamaran => Some((CATAMARAN.0 * length_m, CATAMARAN.1 * length_m)),
        HullType::Other => None,
    }
}

fn cg_spread_m(study: &Study) -> f64 {
    study.mass.cg_spread_m.x.abs()
}

fn share(value: f64) -> Number {
    Number::exact(Kind::Fraction, value)
}

fn behind_edge(study: &Study) -> Option<Finding> {
    let edge = edge_x_m(study)?;
    let length = study.form.outline.length_m;
    let behind = edge - study.mass.cg_m.x;
    let number = Number::new(Kind::Fraction, behind / length, cg_spread_m(study) / length);
    let limit = Limit::between(
        share(BEHIND_EDGE.0),
        share(BEHIND_EDGE.1),
        "share of length behind the sponsons' trailing edge; common practice, no source",
    );
    let standing = limit.judge(&number, Standing::Watch);
    let place = Number::exact(Kind::Length, behind.abs()).plain();
    let sentence = if behind < 0.0 {
        format!(
            "It balances {place} ahead of the sponsons' trailing edge: the propeller would lift out."
        )
    } else {
        let verdict = if standing == Standing::Good {
            "where builders put it"
        } else if limit.margin(number.value) >= 0.0 {
            "at the end of where builders put it"
        } else if behind / length > BEHIND_EDGE.1 {
            "tail heavy: it may not plane, and the bow blows up easily"
        } else {
            "nose heavy: it runs wet and dives off waves"
        };
        format!("It balances {place} behind the sponsons' trailing edge, {verdict}.")
    };
    let aim = edge - 0.05 * length;
    Some(
        Finding::new("balance", standing, Basis::RuleOfThumb, sentence)
            .number(number)
            .limit(limit)
            .why("Sources differ by a factor of three here, so take it as a start and let the findings for running decide.")
            .figure("balance point ahead of the transom", cg_x(study))
            .figure("trailing edge", Number::exact(Kind::Length, edge))
            .changes(improve(study, Quantity::BalanceX, Want::Near(aim))),
    )
}

fn cg_x(study: &Study) -> Number {
    Number::new(Kind::Length, study.mass.cg_m.x, cg_spread_m(study))
}

fn share_of_length(study: &Study, (low, high): (f64, f64)) -> Finding {
    let length = study.form.outline.length_m;
    let number = Number::new(
        Kind::Fraction,
        study.mass.cg_m.x / length,
        cg_spread_m(study) / length,
    );
    let limit = Limit::between(
        share(low),
        share(high),
        format!(
            "share of length ahead of the transom, for a {}; common practice, no source",
            study.hull_type.name()
        ),
    );
    let standing = limit.judge(&number, Standing::Watch);
    let verdict = if number.value < low {
        "far aft: expect it to porpoise and to blow over early"
    } else if number.value > high {
        "far forward: it runs wet"
    } else if standing == Standing::Watch {
        "at the end of where builders put it"
    } else {
        "where builders put it"
    };
    let sentence = format!(
        "It balances at {} of its length from the transom, {verdict}.",
        number.plain()
    );
    Finding::new("balance", standing, Basis::RuleOfThumb, sentence)
        .number(number)
        .limit(limit)
        .why(
            "Length is the hull's own, without rudder and strut. Balance it with the batteries in.",
        )
        .figure("balance point ahead of the transom", cg_x(study))
        .figure("length", Number::exact(Kind::Length, length))
        .changes(improve(
            study,
            Quantity::BalanceX,
            Want::Near(0.5 * (low + high) * length),
        ))
}

/// For boats that stand on their sponsons and propeller.
fn propeller_load(study: &Study) -> Option<Finding> {
    if !matches!(study.hull_type, HullType::ThreePoint | HullType::Outrigger) {
        return None;
    }
    let drives = study.boat.drives.len();
    let on_propellers: f64 = study
        .rest
        .supports
        .iter()
        .take(drives)
        .map(|s| s.fraction)
        .sum();
    if study.rest.supports.len() <= drives {
        return None;
    }
    let arm = edge_x_m(study)? - study.boat.drives.first()?.propeller.at[0].value;
    let number = Number::new(
        Kind::Fraction,
        on_propellers,
        cg_spread_m(study) / arm.abs().max(1e-3),
    );
    let limit = Limit::between(
        share(PROPELLER_LOAD.0),
        share(PROPELLER_LOAD.1),
        "of all-up mass on the propeller, hull level; common practice, no source",
    );
    let standing = limit.judge(&number, Standing::Watch);
    let grams = Number::exact(Kind::Mass, on_propellers * study.mass.mass_kg).plain();
    let verdict = if number.value < PROPELLER_LOAD.0 {
        "light: expect the tail to hop"
    } else if number.value > PROPELLER_LOAD.1 {
        "heavy: expect a wet tail and a high bow"
    } else {
        "as builders set it"
    };
    let sentence = format!(
        "With the hull level, the propeller would put {grams} on a kitchen scale, {verdict}."
    );
    let mut found = Finding::new("propeller-load", standing, Basis::RuleOfThumb, sentence)
        .number(number)
        .limit(limit)
        .why("Weights and distances: propeller and sponson edges carry the boat like a bench. Take the pack out before putting a propeller on a scale.")
        .caution("Unplug the pack before touching a propeller: treat it as live whenever a pack is connected.");
    for support in &study.rest.supports {
        found = found.figure(&support.name, Number::exact(Kind::Force, support.load_n));
    }
    Some(found)
}

/// Nothing of a hull that hangs on one end: that is told where it floats.
fn level(study: &Study) -> Option<Finding> {
    let afloat = study.rest.afloat.as_ref().filter(|a| on_end(a).is_none())?;
    let trim = afloat.attitude.trim_rad;
    let number = Number::new(
        Kind::Angle,
        trim,
        study.spread.half_width(Quantity::RestTrim),
    );
    let down = trim.to_degrees() < -1.0;
    let steep = trim.to_degrees() > STEEP_DEG;
    let standing = if down || steep {
        Standing::Watch
    } else {
        Standing::Good
    };
    let least = |fits: bool| {
        let parts = study.rest.levelling.iter().filter(|l| l.fits == fits);
        parts.min_by(|a, b| a.shift_m.abs().total_cmp(&b.shift_m.abs()))
    };
    let move_of = |part: &craft::Levelling| {
        let way = if part.shift_m >= 0.0 {
            "forward"
        } else {
            "aft"
        };
        let far = Number::exact(Kind::Length, part.shift_m.abs()).plain();
        format!("the {} {far} {way}", part.part)
    };
    let sits = match (trim.to_degrees().abs() < 0.1, trim > 0.0) {
        (true, _) => "It floats level.".to_owned(),
        (false, true) if steep => format!(
            "It floats {} bow up, more than most fast boats: there is much weight aft.",
            number.plain()
        ),
        (false, true) => format!(
            "It floats {} bow up, as most fast boats do.",
            number.plain()
        ),
        (false, false) => format!(
            "It floats {} bow down.",
            Number::exact(Kind::Angle, -trim).plain()
        ),
    };
    let sentence = match (down, least(true), least(false)) {
        (false, ..) => sits,
        (true, Some(part), _) => format!("{sits} To level it, move {}.", move_of(part)),
        (true, None, Some(part)) => {
            format!(
                "{sits} No part has room enough to level it: {} would be out of the hull.",
                move_of(part)
            )
        }
        (true, None, None) => {
            format!("{sits} No part is marked as movable, so nothing can level it.")
        }
    };
    let mut found = Finding::new("level", standing, Basis::Statics, sentence)
        .number(number)
        .why("Level at rest is a check on the weights, not an aim: most fast boats sit a little bow up. Bow down at rest ships water at the first puff of throttle.");
    for part in &study.rest.levelling {
        found = found.figure(
            format!("{} would move", part.part),
            Number::exact(Kind::Length, part.shift_m),
        );
    }
    Some(found)
}
