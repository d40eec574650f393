//! Forces as arrows to one scale, each on its line of action.

use craft::craft::GRAVITY_M_S2;
use craft::{ElementForce, RunningState};
use form::Form;
use nalgebra::Vector3;

use super::dimension;
use super::fitted::vector;
use super::label::Labels;
use super::view::{From, View};
use crate::node::Node;
use crate::subject::Subject;
use crate::svg::{self, Anchor, Point};
use crate::ticks::{Ticks, fixed};

/// Length of the longest arrow, drawing units.
pub const LONGEST: f64 = 92.0;
/// Smaller forces than this part of the weight are in the table only.
const SMALLEST: f64 = 0.012;

/// A force with the place a builder would draw it at.
struct Drawn {
    name: String,
    force_n: Vector3<f64>,
    at_m: Vector3<f64>,
    /// Its head is at its place, not its tail.
    pushes: bool,
}

/// Drawing units per newton, so that the greatest arrow of the profile is the longest.
pub fn scale(subject: &Subject, state: &RunningState) -> f64 {
    let all = gathered(subject, state, From::Starboard);
    let greatest = all.iter().map(|d| d.force_n.norm()).fold(1e-6, f64::max);
    LONGEST / greatest
}

/// Arrows with their names and sizes.
pub fn arrows(
    subject: &Subject,
    state: &RunningState,
    view: &View,
    per_n: f64,
    labels: &mut Labels,
) -> Node {
    let mut group = svg::group("forces");
    // From astern only what carries the boat and what pushes it sideways matters.
    let few = if view.from == From::Astern { 4.0 } else { 1.0 };
    let least = few * SMALLEST * subject.mass.mass_kg * GRAVITY_M_S2;
    let mut notes = Vec::new();
    for drawn in gathered(subject, state, view.from) {
        let (dx, dy) = view.along(&drawn.force_n);
        let size = dx.hypot(dy);
        if size < least {
            continue;
        }
        let (at, span) = (view.at(&drawn.at_m), (dx * per_n, dy * per_n));
        let (tail, tip) = if drawn.pushes {
            ((at.0 - span.0, at.1 - span.1), at)
        } else {
            (at, (at.0 + span.0, at.1 + span.1))
        };
        let way = (dx / size, dy / size);
        group.push(svg::line(
            "shaft",
            tail,
            (tip.0 - 4.0 * way.0, tip.1 - 4.0 * way.1),
        ));
        group.push(dimension::head(tip, way));
        for i in 0..=10 {
            let t = f64::from(i) / 10.0;
            let p = (tail.0 + t * (tip.0 - tail.0), tail.1 + t * (tip.1 - tail.1));
            labels.keep([p.0 - 1.0, p.1 - 1.0, p.0 + 1.0, p.1 + 1.0]);
        }
        let end = if drawn.pushes { tail } else { tip };
        notes.push((
            end,
            format!("{} {} N", drawn.name, fixed(size, places(size))),
        ));
    }
    for (end, words) in notes {
        group.push(labels.near("force-name", end, &words));
    }
    group
}

/// How far the tails of lifting forces reach below where they act.
pub fn deepest_tail(subject: &Subject, state: &RunningState, view: &View, per_n: f64) -> f64 {
    let each = gathered(subject, state, view.from);
    let tails = each.iter().filter(|d| d.pushes).map(|d| {
        let (_, dy) = view.along(&d.force_n);
        -dy * per_n
    });
    tails.fold(0.0, f64::max)
}

/// Two digits of a force in newtons, at least one decimal below 10 N.
pub fn places(size_n: f64) -> usize {
    if size_n < 1.0 { 2 } else { 1 }
}

/// A length of the drawing and the force it stands for.
pub fn scale_bar(at: Point, per_n: f64) -> Node {
    let size = Ticks::cover(0.0, 60.0 / per_n, 2).step;
    let (size, length) = match size * per_n {
        length if length > 130.0 => (size / 2.0, length / 2.0),
        length => (size, length),
    };
    let end = (at.0 + length, at.1);
    svg::group("scale-bar")
        .with(svg::line("shaft", at, (end.0 - 4.0, at.1)))
        .with(dimension::head(end, (1.0, 0.0)))
        .with(svg::text(
            "word",
            (end.0 + 6.0, at.1 + 4.0),
            Anchor::Start,
            format!("{} N", fixed(size, usize::from(size < 1.0))),
        ))
}

