//! The hull as a beam: sections, what lies where, and what a load does to each station.

use boat::Boat;
use craft::MassProperties;
use form::Form;
use form::sections::{Along, sections};
use form::solid::Region;

use crate::section::{Section, Wall, rod_at};
use laws::constants::GRAVITY_M_S2;

/// Stations along the hull.
const STATIONS: usize = 48;
/// Of printed plastics, for how much they shear; 0.33 to 0.4 (see `laws::plate`).
const POISSON: f64 = 0.36;

/// The hull's sections and the boat's mass along x, in cells of even length.
#[derive(Debug, Clone)]
pub struct Girder {
    /// Middle of each cell, m.
    pub x_m: Vec<f64>,
    /// m.
    pub cell_m: f64,
    /// Of the body that carries the boat there: sponsons that stand apart are left out.
    pub sections: Vec<Section>,
    /// Everything carried in the cell, kg.
    pub mass_kg: Vec<f64>,
}

/// An upward force at a place along the hull.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Push {
    /// m.
    pub x_m: f64,
    /// N.
    pub up_n: f64,
}

impl Girder {
    /// Of a boat; `wall_modulus_pa` weighs its rods.
    #[must_use]
    pub fn of(boat: &Boat, form: &Form, mass: &MassProperties, wall_modulus_pa: f64) -> Self {
        let mesh = form.walls.as_deref().unwrap_or(&form.envelope);
        let (low, high) = form.envelope.bounds().unwrap_or_default();
        let cell = (high.x - low.x) / STATIONS as f64;
        let x: Vec<f64> = (0..STATIONS)
            .map(|i| low.x + (i as f64 + 0.5) * cell)
            .collect();
        let wall = match form.walls {
            Some(_) => Wall::Modelled,
            None => Wall::Sliced(boat.hull.print.wall_m.value),
        };
        let cuts = sections(mesh, Along::X, &x);
        let mut all = Vec::with_capacity(STATIONS);
        let mut shell = Vec::with_capacity(STATIONS);
        for (cut, x) in cuts.iter().zip(&x) {
            let region = Region::of(cut, Along::X);
            let carrying = carrying(&region);
            let rods: Vec<_> = boat
                .making
                .rods
                .iter()
                .filter_map(|r| rod_at(r, *x, wall_modulus_pa))
                .collect();
            all.push(Section::of(&carrying, wall).with_rods(&rods));
            // The shell's mass follows the outline of everything there.
            shell.push(region.rings().iter().map(|r| perimeter(r)).sum::<f64>());
        }
        let mut girder = Self {
            mass_kg: vec![0.0; STATIONS],
            sections: all,
            cell_m: cell,
            x_m: x,
        };
        girder.load(boat, mass, &shell, low.x);
        girder
    }

    fn load(&mut self, boat: &Boat, mass: &MassProperties, shell: &[f64], low_x: f64) {
        let outline: f64 = shell.iter().sum();
        for item in &mass.items {
            let part = boat.parts.iter().find(|p| p.name == item.name);
            if let Some(part) = part {
                let half = (0.5 * part.size_m[0]).max(0.5 * self.cell_m);
                self.spread(item.mass_kg, item.at_m.x - half, item.at_m.x + half, low_x);
            } else {
                for (cell, s) in self.mass_kg.iter_mut().zip(shell) {
                    *cell += item.mass_kg * s / outline.max(1e-12);
                }
            }
        }
    }

    /// Mass over a stretch; what lies off the ends goes to the end cells.
    fn spread(&mut self, mass: f64, from: f64, to: f64, low_x: f64) {
        let last = self.mass_kg.len() - 1;
        let cell = |x: f64| (((x - low_x) / self.cell_m).floor().max(0.0) as usize).min(last);
        let (a, b) = (cell(from), cell(to));
        let each = mass / (b - a + 1) as f64;
        self.mass_kg[a..=b].iter_mut().for_each(|m| *m += each);
    }

    /// Whole mass and its middle, as the cells have it.
    fn balance(&self) -> (f64, f64, f64) {
        let m: f64 = self.mass_kg.iter().sum();
        let x = self
            .mass_kg
            .iter()
            .zip(&self.x_m)
            .map(|(m, x)| m * x)
            .sum::<f64>()
            / m;
        let i = self
            .mass_kg
            .iter()
            .zip(&self.x_m)
            .map(|(m, p)| m * (p - x).powi(2))
            .sum();
        (m, x, i)
    }

