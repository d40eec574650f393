//! The hull twisted: the largest load on one side, against what lies fore and aft of it.
//!
//! Every part of the boat takes its share of the roll that the load begins, so the torque at a station is that of the mass
//! on its far side; stress by `laws::closed_tube`, or `laws::open_strip` where a section does not close.

use laws::printed_strength::Plastic;

use super::details::{force, push};
use super::girder::Girder;
use super::{Asking, Margin, Of, Seen, Strength, shear_pa};
use crate::section::Section;

/// As margins name it.
pub const LOAD: &str = "twist of the largest load on one side";

/// Adds the station that is nearest to tearing.
pub(super) fn add(
    asking: &Asking<'_>,
    plastic: &'static Plastic,
    girder: &Girder,
    seen: &Seen,
    out: &mut Strength,
) {
    let each = asking.form.surfaces.iter().filter_map(|s| {
        let [x, y, _] = s.trailing_edge_m;
        // The load of a bottom on the middle line lies a quarter of its beam out as the boat heels.
        let aside = y.abs().max(0.25 * s.beam_m.value);
        Some((x, force(seen, &s.name)? * aside))
    });
    let Some((at_m, torque_n_m)) = each.max_by(|a, b| a.1.total_cmp(&b.1)) else {
        return;
    };
    let modelled = asking.form.walls.is_some();
    let whole: f64 = girder.mass_kg.iter().sum();
    let mut behind = 0.0;
    let mut worst: Option<(f64, f64)> = None;
    for (i, x) in girder.x_m.iter().enumerate() {
        behind += girder.mass_kg[i];
        let beyond = if *x < at_m { behind } else { whole - behind };
        let share = beyond / whole.max(1e-9);
        let section = &girder.sections[i];
        if section.area_m2 <= 0.0 || section.torsion_m4 <= 0.0 {
            continue;
        }
        let stress = sheared_pa(section, modelled, share * torque_n_m);
        if worst.is_none_or(|(_, most)| stress > most) {
            worst = Some((*x, stress));
        }
    }
    let Some((x_m, stress_pa)) = worst else {
        return;
    };
    push(
        out,
        plastic,
        Margin {
            of: Of::Hull,
            place: format!("hull {:.0} mm ahead of the transom", 1e3 * x_m),
            load: LOAD,
            x_m,
            stress_pa,
            strength_pa: shear_pa(plastic),
            spread: 0.0,
            of_wall: None,
        },
    );
}

/// Of a wall `t` thick and `s` long round: `T / (2 A t)` with `J = 4 A^2 t / s`, or `T t / J`, Pa.
fn sheared_pa(section: &Section, modelled: bool, torque_n_m: f64) -> f64 {
    let round = section.outline_m * if modelled { 0.5 } else { 1.0 };
    let wall = section.area_m2 / round.max(1e-9);
    if section.closed {
        torque_n_m / (section.torsion_m4 * round * wall).sqrt()
    } else {
        torque_n_m * wall / section.torsion_m4
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::section::Wall;
    use form::solid::Region;

    /// Bredt on a square tube of 60 mm with a wall of 2 mm, by hand: 5 N m over twice 58 mm square times the wall. The
    /// section's torsion constant has the wall's own beside it, a thousandth.
    #[test]
    fn a_square_tube_shears_as_bredt_says() {
        let ring = [[0.0, 0.0], [0.06, 0.0], [0.06, 0.06], [0.0, 0.06]].to_vec();
        let section = Section::of(&Region::from_rings(&[ring]), Wall::Sliced(0.002));
        let by_hand = 5.0 / (2.0 * 0.058 * 0.058 * 0.002);
        let ours = sheared_pa(&section, false, 5.0);
        assert!((ours / by_hand - 1.0).abs() < 0.02, "{ours} {by_hand}");
    }
}
