//! Changing one thing in a boat file and leaving the rest of the text as the builder wrote it:
//! comments, order, blank lines and spellings.
//!
//! The result is TOML again, but not yet judged: [`crate::load`] it before it is saved.

use serde::{Deserialize, Serialize};
use toml_edit::{Array, ArrayOfTables, DocumentMut, Item, Table, TableLike, Value};
use utoipa::ToSchema;

/// One step from the top of the file towards a value.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step<'a> {
    /// Into a table, or the value itself.
    Key(&'a str),
    /// The table of a list that has this `name` (`surface` for running surfaces).
    Named(&'a str),
    /// The table of a list by its place, from 0.
    Nth(usize),
}

/// What to write; in JSON as itself.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(untagged)]
pub enum NewValue {
    /// A text or a quantity.
    Text(String),
    /// A place or a list of file names.
    List(Vec<String>),
    /// `true` or `false`.
    Flag(bool),
    /// A whole number.
    Count(i64),
    /// A plain number.
    Number(f64),
}

impl From<String> for NewValue {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

impl From<&str> for NewValue {
    fn from(text: &str) -> Self {
        Self::Text(text.into())
    }
}

/// Why an edit was not made; the text is untouched.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum EditError {
    /// The text is not TOML.
    #[error("the file cannot be edited while it has a syntax error: {0}")]
    Syntax(String),
    /// A list has no table of that name or number.
    #[error("there is no [[{list}]] called `{wanted}`; there are: {known}")]
    NotFound {
        /// Which list.
        list: String,
        /// What was asked for.
        wanted: String,
        /// The names there are.
        known: String,
    },
    /// Nothing is there to be removed.
    #[error("there is no `{0}` to remove")]
    Nothing(String),
    /// The path goes through something that is not a table, or ends in the wrong place.
    #[error("`{0}` does not lead to a value")]
    BadPath(String),
    /// The name is taken.
    #[error("there is a [[{list}]] called `{name}` already")]
    Taken {
        /// Which list.
        list: String,
        /// The name.
        name: String,
    },
}

/// `text` with the value at `path` set; tables on the way that are missing are added.
///
/// # Errors
/// [`EditError`] when the text is not TOML or the path leads nowhere.
pub fn edit(
    text: &str,
    path: &[Step<'_>],
    value: impl Into<NewValue>,
) -> Result<String, EditError> {
    let mut document = parse(text)?;
    let (key, home) = split(path)?;
    let table = walk(document.as_table_mut(), home, true, path)?;
    set(table, key, value.into(), path)?;
    Ok(document.to_string())
}

/// `text` without the value or table at `path`.
///
/// # Errors
/// [`EditError`] when the text is not TOML or nothing is there.
pub fn remove(text: &str, path: &[Step<'_>]) -> Result<String, EditError> {
    let mut document = parse(text)?;
    let root = document.as_table_mut();
    match path.split_last() {
        Some((Step::Key(key), home)) => {
            let gone = walk(root, home, false, path)?.remove(key);
            gone.ok_or_else(|| EditError::Nothing(spelled(path)))?;
        }
        Some((step, [home @ .., Step::Key(list)])) => {
            let table = walk(root, home, false, path)?;
            remove_entry(table, list, *step, path)?;
        }
        _ => return Err(EditError::BadPath(spelled(path))),
    }
    Ok(document.to_string())
}

/// `text` with a new table called `name` at the end of the list at `path`, e.g.
/// `[Key("part")]`; fill it with [`edit`].
///
/// # Errors
/// [`EditError`] when the text is not TOML, the path leads nowhere or the name is taken.
pub fn add(text: &str, path: &[Step<'_>], name: &str) -> Result<String, EditError> {
    let mut document = parse(text)?;
    let (list, home) = split(path)?;
    let table = walk(document.as_table_mut(), home, true, path)?;
    let item = table
        .entry(list)
        .or_insert_with(|| Item::ArrayOfTables(ArrayOfTables::new()));
    let tables = item
        .as_array_of_tables_mut()
        .ok_or_else(|| EditError::BadPath(spelled(path)))?;
    if position(tables, list, Step::Named(name)).is_some() {
        return Err(EditError::Taken {
            list: list.into(),
            name: name.into(),
        });
    }
    let mut fresh = Table::new();
    fresh.insert(name_key(list), toml_edit::value(name));
    if tables.is_empty() {
        fresh.decor_mut().set_prefix("\n");
    }
    tables.push(fresh);
    Ok(document.to_string())
}

fn parse(text: &str) -> Result<DocumentMut, EditError> {
    text.parse()
        .map_err(|error: toml_edit::TomlError| EditError::Syntax(error.message().to_owned()))
}

/// The key a path ends in, and the way to its table.
fn split<'p, 'a>(path: &'p [Step<'a>]) -> Result<(&'a str, &'p [Step<'a>]), EditError> {
    match path.split_last() {
        Some((Step::Key(key), home)) => Ok((key, home)),
        _ => Err(EditError::BadPath(spelled(path))),
    }
}

fn spelled(path: &[Step<'_>]) -> String {
    let step = |step: &Step<'_>| match step {
        Step::Key(key) => (*key).to_owned(),
        Step::Named(name) => format!("\"{name}\""),
        Step::Nth(index) => format!("{}", index + 1),
    };
    path.iter().map(step).collect::<Vec<_>>().join(" ")
}

/// The table at the end of `steps`.
fn walk<'t>(
    table: &'t mut dyn TableLike,
    steps: &[Step<'_>],
    make: bool,
    path: &[Step<'_>],
) -> Result<&'t mut dyn TableLike, EditError> {
    let bad = || EditError::BadPath(spelled(path));
    match steps {
        [] => Ok(table),
        [
            Step::Key(list),
            step @ (Step::Named(_) | Step::Nth(_)),
            rest @ ..,
        ] => {
            let item = table
                .get_mut(list)
                .ok_or_else(|| not_found(None, list, *step))?;
            let tables = item.as_array_of_tables_mut().ok_or_else(bad)?;
            let Some(index) = position(tables, list, *step) else {
                return Err(not_found(Some(tables), list, *step));
            };
            walk(tables.get_mut(index).ok_or_else(bad)?, rest, make, path)
        }
        [Step::Key(key), rest @ ..] => {
            if make && !table.contains_key(key) {
                let mut fresh = Table::new();
                fresh.set_implicit(!rest.is_empty());
                table.insert(key, Item::Table(fresh));
            }
            let item = table
                .get_mut(key)
                .ok_or_else(|| EditError::Nothing(spelled(path)))?;
            walk(item.as_table_like_mut().ok_or_else(bad)?, rest, make, path)
        }
        _ => Err(bad()),
    }
}

fn name_key(list: &str) -> &'static str {
    if list == "running" { "surface" } else { "name" }
}

fn position(tables: &ArrayOfTables, list: &str, step: Step<'_>) -> Option<usize> {
    match step {
        Step::Nth(index) => (index < tables.len()).then_some(index),
        Step::Named(name) => {
            let named =
                |table: &Table| table.get(name_key(list)).and_then(Item::as_str) == Some(name);
            tables.iter().position(named)
        }
        Step::Key(_) => None,
    }
}

fn not_found(tables: Option<&ArrayOfTables>, list: &str, step: Step<'_>) -> EditError {
    let names = tables.into_iter().flat_map(ArrayOfTables::iter);
    let names = names.filter_map(|table| table.get(name_key(list)).and_then(Item::as_str));
    let known: Vec<&str> = names.collect();
    let known = if known.is_empty() {
        "none with a name".into()
    } else {
        known.join(", ")
    };
    let wanted = spelled(&[step]).trim_matches('"').to_owned();
    EditError::NotFound {
        list: list.into(),
        wanted,
        known,
    }
}

fn set(
    table: &mut dyn TableLike,
    key: &str,
    value: NewValue,
    path: &[Step<'_>],
) -> Result<(), EditError> {
    let new = to_toml(value);
    match table.get_mut(key) {
        Some(Item::Value(old)) => replace(old, new),
        Some(_) => return Err(EditError::BadPath(spelled(path))),
        None => {
            table.insert(key, Item::Value(new));
        }
    }
    Ok(())
}

fn to_toml(value: NewValue) -> Value {
    match value {
        NewValue::Text(text) => text.into(),
        NewValue::List(items) => Value::Array(items.into_iter().collect::<Array>()),
        NewValue::Flag(flag) => flag.into(),
        NewValue::Count(count) => count.into(),
        NewValue::Number(number) => number.into(),
    }
}

/// Puts `new` where `old` was, with the spaces and comments around it; item by item in a list.
fn replace(old: &mut Value, new: Value) {
    if let (Value::Array(olds), Value::Array(news)) = (&mut *old, &new)
        && olds.len() == news.len()
    {
        for (old, new) in olds.iter_mut().zip(news.iter()) {
            replace(old, new.clone());
        }
        return;
    }
    let decor = old.decor().clone();
    *old = new;
    *old.decor_mut() = decor;
}

fn remove_entry(
    table: &mut dyn TableLike,
    list: &str,
    step: Step<'_>,
    path: &[Step<'_>],
) -> Result<(), EditError> {
    let item = table
        .get_mut(list)
        .ok_or_else(|| not_found(None, list, step))?;
    let tables = item
        .as_array_of_tables_mut()
        .ok_or_else(|| EditError::BadPath(spelled(path)))?;
    let index = position(tables, list, step).ok_or_else(|| not_found(Some(tables), list, step))?;
    keep_heading_comment(tables, index);
    tables.remove(index);
    if tables.is_empty() {
        table.remove(list);
    }
    Ok(())
}

/// A comment above a table with a blank line between speaks of more than that table: it moves to
/// the next one.
fn keep_heading_comment(tables: &mut ArrayOfTables, index: usize) {
    let prefix = |table: &Table| {
        let prefix = table
            .decor()
            .prefix()
            .and_then(toml_edit::RawString::as_str);
        prefix.unwrap_or_default().to_owned()
    };
    let Some(above) = tables.get(index).map(prefix) else {
        return;
    };
    let Some((shared, _)) = above
        .rsplit_once("\n\n")
        .filter(|(shared, _)| shared.contains('#'))
    else {
        return;
    };
    if let Some(next) = tables.get_mut(index + 1) {
        let moved = format!("{shared}\n{}", prefix(next));
        next.decor_mut().set_prefix(moved);
    }
}
