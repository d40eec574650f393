//! What is bought and carried, each thing where practice has it.

use super::fitted::Item;
use super::fitter::Fitter;
use super::practice::{self, PACK_SHAPE, share};

/// Names that come up again.
pub(super) const PACK: &str = "Battery";
pub(super) const MOTOR: &str = "Motor";
/// Between things that stand one behind the other, m.
pub(super) const APART_M: f64 = 5e-3;

impl Fitter<'_> {
    pub(super) fn items(&self, can_m: [f64; 2]) -> Vec<Item> {
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
}

/// `Battery`, or `Left battery` of two.
fn called(name: &str, y: f64) -> String {
    if y == 0.0 {
        return name.to_owned();
    }
    let side = if y > 0.0 { "Left" } else { "Right" };
    format!("{side} {}", name.to_lowercase())
}

fn pack_size_m(mass_kg: f64) -> [f64; 3] {
    let edge = (mass_kg / practice::PACK_KG_M3).cbrt();
    PACK_SHAPE.map(|s| s * edge)
}
