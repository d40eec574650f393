//! Hull and joints under bending: each load on the hull as a beam, and what the wall and the glue bear of it.

use boat::making::JointKind;
use craft::MassProperties;
use form::Form;
use laws::constants::GRAVITY_M_S2;
use laws::printed_strength::Plastic;
use nalgebra::Vector3;

use super::details::force;
use super::girder::{Girder, Push};
use super::{
    Acting, Asking, Bow, LOAD_SPREAD, Margin, Of, Press, Seen, Station, Strength, along, crash,
    spread,
};
use crate::pieces::Layout;

/// What wings do to the hull, as margins name it.
pub(super) const WING: &str = "largest lift of the wing";
/// A bow of less than this is nothing to see, m.
const SEEN_M: f64 = 5e-5;
/// Bulkheads as near as this to each other keep the frames' shape, m (checked at 60 mm; further is judgement).
const FRAMED_M: f64 = 0.1;
/// Picked up with a jerk (judgement).
const JERK: f64 = 2.0;
/// More overlap than this carries no more: its ends do (`laws::lap_joint`), and design values are of laps up to this
/// long, m (judgement).
const LAP_M: f64 = 0.02;
/// Glue line of closed faces counts so far in from the wall, m (judgement: four walls of 2 mm).
const FLANGE_M: f64 = 0.008;

/// The boat's weight times `g` on its running surfaces, as the run loaded them or evenly, and always so that it does
/// not all stand on one.
pub(super) fn carried(
    form: &Form,
    mass: &MassProperties,
    g: f64,
    seen: &[(String, f64)],
) -> Vec<Push> {
    let total = g * mass.mass_kg * GRAVITY_M_S2;
    let of = |name: &str| {
        seen.iter()
            .find(|(n, _)| n == name)
            .map_or(0.0, |(_, f)| *f)
    };
    let loads: Vec<(f64, f64)> = form
        .surfaces
        .iter()
        .map(|s| (s.trailing_edge_m[0] + 0.02, of(&s.name)))
        .collect();
    let sum: f64 = loads.iter().map(|l| l.1).sum();
    let even = 1.0 / loads.len().max(1) as f64;
    loads
        .iter()
        .map(|(x, f)| Push {
            x_m: *x,
            up_n: total * if sum > 0.0 { f / sum } else { even },
        })
        .collect()
}

/// Hull and joints under bending.
pub(super) fn beam(asking: &Asking<'_>, plastic: &'static Plastic, layout: &Layout) -> Strength {
    let modulus = 0.5 * (plastic.modulus_pa[0] + plastic.modulus_pa[1]);
    let girder = Girder::of(asking.boat, asking.form, asking.mass, modulus);
    let loads = loads(asking, &girder);
    let mut out = Strength {
        bow: most_bent(asking, &girder, &loads, modulus),
        ..Strength::default()
    };
    for (i, x) in girder.x_m.iter().enumerate() {
        let worst = loads
            .iter()
            .filter(|l| !l.steady)
            .map(|l| (l, strength_over(&girder, i, l, plastic, layout, false)))
            .min_by(|a, b| (a.1.0 / a.1.1).total_cmp(&(b.1.0 / b.1.1)));
        if let Some((load, (strength, stress))) = worst {
            out.stations.push(Station {
                x_m: *x,
                margin: (strength / stress.max(1.0)).min(999.0),
                load: load.name,
            });
        }
    }
    for load in &loads {
        let each = (0..girder.x_m.len()).map(|i| {
            let (strength, stress) = strength_over(&girder, i, load, plastic, layout, load.steady);
            (i, strength, stress)
        });
        let Some((i, strength, stress)) = each.min_by(|a, b| (a.1 / a.2).total_cmp(&(b.1 / b.2)))
        else {
            continue;
        };
        let mut margin = Margin {
            of: if load.steady { Of::Steady } else { Of::Hull },
            place: format!("hull {:.0} mm ahead of the transom", 1e3 * girder.x_m[i]),
            load: load.name,
            x_m: girder.x_m[i],
            stress_pa: stress,
            strength_pa: strength,
            spread: 0.0,
            of_wall: None,
        };
        margin.spread = margin.value() * spread(plastic, load.spread);
        out.margins.push(margin);
        if !load.steady {
            joints(asking, &girder, load, plastic, layout, &mut out);
        }
    }
    out.acting = loads
        .into_iter()
        .map(|l| Acting {
            load: l.name,
            presses: l.pushes.iter().map(|p| press(&girder, p)).collect(),
        })
        .collect();
    out
}

fn press(girder: &Girder, push: &Push) -> Press {
    let section = &girder.sections[girder.nearest(push.x_m)];
    let [below, above] = section.reach_m[1];
    let aside = if push.up_n < 0.0 { above } else { -below };
    Press {
        x_m: push.x_m,
        z_m: section.middle_m[1] + aside,
        up_n: push.up_n,
    }
}

