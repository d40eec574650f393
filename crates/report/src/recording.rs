//! Recordings as a page: what was measured, the courses over one axis of time, the way on a plan.

use boat::Units;
use evidence::clock::EventKind;
use evidence::outing::{Analysis, Trace};

use crate::chart::{self, Line, Stack, Stave, Upright, broken};
use crate::measured::{face_of_unit, name, shown, when};
use crate::node::Node;
use crate::page::{about, figure};
use crate::sections::table::Table;
use crate::svg::{self, Anchor, num};

const STAVE: f64 = 130.0;
/// Widest and highest plan, drawing units.
const PLAN: (f64, f64) = (760.0, 520.0);
const MARGIN: f64 = 24.0;

/// Recordings with what they measured, as one HTML page.
#[must_use]
pub fn recordings(title: &str, all: &[Analysis], units: Units) -> String {
    let head = Node::new("header")
        .class("plate")
        .with(Node::new("p").class("maker").text("skimwright"))
        .with(Node::new("h1").text(title))
        .with(
            Node::new("p")
                .class("what")
                .text("measured from recordings"),
        );
    let sections = all.iter().enumerate().map(|(i, a)| section(i, a, units));
    let foot = Node::new("footer").with(Node::new("p").text(
        "Measured by skimwright from the recordings named. Spreads are 95 % intervals; every number can be made again from the recording.",
    ));
    let body = Node::new("body")
        .with(head)
        .with(Node::new("main").with_all(sections))
        .with(foot)
        .in_units(units);
    let page = Node::new("html")
        .attr("xmlns", "http://www.w3.org/1999/xhtml")
        .attr("lang", "en")
        .with(about(&format!("{title}: measured")))
        .with(body);
    format!("<!DOCTYPE html>\n{page}\n")
}

/// One recording.
fn section(number: usize, a: &Analysis, units: Units) -> Node {
    let mut section = Node::new("section").with(Node::new("h2").text(a.file.as_str()));
    for words in &a.says {
        section.push(Node::new("p").class("lead").text(words.as_str()));
    }
    if !a.quantities.is_empty() {
        section.push(quantities(a).node());
    }
    if let Some(picture) = courses(number, a, units) {
        section.push(figure(
            None,
            picture,
            "Courses against the recording's own clock.",
        ));
    }
    if a.way_m.len() > 1 {
        let caption = "The way from above, north up.";
        section.push(figure(None, plan(number, &a.way_m), caption));
    }
    let remarks = a.remarks.iter().map(|r| Node::new("li").text(r.as_str()));
    section.with(Node::new("ul").class("note").with_all(remarks))
}

fn quantities(a: &Analysis) -> Table {
    let mut table = Table::new("", &["measured", "value (95 %)", "when", "how"]);
    for q in &a.quantities {
        let how = match &q.remark {
            Some(remark) => format!("{}; {remark}", q.from.method),
            None => q.from.method.clone(),
        };
        table.row([name(q), shown(q.kind, q.value, q.sigma), when(q), how]);
    }
    table
}

fn courses(number: usize, a: &Analysis, units: Units) -> Option<Node> {
    let times = || a.traces.iter().flat_map(|t| t.points.iter().map(|p| p.0));
    let low = times().min_by(f64::total_cmp)?;
    let high = times().max_by(f64::total_cmp)?;
    let marked = a
        .events
        .iter()
        .filter(|e| (low..=high).contains(&e.time_s.value));
    let uprights = marked
        .map(|e| Upright {
            x: e.time_s.value,
            label: event(e.kind).to_owned(),
        })
        .collect();
    let stack = Stack {
        id: format!("courses-{}", number + 1),
        title: format!("Courses of {}", a.file),
        desc: a
            .traces
            .iter()
            .map(|t| t.name.as_str())
            .collect::<Vec<_>>()
            .join(", "),
        axis: "time, s".to_owned(),
        range: (low, high.max(low + 1e-6)),
        step: None,
        staves: a.traces.iter().map(|t| stave(t, high - low)).collect(),
        uprights,
    };
    Some(chart::draw(stack, units))
}

fn stave(trace: &Trace, span_s: f64) -> Stave {
    let (factor, unit) = face_of_unit(trace.unit);
    let gap = (0.02 * span_s).max(0.5);
    let points = trace.points.iter().map(|p| (p.0, factor * p.1));
    let band = trace.points.iter().filter(|p| p.2 > 0.0);
    let band = band.map(|p| (p.0, factor * (p.1 - 2.0 * p.2), factor * (p.1 + 2.0 * p.2)));
    let broken = broken(points, gap);
    // A band cannot be broken; it is left out where the line is.
    let whole = broken.iter().all(Option::is_some);
    Stave {
        title: trace.name.clone(),
        unit,
        height: STAVE,
        from_zero: false,
        lines: vec![Line {
            name: trace.name.clone(),
            points: broken,
            band: if whole { band.collect() } else { Vec::new() },
        }],
        marks: Vec::new(),
    }
}

fn event(kind: EventKind) -> &'static str {
    match kind {
        EventKind::Launch => "launch",
        EventKind::ThrottleCut => "cut",
        EventKind::Pass => "pass",
        EventKind::Marked => "mark",
    }
}

/// The way with a scale.
fn plan(number: usize, way: &[(f64, f64)]) -> Node {
    let fold = |get: fn(&(f64, f64)) -> f64| {
        let all = way.iter().map(get).filter(|v| v.is_finite());
        all.fold((f64::MAX, f64::MIN), |(l, h), v| (l.min(v), h.max(v)))
    };
    let ((west, east), (south, north)) = (fold(|p| p.0), fold(|p| p.1));
    let size = ((east - west).max(1.0), (north - south).max(1.0));
    let scale = ((PLAN.0 - 2.0 * MARGIN) / size.0).min((PLAN.1 - 2.0 * MARGIN) / size.1);
    let height = size.1 * scale + 2.0 * MARGIN + 20.0;
    let place = |p: &(f64, f64)| {
        (
            MARGIN + (p.0 - west) * scale,
            MARGIN + (north - p.1) * scale,
        )
    };
    let placed: Vec<(f64, f64)> = way
        .iter()
        .filter(|p| p.0.is_finite() && p.1.is_finite())
        .map(place)
        .collect();
    let bar_m = 10f64.powf((0.3 * size.0.max(size.1)).log10().floor());
    let y = height - 10.0;
    let mut picture = svg::picture(
        &format!("way-{}", number + 1),
        (PLAN.0, height),
        "The way from above",
        &format!(
            "{} m from west to east, {} m from south to north",
            num(size.0),
            num(size.1)
        ),
    )
    .class("chart");
    picture.push(svg::path("trace t0", svg::along(&placed)));
    picture.push(svg::line(
        "upright",
        (MARGIN, y),
        (MARGIN + bar_m * scale, y),
    ));
    let label = (MARGIN + bar_m * scale + 6.0, y + 4.0);
    picture.push(svg::text(
        "tick",
        label,
        Anchor::Start,
        format!("{} m", num(bar_m)),
    ));
    picture
}
