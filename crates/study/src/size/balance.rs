//! The boat balanced with what it carries.

use super::aboard::{APART_M, MOTOR, PACK};
use super::fitted::{Fitted, Item, Shell};
use super::fitter::Fitter;
use super::practice::share;

impl Fitter<'_> {
    /// The pack, then motor and pack together, slid until the boat balances where it should, as far as there is room.
    pub(super) fn balance(&self, fitted: &mut Fitted, shell: Shell) {
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
