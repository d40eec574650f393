//! Joints as geometry.
//!
//! A mesh that has its walls gets a spigot: a ring that follows the inside of the wall, grown onto the piece
//! behind the plane and reaching into the one ahead with the glue's gap all round. It is built of slabs, each
//! kept inside the narrowest section of its stretch and a gap beyond it, so that the gap is never less than stated,
//! measured square to a sloping wall too. A solid
//! outside shape is shelled by the slicer, which closes the cut faces: those are glued, and dowels in blind
//! holes line them up.

use boat::making::{Glue, JointKind};
use form::Mesh;
use form::sections::{Along, sections};
use form::solid::{Region, Solid, SolidError};

/// Thickness of a slab of the spigot, m.
const SLAB_M: f64 = 0.002;
/// Rods that serve as dowels, thickest first, m.
const DOWELS_M: [f64; 3] = [0.005, 0.004, 0.003];
/// How deep a dowel goes into each piece, m.
const DEPTH_M: f64 = 0.012;
/// Sides of a dowel's hole.
const SIDES: i32 = 24;
/// Plastic kept round a dowel's hole, m.
const ROUND_M: f64 = 0.003;
/// Fewest square metres of spigot section worth printing.
const LEAST_M2: f64 = 4e-6;

/// A joint made.
pub struct Joint {
    /// What it came out as.
    pub kind: JointKind,
    /// Added to the piece behind.
    pub spigot: Option<Solid>,
    /// Taken from both.
    pub holes: Option<Solid>,
    /// Dowels: diameter and middle, m.
    pub dowels: Vec<(f64, [f64; 3])>,
}

/// A slice of a spigot.
struct Slab {
    ring: Region,
    from_m: f64,
    to_m: f64,
}

/// What a joint is made from.
pub struct Place<'a> {
    /// The material.
    pub material: &'a Mesh,
    /// The outer envelope.
    pub envelope: &'a Mesh,
    /// Whether the material is walls.
    pub walls: bool,
    /// Axis the plane is square to.
    pub axis: Along,
    /// Where, m.
    pub at_m: f64,
    /// Coordinates the joint keeps inside, along the next two axes: the stretch of a cut across y.
    pub within: Option<Region>,
    /// Thickness of the spigot, m.
    pub wall_m: f64,
    /// Gap and overlap.
    pub glue: &'a Glue,
}

