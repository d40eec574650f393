//! At rest: does it float, how high, which way up, and when it is full of water.

use boat::Kind;
use craft::{Afloat, RightingPoint};

use super::improve;
use crate::change::Want;
use crate::finding::{Basis, Finding, Limit, Standing};
use crate::number::Number;
use study::Quantity;
use study::Study;

/// Foam and sealed voids builders carry, m3 for each kg of boat. Common practice, no source.
const FLOTATION_M3_PER_KG: f64 = 1.05e-3;
/// Heel at rest that is seen and corrected: 4 mm from side to side of a boat 250 mm wide. Common practice, no source.
pub(crate) const HEEL_DEG: f64 = 1.0;
/// Steeper at rest no boat lies on the water: one of its ends is under (judgement).
const ON_END_DEG: f64 = 20.0;
/// How much heavier than planned builds turn out. Common practice, no source.
const MASS_CREEP: f64 = 0.2;

const COLD_WATER: &str = "Recover a swamped boat with a pole, a line or a rowing boat with life-jackets and a second \
     person; never swim for it.";

pub fn findings(study: &Study) -> Vec<Finding> {
    let Some(afloat) = &study.rest.afloat else {
        return vec![sinks(study), swamped(study)];
    };
    let mut all = vec![
        floats(study, afloat),
        stability(study, afloat),
        heel(study, afloat),
    ];
    all.extend(freeboard(study, afloat));
    all.extend(other_ways_up(study));
    all.extend(mass_margin(study, afloat));
    all.push(swamped(study));
    all.push(flotation(study));
    all
}

fn mass(study: &Study) -> Number {
    Number::new(Kind::Mass, study.mass.mass_kg, study.mass.mass_spread_kg)
}

/// Mass the whole hull would displace.
fn hull_holds(study: &Study) -> Number {
    let kg = study.mass.mass_kg * (1.0 + study.rest.reserve_of_buoyancy);
    Number::exact(Kind::Mass, kg)
}

fn sinks(study: &Study) -> Finding {
    let sentence = format!(
        "It sinks: the boat weighs {} and the whole hull under water holds up only {}.",
        mass(study).plain(),
        hull_holds(study).plain()
    );
    Finding::new("floats", Standing::Stop, Basis::Statics, sentence)
        .number(mass(study))
        .limit(Limit::at_most(
            hull_holds(study),
            "the outer volume of the hull",
        ))
        .why("Every litre of hull under water carries one kilogram; there are too few litres. Check the mesh's unit first: a hull ten times too small sinks like this.")
        .figure("hull volume", litres(study.form.envelope.signed_volume_m3()))
}

fn litres(volume_m3: f64) -> Number {
    Number::exact(Kind::Volume, volume_m3)
}

fn floats(study: &Study, afloat: &Afloat) -> Finding {
    let nose = if afloat.attitude.trim_rad < 0.0 {
        "bow down"
    } else {
        "bow up"
    };
    let found = match on_end(afloat) {
        Some(end) => hangs(afloat, end, nose),
        None => lies(study, afloat, nose),
    };
    found
        .figure("all-up mass", mass(study))
        .figure("whole hull holds up", hull_holds(study).plain())
        .figure("water pushed aside", litres(afloat.displaced_m3))
        .figure(
            "wetted area",
            Number::exact(Kind::Area, afloat.wetted_area_m2),
        )
}

fn lies(study: &Study, afloat: &Afloat, nose: &str) -> Finding {
    let sentence = format!(
        "It floats, drawing {} with the {nose} by {}.",
        Number::exact(Kind::Length, afloat.draught_m).plain(),
        Number::exact(Kind::Angle, afloat.attitude.trim_rad.abs()).plain()
    );
    let reserve = study.rest.reserve_of_buoyancy;
    let spread = (1.0 + reserve) * study.mass.mass_spread_kg / study.mass.mass_kg;
    Finding::new("floats", Standing::Good, Basis::Statics, sentence)
        .number(Number::new(Kind::Fraction, reserve, spread))
        .limit(Limit::at_least(
            Number::exact(Kind::Fraction, 0.0),
            "reserve of buoyancy; below 0 it sinks",
        ))
        .why("The hull settles until the water it pushes aside weighs what the boat weighs, and turns until the two lie on one plumb line.")
}

