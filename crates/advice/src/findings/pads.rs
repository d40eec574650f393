//! The ride pads as built: wide enough and steep enough to carry the boat.

use boat::Kind;
use form::RunningSurface;

use crate::finding::{Basis, Finding, Limit, Standing};
use crate::number::Number;
use study::Study;
use study::hull_type::HullType;

/// Width of each pad over the boat's beam, and its built angle in degrees. Common practice, no
/// source.
struct Usual {
    width: (f64, f64),
    angle_deg: (f64, f64),
}

const THREE_POINT: Usual = Usual {
    width: (0.12, 0.18),
    angle_deg: (2.0, 4.0),
};
const OUTRIGGER: Usual = Usual {
    width: (0.09, 0.13),
    angle_deg: (2.5, 5.0),
};
/// Below this part of the usual least, pads are said not to plane.
const FAR_BELOW: f64 = 0.5;

pub fn findings(study: &Study) -> Vec<Finding> {
    let usual = match study.hull_type {
        HullType::ThreePoint => THREE_POINT,
        HullType::Outrigger => OUTRIGGER,
        HullType::Vee | HullType::Catamaran | HullType::Other => return Vec::new(),
    };
    let surfaces = study.form.surfaces.iter();
    let pads: Vec<&RunningSurface> = surfaces.filter(|s| s.step).collect();
    let narrowest = pads
        .iter()
        .min_by(|a, b| a.beam_m.value.total_cmp(&b.beam_m.value));
    let flattest = pads
        .iter()
        .min_by(|a, b| a.angle_rad.value.total_cmp(&b.angle_rad.value));
    let mut all = Vec::new();
    all.extend(narrowest.map(|pad| width(study, pad, &usual)));
    all.extend(flattest.map(|pad| angle(pad, &usual)));
    all
}

fn standing(value: f64, (low, high): (f64, f64)) -> Standing {
    if value < FAR_BELOW * low {
        Standing::Stop
    } else if (low..=high).contains(&value) {
        Standing::Good
    } else {
        Standing::Watch
    }
}

fn width(study: &Study, pad: &RunningSurface, usual: &Usual) -> Finding {
    let beam = study.form.outline.beam_m.max(1e-6);
    let share = pad.beam_m.value / beam;
    let standing = standing(share, usual.width);
    let shown = Number::new(Kind::Length, pad.beam_m.value, pad.beam_m.spread).plain();
    let verdict = match standing {
        Standing::Stop => "too narrow to plane on: it stays wet over its whole length and drags",
        Standing::Good => "as wide as builders make it",
        _ if share < usual.width.0 => "narrower than builders make it: slow to come up",
        _ => "wider than builders make it: it will feel sticky in calm water",
    };
    let limits = (usual.width.0 * beam, usual.width.1 * beam);
    Finding::new(
        "pad-width",
        standing,
        Basis::RuleOfThumb,
        format!("The {} is {shown} wide, {verdict}.", pad.name),
    )
    .number(Number::new(
        Kind::Length,
        pad.beam_m.value,
        pad.beam_m.spread,
    ))
    .limit(Limit::between(
        Number::exact(Kind::Length, limits.0),
        Number::exact(Kind::Length, limits.1),
        "for this beam; common practice, no source",
    ))
    .why("Width counts twice: a pad's lift at a given wetted length grows with it, and a long wet strip is a poor wing.")
    .figure("share of the boat's beam", Number::exact(Kind::Fraction, share))
}

fn angle(pad: &RunningSurface, usual: &Usual) -> Finding {
    let built = pad.angle_rad.value;
    let standing = standing(built.to_degrees(), usual.angle_deg);
    let number = Number::new(Kind::Angle, built, pad.angle_rad.spread);
    let verdict = match standing {
        Standing::Stop => "almost level: it cannot lift until the whole boat noses up",
        Standing::Good => "as builders make it",
        _ if built.to_degrees() < usual.angle_deg.0 => "flatter than builders make it",
        _ => "steeper than builders make it: expect it to bounce",
    };
    Finding::new(
        "pad-angle",
        standing,
        Basis::RuleOfThumb,
        format!(
            "The {} is built {} nose up, {verdict}.",
            pad.name,
            number.plain()
        ),
    )
    .number(number)
    .limit(Limit::between(
        Number::exact(Kind::Angle, usual.angle_deg.0.to_radians()),
        Number::exact(Kind::Angle, usual.angle_deg.1.to_radians()),
        "built angle; common practice, no source",
    ))
    .why("Measured on the mesh over the straight run ahead of the trailing edge. Measure the printed pad too: prints come out 0.2 to 0.5° off.")
}
