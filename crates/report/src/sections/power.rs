//! Flat out from cold: current, heat and charge in time, and the cooling water.

use advice::Number;
use boat::Kind;
use power::run::{Discharge, Sample};
use power::setup::{CARE, charge_time_s};
use power::thermal::Part;
use study::stint::{FlatOut, tightest, time_s};

use super::running::caution;
use super::table::{Table, opens};
use crate::chart::{self, Line, Stack, Stave, Upright};
use crate::drawing::water_path::{Water, water_path};
use crate::node::Node;
use crate::page::figure;
use crate::subject::Subject;
use crate::ticks::fixed;

/// Points of a line.
const POINTS: f64 = 240.0;
/// Past its limit by this a part is not shown any more, K.
const FAR_OVER_K: f64 = 30.0;
/// Rows of the table.
const ROWS: usize = 14;
const SHOWN: [Part; 5] = [
    Part::Winding,
    Part::Can,
    Part::Magnets,
    Part::Controller,
    Part::Pack,
];

/// Every drive's run; nothing for a boat without one.
pub fn section(subject: &Subject) -> Option<Node> {
    if subject.flat_out.is_empty() {
        return None;
    }
    let mut section = Node::new("section")
        .attr("id", "power")
        .with(Node::new("h2").text("Heat and charge, flat out from cold"))
        .with(caution(
            "Unplug the pack before reaching in, and let a hot boat cool outdoors: motors and \
             controllers burn fingers, and cells over 60 °C may vent.",
        ));
    for flat_out in subject.flat_out {
        section = section.with_all(drive(subject, flat_out));
    }
    let hour = show(Kind::Time, charge_time_s(0.2, 1.0, 1.0));
    section.push(Node::new("p").text(format!(
        "Charging from a fifth takes about {hour} at 1C. With lithium packs:"
    )));
    let each = CARE.map(|words| Node::new("li").text(words));
    section.push(Node::new("ul").with_all(each));
    Some(section)
}

fn show(kind: Kind, value: f64) -> String {
    Number::exact(kind, value).plain()
}

fn celsius(kelvin: f64) -> String {
    show(Kind::Temperature, kelvin - 273.15)
}

fn drive(subject: &Subject, flat_out: &FlatOut) -> Vec<Node> {
    let name = &flat_out.stint.drive;
    let mut all = Vec::new();
    if !name.is_empty() {
        all.push(Node::new("h3").text(format!("The {name} drive")));
    }
    all.push(summary(flat_out));
    all.push(figure(
        None,
        chart::draw(stack(flat_out), subject.units),
        "Full throttle from rest until a fifth of the charge is left, then stopped and watched: \
         heat spreads from winding to can. Lines end where a part is 30 K over its limit. Theory only, with masses and joints estimated from \
         size: carry half of every rise.",
    ));
    all.push(opens(
        "the numbers of these charts",
        [numbers(&flat_out.run)],
    ));
    all.extend(water(subject, flat_out));
    all
}

fn summary(flat_out: &FlatOut) -> Node {
    let run = &flat_out.run;
    let mut list = Node::new("ul");
    let mut say = |words: String| list.push(Node::new("li").text(words));
    say(format!(
        "{} to the last fifth of the charge, {} drawn; at most {} from the pack.",
        show(Kind::Time, time_s(run)),
        show(Kind::Energy, run.energy_j),
        show(Kind::Current, run.peak_pack_a),
    ));
    let (part, hottest) = tightest(run, &flat_out.stint.setup);
    say(match run.first() {
        Some(_) => format!("{}.", reached(run)),
        None => format!(
            "Nothing reaches its limit; the {} comes nearest, at {}.",
            part.name(),
            celsius(hottest)
        ),
    });
    if let Some(blocked) = &flat_out.blocked {
        say(match blocked.first() {
            Some(_) => format!("With the pickup blocked, {}.", reached(blocked)),
            None => "With the pickup blocked nothing reaches its limit either.".to_owned(),
        });
    }
    list
}

/// `magnets 80 °C after 63 s, winding ...`
fn reached(run: &Discharge) -> String {
    let each: Vec<String> = run
        .reached
        .iter()
        .map(|r| {
            let (part, limit) = (r.part.name(), celsius(r.limit_k));
            format!("{part} {limit} after {}", show(Kind::Time, r.time_s))
        })
        .collect();
    format!("limits reached: {}", each.join(", "))
}

fn line(name: &str, run: &Discharge, of: impl Fn(&Sample) -> f64) -> Line {
    let end = run.samples.last().map_or(1.0, |s| s.time_s);
    let mut points = Vec::new();
    let mut last = f64::NEG_INFINITY;
    for s in &run.samples {
        if s.time_s - last >= end / POINTS || s.time_s == end {
            points.push(Some((s.time_s, of(s))));
            last = s.time_s;
        }
    }
    Line {
        name: name.to_owned(),
        points,
        band: Vec::new(),
    }
}

