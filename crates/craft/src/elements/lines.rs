//! The bottom between a keel and a chine as lines along the hull, and where the water's edge passes each.
//!
//! Water that a section pushes down rises beside it. A line `c` out from the keel is reached when the keel is
//! `d = (2 / pi) int_0^(pi/2) z(c sin t) dt` deep (Wagner 1932, any section `z` that rises outward): `2 / pi` of
//! the height of a straight panel, nothing on a flat. On a bottom with one side, 3/4 (the same integral for a
//! plate about its own middle). A line is never reached before the lines inside it. Heel adds its slope to the section,
//! and a side that is flatter than the other is wet less far than if both were (`laws::strip_planing::rise`).
//!
//! A strake throws off the water that has piled up: what lies outside it is reached only when still water
//! stands at its edge (judgement; so much deeper than without it, `1 - 2 / pi` of the edge's height).

use std::f64::consts::{FRAC_2_PI, FRAC_PI_2};

use form::{Across, Panel, RunningSurface};
use laws::smooth::step;
use laws::strip_planing::{Edge, ONE_SIDED_RISE};

/// Lines on one side, at most.
pub const MOST_LINES: usize = 24;
/// Stations that are looked at, at most.
pub const MOST_STATIONS: usize = 64;
/// Edges of one side: every line and the trailing edge.
pub const MOST_EDGES: usize = MOST_LINES + 1;
/// On a straight panel.
const STRAIGHT: [f64; 6] = [0.0, 0.15, 0.35, 0.55, 0.8, 1.0];
/// A strake as high as this holds the water, m; one of no height does nothing (judgement).
const STRAKE_M: f64 = 3e-4;
/// A panel is the only one when the other is narrower than this share of it.
const ALONE: f64 = 0.02;
/// A declared strake's outer face, in widths of the panel.
const BESIDE: f64 = 0.005;

/// One side's lines, from its lower edge.
#[derive(Debug, Clone, Default)]
struct Grid {
    /// Numbers in a row: stations.
    stations: usize,
    /// From the lower edge, m; a row a line.
    out_m: Vec<f64>,
    /// Depth of the lower edge at which a line is reached, m.
    sinks_m: Vec<f64>,
    /// The same without strakes: how the wet section is shaped, m.
    rises_m: Vec<f64>,
    /// Water may be held at a line.
    leaves: Vec<bool>,
}

/// One side of a running surface.
#[derive(Debug, Clone)]
pub struct Lines {
    count: usize,
    alone: bool,
    outward: Grid,
    inward: Grid,
}

/// How a side of the bottom lies on the water.
#[derive(Debug, Clone, Copy)]
pub struct Lean {
    /// What heel adds to the slope away from the lower edge.
    pub tilt: f64,
    /// How much deeper that edge lies when water reaches a line than if the other side were alike
    /// (`laws::strip_planing::rise`).
    pub rise: f64,
    /// The lower edge is the chine.
    pub inward: bool,
}

/// The water's edge on one side.
#[derive(Debug, Clone, Copy)]
pub struct Shore {
    edges: [Edge; MOST_EDGES],
    /// From the lower edge out to where spray from an edge is thrown clear, m.
    limits_m: [f64; MOST_EDGES],
    count: usize,
    /// Wetted chine, m.
    pub chine_m: f64,
    /// Wet at the trailing edge, from the lower edge, m.
    pub beam_m: f64,
}

impl Shore {
    /// From the keel out and aft.
    pub fn edges(&self) -> &[Edge] {
        &self.edges[..self.count]
    }

    /// The same for setting angles.
    pub fn edges_mut(&mut self) -> &mut [Edge] {
        &mut self.edges[..self.count]
    }

    /// How far out spray that leaves between an edge and the next stays on the bottom, m.
    pub fn limit_m(&self, edge: usize) -> f64 {
        self.limits_m[edge]
    }

    fn push(&mut self, edge: Edge, limit_m: f64) {
        if self.count < MOST_EDGES {
            self.edges[self.count] = edge;
            self.limits_m[self.count] = limit_m;
            self.count += 1;
        }
    }
}

