//! The boat file of a hull fitted out: complete, commented, every part marked as assumed until somebody weighs it.

use std::fmt::Write as _;

use super::fitted::{Fin, Fitted, Line};
use super::practice::{self, Practice};
use crate::hull_type::HullType;

/// What shape the boat file names.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shape<'a> {
    /// A starter hull of the fitted length and beam.
    Starter,
    /// A mesh beside the boat file.
    Mesh(&'a str),
}

/// How sure nobody is of a part that was put in, % of its mass.
const MASS_PERCENT: f64 = 10.0;

const HEAD: &str = "\
# Lengths are measured from the middle of the transom's bottom edge:
# x forward, y to port (left), z up. Quantities carry their unit, and may carry
# a tolerance: \"38 mm ± 1 mm\" or \"175 g ± 4 %\".
#
# `assumed = true` marks what nobody weighed or measured: no finding that rests on
# it says good. Put in your own numbers and delete that line.
";

/// Writes the boat file; `asked` where somebody said what it is to carry and to do.
pub fn write(name: &str, shape: Shape<'_>, fitted: &Fitted, asked: bool) -> String {
    let mut t = String::new();
    let quoted = |s: &str| toml_string(s);
    let _ = writeln!(
        t,
        "# {}, fitted out by common practice.\n#",
        title(fitted.hull)
    );
    t.push_str(HEAD);
    let _ = writeln!(t, "\nname = {}\n", quoted(name));
    if asked {
        let _ = writeln!(
            t,
            "[wishes]\nspeed = \"{:.0} km/h\"\n",
            3.6 * fitted.wish.speed_m_s
        );
    }
    t.push_str("[water]\ntemperature = \"15 degC ± 5 degC\"\n\n[air]\ntemperature = \"18 degC ± 5 degC\"\nheadwind = \"0 km/h ± 7 km/h\"\n\n");
    hull(&mut t, shape, fitted, asked);
    if asked {
        rods(&mut t, fitted);
    }
    t.push_str("# Each thing carried, where its own middle is.\n");
    for item in &fitted.items {
        let _ = write!(
            t,
            "[[part]]\nname = {}\nassumed = true\nmass = \"{:.0} g ± {MASS_PERCENT:.0} %\"\nat = {}\n",
            quoted(&item.name),
            (1e3 * item.mass_kg).max(1.0),
            place(item.at_m, 0)
        );
        if let Some(size) = item.size_m {
            let _ = writeln!(t, "size = {}", place(size, 0));
        }
        if item.movable {
            t.push_str("movable = true\n");
        }
        t.push('\n');
    }
    for line in &fitted.lines {
        drive(&mut t, line, fitted);
    }
    blades(&mut t, fitted);
    if let Some(wing) = &fitted.wing {
        let _ = writeln!(
            t,
            "[[wing]]\nname = \"wing\"\nassumed = true\nat = {}\nspan = \"{}\"\nchord = \"{}\"\n",
            place(wing.at_m, 0),
            mm(wing.span_m, 0),
            mm(wing.chord_m, 0)
        );
    }
    t.push_str("# Foam and sealed voids: what floats the boat when its inside is full of water.\n");
    for (name, m3, at) in &fitted.floats {
        let _ = writeln!(
            t,
            "[[float]]\nname = {}\nassumed = true\nvolume = \"{:.0} ml\"\nat = {}\n",
            quoted(name),
            (1e6 * m3).max(1.0),
            place(*at, 0)
        );
    }
    if !fitted.openings.is_empty() {
        t.push_str("# Where water gets in, each at its lowest point.\n");
    }
    for (name, at) in &fitted.openings {
        let _ = writeln!(
            t,
            "[[opening]]\nname = {}\nassumed = true\nat = {}\n",
            quoted(name),
            place(*at, 0)
        );
    }
    t.truncate(t.trim_end().len());
    t.push('\n');
    t
}

const fn title(hull: HullType) -> &'static str {
    match hull {
        HullType::ThreePoint => "A three-point hydroplane",
        HullType::Outrigger => "An outrigger hydroplane",
        HullType::Vee => "A vee-bottomed single hull",
        HullType::Catamaran => "A catamaran with two motors",
        HullType::Other => "A hull",
    }
}

