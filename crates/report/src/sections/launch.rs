//! A run in time: from rest, full throttle, over ripple.

use motion::Run;
use motion::events::{Event, What};
use motion::run::Sample;

use crate::chart::{self, Line, Stack, Stave, Upright};
use crate::node::Node;
use crate::page::figure;
use crate::sections::running::caution;
use crate::subject::{Launch, Subject};
use crate::ticks::fixed;

const KMH: f64 = 3.6;
const G: f64 = craft::craft::GRAVITY_M_S2;
/// Least room between two events marked through the traces, of the whole.
const APART: f64 = 0.12;

/// Nothing for a boat that was not run in time.
pub fn section(subject: &Subject) -> Option<Node> {
    let launch = subject.launch?;
    let run = &launch.run;
    let section = Node::new("section")
        .attr("id", "launch")
        .with(Node::new("h2").text("A run in time"))
        .with(figure(
            Some("From rest at full throttle"),
            chart::draw(stack(run), subject.units),
            "One run of many: another seed of the ripple gives another. Theory, unvalidated.",
        ))
        .with(Node::new("p").text(told(launch)));
    Some(section.with(caution(
        "Make the first runs at half throttle on flat water, with nobody ahead of the boat and everyone behind \
         the driver.",
    )))
}

fn told(launch: &Launch) -> String {
    let (run, peaks) = (&launch.run, &launch.run.peaks);
    let most = |of: fn(&Sample) -> f64| run.samples.iter().map(of).fold(0.0, f64::max);
    let mut words = format!(
        "Over a ripple of {} mm (highest third), seed {}: up to {} km/h; at most {} g up at the balance point, {} g \
         at the bow, and {}° of heel.",
        fixed(1e3 * launch.ripple_m, 0),
        launch.seed,
        fixed(KMH * most(|s| s.speed_m_s), 0),
        fixed(peaks.up_m_s2 / G, 1),
        fixed(peaks.bow_m_s2 / G, 1),
        fixed(most(|s| s.heel_rad.abs()).to_degrees(), 0),
    );
    let flights = run.events.iter().filter(|e| e.what == What::Leaves).count();
    if flights > 0 {
        words += &format!(" It is clear of the water {flights} times.");
    }
    if let Some(end) = run.events.iter().find(|e| e.what.ends()) {
        words += &format!(" It {} after {} s.", end.what.word(), fixed(end.time_s, 1));
    }
    words
}

fn stack(run: &Run) -> Stack {
    let line = |name: &str, of: fn(&Sample) -> f64| Line {
        name: name.to_owned(),
        points: run
            .samples
            .iter()
            .map(|s| Some((s.time_s, of(s))))
            .collect(),
        band: Vec::new(),
    };
    let stave = |title: &str, unit, from_zero, lines| Stave {
        title: title.to_owned(),
        unit,
        height: 90.0,
        from_zero,
        lines,
        marks: Vec::new(),
    };
    let end_s = run.samples.last().map_or(1.0, |s| s.time_s).max(0.1);
    Stack {
        id: "launch-traces".to_owned(),
        title: "A run in time".to_owned(),
        desc: "Speed, trim and heel, height, and acceleration against time, with what happened"
            .to_owned(),
        axis: "time, s".to_owned(),
        range: (0.0, end_s),
        step: None,
        staves: vec![
            stave(
                "speed",
                "km/h",
                true,
                vec![line("over ground", |s| KMH * s.speed_m_s)],
            ),
            stave(
                "attitude",
                "°",
                true,
                vec![
                    line("trim", |s| s.trim_rad.to_degrees()),
                    line("heel", |s| s.heel_rad.to_degrees()),
                ],
            ),
            stave(
                "height",
                "mm",
                false,
                vec![
                    line("balance point", |s| 1e3 * s.place_m[2]),
                    line("water", |s| 1e3 * s.water_m),
                ],
            ),
            stave(
                "acceleration",
                "g",
                true,
                vec![line("up", |s| s.acceleration_m_s2[2] / G)],
            ),
        ],
        uprights: uprights(&run.events, end_s),
    }
}

/// Hopping is told once; single flights would cover the traces, and so would words one over another.
fn uprights(events: &[Event], end_s: f64) -> Vec<Upright> {
    let mut all: Vec<Upright> = Vec::new();
    // The end first: it is never the one left out.
    let (ends, others): (Vec<&Event>, Vec<&Event>) = events.iter().partition(|e| e.what.ends());
    for event in ends.into_iter().chain(others) {
        let near = |u: &Upright| (u.x - event.time_s).abs() < APART * end_s;
        if matches!(event.what, What::Leaves | What::Lands) || all.iter().any(near) {
            continue;
        }
        all.push(Upright {
            x: event.time_s,
            label: event.what.word().to_owned(),
        });
    }
    all
}
