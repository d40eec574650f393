//! The hull's underside as the air sees it: how it is inclined and cambered, and where tunnels run under it.
//!
//! - Incidence of the flat plate that lifts as much: `(1/pi) int slope (1 - cos t) dt` over the chord, `t` from 0
//!   at the bow to `pi` at the stern, `slope` that of the underside, bow up; and the couple it leaves about the
//!   quarter chord, `-(pi/4) (A1 - A2)` (Munk 1922, thin sections; any text on aerofoils). Theory for two
//!   dimensions and no water below.
//! - A tunnel is where a row of the underside lies above walls on both sides of it.

use std::f64::consts::PI;

use form::Columns;

/// Rows along the hull: its columns' own, for others would take two of them together here and none there.
const ROWS: usize = form::COLUMN_CELLS[0];
/// Roofs are gathered, two and two, into no more than this: pieces hardly matter to the flow under them.
const MOST_ROOFS: usize = 40;
/// A roof this much above both walls, in beams of the hull, begins to be one, and is.
const TUNNEL: [f64; 2] = [0.01, 0.03];
/// Neighbours across further apart than this many cells do not belong together.
const APART: f64 = 1.6;

/// Where one row of cells is a roof between walls.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Roof {
    /// Middle of the row, m.
    pub x_m: f64,
    /// m.
    pub length_m: f64,
    /// Middle across, m.
    pub y_m: f64,
    /// m.
    pub width_m: f64,
    /// Mean height, boat axes, m.
    pub z_m: f64,
    /// Rise forward, rise over run.
    pub slope: f64,
    /// Lowest places of the walls on both sides, port first: (y, z), boat axes, m.
    pub walls_m: [(f64, f64); 2],
}

/// What the air meets from below.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Underside {
    /// Of the flat plate that lifts as much, against the boat's x axis, bow up, rad.
    pub incidence_rad: f64,
    /// Moment coefficient about the quarter chord, bow up, in two dimensions.
    pub couple: f64,
    /// From aft to fore.
    pub roofs: Vec<Roof>,
}

/// One cell of a row.
#[derive(Debug, Clone, Copy)]
struct Cell {
    y: f64,
    z: f64,
    width: f64,
}

impl Underside {
    /// From the hull's columns.
    pub fn of(columns: &Columns) -> Self {
        let low = columns.x_m.iter().copied().fold(f64::INFINITY, f64::min);
        let high = columns
            .x_m
            .iter()
            .copied()
            .fold(f64::NEG_INFINITY, f64::max);
        if high.partial_cmp(&low) != Some(std::cmp::Ordering::Greater) {
            return Self::default();
        }
        let step = (high - low) / (ROWS - 1) as f64;
        let mut rows: Vec<Vec<Cell>> = vec![Vec::new(); ROWS];
        for i in 0..columns.x_m.len() {
            let row = ((columns.x_m[i] - low) / step + 0.5) as usize;
            rows[row.min(ROWS - 1)].push(Cell {
                y: columns.y_m[i],
                z: columns.bottom_m[i],
                width: columns.area_m2[i] / step,
            });
        }
        let beam = columns
            .y_m
            .iter()
            .copied()
            .fold(0.0f64, |b, y| b.max(y.abs()))
            * 2.0;
        let mut middle = Vec::new();
        let mut roofs = Vec::new();
        for (i, row) in rows.iter_mut().enumerate() {
            lowest_first(row);
            let x_m = low + i as f64 * step;
            let roof = pieces(row)
                .filter_map(|piece| roof(piece, x_m, step, beam))
                .max_by(|a, b| a.width_m.total_cmp(&b.width_m));
            if let Some(z) = roof.map(|r| r.z_m).or_else(|| mean_height(row)) {
                middle.push((x_m, z));
            }
            roofs.extend(roof);
        }
        slope(&mut roofs);
        while roofs.len() > MOST_ROOFS {
            roofs = roofs.chunk_by(follows).flat_map(gathered).collect();
        }
        let (incidence_rad, couple) = thin_section(&middle);
        Self {
            incidence_rad,
            couple,
            roofs,
        }
    }
}

