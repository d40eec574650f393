//! Straight running from rest to top speed.

use craft::{RunningState, SpeedCurve, attitude};

use super::rest::degrees;
use super::table::{Table, opens};
use crate::chart::{self, Line, Marks, Shape, Stack, Stave, Upright};
use crate::drawing::bottoms;
use crate::node::Node;
use crate::page::figure;
use crate::subject::Subject;
use crate::ticks::fixed;

const KMH: f64 = 3.6;
const RPM: f64 = 30.0 / std::f64::consts::PI;

type Of = fn(&RunningState) -> f64;

/// The curves and their numbers; nothing for a boat that does not run.
pub fn section(subject: &Subject) -> Option<Node> {
    let curve = subject.curve?;
    let mut section = Node::new("section")
        .attr("id", "running")
        .with(Node::new("h2").text("From rest to top speed"))
        .with(summary(curve))
        .with(caution(
            "A turning propeller cuts to the bone. Take it off, or unplug the motor, before \
             working on a powered boat; keep clear of its plane when it turns.",
        ))
        .with(figure(
            None,
            chart::draw(stack(subject, curve), subject.units),
            "All charts share the speed axis. Bands hold the result 19 times out of 20, from \
             likely variations of the boat within its tolerances and of the laws within theirs. \
             Single points are other attitudes the boat could take at that speed.",
        ))
        .with(opens("the numbers of these charts", [numbers(curve)]));
    section.push(figure(
        Some("Wet bottom, slower to faster"),
        bottoms::bottoms(subject, &bottoms::worth_seeing(curve)),
        "From below, bow to the right; hatched: the part of each running surface in the water.",
    ));
    if !curve.others.is_empty() {
        section.push(opens("other attitudes it could take", [others(curve)]));
    }
    section.push(caution(
        "Lithium cells burn when overloaded, shorted, crushed or charged carelessly. Keep inside \
         the maker's limits for current, charge and temperature; charge attended, on something \
         that does not burn.",
    ));
    Some(section)
}

/// A caution where it matters.
pub fn caution(words: &str) -> Node {
    Node::new("p")
        .class("caution")
        .with(Node::new("strong").text("Caution."))
        .with(Node::new("span").text(words))
}

fn summary(curve: &SpeedCurve) -> Node {
    let mut list = Node::new("ul");
    let mut say = |words: String| list.push(Node::new("li").text(words));
    match craft::curve::planing_speed(curve) {
        Some(speed) => say(format!(
            "Speed carries half the boat from {} km/h: it planes.",
            fixed(speed * KMH, 1)
        )),
        None => say("Speed never carries half the boat: it does not plane.".to_owned()),
    }
    if let Some(hump) = &curve.hump {
        say(format!(
            "Tightest below planing at {} km/h: thrust available is {} times what is needed, \
             {} A at the throttle it takes, greatest trim {}.",
            fixed(hump.speed_m_s * KMH, 1),
            fixed(hump.margin + 1.0, 1),
            fixed(hump.current_a, 1),
            degrees(hump.trim_rad),
        ));
    }
    match &curve.top {
        Some(top) => say(format!(
            "Top speed {} km/h: {} A, {} rpm at the propeller, {} N of thrust.",
            fixed(top.speed_m_s * KMH, 1),
            fixed(total(top, |d| d.current_a), 1),
            fixed(fastest_rpm(top), 0),
            fixed(top.thrust_needed_n, 1),
        )),
        None => say("Full throttle never balances the drag within the speeds tried.".to_owned()),
    }
    if !curve.missing_m_s.is_empty() {
        let speeds: Vec<String> = curve
            .missing_m_s
            .iter()
            .map(|v| fixed(v * KMH, 1))
            .collect();
        say(format!(
            "No steady running state was found at {} km/h.",
            speeds.join(", ")
        ));
    }
    list
}

fn total(state: &RunningState, of: impl Fn(&craft::DriveState) -> f64) -> f64 {
    state.drives.iter().map(of).sum()
}

fn fastest_rpm(state: &RunningState) -> f64 {
    let each = state.drives.iter().map(|d| d.shaft_rad_s * RPM);
    each.fold(0.0, f64::max)
}

fn trim_deg(state: &RunningState) -> f64 {
    state.attitude.trim_rad.to_degrees()
}

fn rise_mm(state: &RunningState) -> f64 {
    state.attitude.rise_m * 1e3
}

fn current_a(state: &RunningState) -> f64 {
    total(state, |d| d.current_a)
}

/// Speeds between which a missing state breaks the line.
fn widest_gap(curve: &SpeedCurve) -> f64 {
    let speeds: Vec<f64> = curve.running.iter().map(|s| s.speed_m_s * KMH).collect();
    let steps = speeds.windows(2).map(|w| w[1] - w[0]);
    1.5 * steps.fold(f64::INFINITY, f64::min).min(1e6)
}

