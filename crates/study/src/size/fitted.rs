//! A hull fitted out: everything carried, each at its place by the hull type's practice, balanced with the pack.

use form::{EnvelopeKind, Form};

use super::frame::Frame;
use super::practice::{self, Fins, PACK_SHAPE, Practice, ShaftHeight, share};
use crate::hull_type::HullType;

/// Volume, m3, and its middle, m.
type Space = (f64, [f64; 3]);

/// What a boat is to do, as far as nobody has built it yet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wish {
    /// Everything but the printed hull, kg.
    pub carry_kg: f64,
    /// Cells in series of each pack.
    pub series: u32,
    /// Top speed, m/s.
    pub speed_m_s: f64,
}

/// Motor, pack and propeller of each drive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SetUp {
    /// m.
    pub propeller_m: f64,
    /// Pitch over diameter.
    pub pitch_ratio: f64,
    /// rpm per volt.
    pub kv_rpm_v: f64,
    /// The controller's rating, A.
    pub rated_a: f64,
}

impl SetUp {
    /// Whose propeller, turning as fast as builders plan, gives the wished speed; as far as motors turn.
    pub fn for_speed(wish: &Wish, propeller_m: f64) -> Self {
        let pitch_m = practice::PITCH_RATIO * propeller_m;
        let rpm = 60.0 * wish.speed_m_s / (practice::SPEED_OF_PITCH * pitch_m);
        Self::at_nominal(wish, propeller_m, rpm)
    }

    /// Whose motor turns so fast at the cells' nominal voltage, within what builders use, rpm.
    pub fn at_nominal(wish: &Wish, propeller_m: f64, rpm: f64) -> Self {
        let [low, high] = practice::NOMINAL_RPM;
        let volts = practice::NOMINAL_V * f64::from(wish.series);
        let kv = rpm.clamp(low, high) / volts;
        Self {
            propeller_m,
            pitch_ratio: practice::PITCH_RATIO,
            kv_rpm_v: (kv / 50.0).round() * 50.0,
            rated_a: practice::RATINGS_A[2],
        }
    }
}

/// How a boat is set: where it balances and how its shaft lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trim {
    /// Share of the length, of what [`Practice::balance`] is of.
    pub balance: f64,
    /// More propeller end down than practice has it, degrees.
    pub shaft_deg: f64,
}

impl Trim {
    /// As practice begins.
    pub fn first(hull: HullType) -> Self {
        Self {
            balance: Practice::of(hull).balance[1],
            shaft_deg: 0.0,
        }
    }
}

/// A thing with its mass and place.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// What a builder calls it.
    pub name: String,
    /// kg.
    pub mass_kg: f64,
    /// Its middle, boat axes, m.
    pub at_m: [f64; 3],
    /// Length, width, height, m; none for a point.
    pub size_m: Option<[f64; 3]>,
    /// Whether it is slid to balance the boat.
    pub movable: bool,
}

/// A blade in the water: leading edge at its root, m.
#[derive(Debug, Clone, PartialEq)]
pub struct Fin {
    /// What a builder calls it.
    pub name: &'static str,
    /// Leading edge at the root, m.
    pub at_m: [f64; 3],
    /// m.
    pub chord_m: f64,
    /// m.
    pub span_m: f64,
    /// Inboard at its lower end, degrees.
    pub lean_deg: f64,
}

/// One drive line's places.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// `left`, `right`, or empty for the only one.
    pub name: &'static str,
    /// Disc of the propeller, m.
    pub propeller_at_m: [f64; 3],
    /// Strut's blade, m.
    pub strut_span_m: f64,
    /// Clockwise seen from astern.
    pub right_handed: bool,
    /// Where cooling water leaves, m.
    pub outlet_m: [f64; 3],
}

/// A wing.
#[derive(Debug, Clone, PartialEq)]
pub struct Sail {
    /// Middle of the leading edge, m.
    pub at_m: [f64; 3],
    /// m.
    pub span_m: f64,
    /// m.
    pub chord_m: f64,
}

