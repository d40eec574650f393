//! The hull in pieces that fit the printer.

use boat::making::{CutAcross, JointKind};
use boat::{Axis, Boat, Measure};
use form::sections::Along;
use form::solid::{Region, Solid};
use form::{Form, Mesh};
use nalgebra::Vector3;
use std::ops::ControlFlow;

use crate::bed::Bed;
use crate::error::MakingError;
use crate::extents::Extents;
use crate::joint::Place;
use crate::keep_off::{self, KeepOff};
use crate::orient::{self, Bottoms, Way};
use crate::plan::{self, CutMade, Plan, Wanted};
use crate::{filament, tight};

/// Loose crumbs smaller than this are left out and told, m3.
const CRUMB_M3: f64 = 2e-8;

/// Share by which the pieces' volumes may differ from the hull's.
const ADDS_UP: f64 = 1e-3;

/// Told the share done and what is done now; may stop it.
pub type Progress<'a> = &'a mut dyn FnMut(f64, &str) -> ControlFlow<()>;

/// One piece.
#[derive(Debug, Clone)]
pub struct Piece {
    /// `hull 2`, `hull 2 port`.
    pub name: String,
    /// In place, boat axes, with its joints.
    pub mesh: Mesh,
    /// Without its joints, m3.
    pub bare_m3: f64,
    /// Best first; the first is the one chosen.
    pub ways: Vec<Way>,
    /// On the bed.
    pub placed: Mesh,
    /// Plastic, m3.
    pub plastic_m3: f64,
    /// As predicted or weighed, kg.
    pub mass_kg: f64,
    /// 95 % half-width, kg.
    pub mass_spread_kg: f64,
    /// Whether it was on a scale.
    pub weighed: bool,
    /// s.
    pub time_s: f64,
    /// m.
    pub filament_m: f64,
    /// In the builder's money.
    pub cost: Option<f64>,
    /// What to know before it leaks.
    pub notes: Vec<String>,
}

impl Piece {
    /// The boat's axis that points up while it prints.
    #[must_use]
    pub fn up(&self) -> Axis {
        self.ways[0].up
    }
}

/// A joint between two pieces.
#[derive(Debug, Clone, PartialEq)]
pub struct JointMade {
    /// The plane.
    pub cut: CutMade,
    /// Dowels: diameter and middle, m.
    pub dowels: Vec<(f64, [f64; 3])>,
}

/// The whole hull.
#[derive(Debug, Clone)]
pub struct Pieces {
    /// Stern first.
    pub pieces: Vec<Piece>,
    /// In the order they were made.
    pub joints: Vec<JointMade>,
    /// Of the material before cutting, m3.
    pub hull_m3: f64,
    /// Mass of all with its 95 % half-width, kg; by `weigh`, and as printed until then.
    pub total_kg: Measure,
    /// What the builder should know.
    pub notes: Vec<String>,
}

/// Share of the hull's greatest bending at x.
pub type Bending<'a> = &'a dyn Fn(f64) -> f64;

/// The hull's material as one solid.
///
/// # Errors
/// [`MakingError::Unsound`].
pub fn material(form: &Form) -> Result<(Solid, bool), MakingError> {
    let walls = form.walls.is_some();
    let mesh = form.walls.as_deref().unwrap_or(&form.envelope);
    let solid = Solid::new(mesh)
        .or_else(|_| Solid::mended(mesh))
        .map_err(|e| MakingError::Unsound {
            what: format!("{e}; close its holes in CAD and export it again"),
        })?;
    Ok((solid, walls))
}

/// Cuts, joins, turns and weighs.
///
/// # Errors
/// [`MakingError`].
pub fn pieces(
    boat: &Boat,
    form: &Form,
    bending: Bending<'_>,
    progress: Progress<'_>,
) -> Result<Pieces, MakingError> {
    let (solid, walls) = material(form)?;
    let print = &boat.hull.print;
    if !walls {
        walls_leave_room(form, print.wall_m.value)?;
    }
    let maker = Maker::of(boat, form, walls, bending);
    maker.every_cut_meets(&solid)?;
    maker.make(&solid, progress)
}

