//! How the four hull types are proportioned and fitted out: first-sketch values of the trade.
//!
//! All of it is common practice, no source, unless a line says otherwise. Lengths are shares of the hull's length, masses
//! shares of everything carried. Each value lies inside the range that builders give; what is chosen from a range is
//! then tried on the model.

use super::wish::Wish;
use crate::hull_type::HullType;

/// Where things go on one type of hull. `x` ahead of the transom, `y` to port; shares of the length.
#[derive(Debug, Clone, Copy)]
pub struct Practice {
    /// All-up mass over the cube of the length, kg/m3: where to begin the search.
    pub loading_kg_m3: f64,
    /// Least and most beam over length.
    pub beams: [f64; 2],
    /// Balance point ahead of the sponsons' trailing edges (or the transom): least, first, most.
    pub balance: [f64; 3],
    /// Middle of the motor.
    pub motor_x: f64,
    /// Middle of the controller.
    pub controller_x: f64,
    /// Middle of the rudder servo.
    pub servo_x: f64,
    /// Disc of the propeller behind the transom: 5 to 8 %.
    pub set_back: f64,
    /// Height of the shaft's end.
    pub shaft: ShaftHeight,
    /// Propeller end down, degrees.
    pub shaft_deg: f64,
    /// Leading edge of the rudder: behind the transom and to starboard.
    pub rudder: [f64; 2],
    /// Lower end of the rudder below what runs lowest.
    pub rudder_below: f64,
    /// Root of the rudder above what runs lowest.
    pub rudder_above: f64,
    /// Greatest angle of the rudder, degrees.
    pub throw_deg: f64,
    /// Fins.
    pub fins: Fins,
    /// Propellers.
    pub drives: usize,
}

/// Height of the shaft's end.
#[derive(Debug, Clone, Copy)]
pub enum ShaftHeight {
    /// This share of the way from the hull's bottom down to the sponsons'.
    OfDrop(f64),
    /// This share of the length above what runs lowest at the transom.
    AboveKeel(f64),
}

/// Fins that belong to a hull type.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fins {
    /// One, on the right sponson.
    RightSponson,
    /// A pair at the transom.
    Pair,
    /// None.
    None,
}

const THREE_POINT: Practice = Practice {
    loading_kg_m3: 10.0,
    beams: [0.42, 0.52],
    // Behind the trailing edge: 3 to 8 %.
    balance: [-0.08, -0.06, -0.03],
    motor_x: 0.45,
    controller_x: 0.32,
    servo_x: 0.16,
    set_back: 0.075,
    shaft: ShaftHeight::OfDrop(0.8),
    shaft_deg: 1.5,
    rudder: [0.062, 0.10],
    rudder_below: 0.062,
    rudder_above: 0.036,
    throw_deg: 25.0,
    fins: Fins::RightSponson,
    drives: 1,
};

const OUTRIGGER: Practice = Practice {
    loading_kg_m3: 7.0,
    beams: [0.45, 0.55],
    balance: [-0.08, -0.06, -0.03],
    motor_x: 0.333,
    controller_x: 0.20,
    servo_x: 0.095,
    set_back: 0.075,
    shaft: ShaftHeight::OfDrop(0.95),
    shaft_deg: 0.0,
    rudder: [0.066, 0.094],
    rudder_below: 0.066,
    rudder_above: 0.030,
    throw_deg: 18.0,
    fins: Fins::RightSponson,
    drives: 1,
};

const VEE: Practice = Practice {
    loading_kg_m3: 7.4,
    beams: [0.25, 0.32],
    // Ahead of the transom: 27 to 30 %, 33 % also quoted.
    balance: [0.27, 0.29, 0.33],
    motor_x: 0.20,
    controller_x: 0.16,
    servo_x: 0.07,
    set_back: 0.064,
    shaft: ShaftHeight::AboveKeel(0.008),
    shaft_deg: 0.0,
    rudder: [0.087, 0.058],
    rudder_below: 0.077,
    rudder_above: 0.027,
    throw_deg: 22.0,
    fins: Fins::Pair,
    drives: 1,
};

const CATAMARAN: Practice = Practice {
    loading_kg_m3: 7.2,
    beams: [0.30, 0.42],
    // Ahead of the transom: 30 to 35 %.
    balance: [0.30, 0.31, 0.35],
    motor_x: 0.22,
    controller_x: 0.125,
    servo_x: 0.056,
    set_back: 0.065,
    shaft: ShaftHeight::AboveKeel(0.0),
    shaft_deg: 0.0,
    rudder: [0.0775, 0.0],
    rudder_below: 0.080,
    rudder_above: 0.025,
    throw_deg: 20.0,
    fins: Fins::None,
    drives: 2,
};

/// Masses of what is carried, as shares of all of it; the rest is foam, glue and tape.
pub mod share {
    /// Motor or motors.
    pub const MOTOR: f64 = 0.19;
    /// Mount and jacket.
    pub const MOUNT: f64 = 0.055;
    /// Controller or controllers.
    pub const CONTROLLER: f64 = 0.09;
    /// Pack or packs.
    pub const PACK: f64 = 0.33;
    /// Rudder servo with its linkage.
    pub const SERVO: f64 = 0.035;
    /// Receiver in its pouch.
    pub const RECEIVER: f64 = 0.008;
    /// Coupler, cable and tube.
    pub const LINE: f64 = 0.05;
    /// Strut or struts.
    pub const STRUT: f64 = 0.033;
    /// Propeller or propellers.
    pub const PROPELLER: f64 = 0.012;
    /// Rudder, bracket and pickup.
    pub const RUDDER: f64 = 0.042;
    /// Fins, where there are any.
    pub const FIN: f64 = 0.024;
    /// Hatch.
    pub const HATCH: f64 = 0.045;
    /// Hoses and outlet.
    pub const HOSES: f64 = 0.016;
}

