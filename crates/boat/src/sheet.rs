//! A boat file laid out as a form: every table it has or could have, every key with what is
//! written, what is taken when nothing is, and what would be accepted.

use crate::checked::MOST_OF_A_KIND;
use crate::edit::Step;
use crate::keys::{Form, Key, Need, ROOT, Section};
use crate::kind::Kind;
use crate::quantity::{parse_quantity, show};
use serde::Serialize;
use toml::Spanned;
use toml::de::{DeTable, DeValue};
use utoipa::ToSchema;

/// One step of a path as it stands in JSON: a key or a name, or a place in a list from 0.
#[derive(
    Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, serde::Deserialize, ToSchema,
)]
#[serde(untagged)]
pub enum PathStep {
    /// A key, or the name of a table in a list.
    Word(String),
    /// Place in a list, from 0.
    Nth(usize),
}

/// One table.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SheetTable {
    /// The way to it from the top.
    pub path: Vec<PathStep>,
    /// As a heading: `part "Battery"`.
    pub title: String,
    /// What it describes.
    pub doc: &'static str,
    /// Whether the file has it.
    pub present: bool,
    /// Whether the file may have several.
    pub several: bool,
    /// Its keys, in the order of the manual.
    pub keys: Vec<SheetKey>,
}

/// One key.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SheetKey {
    /// The way to it from the top.
    pub path: Vec<PathStep>,
    /// As written in the file.
    pub name: &'static str,
    /// What it means, in a sentence.
    pub doc: &'static str,
    /// What a value looks like.
    pub form: SheetForm,
    /// What is written; nothing when absent. A list for places and files.
    pub written: Option<serde_json::Value>,
    /// The quantity in the first accepted unit, to move it by; nothing unless it is one number.
    pub number: Option<f64>,
    /// Line in the file, from 1; 0 when absent.
    pub line: usize,
    /// Whether the file must have it.
    pub required: bool,
    /// What is taken when it is absent; nothing when absent means nothing is there.
    pub assumed: Option<String>,
    /// Why that.
    pub why: Option<String>,
}

/// What a value looks like.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SheetForm {
    /// `quantity`, `count`, `text`, `flag`, `choice`, `file`, `files`, `lengths` or `cells`.
    pub what: &'static str,
    /// `a length`, for quantities and lengths.
    pub kind: Option<&'static str>,
    /// Accepted units, the trade's first.
    pub units: Vec<&'static str>,
    /// Whether a number without a unit is accepted.
    pub bare: bool,
    /// Least accepted, in the first unit.
    pub min: Option<f64>,
    /// Most accepted, in the first unit.
    pub max: Option<f64>,
    /// Both with units, in words.
    pub range: Option<String>,
    /// Words accepted, for a choice.
    pub words: Vec<&'static str>,
    /// How many, for lengths.
    pub count: Option<usize>,
}

/// Every table of `text`; of a text that is not TOML, every table there could be.
pub fn sheet(text: &str) -> Vec<SheetTable> {
    let (document, _) = DeTable::parse_recoverable(text);
    let mut out = Vec::new();
    let starts = line_starts(text);
    let of = Of {
        section: &ROOT,
        starts: &starts,
    };
    of.table(
        &mut out,
        Vec::new(),
        "the boat",
        Some(document.get_ref()),
        false,
    );
    out
}

