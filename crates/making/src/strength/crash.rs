//! Crashes, told as what breaks first and where; never as a margin to trust.

use form::sections::{Along, sections};
use form::solid::Region;
use laws::constants::GRAVITY_M_S2;
use laws::crush::{KEPT, crush};
use laws::plate::{Edges, Panel, plate};
use laws::printed_strength::Plastic;
use nalgebra::Vector3;

use super::girder::Push;
use super::{Asking, Of, Strength, along};
use crate::pieces::Layout;
use crate::section::{Section, Wall};

/// The load of `under_load`, in words.
pub const UNDER_WATER: &str = "bow under at top speed";
/// Dropped on its bow from here, m.
const DROP_M: f64 = 0.5;
/// The bow is taken up in slices of this, m.
const SLICE_M: f64 = 0.004;
/// Share of the length that goes under, and the force square to it over pressure and area: a short plate at some
/// ten degrees (judgement).
const UNDER: (f64, f64) = (0.15, 0.5);
/// Least wide panel of a deck taken, m (judgement).
const DECK_M: f64 = 0.06;

/// What a crash does.
#[derive(Debug, Clone, PartialEq)]
pub struct Crash {
    /// `bow under at top speed`.
    pub what: &'static str,
    /// What breaks first, in words.
    pub breaks: String,
    /// Whether anything does.
    pub broken: bool,
    /// Where, m.
    pub x_m: f64,
}

/// Every crash told.
pub fn all(
    asking: &Asking<'_>,
    plastic: &'static Plastic,
    layout: &Layout,
    beam: &Strength,
) -> Vec<Crash> {
    let mut out = Vec::new();
    out.extend(hit(
        asking,
        plastic,
        "dropped 0.5 m on its bow",
        (2.0 * GRAVITY_M_S2 * DROP_M).sqrt(),
    ));
    if let Some(seen) = asking.seen.filter(|s| s.top_m_s > 1.0) {
        out.extend(hit(
            asking,
            plastic,
            "into the bank at half speed",
            0.5 * seen.top_m_s,
        ));
        out.push(under(
            asking,
            plastic,
            layout,
            beam,
            seen.top_m_s,
            seen.water_kg_m3,
        ));
        out.extend(caught(
            asking,
            plastic,
            layout,
            seen.top_m_s,
            seen.water_kg_m3,
        ));
    }
    out
}

fn section(asking: &Asking<'_>, axis: Along, at: f64) -> (Section, Region) {
    let form = asking.form;
    let mesh = form.walls.as_deref().unwrap_or(&form.envelope);
    let region = Region::of(&sections(mesh, axis, &[at])[0], axis);
    let wall = match form.walls {
        Some(_) => Wall::Modelled,
        None => Wall::Sliced(asking.boat.hull.print.wall_m.value),
    };
    (Section::of(&region, wall), region)
}

/// A twentieth of the length behind the bow.
fn bow(asking: &Asking<'_>) -> Option<f64> {
    let (low, high) = asking.form.envelope.bounds()?;
    Some(high.x - 0.05 * (high.x - low.x))
}

/// The bow's wall taken up slice by slice from the stem until the energy is gone.
fn hit(
    asking: &Asking<'_>,
    plastic: &'static Plastic,
    what: &'static str,
    speed: f64,
) -> Option<Crash> {
    let form = asking.form;
    let (low, high) = form.envelope.bounds()?;
    let length = high.x - low.x;
    let mesh = form.walls.as_deref().unwrap_or(&form.envelope);
    let slices = (0.4 * length / SLICE_M) as usize;
    let at: Vec<f64> = (0..slices)
        .map(|i| high.x - (i as f64 + 0.5) * SLICE_M)
        .collect();
    let wall = form
        .walls
        .is_none()
        .then_some(asking.boat.hull.print.wall_m.value);
    let strength = 0.5 * (plastic.across_pa[0] + plastic.across_pa[1]);
    let (mut gone, mut force) = (0.0, 0.0);
    let mut energy = 0.5 * asking.mass.mass_kg * speed * speed;
    for cut in sections(mesh, Along::X, &at) {
        let round: f64 = cut.iter().map(around).sum();
        let area = wall.map_or_else(|| Region::of(&cut, Along::X).area_m2(), |t| round * t);
        let Ok(c) = crush(asking.mass.mass_kg, speed, area.max(1e-6), strength, KEPT) else {
            break;
        };
        force = c.force_n;
        let more = (energy / c.force_n).min(SLICE_M);
        gone += more;
        energy -= more * c.force_n;
        if energy <= 1e-9 {
            break;
        }
    }
    let g = force / asking.mass.mass_kg / GRAVITY_M_S2;
    let broken = gone > 0.003;
    let breaks = if energy > 1e-9 {
        format!("the bow is lost, {:.0} mm or more of it", 1e3 * gone)
    } else if broken {
        format!(
            "the bow crushes {} to {} mm; everything aboard is thrown forward at some {} times its weight",
            two_digits(500.0 * gone),
            two_digits(2e3 * gone),
            two_digits(g)
        )
    } else {
        "the bow is marked".to_owned()
    };
    Some(Crash {
        what,
        breaks,
        broken,
        x_m: high.x - gone,
    })
}

