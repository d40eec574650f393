//! Where things are: parts outside the hull, inside each other or too large for the hatch, blades in the air or through
//! the hull, more foam than there is room, packs that would hold more than their mass can.
//!
//! Judged on the hull's columns, which are as fine as a sixtieth of its length: what sticks out by less than a cell is
//! passed over.

use boat::{Blade, Boat, Part};
use craft::Rest;
use craft::attitude::{height_above_water, water_plane};
use craft::elements::blade::Role;
use form::{COLUMN_CELLS, Form};
use nalgebra::Vector3;
use std::f64::consts::TAU;

use crate::hull_type::HullType;

/// Of overlapping boxes, as a share of the smaller: less may be a bracket or a rounded corner (judgement).
const OVERLAPS: f64 = 0.15;
/// Sticking out by less than this beside what a cell leaves open, m.
const OUT_M: f64 = 3e-3;
/// What has no size is lost when it lies so many hull lengths outside the hull's box.
const LOST: f64 = 0.25;
/// Hulls that are built, m (judgement).
const LENGTHS_M: [f64; 2] = [0.2, 1.8];
/// Points round a propeller's disc.
const ROUND: usize = 16;

/// Something that cannot be, or is odd, where it is.
#[derive(Debug, Clone, PartialEq)]
pub enum Misplaced {
    /// A part's middle is not in the hull.
    Outside {
        /// Its name.
        part: String,
        /// From its middle to the hull, m.
        by_m: f64,
    },
    /// A part in the hull sticks out.
    SticksOut {
        /// Its name.
        part: String,
        /// Its furthest corner, m.
        by_m: f64,
    },
    /// Two parts take the same place.
    Overlap {
        /// Their names.
        parts: [String; 2],
        /// What both take: length, width, height, m.
        common_m: [f64; 3],
    },
    /// A propeller's disc meets the hull.
    PropellerInHull {
        /// The drive's name, empty for the only one.
        drive: String,
    },
    /// A blade is buried in the hull.
    BladeInHull {
        /// What it is.
        role: Role,
        /// Its name.
        name: String,
    },
    /// A blade's lower end stands above the water at rest.
    BladeInAir {
        /// What it is.
        role: Role,
        /// Its name.
        name: String,
        /// By so much, m.
        by_m: f64,
    },
    /// A part that is taken out passes no hatch.
    NoHatch {
        /// Its name.
        part: String,
        /// Its two smaller sides, m.
        sides_m: [f64; 2],
        /// The largest hatch's, the smaller first, m.
        hatch_m: [f64; 2],
    },
    /// The packs of the drives hold more than the packs among the parts can.
    PacksTooLight {
        /// That they hold, J.
        energy_j: f64,
        /// What they weigh, kg.
        mass_kg: f64,
        /// Of how many drives.
        drives: usize,
    },
    /// A hull that turns about a fin has none.
    NoFin,
    /// Foam and voids are larger than the hull.
    FoamTooLarge {
        /// Declared, m3.
        foam_m3: f64,
        /// The hull's own, m3.
        hull_m3: f64,
    },
    /// Longer or shorter than boats are built.
    Length {
        /// m.
        length_m: f64,
    },
}

/// Everything that is odd about a boat's places.
pub fn misplaced(boat: &Boat, form: &Form, rest: &Rest, hull_type: HullType) -> Vec<Misplaced> {
    let hull = Hull::of(form);
    let mut all = Vec::new();
    if !(LENGTHS_M[0]..=LENGTHS_M[1]).contains(&form.outline.length_m) {
        let length_m = form.outline.length_m;
        all.push(Misplaced::Length { length_m });
    }
    all.extend(boat.parts.iter().filter_map(|p| part(&hull, p)));
    all.extend(overlaps(&boat.parts));
    all.extend(boat.parts.iter().filter_map(|p| no_hatch(boat, p)));
    all.extend(packs_too_light(boat));
    for drive in &boat.drives {
        let at = drive.propeller.at.each_ref().map(|m| m.value);
        let radius = 0.5 * drive.propeller.diameter_m.value;
        let meets = |i: usize| {
            let (sin, cos) = (TAU * i as f64 / ROUND as f64).sin_cos();
            hull.holds([at[0], at[1] + radius * cos, at[2] + radius * sin])
        };
        if hull.holds(at) || (0..ROUND).any(meets) {
            let drive = drive.name.clone();
            all.push(Misplaced::PropellerInHull { drive });
        }
    }
    let blades = boat.rudders.iter().map(|b| (Role::Rudder, b));
    let blades = blades.chain(boat.fins.iter().map(|b| (Role::Fin, b)));
    all.extend(blades.filter_map(|(role, b)| blade(&hull, rest, role, b)));
    let turns_on_a_fin = matches!(hull_type, HullType::ThreePoint | HullType::Outrigger);
    if turns_on_a_fin && boat.fins.is_empty() && !boat.drives.is_empty() {
        all.push(Misplaced::NoFin);
    }
    let foam_m3 = boat.floats.iter().map(|f| f.volume_m3.value).sum();
    let hull_m3 = form.envelope.signed_volume_m3();
    if foam_m3 > hull_m3 {
        all.push(Misplaced::FoamTooLarge { foam_m3, hull_m3 });
    }
    all
}

