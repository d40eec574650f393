//! Roots of sponsons and bottom panels.

use form::sections::{Along, sections};
use form::solid::Region;
use laws::entry_pressure::entry_pressure;
use laws::plate::{Edges, Panel, plate};
use laws::printed_strength::Plastic;
use nalgebra::Vector3;

use super::{Asking, LOAD_SPREAD, Margin, Of, Seen, Strength, along, spread};
use crate::pieces::Layout;
use crate::section::{Section, Wall};

/// A running surface further out than this is a sponson's, m.
const OUT_M: f64 = 0.03;

/// Adds what the boat's run loads.
pub fn add(asking: &Asking<'_>, plastic: &'static Plastic, layout: &Layout, out: &mut Strength) {
    let Some(seen) = asking.seen else { return };
    panels(asking, plastic, layout, seen, out);
    roots(asking, plastic, layout, seen, out);
}

/// Greatest of an element in the run, N.
pub(super) fn force(seen: &Seen, name: &str) -> Option<f64> {
    seen.elements
        .iter()
        .find(|(n, _)| n == name)
        .map(|(_, f)| *f)
}

/// Between keel and chine, as long as the frames are apart.
fn panels(
    asking: &Asking<'_>,
    plastic: &'static Plastic,
    layout: &Layout,
    seen: &Seen,
    out: &mut Strength,
) {
    let wall = asking.boat.hull.print.wall_m.value;
    for s in &asking.form.surfaces {
        let deadrise = s.deadrise_rad.value.clamp(0.0, 1.2);
        let width = 0.5 * s.beam_m.value / deadrise.cos();
        let length = asking.boat.making.frames_m.unwrap_or(3.0 * width);
        let Ok(water) = entry_pressure(seen.sink_m_s, deadrise, seen.water_kg_m3) else {
            continue;
        };
        let strength = along(
            plastic,
            layout.up_at(s.trailing_edge_m[0] + 0.02),
            Vector3::y(),
            false,
        );
        let Ok(p) = plate(&Panel {
            length_m: length,
            width_m: width,
            thickness_m: wall,
            pressure_pa: water.mean_pa,
            modulus_pa: strength.modulus_pa,
            edges: Edges::Clamped,
        }) else {
            continue;
        };
        push(
            out,
            plastic,
            Margin {
                of: Of::Panel,
                place: match s.name.ends_with("bottom") {
                    true => s.name.clone(),
                    false => format!("bottom of the {}", s.name),
                },
                load: "landing",
                x_m: s.trailing_edge_m[0],
                stress_pa: p.stretched_stress_pa,
                strength_pa: strength.strength_pa,
                spread: 0.0,
                of_wall: None,
            },
        );
    }
}

/// Adds a margin with its spread.
pub(super) fn push(out: &mut Strength, plastic: &Plastic, mut margin: Margin) {
    margin.stress_pa = margin.stress_pa.max(1.0);
    margin.spread = margin.value() * spread(plastic, LOAD_SPREAD);
    out.margins.push(margin);
}

/// The buttock between hull and sponson that a pad's force bends most.
fn roots(
    asking: &Asking<'_>,
    plastic: &'static Plastic,
    layout: &Layout,
    seen: &Seen,
    out: &mut Strength,
) {
    let form = asking.form;
    let mesh = form.walls.as_deref().unwrap_or(&form.envelope);
    let wall = match form.walls {
        Some(_) => Wall::Modelled,
        None => Wall::Sliced(asking.boat.hull.print.wall_m.value),
    };
    for s in form
        .surfaces
        .iter()
        .filter(|s| s.trailing_edge_m[1].abs() > OUT_M)
    {
        let [x, y, _] = s.trailing_edge_m;
        let Some(load) = force(seen, &s.name).filter(|f| *f > 0.0) else {
            continue;
        };
        let at: Vec<f64> = (2..9).map(|k| y * f64::from(k) / 10.0).collect();
        let cuts = sections(mesh, Along::Y, &at);
        let mut worst: Option<(f64, f64)> = None;
        for (cut, at) in cuts.iter().zip(&at) {
            let section = Section::of(&Region::of(cut, Along::Y), wall);
            if section.area_m2 <= 0.0 {
                out.notes.push(format!(
                    "Nothing of the mesh joins the {} to the hull: its booms are not checked.",
                    s.name
                ));
                worst = None;
                break;
            }
            // Coordinates are (z, x): the first one's second moment takes a force up and down.
            let reach = section.reach_m[0][0].max(section.reach_m[0][1]);
            let stress = load * (y - at).abs() * reach / section.across_m4.max(1e-18);
            if worst.is_none_or(|w| stress > w.0) {
                worst = Some((stress, *at));
            }
        }
        let Some((stress, at)) = worst else { continue };
        let strength = along(plastic, layout.up_at(x + 0.02), Vector3::y(), false);
        push(
            out,
            plastic,
            Margin {
                of: Of::Root,
                place: format!(
                    "root of the {}, {:.0} mm off the middle",
                    s.name,
                    1e3 * at.abs()
                ),
                load: "largest load on the pad",
                x_m: x,
                stress_pa: stress,
                strength_pa: strength.strength_pa,
                spread: 0.0,
                of_wall: None,
            },
        );
    }
}