fn hull(t: &mut String, shape: Shape<'_>, fitted: &Fitted, asked: bool) {
    match shape {
        Shape::Starter => {
            t.push_str(
                "# A hull of your own: replace [hull.starter] by `file = \"hull.stl\"` here.\n",
            );
            t.push_str("[hull]\nfinish = \"painted\"\nedge_radius = \"0.3 mm ± 0.2 mm\"\n\n");
            t.push_str("# What is not given follows from length and beam (docs/boat-file.md).\n");
            let _ = writeln!(
                t,
                "[hull.starter]\ntype = \"{}\"\nlength = \"{}\"\nbeam = \"{}\"\n",
                fitted.hull.name(),
                mm(fitted.length_m, 0),
                mm(fitted.beam_m, 1)
            );
            if let Some(depth) = fitted.depth_m {
                t.truncate(t.trim_end().len());
                let _ = writeln!(t, "\n{} = \"{}\"\n", depth_key(fitted.hull), mm(depth, 1));
            }
            t.push_str(&running(fitted.hull, fitted.beam_m));
        }
        Shape::Mesh(file) => {
            t.push_str("# What was found in it: `skimwright hull`.\n");
            let _ = writeln!(
                t,
                "[hull]\nfile = {}\nedge_radius = \"0.3 mm ± 0.2 mm\"\n",
                toml_string(file)
            );
        }
    }
    t.push_str("# Predicts the shell's mass. Once it is printed, weigh it:\n# [hull.weighed]\n# mass = \"340 g\"\n");
    if asked {
        t.push_str(&print(fitted.length_m));
    } else {
        t.push_str("# or say how it is printed: material, wall, coating under [hull.print].\n");
    }
    t.push('\n');
}

/// Which key of a starter hull is its depth.
pub const fn depth_key(hull: HullType) -> &'static str {
    match hull {
        HullType::Outrigger => "tub_depth",
        _ => "depth",
    }
}

/// What is built onto a starter hull that its mesh leaves out: a vee's strakes, a third of the way out.
pub fn running(hull: HullType, beam_m: f64) -> String {
    match hull {
        HullType::Vee => format!(
            "# Two strakes a side; the mesh leaves them out: glue them on.\n[[hull.running]]\nsurface = \"vee bottom\"\nstrake = \"{}\"\n\n",
            mm(0.17 * beam_m, 0)
        ),
        _ => String::new(),
    }
}

/// How a hull of a length is printed.
pub fn print(length_m: f64) -> String {
    format!(
        "[hull.print]\nmaterial = \"PETG\"\nwall = \"{:.1} mm ± 0.2 mm\"\ntop_bottom = \"1 mm ± 0.2 mm\"\nhollow = true\ncoating = \"150 g/m2 ± 50 g/m2\"\nextra = \"10 % ± 5 %\"\n",
        1e3 * practice::wall_m(length_m)
    )
}

/// 2 to 4 carbon rods of 4 to 6 mm, frames each 60 to 80 mm (common practice, no source).
fn rods(t: &mut String, fitted: &Fitted) {
    let diameter = match fitted.length_m {
        l if l < 0.5 => 4,
        l if l < 0.7 => 5,
        _ => 6,
    };
    for (index, [from, to]) in fitted.rods.iter().enumerate() {
        let _ = writeln!(
            t,
            "[[rod]]\nname = \"rod {}\"\ndiameter = \"{diameter} mm\"\nfrom = {}\nto = {}\n",
            index + 1,
            place(*from, 0),
            place(*to, 0)
        );
    }
    t.push_str("[glue]\nframes = \"75 mm\"\n\n");
}