/// Lithium pack, kg for a cell and ampere hour: 3S 2200 mAh weigh about 175 g, 4S 5000 mAh about 480 g.
pub const PACK_KG_CELL_AH: f64 = 0.0255;
/// Of a lithium pack, kg/m3.
pub const PACK_KG_M3: f64 = 2000.0;
/// Length, width and height of a pack over the cube root of its volume.
pub const PACK_SHAPE: [f64; 3] = [2.443, 0.838, 0.489];
/// Of a motor's can, kg/m3: 36 x 60 mm weigh about 265 g.
pub const MOTOR_KG_M3: f64 = 4250.0;
/// Length of a motor over its diameter.
pub const MOTOR_SLENDER: f64 = 1.65;
/// Foam and sealed voids for each kg of boat, m3.
pub const FOAM_M3_KG: f64 = 1.1e-3;
/// Share of the space beside the parts that foam can take.
pub const FOAM_FITS: f64 = 0.75;
/// Above this a wing does something, m/s (100 km/h).
pub const WING_FROM_M_S: f64 = 100.0 / 3.6;
/// Nominal rpm, kv times 3.7 V a cell: ordinary boats 24 000 to 32 000, small riggers and straight-line boats to 45 000.
pub const NOMINAL_RPM: [f64; 2] = [15_000.0, 45_000.0];
/// Nominal voltage of a cell, V.
pub const NOMINAL_V: f64 = 3.7;
/// Speed over nominal rpm times pitch: 0.65 to 0.80 is normal.
pub const SPEED_OF_PITCH: f64 = 0.72;
/// Pitch over diameter to begin with.
pub const PITCH_RATIO: f64 = 1.4;
/// Ratings controllers are sold with, A.
pub const RATINGS_A: [f64; 12] = [
    30.0, 40.0, 60.0, 80.0, 100.0, 120.0, 150.0, 180.0, 200.0, 240.0, 300.0, 400.0,
];
/// Rating of a controller over its current on the straight: 1.5 with good water, 2 to be cautious.
pub const RATING_OVER_STRAIGHT: f64 = 1.75;

/// What a builder's hull is guessed to carry and to do while nobody said: loaded as is usual for its length, with the
/// cells that boats of that mass have and the speed its type is built for.
pub fn usual_wish(hull: HullType, length_m: f64, shell_kg: f64) -> Wish {
    let all_kg = Practice::of(hull).loading_kg_m3 * length_m.powi(3);
    let km_h = match hull {
        HullType::ThreePoint => 50.0,
        HullType::Vee | HullType::Other => 55.0,
        HullType::Outrigger | HullType::Catamaran => 75.0,
    };
    Wish {
        carry_kg: (all_kg - shell_kg).max(0.4 * all_kg),
        series: match all_kg {
            kg if kg < 1.7 => 3,
            kg if kg < 4.5 => 4,
            _ => 6,
        },
        speed_m_s: km_h / 3.6,
    }
}

impl Practice {
    /// Of a hull type; a hull that is none of the four is fitted out as a vee.
    pub const fn of(hull: HullType) -> Self {
        match hull {
            HullType::ThreePoint => THREE_POINT,
            HullType::Outrigger => OUTRIGGER,
            HullType::Catamaran => CATAMARAN,
            HullType::Vee | HullType::Other => VEE,
        }
    }
}

/// Least and most usual diameter of a propeller, m: 28 to 32 mm up to 500 mm, 34 to 38 mm to 650 mm, 38 to 45 mm to
/// 850 mm, 45 to 52 mm to 1 m, 50 to 60 mm above; each of two may be a sixth smaller (judgement).
pub fn propeller_m(hull: HullType, length_m: f64) -> [f64; 2] {
    let [least, most] = match length_m {
        l if l < 0.4 => [28.0 * l / 0.4, 32.0 * l / 0.4],
        l if l < 0.5 => [28.0, 32.0],
        l if l < 0.65 => [34.0, 38.0],
        l if l < 0.85 => [38.0, 45.0],
        l if l < 1.0 => [45.0, 52.0],
        _ => [50.0, 60.0],
    };
    let one_of_two = Practice::of(hull).drives > 1;
    let least = if one_of_two { least * 5.0 / 6.0 } else { least };
    [1e-3 * least, 1e-3 * most]
}

/// Area of a turn fin, m2: 700 to 1100 mm2 at 450 mm, 2000 to 3000 mm2 at 700 mm, 4000 mm2 at 1 m.
pub fn fin_area_m2(length_m: f64) -> f64 {
    4.0e-3 * length_m.powf(1.75)
}

/// Wall of a print, m: 0.8 to 1.2 mm up to 450 mm, to 1.6 mm at 700 mm, to 2 mm at 1 m.
pub fn wall_m(length_m: f64) -> f64 {
    (1.2e-3 + (length_m - 0.45) * 1.4e-3).clamp(0.8e-3, 2.4e-3)
}
