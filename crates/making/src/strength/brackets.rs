//! Brackets of blades and feet of motors: screws in the bare wall.
//!
//! A strut carries the propeller's push at its end, a blade its side force at three fifths of its span, the feet of a motor
//! its torque and its own weight when the boat lands. The stays of a wing pull straight at theirs; what the stays themselves
//! bear is not known, for nobody tells what they are.

use boat::{Blade, Drive, Wing};
use laws::bolted_bracket::{Bracket, bolted_bracket};
use laws::printed_strength::Plastic;

use super::details::{force, push};
use super::{Asking, Margin, Of, SHEAR, Seen, Strength, bending, shear_pa};
use crate::keep_off::is_motor;

/// Four 3 mm screws with 7 mm washers, 20 mm apart, in the bare wall (judgement: brackets are not described).
const SCREWS: f64 = 4.0;
const APART_M: f64 = 0.02;
const SCREW_M: f64 = 0.003;
const WASHER_M: f64 = 0.007;
/// Half the height of a motor whose size nobody gave, m (judgement).
const MOTOR_M: f64 = 0.018;

/// What pulls at one.
struct Pull {
    place: String,
    load: &'static str,
    x_m: f64,
    force_n: f64,
    arm_m: f64,
    /// Along the wall, so that screws bear on their holes; not straight off it.
    along: bool,
}

/// Adds those of every blade and drive.
pub(super) fn add(asking: &Asking<'_>, plastic: &'static Plastic, seen: &Seen, out: &mut Strength) {
    let boat = asking.boat;
    let struts = boat.drives.iter().filter_map(|d| d.strut.as_ref());
    let blades = boat.fins.iter().chain(&boat.rudders).chain(struts);
    let aside = blades.filter_map(|blade| sideways(blade, seen));
    let pushed = boat.drives.iter().filter_map(|drive| pushes(drive, seen));
    let turned = boat
        .drives
        .iter()
        .filter_map(|drive| turns(asking, drive, seen));
    let lifted = boat.wings.iter().filter_map(|wing| lifts(wing, seen));
    for pull in aside.chain(pushed).chain(turned).chain(lifted) {
        held(asking, plastic, pull, out);
    }
}

fn sideways(blade: &Blade, seen: &Seen) -> Option<Pull> {
    Some(Pull {
        place: format!("bracket of the {}", blade.name),
        load: "largest side force",
        x_m: blade.at[0].value,
        force_n: force(seen, &blade.name)?,
        arm_m: 0.6 * blade.span_m.value,
        along: true,
    })
}

fn pushes(drive: &Drive, seen: &Seen) -> Option<Pull> {
    let strut = drive.strut.as_ref()?;
    let propeller = match drive.name.is_empty() {
        true => "propeller".to_owned(),
        false => format!("{} propeller", drive.name),
    };
    Some(Pull {
        place: format!("bracket of the {}", strut.name),
        load: "propeller's largest push",
        x_m: strut.at[0].value,
        force_n: force(seen, &propeller)?,
        arm_m: strut.span_m.value,
        along: true,
    })
}

/// Each of its screws takes its share of a pull square to the wall: as at an arm of half the way between their rows.
fn lifts(wing: &Wing, seen: &Seen) -> Option<Pull> {
    Some(Pull {
        place: format!("feet of the {}", wing.name),
        load: bending::WING,
        x_m: wing.at[0].value - 0.5 * wing.chord_m.value,
        force_n: force(seen, &wing.name)?,
        arm_m: 0.5 * APART_M,
        along: false,
    })
}

/// The motor's weight acts at half its height over its feet; its torque is as much on the arm.
fn turns(asking: &Asking<'_>, drive: &Drive, seen: &Seen) -> Option<Pull> {
    let motors = || {
        let parts = asking.boat.parts.iter();
        parts.filter(|p| is_motor(&p.name))
    };
    let drives = asking.boat.drives.len().max(1) as f64;
    let carried: f64 = motors().map(|p| p.mass_kg.value).sum::<f64>() / drives;
    let mass_kg = drive.motor.mass_kg.unwrap_or(carried);
    let arm_m = drive.motor.diameter_m.map_or(MOTOR_M, |d| 0.5 * d);
    let torque_n_m = seen.current_a / drive.motor.kv_rad_s_v.value;
    let weight_n = mass_kg * seen.up_m_s2;
    (torque_n_m > 0.0).then(|| Pull {
        place: match drive.name.is_empty() {
            true => "feet of the motor".to_owned(),
            false => format!("feet of the {} motor", drive.name),
        },
        load: "motor's torque and its own weight on landing",
        x_m: motors().next().map_or(0.0, |p| p.at[0].value),
        force_n: weight_n + torque_n_m / arm_m,
        arm_m,
        along: true,
    })
}

fn held(asking: &Asking<'_>, plastic: &'static Plastic, pull: Pull, out: &mut Strength) {
    let Ok(b) = bolted_bracket(&Bracket {
        force_n: pull.force_n,
        arm_m: pull.arm_m,
        screws: SCREWS,
        spacing_m: APART_M,
        screw_m: SCREW_M,
        washer_m: WASHER_M,
        wall_m: asking.boat.hull.print.wall_m.value,
    }) else {
        return;
    };
    let bearing = match pull.along {
        true => b.bearing_pa * SHEAR / 1.5,
        false => 0.0,
    };
    push(
        out,
        plastic,
        Margin {
            of: Of::Bracket,
            place: pull.place,
            load: pull.load,
            x_m: pull.x_m,
            stress_pa: b.pull_through_pa.max(bearing),
            strength_pa: shear_pa(plastic),
            spread: 0.0,
            of_wall: None,
        },
    );
}