/// Everything fitted to a hull.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// Which practice.
    pub hull: HullType,
    /// What it was fitted out for.
    pub wish: Wish,
    /// Of each drive.
    pub set_up: SetUp,
    /// Ahead of the transom, m.
    pub length_m: f64,
    /// m.
    pub beam_m: f64,
    /// Everything carried.
    pub items: Vec<Item>,
    /// One for each propeller.
    pub lines: Vec<Line>,
    /// Capacity of each pack, A h.
    pub capacity_ah: f64,
    /// Can of each motor: diameter and length, m.
    pub can_m: [f64; 2],
    /// The rudder.
    pub rudder: Fin,
    /// Turn fins.
    pub fins: Vec<Fin>,
    /// A wing, for boats that are fast enough.
    pub wing: Option<Sail>,
    /// Foam: name, m3 and place.
    pub floats: Vec<(&'static str, f64, [f64; 3])>,
    /// Where water gets in first: name and place.
    pub openings: Vec<(&'static str, [f64; 3])>,
    /// Balance point wanted, m ahead of the transom.
    pub balance_m: f64,
    /// Propeller end down, degrees.
    pub shaft_deg: f64,
    /// Depth of a starter hull, m; nothing for a mesh.
    pub depth_m: Option<f64>,
    /// Rods glued in along bottom and deck: both ends, m.
    pub rods: Vec<[[f64; 3]; 2]>,
}

/// The shell's mass and its middle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shell {
    /// kg.
    pub mass_kg: f64,
    /// m.
    pub at_m: [f64; 3],
}

impl Fitted {
    /// Fits a hull out for a wish.
    pub fn out(frame: &Frame<'_>, wish: Wish, set_up: SetUp, shell: Shell, trim: Trim) -> Self {
        Fitter {
            practice: Practice::of(frame.hull),
            frame,
            wish,
            set_up,
        }
        .fitted(shell, trim)
    }

    /// What it all weighs, kg.
    pub fn carried_kg(&self) -> f64 {
        self.items.iter().map(|i| i.mass_kg).sum()
    }
}

struct Fitter<'a> {
    practice: Practice,
    frame: &'a Frame<'a>,
    wish: Wish,
    set_up: SetUp,
}

/// Names that come up again.
const PACK: &str = "Battery";
const MOTOR: &str = "Motor";
/// From the shell to the middle of a rod, m.
const ROD_M: f64 = 3e-3;
/// Between things that stand one behind the other, m.
const APART_M: f64 = 5e-3;