/// `path` as steps for [`crate::edit()`], told apart by what the file may hold there; nothing when
/// it leads nowhere.
pub fn steps(path: &[PathStep]) -> Option<Vec<Step<'_>>> {
    let mut sections: Vec<&'static Section> = vec![&ROOT];
    let mut out = Vec::with_capacity(path.len());
    let mut rest = path.iter();
    while let Some(step) = rest.next() {
        let PathStep::Word(word) = step else {
            return None;
        };
        let forms: Vec<&'static Key> = sections.iter().filter_map(|s| s.key(word)).collect();
        let first = forms.first()?;
        out.push(Step::Key(word));
        match &first.form {
            Form::Table(section) => sections = vec![section],
            Form::Variant(choices) => sections = choices.iter().map(|(_, s)| *s).collect(),
            Form::Tables(section) => {
                sections = vec![section];
                match rest.next() {
                    Some(PathStep::Word(name)) => out.push(Step::Named(name)),
                    Some(PathStep::Nth(index)) => out.push(Step::Nth(*index)),
                    None => {}
                }
            }
            _ => sections = Vec::new(),
        }
    }
    Some(out)
}

struct Of<'t> {
    section: &'static Section,
    /// First byte of each line.
    starts: &'t [usize],
}

fn line_starts(text: &str) -> Vec<usize> {
    let after = text.match_indices('\n').map(|(at, _)| at + 1);
    std::iter::once(0).chain(after).collect()
}

impl Of<'_> {
    fn table(
        &self,
        out: &mut Vec<SheetTable>,
        path: Vec<PathStep>,
        title: &str,
        found: Option<&DeTable<'_>>,
        several: bool,
    ) {
        let plain = |key: &&Key| {
            !matches!(
                key.form,
                Form::Table(_) | Form::Tables(_) | Form::Variant(_)
            )
        };
        let value = |key: &Key| found.and_then(|table| table.get(key.name));
        let keys = self.section.keys.iter().filter(plain);
        out.push(SheetTable {
            title: title.to_owned(),
            doc: self.section.doc,
            present: found.is_some(),
            several,
            keys: keys.map(|key| self.key(&path, key, value(key))).collect(),
            path: path.clone(),
        });
        for key in self.section.keys {
            self.inner(out, &path, key, value(key));
        }
    }

    fn inner(
        &self,
        out: &mut Vec<SheetTable>,
        path: &[PathStep],
        key: &Key,
        value: Option<&Spanned<DeValue<'_>>>,
    ) {
        let here = joined(path, PathStep::Word(key.name.into()));
        let home = |section: &Section| match section.name {
            "" => key.name.to_owned(),
            name => name.to_owned(),
        };
        match &key.form {
            Form::Table(section) => {
                let found = value.and_then(|v| v.get_ref().as_table());
                let title = titled(path, &home(section));
                self.of(section).table(out, here, &title, found, false);
            }
            Form::Variant(choices) => {
                let found = value.and_then(|v| v.get_ref().as_table());
                let word = found.and_then(|t| t.get("type")?.get_ref().as_str());
                let chosen = choices.iter().find(|(name, _)| Some(*name) == word);
                if let Some((_, section)) = chosen {
                    let title = titled(path, &home(section));
                    self.of(section).table(out, here, &title, found, false);
                }
            }
            Form::Tables(section) => {
                let items = value.and_then(|v| v.get_ref().as_array());
                // More than that are a mistake, which is told elsewhere.
                let items = items.into_iter().flatten().take(MOST_OF_A_KIND);
                for (index, item) in items.enumerate() {
                    let found = item.get_ref().as_table();
                    let step = named(found, key.name, index);
                    let title = match &step {
                        PathStep::Word(name) => format!("{} \"{name}\"", home(section)),
                        PathStep::Nth(_) => format!("{} {}", home(section), index + 1),
                    };
                    let at = joined(&here, step);
                    self.of(section)
                        .table(out, at, &titled(path, &title), found, true);
                }
            }
            _ => {}
        }
    }

    fn of(&self, section: &'static Section) -> Self {
        Of {
            section,
            starts: self.starts,
        }
    }

    fn key(
        &self,
        path: &[PathStep],
        key: &'static Key,
        value: Option<&Spanned<DeValue<'_>>>,
    ) -> SheetKey {
        let (assumed, why) = absent(key);
        SheetKey {
            path: joined(path, PathStep::Word(key.name.into())),
            name: key.name,
            doc: key.doc,
            form: form(&key.form),
            number: value.and_then(|v| number(&key.form, v.get_ref())),
            written: value.map(|v| plain(v.get_ref())),
            line: value.map_or(0, |v| {
                self.starts
                    .partition_point(|start| *start <= v.span().start)
            }),
            required: matches!(key.need, Need::Required),
            assumed,
            why,
        }
    }
}

