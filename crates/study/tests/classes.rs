//! Boats that builders tell of (common practice, no source) beside ours: plausible boats of each class, made of the
//! starter hulls by scaling, with what was assumed said. Nothing is tuned to one of them.

#[path = "../../craft/tests/docs/mod.rs"]
mod docs;
mod starter;

use boat::{Boat, Measure};
use craft::Factors;
use motion::{InTime, TopSpeed};
use study::quantity::{Detail, solve};

/// A class as builders tell of it, and the boat assumed for it.
struct Class {
    name: &'static str,
    told_km_h: f64,
    hull: &'static str,
    /// Hull length over the starter's; masses with its cube.
    scale: f64,
    cells: u32,
    propeller_mm: f64,
    pitch_ratio: f64,
    kv: f64,
    /// Motor's resistance, ohm, and current without load, A.
    motor: (f64, f64),
    /// One drive on the centreline in the place of two.
    single: bool,
    assumed: &'static str,
}

const CLASSES: [Class; 6] = [
    Class {
        name: "three-point, 3 cells, 37 mm",
        told_km_h: 79.0,
        hull: "three-point",
        scale: 0.918,
        cells: 3,
        propeller_mm: 37.0,
        pitch_ratio: 1.4,
        kv: 2830.0,
        motor: (0.015, 3.0),
        single: false,
        assumed: "413 mm; constant from speed over pitch times unloaded turns of 0.81",
    },
    Class {
        name: "catamaran, 4 cells, 45 mm",
        told_km_h: 80.0,
        hull: "catamaran",
        scale: 0.9,
        cells: 4,
        propeller_mm: 45.0,
        pitch_ratio: 1.4,
        kv: 1950.0,
        motor: (0.010, 4.0),
        single: true,
        assumed: "720 mm, one drive on the centreline",
    },
    Class {
        name: "catamaran, 6 cells, 47 mm",
        told_km_h: 98.0,
        hull: "catamaran",
        scale: 1.0,
        cells: 6,
        propeller_mm: 47.0,
        pitch_ratio: 1.4,
        kv: 1300.0,
        motor: (0.012, 4.0),
        single: true,
        assumed: "800 mm, one drive on the centreline",
    },
    Class {
        name: "vee, 4 cells, 42 mm",
        told_km_h: 68.0,
        hull: "vee",
        scale: 1.25,
        cells: 4,
        propeller_mm: 42.0,
        pitch_ratio: 1.4,
        kv: 1950.0,
        motor: (0.012, 4.0),
        single: false,
        assumed: "750 mm",
    },
    Class {
        name: "small catamaran, 3 cells, 30 mm",
        told_km_h: 66.0,
        hull: "catamaran",
        scale: 0.55,
        cells: 3,
        propeller_mm: 30.0,
        pitch_ratio: 1.4,
        kv: 3100.0,
        motor: (0.025, 2.5),
        single: true,
        assumed: "440 mm, one drive on the centreline",
    },
    Class {
        name: "outrigger, 40 x 1.6 at 31 000 rpm",
        told_km_h: 105.0,
        hull: "outrigger",
        scale: 1.0,
        cells: 4,
        propeller_mm: 40.0,
        pitch_ratio: 1.6,
        kv: 2350.0,
        motor: (0.010, 4.5),
        single: false,
        assumed: "690 mm; constant for 31 000 rpm at nine tenths of the unloaded turns",
    },
];

/// Within this of what builders tell.
const WITHIN: f64 = 0.2;

