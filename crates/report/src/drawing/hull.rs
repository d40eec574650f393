//! The hull as lines: edges a draughtsman would draw, without those hidden behind it.
//!
//! An edge is drawn where one side of it faces the eye and the other does not, or where the
//! surface bends by more than a crease. Hidden parts are found by a depth raster, so a line may
//! show or hide up to one raster cell early.

use std::collections::BTreeMap;

use form::Mesh;
use nalgebra::Vector3;

use super::view::View;
use crate::svg::{self, Point};

/// Raster cells per drawing unit.
const FINE: f64 = 1.5;
/// Largest raster, cells each way.
const MOST_CELLS: usize = 2000;
/// Creases tried in turn until the drawing has few enough lines, degrees.
const CREASES_DEG: [f64; 4] = [18.0, 30.0, 50.0, 180.0];
/// More lines than this are not a drawing.
const MOST_EDGES: usize = 4000;
/// Outlines keep within this of the raster's edge, drawing units.
const CLOSE: f64 = 0.6;

/// The hull in one view.
pub struct Drawn {
    /// Path of the area it covers.
    pub area: String,
    /// Path of its visible edges.
    pub edges: String,
}

/// Draws `mesh` seen in `view`.
pub fn drawn(mesh: &Mesh, view: &View) -> Drawn {
    let points: Vec<Point> = mesh.vertices.iter().map(|v| view.at(v)).collect();
    let near: Vec<f64> = mesh.vertices.iter().map(|v| view.near(v)).collect();
    let Some(raster) = Raster::of(mesh, &points, &near) else {
        return Drawn {
            area: String::new(),
            edges: String::new(),
        };
    };
    let slack_m = 0.004 * mesh.size_m();
    let mut edges = String::new();
    for [a, b] in lines(mesh, view) {
        let ends = [a, b].map(|i| (points[i as usize], near[i as usize]));
        raster.draw_visible(ends, slack_m, &mut edges);
    }
    Drawn {
        area: raster.area(),
        edges,
    }
}

/// Edges worth drawing, in a fixed order.
fn lines(mesh: &Mesh, view: &View) -> Vec<[u32; 2]> {
    let sides = edge_sides(mesh);
    for crease in CREASES_DEG {
        let least_cos = crease.to_radians().cos();
        let found: Vec<[u32; 2]> = sides
            .iter()
            .filter(|(_, normals)| is_line(normals, view, least_cos))
            .map(|(ends, _)| *ends)
            .collect();
        if found.len() <= MOST_EDGES || crease == 180.0 {
            return found;
        }
    }
    Vec::new()
}

fn is_line(normals: &[Vector3<f64>], view: &View, least_cos: f64) -> bool {
    let seen = normals.iter().filter(|n| view.faces(n)).count();
    match normals {
        [a, b] => seen == 1 || (seen == 2 && a.dot(b) < least_cos),
        _ => seen > 0,
    }
}

/// Unit normals of the faces at each edge; faces without area have none.
fn edge_sides(mesh: &Mesh) -> BTreeMap<[u32; 2], Vec<Vector3<f64>>> {
    let mut sides: BTreeMap<[u32; 2], Vec<Vector3<f64>>> = BTreeMap::new();
    for (triangle, [a, b, c]) in mesh.triangles.iter().zip(mesh.faces()) {
        let normal = (b - a).cross(&(c - a));
        let length = normal.norm();
        if length < 1e-18 {
            continue;
        }
        for i in 0..3 {
            let (p, q) = (triangle[i], triangle[(i + 1) % 3]);
            let side = sides.entry([p.min(q), p.max(q)]).or_default();
            side.push(normal / length);
        }
    }
    sides
}

/// Nearness of the hull in each cell.
struct Raster {
    origin: Point,
    wide: usize,
    high: usize,
    per_unit: f64,
    near: Vec<f64>,
}