fn hangs(afloat: &Afloat, end: &str, nose: &str) -> Finding {
    let trim_rad = afloat.attitude.trim_rad;
    let sentence = format!(
        "Its {end} goes under, and it hangs in the water with the {nose} by {}.",
        Number::exact(Kind::Angle, trim_rad.abs()).plain()
    );
    Finding::new("floats", Standing::Stop, Basis::Statics, sentence)
        .number(Number::exact(Kind::Angle, trim_rad))
        .limit(Limit::between(
            Number::exact(Kind::Angle, -ON_END_DEG.to_radians()),
            Number::exact(Kind::Angle, ON_END_DEG.to_radians()),
            "beyond, an end of the hull is under; judgement",
        ))
        .why("The hull as a whole holds the weight up, but not where the weight is: as its deck goes under at one end, nothing more lifts there.")
}

/// The end on which a hull hangs whose deck has gone under, if it does.
pub(crate) fn on_end(afloat: &Afloat) -> Option<&'static str> {
    let trim_rad = afloat.attitude.trim_rad;
    let end = if trim_rad > 0.0 { "stern" } else { "bow" };
    (trim_rad.abs().to_degrees() > ON_END_DEG).then_some(end)
}

fn freeboard(study: &Study, afloat: &Afloat) -> Option<Finding> {
    let (name, height) = afloat.freeboard.as_ref()?;
    let number = Number::new(
        Kind::Length,
        *height,
        study.spread.half_width(Quantity::Freeboard),
    );
    let (least, says) = match study.boat.wishes.freeboard_m {
        Some(wish) => (wish, "the boat file's own wish".to_owned()),
        None => (
            study.hull_type.freeboard_m(),
            format!("common practice for a {}", study.hull_type.name()),
        ),
    };
    let limit = Limit::at_least(Number::exact(Kind::Length, least), says);
    let under = *height <= 0.0;
    let standing = if under {
        Standing::Stop
    } else {
        limit.judge(&number, Standing::Watch)
    };
    let sentence = if let Some(end) = on_end(afloat) {
        format!("Water comes in at rest: the {name} goes under with the {end}.")
    } else if under {
        format!(
            "Water comes in at rest: the {name} sits {} under it.",
            Number::exact(Kind::Length, -height).plain()
        )
    } else {
        format!(
            "The lowest way in, the {name}, is {} above the water.",
            number.plain()
        )
    };
    let found = Finding::new("freeboard", standing, Basis::Statics, sentence)
        .number(number)
        .limit(limit)
        .why("Freeboard is measured where water would first get in, with the boat at the trim and heel it takes at rest.")
        .figure("way in", name)
        .figure("trim", Number::exact(Kind::Angle, afloat.attitude.trim_rad))
        .figure("heel", Number::exact(Kind::Angle, afloat.attitude.heel_rad));
    Some(found.changes(improve(study, Quantity::Freeboard, Want::More)))
}

fn heel(study: &Study, afloat: &Afloat) -> Finding {
    let heel = afloat.attitude.heel_rad;
    let number = Number::new(
        Kind::Angle,
        heel,
        study.spread.half_width(Quantity::RestHeel),
    );
    let limit = Limit::between(
        Number::exact(Kind::Angle, -HEEL_DEG.to_radians()),
        Number::exact(Kind::Angle, HEEL_DEG.to_radians()),
        "common practice, no source",
    );
    let side = if heel > 0.0 { "right" } else { "left" };
    let sentence = if heel.to_degrees().abs() < 0.2 {
        "It sits level from side to side.".to_owned()
    } else {
        format!(
            "It leans {} to the {side} at rest.",
            Number::exact(Kind::Angle, heel.abs()).plain()
        )
    };
    let standing = limit.judge(&number, Standing::Watch);
    Finding::new("heel", standing, Basis::Statics, sentence)
        .number(number)
        .limit(limit)
        .why("A lean comes from weight off the centreline. A single propeller that turns anticlockwise seen from astern rolls the hull to the right, so a little weight left of centre is usual.")
        .figure("balance left of centre", cg_left(study))
        .changes(improve(study, Quantity::RestHeel, Want::Near(0.0)))
}