fn part(hull: &Hull<'_>, part: &Part) -> Option<Misplaced> {
    let at = part.at.each_ref().map(|m| m.value);
    let sized = part.size_m.iter().all(|s| *s > 0.0);
    let name = part.name.clone();
    if !sized && !part.movable {
        let by_m = hull.beyond_box(at);
        return (by_m > LOST * hull.length_m).then_some(Misplaced::Outside { part: name, by_m });
    }
    let out = |at: [f64; 3]| hull.out_m(at);
    if !hull.holds(at) && out(at) > hull.cell_m() {
        return Some(Misplaced::Outside {
            part: name,
            by_m: out(at),
        });
    }
    let corner = |i: usize| {
        let side = |axis: usize| if i >> axis & 1 == 0 { -0.5 } else { 0.5 };
        [0, 1, 2].map(|a| at[a] + side(a) * part.size_m[a])
    };
    let by_m = (0..8).map(|i| out(corner(i))).fold(0.0, f64::max);
    (by_m > hull.cell_m() + OUT_M).then_some(Misplaced::SticksOut { part: name, by_m })
}

/// A part goes in end on: its two smaller sides have to fit, whichever way round.
fn no_hatch(boat: &Boat, part: &Part) -> Option<Misplaced> {
    let sorted = |[a, b]: [f64; 2]| [a.min(b), a.max(b)];
    let hatches = || boat.openings.iter().filter_map(|o| o.hatch_m).map(sorted);
    let hatch_m = hatches().max_by(|a, b| (a[0] * a[1]).total_cmp(&(b[0] * b[1])))?;
    let mut sides = part.size_m;
    sides.sort_by(f64::total_cmp);
    let sides_m = [sides[0], sides[1]];
    let passes = |hatch: [f64; 2]| sides_m[0] <= hatch[0] && sides_m[1] <= hatch[1];
    (part.movable && !hatches().any(passes)).then(|| Misplaced::NoHatch {
        part: part.name.clone(),
        sides_m,
        hatch_m,
    })
}

/// What builders call a pack.
const PACKS: [&str; 4] = ["battery", "pack", "lipo", "akku"];

/// Energy for mass beyond what is sold: most often two drives that hang on one pack and were each given the whole of it.
fn packs_too_light(boat: &Boat) -> Option<Misplaced> {
    let is_pack = |p: &&Part| {
        let name = p.name.to_lowercase();
        PACKS.iter().any(|word| name.contains(word))
    };
    let by_parts = || {
        let packs = boat.parts.iter().filter(is_pack);
        packs.map(|p| p.mass_kg.value).sum::<f64>()
    };
    let by_drives: Option<f64> = boat.drives.iter().map(|d| d.battery.mass_kg).sum();
    let mass_kg = by_drives.unwrap_or_else(by_parts);
    let held = |b: &boat::Battery| NOMINAL_CELL_V * f64::from(b.series) * b.capacity_c.value;
    let energy_j: f64 = boat.drives.iter().map(|d| held(&d.battery)).sum();
    (mass_kg > 0.0 && energy_j > MOST_J_KG * mass_kg).then_some(Misplaced::PacksTooLight {
        energy_j,
        mass_kg,
        drives: boat.drives.len(),
    })
}