impl Raster {
    fn of(mesh: &Mesh, points: &[Point], near: &[f64]) -> Option<Self> {
        let first = *points.first()?;
        let (low, high) = points.iter().fold((first, first), |(low, high), p| {
            (
                (low.0.min(p.0), low.1.min(p.1)),
                (high.0.max(p.0), high.1.max(p.1)),
            )
        });
        let size = (high.0 - low.0).max(high.1 - low.1);
        if !(size.is_finite() && size > 0.0) {
            return None;
        }
        let per_unit = FINE.min(MOST_CELLS as f64 / size);
        let cells = |span: f64| (span * per_unit).ceil() as usize + 3;
        let (wide, tall) = (cells(high.0 - low.0), cells(high.1 - low.1));
        let mut raster = Self {
            origin: (low.0 - 1.0 / per_unit, low.1 - 1.0 / per_unit),
            wide,
            high: tall,
            per_unit,
            near: vec![f64::NEG_INFINITY; wide * tall],
        };
        for triangle in &mesh.triangles {
            let corners = triangle.map(|i| i as usize);
            raster.fill(corners.map(|i| (raster.cell(points[i]), near[i])));
        }
        Some(raster)
    }

    /// Cell coordinates; the middle of cell 0 is at 0.5.
    fn cell(&self, p: Point) -> Point {
        (
            (p.0 - self.origin.0) * self.per_unit,
            (p.1 - self.origin.1) * self.per_unit,
        )
    }

    fn fill(&mut self, corners: [(Point, f64); 3]) {
        let [(a, za), (b, zb), (c, zc)] = corners;
        let area = (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0);
        if area.abs() < 1e-12 {
            return;
        }
        let rows = reach(a.1.min(b.1).min(c.1), a.1.max(b.1).max(c.1), self.high);
        let columns = reach(a.0.min(b.0).min(c.0), a.0.max(b.0).max(c.0), self.wide);
        for row in rows {
            for column in columns.clone() {
                let p = (column as f64 + 0.5, row as f64 + 0.5);
                let u = ((p.0 - a.0) * (c.1 - a.1) - (p.1 - a.1) * (c.0 - a.0)) / area;
                let v = ((b.0 - a.0) * (p.1 - a.1) - (b.1 - a.1) * (p.0 - a.0)) / area;
                if u >= -1e-9 && v >= -1e-9 && u + v <= 1.0 + 1e-9 {
                    let cell = &mut self.near[row * self.wide + column];
                    *cell = cell.max(za + u * (zb - za) + v * (zc - za));
                }
            }
        }
    }

    /// Whether something at `p` is not behind the hull, by the most open of the cells around it.
    fn sees(&self, p: Point, near: f64, slack_m: f64) -> bool {
        let (x, y) = self.cell(p);
        let (column, row) = (x.floor() as isize, y.floor() as isize);
        let open = (-1..=1).flat_map(|dr| (-1..=1).map(move |dc| (row + dr, column + dc)));
        let most_open = open
            .map(|(r, c)| self.nearness(r, c))
            .fold(f64::INFINITY, f64::min);
        near >= most_open - slack_m
    }

    fn nearness(&self, row: isize, column: isize) -> f64 {
        let inside =
            (0..self.high as isize).contains(&row) && (0..self.wide as isize).contains(&column);
        if inside {
            self.near[row as usize * self.wide + column as usize]
        } else {
            f64::NEG_INFINITY
        }
    }

    /// The stretches of an edge that are seen, as path commands.
    fn draw_visible(&self, ends: [(Point, f64); 2], slack_m: f64, out: &mut String) {
        let [(a, za), (b, zb)] = ends;
        let length = (b.0 - a.0).hypot(b.1 - a.1);
        if length < 0.15 {
            return;
        }
        let steps = (length / 2.0).ceil().max(1.0) as usize;
        let at = |t: f64| (a.0 + t * (b.0 - a.0), a.1 + t * (b.1 - a.1));
        let mut start: Option<usize> = None;
        for i in 0..=steps {
            let middle = (i as f64 + 0.5) / steps as f64;
            let seen = i < steps && self.sees(at(middle), za + middle * (zb - za), slack_m);
            match (start, seen) {
                (None, true) => start = Some(i),
                (Some(from), false) => {
                    let part = |n: usize| at(n as f64 / steps as f64);
                    out.push_str(&svg::along(&[part(from), part(i)]));
                    start = None;
                }
                _ => {}
            }
        }
    }