    /// Moment at each station under pushes, the boat free in the air and carried by its own inertia:
    /// each cell's mass answers with the acceleration the pushes give it there.
    #[must_use]
    pub fn in_the_air(&self, pushes: &[Push]) -> Vec<f64> {
        let (mass, middle, inertia) = self.balance();
        let up: f64 = pushes.iter().map(|p| p.up_n).sum();
        let turn: f64 = pushes.iter().map(|p| p.up_n * (p.x_m - middle)).sum();
        let weight = |i: usize| {
            let a = up / mass + turn / inertia * (self.x_m[i] - middle);
            self.mass_kg[i] * a
        };
        self.moments(pushes, &weight)
    }

    /// What carries `times` its weight at two places.
    #[must_use]
    pub fn carried_at(&self, at: [f64; 2], times: f64) -> [Push; 2] {
        let (mass, middle, _) = self.balance();
        let weight = times * mass * GRAVITY_M_S2;
        let ahead = weight * (middle - at[0]) / (at[1] - at[0]);
        [(at[0], weight - ahead), (at[1], ahead)].map(|(x_m, up_n)| Push { x_m, up_n })
    }

    /// Moment at each station, carried at two places under `times` its weight.
    #[must_use]
    pub fn held(&self, at: [f64; 2], times: f64) -> Vec<f64> {
        let pushes = self.carried_at(at, times);
        self.moments(&pushes, &|i| times * self.mass_kg[i] * GRAVITY_M_S2)
    }

    /// How far each station stands above the line through the first and the last, bent and sheared by `moment`, m.
    /// Frames keep their shape: panels that bend of their own are not in it.
    #[must_use]
    pub fn bow_m(&self, moment: &[f64], modulus_pa: f64) -> Vec<f64> {
        let stiff = |i: usize| modulus_pa * self.sections[i].up_m4.max(1e-18);
        let shear_modulus = 0.5 * modulus_pa / (1.0 + POISSON);
        let area = |i: usize| shear_modulus * self.sections[i].shear_m2.max(1e-12);
        let mut rise = vec![0.0; moment.len()];
        let mut slope = 0.0;
        for i in 1..moment.len() {
            let next =
                slope + 0.5 * self.cell_m * (moment[i - 1] / stiff(i - 1) + moment[i] / stiff(i));
            // A moment that grows is a shear force.
            let sheared = 2.0 * (moment[i] - moment[i - 1]) / (area(i - 1) + area(i));
            rise[i] = rise[i - 1] + 0.5 * self.cell_m * (slope + next) - sheared;
            slope = next;
        }
        let last = moment.len() - 1;
        let end = rise[last] / last as f64;
        (0..=last).map(|i| rise[i] - end * i as f64).collect()
    }

    /// Sum over everything behind a station of force times its distance to it.
    fn moments(&self, pushes: &[Push], weight: &dyn Fn(usize) -> f64) -> Vec<f64> {
        self.x_m
            .iter()
            .map(|x| {
                let push: f64 = pushes
                    .iter()
                    .filter(|p| p.x_m < *x)
                    .map(|p| p.up_n * (x - p.x_m))
                    .sum();
                let down: f64 = (0..self.x_m.len())
                    .take_while(|i| self.x_m[*i] < *x)
                    .map(|i| weight(i) * (x - self.x_m[i]))
                    .sum();
                push - down
            })
            .collect()
    }

    /// Place between stations: index of the nearest.
    #[must_use]
    pub fn nearest(&self, x_m: f64) -> usize {
        let i = ((x_m - self.x_m[0]) / self.cell_m).round().max(0.0) as usize;
        i.min(self.x_m.len() - 1)
    }
}

/// Of a section's parts, those that run through the middle of the boat; all of them where none does.
fn carrying(region: &Region) -> Region {
    let parts = region.parts();
    let middle = |r: &Region| {
        let ys = r.rings().into_iter().flatten().map(|p| p[0]);
        let (low, high) = ys.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), y| {
            (l.min(y), h.max(y))
        });
        low <= 0.0 && high >= 0.0
    };
    let mut through = parts.iter().filter(|p| middle(p));
    match through.next() {
        Some(first) => through.fold(first.clone(), |all, p| all.with(p)),
        None => region.clone(),
    }
}

fn perimeter(ring: &[[f64; 2]]) -> f64 {
    (0..ring.len())
        .map(|i| {
            let (p, q) = (ring[i], ring[(i + 1) % ring.len()]);
            (p[0] - q[0]).hypot(p[1] - q[1])
        })
        .sum()
}