/// The run until a part is far over its limit: what comes after, nobody would let happen.
fn bearable(run: &Discharge, limits_k: &[f64]) -> Discharge {
    let over = |s: &Sample| {
        let each = s.temperature_k.iter().zip(limits_k);
        each.into_iter().any(|(k, limit)| k - limit > FAR_OVER_K)
    };
    let end = run.samples.iter().position(over);
    Discharge {
        samples: run.samples[..end.unwrap_or(run.samples.len())].to_vec(),
        ..run.clone()
    }
}

fn temperatures(title: &str, run: &Discharge) -> Stave {
    let of = |part: Part| move |s: &Sample| s.temperature_k[part as usize] - 273.15;
    Stave {
        title: title.to_owned(),
        unit: "°C",
        height: 130.0,
        from_zero: true,
        lines: SHOWN.map(|p| line(p.name(), run, of(p))).to_vec(),
        marks: Vec::new(),
    }
}

fn single(title: &str, unit: &'static str, run: &Discharge, of: impl Fn(&Sample) -> f64) -> Stave {
    Stave {
        title: title.to_owned(),
        unit,
        height: 64.0,
        from_zero: true,
        lines: vec![line("", run, of)],
        marks: Vec::new(),
    }
}

fn stack(flat_out: &FlatOut) -> Stack {
    let run = &flat_out.run;
    let end = run.samples.last().map_or(1.0, |s| s.time_s);
    let mut staves = vec![
        single("speed", "km/h", run, |s| 3.6 * s.speed_m_s),
        single("current from the pack", "A", run, |s| s.instant.pack_a),
        single("charge left", "%", run, |s| 100.0 * s.charge),
        temperatures("temperature", run),
    ];
    let limits = &flat_out.stint.setup.limits.at_k;
    let blocked = flat_out.blocked.as_ref();
    staves.extend(blocked.map(|b| temperatures("pickup blocked", &bearable(b, limits))));
    let (part, hottest) = tightest(run, &flat_out.stint.setup);
    Stack {
        id: format!("flat-out-{}", flat_out.index + 1),
        title: "Speed, current, charge and temperatures against time, flat out".to_owned(),
        desc: format!(
            "{} at full throttle. Nearest to its limit is the {}, at {}.",
            show(Kind::Time, time_s(run)),
            part.name(),
            celsius(hottest)
        ),
        axis: "time from the start, s".to_owned(),
        range: (0.0, end),
        step: None,
        staves,
        uprights: vec![Upright {
            x: flat_out.stopped_s,
            label: "stopped".to_owned(),
        }],
    }
}

fn numbers(run: &Discharge) -> Node {
    let mut heading = vec![
        "time, s",
        "speed, km/h",
        "current, A",
        "pack, V",
        "charge, %",
    ];
    let names = SHOWN.map(|p| format!("{}, °C", p.name()));
    heading.extend(names.iter().map(String::as_str));
    heading.push("water, l/min");
    let mut table = Table::new("Flat out, then stopped", &heading);
    let end = run.samples.last().map_or(0.0, |s| s.time_s);
    for i in 0..=ROWS {
        let wanted = end * i as f64 / ROWS as f64;
        let near = |s: &&Sample| s.time_s >= wanted - 1e-9;
        if let Some(s) = run.samples.iter().find(near) {
            table.row(row(s));
        }
    }
    table.node()
}

fn row(s: &Sample) -> Vec<String> {
    let mut cells = vec![
        fixed(s.time_s, 0),
        fixed(3.6 * s.speed_m_s, 1),
        fixed(s.instant.pack_a, 1),
        fixed(s.instant.pack_v, 2),
        fixed(100.0 * s.charge, 0),
    ];
    cells.extend(SHOWN.map(|p| fixed(s.temperature_k[p as usize] - 273.15, 0)));
    cells.push(fixed(60.0 * s.water_kg_s, 2));
    cells
}

/// The water line when the boat has run for a while at speed.
fn water(subject: &Subject, flat_out: &FlatOut) -> Option<Node> {
    let line = subject.boat.drives.get(flat_out.index)?.cooling.as_ref()?;
    let cooling = flat_out.cooling.as_ref()?;
    let before = |s: &&Sample| s.time_s <= flat_out.stopped_s - 2.0;
    let late = flat_out.run.samples.iter().rfind(before)?;
    let water = Water {
        id: format!("water-path-{}", flat_out.index + 1),
        line,
        legs: cooling.legs(late.speed_m_s, &late.temperature_k).collect(),
        flow_kg_s: late.water_kg_s,
        in_k: flat_out.stint.setup.water_k,
        speed_m_s: late.speed_m_s,
    };
    let caption = format!(
        "At {}, near the end of the run. The pickup's ram pressure lifts the water over the \
         highest point from {}; slower than that nothing cools.",
        show(Kind::Speed, late.speed_m_s),
        show(
            Kind::Speed,
            flat_out.stint.setup.line.as_ref()?.starts_m_s()
        ),
    );
    Some(figure(Some("Cooling water"), water_path(&water), &caption))
}