/// A slicer needs somewhere to put walls.
fn walls_leave_room(form: &Form, wall_m: f64) -> Result<(), MakingError> {
    let Some((low, high)) = form.envelope.bounds() else {
        return Ok(());
    };
    let at: Vec<f64> = (1..8)
        .map(|k| low.x + (high.x - low.x) * f64::from(k) / 8.0)
        .collect();
    let cuts = form::sections::sections(&form.envelope, Along::X, &at);
    let regions: Vec<Region> = cuts.iter().map(|c| Region::of(c, Along::X)).collect();
    let left = |by: f64| regions.iter().any(|r| !r.grown(-by, true).is_empty());
    if left(wall_m) {
        return Ok(());
    }
    let (mut room, mut full) = (0.0, wall_m);
    for _ in 0..20 {
        let middle = 0.5 * (room + full);
        if left(middle) {
            room = middle
        } else {
            full = middle
        }
    }
    Err(MakingError::WallsFillIt {
        wall_mm: 1e3 * wall_m,
        depth_mm: 2e3 * room,
    })
}

struct Maker<'a> {
    boat: &'a Boat,
    form: &'a Form,
    walls: bool,
    bed: Bed,
    running: Bottoms,
    keep_off: Vec<KeepOff>,
    bending: Bending<'a>,
}

/// A piece before it is turned and weighed.
struct Raw {
    name: String,
    solid: Solid,
    bare_m3: f64,
    /// Ways up of the piece without joints, best first.
    ways: Vec<Way>,
}

/// Which way up each stretch prints, and the joints across x: what strength rests on.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Layout {
    /// Stretch of x and the direction that points up while it prints.
    pub stretches: Vec<(f64, f64, Vector3<f64>)>,
    /// Joints across x.
    pub joints: Vec<JointLaid>,
}

/// A joint across x as the pieces have it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct JointLaid {
    /// m.
    pub x_m: f64,
    /// As it comes out.
    pub kind: JointKind,
    /// The strongest there is room for.
    pub strongest: JointKind,
}

impl Layout {
    /// Which way is up where; the worst for bending where nothing is known.
    #[must_use]
    pub fn up_at(&self, x_m: f64) -> Vector3<f64> {
        let over = |s: &&(f64, f64, Vector3<f64>)| s.0 - 1e-9 <= x_m && x_m <= s.1 + 1e-9;
        self.stretches
            .iter()
            .find(over)
            .map_or_else(Vector3::x, |s| s.2)
    }
}

/// The layout alone, without joints or weights: quick.
///
/// # Errors
/// [`MakingError`].
pub fn layout(boat: &Boat, form: &Form, bending: Bending<'_>) -> Result<Layout, MakingError> {
    let (solid, walls) = material(form)?;
    let maker = Maker::of(boat, form, walls, bending);
    let Some(body) = solid.parts().into_iter().next() else {
        return Ok(Layout::default());
    };
    let whole = body.mesh();
    let plan = maker.plan("hull", &whole)?;
    let rows = rows(&body, &plan, &mut |_| Ok(()))?;
    let mut out = Layout::default();
    let numbered = plan.stretches.len() > 1;
    for (i, (stretch, row)) in plan.stretches.iter().zip(&rows).enumerate() {
        let name = row_name("hull", numbered, i, 0, row.len());
        let ways = maker.ways(&name, &row[0].mesh());
        let up = ways
            .first()
            .map_or_else(Vector3::x, |w| orient::vector(w.up));
        out.stretches.push((stretch.x_m[0], stretch.x_m[1], up));
        if i + 1 < rows.len() {
            let at = stretch.x_m[1];
            let place = maker.place(&whole, CutAcross::X, at, clear_of(&planes_beside(&plan, i)));
            let strongest = place.kind(JointKind::Lap);
            out.joints.push(JointLaid {
                x_m: at,
                kind: match maker.wanted_joint(CutAcross::X, at) {
                    JointKind::Lap => strongest,
                    other => other,
                },
                strongest,
            });
        }
    }
    Ok(out)
}

