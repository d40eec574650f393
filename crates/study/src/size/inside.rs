//! What is built into the hull: foam, rods, openings.

use form::EnvelopeKind;

use super::fitter::Fitter;
use super::practice;
use crate::hull_type::HullType;

/// Volume, m3, and its middle, m.
type Space = (f64, [f64; 3]);
/// From the shell to the middle of a rod, m.
const ROD_M: f64 = 3e-3;

impl Fitter<'_> {
    /// As much as floats the boat swamped, or as fits: most in the bow and out at the sides.
    pub(super) fn floats(&self, all_up_kg: f64) -> Vec<(&'static str, f64, [f64; 3])> {
        let f = self.frame;
        let wanted = practice::FOAM_M3_KG * all_up_kg;
        let [middle, wide] = f.pad_across_m();
        let inner = middle - 0.5 * wide;
        let l = f.length_m;
        let sides: [(&'static str, f64); 2] = [("left side", 1.0), ("right side", -1.0)];
        let mut places: Vec<(&'static str, Option<Space>)> = Vec::new();
        match f.hull {
            HullType::ThreePoint | HullType::Outrigger => {
                let sponsons = [("left sponson", 1.0), ("right sponson", -1.0)];
                places.extend(sponsons.map(|(n, s)| (n, f.space(|_, y| s * y > inner))));
                places.push(("bow", f.space(|x, y| x > 0.72 * l && y.abs() < inner)));
                places.push((
                    "under the deck",
                    f.space(|x, y| x < 0.2 * l && y.abs() < inner),
                ));
            }
            HullType::Catamaran => {
                let far = 0.55 * l;
                places.extend(
                    sides.map(|(n, s)| (n, f.space(|x, y| x > far && s * y > 0.5 * inner))),
                );
                places.push(("deck", f.space(|_, y| y.abs() < 0.5 * inner)));
            }
            HullType::Vee | HullType::Other => {
                places.push(("bow", f.space(|x, _| x > 0.7 * l)));
                let out = 0.28 * f.beam_m;
                let aft = 0.7 * l;
                places.extend(sides.map(|(n, s)| (n, f.space(|x, y| x < aft && s * y > out))));
            }
        }
        let there: f64 = places.iter().filter_map(|(_, s)| Some(s.as_ref()?.0)).sum();
        let share = (wanted / there.max(1e-9)).min(practice::FOAM_FITS);
        let filled = places.into_iter();
        filled
            .filter_map(|(name, space)| space.map(|(v, at)| (name, share * v, at)))
            .collect()
    }

    /// Four rods, two low and two under the deck, as far as they stay inside.
    pub(super) fn rods(&self) -> Vec<[[f64; 3]; 2]> {
        let f = self.frame;
        let y = match self.practice.drives {
            2 => f.pad_across_m()[0],
            _ => 0.4 * f.half_width_m(self.l(0.1)),
        };
        let ends = [self.l(0.03), self.l(0.86)];
        let rooms = ends.map(|x| f.room_for(x, y, 4e-3, 8e-3));
        let [Some(aft), Some(fore)] = rooms else {
            return Vec::new();
        };
        let line = |side: f64, heights: [f64; 2]| {
            [
                [ends[0], side * y, heights[0]],
                [ends[1], side * y, heights[1]],
            ]
        };
        let low = [aft.floor_m + ROD_M, fore.floor_m + ROD_M];
        let high = [aft.deck_m - ROD_M, fore.deck_m - ROD_M];
        [1.0, -1.0]
            .into_iter()
            .flat_map(|side| [line(side, low), line(side, high)])
            .collect()
    }

    pub(super) fn openings(&self) -> Vec<(&'static str, [f64; 3])> {
        let f = self.frame;
        if f.kind() == EnvelopeKind::OpenShell {
            return Vec::new();
        }
        let mut all = Vec::new();
        let x = self.l(0.35);
        if let Some(room) = f.room(x, 0.0) {
            all.push(("hatch rim", [x, 0.0, room.deck_m]));
        }
        let y = -0.5 * f.half_width_m(self.l(0.02));
        if let Some(room) = f.room(self.l(0.01), y) {
            all.push(("rudder rod", [0.0, y, room.at(0.9)]));
        }
        let sides = self.sides();
        let several = sides.len() > 1;
        all.extend(sides.into_iter().map(|y| {
            let name = match several {
                true if y > 0.0 => "left outlet",
                true => "right outlet",
                false => "water outlet",
            };
            (name, self.outlet(y))
        }));
        all
    }
}