/// A lithium-polymer cell's printed voltage, V.
const NOMINAL_CELL_V: f64 = 3.7;
/// More than any pack holds for its mass, J/kg: 250 W h a kilogram, where soft packs are sold with 120 to 200 (common
/// practice, no source).
const MOST_J_KG: f64 = 250.0 * 3600.0;

fn overlaps(parts: &[Part]) -> Vec<Misplaced> {
    let sized: Vec<&Part> = parts
        .iter()
        .filter(|p| p.size_m.iter().all(|s| *s > 0.0))
        .collect();
    let mut all = Vec::new();
    for (i, a) in sized.iter().enumerate() {
        for b in &sized[i + 1..] {
            let common_m = [0, 1, 2].map(|axis| {
                let ends = |p: &Part| {
                    let (at, half) = (p.at[axis].value, 0.5 * p.size_m[axis]);
                    (at - half, at + half)
                };
                let (a, b) = (ends(a), ends(b));
                (a.1.min(b.1) - a.0.max(b.0)).max(0.0)
            });
            let volume = |p: &Part| p.size_m.iter().product::<f64>();
            let smaller = volume(a).min(volume(b));
            if common_m.iter().product::<f64>() > OVERLAPS * smaller {
                all.push(Misplaced::Overlap {
                    parts: [a.name.clone(), b.name.clone()],
                    common_m,
                });
            }
        }
    }
    all
}

fn blade(hull: &Hull<'_>, rest: &Rest, role: Role, blade: &Blade) -> Option<Misplaced> {
    let name = blade.name.clone();
    let (sin, cos) = blade.lean_rad.value.sin_cos();
    // Leaning inboard at its lower end, from either side.
    let inboard = -blade.at[1].value.signum();
    let down = |share: f64| {
        let along = share * blade.span_m.value;
        [
            blade.at[0].value - 0.5 * blade.chord_m.value,
            blade.at[1].value + inboard * sin * along,
            blade.at[2].value - cos * along,
        ]
    };
    if hull.holds(down(0.6)) && hull.holds(down(1.0)) {
        return Some(Misplaced::BladeInHull { role, name });
    }
    let afloat = rest.afloat.as_ref()?;
    let water = water_plane(&afloat.attitude);
    let by_m = height_above_water(&water, &Vector3::from(down(1.0)));
    (by_m > 0.0).then_some(Misplaced::BladeInAir { role, name, by_m })
}

/// The hull's columns.
struct Hull<'a> {
    form: &'a Form,
    /// Half a column along and across, m.
    half_m: [f64; 2],
    length_m: f64,
    low: Vector3<f64>,
    high: Vector3<f64>,
}

impl<'a> Hull<'a> {
    fn of(form: &'a Form) -> Self {
        let (low, high) = form.envelope.bounds().unwrap_or_default();
        let half = |axis: usize| 0.5 * (high[axis] - low[axis]) / COLUMN_CELLS[axis] as f64;
        Self {
            form,
            half_m: [half(0), half(1)],
            length_m: form.outline.length_m,
            low,
            high,
        }
    }

    /// What a column leaves open, m.
    fn cell_m(&self) -> f64 {
        2.0 * self.half_m[0].max(self.half_m[1])
    }

    /// Inside the hull.
    fn holds(&self, at: [f64; 3]) -> bool {
        self.out_m(at) <= 0.0
    }

    /// From a point outside to the nearest column, m.
    fn out_m(&self, at: [f64; 3]) -> f64 {
        let c = &self.form.columns;
        let away = |i: usize| {
            let beside = |a: f64, b: f64, half: f64| ((a - b).abs() - half).max(0.0);
            let dx = beside(at[0], c.x_m[i], self.half_m[0]);
            let dy = beside(at[1], c.y_m[i], self.half_m[1]);
            let dz = (c.bottom_m[i] - at[2]).max(at[2] - c.top_m[i]).max(0.0);
            dx.hypot(dy).hypot(dz)
        };
        (0..c.len()).map(away).fold(f64::INFINITY, f64::min)
    }

    fn beyond_box(&self, at: [f64; 3]) -> f64 {
        let axis = |i: usize| (self.low[i] - at[i]).max(at[i] - self.high[i]).max(0.0);
        axis(0).hypot(axis(1)).hypot(axis(2))
    }
}