impl Lines {
    /// Both sides, port first.
    pub fn of(found: &RunningSurface) -> [Self; 2] {
        let stations = &found.stations;
        let port: Vec<Panel> = stations.iter().map(|s| s.port).collect();
        let starboard: Vec<Panel> = stations.iter().map(|s| s.starboard).collect();
        let [left, right] = &found.across;
        [
            Self::side(&port, &starboard, left, found.strake_m),
            Self::side(&starboard, &port, right, found.strake_m),
        ]
    }

    /// Of one side's panels; `other` are those across the keel.
    pub fn side(panels: &[Panel], other: &[Panel], across: &Across, strake_m: Option<f64>) -> Self {
        let alone = other[0].width_m <= ALONE * panels[0].width_m;
        let strake = strake_m.map(|s| s / panels[0].width_m.max(1e-9));
        let shape = Shape::of(
            across,
            panels.len(),
            strake.filter(|s| *s < 1.0 - 2.0 * BESIDE),
        );
        let count = shape.share.len();
        let (mut outward, mut inward) = (Grid::default(), Grid::default());
        let factor = if alone { ONE_SIDED_RISE } else { 1.0 };
        for (station, panel) in panels.iter().enumerate() {
            let slope = panel.deadrise_rad.tan();
            let at = |j: usize| {
                let out = shape.share[j] * panel.width_m;
                [out, out * slope + shape.over[station][j] * panel.width_m]
            };
            let section: Vec<[f64; 2]> = (0..count).map(at).collect();
            let strakes = |j: usize| {
                shape.leaves[j]
                    && j + 1 < count
                    && (shape.declared(j) || { section[j + 1][1] - section[j][1] > 0.2 * STRAKE_M })
            };
            let held: Vec<f64> = (0..count)
                .map(|j| match strakes(j) {
                    false => 0.0,
                    true if shape.declared(j) => 1.0,
                    true => step(0.2 * STRAKE_M, STRAKE_M, section[j + 1][1] - section[j][1]),
                })
                .collect();
            outward.add(&section, &held, factor);
            let [wide, high] = section[count - 1];
            let turned: Vec<[f64; 2]> = (section.iter().rev())
                .map(|p| [wide - p[0], p[1] - high])
                .collect();
            inward.add_turned(&turned);
        }
        outward.leaves = shape.leaves;
        inward.leaves = vec![false; count];
        outward.turn(count);
        inward.turn(count);
        Self {
            count,
            alone,
            outward,
            inward,
        }
    }

    /// Whether the bottom has no other side.
    pub fn alone(&self) -> bool {
        self.alone
    }