fn around(line: &form::sections::Polyline) -> f64 {
    let n = line.points.len();
    (0..n)
        .map(|i| (line.points[(i + 1) % n] - line.points[i]).norm())
        .sum()
}

/// No finer than known: 23 becomes 20, 293 becomes 290.
fn two_digits(x: f64) -> f64 {
    let step = if x >= 100.0 {
        10.0
    } else if x >= 20.0 {
        5.0
    } else {
        1.0
    };
    (x / step).round() * step
}

/// Force of the water on a bow driven under, and where it acts.
pub(crate) fn under_load(asking: &Asking<'_>, speed: f64, density: f64) -> Option<Push> {
    let (low, high) = asking.form.envelope.bounds()?;
    let under = UNDER.0 * (high.x - low.x);
    let cut = sections(&asking.form.envelope, Along::X, &[high.x - 0.5 * under]);
    let ys = cut[0].iter().flat_map(|l| &l.points).map(|p| p.y);
    let (left, right) = ys.fold((0.0f64, 0.0f64), |(l, r), y| (l.min(y), r.max(y)));
    let width = right - left;
    Some(Push {
        x_m: high.x - 0.5 * under,
        up_n: -0.5 * density * speed * speed * UNDER.1 * under * width,
    })
}

/// Worst margin of a kind under water over the bow: value, place, words.
fn worst(out: &Strength, of: Of) -> (f64, f64, String) {
    out.margins
        .iter()
        .filter(|m| m.of == of && m.load == UNDER_WATER)
        .map(|m| (m.value(), m.x_m, m.place.clone()))
        .fold((f64::INFINITY, 0.0, String::new()), |a, b| {
            if b.0 < a.0 { b } else { a }
        })
}

/// The bow driven under: the water's full pressure on deck panels, and hull and joints as the beam has them.
fn under(
    asking: &Asking<'_>,
    plastic: &'static Plastic,
    layout: &Layout,
    out: &Strength,
    speed: f64,
    density: f64,
) -> Crash {
    let pressure = 0.5 * density * speed * speed;
    let wall = asking.boat.hull.print.wall_m.value;
    let x = bow(asking).unwrap_or(0.0);
    let strength = along(plastic, layout.up_at(x), Vector3::y(), false);
    let deck = plate(&Panel {
        length_m: asking.boat.making.frames_m.unwrap_or(2.0 * DECK_M),
        width_m: DECK_M,
        thickness_m: wall,
        pressure_pa: pressure,
        modulus_pa: strength.modulus_pa,
        edges: Edges::Clamped,
    });
    let deck = deck.map_or(f64::INFINITY, |p| {
        strength.strength_pa / p.stretched_stress_pa.max(1.0)
    });
    let hull = worst(out, Of::Hull);
    let joint = worst(out, Of::Joint);
    let kpa = 1e-3 * pressure;
    let first = deck.min(hull.0).min(joint.0);
    let (breaks, broken, at) = if first > 1.0 {
        (format!("nothing breaks at {kpa:.0} kPa of water"), false, x)
    } else if first == deck {
        (
            format!("the foredeck is pressed in first, at {kpa:.0} kPa of water"),
            true,
            x,
        )
    } else if first == joint.0 {
        (format!("the {} opens first", joint.2), true, joint.1)
    } else {
        (format!("the {} breaks first", hull.2), true, hull.1)
    };
    Crash {
        what: UNDER_WATER,
        breaks,
        broken,
        x_m: at,
    }
}

/// A sponson that digs in and is swept back: 30 mm of it under (judgement).
fn caught(
    asking: &Asking<'_>,
    plastic: &'static Plastic,
    layout: &Layout,
    speed: f64,
    density: f64,
) -> Option<Crash> {
    let s = asking
        .form
        .surfaces
        .iter()
        .find(|s| s.trailing_edge_m[1].abs() > 0.03 && s.step)?;
    let [x, y, _] = s.trailing_edge_m;
    let force = 0.5 * density * speed * speed * s.beam_m.value * 0.03;
    let root = 0.5 * y;
    let (section, _) = section(asking, Along::Y, root);
    if section.area_m2 <= 0.0 {
        return None;
    }
    let reach = section.reach_m[1][0].max(section.reach_m[1][1]);
    let stress = force * (y - root).abs() * reach / section.up_m4.max(1e-18);
    let strength = along(plastic, layout.up_at(x + 0.02), Vector3::y(), false).strength_pa;
    let broken = stress > strength;
    let breaks = if broken {
        format!("the {} tears off at its root", s.name)
    } else {
        format!("the {} stays on; the boat is thrown round", s.name)
    };
    Some(Crash {
        what: "a sponson caught at top speed",
        breaks,
        broken,
        x_m: x,
    })
}
