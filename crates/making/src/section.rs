//! Properties of a thin-walled section: area, middle, second moments, torsion constant, shear area.
//!
//! The outline less itself shrunk by the wall (corners mitred) is an exact polygon, whose moments follow from
//! Green's theorem; torsion is Bredt's on the outline shrunk by half a wall, with the wall's own. A mesh that
//! has its walls is taken as it is: closed round a hole, open without one; each of its faces shears half the wall.
//!
//! Checked against `checks/section_properties.csv` (a general-purpose library on the same outlines).

use boat::making::{Rod, RodMaterial};
use form::solid::Region;
use laws::{closed_tube, open_strip};

/// A section in the plane of its own two coordinates, the second one up for a frame.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Section {
    /// Of wall, m2.
    pub area_m2: f64,
    /// Middle of the wall's area, m.
    pub middle_m: [f64; 2],
    /// About the line through the middle along the first coordinate: bending up and down, m4.
    pub up_m4: f64,
    /// About the line through the middle along the second coordinate, m4.
    pub across_m4: f64,
    /// Torsion constant, m4.
    pub torsion_m4: f64,
    /// What a force along the second coordinate shears, m2.
    pub shear_m2: f64,
    /// From the middle to the outermost fibre: low and high of each coordinate, m.
    pub reach_m: [[f64; 2]; 2],
    /// Of outline, m.
    pub outline_m: f64,
    /// Whether it closes on itself.
    pub closed: bool,
}

/// How a section is made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Wall {
    /// The slicer puts walls of this thickness inside the outline, m.
    Sliced(f64),
    /// The region is the wall.
    Modelled,
}

impl Section {
    /// Of a region.
    #[must_use]
    pub fn of(region: &Region, wall: Wall) -> Self {
        match wall {
            Wall::Sliced(t) => Self::sliced(region, t),
            Wall::Modelled => Self::modelled(region),
        }
    }

    fn sliced(region: &Region, wall: f64) -> Self {
        let hollow = region.grown(-wall, true);
        let shell = region.without(&hollow);
        let middle = region.grown(-0.5 * wall, true);
        let mut section = Self::moments(&shell);
        section.outline_m = length(region);
        section.closed = true;
        section.shear_m2 = shear_area(&middle, wall);
        section.torsion_m4 = middle
            .parts()
            .iter()
            .map(|p| {
                let round = length(p);
                closed_tube::torsion_constant_m4(p.area_m2(), round, wall)
                    + open_strip::torsion_constant_m4(round, wall)
            })
            .sum();
        section
    }

    fn modelled(region: &Region) -> Self {
        let mut section = Self::moments(region);
        let round = length(region);
        let wall = 2.0 * section.area_m2 / round.max(1e-12);
        let holes: f64 = -rings_area(region, |a| a < 0.0);
        let outer = rings_area(region, |a| a > 0.0);
        section.closed = holes > 0.05 * outer;
        section.outline_m = 0.5 * round;
        section.shear_m2 = shear_area(region, 0.5 * wall);
        section.torsion_m4 = if section.closed {
            closed_tube::torsion_constant_m4(0.5 * (outer + holes), 0.5 * round, wall)
        } else {
            open_strip::torsion_constant_m4(0.5 * round, wall)
        };
        section
    }

    /// Area and moments by Green's theorem.
    fn moments(region: &Region) -> Self {
        let rings = region.rings();
        let (mut area, mut first, mut second) = (0.0, [0.0; 2], [0.0; 2]);
        let mut low = [f64::INFINITY; 2];
        let mut high = [f64::NEG_INFINITY; 2];
        for ring in &rings {
            for (i, p) in ring.iter().enumerate() {
                let q = ring[(i + 1) % ring.len()];
                let cross = p[0] * q[1] - q[0] * p[1];
                area += cross / 2.0;
                for k in 0..2 {
                    first[k] += cross * (p[k] + q[k]) / 6.0;
                    second[k] += cross * (p[k] * p[k] + p[k] * q[k] + q[k] * q[k]) / 12.0;
                    low[k] = low[k].min(p[k]);
                    high[k] = high[k].max(p[k]);
                }
            }
        }
        if area <= 0.0 {
            return Self::default();
        }
        let middle = [first[0] / area, first[1] / area];
        Self {
            area_m2: area,
            middle_m: middle,
            up_m4: second[1] - area * middle[1] * middle[1],
            across_m4: second[0] - area * middle[0] * middle[0],
            torsion_m4: 0.0,
            shear_m2: 0.0,
            reach_m: [0, 1].map(|k| [middle[k] - low[k], high[k] - middle[k]]),
            outline_m: 0.0,
            closed: false,
        }
    }

