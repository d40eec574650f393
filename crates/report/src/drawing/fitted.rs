//! What is fitted, where it sits: parts, propellers, rudders, fins, wings, balance points.

use boat::{Blade, Boat, Drive, Place};
use craft::MassProperties;
use nalgebra::Vector3;

use super::label::Labels;
use super::view::{From, View};
use crate::node::Node;
use crate::svg::{self, Point};

/// A declared place as a vector, m.
pub fn vector(place: &Place) -> Vector3<f64> {
    Vector3::from_fn(|axis, _| place[axis].value)
}

/// Parts as boxes where their size is known, else as dots, numbered as in the mass table.
pub fn parts(boat: &Boat, mass: &MassProperties, view: &View, labels: &mut Labels) -> Node {
    let mut group = svg::group("parts");
    let mut tags = svg::group("tags");
    for (number, item) in mass.items.iter().enumerate() {
        let at = view.at(&item.at_m);
        let part = boat.parts.iter().find(|p| p.name == item.name);
        match part
            .map(|p| p.size_m)
            .filter(|s| s.iter().any(|l| *l > 0.0))
        {
            Some(size) => group.push(boxed(&item.at_m, size, view)),
            None => group.push(svg::circle("dot", at, 2.0)),
        }
        tags.push(labels.tag(at, &(number + 1).to_string()));
    }
    group.with(tags)
}

fn boxed(at: &Vector3<f64>, size: [f64; 3], view: &View) -> Node {
    let corners: Vec<Point> = (0..8)
        .map(|i| {
            let side = |axis: usize| if (i >> axis) & 1 == 1 { 0.5 } else { -0.5 };
            let off = Vector3::from_fn(|axis, _| side(axis) * size[axis]);
            view.at(&(at + off))
        })
        .collect();
    svg::path("part", svg::around(&wrapped(corners)))
}

/// The smallest convex outline around points (Andrew 1979).
fn wrapped(mut points: Vec<Point>) -> Vec<Point> {
    points.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let half = |points: &mut dyn Iterator<Item = Point>| {
        let mut hull: Vec<Point> = Vec::new();
        for p in points {
            while let [.., a, b] = hull[..] {
                if (b.0 - a.0) * (p.1 - a.1) - (b.1 - a.1) * (p.0 - a.0) > 1e-9 {
                    break;
                }
                hull.pop();
            }
            hull.push(p);
        }
        hull.pop();
        hull
    };
    let mut all = half(&mut points.iter().copied());
    all.extend(half(&mut points.iter().rev().copied()));
    all
}

/// Propellers, shafts, struts, rudders, fins and wings.
pub fn gear(boat: &Boat, view: &View) -> Node {
    let mut group = svg::group("gear");
    for drive in &boat.drives {
        if let Some(strut) = &drive.strut {
            group.push(blade(strut, view));
        }
        group.push(propeller(drive, view));
    }
    group = group.with_all(
        boat.rudders
            .iter()
            .chain(&boat.fins)
            .map(|b| blade(b, view)),
    );
    for wing in &boat.wings {
        let (sin, cos) = wing.incidence_rad.value.sin_cos();
        let chord = Vector3::new(-cos, 0.0, -sin) * wing.chord_m.value;
        let half = Vector3::y() * (wing.span_m.value / 2.0);
        let lead = vector(&wing.at);
        let corners = [
            lead - half,
            lead + half,
            lead + half + chord,
            lead - half + chord,
        ];
        let points: Vec<Point> = corners.iter().map(|c| view.at(c)).collect();
        group.push(svg::path("blade", svg::around(&points)));
    }
    group
}

fn blade(blade: &Blade, view: &View) -> Node {
    let root = vector(&blade.at);
    let (sin, cos) = blade.lean_rad.value.sin_cos();
    let span = Vector3::new(0.0, sin, -cos) * blade.span_m.value;
    let (toe_sin, toe_cos) = blade.toe_rad.value.sin_cos();
    let chord = Vector3::new(-toe_cos, -toe_sin, 0.0) * blade.chord_m.value;
    let corners = [root, root + chord, root + chord + span, root + span];
    let points: Vec<Point> = corners.iter().map(|c| view.at(c)).collect();
    svg::path("blade", svg::around(&points))
}

/// The disc as the eye sees it, with the shaft's line.
fn propeller(drive: &Drive, view: &View) -> Node {
    let (sin, cos) = drive.shaft.angle_rad.value.sin_cos();
    let (toe_sin, toe_cos) = drive.shaft.toe_rad.value.sin_cos();
    let axis = Vector3::new(cos * toe_cos, -cos * toe_sin, sin);
    let across = axis.cross(&Vector3::z()).normalize();
    let up = across.cross(&axis);
    let at = vector(&drive.propeller.at);
    let radius = drive.propeller.diameter_m.value / 2.0;
    let rim: Vec<Point> = (0..48)
        .map(|i| {
            let (s, c) = (f64::from(i) * std::f64::consts::TAU / 48.0).sin_cos();
            view.at(&(at + radius * (c * across + s * up)))
        })
        .collect();
    let ahead = drive
        .shaft
        .length_m
        .unwrap_or(4.0 * radius)
        .max(3.0 * radius);
    let mut group = svg::group("propeller").with(svg::path("disc", svg::around(&rim)));
    if view.from != From::Astern {
        group.push(svg::line(
            "shaft",
            view.at(&(at - axis * radius * 0.6)),
            view.at(&(at + axis * ahead)),
        ));
    }
    group
}

/// The centre of gravity: a quartered disc.
pub fn gravity(at: Point) -> Node {
    let (x, y) = at;
    const R: f64 = 6.0;
    let quarter = |sx: f64, sy: f64| {
        format!(
            "M{} {}L{} {}A{R} {R} 0 0 1 {} {}Z",
            svg::num(x),
            svg::num(y),
            svg::num(x + sx * R),
            svg::num(y),
            svg::num(x),
            svg::num(y + sy * R),
        )
    };
    svg::group("gravity")
        .with(svg::circle("disc", at, R))
        .with(svg::path(
            "quarter",
            quarter(1.0, 1.0) + &quarter(-1.0, -1.0),
        ))
}

/// The centre of buoyancy: a ring with a dot.
pub fn buoyancy(at: Point) -> Node {
    svg::group("buoyancy")
        .with(svg::circle("disc", at, 5.5))
        .with(svg::circle("dot", at, 1.8))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_inside_are_left_out() {
        let square = vec![(0.0, 0.0), (2.0, 0.0), (1.0, 1.0), (2.0, 2.0), (0.0, 2.0)];
        let mut corners = wrapped(square);
        corners.sort_by(|a, b| a.partial_cmp(b).unwrap());
        assert_eq!(corners, [(0.0, 0.0), (0.0, 2.0), (2.0, 0.0), (2.0, 2.0)]);
    }
}
