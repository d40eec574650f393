//! What outings showed: measured beside predicted, what was learned, causes of what went wrong.

use crate::measured::HALF_WIDTH;
use advice::Number;
use boat::Kind;
use learn::beside::Beside;
use learn::observe;
use learn::reconcile::{Reconciled, Row, Shift};
use learn::why::{Explained, Weighed};
use study::Learned;
use study::lever::Knob;

use super::running::caution;
use super::table::Table;
use crate::chart::WIDTH;
use crate::node::Node;
use crate::page::figure;
use crate::subject::Water;
use crate::svg::{self, Anchor};
use crate::ticks::fixed;

/// Bars are cut here, units of the axis.
const MOST: f64 = 8.0;
const LABEL: f64 = 250.0;
const ROW: f64 = 26.0;
const HEAD: f64 = 14.0;
const FOOT: f64 = 40.0;

/// Nothing without an outing and without anything learned.
pub fn section(learned: &Learned, water: Option<&Water>) -> Option<Node> {
    let carries = !learned.is_empty() || !learned.left_out.is_empty();
    if !carries && water.is_none() {
        return None;
    }
    let mut section = Node::new("section")
        .attr("id", "water")
        .with(Node::new("h2").text("On the water"));
    if carries {
        section.push(carried(learned));
    }
    if let Some(water) = water {
        if let Some(found) = water.found {
            section.push(Node::new("h3").text(format!("Outing {}", water.outings.join(", "))));
            measured(&mut section, found);
            in_motion(&mut section, &found.beside);
        }
        for one in water.explained {
            section.push(symptom(one));
        }
    }
    Some(section)
}

fn carried(learned: &Learned) -> Node {
    let mut all = Node::new("div")
        .with(Node::new("h3").text("Learned, and carried by every prediction here"));
    if !learned.is_empty() {
        let from = learned.from.join(", ");
        all.push(Node::new("p").text(format!(
            "From {from}, kept in learned.toml because that was asked for."
        )));
        let told: Vec<&Knob> = learned
            .knobs()
            .iter()
            .filter(|k| k.sigma < 0.9 * k.before.1)
            .collect();
        let bars = told.iter().map(|k| Bar {
            label: k.lever.name().to_owned(),
            open: (-HALF_WIDTH, HALF_WIDTH),
            solid: interval(k.mean - k.before.0, k.sigma, k.before.1),
        });
        all.push(figure(
            None,
            bars_of(
                "learned-bars",
                "Learned factors before and after",
                PRIORS,
                bars.collect(),
            ),
            PRIORS_CAPTION,
        ));
        let mut table = Table::new(
            "Learned factors",
            &["what", "belongs to", "before", "learned"],
        );
        for k in told {
            table.row([
                k.lever.name().to_owned(),
                k.lever.owner().name().to_owned(),
                factor(k.before.0, k.before.1),
                factor(k.mean, k.sigma),
            ]);
        }
        all.push(table.node());
    }
    let left = learned
        .left_out
        .iter()
        .map(|l| Node::new("li").text(format!("does not carry to this boat: {l}")));
    if !learned.left_out.is_empty() {
        all.push(Node::new("ul").class("notes").with_all(left));
    }
    all
}

const PRIORS: &str = "away from the value before, in its standard uncertainties";
const PRIORS_CAPTION: &str = "Open bars are the 95 % intervals before measuring, solid ones after.";

fn measured(section: &mut Node, found: &Reconciled) {
    if found.rows.is_empty() {
        section
            .push(Node::new("p").text("Nothing in the recordings can be held against the model."));
        return;
    }
    let bars = found.rows.iter().map(|r| {
        let both = r.observed.measured.sigma.hypot(r.predicted.sigma);
        Bar {
            label: observe::name(r.observed.kind).to_owned(),
            open: interval(0.0, r.predicted.sigma, both),
            solid: interval(
                r.observed.measured.value - r.predicted.value,
                r.observed.measured.sigma,
                both,
            ),
        }
    });
    section.push(figure(
        None,
        bars_of(
            "measured-bars",
            "Measured beside predicted",
            "measured less predicted, in standard errors of both",
            bars.collect(),
        ),
        "Open bars are the predictions before learning, solid ones what was measured, each with its \
         95 % interval. Within 2 the two agree.",
    ));
    let mut table = Table::new(
        "Measured beside predicted, ± half-width of the 95 % interval",
        &[
            "what",
            "by",
            "measured",
            "predicted",
            "standard errors apart",
            "after learning",
        ],
    );
    for r in &found.rows {
        table.row(cells(r));
    }
    section.push(table.node());
    let told: Vec<&Shift> = found.shifts.iter().filter(|s| s.is_told()).collect();
    if !told.is_empty() {
        let bars = told.iter().map(|s| Bar {
            label: s.what.name().to_owned(),
            open: (-HALF_WIDTH, HALF_WIDTH),
            solid: interval(s.moved() * s.before.sigma, s.after.sigma, s.before.sigma),
        });
        let picture = bars_of(
            "shift-bars",
            "What the outing teaches",
            PRIORS,
            bars.collect(),
        );
        section.push(figure(Some("What that teaches"), picture, PRIORS_CAPTION));
    }
    let silent: Vec<&str> = found
        .shifts
        .iter()
        .filter(|s| !s.is_told())
        .map(|s| s.what.name())
        .collect();
    section.push(Node::new("p").text(format!(
        "These recordings do not tell: {}. Fitted with the laws' spreads as priors and errors of Student's t.",
        silent.join(", ")
    )));
}

