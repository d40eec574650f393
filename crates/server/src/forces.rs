//! Where a builder would draw each force.

use boat::Place;
use craft::ElementForce;
use nalgebra::Vector3;

use crate::studies::Studied;

/// The place of a force: where it is usually drawn, moved onto its line of action where that is
/// near, else the point of the line nearest to the boat's origin. Boat axes, m.
pub fn place(studied: &Studied, force: &ElementForce) -> Vector3<f64> {
    let nearest = nearest(force);
    match usual(studied, &force.name) {
        Some(usual) => on_line(studied, force, &usual),
        None => nearest,
    }
}

fn usual(studied: &Studied, name: &str) -> Option<Vector3<f64>> {
    let study = &studied.study;
    let (boat, form) = (&study.boat, &study.form);
    match name {
        "weight" => return Some(study.mass.cg_m),
        "buoyancy" => return study.rest.afloat.as_ref().map(|a| a.buoyancy_m),
        "air on hull" => {
            let [x, _] = form.outline.side_centre_m;
            return Some(Vector3::new(x, 0.0, form.outline.front_centre_z_m));
        }
        _ => {}
    }
    if let Some(surface) = form.surfaces.iter().find(|s| s.name == name) {
        return Some(Vector3::from(surface.trailing_edge_m));
    }
    let mut drives = boat.drives.iter();
    if let Some(drive) =
        drives.find(|d| name == "propeller" || name == format!("{} propeller", d.name))
    {
        return Some(vector(&drive.propeller.at));
    }
    let struts = boat.drives.iter().filter_map(|d| d.strut.as_ref());
    let blades = boat.rudders.iter().chain(&boat.fins).chain(struts);
    let blade = blades.into_iter().find(|b| b.name == name)?;
    let (sin, cos) = blade.lean_rad.value.sin_cos();
    let down = Vector3::new(0.0, sin, -cos) * (0.7 * blade.span_m.value);
    Some(vector(&blade.at) + down)
}

/// Slid along x, or along z for a force that points ahead, until the force has its own moment.
fn on_line(studied: &Studied, force: &ElementForce, usual: &Vector3<f64>) -> Vector3<f64> {
    let (f, m) = (&force.force_n, &force.moment_n_m);
    let mut at = *usual;
    if f.z.abs() > 0.3 * f.x.abs() {
        at.x = (at.z * f.x - m.y) / f.z;
    } else {
        at.z = (m.y + at.x * f.z) / f.x;
    }
    let far = (at - usual).norm();
    if far.is_finite() && far < 0.5 * studied.study.form.outline.length_m {
        at
    } else {
        *usual
    }
}

fn nearest(force: &ElementForce) -> Vector3<f64> {
    let squared = force.force_n.norm_squared();
    if squared > 0.0 {
        force.force_n.cross(&force.moment_n_m) / squared
    } else {
        Vector3::zeros()
    }
}

/// A declared place, m.
pub fn vector(place: &Place) -> Vector3<f64> {
    Vector3::from_fn(|axis, _| place[axis].value)
}