/// Makes lines and marks of one curve.
struct Plot<'a> {
    subject: &'a Subject<'a>,
    curve: &'a SpeedCurve,
    gap: f64,
}

impl Plot<'_> {
    fn line(&self, name: &str, of: impl Fn(&RunningState) -> f64 + Copy) -> Line {
        let points = self
            .curve
            .running
            .iter()
            .map(|s| (s.speed_m_s * KMH, of(s)));
        Line {
            name: name.to_owned(),
            points: chart::broken(points, self.gap),
            band: self.band(of),
        }
    }

    fn band(&self, of: impl Fn(&RunningState) -> f64 + Copy) -> Vec<(f64, f64, f64)> {
        let Some(spread) = self.subject.spread else {
            return Vec::new();
        };
        let speeds = self.curve.running.iter().map(|s| s.speed_m_s);
        let each = speeds.filter_map(|v| {
            let (low, high) = spread.band(v, of)?;
            Some((v * KMH, low, high))
        });
        each.collect()
    }

    fn others(&self, of: Of) -> Vec<Marks> {
        [
            (true, Shape::Diamond, "another steady attitude"),
            (false, Shape::Cross, "unstable"),
        ]
        .into_iter()
        .map(|(stable, shape, name)| Marks {
            name: name.to_owned(),
            shape,
            at: self
                .curve
                .others
                .iter()
                .filter(|s| s.statically_stable == stable)
                .map(|s| (s.speed_m_s * KMH, of(s)))
                .collect(),
        })
        .filter(|marks| !marks.at.is_empty())
        .collect()
    }

    fn single(&self, title: &str, unit: &'static str, height: f64, of: Of) -> Stave {
        Stave {
            title: title.to_owned(),
            unit,
            height,
            from_zero: true,
            lines: vec![self.line("reached from rest", of)],
            marks: self.others(of),
        }
    }
}

fn stack(subject: &Subject, curve: &SpeedCurve) -> Stack {
    let plot = Plot {
        subject,
        curve,
        gap: widest_gap(curve),
    };
    let end = curve.running.last().map_or(1.0, |s| s.speed_m_s * KMH);
    let thrust = Stave {
        title: "thrust".to_owned(),
        unit: "N",
        height: 108.0,
        from_zero: true,
        lines: vec![
            plot.line("needed", |s| s.thrust_needed_n),
            plot.line("at full throttle", |s| s.thrust_available_n),
        ],
        marks: Vec::new(),
    };
    let names = curve.running.first().map_or(Vec::new(), |s| {
        s.wetted.iter().map(|w| w.name.clone()).collect()
    });
    let wetted = Stave {
        title: "wetted keel length".to_owned(),
        unit: "mm",
        height: 84.0,
        from_zero: true,
        lines: names
            .iter()
            .map(|name| {
                let mut line = plot.line(name, |s| wetted_mm(s, name));
                line.band.clear();
                line
            })
            .collect(),
        marks: Vec::new(),
    };
    Stack {
        id: "speed-curves".to_owned(),
        title: "Thrust, trim, rise, wetted lengths, shaft speed and current against speed"
            .to_owned(),
        desc: curve_desc(curve),
        axis: "speed through the water, km/h".to_owned(),
        range: (0.0, end),
        step: None,
        staves: vec![
            thrust,
            plot.single("trim", "°", 76.0, trim_deg),
            plot.single("rise of the transom", "mm", 76.0, rise_mm),
            wetted,
            plot.single("propeller speed", "rpm", 64.0, fastest_rpm),
            plot.single("battery current", "A", 76.0, current_a),
        ],
        uprights: uprights(curve),
    }
}

fn wetted_mm(state: &RunningState, name: &str) -> f64 {
    let surface = state.wetted.iter().find(|w| w.name == name);
    surface.map_or(0.0, |w| w.keel_length_m * 1e3)
}

fn uprights(curve: &SpeedCurve) -> Vec<Upright> {
    let mut all = Vec::new();
    if let Some(hump) = &curve.hump {
        let x = hump.speed_m_s * KMH;
        all.push(Upright {
            x,
            label: format!("hump {} km/h", fixed(x, 0)),
        });
    }
    if let Some(top) = &curve.top {
        let x = top.speed_m_s * KMH;
        all.push(Upright {
            x,
            label: format!("top {} km/h", fixed(x, 0)),
        });
    }
    all
}

