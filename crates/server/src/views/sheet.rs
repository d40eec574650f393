//! The boat file as a form.

use boat::{PathStep, SheetForm, SheetKey, SheetTable};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// One step of a path: a key or a name, or a place in a list from 0.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(untagged)]
#[schema(as = WayStep)]
pub enum Step {
    /// A key, or the name of a table in a list.
    Word(String),
    /// Place in a list, from 0.
    Nth(usize),
}

/// One table of the file.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct TableView {
    /// The way to it from the top.
    pub path: Vec<Step>,
    /// As a heading: `part "Battery"`.
    pub title: String,
    /// What it describes.
    pub doc: String,
    /// Whether the file has it.
    pub present: bool,
    /// Whether the file may have several.
    pub several: bool,
    /// Its keys.
    pub keys: Vec<KeyView>,
}

/// One key.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct KeyView {
    /// The way to it from the top.
    pub path: Vec<Step>,
    /// As written in the file.
    pub name: String,
    /// What it means.
    pub doc: String,
    /// What a value looks like.
    pub form: FormView,
    /// What is written; null when absent; a list for places and files.
    pub written: Option<serde_json::Value>,
    /// The quantity in the first accepted unit.
    pub number: Option<f64>,
    /// From 1; 0 when absent.
    pub line: usize,
    /// Whether the file must have it.
    pub required: bool,
    /// What is taken when it is absent.
    pub assumed: Option<String>,
    /// Why that.
    pub why: Option<String>,
}

/// What a value looks like.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(as = ValueForm)]
pub struct FormView {
    /// `quantity`, `count`, `text`, `flag`, `choice`, `file`, `files`, `lengths` or `cells`.
    pub what: String,
    /// `a length`.
    pub kind: Option<String>,
    /// Accepted units, the trade's first.
    pub units: Vec<String>,
    /// Whether a number without a unit is accepted.
    pub bare: bool,
    /// Least accepted, in the first unit.
    pub min: Option<f64>,
    /// Most accepted, in the first unit.
    pub max: Option<f64>,
    /// Both in words.
    pub range: Option<String>,
    /// Accepted words.
    pub words: Vec<String>,
    /// How many lengths.
    pub count: Option<usize>,
}

/// A path for the page.
pub fn steps(path: &[PathStep]) -> Vec<Step> {
    let each = path.iter().map(|step| match step {
        PathStep::Word(word) => Step::Word(word.clone()),
        PathStep::Nth(nth) => Step::Nth(*nth),
    });
    each.collect()
}

/// A path of the page.
pub fn path(steps: &[Step]) -> Vec<PathStep> {
    let each = steps.iter().map(|step| match step {
        Step::Word(word) => PathStep::Word(word.clone()),
        Step::Nth(nth) => PathStep::Nth(*nth),
    });
    each.collect()
}

/// Every table of `text`.
pub fn view(text: &str) -> Vec<TableView> {
    boat::sheet(text).into_iter().map(table).collect()
}

fn table(table: SheetTable) -> TableView {
    TableView {
        path: steps(&table.path),
        title: table.title,
        doc: table.doc.to_owned(),
        present: table.present,
        several: table.several,
        keys: table.keys.into_iter().map(key).collect(),
    }
}

fn key(key: SheetKey) -> KeyView {
    KeyView {
        path: steps(&key.path),
        name: key.name.to_owned(),
        doc: key.doc.to_owned(),
        form: form(key.form),
        written: key.written,
        number: key.number,
        line: key.line,
        required: key.required,
        assumed: key.assumed,
        why: key.why,
    }
}

fn form(form: SheetForm) -> FormView {
    let owned = |words: Vec<&str>| words.into_iter().map(str::to_owned).collect();
    FormView {
        what: form.what.to_owned(),
        kind: form.kind.map(str::to_owned),
        units: owned(form.units),
        bare: form.bare,
        min: form.min,
        max: form.max,
        range: form.range,
        words: owned(form.words),
        count: form.count,
    }
}