/// Every length and mass of a starter's file, but for what does not grow with a boat (walls, shafts).
fn scaled(text: &str, scale: f64) -> String {
    let times = |line: &str, unit: &str, by: f64| -> String {
        let mut words: Vec<String> = line.split(' ').map(str::to_owned).collect();
        for i in 1..words.len() {
            let (number, rest) = (words[i - 1].clone(), words[i].clone());
            let digits = number.trim_start_matches(|c: char| !c.is_ascii_digit() && c != '-');
            if !rest.starts_with(unit) {
                continue;
            }
            if let Ok(value) = digits.parse::<f64>() {
                let before = &number[..number.len() - digits.len()];
                words[i - 1] = format!("{before}{:.3}", value * by);
            }
        }
        words.join(" ")
    };
    let kept = [
        "wall",
        "top_bottom",
        "coating",
        "edge_radius",
        "diameter",
        "boom",
    ];
    let lines = text.lines().map(|line| match line {
        _ if kept.iter().any(|k| line.starts_with(k)) => line.to_owned(),
        _ if line.starts_with("mass") => times(line, "g", scale.powi(3)),
        _ => times(line, "mm", scale),
    });
    lines.collect::<Vec<_>>().join("\n")
}

fn built(class: &Class) -> Boat {
    let text = boat::template(class.hull, "Test").expect("a starter hull");
    // Boats that are told of are moulded or painted.
    let text = text.replacen("[hull]\n", "[hull]\nfinish = \"painted\"\n", 1);
    let mut boat = starter::File::of(scaled(&text, class.scale)).declared;
    if class.single {
        // Half of what is there twice, and one of what is left.
        let twins = ["Left motor", "Right motor", "Left battery", "Right battery"];
        for part in &mut boat.parts {
            let both = twins.contains(&part.name.as_str());
            if both || ["Controllers", "Struts", "Propellers"].contains(&part.name.as_str()) {
                part.mass_kg.value *= 0.5;
            }
        }
        boat.drives.truncate(1);
        let drive = &mut boat.drives[0];
        drive.propeller.at[1].value = 0.0;
        if let Some(strut) = &mut drive.strut {
            strut.at[1].value = 0.0;
        }
    }
    for drive in &mut boat.drives {
        drive.battery.series = class.cells;
        drive.propeller.diameter_m.value = 1e-3 * class.propeller_mm;
        drive.propeller.pitch_ratio.value = class.pitch_ratio;
        drive.motor.kv_rad_s_v = Measure::given(class.kv * std::f64::consts::TAU / 60.0);
        drive.motor.resistance_ohm.value = class.motor.0;
        drive.motor.no_load_current_a.value = class.motor.1;
    }
    boat
}

#[test]
fn classes_run_about_as_fast_as_builders_tell() {
    let mut table = String::from(
        "| class | told, km/h | ours, km/h | off | ours: mass, g | A | rpm | slip, % | assumed |\n|---|---|---|---|---|---|---|---|---|\n",
    );
    let mut near = 0;
    for class in &CLASSES {
        let boat = built(class);
        let form = starter::form(&boat);
        let mass = craft::mass::mass_properties(&boat, &form).expect("weights");
        let solved = solve(&boat, &form, &mass, &Factors::default(), Detail::Rough(24));
        let solved = solved.expect("it floats");
        let grams = 1e3 * mass.mass_kg;
        let Some(top) = &solved.curve.top else {
            let why = solved
                .curve
                .no_top
                .map_or_else(String::new, |w| w.to_string());
            let over = match &solved.full_throttle {
                Some(TopSpeed::Unsteady {
                    in_time: InTime::Over(words),
                    ..
                }) => format!("; from rest {words}"),
                _ => String::new(),
            };
            table.push_str(&format!(
                "| {} | {:.0} | none: {why}{over} | | {grams:.0} | | | | {} |\n",
                class.name, class.told_km_h, class.assumed
            ));
            continue;
        };
        let ours = 3.6 * top.speed_m_s;
        let off = ours / class.told_km_h - 1.0;
        near += usize::from(off.abs() <= WITHIN);
        let drive = &top.drives[0];
        table.push_str(&format!(
            "| {} | {:.0} | {ours:.0} | {:+.0} % | {grams:.0} | {:.0} | {:.0} | {:.0} | {} |\n",
            class.name,
            class.told_km_h,
            100.0 * off,
            drive.current_a,
            drive.shaft_rad_s * 60.0 / std::f64::consts::TAU,
            100.0 * drive.slip,
            class.assumed
        ));
    }
    assert!(
        2 * near >= CLASSES.len(),
        "{near} of them within a fifth:\n{table}"
    );
    docs::keep_current("classes", &table);
}