    /// With rods that pass it at these places, their stiffness counted as that of more wall.
    #[must_use]
    pub fn with_rods(&self, rods: &[([f64; 2], f64)]) -> Self {
        let mut out = *self;
        for (at, area) in rods {
            let total = out.area_m2 + area;
            for (k, at) in at.iter().enumerate() {
                let apart = at - out.middle_m[k];
                let shift = apart * area / total;
                let gain = out.area_m2 * area / total * apart * apart;
                if k == 1 {
                    out.up_m4 += gain
                } else {
                    out.across_m4 += gain
                }
                out.middle_m[k] += shift;
                out.reach_m[k] = [out.reach_m[k][0] + shift, out.reach_m[k][1] - shift];
            }
            out.area_m2 = total;
        }
        // The wall's own area stays what a print weighs.
        out.area_m2 = self.area_m2;
        out
    }

    /// Greatest stress in the wall by a moment that bends it up and down, Pa.
    #[must_use]
    pub fn bending_pa(&self, moment_n_m: f64) -> f64 {
        let reach = self.reach_m[1][0].max(self.reach_m[1][1]);
        moment_n_m.abs() * reach / self.up_m4.max(1e-18)
    }
}

/// Young's modulus of rods, Pa: pulled carbon, steel, aluminium; handbook values, from memory.
#[must_use]
pub fn rod_modulus_pa(material: RodMaterial) -> f64 {
    match material {
        RodMaterial::Carbon => 120e9,
        RodMaterial::Steel => 205e9,
        RodMaterial::Aluminium => 70e9,
    }
}

/// Where a rod passes a frame and its area as wall, or `None` where it does not.
#[must_use]
pub fn rod_at(rod: &Rod, x_m: f64, wall_modulus_pa: f64) -> Option<([f64; 2], f64)> {
    let [from, to] = [&rod.from, &rod.to].map(|p| [p[0].value, p[1].value, p[2].value]);
    let along = to[0] - from[0];
    let share = (x_m - from[0]) / along;
    if along.abs() < 1e-6 || !(0.0..=1.0).contains(&share) {
        return None;
    }
    let at = [1, 2].map(|k| from[k] + share * (to[k] - from[k]));
    let area = std::f64::consts::PI / 4.0 * rod.diameter_m.value.powi(2);
    Some((at, area * rod_modulus_pa(rod.material) / wall_modulus_pa))
}

fn shear_area(lines: &Region, wall: f64) -> f64 {
    let each = lines.rings();
    each.iter()
        .map(|line| closed_tube::shear_area_m2(line, wall))
        .sum()
}

fn length(region: &Region) -> f64 {
    let ring = |r: &Vec<[f64; 2]>| -> f64 {
        (0..r.len())
            .map(|i| {
                let (p, q) = (r[i], r[(i + 1) % r.len()]);
                (p[0] - q[0]).hypot(p[1] - q[1])
            })
            .sum()
    };
    region.rings().iter().map(ring).sum()
}

fn rings_area(region: &Region, keep: impl Fn(f64) -> bool) -> f64 {
    let ring = |r: &Vec<[f64; 2]>| -> f64 {
        (0..r.len())
            .map(|i| {
                let (p, q) = (r[i], r[(i + 1) % r.len()]);
                0.5 * (p[0] * q[1] - q[0] * p[1])
            })
            .sum()
    };
    region.rings().iter().map(ring).filter(|a| keep(*a)).sum()
}
