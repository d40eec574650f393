//! The reference part of the boat file's manual, from the same key lists the reader uses.

use crate::checked::wanted;
use crate::keys::{Form, Key, Need, ROOT, Section};
use crate::kind::Kind;
use crate::measure::Measure;
use crate::quantity::{show, show_measure};
use std::fmt::Write as _;

/// Every table and key of the boat file as Markdown tables, and the units of each kind.
pub fn manual() -> String {
    let mut out = String::new();
    section(&mut out, &ROOT, "Top of the file");
    inner(&mut out, &ROOT);
    units(&mut out);
    out
}

fn inner(out: &mut String, parent: &Section) {
    for key in parent.keys {
        match &key.form {
            Form::Table(table) => {
                section(out, table, &format!("`[{}]`", table.name));
                inner(out, table);
            }
            Form::Tables(table) => {
                section(out, table, &format!("`[[{}]]`", table.name));
                inner(out, table);
            }
            Form::Variant(choices) => {
                for (name, table) in *choices {
                    section(
                        out,
                        table,
                        &format!("`[{}]` with `type = \"{name}\"`", table.name),
                    );
                }
            }
            _ => {}
        }
    }
}

fn section(out: &mut String, section: &Section, heading: &str) {
    let _ = write!(out, "### {heading}\n\n{}\n\n", section.doc);
    out.push_str("| key | value | if absent | meaning |\n| --- | --- | --- | --- |\n");
    for key in section.keys {
        let _ = writeln!(
            out,
            "| `{}` | {} | {} | {} |",
            key.name,
            value(key),
            absent(key),
            key.doc
        );
    }
    out.push('\n');
}

fn value(key: &Key) -> String {
    match &key.form {
        Form::Quantity { kind, min, max } => {
            format!(
                "{}, {} to {}",
                kind.name(),
                show(*kind, *min),
                show(*kind, *max)
            )
        }
        Form::Count { min, max } => format!("a whole number, {min} to {max}"),
        Form::Choice(words) => words
            .iter()
            .map(|word| format!("`{word}`"))
            .collect::<Vec<_>>()
            .join(", "),
        Form::Table(_) | Form::Variant(_) => "a table, below".into(),
        Form::Tables(_) => "tables, below".into(),
        form => wanted(form),
    }
}

fn absent(key: &Key) -> String {
    match &key.need {
        Need::Required => "required".into(),
        Need::Optional => "none".into(),
        Need::Derived(how) => (*how).into(),
        Need::Share { of, factor } => format!("{} × `{of}`", show(Kind::Number, *factor)),
        Need::Assumed { value, spread, why } => {
            let Form::Quantity { kind, .. } = key.form else {
                return (*why).into();
            };
            let assumed = show_measure(kind, &Measure::assumed(*value, *spread, why));
            format!("{assumed}: {why}")
        }
    }
}

fn units(out: &mut String) {
    out.push_str("### Units\n\n| what | units |\n| --- | --- |\n");
    for kind in Kind::ALL.iter().filter(|kind| !kind.units().is_empty()) {
        let symbols: Vec<String> = kind
            .units()
            .iter()
            .map(|unit| format!("`{}`", unit.symbol))
            .collect();
        let _ = writeln!(out, "| {} | {} |", kind.name(), symbols.join(", "));
    }
}
