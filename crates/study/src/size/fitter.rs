//! A hull fitted out by its type's practice: what is bought in `aboard`, what is in the water in `gear`, what is built in
//! in `inside`, and the boat balanced in `balance`.

use super::fitted::{Fitted, Item, Shell};
use super::frame::Frame;
use super::practice::{self, Practice, ShaftHeight, share};
use super::wish::{SetUp, Trim, Wish};

/// One hull, being fitted out.
pub(super) struct Fitter<'a> {
    pub(super) practice: Practice,
    pub(super) frame: &'a Frame<'a>,
    pub(super) wish: Wish,
    pub(super) set_up: SetUp,
}

impl Fitter<'_> {
    pub(super) fn fitted(&self, shell: Shell, trim: Trim) -> Fitted {
        let f = self.frame;
        let carry = self.wish.carry_kg;
        let drives = self.sides().len() as f64;
        let pack_kg = share::PACK * carry / drives;
        let capacity_ah = pack_kg / (practice::PACK_KG_CELL_AH * f64::from(self.wish.series));
        let can_m = can_m(share::MOTOR * carry / drives);
        let [edge, _] = f.trailing_edge_m();
        let mut items = self.items(can_m);
        let named: f64 = items.iter().map(|i| i.mass_kg).sum();
        items.push(Item {
            name: "Foam, rods, glue and tape".into(),
            mass_kg: (carry - named).max(1e-3),
            at_m: shell.at_m,
            size_m: None,
            movable: false,
        });
        let mut fitted = Fitted {
            hull: f.hull,
            wish: self.wish,
            set_up: self.set_up,
            length_m: f.length_m,
            beam_m: f.beam_m,
            items,
            lines: self.lines(),
            capacity_ah: (10.0 * capacity_ah).round() / 10.0,
            can_m,
            rudder: self.rudder(),
            fins: self.fins(),
            wing: self.wing(),
            floats: self.floats(shell.mass_kg + carry),
            openings: self.openings(),
            balance_m: edge + trim.balance * f.length_m,
            shaft_deg: self.practice.shaft_deg + trim.shaft_deg,
            depth_m: None,
            rods: self.rods(),
        };
        self.balance(&mut fitted, shell);
        fitted
    }

    /// y of each drive line.
    pub(super) fn sides(&self) -> Vec<f64> {
        match self.practice.drives {
            2 => {
                let [middle, _] = self.frame.pad_across_m();
                vec![middle, -middle]
            }
            _ => vec![0.0],
        }
    }

    pub(super) fn l(&self, share: f64) -> f64 {
        share * self.frame.length_m
    }

    /// What runs lowest at the stern: the keel, the strips or the hull's bottom.
    pub(super) fn keel_m(&self) -> f64 {
        match self.practice.shaft {
            ShaftHeight::AboveKeel(_) => self.frame.trailing_edge_m()[1],
            ShaftHeight::OfDrop(_) => 0.0,
        }
    }

    pub(super) fn shaft_z(&self) -> f64 {
        match self.practice.shaft {
            ShaftHeight::OfDrop(share) => share * self.frame.trailing_edge_m()[1].min(0.0),
            ShaftHeight::AboveKeel(share) => self.keel_m() + self.l(share),
        }
    }

    /// On the floor where there is one, else at half depth.
    pub(super) fn on_floor(&self, x: f64, y: f64, size: [f64; 3]) -> f64 {
        let f = self.frame;
        f.room_for(x, y, size[0], size[1]).map_or_else(
            || f.room(x, y).map_or(0.0, |r| r.at(0.5)),
            |room| room.floor_m + 0.5 * size[2],
        )
    }
}

/// Diameter and length of a motor's can, m, whole millimetres.
fn can_m(mass_kg: f64) -> [f64; 2] {
    let volume = mass_kg / practice::MOTOR_KG_M3;
    let round = |x: f64| (1e3 * x).round() * 1e-3;
    let diameter = round((volume * 4.0 / (std::f64::consts::PI * practice::MOTOR_SLENDER)).cbrt());
    [diameter, round(practice::MOTOR_SLENDER * diameter)]
}