/// Pieces of each stretch, port last, before joints.
fn rows(
    body: &Solid,
    plan: &Plan,
    tell: &mut dyn FnMut(f64) -> Result<(), MakingError>,
) -> Result<Vec<Vec<Solid>>, MakingError> {
    let mut rest = body.clone();
    let mut rows: Vec<Vec<Solid>> = Vec::new();
    let last = plan.stretches.len() - 1;
    for (i, stretch) in plan.stretches.iter().enumerate() {
        tell(i as f64 / plan.stretches.len() as f64)?;
        let mut row = if i < last {
            let (behind, ahead) = rest.cut(Along::X, stretch.x_m[1])?;
            rest = ahead;
            behind
        } else {
            rest.clone()
        };
        let mut parts = Vec::new();
        for y in &stretch.y_m {
            let (starboard, port) = row.cut(Along::Y, *y)?;
            parts.push(starboard);
            row = port;
        }
        parts.push(row);
        rows.push(parts);
    }
    Ok(rows)
}

/// Pieces are closed solids; where their volumes are not the body's, some of it was inside out and fell away.
fn adds_up(body: &Solid, rows: &[Vec<Solid>]) -> Result<(), MakingError> {
    let parts = rows.iter().flatten().flat_map(Solid::parts);
    let sum: f64 = parts.map(|p| p.volume_m3()).sum();
    let whole = body.volume_m3();
    if (sum / whole - 1.0).abs() < ADDS_UP {
        return Ok(());
    }
    Err(MakingError::Unsound {
        what: format!(
            "its pieces come to {:.0} cm3 and the hull to {:.0} cm3, so it passes through itself or is inside out \
             in places; mend it in CAD and export it again",
            1e6 * sum,
            1e6 * whole
        ),
    })
}

fn row_name(body: &str, numbered: bool, i: usize, j: usize, sides: usize) -> String {
    let mut name = body.to_owned();
    if numbered {
        name = format!("{name} {}", i + 1);
    }
    if sides > 1 {
        name = format!("{name} {}", side(j, sides));
    }
    name
}

impl<'a> Maker<'a> {
    fn of(boat: &'a Boat, form: &'a Form, walls: bool, bending: Bending<'a>) -> Self {
        Self {
            boat,
            form,
            walls,
            bed: Bed::of(&boat.making.printer),
            running: Bottoms::of(form),
            keep_off: keep_off::along(boat, form),
            bending,
        }
    }

    /// Ways up of a piece without its joints; the declared one first.
    fn ways(&self, name: &str, mesh: &Mesh) -> Vec<Way> {
        let mut ways = orient::ways(mesh, &self.running, &self.bed);
        if let Some(up) = self.declared(name).and_then(|d| d.up)
            && let Some(at) = ways.iter().position(|w| w.up == up)
        {
            ways.swap(0, at);
        }
        ways
    }

    fn declared(&self, name: &str) -> Option<&boat::making::Piece> {
        let pieces = &self.boat.making.pieces;
        pieces.iter().find(|p| p.name.eq_ignore_ascii_case(name))
    }

    /// Before it is known whether there is room for it.
    fn wanted_joint(&self, across: CutAcross, at: f64) -> JointKind {
        plan::asked_joint(&self.boat.making, across, at).unwrap_or(JointKind::Lap)
    }

