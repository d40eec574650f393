//! Every [`Measure`] of a boat by a readable path, for spreads and sensitivities.

use crate::kind::Kind;
use crate::measure::Measure;
use crate::model::{
    Battery, Blade, Boat, Controller, CoolingLoop, Drive, Hull, Motor, Place, Print, Propeller,
    Shaft,
};

pub(crate) type Visit<'f> = dyn FnMut(&str, Kind, &mut Measure) + 'f;

impl Boat {
    /// Calls `f` on every measure with its path, e.g. `part "Battery" mass` or
    /// `drive propeller pitch ratio`; always in the same order, each path once.
    pub fn visit_measures(&mut self, f: &mut dyn FnMut(&str, &mut Measure)) {
        self.visit_quantities(&mut |path, _, measure| f(path, measure));
    }

    /// The same, and what kind of quantity it is, to show it in the unit of the faces.
    pub fn visit_quantities(&mut self, f: &mut dyn FnMut(&str, Kind, &mut Measure)) {
        f(
            "water temperature",
            Kind::Temperature,
            &mut self.water.temperature_c,
        );
        f(
            "air temperature",
            Kind::Temperature,
            &mut self.air.temperature_c,
        );
        f("air headwind", Kind::Speed, &mut self.air.headwind_m_s);
        hull(&mut self.hull, f);
        for part in &mut self.parts {
            let of = format!("part \"{}\"", part.name);
            f(&format!("{of} mass"), Kind::Mass, &mut part.mass_kg);
            place(&of, &mut part.at, f);
        }
        for one in &mut self.drives {
            drive(one, f);
        }
        for (kind, blades) in [("rudder", &mut self.rudders), ("fin", &mut self.fins)] {
            for one in blades {
                blade(&numbered(kind, &one.name), one, kind == "rudder", f);
            }
        }
        for tab in &mut self.tabs {
            let of = numbered("tab", &tab.name);
            place(&of, &mut tab.at, f);
            f(&format!("{of} span"), Kind::Length, &mut tab.span_m);
            f(&format!("{of} chord"), Kind::Length, &mut tab.chord_m);
            f(&format!("{of} angle"), Kind::Angle, &mut tab.angle_rad);
        }
        for wing in &mut self.wings {
            let of = numbered("wing", &wing.name);
            place(&of, &mut wing.at, f);
            f(&format!("{of} span"), Kind::Length, &mut wing.span_m);
            f(&format!("{of} chord"), Kind::Length, &mut wing.chord_m);
            f(
                &format!("{of} incidence"),
                Kind::Angle,
                &mut wing.incidence_rad,
            );
        }
        for float in &mut self.floats {
            let of = numbered("float", &float.name);
            f(&format!("{of} volume"), Kind::Volume, &mut float.volume_m3);
            place(&of, &mut float.at, f);
        }
        for opening in &mut self.openings {
            place(&numbered("opening", &opening.name), &mut opening.at, f);
        }
        // Last, so that a drawn boat's other numbers are those it had before these were asked for.
        f("water ripple", Kind::Length, &mut self.water.ripple_m);
        for rudder in &mut self.rudders {
            let of = numbered("rudder", &rudder.name);
            f(
                &format!("{of} servo time"),
                Kind::Time,
                &mut rudder.servo_time_s,
            );
        }
    }
}

/// `fin "left"`, or just `fin` for one that bears no name of its own.
fn numbered(kind: &str, name: &str) -> String {
    if name.is_empty() || name == kind {
        kind.into()
    } else {
        format!("{kind} \"{name}\"")
    }
}

pub(crate) fn place(of: &str, at: &mut Place, f: &mut Visit<'_>) {
    for (axis, coordinate) in ["x", "y", "z"].into_iter().zip(at) {
        f(&format!("{of} {axis}"), Kind::Length, coordinate);
    }
}

fn hull(hull: &mut Hull, f: &mut Visit<'_>) {
    f("hull edge radius", Kind::Length, &mut hull.edge_radius_m);
    f("hull roughness", Kind::Length, &mut hull.roughness_m);
    print(&mut hull.print, f);
    if let Some(weighed) = &mut hull.weighed {
        f("hull weighed mass", Kind::Mass, &mut weighed.mass_kg);
        if let Some(at) = &mut weighed.at {
            place("hull weighed", at, f);
        }
    }
    for surface in &mut hull.running {
        let of = format!("running surface \"{}\"", surface.surface);
        let measures = [
            ("angle", Kind::Angle, &mut surface.angle_rad),
            ("beam", Kind::Length, &mut surface.beam_m),
            ("deadrise", Kind::Angle, &mut surface.deadrise_rad),
            ("strake", Kind::Length, &mut surface.strake_m),
            (
                "trailing edge x",
                Kind::Length,
                &mut surface.trailing_edge_x_m,
            ),
            (
                "trailing edge z",
                Kind::Length,
                &mut surface.trailing_edge_z_m,
            ),
        ];
        for (name, kind, measure) in measures {
            if let Some(measure) = measure {
                f(&format!("{of} {name}"), kind, measure);
            }
        }
    }
}

fn print(print: &mut Print, f: &mut Visit<'_>) {
    f(
        "hull print density",
        Kind::Density,
        &mut print.density_kg_m3,
    );
    f("hull print wall", Kind::Length, &mut print.wall_m);
    f(
        "hull print top and bottom",
        Kind::Length,
        &mut print.top_bottom_m,
    );
    f("hull print infill", Kind::Fraction, &mut print.infill);
    f(
        "hull print coating",
        Kind::ArealDensity,
        &mut print.coating_kg_m2,
    );
    f(
        "hull print extra",
        Kind::Fraction,
        &mut print.extra_fraction,
    );
}