/// Sorted across, of cells one above the other only the lowest.
fn lowest_first(row: &mut Vec<Cell>) {
    row.sort_by(|a, b| a.y.total_cmp(&b.y).then(a.z.total_cmp(&b.z)));
    let mut kept: Vec<Cell> = Vec::with_capacity(row.len());
    for cell in row.iter() {
        match kept.last_mut() {
            Some(last) if cell.y - last.y < 0.5 * last.width.min(cell.width) => {
                if cell.z < last.z {
                    *last = *cell;
                }
            }
            _ => kept.push(*cell),
        }
    }
    *row = kept;
}

fn joined(a: &Cell, b: &Cell) -> bool {
    (a.y - b.y).abs() < APART * a.width.max(b.width)
}

/// Stretches of a row without a gap between cells.
fn pieces(row: &[Cell]) -> impl Iterator<Item = &[Cell]> {
    row.chunk_by(joined)
}

fn roof(row: &[Cell], x_m: f64, length_m: f64, beam: f64) -> Option<Roof> {
    let low = |cells: &[Cell]| {
        cells
            .iter()
            .copied()
            .min_by(|a, b| a.z.total_cmp(&b.z))
            .map(|c| (c.y, c.z))
    };
    let (mut width, mut y, mut z, mut walls) = (0.0, 0.0, 0.0, None);
    for (i, cell) in row.iter().enumerate() {
        let (Some(starboard), Some(port)) = (low(&row[..i]), low(&row[i + 1..])) else {
            continue;
        };
        let deep = cell.z - starboard.1.max(port.1);
        let share = laws::smooth::step(TUNNEL[0] * beam, TUNNEL[1] * beam, deep);
        if share > 0.0 {
            width += share * cell.width;
            y += share * cell.width * cell.y;
            z += share * cell.width * cell.z;
            walls = Some([port, starboard]);
        }
    }
    let walls_m = walls?;
    (width > 1e-6).then(|| Roof {
        x_m,
        length_m,
        y_m: y / width,
        width_m: width,
        z_m: z / width,
        slope: 0.0,
        walls_m,
    })
}

/// Of the cells that hang together with the middle.
fn mean_height(row: &[Cell]) -> Option<f64> {
    let middle = (0..row.len()).min_by(|a, b| row[*a].y.abs().total_cmp(&row[*b].y.abs()))?;
    let port = (middle + 1..row.len()).take_while(|i| joined(&row[*i], &row[*i - 1]));
    let starboard = (0..middle)
        .rev()
        .take_while(|i| joined(&row[*i], &row[*i + 1]));
    let (mut area, mut sum) = (0.0, 0.0);
    for i in port.chain(starboard).chain([middle]) {
        area += row[i].width;
        sum += row[i].width * row[i].z;
    }
    Some(sum / area)
}

fn slope(roofs: &mut [Roof]) {
    let at: Vec<(f64, f64)> = roofs.iter().map(|r| (r.x_m, r.z_m)).collect();
    for (i, roof) in roofs.iter_mut().enumerate() {
        let (a, b) = (at[i.saturating_sub(1)], at[(i + 1).min(at.len() - 1)]);
        if b.0 > a.0 {
            roof.slope = (b.1 - a.1) / (b.0 - a.0);
        }
    }
}

/// Whether nothing lies between two rows.
fn follows(a: &Roof, b: &Roof) -> bool {
    b.x_m - a.x_m < 1.5 * a.length_m.max(b.length_m)
}

/// Two and two of a stretch.
fn gathered(roofs: &[Roof]) -> impl Iterator<Item = Roof> + '_ {
    roofs.chunks(2).map(|two| {
        let [a, b] = match two {
            [a, b] => [a, b],
            _ => return two[0],
        };
        let mean = |of: fn(&Roof) -> f64| 0.5 * (of(a) + of(b));
        let wall = |k: usize| {
            let [p, q] = [a.walls_m[k], b.walls_m[k]];
            (0.5 * (p.0 + q.0), 0.5 * (p.1 + q.1))
        };
        Roof {
            x_m: mean(|r| r.x_m),
            length_m: a.length_m + b.length_m,
            y_m: mean(|r| r.y_m),
            width_m: mean(|r| r.width_m),
            z_m: mean(|r| r.z_m),
            slope: mean(|r| r.slope),
            walls_m: [wall(0), wall(1)],
        }
    })
}

