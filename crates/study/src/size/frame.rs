//! What a hull offers whoever fits it out: its pads, its room, its deck. Found on any form, so that a starter hull and
//! a builder's own mesh are fitted out by the same rules.

use form::{COLUMN_CELLS, EnvelopeKind, Form, RunningSurface, Side};

use crate::hull_type::HullType;

/// Left between a part and the shell, m: a wall and a strip of tape.
const CLEAR_M: f64 = 2e-3;
/// Points along and across under which a part's floor is looked for.
const UNDER: [usize; 2] = [5, 3];

/// A hull to be fitted out.
pub struct Frame<'f> {
    form: &'f Form,
    /// Which practice it follows.
    pub hull: HullType,
    /// Ahead of the transom, m.
    pub length_m: f64,
    /// Greatest, m.
    pub beam_m: f64,
    half_cell_m: [f64; 2],
}

/// A stretch from floor to deck, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Room {
    /// Upper side of the bottom.
    pub floor_m: f64,
    /// Underside of the deck.
    pub deck_m: f64,
}

impl Room {
    /// m.
    pub fn height_m(self) -> f64 {
        self.deck_m - self.floor_m
    }

    /// So far up, 0 at the floor.
    pub fn at(self, share: f64) -> f64 {
        self.floor_m + share * self.height_m()
    }
}

impl<'f> Frame<'f> {
    /// `hull` says which practice; its own type where it is one of the four.
    pub fn new(form: &'f Form, hull: HullType) -> Self {
        let (low, high) = form.envelope.bounds().unwrap_or_default();
        let half = |axis: usize| 0.5 * (high[axis] - low[axis]) / COLUMN_CELLS[axis] as f64;
        Self {
            form,
            hull,
            length_m: high.x.max(0.5 * (high.x - low.x)),
            beam_m: high.y - low.y,
            half_cell_m: [half(0), half(1)],
        }
    }

    /// Solid, shell or open at the top.
    pub fn kind(&self) -> EnvelopeKind {
        self.form.kind
    }

    /// Of the surfaces on one side that end in a step, or at the transom where none does, the widest.
    fn pad(&self, side: Side) -> Option<&'f RunningSurface> {
        let on = |step: bool| {
            let all = self.form.surfaces.iter();
            all.filter(move |s| s.side == side && s.step == step)
                .max_by(|a, b| a.beam_m.value.total_cmp(&b.beam_m.value))
        };
        on(true).or_else(|| on(false))
    }

    /// Both sponsons' or hulls' bottoms, port and starboard.
    pub fn pads(&self) -> Option<[&'f RunningSurface; 2]> {
        self.pad(Side::Port)
            .zip(self.pad(Side::Starboard))
            .map(<[_; 2]>::from)
    }

    /// x and z of the trailing edge of what carries it ahead: the sponsons', else the transom's.
    pub fn trailing_edge_m(&self) -> [f64; 2] {
        let mean = |axis: usize, pads: [&RunningSurface; 2]| {
            0.5 * (pads[0].trailing_edge_m[axis] + pads[1].trailing_edge_m[axis])
        };
        match (self.hull, self.pads()) {
            (HullType::Vee, _) | (_, None) => {
                let mut all = self.form.surfaces.iter();
                let keel = all.find(|s| s.side == Side::Centre && !s.step);
                [0.0, keel.map_or(0.0, |s| s.trailing_edge_m[2])]
            }
            (_, Some(pads)) => [mean(0, pads), mean(2, pads)],
        }
    }

    /// Middle of the port pad or hull, m from the centreline, and its width.
    pub fn pad_across_m(&self) -> [f64; 2] {
        let Some([port, _]) = self.pads() else {
            return [0.3 * self.beam_m, 0.1 * self.beam_m];
        };
        let at = &port.stations[0];
        let inner = at.keel_y_m - at.starboard.width_m;
        let outer = at.keel_y_m + at.port.width_m;
        [0.5 * (inner + outer), outer - inner]
    }

    /// From bottom to deck over a place; the tallest stretch where there are several.
    pub fn room(&self, x_m: f64, y_m: f64) -> Option<Room> {
        let c = &self.form.columns;
        let near = |i: &usize| {
            (c.x_m[*i] - x_m).abs() <= 1.6 * self.half_cell_m[0]
                && (c.y_m[*i] - y_m).abs() <= 1.6 * self.half_cell_m[1]
        };
        (0..c.len())
            .filter(near)
            .map(|i| Room {
                floor_m: c.bottom_m[i],
                deck_m: c.top_m[i],
            })
            .max_by(|a, b| a.height_m().total_cmp(&b.height_m()))
    }

    /// Room for a box of this length and width about a place, walls left out; nothing where part of it is over water.
    pub fn room_for(&self, x_m: f64, y_m: f64, length_m: f64, width_m: f64) -> Option<Room> {
        let mut all = Room {
            floor_m: f64::NEG_INFINITY,
            deck_m: f64::INFINITY,
        };
        for n in 0..UNDER[0] * UNDER[1] {
            let share = |k: usize, of: usize| k as f64 / (of - 1) as f64 - 0.5;
            let x = x_m + length_m * share(n / UNDER[1], UNDER[0]);
            let y = y_m + width_m * share(n % UNDER[1], UNDER[1]);
            let here = self.room(x, y)?;
            all.floor_m = all.floor_m.max(here.floor_m + CLEAR_M);
            all.deck_m = all.deck_m.min(here.deck_m - CLEAR_M);
        }
        (all.height_m() > 0.0).then_some(all)
    }

    /// How far out from the centreline the middle body reaches at a station, m.
    pub fn half_width_m(&self, x_m: f64) -> f64 {
        let step = 2.0 * self.half_cell_m[1];
        let mut y = 0.0;
        while y + step < 0.5 * self.beam_m && self.room(x_m, y + step).is_some() {
            y += step;
        }
        y
    }

    /// Volume and middle of the columns that `within` picks by x and y.
    pub fn space(&self, within: impl Fn(f64, f64) -> bool) -> Option<(f64, [f64; 3])> {
        let c = &self.form.columns;
        let (mut volume, mut moment) = (0.0, [0.0; 3]);
        for i in (0..c.len()).filter(|i| within(c.x_m[*i], c.y_m[*i])) {
            let own = c.area_m2[i] * (c.top_m[i] - c.bottom_m[i]);
            volume += own;
            let middle = 0.5 * (c.top_m[i] + c.bottom_m[i]);
            for (sum, at) in moment.iter_mut().zip([c.x_m[i], c.y_m[i], middle]) {
                *sum += own * at;
            }
        }
        (volume > 0.0).then(|| (volume, moment.map(|m| m / volume)))
    }
}
