//! The boat from the side over the chart of its margins: joints, where it is weakest, and what presses on it then.

use craft::Attitude;
use making::strength::{Margin, Press, Strength};
use nalgebra::Vector3;

use super::view::{From, View};
use super::{dimension, hull};
use crate::chart::{LEFT, RIGHT, WIDTH};
use crate::node::Node;
use crate::subject::Subject;
use crate::svg::{self, Anchor, Point};
use crate::ticks::fixed;

const ABOVE: f64 = 34.0;
const BELOW: f64 = 12.0;
/// The greatest force is drawn as long as this, the least no shorter than that.
const ARROW: (f64, f64) = (34.0, 12.0);
/// Most of the sheet's height that a tall boat takes.
const MOST: f64 = 220.0;

/// Stretch of x that is drawn, m: all of the hull.
pub fn reach(subject: &Subject) -> (f64, f64) {
    let bounds = subject.form.envelope.bounds();
    bounds.map_or((0.0, 1.0), |(low, high)| (low.x, high.x))
}

/// The side view to the scale of the chart under it.
pub fn side(subject: &Subject, strength: &Strength) -> Node {
    let (from, to) = reach(subject);
    let level = Attitude {
        rise_m: 0.0,
        trim_rad: 0.0,
        heel_rad: 0.0,
    };
    let scale = (WIDTH - LEFT - RIGHT) / (to - from).max(1e-6);
    let (low, high) = subject.form.envelope.bounds().unwrap_or_default();
    let tall = ((high.z - low.z) * scale).min(MOST);
    let pushes = strength.worst_acting();
    let room = |there: bool| if there { ARROW.0 } else { 0.0 };
    let above = ABOVE + room(pushes.iter().any(|p| p.up_n < 0.0));
    let below = BELOW + room(pushes.iter().any(|p| p.up_n >= 0.0));
    let view = View::new(
        From::Starboard,
        &level,
        scale,
        (LEFT - from * scale, above + high.z * scale),
    );
    let size = (WIDTH, above + tall + below);
    let mut picture = svg::picture(
        "holds-side",
        size,
        "Where it is weakest, from the side",
        &words(strength),
    )
    .class("drawing");
    let drawn = hull::drawn(&subject.form.envelope, &view);
    picture.push(
        svg::group("hull")
            .with(svg::path("area", drawn.area))
            .with(svg::path("edges", drawn.edges)),
    );
    picture.push(joints(strength, &view, size.1));
    picture.push(acting(&pushes, &view));
    if let Some(worst) = strength.margins.first() {
        picture.push(weakest(worst, &view, &low, &high));
    }
    picture
}

fn words(strength: &Strength) -> String {
    match strength.margins.first() {
        Some(worst) => format!("Weakest: {}, {}.", worst.place, worst.load),
        None => "No load was found on it.".to_owned(),
    }
}

/// Cuts, right through, each with its kind.
fn joints(strength: &Strength, view: &View, bottom: f64) -> Node {
    let mut group = svg::group("cuts");
    for joint in &strength.layout.joints {
        let (x, _) = view.at(&Vector3::new(joint.x_m, 0.0, 0.0));
        group.push(svg::line("cut", (x, ABOVE - 14.0), (x, bottom - 2.0)));
        let words = format!("{} {} mm", joint.kind.word(), fixed(1e3 * joint.x_m, 0));
        group.push(svg::text(
            "figure",
            (x, ABOVE - 20.0),
            Anchor::Middle,
            words,
        ));
    }
    group
}

/// What presses on the hull from below or above, in newtons.
fn acting(pushes: &[Press], view: &View) -> Node {
    let most = pushes.iter().fold(1e-9f64, |m, p| m.max(p.up_n.abs()));
    let mut group = svg::group("forces");
    for push in pushes {
        let way = if push.up_n < 0.0 { 1.0 } else { -1.0 };
        let tip = view.at(&Vector3::new(push.x_m, 0.0, push.z_m));
        let long = (ARROW.0 * push.up_n.abs() / most).max(ARROW.1);
        let tail = (tip.0, tip.1 - way * long);
        group.push(svg::line("shaft", tail, (tip.0, tip.1 - 4.0 * way)));
        group.push(dimension::head(tip, (0.0, way)));
        let (aside, anchor) = if tail.0 > WIDTH - 80.0 {
            (-6.0, Anchor::End)
        } else {
            (6.0, Anchor::Start)
        };
        let words = format!("{} N", newtons(push.up_n.abs()));
        group.push(svg::text(
            "force-name",
            (tail.0 + aside, tail.1 + 4.0 * (1.0 + way)),
            anchor,
            words,
        ));
    }
    group
}

/// Nobody knows a load better than to a tenth.
fn newtons(force: f64) -> String {
    match force {
        f if f >= 100.0 => fixed(10.0 * (f / 10.0).round(), 0),
        f if f >= 10.0 => fixed(f, 0),
        f => fixed(f, 1),
    }
}

fn weakest(worst: &Margin, view: &View, low: &Vector3<f64>, high: &Vector3<f64>) -> Node {
    let (x, y) = view.at(&Vector3::new(worst.x_m, 0.0, 0.5 * (low.z + high.z)));
    let r = 7.0;
    let cross = |a: Point, b: Point| svg::line("weakest", a, b);
    svg::group("weak")
        .with(svg::circle("weakest", (x, y), r))
        .with(cross((x - r, y - r), (x + r, y + r)))
        .with(cross((x - r, y + r), (x + r, y - r)))
}