/// The most the hull bends in use.
fn most_bent(asking: &Asking<'_>, girder: &Girder, loads: &[Load], modulus_pa: f64) -> Option<Bow> {
    let frames = asking.boat.making.frames_m;
    let framed = frames.is_some_and(|apart| apart <= FRAMED_M);
    let used = loads
        .iter()
        .filter(|l| !l.steady && l.name != crash::UNDER_WATER);
    let bows = used.map(|l| {
        let all = girder.bow_m(&l.moment, modulus_pa);
        let bow_m = all.iter().fold(0.0f64, |most, b| most.max(b.abs()));
        Bow {
            bow_m,
            spread_m: l.spread * bow_m,
            load: l.name,
            framed,
        }
    });
    let most = bows.max_by(|a, b| a.bow_m.total_cmp(&b.bow_m));
    most.filter(|b| b.bow_m > SEEN_M)
}

struct Load {
    name: &'static str,
    pushes: Vec<Push>,
    moment: Vec<f64>,
    spread: f64,
    steady: bool,
}

fn loads(asking: &Asking<'_>, girder: &Girder) -> Vec<Load> {
    let (first, last) = (girder.x_m[0], girder.x_m[girder.x_m.len() - 1]);
    let at = |shares: [f64; 2]| shares.map(|share| first + share * (last - first));
    let held = |name, at, times, spread, steady| Load {
        name,
        pushes: girder.carried_at(at, times).to_vec(),
        moment: girder.held(at, times),
        spread,
        steady,
    };
    let flying = |name, pushes: Vec<Push>, spread| Load {
        name,
        moment: girder.in_the_air(&pushes),
        pushes,
        spread,
        steady: false,
    };
    let mut all = vec![
        held("carried by its ends", at([0.02, 0.98]), JERK, 0.3, false),
        held("standing on two stands", at([0.2, 0.8]), 1.0, 0.1, true),
    ];
    if let Some(seen) = asking.seen
        && seen.up_m_s2 > 0.0
    {
        let g = seen.up_m_s2 / GRAVITY_M_S2;
        let pushes = carried(asking.form, asking.mass, g, &seen.elements);
        all.push(flying("landing", pushes, LOAD_SPREAD));
    }
    let wings = asking.seen.map_or_else(Vec::new, |s| lifted(asking, s));
    if !wings.is_empty() {
        all.push(flying(WING, wings, LOAD_SPREAD));
    }
    if let Some(seen) = asking.seen
        && let Some(push) = crash::under_load(asking, seen.top_m_s, seen.water_kg_m3)
    {
        all.push(flying(crash::UNDER_WATER, vec![push], 0.5));
    }
    all
}

/// Each wing's greatest force, as lift a third of its chord behind its leading edge (`laws::wing`).
fn lifted(asking: &Asking<'_>, seen: &Seen) -> Vec<Push> {
    let wings = asking.boat.wings.iter();
    wings
        .filter_map(|w| {
            let up_n = force(seen, &w.name).filter(|f| *f > 0.0)?;
            let x_m = w.at[0].value - w.chord_m.value / 3.0;
            Some(Push { x_m, up_n })
        })
        .collect()
}

/// Of the wall at a station: strength and stress along x, Pa.
fn strength_over(
    girder: &Girder,
    i: usize,
    load: &Load,
    plastic: &'static Plastic,
    layout: &Layout,
    steady: bool,
) -> (f64, f64) {
    let strength = along(plastic, layout.up_at(girder.x_m[i]), Vector3::x(), steady);
    (
        strength.strength_pa,
        girder.sections[i].bending_pa(load.moment[i]).max(1.0),
    )
}

fn joints(
    asking: &Asking<'_>,
    girder: &Girder,
    load: &Load,
    plastic: &'static Plastic,
    layout: &Layout,
    out: &mut Strength,
) {
    let making = &asking.boat.making;
    let glue = making.glue.strength_pa;
    for joint in &layout.joints {
        let i = girder.nearest(joint.x_m);
        let section = &girder.sections[i];
        let wall = section.area_m2 / section.outline_m.max(1e-9);
        let over = match joint.kind {
            JointKind::Lap => making.glue.overlap_m.value.min(LAP_M),
            // A slicer closes the faces of a solid outside; a mesh with its walls has only their ends.
            JointKind::Flange if asking.form.walls.is_none() => FLANGE_M,
            JointKind::Flange | JointKind::Butt => wall,
        };
        let mut margin = Margin {
            of: Of::Joint,
            place: format!(
                "{} joint {:.0} mm ahead of the transom",
                joint.kind.word(),
                1e3 * joint.x_m
            ),
            load: load.name,
            x_m: joint.x_m,
            stress_pa: (section.bending_pa(load.moment[i]) * wall / over).max(1.0),
            strength_pa: glue.value,
            spread: 0.0,
            of_wall: None,
        };
        let (strength, stress) = strength_over(girder, i, load, plastic, layout, false);
        margin.of_wall = Some(margin.strength_pa / margin.stress_pa * stress / strength.max(1.0));
        margin.spread = margin.value() * (glue.spread / glue.value).hypot(load.spread);
        out.margins.push(margin);
    }
}