impl Place<'_> {
    /// What a joint asked for comes out as: a lap only where the wall has room for its spigot.
    #[must_use]
    pub fn kind(&self, wanted: JointKind) -> JointKind {
        match wanted {
            JointKind::Lap if self.slabs().is_some() => JointKind::Lap,
            JointKind::Lap | JointKind::Flange => JointKind::Flange,
            JointKind::Butt => JointKind::Butt,
        }
    }

    /// The joint of that kind, or the next best the shape allows: as [`Place::kind`] has it.
    ///
    /// # Errors
    /// [`SolidError`].
    pub fn joint(&self, wanted: JointKind) -> Result<Joint, SolidError> {
        match wanted {
            JointKind::Lap => match self.slabs() {
                Some(slabs) => self.lap(&slabs),
                None => self.flange(),
            },
            JointKind::Flange => self.flange(),
            JointKind::Butt => Ok(plain(JointKind::Butt)),
        }
    }

    fn lap(&self, slabs: &[Slab]) -> Result<Joint, SolidError> {
        let solids: Result<Vec<Solid>, SolidError> = slabs
            .iter()
            .map(|s| Solid::prism(&s.ring, self.axis, s.from_m, s.to_m))
            .collect();
        Ok(Joint {
            spigot: Some(Solid::union(&solids?)?),
            ..plain(JointKind::Lap)
        })
    }

    fn regions(&self, mesh: &Mesh, at: &[f64]) -> Vec<Region> {
        let kept = |region: Region| match &self.within {
            Some(within) => region.shared(within),
            None => region,
        };
        sections(mesh, self.axis, at)
            .iter()
            .map(|cut| kept(Region::of(cut, self.axis)))
            .collect()
    }

    /// Of the spigot, stern first; nothing where any of them finds no room.
    fn slabs(&self) -> Option<Vec<Slab>> {
        if !self.walls {
            return None;
        }
        let (gap, wall) = (self.glue.gap_m.value, self.wall_m);
        let overlap = self.glue.overlap_m.value;
        let slabs = (overlap / SLAB_M).ceil().max(2.0) as i32;
        let step = overlap / f64::from(slabs);
        let from = |k: i32| self.at_m + f64::from(k) * step;
        // Half a micrometre off the planes, where walls that end there are still whole.
        let planes: Vec<f64> = (-slabs..=slabs)
            .map(|k| from(k) + if k < 0 { -5e-7 } else { 5e-7 })
            .collect();
        let material = self.regions(self.material, &planes);
        let envelope = self.regions(self.envelope, &planes);
        let off = |by: f64| {
            let at: Vec<f64> = (0..=slabs).map(|k| from(k) + by).collect();
            self.regions(self.material, &at)
        };
        let (before, beyond) = (off(-gap), off(gap));
        let mut out = Vec::new();
        for k in -slabs..slabs {
            let i = (k + slabs) as usize;
            let mut walls = material[i].with(&material[i + 1]);
            // Behind its plane a spigot touches; there, walls are its own piece's.
            if let Ok(k) = usize::try_from(k) {
                walls = walls.with(&beyond[k + 1]);
                if k > 0 {
                    walls = walls.with(&before[k]);
                }
            }
            let inside = envelope[i].shared(&envelope[i + 1]).without(&walls);
            // Thickens over the first half, so that it prints without support standing on either end.
            let behind = k < 0;
            let share = if behind {
                (f64::from(k + slabs + 1) / (0.5 * f64::from(slabs))).min(1.0)
            } else {
                1.0
            };
            let outer = if behind { 0.0 } else { gap };
            let grown = walls.grown((gap + wall) * share.max(outer / (gap + wall) + 0.05), false);
            let ring = if behind {
                grown.shared(&inside.with(&material[i].shared(&material[i + 1])))
            } else {
                grown.shared(&inside).without(&walls.grown(gap, false))
            };
            if ring.area_m2() <= LEAST_M2 {
                return None;
            }
            out.push(Slab {
                ring,
                from_m: from(k),
                to_m: from(k + 1),
            });
        }
        Some(out)
    }

    fn flange(&self) -> Result<Joint, SolidError> {
        let depth = DEPTH_M;
        let planes = [-depth, 0.0, depth].map(|by| self.at_m + by);
        let [behind, here, ahead] = &self.regions(self.material, &planes)[..] else {
            return Ok(plain(JointKind::Flange));
        };
        let common = behind.shared(here).shared(ahead);
        let gap = self.glue.gap_m.value;
        for diameter in DOWELS_M {
            let room = common.grown(-(0.5 * diameter + gap + ROUND_M), true);
            let middles = spread(&room);
            if middles.len() < 2 {
                continue;
            }
            let mut holes = Vec::new();
            let mut dowels = Vec::new();
            // Flats of the polygon, not its corners, keep the gap.
            let radius = (0.5 * diameter + gap) / (std::f64::consts::PI / f64::from(SIDES)).cos();
            for m in middles {
                let disc = Region::disc(m, radius, SIDES);
                holes.push(Solid::prism(
                    &disc,
                    self.axis,
                    self.at_m - depth,
                    self.at_m + depth,
                )?);
                let k = self.axis as usize;
                let mut middle = [0.0; 3];
                middle[k] = self.at_m;
                middle[(k + 1) % 3] = m[0];
                middle[(k + 2) % 3] = m[1];
                dowels.push((diameter, middle));
            }
            return Ok(Joint {
                kind: JointKind::Flange,
                spigot: None,
                holes: Some(Solid::union(&holes)?),
                dowels,
            });
        }
        Ok(plain(JointKind::Flange))
    }
}

fn plain(kind: JointKind) -> Joint {
    Joint {
        kind,
        spigot: None,
        holes: None,
        dowels: Vec::new(),
    }
}

/// Two to four places far from each other: the corners of the room furthest apart.
fn spread(room: &Region) -> Vec<[f64; 2]> {
    let corners: Vec<[f64; 2]> = room.rings().into_iter().flatten().collect();
    let Some(start) = corners.first().copied() else {
        return Vec::new();
    };
    let far = |from: &[[f64; 2]]| {
        let near = |p: &[f64; 2]| {
            from.iter()
                .map(|q| (p[0] - q[0]).hypot(p[1] - q[1]))
                .fold(f64::INFINITY, f64::min)
        };
        corners
            .iter()
            .map(|p| (near(p), *p))
            .fold((0.0, start), |a, b| if b.0 > a.0 + 1e-9 { b } else { a })
    };
    let first = far(&[start]).1;
    let mut chosen = vec![first];
    while chosen.len() < 4 {
        let (distance, next) = far(&chosen);
        let least = if chosen.len() < 2 { 0.010 } else { 0.030 };
        if distance < least {
            break;
        }
        chosen.push(next);
    }
    chosen
}