/// Incidence and couple of a line from aft to fore.
fn thin_section(line: &[(f64, f64)]) -> (f64, f64) {
    let (Some(first), Some(last)) = (line.first(), line.last()) else {
        return (0.0, 0.0);
    };
    let chord = last.0 - first.0;
    if chord <= 0.0 {
        return (0.0, 0.0);
    }
    let around = |x: f64| (1.0 - 2.0 * (last.0 - x) / chord).clamp(-1.0, 1.0).acos();
    let (mut incidence, mut couple) = (0.0, 0.0);
    for pair in line.windows(2) {
        let slope = ((pair[1].1 - pair[0].1) / (pair[1].0 - pair[0].0)).clamp(-1.0, 1.0);
        let (from, to) = (around(pair[1].0), around(pair[0].0));
        let sines = |n: f64| ((n * to).sin() - (n * from).sin()) / n;
        incidence += slope * ((to - from) - sines(1.0)) / PI;
        // Slopes aft are the other way round: their cosine series, A1 less A2.
        couple += 0.5 * slope * (sines(1.0) - sines(2.0));
    }
    (incidence, couple)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_flat_plate_has_its_own_incidence_and_no_couple() {
        let line: Vec<(f64, f64)> = (0..50)
            .map(|i| (f64::from(i), 0.1 * f64::from(i)))
            .collect();
        let (incidence, couple) = thin_section(&line);
        assert!((incidence - 0.1).abs() < 1e-9 && couple.abs() < 1e-9);
    }

    /// Parabolic camber `z = 4 f x (1 - x)` lifts as a plate at `2 f` and has a couple of `-pi f` (thin
    /// section theory, any text on aerofoils).
    #[test]
    fn a_parabola_has_the_textbook_zero_lift_angle_and_couple() {
        let f = 0.02;
        let n = 400;
        let line: Vec<(f64, f64)> = (0..=n)
            .map(|i| f64::from(i) / f64::from(n))
            .map(|x| (x, 4.0 * f * x * (1.0 - x)))
            .collect();
        let (incidence, couple) = thin_section(&line);
        assert!((incidence - 2.0 * f).abs() < 1e-3 * f, "{incidence}");
        assert!((couple + PI * f).abs() < 2e-3 * f, "{couple}");
    }

    fn boxes(parts: &[[f64; 4]]) -> Columns {
        // y from, y to, bottom at the stern, its slope.
        let mut columns = Columns::default();
        for i in 0..60 {
            let x = (f64::from(i) + 0.5) * 0.01;
            for part in parts {
                let cells = ((part[1] - part[0]) / 0.01).round() as i32;
                for j in 0..cells {
                    columns.x_m.push(x);
                    columns.y_m.push(part[0] + (f64::from(j) + 0.5) * 0.01);
                    columns.bottom_m.push(part[2] + part[3] * x);
                    columns.top_m.push(0.1);
                    columns.area_m2.push(1e-4);
                }
            }
        }
        columns
    }

    #[test]
    fn a_tunnel_is_found_with_its_roof_and_walls() {
        let found = Underside::of(&boxes(&[
            [-0.15, -0.08, 0.0, 0.0],
            [-0.08, 0.08, 0.04, 0.03],
            [0.08, 0.15, 0.0, 0.0],
        ]));
        assert_eq!(found.roofs.len(), 30);
        for roof in &found.roofs {
            assert!((roof.width_m - 0.16).abs() < 2e-3, "{roof:?}");
            assert!((roof.z_m - 0.04 - 0.03 * roof.x_m).abs() < 1e-6);
            assert!((roof.slope - 0.03).abs() < 1e-6 && roof.walls_m[0].0 > 0.08);
        }
        assert!((found.incidence_rad - 0.03).abs() < 1e-3);
        assert!(
            Underside::of(&boxes(&[[-0.1, 0.1, 0.0, 0.0]]))
                .roofs
                .is_empty()
        );
        // A tub between outriggers with nothing joining them is no tunnel: nothing roofs the gap.
        let open = [
            [-0.15, -0.1, -0.02, 0.0],
            [-0.04, 0.04, 0.0, 0.0],
            [0.1, 0.15, -0.02, 0.0],
        ];
        assert!(Underside::of(&boxes(&open)).roofs.is_empty());
    }
}
