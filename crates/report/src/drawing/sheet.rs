//! Two sheets of three views each: at rest, and at top speed.

use craft::{Attitude, RunningState};
use nalgebra::Vector3;

use super::dimension;
use super::fitted::{self, vector};
use super::force;
use super::hull;
use super::label::Labels;
use super::view::{From, View};
use super::wetted;
use crate::chart::WIDTH;
use crate::node::Node;
use crate::subject::Subject;
use crate::svg::{self, Anchor};
use crate::ticks::fixed;

const BETWEEN: f64 = 124.0;
const RIGHT: f64 = 40.0;
const HEAD: f64 = 22.0;

/// How the three views share a sheet.
struct Layout {
    side: View,
    end: View,
    plan: View,
    height: f64,
    /// Left and right ends of the profile and of the end view.
    side_x: (f64, f64),
    end_x: (f64, f64),
    water_y: f64,
    /// Lowest thing in the upper views.
    low_y: f64,
    plan_y: (f64, f64),
}

/// Room above and below the upper views for what is drawn there.
struct Room {
    left: f64,
    above: f64,
    below: f64,
    /// Drawn downward from the centre of gravity.
    hangs: f64,
}

impl Layout {
    fn new(subject: &Subject, attitude: &Attitude, plan: From, room: &Room) -> Self {
        let flat = |from| View::new(from, attitude, 1.0, (0.0, 0.0));
        let x = reach(subject, &flat(From::Starboard), |p| p.0);
        let z = reach(subject, &flat(From::Starboard), |p| -p.1);
        let across = reach(subject, &flat(From::Astern), |p| p.0);
        let deep = reach(subject, &flat(plan), |p| p.1);
        let span = (x.1 - x.0) + (across.1 - across.0);
        let left = room.left;
        let scale = (WIDTH - left - BETWEEN - RIGHT) / span.max(1e-6);
        // A tall narrow body must not make an endless sheet.
        let scale = scale.min(340.0 / (z.1 - z.0).max(deep.1 - deep.0).max(1e-6));
        let water_y = HEAD + room.above + z.1.max(0.0) * scale;
        let low_y = water_y + (-z.0).max(0.0) * scale;
        let cg = flat(From::Starboard).at(&subject.mass.cg_m).1 * scale + water_y;
        let plan_top = (low_y + room.below).max(cg + room.hangs) + HEAD;
        let side_left = left - x.0 * scale;
        let end_left = left + (x.1 - x.0) * scale + BETWEEN;
        let view = |from, origin| View::new(from, attitude, scale, origin);
        Self {
            side: view(From::Starboard, (side_left, water_y)),
            end: view(From::Astern, (end_left - across.0 * scale, water_y)),
            plan: view(plan, (side_left, plan_top - deep.0 * scale)),
            height: plan_top + (deep.1 - deep.0) * scale + 30.0,
            side_x: (left, left + (x.1 - x.0) * scale),
            end_x: (end_left, end_left + (across.1 - across.0) * scale),
            water_y,
            low_y,
            plan_y: (plan_top, plan_top + (deep.1 - deep.0) * scale),
        }
    }
}

impl Layout {
    /// Words may go anywhere in a view's part of the sheet.
    fn labels(&self, view: &View) -> Labels {
        let middle = (self.side_x.1 + self.end_x.0) / 2.0;
        let upper_end = self.plan_y.0 - HEAD + 2.0;
        Labels::new(match view.from {
            From::Starboard => [2.0, HEAD, self.end_x.0 - 18.0, upper_end],
            From::Astern => [middle, HEAD, WIDTH - 2.0, upper_end],
            From::Above | From::Below => [2.0, upper_end, self.end_x.0, self.height - 2.0],
        })
    }

    /// Left end of the free corner beside the plan.
    fn figures_x(&self) -> f64 {
        (self.end_x.0 - 30.0).min(WIDTH - 225.0)
    }
}