    /// The covered cells as closed outlines, column by column.
    fn area(&self) -> String {
        let mut open: Vec<Strip> = Vec::new();
        let mut out = String::new();
        for column in 0..self.wide {
            let runs = self.covered(column);
            let mut still = Vec::new();
            for strip in open.drain(..) {
                match strip.next(&runs) {
                    Some(run) => still.push((strip, run)),
                    None => out.push_str(&strip.outline(self)),
                }
            }
            // Two strips that meet in one run, or one that splits, end and begin afresh.
            for run in runs {
                let mut heirs: Vec<Strip> = Vec::new();
                let mut i = 0;
                while i < still.len() {
                    if still[i].1 == run {
                        heirs.push(still.remove(i).0);
                    } else {
                        i += 1;
                    }
                }
                let mut strip = match heirs.len() {
                    1 => heirs.remove(0),
                    _ => {
                        for mut heir in heirs {
                            heir.column = column;
                            out.push_str(&heir.outline(self));
                        }
                        Strip::default()
                    }
                };
                strip.add(column, run);
                open.push(strip);
            }
        }
        for strip in open {
            out.push_str(&strip.outline(self));
        }
        out
    }

    fn covered(&self, column: usize) -> Vec<(usize, usize)> {
        let mut runs = Vec::new();
        let mut start = None;
        for row in 0..=self.high {
            let full = row < self.high && self.near[row * self.wide + column].is_finite();
            match (start, full) {
                (None, true) => start = Some(row),
                (Some(from), false) => {
                    runs.push((from, row));
                    start = None;
                }
                _ => {}
            }
        }
        runs
    }

    fn place(&self, x: f64, y: f64) -> Point {
        (
            self.origin.0 + x / self.per_unit,
            self.origin.1 + y / self.per_unit,
        )
    }
}

fn reach(low: f64, high: f64, cells: usize) -> std::ops::Range<usize> {
    let from = (low - 0.5).floor().max(0.0) as usize;
    let to = ((high + 0.5).ceil().max(0.0) as usize).min(cells);
    from.min(to)..to
}

/// A stretch of columns each covered by one run.
#[derive(Default)]
struct Strip {
    column: usize,
    /// Column, first row, row behind the last.
    runs: Vec<(usize, usize, usize)>,
}

impl Strip {
    fn add(&mut self, column: usize, run: (usize, usize)) {
        self.column = column;
        self.runs.push((column, run.0, run.1));
    }

    /// The only run that touches this strip's last one.
    fn next(&self, runs: &[(usize, usize)]) -> Option<(usize, usize)> {
        let (_, low, high) = *self.runs.last()?;
        let mut touching = runs.iter().filter(|r| r.0 < high && r.1 > low);
        match (touching.next(), touching.next()) {
            (Some(run), None) => Some(*run),
            _ => None,
        }
    }

