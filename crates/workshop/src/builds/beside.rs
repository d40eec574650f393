//! Builds beside each other: a row a number, those alone that differ or were measured.

use advice::{Number, Standing};
use evidence::outing::QuantityKind;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::{Build, MeasuredBest};

/// A number of every build.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Row {
    /// Of the finding that predicts it; nothing for what is measured alone.
    pub id: Option<String>,
    /// `Top speed`.
    pub label: String,
    /// One a build, in their order.
    pub cells: Vec<Cell>,
}

/// What one build has of it.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, ToSchema)]
pub struct Cell {
    /// Nothing where it was not predicted.
    pub predicted: Option<Number>,
    /// How it stood.
    pub standing: Option<Standing>,
    /// The best that was measured of it: `87.1 ± 1.2 km/h`.
    pub measured: Option<String>,
}

/// What a finding's number is called, and what recordings measure of it.
const NAMED: [(&str, &str, Option<QuantityKind>); 10] = [
    ("freeboard", "Freeboard", None),
    ("planes", "Planes from", None),
    ("top-speed", "Top speed", Some(QuantityKind::Speed)),
    (
        "controller",
        "Current on the straight",
        Some(QuantityKind::Current),
    ),
    ("slip", "Slip", None),
    ("run-time", "Run time", None),
    ("heat", "Hottest", None),
    (
        "tightest-turn",
        "Tightest turn",
        Some(QuantityKind::TurnRadius),
    ),
    ("flight-margin", "Blows over at", None),
    ("hump", "Thrust over the hump", None),
];

/// A number without a spread is clearly another beyond this share.
const CLEARLY: f64 = 0.1;

/// Rows of what differs or was measured: what a builder asks first, then the rest in the order of the findings.
pub(super) fn rows(builds: &[Build]) -> Vec<Row> {
    let mut ids: Vec<&str> = NAMED.iter().map(|n| n.0).collect();
    for p in builds.iter().flat_map(|b| &b.predicted) {
        if !ids.contains(&p.id.as_str()) {
            ids.push(&p.id);
        }
    }
    let mut rows: Vec<Row> = ids.into_iter().map(|id| predicted(id, builds)).collect();
    rows.extend(measured_alone(builds));
    rows.retain(worth_telling);
    rows
}

fn predicted(id: &str, builds: &[Build]) -> Row {
    let named = NAMED.iter().find(|n| n.0 == id);
    let cell = |build: &Build| {
        let found = build.predicted.iter().find(|p| p.id == id);
        let kind = named.and_then(|n| n.2);
        Cell {
            predicted: found.map(|p| p.number),
            standing: found.map(|p| p.standing),
            measured: kind.and_then(|kind| best(build, kind)).map(shown),
        }
    };
    Row {
        id: Some(id.to_owned()),
        label: named.map_or_else(|| capital(&id.replace('-', " ")), |n| n.1.to_owned()),
        cells: builds.iter().map(cell).collect(),
    }
}

/// What recordings tell and no finding predicts.
fn measured_alone(builds: &[Build]) -> Vec<Row> {
    let mut kinds: Vec<&MeasuredBest> = Vec::new();
    for m in builds.iter().flat_map(|b| &b.measured) {
        let predicted = NAMED.iter().any(|n| n.2 == Some(m.quantity.kind));
        if !predicted && kinds.iter().all(|k| k.quantity.kind != m.quantity.kind) {
            kinds.push(m);
        }
    }
    let row = |first: &MeasuredBest| Row {
        id: None,
        label: capital(&report::measured::name(&first.quantity)),
        cells: builds
            .iter()
            .map(|b| Cell {
                measured: best(b, first.quantity.kind).map(shown),
                ..Cell::default()
            })
            .collect(),
    };
    kinds.into_iter().map(row).collect()
}

/// Of several ways of measuring one thing the surest.
fn best(build: &Build, kind: QuantityKind) -> Option<&MeasuredBest> {
    let of = build.measured.iter().filter(|m| m.quantity.kind == kind);
    of.min_by(|a, b| a.quantity.sigma.total_cmp(&b.quantity.sigma))
}

fn shown(best: &MeasuredBest) -> String {
    let q = &best.quantity;
    report::measured::shown(q.kind, q.value, q.sigma)
}

/// What a builder asks first wherever it reads otherwise; the rest where it stands otherwise or is clearly another.
fn worth_telling(row: &Row) -> bool {
    if row.cells.iter().any(|c| c.measured.is_some()) {
        return true;
    }
    let asked = NAMED.iter().any(|n| Some(n.0) == row.id.as_deref());
    let other = |a: &Cell, b: &Cell| match (a.predicted, b.predicted) {
        (Some(x), Some(y)) if asked => x.to_string() != y.to_string(),
        (Some(x), Some(y)) => {
            let least = CLEARLY * x.value.abs().max(y.value.abs());
            (x.value - y.value).abs() > x.spread.hypot(y.spread).max(least)
        }
        (x, y) => x.is_some() != y.is_some(),
    };
    let mut pairs = row.cells.windows(2);
    pairs.any(|p| p[0].standing != p[1].standing || other(&p[0], &p[1]))
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(|c| c.to_uppercase().collect::<String>());
    first.unwrap_or_default() + letters.as_str()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::builds::Predicted;
    use boat::Kind;

    fn build(km_h: f64, mm: f64) -> Build {
        let number = |id: &str, kind, value: f64| Predicted {
            id: id.to_owned(),
            standing: Standing::Good,
            number: Number::new(kind, value, 0.1 * value),
        };
        Build {
            name: None,
            date: None,
            why: None,
            changed: Vec::new(),
            predicted: vec![
                number("pad-width", Kind::Length, 1e-3 * mm),
                number("pad-angle", Kind::Angle, 0.05 + 1e-5 * mm),
                number("top-speed", Kind::Speed, km_h / 3.6),
                number("stands", Kind::Number, 20.0),
            ],
            measured: Vec::new(),
        }
    }

    #[test]
    fn only_what_differs_is_told_and_what_is_asked_first_comes_first() {
        let rows = rows(&[build(80.0, 30.0), build(86.0, 40.0)]);
        let labels: Vec<&str> = rows.iter().map(|r| r.label.as_str()).collect();
        assert_eq!(labels, ["Top speed", "Pad width"]);
        let shown = rows[0].cells[1].predicted.map(|n| n.to_string());
        assert_eq!(shown.as_deref(), Some("86 ± 9 km/h"));
        assert_eq!(super::rows(&[build(80.0, 30.0)]), []);
    }
}