/// Least and greatest of a coordinate over the hull and what hangs on it.
fn reach(subject: &Subject, view: &View, of: impl Fn((f64, f64)) -> f64) -> (f64, f64) {
    let mut range = (f64::INFINITY, f64::NEG_INFINITY);
    let mut take = |p: &Vector3<f64>| {
        let value = of(view.at(p));
        range = (range.0.min(value), range.1.max(value));
    };
    subject.form.envelope.vertices.iter().for_each(&mut take);
    for drive in &subject.boat.drives {
        let radius = drive.propeller.diameter_m.value / 2.0;
        for sign in [-1.0, 1.0] {
            take(&(vector(&drive.propeller.at) + Vector3::new(-0.2, sign, sign) * radius));
        }
    }
    for blade in subject.boat.rudders.iter().chain(&subject.boat.fins) {
        let (sin, cos) = blade.lean_rad.value.sin_cos();
        let span = Vector3::new(0.0, sin, -cos) * blade.span_m.value;
        take(&(vector(&blade.at) + span - Vector3::x() * blade.chord_m.value));
        take(&vector(&blade.at));
    }
    for item in &subject.mass.items {
        take(&item.at_m);
    }
    if range.0.is_finite() {
        range
    } else {
        (0.0, 1.0)
    }
}

/// At rest: hull, parts, balance points and the main dimensions.
pub fn at_rest(subject: &Subject) -> Node {
    let afloat = subject.rest.afloat.as_ref();
    let level = Attitude {
        rise_m: 0.0,
        trim_rad: 0.0,
        heel_rad: 0.0,
    };
    let attitude = afloat.map_or(level, |a| a.attitude);
    let room = Room {
        left: 50.0,
        above: 44.0,
        below: 64.0,
        hangs: 0.0,
    };
    let layout = Layout::new(subject, &attitude, From::Above, &room);
    let (title, desc) = rest_words(subject);
    let mut sheet = svg::picture("at-rest", (WIDTH, layout.height), &title, &desc).class("drawing");
    if afloat.is_some() {
        sheet.push(water(&layout));
    }
    for (view, name) in [
        (&layout.side, "profile, from starboard"),
        (&layout.end, "end view, from astern"),
        (&layout.plan, "plan, from above"),
    ] {
        sheet.push(rest_view(subject, view, layout.labels(view)));
        sheet.push(view_title(&layout, view.from, name));
    }
    sheet.push(rest_dimensions(subject, &layout));
    sheet.push(figures(&layout, &rest_figures(subject)));
    sheet
}

fn rest_view(subject: &Subject, view: &View, mut labels: Labels) -> Node {
    let cg = view.at(&subject.mass.cg_m);
    labels.keep([cg.0 - 8.0, cg.1 - 8.0, cg.0 + 8.0, cg.1 + 8.0]);
    let mut group = svg::group("view").with(hull_lines(subject, view));
    group.push(fitted::gear(subject.boat, view));
    group.push(openings(subject, view));
    group.push(fitted::parts(subject.boat, subject.mass, view, &mut labels));
    let name = labels.near("point", cg, "G");
    if let Some(afloat) = &subject.rest.afloat {
        let at = view.at(&afloat.buoyancy_m);
        group.push(fitted::buoyancy(at));
        group.push(labels.near("point", at, "B"));
    }
    group.with(fitted::gravity(cg)).with(name)
}

fn rest_figures(subject: &Subject) -> Vec<String> {
    let Some(afloat) = &subject.rest.afloat else {
        return vec!["it sinks: drawn level, without water".to_owned()];
    };
    let mut lines = vec![
        format!("draught {} mm", fixed(afloat.draught_m * 1e3, 1)),
        format!("trim {}°", fixed(afloat.attitude.trim_rad.to_degrees(), 1)),
        format!("heel {}°", fixed(afloat.attitude.heel_rad.to_degrees(), 1)),
        format!("GM across {} mm", fixed(afloat.gm_roll_m * 1e3, 0)),
    ];
    if let Some((name, height)) = &afloat.freeboard {
        lines.insert(1, format!("freeboard {} mm,", fixed(height * 1e3, 1)));
        lines.insert(2, format!("to {}", shortened(name, 24)));
    }
    lines
}

fn shortened(words: &str, most: usize) -> String {
    if words.chars().count() <= most {
        return words.to_owned();
    }
    let kept: String = words.chars().take(most - 1).collect();
    format!("{}…", kept.trim_end())
}

fn hull_lines(subject: &Subject, view: &View) -> Node {
    let drawn = hull::drawn(&subject.form.envelope, view);
    svg::group("hull")
        .with(svg::path("area", drawn.area))
        .with(svg::path("edges", drawn.edges))
}