    /// Where the water's edge passes the lines of a bottom whose lower edge lies at `x_m` and `depths_m` deep at
    /// its stations.
    pub fn shore(&self, x_m: &[f64], depths_m: &[f64], lean: &Lean) -> Option<Shore> {
        let Lean { tilt, rise, inward } = *lean;
        let grid = if inward { &self.inward } else { &self.outward };
        let factor = if self.alone || inward {
            ONE_SIDED_RISE
        } else {
            1.0
        };
        let pile = FRAC_2_PI * factor * tilt;
        let mut shore = Shore {
            edges: [Edge::default(); MOST_EDGES],
            limits_m: [0.0; MOST_EDGES],
            count: 0,
            chine_m: 0.0,
            beam_m: 0.0,
        };
        let stations = x_m.len().min(depths_m.len()).min(MOST_STATIONS);
        let whole_m = &depths_m[..stations];
        let (mut x_m, mut depths_m) = (&x_m[..stations], whole_m);
        // How deep the bottom's line lies below where water reaches it.
        let mut over = [0.0; MOST_STATIONS];
        let mut over = &mut over[..stations];
        let mut aft_x = 0.0;
        let (mut last, mut last_at) = (None, (0, 0.0));
        let mut fore: (f64, f64) = (0.0, f64::INFINITY);
        // How deep the first line that is dry lies, less than nothing.
        let mut dry_m = f64::NEG_INFINITY;
        for j in 0..self.count {
            let (sinks, out) = (grid.row(&grid.sinks_m, j), grid.row(&grid.out_m, j));
            for (i, over) in over.iter_mut().enumerate() {
                *over = depths_m[i] - rise * (sinks[i] + pile * out[i]);
            }
            let (wet_m, first) = wet_stretches(x_m, over);
            if wet_m <= 0.0 {
                let all = whole_m.iter().zip(sinks).zip(out);
                let all = all.map(|((depth, sink), out)| depth - rise * (sink + pile * out));
                dry_m = all.fold(f64::NEG_INFINITY, f64::max);
                break;
            }
            let deepest_m = over.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            if j == 0 {
                // Tilted outward, no line is wet further forward than the lower edge.
                let last = over.iter().rposition(|o| *o > 0.0).filter(|_| pile >= 0.0);
                let looked = last.map_or(stations, |last| (last + 2).min(stations));
                over = &mut over[..looked];
                (x_m, depths_m) = (&x_m[..looked], &depths_m[..looked]);
                aft_x = if first == 0 {
                    x_m[0]
                } else {
                    let (dry, wet) = (over[first - 1], over[first]);
                    x_m[first - 1] + (x_m[first] - x_m[first - 1]) * dry / (dry - wet)
                };
            }
            let ahead = wet_m.min(fore.1);
            let end = aft_x + ahead;
            let at = x_m[1..x_m.len() - 1].partition_point(|x| *x < end);
            let f = ((end - x_m[at]) / (x_m[at + 1] - x_m[at])).clamp(0.0, 1.0);
            let out = (out[at] + (out[at + 1] - out[at]) * f).max(fore.0);
            let edge = Edge {
                half_beam_m: out,
                ahead_m: ahead,
                angle_rad: 0.0,
                deadrise_rad: self.deadrise_rad(grid, (at, f), j, tilt),
                held: grid.leaves[j],
            };
            shore.push(edge, self.limit(grid, (at, f), j));
            fore = (out, ahead);
            (last, last_at) = (Some((j, deepest_m)), (at, f));
        }
        let (j, wet) = last?;
        let chine = j + 1 == self.count;
        // Between the last line that is wet anywhere and the first that is dry everywhere.
        let reaches = if chine {
            0.0
        } else {
            wet / (wet - dry_m.min(0.0)).max(1e-12)
        };
        let aft = |j: usize| grid.row(&grid.out_m, j)[0];
        let beyond = aft((j + 1).min(self.count - 1));
        let beam = aft(j) + (beyond - aft(j)) * reaches;
        shore.beam_m = beam.max(fore.0);
        let end = shore.edges[shore.count - 1];
        if chine {
            shore.edges[shore.count - 1].held = true;
            shore.chine_m = end.ahead_m;
        }
        let next = self.deadrise_rad(grid, (0, 0.0), (j + 1).min(self.count - 1), tilt);
        let edge = Edge {
            half_beam_m: shore.beam_m,
            ahead_m: 0.0,
            held: false,
            deadrise_rad: end.deadrise_rad + (next - end.deadrise_rad) * reaches,
            ..end
        };
        shore.push(edge, self.limit(grid, last_at, j));
        (shore.edges[0].ahead_m > 0.0).then_some(shore)
    }

    /// Of the wedge on which water rises to a line as fast, between a station and the next.
    fn deadrise_rad(&self, grid: &Grid, (station, f): (usize, f64), line: usize, tilt: f64) -> f64 {
        // At the keel that of the next line.
        let line = line.max(1).min(self.count - 1);
        let between = |v: &[f64]| grid.between(v, line, (station, f));
        let rise = FRAC_PI_2 * between(&grid.rises_m) / between(&grid.out_m).max(1e-9);
        (rise + tilt).max(0.0).atan()
    }

    /// Distance out of the next strake, or of the chine, between a station and the next.
    fn limit(&self, grid: &Grid, at: (usize, f64), line: usize) -> f64 {
        let ahead = (line + 1..self.count).find(|k| grid.leaves[*k]);
        grid.between(&grid.out_m, ahead.unwrap_or(self.count - 1), at)
    }
}

/// Length of a line's wet stretches together, so that nothing jumps as a dry patch opens between two, m; and the first
/// station that is wet.
fn wet_stretches(x_m: &[f64], over: &[f64]) -> (f64, usize) {
    let Some(first) = over.iter().position(|o| *o > 0.0) else {
        return (0.0, 0);
    };
    let last = over.iter().rposition(|o| *o > 0.0).unwrap_or(first);
    let mut wet_m = 0.0;
    for i in first.max(1)..=(last + 1).min(over.len() - 1) {
        let (here, next) = (over[i - 1], over[i]);
        let long = x_m[i] - x_m[i - 1];
        wet_m += match (here > 0.0, next > 0.0) {
            (true, true) => long,
            (true, false) => long * here / (here - next),
            (false, true) => long * next / (next - here),
            (false, false) => 0.0,
        };
    }
    (wet_m, first)
}