/// `drive "left"` before the heading of a table inside one of several.
fn titled(path: &[PathStep], heading: &str) -> String {
    match path {
        [PathStep::Word(list), PathStep::Word(name), ..] if !heading.starts_with(list.as_str()) => {
            format!("{list} \"{name}\": {heading}")
        }
        [PathStep::Word(_), PathStep::Word(name), ..] => format!("{heading} of \"{name}\""),
        _ => heading.to_owned(),
    }
}

fn joined(path: &[PathStep], step: PathStep) -> Vec<PathStep> {
    let mut path = path.to_vec();
    path.push(step);
    path
}

pub(crate) fn named(table: Option<&DeTable<'_>>, list: &str, index: usize) -> PathStep {
    let key = if list == "running" { "surface" } else { "name" };
    let name = table.and_then(|t| t.get(key)?.get_ref().as_str());
    name.map_or(PathStep::Nth(index), |name| PathStep::Word(name.into()))
}

pub(crate) fn plain(value: &DeValue<'_>) -> serde_json::Value {
    match value {
        DeValue::String(text) => text.as_ref().into(),
        DeValue::Boolean(flag) => (*flag).into(),
        DeValue::Integer(n) => n
            .as_str()
            .replace('_', "")
            .parse::<i64>()
            .map_or_else(|_| n.as_str().into(), Into::into),
        DeValue::Float(n) => n
            .as_str()
            .replace('_', "")
            .parse::<f64>()
            .map_or_else(|_| n.as_str().into(), Into::into),
        DeValue::Array(items) => items.iter().map(|i| plain(i.get_ref())).collect(),
        DeValue::Datetime(date) => date.to_string().into(),
        DeValue::Table(_) => serde_json::Value::Null,
    }
}

/// The value in the first unit.
fn number(form: &Form, value: &DeValue<'_>) -> Option<f64> {
    let Form::Quantity { kind, .. } = form else {
        return plain(value).as_f64();
    };
    let si = match value {
        DeValue::String(text) => parse_quantity(*kind, text).ok()?.value,
        _ => plain(value).as_f64()?,
    };
    Some(faced(*kind, si))
}

fn faced(kind: Kind, si: f64) -> f64 {
    let unit = kind.units().first();
    let value = unit.map_or(si, |u| (si - u.offset) / u.factor);
    // Limits are round in the face's unit; dividing leaves dust behind.
    format!("{value:.9e}").parse().unwrap_or(value)
}

fn absent(key: &Key) -> (Option<String>, Option<String>) {
    match (&key.need, &key.form) {
        (Need::Assumed { value, why, .. }, Form::Quantity { kind, .. }) => {
            (Some(show(*kind, *value)), Some((*why).to_owned()))
        }
        (Need::Assumed { value, why, .. }, _) => (Some(value.to_string()), Some((*why).to_owned())),
        (Need::Share { of, factor }, _) => {
            let share = format!("{} of `{of}`", show(Kind::Fraction, *factor));
            (Some(share), None)
        }
        (Need::Derived(how), _) => (Some((*how).to_owned()), None),
        (Need::Required | Need::Optional, _) => (None, None),
    }
}

