//! Pieces, joints, wires, foam and the weigh-as-you-go table.

use advice::Number;
use boat::Kind;
use making::orient;

use super::{BuildSheet, section};
use crate::node::Node;

fn row(cells: &[(&str, String)]) -> Node {
    Node::new("tr").with_all(
        cells
            .iter()
            .map(|(class, text)| Node::new("td").class(*class).text(text.clone())),
    )
}

fn heads(cells: &[(&str, &str)]) -> Node {
    Node::new("thead").with(
        Node::new("tr").with_all(
            cells
                .iter()
                .map(|(class, text)| Node::new("th").class(*class).text(*text)),
        ),
    )
}

fn table(head: Node, rows: Vec<Node>) -> Node {
    Node::new("table")
        .with(head)
        .with(Node::new("tbody").with_all(rows))
}

fn mass(kg: f64, spread: f64) -> String {
    Number::new(Kind::Mass, kg, spread).to_string()
}

pub(super) fn mm(m: f64) -> String {
    format!("{:.0} mm", 1e3 * m)
}

pub(super) fn pieces(sheet: &BuildSheet) -> Node {
    let rows = sheet.pieces.pieces.iter().enumerate().map(|(i, p)| {
        row(&[
            ("n", format!("{}", i + 1)),
            ("", p.name.clone()),
            ("", orient::words(p.up()).to_owned()),
            (
                "n",
                format!(
                    "{:.1} ± {:.1} h",
                    p.time_s / 3600.0,
                    0.3 * p.time_s / 3600.0
                ),
            ),
            ("n", mass(p.mass_kg, p.mass_spread_kg)),
            (
                "blank",
                if p.weighed {
                    "weighed".to_owned()
                } else {
                    String::new()
                },
            ),
        ])
    });
    let head = heads(&[
        ("n", ""),
        ("", "piece"),
        ("", "on the bed"),
        ("n", "time"),
        ("n", "expect"),
        ("", "weighed"),
    ]);
    let mut out = section("Pieces, in this order").with(table(head, rows.collect()));
    let notes = sheet
        .pieces
        .pieces
        .iter()
        .flat_map(|p| p.notes.iter().map(move |n| format!("{}: {n}", p.name)));
    for note in sheet.pieces.notes.iter().cloned().chain(notes) {
        out.push(Node::new("p").class("small").text(note));
    }
    out
}

pub(super) fn joints(sheet: &BuildSheet) -> Node {
    let glue = &sheet.study.boat.making.glue;
    let mut out = section("Joints");
    if sheet.pieces.joints.is_empty() {
        return out.with(Node::new("p").text("It prints in one piece."));
    }
    let rows = sheet.pieces.joints.iter().map(|j| {
        let how = match j.cut.joint.as_str() {
            "lap" => format!(
                "spigot {} long, {:.1} mm gap",
                mm(glue.overlap_m.value),
                1e3 * glue.gap_m.value
            ),
            "butt" => "wall end on wall end: glass tape inside".to_owned(),
            _ => match j.dowels.first() {
                Some(d) => format!(
                    "faces glued; {} dowels of {}, 24 mm long",
                    j.dowels.len(),
                    mm(d.0)
                ),
                None if sheet.study.form.walls.is_some() => {
                    "ends of the walls glued: glass tape inside".to_owned()
                }
                None => "faces glued".to_owned(),
            },
        };
        let stretch = j.cut.x_m.map_or_else(String::new, |[from, to]| {
            format!(", from x = {} to {}", mm(from), mm(to))
        });
        let plane = format!("{} = {}{stretch}", j.cut.across, mm(j.cut.at_m));
        row(&[("", plane), ("", how)])
    });
    out.push(table(
        heads(&[("", "plane"), ("", "joint")]),
        rows.collect(),
    ));
    out.with(Node::new("p").text(format!(
        "Sand both sides dull, wipe with alcohol, fit dry, then {} on both faces; tape outside until hard, and a fillet inside. Sand with a mask; keep resin off your skin.",
        glue.kind.word()
    )))
}

/// Straight ways between the named parts, a third longer for bends.
pub(super) fn wires(sheet: &BuildSheet) -> Node {
    let boat = &sheet.study.boat;
    let find = |word: &str| {
        boat.parts
            .iter()
            .find(|p| p.name.to_lowercase().contains(word))
    };
    let ways = [
        (
            "battery",
            "controller",
            "battery leads, both alike and short",
        ),
        ("controller", "motor", "motor leads"),
        ("receiver", "servo", "servo lead"),
        ("receiver", "controller", "throttle lead"),
    ];
    let rows = ways.iter().filter_map(|(a, b, what)| {
        let (a, b) = (find(a)?, find(b)?);
        let d: f64 = (0..3)
            .map(|k| (a.at[k].value - b.at[k].value).powi(2))
            .sum::<f64>()
            .sqrt();
        Some(row(&[
            ("", (*what).to_owned()),
            ("", format!("{} to {}", a.name, b.name)),
            ("n", mm(1.33 * d + 0.02)),
        ]))
    });
    let mut rows: Vec<Node> = rows.collect();
    for drive in &boat.drives {
        if let Some(loop_) = &drive.cooling {
            rows.push(row(&[
                ("", "water hose".to_owned()),
                (
                    "",
                    format!("bore {:.1} mm, pickup to outlet", 1e3 * loop_.bore_m.value),
                ),
                ("n", mm(loop_.length_m.value)),
            ]));
        }
    }
    section("Wires and hoses")
        .with(table(heads(&[("", "what"), ("", "from where"), ("n", "cut to")]), rows))
        .with(Node::new("p").class("small").text("Straight ways a third longer, 20 mm for the ends. Keep battery leads short: length heats the controller's capacitors."))
}

pub(super) fn foam(sheet: &BuildSheet) -> Option<Node> {
    let floats = &sheet.study.boat.floats;
    let rows: Vec<Node> = floats
        .iter()
        .map(|f| {
            row(&[
                ("", f.name.clone()),
                ("n", format!("{:.2} l", 1e3 * f.volume_m3.value)),
                ("n", mm(f.at[0].value)),
            ])
        })
        .collect();
    (!rows.is_empty()).then(|| {
        section("Foam and sealed voids").with(table(
            heads(&[("", "where"), ("n", "volume"), ("n", "ahead of transom")]),
            rows,
        ))
    })
}

pub(super) fn weigh(sheet: &BuildSheet) -> Node {
    let (mut sum, mut moment) = (0.0, 0.0);
    let rows = sheet.study.mass.items.iter().map(|i| {
        sum += i.mass_kg;
        moment += i.mass_kg * i.at_m.x;
        row(&[
            ("", i.name.clone()),
            ("n", mass(i.mass_kg, i.spread_kg)),
            ("n", mass(sum, 0.0)),
            ("n", mm(moment / sum)),
            ("blank", String::new()),
            ("blank", String::new()),
        ])
    });
    let head = heads(&[
        ("", "with"),
        ("n", "its mass"),
        ("n", "boat then"),
        ("n", "balances at"),
        ("", "weighed"),
        ("", "balance"),
    ]);
    section("Weigh as you go").with(table(head, rows.collect()))
}