fn drive(t: &mut String, line: &Line, fitted: &Fitted) {
    let set_up = &fitted.set_up;
    t.push_str("[[drive]]\n");
    if !line.name.is_empty() {
        let _ = writeln!(t, "name = \"{}\"", line.name);
    }
    t.push_str("assumed = true\n\n");
    let _ = writeln!(
        t,
        "[drive.battery]\ncells = \"{}S\"\ncapacity = \"{:.0} mAh\"\n",
        fitted.wish.series,
        1e3 * fitted.capacity_ah
    );
    let _ = writeln!(
        t,
        "[drive.controller]\nrated_current = \"{:.0} A\"\nlead = \"100 mm ± 50 mm\"\n",
        set_up.rated_a
    );
    // 3 mm tube for small currents, 4 to 5 mm above 100 A (common practice, no source).
    let bore = if set_up.rated_a > 150.0 {
        "4.5 mm"
    } else {
        "3 mm"
    };
    let _ = writeln!(
        t,
        "# Pickup in the rudder: controller, motor, outlet where the driver sees it.\n[drive.cooling]\npickup = \"2.5 mm\"\nbore = \"{bore}\"\norder = \"controller, motor\"\noutlet = {}\n",
        place(line.outlet_m, 0)
    );
    let _ = writeln!(
        t,
        "# Resistance and no-load current are estimated from the can.\n[drive.motor]\nkv = \"{:.0} rpm/V ± 5 %\"\npoles = 4\ndiameter = \"{}\"\nlength = \"{}\"\n",
        set_up.kv_rpm_v,
        mm(fitted.can_m[0], 0),
        mm(fitted.can_m[1], 0)
    );
    let _ = writeln!(
        t,
        "# Positive is propeller end down.\n[drive.shaft]\nangle = \"{} deg ± 0.5 deg\"\ndiameter = \"{} mm\"\n",
        fitted.shaft_deg,
        shaft_mm(fitted)
    );
    let _ = writeln!(
        t,
        "[drive.strut]\nchord = \"12 mm\"\nspan = \"{}\"\nthickness = \"3 mm\"\n",
        mm(line.strut_span_m, 0)
    );
    let rotation = if line.right_handed { "right" } else { "left" };
    let _ = writeln!(
        t,
        "# Rotation as seen from astern: left is anticlockwise.\n[drive.propeller]\ndiameter = \"{}\"\npitch_ratio = \"{} ± 6 %\"\nblades = 2\nat = {}\nrotation = \"{rotation}\"\n",
        mm(set_up.propeller_m, 0),
        set_up.pitch_ratio,
        place(line.propeller_at_m, 1)
    );
}

/// Flex cable: 3.3 mm to about 1 kW, 3.8 mm to about 2 kW, 4.8 mm above (common practice, no source).
fn shaft_mm(fitted: &Fitted) -> f64 {
    let volts = practice::NOMINAL_V * f64::from(fitted.wish.series);
    match volts * fitted.set_up.rated_a / practice::RATING_OVER_STRAIGHT {
        watts if watts < 1000.0 => 3.3,
        watts if watts < 2000.0 => 3.8,
        _ => 4.8,
    }
}

fn blades(t: &mut String, fitted: &Fitted) {
    let practice = Practice::of(fitted.hull);
    let rudder = &fitted.rudder;
    // A wedge of 6 degrees.
    let thickness = 2.0 * rudder.chord_m * (0.5 * 6f64.to_radians()).tan();
    blade(t, "rudder", rudder);
    let _ = writeln!(
        t,
        "thickness = \"{}\"\nsection = \"wedge\"\nthrow = \"{} deg\"\n",
        mm(thickness, 1),
        practice.throw_deg
    );
    for fin in &fitted.fins {
        blade(t, "fin", fin);
        // 1.6 mm hard aluminium up to about 3.5 kg, 3 mm above (common practice, no source).
        let thick = if fitted.wish.carry_kg > 2.6 { 3.0 } else { 1.6 };
        // Positive leans the tip to port: inboard for a fin on the right.
        let lean = -fin.lean_deg * fin.at_m[1].signum() + 0.0;
        let _ = writeln!(t, "thickness = \"{thick} mm\"\nlean = \"{lean} deg\"\n");
    }
}

fn blade(t: &mut String, table: &str, blade: &Fin) {
    let _ = writeln!(
        t,
        "[[{table}]]\nname = \"{}\"\nassumed = true\nat = {}\nchord = \"{}\"\nspan = \"{}\"",
        blade.name,
        place(blade.at_m, 1),
        mm(blade.chord_m, 1),
        mm(blade.span_m, 1)
    );
}

fn mm(metres: f64, digits: usize) -> String {
    let factor = 10f64.powi(digits as i32);
    // No negative nought.
    let rounded = (1e3 * metres * factor).round() / factor + 0.0;
    format!("{rounded:.digits$} mm")
}

fn place(at_m: [f64; 3], digits: usize) -> String {
    let [x, y, z] = at_m.map(|m| mm(m, digits));
    format!("[\"{x}\", \"{y}\", \"{z}\"]")
}

/// As a basic TOML string.
fn toml_string(text: &str) -> String {
    let mut quoted = String::from("\"");
    for c in text.trim().chars() {
        match c {
            '"' => quoted.push_str("\\\""),
            '\\' => quoted.push_str("\\\\"),
            c if c.is_control() => {
                let _ = write!(quoted, "\\u{:04X}", c as u32);
            }
            c => quoted.push(c),
        }
    }
    quoted.push('"');
    quoted
}
