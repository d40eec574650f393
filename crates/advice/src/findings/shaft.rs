//! The shaft's whirl and wind-up, the blade's root and the tip's speed, at top speed and at the hump.

use boat::{Drive, Kind, ShaftEnds, ShaftKind};
use craft::DriveState;
use laws::blade_stress::{BladeRoot, MATERIALS as BLADES, blade_stress};
use laws::shaft_whirl::{Ends, Shaft, shaft_whirl};

use crate::finding::{Basis, Finding, Limit, Standing};
use crate::number::Number;
use study::{Study, Under};

/// Steel wire and shafts: Young's and shear modulus and density, handbook values from memory.
const STEEL: (f64, f64, f64) = (205e9, 79e9, 7850.0);
/// A cable twists this many times as far as a rod of its diameter, in the direction that winds it up
/// (judgement).
const CABLE_SOFTER: f64 = 5.0;
/// Share of the critical speed to keep below; common practice, no source.
const KEEP_BELOW: f64 = 0.7;
/// A shaft wound up further than this shortens and may pull out of its collet (judgement), rad.
const WOUND_RAD: f64 = std::f64::consts::FRAC_PI_2;
/// Root radius, chord and thickness over diameter of usual small propellers (B series, from memory).
const ROOT: (f64, f64, f64) = (0.12, 0.9, 0.035);
/// Part of a turn for which a blade of a half immersed disc works.
const WET_TURN: f64 = 0.5;
/// Tip speed up to which plastic and metal propellers are run; common practice, no source.
const TIPS_M_S: (f64, f64) = (60.0, 90.0);

const FLYING: &str = "A blade or shaft that lets go flies: stand behind the propeller's plane, never beside it, and let nobody else stand there. Unplug the pack before touching the shaft.";

pub fn findings(study: &Study, under: &Under) -> Vec<Finding> {
    let Some(top) = &under.curve.top else {
        return Vec::new();
    };
    let drives = study.boat.drives.iter().zip(&top.drives);
    drives
        .flat_map(|(drive, state)| {
            [
                whirl(drive, state),
                stub(drive, state),
                wound_up(drive, state),
                blade(drive, state),
                tip(drive, state),
            ]
        })
        .flatten()
        .collect()
}

fn of(drive: &Drive, what: &str) -> String {
    if drive.name.is_empty() {
        format!("The {what}")
    } else {
        format!("The {} drive's {what}", drive.name)
    }
}

fn speed(rad_s: f64, spread: f64) -> Number {
    Number::new(Kind::ShaftSpeed, rad_s, spread)
}

/// A critical speed held against the turns of top speed.
fn critical(name: &str, basis: Basis, number: Number, state: &DriveState) -> Finding {
    let limit = Limit::at_least(
        speed(state.shaft_rad_s / KEEP_BELOW, 0.0),
        "top speed's turns over 0.7; common practice, no source",
    );
    let standing = if number.value < state.shaft_rad_s {
        Standing::Stop
    } else {
        limit.judge(&number, Standing::Watch)
    };
    let sentence = format!(
        "{name} whirls at {number}; at top speed it turns at {}.",
        speed(state.shaft_rad_s, 0.0).plain()
    );
    Finding::new("whirl", standing, basis, sentence)
        .number(number)
        .limit(limit)
}

/// First critical speed of a wire or a straight shaft; a cable in its liner has none.
fn whirl(drive: &Drive, state: &DriveState) -> Option<Finding> {
    let shaft = &drive.shaft;
    if shaft.kind == ShaftKind::Flex {
        return None;
    }
    let found = shaft_whirl(&Shaft {
        diameter_m: shaft.diameter_m?,
        length_m: shaft.length_m?,
        modulus_pa: STEEL.0,
        density_kg_m3: STEEL.2,
        ends: match shaft.ends {
            ShaftEnds::Pinned => Ends::Pinned,
            ShaftEnds::ClampedPinned => Ends::ClampedPinned,
            ShaftEnds::Clamped => Ends::Clamped,
        },
        mass_kg: 0.0,
    })
    .ok()?;
    let number = speed(found.critical_rad_s, 0.15 * found.critical_rad_s);
    let name = of(drive, "shaft");
    Some(
        critical(&name, Basis::MeasuredElsewhere, number, state)
            .why("A straight shaft between bearings has a speed at which it bows out and thrashes. It goes with diameter over length squared: half the span, four times the speed. Add a bearing or a thicker shaft.")
            .caution(FLYING),
    )
}

/// The free end behind the last bearing, with the propeller on it.
fn stub(drive: &Drive, state: &DriveState) -> Option<Finding> {
    let shaft = &drive.shaft;
    let length_m = shaft.stub_m.filter(|l| *l > 0.0)?;
    let found = shaft_whirl(&Shaft {
        diameter_m: shaft.diameter_m?,
        length_m,
        modulus_pa: STEEL.0,
        density_kg_m3: STEEL.2,
        ends: Ends::ClampedFree,
        mass_kg: propeller_kg(drive),
    })
    .ok()?;
    let number = speed(found.critical_rad_s, 0.25 * found.critical_rad_s);
    let name = of(drive, "free end of the shaft") + " with the propeller on it";
    Some(
        critical(&name, Basis::TheoryOnly, number, state)
            .why("The end behind the last bearing bends with the propeller's mass on it, estimated from its size. It goes with one over the length to the power of one and a half: set the propeller close to the bearing.")
            .figure("propeller", Number::exact(Kind::Mass, propeller_kg(drive)))
            .caution(FLYING),
    )
}