fn cg_left(study: &Study) -> Number {
    Number::new(
        Kind::Length,
        study.mass.cg_m.y,
        study.mass.cg_spread_m.y.abs(),
    )
}

fn stability(study: &Study, afloat: &Afloat) -> Finding {
    let number = Number::new(
        Kind::Length,
        afloat.gm_roll_m,
        study.mass.cg_spread_m.z.abs(),
    );
    let limit = Limit::at_least(
        Number::exact(Kind::Length, 0.0),
        "metacentric height, GM; below 0 it does not stay upright",
    );
    let standing = limit.judge(&number, Standing::Stop);
    let range = righting_range_rad(&study.rest.righting);
    let until = match range {
        Some(angle) => format!(
            "from up to {}",
            Number::exact(Kind::Angle, angle.min(std::f64::consts::PI)).plain()
        ),
        None => "from every angle that could be followed".to_owned(),
    };
    let sentence = if afloat.gm_roll_m <= 0.0 {
        "It will not stay upright: the weight is too high for so narrow a waterline.".to_owned()
    } else {
        format!("Heeled over at rest, it comes back {until}.")
    };
    let mut found = Finding::new("stability", standing, Basis::Statics, sentence)
        .number(number)
        .limit(limit)
        .why("The metacentric height says how stiffly it stands at small angles. The righting arm is followed to 180°, with the hull taken as closed; where an opening goes under, the arm no longer holds.")
        .figure("metacentric height, in roll", number)
        .figure(
            "metacentric height, in pitch",
            Number::exact(Kind::Length, afloat.gm_pitch_m),
        );
    if let Some(most) = greatest_arm(&study.rest.righting) {
        found = found.figure(
            "greatest righting arm",
            format!(
                "{} at {}",
                Number::exact(Kind::Length, most.gz_m).plain(),
                Number::exact(Kind::Angle, most.heel_rad).plain()
            ),
        );
    }
    if let Some(angle) = fills_at_rad(&study.rest.righting) {
        found = found.figure(
            "first opening goes under at",
            Number::exact(Kind::Angle, angle).plain(),
        );
    }
    found
}

/// Heel to starboard at which the arm first stops righting, between curve points.
fn righting_range_rad(curve: &[RightingPoint]) -> Option<f64> {
    let right: Vec<_> = curve.iter().filter(|p| p.heel_rad > 0.0).collect();
    let pairs = right
        .windows(2)
        .find(|w| w[0].gz_m > 0.0 && w[1].gz_m <= 0.0)?;
    let [a, b] = [pairs[0], pairs[1]];
    let part = a.gz_m / (a.gz_m - b.gz_m);
    Some(a.heel_rad + part * (b.heel_rad - a.heel_rad))
}

fn greatest_arm(curve: &[RightingPoint]) -> Option<&RightingPoint> {
    curve
        .iter()
        .filter(|p| p.heel_rad > 0.0)
        .max_by(|a, b| a.gz_m.total_cmp(&b.gz_m))
}

/// Least heel, either way, at which an opening is under water.
fn fills_at_rad(curve: &[RightingPoint]) -> Option<f64> {
    curve
        .iter()
        .filter(|p| p.opening_m.is_some_and(|height| height < 0.0))
        .map(|p| p.heel_rad.abs())
        .min_by(f64::total_cmp)
}

fn other_ways_up(study: &Study) -> Option<Finding> {
    let upright = study.rest.afloat.as_ref()?.attitude.heel_rad;
    let others: Vec<f64> = study
        .rest
        .resting_heels_rad
        .iter()
        .copied()
        .filter(|heel| (heel - upright).abs() > 0.35)
        .collect();
    let first = others.first()?;
    let sentence = if first.abs() > 3.0 {
        "Upside down it stays upside down: it does not right itself.".to_owned()
    } else {
        format!(
            "Turned over it stays there, at {} of heel: it does not right itself.",
            Number::exact(Kind::Angle, first.abs()).plain()
        )
    };
    Some(
        Finding::new("turned-over", Standing::Watch, Basis::Statics, sentence)
            .number(Number::exact(Kind::Angle, first.abs()))
            .why("Every attitude in which the righting arm vanishes and pushes back on both sides is a way to rest. Most flat-decked boats rest upside down too; plan for recovery.")
            .figure("ways to rest", others.len() + 1)
            .caution(COLD_WATER),
    )
}