impl Fitter<'_> {
    fn fitted(&self, shell: Shell, trim: Trim) -> Fitted {
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
    fn sides(&self) -> Vec<f64> {
        match self.practice.drives {
            2 => {
                let [middle, _] = self.frame.pad_across_m();
                vec![middle, -middle]
            }
            _ => vec![0.0],
        }
    }

    fn l(&self, share: f64) -> f64 {
        share * self.frame.length_m
    }

    /// What runs lowest at the stern: the keel, the strips or the hull's bottom.
    fn keel_m(&self) -> f64 {
        match self.practice.shaft {
            ShaftHeight::AboveKeel(_) => self.frame.trailing_edge_m()[1],
            ShaftHeight::OfDrop(_) => 0.0,
        }
    }

    fn shaft_z(&self) -> f64 {
        match self.practice.shaft {
            ShaftHeight::OfDrop(share) => share * self.frame.trailing_edge_m()[1].min(0.0),
            ShaftHeight::AboveKeel(share) => self.keel_m() + self.l(share),
        }
    }

    /// On the floor where there is one, else at half depth.
    fn on_floor(&self, x: f64, y: f64, size: [f64; 3]) -> f64 {
        let f = self.frame;
        f.room_for(x, y, size[0], size[1]).map_or_else(
            || f.room(x, y).map_or(0.0, |r| r.at(0.5)),
            |room| room.floor_m + 0.5 * size[2],
        )
    }

    fn items(&self, can_m: [f64; 2]) -> Vec<Item> {
        let (f, p, carry) = (self.frame, &self.practice, self.wish.carry_kg);
        let sides = self.sides();
        let each = |share: f64| share * carry / sides.len() as f64;
        let point = |name: &str, share: f64, at_m: [f64; 3]| Item {
            name: name.into(),
            mass_kg: share * carry,
            at_m,
            size_m: None,
            movable: false,
        };
        let mut all = Vec::new();
        let motor_x = self.l(p.motor_x);
        let motor = [can_m[1], can_m[0], can_m[0]];
        for y in &sides {
            let at_m = [motor_x, *y, self.on_floor(motor_x, *y, motor)];
            all.push(Item {
                name: called(MOTOR, *y),
                mass_kg: each(share::MOTOR),
                at_m,
                size_m: Some(motor),
                movable: false,
            });
        }
        let motor_z = all[0].at_m[2];
        let several = sides.len() > 1;
        let plural = |one: &'static str, many: &'static str| if several { many } else { one };
        let mount = plural("Motor mount and jacket", "Motor mounts and jackets");
        all.push(point(mount, share::MOUNT, [motor_x, 0.0, motor_z - 2e-3]));
        // To port, against rudder and fin; two of them over their packs, one a side.
        let x = self.l(p.controller_x);
        let y = if several {
            0.0
        } else {
            0.45 * f.half_width_m(x)
        };
        let z = f.room(x, y).map_or(motor_z, |r| r.at(0.5));
        all.push(point(
            plural("Controller", "Controllers"),
            share::CONTROLLER,
            [x, y, z],
        ));
        let size = pack_size_m(each(share::PACK));
        for y in &sides {
            let x = motor_x + 0.5 * (motor[0] + size[0]) + APART_M + self.l(0.02);
            all.push(Item {
                name: called(PACK, *y),
                mass_kg: each(share::PACK),
                at_m: [x, *y, self.on_floor(x, *y, size)],
                size_m: Some(size),
                movable: true,
            });
        }
        let x = self.l(p.servo_x);
        let y = if several {
            0.0
        } else {
            0.4 * f.half_width_m(x)
        };
        let z = f.room(x, y).map_or(motor_z, |r| r.at(0.55));
        all.push(point("Servo and linkage", share::SERVO, [x, y, z]));
        let x = x + self.l(0.05);
        let z = f.room(x, y).map_or(motor_z, |r| r.at(0.7));
        all.push(point("Receiver", share::RECEIVER, [x, y, z]));
        let shaft_z = self.shaft_z();
        let half_way = [0.5 * self.l(p.motor_x), 0.0, 0.5 * (motor_z + shaft_z)];
        all.push(point(
            plural("Coupler, cable and tube", "Couplers, cables and tubes"),
            share::LINE,
            half_way,
        ));
        let strut = [-0.4 * self.l(p.set_back), 0.0, shaft_z + self.l(0.015)];
        all.push(point(plural("Strut", "Struts"), share::STRUT, strut));
        let propeller = [-self.l(p.set_back), 0.0, shaft_z];
        all.push(point(
            plural("Propeller", "Propellers"),
            share::PROPELLER,
            propeller,
        ));
        let rudder = self.rudder();
        let at = [
            rudder.at_m[0],
            rudder.at_m[1],
            rudder.at_m[2] - 0.2 * rudder.span_m,
        ];
        all.push(point("Rudder, bracket and pickup", share::RUDDER, at));
        let fins = self.fins();
        if let Some(first) = fins.first() {
            let n = fins.len() as f64;
            let y = fins.iter().map(|fin| fin.at_m[1]).sum::<f64>() / n;
            let at = [
                first.at_m[0] - 0.4 * first.chord_m,
                y,
                first.at_m[2] - 0.2 * first.span_m,
            ];
            let name = if fins.len() > 1 {
                "Turn fins"
            } else {
                "Turn fin and bracket"
            };
            all.push(point(name, share::FIN, at));
        }
        let x = self.l(0.5);
        let top = f.room(x, 0.0).map_or(motor_z, |r| r.deck_m);
        all.push(point("Hatch", share::HATCH, [x, 0.0, top]));
        all.push(point(
            "Hoses and outlet",
            share::HOSES,
            [self.l(p.controller_x), 0.0, motor_z],
        ));
        all
    }

    fn lines(&self) -> Vec<Line> {
        let shaft_z = self.shaft_z();
        let sides = self.sides();
        let several = sides.len() > 1;
        let line = |y: f64| Line {
            name: match several {
                true if y > 0.0 => "left",
                true => "right",
                false => "",
            },
            propeller_at_m: [-self.l(self.practice.set_back), y, shaft_z],
            strut_span_m: self.l(0.022),
            right_handed: several && y < 0.0,
            outlet_m: self.outlet(y),
        };
        sides.into_iter().map(line).collect()
    }

    /// In the side of the hull, well up, on the side the driver sees.
    fn outlet(&self, y: f64) -> [f64; 3] {
        let f = self.frame;
        let x = self.l(self.practice.controller_x);
        let side = if y < 0.0 { -1.0 } else { 1.0 };
        let out = if y == 0.0 {
            f.half_width_m(x)
        } else {
            0.5 * f.beam_m - self.l(0.012)
        };
        let z = f
            .room(x, side * out * 0.8)
            .map_or(self.l(0.06), |r| r.at(0.85));
        [x, side * out, z]
    }

    fn rudder(&self) -> Fin {
        let p = &self.practice;
        let lowest = self.frame.trailing_edge_m()[1].min(self.keel_m());
        let tip = lowest - self.l(p.rudder_below);
        let root = lowest + self.l(p.rudder_above);
        Fin {
            name: "rudder",
            at_m: [-self.l(p.rudder[0]), -self.l(p.rudder[1]), root],
            chord_m: self.l(0.0325),
            span_m: root - tip,
            lean_deg: 0.0,
        }
    }

    fn fins(&self) -> Vec<Fin> {
        let f = self.frame;
        match self.practice.fins {
            Fins::None => Vec::new(),
            Fins::RightSponson => {
                let area = practice::fin_area_m2(f.length_m);
                let chord_m = (1.06 * area).sqrt();
                let [edge, pad_z] = f.trailing_edge_m();
                // The balance point lies between its edges.
                let x = edge - self.l(0.02) + 0.1 * chord_m;
                let y = -(0.5 * f.beam_m - self.l(0.008));
                vec![Fin {
                    name: "turn fin",
                    at_m: [x, y, pad_z],
                    chord_m,
                    span_m: area / chord_m,
                    lean_deg: 15.0,
                }]
            }
            Fins::Pair => {
                let y = 0.42 * f.beam_m;
                let chine = f.room(self.l(0.02), y).map_or(0.25 * y, |r| r.floor_m);
                let fin = |name, side: f64| Fin {
                    name,
                    at_m: [0.0, side * y, chine],
                    chord_m: self.l(0.067),
                    span_m: self.l(0.027),
                    lean_deg: 0.0,
                };
                vec![fin("left fin", 1.0), fin("right fin", -1.0)]
            }
        }
    }

    fn wing(&self) -> Option<Sail> {
        let f = self.frame;
        let top = f.room(self.l(0.1), 0.0).map_or(self.l(0.12), |r| r.deck_m);
        (self.wish.speed_m_s > practice::WING_FROM_M_S).then_some(Sail {
            at_m: [self.l(0.08), 0.0, top + self.l(0.06)],
            span_m: 0.7 * f.beam_m,
            chord_m: self.l(0.09),
        })
    }

    /// As much as floats the boat swamped, or as fits: most in the bow and out at the sides.
    fn floats(&self, all_up_kg: f64) -> Vec<(&'static str, f64, [f64; 3])> {
        let f = self.frame;
        let wanted = practice::FOAM_M3_KG * all_up_kg;
        let [middle, wide] = f.pad_across_m();
        let inner = middle - 0.5 * wide;
        let l = f.length_m;
        let sides: [(&'static str, f64); 2] = [("left side", 1.0), ("right side", -1.0)];
        let mut places: Vec<(&'static str, Option<Space>)> = Vec::new();
        match f.hull {
            HullType::ThreePoint | HullType::Outrigger => {
                let sponsons = [("left sponson", 1.0), ("right sponson", -1.0)];
                places.extend(sponsons.map(|(n, s)| (n, f.space(|_, y| s * y > inner))));
                places.push(("bow", f.space(|x, y| x > 0.72 * l && y.abs() < inner)));
                places.push((
                    "under the deck",
                    f.space(|x, y| x < 0.2 * l && y.abs() < inner),
                ));
            }
            HullType::Catamaran => {
                let far = 0.55 * l;
                places.extend(
                    sides.map(|(n, s)| (n, f.space(|x, y| x > far && s * y > 0.5 * inner))),
                );
                places.push(("deck", f.space(|_, y| y.abs() < 0.5 * inner)));
            }
            HullType::Vee | HullType::Other => {
                places.push(("bow", f.space(|x, _| x > 0.7 * l)));
                let out = 0.28 * f.beam_m;
                let aft = 0.7 * l;
                places.extend(sides.map(|(n, s)| (n, f.space(|x, y| x < aft && s * y > out))));
            }
        }
        let there: f64 = places.iter().filter_map(|(_, s)| Some(s.as_ref()?.0)).sum();
        let share = (wanted / there.max(1e-9)).min(practice::FOAM_FITS);
        let filled = places.into_iter();
        filled
            .filter_map(|(name, space)| space.map(|(v, at)| (name, share * v, at)))
            .collect()
    }

    /// Four rods, two low and two under the deck, as far as they stay inside.
    fn rods(&self) -> Vec<[[f64; 3]; 2]> {
        let f = self.frame;
        let y = match self.practice.drives {
            2 => f.pad_across_m()[0],
            _ => 0.4 * f.half_width_m(self.l(0.1)),
        };
        let ends = [self.l(0.03), self.l(0.86)];
        let rooms = ends.map(|x| f.room_for(x, y, 4e-3, 8e-3));
        let [Some(aft), Some(fore)] = rooms else {
            return Vec::new();
        };
        let line = |side: f64, heights: [f64; 2]| {
            [
                [ends[0], side * y, heights[0]],
                [ends[1], side * y, heights[1]],
            ]
        };
        let low = [aft.floor_m + ROD_M, fore.floor_m + ROD_M];
        let high = [aft.deck_m - ROD_M, fore.deck_m - ROD_M];
        [1.0, -1.0]
            .into_iter()
            .flat_map(|side| [line(side, low), line(side, high)])
            .collect()
    }

    fn openings(&self) -> Vec<(&'static str, [f64; 3])> {
        let f = self.frame;
        if f.kind() == EnvelopeKind::OpenShell {
            return Vec::new();
        }
        let mut all = Vec::new();
        let x = self.l(0.35);
        if let Some(room) = f.room(x, 0.0) {
            all.push(("hatch rim", [x, 0.0, room.deck_m]));
        }
        let y = -0.5 * f.half_width_m(self.l(0.02));
        if let Some(room) = f.room(self.l(0.01), y) {
            all.push(("rudder rod", [0.0, y, room.at(0.9)]));
        }
        let sides = self.sides();
        let several = sides.len() > 1;
        all.extend(sides.into_iter().map(|y| {
            let name = match several {
                true if y > 0.0 => "left outlet",
                true => "right outlet",
                false => "water outlet",
            };
            (name, self.outlet(y))
        }));
        all
    }

    /// The pack, then motor and pack together, slid until the boat balances where it should, as far as there is room.
    fn balance(&self, fitted: &mut Fitted, shell: Shell) {
        let moment = |items: &[Item], axis: usize| -> f64 {
            shell.mass_kg * shell.at_m[axis]
                + items.iter().map(|i| i.mass_kg * i.at_m[axis]).sum::<f64>()
        };
        let all_kg = shell.mass_kg + fitted.carried_kg();
        let is = |item: &Item, what: &str| item.name.to_lowercase().ends_with(&what.to_lowercase());
        let kg = |items: &[Item], what: &str| -> f64 {
            items
                .iter()
                .filter(|i| is(i, what))
                .map(|i| i.mass_kg)
                .sum()
        };
        let (pack_kg, motor_kg) = (kg(&fitted.items, PACK), kg(&fitted.items, MOTOR));
        if pack_kg <= 0.0 {
            return;
        }
        let off = |items: &[Item]| fitted.balance_m * all_kg - moment(items, 0);
        let mut items = fitted.items.clone();
        let packs = items.iter().find(|i| is(i, PACK)).cloned();
        let motor = items.iter().find(|i| is(i, MOTOR)).cloned();
        let (Some(pack), Some(motor)) = (packs, motor) else {
            return;
        };
        let (size, can) = (
            pack.size_m.unwrap_or_default(),
            motor.size_m.unwrap_or_default(),
        );
        let fits = |x: f64| {
            let room = self.frame.room_for(x, pack.at_m[1], size[0], size[1]);
            room.is_some_and(|r| r.height_m() >= size[2])
        };
        let clear = |motor_x: f64| motor_x + 0.5 * (can[0] + size[0]) + APART_M;
        let wanted = pack.at_m[0] + off(&items) / pack_kg;
        let mut motor_x = motor.at_m[0];
        // As far forward as the pack fits.
        let step = 2e-3;
        let first = clear(motor_x);
        let mut most = first;
        while most + step < self.frame.length_m && fits(most + step) {
            most += step;
        }
        let mut x = wanted.clamp(first, most.max(first));
        let left = (wanted - x) * pack_kg;
        if left.abs() > 1e-6 {
            let mount_kg = kg(&items, "jacket") + kg(&items, "jackets");
            let together = motor_kg + mount_kg + if left < 0.0 { pack_kg } else { 0.0 };
            let reach = self.l(0.14);
            let by = (left / together).clamp(-reach, reach);
            let by = if left > 0.0 {
                by.min(x - clear(motor_x))
            } else {
                by
            };
            motor_x += by;
            if left < 0.0 {
                x += by;
            }
        }
        let across = -moment(&items, 1) / pack_kg;
        for item in &mut items {
            if is(item, PACK) {
                item.at_m[0] = x;
                if fitted.lines.len() == 1 {
                    let room = (self.frame.half_width_m(x) - 0.5 * size[1]).max(0.0);
                    item.at_m[1] = across.clamp(-room, room);
                }
                item.at_m[2] = self.on_floor(x, item.at_m[1], size);
            }
            if is(item, MOTOR) {
                item.at_m[0] = motor_x;
                item.at_m[2] = self.on_floor(motor_x, item.at_m[1], can);
            }
            if is(item, "jacket") || is(item, "jackets") {
                item.at_m[0] = motor_x;
            }
        }
        // What is left, with the controller.
        let stays = off(&items);
        let controllers = |i: &&mut Item| i.name.starts_with("Controller");
        let controller_kg = share::CONTROLLER * self.wish.carry_kg;
        let reach = self.l(0.2);
        let by = (stays / controller_kg).clamp(-reach, reach);
        (items.iter_mut().filter(controllers)).for_each(|i| i.at_m[0] += by);
        fitted.items = items;
    }
}

/// `Battery`, or `Left battery` of two.
fn called(name: &str, y: f64) -> String {
    if y == 0.0 {
        return name.to_owned();
    }
    let side = if y > 0.0 { "Left" } else { "Right" };
    format!("{side} {}", name.to_lowercase())
}

/// Diameter and length of a motor's can, m, whole millimetres.
fn can_m(mass_kg: f64) -> [f64; 2] {
    let volume = mass_kg / practice::MOTOR_KG_M3;
    let round = |x: f64| (1e3 * x).round() * 1e-3;
    let diameter = round((volume * 4.0 / (std::f64::consts::PI * practice::MOTOR_SLENDER)).cbrt());
    [diameter, round(practice::MOTOR_SLENDER * diameter)]
}

fn pack_size_m(mass_kg: f64) -> [f64; 3] {
    let edge = (mass_kg / practice::PACK_KG_M3).cbrt();
    PACK_SHAPE.map(|s| s * edge)
}

/// The shell alone, from the print's numbers.
pub fn shell(boat: &boat::Boat, form: &Form) -> Result<Shell, craft::mass::MassError> {
    let mut bare = boat.clone();
    bare.parts = Vec::new();
    let mass = craft::mass::mass_properties(&bare, form)?;
    Ok(Shell {
        mass_kg: mass.mass_kg,
        at_m: mass.cg_m.into(),
    })
}