    fn every_cut_meets(&self, solid: &Solid) -> Result<(), MakingError> {
        let Some((low, high)) = solid.mesh().bounds() else {
            return Ok(());
        };
        for cut in &self.boat.making.cuts {
            let (k, axis) = match cut.across {
                CutAcross::X => (0, "x"),
                CutAcross::Y => (1, "y"),
            };
            if let boat::making::CutPlace::At(at) = cut.place
                && !(at > low[k] && at < high[k])
            {
                return Err(MakingError::CutMisses {
                    axis,
                    at_mm: 1e3 * at,
                    from_mm: 1e3 * low[k],
                    to_mm: 1e3 * high[k],
                });
            }
        }
        Ok(())
    }

    fn make(&self, solid: &Solid, progress: Progress<'_>) -> Result<Pieces, MakingError> {
        let mut tell = |share: f64, what: &str| match progress(share, what) {
            ControlFlow::Continue(()) => Ok(()),
            ControlFlow::Break(()) => Err(MakingError::Stopped),
        };
        tell(0.02, "finding where to cut")?;
        let mut out = Pieces {
            pieces: Vec::new(),
            joints: Vec::new(),
            hull_m3: solid.volume_m3(),
            total_kg: Measure::given(0.0),
            notes: Vec::new(),
        };
        let bodies = solid.parts();
        let mut raw = Vec::new();
        for (i, body) in bodies.iter().enumerate() {
            if body.volume_m3() < CRUMB_M3 {
                out.notes.push(format!(
                    "A loose crumb of {:.2} cm3 was left out.",
                    1e6 * body.volume_m3()
                ));
                continue;
            }
            let name = body_name(i, body, bodies.len());
            let mesh = body.mesh();
            let plan = self.plan(&name, &mesh)?;
            tell(0.1, "cutting")?;
            raw.extend(self.cut(&name, body, &plan, &mut out, &mut tell)?);
        }
        self.tell_other_joints(&mut out);
        tell(0.7, "turning each piece")?;
        let names: Vec<String> = raw.iter().map(|r| r.name.clone()).collect();
        for declared in &self.boat.making.pieces {
            if !names.iter().any(|n| n.eq_ignore_ascii_case(&declared.name)) {
                return Err(MakingError::NoSuchPiece {
                    name: declared.name.clone(),
                    pieces: names,
                });
            }
        }
        let count = raw.len() as f64;
        for (i, piece) in raw.into_iter().enumerate() {
            tell(0.7 + 0.3 * i as f64 / count, "turning each piece")?;
            out.pieces.push(self.finish(piece)?);
        }
        let total: f64 = out.pieces.iter().map(|p| p.mass_kg).sum();
        out.total_kg = Measure::given(total).with_spread(filament::MASS_SPREAD * total);
        Ok(out)
    }

    /// Joints that came out as another kind than was asked.
    fn tell_other_joints(&self, out: &mut Pieces) {
        for j in &out.joints {
            let across = match j.cut.across.as_str() {
                "x" => CutAcross::X,
                _ => CutAcross::Y,
            };
            let asked = plan::asked_joint(&self.boat.making, across, j.cut.at_m);
            let place = format!("{} = {:.0} mm", j.cut.across, 1e3 * j.cut.at_m);
            match asked {
                Some(asked) if asked.word() != j.cut.joint => {
                    let why = match self.walls {
                        true => "there is no room for it inside the walls there",
                        false => "the mesh is solid outside and has no wall for a spigot to follow",
                    };
                    out.notes.push(format!(
                        "A {} joint is asked at {place}: {why}, so it is a {}.",
                        asked.word(),
                        j.cut.joint
                    ));
                }
                None if self.walls && j.cut.joint != JointKind::Lap.word() => {
                    out.notes.push(format!(
                        "At {place} there is no room for a spigot inside the walls, so that joint is a {}: only the \
                         walls' ends are glued. Move the cut, or glue strips over it inside.",
                        j.cut.joint
                    ));
                }
                _ => {}
            }
        }
    }

