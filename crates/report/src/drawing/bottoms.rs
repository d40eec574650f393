//! The bottom at several speeds side by side: how the wetted part shrinks.

use craft::{RunningState, SpeedCurve, curve::planing_speed};

use super::hull;
use super::label::Labels;
use super::view::{From, View};
use super::wetted;
use crate::chart::WIDTH;
use crate::node::Node;
use crate::subject::Subject;
use crate::svg::{self, Anchor, Point};
use crate::ticks::fixed;

const MARGIN: f64 = 24.0;
const HEAD: f64 = 26.0;

/// States worth looking at: below planing, planing, half-way on, top. Each once, by speed.
pub fn worth_seeing(curve: &SpeedCurve) -> Vec<&RunningState> {
    let fastest = curve.running.last().map_or(0.0, |s| s.speed_m_s);
    let top = curve.top.as_ref().map_or(fastest, |t| t.speed_m_s);
    let planing = planing_speed(curve).unwrap_or(0.5 * top);
    let wanted = [0.6 * planing, 1.2 * planing, 0.5 * (planing + top), top];
    let mut found: Vec<&RunningState> = Vec::new();
    for speed in wanted {
        if let Some(state) = curve.nearest(speed)
            && found.last().is_none_or(|l| l.speed_m_s < state.speed_m_s)
        {
            found.push(state);
        }
    }
    found
}

/// Two bottoms to a row.
pub fn bottoms(subject: &Subject, states: &[&RunningState]) -> Node {
    let half = WIDTH / 2.0;
    let outline = &subject.form.outline;
    let scale = (half - 2.0 * MARGIN) / outline.length_m.max(1e-6);
    let scale = scale.min(200.0 / outline.beam_m.max(1e-6));
    let row = HEAD + outline.beam_m * scale + MARGIN;
    let height = row * states.len().div_ceil(2) as f64;
    let speeds: Vec<String> = states.iter().map(|s| kmh(s)).collect();
    let desc = format!("The bottom from below at {}.", speeds.join(", "));
    let title = "Wetted part of the running surfaces at several speeds";
    let mut sheet = svg::picture("bottoms", (WIDTH, height), title, &desc).class("drawing");
    for (i, state) in states.iter().enumerate() {
        let corner = ((i % 2) as f64 * half, (i / 2) as f64 * row);
        sheet.push(bottom(subject, state, corner, scale));
    }
    sheet
}

fn bottom(subject: &Subject, state: &RunningState, corner: Point, scale: f64) -> Node {
    let outline = &subject.form.outline;
    let low = subject.form.envelope.bounds().map_or(0.0, |b| b.0.x);
    let middle_y = corner.1 + HEAD + outline.beam_m * scale / 2.0;
    let origin = (corner.0 + MARGIN - low * scale, middle_y);
    let view = View::new(From::Below, &state.attitude, scale, origin);
    let drawn = hull::drawn(&subject.form.envelope, &view);
    let right = corner.0 + WIDTH / 2.0;
    let bottom = middle_y + outline.beam_m * scale / 2.0 + MARGIN;
    let mut labels = Labels::new([corner.0, corner.1 + HEAD, right, bottom]);
    let trim = fixed(state.attitude.trim_rad.to_degrees(), 1);
    let words = format!("{}, trim {trim}°", kmh(state));
    svg::group("view")
        .with(svg::text(
            "view-title",
            (corner.0 + MARGIN, corner.1 + 16.0),
            Anchor::Start,
            words,
        ))
        .with(
            svg::group("hull")
                .with(svg::path("area", drawn.area))
                .with(svg::path("edges", drawn.edges)),
        )
        .with(wetted::patches(subject.form, state, &view, &mut labels))
}

fn kmh(state: &RunningState) -> String {
    format!("{} km/h", fixed(state.speed_m_s * 3.6, 1))
}