pub(crate) fn drive(drive: &mut Drive, f: &mut Visit<'_>) {
    let of = numbered("drive", &drive.name);
    f(
        &format!("{of} gear ratio"),
        Kind::Number,
        &mut drive.gear_ratio,
    );
    battery(&format!("{of} battery"), &mut drive.battery, f);
    controller(&format!("{of} controller"), &mut drive.controller, f);
    motor(&format!("{of} motor"), &mut drive.motor, f);
    if let Some(line) = &mut drive.cooling {
        cooling(&format!("{of} cooling"), line, f);
    }
    shaft(&format!("{of} shaft"), &mut drive.shaft, f);
    if let Some(strut) = &mut drive.strut {
        blade(&format!("{of} strut"), strut, false, f);
    }
    if let Some(barrel) = &mut drive.barrel {
        f(
            &format!("{of} strut barrel diameter"),
            Kind::Length,
            &mut barrel.diameter_m,
        );
        f(
            &format!("{of} strut barrel length"),
            Kind::Length,
            &mut barrel.length_m,
        );
    }
    propeller(&format!("{of} propeller"), &mut drive.propeller, f);
}

fn battery(of: &str, battery: &mut Battery, f: &mut Visit<'_>) {
    f(
        &format!("{of} capacity"),
        Kind::Charge,
        &mut battery.capacity_c,
    );
    f(
        &format!("{of} cell resistance"),
        Kind::Resistance,
        &mut battery.cell_resistance_ohm,
    );
    f(
        &format!("{of} state of charge"),
        Kind::Fraction,
        &mut battery.state_of_charge,
    );
    f(
        &format!("{of} temperature"),
        Kind::Temperature,
        &mut battery.temperature_c,
    );
    f(
        &format!("{of} max temperature"),
        Kind::Temperature,
        &mut battery.max_temperature_c,
    );
}

fn cooling(of: &str, cooling: &mut CoolingLoop, f: &mut Visit<'_>) {
    place(&format!("{of} outlet"), &mut cooling.outlet, f);
    for (what, length) in [
        ("pickup", &mut cooling.pickup_m),
        ("bore", &mut cooling.bore_m),
        ("length", &mut cooling.length_m),
        ("rise", &mut cooling.rise_m),
    ] {
        f(&format!("{of} {what}"), Kind::Length, length);
    }
    f(
        &format!("{of} recovery"),
        Kind::Fraction,
        &mut cooling.recovery,
    );
}

fn controller(of: &str, controller: &mut Controller, f: &mut Visit<'_>) {
    f(
        &format!("{of} resistance"),
        Kind::Resistance,
        &mut controller.resistance_ohm,
    );
    f(&format!("{of} lead"), Kind::Length, &mut controller.lead_m);
    f(
        &format!("{of} max temperature"),
        Kind::Temperature,
        &mut controller.max_temperature_c,
    );
}

fn motor(of: &str, motor: &mut Motor, f: &mut Visit<'_>) {
    f(
        &format!("{of} kv"),
        Kind::MotorConstant,
        &mut motor.kv_rad_s_v,
    );
    f(
        &format!("{of} resistance"),
        Kind::Resistance,
        &mut motor.resistance_ohm,
    );
    f(
        &format!("{of} no-load current"),
        Kind::Current,
        &mut motor.no_load_current_a,
    );
    f(
        &format!("{of} winding temperature"),
        Kind::Temperature,
        &mut motor.winding_temperature_c,
    );
    f(
        &format!("{of} max temperature"),
        Kind::Temperature,
        &mut motor.max_temperature_c,
    );
}

fn shaft(of: &str, shaft: &mut Shaft, f: &mut Visit<'_>) {
    f(&format!("{of} angle"), Kind::Angle, &mut shaft.angle_rad);
    f(&format!("{of} toe"), Kind::Angle, &mut shaft.toe_rad);
    if let Some(efficiency) = &mut shaft.efficiency {
        f(&format!("{of} efficiency"), Kind::Fraction, efficiency);
    }
    f(&format!("{of} tube"), Kind::Length, &mut shaft.tube_m);
    f(&format!("{of} bend"), Kind::Angle, &mut shaft.bend_rad);
    f(&format!("{of} gap"), Kind::Length, &mut shaft.gap_m);
}

fn propeller(of: &str, propeller: &mut Propeller, f: &mut Visit<'_>) {
    f(
        &format!("{of} diameter"),
        Kind::Length,
        &mut propeller.diameter_m,
    );
    f(
        &format!("{of} pitch ratio"),
        Kind::Number,
        &mut propeller.pitch_ratio,
    );
    f(
        &format!("{of} area ratio"),
        Kind::Number,
        &mut propeller.area_ratio,
    );
    place(of, &mut propeller.at, f);
    f(
        &format!("{of} lift fraction"),
        Kind::Fraction,
        &mut propeller.lift_fraction,
    );
}

pub(crate) fn blade(of: &str, blade: &mut Blade, turns: bool, f: &mut Visit<'_>) {
    place(of, &mut blade.at, f);
    f(&format!("{of} chord"), Kind::Length, &mut blade.chord_m);
    f(&format!("{of} span"), Kind::Length, &mut blade.span_m);
    f(
        &format!("{of} thickness"),
        Kind::Length,
        &mut blade.thickness_m,
    );
    f(&format!("{of} lean"), Kind::Angle, &mut blade.lean_rad);
    f(&format!("{of} toe"), Kind::Angle, &mut blade.toe_rad);
    if turns {
        f(&format!("{of} throw"), Kind::Angle, &mut blade.throw_rad);
        f(&format!("{of} stock"), Kind::Length, &mut blade.stock_m);
    }
}