    fn plan(&self, name: &str, mesh: &Mesh) -> Result<Plan, MakingError> {
        plan::plan(&Wanted {
            name,
            extents: &Extents::of(mesh, 0.004),
            bed: self.bed,
            spigot_m: if self.walls {
                self.boat.making.glue.overlap_m.value
            } else {
                0.0
            },
            keep_off: &self.keep_off,
            bending: self.bending,
            making: &self.boat.making,
        })
    }

    fn cut(
        &self,
        name: &str,
        body: &Solid,
        plan: &Plan,
        out: &mut Pieces,
        tell: &mut dyn FnMut(f64, &str) -> Result<(), MakingError>,
    ) -> Result<Vec<Raw>, MakingError> {
        let whole = body.mesh();
        let numbered = plan.stretches.len() > 1;
        let mut rows = rows(body, plan, &mut |done| tell(0.1 + 0.4 * done, "cutting"))?;
        adds_up(body, &rows)?;
        let ways: Vec<Vec<Vec<Way>>> = rows
            .iter()
            .enumerate()
            .map(|(i, row)| {
                row.iter()
                    .enumerate()
                    .map(|(j, s)| self.ways(&row_name(name, numbered, i, j, row.len()), &s.mesh()))
                    .collect()
            })
            .collect();
        let bare: Vec<Vec<f64>> = rows
            .iter()
            .map(|r| r.iter().map(Solid::volume_m3).collect())
            .collect();
        for i in 0..rows.len() {
            tell(0.5 + 0.2 * i as f64 / rows.len() as f64, "making joints")?;
            self.join_row(&whole, plan, &mut rows, i, out)?;
            if i + 1 < rows.len() {
                self.join_rows(&whole, plan, &mut rows, i, out)?;
            }
        }
        let mut raw = Vec::new();
        for (i, row) in rows.into_iter().enumerate() {
            let sides = row.len();
            for (j, solid) in row.into_iter().enumerate() {
                let called = row_name(name, numbered, i, j, sides);
                let parts: Vec<Solid> = solid
                    .parts()
                    .into_iter()
                    .filter(|p| p.volume_m3() > CRUMB_M3)
                    .collect();
                let several = parts.len() > 1;
                let total: f64 = parts.iter().map(Solid::volume_m3).sum();
                for (k, part) in parts.into_iter().enumerate() {
                    let name = if several {
                        format!("{called} {}", char::from(b'a' + (k % 26) as u8))
                    } else {
                        called.clone()
                    };
                    let bare_m3 = bare[i][j] * part.volume_m3() / total;
                    raw.push(Raw {
                        name,
                        solid: part,
                        bare_m3,
                        ways: ways[i][j].clone(),
                    });
                }
            }
        }
        Ok(raw)
    }

    /// Joints across y inside a stretch.
    fn join_row(
        &self,
        whole: &Mesh,
        plan: &Plan,
        rows: &mut [Vec<Solid>],
        i: usize,
        out: &mut Pieces,
    ) -> Result<(), MakingError> {
        let stretch = &plan.stretches[i];
        for (j, y) in stretch.y_m.iter().enumerate() {
            let margin = 0.001;
            let [x0, x1] = stretch.x_m;
            // Coordinates across y are (z, x).
            let within = Region::from_rings(&[vec![
                [-9.0, x0 + margin],
                [9.0, x0 + margin],
                [9.0, x1 - margin],
                [-9.0, x1 - margin],
            ]]);
            let within = if plan.stretches.len() > 1 {
                Some(within)
            } else {
                None
            };
            let joint = self.joint(whole, CutAcross::Y, *y, within)?;
            let row = &mut rows[i];
            let (behind, ahead) = row.split_at_mut(j + 1);
            self.fit(&joint, &mut behind[j..], &mut ahead[..1])?;
            out.joints
                .push(self.made(CutAcross::Y, *y, Some(stretch.x_m), &joint));
        }
        Ok(())
    }