impl Grid {
    /// Of a line, station by station.
    fn row<'a>(&self, of: &'a [f64], line: usize) -> &'a [f64] {
        &of[line * self.stations..][..self.stations]
    }

    /// On a line, so far from a station to the next.
    fn between(&self, of: &[f64], line: usize, (station, f): (usize, f64)) -> f64 {
        let row = self.row(of, line);
        row[station] + (row.get(station + 1).unwrap_or(&row[station]) - row[station]) * f
    }

    /// From a row a station, as it is built, to a row a line, as it is asked.
    fn turn(&mut self, lines: usize) {
        self.stations = self.out_m.len() / lines.max(1);
        let stations = self.stations;
        let turned = |of: &[f64]| -> Vec<f64> {
            let each = (0..lines).flat_map(|j| (0..stations).map(move |i| (i, j)));
            each.map(|(i, j)| of[i * lines + j]).collect()
        };
        self.out_m = turned(&self.out_m);
        self.sinks_m = turned(&self.sinks_m);
        self.rises_m = turned(&self.rises_m);
    }

    /// One more station's section, (out, up) from its chine, which heel makes the lower edge: without heel it falls.
    fn add_turned(&mut self, section: &[[f64; 2]]) {
        for (j, point) in section.iter().enumerate() {
            let rise = reached(section, j);
            self.out_m.push(point[0]);
            self.rises_m.push(rise);
            self.sinks_m.push(ONE_SIDED_RISE * rise);
        }
    }

    /// One more station's section, (out, up) from its lower edge.
    fn add(&mut self, section: &[[f64; 2]], held: &[f64], factor: f64) {
        let (mut deepest, mut thrown) = (0.0f64, 0.0);
        for (j, point) in section.iter().enumerate() {
            let rise = reached(section, j);
            if j > 0 && held[j - 1] > 0.0 {
                // Still water stands at the strake's edge before what is outside is reached.
                let more = section[j - 1][1] - factor * rise - thrown;
                thrown += held[j - 1] * more.max(0.0);
            }
            deepest = deepest.max(factor * rise + thrown);
            self.out_m.push(point[0]);
            self.rises_m.push(rise.max(0.0));
            self.sinks_m.push(deepest);
        }
    }
}

/// `2 / pi` of the integral of the section's height over an arc of the line's distance out.
fn reached(section: &[[f64; 2]], line: usize) -> f64 {
    let far = section[line][0];
    if far <= 1e-9 {
        return 0.0;
    }
    let mut sum = 0.0;
    let mut from = (0.0f64, 1.0f64);
    for pair in section[..=line].windows(2) {
        let [a, b] = [pair[0], pair[1]];
        let sin = (b[0] / far).clamp(0.0, 1.0);
        let to = (sin.asin(), (1.0 - sin * sin).max(0.0).sqrt());
        if b[0] > a[0] {
            let slope = (b[1] - a[1]) / (b[0] - a[0]);
            let level = a[1] - slope * a[0];
            sum += level * (to.0 - from.0) + slope * far * (from.1 - to.1);
        }
        from = to;
    }
    FRAC_2_PI * sum
}

/// Lines with what is declared put in.
struct Shape {
    share: Vec<f64>,
    leaves: Vec<bool>,
    over: Vec<Vec<f64>>,
    strake: Option<usize>,
}

impl Shape {
    fn of(across: &Across, stations: usize, strake: Option<f64>) -> Self {
        let whole = across.over.len() == stations
            && across.share.len() >= 2
            && across.share.len() + 2 <= MOST_LINES;
        let mut shape = if whole {
            Self {
                share: across.share.clone(),
                leaves: across.leaves.clone(),
                over: across.over.clone(),
                strake: None,
            }
        } else {
            Self {
                share: STRAIGHT.to_vec(),
                leaves: vec![false; STRAIGHT.len()],
                over: vec![vec![0.0; STRAIGHT.len()]; stations],
                strake: None,
            }
        };
        if let Some(share) = strake {
            shape.declare(share);
        }
        shape
    }