/// Blades a fiftieth of the diameter thick and a boss of a fifth by three tenths, in its material or bronze.
fn propeller_kg(drive: &Drive) -> f64 {
    let propeller = &drive.propeller;
    let d = propeller.diameter_m.value;
    let given = propeller.material.as_deref().unwrap_or("bronze");
    let density = BLADES
        .iter()
        .find(|m| m.name.starts_with(given))
        .map_or(7600.0, |m| m.density_kg_m3);
    let quarter = std::f64::consts::FRAC_PI_4;
    let blades = 0.02 * d * propeller.area_ratio.value * quarter * d * d;
    let boss = 0.3 * d * quarter * (0.2 * d).powi(2);
    density * (blades + boss)
}

/// Twist under the torque of top speed.
fn wound_up(drive: &Drive, state: &DriveState) -> Option<Finding> {
    let (d, l) = (drive.shaft.diameter_m?, drive.shaft.length_m?);
    let polar = std::f64::consts::PI * d.powi(4) / 32.0;
    let softer = match drive.shaft.kind {
        ShaftKind::Flex => CABLE_SOFTER,
        ShaftKind::Wire | ShaftKind::Solid => 1.0,
    };
    let twist = softer * state.torque_n_m * l / (STEEL.1 * polar);
    let spread = if softer > 1.0 { 0.5 } else { 0.1 } * twist;
    let number = Number::new(Kind::Angle, twist, spread);
    let limit = Limit::at_most(
        Number::exact(Kind::Angle, WOUND_RAD),
        "judgement: beyond it a cable shortens by millimetres",
    );
    let sentence = format!("{} winds up by {number} at top speed.", of(drive, "shaft"));
    let standing = limit.judge(&number, Standing::Watch);
    Some(
        Finding::new("wind-up", standing, Basis::TheoryOnly, sentence)
            .number(number)
            .limit(limit)
            .why("Torque times length over stiffness; at the hump it is two to three times as much. A cable grows shorter as it winds: leave 1 to 2 mm between dog and strut (common practice, no source), and do not chop the throttle.")
            .caution(FLYING),
    )
}

/// Stress at the blade's root at top speed.
fn blade(drive: &Drive, state: &DriveState) -> Option<Finding> {
    let propeller = &drive.propeller;
    let given = propeller.material.as_deref()?;
    // Prints are taken with their layers across the root, the weak way.
    let across = format!("{given}-across");
    let material = BLADES
        .iter()
        .find(|m| m.name == given || m.name == across)?;
    let d = propeller.diameter_m.value;
    let stress = blade_stress(&BladeRoot {
        thrust_n: state.thrust_n,
        torque_n_m: state.torque_n_m,
        blades: f64::from(propeller.blades),
        diameter_m: d,
        shaft_rad_s: state.shaft_rad_s,
        root_radius_m: ROOT.0 * d,
        chord_m: ROOT.1 * propeller.area_ratio.value / f64::from(propeller.blades) * d,
        thickness_m: ROOT.2 * d,
        pitch_ratio: propeller.pitch_ratio.value,
        rake_m: 0.0,
        wet_turn: WET_TURN,
        material: *material,
    })
    .ok()?;
    let number = Number::new(
        Kind::Number,
        stress.safety_factor,
        0.4 * stress.safety_factor,
    );
    let limit = Limit::at_least(
        Number::exact(Kind::Number, stress.factor_to_keep),
        "strength over stress; judgement, blades are loaded once a turn",
    );
    let standing = if stress.safety_factor < 1.0 {
        Standing::Stop
    } else {
        limit.judge(&number, Standing::Watch)
    };
    let sentence = format!(
        "{} blades have {number} times the strength they need at top speed.",
        of(drive, "propeller's")
    );
    let pressure = |pa| Number::exact(Kind::Pressure, pa);
    Some(
        Finding::new("blade", standing, Basis::TheoryOnly, sentence)
            .number(number)
            .limit(limit)
            .why("Thrust and torque bend the root, rotation pulls at it; root size from usual blades. Prints are taken with layers across the root, the weak way: print blades lying flat, or buy metal. Nicks and weed ask for more.")
            .figure("bending", pressure(stress.bending_tension_pa))
            .figure("pull of rotation", pressure(stress.centrifugal_pa))
            .figure("strength", pressure(material.strength_pa))
            .caution(FLYING),
    )
}

fn tip(drive: &Drive, state: &DriveState) -> Option<Finding> {
    let tip = 0.5 * drive.propeller.diameter_m.value * state.shaft_rad_s;
    let plastic = drive
        .propeller
        .material
        .as_deref()
        .is_some_and(|m| m.starts_with("printed") || m.starts_with("moulded"));
    let most = if plastic { TIPS_M_S.0 } else { TIPS_M_S.1 };
    let number = Number::new(Kind::Speed, tip, 0.03 * tip);
    let limit = Limit::at_most(
        Number::exact(Kind::Speed, most),
        "where builders stop for this material; common practice, no source",
    );
    let standing = limit.judge(&number, Standing::Watch);
    // Worth a word only when it is near.
    (standing != Standing::Good || plastic).then(|| {
        let sentence = format!("{} tips run at {number}.", of(drive, "propeller's"));
        Finding::new("tip-speed", standing, Basis::RuleOfThumb, sentence)
            .number(number)
            .limit(limit)
            .why("Pull at the root grows with the square of tip speed, and a nick at it becomes a crack.")
            .caution(FLYING)
    })
}