    /// The joint across x between a stretch and the next.
    fn join_rows(
        &self,
        whole: &Mesh,
        plan: &Plan,
        rows: &mut [Vec<Solid>],
        i: usize,
        out: &mut Pieces,
    ) -> Result<(), MakingError> {
        let at = plan.stretches[i].x_m[1];
        let joint = self.joint(whole, CutAcross::X, at, clear_of(&planes_beside(plan, i)))?;
        let (behind, ahead) = rows.split_at_mut(i + 1);
        self.fit(&joint, &mut behind[i], &mut ahead[0])?;
        out.joints.push(self.made(CutAcross::X, at, None, &joint));
        Ok(())
    }

    fn joint(
        &self,
        whole: &Mesh,
        across: CutAcross,
        at: f64,
        within: Option<Region>,
    ) -> Result<crate::joint::Joint, MakingError> {
        let place = self.place(whole, across, at, within);
        Ok(place.joint(self.wanted_joint(across, at))?)
    }

    fn place<'b>(
        &'b self,
        whole: &'b Mesh,
        across: CutAcross,
        at: f64,
        within: Option<Region>,
    ) -> Place<'b> {
        let making = &self.boat.making;
        let wall_m = self.boat.hull.print.wall_m.value;
        Place {
            material: whole,
            envelope: &self.form.envelope,
            walls: self.walls,
            axis: along(across),
            at_m: at,
            within,
            wall_m: wall_m.max(2.2 * making.printer.nozzle_m.value),
            glue: &making.glue,
        }
    }

    /// Puts spigot and holes on the pieces on both sides.
    fn fit(
        &self,
        joint: &crate::joint::Joint,
        behind: &mut [Solid],
        ahead: &mut [Solid],
    ) -> Result<(), MakingError> {
        if let Some(spigot) = &joint.spigot {
            let several = behind.len() > 1;
            for piece in behind.iter_mut() {
                let mine = if several {
                    // Each piece carries the spigot on its own side.
                    let Some((low, high)) = piece.mesh().bounds() else {
                        continue;
                    };
                    let (_, port) = spigot.cut(Along::Y, low.y)?;
                    port.cut(Along::Y, high.y)?.0
                } else {
                    spigot.clone()
                };
                *piece = piece.with(&mine)?;
            }
            for piece in ahead.iter_mut() {
                *piece = piece.without(spigot)?;
            }
        }
        if let Some(holes) = &joint.holes {
            for piece in behind.iter_mut().chain(ahead) {
                *piece = piece.without(holes)?;
            }
        }
        Ok(())
    }

    fn made(
        &self,
        across: CutAcross,
        at: f64,
        x_m: Option<[f64; 2]>,
        joint: &crate::joint::Joint,
    ) -> JointMade {
        let of_x = across == CutAcross::X;
        let asked = self.boat.making.cuts.iter().any(|c| {
            c.across == across
                && matches!(c.place, boat::making::CutPlace::At(a) if (a - at).abs() < 1e-6)
        });
        JointMade {
            cut: CutMade {
                across: if of_x { "x" } else { "y" }.to_owned(),
                at_m: at,
                x_m,
                asked,
                joint: joint.kind.word().to_owned(),
                through: self
                    .keep_off
                    .iter()
                    .filter(|k| of_x && k.from_m < at && at < k.to_m)
                    .map(|k| k.what.clone())
                    .collect(),
                bending: if of_x { (self.bending)(at) } else { 0.0 },
            },
            dowels: joint.dowels.clone(),
        }
    }

    fn finish(&self, raw: Raw) -> Result<Piece, MakingError> {
        let mesh = raw.solid.mesh();
        let declared = self.declared(&raw.name);
        let size = || {
            let (low, high) = mesh.bounds().unwrap_or_default();
            (high - low).map(|s| 1e3 * s).into()
        };
        // A spigot may stand out of the bed where the bare piece did not.
        let whole: [f64; 3] = mesh
            .bounds()
            .map_or([0.0; 3], |(low, high)| (high - low).into());
        let mut ways: Vec<Way> = raw
            .ways
            .into_iter()
            .filter(|w| self.bed.takes_up(whole, orient::vector(w.up).iamax()))
            .collect();
        if ways.is_empty() {
            ways = orient::ways(&mesh, &self.running, &self.bed);
        }
        if let Some(up) = declared.and_then(|d| d.up)
            && ways.first().is_none_or(|w| w.up != up)
        {
            return Err(MakingError::DeclaredUp {
                name: raw.name,
                up: up.word(),
                size_mm: size(),
            });
        }
        if ways.is_empty() {
            let size: [f64; 3] = size();
            let x_mm = mesh.bounds().map_or(0.0, |b| 1e3 * b.0.x);
            return Err(MakingError::BedTooSmall {
                name: raw.name,
                x_mm,
                height_mm: size[2],
                bed_mm: self.bed.room_m.map(|r| 1e3 * r),
            });
        }
        let up = orient::vector(ways[0].up);
        let (print, printer) = (&self.boat.hull.print, &self.boat.making.printer);
        let plastic = filament::plastic_m3(&mesh, print, self.walls, up);
        let mass = plastic * print.density_kg_m3.value;
        let weighed = declared.and_then(|d| d.mass_kg);
        Ok(Piece {
            placed: orient::placed(&mesh, ways[0].up, &self.bed),
            notes: tight::leaks(&mesh, up, print, printer, self.walls),
            bare_m3: raw.bare_m3,
            plastic_m3: plastic,
            mass_kg: weighed.map_or(mass, |w| w.value),
            mass_spread_kg: weighed.map_or(filament::MASS_SPREAD * mass, |w| w.spread),
            weighed: weighed.is_some(),
            time_s: filament::time_s(plastic, ways[0].height_m, printer),
            filament_m: filament::filament_m(plastic),
            cost: printer.price_per_kg.map(|p| p * mass),
            name: raw.name,
            ways,
            mesh,
        })
    }
}