/// Forces to draw in a view; from the side, what both sides do together is one arrow.
fn gathered(subject: &Subject, state: &RunningState, from: From) -> Vec<Drawn> {
    let mut groups: Vec<(String, ElementForce)> = Vec::new();
    for force in &state.forces {
        let name = match from {
            From::Astern => force.name.clone(),
            _ => joint_name(&state.forces, &force.name),
        };
        match groups.iter_mut().find(|(known, _)| *known == name) {
            Some((_, sum)) => {
                sum.force_n += force.force_n;
                sum.moment_n_m += force.moment_n_m;
            }
            None => groups.push((name, force.clone())),
        }
    }
    let each = groups.into_iter();
    each.map(|(name, force)| {
        let place = usual_place(subject, &force.name);
        let surface = subject.form.surfaces.iter().any(|s| s.name == force.name);
        let thrust = force.name.ends_with("propeller");
        let at_m = match place {
            Some(place) if !thrust => on_line(&force, &place, from, subject.form),
            Some(place) => place,
            None => nearest(&force),
        };
        Drawn {
            pushes: surface || thrust || force.name == "buoyancy",
            name,
            force_n: force.force_n,
            at_m,
        }
    })
    .collect()
}

/// `left pad` and `right pad` as `pad, both sides`, when the boat has both.
fn joint_name(forces: &[ElementForce], name: &str) -> String {
    let sides = [("left ", "right "), ("right ", "left ")];
    let twin = |(own, other): (&str, &str)| {
        let plain = name.strip_prefix(own)?;
        let twin = format!("{other}{plain}");
        let found = forces.iter().any(|f| f.name == twin);
        found.then(|| format!("{plain}, both sides"))
    };
    sides
        .into_iter()
        .find_map(twin)
        .unwrap_or_else(|| name.to_owned())
}

/// Where a builder expects the force.
fn usual_place(subject: &Subject, name: &str) -> Option<Vector3<f64>> {
    let (boat, form) = (subject.boat, subject.form);
    match name {
        "weight" => return Some(subject.mass.cg_m),
        "buoyancy" => return subject.rest.afloat.as_ref().map(|a| a.buoyancy_m),
        "air on hull" => {
            let [x, _] = form.outline.side_centre_m;
            return Some(Vector3::new(x, 0.0, form.outline.front_centre_z_m));
        }
        _ => {}
    }
    if let Some(surface) = form.surfaces.iter().find(|s| s.name == name) {
        return Some(Vector3::from(surface.trailing_edge_m));
    }
    let drive = |d: &&boat::Drive| name == "propeller" || name == format!("{} propeller", d.name);
    if name.ends_with("propeller") {
        return boat
            .drives
            .iter()
            .find(drive)
            .map(|d| vector(&d.propeller.at));
    }
    let struts = boat.drives.iter().filter_map(|d| d.strut.as_ref());
    let blade = boat
        .rudders
        .iter()
        .chain(&boat.fins)
        .chain(struts)
        .find(|b| b.name == name)?;
    let (sin, cos) = blade.lean_rad.value.sin_cos();
    let down = Vector3::new(0.0, sin, -cos) * (0.7 * blade.span_m.value);
    Some(vector(&blade.at) + down)
}

/// The point of the force's line of action beside its usual place, in the plane of the view.
fn on_line(force: &ElementForce, usual: &Vector3<f64>, from: From, form: &Form) -> Vector3<f64> {
    let (f, m) = (&force.force_n, &force.moment_n_m);
    let mut at = *usual;
    match from {
        From::Astern if f.z.abs() > 0.3 * f.y.abs() => at.y = (m.x + at.z * f.y) / f.z,
        From::Astern => at.z = (at.y * f.z - m.x) / f.y,
        _ if f.z.abs() > 0.3 * f.x.abs() => at.x = (at.z * f.x - m.y) / f.z,
        _ => at.z = (m.y + at.x * f.z) / f.x,
    }
    let far = (at - usual).norm();
    if far.is_finite() && far < 0.5 * form.outline.length_m {
        at
    } else {
        *usual
    }
}

/// The point of the line of action nearest to the boat's origin.
fn nearest(force: &ElementForce) -> Vector3<f64> {
    let squared = force.force_n.norm_squared();
    if squared > 0.0 {
        force.force_n.cross(&force.moment_n_m) / squared
    } else {
        Vector3::zeros()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn twins_share_a_name_and_single_ones_keep_theirs() {
        let named = |name: &str| ElementForce {
            name: name.to_owned(),
            force_n: Vector3::zeros(),
            moment_n_m: Vector3::zeros(),
        };
        let forces = ["left pad", "right pad", "left rudder", "weight"].map(named);
        let joint = |name| joint_name(&forces, name);
        assert_eq!(joint("left pad"), "pad, both sides");
        assert_eq!(joint("right pad"), "pad, both sides");
        assert_eq!(joint("left rudder"), "left rudder");
        assert_eq!(joint("weight"), "weight");
    }

    #[test]
    fn the_line_of_action_passes_the_nearest_point() {
        let at = Vector3::new(0.2, 0.05, -0.01);
        let force_n = Vector3::new(-0.4, 0.1, 5.0);
        let force = ElementForce {
            name: String::new(),
            force_n,
            moment_n_m: at.cross(&force_n),
        };
        let off = (nearest(&force) - at).cross(&force_n).norm() / force_n.norm();
        assert!(off < 1e-12, "{off}");
    }
}
