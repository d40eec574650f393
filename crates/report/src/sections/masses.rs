//! The mass table.

use advice::Number;
use boat::Kind;

use super::table::Table;
use crate::node::Node;
use crate::subject::Subject;
use crate::ticks::fixed;

/// Every part with mass and position, and the total.
pub fn section(subject: &Subject) -> Node {
    let mass = subject.mass;
    let mut table = Table::new(
        "Masses; positions from the transom's bottom edge on the centreline",
        &[
            "part",
            "no.",
            "mass, g",
            "± g",
            "x ahead, mm",
            "y to port, mm",
            "z up, mm",
            "from",
        ],
    );
    for (i, item) in mass.items.iter().enumerate() {
        let mm = |axis: usize| fixed(item.at_m[axis] * 1e3, 0);
        table.row([
            item.name.clone(),
            (i + 1).to_string(),
            fixed(item.mass_kg * 1e3, 0),
            known(item.spread_kg * 1e3),
            mm(0),
            mm(1),
            mm(2),
            item.source.to_owned(),
        ]);
    }
    let at = |axis: usize| {
        let place = Number::new(Kind::Length, mass.cg_m[axis], mass.cg_spread_m[axis]);
        let (value, spread) = place.shown();
        format!("{} ± {}", fixed(value, 1), fixed(spread, 1))
    };
    table.classed_row(
        "total",
        [
            "all-up, balance point G".to_owned(),
            String::new(),
            fixed(mass.mass_kg * 1e3, 0),
            known(mass.mass_spread_kg * 1e3),
            at(0),
            at(1),
            at(2),
            String::new(),
        ],
    );
    Node::new("section")
        .attr("id", "masses")
        .with(Node::new("h2").text("Masses"))
        .with(table.node())
        .with(Node::new("p").class("note").text(
            "± is half the width of the range that holds the true value 19 times out of 20. A \
             part without one was taken as exact.",
        ))
}

fn known(spread: f64) -> String {
    if spread == 0.0 {
        String::new()
    } else {
        fixed(spread, if spread < 10.0 { 1 } else { 0 })
    }
}