/// Planes across y of a stretch and of the next.
fn planes_beside(plan: &Plan, i: usize) -> Vec<f64> {
    let both = plan.stretches[i].y_m.iter();
    both.chain(&plan.stretches[i + 1].y_m).copied().collect()
}

/// Everything but strips round planes of y, in the coordinates (y, z) of a plane of x.
fn clear_of(planes: &[f64]) -> Option<Region> {
    if planes.is_empty() {
        return None;
    }
    let mut sorted = planes.to_vec();
    sorted.sort_by(f64::total_cmp);
    let mut edges = vec![-9.0];
    for y in sorted {
        edges.extend([y - 0.0015, y + 0.0015]);
    }
    edges.push(9.0);
    let rings: Vec<Vec<[f64; 2]>> = edges
        .chunks_exact(2)
        .filter(|e| e[1] > e[0])
        .map(|e| vec![[e[0], -9.0], [e[1], -9.0], [e[1], 9.0], [e[0], 9.0]])
        .collect();
    Some(Region::from_rings(&rings))
}

fn along(across: CutAcross) -> Along {
    match across {
        CutAcross::X => Along::X,
        CutAcross::Y => Along::Y,
    }
}

fn side(j: usize, of: usize) -> String {
    match (of, j) {
        (2, 0) => "starboard".to_owned(),
        (2, _) => "port".to_owned(),
        (3, 0) => "starboard".to_owned(),
        (3, 1) => "middle".to_owned(),
        (3, _) => "port".to_owned(),
        _ => format!("strip {}", j + 1),
    }
}

/// The largest body is the hull; others by the side they lie on.
fn body_name(i: usize, body: &Solid, of: usize) -> String {
    if i == 0 {
        return "hull".to_owned();
    }
    let y = body.mesh().centroid_m().y;
    let which = if y > 0.005 {
        "port body"
    } else if y < -0.005 {
        "starboard body"
    } else {
        "body"
    };
    if of > 3 {
        format!("{which} {i}")
    } else {
        which.to_owned()
    }
}