/// Weight that can be added before the first opening is at the water.
fn mass_margin(study: &Study, afloat: &Afloat) -> Option<Finding> {
    let (name, freeboard) = afloat.freeboard.as_ref()?;
    if *freeboard <= 0.0 {
        return None;
    }
    let spare = freeboard * afloat.waterplane_area_m2 * study.water_density_kg_m3;
    let number = Number::new(
        Kind::Fraction,
        spare / study.mass.mass_kg,
        study.mass.mass_spread_kg / study.mass.mass_kg,
    );
    let limit = Limit::at_least(
        Number::exact(Kind::Fraction, MASS_CREEP),
        "common practice: builds come out 20 to 40 % over plan",
    );
    let standing = limit.judge(&number, Standing::Watch);
    let sentence = format!(
        "It can come out {} heavier before the {name} is at the water.",
        Number::exact(Kind::Mass, spare).plain()
    );
    Some(
        Finding::new("mass-margin", standing, Basis::Statics, sentence)
            .number(number)
            .limit(limit)
            .why("Freeboard times the area at the waterline is the water that can still be pushed aside; weight added at the middle of that area is assumed.")
            .figure(
                "waterline area",
                Number::exact(Kind::Area, afloat.waterplane_area_m2),
            ),
    )
}

fn swamped(study: &Study) -> Finding {
    let flooded = &study.rest.flooded;
    let floats: f64 = study
        .boat
        .floats
        .iter()
        .map(|f| (f.volume_m3.spread * study.water_density_kg_m3).powi(2))
        .sum();
    let number = Number::new(
        Kind::Mass,
        flooded.spare_kg,
        (floats + study.mass.mass_spread_kg.powi(2)).sqrt(),
    );
    let limit = Limit::at_least(
        Number::exact(Kind::Mass, 0.0),
        "below 0 it goes to the bottom",
    );
    let mut standing = limit.judge(&number, Standing::Stop);
    let spare = Number::exact(Kind::Mass, flooded.spare_kg.abs()).plain();
    let sentence = match (flooded.spare_kg > 0.0, flooded.inverted) {
        (true, false) => format!("Full of water it still floats, with {spare} to spare."),
        (true, true) => {
            standing = standing.min(Standing::Watch);
            format!("Full of water it still floats, with {spare} to spare, but upside down.")
        }
        (false, _) => format!("Full of water it goes to the bottom: it lacks {spare} of buoyancy."),
    };
    Finding::new("swamped", standing, Basis::Statics, sentence)
        .number(number)
        .limit(limit)
        .why("Only foam, sealed voids, the plastic itself and the parts' own volumes still carry; the inside is taken as full. It turns over when that buoyancy sits lower than the weight: put foam high and forward.")
        .figure("foam and voids", litres(float_volume(study)))
        .caution(COLD_WATER)
}

fn float_volume(study: &Study) -> f64 {
    study.boat.floats.iter().map(|f| f.volume_m3.value).sum()
}

fn flotation(study: &Study) -> Finding {
    let per_kg = float_volume(study) / study.mass.mass_kg;
    let litres_per_kg = |m3_per_kg: f64| Number::exact(Kind::Number, m3_per_kg * 1e3).per("l/kg");
    let number = litres_per_kg(per_kg);
    let limit = Limit::at_least(
        litres_per_kg(FLOTATION_M3_PER_KG),
        "of foam or void for each kg of boat; common practice, no source",
    );
    let standing = limit.judge(&number, Standing::Watch);
    let wanted = (FLOTATION_M3_PER_KG * study.mass.mass_kg - float_volume(study)).max(0.0);
    let sentence = if wanted > 0.0 {
        format!(
            "There is {} of foam or sealed void; builders would put in {} more.",
            litres(float_volume(study)).plain(),
            litres(wanted).plain()
        )
    } else {
        format!(
            "There is {} of foam or sealed void, which is what builders carry.",
            litres(float_volume(study)).plain()
        )
    };
    Finding::new("flotation", standing, Basis::RuleOfThumb, sentence)
        .number(number)
        .limit(limit)
        .why("1.05 litres for each kilogram leaves a little for a leak and for water held between the perimeters of a print.")
}