fn openings(subject: &Subject, view: &View) -> Node {
    let each = subject.boat.openings.iter().map(|opening| {
        let (x, y) = view.at(&vector(&opening.at));
        let corners = [(x, y), (x + 4.0, y - 6.0), (x - 4.0, y - 6.0)];
        svg::path("opening", svg::around(&corners))
    });
    svg::group("openings").with_all(each)
}

fn rest_dimensions(subject: &Subject, layout: &Layout) -> Node {
    let mut group = svg::group("dimensions");
    let outline = &subject.form.outline;
    let hull_x = hull_reach(subject, &layout.side, |p| p.0);
    let y = layout.low_y + 22.0;
    let cg = layout.side.at(&subject.mass.cg_m);
    let transom = layout.side.at(&Vector3::zeros());
    let balance = format!("G {} mm", fixed(subject.mass.cg_m.x * 1e3, 0));
    group.push(dimension::level(
        (transom.0, cg.0),
        y,
        layout.low_y,
        &balance,
    ));
    let length = format!("length {} mm", fixed(outline.length_m * 1e3, 0));
    group.push(dimension::level(hull_x, y + 22.0, layout.low_y, &length));
    let beam_x = hull_reach(subject, &layout.end, |p| p.0);
    let beam = format!("beam {} mm", fixed(outline.beam_m * 1e3, 0));
    group.push(dimension::level(beam_x, y, layout.low_y, &beam));
    if let Some(afloat) = &subject.rest.afloat {
        let lowest = layout.water_y + afloat.draught_m * layout.side.scale;
        let draught = format!("draught {} mm", fixed(afloat.draught_m * 1e3, 0));
        let x = layout.end_x.0 - 8.0;
        group.push(dimension::upright(x, (layout.water_y, lowest), &draught));
        if let Some((name, height_m)) = &afloat.freeboard {
            group.push(freeboard(subject, layout, name, *height_m));
        }
    }
    group
}

fn freeboard(subject: &Subject, layout: &Layout, name: &str, height_m: f64) -> Node {
    let opening = subject.boat.openings.iter().find(|o| o.name == name);
    let x = opening.map_or(layout.side_x.1 + 12.0, |o| layout.side.at(&vector(&o.at)).0);
    let top = layout.water_y - height_m * layout.side.scale;
    let words = format!("freeboard {} mm", fixed(height_m * 1e3, 0));
    dimension::upright_below(x, (top, layout.water_y), HEAD + 14.0, &words)
}

fn hull_reach(subject: &Subject, view: &View, of: impl Fn((f64, f64)) -> f64) -> (f64, f64) {
    subject
        .form
        .envelope
        .vertices
        .iter()
        .map(|v| of(view.at(v)))
        .fold((f64::INFINITY, f64::NEG_INFINITY), |r, x| {
            (r.0.min(x), r.1.max(x))
        })
}

fn rest_words(subject: &Subject) -> (String, String) {
    let title = format!(
        "{} at rest, drawn to one scale in three views",
        subject.boat.name
    );
    let outline = &subject.form.outline;
    let mut desc = format!(
        "Hull {} mm long and {} mm wide, balance point {} mm ahead of the transom.",
        fixed(outline.length_m * 1e3, 0),
        fixed(outline.beam_m * 1e3, 0),
        fixed(subject.mass.cg_m.x * 1e3, 0),
    );
    if let Some(afloat) = &subject.rest.afloat {
        desc += &format!(
            " It draws {} mm with {}° of trim and {}° of heel.",
            fixed(afloat.draught_m * 1e3, 0),
            fixed(afloat.attitude.trim_rad.to_degrees(), 1),
            fixed(afloat.attitude.heel_rad.to_degrees(), 1),
        );
    }
    (title, desc)
}