fn curve_desc(curve: &SpeedCurve) -> String {
    let top = curve.top.as_ref().map_or_else(
        || "No top speed was found.".to_owned(),
        |t| {
            format!(
                "Top speed {} km/h at {}° of trim.",
                fixed(t.speed_m_s * KMH, 0),
                fixed(trim_deg(t), 1)
            )
        },
    );
    let greatest = curve.running.iter().map(trim_deg).fold(0.0, f64::max);
    format!(
        "{top} Greatest trim on the way {}°. The numbers are in the table below.",
        fixed(greatest, 1)
    )
}

fn numbers(curve: &SpeedCurve) -> Node {
    let mut table = Table::new(
        "The branch reached by accelerating from rest",
        &[
            "speed, km/h",
            "thrust needed, N",
            "at full throttle, N",
            "throttle, %",
            "trim, °",
            "heel, °",
            "rise, mm",
            "propeller, rpm",
            "slip, %",
            "current, A",
        ],
    );
    let first = curve.running.first();
    for wet in first.iter().flat_map(|s| &s.wetted) {
        table.heading(format!("{} wet, mm", wet.name));
    }
    for state in &curve.running {
        table.row(row(state));
    }
    table.node()
}

fn row(state: &RunningState) -> Vec<String> {
    let slip = state.drives.iter().map(|d| d.slip).fold(0.0, f64::max);
    let mut cells = vec![
        fixed(state.speed_m_s * KMH, 1),
        fixed(state.thrust_needed_n, 2),
        fixed(state.thrust_available_n, 2),
        fixed(state.throttle * 100.0, 0),
        fixed(trim_deg(state), 2),
        fixed(state.attitude.heel_rad.to_degrees(), 2),
        fixed(rise_mm(state), 1),
        fixed(fastest_rpm(state), 0),
        fixed(slip * 100.0, 0),
        fixed(current_a(state), 1),
    ];
    cells.extend(state.wetted.iter().map(|w| fixed(w.keel_length_m * 1e3, 0)));
    cells
}

fn others(curve: &SpeedCurve) -> Node {
    let mut table = Table::new(
        "Equilibria beside the branch reached from rest",
        &[
            "speed, km/h",
            "trim, °",
            "heel, °",
            "rise, mm",
            "throttle, %",
            "pushed, it",
        ],
    );
    for state in &curve.others {
        table.row([
            fixed(state.speed_m_s * KMH, 1),
            fixed(trim_deg(state), 2),
            fixed(state.attitude.heel_rad.to_degrees(), 2),
            fixed(rise_mm(state), 1),
            fixed(state.throttle * 100.0, 0),
            if state.statically_stable {
                "comes back".to_owned()
            } else {
                "leaves".to_owned()
            },
        ]);
    }
    table.node()
}

/// Drift worth a word, deg; and what is left over to one side, as a share of what carries the boat.
const DRIFTS_DEG: f64 = 0.2;
const SIDEWAYS: f64 = 0.03;

/// Every element's force at a state, along the course, to port and up.
pub fn forces_table(state: &RunningState) -> Node {
    let (trim_rad, heel_rad) = (state.attitude.trim_rad, state.attitude.heel_rad);
    let turn = attitude::rotation(-state.drift_rad, trim_rad, heel_rad);
    let mut table = Table::new(
        format!("Forces at {} km/h", fixed(state.speed_m_s * KMH, 1)),
        &["what", "ahead, N", "to port, N", "up, N"],
    );
    let mut sum = nalgebra::Vector3::zeros();
    for force in &state.forces {
        let world = turn * force.force_n;
        sum += world;
        let n = |axis: usize| fixed(world[axis], 2);
        table.row([force.name.clone(), n(0), n(1), n(2)]);
    }
    let n = |axis: usize| fixed(sum[axis], 2);
    table.classed_row("total", ["sum".to_owned(), n(0), n(1), n(2)]);
    let mut inside = vec![table.node()];
    let mut say = |words: String| inside.push(Node::new("p").class("note").text(words));
    let side = |to_port: bool| if to_port { "left" } else { "right" };
    let drift_deg = state.drift_rad.to_degrees();
    if drift_deg.abs() >= DRIFTS_DEG {
        let (drift, bow) = (fixed(drift_deg.abs(), 1), side(drift_deg < 0.0));
        say(format!(
            "The boat runs with its bow {drift}° to the {bow} of where it goes: so much drift makes hull and fins hold \
             what pushes it sideways."
        ));
    }
    let carries_n = state.forces.iter().map(|f| (turn * f.force_n).z.max(0.0));
    if sum.y.abs() >= SIDEWAYS * carries_n.sum::<f64>() {
        let (newtons, to) = (fixed(sum.y.abs(), 1), side(sum.y > 0.0));
        say(format!(
            "To the {to} {newtons} N are left over, which nothing on the boat holds: it slides on that way unless the \
             driver steers against it. A turn fin would hold it."
        ));
    }
    opens("the forces as numbers", inside)
}