    fn outline(&self, raster: &Raster) -> String {
        let edge = |of: &dyn Fn(&(usize, usize, usize)) -> usize| {
            let mut points: Vec<Point> = self
                .runs
                .iter()
                .map(|r| raster.place(r.0 as f64 + 0.5, of(r) as f64))
                .collect();
            // Columns are as wide as a cell: neighbours' outlines meet.
            if let (Some(first), Some(last)) = (points.first_mut(), self.runs.last()) {
                first.0 = raster.place(self.runs[0].0 as f64, 0.0).0;
                let end = raster.place(last.0 as f64 + 1.0, of(last) as f64);
                points.push(end);
            }
            svg::simplified(&points, CLOSE)
        };
        let mut points = edge(&|r| r.1);
        let mut lower = edge(&|r| r.2);
        lower.reverse();
        points.extend(lower);
        svg::around(&points)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::view::From;
    use craft::Attitude;

    /// A box of 2 by 1 by 1 m.
    fn block() -> Mesh {
        let corner = |i: u32| {
            let bit = |n: u32| f64::from((i >> n) & 1);
            Vector3::new(2.0 * bit(0), bit(1), bit(2))
        };
        let triangles = vec![
            [0, 2, 1],
            [1, 2, 3],
            [4, 5, 6],
            [5, 7, 6],
            [0, 1, 4],
            [1, 5, 4],
            [2, 6, 3],
            [3, 6, 7],
            [0, 4, 2],
            [2, 4, 6],
            [1, 3, 5],
            [3, 7, 5],
        ];
        Mesh {
            vertices: (0..8).map(corner).collect(),
            triangles,
        }
    }

    fn level(from: From) -> View {
        let level = Attitude {
            rise_m: 0.0,
            trim_rad: 0.0,
            heel_rad: 0.0,
        };
        View::new(from, &level, 100.0, (0.0, 0.0))
    }

    #[test]
    fn a_block_from_the_side_is_its_outline() {
        let drawn = drawn(&block(), &level(From::Starboard));
        // Four edges of the near face and four of the far, which coincide with them.
        let ends: Vec<&str> = drawn.edges.split('M').skip(1).collect();
        for side in [
            "0 0L200 0",
            "0 -100L200 -100",
            "0 0L0 -100",
            "200 0L200 -100",
        ] {
            assert!(ends.contains(&side), "{side} not in {ends:?}");
        }
        let diagonals = [
            "0 0L200 -100",
            "200 0L0 -100",
            "0 -100L200 0",
            "200 -100L0 0",
        ];
        assert!(diagonals.iter().all(|d| !ends.contains(d)), "{ends:?}");
    }

    #[test]
    fn what_is_behind_is_hidden() {
        let mut two = block();
        // A smaller block inside the silhouette, further from the eye.
        let small = block().vertices.into_iter();
        two.vertices
            .extend(small.map(|v| v * 0.5 + Vector3::new(0.5, 2.0, 0.25)));
        let more = block().triangles.into_iter();
        two.triangles.extend(more.map(|t| t.map(|i| i + 8)));
        let alone = drawn(&block(), &level(From::Starboard)).edges;
        assert_eq!(drawn(&two, &level(From::Starboard)).edges, alone);
        assert_ne!(drawn(&two, &level(From::Above)).edges, alone);
    }

    #[test]
    fn the_covered_area_is_right_also_around_a_gap() {
        let mut apart = block();
        let second = block().vertices.into_iter();
        apart
            .vertices
            .extend(second.map(|v| v + Vector3::new(0.0, 3.0, 0.0)));
        let more = block().triangles.into_iter();
        apart.triangles.extend(more.map(|t| t.map(|i| i + 8)));
        let area = drawn(&apart, &level(From::Above)).area;
        let total: f64 = area.split('Z').filter(|p| !p.is_empty()).map(polygon).sum();
        // 2 x 2 m2 at 100 units per metre; the raster's edge is worth up to one cell.
        assert!((total - 40_000.0).abs() < 1000.0, "{total}");
    }

    fn polygon(path: &str) -> f64 {
        let points: Vec<Point> = path
            .trim_start_matches('M')
            .split('L')
            .map(|p| {
                let mut xy = p.split(' ').map(|n| n.parse::<f64>().unwrap());
                (xy.next().unwrap(), xy.next().unwrap())
            })
            .collect();
        let next = points.iter().cycle().skip(1);
        let twice: f64 = points
            .iter()
            .zip(next)
            .map(|(a, b)| a.0 * b.1 - b.0 * a.1)
            .sum();
        twice.abs() / 2.0
    }
}