/// At a running state: attitude, wetted surfaces from below, forces to scale.
pub fn running(subject: &Subject, state: &RunningState) -> Node {
    let per_n = force::scale(subject, state);
    let side = View::new(From::Starboard, &state.attitude, 1.0, (0.0, 0.0));
    let room = Room {
        // The thrust's arrow comes from astern.
        left: force::LONGEST + 8.0,
        above: 30.0,
        below: force::deepest_tail(subject, state, &side, per_n),
        hangs: force::LONGEST + 30.0,
    };
    let layout = Layout::new(subject, &state.attitude, From::Below, &room);
    let kmh = fixed(state.speed_m_s * 3.6, 0);
    let title = format!("{} at {kmh} km/h with its forces", subject.boat.name);
    let mut sheet = svg::picture(
        "running",
        (WIDTH, layout.height),
        &title,
        &running_desc(state),
    )
    .class("drawing");
    sheet.push(water(&layout));
    for (view, name) in [
        (&layout.side, "profile with forces"),
        (&layout.end, "end view, from astern"),
    ] {
        let mut labels = layout.labels(view);
        let mut group = svg::group("view").with(hull_lines(subject, view));
        group.push(fitted::gear(subject.boat, view));
        group.push(fitted::gravity(view.at(&subject.mass.cg_m)));
        group.push(force::arrows(subject, state, view, per_n, &mut labels));
        sheet.push(group);
        sheet.push(view_title(&layout, view.from, name));
    }
    sheet.push(view_from_below(subject, state, &layout));
    sheet.push(view_title(
        &layout,
        From::Below,
        "bottom, from below; hatched: wet",
    ));
    sheet.push(figures(&layout, &running_figures(state)));
    let bar = (layout.figures_x(), layout.plan_y.0 + 92.0);
    sheet.push(force::scale_bar(bar, per_n));
    sheet
}

fn view_from_below(subject: &Subject, state: &RunningState, layout: &Layout) -> Node {
    let view = &layout.plan;
    let mut labels = layout.labels(view);
    svg::group("view")
        .with(hull_lines(subject, view))
        .with(wetted::outlines(subject.form, view))
        .with(fitted::gear(subject.boat, view))
        .with(wetted::patches(subject.form, state, view, &mut labels))
}

fn running_figures(state: &RunningState) -> Vec<String> {
    let attitude = &state.attitude;
    vec![
        format!("speed {} km/h", fixed(state.speed_m_s * 3.6, 1)),
        format!("trim {}°", fixed(attitude.trim_rad.to_degrees(), 1)),
        format!("heel {}°", fixed(attitude.heel_rad.to_degrees(), 1)),
        format!(
            "transom {} mm {} still water",
            fixed(attitude.rise_m.abs() * 1e3, 1),
            if attitude.rise_m < 0.0 {
                "below"
            } else {
                "above"
            }
        ),
    ]
}

/// Lines of words in the free corner beside the plan.
fn figures(layout: &Layout, lines: &[String]) -> Node {
    let x = layout.figures_x();
    let each = lines.iter().enumerate().map(|(i, words)| {
        let y = layout.plan_y.0 + 12.0 + 17.0 * i as f64;
        svg::text("figure", (x, y), Anchor::Start, words.as_str())
    });
    svg::group("figures").with_all(each)
}

fn running_desc(state: &RunningState) -> String {
    let mut desc = format!(
        "Trim {}°, transom {} mm above still water.",
        fixed(state.attitude.trim_rad.to_degrees(), 1),
        fixed(state.attitude.rise_m * 1e3, 0),
    );
    for wet in &state.wetted {
        desc += &format!(
            " {} is wet over {} mm and carries {} N.",
            wet.name,
            fixed(wet.keel_length_m * 1e3, 0),
            fixed(wet.lift_n, 1),
        );
    }
    desc
}

/// The still water across both upper views.
fn water(layout: &Layout) -> Node {
    let mut group = svg::group("water");
    let deep = layout.low_y - layout.water_y + 12.0;
    for (left, right) in [layout.side_x, layout.end_x] {
        let (left, right) = (left - 16.0, right + 14.0);
        let (y, wide) = (layout.water_y, right - left);
        group.push(svg::rect("body", (left, y), (wide, deep)));
        group.push(svg::line("level", (left, y), (right, y)));
        let x = right - 8.0;
        let mark = [(x, y), (x - 5.0, y - 8.0), (x + 5.0, y - 8.0)];
        group.push(svg::path("level-mark", svg::around(&mark)));
    }
    group
}

fn view_title(layout: &Layout, from: From, words: &str) -> Node {
    let at = match from {
        From::Starboard => (layout.side_x.0 - 16.0, 14.0),
        From::Astern => (layout.end_x.0 - 16.0, 14.0),
        From::Above | From::Below => (layout.side_x.0 - 16.0, layout.plan_y.0 - 8.0),
    };
    svg::text("view-title", at, Anchor::Start, words)
}