    /// Whether a line is the strake the builder declared.
    fn declared(&self, line: usize) -> bool {
        self.strake == Some(line)
    }

    /// Puts two lines beside a declared strake's face. Strakes found on the mesh give way to it.
    fn declare(&mut self, share: f64) {
        self.leaves.fill(false);
        for u in [share, share + BESIDE] {
            let place = self.share.partition_point(|s| *s < u);
            let (a, b) = (self.share[place - 1], self.share[place]);
            let f = (u - a) / (b - a).max(1e-12);
            for over in &mut self.over {
                over.insert(place, over[place - 1] + (over[place] - over[place - 1]) * f);
            }
            self.share.insert(place, u);
            self.leaves.insert(place, u == share);
            if u == share {
                self.strake = Some(place);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn panel(width_m: f64, deadrise_deg: f64) -> Panel {
        Panel {
            width_m,
            deadrise_rad: deadrise_deg.to_radians(),
        }
    }

    fn straight(strake_m: Option<f64>) -> Lines {
        let panels = [panel(0.08, 20.0); 2];
        Lines::side(&panels, &panels, &Across::default(), strake_m)
    }

    /// A keel 0 to 1 m, trimmed so that its trailing edge lies this deep.
    fn shore(lines: &Lines, deep_m: f64, trim: f64) -> Shore {
        let x = [0.0, 1.0];
        let depths = [deep_m, deep_m - trim];
        let level = Lean {
            tilt: 0.0,
            rise: 1.0,
            inward: false,
        };
        lines.shore(&x, &depths, &level).expect("wet")
    }

    /// Wagner 1932: the wetted half-beam of a wedge is pi / 2 of its depth over its slope.
    #[test]
    fn a_wedge_is_wet_as_wagner_says() {
        let lines = straight(None);
        for deep in [0.002, 0.008, 0.015] {
            let found = shore(&lines, deep, 0.05);
            let by_hand = FRAC_PI_2 * deep / 20f64.to_radians().tan();
            assert!((found.beam_m / by_hand - 1.0).abs() < 1e-9, "{deep}");
            assert!((found.edges()[0].ahead_m - deep / 0.05).abs() < 1e-9);
        }
        let full = shore(&lines, 0.03, 0.05);
        let chine_wets = 2.0 / std::f64::consts::PI * 0.08 * 20f64.to_radians().tan();
        assert!((full.chine_m - (0.03 - chine_wets) / 0.05).abs() < 1e-9);
    }

    #[test]
    fn a_flat_beside_the_keel_is_wet_at_once() {
        let across = Across {
            share: vec![0.0, 0.25, 0.5, 0.75, 1.0],
            leaves: vec![false; 5],
            // A flat for a quarter of the width, then a straight rise to where one panel would end.
            over: vec![
                [0.0, 0.25, 0.5, 0.75, 1.0]
                    .map(|u: f64| 0.2 * ((u - 0.25f64).max(0.0) / 0.75 - u))
                    .to_vec();
                2
            ],
        };
        let panels = [Panel {
            width_m: 0.04,
            deadrise_rad: 0.2f64.atan(),
        }; 2];
        let lines = Lines::side(&panels, &panels, &across, None);
        let found = shore(&lines, 1e-5, 0.02);
        assert!(
            found.beam_m > 0.01 && found.beam_m < 0.0115,
            "{}",
            found.beam_m
        );
        assert!((found.edges()[1].ahead_m - found.edges()[0].ahead_m).abs() < 1e-9);
    }

    #[test]
    fn a_strake_holds_the_water_until_it_is_as_deep_as_its_edge() {
        let lines = straight(Some(0.03));
        let edge = 0.03 * 20f64.to_radians().tan();
        let found = shore(&lines, 0.95 * edge, 0.05);
        assert!((found.beam_m - 0.03).abs() < 5e-4, "{}", found.beam_m);
        let deeper = shore(&lines, 1.2 * edge, 0.05);
        assert!(deeper.beam_m > 0.033);
        // Smoothly: no more than the panel's own slope gives.
        let mut last = 0.0;
        for i in 0..4000 {
            let here = shore(&lines, 5e-6 * f64::from(i + 1), 0.05).beam_m;
            assert!(here - last < 5e-5, "{i}: {last} {here}");
            last = here;
        }
    }
}