fn form(form: &Form) -> SheetForm {
    let mut out = SheetForm {
        what: "text",
        kind: None,
        units: Vec::new(),
        bare: false,
        min: None,
        max: None,
        range: None,
        words: Vec::new(),
        count: None,
    };
    match form {
        Form::Quantity { kind, min, max } => {
            out.what = "quantity";
            measured(&mut out, *kind, *min, *max);
        }
        Form::Lengths { count, min, max } => {
            out.what = "lengths";
            out.count = Some(*count);
            measured(&mut out, Kind::Length, *min, *max);
        }
        Form::Count { min, max } => {
            out.what = "count";
            (out.min, out.max) = (Some(*min as f64), Some(*max as f64));
            out.range = Some(format!("{min} to {max}"));
        }
        Form::Flag => out.what = "flag",
        Form::Choice(words) => {
            out.what = "choice";
            out.words = words.to_vec();
        }
        Form::Path => out.what = "file",
        Form::Paths => out.what = "files",
        Form::Cells => out.what = "cells",
        Form::Text | Form::Table(_) | Form::Tables(_) | Form::Variant(_) => {}
    }
    out
}

fn measured(out: &mut SheetForm, kind: Kind, min: f64, max: f64) {
    out.kind = Some(kind.name());
    out.units = kind.units().iter().map(|unit| unit.symbol).collect();
    out.bare = kind.allows_bare();
    (out.min, out.max) = (Some(faced(kind, min)), Some(faced(kind, max)));
    out.range = Some(format!("{} to {}", show(kind, min), show(kind, max)));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::template;

    fn word(text: &str) -> PathStep {
        PathStep::Word(text.into())
    }

    #[test]
    fn every_written_key_of_a_starter_boat_is_on_its_sheet() {
        for starter in crate::STARTER_TYPES {
            let text = template(starter, "Tern").expect("known");
            let tables = sheet(&text);
            let written: usize = tables
                .iter()
                .flat_map(|t| &t.keys)
                .filter(|k| k.written.is_some())
                .count();
            let (document, _) = DeTable::parse_recoverable(&text);
            assert_eq!(written, leaves(document.get_ref()), "{starter}");
        }
    }

    /// Values that are not tables or lists of tables.
    fn leaves(table: &DeTable<'_>) -> usize {
        let of = |value: &DeValue<'_>| match value {
            DeValue::Table(inner) => leaves(inner),
            DeValue::Array(items) if items.iter().any(|i| i.get_ref().is_table()) => items
                .iter()
                .filter_map(|i| i.get_ref().as_table())
                .map(leaves)
                .sum(),
            _ => 1,
        };
        table.iter().map(|(_, value)| of(value.get_ref())).sum()
    }

    #[test]
    fn every_path_of_the_sheet_can_be_edited() {
        let text = template("three-point", "Tern").expect("known");
        for key in sheet(&text).iter().flat_map(|t| &t.keys) {
            let steps = steps(&key.path).unwrap_or_else(|| panic!("{:?}", key.path));
            if let Some(serde_json::Value::String(old)) = &key.written {
                let same = crate::edit(&text, &steps, old.as_str()).expect("a path of the sheet");
                assert_eq!(same, text, "{:?}", key.path);
            }
        }
    }

    #[test]
    fn a_path_that_leads_nowhere_is_none() {
        assert_eq!(steps(&[word("hull"), word("colour")]), None);
        assert_eq!(steps(&[PathStep::Nth(1)]), None);
        assert_eq!(steps(&[word("name"), word("x")]), None);
    }

    #[test]
    fn a_sheet_of_many_tables_ends_and_tells_lines() {
        let part = "[[part]]\nname = \"p\"\nmass = \"1 g\"\n";
        let text = format!("name = \"x\"\n{}", part.repeat(20_000));
        let tables = sheet(&text);
        let masses = tables.iter().flat_map(|table| &table.keys);
        let lines: Vec<usize> = masses
            .filter(|key| key.name == "mass" && key.line > 0)
            .map(|key| key.line)
            .collect();
        assert_eq!(lines.len(), MOST_OF_A_KIND);
        assert_eq!((lines[0], lines[1], lines[199]), (4, 7, 601));
    }
}
