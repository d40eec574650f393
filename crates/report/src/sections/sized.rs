//! How the boat was sized: every length that was tried, one chosen.

use super::table::Table;
use crate::drawing::lengths::lengths;
use crate::node::Node;
use crate::page::figure;
use crate::subject::{Sizes, Subject};

/// Nothing for a boat that was not sized here.
pub fn section(subject: &Subject) -> Option<Node> {
    let sizes = subject.sizes?;
    let asked = format!(
        "It was sized to carry {} beside its printed hull, on {} cells, at {}. What you changed since is not in this.",
        sizes.carry.plain(),
        sizes.cells,
        sizes.speed.plain()
    );
    Some(
        Node::new("section")
            .attr("id", "sized")
            .with(Node::new("h2").text("Why this size"))
            .with(Node::new("p").class("lead").text(asked))
            .with_all(sizes.why.iter().map(|w| Node::new("p").text(w.as_str())))
            .with(figure(
                Some("One step larger or smaller"),
                lengths(sizes),
                "Each length with the best propeller and motor found for it. Hollow bars miss something that was wanted.",
            ))
            .with(table(sizes)),
    )
}

fn table(sizes: &Sizes) -> Node {
    let mut table = Table::new(
        "What each length does, and misses",
        &[
            "length",
            "top speed",
            "planes from",
            "freeboard",
            "all-up",
            "print",
            "misses",
        ],
    );
    for s in &sizes.lengths {
        let or_none = |n: Option<advice::Number>| n.map_or("–".to_owned(), |n| n.to_string());
        let class = if s.chosen { "total" } else { "" };
        let this = if s.chosen { " (this)" } else { "" };
        table.classed_row(
            class,
            [
                format!("{}{this}", s.length),
                or_none(s.top_speed),
                or_none(s.planes_from),
                or_none(s.freeboard),
                s.mass.to_string(),
                s.print_mass.to_string(),
                s.misses.join("; "),
            ],
        );
    }
    table.node()
}