/// Hops, turns and landings, where they were measured.
fn in_motion(section: &mut Node, all: &[Beside]) {
    if all.is_empty() {
        return;
    }
    let mut table = Table::new(
        "Hops, turns and landings beside the boat in motion: theory, unvalidated, and nothing is fitted to them",
        &["what", "by", "measured", "", "expected"],
    );
    for one in all {
        let verdict = match one.agree {
            Some(true) => "agrees",
            Some(false) => "apart",
            None => "",
        };
        table.row([
            observe::name(one.kind).to_owned(),
            one.from.clone(),
            observe::number(one.kind, one.measured).to_string(),
            verdict.to_owned(),
            one.says.clone(),
        ]);
    }
    section.push(table.node());
}

fn cells(r: &Row) -> [String; 6] {
    let kind = r.observed.kind;
    let show = |m| observe::number(kind, m).to_string();
    [
        observe::name(kind).to_owned(),
        r.observed.from.clone(),
        show(r.observed.measured),
        show(r.predicted),
        fixed(r.apart(), 1),
        show(r.after),
    ]
}

fn factor(value: f64, sigma: f64) -> String {
    Number::new(Kind::Number, value, HALF_WIDTH * sigma).to_string()
}

/// 95 % interval in units of `scale`.
fn interval(middle: f64, sigma: f64, scale: f64) -> (f64, f64) {
    let at = |x: f64| (x / scale.max(1e-12)).clamp(-MOST, MOST);
    (
        at(middle - HALF_WIDTH * sigma),
        at(middle + HALF_WIDTH * sigma),
    )
}

/// One line of a bar chart.
struct Bar {
    label: String,
    open: (f64, f64),
    solid: (f64, f64),
}

fn bars_of(id: &str, title: &str, axis: &str, bars: Vec<Bar>) -> Node {
    let height = HEAD + ROW * bars.len() as f64 + FOOT;
    let reach = bars
        .iter()
        .flat_map(|b| [b.open.0, b.open.1, b.solid.0, b.solid.1])
        .fold(2.0, |most: f64, x| most.max(x.abs()))
        .ceil();
    let x = |value: f64| LABEL + (value + reach) / (2.0 * reach) * (WIDTH - LABEL - 14.0);
    let foot = HEAD + ROW * bars.len() as f64;
    let desc = format!(
        "{} rows; the numbers are in the text and tables here.",
        bars.len()
    );
    let mut picture = svg::picture(id, (WIDTH, height), title, &desc).class("chart bars");
    let step = if reach > 4.0 { 2.0 } else { 1.0 };
    let ticks = (0..)
        .map(|i| -reach + step * f64::from(i))
        .take_while(|t| *t <= reach + 1e-9);
    for tick in ticks {
        let class = if tick.abs() < 1e-9 { "zero" } else { "rule" };
        picture.push(svg::line(class, (x(tick), HEAD), (x(tick), foot)));
        picture.push(svg::text(
            "tick",
            (x(tick), foot + 14.0),
            Anchor::Middle,
            fixed(tick, 0),
        ));
    }
    for (i, bar) in bars.iter().enumerate() {
        let middle = HEAD + ROW * (i as f64 + 0.5);
        picture.push(svg::text(
            "stave-title",
            (LABEL - 10.0, middle + 4.0),
            Anchor::End,
            bar.label.as_str(),
        ));
        let open = (x(bar.open.1) - x(bar.open.0), 14.0);
        picture.push(svg::rect("before", (x(bar.open.0), middle - 7.0), open));
        let solid = ((x(bar.solid.1) - x(bar.solid.0)).max(2.0), 6.0);
        picture.push(svg::rect("after", (x(bar.solid.0), middle - 3.0), solid));
    }
    picture.push(svg::text(
        "axis-title",
        (x(0.0), foot + 31.0),
        Anchor::Middle,
        axis,
    ));
    picture
}

fn symptom(one: &Explained) -> Node {
    let mut all = Node::new("div")
        .with(Node::new("h3").text(format!("What went wrong: {}", one.symptom.name)))
        .with(Node::new("p").text(one.seen_in.as_str()));
    let mut table = Table::new(
        "Causes, common practice without a source, moved by model and recordings",
        &["cause", "chance", "for", "against", "try", "measure"],
    );
    for c in &one.causes {
        table.row(cause(c));
    }
    all.push(table.node());
    if let Some(words) = one.causes.first().and_then(|c| c.cause.caution) {
        all.push(caution(words));
    }
    all
}

fn cause(c: &Weighed) -> [String; 6] {
    let says = |words: &[learn::why::Word]| {
        let each: Vec<&str> = words.iter().map(|w| w.says.as_str()).collect();
        each.join("; ")
    };
    [
        c.cause.what.to_owned(),
        c.chance.word().to_owned(),
        says(&c.for_it),
        says(&c.against),
        c.cause.try_next.to_owned(),
        c.cause.measure.to_owned(),
    ]
}
